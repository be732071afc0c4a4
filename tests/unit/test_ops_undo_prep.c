/*
 * test_ops_undo_prep.c - a breakdown or goods in struck out: fish, weight,
 * yields and paces are as if it had never been.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/fate.h"
#include "ops/look.h"
#include "ops/ticket.h"
#include "ops/undo.h"
#include "undo_rig.h"

#include <sqlite3.h>

/* Before it one breakdown or none has taught: yields and paces are as then. */
START_TEST(breakdown_back)
{
	struct breakdown first = { 0 }, b;
	char *before;
	int64_t fish = _i == 2 ? 9 : 3;

	if (_i > 0)
		first = undo_cut_with(1, NULL, 12);
	before = undo_state();
	kitchen_at(&uk, "2026-11-25T10:15");
	b = undo_cut_with(fish, NULL, 30);
	ck_assert(b.pace.taught);
	ck_assert_int_eq(b.yield.verdict, YIELD_LEARNED);
	undo_take_back("EF", UNDO_BREAKDOWN);
	undo_same_state(before);
	undo_sums();
	/* Its rows stand as they were written. */
	ck_assert_int_eq(
	    kitchen_count(&uk, "SELECT count(*) FROM prep"), _i > 0 ? 2 : 1);
	ck_assert_int_eq(
	    kitchen_count(&uk, "SELECT count(*) FROM prep_struck"), 1);
	ck_assert_int_eq(
	    kitchen_count(&uk,
		"SELECT count(*) FROM portion_event WHERE kind = 'struck'"),
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
	struct batch first = uk_cod, second;
	char *only;
	char *both;

	second = kitchen_receive(&uk, &rin);
	uk_cod = second;
	b = undo_cut_with(3, NULL, 20);
	breakdown_fini(&b);
	only = undo_state();
	undo_take_back("EF", UNDO_BREAKDOWN);
	/* now the other first, the same again after it */
	uk_cod = first;
	b = undo_cut_with(2, NULL, 18);
	uk_cod = second;
	kitchen_at(&uk, "2026-11-25T10:10");
	c = undo_cut_with(3, NULL, 20);
	undo_take_back("EF", UNDO_BREAKDOWN);
	breakdown_fini(&c);
	c = undo_cut_with(3, NULL, 20);
	undo_take_back("EF", UNDO_BREAKDOWN);
	undo_take_back("EF", UNDO_BREAKDOWN);
	uk_cod = second;
	breakdown_fini(&c);
	c = undo_cut_with(3, NULL, 20);
	both = undo_state();
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
	struct batch second = kitchen_receive(&uk, &rin), first = uk_cod;
	struct breakdown b, c;
	char *alone, *after, *a, *z;
	int64_t pace;

	uk_cod = second;
	c = undo_cut_with(3, NULL, 20);
	breakdown_fini(&c);
	alone = undo_state();
	pace = kitchen_count(&uk, paces);
	undo_take_back("EF", UNDO_BREAKDOWN);
	uk_cod = first;
	b = undo_cut_with(2, NULL, 18);
	uk_cod = second;
	kitchen_at(&uk, "2026-11-25T10:10");
	c = undo_cut_by("AB", 3, NULL, 20);
	ck_assert_int_ne(kitchen_count(&uk, paces), pace);
	undo_take_back("EF", UNDO_BREAKDOWN);
	after = undo_state();
	a = yields_in(alone);
	z = yields_in(after);
	ck_assert_str_eq(a, z);
	ck_assert_int_eq(kitchen_count(&uk, paces), pace);
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
	uk_cod = kitchen_receive(&uk, &rin);
	before = undo_state();
	b = undo_cut_with(2, "3,6", 0);
	ck_assert_int_eq(kitchen_count(&uk,
			     "SELECT count(*) FROM batch_fish"
			     " WHERE prep_id IS NOT NULL"),
	    2);
	undo_take_back("EF", UNDO_BREAKDOWN);
	undo_same_state(before);
	ck_assert_int_eq(kitchen_count(&uk,
			     "SELECT count(*) FROM audit WHERE action = 'undo'"
			     " AND detail LIKE '%fish 3,6 back%'"),
	    1);
	breakdown_fini(&b);
}
END_TEST

START_TEST(breakdown_stays)
{
	struct breakdown b = undo_cut_with(3, NULL, 0), c;

	undo_use_of(b.portions[1].code, 1, "AB");
	undo_stays("EF", "has 4 of 5 left: take that back first");
	undo_take_back("AB", UNDO_USE);
	undo_offered("EF");
	ck_assert_int_eq(
	    hold(NULL, uk.sn, b.portions[0].code, "smells", "AB", NULL), RC_OK);
	undo_stays("EF", "is on hold");
	undo_take_back("AB", UNDO_HOLD);
	ck_assert_int_eq(
	    hold(NULL, uk.sn, uk_cod.code, "recall", "AB", NULL), RC_OK);
	undo_stays("EF", "is on hold");
	undo_take_back("AB", UNDO_HOLD);
	undo_count_of(b.portions[0].code, 5, "AB");
	undo_stays("EF", "has a later count: it is there");
	c = undo_cut_with(1, NULL, 0);
	c.prep.id = 0;
	undo_take_back("EF", UNDO_BREAKDOWN);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

START_TEST(service_over)
{
	struct breakdown b = undo_cut_with(2, NULL, 0);

	ck_assert_int_eq(
	    kitchen_sql(uk.db,
		"INSERT INTO work_mark (service_id, batch_id, dish_id, step,"
		" said, prep_id, at_utc, offset_min, by) SELECT s.id, "
		"p.batch_id,"
		" c.dish_id, 'fillet', 'done', o.prep_id, p.made_utc, 0, 'EF'"
		" FROM service s, portion p JOIN cut c ON c.id = p.cut_id"
		" JOIN prep_output o ON o.id = p.prep_output_id"
		" WHERE s.name = 'lunch' LIMIT 1"),
	    SQLITE_OK);
	(void)undo_offered("EF");
	ck_assert_int_eq(
	    kitchen_sql(uk.db,
		"INSERT INTO closed (service_id, booked, seated, walk_ins,"
		" at_utc, offset_min, by) SELECT service_id, 40, 40, 0, at_utc,"
		" 0, 'AB' FROM work_mark"),
	    SQLITE_OK);
	undo_stays("EF", "made for the service 2026-11-25/lunch, which is");
	breakdown_fini(&b);
}
END_TEST

START_TEST(later_breakdown_first)
{
	struct breakdown b = undo_cut_with(3, NULL, 0), c;
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };

	kitchen_at(&uk, "2026-11-25T10:20");
	c = kitchen_break(&uk, uk_cod.code, &cut); /* by CD */
	undo_stays("EF", "was broken down again at 10:20 by CD");
	undo_take_back("CD", UNDO_BREAKDOWN);
	undo_take_back("EF", UNDO_BREAKDOWN);
	undo_sums();
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

/* One label is out, one is queued: the first is listed, the other cancelled. */
START_TEST(labels_of_it)
{
	struct breakdown b = undo_cut_with(2, NULL, 0);
	const char *code = b.portions[1].code;
	struct label_order order = { &code, 1, LABEL_FIRST, .by = "AB",
		.only_queue = true };
	struct undo_offer o;
	struct job_list jobs;
	char shown[CODE_SIZE];

	ck_assert_int_eq(
	    kitchen_label(NULL, &uk, b.portions[0].code, LABEL_FIRST), RC_OK);
	ck_assert_int_eq(label_print(&jobs, uk.sn, &order, NULL), RC_OK);
	job_list_fini(&jobs);
	o = undo_offered("EF");
	ck_assert_int_eq(o.collect_count, 1);
	ck_assert_str_eq(o.collect, code_show(shown, b.portions[0].code));
	ck_assert_int_eq(kitchen_sql(uk.db,
			     "UPDATE print_job SET state = 'sending'"
			     " WHERE state = 'queued'"),
	    SQLITE_OK);
	undo_stays("EF", "is being printed just now");
	ck_assert_int_eq(kitchen_sql(uk.db,
			     "UPDATE print_job SET state = 'queued'"
			     " WHERE state = 'sending'"),
	    SQLITE_OK);
	o = undo_take_back("EF", UNDO_BREAKDOWN);
	ck_assert_int_eq(o.collect_count, 1);
	ck_assert_int_eq(
	    kitchen_count(&uk,
		"SELECT count(*) FROM print_job WHERE state = 'cancelled'"),
	    1);
	breakdown_fini(&b);
}
END_TEST

/* What was struck out is known, says so, and goes nowhere any more. */
START_TEST(struck_units)
{
	struct breakdown b = undo_cut_with(2, NULL, 0);
	struct use_in use_it = { .code = b.portions[0].code, .by = "AB" };
	struct count_in count_it = { .code = b.portions[0].code,
		.servings = 5,
		.reason = "here it is",
		.by = "AB" };
	struct portion p;
	struct counted c;
	struct buf out;
	struct err err = { 0 };

	undo_take_back("EF", UNDO_BREAKDOWN);
	ck_assert_int_eq(use(&p, uk.sn, &use_it, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "struck out") != NULL, "%s", err.text);
	err_clear(&err);
	ck_assert_int_eq(count_unit(&c, uk.sn, &count_it, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "struck out") != NULL, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_label(NULL, &uk, b.portions[0].code, LABEL_FIRST),
	    RC_REFUSED);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(
	    trace(&out, uk.sn, b.portions[0].code, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "STRUCK OUT"));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "entered by mistake"));
	buf_fini(&out);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(
	    trace(&out, uk.sn, uk_cod.code, FORMAT_TEXT, NULL), RC_OK);
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
	    ticket_make(&t, uk.sn, &wish, &err) == RC_OK, "%s", err.text);
	ticket_show(out, t, FORMAT_TEXT);
	ticket_free(t);
}

START_TEST(on_lists)
{
	struct breakdown b = undo_cut_with(2, NULL, 0);
	struct buf out;

	undo_discard_of(b.portions[0].code, "AB");
	undo_take_back("AB", UNDO_DISCARD);
	undo_take_back("EF", UNDO_BREAKDOWN);
	buf_init(&out, 1 << 20);
	put_list(&out, TICKET_DAY, NULL);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "STRUCK OUT"));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "taken back"));
	ck_assert_ptr_null(strstr(buf_text(&out), "10 portions"));
	buf_fini(&out);
	buf_init(&out, 1 << 20);
	put_list(&out, TICKET_RECALL, uk_cod.code);
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
	char *before = undo_state();
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
	got = kitchen_receive(&uk, &rin);
	ck_assert_int_eq(
	    kitchen_label(NULL, &uk, got.code, LABEL_FIRST), RC_OK);
	o = undo_take_back("EF", UNDO_GOODS_IN);
	ck_assert_int_eq(o.collect_count, 1);
	undo_same_state(before);
	ck_assert_int_eq(batch_get(&again, uk.sn->st, got.code, NULL), RC_OK);
	ck_assert(again.struck);
	ck_assert_int_eq(again.weight_left, 0);
	ck_assert_int_eq(again.weight_g, got.weight_g);
	bin.batch = got.code;
	ck_assert_int_eq(breakdown_record(&b, uk.sn, &bin, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "struck out") != NULL, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_label(NULL, &uk, got.code, LABEL_AGAIN), RC_REFUSED);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(
	    trace(&out, uk.sn, got.code, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "STRUCK OUT"));
	/* "%-28s %12s": struck out, not waste */
	ck_assert_ptr_nonnull(strstr(
	    buf_text(&out), "struck out                      20.000 kg"));
	ck_assert_ptr_nonnull(strstr(
	    buf_text(&out), "discarded unopened                    0 g"));
	buf_fini(&out);
	undo_nothing("EF");
}
END_TEST

START_TEST(goods_in_stays)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in rin = kitchen_cod();
	struct breakdown b;
	struct batch got;

	rin.by = "EF";
	got = kitchen_receive(&uk, &rin);
	b = kitchen_break(&uk, got.code, &cut);
	undo_stays("EF", "something was made or thrown away");
	undo_take_back("CD", UNDO_BREAKDOWN);
	undo_offered("EF");
	undo_discard_of(got.code, "AB");
	undo_stays("EF", "something was made or thrown away");
	undo_take_back("AB", UNDO_DISCARD);
	ck_assert_int_eq(
	    hold(NULL, uk.sn, got.code, "recall", "AB", NULL), RC_OK);
	undo_stays("EF", "is on hold");
	undo_take_back("AB", UNDO_HOLD);
	undo_take_back("EF", UNDO_GOODS_IN);
	breakdown_fini(&b);
}
END_TEST

/* Whatever was done, taking all of it back leaves what was there before. */
START_TEST(all_the_way_back)
{
	char *before = undo_state();
	struct breakdown b = undo_cut_with(4, NULL, 25);
	struct undo_offer o;
	struct undo_in in = { .by = "GH" };
	struct err err = { 0 };
	int64_t rows;
	int n = 0;

	undo_use_of(b.portions[0].code, 2, "EF");
	undo_discard_of(b.portions[0].code, "AB");
	ck_assert_int_eq(
	    hold(NULL, uk.sn, b.portions[1].code, "smells", "CD", NULL), RC_OK);
	ck_assert_int_eq(
	    release(NULL, uk.sn, b.portions[1].code, "fine", "CD", NULL),
	    RC_OK);
	undo_count_of(b.portions[2].code, 3, "AB");
	undo_use_of(b.portions[3].code, 5, "EF");
	rows = kitchen_count(&uk, "SELECT count(*) FROM portion_event");
	while (undo_last(&o, uk.sn, NULL, &err) == RC_OK &&
	    o.kind != UNDO_GOODS_IN) {
		ck_assert_int_lt(n++, 20);
		in.step = o.step;
		ck_assert_msg(
		    undo_do(&o, uk.sn, &in, &err) == RC_OK, "%s", err.text);
		undo_sums();
		if (o.kind == UNDO_RELEASE) {
			/* held again: somebody has to lift that */
			ck_assert_int_eq(
			    release(NULL, uk.sn, b.portions[1].code, "fine",
				"ZZ", NULL),
			    RC_OK);
			ck_assert_int_eq(
			    kitchen_sql(uk.db,
				"INSERT INTO undone SELECT max(id), max(id)"
				" FROM audit"),
			    SQLITE_OK);
		}
	}
	undo_same_state(before);
	ck_assert_int_gt(
	    kitchen_count(&uk, "SELECT count(*) FROM portion_event"), rows);
	breakdown_fini(&b);
}
END_TEST

Suite *
suite_ops_undo_prep(void)
{
	Suite *s = suite_create("ops_undo_prep");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, undo_setup, undo_teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, breakdown_back, 0, 3);
	tcase_add_test(tc, taught_after_it);
	tcase_add_test(tc, older_of_two);
	tcase_add_test(tc, fish_come_back);
	tcase_add_test(tc, breakdown_stays);
	tcase_add_test(tc, service_over);
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
