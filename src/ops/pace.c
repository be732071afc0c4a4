/* pace.c - minutes of a breakdown, and what they teach. */
#include "pace.h"

#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/prepplan.h"
#include "core/work.h"
#include "store/menu.h"
#include "store/store.h"

struct expected {
	int64_t units[TASK_COUNT];
	int64_t seconds[TASK_COUNT];
	int64_t total;
	bool known; /* no task is missing for want of a count */
};

static void
job_of_batch(struct work_job *j, const struct batch *b,
    const struct species *sp, const struct breakdown_in *in)
{
	memset(j, 0, sizeof(*j));
	if (!str_copy(j->batch, sizeof(j->batch), b->code) ||
	    !str_copy(j->species, sizeof(j->species), b->species))
		assert(!"code and species fit");
	j->form = sp->form;
	j->allergen = sp->allergen;
	j->bought = b->presentation;
	j->cut = CUT_TRIM;
	j->fish = in->fish;
	j->fish_g = in->fish > 0 ? in->weight_g / in->fish : 0;
	j->weight_g = in->weight_g;
	j->pieces = in->fish * pieces_per_fish(sp, b->presentation);
}

/*
 * One job for each dish, the fish shared out by the portions' weight: which
 * fish went where is not recorded.  Without a dish all of it is trim.
 */
static enum rc
jobs_of(struct work_job jobs[BREAKDOWN_MAKES_MAX], bool *known,
    struct station *sn, const struct work_job *whole,
    const struct breakdown_in *in, const struct pace_book *book,
    struct err *err)
{
	grams all = 0, done = 0, next;
	struct plan_cut cut;
	struct work_job *j;
	size_t i;
	enum rc rc;

	jobs[0] = *whole;
	*known = in->make_count > 0 || work_countable(whole, book);
	for (i = 0; i < in->make_count; i++)
		all += in->makes[i].weight_g;
	for (i = 0; i < in->make_count; i++, done = next) {
		rc = cut_find(
		    &cut, sn->st, in->makes[i].dish, whole->species, err);
		if (rc != RC_OK)
			return rc;
		next = done + in->makes[i].weight_g;
		j = &jobs[i];
		*j = *whole;
		j->cut = cut.kind;
		j->skin_on = cut.skin_on;
		j->state = cut.state;
		j->portions = in->makes[i].portions;
		*known = *known && work_countable(j, book);
		j->fish = whole->fish * next / all - whole->fish * done / all;
		/* None of a counted batch: not one worked out by weight. */
		if (whole->fish > 0 && j->fish == 0)
			j->fish_g = 0;
		j->pieces =
		    whole->pieces * next / all - whole->pieces * done / all;
		j->weight_g =
		    whole->weight_g * next / all - whole->weight_g * done / all;
	}
	return RC_OK;
}

static enum rc
expect(struct expected *out, struct station *sn, const struct work_job *jobs,
    size_t count, const struct pace_book *book, struct err *err)
{
	const struct work_task *t;
	struct work w;
	size_t i;
	enum rc rc;

	for (i = 0; i < count; i++) {
		/* A dish too light for a share of the fish shares its tasks. */
		if (jobs[i].fish == 0 && jobs[i].weight_g == 0)
			continue;
		rc = work_make(
		    &w, &jobs[i], 1, book, sn->cfg.bench_minutes, err);
		if (rc != RC_OK)
			return rc;
		for (t = w.tasks; t < w.tasks + w.count; t++) {
			if (t->job < 0)
				continue;
			out->units[t->kind] += t->units;
			out->seconds[t->kind] += t->seconds;
			out->total += t->seconds;
		}
		work_fini(&w);
	}
	return RC_OK;
}

static enum rc
believe(const struct batch *b, const struct breakdown_in *in,
    const struct expected *e, struct err *err)
{
	char shown[CODE_SIZE];
	int64_t s = in->minutes * 60;

	if (in->minutes_ok || !e->known ||
	    (s <= e->total * PACE_FACTOR + 60 && s * PACE_FACTOR >= e->total))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "batch %s: %" PRId64 " minutes where about %" PRId64
	    " are expected: check --minutes, or keep them without learning "
	    "with --minutes-ok",
	    code_show(shown, b->code), in->minutes, div_up(e->total, 60));
}

static enum rc
teach(struct station *sn, const struct work_job *whole,
    const struct expected *e, const struct prep_minutes *m,
    const struct pace_book *book, struct err *err)
{
	int64_t ms = m->minutes * 60000, done = 0, given = 0, share;
	struct pace_seen seen = { .prep_id = m->prep_id };
	struct pace p;
	enum rc rc;
	int k;

	for (k = 0; k < TASK_COUNT; k++) {
		if (e->units[k] == 0)
			continue;
		done += e->seconds[k];
		share = ms * done / e->total - given;
		given += share;
		if (!work_pace(&p, whole, (enum task_kind)k, book))
			continue;
		seen.before = p;
		seen.units = e->units[k];
		seen.ms = share;
		pace_learn(&p, seen.units, seen.ms);
		if ((rc = pace_seen_insert(sn->st, &seen, err)) != RC_OK ||
		    (rc = pace_put(sn->st, &p, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static enum rc
keep(struct breakdown *out, struct station *sn, const struct batch *b,
    const struct breakdown_in *in, const struct pace_book *book,
    struct err *err)
{
	struct work_job whole, jobs[BREAKDOWN_MAKES_MAX];
	const struct species *sp = species_find(&sn->species, b->species);
	char shown[CODE_SIZE], expected[48];
	struct expected e;
	enum rc rc;

	if (sp == NULL)
		return err_set(err, RC_INVALID, 0,
		    "species %s is not in species.csv", b->species);
	memset(&e, 0, sizeof(e));
	job_of_batch(&whole, b, sp, in);
	if ((rc = jobs_of(jobs, &e.known, sn, &whole, in, book, err)) !=
		RC_OK ||
	    (rc = expect(&e, sn, jobs, in->make_count == 0 ? 1 : in->make_count,
		 book, err)) != RC_OK)
		return rc;
	out->pace.prep_id = out->prep.id;
	out->pace.minutes = in->minutes;
	out->pace.expected_s = e.known ? e.total : 0;
	if ((rc = believe(b, in, &e, err)) != RC_OK)
		return rc;
	out->pace.taught = !in->minutes_ok && e.known && e.total > 0;
	if (out->pace.taught &&
	    (rc = teach(sn, &whole, &e, &out->pace, book, err)) != RC_OK)
		return rc;
	if ((rc = prep_minutes_insert(sn->st, &out->pace, err)) != RC_OK)
		return rc;
	if (!str_fmt(expected, sizeof(expected), ", about %" PRId64 " expected",
		div_up(out->pace.expected_s, 60)))
		assert(!"a number fits");
	return station_audit(sn, &out->prep.at, err, "minutes",
	    code_show(shown, b->code), "%" PRId64 " minutes%s, %s", in->minutes,
	    out->pace.expected_s > 0 ? expected : "",
	    out->pace.taught ? "learned" : "kept only");
}

enum rc
pace_record(struct breakdown *out, struct station *sn, const struct batch *b,
    const struct breakdown_in *in, struct err *err)
{
	struct pace_list learned;
	struct pace_book book;
	enum rc rc;

	if (in->minutes == 0 && in->minutes_ok)
		return err_set(
		    err, RC_INVALID, 0, "--minutes-ok without --minutes");
	if (in->minutes == 0)
		return RC_OK;
	if (in->minutes < 0 || in->minutes > BREAKDOWN_MINUTES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "--minutes %" PRId64 " is outside 1 to %d", in->minutes,
		    BREAKDOWN_MINUTES_MAX);
	if ((rc = pace_list_open(&learned, sn->st, err)) != RC_OK)
		return rc;
	book.table = &sn->minutes;
	book.learned = learned.items;
	book.learned_count = learned.count;
	rc = keep(out, sn, b, in, &book, err);
	pace_list_fini(&learned);
	return rc;
}

/* Later breakdowns teach again from where this one had started. */
static enum rc
forget_one(struct station *sn, const struct pace_seen *s, struct err *err)
{
	struct pace_seen_list later;
	struct pace p = s->before;
	size_t i;
	enum rc rc;

	if ((rc = pace_seen_after(&later, sn->st, s, err)) != RC_OK)
		return rc;
	for (i = 0; i < later.count; i++)
		pace_learn(&p, later.items[i].units, later.items[i].ms);
	free(later.items);
	return p.learned ? pace_put(sn->st, &p, err)
			 : pace_drop(sn->st, &p, err);
}

enum rc
pace_forget(struct station *sn, int64_t prep_id, struct err *err)
{
	struct pace_seen_list l;
	size_t i;
	enum rc rc;

	if ((rc = pace_seen_prep(&l, sn->st, prep_id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		rc = forget_one(sn, &l.items[i], err);
	free(l.items);
	return rc;
}
