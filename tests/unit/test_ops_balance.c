/*
 * test_ops_balance.c - random days in an invented kitchen: every gram has its
 * place, whatever was done, and what is missing is listed until explained.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "ops/balance.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/undo.h"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	kitchen_at(&k, "2026-11-25T09:00");
	cod = kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct balance_report
load(const struct balance_ask *ask)
{
	struct balance_report r;
	struct err err = { 0 };

	ck_assert_msg(
	    balance_load(&r, k.sn, ask, &err) == RC_OK, "%s", err.text);
	return r;
}

static struct mass
mass_of(const char *code)
{
	const struct balance_ask ask = { .what = code };
	struct balance_report r = load(&ask);
	struct mass m = r.total, sum = { 0 };
	size_t i;

	ck_assert(mass_adds_up(&m));
	for (i = 0; i < r.prep_count; i++) {
		ck_assert(mass_adds_up(&r.preps[i].mass));
		mass_add(&sum, &r.preps[i].mass);
	}
	/* What a batch has in portions, its breakdowns have. */
	ck_assert_int_eq(sum.part[MASS_USED], m.part[MASS_USED]);
	ck_assert_int_eq(sum.part[MASS_TRIM], m.part[MASS_TRIM]);
	balance_fini(&r);
	return m;
}

static int64_t
gap_count(void)
{
	const struct balance_ask ask = { 0 };
	struct gaps_report g;
	int64_t n;

	ck_assert_int_eq(balance_gaps_load(&g, k.sn, &ask, NULL), RC_OK);
	n = (int64_t)g.gaps.count;
	free(g.gaps.items);
	return n;
}

/* --- random days ----------------------------------------------------------*/

#define DEEDS 40

static void
deed_on(uint64_t *seed, const char *code)
{
	struct use_in use_it = {
		.code = code, .servings = 1, .reason = "test", .by = "EF"
	};
	struct discard_in throw_it = {
		.code = code, .servings = 1, .reason = "fell", .by = "EF"
	};
	struct count_in count_it = { .code = code,
		.servings = (int64_t)(chance_next(seed) % 4),
		.reason = "counted",
		.by = "EF" };
	struct freeze_in freeze_it = { .codes = &code,
		.count = 1,
		.temp = "-20",
		.reason = "too many",
		.by = "EF" };
	struct undo_offer offer;
	struct undo_in undo_it = { .by = "EF", .reason = "mistake" };
	struct portion p;
	struct discarded d;
	struct counted c;
	struct kept kept;

	/* A refusal is as good a deed as any: the sums must hold after it. */
	switch (chance_next(seed) % 6) {
	case 0:
	case 1:
		ignore_rc(use(&p, k.sn, &use_it, NULL));
		break;
	case 2:
		ignore_rc(discard(&d, k.sn, &throw_it, NULL));
		break;
	case 3:
		ignore_rc(count_unit(&c, k.sn, &count_it, NULL));
		break;
	case 4:
		ignore_rc(freeze(&kept, k.sn, &freeze_it, NULL));
		break;
	default:
		if (undo_last(&offer, k.sn, NULL, NULL) == RC_OK) {
			undo_it.step = offer.step;
			ignore_rc(undo_do(&offer, k.sn, &undo_it, NULL));
		}
	}
}

/* The same sums by SQL alone, over every batch. */
static void
against_sql(const struct mass *all)
{
	ck_assert_int_eq(
	    all->in, kitchen_count(&k, "SELECT sum(weight_g) FROM batch"));
	ck_assert_int_eq(all->part[MASS_CHILLED] + all->part[MASS_FROZEN] +
		all->part[MASS_USED] + all->part[MASS_THROWN] +
		all->part[MASS_MISSING],
	    kitchen_count(&k,
		"SELECT coalesce(sum(p.weight_g), 0) FROM portion p"
		" JOIN prep_output o ON o.id = p.prep_output_id"
		" WHERE o.prep_id NOT IN (SELECT prep_id FROM prep_struck)"));
	ck_assert_int_eq(all->part[MASS_FRAMES],
	    kitchen_count(&k,
		"SELECT coalesce(sum(weight_g), 0) FROM prep_loss"
		" WHERE kind = 'frames'"
		" AND prep_id NOT IN (SELECT prep_id FROM prep_struck)"));
	ck_assert_int_eq(all->part[MASS_DISCARDED],
	    kitchen_count(&k,
		"SELECT coalesce(sum(CASE kind WHEN 'returned'"
		" THEN -weight_g ELSE weight_g END), 0) FROM batch_event"
		" WHERE kind <> 'struck'"));
}

START_TEST(random_days)
{
	uint64_t seed = 1000 + (uint64_t)_i;
	const struct balance_ask day = { .what = "2026-11-25" };
	const struct balance_ask pier = { .supplier = "pier" };
	struct kitchen_cut cut = { "cod-leeks", 0, 0, 0, 0, 0 };
	struct receive_in in = kitchen_cod();
	char codes[24][CODE_SIZE];
	size_t n = 0, i, batches = 1 + chance_next(&seed) % 3;
	struct balance_report r;
	struct breakdown b;
	struct batch more = cod;
	struct mass all = { 0 }, one;

	for (i = 0; i < batches; i++) {
		if (i > 0)
			more = kitchen_receive(&k, &in);
		cut.fish = 1 + (int64_t)(chance_next(&seed) % 5);
		cut.in_g = 2000 * cut.fish - (grams)(chance_next(&seed) % 90);
		cut.per_label = 1 + (int64_t)(chance_next(&seed) % 4);
		cut.portions = cut.per_label * cut.fish;
		cut.portions_g =
		    165 * cut.portions + (grams)(chance_next(&seed) % 7);
		b = kitchen_break(&k, more.code, &cut);
		for (size_t u = 0; u < b.portion_count && n < 24; u++)
			str_copy(codes[n++], CODE_SIZE, b.portions[u].code);
		breakdown_fini(&b);
	}
	for (i = 0; i < DEEDS; i++) {
		deed_on(&seed, codes[chance_next(&seed) % n]);
		one = mass_of(cod.code);
		ck_assert_int_eq(one.in, cod.weight_g);
	}
	r = load(&day);
	for (i = 0; i < r.batch_count; i++) {
		ck_assert(mass_adds_up(&r.batches[i].mass));
		mass_add(&all, &r.batches[i].mass);
	}
	ck_assert_uint_eq(r.batch_count, batches);
	ck_assert_int_eq(memcmp(&all, &r.total, sizeof(all)), 0);
	against_sql(&all);
	balance_fini(&r);
	r = load(&pier);
	ck_assert_int_eq(memcmp(&all, &r.total, sizeof(all)), 0);
	balance_fini(&r);
}
END_TEST

/* What was taken back never was: a discard of fish, and a whole breakdown, on
 * its day and in its batch. */
START_TEST(taken_back)
{
	const struct balance_ask day = { .what = "2026-11-25" };
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct discard_in in = { .code = cod.code,
		.fish = 2,
		.weight_g = 3900,
		.reason = "bruised",
		.by = "EF" };
	struct undo_offer offer;
	struct undo_in back = { .by = "EF" };
	struct mass before = mass_of(cod.code), after;
	struct balance_report r;
	struct breakdown b;
	struct discarded d;
	struct err err = { 0 };

	ck_assert_int_eq(discard(&d, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(mass_of(cod.code).part[MASS_DISCARDED], 3900);
	ck_assert_int_eq(undo_last(&offer, k.sn, NULL, NULL), RC_OK);
	back.step = offer.step;
	ck_assert_int_eq(undo_do(&offer, k.sn, &back, NULL), RC_OK);
	after = mass_of(cod.code);
	ck_assert_int_eq(memcmp(&before, &after, sizeof(after)), 0);
	b = kitchen_break(&k, cod.code, &cut);
	r = load(&day);
	ck_assert_uint_eq(r.prep_count, 1);
	balance_fini(&r);
	ck_assert_int_eq(gap_count(), 1);
	ck_assert_int_eq(undo_last(&offer, k.sn, "CD", NULL), RC_OK);
	back.step = offer.step;
	back.of = "CD";
	ck_assert_msg(
	    undo_do(&offer, k.sn, &back, &err) == RC_OK, "%s", err.text);
	r = load(&day);
	ck_assert_uint_eq(r.prep_count, 0);
	balance_fini(&r);
	ck_assert_int_eq(gap_count(), 0);
	after = mass_of(cod.code);
	ck_assert_int_eq(memcmp(&before, &after, sizeof(after)), 0);
	breakdown_fini(&b);
}
END_TEST

/* --- each part broken -----------------------------------------------------*/

/* Behind the station's back a part is changed: the grams come up as
 * unexplained, and never as anything else. */
static const struct {
	const char *why;
	const char *sql;
	grams more; /* unexplained than before */
} breaks[] = {
	{ "trim",
	    "UPDATE prep_loss SET weight_g = weight_g - 7"
	    " WHERE kind = 'trim'",
	    7 },
	{ "frames",
	    "UPDATE prep_loss SET weight_g = weight_g - 8"
	    " WHERE kind = 'frames'",
	    8 },
	{ "waste, overweight",
	    "UPDATE prep_loss SET weight_g = weight_g + 2900"
	    " WHERE kind = 'waste'",
	    -2900 },
	{ "a tray",
	    "UPDATE portion SET weight_g = weight_g - 11"
	    " WHERE id = 1",
	    11 },
	{ "a serving lost", "UPDATE portion SET left = left - 1 WHERE id = 2",
	    660 },
	{ "an event lost", "DELETE FROM portion_event WHERE kind = 'used'",
	    660 },
	{ "what went in", "UPDATE prep_input SET weight_g = weight_g + 13",
	    13 },
	{ "a loss forgotten", "DELETE FROM prep_loss WHERE kind = 'frames'",
	    4010 },
};

START_TEST(broken_rows)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct use_in in = { .servings = 1, .reason = "test", .by = "EF" };
	struct portion p;
	struct breakdown b = kitchen_break(&k, cod.code, &cut);
	struct mass before, after;

	in.code = b.portions[0].code;
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	before = mass_of(cod.code);
	ck_assert_int_eq(before.unexplained, 802);
	ck_assert_int_eq(kitchen_sql(k.db, breaks[_i].sql), 0);
	after = mass_of(cod.code);
	ck_assert_msg(after.unexplained == 802 + breaks[_i].more,
	    "%s: %lld unexplained", breaks[_i].why,
	    (long long)after.unexplained);
	breakdown_fini(&b);
}
END_TEST

/* --- several inputs -------------------------------------------------------*/

/* 10 kg of one batch and 2 kg of another on one board: five sixths and one. */
START_TEST(mixed)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in in = kitchen_cod();
	struct batch other;
	struct breakdown b;
	struct mass one, two;
	char sql[200];

	in.lot = "L-78";
	other = kitchen_receive(&k, &in);
	b = kitchen_break(&k, cod.code, &cut);
	str_fmt(sql, sizeof(sql),
	    "INSERT INTO prep_input (prep_id, batch_id, fish, weight_g)"
	    " VALUES (%lld, %lld, 1, 2000)",
	    (long long)b.prep.id, (long long)other.id);
	ck_assert_int_eq(kitchen_sql(k.db, sql), 0);
	one = mass_of(cod.code);
	two = mass_of(other.code);
	ck_assert_int_eq(one.part[MASS_CHILLED], 1650);
	ck_assert_int_eq(two.part[MASS_CHILLED], 330);
	ck_assert_int_eq(one.part[MASS_WHOLE], 10000);
	ck_assert_int_eq(two.part[MASS_WHOLE], 18000);
	ck_assert_int_eq(one.part[MASS_TRIM] + two.part[MASS_TRIM],
	    b.prep.loss_g[LOSS_TRIM]);
	ck_assert_int_eq(one.unexplained + two.unexplained, 802 + 2000);
	breakdown_fini(&b);
}
END_TEST

/* --- explained ------------------------------------------------------------*/

START_TEST(explained)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct breakdown b = kitchen_break(&k, cod.code, &cut);
	struct mass before = mass_of(cod.code), after;
	struct err err = { 0 };
	int64_t rows;
	grams gap;

	ck_assert_int_eq(gap_count(), 1);
	ck_assert_int_eq(
	    balance_explain(&gap, k.sn, "1", "drip on the board", "EF", &err),
	    RC_OK);
	ck_assert_int_eq(gap, 802);
	ck_assert_int_eq(gap_count(), 0);
	/* No figure changes but that. */
	after = mass_of(cod.code);
	ck_assert_int_eq(after.explained, 802);
	ck_assert_int_eq(mass_open(&after), 0);
	after.explained = 0;
	ck_assert_int_eq(memcmp(&before, &after, sizeof(after)), 0);
	/* Once is enough, and nothing is recorded by a refusal. */
	rows = kitchen_records(&k);
	ck_assert_int_eq(
	    balance_explain(&gap, k.sn, "1", "again", "EF", &err), RC_REFUSED);
	err_clear(&err);
	ck_assert_int_eq(
	    balance_explain(&gap, k.sn, "99", "no", "EF", &err), RC_NOTFOUND);
	err_clear(&err);
	ck_assert_int_eq(
	    balance_explain(&gap, k.sn, cod.code, "no", "EF", &err),
	    RC_REFUSED);
	ck_assert_int_eq(kitchen_records(&k), rows);
	/* The figure changes: the line is open again. */
	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE prep_loss SET weight_g = weight_g - 1"
			     " WHERE kind = 'trim'"),
	    0);
	ck_assert_int_eq(gap_count(), 1);
	ck_assert_int_eq(mass_of(cod.code).explained, 0);
	breakdown_fini(&b);
}
END_TEST

/* A counted batch is used up with its last fish: the grams left over are the
 * batch's own gap, explained by its code. */
START_TEST(used_up)
{
	struct kitchen_cut cut = { "cod-leeks", 24, 4, 3960, 19700, 10 };
	struct breakdown b = kitchen_break(&k, cod.code, &cut);
	struct mass m = mass_of(cod.code);
	grams gap;

	ck_assert_int_eq(m.part[MASS_WHOLE], 0);
	ck_assert_int_eq(m.unexplained, b.unexplained_g + 300);
	ck_assert_int_eq(gap_count(), 2);
	ck_assert_int_eq(
	    balance_explain(&gap, k.sn, cod.code, "ice", "EF", NULL), RC_OK);
	ck_assert_int_eq(gap, 300);
	ck_assert_int_eq(gap_count(), 1);
	breakdown_fini(&b);
}
END_TEST

START_TEST(bad_questions)
{
	static const struct {
		struct balance_ask ask;
		enum rc rc;
	} rows[] = {
		{ { .what = "nonsense" }, RC_INVALID },
		{ { .what = "26338-011" }, RC_NOTFOUND },
		{ { .supplier = "nobody" }, RC_NOTFOUND },
		{ { .supplier = "pier", .from = "tomorrow" }, RC_INVALID },
		{ { .supplier = "pier", .from = "2026-12-01" }, RC_INVALID },
	};
	struct balance_report r;
	struct err err = { 0 };

	ck_assert_int_eq(
	    balance_load(&r, k.sn, &rows[_i].ask, &err), rows[_i].rc);
	ck_assert_int_ne(err.text[0], '\0');
}
END_TEST

Suite *
suite_ops_balance(void)
{
	Suite *s = suite_create("ops_balance");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, random_days, 0, 30);
	tcase_add_test(tc, taken_back);
	tcase_add_loop_test(tc, broken_rows, 0, NELEM(breaks));
	tcase_add_test(tc, mixed);
	tcase_add_test(tc, explained);
	tcase_add_test(tc, used_up);
	tcase_add_loop_test(tc, bad_questions, 0, 5);
	suite_add_tcase(s, tc);
	return s;
}
