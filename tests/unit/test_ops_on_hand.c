/*
 * test_ops_on_hand.c - the page of what is on hand beside the list that the
 * stock command prints: same things, same order, same amounts.
 */
#include "unit.h"

#include <inttypes.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/look.h"
#include "ops/on_hand.h"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct on_hand_page
page_of(const struct on_hand_wish *w)
{
	struct on_hand_page p;
	struct err err = { 0 };

	ck_assert_msg(on_hand_load(&p, k.sn, w, &err) == RC_OK, "%s", err.text);
	return p;
}

/* Cod in a batch and three trays, one of them frozen, one on hold. */
static struct breakdown
some_of_all(void)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	const char *codes[] = { d.portions[1].code };
	struct freeze_in in = {
		.codes = codes, .count = 1, .temp = "-20", .by = "CD"
	};
	struct kept kept;
	struct err err = { 0 };

	ck_assert_msg(freeze(&kept, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(
	    hold(NULL, k.sn, d.portions[2].code, "smells", "AB", NULL), RC_OK);
	return d;
}

/* The next field of a line of CSV that has no quotes. */
static char *
next(char **at)
{
	char *field = *at;
	char *end = strpbrk(field, ",\r");

	ck_assert_ptr_nonnull(end);
	*end = '\0';
	*at = end + 1;
	return field;
}

static const char *
state_word(const struct on_hand_row *r)
{
	return r->expired ? "expired" : r->held ? "held" : "ok";
}

/* kind,code,batch,state,use_by,name,species,count,weight_g,keep */
static void
check_line(char *line, const struct on_hand_row *r)
{
	char shown[CODE_SIZE], n[32];

	ck_assert_str_eq(
	    next(&line), r->kind == CODE_BATCH ? "batch" : "portion");
	ck_assert_str_eq(next(&line), code_show(shown, r->code));
	ck_assert_str_eq(next(&line), code_show(shown, r->batch));
	ck_assert_str_eq(next(&line), state_word(r));
	next(&line); /* an instant: the order says it */
	if (*line == '"')
		line = strchr(line + 1, '"') + 2;
	else
		ck_assert_str_eq(next(&line), r->name);
	ck_assert_str_eq(next(&line), r->species);
	str_fmt(n, sizeof(n), "%" PRId64, r->count);
	ck_assert_str_eq(next(&line), n);
	str_fmt(n, sizeof(n), "%" PRId64, r->weight_g);
	ck_assert_str_eq(next(&line), n);
	ck_assert_str_eq(next(&line), keep_word(r->keep));
}

/* Everything the command lists, row by row; returns how many. */
static size_t
same_as_command(void)
{
	struct on_hand_wish w = { .limit = 1000 };
	struct on_hand_page p = page_of(&w);
	struct buf b;
	char *line, *rest;
	size_t i = 0;

	buf_init(&b, 1 << 20);
	ck_assert_int_eq(stock(&b, k.sn, FORMAT_CSV, NULL), RC_OK);
	line = strtok_r(b.data, "\n", &rest); /* the heading */
	while ((line = strtok_r(NULL, "\n", &rest)) != NULL) {
		ck_assert_uint_lt(i, p.count);
		check_line(line, &p.rows[i++]);
	}
	ck_assert_uint_eq(i, p.count);
	buf_fini(&b);
	on_hand_fini(&p);
	return i;
}

static void
mussels(void)
{
	struct receive_in in = kitchen_cod();

	in.supplier = "reef";
	in.species = "MUS";
	in.presentation = "live";
	in.count = NULL;
	in.weight = "4 kg";
	in.method = "farmed";
	in.gear = "";
	in.decision = DECISION_NOTED;
	in.note = "on a rope, no mark to hand";
	kitchen_receive(&k, &in);
}

START_TEST(as_the_command_lists)
{
	struct breakdown d = some_of_all();

	mussels();
	ck_assert_uint_eq(same_as_command(), 5);
	/* Everything has its date behind it. */
	kitchen_at(&k, "2026-12-12T09:00");
	ck_assert_uint_eq(same_as_command(), 5);
	breakdown_fini(&d);
}
END_TEST

START_TEST(nothing_on_hand)
{
	struct on_hand_wish w = { .offset = 40, .limit = 20, .code = "X" };
	struct on_hand_page p = page_of(&w);

	ck_assert_uint_eq(p.count, 0);
	ck_assert_uint_eq(p.offset, 0);
	ck_assert_uint_eq(p.all.rows, 0);
	ck_assert_uint_eq(p.species_count, 0);
	ck_assert_int_eq(p.found, -1);
	on_hand_fini(&p);
}
END_TEST

/* What is left under each state; batch, trays: plain, frozen, on hold. */
static const struct {
	const char *why;
	const char *now;
	size_t rows[ON_HAND_STATE_COUNT];
} states[] = {
	{ "fresh from the board", KITCHEN_NOW,
	    { [ON_HAND_ANY] = 5,
		[ON_HAND_RAW] = 3,
		[ON_HAND_LIVE] = 1,
		[ON_HAND_FROZEN] = 1,
		[ON_HAND_HELD] = 1 } },
	{ "the last day of the batch", "2026-11-28T10:00",
	    { [ON_HAND_ANY] = 5,
		[ON_HAND_RAW] = 3,
		[ON_HAND_LIVE] = 1,
		[ON_HAND_FROZEN] = 1,
		[ON_HAND_HELD] = 1,
		[ON_HAND_EXPIRED] = 1,
		[ON_HAND_TODAY] = 3 } },
	{ "a second after it", "2026-11-29T00:00:00",
	    { [ON_HAND_ANY] = 5,
		[ON_HAND_RAW] = 3,
		[ON_HAND_LIVE] = 1,
		[ON_HAND_FROZEN] = 1,
		[ON_HAND_HELD] = 1,
		[ON_HAND_EXPIRED] = 4 } },
};

START_TEST(counts_by_state)
{
	struct on_hand_wish w = { .limit = 100 };
	struct on_hand_page p;
	struct breakdown d;
	size_t i, parted = 0;
	int s;

	/* As long as the batch, so that the freezer has days to keep. */
	k.sn->cfg.raw_days = 4;
	d = some_of_all();
	mussels();
	kitchen_at(&k, states[_i].now);
	for (s = 0; s < ON_HAND_STATE_COUNT; s++) {
		w.filter.state = (enum on_hand_state)s;
		p = page_of(&w);
		ck_assert_msg(p.sum.rows == states[_i].rows[s],
		    "%s, state %d: %zu rows", states[_i].why, s, p.sum.rows);
		ck_assert_uint_eq(p.count, p.sum.rows);
		/* The counts are there whatever the filter is. */
		for (i = 0; i < ON_HAND_STATE_COUNT; i++)
			ck_assert_uint_eq(p.states[i].rows, states[_i].rows[i]);
		on_hand_fini(&p);
	}
	for (s = ON_HAND_RAW; s <= ON_HAND_THAWED; s++)
		parted += states[_i].rows[s];
	ck_assert_uint_eq(parted, states[_i].rows[ON_HAND_ANY]);
	breakdown_fini(&d);
}
END_TEST

START_TEST(filters_and_groups)
{
	struct on_hand_wish w = { .limit = 100 };
	struct breakdown d = some_of_all();
	struct on_hand_page p;

	mussels();
	p = page_of(&w);
	ck_assert_uint_eq(p.species_count, 2);
	ck_assert_str_eq(p.species[0].code, "MUS"); /* Blue mussel */
	ck_assert_uint_eq(p.species[0].sum.batches, 1);
	ck_assert_str_eq(p.species[1].code, "COD");
	ck_assert_uint_eq(p.species[1].sum.rows, 4);
	ck_assert_int_eq(p.species[1].sum.servings, 12);
	ck_assert_uint_eq(p.dish_count, 1);
	ck_assert_str_eq(p.dishes[0].code, "cod-leeks");
	ck_assert_int_eq(p.dishes[0].sum.weight_g, 1980);
	/* 5 of 10 cod left, 10 kg; 4 kg of mussels; 1980 g on trays. */
	ck_assert_int_eq(p.sum.weight_g, 10000 + 4000 + 1980);
	on_hand_fini(&p);
	w.filter.what = ON_HAND_BATCHES;
	p = page_of(&w);
	ck_assert_uint_eq(p.sum.rows, 2);
	ck_assert_uint_eq(p.sum.units, 0);
	ck_assert_uint_eq(p.dish_count, 0);
	ck_assert_uint_eq(p.all.rows, 5);
	on_hand_fini(&p);
	w.filter.what = ON_HAND_BOTH;
	str_copy(w.filter.dish, sizeof(w.filter.dish), "cod-leeks");
	p = page_of(&w);
	ck_assert_uint_eq(p.sum.rows, 3);
	ck_assert_uint_eq(p.species_count, 1);
	on_hand_fini(&p);
	str_copy(w.filter.species, sizeof(w.filter.species), "MUS");
	p = page_of(&w);
	ck_assert_uint_eq(p.sum.rows, 0);
	/* Without the species the dish would be there. */
	ck_assert_uint_eq(p.species[0].sum.units, 3);
	on_hand_fini(&p);
	breakdown_fini(&d);
}
END_TEST

START_TEST(holds_are_named)
{
	struct on_hand_wish w = { .limit = 10 };
	struct breakdown d = some_of_all();
	struct on_hand_page p;
	size_t i;

	ck_assert_int_eq(
	    hold(NULL, k.sn, d.batch.code, "supplier rang", "AB", NULL), RC_OK);
	w.filter.state = ON_HAND_HELD;
	p = page_of(&w);
	ck_assert_uint_eq(p.count, 4);
	for (i = 0; i < p.count; i++) {
		if (str_eq(p.rows[i].code, d.portions[2].code)) {
			ck_assert_str_eq(p.rows[i].hold_reason, "smells");
			ck_assert(p.rows[i].own_hold);
			continue;
		}
		ck_assert_str_eq(p.rows[i].hold_reason, "supplier rang");
		ck_assert(p.rows[i].own_hold == (p.rows[i].kind == CODE_BATCH));
	}
	on_hand_fini(&p);
	breakdown_fini(&d);
}
END_TEST

/* A window over 60 portions: every row once, whatever the window's size. */
START_TEST(windows)
{
	struct kitchen_cut cut = { "cod-leeks", 60, 1, 9900, 20000, 10 };
	struct on_hand_wish w = { .limit = 7 };
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	struct breakdown d = kitchen_break(&k, b.code, &cut);
	struct on_hand_page p, whole;
	size_t at;

	w.limit = 1000;
	whole = page_of(&w);
	ck_assert_uint_eq(whole.count, 60);
	w.limit = 7;
	for (at = 0; at < 60; at++) {
		w.offset = at;
		p = page_of(&w);
		ck_assert_uint_eq(p.offset, at > 53 ? 53 : at);
		ck_assert_uint_eq(p.count, 7);
		ck_assert_str_eq(p.rows[0].code, whole.rows[p.offset].code);
		ck_assert_str_eq(p.rows[6].code, whole.rows[p.offset + 6].code);
		on_hand_fini(&p);
		w.offset = 0;
		w.code = whole.rows[at].code;
		p = page_of(&w);
		ck_assert_int_eq(p.found, (int64_t)at);
		ck_assert_uint_ge(at, p.offset);
		ck_assert_uint_lt(at, p.offset + p.count);
		ck_assert_str_eq(
		    p.rows[at - p.offset].code, whole.rows[at].code);
		on_hand_fini(&p);
		w.code = NULL;
	}
	on_hand_fini(&whole);
	breakdown_fini(&d);
}
END_TEST

START_TEST(days_in_words_of_the_calendar)
{
	struct on_hand_wish w = { .limit = 10 };
	struct breakdown d = some_of_all();
	struct on_hand_page p;

	/* Made on the 25th with two days of house life: the 26th is the last.
	 */
	p = page_of(&w);
	ck_assert_str_eq(p.rows[0].name, "Cod, leeks");
	ck_assert_int_eq(p.rows[0].days_left, 1);
	ck_assert(!p.rows[0].expired);
	on_hand_fini(&p);
	kitchen_at(&k, "2026-11-26T23:59:59");
	p = page_of(&w);
	ck_assert_int_eq(p.rows[0].days_left, 0);
	ck_assert(!p.rows[0].expired);
	on_hand_fini(&p);
	kitchen_at(&k, "2026-11-27T00:00:00");
	p = page_of(&w);
	ck_assert_int_eq(p.rows[0].days_left, -1);
	ck_assert(p.rows[0].expired);
	on_hand_fini(&p);
	breakdown_fini(&d);
}
END_TEST

/* By the hour: what ended this morning is expired, and no longer for today. */
START_TEST(ended_this_morning)
{
	struct on_hand_wish w = { .limit = 10 };
	struct breakdown d = some_of_all();
	struct on_hand_page p;

	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE portion SET use_by_utc ="
			     " unixepoch('2026-11-26T09:30:00Z')"
			     " WHERE serial = (SELECT min(serial) FROM"
			     " portion)"),
	    SQLITE_OK);
	kitchen_at(&k, "2026-11-26T09:30:00");
	p = page_of(&w);
	ck_assert_uint_eq(p.states[ON_HAND_EXPIRED].rows, 0);
	ck_assert_uint_eq(p.states[ON_HAND_TODAY].rows, 2);
	on_hand_fini(&p);
	kitchen_at(&k, "2026-11-26T09:30:01");
	p = page_of(&w);
	ck_assert_str_eq(p.rows[0].code, d.portions[0].code);
	ck_assert(p.rows[0].expired);
	ck_assert_int_eq(p.rows[0].days_left, 0);
	ck_assert_uint_eq(p.states[ON_HAND_EXPIRED].rows, 1);
	ck_assert_uint_eq(p.expired_rows, 1);
	ck_assert_uint_eq(p.states[ON_HAND_TODAY].rows, 1);
	ck_assert_uint_eq(p.today_rows, 1);
	on_hand_fini(&p);
	breakdown_fini(&d);
}
END_TEST

Suite *
suite_ops_on_hand(void)
{
	Suite *s = suite_create("ops_on_hand");
	TCase *t = tcase_create("page");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, as_the_command_lists);
	tcase_add_test(t, nothing_on_hand);
	tcase_add_loop_test(t, counts_by_state, 0, (int)NELEM(states));
	tcase_add_test(t, filters_and_groups);
	tcase_add_test(t, holds_are_named);
	tcase_add_test(t, windows);
	tcase_add_test(t, days_in_words_of_the_calendar);
	tcase_add_test(t, ended_this_morning);
	suite_add_tcase(s, t);
	return s;
}
