/*
 * test_core_demand_score.c - the backtest against a plain recount that learns
 * anew for every service.
 */
#include <string.h>

#include "demand_house.h"
#include "unit.h"

static struct house h;

/* A house with some noise and two dishes, the second with prices. */
static void
noisy(int services)
{
	unsigned seed = 7;
	struct demand_sold *s;
	int i, covers;

	house_init(&h, 2, 1200);
	h.dishes[1].price = 13000;
	h.dishes[1].cost = 4000;
	for (i = 0; i < services; i++) {
		seed = seed * 1103515245 + 12345;
		covers = 70 + (int)(seed >> 16) % 60;
		s = house_add(&h, i, covers);
		h.past[i].seated = covers * 93 / 100;
		h.past[i].walk_ins = (int)(seed >> 20) % 20;
		s[0].portions = covers / 10 + (int)(seed >> 18) % 9;
		s[1].portions = covers / 12 + (int)(seed >> 22) % 7;
	}
}

static struct demand_score
score(int sitting, size_t most)
{
	struct demand_score s;
	struct err err = { 0 };

	ck_assert_msg(demand_backtest(&s, &h.record, h.dishes, sitting, most,
			  &err) == RC_OK,
	    "%s", err.text);
	return s;
}

/* Sum of one rule over one service and dish, times 10 000 for pinball. */
static void
count(struct demand_tally *t, int64_t target, int sold, int ratio)
{
	if (sold > target) {
		t->stock_outs++;
		t->short_of += sold - target;
		t->pinball_bp += (sold - target) * ratio;
	} else {
		t->left += target - sold;
		t->pinball_bp += (target - sold) * (BP_ONE - ratio);
	}
}

/* The same from public calls, the record cut off before each service. */
static struct demand_score
recount(size_t from)
{
	struct demand_score s = { 0 };
	struct demand_forecast f;
	struct demand_asked a;
	size_t i, d, all = h.record.past_count;
	int64_t in_range = 0, met = 0, ratio = 0, outs, flat_outs;

	for (i = from; i < all; i++) {
		h.record.past_count = i;
		a = house_ask(h.past[i].day - HOUSE_MONDAY, h.past[i].booked);
		f = house_forecast(&h, &a, 1);
		outs = s.ours.stock_outs;
		flat_outs = s.flat.stock_outs;
		for (d = 0; d < 2; d++) {
			struct demand_line *l = &f.lines[d];
			int y = h.sold[2 * i + d].portions;
			/* x 1.1, rounded up */
			int64_t flat =
			    ((int64_t)a.booked * l->share_bp * 11 + 99999) /
			    100000;

			count(&s.ours, l->target, y, l->ratio_bp);
			count(&s.flat, flat, y, l->ratio_bp);
			in_range += y >= l->low && y <= l->high;
			met += y <= l->target;
			ratio += l->ratio_bp;
			s.dish_services++;
		}
		s.services++;
		s.ours.with_any += s.ours.stock_outs > outs;
		s.flat.with_any += s.flat.stock_outs > flat_outs;
		demand_forecast_fini(&f);
	}
	h.record.past_count = all;
	if (s.flat.pinball_bp > 0)
		s.skill_bp = (int)(BP_ONE -
		    s.ours.pinball_bp * BP_ONE / s.flat.pinball_bp);
	s.ours.pinball_bp /= s.dish_services;
	s.flat.pinball_bp /= s.dish_services;
	s.in_range_bp = (int)(in_range * BP_ONE / s.dish_services);
	s.met_bp = (int)(met * BP_ONE / s.dish_services);
	s.ratio_bp = (int)(ratio / s.dish_services);
	s.enough = s.services >= 20;
	return s;
}

static void
check_tally(const struct demand_tally *x, const struct demand_tally *y)
{
	ck_assert_int_eq(x->pinball_bp, y->pinball_bp);
	ck_assert_int_eq(x->stock_outs, y->stock_outs);
	ck_assert_int_eq(x->with_any, y->with_any);
	ck_assert_int_eq(x->short_of, y->short_of);
	ck_assert_int_eq(x->left, y->left);
}

START_TEST(test_recount)
{
	static const size_t most[] = { 1000, 60, 25, 1 };
	struct demand_score x, y;

	noisy(60);
	x = score(_i % 2 == 0 ? DEMAND_UNKNOWN : 0, most[_i]);
	y = recount(most[_i] > 60 ? 0 : 60 - most[_i]);
	check_tally(&x.ours, &y.ours);
	check_tally(&x.flat, &y.flat);
	ck_assert_int_eq(x.services, y.services);
	ck_assert_int_eq(x.dish_services, y.dish_services);
	ck_assert_int_eq(x.left_out, 0);
	ck_assert_int_eq(x.in_range_bp, y.in_range_bp);
	ck_assert_int_eq(x.met_bp, y.met_bp);
	ck_assert_int_eq(x.ratio_bp, y.ratio_bp);
	ck_assert_int_eq(x.skill_bp, y.skill_bp);
	ck_assert(x.enough == y.enough);
	ck_assert_int_gt(y.ours.stock_outs + y.ours.left, 0);
}
END_TEST

/*
 * By hand: nothing learned yet, 100 booked, a dish at 10 %.  The rule of thumb
 * has 110 x 0.1 = 11.  14 are asked for: 3 short, at the ratio .8 2.4 portions
 * of pinball loss.
 */
START_TEST(test_by_hand)
{
	struct demand_score s;
	struct demand_line l;
	struct demand_asked a = house_ask(0, 100);
	struct demand_forecast f;

	house_init(&h, 1, 1000);
	f = house_forecast(&h, &a, 1);
	l = f.lines[0];
	demand_forecast_fini(&f);
	house_add(&h, 0, 100)->portions = 14;
	s = score(0, 10);
	ck_assert_int_eq(s.services, 1);
	ck_assert_int_eq(s.flat.stock_outs, 1);
	ck_assert_int_eq(s.flat.with_any, 1);
	ck_assert_int_eq(s.flat.short_of, 3);
	ck_assert_int_eq(s.flat.left, 0);
	ck_assert_int_eq(s.flat.pinball_bp, 24000);
	ck_assert_int_ge(l.target, 14);
	ck_assert_int_eq(s.ours.left, l.target - 14);
	ck_assert_int_eq(s.ours.pinball_bp, (l.target - 14) * 2000);
	ck_assert_int_eq(
	    s.skill_bp, 10000 - (l.target - 14) * 2000 * 10000 / 24000);
	ck_assert_int_eq(s.in_range_bp, 10000);
	ck_assert_int_eq(s.met_bp, 10000);
	ck_assert_int_eq(s.ratio_bp, 8000);
}
END_TEST

START_TEST(test_enough)
{
	noisy(DEMAND_ENOUGH);
	ck_assert(!score(0, DEMAND_ENOUGH - 1).enough);
	ck_assert(score(0, DEMAND_ENOUGH).enough);
	noisy(DEMAND_ENOUGH - 1);
	ck_assert(!score(0, 1000).enough);
	noisy(0);
	ck_assert_int_eq(score(0, 1000).services, 0);
	ck_assert(!score(0, 1000).enough);
	ck_assert_int_eq(score(0, 1000).skill_bp, 0);
}
END_TEST

/* What ran out, was not on the menu or had nobody booked is not compared. */
START_TEST(test_left_out)
{
	struct demand_score s;

	noisy(30);
	h.sold[2 * 10].ran_out_at = 40;
	h.sold[2 * 11].ran_out_at = DEMAND_RAN_OUT;
	h.sold[2 * 12].portions = DEMAND_UNKNOWN;
	h.past[13].booked = DEMAND_UNKNOWN;
	h.past[14].booked = 0;
	h.sold[2 * 15].ran_out_at = h.sold[2 * 15 + 1].ran_out_at = 9;
	s = score(0, 1000);
	ck_assert_int_eq(s.services, 27);
	ck_assert_int_eq(s.dish_services, 27 * 2 - 3);
	ck_assert_int_eq(s.left_out, 4);
	ck_assert_int_eq(score(1, 1000).services, 0);
}
END_TEST

/* What a service sold changes nothing about the services before it. */
START_TEST(test_no_foresight)
{
	struct demand_score x, y;
	int64_t before, after;

	noisy(40);
	x = score(0, 1000);
	h.record.past_count = 39;
	y = score(0, 1000);
	before = x.ours.left + x.ours.short_of;
	h.record.past_count = 40;
	h.sold[2 * 39].portions = h.sold[2 * 39 + 1].portions = 500;
	x = score(0, 1000);
	after = x.ours.left + x.ours.short_of;
	ck_assert_int_ne(before, after);
	h.record.past_count = 39;
	x = score(0, 1000);
	check_tally(&x.ours, &y.ours);
}
END_TEST

START_TEST(test_score_refused)
{
	struct demand_score s;
	struct err err = { 0 };

	noisy(30);
	h.dishes[0].life = 0;
	ck_assert_int_eq(
	    demand_backtest(&s, &h.record, h.dishes, 0, 100, &err), RC_INVALID);
	err_clear(&err);
	h.dishes[0].life = 1;
	h.past[3].day = h.past[5].day;
	ck_assert_int_eq(
	    demand_backtest(&s, &h.record, h.dishes, 0, 100, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "past service 5"));
}
END_TEST

Suite *
suite_core_demand_score(void)
{
	Suite *s = suite_create("core_demand_score");
	TCase *tc = tcase_create("score");

	tcase_add_loop_test(tc, test_recount, 0, 4);
	tcase_add_test(tc, test_by_hand);
	tcase_add_test(tc, test_enough);
	tcase_add_test(tc, test_left_out);
	tcase_add_test(tc, test_no_foresight);
	tcase_add_test(tc, test_score_refused);
	suite_add_tcase(s, tc);
	return s;
}
