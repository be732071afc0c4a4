/* undo_hold.c - holds, releases and queued labels taken back. */
#include "undo_step.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

/* The hold this step opened or released; RC_NOTFOUND: another step did
 * something to it since. */
static enum rc
find_hold(
    struct undo_step *s, struct station *sn, bool released, struct err *err)
{
	const struct audit_row *r = s->row;
	const struct hold *h;
	struct hold_list l;
	bool held = false;
	size_t i;
	enum rc rc;

	if ((rc = hold_list_open(&l, sn->st, &s->subject, err)) != RC_OK)
		return rc;
	rc = RC_NOTFOUND;
	for (i = 0; i < l.count; i++) {
		h = &l.items[i];
		held = held || h->released_utc == 0;
		if (released ? h->released_utc == r->at.utc &&
			    str_eq(h->released_by, r->at.by)
			     : h->released_utc == 0 && h->at_utc == r->at.utc &&
			    str_eq(h->by, r->at.by)) {
			s->hold = *h;
			rc = RC_OK;
		}
	}
	hold_list_fini(&l);
	return released && held ? RC_NOTFOUND : rc;
}

/* Hold labels of the batch and of every unit made from it. */
static enum rc
load_labels(struct undo_step *s, struct station *sn, struct err *err)
{
	struct job_list units;
	size_t i, cap;
	enum rc rc;

	if (s->subject.prep_id != 0)
		return job_list_prep(&s->jobs, sn->st, s->subject.prep_id, err);
	rc = job_list_subject(&s->jobs, sn->st, &s->subject, err);
	if (rc != RC_OK || s->kind != CODE_BATCH)
		return rc;
	if ((rc = job_list_units(&units, sn->st, s->batch.id, err)) != RC_OK)
		return rc;
	cap = s->jobs.count;
	for (i = 0; i < units.count; i++) {
		s->jobs.items = grow(
		    s->jobs.items, &cap, s->jobs.count, sizeof(*s->jobs.items));
		s->jobs.items[s->jobs.count++] = units.items[i];
	}
	job_list_fini(&units);
	return RC_OK;
}

enum rc
undo_look_hold(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	char when[UNDO_WHEN_SIZE];
	enum rc rc;

	if ((rc = find_hold(s, sn, false, err)) != RC_OK)
		return rc;
	str_fmt(o->what, sizeof(o->what), "hold on %s (%.100s)%s", s->shown,
	    s->hold.reason, undo_when(when, s));
	str_fmt(o->does, sizeof(o->does),
	    "the hold is released: %s may be used again", s->shown);
	str_copy(o->care, sizeof(o->care),
	    "Only if the reason was never true of it: a doubt that was looked "
	    "into is released with its reason.");
	if ((rc = load_labels(s, sn, err)) != RC_OK)
		return rc;
	return undo_labels(o, s, SAYS_HOLD, err);
}

enum rc
undo_go_hold(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	enum rc rc = hold_close(sn->st, &s->subject, reason, at, err);

	return rc != RC_OK ? rc : undo_labels_cancel(s, sn, SAYS_HOLD, at, err);
}

enum rc
undo_look_release(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	char when[UNDO_WHEN_SIZE];
	enum rc rc;

	if ((rc = find_hold(s, sn, true, err)) != RC_OK)
		return rc;
	str_fmt(o->what, sizeof(o->what), "release of %s (%.100s)%s", s->shown,
	    s->hold.released_reason, undo_when(when, s));
	str_fmt(o->does, sizeof(o->does), "%s is on hold again", s->shown);
	str_copy(o->care, sizeof(o->care),
	    "Look for what went out since, and put the hold label back on.");
	return RC_OK;
}

enum rc
undo_go_release(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	char why[sizeof(s->hold.reason)];
	int64_t id, labels;
	bool opened;
	enum rc rc;

	if (!str_fmt(
		why, sizeof(why), "%s (released: %s)", s->hold.reason, reason))
		str_copy(why, sizeof(why), s->hold.reason);
	if ((rc = hold_join(&id, &opened, sn->st, &s->subject, why, at, err)) !=
	    RC_OK)
		return rc;
	return hold_stop_labels(&labels, sn->st, id, why, at->utc, err);
}

/* --- labels ----------------------------------------------------------------*/

static bool
is_print(const struct audit_row *r, const struct audit_row *first)
{
	return (str_eq(r->action, "print") || str_eq(r->action, "reprint")) &&
	    r->at.utc == first->at.utc && str_eq(r->at.by, first->at.by);
}

/* Labels of a row of the trail that are still queued. */
static enum rc
queued_of(struct undo_step *s, size_t *cap, struct station *sn,
    const struct audit_row *r, struct err *err)
{
	struct subject subject = { 0 };
	struct job_list l;
	struct portion p;
	struct batch b;
	char code[CODE_SIZE];
	enum code_kind kind;
	size_t i;
	enum rc rc;

	if (code_parse(&kind, code, r->subject, NULL) != RC_OK)
		return RC_OK; /* a test label */
	if (kind == CODE_BATCH) {
		if ((rc = batch_get(&b, sn->st, code, err)) != RC_OK)
			return rc;
		subject.batch_id = b.id;
	} else {
		if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK)
			return rc;
		subject.portion_id = p.id;
	}
	if ((rc = job_list_subject(&l, sn->st, &subject, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++) {
		if (l.items[i].state != JOB_QUEUED ||
		    l.items[i].at.utc != r->at.utc ||
		    !str_eq(l.items[i].at.by, r->at.by))
			continue;
		s->jobs.items = grow(
		    s->jobs.items, cap, s->jobs.count, sizeof(*s->jobs.items));
		s->jobs.items[s->jobs.count++] = l.items[i];
		break; /* one row, one label */
	}
	job_list_fini(&l);
	return RC_OK;
}

/* All labels asked for at once are one step. */
enum rc
undo_look_label(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	const struct audit_row *r = s->row;
	char when[UNDO_WHEN_SIZE];
	size_t cap = 0, n = 0;
	enum rc rc;

	while (s->at + n < s->rows.count && is_print(&r[n], r)) {
		if ((rc = queued_of(s, &cap, sn, &r[n], err)) != RC_OK)
			return rc;
		n++;
	}
	s->rows_of_step = n;
	if (s->jobs.count == 0)
		return RC_NOTFOUND; /* they are out, or settled: passed over */
	str_fmt(o->what, sizeof(o->what), "label%s asked for: %zu, %s%s%s",
	    s->jobs.count == 1 ? "" : "s", s->jobs.count, s->shown,
	    s->jobs.count == 1 ? "" : " and others", undo_when(when, s));
	str_fmt(o->does, sizeof(o->does), "%zu queued label%s will not print",
	    s->jobs.count, s->jobs.count == 1 ? "" : "s");
	if (s->jobs.count < n)
		str_copy(o->care, sizeof(o->care),
		    "Others of them are out already: they stay.");
	return RC_OK;
}

enum rc
undo_go_label(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	(void)reason; /* it stands in the audit trail */
	return undo_labels_cancel(s, sn, JOB_SAYS_COUNT, at, err);
}
