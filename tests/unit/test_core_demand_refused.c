/* test_core_demand_refused.c - absurd input, and the largest allowed. */
#include <limits.h>
#include <string.h>

#include "demand_house.h"
#include "unit.h"

static struct house h;

static struct demand_asked asked;
static struct demand_wish wish;
static int parties[2];

static void
bad_booked(void)
{
	asked.booked = -1;
}
static void
bad_many(void)
{
	asked.booked = DEMAND_COVERS_MAX + 1;
}
static void
bad_typed(void)
{
	asked.typed = -2;
}
static void
bad_day(void)
{
	asked.day = DAY_NONE;
}
static void
bad_sitting(void)
{
	asked.sitting = DEMAND_SITTINGS_MAX;
}
static void
bad_factor(void)
{
	asked.party_factor_c = 99;
}
static void
bad_party_sum(void)
{
	asked.booked = 7;
}
static void
bad_party(void)
{
	parties[0] = 0;
	parties[1] = 6;
}
static void
bad_wish(void)
{
	wish.floor = 9;
	wish.ceiling = 8;
}
static void
bad_fixed(void)
{
	wish.fixed = INT_MAX;
}
static void
bad_price(void)
{
	h.dishes[1].price = -2;
}
static void
bad_cost(void)
{
	h.dishes[1].cost = INT64_MAX;
}
static void
bad_salvage(void)
{
	h.dishes[1].cost = 5;
	h.dishes[1].salvage = 6;
}
static void
bad_goodwill(void)
{
	h.dishes[1].goodwill = -1;
}
static void
bad_carry(void)
{
	h.dishes[1].carry = -1;
}
static void
bad_regain(void)
{
	h.dishes[1].regain_bp = 10001;
}
static void
bad_life(void)
{
	h.dishes[1].life = 0;
}
static void
bad_order(void)
{
	h.past[1].day = h.past[0].day - 1;
}
static void
bad_twice(void)
{
	h.past[1].day = h.past[0].day;
}
static void
bad_past_day(void)
{
	h.past[1].day = -5;
}
static void
bad_past_sitting(void)
{
	h.past[1].sitting = -1;
}
static void
bad_past_booked(void)
{
	h.past[1].booked = INT_MAX;
}
static void
bad_past_seated(void)
{
	h.past[1].seated = -2;
}
static void
bad_past_walk(void)
{
	h.past[1].walk_ins = 2001;
}
static void
bad_past_covers(void)
{
	h.past[1].covers = INT_MIN;
}
static void
bad_past_factor(void)
{
	h.past[1].party_factor_c = 1;
}
static void
bad_sold(void)
{
	h.sold[3].portions = 4001;
}
static void
bad_out(void)
{
	h.sold[3].ran_out_at = -3;
}
static void
bad_share(void)
{
	h.share_bp[1] = 10001;
}
static void
bad_dishes(void)
{
	h.record.dish_count = 65;
}
static void
bad_past(void)
{
	h.record.past_count = 20001;
}

/* clang-format off */
static const struct {
	void (*spoil)(void);
	const char *text; /* in the message */
} refused[] = {
	{ bad_booked, "service 1: -1 booked" },
	{ bad_many, "service 1: 2001 booked" },
	{ bad_typed, "service 1: -2 covers" },
	{ bad_day, "service 1: no such day" },
	{ bad_sitting, "service 1: no such day or sitting" },
	{ bad_factor, "service 1: party factor 99" },
	{ bad_party_sum, "service 1: parties do not add up to 7" },
	{ bad_party, "service 1: a party of 0" },
	{ bad_wish, "service 1, dish 1: floor 9 is above ceiling 8" },
	{ bad_fixed, "service 1, dish 1: portions wished for" },
	{ bad_price, "dish 2: price -2" },
	{ bad_cost, "dish 2: cost" },
	{ bad_salvage, "dish 2: salvage 6 is above cost 5" },
	{ bad_goodwill, "dish 2: goodwill -1" },
	{ bad_carry, "dish 2: carry -1" },
	{ bad_regain, "dish 2: won back 10001" },
	{ bad_life, "dish 2: life of 0" },
	{ bad_order, "past service 2 is before" },
	{ bad_twice, "past service 2 is the same as 1" },
	{ bad_past_day, "past service 2: no such day" },
	{ bad_past_sitting, "past service 2: no such day or sitting" },
	{ bad_past_booked, "past service 2: a count of guests" },
	{ bad_past_seated, "past service 2: a count of guests" },
	{ bad_past_walk, "past service 2: a count of guests" },
	{ bad_past_covers, "past service 2: a count of guests" },
	{ bad_past_factor, "past service 2: party factor 1" },
	{ bad_sold, "past service 2, dish 2: 4001 sold" },
	{ bad_out, "past service 2, dish 2: 9 sold, out at -3" },
	{ bad_share, "dish 2: share 10001" },
	{ bad_dishes, "65 dishes" },
	{ bad_past, "20001 past services" },
};
/* clang-format on */

static void
sound(void)
{
	size_t i;

	house_init(&h, 2, 1000);
	for (i = 0; i < 2; i++)
		house_add(&h, (int)i, 90)[1].portions = 9;
	asked = house_ask(4, 6);
	wish.fixed = wish.floor = wish.ceiling = DEMAND_UNKNOWN;
	parties[0] = 2;
	parties[1] = 4;
	asked.parties = parties;
	asked.party_count = 2;
}

static enum rc
try(struct err *err)
{
	struct demand_wish wishes[2] = { wish, { -1, -1, -1 } };
	struct demand_model *m;
	struct demand_forecast f;
	enum rc rc;

	asked.wishes = wishes;
	if ((rc = demand_learn(&m, &h.record, err)) != RC_OK) {
		ck_assert_ptr_null(m);
		return rc;
	}
	rc = demand_forecast(&f, m, &asked, 1, h.dishes, err);
	if (rc != RC_OK)
		ck_assert_ptr_null(f.lines);
	demand_forecast_fini(&f);
	demand_free(m);
	return rc;
}

START_TEST(test_refused)
{
	struct err err = { 0 };

	sound();
	ck_assert_msg(try(&err) == RC_OK, "%s", err.text);
	refused[_i].spoil();
	ck_assert_int_eq(try(&err), RC_INVALID);
	ck_assert_msg(strstr(err.text, refused[_i].text) != NULL,
	    "\"%s\" lacks \"%s\"", err.text, refused[_i].text);
}
END_TEST

START_TEST(test_too_many_asked)
{
	struct demand_asked many[DEMAND_ASKED_MAX + 1];
	struct demand_model *m;
	struct demand_forecast f;
	struct err err = { 0 };
	size_t i;

	house_init(&h, 1, 1000);
	for (i = 0; i < NELEM(many); i++)
		many[i] = house_ask((int)i, 50);
	f = house_forecast(&h, many, DEMAND_ASKED_MAX);
	demand_forecast_fini(&f);
	ck_assert_int_eq(demand_learn(&m, &h.record, &err), RC_OK);
	ck_assert_int_eq(
	    demand_forecast(&f, m, many, NELEM(many), h.dishes, &err),
	    RC_INVALID);
	demand_free(m);
	demand_free(NULL);
}
END_TEST

/* The largest numbers allowed give an answer. */
START_TEST(test_largest)
{
	struct demand_asked a = house_ask(9, DEMAND_COVERS_MAX);
	struct demand_forecast f;
	int i;

	house_init(&h, 1, 10000);
	for (i = 0; i < 4; i++) {
		house_add(&h, i, DEMAND_COVERS_MAX)->portions =
		    2 * DEMAND_COVERS_MAX;
		h.past[i].walk_ins = DEMAND_COVERS_MAX;
	}
	h.dishes[0].cost = 1;
	h.dishes[0].price = DEMAND_MONEY_MAX;
	h.dishes[0].goodwill = DEMAND_MONEY_MAX;
	f = house_forecast(&h, &a, 1);
	ck_assert_int_eq(f.lines[0].ratio_bp, DEMAND_RATIO_MAX_BP);
	ck_assert_int_gt(f.lines[0].target, 2000);
	ck_assert_int_le(f.lines[0].out_bp, 10);
	demand_forecast_fini(&f);
}
END_TEST

Suite *
suite_core_demand_refused(void)
{
	Suite *s = suite_create("core_demand_refused");
	TCase *tc = tcase_create("refused");

	tcase_add_loop_test(tc, test_refused, 0, NELEM(refused));
	tcase_add_test(tc, test_too_many_asked);
	tcase_add_test(tc, test_largest);
	suite_add_tcase(s, tc);
	return s;
}
