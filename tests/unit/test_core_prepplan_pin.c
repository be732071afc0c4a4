/*
 * test_core_prepplan_pin.c - what the chef said about fish, pieces on the
 * board, first expired first, and what money leaves closed.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "plan_rig.h"

static struct rig k;

static void
setup(void)
{
	rig_open_hake(&k);
}

static void
teardown(void)
{
	rig_close(&k);
}

/* --- pins ------------------------------------------------------------------*/

START_TEST(pin_batch_first)
{
	struct plan_batch *soon = rig_fish(&k, "1", "HKE", 2, 1000);
	struct plan_batch *late = rig_fish(&k, "2", "HKE", 2, 1000);

	rig_ends(soon, 1);
	late->pin = _i == 0 ? PLAN_FREE : PLAN_FIRST;
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 4);
	rig_plan(&k);
	ck_assert_int_eq(soon->count, _i == 0 ? 1 : 2);
	/* One fish does: being first opens no second. */
	ck_assert_int_eq(late->count, _i == 0 ? 2 : 1);
	ck_assert_uint_eq(k.plan.opened_count, 1);
}
END_TEST

START_TEST(pin_fish)
{
	struct plan_batch *b = rig_fish(&k, "1", "HKE", 3, 1000);

	b->fish_pin[_i] = PLAN_FIRST;
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 4);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.opened_count, 1);
	ck_assert_int_eq(k.plan.opened[0].number, _i + 1);
	ck_assert_int_eq(b->count, 2);
	ck_assert_int_eq(b->fish_number[0], _i == 0 ? 2 : 1);
	ck_assert_int_eq(b->fish_pin[0], PLAN_FREE);
}
END_TEST

/* First, but it fits nothing: it stays closed. */
START_TEST(pin_fits_nothing)
{
	struct plan_batch *b = rig_fish(&k, "1", "HKE", 2, 100);

	rig_fish(&k, "2", "HKE", 1, 1000);
	b->fish_pin[0] = PLAN_FIRST;
	if (_i == 1)
		b->presentation = PRES_LOIN; /* no yield from it */
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 4);
	rig_plan(&k);
	ck_assert_int_eq(b->count, 2);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 4);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 0);
}
END_TEST

/* The fish that would go first is left; its reason is the chef's word. */
START_TEST(pin_leave)
{
	struct plan_batch *soon = rig_fish(&k, "1", "HKE", 2, 1000);

	rig_ends(soon, 1);
	rig_fish(&k, "2", "HKE", 1, 1000);
	if (_i == 0)
		soon->pin = PLAN_LEAVE;
	else
		soon->fish_pin[0] = soon->fish_pin[1] = PLAN_LEAVE;
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 6);
	rig_plan(&k);
	ck_assert_int_eq(soon->count, 2);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->reason, PLAN_LEFT);
	ck_assert(!rig_line(&k, "dish")->by_choice);
	ck_assert_uint_eq(k.plan.inversion_count, 1);
	ck_assert_str_eq(k.plan.inversions[0].later, "2");
	ck_assert_str_eq(k.plan.inversions[0].earlier, "1");
	ck_assert_int_eq(k.plan.inversions[0].reason, STOCK_LEFT);
}
END_TEST

/* Pieces of just the low weight would do: it is the chef who leaves them. */
START_TEST(pin_leave_low)
{
	rig_fish(&k, "1", "HKE", 1, 500)->pin = PLAN_LEAVE;
	rig_hake(&k, "dish", CUT_SUPREME, true, 120 + _i, 125, 130, 2);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->reason,
	    _i == 0 ? PLAN_LEFT : PLAN_TOO_SMALL);
}
END_TEST

/* Served whole, and no more of them than guests asked for. */
START_TEST(pin_whole)
{
	struct plan_batch *b = rig_fish(&k, "1", "HKE", 4, 450);
	size_t i;

	if (_i == 0)
		b->pin = PLAN_SERVE_WHOLE;
	else
		b->fish_pin[1] = b->fish_pin[3] = PLAN_SERVE_WHOLE;
	rig_hake(&k, "whole", CUT_WHOLE, true, 400, 400, 410, 2);
	rig_hake(&k, "dish", CUT_SUPREME, true, 100, 105, 120, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "whole")->to_make, 2);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, _i == 0 ? 0 : 4);
	for (i = 0; _i == 1 && i < k.plan.opened_count; i++)
		ck_assert_int_eq(k.plan.opened[i].whole_line >= 0,
		    k.plan.opened[i].number % 2 == 0);
}
END_TEST

/* To be served whole, but no dish takes it whole: it may be filleted. */
START_TEST(pin_whole_fits_none)
{
	rig_fish(&k, "1", "HKE", 1, 1000)->pin = PLAN_SERVE_WHOLE;
	rig_hake(&k, "whole", CUT_WHOLE, true, 400, 400, 410, 2);
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
}
END_TEST

/* --- pieces on the board ---------------------------------------------------*/

/* Two pieces weigh 250 and 200 g: two of 120 and one; no more fish opened. */
START_TEST(board_pieces)
{
	struct plan_batch *b = rig_fish(&k, "B", "HKE", 2, 1000);
	size_t i, on_board = 0;

	rig_board(b, 2, (grams[]){ 250, 200 });
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 125, 3);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 3);
	ck_assert_int_eq(b->count, 2);
	ck_assert_uint_eq(b->board_count, 0);
	for (i = 0; i < k.plan.opened_count; i++)
		on_board += k.plan.opened[i].on_board;
	ck_assert_uint_eq(on_board, 2);
	ck_assert_uint_eq(k.plan.opened_count, 2);
	ck_assert_int_eq(k.plan.opened_g, 0);
	ck_assert(!rig_take(&k, "dish", "B")->estimated);
}
END_TEST

/* A piece too small for anything is on the board all the same, and no fish. */
START_TEST(board_scrap)
{
	struct plan_batch *b = rig_fish(&k, "B", "HKE", 2, 1000);
	size_t i, on_board = 0;

	rig_ends(b, 0);
	rig_board(b, 1, (grams[]){ 60 });
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 125, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	for (i = 0; i < k.plan.opened_count; i++)
		on_board += k.plan.opened[i].on_board;
	ck_assert_uint_eq(on_board, 1);
	ck_assert_int_eq(b->count, 1);
	ck_assert_int_eq(b->weight_g, 1000);
}
END_TEST

/* A piece is weighed before it is finished: of 250 g at 80 % there are 200. */
START_TEST(board_finished)
{
	struct plan_batch *b = rig_batch(&k, "B", "HKE", PRES_WHOLE, 1, 100);

	rig_board(b, 1, (grams[]){ 250 });
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 200, 2)->finish_bp =
	    8000;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 1);
}
END_TEST

/* A fillet left whole at lunch is what dinner begins with, at its own weight.
 */
START_TEST(board_next_service)
{
	struct plan_batch *b = rig_fish(&k, "B", "HKE", 3, 1000);

	rig_hake(&k, "lunch", CUT_FILLET, true, 200, 200, 240, 1)->finish_bp =
	    9000;
	rig_dish(&k, 1,
	    &(struct rig_dish){
		"dinner", "HKE", CUT_SUPREME, true, 120, 120, 120, 2 });
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.opened_count, 1);
	ck_assert(k.plan.opened[0].on_board);
	/* 240 g, but for what rounding takes on the way. */
	ck_assert_int_ge(k.plan.opened[0].weight_g, 239);
	ck_assert_int_le(k.plan.opened[0].weight_g, 240);
	ck_assert_int_eq(b->count, 2);
}
END_TEST

/* --- first expired, money, reasons -----------------------------------------*/

/* Size forces the later batch: said with its reason. */
START_TEST(inversion_size)
{
	struct plan_batch *soon = rig_fish(&k, "1", "HKE", 2, 400);

	rig_ends(soon, 1);
	rig_fish(&k, "2", "HKE", 2, 1000);
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->reason, PLAN_TOO_SMALL);
	ck_assert_uint_eq(k.plan.inversion_count, 1);
	ck_assert_str_eq(k.plan.inversions[0].earlier, "1");
	ck_assert_int_eq(k.plan.inversions[0].reason, STOCK_SIZE);
}
END_TEST

START_TEST(inversion_held)
{
	struct plan_batch *soon = rig_fish(&k, "1", "HKE", 2, 1000);

	rig_ends(soon, 1);
	soon->held = true;
	rig_fish(&k, "2", "HKE", 2, 1000);
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 120, 4);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.inversion_count, 1);
	ck_assert_int_eq(k.plan.inversions[0].reason, STOCK_HELD);
}
END_TEST

/*
 * Two days left against one: the later fish is smaller and does, so money
 * opens it; strictly, the earlier goes first.
 * 1000 g x 50 % against 520 g x 80 %.
 */
START_TEST(strict)
{
	struct plan_batch *soon = rig_fish(&k, "1", "HKE", 1, 1000);
	struct plan_batch *late = rig_fish(&k, "2", "HKE", 1, 520);

	rig_ends(soon, 1);
	rig_ends(late, 2);
	k.problem.strict = _i == 1;
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 121, 1);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.opened_count, 1);
	ck_assert_str_eq(k.plan.opened[0].batch, _i == 1 ? "1" : "2");
	ck_assert_uint_eq(k.plan.inversion_count, _i == 1 ? 0 : 1);
	if (_i == 0)
		ck_assert_int_eq(k.plan.inversions[0].reason, STOCK_COST);
}
END_TEST

/*
 * A fish of 30.00 for one portion sold at 12.00: it stays closed by choice.
 * Without a price it is opened.
 */
START_TEST(short_by_choice)
{
	struct plan_cut *c;

	rig_fish(&k, "B", "HKE", 1, 3000)->price = 1000;
	c = rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 121, 1);
	c->price = _i == 0 ? 1200 : -1;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, _i == 0 ? 1 : 0);
	ck_assert(rig_line(&k, "dish")->by_choice == (_i == 0));
	if (_i == 0)
		ck_assert_int_eq(
		    rig_take(&k, "dish", "B")->reason, PLAN_NOT_NEEDED);
}
END_TEST

/* Short because the fish left are too small is nobody's choice. */
START_TEST(short_by_size)
{
	grams g[2] = { 1000, 300 };
	struct plan_batch *b = rig_batch(&k, "B", "HKE", PRES_WHOLE, 2, 0);

	rig_weigh(b, g);
	rig_hake(&k, "dish", CUT_SUPREME, true, 120, 120, 121, 9);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	ck_assert(!rig_line(&k, "dish")->by_choice);
}
END_TEST

/* Strict and unpriced: cut under target or not, what stock can serve it does.
 */
START_TEST(strict_unpriced)
{
	rig_fish(&k, "B", "HKE", 1, 1000);
	k.problem.strict = true;
	rig_hake(&k, "dish", CUT_SUPREME, true, 50, 240, 240, 8);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 8);
}
END_TEST

Suite *
suite_core_prepplan_pin(void)
{
	Suite *s = suite_create("core_prepplan_pin");
	TCase *tc = tcase_create("pin");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, pin_batch_first, 0, 2);
	tcase_add_loop_test(tc, pin_fish, 0, 3);
	tcase_add_loop_test(tc, pin_fits_nothing, 0, 2);
	tcase_add_loop_test(tc, pin_leave, 0, 2);
	tcase_add_loop_test(tc, pin_leave_low, 0, 2);
	tcase_add_loop_test(tc, pin_whole, 0, 2);
	tcase_add_test(tc, pin_whole_fits_none);
	tcase_add_test(tc, board_pieces);
	tcase_add_test(tc, board_scrap);
	tcase_add_test(tc, board_finished);
	tcase_add_test(tc, board_next_service);
	tcase_add_test(tc, inversion_size);
	tcase_add_test(tc, inversion_held);
	tcase_add_loop_test(tc, strict, 0, 2);
	tcase_add_loop_test(tc, short_by_choice, 0, 2);
	tcase_add_test(tc, short_by_size);
	tcase_add_test(tc, strict_unpriced);
	suite_add_tcase(s, tc);
	return s;
}
