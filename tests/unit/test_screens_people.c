/*
 * test_screens_people.c - what is the chef's is done after a chef's PIN and
 * never without; who confirms the date is who its record names.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "hands.h"
#include "kitchen.h"
#include "ops/people.h"
#include "screens/people.h"

static struct kitchen k;
static struct desk *d;
static int done;

static void
setup(void)
{
	kitchen_open(&k);
	d = desk_new(k.sn, NULL, 80, 24);
	str_copy(d->by, sizeof(d->by), "LM");
	done = 0;
}

static void
teardown(void)
{
	desk_free(d);
	kitchen_close(&k);
}

static void
add(const char *initials, const char *chef, const char *pin)
{
	struct person_in in = { .initials = initials,
		.name = initials,
		.chef = chef,
		.by = "AB" };

	ck_assert_int_eq(people_add(NULL, k.sn, &in, NULL), RC_OK);
	if (pin != NULL)
		ck_assert_int_eq(
		    people_pin_set(k.sn, initials, pin, "AB", NULL), RC_OK);
}

static void
go(struct desk *on, void *arg)
{
	ck_assert_ptr_eq(on, d);
	ck_assert_ptr_eq(arg, &done);
	done++;
	desk_say(d, LEVEL_DONE, "done.");
}

START_TEST(no_chef_has_a_pin)
{
	add("AK", "yes", NULL);
	add("LM", "no", "1357");
	people_pin(d, DUTY_RELEASE, go, &done);
	ck_assert_int_eq(done, 1);
	ck_assert_str_eq(d->notice,
	    "done. No chef has a PIN yet, so nobody was asked for one.");
}
END_TEST

START_TEST(house_does_not_ask)
{
	add("AK", "yes", "24680");
	k.sn->cfg.chef_discard_batch = false;
	people_pin(d, DUTY_DISCARD_BATCH, go, &done);
	ck_assert_int_eq(done, 1);
	ck_assert_str_eq(d->notice, "done.");
	people_pin(d, DUTY_RELEASE, go, &done);
	ck_assert_int_eq(done, 1);
	ck_assert_int_eq(d->sheet_count, 1);
}
END_TEST

START_TEST(pin_opens)
{
	enum duty duty = (enum duty)_i;

	add("AK", "yes", "24680");
	add("OL", "yes", NULL);
	people_pin(d, duty, go, &done);
	ck_assert_int_eq(done, 0);
	/* nothing, the wrong one, one too short */
	press(d, KEY_CODE_ENTER);
	type(d, "99999");
	press(d, KEY_CODE_ENTER);
	type(d, "12");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(done, 0);
	ck_assert_int_eq(d->sheet_count, 1);
	type(d, "24680");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(done, 1);
	ck_assert_int_eq(d->sheet_count, 0);
	ck_assert_str_eq(d->by, duty == DUTY_CLOCK ? "AK" : "LM");
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'allowed' AND by = 'LM'"),
	    1);
}
END_TEST

START_TEST(esc_does_not)
{
	add("AK", "yes", "24680");
	people_pin(d, DUTY_RELEASE, go, &done);
	type(d, "24680");
	press(d, KEY_CODE_ESC);
	ck_assert_int_eq(d->sheet_count, 0);
	/* and a function key leaves it all behind */
	people_pin(d, DUTY_RELEASE, go, &done);
	press(d, KEY_CODE_F1);
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(done, 0);
	ck_assert_int_eq(d->sheet_count, 0);
}
END_TEST

/* F12 does what Enter does, before the field was left too. */
START_TEST(f12_opens)
{
	add("AK", "yes", "24680");
	people_pin(d, DUTY_RELEASE, go, &done);
	type(d, "24680");
	press(d, KEY_CODE_F12);
	ck_assert_int_eq(done, 1);
	ck_assert_int_eq(d->sheet_count, 0);
}
END_TEST

/* From the page to the question who works and back, round and round: there is
 * one page, and what waits for it finds it. */
START_TEST(page_and_question_in_turn)
{
	int i;

	add("AK", "yes", "24680");
	d->by[0] = '\0';
	people_choose(d, go, &done);
	for (i = 0; i < 12; i++) {
		press(d, KEY_CODE_TAB);
		desk_draw(d);
		ck_assert_int_eq(d->sheet_count, 2);
		press(d, KEY_CODE_ENTER);
		desk_draw(d);
		ck_assert_int_eq(d->sheet_count, 3);
	}
	type(d, "AK");
	press(d, KEY_CODE_ENTER);
	type(d, "24680");
	press(d, KEY_CODE_ENTER);
	desk_draw(d);
	ck_assert_int_eq(d->sheet_count, 3); /* who, the page, one person */
	for (i = 0; i < 2; i++)
		press(d, KEY_CODE_ESC);
	ck_assert_int_eq(done, 0);
	type(d, "AK");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(done, 1);
}
END_TEST

/* With the date in doubt a person nobody listed can still work, so that
 * somebody can confirm it. */
START_TEST(doubt_and_nobody_listed)
{
	d->sn->clock.fixed = false;
	ck_assert_int_eq(kitchen_sql(k.db,
			     "INSERT INTO audit (at_utc, offset_min, by,"
			     " action, subject, detail) VALUES"
			     " (9999999999, 0, 'AB', 'test', 'x', 'y')"),
	    0);
	d->by[0] = '\0';
	people_choose(d, go, &done);
	type(d, "NN");
	press(d, KEY_CODE_ENTER);
	type(d, "Nils");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(done, 1);
	ck_assert_str_eq(d->by, "NN");
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM person"), 0);
}
END_TEST

Suite *
suite_screens_people(void)
{
	Suite *s = suite_create("screens_people");
	TCase *t = tcase_create("people");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 30);
	tcase_add_test(t, no_chef_has_a_pin);
	tcase_add_test(t, house_does_not_ask);
	tcase_add_loop_test(t, pin_opens, DUTY_RELEASE, DUTY_COUNT);
	tcase_add_test(t, esc_does_not);
	tcase_add_test(t, f12_opens);
	tcase_add_test(t, page_and_question_in_turn);
	tcase_add_test(t, doubt_and_nobody_listed);
	suite_add_tcase(s, t);
	return s;
}
