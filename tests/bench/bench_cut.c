/*
 * bench_cut.c - the cut plan against another solver, side by side in one run.
 *
 * Against glpsol of GLPK (Debian package glpk-utils), pattern form, the same
 * costs in integers, LIMIT_S of the clock at most.  Times are processor time:
 * ours of cut_solve(), glpsol's of its process, reading the problem included
 * (the first line says how much that is for one fish).  Peak memory is the
 * largest resident set of a process of its own, the program itself included.
 * Ends with 1 when an optimum differs or a plan is not allowed.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "base/str.h"
#include "tests/unit/cut_glpk.h"
#include "tests/unit/cut_judge.h"
#include "tests/unit/cut_boards.h"

#define LIMIT_S 10
#define SEEDS_MAX 20

/* What a child says of one cut_solve(). */
struct ours {
	int64_t cost, bound;
	bool proved, capped;
	double cpu_s;
	char why[200]; /* "" or what is wrong */
};

/* One kind of board. */
struct row {
	struct board_recipe r;
	int seeds;
	bool other; /* ask glpsol too */
};

/* What was measured over its seeds. */
struct measured {
	const struct row *row;
	int proved, other_proved, both, equal;
	int better, worse; /* our cost where glpsol gave up, or we did */
	double ours_s[SEEDS_MAX], other_s[SEEDS_MAX];
	double above; /* our cost over glpsol's, the worst */
	double gap;   /* the worst, of the cost */
	int gap_seed; /* where */
	long ours_kib, other_kib;
};

static struct board board; /* too large for a stack, and pointed into */
static bool failed;

static double
cpu_now(void)
{
	struct timespec t;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static void
solve(void *result, const void *arg)
{
	const struct cut_problem *p = arg;
	struct cut_plan plan = { 0 };
	struct ours *o = result;
	struct err err = { 0 };
	struct judgement j;
	double start = cpu_now();

	if (cut_solve(&plan, p, &err) != RC_OK) {
		str_fmt(o->why, sizeof(o->why), "%s", err.text);
		return;
	}
	o->cpu_s = cpu_now() - start;
	o->cost = plan.cost;
	o->bound = plan.bound;
	o->proved = plan.proved;
	o->capped = plan.capped;
	if (!judge_plan(&j, p, &plan))
		str_copy(o->why, sizeof(o->why), j.why);
	else if (j.cost != plan.cost || plan.bound > plan.cost)
		str_copy(o->why, sizeof(o->why), "cost or bound is wrong");
}

static void
complain(const struct measured *t, int seed, const char *what)
{
	printf("WRONG: %s, seed %d: %s\n", t->row->r.why, seed, what);
	failed = true;
}

static void
ask_other(struct measured *t, int seed, const struct ours *o)
{
	struct glpk_result g;
	double above;

	if (!glpk_solve(&g, &board.p, o->cost, LIMIT_S)) {
		complain(t, seed, g.why);
		return;
	}
	t->other_s[seed - 1] = g.use.cpu_s;
	if (g.use.peak_kib > t->other_kib)
		t->other_kib = g.use.peak_kib;
	t->other_proved += g.status == 'o';
	if ((g.status == 'o' || g.status == 'f') && g.cost < o->bound)
		complain(t, seed, "glpsol has a plan below the bound");
	if (g.status == 'o' && o->proved) {
		t->both++;
		t->equal += g.cost == o->cost;
		if (g.cost != o->cost)
			complain(t, seed, "another optimum than glpsol");
	} else if (g.status == 'f' || g.status == 'o') {
		above = (double)(o->cost - g.cost) / (double)g.cost;
		t->better += o->cost < g.cost;
		t->worse += o->cost > g.cost;
		if (above > t->above)
			t->above = above;
	}
}

static void
measure(struct measured *t)
{
	struct child_use use;
	struct ours o;
	double gap;
	int seed;

	for (seed = 1; seed <= t->row->seeds; seed++) {
		board_make(&board, &t->row->r, (uint64_t)seed);
		o = (struct ours){ 0 };
		if (!child_call(&use, &o, sizeof(o), solve, &board.p, 120))
			str_copy(o.why, sizeof(o.why), "did not end");
		if (o.why[0] != '\0') {
			complain(t, seed, o.why);
			continue;
		}
		t->ours_s[seed - 1] = o.cpu_s;
		if (use.peak_kib > t->ours_kib)
			t->ours_kib = use.peak_kib;
		t->proved += o.proved;
		gap = o.cost == 0 ? 0
				  : (double)(o.cost - o.bound) / (double)o.cost;
		if (gap > t->gap) {
			t->gap = gap;
			t->gap_seed = seed;
		}
		if (t->row->other)
			ask_other(t, seed, &o);
	}
}

static int
by_value(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

/* Sorts; the median and the largest. */
static double
middle(double *s, int n, double *most)
{
	qsort(s, (size_t)n, sizeof(*s), by_value);
	*most = s[n - 1];
	return n % 2 == 1 ? s[n / 2] : (s[n / 2 - 1] + s[n / 2]) / 2;
}

static void
print_row(struct measured *t)
{
	double most, other_most, half, other_half;

	half = middle(t->ours_s, t->row->seeds, &most);
	printf("%-28s %6d %6d/%-3d %9.1f %9.1f %7.3f (%2d) %7.1f",
	    t->row->r.why, t->row->r.fish, t->proved, t->row->seeds, half * 1e3,
	    most * 1e3, t->gap * 100, t->gap_seed, (double)t->ours_kib / 1024);
	if (t->row->other) {
		other_half = middle(t->other_s, t->row->seeds, &other_most);
		printf(
		    " | %3d/%-3d %3d/%-3d %3d %3d %7.3f %9.1f %9.1f %7.1f "
		    "%7.1f",
		    t->other_proved, t->row->seeds, t->equal, t->both,
		    t->better, t->worse, 100 * t->above, other_half * 1e3,
		    other_most * 1e3, (double)t->other_kib / 1024,
		    other_half / half);
	}
	printf("\n");
	fflush(stdout);
}

static void
run_table(const char *title, const struct row *rows, size_t count)
{
	struct measured t;
	size_t i;

	printf(
	    "\n%s\n%-28s %6s %10s %9s %9s %12s %7s | %-7s %-7s %3s %3s "
	    "%7s %9s %9s %7s %7s\n",
	    title, "boards", "fish", "proved", "median ms", "worst ms",
	    "gap % (seed)", "MiB", "glpsol", "equal", "<", ">", "above %",
	    "median ms", "worst ms", "MiB", "ratio");
	for (i = 0; i < count; i++) {
		t = (struct measured){ .row = &rows[i], .gap_seed = 1 };
		measure(&t);
		print_row(&t);
	}
}

/* clang-format off */
#define KITCHEN(n) { "5 species, 12 dishes, trim", n, 5, 11, 60, .pools = 1, \
	.whole = true }

static const struct row sizes[] = {
	{ { "one fish, one dish", 1, 1, 1, 60, .pools = 0 }, 3, true },
	{ KITCHEN(10), 15, true },
	{ KITCHEN(30), 12, true },
	{ KITCHEN(60), 10, true },
	{ KITCHEN(90), 4, true },
	{ KITCHEN(120), 4, true },
	{ { "the same without trim", 60, 5, 11, 60, .whole = true }, 3, true },
	{ { "hake, 3 dishes", 60, 1, 3, 60, .pools = 0 }, 6, true },
};

/* Where a proof is not expected: the gap is the point. */
static const struct row stress[] = {
	{ { "hake, 5 dishes", 60, 1, 5, 60, .pools = 0 }, 4, true },
	{ { "hake, 5 dishes, tight", 60, 1, 5, 90, .pools = 0 }, 4, true },
	{ { "3 species, 12 dishes, stew", 60, 3, 11, 60, .stew = true },
	    3, true },
	{ { "all at once", 60, 5, 8, 70, .pools = 3, .whole = true,
	    .stew = true, .thick = true, .piece = true, .ways = true,
	    .under = true }, 4, true },
	{ { "hake, 3 dishes", 1000, 1, 3, 60, .pools = 0 }, 1, false },
	{ { "hake, 3 dishes", 10000, 1, 3, 5, .pools = 0 }, 1, false },
	{ { "5 species, 12 dishes, trim", 10000, 5, 11, 5, .pools = 1,
	    .whole = true }, 1, false },
};
/* clang-format on */

int
main(void)
{
	printf(
	    "cut plans; glpsol has %d s of the clock for each\n"
	    "gap: the worst of the cost, and its seed; equal: the same "
	    "optimum where both have a proof;\n"
	    "< and >: our cost below and above glpsol's where not; ratio: "
	    "glpsol's median over ours\n",
	    LIMIT_S);
	run_table("SIZES", sizes, sizeof(sizes) / sizeof(sizes[0]));
	run_table("STRESS", stress, sizeof(stress) / sizeof(stress[0]));
	return failed ? 1 : 0;
}
