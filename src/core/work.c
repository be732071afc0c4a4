/* work.c - the working order of a prep list, and its minutes. */
#include "work_inner.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

/* One job's work of one kind of bench: dirty or clean. */
struct part {
	int index;
	const struct work_job *job;
	enum work_class class;
	int phase;         /* place of the class in its allergen group */
	int64_t first_utc; /* earliest use-by of the species in this phase */
	struct work_task tasks[TASK_COUNT];
	int count;
};

struct parts {
	struct part *items;
	size_t count, cap;
};

static const char *const class_words[WORK_CLASS_COUNT] = {
	[WORK_READY] = "ready to eat",
	[WORK_SERVED_RAW] = "served raw",
	[WORK_PORTION] = "portioning",
	[WORK_FILLET] = "filleting",
	[WORK_DIRTY] = "dirty work",
};

const char *
work_class_word(enum work_class c)
{
	assert((unsigned)c < WORK_CLASS_COUNT);
	return class_words[c];
}

const char *
work_caution(void)
{
	return "Order, bench time and minutes are guidance: the house's own "
	       "food safety plan sets the limits, and a shorter one rules.";
}

/* --- parts: dirty work and the rest ----------------------------------------*/

/*
 * How many leave the fridge at once, and the task that ends each time: on the
 * tray, filmed, labelled.  The tray's own time is not on the bench.
 */
static void
set_trays(
    struct part *p, int bench_minutes, bool last, const struct pace_book *book)
{
	const struct work_job *j = p->job;
	int64_t n = work_animals(j) > 0 ? work_animals(j) : work_kilograms(j);
	int64_t bench_s = 0, tray;
	struct work_task *t;
	struct pace pace;
	int i;

	for (i = 0; i < p->count; i++)
		bench_s += p->tasks[i].seconds;
	tray = bench_s == 0 ? n : div_down(bench_minutes * 60 * n, bench_s);
	tray = tray < 1 ? 1 : tray > n ? n : tray;
	if (last && work_pace(&pace, j, TASK_TRAY, book)) {
		t = &p->tasks[p->count++];
		memset(t, 0, sizeof(*t));
		t->kind = TASK_TRAY;
		work_set_units(t, &pace, div_up(n, tray));
	}
	for (i = 0; i < p->count; i++) {
		p->tasks[i].job = p->index;
		p->tasks[i].class = p->class;
		p->tasks[i].tray = tray;
		p->tasks[i].trays = div_up(n, tray);
	}
}

static void
add_part(struct parts *ps, const struct part *p)
{
	ps->items = grow(ps->items, &ps->cap, ps->count, sizeof(*p));
	ps->items[ps->count++] = *p;
}

static void
add_job(struct parts *ps, const struct work_job *job, int index,
    const struct pace_book *book, int bench_minutes)
{
	struct work_task all[TASK_COUNT];
	struct part dirty, clean;
	enum work_class class = work_class_of(job, book);
	bool stays;
	int i, n = work_tasks(all, job, book);

	memset(&dirty, 0, sizeof(dirty));
	dirty.index = index;
	dirty.job = job;
	clean = dirty;
	dirty.class = WORK_DIRTY;
	clean.class = class;
	for (i = 0; i < n; i++)
		if (work_is_dirty(job, class, all[i].kind))
			dirty.tasks[dirty.count++] = all[i];
	stays = dirty.count > 0 && class == WORK_PORTION &&
	    (job->cut == CUT_WHOLE || job->cut == CUT_SHELL);
	for (i = 0; i < n; i++)
		if (work_is_dirty(job, class, all[i].kind))
			continue;
		else if (stays)
			dirty.tasks[dirty.count++] = all[i];
		else
			clean.tasks[clean.count++] = all[i];
	if (dirty.count > 0) {
		set_trays(&dirty, bench_minutes, stays, book);
		add_part(ps, &dirty);
	}
	if (stays)
		return;
	set_trays(&clean, bench_minutes, true, book);
	if (clean.count > 0)
		add_part(ps, &clean);
}

/* --- order -----------------------------------------------------------------*/

static int
cmp(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

static int
by_session(const struct work_job *a, const struct work_job *b)
{
	if (a->today != b->today)
		return a->today ? -1 : 1;
	return cmp(a->deadline_utc, b->deadline_utc);
}

static int
by_group(const struct work_job *a, const struct work_job *b)
{
	int d = by_session(a, b);

	return d != 0 ? d : cmp(a->allergen, b->allergen);
}

/* What two jobs of one batch differ in, so that the order they came in never
 * shows; what is the same in all of it is the same job. */
static int
by_content(const struct work_job *a, const struct work_job *b)
{
	int d = cmp(a->cut, b->cut);

	if (d == 0)
		d = cmp(a->skin_on, b->skin_on);
	if (d == 0)
		d = cmp(a->state, b->state);
	if (d == 0)
		d = cmp(a->bought, b->bought);
	if (d == 0)
		d = cmp(a->fish, b->fish);
	if (d == 0)
		d = cmp(a->pieces, b->pieces);
	if (d == 0)
		d = cmp(a->portions, b->portions);
	if (d == 0)
		d = cmp(a->weight_g, b->weight_g);
	return d != 0 ? d : cmp(a->fish_g, b->fish_g);
}

static int
by_order(const void *x, const void *y)
{
	const struct part *a = x;
	const struct part *b = y;
	int d = by_group(a->job, b->job);

	if (d == 0)
		d = cmp(a->phase, b->phase);
	if (d == 0)
		d = cmp(a->first_utc, b->first_utc);
	if (d == 0)
		d = strcmp(a->job->species, b->job->species);
	if (d == 0)
		d = cmp(a->job->use_by_utc, b->job->use_by_utc);
	if (d == 0)
		d = strcmp(a->job->batch, b->job->batch);
	if (d == 0)
		d = by_content(a->job, b->job);
	return d != 0 ? d : cmp(a->index, b->index);
}

/*
 * Dirty work first where some job of the group is dirty and then clean: one
 * clean-down, which no order can save.  Else last: none.  docs/rules.md R-W3.
 */
static void
set_phases(struct parts *ps)
{
	struct part *p, *q;
	size_t i, k;
	bool both;

	for (i = 0; i < ps->count; i++) {
		p = &ps->items[i];
		p->phase = (int)p->class;
		if (p->class != WORK_DIRTY)
			continue;
		both = false;
		/* A job's two parts stand side by side, dirty first. */
		for (k = 0; k + 1 < ps->count && !both; k++) {
			q = &ps->items[k];
			both = q->index == q[1].index &&
			    by_group(q->job, p->job) == 0;
		}
		p->phase = both ? -1 : WORK_CLASS_COUNT;
	}
	for (i = 0; i < ps->count; i++) {
		p = &ps->items[i];
		p->first_utc = p->job->use_by_utc;
		for (k = 0; k < ps->count; k++) {
			q = &ps->items[k];
			if (q->phase == p->phase &&
			    q->job->use_by_utc < p->first_utc &&
			    str_eq(q->job->species, p->job->species) &&
			    by_group(q->job, p->job) == 0)
				p->first_utc = q->job->use_by_utc;
		}
	}
}

enum task_kind
work_between(enum work_class before, const struct work_job *before_job,
    enum work_class after, const struct work_job *after_job)
{
	if (before_job->allergen != after_job->allergen || after < before)
		return TASK_CLEANDOWN;
	if (after > before || !str_eq(before_job->species, after_job->species))
		return TASK_CHANGE;
	return TASK_COUNT;
}

/* --- the list --------------------------------------------------------------*/

static void
push(struct work *w, size_t *cap, const struct work_task *t)
{
	w->tasks = grow(w->tasks, cap, w->count, sizeof(*t));
	w->tasks[w->count] = *t;
	w->tasks[w->count++].starts_s = w->seconds;
	w->seconds += t->seconds;
	w->slow_s += t->slow_s;
	if (t->kind == TASK_CLEANDOWN)
		w->cleandowns++;
	else if (t->job >= 0 && !t->learned)
		w->estimated = true;
}

/* Listed also where the table gives it no time: it is done all the same. */
static void
push_between(struct work *w, size_t *cap, enum task_kind kind,
    enum work_class class, const struct pace_book *book)
{
	struct work_task t;
	struct pace p;

	memset(&t, 0, sizeof(t));
	t.kind = kind;
	t.job = -1;
	t.class = class;
	t.units = 1;
	if (pace_find(&p, book, kind, "", FORM_ROUND, 0))
		work_set_units(&t, &p, 1);
	push(w, cap, &t);
}

static void
lay_out(struct work *w, const struct parts *ps, const struct pace_book *book)
{
	const struct part *p = NULL, *before;
	enum task_kind kind;
	size_t i, cap = 0;
	int k;

	for (i = 0; i < ps->count; i++) {
		before = p;
		p = &ps->items[i];
		if (before != NULL) {
			kind = work_between(
			    before->class, before->job, p->class, p->job);
			if (kind != TASK_COUNT)
				push_between(w, &cap, kind, p->class, book);
		}
		for (k = 0; k < p->count; k++)
			push(w, &cap, &p->tasks[k]);
	}
	if (p != NULL)
		push_between(w, &cap, TASK_CLEANDOWN, p->class, book);
}

static enum rc
check_job(const struct work_job *j, size_t index, struct err *err)
{
	if (j->fish < 0 || j->fish > COUNT_MAX || j->pieces < 0 ||
	    j->pieces > COUNT_MAX || j->portions < 0 ||
	    j->portions > COUNT_MAX || j->fish_g < 0 ||
	    j->fish_g > WEIGHT_MAX_G || j->weight_g < 0 ||
	    j->weight_g > WEIGHT_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "job %zu, batch %s: a count or weight is out of range",
		    index + 1, j->batch);
	if (j->fish == 0 && j->weight_g == 0)
		return err_set(err, RC_INVALID, 0,
		    "job %zu, batch %s: neither counted nor weighed", index + 1,
		    j->batch);
	return RC_OK;
}

enum rc
work_make(struct work *out, const struct work_job *jobs, size_t count,
    const struct pace_book *book, int bench_minutes, struct err *err)
{
	struct parts ps = { NULL, 0, 0 };
	size_t i;
	enum rc rc;

	assert(bench_minutes >= 1 && bench_minutes <= 60);
	memset(out, 0, sizeof(*out));
	if (count > WORK_JOBS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu jobs on one list, more than %d", count, WORK_JOBS_MAX);
	for (i = 0; i < count; i++)
		if ((rc = check_job(&jobs[i], i, err)) != RC_OK)
			return rc;
	for (i = 0; i < count; i++) {
		add_job(&ps, &jobs[i], (int)i, book, bench_minutes);
		if (!work_countable(&jobs[i], book))
			out->incomplete = true;
	}
	set_phases(&ps);
	if (ps.count > 0)
		qsort(ps.items, ps.count, sizeof(*ps.items), by_order);
	lay_out(out, &ps, book);
	free(ps.items);
	return RC_OK;
}

void
work_fini(struct work *w)
{
	free(w->tasks);
	memset(w, 0, sizeof(*w));
}
