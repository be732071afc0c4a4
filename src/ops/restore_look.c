/* restore_look.c - what a restore would lose. */
#include "ops/restore.h"

#include <inttypes.h>
#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "store/store.h"

/* Lines of one kind, for people: with all kinds, what the station keeps of a
 * program beside it (BESIDE_LINES). */
#define SHOW_MOST 30

/* Is it a backup of this station that this program can read? */
static enum rc
check_head(struct restore_look *l, const struct station *sn,
    const struct file_head *own, struct err *err)
{
	const struct file_head *h = &l->head;

	if (!str_eq(h->training, sn->cfg.training ? "yes" : "no"))
		return err_set(err, RC_REFUSED, 0,
		    "%s is of a %s station, and this is a %s one", l->from,
		    str_eq(h->training, "yes") ? "training" : "real",
		    sn->cfg.training ? "training" : "real");
	if (own == NULL ? !str_eq(h->kitchen, sn->cfg.kitchen)
			: !str_eq(h->kitchen, own->kitchen))
		return err_set(err, RC_REFUSED, 0,
		    "%s is of another kitchen: %s", l->from, h->kitchen);
	if (own != NULL && !file_head_same(h, own))
		return err_set(err, RC_REFUSED, 0,
		    "%s is of another station of this kitchen, made %s: if it "
		    "is meant, move %s away first",
		    l->from, h->created, l->file);
	if (h->schema > store_newest_schema())
		return err_set(err, RC_REFUSED, 0,
		    "%s was written by a newer program (schema %d, this one "
		    "knows %d): install that program",
		    l->from, h->schema, store_newest_schema());
	return RC_OK;
}

/* What is in place now; a file that cannot be read stops nothing. */
static enum rc
compare(struct restore_look *l, const struct station *sn, struct err *err)
{
	struct salvage *here = NULL, *backup = NULL;
	struct err why = { 0 };
	struct file_head own;
	struct whole whole;
	enum rc rc;

	l->there = file_exists(l->file);
	if (!l->there) {
		str_copy(l->trouble, sizeof(l->trouble), "it is not there");
		return check_head(l, sn, NULL, err);
	}
	if (file_head_read(&own, l->file, &why) != RC_OK ||
	    salvage_open(&here, l->file, &why) != RC_OK) {
		str_fmt(l->trouble, sizeof(l->trouble), "%.290s", why.text);
		return check_head(l, sn, NULL, err);
	}
	l->file_last_utc = own.last_utc;
	if ((rc = check_head(l, sn, &own, err)) == RC_OK &&
	    (rc = salvage_open(&backup, l->from, err)) == RC_OK) {
		if (salvage_lost(&l->lost, here, backup, &why) == RC_OK)
			l->known = true;
		else
			str_fmt(
			    l->trouble, sizeof(l->trouble), "%.290s", why.text);
	}
	/* Where it was seen to be damaged more may be missing than is seen. */
	if (rc == RC_OK && damage_look(l->file, NULL) != RC_OK)
		l->lost.cut = true;
	err_clear(&why);
	if (rc == RC_OK && !l->lost.cut &&
	    whole_quick(&whole, l->file, 2000, &why) == RC_OK && !whole.good)
		l->lost.cut = true;
	salvage_close(here);
	salvage_close(backup);
	return rc;
}

enum rc
restore_look(struct restore_look *out, const struct station *sn,
    const char *file, const char *from, bool (*goes_on)(void *arg), void *arg,
    struct err *err)
{
	struct whole whole;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (!str_copy(out->file, sizeof(out->file), file) ||
	    !str_copy(out->from, sizeof(out->from), from))
		return err_set(
		    err, RC_INVALID, 0, "%.60s...: the path is too long", from);
	if ((rc = file_head_read(&out->head, from, err)) != RC_OK ||
	    (rc = whole_full(&whole, from, goes_on, arg, err)) != RC_OK)
		return rc;
	if (!whole.good)
		return err_set(err, RC_INVALID, 0,
		    "%s: not whole (%s): take an older one", from, whole.found);
	return compare(out, sn, err);
}

void
restore_look_fini(struct restore_look *l)
{
	lost_fini(&l->lost);
}

/* --- in words --------------------------------------------------------------*/

static void
put_units(struct buf *out, const struct lost *l)
{
	char code[CODE_SIZE], use_by[48];
	const struct salvage_unit *u;
	size_t i;

	if (l->unit_count > 0)
		buf_puts(out,
		    "labels made since, to be collected (no record will know "
		    "them):\n");
	for (i = 0; i < l->unit_count && i < SHOW_MOST; i++) {
		u = &l->units[l->unit_count - 1 - i];
		buf_printf(out,
		    "  %s  %s, %" PRId64 " of %" PRId64 " left, use by %s\n",
		    code_show(code, u->code), u->dish, u->left, u->servings,
		    time_short(use_by, sizeof(use_by), u->use_by_utc));
	}
	if (l->unit_count > SHOW_MOST)
		buf_printf(out, "  and %zu more: --json names all\n",
		    l->unit_count - SHOW_MOST);
}

static void
put_holds(struct buf *out, const struct lost *l)
{
	char code[CODE_SIZE], when[48];
	const struct salvage_hold *h;
	size_t i;

	if (l->hold_count > 0)
		buf_puts(out,
		    "ON HOLD now, and not in the backup (put on hold again "
		    "where the backup knows the food):\n");
	for (i = 0; i < l->hold_count && i < SHOW_MOST; i++) {
		h = &l->holds[i];
		buf_printf(out, "  %s  %s (%s, %s)\n",
		    h->code[0] == '\0' ? "of something else"
				       : code_show(code, h->code),
		    h->reason, h->by,
		    time_minute(when, sizeof(when), h->at_utc));
	}
	if (l->hold_count > SHOW_MOST)
		buf_printf(out, "  and %zu MORE: --json names all\n",
		    l->hold_count - SHOW_MOST);
}

static void
put_batches(struct buf *out, const struct lost *l)
{
	char code[CODE_SIZE], when[48];
	const struct salvage_batch *b;
	size_t i;

	if (l->batch_count > 0)
		buf_puts(out, "batches taken in since:\n");
	for (i = 0; i < l->batch_count && i < SHOW_MOST; i++) {
		b = &l->batches[l->batch_count - 1 - i];
		buf_printf(out, "  %s  %s, %" PRId64 " g, %s\n",
		    code_show(code, b->code), b->species, b->weight_g,
		    time_minute(when, sizeof(when), b->received_utc));
	}
	if (l->batch_count > SHOW_MOST)
		buf_printf(out, "  and %zu more: --json names all\n",
		    l->batch_count - SHOW_MOST);
}

static void
put_lost(struct buf *out, const struct restore_look *l)
{
	const struct lost *x = &l->lost;
	char from[48], to[48];
	size_t i;

	if (x->rows == 0) {
		buf_puts(out, "nothing was recorded since: nothing is lost\n");
	} else {
		buf_printf(out,
		    "recorded since, and not in it: %" PRId64
		    " record%s, from %s to %s:\n",
		    x->rows, x->rows == 1 ? "" : "s",
		    time_minute(from, sizeof(from), x->first_utc),
		    time_minute(to, sizeof(to), x->last_utc));
		for (i = 0; i < x->kind_count; i++)
			buf_printf(out, "  %" PRId64 " %s, %s to %s\n",
			    x->kinds[i].count, x->kinds[i].action,
			    time_minute(
				from, sizeof(from), x->kinds[i].first_utc),
			    time_minute(to, sizeof(to), x->kinds[i].last_utc));
		buf_printf(out,
		    "  in them %zu batch%s, %zu labelled unit%s, %" PRId64
		    " label%s printed, %zu hold%s in force\n",
		    x->batch_count, x->batch_count == 1 ? "" : "es",
		    x->unit_count, x->unit_count == 1 ? "" : "s", x->labels,
		    x->labels == 1 ? "" : "s", x->hold_count,
		    x->hold_count == 1 ? "" : "s");
		buf_puts(out,
		    "  what was used or thrown away since is on hand again in "
		    "the record: count it\n");
	}
	if (x->after_row < l->head.last_row)
		buf_printf(out,
		    "the backup goes its own way after row %" PRId64
		    ": it is of another copy of this station\n",
		    x->after_row);
	put_holds(out, x);
	put_units(out, x);
	put_batches(out, x);
	if (x->cut)
		buf_puts(out,
		    "the file now in place cannot be read to its end: there "
		    "may be more\n");
}

void
restore_words(struct buf *out, const struct restore_look *l)
{
	char when[48];

	buf_printf(out, "backup %s: whole, up to row %" PRId64 " of %s\n",
	    l->from, l->head.last_row,
	    time_minute(when, sizeof(when), l->head.last_utc));
	if (l->known) {
		put_lost(out, l);
		return;
	}
	buf_printf(out,
	    "%s: the present file cannot be read: %s\n"
	    "recorded since, and not in it: everything since %s\n",
	    l->file, l->trouble, when);
}

/* --- as JSON ---------------------------------------------------------------*/

static void
json_lists(struct jsonw *w, const struct lost *x)
{
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, "batches");
	for (i = 0; i < x->batch_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, x->batches[i].code));
		jsonw_str(w, "species", x->batches[i].species);
		jsonw_int(w, "weight_g", x->batches[i].weight_g);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "units");
	for (i = 0; i < x->unit_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, x->units[i].code));
		jsonw_str(w, "dish", x->units[i].dish);
		jsonw_int(w, "left", x->units[i].left);
		jsonw_time(w, "use_by", x->units[i].use_by_utc);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "holds");
	for (i = 0; i < x->hold_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, x->holds[i].code));
		jsonw_str(w, "reason", x->holds[i].reason);
		jsonw_str(w, "by", x->holds[i].by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

void
restore_json(struct jsonw *w, const struct restore_look *l)
{
	const struct lost *x = &l->lost;
	size_t i;

	jsonw_str(w, "backup", l->from);
	jsonw_int(w, "row", l->head.last_row);
	jsonw_time(w, "until", l->head.last_utc);
	jsonw_bool(w, "known", l->known);
	jsonw_str(w, "trouble", l->trouble);
	jsonw_bool(w, "cut", x->cut);
	jsonw_int(w, "common_row", x->after_row);
	jsonw_int(w, "lost_rows", x->rows);
	jsonw_int(w, "lost_labels", x->labels);
	jsonw_array(w, "lost_kinds");
	for (i = 0; i < x->kind_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "action", x->kinds[i].action);
		jsonw_int(w, "count", x->kinds[i].count);
		jsonw_time(w, "first", x->kinds[i].first_utc);
		jsonw_time(w, "last", x->kinds[i].last_utc);
		jsonw_end(w);
	}
	jsonw_end(w);
	json_lists(w, x);
}
