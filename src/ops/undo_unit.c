/* undo_unit.c - uses, discards and counts taken back. */
#include "undo_step.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "store/sales.h"

/* The newest event of that kind, instant and person that still stands. */
static enum rc
find_event(struct undo_step *s, struct station *sn, enum portion_fate a,
    enum portion_fate b, struct err *err)
{
	const struct audit_row *r = s->row;
	const struct portion_event *e;
	struct portion_event_list l;
	size_t i;
	enum rc rc;

	rc = portion_events_open(&l, sn->st, s->portion.id, err);
	if (rc != RC_OK)
		return rc;
	rc = RC_NOTFOUND;
	for (i = l.count; i > 0 && rc == RC_NOTFOUND; i--) {
		e = &l.items[i - 1];
		if ((e->fate == a || e->fate == b) && !e->taken_back &&
		    e->at.utc == r->at.utc && str_eq(e->at.by, r->at.by)) {
			s->event = *e;
			rc = RC_OK;
		}
	}
	portion_events_fini(&l);
	return rc;
}

/* docs/rules.md R-Z2: what was looked at or moved since is as it was seen. */
static enum rc
nothing_since(const struct undo_step *s, struct err *err)
{
	static const struct {
		const char *action, *word;
	} later[] = {
		{ "count", "counted" },
		{ "freeze", "frozen" },
		{ "thaw", "thawed" },
	};
	const struct audit_row *r;
	struct local_time t;
	size_t i;

	for (i = 0; i < sizeof(later) / sizeof(later[0]); i++) {
		r = undo_later(s, later[i].action, s->shown);
		if (r == NULL)
			continue;
		t = local_from_utc(r->at.utc);
		return err_set(err, RC_REFUSED, 0,
		    "portion %s was %s at %02d:%02d by %s, after that: count "
		    "it again, and say why",
		    s->shown, later[i].word, t.hour, t.minute, r->at.by);
	}
	return RC_OK;
}

static enum rc
service_open(const struct undo_step *s, struct station *sn, struct err *err)
{
	struct closing c;
	enum rc rc;

	if (s->event.service_id == 0)
		return RC_OK;
	rc = closing_get(&c, sn->st, s->event.service_id, NULL);
	if (rc == RC_NOTFOUND)
		return RC_OK;
	if (rc != RC_OK)
		return err_set(err, rc, 0, "the service cannot be looked up");
	return err_set(err, RC_REFUSED, 0,
	    "the service %s is closed: correct what it sold by closing it "
	    "again, and count portion %s",
	    s->event.service, s->shown);
}

static enum rc
fits(const struct undo_step *s, bool back, struct err *err)
{
	const struct portion *p = &s->portion;
	int64_t n = s->event.servings;

	if (back ? p->left + n <= p->servings : p->left >= n)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "portion %s has %" PRId64 " of %" PRId64
	    " on hand now: count it instead",
	    s->shown, p->left, p->servings);
}

/* What is the same for every event of a unit. */
static enum rc
look(struct undo_offer *o, struct undo_step *s, struct station *sn,
    const char *word, struct err *err)
{
	const struct portion *p = &s->portion;
	bool back = !fate_adds(s->event.fate);
	int64_t n = s->event.servings;
	char when[UNDO_WHEN_SIZE];
	enum rc rc;

	str_fmt(o->what, sizeof(o->what),
	    "%s %" PRId64 " of %" PRId64 " %s, %s%s", word, n, p->servings,
	    p->dish, s->shown, undo_when(when, s));
	if ((rc = service_open(s, sn, err)) != RC_OK ||
	    (rc = nothing_since(s, err)) != RC_OK ||
	    (rc = fits(s, back, err)) != RC_OK)
		return rc;
	str_fmt(o->does, sizeof(o->does),
	    "%" PRId64 " of %" PRId64 " are on hand again%s",
	    p->left + (back ? n : -n), p->servings,
	    back && p->use_by_utc < clock_now(&sn->clock)
		? ", past their use-by: discard them"
		: "");
	return RC_OK;
}

enum rc
undo_look_use(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	enum rc rc = s->kind != CODE_PORTION
	    ? RC_NOTFOUND
	    : find_event(s, sn, FATE_USED, FATE_USED, err);

	if (rc != RC_OK)
		return rc;
	str_copy(o->care, sizeof(o->care),
	    "Only if it never left the kitchen: what went to a guest stays "
	    "used.");
	return look(o, s, sn, "used", err);
}

enum rc
undo_look_count(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	enum rc rc = s->kind != CODE_PORTION
	    ? RC_NOTFOUND
	    : find_event(s, sn, FATE_MISSING, FATE_FOUND, err);

	if (rc != RC_OK)
		return rc;
	return look(o, s, sn,
	    s->event.fate == FATE_FOUND ? "counted and found"
					: "counted and missed",
	    err);
}

static enum rc
look_batch(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	char when[UNDO_WHEN_SIZE], gone[32], left[32];
	enum rc rc;

	rc =
	    batch_discard_last(&s->gone, sn->st, s->batch.id, &s->row->at, err);
	if (rc != RC_OK)
		return rc;
	str_fmt(o->what, sizeof(o->what), "discarded %s of batch %s%s",
	    weight_print(gone, sizeof(gone), s->gone.weight_g), s->shown,
	    undo_when(when, s));
	str_fmt(o->does, sizeof(o->does), "%s of batch %s are there again",
	    weight_print(
		left, sizeof(left), s->batch.weight_left + s->gone.weight_g),
	    s->shown);
	return RC_OK;
}

enum rc
undo_look_discard(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	enum rc rc;

	str_copy(o->care, sizeof(o->care),
	    "Only if it was never thrown away and stayed cold: what was in "
	    "the bin stays there.");
	if (s->kind == CODE_BATCH)
		return look_batch(o, s, sn, err);
	rc = find_event(s, sn, FATE_DISCARDED, FATE_DISCARDED, err);
	return rc != RC_OK ? rc : look(o, s, sn, "discarded", err);
}

enum rc
undo_go_event(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	struct portion_event e = {
		.fate =
		    fate_adds(s->event.fate) ? FATE_WITHDRAWN : FATE_RETURNED,
		.servings = s->event.servings,
		/* so that it counts against the use in the same service */
		.service_id = s->event.service_id,
		.at = *at,
		.undoes = s->event.id,
	};

	str_copy(e.reason, sizeof(e.reason), reason);
	return portion_take(sn->st, s->portion.id, &e, err);
}

enum rc
undo_go_discard(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	if (s->kind == CODE_PORTION)
		return undo_go_event(s, sn, reason, at, err);
	return batch_return(sn->st, s->batch.id, &s->gone, reason, at, err);
}
