/*
 * test_ops_bench.c - a batch before its breakdown is recorded, and what is
 * recorded or forgotten with it.  Yields by hand.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "kitchen.h"
#include "ops/bench.h"
#include "ops/draft.h"
#include "ops/fate.h"

#define DINNER "2026-11-25/dinner"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	in.fish_weights = "2100,1950,2050,1900,2000,2000,2000,2000,2000,2000";
	cod = kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/* Five cod, 10 kg, into 20 supremes: 4.3 kg and 400 g of trim are 47 %. */
static struct breakdown_in
five(void)
{
	struct breakdown_in in = { .batch = cod.code,
		.fish = 5,
		.weight_g = 10000,
		.makes = { { "cod-leeks", 20, 4300, 4 } },
		.make_count = 1,
		.by = "CD" };

	in.loss_g[LOSS_TRIM] = 400;
	in.loss_g[LOSS_FRAMES] = 5000;
	return in;
}

START_TEST(what_is_there)
{
	struct bench b;

	ck_assert_int_eq(bench_open(&b, k.sn, cod.code, NULL), RC_OK);
	ck_assert_str_eq(b.species->name, "Cod");
	ck_assert_int_eq(b.batch.count_left, 10);
	ck_assert_uint_eq(b.fish.count, 10);
	ck_assert_int_eq(b.fish.items[0].weight_g, 2100);
	ck_assert_int_eq(b.refused.rc, RC_OK);
	/* By code; a dish of another species is not there. */
	ck_assert_uint_eq(b.dish_count, 2);
	ck_assert_str_eq(b.dishes[0].cut.dish, "cod-cakes");
	ck_assert_str_eq(b.dishes[1].cut.dish, "cod-leeks");
	ck_assert_int_gt(b.dishes[1].mean_bp, 3000);
	ck_assert_int_lt(b.dishes[1].mean_bp, 6000);
	bench_fini(&b);
}
END_TEST

START_TEST(not_there)
{
	char other[CODE_SIZE];
	struct bench b;
	struct err err = { 0 };
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct breakdown made = kitchen_break(&k, cod.code, &cut);

	ck_assert_int_gt(batch_code_make(other, 20000, 1), 0);
	ck_assert_int_eq(bench_open(&b, k.sn, other, NULL), RC_NOTFOUND);
	ck_assert_int_eq(bench_open(&b, k.sn, "rhubarb", NULL), RC_INVALID);
	ck_assert_int_eq(
	    bench_open(&b, k.sn, made.portions[0].code, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "portion's code"));
	breakdown_fini(&made);
}
END_TEST

START_TEST(may_not_be_opened)
{
	struct bench b;

	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "smell", "CD", NULL), RC_OK);
	ck_assert_int_eq(bench_open(&b, k.sn, cod.code, NULL), RC_OK);
	ck_assert_int_eq(b.refused.rc, RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(b.refused.text, "on hold"));
	bench_fini(&b);
	ck_assert_int_eq(
	    release(NULL, k.sn, cod.code, "smells fine", "CD", NULL), RC_OK);
	kitchen_at(&k, "2026-11-29T10:00");
	ck_assert_int_eq(bench_open(&b, k.sn, cod.code, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(b.refused.text, "expired"));
	bench_fini(&b);
}
END_TEST

/* What the screen shows while it is typed is what is recorded. */
START_TEST(live_figures)
{
	struct breakdown_in in = five();
	struct breakdown made;
	struct bench b;
	int expected, seen;

	ck_assert_int_eq(bench_open(&b, k.sn, cod.code, NULL), RC_OK);
	ck_assert_int_eq(bench_unexplained(&in), 300);
	seen = bench_yield(&expected, &b, &in);
	ck_assert_int_eq(seen, 4700);
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(made.yield.observed_bp, seen);
	ck_assert_int_eq(made.yield.expected_bp, expected);
	ck_assert_int_eq(made.unexplained_g, 300);
	ck_assert_int_eq(made.doubt, DOUBT_NOTHING);
	breakdown_fini(&made);
	in.loss_g[LOSS_FRAMES] = 6000;
	ck_assert_int_eq(bench_unexplained(&in), -700);
	ck_assert_int_eq(bench_yield(&expected, &b, &in), 0);
	in.weight_g = 0;
	ck_assert_int_eq(bench_yield(&expected, &b, &in), 0);
	bench_fini(&b);
}
END_TEST

static void
keep(void)
{
	struct draft_in in = { DRAFT_BREAKDOWN, "cod", "in=1\n", "CD" };

	ck_assert_int_eq(draft_keep(k.sn, &in, NULL), RC_OK);
}

static int64_t
kept(void)
{
	return kitchen_count(&k, "SELECT count(*) FROM draft");
}

static struct work_say
task(void)
{
	struct work_say s = { .service = DINNER,
		.key = { .dish = "cod-leeks", .step = "fillet" },
		.said = WORK_STARTED,
		.by = "AB" };

	memcpy(s.key.batch, cod.code, sizeof(s.key.batch));
	return s;
}

/* Recorded: the task is ticked, the form forgotten, with it or not at all. */
START_TEST(with_it)
{
	struct work_say s = task();
	struct breakdown_in in = five();
	struct breakdown made;
	struct work_mark_list l;

	keep();
	ck_assert_int_eq(work_mark_say(NULL, k.sn, &s, NULL), RC_OK);
	in.task = &s;
	in.draft = DRAFT_BREAKDOWN;
	in.weight_g = 4000; /* more out than in */
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(kept(), 1);
	in.weight_g = 10000;
	s.key.step[0] = '\0'; /* no such step: found out late */
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_INVALID);
	ck_assert_int_eq(kept(), 1);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM prep"), 0);
	s = task();
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(kept(), 0);
	ck_assert_int_eq(work_marks_open(&l, k.sn, DINNER, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].said, WORK_DONE);
	ck_assert_int_eq(l.items[0].prep_id, made.prep.id);
	ck_assert_str_eq(l.items[0].at.by, "CD");
	ck_assert_int_eq(l.items[0].portions, 20);
	work_mark_list_fini(&l);
	breakdown_fini(&made);
	/* The step to take back is the breakdown, not its tick. */
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT action = 'prep' FROM audit"
			     " ORDER BY id DESC LIMIT 1"),
	    1);
}
END_TEST

/* A person ticked it already: the breakdown stands all the same. */
START_TEST(ticked_already)
{
	struct work_say s = task();
	struct breakdown_in in = five();
	struct breakdown made;
	struct work_mark_list l;

	s.said = WORK_DONE;
	ck_assert_int_eq(work_mark_say(NULL, k.sn, &s, NULL), RC_OK);
	in.task = &s;
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_OK);
	breakdown_fini(&made);
	ck_assert_int_eq(work_marks_open(&l, k.sn, DINNER, NULL), RC_OK);
	ck_assert_str_eq(l.items[0].at.by, "AB");
	ck_assert_int_eq(l.items[0].prep_id, 0);
	work_mark_list_fini(&l);
}
END_TEST

START_TEST(doubts)
{
	struct breakdown_in in = five();
	struct breakdown made;
	struct err err = { 0 };

	keep();
	in.draft = DRAFT_BREAKDOWN;
	in.makes[0] = (struct make){ "cod-leeks", 5, 800, 1 };
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, &err), RC_REFUSED);
	ck_assert_int_eq(made.doubt, DOUBT_YIELD);
	ck_assert_int_eq(made.yield.observed_bp, 1200);
	ck_assert_int_gt(made.yield.expected_bp, 3000);
	ck_assert_ptr_null(made.portions);
	ck_assert_int_eq(kept(), 1);
	in.yield_ok = true;
	in.minutes = 900;
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(made.doubt, DOUBT_MINUTES);
	ck_assert_int_eq(made.pace.minutes, 900);
	ck_assert_int_gt(made.pace.expected_s, 60);
	ck_assert_int_lt(made.pace.expected_s, 180 * 60);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM prep"), 0);
	in.minutes_ok = true;
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(made.doubt, DOUBT_NOTHING);
	ck_assert_int_eq(kept(), 0);
	breakdown_fini(&made);
	/* What is refused for another reason is no doubt. */
	in.fish = 50;
	ck_assert_int_eq(breakdown_record(&made, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(made.doubt, DOUBT_NOTHING);
}
END_TEST

Suite *
suite_ops_bench(void)
{
	Suite *s = suite_create("ops_bench");
	TCase *tc = tcase_create("bench");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, what_is_there);
	tcase_add_test(tc, not_there);
	tcase_add_test(tc, may_not_be_opened);
	tcase_add_test(tc, live_figures);
	tcase_add_test(tc, with_it);
	tcase_add_test(tc, ticked_already);
	tcase_add_test(tc, doubts);
	suite_add_tcase(s, tc);
	return s;
}
