/* test_years.c - the invented years are a file the operations could have
 * made, and every rule of sound.c finds what breaks it. */
#include <check.h>
#include <sqlite3.h>
#include <stdlib.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/look.h"
#include "ops/station.h"
#include "sound.h"
#include "store/store.h"
#include "tests/bench/years.h"
#include "unit.h"

static struct kitchen k;
static sqlite3 *db;
static struct years_made made;

#define DAYS 20

/* Once for all of them; none leaves it unsound. */
static void
make_once(void)
{
	struct years_wish w = { .days = DAYS, .seed = 5 };
	struct err err = { 0 };

	kitchen_make(&k, true);
	w.db = k.db;
	ck_assert_msg(years_make(&made, &w, &err) == RC_OK, "%s", err.text);
}

static void
drop_once(void)
{
	kitchen_close(&k);
}

static void
setup(void)
{
	ck_assert_int_eq(
	    sqlite3_open_v2(k.db, &db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
}

static void
teardown(void)
{
	station_close(k.sn);
	k.sn = NULL;
	sqlite3_close(db);
}

static int64_t
number(const char *sql)
{
	return kitchen_count(&k, sql);
}

START_TEST(the_file_is_sound)
{
	const char *wrong = sound_check(db, 0);

	ck_assert_msg(wrong == NULL, "%s", wrong);
	/* 6 000 batches and 250 000 units a year, within a tenth; the last
	 * morning has but a quarter of its units. */
	ck_assert_int_gt(made.batches, 6000 * DAYS / 365 * 9 / 10);
	ck_assert_int_gt(made.portions, 250000 * (DAYS - 1) / 365 * 9 / 10);
	ck_assert_int_lt(made.portions, 250000 * DAYS / 365 * 11 / 10);
	ck_assert_int_gt(number("SELECT count(*) FROM portion_event"
				" WHERE kind = 'discarded'"),
	    0);
	ck_assert_int_gt(
	    number("SELECT count(*) FROM freezing WHERE kind = 'thawed'"), 1);
	ck_assert_int_eq(number("SELECT count(*) FROM hold"
				" WHERE released_utc IS NULL"),
	    1);
	ck_assert_int_gt(number("SELECT count(*) FROM hold"
				" WHERE released_utc IS NOT NULL"),
	    0);
	ck_assert_int_eq(number("SELECT count(*) FROM closed"), 2 * (DAYS - 1));
	/* The trail in the order of time, and guarded. */
	ck_assert_int_eq(number("SELECT count(*) FROM audit a JOIN audit b"
				" ON b.id = a.id + 1"
				" WHERE b.at_utc < a.at_utc"),
	    0);
	ck_assert_int_ne(kitchen_sql(k.db,
			     "INSERT OR REPLACE INTO audit SELECT * FROM"
			     " audit LIMIT 1"),
	    SQLITE_OK);
}
END_TEST

START_TEST(only_the_last_days_are_on_hand)
{
	ck_assert_int_gt(
	    number("SELECT count(*) FROM portion WHERE left > 0"), 200);
	/* As the plan takes at most 500 trays. */
	ck_assert_int_lt(
	    number("SELECT count(*) FROM portion WHERE left > 0"), 500);
	ck_assert_int_eq(
	    number("SELECT count(*) FROM portion WHERE left > 0 AND"
		   " frozen_utc IS NULL AND use_by_utc < (SELECT max(at_utc)"
		   " FROM audit)"),
	    0);
	ck_assert_int_eq(
	    number("SELECT count(*) FROM batch WHERE open = 1 AND use_by_utc <"
		   " (SELECT max(at_utc) FROM audit)"),
	    0);
	ck_assert_int_gt(
	    number("SELECT count(*) FROM batch WHERE open = 1"), 10);
}
END_TEST

/* The station works with it: a portion of it can be used as any other. */
START_TEST(the_station_works_with_it)
{
	char ini[400], code[CODE_SIZE];
	struct station_options o = {
		.db = k.db, .config = ini, .now = YEARS_NOW
	};
	struct err err = { 0 };
	sqlite3_stmt *s = NULL;
	struct use_in in = { .code = code, .by = "AK" };
	struct portion p;

	str_fmt(ini, sizeof(ini), "%s.ini", k.db);
	ck_assert_msg(
	    station_open(&k.sn, &o, true, &err) == RC_OK, "%s", err.text);
	store_check_plans(k.sn->st, true);
	ck_assert_int_eq(sqlite3_prepare_v2(db,
			     "SELECT code FROM portion WHERE left > 0 AND"
			     " frozen_utc IS NULL ORDER BY use_by_utc,"
			     " made_utc, serial",
			     -1, &s, NULL),
	    SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(s), SQLITE_ROW);
	str_copy(code, sizeof(code), (const char *)sqlite3_column_text(s, 0));
	sqlite3_finalize(s);
	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_ptr_null(sound_check(db, 0));
}
END_TEST

/* What breaks each rule, so that none is asleep. */
/* A tray put together from the newest unit alone, and its parts. */
#define TRAY(later)                                                            \
	"INSERT INTO portion (serial, code, prep_output_id, batch_id, cut_id," \
	" servings, left, weight_g, made_utc, made_offset_min, use_by_utc,"    \
	" use_by_why, by) SELECT serial + 1, 'CCCCCC', prep_output_id,"        \
	" batch_id, cut_id, servings, servings, weight_g, made_utc, 0,"        \
	" use_by_utc + " later                                                 \
	", '{}', 'AB' FROM portion ORDER BY id DESC"                           \
	" LIMIT 1;"
#define PART(servings)                                                         \
	"INSERT INTO portion_joined SELECT (SELECT max(id) FROM portion),"     \
	" p.id, " servings                                                     \
	", p.weight_g FROM portion p WHERE p.id ="                             \
	" (SELECT max(id) - 1 FROM portion);"
#define WENT                                                                   \
	"INSERT INTO portion_event (portion_id, kind, servings, reason,"       \
	" at_utc, offset_min, by) SELECT p.id, 'combined', p.servings, 'x',"   \
	" p.made_utc, 0, 'AB' FROM portion p WHERE p.id ="                     \
	" (SELECT max(id) - 1 FROM portion);"                                  \
	"UPDATE portion SET left = left - servings WHERE id ="                 \
	" (SELECT max(id) - 1 FROM portion)"

static const struct {
	const char *why, *sql, *says;
} breaks[] = {
	{ "a serving vanishes",
	    "UPDATE portion SET left = 0 WHERE id = (SELECT max(id) FROM"
	    " portion WHERE left > 0)",
	    "servings are left + events" },
	{ "a batch gives more than it was",
	    "UPDATE batch SET weight_g = weight_g / 2 WHERE decision <>"
	    " 'refused'",
	    "a batch weighs its parts" },
	{ "more came out than went in",
	    "UPDATE prep_loss SET weight_g = weight_g + 99999 WHERE"
	    " kind = 'waste'",
	    "no more comes out" },
	{ "a unit weighs something else",
	    "UPDATE portion SET weight_g = weight_g + 1 WHERE id = (SELECT"
	    " max(id) FROM portion)",
	    "units are what came out" },
	{ "a tray has more than came onto it", TRAY("0") PART("p.servings + 1"),
	    "a tray put together is" },
	{ "nothing went off for it", TRAY("0") PART("p.servings"),
	    "what went off a unit" },
	{ "it keeps longer than what lay on it",
	    TRAY("86400") PART("p.servings") WENT, "no tray put together" },
	{ "another fish on it",
	    "INSERT INTO portion_source SELECT p.id, (SELECT b.id FROM batch b"
	    " WHERE b.species <> c.species LIMIT 1) FROM portion p JOIN cut c"
	    " ON c.id = p.cut_id ORDER BY p.id DESC LIMIT 1",
	    "a unit is of one species" },
	{ "a second batch that its units do not name",
	    "INSERT INTO prep_input (prep_id, batch_id, fish, weight_g) SELECT"
	    " o.prep_id, (SELECT min(id) FROM batch), 0, 1 FROM portion p"
	    " JOIN prep_output o ON o.id = p.prep_output_id ORDER BY p.id DESC"
	    " LIMIT 1",
	    "a unit has every batch" },
	{ "used a day later",
	    "UPDATE portion_event SET at_utc = at_utc + 10 * 86400 WHERE id ="
	    " (SELECT max(id) FROM portion_event WHERE kind = 'used')",
	    "nothing was used past" },
	{ "used frozen",
	    "UPDATE freezing SET at_utc = at_utc + 30 * 86400 WHERE"
	    " kind = 'thawed'",
	    "nothing was used" },
	{ "made of what was refused",
	    "UPDATE batch SET decision = 'refused', open = 0, note = 'x' WHERE"
	    " id = (SELECT max(batch_id) FROM prep_input)",
	    "nothing was made of a refused" },
	{ "made of what had expired",
	    "UPDATE batch SET use_by_utc = received_utc WHERE id ="
	    " (SELECT max(batch_id) FROM prep_input)",
	    "nothing was made of a batch past" },
	{ "a unit that keeps longer than its fish",
	    "UPDATE portion SET use_by_utc = use_by_utc + 9 * 86400 WHERE id ="
	    " (SELECT max(p.id) FROM portion p JOIN cut c ON c.id = p.cut_id"
	    " JOIN dish d ON d.id = c.dish_id WHERE d.state = 'raw')",
	    "no unit outlives" },
	{ "a second first label",
	    "INSERT INTO print_job (portion_id, copy, state, language, printer,"
	    " picture, error, at_utc, changed_utc, by) SELECT portion_id, 0,"
	    " 'sent', language, printer, picture, '', at_utc, at_utc, by FROM"
	    " print_job WHERE portion_id IS NOT NULL ORDER BY id DESC LIMIT 1",
	    "a first label is printed once" },
	{ "a row of the trail is gone",
	    "DROP TRIGGER audit_no_delete; DELETE FROM audit WHERE id = 7",
	    "the audit trail" },
	{ "a link into nothing",
	    "UPDATE portion_event SET service_id ="
	    " 99999 WHERE kind = 'used'",
	    "every link leads" },
	{ "a code of another serial",
	    "UPDATE portion SET code = 'CCCCCC' WHERE id = (SELECT max(id)"
	    " FROM portion)",
	    "a code follows" },
};

START_TEST(a_broken_rule_is_found)
{
	const char *said;

	ck_assert_int_eq(
	    sqlite3_exec(db, "BEGIN", NULL, NULL, NULL), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(db, breaks[_i].sql, NULL, NULL, NULL), SQLITE_OK);
	said = sound_check(db, 0);
	sqlite3_exec(db, "ROLLBACK", NULL, NULL, NULL);
	ck_assert_msg(said != NULL, "%s: not found", breaks[_i].why);
	ck_assert_msg(strstr(said, breaks[_i].says) != NULL, "%s: %s",
	    breaks[_i].why, said);
}
END_TEST

Suite *
suite_years(void)
{
	Suite *s = suite_create("years");
	TCase *t = tcase_create("file");

	tcase_set_timeout(t, 30);
	tcase_add_unchecked_fixture(t, make_once, drop_once);
	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, the_file_is_sound);
	tcase_add_test(t, only_the_last_days_are_on_hand);
	tcase_add_test(t, the_station_works_with_it);
	tcase_add_loop_test(t, a_broken_rule_is_found, 0,
	    (int)(sizeof(breaks) / sizeof(breaks[0])));
	suite_add_tcase(s, t);
	return s;
}
