/* undo_prep.c - breakdowns and goods in struck out. */
#include "undo_step.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/yields.h"
#include "pace.h"
#include "store/pace.h"
#include "store/preps.h"

enum rc
undo_untouched(
    const struct undo_step *s, const struct portion *p, struct err *err)
{
	static const char *const later[] = { "count", "freeze", "thaw" };
	char shown[CODE_SIZE];
	size_t i;

	code_show(shown, p->code);
	if (p->left != p->servings)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s of it has %" PRId64 " of %" PRId64
		    " left: take that back first, or count what is there",
		    shown, p->left, p->servings);
	if (p->held)
		return err_set(err, RC_REFUSED, 0,
		    "%s is on hold: nothing of it is struck out until it is "
		    "released",
		    shown);
	for (i = 0; i < sizeof(later) / sizeof(later[0]); i++)
		if (undo_later(s, later[i], shown) != NULL)
			return err_set(err, RC_REFUSED, 0,
			    "portion %s of it has a later %s: it is there. "
			    "Discard or count what is wrong",
			    shown, later[i]);
	return RC_OK;
}

/* What the fish left by it went through since. */
static enum rc
newest_of_batch(const struct undo_step *s, struct station *sn,
    const struct prep_input *in, struct err *err)
{
	const struct prep *last;
	struct prep_list l;
	struct local_time t;
	char shown[CODE_SIZE];
	enum rc rc;

	if ((rc = prep_list_open(&l, sn->st, in->batch_id, err)) != RC_OK)
		return rc;
	last = &l.items[l.count - 1];
	t = local_from_utc(last->at.utc);
	if (last->id != s->prep_id)
		rc = err_set(err, RC_REFUSED, 0,
		    "batch %s was broken down again at %02d:%02d by %s: that "
		    "one goes first",
		    code_show(shown, in->batch), t.hour, t.minute, last->at.by);
	prep_list_fini(&l);
	return rc;
}

/* Every batch that went into it, each as it was left. */
static enum rc
inputs_as_left(const struct undo_step *s, struct station *sn, struct err *err)
{
	struct prep_input_list l;
	char shown[CODE_SIZE];
	struct batch b;
	size_t i;
	enum rc rc;

	if ((rc = prep_inputs_open(&l, sn->st, s->prep_id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++) {
		rc = newest_of_batch(s, sn, &l.items[i], err);
		if (rc == RC_OK)
			rc = batch_by_id(&b, sn->st, l.items[i].batch_id, err);
		if (rc == RC_OK && b.held)
			rc = err_set(err, RC_REFUSED, 0,
			    "batch %s is on hold: nothing of it is struck out "
			    "until it is released",
			    code_show(shown, b.code));
	}
	prep_inputs_fini(&l);
	return rc;
}

/* A task of a service that is over stays done. */
static enum rc
service_open(const struct undo_step *s, struct station *sn, struct err *err)
{
	char service[48];
	enum rc rc = prep_closed(service, sn->st, s->prep_id, err);

	if (rc == RC_NOTFOUND)
		return RC_OK;
	return rc != RC_OK ? rc
			   : err_set(err, RC_REFUSED, 0,
				 "it was made for the service %s, which is "
				 "closed: discard or count what is wrong",
				 service);
}

/* A pace that was learned before it was kept what from. */
static enum rc
pace_known(const struct undo_step *s, struct station *sn, struct err *err)
{
	struct prep_minutes m;
	struct pace_seen_list l;
	size_t n;
	enum rc rc;

	rc = prep_minutes_get(&m, sn->st, s->prep_id, err);
	if (rc != RC_OK || !m.taught)
		return rc;
	if ((rc = pace_seen_prep(&l, sn->st, s->prep_id, err)) != RC_OK)
		return rc;
	n = l.count;
	free(l.items);
	if (n > 0)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "its minutes were learned by an older program, which cannot be "
	    "taken back: discard or count what is wrong");
}

static void
say_prep(struct undo_offer *o, const struct undo_step *s, const struct prep *p)
{
	char when[UNDO_WHEN_SIZE], in[32], fish[32] = "";
	char of[CODE_SIZE + PREP_ALSO_SIZE];
	bool several = p->also[0] != '\0';

	if (p->all_fish > 0)
		str_fmt(fish, sizeof(fish), "%" PRId64 " fish, ", p->all_fish);
	weight_print(in, sizeof(in), p->all_g);
	str_fmt(
	    of, sizeof(of), "%s%s%s", s->shown, several ? " + " : "", p->also);
	str_fmt(o->what, sizeof(o->what),
	    "breakdown of batch %s, %s%s, %" PRId64
	    " portions on %zu label%s%s",
	    of, fish, in, p->portions, s->units.count,
	    s->units.count == 1 ? "" : "s", undo_when(when, s));
	str_fmt(o->does, sizeof(o->does),
	    "%s%s are back in %s %s, %zu labelled unit%s struck out", fish, in,
	    several ? "batches" : "batch", of, s->units.count,
	    s->units.count == 1 ? " is" : "s are");
	str_copy(o->care, sizeof(o->care),
	    "Only if it was entered wrong: what was really cut is recorded "
	    "again at once, with the right figures.");
}

static enum rc
load_prep(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	struct prep_list l;
	size_t i;
	enum rc rc;

	if ((rc = portion_list_prep(&s->units, sn->st, s->prep_id, err)) !=
		RC_OK ||
	    (rc = job_list_prep(&s->jobs, sn->st, s->prep_id, err)) != RC_OK ||
	    (rc = prep_list_open(&l, sn->st, s->batch.id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++)
		if (l.items[i].id == s->prep_id)
			say_prep(o, s, &l.items[i]);
	prep_list_fini(&l);
	return RC_OK;
}

enum rc
undo_look_prep(struct undo_offer *o, struct undo_step *s, struct station *sn,
    struct err *err)
{
	size_t i;
	enum rc rc;

	if (s->kind != CODE_BATCH)
		return RC_NOTFOUND;
	if ((rc = prep_of_moment(&s->prep_id, sn->st, s->batch.id, &s->row->at,
		 err)) != RC_OK ||
	    (rc = load_prep(o, s, sn, err)) != RC_OK ||
	    (rc = inputs_as_left(s, sn, err)) != RC_OK ||
	    (rc = service_open(s, sn, err)) != RC_OK)
		return rc;
	for (i = 0; i < s->units.count && rc == RC_OK; i++)
		rc = undo_untouched(s, &s->units.items[i], err);
	if (rc != RC_OK || (rc = pace_known(s, sn, err)) != RC_OK)
		return rc;
	return undo_labels(o, s, JOB_SAYS_COUNT, err);
}

static enum rc
reopen(const struct undo_step *s, struct station *sn, struct err *err)
{
	struct prep_input_list l;
	size_t i;
	enum rc rc;

	if ((rc = prep_inputs_open(&l, sn->st, s->prep_id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		rc = batch_reopen(sn->st, l.items[i].batch_id, err);
	prep_inputs_fini(&l);
	return rc;
}

enum rc
undo_go_prep(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	struct portion_event e = { .fate = FATE_STRUCK, .at = *at };
	char fish[120];
	size_t i;
	enum rc rc;

	str_copy(e.reason, sizeof(e.reason), reason);
	rc = prep_strike(sn->st, s->prep_id, reason, at, err);
	for (i = 0; i < s->units.count && rc == RC_OK; i++) {
		e.servings = s->units.items[i].left;
		rc = portion_take(sn->st, s->units.items[i].id, &e, err);
	}
	if (rc != RC_OK ||
	    (rc = prep_fish_back(
		 fish, sizeof(fish), sn->st, s->prep_id, err)) != RC_OK)
		return rc;
	if (fish[0] != '\0')
		str_fmt(s->extra, sizeof(s->extra), "fish %s back", fish);
	if ((rc = reopen(s, sn, err)) != RC_OK ||
	    (rc = yields_rebuild(sn, err)) != RC_OK ||
	    (rc = pace_forget(sn, s->prep_id, err)) != RC_OK)
		return rc;
	return undo_labels_cancel(s, sn, JOB_SAYS_COUNT, at, err);
}

/* --- goods in --------------------------------------------------------------*/

enum rc
undo_look_goods_in(struct undo_offer *o, struct undo_step *s,
    struct station *sn, struct err *err)
{
	const struct batch *b = &s->batch;
	char when[UNDO_WHEN_SIZE], w[32];
	bool touched = false;
	enum rc rc;

	if (s->kind != CODE_BATCH || b->struck)
		return RC_NOTFOUND;
	str_fmt(o->what, sizeof(o->what),
	    "goods in of batch %s, %s %s from "
	    "%.40s%s",
	    s->shown, weight_print(w, sizeof(w), b->weight_g), b->species,
	    b->supplier.name, undo_when(when, s));
	if (b->held)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s is on hold: it is not struck out until it is "
		    "released",
		    s->shown);
	if ((rc = batch_touched(&touched, sn->st, b->id, err)) != RC_OK)
		return rc;
	if (touched)
		return err_set(err, RC_REFUSED, 0,
		    "something was made or thrown away of batch %s: take that "
		    "back first",
		    s->shown);
	str_fmt(o->does, sizeof(o->does),
	    "batch %s is closed and counts nowhere; it stays on record as "
	    "struck out",
	    s->shown);
	str_copy(o->care, sizeof(o->care),
	    "Only if it was entered wrong: fish that is here is taken in again "
	    "at once, with the right figures.");
	rc = job_list_subject(&s->jobs, sn->st, &s->subject, err);
	return rc != RC_OK ? rc : undo_labels(o, s, JOB_SAYS_COUNT, err);
}

enum rc
undo_go_goods_in(struct undo_step *s, struct station *sn, const char *reason,
    const struct moment *at, struct err *err)
{
	enum rc rc = batch_strike(sn->st, &s->batch, reason, at, err);

	return rc != RC_OK ? rc
			   : undo_labels_cancel(s, sn, JOB_SAYS_COUNT, at, err);
}
