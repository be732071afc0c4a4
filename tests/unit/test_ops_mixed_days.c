/*
 * test_ops_mixed_days.c - random days over everything that moves food at once:
 * mixed breakdowns, trays put together, use, discard, freezer, counts, undo,
 * holds, complaints and recalls.  After every few deeds every gram has its
 * place, every unit leads back and is led to, and the file is sound; that the
 * trail tells of all of it is asked when the kitchen is closed.
 *
 * What is expected is asked in SQL of its own, from what was weighed.
 */
#include "unit.h"

#include <inttypes.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "exchange/stock_out.h"
#include "kitchen.h"
#include "ops/balance.h"
#include "ops/combine.h"
#include "ops/complaint.h"
#include "ops/drill.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/hold.h"
#include "ops/look.h"
#include "ops/place.h"
#include "ops/recall.h"
#include "ops/undo.h"
#include "sound.h"

#define BATCHES 5
#define UNITS_MAX 600
#define DEEDS 60

static struct kitchen k;
static struct batch cod[BATCHES];
static char units[UNITS_MAX][CODE_SIZE];
static size_t unit_count;
static int64_t now_min;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	static const char *const lots[BATCHES] = { "A", "A", "B", "C", "D" };
	size_t i;

	kitchen_open(&k);
	k.sn->cfg.batch_days = 9;
	k.sn->cfg.raw_days = 5;
	unit_count = 0;
	now_min = 6 * 60;
	for (i = 0; i < BATCHES; i++) {
		in.lot = lots[i];
		in.supplier = i == 2 ? "reef" : "pier";
		in.supplier_date = i == 3 ? "2026-11-28" : NULL;
		in.weight = i == 1 ? "19.337 kg" : "20 kg";
		cod[i] = kitchen_receive(&k, &in);
	}
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/* --- deeds: a refusal is as good as any -----------------------------------*/

static const char *
some_unit(uint64_t *c)
{
	return unit_count == 0 ? "000-01U" : units[chance_next(c) % unit_count];
}

static void
learn(const struct portion *p)
{
	ck_assert_uint_lt(unit_count, UNITS_MAX);
	str_copy(units[unit_count++], CODE_SIZE, p->code);
}

static void
break_down(uint64_t *c)
{
	int64_t n = 2 + (int64_t)(chance_next(c) % 9);
	size_t more = chance_next(c) % 3, first = chance_next(c) % BATCHES, i;
	struct breakdown_in in = {
		.batch = cod[first].code,
		.fish = 1,
		.weight_g = 1700 + (grams)(chance_next(c) % 600),
		.makes = { { "cod-leeks", n,
		    n * 100 + (grams)(chance_next(c) % 97),
		    1 + (int64_t)(chance_next(c) % (uint64_t)n) } },
		.make_count = 1,
		.loss_g = { [LOSS_TRIM] = (grams)(chance_next(c) % 211),
		    [LOSS_FRAMES] = 301,
		    [LOSS_WASTE] = (grams)(chance_next(c) % 53) },
		.yield_ok = true,
		.by = "CD",
	};
	struct breakdown b;

	for (i = 0; i < more; i++)
		in.with[in.with_count++] = (struct breakdown_with){
			cod[(first + 1 + i) % BATCHES].code, 1,
			1501 + (grams)(chance_next(c) % 777)
		};
	if (breakdown_record(&b, k.sn, &in, NULL) != RC_OK)
		return;
	for (i = 0; i < b.portion_count; i++)
		learn(&b.portions[i]);
	breakdown_fini(&b);
}

static void
put_together(uint64_t *c)
{
	const char *codes[4];
	struct combine_in in = { codes, 2 + chance_next(c) % 3, "EF" };
	struct combined done;
	size_t i, tries;

	for (tries = 0; tries < 8; tries++) {
		for (i = 0; i < in.count; i++)
			codes[i] = some_unit(c);
		if (combine(&done, k.sn, &in, NULL) != RC_OK)
			continue;
		learn(&done.tray);
		return;
	}
}

static void
use_one(uint64_t *c)
{
	struct use_in in = { .code = some_unit(c),
		.servings = 1 + (int64_t)(chance_next(c) % 2),
		.reason = "test",
		.by = "EF" };
	struct portion p;

	ignore_rc(use(&p, k.sn, &in, NULL));
}

static void
throw_one(uint64_t *c)
{
	struct discard_in in = { .code = some_unit(c),
		.servings = 1,
		.reason = "fell",
		.by = "EF" };
	struct discarded d;

	if (chance_next(c) % 5 == 0) {
		in.code = cod[chance_next(c) % BATCHES].code;
		in.servings = 0;
		in.fish = 1;
		in.weight_g = 1911;
	}
	ignore_rc(discard(&d, k.sn, &in, NULL));
}

/* Fewer than there are, or again as many as there were. */
static void
count_one(uint64_t *c)
{
	struct count_in in = {
		.code = some_unit(c), .reason = "counted", .by = "EF"
	};
	struct counted done;
	struct portion p;

	if (portion_get(&p, k.sn->st, in.code, NULL) != RC_OK || p.left == 0)
		return;
	in.servings = (int64_t)(chance_next(c) % (uint64_t)(p.left + 1));
	ignore_rc(count_unit(&done, k.sn, &in, NULL));
}

static void
freezer(uint64_t *c)
{
	const char *code = some_unit(c);
	struct freeze_in in = { .codes = &code,
		.count = 1,
		.temp = "-20",
		.reason = "too many",
		.by = "EF" };
	struct kept kept;

	if (freeze(&kept, k.sn, &in, NULL) != RC_OK)
		ignore_rc(thaw(&kept, k.sn, &in, NULL));
}

static void
take_back(uint64_t *c)
{
	static const char *const whose[] = { "EF", "CD", "AB" };
	struct undo_offer o;
	struct undo_in in = { .of = whose[chance_next(c) % 3],
		.reason = "mistake",
		.by = "GH" };

	if (undo_last(&o, k.sn, in.of, NULL) != RC_OK ||
	    o.kind == UNDO_GOODS_IN)
		return;
	in.step = o.step;
	ignore_rc(undo_do(&o, k.sn, &in, NULL));
}

static void
hold_or_not(uint64_t *c)
{
	struct hold_in in = { .reason = "smell", .by = "AB" };
	struct hold_done d;

	in.code = chance_next(c) % 2 == 0 ? some_unit(c)
					  : cod[chance_next(c) % BATCHES].code;
	in.breakdown = chance_next(c) % 4 == 0;
	if (hold_set(&d, k.sn, &in, NULL) != RC_OK || chance_next(c) % 3 != 0)
		ignore_rc(hold_lift(&d, k.sn, &in, NULL));
}

static void
complain(uint64_t *c)
{
	struct complaint_in in = { .code = some_unit(c),
		.what = "a bone",
		.hold = chance_next(c) % 4 == 0,
		.by = "GH" };
	struct complaint_taken t;

	ignore_rc(complaint_add(&t, k.sn, &in, NULL));
}

/* Opened, some of it found, some of that thrown away, and closed. */
static void
recall_all(uint64_t *c)
{
	static const char *const ends[] = { "discarded", "returned", "released",
		"mistake" };
	const char *code = chance_next(c) % 2 == 0
	    ? some_unit(c)
	    : cod[chance_next(c) % BATCHES].code;
	struct recall_in in = {
		.codes = &code, .count = 1, .reason = "rang", .by = "GH"
	};
	struct recall_close_in end = { .outcome = ends[chance_next(c) % 4],
		.reason = "as told",
		.by = "GH" };
	struct recall_brief b;
	struct recall_page page;
	struct recall_scan scan;
	struct recall_closed closed;
	struct err err = { 0 };
	int64_t missing = 0, left = 0;
	bool gone;
	size_t i;

	in.breakdown = chance_next(c) % 4 == 0;
	if (recall_open(&b, k.sn, &in, NULL) != RC_OK)
		return;
	ck_assert_int_eq(recall_load(&page, k.sn, b.recall.id, NULL), RC_OK);
	for (i = 0; i < page.items.count; i++) {
		const struct recall_item *it = &page.items.items[i];
		struct discard_in throw_it = { .code = it->code,
			.servings = 1,
			.reason = "leaks",
			.by = "GH" };
		struct discarded d;

		/* All of it is blocked, and stays where it is. */
		if (it->subject.portion_id != 0 && it->left > 0) {
			struct use_look look;

			ck_assert_int_eq(
			    use_look(&look, k.sn, it->code, NULL), RC_OK);
			ck_assert(look.portion.held);
		}
		if (chance_next(c) % 3 != 0)
			ck_assert_int_eq(
			    recall_tick(&scan, k.sn, b.recall.id, it->code,
				(int64_t)(chance_next(c) % 2), "GH", NULL),
			    RC_OK);
		if (it->subject.portion_id != 0 && chance_next(c) % 4 == 0)
			ignore_rc(discard(&d, k.sn, &throw_it, NULL));
	}
	recall_fini(&page);
	ck_assert_int_eq(recall_load(&page, k.sn, b.recall.id, NULL), RC_OK);
	for (i = 0; i < page.items.count; i++)
		if (page.items.items[i].subject.portion_id != 0)
			missing += recall_item_missing(&page.items.items[i]);
	end.id = b.recall.id;
	ck_assert_msg(
	    recall_close(&closed, k.sn, &end, &err) == RC_OK, "%s", err.text);
	gone =
	    str_eq(end.outcome, "discarded") || str_eq(end.outcome, "returned");
	for (i = 0; i < page.items.count && gone; i++) {
		struct portion p;

		if (page.items.items[i].subject.portion_id == 0)
			continue;
		ck_assert_int_eq(
		    portion_get(&p, k.sn->st, page.items.items[i].code, NULL),
		    RC_OK);
		ck_assert(p.left == 0 || p.held);
		left += p.left;
	}
	/* What was not found is all there is left, and it stays blocked. */
	if (gone)
		ck_assert_int_eq(left, missing);
	recall_fini(&page);
}

typedef void deed_fn(uint64_t *c);

static void
some_deed(uint64_t *c)
{
	static deed_fn *const deeds[] = { break_down, break_down, put_together,
		put_together, put_together, use_one, use_one, use_one,
		throw_one, throw_one, count_one, freezer, freezer, take_back,
		take_back, hold_or_not, hold_or_not, complain, recall_all };
	char when[32];

	now_min += (int64_t)(chance_next(c) % 20);
	str_fmt(when, sizeof(when),
	    "2026-11-%02d"
	    "T%02d:%02d",
	    (int)(26 + now_min / 1440), (int)(now_min % 1440 / 60),
	    (int)(now_min % 60));
	kitchen_at(&k, when);
	deeds[chance_next(c) % (sizeof(deeds) / sizeof(deeds[0]))](c);
}

/* --- what must hold -------------------------------------------------------*/

static int64_t
sql(const char *text)
{
	return kitchen_count(&k, text);
}

#define STANDING                                                               \
	"NOT EXISTS (SELECT 1 FROM prep_struck s WHERE s.prep_id = q.id)"

/* All batches together, and each of them. */
static void
grams_hold(void)
{
	struct mass all = { 0 }, m;
	const char *grams_at;
	char text[48];
	struct buf out;
	size_t i;

	for (i = 0; i < BATCHES; i++) {
		ck_assert_int_eq(
		    balance_batch(&m, k.sn, cod[i].code, NULL), RC_OK);
		ck_assert(mass_adds_up(&m));
		ck_assert_int_eq(m.in, cod[i].weight_g);
		mass_add(&all, &m);
		/* The trace says the same. */
		buf_init(&out, 16 << 20);
		ck_assert_int_eq(
		    trace(&out, k.sn, cod[i].code, FORMAT_JSON, NULL), RC_OK);
		str_fmt(text, sizeof(text), "\"portions\": %" PRId64 ",",
		    balance_of(&m).portions);
		grams_at = strstr(buf_text(&out), "\"balance_g\"");
		ck_assert_ptr_nonnull(grams_at);
		ck_assert_msg(strstr(grams_at, text) != NULL, "%s", text);
		str_fmt(text, sizeof(text), "\"unexplained\": %" PRId64,
		    m.unexplained);
		ck_assert_msg(strstr(grams_at, text) != NULL, "%s", text);
		buf_fini(&out);
	}
	/* Of what was weighed into breakdowns, what was not weighed out. */
	ck_assert_int_eq(all.unexplained,
	    sql("SELECT coalesce((SELECT sum(i.weight_g) FROM prep_input i"
		" JOIN prep q ON q.id = i.prep_id WHERE " STANDING "), 0)"
		" - coalesce((SELECT sum(o.weight_g) FROM prep_output o"
		" JOIN prep q ON q.id = o.prep_id WHERE " STANDING "), 0)"
		" - coalesce((SELECT sum(l.weight_g) FROM prep_loss l"
		" JOIN prep q ON q.id = l.prep_id WHERE " STANDING "), 0)"
		" + coalesce((SELECT sum(l.weight_g) FROM batch_left l"
		" JOIN batch b ON b.id = l.batch_id WHERE l.weight_g < 0"
		" OR (b.count > 0 AND l.count = 0)), 0)"));
	/* What is on hand weighs what its servings do, but for roundings. */
	ck_assert_int_le(llabs(all.part[MASS_CHILLED] + all.part[MASS_FROZEN] -
			     sql("SELECT coalesce(sum(weight_g * left /"
				 " servings), 0) FROM portion")),
	    (int64_t)unit_count * 2);
}

/* The batches of a unit are those of the breakdowns it comes from, followed
 * from tray to tray; and so are the breakdowns. */
static void
chains_hold(void)
{
	static const char from[] =
	    "WITH RECURSIVE f(top, id) AS (SELECT id, id FROM portion UNION"
	    " SELECT f.top, j.from_id FROM f JOIN portion_joined j"
	    " ON j.portion_id = f.id), ends AS (SELECT f.top AS top,"
	    " o.prep_id AS prep FROM f JOIN portion p ON p.id = f.id"
	    " JOIN prep_output o ON o.id = p.prep_output_id WHERE NOT EXISTS"
	    " (SELECT 1 FROM portion_joined j WHERE j.portion_id = f.id)), ";
	static const char *const views[] = {
		"a AS (SELECT DISTINCT e.top AS unit, i.batch_id AS what"
		" FROM ends e JOIN prep_input i ON i.prep_id = e.prep), b AS"
		" (SELECT DISTINCT portion_id AS unit, batch_id AS what"
		" FROM batch_unit) ",
		"a AS (SELECT DISTINCT top AS unit, prep AS what FROM ends),"
		" b AS (SELECT DISTINCT portion_id AS unit, prep_id AS what"
		" FROM prep_unit) ",
	};
	char text[1600];
	size_t i;

	for (i = 0; i < 2; i++) {
		str_fmt(text, sizeof(text),
		    "%s%sSELECT (SELECT count(*) FROM (SELECT * FROM a EXCEPT"
		    " SELECT * FROM b)) + (SELECT count(*) FROM (SELECT * FROM"
		    " b EXCEPT SELECT * FROM a))",
		    from, views[i]);
		ck_assert_int_eq(sql(text), 0);
	}
}

static void
drills_hold(size_t which)
{
	const struct drill_in in = { .code = cod[which].code, .by = "EF" };
	struct drill_report r;
	struct mass m;

	ck_assert_int_eq(drill_run(&r, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(r.back, r.units);
	ck_assert(mass_adds_up(&r.mass));
	ck_assert_int_eq(balance_batch(&m, k.sn, in.code, NULL), RC_OK);
	ck_assert_int_eq(mass_open(&r.mass), mass_open(&m));
}

static void
is_sound(void)
{
	sqlite3 *db;
	const char *said;

	ck_assert_int_eq(
	    sqlite3_open_v2(k.db, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
	said = sound_check(db, 0);
	ck_assert_msg(said == NULL, "%s", said);
	sqlite3_close(db);
}

START_TEST(days)
{
	uint64_t chance = (uint64_t)_i * 104729 + 11;
	int i;

	for (i = 0; i < 4; i++)
		break_down(&chance);
	put_together(&chance);
	for (i = 0; i < DEEDS; i++) {
		some_deed(&chance);
		if (i % 5 != 4)
			continue;
		grams_hold();
		chains_hold();
		drills_hold((size_t)i / 5 % BATCHES);
		is_sound();
	}
	/* It was not a day on which nothing happened. */
	ck_assert_int_gt(sql("SELECT count(*) FROM portion_joined"), 0);
}
END_TEST

Suite *
suite_ops_mixed_days(void)
{
	Suite *s = suite_create("ops_mixed_days");
	TCase *tc = tcase_create("days");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 240);
	tcase_add_loop_test(tc, days, 0, 12);
	suite_add_tcase(s, tc);
	return s;
}
