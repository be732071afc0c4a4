/* undo.c - take the last recorded step back, where it is safe. */
#include "ops/undo.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "store/store.h"
#include "store/undo.h"
#include "undo_step.h"
#include "unit.h"

/* A step a minute by everybody, and a label for each of hundreds of units. */
#define ROWS_MAX 2000

struct way {
	const char *action; /* in the audit trail */
	enum undo_kind kind;
	undo_look_fn *look; /* NULL: it stays, and `why` says what to do */
	undo_go_fn *go;
	const char *why;
};

/* Actions that are not here are no steps of the chain, and passed over. */
static const struct way ways[] = {
	{ "use", UNDO_USE, undo_look_use, undo_go_event, NULL },
	{ "discard", UNDO_DISCARD, undo_look_discard, undo_go_discard, NULL },
	{ "count", UNDO_COUNT, undo_look_count, undo_go_event, NULL },
	{ "hold", UNDO_HOLD, undo_look_hold, undo_go_hold, NULL },
	{ "release", UNDO_RELEASE, undo_look_release, undo_go_release, NULL },
	{ "print", UNDO_LABEL, undo_look_label, undo_go_label, NULL },
	{ "reprint", UNDO_LABEL, undo_look_label, undo_go_label, NULL },
	{ "prep", UNDO_BREAKDOWN, undo_look_prep, undo_go_prep, NULL },
	{ "combine", UNDO_COMBINE, undo_look_combine, undo_go_combine, NULL },
	{ "receive", UNDO_GOODS_IN, undo_look_goods_in, undo_go_goods_in,
	    NULL },
	{ "freeze", UNDO_NEVER, NULL, NULL,
	    "what went into the freezer comes out by thaw, with its own date "
	    "and label; if it is not fit, discard it" },
	{ "thaw", UNDO_NEVER, NULL, NULL,
	    "what was taken out does not go back into the freezer: use it "
	    "within its date, or discard it" },
	{ "close", UNDO_NEVER, NULL, NULL,
	    "a closed service stays closed: close it again with the right "
	    "numbers, which is kept as a correction" },
	{ "correct", UNDO_NEVER, NULL, NULL,
	    "a correction stays: close the service again with the right "
	    "numbers" },
};

static const char *const kind_words[UNDO_KIND_COUNT] = {
	[UNDO_NOTHING] = "nothing",
	[UNDO_USE] = "use",
	[UNDO_DISCARD] = "discard",
	[UNDO_COUNT] = "count",
	[UNDO_HOLD] = "hold",
	[UNDO_RELEASE] = "release",
	[UNDO_LABEL] = "label",
	[UNDO_BREAKDOWN] = "breakdown",
	[UNDO_COMBINE] = "combine",
	[UNDO_GOODS_IN] = "goods-in",
	[UNDO_NEVER] = "never",
};

const char *
undo_kind_word(enum undo_kind k)
{
	return kind_words[k];
}

char *
undo_when(char dst[UNDO_WHEN_SIZE], const struct undo_step *s)
{
	struct local_time t = local_from_utc(s->row->at.utc);

	str_fmt(dst, UNDO_WHEN_SIZE, ", at %02d:%02d by %s", t.hour, t.minute,
	    s->row->at.by);
	return dst;
}

const struct audit_row *
undo_later(const struct undo_step *s, const char *action, const char *shown)
{
	size_t i;

	for (i = 0; i < s->at; i++)
		if (str_eq(s->rows.items[i].action, action) &&
		    str_eq(s->rows.items[i].subject, shown))
			return &s->rows.items[i];
	return NULL;
}

/* --- labels of what is taken back ------------------------------------------*/

static bool
meant(const struct print_job *j, const struct undo_step *s, enum job_says says)
{
	return (says == JOB_SAYS_COUNT || j->says == says) &&
	    j->at.utc >= s->row->at.utc;
}

static bool
listed(const char *list, const char *shown)
{
	const char *at = strstr(list, shown);

	return at != NULL;
}

enum rc
undo_labels(struct undo_offer *o, const struct undo_step *s, enum job_says says,
    struct err *err)
{
	char shown[CODE_SIZE], more[sizeof(o->collect)];
	const struct print_job *j;
	size_t i;

	for (i = 0; i < s->jobs.count; i++) {
		j = &s->jobs.items[i];
		if (!meant(j, s, says) || j->state == JOB_QUEUED)
			continue;
		code_show(shown, j->code);
		if (j->state == JOB_SENDING)
			return err_set(err, RC_REFUSED, 0,
			    "the label of %s is being printed just now: try "
			    "again when it is out",
			    shown);
		if (!job_may_be_out(j))
			continue;
		o->collect_count++;
		if (!listed(o->collect, shown) &&
		    str_fmt(more, sizeof(more), "%s%s%s", o->collect,
			o->collect[0] == '\0' ? "" : ", ", shown))
			str_copy(o->collect, sizeof(o->collect), more);
	}
	return RC_OK;
}

enum rc
undo_labels_cancel(const struct undo_step *s, struct station *sn,
    enum job_says says, const struct moment *at, struct err *err)
{
	struct print_job *j;
	char why[sizeof(j->error)];
	size_t i;
	enum rc rc = RC_OK;

	str_fmt(why, sizeof(why), "cancelled by %s", at->by);
	for (i = 0; i < s->jobs.count && rc == RC_OK; i++) {
		j = &s->jobs.items[i];
		if (meant(j, s, says) && j->state == JOB_QUEUED)
			rc = job_move(
			    sn->st, j, JOB_CANCELLED, why, at->utc, err);
	}
	return rc;
}

/* --- which step ------------------------------------------------------------*/

static const struct way *
way_of(const char *action)
{
	size_t i;

	for (i = 0; i < sizeof(ways) / sizeof(ways[0]); i++)
		if (str_eq(ways[i].action, action))
			return &ways[i];
	return NULL;
}

/* The batch or unit the row is about; RC_NOTFOUND: it names none. */
static enum rc
subject(struct undo_step *s, struct station *sn, struct err *err)
{
	enum rc rc;

	memset(&s->subject, 0, sizeof(s->subject));
	if (sscanf(s->row->subject, "breakdown %" SCNd64,
		&s->subject.prep_id) == 1) {
		str_copy(s->shown, sizeof(s->shown), s->row->subject);
		s->code[0] = '\0';
		return RC_OK;
	}
	if (code_parse(&s->kind, s->code, s->row->subject, NULL) != RC_OK)
		return RC_NOTFOUND;
	code_show(s->shown, s->code);
	if (s->kind == CODE_BATCH) {
		rc = batch_get(&s->batch, sn->st, s->code, err);
		s->subject.batch_id = rc == RC_OK ? s->batch.id : 0;
		return rc;
	}
	rc = portion_get(&s->portion, sn->st, s->code, err);
	s->subject.portion_id = rc == RC_OK ? s->portion.id : 0;
	return rc;
}

static void
forget(struct undo_step *s)
{
	portion_list_fini(&s->units);
	job_list_fini(&s->jobs);
	memset(&s->event, 0, sizeof(s->event));
	s->rows_of_step = 1;
}

static enum rc
look_at(struct undo_offer *o, struct undo_step *s, const struct way *w,
    struct station *sn, struct err *err)
{
	char when[UNDO_WHEN_SIZE];
	enum rc rc;

	memset(o, 0, sizeof(*o));
	forget(s);
	o->kind = w->kind;
	o->step = s->row->id;
	o->at = s->row->at;
	if (w->look == NULL) {
		str_fmt(o->what, sizeof(o->what), "%s of %.80s%s", w->action,
		    s->row->subject, undo_when(when, s));
		return err_set(err, RC_REFUSED, 0, "%s", w->why);
	}
	if ((rc = subject(s, sn, err)) != RC_OK)
		return rc;
	str_copy(o->code, sizeof(o->code), s->code);
	return w->look(o, s, sn, err);
}

/* The newest step of `of` that leaves something to take back. */
static enum rc
find(struct undo_offer *o, const struct way **way, struct undo_step *s,
    struct station *sn, const char *of, struct err *err)
{
	const struct way *w;
	struct err own = { 0 };
	int64_t from = clock_now(&sn->clock) - UNDO_MINUTES * 60;
	enum rc rc;

	memset(o, 0, sizeof(*o));
	if ((rc = undo_rows_open(&s->rows, sn->st, from, ROWS_MAX, err)) !=
	    RC_OK)
		return rc;
	for (s->at = 0; s->at < s->rows.count; s->at++) {
		s->row = &s->rows.items[s->at];
		w = way_of(s->row->action);
		if (w == NULL || (of != NULL && !str_eq(of, s->row->at.by)))
			continue;
		err_clear(&own);
		rc = look_at(o, s, w, sn, &own);
		*way = w;
		if (rc == RC_NOTFOUND)
			continue;
		return rc == RC_OK ? RC_OK
				   : err_set(err, rc, own.lib, "%s", own.text);
	}
	memset(o, 0, sizeof(*o));
	return err_set(err, RC_NOTFOUND, 0,
	    "nothing %s%s recorded in the last %d minutes can be taken back",
	    of == NULL ? "" : "that ", of == NULL ? "" : of, UNDO_MINUTES);
}

static void
step_fini(struct undo_step *s)
{
	forget(s);
	audit_list_fini(&s->rows);
}

enum rc
undo_last(
    struct undo_offer *out, struct station *sn, const char *of, struct err *err)
{
	struct undo_step s = { 0 };
	const struct way *w;
	enum rc rc = find(out, &w, &s, sn, of, err);

	step_fini(&s);
	return rc;
}

/* --- doing it --------------------------------------------------------------*/

static enum rc
record(const struct undo_offer *o, const struct undo_step *s,
    struct station *sn, const char *reason, const struct moment *at,
    struct err *err)
{
	size_t i;
	enum rc rc;

	rc = station_audit(sn, at, err, "undo",
	    s->shown[0] == '\0' ? s->row->subject : s->shown, "%s%s%s: %s",
	    o->what, s->extra[0] == '\0' ? "" : ", ", s->extra, reason);
	for (i = 0; i < s->rows_of_step && rc == RC_OK; i++)
		rc = undone_add(sn->st, s->rows.items[s->at + i].id, err);
	return rc;
}

enum rc
undo_do(struct undo_offer *out, struct station *sn, const struct undo_in *in,
    struct err *err)
{
	struct undo_step s = { 0 };
	const struct way *w = NULL;
	char reason[120];
	struct moment at;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(reason, sizeof(reason),
		 in->reason == NULL ? "entered by mistake" : in->reason, false,
		 err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = find(out, &w, &s, sn, in->of, err)) != RC_OK)
		goto done;
	if (out->step != in->step) {
		rc = err_set(err, RC_REFUSED, 0,
		    "something else was recorded meanwhile: look again what "
		    "would be taken back");
		goto done;
	}
	if ((rc = w->go(&s, sn, reason, &at, err)) == RC_OK &&
	    (rc = record(out, &s, sn, reason, &at, err)) == RC_OK)
		rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	step_fini(&s);
	return rc;
}
