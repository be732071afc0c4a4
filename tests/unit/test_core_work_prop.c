/*
 * test_core_work_prop.c - what must hold for every working order: on many
 * lists made by a generator with a fixed seed, checked from the tasks alone by
 * a bench that remembers what touched it, and against every legal order of
 * small lists.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "work_jobs.h"

static struct minutes_table table;
static struct pace_book book;
static unsigned seed;

static void
setup(void)
{
	book = work_book(&table);
	seed = 26;
}

static void
teardown(void)
{
	minutes_fini(&table);
}

static int
up_to(int n)
{
	seed = seed * 1103515245u + 12345u;
	return (int)((seed >> 8) % (unsigned)n);
}

/* clang-format off */
static const struct {
	const char *species;
	enum body_form form;
	enum presentation bought;
	enum cut_kind cut;
} kinds[] = {
	{ "HKE", FORM_ROUND, PRES_WHOLE, CUT_SUPREME },
	{ "HKE", FORM_ROUND, PRES_GUTTED, CUT_FILLET },
	{ "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME },
	{ "SAL", FORM_ROUND, PRES_FILLET_SKINLESS, CUT_SUPREME },
	{ "SAL", FORM_ROUND, PRES_GUTTED, CUT_LOIN },
	{ "COD", FORM_ROUND, PRES_GUTTED, CUT_MEAT },
	{ "BSS", FORM_ROUND, PRES_WHOLE, CUT_WHOLE },
	{ "PLE", FORM_FLAT, PRES_WHOLE, CUT_WHOLE },
	{ "PLE", FORM_FLAT, PRES_GUTTED, CUT_FILLET },
	{ "RJC", FORM_CARTILAGINOUS, PRES_WING, CUT_WING },
	{ "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_TAIL },
	{ "CRE", FORM_CRUSTACEAN, PRES_LIVE, CUT_MEAT },
	{ "MUS", FORM_BIVALVE, PRES_LIVE, CUT_SHELL },
	{ "MUS", FORM_BIVALVE, PRES_LIVE, CUT_MEAT },
	{ "OYG", FORM_BIVALVE, PRES_LIVE, CUT_SHELL },
	{ "SQR", FORM_CEPHALOPOD, PRES_WHOLE, CUT_MEAT },
};
/* clang-format on */

static struct work_job
random_job(int sessions)
{
	size_t i = (size_t)up_to(NELEM(kinds));
	char batch[CODE_SIZE];
	struct work_job j;

	/* A batch is of one species; three of each. */
	ck_assert(
	    str_fmt(batch, sizeof(batch), "%s%d", kinds[i].species, up_to(3)));
	j = job_of(batch, kinds[i].species, kinds[i].form, kinds[i].bought,
	    kinds[i].cut);
	j.skin_on = up_to(2);
	if (up_to(3) == 0)
		j.state = (enum food_state)up_to(STATE_COUNT);
	j.ready_to_eat = up_to(6) == 0;
	j.deadline_utc = 1000 + up_to(sessions);
	j.today = sessions > 1 && up_to(5) == 0;
	/* One use-by a batch. */
	j.use_by_utc = 5000 + j.batch[3] * 7 % 5 + j.species[0] % 3;
	j.fish = 1 + up_to(30);
	j.fish_g = 20 + up_to(4000);
	j.pieces = 2 * j.fish;
	j.portions = 1 + up_to(60);
	j.weight_g = j.fish * j.fish_g;
	return j;
}

static struct work
make(const struct work_job *jobs, size_t count)
{
	struct work w;
	struct err err = { 0 };

	ck_assert_msg(work_make(&w, jobs, count, &book, 20, &err) == RC_OK,
	    "%s", err.text);
	return w;
}

static int
session_cmp(const struct work_job *a, const struct work_job *b)
{
	if (a->today != b->today)
		return a->today ? -1 : 1;
	return a->deadline_utc < b->deadline_utc
	    ? -1
	    : a->deadline_utc > b->deadline_utc;
}

/* --- the bench, as a food inspector would see it ---------------------------*/

struct bench {
	bool guts, raw, served_raw; /* touched since the last clean-down */
	unsigned allergens;         /* bit each */
};

static bool
makes_dirt(enum task_kind k)
{
	return k == TASK_SCALE || k == TASK_GUT || k == TASK_TRIM ||
	    k == TASK_SCRUB || k == TASK_CLEAN;
}

static void
check_bench(
    struct bench *b, const struct work_task *t, const struct work_job *j)
{
	bool cooked = j->state == STATE_COOKED;
	bool eaten_raw = !cooked &&
	    (j->state == STATE_SERVED_RAW || str_eq(j->species, "OYG") ||
		(j->state == STATE_LIVE && j->ready_to_eat));
	bool safe = !eaten_raw && (cooked || j->ready_to_eat);
	bool raw_work = makes_dirt(t->kind) ||
	    (t->kind == TASK_PEEL && !safe) ||
	    (cooked &&
		(t->kind == TASK_FILLET || t->kind == TASK_PINBONE ||
		    t->kind == TASK_SKIN || t->kind == TASK_OPEN));

	ck_assert_msg((b->allergens & ~(1u << j->allergen)) == 0,
	    "%s after another allergen group", j->batch);
	if (!raw_work && (eaten_raw || safe)) {
		ck_assert_msg(!b->guts, "%s after dirty work", j->batch);
		ck_assert_msg(!b->raw, "%s after raw fish", j->batch);
	}
	if (!raw_work && cooked)
		ck_assert_msg(
		    !b->served_raw, "%s after fish served raw", j->batch);
	/* Filleting and portioning never on scales and guts, but for shells
	 * and whole fish that stay where they were cleaned. */
	if (!raw_work && t->class != WORK_DIRTY)
		ck_assert_msg(!b->guts, "%s filleted on guts", j->batch);
	b->allergens |= 1u << j->allergen;
	if (t->class == WORK_DIRTY)
		b->guts = true;
	else if (eaten_raw)
		b->served_raw = true;
	else if (!safe)
		b->raw = true;
}

static void
check_safe(const struct work *w, const struct work_job *jobs)
{
	struct bench b = { 0 };
	size_t i;

	for (i = 0; i < w->count; i++)
		if (w->tasks[i].kind == TASK_CLEANDOWN)
			memset(&b, 0, sizeof(b));
		else if (w->tasks[i].job >= 0)
			check_bench(&b, &w->tasks[i], &jobs[w->tasks[i].job]);
	ck_assert(
	    w->count == 0 || w->tasks[w->count - 1].kind == TASK_CLEANDOWN);
}

/* Sessions in order; inside one the allergen groups never go back; what a job
 * needs first comes first; nothing is lost, made up or counted twice. */
static void
check_order(const struct work *w, const struct work_job *jobs, size_t count)
{
	struct work_task alone[TASK_COUNT];
	const struct work_job *j, *last = NULL;
	int64_t seconds = 0, slow = 0, units;
	int i, n, kind_before[64];
	size_t k, at;

	memset(kind_before, 0, sizeof(kind_before));
	for (k = 0; k < w->count; k++) {
		ck_assert_int_eq(w->tasks[k].starts_s, seconds);
		seconds += w->tasks[k].seconds;
		slow += w->tasks[k].slow_s;
		if (w->tasks[k].job < 0)
			continue;
		j = &jobs[w->tasks[k].job];
		if (last != NULL) {
			ck_assert_int_le(session_cmp(last, j), 0);
			ck_assert(session_cmp(last, j) != 0 ||
			    last->allergen <= j->allergen);
		}
		last = j;
		/* The kinds are numbered in the order a fish goes through;
		 * a cooked one's raw work is first for it as well, and each
		 * time on the bench ends with a tray. */
		i = w->tasks[k].job;
		ck_assert_int_le(kind_before[i], (int)w->tasks[k].kind);
		kind_before[i] = (int)w->tasks[k].kind;
	}
	ck_assert_int_eq(w->seconds, seconds);
	ck_assert_int_eq(w->slow_s, slow);
	for (k = 0; k < count; k++) {
		n = work_tasks(alone, &jobs[k], &book);
		for (i = 0; i < n; i++) {
			units = 0;
			for (at = 0; at < w->count; at++)
				if (w->tasks[at].job == (int)k &&
				    w->tasks[at].kind == alone[i].kind)
					units += w->tasks[at].units;
			ck_assert_int_eq(units, alone[i].units);
		}
	}
}

/* In one session, group and class a species and a batch are one block. */
static void
check_together(const struct work *w, const struct work_job *jobs)
{
	struct run_of_work r[RUNS_MAX];
	size_t n = work_runs(r, w);
	const struct work_job *a, *b, *m;
	size_t i, k, q;

	for (i = 0; i < n; i++)
		for (k = i + 2; k < n; k++) {
			a = &jobs[r[i].job];
			b = &jobs[r[k].job];
			if (session_cmp(a, b) != 0 ||
			    r[i].class != r[k].class ||
			    !str_eq(a->species, b->species))
				continue;
			for (q = i + 1; q < k; q++) {
				m = &jobs[r[q].job];
				ck_assert_str_eq(m->species, a->species);
				if (str_eq(a->batch, b->batch))
					ck_assert_str_eq(m->batch, a->batch);
			}
		}
}

static void
check_trays(const struct work *w, const struct work_job *jobs)
{
	struct run_of_work r[RUNS_MAX];
	size_t n = work_runs(r, w);
	const struct work_task *t;
	int64_t s, all;
	size_t i, k;

	for (i = 0; i < n; i++) {
		t = &w->tasks[r[i].first];
		all = jobs[r[i].job].fish;
		for (s = 0, k = 0; k < r[i].count; k++)
			if (t[k].kind != TASK_TRAY)
				s += t[k].seconds;
		ck_assert_int_ge(t->tray, 1);
		ck_assert_int_ge(t->tray * t->trays, all);
		ck_assert_int_lt(t->tray * (t->trays - 1), all);
		/* On the bench no longer than allowed, and not one fewer than
		 * could be. */
		if (t->tray > 1)
			ck_assert_int_le(t->tray * s, 20 * 60 * all);
		if (t->tray < all)
			ck_assert_int_gt((t->tray + 1) * s, 20 * 60 * all);
	}
}

static void
shuffle(struct work_job *jobs, size_t count)
{
	struct work_job t;
	size_t i, k;

	for (i = count; i > 1; i--) {
		k = (size_t)up_to((int)i);
		t = jobs[i - 1];
		jobs[i - 1] = jobs[k];
		jobs[k] = t;
	}
}

START_TEST(holds_for_all)
{
	struct work_job jobs[14], mixed[14];
	struct work w, v;
	size_t count, i;
	int round;

	for (round = 0; round < 3000; round++) {
		count = 1 + (size_t)up_to(14);
		for (i = 0; i < count; i++)
			mixed[i] = jobs[i] = random_job(1 + round % 3);
		w = make(jobs, count);
		check_safe(&w, jobs);
		check_order(&w, jobs, count);
		check_together(&w, jobs);
		check_trays(&w, jobs);
		/* In whatever order they come, and every time. */
		shuffle(mixed, count);
		v = make(mixed, count);
		ck_assert_uint_eq(v.count, w.count);
		for (i = 0; i < w.count; i++) {
			ck_assert_int_eq(v.tasks[i].kind, w.tasks[i].kind);
			ck_assert_int_eq(v.tasks[i].units, w.tasks[i].units);
			ck_assert_int_eq(
			    v.tasks[i].starts_s, w.tasks[i].starts_s);
			if (w.tasks[i].job >= 0)
				ck_assert_str_eq(mixed[v.tasks[i].job].batch,
				    jobs[w.tasks[i].job].batch);
		}
		work_fini(&v);
		work_fini(&w);
	}
}
END_TEST

/* --- every legal order of a small session ----------------------------------*/

struct search {
	const struct run_of_work *runs;
	const struct work_job *jobs;
	size_t count;
	bool used[RUNS_MAX];
	int best;
};

/* May run `i` come next: its own dirty part done, no group left behind. */
static bool
legal(const struct search *s, size_t i)
{
	const struct run_of_work *r = &s->runs[i];
	size_t k;

	for (k = 0; k < s->count; k++) {
		if (s->used[k] || k == i)
			continue;
		if (s->runs[k].job == r->job && s->runs[k].class == WORK_DIRTY)
			return false;
		if (s->jobs[s->runs[k].job].allergen < s->jobs[r->job].allergen)
			return false;
	}
	return true;
}

static void
try_all(struct search *s, size_t done, size_t last, int cleandowns)
{
	bool over;
	size_t i;

	if (cleandowns >= s->best)
		return;
	if (done == s->count) {
		s->best = cleandowns;
		return;
	}
	for (i = 0; i < s->count; i++) {
		if (s->used[i] || !legal(s, i))
			continue;
		over = done > 0 &&
		    (s->jobs[s->runs[i].job].allergen !=
			    s->jobs[s->runs[last].job].allergen ||
			s->runs[i].class < s->runs[last].class);
		s->used[i] = true;
		try_all(s, done + 1, i, cleandowns + over);
		s->used[i] = false;
	}
}

START_TEST(no_legal_order_has_fewer)
{
	struct run_of_work runs[RUNS_MAX];
	struct work_job jobs[5];
	struct search s;
	struct work w;
	size_t count, i;
	int round, two = 0;

	for (round = 0; round < 2000; round++) {
		count = 1 + (size_t)up_to(5);
		for (i = 0; i < count; i++)
			jobs[i] = random_job(1);
		w = make(jobs, count);
		memset(&s, 0, sizeof(s));
		s.runs = runs;
		s.jobs = jobs;
		s.count = work_runs(runs, &w);
		s.best = 1000;
		try_all(&s, 0, 0, 0);
		ck_assert_int_eq(w.cleandowns, s.best + 1); /* the last one */
		two += s.best >= 2;
		work_fini(&w);
	}
	/* The generator did make lists that need some. */
	ck_assert_int_gt(two, 500);
}
END_TEST

/* More of anything never takes less time. */
START_TEST(more_takes_longer)
{
	struct work_job j;
	struct work w, v;
	int round;

	for (round = 0; round < 2000; round++) {
		j = random_job(1);
		w = make(&j, 1);
		j.fish++;
		j.pieces += 2;
		j.portions++;
		j.weight_g += j.fish_g;
		v = make(&j, 1);
		ck_assert_int_ge(v.seconds, w.seconds);
		ck_assert_int_ge(v.slow_s, w.slow_s);
		work_fini(&v);
		work_fini(&w);
	}
}
END_TEST

Suite *
suite_core_work_prop(void)
{
	Suite *s = suite_create("core_work_prop");
	TCase *t = tcase_create("all");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 60);
	tcase_add_test(t, holds_for_all);
	tcase_add_test(t, no_legal_order_has_fewer);
	tcase_add_test(t, more_takes_longer);
	suite_add_tcase(s, t);
	return s;
}
