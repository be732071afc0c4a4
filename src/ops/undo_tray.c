/* undo_tray.c - trays that were put together taken apart again. */
#include "undo_step.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "store/sources.h"

/* The event by which a unit's rest went onto the tray, if it still stands. */
static enum rc
went(struct portion_event *out, const struct undo_step *s, struct station *sn,
    int64_t portion_id, struct err *err)
{
	const struct portion_event *e;
	struct portion_event_list l;
	size_t i;
	enum rc rc;

	if ((rc = portion_events_open(&l, sn->st, portion_id, err)) != RC_OK)
		return rc;
	rc = RC_NOTFOUND;
	for (i = l.count; i > 0 && rc == RC_NOTFOUND; i--) {
		e = &l.items[i - 1];
		if (e->fate == FATE_COMBINED && !e->taken_back &&
		    e->at.utc == s->row->at.utc &&
		    str_eq(e->at.by, s->row->at.by)) {
			*out = *e;
			rc = RC_OK;
		}
	}
	portion_events_fini(&l);
	return rc;
}

/* A unit that was empty, and can have its portions back. */
static enum rc
can_have_back(const struct undo_step *s, struct station *sn,
    const struct portion_part *part, struct err *err)
{
	struct portion_event e;
	struct portion p;
	char shown[CODE_SIZE];
	enum rc rc;

	code_show(shown, part->code);
	if ((rc = went(&e, s, sn, part->id, err)) != RC_OK ||
	    (rc = portion_get(&p, sn->st, part->code, err)) != RC_OK)
		return rc;
	if (undo_later(s, "count", shown) != NULL ||
	    p.left + e.servings > p.servings)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s was counted after that: count it again, and "
		    "say why",
		    shown);
	if (p.held)
		return err_set(err, RC_REFUSED, 0,
		    "%s is on hold: nothing of it is struck out until it is "
		    "released",
		    shown);
	return RC_OK;
}

static void
say(struct undo_offer *o, const struct undo_step *s,
    const struct portion_part_list *l)
{
	const struct portion *p = &s->portion;
	char when[UNDO_WHEN_SIZE], shown[CODE_SIZE];
	size_t i;

	str_fmt(o->what, sizeof(o->what),
	    "%" PRId64 " %s put together from %zu trays on %s%s", p->servings,
	    p->dish, l->count, s->shown, undo_when(when, s));
	str_fmt(
	    o->does, sizeof(o->does), "%s is struck out, back on", s->shown);
	for (i = 0; i < l->count && i < 8; i++)
		str_fmt(o->does + strlen(o->does),
		    sizeof(o->does) - strlen(o->does), "%s %" PRId64 " %s",
		    i > 0 ? "," : "", l->items[i].servings,
		    code_show(shown, l->items[i].code));
	if (i < l->count)
		str_fmt(o->does + strlen(o->does),
		    sizeof(o->does) - strlen(o->does), " and others");
	str_copy(o->care, sizeof(o->care),
	    "Only if they still lie apart, each with its own label: what was "
	    "mixed stays mixed.");
}

enum rc
undo_look_combine(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	struct portion_part_list l;
	size_t i;
	enum rc rc;

	if (s->kind != CODE_PORTION || s->portion.struck)
		return RC_NOTFOUND;
	if ((rc = portion_parts_open(&l, sn->st, s->portion.id, err)) != RC_OK)
		return rc;
	say(o, s, &l);
	rc = undo_untouched(s, &s->portion, err);
	for (i = 0; i < l.count && rc == RC_OK; i++)
		rc = can_have_back(s, sn, &l.items[i], err);
	portion_parts_fini(&l);
	if (rc == RC_OK)
		rc = job_list_subject(&s->jobs, sn->st, &s->subject, err);
	return rc != RC_OK ? rc : undo_labels(o, s, JOB_SAYS_COUNT, err);
}

static enum rc
give_back(const struct undo_step *s, struct station *sn,
    const struct portion_part *part, const char *reason,
    const struct moment *at, struct err *err)
{
	struct portion_event e = { .fate = FATE_RETURNED, .at = *at };
	struct portion_event old;
	enum rc rc = went(&old, s, sn, part->id, err);

	if (rc != RC_OK)
		return rc;
	e.servings = old.servings;
	e.undoes = old.id;
	str_copy(e.reason, sizeof(e.reason), reason);
	return portion_take(sn->st, part->id, &e, err);
}

enum rc
undo_go_combine(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	struct portion_event e = {
		.fate = FATE_STRUCK, .servings = s->portion.left, .at = *at
	};
	struct portion_part_list l;
	size_t i;
	enum rc rc;

	str_copy(e.reason, sizeof(e.reason), reason);
	if ((rc = portion_take(sn->st, s->portion.id, &e, err)) != RC_OK ||
	    (rc = portion_parts_open(&l, sn->st, s->portion.id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		rc = give_back(s, sn, &l.items[i], reason, at, err);
	portion_parts_fini(&l);
	return rc != RC_OK ? rc
			   : undo_labels_cancel(s, sn, JOB_SAYS_COUNT, at, err);
}
