/*
 * test_core_stock.c - who may serve what, what opening a fish costs, and why
 * an earlier batch stayed closed.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "core/stock.h"
#include "useby_facts.h"

/* A service from 18:00 to 22:00 of some day, asked about at 6:00. */
#define NOW INT64_C(1800000000)
#define START (NOW + 12 * 3600)
#define END (NOW + 16 * 3600)

static const struct stock_lot good_lot = { FACT_NO, FACT_NO, FACT_NO, FACT_YES,
	END + 86400, FACT_YES, FACT_NO, 0, 0 };
static const struct stock_lot frozen_lot = { FACT_NO, FACT_NO, FACT_NO,
	FACT_YES, END + 86400, FACT_YES, FACT_YES, 12, END };
static const struct stock_ask good_ask = { NOW, START, END, FACT_YES, FACT_YES,
	FACT_YES };

/* --- eligibility: one fact changed -----------------------------------------*/

enum field {
	LOT_RECALLED,
	LOT_REFUSED,
	LOT_HELD,
	LOT_TEMPERATURE,
	LOT_PARASITES,
	LOT_FROZEN,
	LOT_USE_BY,
	LOT_THAW_HOURS,
	LOT_THAWED_USE_BY,
	ASK_NOW,
	ASK_START,
	ASK_END,
	ASK_RAW,
	ASK_SPECIES,
	ASK_CUT,
};

static void
set_field(struct stock_lot *lot, struct stock_ask *ask, enum field f, int64_t v)
{
	enum stock_fact *facts[] = {
		[LOT_RECALLED] = &lot->recalled,
		[LOT_REFUSED] = &lot->refused,
		[LOT_HELD] = &lot->held,
		[LOT_TEMPERATURE] = &lot->temperature_ok,
		[LOT_PARASITES] = &lot->parasites_ok,
		[LOT_FROZEN] = &lot->frozen,
		[ASK_RAW] = &ask->served_raw,
		[ASK_SPECIES] = &ask->species_fit,
		[ASK_CUT] = &ask->cut_fit,
	};
	int64_t *numbers[] = {
		[LOT_USE_BY] = &lot->use_by_utc,
		[LOT_THAW_HOURS] = &lot->thaw_hours,
		[LOT_THAWED_USE_BY] = &lot->thawed_use_by_utc,
		[ASK_NOW] = &ask->now_utc,
		[ASK_START] = &ask->start_utc,
		[ASK_END] = &ask->end_utc,
	};

	if (f < NELEM(facts) && facts[f] != NULL)
		*facts[f] = (enum stock_fact)v;
	else
		*numbers[f] = v;
}

static const struct {
	const char *why;
	const struct stock_lot *lot;
	enum field field;
	int64_t value;
	enum stock_reason want;
} alone[] = {
	{ "all in order", &good_lot, LOT_HELD, FACT_NO, STOCK_USABLE },
	{ "frozen, all in order", &frozen_lot, LOT_HELD, FACT_NO,
	    STOCK_USABLE },
	{ "recalled", &good_lot, LOT_RECALLED, FACT_YES, STOCK_RECALLED },
	{ "recall unknown", &good_lot, LOT_RECALLED, FACT_UNKNOWN,
	    STOCK_UNRELEASED },
	{ "refused", &good_lot, LOT_REFUSED, FACT_YES, STOCK_REFUSED },
	{ "refusal unknown", &good_lot, LOT_REFUSED, FACT_UNKNOWN,
	    STOCK_UNRELEASED },
	{ "held", &good_lot, LOT_HELD, FACT_YES, STOCK_HELD },
	{ "hold unknown", &good_lot, LOT_HELD, FACT_UNKNOWN, STOCK_UNRELEASED },
	{ "too warm", &good_lot, LOT_TEMPERATURE, FACT_NO, STOCK_WARM },
	{ "temperature unknown", &good_lot, LOT_TEMPERATURE, FACT_UNKNOWN,
	    STOCK_WARM },
	{ "to the very second", &good_lot, LOT_USE_BY, END, STOCK_USABLE },
	{ "one second short", &good_lot, LOT_USE_BY, END - 1, STOCK_EXPIRED },
	{ "in date at the start only", &good_lot, LOT_USE_BY, START,
	    STOCK_EXPIRED },
	{ "no use-by", &good_lot, LOT_USE_BY, 0, STOCK_UNDATED },
	{ "use-by below 0", &good_lot, LOT_USE_BY, -5, STOCK_UNDATED },
	{ "raw without a freeze record", &good_lot, LOT_PARASITES, FACT_NO,
	    STOCK_PARASITES },
	{ "raw, freeze record unknown", &good_lot, LOT_PARASITES, FACT_UNKNOWN,
	    STOCK_PARASITES },
	{ "state unknown: taken as frozen, with no thawing time", &good_lot,
	    LOT_FROZEN, FACT_UNKNOWN, STOCK_FROZEN },
	{ "not frozen after all", &frozen_lot, LOT_FROZEN, FACT_NO,
	    STOCK_USABLE },
	{ "thaws an hour too long", &frozen_lot, LOT_THAW_HOURS, 13,
	    STOCK_FROZEN },
	{ "thaws for ever", &frozen_lot, LOT_THAW_HOURS, INT64_MAX,
	    STOCK_FROZEN },
	{ "thawing time unknown", &frozen_lot, LOT_THAW_HOURS, 0,
	    STOCK_FROZEN },
	{ "thawing time below 0", &frozen_lot, LOT_THAW_HOURS, -1,
	    STOCK_FROZEN },
	{ "asked a second later", &frozen_lot, ASK_NOW, NOW + 1, STOCK_FROZEN },
	{ "asked a second earlier", &frozen_lot, ASK_NOW, NOW - 1,
	    STOCK_USABLE },
	{ "asked in the middle of the service", &frozen_lot, ASK_NOW, START + 1,
	    STOCK_FROZEN },
	{ "time unknown", &frozen_lot, ASK_NOW, 0, STOCK_FROZEN },
	{ "time does not matter when not frozen", &good_lot, ASK_NOW, 0,
	    STOCK_USABLE },
	{ "thawed it is good a second short", &frozen_lot, LOT_THAWED_USE_BY,
	    END - 1, STOCK_THAWED },
	{ "thawed date unknown", &frozen_lot, LOT_THAWED_USE_BY, 0,
	    STOCK_THAWED },
	{ "the frozen date counts too", &frozen_lot, LOT_USE_BY, END - 1,
	    STOCK_EXPIRED },
	{ "no start", &good_lot, ASK_START, 0, STOCK_UNTIMED },
	{ "no end", &good_lot, ASK_END, 0, STOCK_UNTIMED },
	{ "ends before it starts", &good_lot, ASK_END, START - 1,
	    STOCK_UNTIMED },
	{ "another species", &good_lot, ASK_SPECIES, FACT_NO, STOCK_SPECIES },
	{ "species unknown", &good_lot, ASK_SPECIES, FACT_UNKNOWN,
	    STOCK_SPECIES },
	{ "another cut", &good_lot, ASK_CUT, FACT_NO, STOCK_FORM },
	{ "cut unknown", &good_lot, ASK_CUT, FACT_UNKNOWN, STOCK_FORM },
};

START_TEST(alone_rows)
{
	struct stock_lot lot = *alone[_i].lot;
	struct stock_ask ask = good_ask;
	enum stock_reason got;
	bool usable;

	set_field(&lot, &ask, alone[_i].field, alone[_i].value);
	usable = stock_usable(&got, &lot, &ask);
	ck_assert_msg(got == alone[_i].want, "%s: %s", alone[_i].why,
	    stock_reason_word(got));
	ck_assert_int_eq(usable, got == STOCK_USABLE);
	if (alone[_i].want == STOCK_USABLE)
		ck_assert_uint_eq(stock_reasons(&lot, &ask), 0);
	else
		ck_assert(stock_reasons(&lot, &ask) & (1u << alone[_i].want));
}
END_TEST

START_TEST(cooked_needs_no_freeze_record)
{
	struct stock_lot lot = good_lot;
	struct stock_ask ask = good_ask;
	enum stock_reason r;

	lot.parasites_ok = FACT_UNKNOWN;
	ask.served_raw = FACT_NO;
	ck_assert(stock_usable(&r, &lot, &ask));
	ask.served_raw = FACT_UNKNOWN;
	ck_assert(!stock_usable(&r, &lot, &ask));
	ck_assert_int_eq(r, STOCK_PARASITES);
}
END_TEST

/* One way to bring about each reason, the gravest first. */
static const struct {
	enum stock_reason reason;
	enum field field;
	int64_t value;
} causes[] = {
	{ STOCK_RECALLED, LOT_RECALLED, FACT_YES },
	{ STOCK_REFUSED, LOT_REFUSED, FACT_YES },
	{ STOCK_HELD, LOT_HELD, FACT_YES },
	{ STOCK_WARM, LOT_TEMPERATURE, FACT_NO },
	{ STOCK_EXPIRED, LOT_USE_BY, END - 1 },
	{ STOCK_PARASITES, LOT_PARASITES, FACT_NO },
	{ STOCK_FROZEN, LOT_THAW_HOURS, 13 },
	{ STOCK_THAWED, LOT_THAWED_USE_BY, END - 1 },
	{ STOCK_SPECIES, ASK_SPECIES, FACT_NO },
	{ STOCK_FORM, ASK_CUT, FACT_NO },
};

/* Every set of causes: the set comes back, and its gravest is reported. */
START_TEST(combined)
{
	struct stock_lot lot;
	struct stock_ask ask;
	enum stock_reason r, gravest;
	uint32_t want;
	unsigned set;
	size_t i;

	for (set = 0; set < 1u << NELEM(causes); set++) {
		lot = frozen_lot;
		ask = good_ask;
		want = 0;
		gravest = STOCK_USABLE;
		for (i = NELEM(causes); i-- > 0;) {
			if ((set & (1u << i)) == 0)
				continue;
			set_field(&lot, &ask, causes[i].field, causes[i].value);
			want |= UINT32_C(1) << causes[i].reason;
			gravest = causes[i].reason;
		}
		ck_assert_uint_eq(stock_reasons(&lot, &ask), want);
		ck_assert_int_eq(stock_usable(&r, &lot, &ask), set == 0);
		ck_assert_int_eq(r, gravest);
	}
}
END_TEST

START_TEST(nothing_known_serves_nothing)
{
	struct stock_lot lot;
	struct stock_ask ask;
	enum stock_reason r;

	memset(&lot, 0, sizeof(lot));
	memset(&ask, 0, sizeof(ask));
	ck_assert(!stock_usable(&r, &lot, &ask));
	ck_assert_int_eq(r, STOCK_UNRELEASED);
	ck_assert(!stock_usable(&r, &lot, &good_ask));
	ck_assert(!stock_usable(&r, &good_lot, &ask));
}
END_TEST

START_TEST(every_reason_has_its_words)
{
	enum stock_reason r, q;

	for (r = STOCK_RECALLED; r <= STOCK_USABLE; r++) {
		const char *word = stock_reason_word(r);
		const char *text = stock_reason_text(r);

		ck_assert_ptr_null(strchr(word, ' '));
		ck_assert(strlen(text) > 10 && text[strlen(text) - 1] != '.');
		for (q = STOCK_RECALLED; q < r; q++) {
			ck_assert_str_ne(word, stock_reason_word(q));
			ck_assert_str_ne(text, stock_reason_text(q));
		}
	}
}
END_TEST

/* --- what opening costs ----------------------------------------------------*/

#define DAY 20800

/* Thousandths of a coin; days left as use_by - DAY. */
static const struct {
	const char *why;
	const struct stock_rho *rho;
	int64_t price;
	grams weight;
	int days;
	int64_t cost;
} costs[] = {
	{ "1200 x 1500 x 5 %", &stock_rho_plain, 1200, 1500, 0, 90000 },
	{ "50 % and one coin", &stock_rho_plain, 1200, 1500, 1, 901000 },
	{ "80 % and two", &stock_rho_plain, 1200, 1500, 2, 1442000 },
	{ "all of it and three", &stock_rho_plain, 1200, 1500, 3, 1803000 },
	{ "no more than all of it", &stock_rho_plain, 1200, 1500, 9, 1809000 },
	{ "thirty days", &stock_rho_plain, 1200, 1500, 30, 1830000 },
	{ "no more than thirty", &stock_rho_plain, 1200, 1500, 900, 1830000 },
	{ "strict: 1 %", &stock_rho_strict, 1200, 1500, 0, 18000 },
	{ "strict: 8 %", &stock_rho_strict, 1200, 1500, 1, 145000 },
	{ "strict: 60 %", &stock_rho_strict, 1200, 1500, 2, 1082000 },
	{ "strict: 400 %", &stock_rho_strict, 1200, 1500, 3, 7203000 },
	{ "rounded up: 0.05", &stock_rho_plain, 1, 1, 0, 1 },
	{ "no price known: 1000 a kilogram", &stock_rho_plain, 0, 1500, 2,
	    1202000 },
	{ "the largest", &stock_rho_strict, STOCK_PRICE_MAX, WEIGHT_MAX_G, 3,
	    INT64_C(4000000003000) },
};

START_TEST(cost_rows)
{
	struct stock_fish f = { costs[_i].price, costs[_i].weight,
		DAY + costs[_i].days };
	struct err err = { 0 };
	int64_t cost;

	ck_assert_msg(
	    stock_open_cost(&cost, &f, DAY, costs[_i].rho, &err) == RC_OK,
	    "%s: %s", costs[_i].why, err.text);
	ck_assert_msg(
	    cost == costs[_i].cost, "%s: %lld", costs[_i].why, (long long)cost);
}
END_TEST

static const struct stock_rho falling = { { 5, 4, 80, 100 } };
static const struct stock_rho below = { { -1, 4, 80, 100 } };
static const struct stock_rho above = { { 5, 50, 80, 10001 } };

static const struct {
	const char *why;
	struct stock_fish fish;
	day_no service;
	const struct stock_rho *rho;
	enum rc rc;
	const char *said;
} bad[] = {
	{ "price below 0", { -1, 100, DAY }, DAY, &stock_rho_plain, RC_INVALID,
	    "price -1 a kilogram is not in 0..1000000" },
	{ "price too large", { STOCK_PRICE_MAX + 1, 100, DAY }, DAY,
	    &stock_rho_plain, RC_INVALID,
	    "price 1000001 a kilogram is not in 0..1000000" },
	{ "no weight", { 1, 0, DAY }, DAY, &stock_rho_plain, RC_INVALID,
	    "a fish of 0 g is not in 1..1000000" },
	{ "too heavy", { 1, WEIGHT_MAX_G + 1, DAY }, DAY, &stock_rho_plain,
	    RC_INVALID, "a fish of 1000001 g is not in 1..1000000" },
	{ "no use-by", { 1, 100, DAY_NONE }, DAY, &stock_rho_plain, RC_INVALID,
	    "the day of the service or of the use-by is not known" },
	{ "no day of service", { 1, 100, DAY }, DAY_NONE, &stock_rho_plain,
	    RC_INVALID,
	    "the day of the service or of the use-by is not known" },
	{ "past its date", { 1, 100, DAY - 1 }, DAY, &stock_rho_plain,
	    RC_REFUSED, "the use-by is before the day of the service" },
	{ "a table that falls", { 1, 100, DAY }, DAY, &falling, RC_INVALID,
	    "days left 1: 4 % of the value is not in 5..10000" },
	{ "a table below 0", { 1, 100, DAY }, DAY, &below, RC_INVALID,
	    "days left 0: -1 % of the value is not in 0..10000" },
	{ "a table too large", { 1, 100, DAY }, DAY, &above, RC_INVALID,
	    "days left 3: 10001 % of the value is not in 80..10000" },
};

START_TEST(bad_rows)
{
	struct err err = { 0 };
	int64_t cost = 9;

	ck_assert_msg(stock_open_cost(&cost, &bad[_i].fish, bad[_i].service,
			  bad[_i].rho, &err) == bad[_i].rc,
	    "%s", bad[_i].why);
	ck_assert_str_eq(err.text, bad[_i].said);
	ck_assert_int_eq(cost, 0);
}
END_TEST

/* Of equal fish the earlier always costs less: any price, weight and table,
 * as far as thirty days. */
START_TEST(earlier_is_cheaper)
{
	struct dice d = { 8301 };
	struct stock_rho own;
	struct stock_fish a, b;
	int64_t ca, cb;
	int round, i;

	for (round = 0; round < 5000; round++) {
		own.percent[0] = roll(&d, 50);
		for (i = 1; i < STOCK_RHO_DAYS; i++)
			own.percent[i] = own.percent[i - 1] + roll(&d, 40);
		a.price_per_kg = roll(&d, 4) == 0 ? 0 : roll(&d, 4000);
		a.weight_g = 1 + roll(&d, 5000);
		a.use_by = DAY + roll(&d, 30);
		b = a;
		b.use_by = a.use_by + 1 + roll(&d, DAY + 30 - a.use_by);
		ck_assert_int_eq(
		    stock_open_cost(&ca, &a, DAY, &own, NULL), RC_OK);
		ck_assert_int_eq(
		    stock_open_cost(&cb, &b, DAY, &own, NULL), RC_OK);
		ck_assert_msg(ca < cb, "%d: %lld, %lld", round, (long long)ca,
		    (long long)cb);
	}
}
END_TEST

/* Strict: a day earlier goes first up to six times the value, and plain does
 * not promise that. */
START_TEST(strict_goes_by_the_day)
{
	struct stock_fish dear = { 6000, 1000, DAY }, cheap = { 1000, 1000, 0 };
	int64_t a, b;
	int days;

	for (days = 0; days < 3; days++) {
		dear.use_by = DAY + days;
		cheap.use_by = DAY + days + 1;
		ck_assert_int_eq(
		    stock_open_cost(&a, &dear, DAY, &stock_rho_strict, NULL),
		    RC_OK);
		ck_assert_int_eq(
		    stock_open_cost(&b, &cheap, DAY, &stock_rho_strict, NULL),
		    RC_OK);
		ck_assert_int_lt(a, b);
	}
	ck_assert_int_eq(
	    stock_open_cost(&a, &dear, DAY, &stock_rho_plain, NULL), RC_OK);
	ck_assert_int_eq(
	    stock_open_cost(&b, &cheap, DAY, &stock_rho_plain, NULL), RC_OK);
	ck_assert_int_gt(a, b);
}
END_TEST

START_TEST(penalty_and_credit)
{
	ck_assert_int_eq(stock_penalty(2500, &stock_rho_plain), 2500);
	ck_assert_int_eq(stock_penalty(2500, &stock_rho_strict), 10000);
	ck_assert_int_eq(stock_penalty(0, &stock_rho_strict), 0);
	ck_assert_int_eq(stock_penalty(STOCK_MONEY_MAX, &stock_rho_strict),
	    4 * STOCK_MONEY_MAX);
	/* 901 000 x 60 % / 2 = 270 300; of four 135 150; of seven 77 228.6 */
	ck_assert_int_eq(stock_keep_credit(901000, 2, DAY, DAY + 1), 270300);
	ck_assert_int_eq(stock_keep_credit(901000, 4, DAY, DAY + 9), 135150);
	ck_assert_int_eq(stock_keep_credit(901000, 7, DAY, DAY + 1), 77228);
	ck_assert_int_eq(stock_keep_credit(901000, 2, DAY, DAY), 0);
	ck_assert_int_eq(stock_keep_credit(901000, 2, DAY, DAY - 1), 0);
	ck_assert_int_eq(stock_keep_credit(0, 2, DAY, DAY + 1), 0);
}
END_TEST

/* --- inversions ------------------------------------------------------------*/

#define OK_ STOCK_USABLE

/* Batch 0 is the earlier, 1 the later; two dishes. */
static const struct {
	const char *why;
	struct stock_left batch[2];
	enum stock_reason first[2]; /* of batch 0 */
	bool made[2];               /* from batch 1 */
	int want;                   /* the reason, or -1: no inversion */
} pairs[] = {
	{ "in order", { { 100, 7, 3, 0 }, { 200, 7, 1, 2 } }, { OK_, OK_ },
	    { true, false }, -1 },
	{ "later left closed", { { 100, 7, 0, 3 }, { 200, 7, 0, 2 } },
	    { OK_, OK_ }, { false, false }, -1 },
	{ "same use-by", { { 100, 7, 0, 3 }, { 100, 7, 2, 2 } }, { OK_, OK_ },
	    { true, false }, -1 },
	{ "another species", { { 100, 7, 0, 3 }, { 200, 8, 2, 2 } },
	    { OK_, OK_ }, { true, false }, -1 },
	{ "only the money", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { OK_, OK_ }, { true, false }, STOCK_COST },
	{ "partly closed is closed", { { 100, 7, 9, 1 }, { 200, 7, 1, 0 } },
	    { OK_, OK_ }, { true, true }, STOCK_COST },
	{ "too small", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { STOCK_SIZE, OK_ }, { true, false }, STOCK_SIZE },
	{ "too small for a dish nobody made of the later",
	    { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } }, { STOCK_SIZE, OK_ },
	    { false, true }, STOCK_COST },
	{ "too small for one of two", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { OK_, STOCK_SIZE }, { true, true }, STOCK_SIZE },
	{ "held", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { STOCK_HELD, STOCK_HELD }, { true, false }, STOCK_HELD },
	{ "out of date", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { STOCK_EXPIRED, STOCK_EXPIRED }, { true, false }, STOCK_EXPIRED },
	{ "form", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { STOCK_FORM, STOCK_FORM }, { true, false }, STOCK_FORM },
	{ "the gravest of two", { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { STOCK_SIZE, STOCK_PARASITES }, { true, true }, STOCK_PARASITES },
	{ "no use-by comes before any", { { 0, 7, 0, 3 }, { 200, 7, 2, 2 } },
	    { STOCK_UNDATED, STOCK_UNDATED }, { true, false }, STOCK_UNDATED },
	{ "opened for trim: the earlier would have done",
	    { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } }, { STOCK_SIZE, OK_ },
	    { false, false }, STOCK_COST },
	{ "opened for trim while the earlier is held",
	    { { 100, 7, 0, 3 }, { 200, 7, 2, 2 } }, { STOCK_HELD, STOCK_HELD },
	    { false, false }, STOCK_HELD },
};

START_TEST(inversion_rows)
{
	enum stock_reason why[4] = { pairs[_i].first[0], pairs[_i].first[1],
		OK_, OK_ };
	bool made[4] = { false, false, pairs[_i].made[0], pairs[_i].made[1] };
	struct stock_outcome o = { pairs[_i].batch, 2, 2, why, made };
	struct stock_inversion *got;
	size_t count;

	ck_assert_int_eq(stock_inversions(&got, &count, &o, NULL), RC_OK);
	ck_assert_msg(count == (pairs[_i].want < 0 ? 0 : 1), "%s: %zu",
	    pairs[_i].why, count);
	if (count == 1) {
		ck_assert(got->earlier == 0 && got->later == 1);
		ck_assert_msg((int)got->reason == pairs[_i].want, "%s: %s",
		    pairs[_i].why, stock_reason_word(got->reason));
	}
	free(got);
}
END_TEST

/* Listed in any order, each pair once. */
START_TEST(several_batches)
{
	const struct stock_left b[4] = { { 300, 7, 1, 1 }, { 100, 7, 0, 2 },
		{ 200, 7, 4, 1 }, { 100, 8, 0, 2 } };
	const enum stock_reason why[4] = { OK_, STOCK_SIZE, OK_, OK_ };
	const bool made[4] = { true, true, true, true };
	const struct stock_outcome o = { b, 4, 1, why, made };
	const struct stock_inversion want[] = { { 1, 0, STOCK_SIZE },
		{ 1, 2, STOCK_SIZE }, { 2, 0, STOCK_COST } };
	struct stock_inversion *got;
	size_t count, i;

	ck_assert_int_eq(stock_inversions(&got, &count, &o, NULL), RC_OK);
	ck_assert_uint_eq(count, NELEM(want));
	for (i = 0; i < count; i++) {
		ck_assert_uint_eq(got[i].earlier, want[i].earlier);
		ck_assert_uint_eq(got[i].later, want[i].later);
		ck_assert_int_eq(got[i].reason, want[i].reason);
	}
	free(got);
}
END_TEST

START_TEST(bad_outcomes)
{
	struct stock_left b[2] = { { 100, 7, 1, 0 }, { 200, 7, 0, -1 } };
	struct stock_outcome o = { b, 2, 0, NULL, NULL };
	struct stock_inversion *got;
	struct err err = { 0 };
	size_t count;

	ck_assert_int_eq(stock_inversions(&got, &count, &o, &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "batch 2: fewer than no fish opened or closed");
	ck_assert(got == NULL && count == 0);
	err_clear(&err);
	o.batch_count = STOCK_BATCHES_MAX + 1;
	ck_assert_int_eq(stock_inversions(&got, &count, &o, &err), RC_INVALID);
	ck_assert_str_eq(err.text, "501 batches, at most 500");
	o.batch_count = 0;
	ck_assert_int_eq(stock_inversions(&got, &count, &o, NULL), RC_OK);
	ck_assert(got == NULL && count == 0);
}
END_TEST

Suite *
suite_core_stock(void)
{
	Suite *s = suite_create("core_stock");
	TCase *tc = tcase_create("eligible");

	tcase_add_loop_test(tc, alone_rows, 0, (int)NELEM(alone));
	tcase_add_test(tc, cooked_needs_no_freeze_record);
	tcase_add_test(tc, combined);
	tcase_add_test(tc, nothing_known_serves_nothing);
	tcase_add_test(tc, every_reason_has_its_words);
	suite_add_tcase(s, tc);
	tc = tcase_create("opening");
	tcase_add_loop_test(tc, cost_rows, 0, (int)NELEM(costs));
	tcase_add_loop_test(tc, bad_rows, 0, (int)NELEM(bad));
	tcase_add_test(tc, earlier_is_cheaper);
	tcase_add_test(tc, strict_goes_by_the_day);
	tcase_add_test(tc, penalty_and_credit);
	suite_add_tcase(s, tc);
	tc = tcase_create("inversions");
	tcase_add_loop_test(tc, inversion_rows, 0, (int)NELEM(pairs));
	tcase_add_test(tc, several_batches);
	tcase_add_test(tc, bad_outcomes);
	suite_add_tcase(s, tc);
	return s;
}
