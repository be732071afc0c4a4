/*
 * test_core_cutplan_prop.c - what must hold for every cut plan, on invented
 * boards with fixed seeds: the cost of the plan by a second reckoning, the
 * optimum of small boards by trying everything, and how it may move.
 */
#include "unit.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "cut_child.h"
#include "cut_judge.h"
#include "cut_boards.h"

static const struct board_recipe small[] = {
	{ "one dish", 4, 1, 1, 60, .tolerance = TOLERANCE_ALL },
	{ "two dishes", 4, 1, 2, 70, .tolerance = TOLERANCE_HALF },
	{ "three dishes", 4, 1, 3, 80, .tolerance = TOLERANCE_ALL },
	{ "no tolerance", 4, 1, 3, 90, .tolerance = TOLERANCE_NONE },
	{ "more than there is", 4, 2, 4, 140, .tolerance = TOLERANCE_ALL },
	{ "two species", 4, 2, 4, 80, .tolerance = TOLERANCE_ALL },
	{ "three species and a whole fish", 4, 3, 3, 80, .whole = true },
	{ "a stew", 4, 3, 2, 70, .stew = true },
	{ "a trim pool", 4, 2, 2, 80, .pools = 1 },
	{ "three trim pools", 4, 3, 3, 80, .pools = 3 },
	{ "from the thick part", 4, 1, 3, 60, .thick = true },
	{ "fillets as they are", 4, 1, 2, 60, .piece = true },
	{ "two ways to open", 4, 1, 2, 60, .ways = true },
	{ "a price under target", 4, 2, 4, 90, .under = true },
	{ "a price and trim", 4, 2, 2, 80, .under = true, .pools = 2 },
	{ "decided by hand", 4, 3, 3, 80, .whole = true, .pins = true },
	{ "first expired first", 4, 2, 3, 80, .strict = true },
	{ "all at once", 4, 3, 3, 80, .pools = 1, .whole = true, .stew = true,
	    .thick = true, .ways = true, .under = true },
};

static const struct board_recipe large[] = {
	{ "30 fish", 30, 5, 9, 60, .pools = 1, .whole = true },
	{ "60 fish", 60, 5, 11, 60, .pools = 1, .whole = true },
	{ "60 fish, everything", 60, 5, 8, 70, .pools = 3, .whole = true,
	    .stew = true, .thick = true, .piece = true, .ways = true,
	    .under = true, .pins = true },
	{ "60 hake", 60, 1, 3, 80, .tolerance = TOLERANCE_ALL },
};

/* Solved in a moment: these are solved some hundred times. */
static const struct board_recipe judged[] = {
	{ "two species", 6, 2, 4, 70, .pools = 2, .under = true },
	{ "all at once", 8, 5, 8, 70, .pools = 3, .whole = true, .stew = true,
	    .thick = true, .piece = true, .ways = true, .under = true,
	    .pins = true },
	{ "hake", 6, 1, 3, 70, .pools = 1, .under = true },
};

#define SMALL_SEEDS 30
#define LARGE_SEEDS 3

static struct board *
board(const struct board_recipe *r, int seed)
{
	static struct board b; /* too large for a stack, and pointed into */
	struct board_recipe fewer = *r;

	if (fewer.fish <= 4)
		fewer.fish = 1 + seed % fewer.fish;
	board_make(&b, &fewer, (uint64_t)seed);
	return &b;
}

/* Solve and look at the plan from both sides. */
static void
solve(struct cut_plan *plan, const struct cut_problem *p, const char *why,
    int seed)
{
	struct judgement j;
	struct err err = { 0 };
	int64_t cost;
	size_t d;

	ck_assert_msg(cut_solve(plan, p, &err) == RC_OK, "%s, seed %d: %s", why,
	    seed, err.text);
	ck_assert_msg(
	    judge_plan(&j, p, plan), "%s, seed %d: %s", why, seed, j.why);
	ck_assert_msg(j.cost == plan->cost,
	    "%s, seed %d: cost %" PRId64 ", judged %" PRId64, why, seed,
	    plan->cost, j.cost);
	ck_assert_msg(plan->bound <= plan->cost,
	    "%s, seed %d: bound %" PRId64 " above cost %" PRId64, why, seed,
	    plan->bound, plan->cost);
	ck_assert_msg(plan->proved == (plan->cost - plan->bound < p->within),
	    "%s, seed %d: proved or not", why, seed);
	for (d = 0; d < p->dish_count; d++)
		ck_assert_msg(plan->made[d] == j.made[d] &&
			plan->short_of[d] == j.short_of[d],
		    "%s, seed %d: dish %zu", why, seed, d + 1);
	cost = plan->cost;
	ck_assert_msg(cut_check(plan, p, &err) == RC_OK, "%s, seed %d: %s", why,
	    seed, err.text);
	ck_assert_msg(plan->cost == cost,
	    "%s, seed %d: checked %" PRId64 " after %" PRId64, why, seed,
	    plan->cost, cost);
}

/* The cost of a plan that must be proved. */
static int64_t
optimum(const struct cut_problem *p, const char *why, int seed)
{
	struct cut_plan plan = { 0 };
	int64_t cost;

	solve(&plan, p, why, seed);
	ck_assert_msg(plan.proved,
	    "%s, seed %d: not proved, cost %" PRId64 ", bound %" PRId64, why,
	    seed, plan.cost, plan.bound);
	cost = plan.cost;
	cut_plan_fini(&plan);
	return cost;
}

START_TEST(as_cheap_as_any)
{
	const struct board_recipe *r = &small[_i];
	struct cut_plan plan;
	int64_t best;
	int seed;

	for (seed = 1; seed <= SMALL_SEEDS; seed++) {
		const struct cut_problem *p = &board(r, seed)->p;

		plan = (struct cut_plan){ 0 };
		solve(&plan, p, r->why, seed);
		best = judge_brute(p);
		ck_assert_msg(plan.bound <= best && best <= plan.cost,
		    "%s, seed %d: best %" PRId64 ", bound %" PRId64
		    ", cost %" PRId64,
		    r->why, seed, best, plan.bound, plan.cost);
		ck_assert_msg(plan.cost == best && plan.proved,
		    "%s, seed %d: best %" PRId64 ", bound %" PRId64
		    ", cost %" PRId64 ", proved %d",
		    r->why, seed, best, plan.bound, plan.cost, plan.proved);
		cut_plan_fini(&plan);
	}
}
END_TEST

START_TEST(large_boards)
{
	const struct board_recipe *r = &large[_i];
	struct cut_plan plan;
	int seed;

	for (seed = 1; seed <= LARGE_SEEDS; seed++) {
		plan = (struct cut_plan){ 0 };
		solve(&plan, &board(r, seed)->p, r->why, seed);
		cut_plan_fini(&plan);
	}
}
END_TEST

/* One more fish, wider bands, one more portion: the optimum knows its way. */
START_TEST(moves_one_way)
{
	const struct board_recipe *r = &small[_i];
	struct cut_problem p;
	struct board *b;
	int64_t cost, fewer;
	size_t d;
	int seed;

	for (seed = 101; seed <= 100 + SMALL_SEEDS / 2; seed++) {
		b = board(r, seed);
		cost = optimum(&b->p, r->why, seed);
		if (b->p.fish_count > 1) {
			p = b->p;
			b->fish[--p.fish_count].pin = PIN_NONE;
			fewer = optimum(&p, r->why, seed);
			p.fish_count++;
			ck_assert_msg(optimum(&p, r->why, seed) <= fewer,
			    "%s, seed %d: a fish more costs more", r->why,
			    seed);
			board(r, seed);
		}
		d = (size_t)board_draw(b, (int)p.dish_count);
		b->dishes[d].wanted++;
		ck_assert_msg(optimum(&b->p, r->why, seed) >= cost,
		    "%s, seed %d: a portion more costs less", r->why, seed);
		b->dishes[d].wanted--;
		b->dishes[d].low_g -= b->dishes[d].low_g > 5 ? 5 : 0;
		b->dishes[d].high_g += 5;
		ck_assert_msg(optimum(&b->p, r->why, seed) <= cost,
		    "%s, seed %d: a wider band costs more", r->why, seed);
	}
}
END_TEST

/* Something of the plan is changed by hand, allowed or not. */
static void
meddle(struct cut_plan *plan, struct board *b)
{
	size_t i = (size_t)board_draw(b, (int)plan->fish_count);
	struct cut_choice *c = &plan->fish[i];
	struct cut_piece *piece;
	grams g = board_draw(b, 9) - 4;

	if (c->mode != MODE_CUT) {
		c->mode = board_draw(b, 2) == 0 ? MODE_CLOSED : MODE_WHOLE;
		c->dish = board_draw(b, (int)b->p.dish_count);
		return;
	}
	piece = &c->pieces[board_draw(b, b->fish[i].ways[c->way].pieces)];
	if (piece->cut_count == 0) {
		piece->kept = !piece->kept;
		piece->trim_g =
		    piece->kept ? 0 : b->fish[i].ways[c->way].piece_g;
	} else if (board_draw(b, 4) == 0) {
		piece->trim_g += piece->cuts[--piece->cut_count].portion_g;
	} else if (board_draw(b, 8) == 0) {
		piece->cuts[0].dish = board_draw(b, (int)b->p.dish_count);
	} else {
		piece->cuts[0].portion_g += g;
		piece->trim_g -= g;
	}
}

/* cut_check() and the judge agree on plans no solver would make. */
START_TEST(judged_alike)
{
	const struct board_recipe *r = &judged[_i];
	struct board *b = board(r, 11);
	int i, refused = 0, allowed = 0;
	struct cut_plan plan = { 0 };
	struct judgement j;
	struct err err;
	bool ok;

	for (i = 0; i < 300; i++) {
		if (plan.fish == NULL)
			solve(&plan, &b->p, r->why, 11);
		meddle(&plan, b);
		ok = judge_plan(&j, &b->p, &plan);
		err_clear(&err);
		ck_assert_msg((cut_check(&plan, &b->p, &err) == RC_OK) == ok,
		    "%s, change %d: judged \"%s\", checked \"%s\"", r->why, i,
		    j.why, err.text);
		if (!ok) {
			refused++;
			cut_plan_fini(&plan);
			continue;
		}
		allowed++;
		ck_assert_msg(plan.cost == j.cost,
		    "%s, change %d: checked %" PRId64 ", judged %" PRId64,
		    r->why, i, plan.cost, j.cost);
		ck_assert_int_ge(j.cost, plan.bound);
	}
	ck_assert_int_gt(allowed, 40);
	ck_assert_int_gt(refused, 40);
	cut_plan_fini(&plan);
}
END_TEST

static void
plan_bytes(
    struct buf *out, const struct cut_problem *p, const struct cut_plan *plan)
{
	const struct cut_choice *c;
	size_t i, k;
	int j;

	buf_printf(out, "%" PRId64 " %" PRId64 "\n", plan->cost, plan->bound);
	for (i = 0; i < plan->fish_count; i++) {
		c = &plan->fish[i];
		buf_printf(out, "%d %d", (int)c->mode,
		    c->mode == MODE_WHOLE ? c->dish : -1);
		for (j = 0;
		     c->mode == MODE_CUT && j < p->fish[i].ways[c->way].pieces;
		     j++) {
			buf_printf(out, " | %d %d", c->way, c->pieces[j].kept);
			for (k = 0; k < c->pieces[j].cut_count; k++)
				buf_printf(out, " %d:%" PRId64,
				    c->pieces[j].cuts[k].dish,
				    c->pieces[j].cuts[k].portion_g);
		}
		buf_putc(out, '\n');
	}
	ck_assert_int_eq(buf_check(out, "a plan", NULL), RC_OK);
}

START_TEST(the_same_again)
{
	const struct board_recipe *r = &large[_i];
	const struct cut_problem *p = &board(r, 7)->p;
	struct cut_plan plan[2] = { { 0 }, { 0 } };
	struct buf text[2];
	int i;

	for (i = 0; i < 2; i++) {
		buf_init(&text[i], (size_t)1 << 20);
		solve(&plan[i], p, r->why, 7);
		plan_bytes(&text[i], p, &plan[i]);
		cut_plan_fini(&plan[i]);
	}
	ck_assert_str_eq(buf_text(&text[0]), buf_text(&text[1]));
	buf_fini(&text[0]);
	buf_fini(&text[1]);
}
END_TEST

/* --- the command -----------------------------------------------------------
 */

static char folder[64];

static const char *
in_folder(char path[128], const char *name)
{
	ck_assert(str_fmt(path, 128, "%s/%s", folder, name));
	return path;
}

static void
write_in(const char *name, const struct buf *b)
{
	char path[128];

	ck_assert_int_eq(buf_check(b, name, NULL), RC_OK);
	ck_assert_int_eq(
	    file_write(in_folder(path, name), b->data, b->len, NULL), RC_OK);
}

static void
read_in(struct buf *b, const char *name)
{
	char path[128];

	buf_init(b, FILE_READ_MAX);
	ck_assert_int_eq(file_read(b, in_folder(path, name), NULL), RC_OK);
}

static void
run_cut(const char *to)
{
	char fish[128], dishes[128], trim[128], out[128];
	const char *argv[] = { getenv("PINBONE"), "cut", "--fish", fish,
		"--dishes", dishes, "--trim", trim, "--json", NULL };

	ck_assert_msg(argv[0] != NULL, "PINBONE does not name the program");
	in_folder(fish, "fish.csv");
	in_folder(dishes, "dishes.csv");
	in_folder(trim, "trim.csv");
	ck_assert_int_eq(child_run(NULL, argv, in_folder(out, to)), 0);
}

/* The same bytes twice, and the same cost as without files between. */
START_TEST(command_the_same_again)
{
	const struct board_recipe r = { "files", 30, 5, 8, 60, .pools = 2,
		.whole = true, .stew = true, .under = true };
	const struct cut_problem *p = &board(&r, 5)->p;
	struct buf fish, dishes, trim, one, two;
	struct cut_plan plan = { 0 };
	struct jsonr *doc;

	str_copy(folder, sizeof(folder), "/tmp/pinbone-cut-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	buf_init(&fish, 1 << 20);
	buf_init(&dishes, 1 << 20);
	buf_init(&trim, 1 << 20);
	board_csv(&fish, &dishes, &trim, p);
	write_in("fish.csv", &fish);
	write_in("dishes.csv", &dishes);
	write_in("trim.csv", &trim);
	run_cut("one.json");
	run_cut("two.json");
	read_in(&one, "one.json");
	read_in(&two, "two.json");
	ck_assert_str_eq(buf_text(&one), buf_text(&two));
	solve(&plan, p, r.why, 5);
	doc = jsonr_open(buf_text(&one));
	ck_assert_ptr_nonnull(doc);
	ck_assert_int_eq(jsonr_int(doc, "cost"), plan.cost);
	ck_assert_int_eq(jsonr_int(doc, "bound"), plan.bound);
	jsonr_close(doc);
	cut_plan_fini(&plan);
	buf_fini(&fish);
	buf_fini(&dishes);
	buf_fini(&trim);
	buf_fini(&one);
	buf_fini(&two);
}
END_TEST

static void
tidy(void)
{
	static const char *const names[] = { "fish.csv", "dishes.csv",
		"trim.csv", "one.json", "two.json" };
	char path[128];
	size_t i;

	if (folder[0] == '\0')
		return;
	for (i = 0; i < NELEM(names); i++)
		unlink(in_folder(path, names[i]));
	rmdir(folder);
}

Suite *
suite_core_cutplan_prop(void)
{
	Suite *s = suite_create("core_cutplan_prop");
	TCase *tc = tcase_create("boards");

	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, as_cheap_as_any, 0, NELEM(small));
	tcase_add_loop_test(tc, moves_one_way, 0, NELEM(small));
	tcase_add_loop_test(tc, large_boards, 0, NELEM(large));
	tcase_add_loop_test(tc, judged_alike, 0, NELEM(judged));
	tcase_add_loop_test(tc, the_same_again, 0, NELEM(large));
	suite_add_tcase(s, tc);
	tc = tcase_create("command");
	tcase_add_checked_fixture(tc, NULL, tidy);
	tcase_add_test(tc, command_the_same_again);
	suite_add_tcase(s, tc);
	return s;
}
