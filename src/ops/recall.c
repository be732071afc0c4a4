/* recall.c - a recall opened, noted, closed. */
#include "ops/recall.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/fate.h"
#include "ops/hold.h"
#include "store/sources.h"
#include "store/store.h"
#include "unit.h"

/* --- opening --------------------------------------------------------------*/

static enum rc
read_origin(enum recall_origin *out, const char *word, struct err *err)
{
	int i;

	*out = RECALL_SUPPLIER;
	for (i = 0; word != NULL && i < RECALL_ORIGIN_COUNT; i++)
		if (str_eq_nocase(word, recall_origin_word(i))) {
			*out = (enum recall_origin)i;
			return RC_OK;
		}
	return word == NULL
	    ? RC_OK
	    : err_set(err, RC_INVALID, 0,
		  "--from \"%.20s\": a recall comes from supplier, authority, "
		  "guest or kitchen",
		  word);
}

struct scope {
	struct subject *items; /* owned */
	size_t count, cap;
};

/* A unit, and the trays that what was left of it lies on by now. */
static enum rc
add_subject(struct scope *s, struct station *sn, const struct subject *one,
    struct err *err)
{
	struct portion_part_list went = { 0 };
	struct subject tray = { 0 };
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < s->count; i++)
		if (memcmp(&s->items[i], one, sizeof(*one)) == 0)
			return RC_OK;
	s->items = grow(s->items, &s->cap, s->count, sizeof(*s->items));
	s->items[s->count++] = *one;
	if (one->portion_id != 0)
		rc = portion_went_open(&went, sn->st, one->portion_id, err);
	for (i = 0; i < went.count && rc == RC_OK; i++) {
		tray.portion_id = went.items[i].id;
		rc = add_subject(s, sn, &tray, err);
	}
	portion_parts_fini(&went);
	return rc;
}

/* What is asked for, in words, and the subjects of it. */
static enum rc
scope_codes(struct scope *s, char *what, size_t size, struct station *sn,
    const struct recall_in *in, struct err *err)
{
	char name[HOLD_NAME_SIZE], more[200];
	struct subject one;
	size_t i;
	enum rc rc;

	what[0] = '\0';
	if (in->count > RECALL_CODES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu codes: at most %d at once", in->count,
		    RECALL_CODES_MAX);
	for (i = 0; i < in->count; i++) {
		if ((rc = hold_subject(&one, name, sn, in->codes[i],
			 in->breakdown, err)) != RC_OK ||
		    (rc = add_subject(s, sn, &one, err)) != RC_OK)
			return rc;
		if (str_fmt(more, sizeof(more), "%s%s%s", what,
			i == 0 ? "" : ", ", name))
			str_copy(what, size, more);
	}
	return RC_OK;
}

static enum rc
scope_lot(struct scope *s, char *what, size_t size, struct station *sn,
    const struct recall_in *in, struct err *err)
{
	struct trace_lots t;
	size_t i;
	enum rc rc = trace_lots_load(&t, sn, &in->lot, err);

	if (rc == RC_OK && t.list.count == 0)
		rc = err_set(err, RC_NOTFOUND, 0,
		    "nothing is on record for %s: nothing was blocked", t.what);
	if (rc == RC_OK && t.more)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s are more than %d batches: open a recall for each part "
		    "of it",
		    t.what, TRACE_LOTS_MAX);
	if (rc == RC_OK) {
		str_copy(what, size, t.what);
		s->items = xcalloc(t.list.count, sizeof(*s->items));
		for (i = 0; i < t.list.count; i++)
			s->items[i].batch_id = t.list.items[i].id;
		s->count = t.list.count;
	}
	trace_lots_fini(&t);
	return rc;
}

/* Block one subject of it, and put on the list what it is about. */
static enum rc
take_in(struct recall_brief *b, struct station *sn, const struct subject *s,
    struct err *err)
{
	struct recall *r = &b->recall;
	char why[200];
	int64_t id, stopped = 0;
	bool opened;
	enum rc rc;

	str_fmt(
	    why, sizeof(why), "recall %" PRId64 ": %.150s", r->id, r->reason);
	utf8_clean(why); /* it may have been cut within a character */
	if ((rc = hold_join(&id, &opened, sn->st, s, why, &r->at, err)) !=
		RC_OK ||
	    (rc = recall_rests(sn->st, r->id, id, opened, err)) != RC_OK ||
	    (rc = recall_freeze(sn->st, r->id, s, sn->cfg.place_chilled,
		 sn->cfg.place_frozen, err)) != RC_OK ||
	    (rc = hold_stop_labels(
		 &stopped, sn->st, id, why, r->at.utc, err)) != RC_OK)
		return rc;
	b->labels += stopped;
	return RC_OK;
}

static enum rc
open_all(struct recall_brief *out, struct station *sn,
    const struct recall_in *in, struct err *err)
{
	struct recall *r = &out->recall;
	struct scope s = { 0 };
	char name[24];
	size_t i;
	enum rc rc;

	rc = in->count > 0
	    ? scope_codes(&s, r->what, sizeof(r->what), sn, in, err)
	    : scope_lot(&s, r->what, sizeof(r->what), sn, in, err);
	if (rc == RC_OK)
		rc = recall_insert(sn->st, r, err);
	for (i = 0; rc == RC_OK && i < s.count; i++)
		rc = take_in(out, sn, &s.items[i], err);
	if (rc == RC_OK)
		rc = recall_counted(&out->count, sn->st, r->id, err);
	str_fmt(name, sizeof(name), "recall %" PRId64, r->id);
	if (rc == RC_OK)
		rc = station_audit(sn, &r->at, err, "recall", name,
		    "opened, from %s: %s; all of it on hold, %" PRId64
		    " to pull; %s",
		    recall_origin_word(r->origin), r->what, out->count.pull,
		    r->reason);
	free(s.items);
	return rc;
}

enum rc
recall_open(struct recall_brief *out, struct station *sn,
    const struct recall_in *in, struct err *err)
{
	struct recall *r = &out->recall;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&r->at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(r->reason, sizeof(r->reason), in->reason, false,
		 err)) != RC_OK ||
	    (rc = read_origin(&r->origin, in->origin, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = open_all(out, sn, in, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* --- notes ----------------------------------------------------------------*/

enum rc
recall_note(struct station *sn, int64_t id, const char *text, const char *by,
    struct err *err)
{
	struct hold_note n = { .recall_id = id };
	struct recall r;
	char name[24];
	enum rc rc;

	if ((rc = station_moment(&n.at, sn, by, err)) != RC_OK ||
	    (rc = text_check("the note", text == NULL ? "" : text,
		 sizeof(n.text) - 1, false, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	str_copy(n.text, sizeof(n.text), text);
	str_fmt(name, sizeof(name), "recall %" PRId64, id);
	if ((rc = recall_get(&r, sn->st, id, err)) == RC_OK &&
	    (rc = hold_note_add(sn->st, &n, err)) == RC_OK &&
	    (rc = station_audit(sn, &n.at, err, "note", name, "%s", text)) ==
		RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* --- closing --------------------------------------------------------------*/

static enum rc
read_outcome(enum recall_outcome *out, const char *word, struct err *err)
{
	int i;

	for (i = RECALL_DISCARDED; i < RECALL_OUTCOME_COUNT; i++)
		if (word != NULL &&
		    str_eq_nocase(word, recall_outcome_word(i))) {
			*out = (enum recall_outcome)i;
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "say what became of the goods: discarded, returned (to the "
	    "supplier), released, or mistake (opened by mistake)");
}

/* May it be closed so?  Fills what the row of its end says. */
static enum rc
may_close(struct recall *r, struct station *sn,
    const struct recall_close_in *in, struct err *err)
{
	struct recall_count c;
	bool needed;
	enum rc rc;

	if ((rc = recall_get(r, sn->st, in->id, err)) != RC_OK)
		return rc;
	if (r->outcome != RECALL_OPEN)
		return err_set(err, RC_REFUSED, 0,
		    "recall %" PRId64 " is closed already", in->id);
	if ((rc = read_outcome(&r->outcome, in->outcome, err)) != RC_OK ||
	    (rc = recall_counted(&c, sn->st, r->id, err)) != RC_OK)
		return rc;
	r->lines_missing = c.missing;
	needed = r->outcome != RECALL_MISTAKE &&
	    (c.missing > 0 || r->outcome == RECALL_RELEASED);
	if (needed && in->reason == NULL)
		return r->outcome == RECALL_RELEASED
		    ? err_set(err, RC_REFUSED, 0,
			  "say why it is fit to be served after all")
		    : err_set(err, RC_REFUSED, 0,
			  "%" PRId64 " of %" PRId64 " of recall %" PRId64
			  " are missing: find them, or say why it is closed "
			  "without them",
			  c.missing, c.pull, r->id);
	return reason_into(r->end_reason, sizeof(r->end_reason),
	    in->reason == NULL && r->outcome == RECALL_MISTAKE
		? "opened by mistake"
		: in->reason,
	    !needed, err);
}

/* What of it was found and is still there goes. */
static enum rc
discard_found(struct recall_closed *out, struct station *sn, struct err *err)
{
	const struct recall *r = &out->recall;
	struct discard_in in = { 0 };
	struct recall_item_list l;
	const struct recall_item *it;
	struct discarded gone;
	int64_t rest;
	char why[200];
	size_t i;
	enum rc rc;

	str_fmt(why, sizeof(why), "recall %" PRId64 "%s%.150s", r->id,
	    r->outcome == RECALL_RETURNED ? ", returned to the supplier: "
					  : ": ",
	    r->reason);
	utf8_clean(why); /* it may have been cut within a character */
	rc = recall_items_open(&l, sn->st, r->id, err);
	for (i = 0; rc == RC_OK && i < l.count; i++) {
		it = &l.items[i];
		/* What was thrown away since is of what was found: the rest
		 * stays blocked, as what is missing. */
		rest = it->subject.portion_id == 0 ? it->found
						   : it->found - it->discarded;
		if (rest <= 0 || it->left_now <= 0)
			continue;
		in = (struct discard_in){ .code = it->code, .reason = why };
		if (it->subject.portion_id != 0 && rest < it->left_now)
			in.servings = rest;
		rc = discard_now(&gone, sn, &in, &r->end, err);
		out->discarded++;
	}
	recall_items_fini(&l);
	return rc;
}

static enum rc
labels_again(struct recall_closed *out, struct station *sn, int64_t hold_id,
    struct err *err)
{
	char shown[CODE_SIZE], more[sizeof(out->codes)];
	struct stopped_label *items;
	size_t i, n;
	enum rc rc = hold_stopped_open(&items, &n, sn->st, hold_id, err);

	for (i = 0; rc == RC_OK && i < n; i++, out->labels++)
		if (str_fmt(more, sizeof(more), "%s%s%s", out->codes,
			out->codes[0] == '\0' ? "" : ", ",
			code_show(shown, items[i].code)))
			str_copy(out->codes, sizeof(out->codes), more);
	free(items);
	return rc;
}

/* Lift the holds it opened; one another open recall rests on stays. */
static enum rc
lift_holds(
    struct recall_closed *out, struct station *sn, bool lift, struct err *err)
{
	const struct recall *r = &out->recall;
	struct recall_hold *holds;
	char why[200];
	size_t i, n;
	enum rc rc = recall_holds_open(&holds, &n, sn->st, r->id, err);

	str_fmt(why, sizeof(why), "recall %" PRId64 " closed: %.150s", r->id,
	    r->end_reason);
	utf8_clean(why); /* it may have been cut within a character */
	for (i = 0; rc == RC_OK && i < n; i++) {
		if (holds[i].hold.released_utc != 0)
			continue;
		if (!lift || !holds[i].opened || holds[i].shared) {
			out->kept++;
			continue;
		}
		rc = hold_close(
		    sn->st, &holds[i].hold.subject, why, &r->end, err);
		out->released++;
	}
	/* Only now is it known what is blocked no more. */
	for (i = 0; rc == RC_OK && i < n; i++)
		rc = labels_again(out, sn, holds[i].hold.id, err);
	free(holds);
	return rc;
}

enum rc
recall_close(struct recall_closed *out, struct station *sn,
    const struct recall_close_in *in, struct err *err)
{
	struct recall *r = &out->recall;
	struct moment at;
	char name[24];
	bool lift;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = may_close(r, sn, in, err)) != RC_OK)
		goto done;
	r->end = at;
	lift = r->outcome == RECALL_RELEASED || r->outcome == RECALL_MISTAKE;
	str_fmt(name, sizeof(name), "recall %" PRId64, r->id);
	if ((!lift && (rc = discard_found(out, sn, err)) != RC_OK) ||
	    (rc = recall_close_row(sn->st, r, err)) != RC_OK ||
	    (rc = lift_holds(out, sn, lift, err)) != RC_OK)
		goto done;
	rc = station_audit(sn, &at, err, "recall", name,
	    "closed, %s, %" PRId64 " missing, %" PRId64 " holds lifted%s%s",
	    recall_outcome_word(r->outcome), r->lines_missing, out->released,
	    r->end_reason[0] == '\0' ? "" : ": ", r->end_reason);
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	return rc;
}
