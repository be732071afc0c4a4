/*
 * test_ops_pace.c - minutes of a breakdown: what is expected of it, what it
 * teaches, what is not believed.  Expected seconds by hand from
 * config/minutes.csv.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "store/pace.h"
#include "store/store.h"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	cod = kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/* Four gutted cod of 2 kg into 20 supremes, skin on. */
static struct breakdown_in
four_cod(int64_t minutes)
{
	struct breakdown_in in = {
		.batch = cod.code,
		.fish = 4,
		.weight_g = 8000,
		.makes = { { "cod-leeks", 20, 3300, 1 } },
		.make_count = 1,
		.minutes = minutes,
		.by = "CD",
	};

	return in;
}

static struct breakdown
record(const struct breakdown_in *in)
{
	struct breakdown out;
	struct err err = { 0 };

	ck_assert_msg(
	    breakdown_record(&out, k.sn, in, &err) == RC_OK, "%s", err.text);
	return out;
}

static void
refuse(const struct breakdown_in *in, enum rc rc, const char *says)
{
	int64_t before = kitchen_records(&k);
	struct breakdown out;
	struct err err = { 0 };

	ck_assert_int_eq(breakdown_record(&out, k.sn, in, &err), rc);
	ck_assert_msg(strstr(err.text, says) != NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM prep_minutes"), 0);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM pace"), 0);
}

static int64_t
learned(const char *column, const char *task, const char *species)
{
	char sql[200];

	ck_assert(str_fmt(sql, sizeof(sql),
	    "SELECT coalesce(sum(%s), -1) FROM pace WHERE task = '%s'"
	    " AND species = '%s'",
	    column, task, species));
	return kitchen_count(&k, sql);
}

/*
 * Scaling 4 x 120, filleting 4 x 150, pin-boning 8 x 45, portioning 20 x 20;
 * 340 s a fish on the board are three at once, two trays of 45 s: 1930 s.
 * Told 40 minutes, 2400 s: filleting has 2 400 000 x 600 / 1930 = 746 114 ms
 * of them.  Shape 0.9 x 20 + 4 = 22, scale 0.9 x 20 x 150 + 746.114.
 */
START_TEST(teaches)
{
	struct breakdown_in in = four_cod(40);
	struct breakdown b = record(&in);

	ck_assert_int_eq(b.pace.minutes, 40);
	ck_assert_int_eq(b.pace.expected_s, 1930);
	ck_assert(b.pace.taught);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM pace"), 5);
	ck_assert_int_eq(learned("shape", "fillet", "COD"), 22000);
	ck_assert_int_eq(learned("scale", "fillet", "COD"), 3446114);
	ck_assert_int_eq(learned("from_g", "fillet", "COD"), 1000);
	ck_assert_int_eq(learned("shape", "pin-bone", "COD"), 26000);
	ck_assert_int_eq(learned("shape", "portion", "COD"), 38000);
	ck_assert_int_eq(learned("shape", "tray", "COD"), 20000);
	/* No millisecond of the forty minutes is lost or made up: what is in
	 * the scales less nine tenths of what was there. */
	ck_assert_int_eq(kitchen_count(&k, "SELECT sum(scale) FROM pace"),
	    2400000 + 18 * 1000 * (120 + 150 + 45 + 20 + 45));
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT minutes * 10000 + expected_s FROM prep_minutes"
		" WHERE taught = 1"),
	    401930);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'minutes' AND detail ="
			     " '40 minutes, about 33 expected, learned'"),
	    1);
	breakdown_fini(&b);
}
END_TEST

/* What was learned is expected the next time, and the station file keeps it. */
START_TEST(expects_what_it_learned)
{
	struct breakdown_in in = four_cod(40);
	struct breakdown b = record(&in);
	struct pace_list l;
	struct err err = { 0 };
	size_t i;

	breakdown_fini(&b);
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, &err), RC_OK);
	ck_assert_int_eq(pace_list_open(&l, k.sn->st, &err), RC_OK);
	ck_assert_uint_eq(l.count, 5);
	for (i = 0; i < l.count; i++)
		ck_assert(l.items[i].learned);
	pace_list_fini(&l);
	b = record(&in);
	ck_assert_int_gt(b.pace.expected_s, 1930);
	ck_assert_int_lt(b.pace.expected_s, 2400);
	breakdown_fini(&b);
}
END_TEST

/* A fifth and five times of 1930 s, and a minute for the watch: 7 to 161. */
START_TEST(not_believed)
{
	struct breakdown_in in = four_cod(6);
	struct breakdown b;

	refuse(&in, RC_REFUSED,
	    ": 6 minutes where about 33 are expected: check --minutes, or "
	    "keep them without learning with --minutes-ok");
	in.minutes = 162;
	refuse(&in, RC_REFUSED, ": 162 minutes where about 33 are expected");
	in.minutes = 1441;
	refuse(&in, RC_INVALID, "--minutes 1441 is outside 1 to 1440");
	in.minutes = -1;
	refuse(&in, RC_INVALID, "--minutes -1 is outside");
	in.minutes = 0;
	in.minutes_ok = true;
	refuse(&in, RC_INVALID, "--minutes-ok without --minutes");
	in = four_cod(161);
	b = record(&in);
	ck_assert(b.pace.taught);
	breakdown_fini(&b);
}
END_TEST

START_TEST(just_believed)
{
	struct breakdown_in in = four_cod(7);
	struct breakdown b = record(&in);

	ck_assert(b.pace.taught);
	breakdown_fini(&b);
}
END_TEST

/* Kept, and nothing learned. */
START_TEST(kept_only)
{
	struct breakdown_in in = four_cod(600);
	struct breakdown b;

	in.minutes_ok = true;
	b = record(&in);
	ck_assert(!b.pace.taught);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM pace"), 0);
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT minutes FROM prep_minutes WHERE taught = 0"),
	    600);
	breakdown_fini(&b);
}
END_TEST

START_TEST(nobody_said)
{
	struct breakdown_in in = four_cod(0);
	struct breakdown b = record(&in);

	ck_assert_int_eq(b.pace.minutes, 0);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM prep_minutes"), 0);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM pace"), 0);
	breakdown_fini(&b);
}
END_TEST

/*
 * Two dishes: half the weight each, so two fish each.  Supremes: scale 2 x
 * 120, fillet 2 x 150, pin-bone 4 x 45, portion 10 x 20, tray 45 (340 s a fish,
 * both at once).  Cakes, cooked from skinless meat: fillet 2 x 150, skin 4 x
 * 20, portion 10 x 20, tray 45.  Filleting counts once, of four fish.
 */
START_TEST(two_dishes)
{
	struct breakdown_in in = four_cod(30);
	struct breakdown b;

	in.makes[0] = (struct make){ "cod-leeks", 10, 1650, 1 };
	in.makes[1] = (struct make){ "cod-cakes", 10, 1650, 10 };
	in.make_count = 2;
	b = record(&in);
	ck_assert_int_eq(b.pace.expected_s,
	    240 + 300 + 180 + 200 + 45 + 300 + 80 + 200 + 45);
	ck_assert_int_eq(learned("shape", "scale", "COD"), 20000);
	ck_assert_int_eq(learned("shape", "fillet", "COD"), 22000);
	ck_assert_int_eq(learned("shape", "skin", "COD"), 22000);
	ck_assert_int_eq(learned("shape", "portion", "COD"), 38000);
	breakdown_fini(&b);
}
END_TEST

/* A dish too light for a whole fish of its own; and no dish at all. */
START_TEST(light_dish_and_none)
{
	struct breakdown_in in = four_cod(20);
	struct breakdown b;

	in.fish = 1;
	in.weight_g = 2000;
	in.makes[0] = (struct make){ "cod-leeks", 1, 160, 1 };
	in.makes[1] = (struct make){ "cod-cakes", 8, 700, 8 };
	in.make_count = 2;
	b = record(&in);
	ck_assert_int_eq(learned("shape", "fillet", "COD"), 19000);
	ck_assert_int_eq(learned("shape", "portion", "COD"), 27000);
	breakdown_fini(&b);
	in.make_count = 0;
	in.loss_g[LOSS_TRIM] = 700;
	in.minutes = 4;
	b = record(&in);
	/* 0.9 x 19 + 1 */
	ck_assert_int_eq(learned("shape", "fillet", "COD"), 18100);
	breakdown_fini(&b);
}
END_TEST

/* Fillets by weight: pieces nobody counted are pin-boned, so the minutes are
 * kept, whatever they are, and neither believed nor learned. */
START_TEST(never_counted)
{
	struct receive_in box = kitchen_cod();
	struct breakdown_in in = four_cod(1);
	struct batch batch;
	struct breakdown b;

	box.count = NULL;
	batch = kitchen_receive(&k, &box);
	in.batch = batch.code;
	in.fish = 0;
	b = record(&in);
	ck_assert(!b.pace.taught);
	ck_assert_int_eq(b.pace.expected_s, 0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'minutes'"
			     " AND detail = '1 minutes, kept only'"),
	    1);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM pace"), 0);
	breakdown_fini(&b);
}
END_TEST

/* Mussels by weight are scrubbed by the kilogram: those teach. */
START_TEST(by_the_kilogram)
{
	struct receive_in net = kitchen_cod();
	struct breakdown_in in = four_cod(40);
	struct batch batch;
	struct breakdown b;

	net.species = "MUS";
	net.presentation = "live";
	net.count = NULL;
	net.weight = "5 kg";
	batch = kitchen_receive(&k, &net);
	in.batch = batch.code;
	in.fish = 0;
	in.weight_g = 5000;
	in.makes[0] = (struct make){ "mussel-pot", 10, 5000, 1 };
	b = record(&in);
	ck_assert(b.pace.taught);
	/* 5 x 300 + 10 x 20, 340 s a kilogram: three at once, two trays. */
	ck_assert_int_eq(b.pace.expected_s, 1500 + 200 + 90);
	ck_assert_int_eq(learned("shape", "scrub", "MUS"), 23000);
	breakdown_fini(&b);
}
END_TEST

/* Told every time the same, the station comes to expect it: 60 s where it
 * expected 1930 s of four fish is 45 minutes. */
START_TEST(comes_to_expect)
{
	struct receive_in more = kitchen_cod();
	struct breakdown_in in = four_cod(45);
	struct breakdown b;
	struct batch batch;
	int64_t expected = 0;
	int i;

	for (i = 0; i < 40; i++) {
		batch = kitchen_receive(&k, &more);
		in.batch = batch.code;
		b = record(&in);
		expected = b.pace.expected_s;
		breakdown_fini(&b);
	}
	ck_assert_int_ge(expected, 2690);
	ck_assert_int_le(expected, 2710);
}
END_TEST

/* A task of a later program's table is said, not guessed. */
START_TEST(unknown_task)
{
	struct pace_list l;
	struct err err = { 0 };

	ck_assert_int_eq(
	    kitchen_sql(
		k.db, "INSERT INTO pace VALUES ('smoke', 'COD', 0, 1, 1)"),
	    0);
	ck_assert_int_eq(pace_list_open(&l, k.sn->st, &err), RC_FAILED);
	ck_assert_ptr_nonnull(
	    strstr(err.text, "pace learned: task \"smoke\" is not one of"));
	ck_assert_ptr_null(l.items);
}
END_TEST

Suite *
suite_ops_pace(void)
{
	Suite *s = suite_create("ops_pace");
	TCase *t = tcase_create("all");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 60);
	tcase_add_test(t, teaches);
	tcase_add_test(t, expects_what_it_learned);
	tcase_add_test(t, not_believed);
	tcase_add_test(t, just_believed);
	tcase_add_test(t, kept_only);
	tcase_add_test(t, nobody_said);
	tcase_add_test(t, two_dishes);
	tcase_add_test(t, light_dish_and_none);
	tcase_add_test(t, never_counted);
	tcase_add_test(t, by_the_kilogram);
	tcase_add_test(t, comes_to_expect);
	tcase_add_test(t, unknown_task);
	suite_add_tcase(s, t);
	return s;
}
