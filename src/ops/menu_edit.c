/* menu_edit.c - the menu and the book seen, and changed by hand. */
#include "ops/menu_edit.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "bring_in.h"
#include "closing.h"
#include "store/store.h"

/* Stands where a file would have its name; taken out of messages again. */
#define TYPED "typed"
#define TYPED_MAX 65536

/* --- reading ---------------------------------------------------------------*/

static enum rc
read_dish(struct menu_list *l, struct menu_dish *out, struct station *sn,
    const struct dish *d, struct err *err)
{
	struct menu_cuts cuts;
	enum rc rc;
	int i;

	out->dish = *d;
	for (i = 0; i < sn->cfg.service_count; i++)
		if ((rc = mix_get(&out->share_bp[i], sn->st, d->id,
			 sn->cfg.services[i].name, err)) != RC_OK)
			return rc;
	if ((rc = dish_cuts_open(&cuts, sn->st, d->id, err)) != RC_OK)
		return rc;
	out->first = l->cut_count;
	out->cuts = cuts.count;
	if (cuts.count > 0) {
		l->cuts = xrealloc(
		    l->cuts, l->cut_count + cuts.count, sizeof(*l->cuts));
		memcpy(l->cuts + l->cut_count, cuts.items,
		    cuts.count * sizeof(*l->cuts));
		l->cut_count += cuts.count;
	}
	menu_cuts_fini(&cuts);
	return RC_OK;
}

enum rc
menu_list_open(struct menu_list *out, struct station *sn, bool on, int64_t skip,
    int64_t most, struct err *err)
{
	struct dish_list dishes;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = dish_list_open(&dishes, sn->st, on, skip, most, err);
	if (rc != RC_OK)
		return rc;
	out->items = xcalloc(dishes.count + 1, sizeof(*out->items));
	for (; rc == RC_OK && out->count < dishes.count; out->count++)
		rc = read_dish(out, &out->items[out->count], sn,
		    &dishes.items[out->count], err);
	dish_list_fini(&dishes);
	if (rc != RC_OK)
		menu_list_fini(out);
	return rc;
}

void
menu_list_fini(struct menu_list *l)
{
	free(l->items);
	free(l->cuts);
	memset(l, 0, sizeof(*l));
}

/* --- typed text as a file --------------------------------------------------*/

/* Always quoted, so that whatever was typed is one field. */
static void
put_field(struct buf *b, const char *s)
{
	if (b->len > 0 && b->data[b->len - 1] != '\n')
		buf_putc(b, ',');
	buf_putc(b, '"');
	for (; s != NULL && *s != '\0'; s++) {
		if (*s == '"')
			buf_putc(b, '"');
		buf_putc(b, *s);
	}
	buf_putc(b, '"');
}

/*
 * "typed:3:17: the reason" -> line 3, the field at byte 17 of it, and the
 * reason alone.  False: the text begins otherwise.
 */
static bool
find_place(int *line, int *field, struct err *err, const struct buf *text)
{
	const char *s = buf_text(text);
	bool quoted = false;
	int column, used = 0, i;

	if (err == NULL ||
	    sscanf(err->text, TYPED ":%d:%d: %n", line, &column, &used) != 2 ||
	    used == 0)
		return false;
	for (i = 1; i < *line && s != NULL; i++)
		s = strchr(s, '\n') == NULL ? NULL : strchr(s, '\n') + 1;
	if (s == NULL)
		return false;
	for (i = 1, *field = 0; i < column && s[i - 1] != '\0'; i++) {
		if (s[i - 1] == '"')
			quoted = !quoted;
		*field += s[i - 1] == ',' && !quoted;
	}
	memmove(err->text, err->text + used, strlen(err->text + used) + 1);
	return true;
}

/* --- a dish ----------------------------------------------------------------*/

static void
dish_text(struct buf *b, const struct dish_in *in)
{
	static const char *const words[] = {
#define MENU_COLUMN_WORD(NAME, word) word,
		MENU_COLUMN_LIST(MENU_COLUMN_WORD)
#undef MENU_COLUMN_WORD
	};
	size_t i;
	int c;

	for (c = 0; c < MENU_COLUMNS; c++)
		put_field(b, words[c]);
	for (i = 0; i < in->cut_count; i++) {
		buf_putc(b, '\n');
		for (c = 0; c < MENU_COLUMNS; c++)
			put_field(
			    b, c < MENU_SPECIES ? in->dish[c] : in->cuts[i][c]);
	}
	buf_putc(b, '\n');
}

/* Is it there, or not there, as it should be? */
static enum rc
expected_there(struct station *sn, const struct dish_in *in, struct err *err)
{
	const char *code =
	    in->dish[MENU_DISH] == NULL ? "" : in->dish[MENU_DISH];
	struct dish old;
	bool on = false;
	enum rc rc;

	rc = dish_get(&old, &on, sn->st, code, err);
	if (in->add && rc == RC_OK)
		return err_set(err, RC_REFUSED, 0,
		    "%s is a dish already%s: choose another code, or change "
		    "that one",
		    code, on ? "" : ", off the menu now");
	if (!in->add || rc != RC_NOTFOUND)
		return rc;
	err_clear(err);
	return RC_OK;
}

/* What was typed, for the audit trail; cut at its end if need be. */
static enum rc
audit_dish(struct station *sn, const struct moment *at,
    const struct dish_in *in, struct err *err)
{
	struct buf b;
	size_t i;
	int c;
	enum rc rc;

	buf_init(&b, TYPED_MAX);
	buf_puts(&b, in->add ? "added:" : "changed:");
	for (c = MENU_NAME; c < MENU_SPECIES; c++)
		if (in->dish[c] != NULL && in->dish[c][0] != '\0')
			buf_printf(&b, " %s;", in->dish[c]);
	for (i = 0; i < in->cut_count; i++) {
		for (c = MENU_SPECIES; c < MENU_COLUMNS; c++)
			if (in->cuts[i][c] != NULL && in->cuts[i][c][0] != '\0')
				buf_printf(&b, " %s", in->cuts[i][c]);
		buf_puts(&b, i + 1 < in->cut_count ? ";" : "");
	}
	rc = station_audit(
	    sn, at, err, "menu", in->dish[MENU_DISH], "%s", buf_text(&b));
	buf_fini(&b);
	return rc;
}

enum rc
menu_put(struct dish_wrong *wrong, struct station *sn, const struct dish_in *in,
    struct err *err)
{
	struct dish_wrong none = { MENU_COLUMNS, 0 };
	struct dish_wrong *w = wrong == NULL ? &none : wrong;
	struct import_result r = { 0 };
	struct moment at;
	struct buf text;
	int line, field;
	enum rc rc;

	*w = (struct dish_wrong){ MENU_COLUMNS, 0 };
	buf_init(&text, TYPED_MAX);
	if (in->cut_count == 0 || in->cut_count > DISH_CUTS_MAX) {
		rc = err_set(err, RC_INVALID, 0,
		    "a dish has 1 to %d cuts: say what it is made of",
		    DISH_CUTS_MAX);
		goto done;
	}
	dish_text(&text, in);
	if ((rc = buf_check(&text, "the dish", err)) != RC_OK ||
	    (rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		goto done;
	if ((rc = expected_there(sn, in, err)) != RC_OK) {
		w->column = MENU_DISH;
		goto done;
	}
	rc = bring_dishes(&r, sn, TYPED, &text, err);
	if (rc != RC_OK) {
		if (find_place(&line, &field, err, &text) && line > 1 &&
		    field < MENU_COLUMNS)
			*w = (struct dish_wrong){ (enum menu_column)field,
				(size_t)line - 2 };
		goto done;
	}
	if (r.added + r.changed + r.dropped > 0 &&
	    ((rc = audit_dish(sn, &at, in, err)) != RC_OK ||
		(rc = store_commit(sn->st, err)) != RC_OK))
		goto done;
done:
	store_rollback(sn->st);
	buf_fini(&text);
	return rc;
}

enum rc
menu_take(struct station *sn, const char *dish, bool on, const char *by,
    struct err *err)
{
	struct moment at;
	struct dish d;
	bool was = false;
	enum rc rc;

	if ((rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = dish_get(&d, &was, sn->st, dish, err)) == RC_OK &&
	    was != on && (rc = dish_menu(sn->st, d.id, on, err)) == RC_OK &&
	    (rc = station_audit(sn, &at, err, "menu", d.code, "%s",
		 on ? "on the menu again" : "off the menu")) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* --- the book --------------------------------------------------------------*/

enum rc
covers_list_open(struct covers_list *out, struct station *sn, day_no from,
    int days, struct err *err)
{
	struct service_list known;
	struct covers_row *row;
	size_t i;
	int d, w;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	days = days > COVERS_DAYS_MAX ? COVERS_DAYS_MAX : days;
	rc = service_list_open(&known, sn->st, from, from + days - 1, err);
	if (rc != RC_OK)
		return rc;
	out->items = xcalloc(
	    (size_t)days * CONFIG_SERVICES_MAX + 1, sizeof(*out->items));
	for (d = 0; d < days; d++)
		for (w = 0; w < sn->cfg.service_count; w++) {
			row = &out->items[out->count++];
			row->day = from + d;
			row->window = w;
			row->service.expected = -1;
			for (i = 0; i < known.count; i++)
				if (known.items[i].day == row->day &&
				    str_eq(known.items[i].name,
					sn->cfg.services[w].name)) {
					row->booked = true;
					row->service = known.items[i];
				}
		}
	service_list_fini(&known);
	return RC_OK;
}

void
covers_list_fini(struct covers_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

/* "nothing", "44 covers", "44 covers: 2x8 4x7" */
static const char *
book_words(char dst[PARTIES_TEXT_SIZE + 48], struct station *sn, day_no day,
    const char *name)
{
	char parties[PARTIES_TEXT_SIZE];
	struct service s;

	str_copy(dst, PARTIES_TEXT_SIZE + 48, "nothing");
	if (service_get(&s, sn->st, day, name, NULL) == RC_OK)
		str_fmt(dst, PARTIES_TEXT_SIZE + 48, "%" PRId64 " covers%s%s",
		    s.covers, s.parties.count > 0 ? ": " : "",
		    parties_print(parties, sizeof(parties), &s.parties));
	return dst;
}

static void
booking_text(struct buf *b, const struct booking_in *in)
{
	char day[16];

	buf_puts(b, "date,service,covers,parties\n");
	put_field(b, day_print(day, sizeof(day), in->day));
	put_field(b, in->service);
	put_field(b, in->covers);
	put_field(b, in->parties);
	buf_putc(b, '\n');
}

enum rc
booking_put(bool *at_parties, struct station *sn, const struct booking_in *in,
    struct err *err)
{
	char was[PARTIES_TEXT_SIZE + 48], now[PARTIES_TEXT_SIZE + 48];
	char subject[64], day[16];
	struct import_result r = { 0 };
	struct moment at;
	struct buf text;
	int line, field = 0;
	enum rc rc;

	buf_init(&text, TYPED_MAX);
	booking_text(&text, in);
	if ((rc = buf_check(&text, "the booking", err)) != RC_OK ||
	    (rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		goto done;
	book_words(was, sn, in->day, in->service);
	if ((rc = bring_bookings(&r, sn, TYPED, &text, err)) != RC_OK) {
		(void)find_place(&line, &field, err, &text);
		goto done;
	}
	if (r.added + r.changed == 0)
		goto done;
	str_fmt(subject, sizeof(subject), "%s/%s",
	    day_print(day, sizeof(day), in->day), in->service);
	if ((rc = station_audit(sn, &at, err, "booking", subject, "%s -> %s",
		 was, book_words(now, sn, in->day, in->service))) == RC_OK)
		rc = store_commit(sn->st, err);
done:
	if (at_parties != NULL)
		*at_parties = field == 3;
	store_rollback(sn->st);
	buf_fini(&text);
	return rc;
}
