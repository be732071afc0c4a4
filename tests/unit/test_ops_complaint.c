/*
 * test_ops_complaint.c - a complaint keeps the chain as it was, whatever
 * happens later, and says when somebody has changed what was kept.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/close.h"
#include "ops/complaint.h"
#include "ops/fate.h"
#include "ops/undo.h"

static struct kitchen k;
static struct batch cod;
static struct breakdown trays;

static void
setup(void)
{
	kitchen_open(&k);
	kitchen_at(&k, "2026-11-25T09:00");
	trays = kitchen_trays(&cod, &k);
	kitchen_at(&k, "2026-11-25T20:15");
}

static void
teardown(void)
{
	breakdown_fini(&trays);
	kitchen_close(&k);
}

static void
use_of(const char *code, int64_t n, const char *service)
{
	struct use_in in = { .code = code,
		.servings = n,
		.service = service,
		.reason = "test",
		.by = "EF" };
	struct portion p;
	struct err err = { 0 };

	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static struct complaint_taken
take(const struct complaint_in *in)
{
	struct complaint_taken t;
	struct err err = { 0 };

	ck_assert_msg(
	    complaint_add(&t, k.sn, in, &err) == RC_OK, "%s", err.text);
	return t;
}

/* A complaint as JSON, to be closed by the caller. */
static struct jsonr *
shown(int64_t id)
{
	struct jsonr *doc;
	struct buf out;
	struct err err = { 0 };

	buf_init(&out, 1 << 24);
	ck_assert_msg(
	    complaint_show(&out, k.sn, id, FORMAT_JSON, &err) == RC_OK, "%s",
	    err.text);
	doc = jsonr_open(buf_text(&out));
	ck_assert_ptr_nonnull(doc);
	buf_fini(&out);
	return doc;
}

static bool
says(int64_t id, const char *words)
{
	struct buf out;
	bool found;

	buf_init(&out, 1 << 20);
	ck_assert_int_eq(
	    complaint_show(&out, k.sn, id, FORMAT_TEXT, NULL), RC_OK);
	found = strstr(buf_text(&out), words) != NULL;
	buf_fini(&out);
	return found;
}

/* Back and forward with a unit's code; nothing that happens later is in it. */
START_TEST(frozen)
{
	struct complaint_in in = { .code = trays.portions[0].code,
		.what = "smelled of ammonia, two guests, one sick",
		.place = "table 12",
		.at = "20:00",
		.by = "EF" };
	const struct jsonr *trace, *forward, *unit;
	struct complaint_taken t;
	struct jsonr *doc;
	char *before, *after;

	use_of(trays.portions[0].code, 2, "2026-11-25/dinner");
	t = take(&in);
	ck_assert_int_eq(
	    complaint_trace(&before, k.sn->st, t.complaint.id, NULL), RC_OK);
	ck_assert(says(t.complaint.id, "CHANGED SINCE\n  nothing"));
	kitchen_at(&k, "2026-11-25T21:00");
	use_of(trays.portions[1].code, 4, "2026-11-25/dinner");
	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "see complaint", "EF", NULL), RC_OK);
	ck_assert_int_eq(
	    complaint_trace(&after, k.sn->st, t.complaint.id, NULL), RC_OK);
	ck_assert_str_eq(before, after);
	doc = shown(t.complaint.id);
	trace = jsonr_member(doc, "trace");
	ck_assert_ptr_nonnull(trace);
	ck_assert_ptr_nonnull(jsonr_member(trace, "back"));
	forward = jsonr_member(trace, "forward");
	ck_assert_ptr_nonnull(forward);
	unit = jsonr_item(forward, "portions", 1);
	ck_assert_int_eq(jsonr_int(unit, "left"), 4);
	forward = jsonr_member(jsonr_member(doc, "trace_now"), "forward");
	unit = jsonr_item(forward, "portions", 1);
	ck_assert_int_eq(jsonr_int(unit, "left"), 0);
	/* What changed: the hold and the tray that went out. */
	ck_assert_ptr_nonnull(jsonr_item(doc, "changed", 0));
	ck_assert_ptr_nonnull(jsonr_item(doc, "changed", 1));
	ck_assert_ptr_null(jsonr_item(doc, "changed", 2));
	ck_assert_str_eq(
	    jsonr_str(jsonr_item(doc, "changed", 0), "now"), "on hold");
	ck_assert(says(t.complaint.id, "as it was kept"));
	jsonr_close(doc);
	free(before);
	free(after);
}
END_TEST

/* It is not changed by an accident, and not unseen on purpose. */
START_TEST(altered)
{
	struct complaint_in in = {
		.code = cod.code, .what = "a bone", .by = "EF"
	};
	struct complaint_taken t = take(&in);

	ck_assert_int_ne(
	    kitchen_sql(k.db, "UPDATE complaint SET what = 'nothing'"), 0);
	ck_assert(!says(t.complaint.id, "ALTERED"));
	ck_assert_int_eq(kitchen_sql(k.db,
			     "DROP TRIGGER complaint_stays; UPDATE complaint"
			     " SET trace = replace(trace, 'L-77', 'L-78')"),
	    0);
	ck_assert(says(t.complaint.id, "ALTERED SINCE IT WAS KEPT"));
}
END_TEST

/* Complaint and hold are one: both or neither. */
START_TEST(with_hold)
{
	struct complaint_in in = { .code = trays.portions[2].code,
		.what = "raw inside",
		.hold = true,
		.by = "EF" };
	struct complaint_taken t = take(&in);

	ck_assert_uint_eq(t.held_count, 1);
	ck_assert_str_eq(t.held[0], cod.code);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM hold"
			     " WHERE released_utc IS NULL"
			     " AND reason = 'complaint 1'"),
	    1);
	/* The chain was kept as it was before the hold. */
	ck_assert(says(t.complaint.id, "now   on hold"));
	/* A second one about the same: it is on hold already. */
	t = take(&in);
	ck_assert_uint_eq(t.held_count, 1);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM hold"), 1);
	ck_assert_int_eq(kitchen_sql(k.db,
			     "CREATE TRIGGER no_audit BEFORE INSERT ON audit"
			     " BEGIN SELECT raise(ABORT, 'full'); END"),
	    0);
	ck_assert_int_ne(complaint_add(&t, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM complaint"), 2);
}
END_TEST

/* The label is gone: what was scanned out is certain, what was there too is
 * likely, and in doubt all of it is held. */
static struct batch
second_batch(struct breakdown *b)
{
	struct kitchen_cut cut = { "cod-leeks", 4, 4, 660, 4000, 2 };
	struct receive_in in = kitchen_cod();
	struct batch other;

	kitchen_at(&k, "2026-11-25T10:00");
	in.lot = "L-78";
	other = kitchen_receive(&k, &in);
	*b = kitchen_break(&k, other.code, &cut);
	kitchen_at(&k, "2026-11-25T20:15");
	return other;
}

START_TEST(label_gone)
{
	struct complaint_in in = { .dish = "cod-leeks",
		.service = "2026-11-25/dinner",
		.what = "tasted off",
		.hold = true,
		.by = "EF" };
	const char *sold[] = { "cod-leeks:4" };
	struct close_in close = { .service = in.service,
		.seated = 60,
		.walk_ins = 0,
		.sold = sold,
		.sold_count = 1,
		.by = "EF" };
	const struct jsonr *row;
	struct complaint_taken t;
	struct breakdown b;
	struct batch other;
	struct jsonr *doc;
	struct buf out;

	other = second_batch(&b);
	use_of(b.portions[0].code, 4, in.service);
	t = take(&in);
	doc = shown(t.complaint.id);
	row = jsonr_item(jsonr_member(doc, "trace"), "batches", 0);
	ck_assert_str_eq(jsonr_str(row, "sure"), "certain");
	ck_assert_int_eq(jsonr_int(row, "scanned"), 4);
	row = jsonr_item(jsonr_member(doc, "trace"), "batches", 1);
	ck_assert_str_eq(jsonr_str(row, "sure"), "likely");
	jsonr_close(doc);
	/* Nobody knows yet what was sold: both. */
	ck_assert_uint_eq(t.held_count, 2);
	/* All that was sold was scanned out: the one. */
	kitchen_at(&k, "2026-11-25T23:30");
	buf_init(&out, 65536);
	ck_assert_int_eq(
	    close_service(&out, k.sn, &close, FORMAT_TEXT, NULL), RC_OK);
	buf_fini(&out);
	t = take(&in);
	ck_assert_uint_eq(t.held_count, 1);
	ck_assert_str_eq(t.held[0], other.code);
	breakdown_fini(&b);
}
END_TEST

START_TEST(followed_up)
{
	struct complaint_in in = {
		.code = cod.code, .what = "a bone", .by = "EF"
	};
	struct complaint_taken t = take(&in);
	struct complaint_list l;
	int64_t id = t.complaint.id, open = -1;
	struct err err = { 0 };

	ck_assert_int_eq(
	    complaint_note(k.sn, id, "guest well again", false, "GH", NULL),
	    RC_OK);
	ck_assert_int_eq(complaint_count_open(&open, k.sn->st, NULL), RC_OK);
	ck_assert_int_eq(open, 1);
	ck_assert_int_eq(
	    complaint_note(k.sn, id, "pin bones missed", true, "EF", NULL),
	    RC_OK);
	ck_assert_int_eq(
	    complaint_note(k.sn, id, "more", false, "EF", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "is closed"));
	ck_assert_int_eq(complaint_count_open(&open, k.sn->st, NULL), RC_OK);
	ck_assert_int_eq(open, 0);
	ck_assert_int_eq(complaint_rows(&l, k.sn, true, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	free(l.items);
	ck_assert_int_eq(complaint_rows(&l, k.sn, false, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_str_eq(l.items[0].outcome, "pin bones missed");
	free(l.items);
	ck_assert(says(id, "note         2026-11-25 20:15 by GH: guest well"));
	ck_assert_int_eq(
	    complaint_note(k.sn, 9, "x", false, "EF", NULL), RC_NOTFOUND);
}
END_TEST

/* What is not a complaint is refused, and nothing is recorded. */
static const struct {
	struct complaint_in in;
	enum rc rc;
	const char *says;
} bad[] = {
	{ { .what = "x", .by = "EF" }, RC_INVALID, "a dish and a service" },
	{ { .dish = "cod-leeks", .what = "x", .by = "EF" }, RC_INVALID,
	    "a dish and a service" },
	{ { .code = "26338-011", .what = "x", .by = "EF" }, RC_NOTFOUND,
	    "not in this" },
	{ { .code = "26338-011", .by = "EF" }, RC_INVALID, "what" },
	{ { .code = "26338-011", .what = "x", .at = "8pm", .by = "EF" },
	    RC_INVALID, "20:15" },
	{ { .dish = "no-dish",
	      .service = "2026-11-25/dinner",
	      .what = "x",
	      .by = "EF" },
	    RC_NOTFOUND, "never on the menu" },
	{ { .dish = "cod-leeks",
	      .service = "2026-11-25/dinner",
	      .what = "x",
	      .at = "23:50",
	      .by = "EF" },
	    RC_INVALID, "not past yet" },
};

START_TEST(bad_rows)
{
	int64_t rows = kitchen_records(&k);
	struct complaint_taken t;
	struct err err = { 0 };

	ck_assert_int_eq(
	    complaint_add(&t, k.sn, &bad[_i].in, &err), bad[_i].rc);
	ck_assert_msg(strstr(err.text, bad[_i].says) != NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), rows);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM complaint"), 0);
}
END_TEST

Suite *
suite_ops_complaint(void)
{
	Suite *s = suite_create("ops_complaint");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, frozen);
	tcase_add_test(tc, altered);
	tcase_add_test(tc, with_hold);
	tcase_add_test(tc, label_gone);
	tcase_add_test(tc, followed_up);
	tcase_add_loop_test(tc, bad_rows, 0, NELEM(bad));
	suite_add_tcase(s, tc);
	return s;
}
