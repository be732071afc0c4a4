/*
 * test_store_freezing.c - what the file holds of units frozen, thawed, missing
 * and found.
 */
#include "unit.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "store/batches.h"
#include "store/freezing.h"
#include "store/portions.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct store *st;
static struct moment at = { 1795600000, 0, "AB" };

static void
setup(void)
{
	kitchen_open(&k);
	st = k.sn->st;
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
begin(void)
{
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
}

static void
commit(void)
{
	rig_commit(st);
}

static struct freezing
freezing(enum portion_keep to, int64_t before, int64_t after, int64_t when)
{
	struct freezing f = {
		.to = to,
		.temp_dc = to == KEEP_FROZEN ? -203 : 0,
		.days_left = 2,
		.use_by_before_utc = before,
		.use_by_utc = after,
		.reason = "quiet night",
		.at = { when, 60, "CD" },
	};

	return f;
}

/* Both records as they were put; the portion follows them. */
START_TEST(freezing_round_trip)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	int64_t id = d.portions[0].id, was = d.portions[0].use_by_utc;
	struct freezing f = freezing(KEEP_FROZEN, was, was + 900, at.utc);
	struct freezing t = freezing(KEEP_THAWED, was + 900, was + 5, at.utc);
	struct freezing_list l;
	struct portion p;
	char *why;

	ck_assert_int_eq(d.portions[0].keep, KEEP_CHILLED);
	begin();
	ck_assert_int_eq(
	    freezing_insert(st, id, &f, "{\"a\": 1}", NULL), RC_OK);
	commit();
	ck_assert_int_eq(portion_get(&p, st, d.portions[0].code, NULL), RC_OK);
	ck_assert_int_eq(p.keep, KEEP_FROZEN);
	ck_assert_int_eq(p.kind, CUT_SUPREME);
	ck_assert_int_eq(p.frozen_utc, at.utc);
	ck_assert_int_eq(p.thawed_utc, 0);
	ck_assert_int_eq(p.use_by_utc, was + 900);
	/* The others are as they were. */
	ck_assert_int_eq(portion_get(&p, st, d.portions[1].code, NULL), RC_OK);
	ck_assert_int_eq(p.keep, KEEP_CHILLED);
	ck_assert_int_eq(p.use_by_utc, was);
	t.at.utc++;
	begin();
	ck_assert_int_eq(
	    freezing_insert(st, id, &t, "{\"b\": 2}", NULL), RC_OK);
	commit();
	ck_assert_int_eq(portion_get(&p, st, d.portions[0].code, NULL), RC_OK);
	ck_assert_int_eq(p.keep, KEEP_THAWED);
	ck_assert_int_eq(p.frozen_utc, at.utc);
	ck_assert_int_eq(p.thawed_utc, at.utc + 1);
	ck_assert_int_eq(p.use_by_utc, was + 5);
	ck_assert_int_eq(freezing_list_open(&l, st, id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_int_eq(l.items[0].to, KEEP_FROZEN);
	ck_assert_int_eq(l.items[0].temp_dc, -203);
	ck_assert_int_eq(l.items[0].days_left, 2);
	ck_assert_int_eq(l.items[0].use_by_before_utc, was);
	ck_assert_int_eq(l.items[0].use_by_utc, was + 900);
	ck_assert_str_eq(l.items[0].reason, "quiet night");
	ck_assert_int_eq(l.items[0].at.utc, at.utc);
	ck_assert_int_eq(l.items[0].at.offset_min, 60);
	ck_assert_str_eq(l.items[0].at.by, "CD");
	ck_assert_int_eq(l.items[1].to, KEEP_THAWED);
	ck_assert_int_eq(l.items[1].temp_dc, 0);
	ck_assert_int_eq(freezing_why(&why, st, l.items[1].id, NULL), RC_OK);
	ck_assert_str_eq(why, "{\"b\": 2}");
	free(why);
	freezing_list_fini(&l);
	breakdown_fini(&d);
}
END_TEST

/* Once into the freezer and once out, in that order; the file says so. */
START_TEST(freezing_once)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	int64_t id = d.portions[0].id, was = d.portions[0].use_by_utc;
	struct freezing f = freezing(KEEP_FROZEN, was, was + 900, at.utc);
	struct freezing t = freezing(KEEP_THAWED, was, was, at.utc - 1);

	begin();
	ck_assert_int_eq(freezing_insert(st, id, &f, "{}", NULL), RC_OK);
	commit();
	begin();
	ck_assert_int_ne(freezing_insert(st, id, &f, "{}", NULL), RC_OK);
	store_rollback(st);
	/* Thawed before it was frozen. */
	begin();
	ck_assert_int_ne(freezing_insert(st, id, &t, "{}", NULL), RC_OK);
	store_rollback(st);
	f.temp_dc = 0;
	begin();
	ck_assert_int_ne(
	    freezing_insert(st, d.portions[1].id, &f, "{}", NULL), RC_OK);
	store_rollback(st);
	f.temp_dc = -180;
	f.days_left = 0;
	begin();
	ck_assert_int_ne(
	    freezing_insert(st, d.portions[1].id, &f, "{}", NULL), RC_OK);
	store_rollback(st);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM freezing"), 1);
	breakdown_fini(&d);
}
END_TEST

/* A frozen unit is no older one; thawed it is one again. */
START_TEST(older_not_frozen)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k), later;
	struct kitchen_cut cut = { "cod-leeks", 4, 4, 660, 4000, 2 };
	struct portion p, older;
	int64_t was = d.portions[0].use_by_utc;
	struct freezing f = freezing(KEEP_FROZEN, was, was, at.utc);
	struct freezing t = freezing(KEEP_THAWED, was, was, at.utc);
	size_t i;

	kitchen_at(&k, "2026-11-25T14:00");
	later = kitchen_break(&k, b.code, &cut);
	p = later.portions[0];
	begin();
	for (i = 0; i < d.portion_count; i++)
		ck_assert_int_eq(
		    freezing_insert(st, d.portions[i].id, &f, "{}", NULL),
		    RC_OK);
	commit();
	ck_assert_int_eq(
	    portion_older(&older, st, &p, p.made.utc, NULL), RC_NOTFOUND);
	begin();
	ck_assert_int_eq(
	    freezing_insert(st, d.portions[1].id, &t, "{}", NULL), RC_OK);
	commit();
	ck_assert_int_eq(
	    portion_older(&older, st, &p, p.made.utc, NULL), RC_OK);
	ck_assert_str_eq(older.code, d.portions[1].code);
	breakdown_fini(&d);
	breakdown_fini(&later);
}
END_TEST

/* Missing lowers what is left, found raises it, never beyond what was made. */
START_TEST(missing_and_found)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	struct portion_event e = { .fate = FATE_MISSING,
		.servings = 3,
		.reason = "not there",
		.at = at };
	struct portion_event_list l;
	struct portion p;
	int64_t id = d.portions[0].id;

	begin();
	ck_assert_int_eq(portion_take(st, id, &e, NULL), RC_OK);
	e.fate = FATE_FOUND;
	e.servings = 2;
	ck_assert_int_eq(portion_take(st, id, &e, NULL), RC_OK);
	commit();
	ck_assert_int_eq(portion_get(&p, st, d.portions[0].code, NULL), RC_OK);
	ck_assert_int_eq(p.left, 3);
	begin();
	ck_assert_int_ne(portion_take(st, id, &e, NULL), RC_OK);
	store_rollback(st);
	e.servings = 1;
	e.reason[0] = '\0';
	begin();
	ck_assert_int_ne(portion_take(st, id, &e, NULL), RC_OK);
	store_rollback(st);
	ck_assert_int_eq(portion_events_open(&l, st, id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_int_eq(l.items[0].fate, FATE_MISSING);
	ck_assert_int_eq(l.items[1].fate, FATE_FOUND);
	portion_events_fini(&l);
	breakdown_fini(&d);
}
END_TEST

Suite *
suite_store_freezing(void)
{
	Suite *s = suite_create("store_freezing");
	TCase *tc = tcase_create("freezing");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, freezing_round_trip);
	tcase_add_test(tc, freezing_once);
	tcase_add_test(tc, older_not_frozen);
	tcase_add_test(tc, missing_and_found);
	suite_add_tcase(s, tc);
	return s;
}
