/*
 * test_ops_undo.c - a step taken back leaves everything as if it had never
 * happened, and nothing of the record is gone.
 */
#include "unit.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/close.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/look.h"
#include "ops/ticket.h"
#include "ops/undo.h"
#include "store/bookings.h"
#include "store/sales.h"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	kitchen_at(&k, "2026-11-25T09:00");
	cod = kitchen_receive(&k, &in);
	kitchen_at(&k, "2026-11-25T10:05");
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/*
 * Everything anybody plans, cuts, serves or counts from, as text: it may not
 * know of a step that was taken back.  What happened stays in its own tables.
 */
static char *
state(void)
{
	static const char *const parts[] = {
		"SELECT batch_id, weight_g, count FROM batch_left"
		" WHERE weight_g <> 0 ORDER BY 1",
		"SELECT id FROM batch WHERE open = 1 ORDER BY 1",
		"SELECT code, left, use_by_utc FROM portion WHERE left > 0"
		" ORDER BY 1",
		"SELECT batch_id, number, weight_g FROM batch_fish"
		" WHERE prep_id IS NULL ORDER BY 1, 2",
		"SELECT * FROM yield_learned ORDER BY 1, 2, 3, 4",
		"SELECT * FROM pace ORDER BY 1, 2, 3",
		"SELECT batch_id, portion_id, reason FROM hold"
		" WHERE released_utc IS NULL ORDER BY 1, 2",
		"SELECT portion_id, batch_id FROM print_job"
		" WHERE state IN ('queued', 'sending') ORDER BY 1, 2",
		"SELECT e.service_id, sum(CASE e.kind WHEN 'used' THEN"
		" e.servings ELSE -e.servings END) AS n FROM portion_event e"
		" WHERE e.kind IN ('used', 'returned')"
		" AND e.service_id IS NOT NULL GROUP BY 1"
		" HAVING n <> 0",
	};
	sqlite3 *db = NULL;
	sqlite3_stmt *q = NULL;
	struct buf b;
	char *text;
	size_t i;
	int c;

	buf_init(&b, 1 << 20);
	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	for (i = 0; i < NELEM(parts); i++) {
		ck_assert_msg(
		    sqlite3_prepare_v2(db, parts[i], -1, &q, NULL) == SQLITE_OK,
		    "%s", sqlite3_errmsg(db));
		buf_printf(&b, "-- %zu\n", i);
		while (sqlite3_step(q) == SQLITE_ROW) {
			for (c = 0; c < sqlite3_column_count(q); c++)
				buf_printf(&b, "%s|",
				    sqlite3_column_type(q, c) == SQLITE_NULL
					? "-"
					: (const char *)sqlite3_column_text(
					      q, c));
			buf_putc(&b, '\n');
		}
		sqlite3_finalize(q);
	}
	sqlite3_close(db);
	text = strdup(buf_text(&b));
	buf_fini(&b);
	return text;
}

static void
same_state(char *before)
{
	char *after = state();

	ck_assert_str_eq(before, after);
	free(before);
	free(after);
}

/* What the last step of EF would be; must be offered. */
static struct undo_offer
offered(const char *of)
{
	struct undo_offer o;
	struct err err = { 0 };
	int64_t records = kitchen_records(&k);

	ck_assert_msg(undo_last(&o, k.sn, of, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), records);
	return o;
}

/* It stays: with these words. */
static void
stays(const char *of, const char *says)
{
	struct undo_offer o;
	struct err err = { 0 };
	struct undo_in in = { .of = of, .by = "EF" };
	int64_t records = kitchen_records(&k);

	ck_assert_int_eq(undo_last(&o, k.sn, of, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, says) != NULL, "%s", err.text);
	ck_assert_str_ne(o.what, "");
	in.step = o.step;
	err_clear(&err);
	ck_assert_int_eq(undo_do(&o, k.sn, &in, &err), RC_REFUSED);
	ck_assert_int_eq(kitchen_records(&k), records);
}

static void
nothing(const char *of)
{
	struct undo_offer o;
	struct err err = { 0 };

	ck_assert_int_eq(undo_last(&o, k.sn, of, &err), RC_NOTFOUND);
	ck_assert_int_eq(o.step, 0);
}

static struct undo_offer
take_back(const char *of, enum undo_kind kind)
{
	struct undo_offer o = offered(of);
	struct undo_in in = { .step = o.step, .of = of, .by = "GH" };
	int64_t audits = kitchen_count(&k, "SELECT count(*) FROM audit");
	struct err err = { 0 };

	ck_assert_int_eq(o.kind, kind);
	ck_assert_msg(undo_do(&o, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM audit"), audits + 1);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE id ="
			     " (SELECT max(id) FROM audit)"
			     " AND action = 'undo' AND by = 'GH'"
			     " AND detail LIKE '%entered by mistake'"),
	    1);
	return o;
}

static struct breakdown
trays(void)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };

	return kitchen_break(&k, cod.code, &cut);
}

static void
use_of(const char *code, int64_t n, const char *by)
{
	struct use_in in = {
		.code = code, .servings = n, .reason = "test", .by = by
	};
	struct portion p;
	struct err err = { 0 };

	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
discard_of(const char *code, const char *by)
{
	struct discard_in in = { .code = code, .reason = "dropped", .by = by };
	struct discarded d;
	struct err err = { 0 };

	ck_assert_msg(discard(&d, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
count_of(const char *code, int64_t n, const char *by)
{
	struct count_in in = {
		.code = code, .servings = n, .reason = "counted", .by = by
	};
	struct counted c;
	struct err err = { 0 };

	ck_assert_msg(count_unit(&c, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

/* The balance of the batch still sums up, and so do the units. */
static void
sums(void)
{
	struct batch b;

	ck_assert_int_eq(batch_get(&b, k.sn->st, cod.code, NULL), RC_OK);
	kitchen_balance(&k, &b);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM portion p WHERE p.left <> p.servings"
		" - (SELECT coalesce(sum(CASE WHEN kind IN ('found',"
		" 'returned') THEN -servings ELSE servings END), 0)"
		" FROM portion_event e WHERE e.portion_id = p.id)"),
	    0);
}

/* --- steps of units ------------------------------------------------------- */

static void
do_use(const struct breakdown *b)
{
	use_of(b->portions[0].code, 3, "EF");
}

static void
do_discard(const struct breakdown *b)
{
	discard_of(b->portions[1].code, "EF");
}

static void
do_missing(const struct breakdown *b)
{
	count_of(b->portions[1].code, 1, "EF");
}

static void
do_found(const struct breakdown *b)
{
	count_of(b->portions[1].code, 1, "AB");
	count_of(b->portions[1].code, 3, "EF");
}

static void
do_hold_unit(const struct breakdown *b)
{
	ck_assert_int_eq(
	    hold(NULL, k.sn, b->portions[2].code, "smells", "EF", NULL), RC_OK);
}

static void
do_hold_batch(const struct breakdown *b)
{
	(void)b;
	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "recall call", "EF", NULL), RC_OK);
}

static void
do_discard_batch(const struct breakdown *b)
{
	(void)b;
	discard_of(cod.code, "EF");
}

static void
do_label(const struct breakdown *b)
{
	const char *codes[] = { b->portions[0].code, b->portions[1].code };
	struct label_order order = { codes, 2, LABEL_FIRST, .by = "EF",
		.only_queue = true };
	struct job_list jobs;

	ck_assert_int_eq(label_print(&jobs, k.sn, &order, NULL), RC_OK);
	job_list_fini(&jobs);
}

static const struct {
	const char *why;
	void (*go)(const struct breakdown *b);
	enum undo_kind kind;
	const char *what, *does;
} step_rows[] = {
	{ "a use", do_use, UNDO_USE, "used 3 of 4 cod-leeks, 000-01U",
	    "4 of 4 are on hand again" },
	{ "a discard", do_discard, UNDO_DISCARD, "discarded 4 of 4 cod-leeks",
	    "4 of 4 are on hand again" },
	{ "some missing", do_missing, UNDO_COUNT, "counted and missed 3 of 4",
	    "4 of 4 are on hand again" },
	{ "some found", do_found, UNDO_COUNT, "counted and found 2 of 4",
	    "1 of 4 are on hand again" },
	{ "a unit held", do_hold_unit, UNDO_HOLD, "hold on 000-0",
	    "may be used again" },
	{ "a batch held", do_hold_batch, UNDO_HOLD, "(recall call)",
	    "may be used again" },
	{ "a batch discarded", do_discard_batch, UNDO_DISCARD,
	    "discarded 10.000 kg of batch", "10.000 kg of batch" },
	{ "two labels queued", do_label, UNDO_LABEL, "labels asked for: 2",
	    "2 queued labels will not print" },
};

START_TEST(step_row)
{
	struct breakdown b = trays();
	struct undo_offer o;
	char *before;

	kitchen_at(&k, "2026-11-25T10:20");
	if (step_rows[_i].go == do_found)
		count_of(b.portions[1].code, 1, "AB");
	before = state();
	kitchen_at(&k, "2026-11-25T10:25");
	if (step_rows[_i].go == do_found)
		count_of(b.portions[1].code, 3, "EF");
	else
		step_rows[_i].go(&b);
	kitchen_at(&k, "2026-11-25T10:40");
	nothing("XY");
	o = offered("EF");
	ck_assert_msg(strstr(o.what, step_rows[_i].what) != NULL, "%s", o.what);
	ck_assert_msg(strstr(o.what, ", at 10:25 by EF") != NULL, "%s", o.what);
	ck_assert_msg(strstr(o.does, step_rows[_i].does) != NULL, "%s", o.does);
	take_back("EF", step_rows[_i].kind);
	same_state(before);
	sums();
	/* Once: what is before it is somebody else's, or nothing. */
	nothing("EF");
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM undone"),
	    step_rows[_i].kind == UNDO_LABEL ? 2 : 1);
	breakdown_fini(&b);
}
END_TEST

/* After the sum of one sees what another took. */
START_TEST(each_their_own)
{
	struct breakdown b = trays();
	char *before;

	use_of(b.portions[0].code, 1, "EF");
	before = state();
	use_of(b.portions[0].code, 2, "CD");
	use_of(b.portions[0].code, 1, "EF");
	take_back("CD", UNDO_USE);
	/* EF's two, newest first. */
	take_back("EF", UNDO_USE);
	same_state(before);
	take_back(NULL, UNDO_USE);
	sums();
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT min(left = servings) FROM portion"), 1);
	breakdown_fini(&b);
}
END_TEST

START_TEST(half_an_hour)
{
	struct breakdown b = trays();

	use_of(b.portions[0].code, 1, "EF");
	kitchen_at(&k, "2026-11-25T10:35");
	offered("EF");
	kitchen_at(&k, "2026-11-25T10:36");
	nothing("EF");
	nothing(NULL);
	breakdown_fini(&b);
}
END_TEST

START_TEST(another_step_meanwhile)
{
	struct breakdown b = trays();
	struct undo_offer o;
	struct undo_in in = { .of = "EF", .by = "EF" };
	struct err err = { 0 };
	int64_t records;

	use_of(b.portions[0].code, 1, "EF");
	in.step = offered("EF").step;
	use_of(b.portions[0].code, 1, "EF");
	records = kitchen_records(&k);
	ck_assert_int_eq(undo_do(&o, k.sn, &in, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "meanwhile") != NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), records);
	breakdown_fini(&b);
}
END_TEST

START_TEST(release_back)
{
	struct breakdown b = trays();

	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "recall call", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    release(NULL, k.sn, cod.code, "wrong lot", "EF", NULL), RC_OK);
	take_back("EF", UNDO_RELEASE);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM hold WHERE released_utc IS"
			     " NULL AND reason = 'recall call (released:"
			     " entered by mistake)'"),
	    1);
	/* Released again by another: nothing of it is left to take back. */
	nothing("EF");
	breakdown_fini(&b);
}
END_TEST

/* --- what stays ----------------------------------------------------------- */

START_TEST(counted_since)
{
	struct breakdown b = trays();

	use_of(b.portions[0].code, 2, "EF");
	count_of(b.portions[0].code, 2, "AB"); /* as recorded */
	stays("EF", "was counted at 10:05 by AB");
	breakdown_fini(&b);
}
END_TEST

START_TEST(frozen_since)
{
	struct breakdown b = trays();
	const char *code = b.portions[0].code;
	struct freeze_in in = { .codes = &code,
		.count = 1,
		.temp = "-20",
		.reason = "too many",
		.by = "AB" };
	struct kept f;
	struct err err = { 0 };

	use_of(b.portions[0].code, 2, "EF");
	ck_assert_msg(freeze(&f, k.sn, &in, &err) == RC_OK, "%s", err.text);
	stays("EF", "was frozen at 10:05 by AB");
	stays("AB", "comes out by thaw");
	breakdown_fini(&b);
}
END_TEST

START_TEST(service_closed)
{
	struct breakdown b = trays();
	struct close_in in = { .service = "2026-11-25/lunch",
		.seated = 40,
		.walk_ins = 0,
		.by = "AB" };
	struct buf out;
	struct err err = { 0 };

	kitchen_at(&k, "2026-11-25T14:50");
	use_of(b.portions[0].code, 2, "EF");
	kitchen_at(&k, "2026-11-25T15:01");
	buf_init(&out, 1 << 20);
	ck_assert_msg(
	    close_service(&out, k.sn, &in, FORMAT_TEXT, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&out);
	stays("EF", "service 2026-11-25/lunch is closed");
	stays("AB", "close it again with the right numbers");
	breakdown_fini(&b);
}
END_TEST

/* --- scanned out ---------------------------------------------------------- */

START_TEST(sold_counts_follow)
{
	struct breakdown b = trays();
	struct sale_list l;
	struct service s;
	int64_t used = -1;

	kitchen_at(&k, "2026-11-25T12:30");
	ck_assert_int_eq(
	    service_get(&s, k.sn->st,
		local_from_utc(clock_now(&k.sn->clock)).day, "lunch", NULL),
	    RC_OK);
	use_of(b.portions[0].code, 3, "EF");
	use_of(b.portions[1].code, 2, "EF");
	take_back("EF", UNDO_USE);
	ck_assert_int_eq(sale_list_used(&l, k.sn->st, s.id, NULL), RC_OK);
	ck_assert_int_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].sold, 3);
	sale_list_fini(&l);
	ck_assert_int_eq(
	    service_used(&used, k.sn->st, s.id, "cod-leeks", "COD", NULL),
	    RC_OK);
	ck_assert_int_eq(used, 3);
	take_back("EF", UNDO_USE);
	/* Nobody scanned anything out: there is no row, not a zero. */
	ck_assert_int_eq(sale_list_used(&l, k.sn->st, s.id, NULL), RC_OK);
	ck_assert_int_eq(l.count, 0);
	sale_list_fini(&l);
	ck_assert_int_eq(
	    service_used(&used, k.sn->st, s.id, "cod-leeks", "COD", NULL),
	    RC_OK);
	ck_assert_int_eq(used, 0);
	breakdown_fini(&b);
}
END_TEST

/* --- breakdowns ----------------------------------------------------------- */

static struct breakdown
cut_by(const char *by, int64_t fish, const char *which, int64_t minutes)
{
	struct breakdown_in in = {
		.batch = cod.code,
		.fish = fish,
		.weight_g = 2000 * fish,
		.makes = { { "cod-leeks", 5 * fish, 825 * fish, 5 } },
		.make_count = 1,
		.which = which,
		.minutes = minutes,
		.by = by,
	};
	struct breakdown out;
	struct err err = { 0 };

	ck_assert_msg(
	    breakdown_record(&out, k.sn, &in, &err) == RC_OK, "%s", err.text);
	return out;
}

static struct breakdown
cut_with(int64_t fish, const char *which, int64_t minutes)
{
	return cut_by("EF", fish, which, minutes);
}

/* Before it one breakdown or none has taught: yields and paces are as then. */
START_TEST(breakdown_back)
{
	struct breakdown first = { 0 }, b;
	char *before;
	int64_t fish = _i == 2 ? 9 : 3;

	if (_i > 0)
		first = cut_with(1, NULL, 12);
	before = state();
	kitchen_at(&k, "2026-11-25T10:15");
	b = cut_with(fish, NULL, 30);
	ck_assert(b.pace.taught);
	ck_assert_int_eq(b.yield.verdict, YIELD_LEARNED);
	take_back("EF", UNDO_BREAKDOWN);
	same_state(before);
	sums();
	/* Its rows stand as they were written. */
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM prep"), _i > 0 ? 2 : 1);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM prep_struck"), 1);
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT count(*) FROM portion_event WHERE kind = 'struck'"),
	    fish);
	breakdown_fini(&first);
	breakdown_fini(&b);
}
END_TEST

/* A later breakdown of another batch taught the same yield and paces. */
START_TEST(taught_after_it)
{
	struct receive_in rin = kitchen_cod();
	struct breakdown b, c;
	struct batch first = cod, second;
	char *only;
	char *both;

	second = kitchen_receive(&k, &rin);
	cod = second;
	b = cut_with(3, NULL, 20);
	breakdown_fini(&b);
	only = state();
	take_back("EF", UNDO_BREAKDOWN);
	/* now the other first, the same again after it */
	cod = first;
	b = cut_with(2, NULL, 18);
	cod = second;
	kitchen_at(&k, "2026-11-25T10:10");
	c = cut_with(3, NULL, 20);
	take_back("EF", UNDO_BREAKDOWN);
	breakdown_fini(&c);
	c = cut_with(3, NULL, 20);
	take_back("EF", UNDO_BREAKDOWN);
	take_back("EF", UNDO_BREAKDOWN);
	cod = second;
	breakdown_fini(&c);
	c = cut_with(3, NULL, 20);
	both = state();
	/* The codes of the units run on; everything else is the same. */
	ck_assert_ptr_nonnull(strstr(only, "-- 4"));
	ck_assert_str_eq(strstr(only, "-- 4"), strstr(both, "-- 4"));
	free(only);
	free(both);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

/* "-- 4" to before "-- 5" of a state: the yields. */
static char *
yields_in(const char *text)
{
	const char *from = strstr(text, "-- 4"), *to = strstr(text, "-- 5");

	ck_assert(from != NULL && to != NULL);
	return strndup(from, (size_t)(to - from));
}

/*
 * The older of two is taken back while the newer stands: yields are as if the
 * newer alone had been.  Its minutes were shared out over its tasks by what was
 * believed then, and stay so: units and all minutes together are the same.
 */
START_TEST(older_of_two)
{
	static const char paces[] =
	    "SELECT sum(shape) * 1000000 + sum(scale)"
	    " FROM pace";
	struct receive_in rin = kitchen_cod();
	struct batch second = kitchen_receive(&k, &rin), first = cod;
	struct breakdown b, c;
	char *alone, *after, *a, *z;
	int64_t pace;

	cod = second;
	c = cut_with(3, NULL, 20);
	breakdown_fini(&c);
	alone = state();
	pace = kitchen_count(&k, paces);
	take_back("EF", UNDO_BREAKDOWN);
	cod = first;
	b = cut_with(2, NULL, 18);
	cod = second;
	kitchen_at(&k, "2026-11-25T10:10");
	c = cut_by("AB", 3, NULL, 20);
	ck_assert_int_ne(kitchen_count(&k, paces), pace);
	take_back("EF", UNDO_BREAKDOWN);
	after = state();
	a = yields_in(alone);
	z = yields_in(after);
	ck_assert_str_eq(a, z);
	ck_assert_int_eq(kitchen_count(&k, paces), pace);
	free(a);
	free(z);
	free(alone);
	free(after);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

START_TEST(fish_come_back)
{
	struct receive_in rin = kitchen_cod();
	struct breakdown b;
	char *before;

	rin.count = NULL;
	rin.weight = NULL;
	rin.fish_weights = "2100,1900,2000,1800,2200,2000,2000,1950,2050,2000";
	cod = kitchen_receive(&k, &rin);
	before = state();
	b = cut_with(2, "3,6", 0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM batch_fish"
			     " WHERE prep_id IS NOT NULL"),
	    2);
	take_back("EF", UNDO_BREAKDOWN);
	same_state(before);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE action = 'undo'"
			     " AND detail LIKE '%fish 3,6 back%'"),
	    1);
	breakdown_fini(&b);
}
END_TEST

START_TEST(breakdown_stays)
{
	struct breakdown b = cut_with(3, NULL, 0), c;

	use_of(b.portions[1].code, 1, "AB");
	stays("EF", "has 4 of 5 left: take that back first");
	take_back("AB", UNDO_USE);
	offered("EF");
	ck_assert_int_eq(
	    hold(NULL, k.sn, b.portions[0].code, "smells", "AB", NULL), RC_OK);
	stays("EF", "is on hold");
	take_back("AB", UNDO_HOLD);
	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "recall", "AB", NULL), RC_OK);
	stays("EF", "is on hold");
	take_back("AB", UNDO_HOLD);
	count_of(b.portions[0].code, 5, "AB");
	stays("EF", "has a later count: it is there");
	c = cut_with(1, NULL, 0);
	c.prep.id = 0;
	take_back("EF", UNDO_BREAKDOWN);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

START_TEST(later_breakdown_first)
{
	struct breakdown b = cut_with(3, NULL, 0), c;
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };

	kitchen_at(&k, "2026-11-25T10:20");
	c = kitchen_break(&k, cod.code, &cut); /* by CD */
	stays("EF", "was broken down again at 10:20 by CD");
	take_back("CD", UNDO_BREAKDOWN);
	take_back("EF", UNDO_BREAKDOWN);
	sums();
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

/* One label is out, one is queued: the first is listed, the other cancelled. */
START_TEST(labels_of_it)
{
	struct breakdown b = cut_with(2, NULL, 0);
	const char *code = b.portions[1].code;
	struct label_order order = { &code, 1, LABEL_FIRST, .by = "AB",
		.only_queue = true };
	struct undo_offer o;
	struct job_list jobs;
	char shown[CODE_SIZE];

	ck_assert_int_eq(
	    kitchen_label(NULL, &k, b.portions[0].code, LABEL_FIRST), RC_OK);
	ck_assert_int_eq(label_print(&jobs, k.sn, &order, NULL), RC_OK);
	job_list_fini(&jobs);
	o = offered("EF");
	ck_assert_int_eq(o.collect_count, 1);
	ck_assert_str_eq(o.collect, code_show(shown, b.portions[0].code));
	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE print_job SET state = 'sending'"
			     " WHERE state = 'queued'"),
	    SQLITE_OK);
	stays("EF", "is being printed just now");
	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE print_job SET state = 'queued'"
			     " WHERE state = 'sending'"),
	    SQLITE_OK);
	o = take_back("EF", UNDO_BREAKDOWN);
	ck_assert_int_eq(o.collect_count, 1);
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT count(*) FROM print_job WHERE state = 'cancelled'"),
	    1);
	breakdown_fini(&b);
}
END_TEST

/* What was struck out is known, says so, and goes nowhere any more. */
START_TEST(struck_units)
{
	struct breakdown b = cut_with(2, NULL, 0);
	struct use_in use_it = { .code = b.portions[0].code, .by = "AB" };
	struct count_in count_it = { .code = b.portions[0].code,
		.servings = 5,
		.reason = "here it is",
		.by = "AB" };
	struct portion p;
	struct counted c;
	struct buf out;
	struct err err = { 0 };

	take_back("EF", UNDO_BREAKDOWN);
	ck_assert_int_eq(use(&p, k.sn, &use_it, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "struck out") != NULL, "%s", err.text);
	err_clear(&err);
	ck_assert_int_eq(count_unit(&c, k.sn, &count_it, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "struck out") != NULL, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_label(NULL, &k, b.portions[0].code, LABEL_FIRST),
	    RC_REFUSED);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(
	    trace(&out, k.sn, b.portions[0].code, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "STRUCK OUT"));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "entered by mistake"));
	buf_fini(&out);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(trace(&out, k.sn, cod.code, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "5 made, STRUCK OUT\n"));
	ck_assert_ptr_nonnull(
	    strstr(buf_text(&out), "still whole                     20.000"));
	buf_fini(&out);
	breakdown_fini(&b);
}
END_TEST

static void
put_list(struct buf *out, enum ticket_kind kind, const char *what)
{
	struct ticket_wish wish = { .kind = kind, .what = what };
	struct ticket *t;
	struct err err = { 0 };

	ck_assert_msg(
	    ticket_make(&t, k.sn, &wish, &err) == RC_OK, "%s", err.text);
	ticket_show(out, t, FORMAT_TEXT);
	ticket_free(t);
}

START_TEST(on_lists)
{
	struct breakdown b = cut_with(2, NULL, 0);
	struct buf out;

	discard_of(b.portions[0].code, "AB");
	take_back("AB", UNDO_DISCARD);
	take_back("EF", UNDO_BREAKDOWN);
	buf_init(&out, 1 << 20);
	put_list(&out, TICKET_DAY, NULL);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "STRUCK OUT"));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "taken back"));
	ck_assert_ptr_null(strstr(buf_text(&out), "10 portions"));
	buf_fini(&out);
	buf_init(&out, 1 << 20);
	put_list(&out, TICKET_RECALL, cod.code);
	ck_assert_ptr_nonnull(
	    strstr(buf_text(&out), "Look for: struck out as entered"));
	ck_assert_ptr_null(strstr(buf_text(&out), "Discarded before"));
	buf_fini(&out);
	breakdown_fini(&b);
}
END_TEST

/* --- goods in ------------------------------------------------------------- */

START_TEST(goods_in_back)
{
	char *before = state();
	struct receive_in rin = kitchen_cod();
	struct breakdown_in bin = { .fish = 1,
		.weight_g = 2000,
		.loss_g = { 100, 100, 100 },
		.by = "AB" };
	struct breakdown b;
	struct batch got, again;
	struct undo_offer o;
	struct buf out;
	struct err err = { 0 };

	rin.by = "EF";
	got = kitchen_receive(&k, &rin);
	ck_assert_int_eq(kitchen_label(NULL, &k, got.code, LABEL_FIRST), RC_OK);
	o = take_back("EF", UNDO_GOODS_IN);
	ck_assert_int_eq(o.collect_count, 1);
	same_state(before);
	ck_assert_int_eq(batch_get(&again, k.sn->st, got.code, NULL), RC_OK);
	ck_assert(again.struck);
	ck_assert_int_eq(again.weight_left, 0);
	ck_assert_int_eq(again.weight_g, got.weight_g);
	bin.batch = got.code;
	ck_assert_int_eq(breakdown_record(&b, k.sn, &bin, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "struck out") != NULL, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_label(NULL, &k, got.code, LABEL_AGAIN), RC_REFUSED);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(trace(&out, k.sn, got.code, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "STRUCK OUT"));
	/* "%-28s %12s": struck out, not waste */
	ck_assert_ptr_nonnull(strstr(
	    buf_text(&out), "struck out                      20.000 kg"));
	ck_assert_ptr_nonnull(strstr(
	    buf_text(&out), "discarded unopened                    0 g"));
	buf_fini(&out);
	nothing("EF");
}
END_TEST

START_TEST(goods_in_stays)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in rin = kitchen_cod();
	struct breakdown b;
	struct batch got;

	rin.by = "EF";
	got = kitchen_receive(&k, &rin);
	b = kitchen_break(&k, got.code, &cut);
	stays("EF", "something was made or thrown away");
	take_back("CD", UNDO_BREAKDOWN);
	offered("EF");
	discard_of(got.code, "AB");
	stays("EF", "something was made or thrown away");
	take_back("AB", UNDO_DISCARD);
	ck_assert_int_eq(
	    hold(NULL, k.sn, got.code, "recall", "AB", NULL), RC_OK);
	stays("EF", "is on hold");
	take_back("AB", UNDO_HOLD);
	take_back("EF", UNDO_GOODS_IN);
	breakdown_fini(&b);
}
END_TEST

/* Whatever was done, taking all of it back leaves what was there before. */
START_TEST(all_the_way_back)
{
	char *before = state();
	struct breakdown b = cut_with(4, NULL, 25);
	struct undo_offer o;
	struct undo_in in = { .by = "GH" };
	struct err err = { 0 };
	int64_t rows;
	int n = 0;

	use_of(b.portions[0].code, 2, "EF");
	discard_of(b.portions[0].code, "AB");
	ck_assert_int_eq(
	    hold(NULL, k.sn, b.portions[1].code, "smells", "CD", NULL), RC_OK);
	ck_assert_int_eq(
	    release(NULL, k.sn, b.portions[1].code, "fine", "CD", NULL), RC_OK);
	count_of(b.portions[2].code, 3, "AB");
	use_of(b.portions[3].code, 5, "EF");
	rows = kitchen_count(&k, "SELECT count(*) FROM portion_event");
	while (undo_last(&o, k.sn, NULL, &err) == RC_OK &&
	    o.kind != UNDO_GOODS_IN) {
		ck_assert_int_lt(n++, 20);
		in.step = o.step;
		ck_assert_msg(
		    undo_do(&o, k.sn, &in, &err) == RC_OK, "%s", err.text);
		sums();
		if (o.kind == UNDO_RELEASE) {
			/* held again: somebody has to lift that */
			ck_assert_int_eq(release(NULL, k.sn, b.portions[1].code,
					     "fine", "ZZ", NULL),
			    RC_OK);
			ck_assert_int_eq(
			    kitchen_sql(k.db,
				"INSERT INTO undone SELECT max(id), max(id)"
				" FROM audit"),
			    SQLITE_OK);
		}
	}
	same_state(before);
	ck_assert_int_gt(
	    kitchen_count(&k, "SELECT count(*) FROM portion_event"), rows);
	breakdown_fini(&b);
}
END_TEST

Suite *
suite_ops_undo(void)
{
	Suite *s = suite_create("ops_undo");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, step_row, 0, NELEM(step_rows));
	tcase_add_test(tc, each_their_own);
	tcase_add_test(tc, half_an_hour);
	tcase_add_test(tc, another_step_meanwhile);
	tcase_add_test(tc, release_back);
	tcase_add_test(tc, counted_since);
	tcase_add_test(tc, frozen_since);
	tcase_add_test(tc, service_closed);
	tcase_add_test(tc, sold_counts_follow);
	tcase_add_loop_test(tc, breakdown_back, 0, 3);
	tcase_add_test(tc, taught_after_it);
	tcase_add_test(tc, older_of_two);
	tcase_add_test(tc, fish_come_back);
	tcase_add_test(tc, breakdown_stays);
	tcase_add_test(tc, later_breakdown_first);
	tcase_add_test(tc, labels_of_it);
	tcase_add_test(tc, struck_units);
	tcase_add_test(tc, on_lists);
	tcase_add_test(tc, goods_in_back);
	tcase_add_test(tc, goods_in_stays);
	tcase_add_test(tc, all_the_way_back);
	suite_add_tcase(s, tc);
	return s;
}
