/*
 * test_screens_hand.c - On hand and Service: what is scanned and typed records
 * what it should and nothing else, whatever the clock and the house say.
 */
#include "unit.h"

#include <sqlite3.h>
#include <string.h>
#include <time.h>

#include "base/str.h"
#include "hands.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "ops/people.h"
#include "screens/desk.h"
#include "store/audit.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct desk *d;
static struct breakdown made; /* 3 trays of 4 */
static struct batch cod;

static void
setup(void)
{
	kitchen_open(&k);
	made = kitchen_trays(&cod, &k);
	d = desk_new(k.sn, NULL, 80, 24);
	str_copy(d->by, sizeof(d->by), "LM");
}

static void
teardown(void)
{
	desk_free(d);
	breakdown_fini(&made);
	kitchen_close(&k);
}

static void
scan(const char *code)
{
	desk_scan(d, code, strlen(code), d->now_ms + 300);
	desk_draw(d);
}

static int64_t
left(const char *code)
{
	struct portion p;

	ck_assert_int_eq(portion_get(&p, k.sn->st, code, NULL), RC_OK);
	return p.left;
}

/* However often it is scanned, a tray loses what somebody says. */
START_TEST(scans_never_empty_a_tray)
{
	const char *tray = made.portions[0].code;
	int64_t before = kitchen_records(&k);
	int i;

	on(d, SCREEN_SERVICE);
	for (i = 0; i < 20; i++)
		scan(tray);
	ck_assert_int_eq(left(tray), 4);
	ck_assert_int_eq(kitchen_records(&k), before);
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(left(tray), 3);
	scan(tray);
	type(d, "2");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(left(tray), 1);
	/* More than there is, then thought better of. */
	scan(made.portions[1].code);
	type(d, "5");
	press(d, KEY_CODE_ENTER);
	ck_assert(seen(d, "has 4 left, not 5"));
	ck_assert_int_eq(left(made.portions[1].code), 4);
	press(d, KEY_CODE_ESC);
	/* The last of a tray is one portion: nothing is left to ask. */
	scan(tray);
	ck_assert_int_eq(left(tray), 0);
	scan(tray);
	ck_assert(seen(d, "By the record nothing is left"));
}
END_TEST

START_TEST(scans_choose_and_change_nothing)
{
	int64_t before = kitchen_records(&k);
	char shown[CODE_SIZE];
	size_t i;

	on(d, SCREEN_ON_HAND);
	for (i = 0; i < made.portion_count; i++) {
		scan(made.portions[i].code);
		ck_assert(seen(d, code_show(shown, made.portions[i].code)));
	}
	scan(cod.code);
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(d->at, SCREEN_ON_HAND);
	ck_assert_int_eq(d->sheet_count, 0);
}
END_TEST

/* A record an hour ahead of now, as a wrong clock leaves it. */
START_TEST(clock_in_doubt)
{
	struct moment at = { .by = "AB" };
	int64_t before;

	/* A clock nobody set, whatever day it is where this runs. */
	k.sn->clock.fixed = false;
	at.utc = clock_now(&k.sn->clock) + 3600;
	rig_note(k.sn->st, &at);
	ck_assert_int_eq(
	    kitchen_sql(k.db, "UPDATE portion SET use_by_utc = 4102444800"),
	    SQLITE_OK);
	before = kitchen_records(&k);
	on(d, SCREEN_SERVICE);
	scan(made.portions[0].code);
	press(d, KEY_CODE_ENTER);
	if (!seen(d, "last record"))
		ck_abort_msg("%s", d->notice);
	ck_assert_int_eq(left(made.portions[0].code), 4);
	press(d, KEY_CODE_ESC);
	on(d, SCREEN_ON_HAND);
	type(d, "o");
	type(d, "smells");
	press(d, KEY_CODE_ENTER);
	ck_assert(seen(d, "last record"));
	/* What was typed is there still. */
	ck_assert(seen(d, "smells"));
	ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

/* The house asks the chef for a whole batch, and for a release. */
START_TEST(duties)
{
	struct person_in chef = {
		.initials = "AK", .name = "AK", .chef = "yes", .by = "AB"
	};
	struct batch b;
	int i;

	ck_assert_int_eq(people_add(NULL, k.sn, &chef, NULL), RC_OK);
	ck_assert_int_eq(
	    people_pin_set(k.sn, "AK", "24680", "AB", NULL), RC_OK);
	on(d, SCREEN_ON_HAND);
	scan(cod.code);
	type(d, "d");
	press(d, KEY_CODE_DOWN);
	press(d, KEY_CODE_DOWN);
	type(d, "soft");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(batch_get(&b, k.sn->st, cod.code, NULL), RC_OK);
	ck_assert_int_eq(b.weight_left, 10000);
	for (i = 0; i < 2; i++) /* the PIN's sheet, then the question */
		press(d, KEY_CODE_ESC);
	ck_assert_int_eq(batch_get(&b, k.sn->st, cod.code, NULL), RC_OK);
	ck_assert_int_eq(b.weight_left, 10000);
	/* A tray is anybody's. */
	scan(made.portions[0].code);
	type(d, "d");
	press(d, KEY_CODE_DOWN);
	type(d, "fell");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(left(made.portions[0].code), 0);
	scan(made.portions[1].code);
	type(d, "o");
	type(d, "smells");
	press(d, KEY_CODE_ENTER);
	type(d, "r");
	type(d, "it was the bin");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM hold"
			     " WHERE released_utc IS NULL"),
	    1);
	type(d, "24680");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM hold"
			     " WHERE released_utc IS NULL"),
	    0);
	ck_assert_int_eq(d->sheet_count, 0);
}
END_TEST

/* Told of an older one, a cook scans that; a reason half typed stays. */
START_TEST(older_one_scanned)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 8, 4, 1320, 10000, 5 };
	struct breakdown young;
	struct batch b;

	kitchen_at(&k, "2026-11-26T10:00");
	b = kitchen_receive(&k, &in);
	young = kitchen_break(&k, b.code, &cut);
	on(d, SCREEN_SERVICE);
	scan(young.portions[0].code);
	ck_assert(seen(d, "An older one first"));
	ck_assert(seen(d, "row 1 of On"));
	type(d, "it is stu");
	scan(made.portions[0].code);
	ck_assert(seen(d, "it is stu"));
	ck_assert(seen(d, "was scanned and not used"));
	type(d, "ck");
	press(d, KEY_CODE_ENTER);
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(left(young.portions[0].code), 3);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM portion_event"
			     " WHERE reason = 'it is stuck'"),
	    1);
	scan(young.portions[0].code);
	scan(made.portions[0].code);
	ck_assert(!seen(d, "An older one first"));
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(left(young.portions[0].code), 3);
	ck_assert_int_eq(left(made.portions[0].code), 3);
	/* As the terminal brings it: the scanner's first character goes into
	 * the field and is taken back. */
	scan(young.portions[0].code);
	ck_assert(seen(d, "An older one first"));
	type(d, "0");
	press(d, KEY_CODE_TAKE_BACK);
	scan(made.portions[1].code);
	ck_assert(!seen(d, "An older one first"));
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(left(made.portions[1].code), 3);
	breakdown_fini(&young);
}
END_TEST

/* Another program takes a marked one: none of the others is frozen. */
START_TEST(marked_and_gone)
{
	struct use_in in = { .code = made.portions[1].code,
		.reason = "as it came",
		.by = "EF" };
	struct portion p;
	int i;

	k.sn->cfg.raw_days = 4;
	on(d, SCREEN_ON_HAND);
	press(d, KEY_CODE_HOME);
	for (i = 0; i < 3; i++)
		type(d, " ");
	ck_assert(seen(d, "3 marked"));
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	type(d, "f");
	ck_assert_msg(seen(d, "is not on hand any more"), "%s", d->notice);
	ck_assert_int_eq(d->sheet_count, 0);
	ck_assert(seen(d, "2 marked"));
	type(d, "f");
	type(d, "-20");
	press(d, KEY_CODE_ENTER);
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM freezing"), 2);
	ck_assert(seen(d, "New dates"));
}
END_TEST

/* One key goes through what expired, until nothing is left of it. */
START_TEST(expired_is_emptied)
{
	int i;

	kitchen_at(&k, "2026-12-02T09:00");
	on(d, SCREEN_ON_HAND);
	ck_assert(seen(d, "EXPIRED: 4 things"));
	type(d, "e");
	for (i = 0; i < 4; i++) {
		if (i == 3) /* the batch asks for fish and weight first */
			ck_assert(seen(d, "past its use-by"));
		press(d, KEY_CODE_ENTER);
	}
	ck_assert(seen(d, "Nothing is past its use-by any more."));
	ck_assert(seen(d, "Nothing is on hand."));
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT coalesce(sum(left), 0) FROM portion"), 0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM portion_event"
			     " WHERE reason = 'past its use-by'"),
	    3);
	kitchen_balance(&k, &cod);
}
END_TEST

/* The hour strikes while the page is shown: the next sitting comes up. */
START_TEST(present_sitting_follows_the_clock)
{
	on(d, SCREEN_SERVICE);
	ck_assert(seen(d, "lunch, Wed 25 November"));
	kitchen_at(&k, "2026-11-25T15:00");
	desk_tick(d, d->now_ms + 1500);
	ck_assert(seen(d, "dinner, Wed 25 November"));
	press(d, KEY_CODE_LEFT);
	ck_assert(seen(d, "lunch, Wed 25 November"));
	desk_tick(d, d->now_ms + 3000);
	ck_assert(seen(d, "lunch, Wed 25 November"));
	type(d, "x");
	ck_assert(seen(d, "dinner, Wed 25 November"));
}
END_TEST

static void
no_print(void *arg)
{
	(void)arg;
}

/* With somebody at the desk the page is there at once, and the forecast when
 * it is made; leaving in the middle of it harms nothing. */
START_TEST(forecast_comes_later)
{
	static const struct desk_host host = { .print = no_print };
	const struct timespec pause = { .tv_nsec = 5000000 };
	int i;

	desk_free(d);
	d = desk_new(k.sn, &host, 80, 24);
	on(d, SCREEN_SERVICE);
	press(d, KEY_CODE_RIGHT);
	press(d, KEY_CODE_LEFT);
	ck_assert(seen(d, "lunch, Wed 25 November"));
	for (i = 0; i < 1000 && !seen(d, "expected in all"); i++) {
		(void)nanosleep(&pause, NULL);
		desk_tick(d, d->now_ms + 1500);
	}
	ck_assert(seen(d, "expected in all"));
	ck_assert(seen(d, "short"));
	press(d, KEY_CODE_RIGHT);
	press(d, KEY_CODE_RIGHT);
}
END_TEST

/* Any size of window: nothing is drawn outside, nothing breaks. */
START_TEST(any_size)
{
	static const enum screen_id ids[] = { SCREEN_ON_HAND, SCREEN_SERVICE };
	int w, h;
	size_t i;

	for (i = 0; i < NELEM(ids); i++) {
		on(d, ids[i]);
		for (w = 1; w < 130; w += 16)
			for (h = 1; h < 40; h += 6) {
				desk_resize(d, w, h);
				desk_draw(d);
				type(d, "u");
				desk_draw(d);
				press(d, KEY_CODE_ESC);
				on(d, ids[i]);
			}
	}
}
END_TEST

Suite *
suite_screens_hand(void)
{
	Suite *s = suite_create("screens_hand");
	TCase *t = tcase_create("desk");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, scans_never_empty_a_tray);
	tcase_add_test(t, scans_choose_and_change_nothing);
	tcase_add_test(t, clock_in_doubt);
	tcase_add_test(t, duties);
	tcase_add_test(t, older_one_scanned);
	tcase_add_test(t, marked_and_gone);
	tcase_add_test(t, expired_is_emptied);
	tcase_add_test(t, present_sitting_follows_the_clock);
	tcase_add_test(t, forecast_comes_later);
	tcase_add_test(t, any_size);
	suite_add_tcase(s, t);
	return s;
}
