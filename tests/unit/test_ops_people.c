/*
 * test_ops_people.c - initials, chefs and PINs: what is refused, what the wait
 * after wrong tries is, and that neither a restart, a date nor a pulled plug
 * shortens it.
 */
#include "unit.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/people.h"
#include "ops/watch.h"
#include "store/audit.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;

static void
setup(void)
{
	struct err err = { 0 };

	kitchen_make(&k, true);
	ck_assert_msg(
	    kitchen_station(&k, KITCHEN_NOW, &err) == RC_OK, "%s", err.text);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
add(const char *initials, const char *name, const char *chef)
{
	struct person_in in = {
		.initials = initials, .name = name, .chef = chef, .by = "AK"
	};
	struct err err = { 0 };

	ck_assert_msg(
	    people_add(NULL, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
give_pin(const char *initials, const char *pin)
{
	struct err err = { 0 };

	ck_assert_msg(people_pin_set(k.sn, initials, pin, "AK", &err) == RC_OK,
	    "%s", err.text);
}

static void
chef_ak(void)
{
	add("AK", "Ada Kestrel", "yes");
	give_pin("AK", "24680");
}

static enum rc
try_pin(const char *pin, struct err *err)
{
	err_clear(err);
	return people_pin_check(k.sn, "AK", pin, err);
}

/* As if so much later, on the computer's own clock. */
static void
later(int64_t ms)
{
	char sql[120];

	str_fmt(sql, sizeof(sql),
	    "UPDATE person SET tried_ms = tried_ms - %lld", (long long)ms);
	ck_assert_int_eq(kitchen_sql(k.db, sql), 0);
}

/* clang-format off */
static const struct {
	const char *why;
	struct person_in in;
	enum rc rc;
	const char *says;
} adds[] = {
	{ "one letter", { "A", "Ada", NULL, NULL, "AK" }, RC_OK, "" },
	{ "fifteen bytes", { "ABCDEFGHIJKLMNO", "Ada", NULL, NULL, "AK" },
	    RC_OK, "" },
	{ "sixteen", { "ABCDEFGHIJKLMNOP", "Ada", NULL, NULL, "AK" },
	    RC_INVALID, "initials" },
	{ "letters beyond ASCII", { "Øå", "Øyvind Ås", NULL, NULL, "AK" },
	    RC_OK, "" },
	{ "none", { "", "Ada", NULL, NULL, "AK" }, RC_INVALID, "empty" },
	{ "not said", { NULL, "Ada", NULL, NULL, "AK" }, RC_INVALID, "empty" },
	{ "a blank", { "A K", "Ada", NULL, NULL, "AK" }, RC_INVALID, "blank" },
	{ "a line end", { "A\n", "Ada", NULL, NULL, "AK" }, RC_INVALID,
	    "initials" },
	{ "no name", { "A", "", NULL, NULL, "AK" }, RC_INVALID, "name" },
	{ "name not said", { "A", NULL, NULL, NULL, "AK" }, RC_INVALID,
	    "name" },
	{ "neither yes nor no", { "A", "Ada", "maybe", NULL, "AK" },
	    RC_INVALID, "chef is yes or no" },
	{ "nobody does it", { "A", "Ada", NULL, NULL, "" }, RC_INVALID,
	    "--by" },
	{ "taken, in another case", { "lm", "Ada", NULL, NULL, "AK" },
	    RC_REFUSED, "LM is Lou Marram already" },
	{ "taken by one who left", { "GG", "Ada", NULL, NULL, "AK" },
	    RC_REFUSED, "who left" },
};
/* clang-format on */

START_TEST(add_rows)
{
	struct person_in gone = {
		.initials = "GG", .active = "no", .by = "AK"
	};
	struct err err = { 0 };
	int64_t before;

	add("LM", "Lou Marram", NULL);
	add("GG", "Gil Gurnard", NULL);
	ck_assert_int_eq(people_change(NULL, k.sn, &gone, NULL), RC_OK);
	before = kitchen_records(&k);
	ck_assert_msg(people_add(NULL, k.sn, &adds[_i].in, &err) == adds[_i].rc,
	    "%s: %s", adds[_i].why, err.text);
	ck_assert_msg(strstr(err.text, adds[_i].says) != NULL, "%s: %s",
	    adds[_i].why, err.text);
	ck_assert_int_eq(kitchen_records(&k), before + (adds[_i].rc == RC_OK));
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM person"),
	    2 + (adds[_i].rc == RC_OK));
}
END_TEST

START_TEST(who_worked_last_is_first)
{
	struct person_list l;
	struct person_in gone = {
		.initials = "BB", .active = "no", .by = "AK"
	};

	add("AA", "Ann", NULL);
	add("BB", "Ben", NULL);
	add("CC", "Cy", NULL);
	ck_assert_int_eq(people_works(k.sn, "aa", NULL), RC_OK);
	ck_assert_int_eq(people_change(NULL, k.sn, &gone, NULL), RC_OK);
	ck_assert_int_eq(people_list(&l, k.sn, false, 0, 10, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[0].initials, "AA");
	ck_assert_str_eq(l.items[1].initials, "CC");
	person_list_fini(&l);
	ck_assert_int_eq(people_list(&l, k.sn, true, 1, 10, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[1].initials, "BB");
	ck_assert(!l.items[1].active);
	person_list_fini(&l);
	ck_assert_int_eq(people_list(&l, k.sn, false, 0, 1, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	person_list_fini(&l);
	ck_assert_int_eq(people_works(k.sn, "BB", NULL), RC_REFUSED);
	ck_assert_int_eq(people_works(k.sn, "ZZ", NULL), RC_NOTFOUND);
}
END_TEST

static const struct {
	const char *pin;
	enum rc rc;
} pins[] = {
	{ "1234", RC_OK },
	{ "123456789012", RC_OK },
	{ "123", RC_INVALID },
	{ "1234567890123", RC_INVALID },
	{ "", RC_INVALID },
	{ "12 34", RC_INVALID },
	{ "-1234", RC_INVALID },
	{ "12345678901234567890", RC_INVALID },
};

START_TEST(pin_rows)
{
	struct err err = { 0 };

	add("AK", "Ada", "yes");
	ck_assert_int_eq(
	    people_pin_set(k.sn, "AK", pins[_i].pin, "AK", &err), pins[_i].rc);
	if (pins[_i].rc != RC_OK) {
		ck_assert_str_eq(err.text, "a PIN is 4 to 12 digits");
		ck_assert_int_eq(
		    kitchen_count(&k, "SELECT count(pin_hash) FROM person"), 0);
		ck_assert_int_eq(try_pin(pins[_i].pin, &err), RC_INVALID);
		return;
	}
	ck_assert_msg(try_pin(pins[_i].pin, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(try_pin("99999", &err), RC_REFUSED);
}
END_TEST

/* The costs libsodium calls interactive stand in the text of the hash, which
 * is the PHC string format of Argon2 (RFC 9106 for the algorithm); libsodium
 * itself, asked apart from our code, finds the PIN right. */
START_TEST(hash_is_argon2id)
{
	struct person p;
	char hash[SECRET_HASH_SIZE], again[SECRET_HASH_SIZE], want[40];

	chef_ak();
	ck_assert_int_eq(people_get(&p, k.sn, "AK", NULL), RC_OK);
	ck_assert_int_eq(person_hash(hash, k.sn->st, p.id, NULL), RC_OK);
	str_fmt(want, sizeof(want), "$argon2id$v=19$m=%d,t=%d,p=1$", 65536, 2);
	ck_assert_msg(strncmp(hash, want, strlen(want)) == 0, "%s", hash);
	ck_assert_int_eq(crypto_pwhash_str_verify(hash, "24680", 5), 0);
	ck_assert_int_ne(crypto_pwhash_str_verify(hash, "24681", 5), 0);
	/* the same PIN has another hash each time */
	give_pin("AK", "24680");
	ck_assert_int_eq(person_hash(again, k.sn->st, p.id, NULL), RC_OK);
	ck_assert_str_ne(hash, again);
}
END_TEST

/* After so many wrong tries the next waits so long: three free, then 30 s,
 * doubling up to 15 minutes, as docs/decisions/0010-people.md says. */
static const struct {
	int wrong;
	int64_t wait_s;
} waits[] = {
	{ 0, 0 },
	{ 1, 0 },
	{ 2, 0 },
	{ 3, 30 },
	{ 4, 60 },
	{ 5, 120 },
	{ 6, 240 },
	{ 7, 480 },
	{ 8, 900 },
	{ 9, 900 },
	{ 1000000, 900 },
};

START_TEST(wait_rows)
{
	const int64_t wait = waits[_i].wait_s, at = 500000000;
	int wrong = waits[_i].wrong;

	ck_assert_int_eq(pin_wait_s(wrong, at, at), wait);
	ck_assert_int_eq(pin_wait_s(wrong, at, at + 999), wait);
	ck_assert_int_eq(pin_wait_s(wrong, at, at + wait * 500), wait / 2);
	ck_assert_int_eq(pin_wait_s(wrong, at, at + wait * 1000), 0);
	ck_assert_int_eq(pin_wait_s(wrong, at, at * 2), 0);
	/* The computer was started again after the try.  How long it was off
	 * is not known, only how long it is on. */
	ck_assert_int_eq(pin_wait_s(wrong, at, 0), wait);
	ck_assert_int_eq(pin_wait_s(wrong, at, wait * 500), wait / 2);
	ck_assert_int_eq(pin_wait_s(wrong, at, wait * 1000), 0);
}
END_TEST

START_TEST(wrong_tries_wait)
{
	struct err err = { 0 };

	chef_ak();
	ck_assert_int_eq(try_pin("1111", &err), RC_REFUSED);
	ck_assert_str_eq(
	    err.text, "that is not the PIN of AK: 2 more tries before a wait");
	ck_assert_int_eq(try_pin("2222", &err), RC_REFUSED);
	ck_assert_int_eq(try_pin("3333", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "the next try in 30 seconds"));
	/* even the right one waits now, and waiting does not prolong it */
	ck_assert_int_eq(try_pin("24680", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "3 wrong PINs for AK: wait "));
	ck_assert_int_eq(kitchen_count(&k, "SELECT wrong FROM person"), 3);
	/* also after the program was started again, and by another date */
	ck_assert_int_eq(kitchen_station(&k, "2027-11-25T10:05", NULL), RC_OK);
	ck_assert_int_eq(try_pin("24680", &err), RC_REFUSED);
	later(31000);
	ck_assert_int_eq(try_pin("4444", &err), RC_REFUSED);
	ck_assert_msg(
	    strstr(err.text, "in 60 seconds") != NULL, "%s", err.text);
	later(31000);
	ck_assert_int_eq(try_pin("24680", &err), RC_REFUSED);
	later(31000);
	ck_assert_msg(try_pin("24680", &err) == RC_OK, "%s", err.text);
	/* the row of wrong ones is over */
	ck_assert_int_eq(kitchen_count(&k, "SELECT wrong FROM person"), 0);
	ck_assert_int_eq(try_pin("1111", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "2 more tries"));
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'wrong PIN'"),
	    5);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE"
			     " detail LIKE '%1111%' OR detail LIKE '%24680%'"),
	    0);
}
END_TEST

/* The plug pulled between a try and its answer: it was counted.  An abandoned
 * try is what count_try() leaves, so it is played by SQL. */
START_TEST(try_counts_before_it_is_looked_at)
{
	struct err err = { 0 };

	chef_ak();
	ck_assert_int_eq(kitchen_sql(k.db,
			     "CREATE TRIGGER pulled BEFORE UPDATE OF wrong ON"
			     " person WHEN NEW.wrong <> OLD.wrong + 1"
			     " BEGIN SELECT raise(ABORT, 'pulled'); END;"),
	    0);
	/* the answer cannot be kept, so nothing is opened */
	ck_assert_int_ne(try_pin("24680", &err), RC_OK);
	ck_assert_int_eq(kitchen_count(&k, "SELECT wrong FROM person"), 1);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *sql;
	const char *initials;
	enum rc rc;
	const char *says;
} refused[] = {
	{ "nobody", "SELECT 1", "ZZ", RC_NOTFOUND, "ZZ" },
	{ "no PIN", "UPDATE person SET pin_hash = NULL", "AK", RC_REFUSED,
	    "AK has no PIN" },
	{ "left", "UPDATE person SET active = 0", "AK", RC_REFUSED,
	    "left" },
	{ "no chef", "UPDATE person SET chef = 0", "AK", RC_REFUSED,
	    "not marked as a chef" },
	{ "a damaged hash", "UPDATE person SET pin_hash = '$argon2id$x'",
	    "AK", RC_REFUSED, "not the PIN" },
};
/* clang-format on */

START_TEST(refused_rows)
{
	struct err err = { 0 };

	chef_ak();
	ck_assert_int_eq(kitchen_sql(k.db, refused[_i].sql), 0);
	ck_assert_msg(people_allow(k.sn, DUTY_RELEASE, refused[_i].initials,
			  "24680", "LM", &err) == refused[_i].rc,
	    "%s: %s", refused[_i].why, err.text);
	ck_assert_msg(strstr(err.text, refused[_i].says) != NULL, "%s: %s",
	    refused[_i].why, err.text);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'allowed'"),
	    0);
}
END_TEST

START_TEST(doors)
{
	enum pin_need need;
	int d;

	for (d = 0; d < DUTY_COUNT; d++) {
		ck_assert_int_eq(
		    people_duty_needs_pin(&need, k.sn, d, NULL), RC_OK);
		ck_assert_int_eq(need,
		    d == DUTY_ANYONE ? PIN_NOT_NEEDED : PIN_NOBODY_HAS_IT);
		ck_assert_ptr_nonnull(duty_words(d));
	}
	/* a PIN of somebody who is no chef opens nothing and locks nothing */
	add("LM", "Lou Marram", NULL);
	give_pin("LM", "1357");
	ck_assert_int_eq(
	    people_duty_needs_pin(&need, k.sn, DUTY_CLOCK, NULL), RC_OK);
	ck_assert_int_eq(need, PIN_NOBODY_HAS_IT);
	chef_ak();
	for (d = DUTY_RELEASE; d < DUTY_COUNT; d++) {
		ck_assert_int_eq(
		    people_duty_needs_pin(&need, k.sn, d, NULL), RC_OK);
		ck_assert_int_eq(need, PIN_NEEDED);
	}
	k.sn->cfg.chef_release = k.sn->cfg.chef_clock = false;
	k.sn->cfg.chef_cancel_unsure = k.sn->cfg.chef_discard_batch = false;
	k.sn->cfg.chef_restore = false;
	for (d = DUTY_ANYONE; d < DUTY_COUNT; d++) {
		ck_assert_int_eq(
		    people_duty_needs_pin(&need, k.sn, d, NULL), RC_OK);
		ck_assert_int_eq(need,
		    d == DUTY_PEOPLE || d == DUTY_PRUNE ? PIN_NEEDED
							: PIN_NOT_NEEDED);
	}
	ck_assert_int_eq(
	    people_allow(k.sn, DUTY_RELEASE, "ak", "24680", "LM", NULL), RC_OK);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE action ="
			     " 'allowed' AND subject = 'lift a hold' AND by ="
			     " 'LM' AND detail = 'by the PIN of AK'"),
	    1);
}
END_TEST

START_TEST(last_chef_stays)
{
	struct person_in no_chef = {
		.initials = "AK", .chef = "no", .by = "LM"
	};
	struct person_in leaves = {
		.initials = "AK", .active = "no", .by = "LM"
	};
	struct err err = { 0 };

	chef_ak();
	add("LM", "Lou Marram", "yes");
	ck_assert_int_eq(people_change(NULL, k.sn, &no_chef, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "only chef with a PIN"));
	ck_assert_int_eq(people_change(NULL, k.sn, &leaves, NULL), RC_REFUSED);
	give_pin("LM", "1357");
	ck_assert_int_eq(people_change(NULL, k.sn, &leaves, NULL), RC_OK);
	ck_assert_int_eq(
	    people_pin_set(k.sn, "AK", "9999", "LM", NULL), RC_REFUSED);
}
END_TEST

/* A date in doubt: the chef's PIN still opens the date, a wrong one is told of
 * later, and neither ends the doubt. */
START_TEST(doubtful_date)
{
	struct moment at;
	struct err err = { 0 };
	struct buf out;
	char today[16];

	kitchen_close(&k);
	kitchen_make(&k, false);
	ck_assert_int_eq(kitchen_station(&k, NULL, NULL), RC_OK);
	chef_ak();
	at = (struct moment){ .utc = clock_now(&k.sn->clock) + 86400,
		.by = "AK" };
	rig_note(k.sn->st, &at);
	ck_assert_int_eq(station_moment(&at, k.sn, "AK", NULL), RC_REFUSED);
	ck_assert_int_eq(try_pin("1111", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "2 more tries"));
	err_clear(&err);
	ck_assert_msg(
	    people_allow(k.sn, DUTY_CLOCK, "AK", "24680", "LM", &err) == RC_OK,
	    "%s", err.text);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE action IN"
			     " ('wrong PIN', 'allowed')"),
	    0);
	ck_assert_int_eq(station_moment(&at, k.sn, "AK", NULL), RC_REFUSED);
	/* people cannot be changed now, nor PINs set */
	ck_assert_int_eq(
	    people_pin_set(k.sn, "AK", "5555", "AK", NULL), RC_REFUSED);
	buf_init(&out, 1000);
	day_print(
	    today, sizeof(today), local_from_utc(clock_now(&k.sn->clock)).day);
	ck_assert_int_eq(watch_confirm(&out, k.sn, today, "AK", NULL), RC_OK);
	buf_fini(&out);
	ck_assert_int_eq(try_pin("24680", NULL), RC_OK);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE action ="
			     " 'wrong PIN' AND by = 'nobody' AND detail ="
			     " '1 more, 0 in a row now'"),
	    1);
}
END_TEST

Suite *
suite_ops_people(void)
{
	Suite *s = suite_create("ops_people");
	TCase *t = tcase_create("people");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 30);
	tcase_add_loop_test(t, add_rows, 0, NELEM(adds));
	tcase_add_test(t, who_worked_last_is_first);
	tcase_add_loop_test(t, pin_rows, 0, NELEM(pins));
	tcase_add_test(t, hash_is_argon2id);
	tcase_add_loop_test(t, wait_rows, 0, NELEM(waits));
	tcase_add_test(t, wrong_tries_wait);
	tcase_add_test(t, try_counts_before_it_is_looked_at);
	tcase_add_loop_test(t, refused_rows, 0, NELEM(refused));
	tcase_add_test(t, doors);
	tcase_add_test(t, last_chef_stays);
	tcase_add_test(t, doubtful_date);
	suite_add_tcase(s, t);
	return s;
}
