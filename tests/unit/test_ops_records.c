/*
 * test_ops_records.c - yields, waste and the audit trail over weeks: every gram
 * in its own week, nothing that was taken back, and only so many rows.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/export.h"
#include "ops/fate.h"
#include "ops/records_page.h"
#include "ops/undo.h"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static day_no
day_of(const char *date)
{
	day_no d;

	ck_assert_int_eq(day_parse(&d, "day", date, NULL), RC_OK);
	return d;
}

/* ISO 8601's own examples of weeks at the turn of a year, from memory: 2009-W01
 * begins on 29 December 2008, 2009-W53 ends on 3 January 2010. */
START_TEST(weeks)
{
	static const struct {
		const char *day, *monday;
	} rows[] = {
		{ "2008-12-29", "2008-12-29" },
		{ "2008-12-31", "2008-12-29" },
		{ "2009-01-04", "2008-12-29" },
		{ "2010-01-03", "2009-12-28" },
		{ "2010-01-04", "2010-01-04" },
	};
	size_t i;

	for (i = 0; i < NELEM(rows); i++)
		ck_assert_msg(
		    week_monday(day_of(rows[i].day)) == day_of(rows[i].monday),
		    "%s", rows[i].day);
}
END_TEST

/* A breakdown of two fish at an instant; its batch is new. */
static struct breakdown
break_at(const char *now)
{
	struct kitchen_cut cut = { "cod-leeks", 4, 4, 700, 4000, 2 };
	struct receive_in in = kitchen_cod();
	char document[32];
	struct batch b;

	kitchen_at(&k, now);
	str_fmt(document, sizeof(document), "DN %s", now);
	in.document = document;
	b = kitchen_receive(&k, &in);
	return kitchen_break(&k, b.code, &cut);
}

static void
drop(const char *code)
{
	struct discard_in in = {
		.code = code, .reason = "dropped", .by = "CD"
	};
	struct err err = { 0 };
	struct discarded out;

	ck_assert_msg(discard(&out, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

/* Sunday night and Monday morning are two weeks, also where the clocks go back
 * in between (25 October 2026). */
START_TEST(each_in_its_week)
{
	static const char *const nows[] = { "2026-10-25T23:59",
		"2026-10-26T00:00", "2026-11-01T23:59" };
	struct waste_week w[4];
	struct yield_courses c;
	struct breakdown b;
	struct err err = { 0 };
	size_t i;

	for (i = 0; i < NELEM(nows); i++) {
		b = break_at(nows[i]);
		breakdown_fini(&b);
	}
	ck_assert_msg(
	    waste_weeks(w, k.sn, 4, day_of("2026-11-04"), &err) == RC_OK, "%s",
	    err.text);
	ck_assert_int_eq(w[0].monday, day_of("2026-10-12"));
	ck_assert_int_eq(w[0].preps, 0);
	ck_assert_int_eq(w[1].preps, 1);
	ck_assert_int_eq(w[2].preps, 2);
	ck_assert_int_eq(w[3].preps, 0);
	/* kitchen_break(): of the 3300 g that are no portions a fifth is
	 * waste, a fifth trim and half frames. */
	ck_assert_int_eq(w[2].worked_g, 8000);
	ck_assert_int_eq(w[2].waste_g, 1320);
	ck_assert_int_eq(w[2].trim_g, 1320);
	ck_assert_int_eq(w[2].frames_g, 3300);
	ck_assert_int_eq(waste_share_bp(&w[2]), 1650);
	ck_assert_int_eq(waste_share_bp(&w[0]), 0);
	/* The first breakdown is believed whatever it gives; the others agree
	 * with it. */
	ck_assert_int_eq(
	    yield_courses_open(&c, k.sn, 4, day_of("2026-11-04"), &err), RC_OK);
	ck_assert_uint_eq(c.count, 1);
	ck_assert_int_eq(c.items[0].preps, 3);
	ck_assert_int_eq(
	    c.items[0].week[1].preps + c.items[0].week[1].set_aside, 1);
	ck_assert_int_eq(
	    c.items[0].week[2].preps + c.items[0].week[2].set_aside, 2);
	ck_assert(c.items[0].has_published);
	yield_courses_fini(&c);
	/* The window ends where it is told to. */
	ck_assert_int_eq(
	    yield_courses_open(&c, k.sn, 1, day_of("2026-10-25"), &err), RC_OK);
	ck_assert_int_eq(c.items[0].preps, 1);
	yield_courses_fini(&c);
	ck_assert_int_eq(
	    yield_courses_open(&c, k.sn, 1, day_of("2026-10-18"), &err), RC_OK);
	ck_assert_uint_eq(c.count, 0);
	yield_courses_fini(&c);
}
END_TEST

/* In summer the kitchen's Monday begins while it is Sunday in UTC. */
START_TEST(kitchens_monday)
{
	struct breakdown b = break_at("2026-06-29T00:30");
	struct waste_week w[2];
	struct err err = { 0 };

	breakdown_fini(&b);
	ck_assert_int_eq(
	    waste_weeks(w, k.sn, 2, day_of("2026-06-29"), &err), RC_OK);
	ck_assert_int_eq(w[0].preps, 0);
	ck_assert_int_eq(w[1].preps, 1);
}
END_TEST

START_TEST(lost_later)
{
	struct count_in few = { .servings = 3, .reason = "gone", .by = "CD" };
	struct breakdown b = break_at("2026-11-25T10:05");
	struct waste_week w;
	struct undo_in back = { .reason = "mistake", .by = "CD" };
	struct undo_offer offer;
	struct err err = { 0 };
	struct counted counted;
	day_no day = day_of("2026-11-25");

	few.code = b.portions[0].code;
	ck_assert_msg(
	    count_unit(&counted, k.sn, &few, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(waste_weeks(&w, k.sn, 1, day, &err), RC_OK);
	ck_assert_int_eq(w.missing_g, 175); /* one of four that weigh 700 g */
	/* Found again is no loss. */
	few.servings = 4;
	ck_assert_int_eq(count_unit(&counted, k.sn, &few, &err), RC_OK);
	ck_assert_int_eq(waste_weeks(&w, k.sn, 1, day, &err), RC_OK);
	ck_assert_int_eq(w.missing_g, 0);
	drop(b.portions[0].code);
	ck_assert_int_eq(waste_weeks(&w, k.sn, 1, day, &err), RC_OK);
	ck_assert_int_eq(w.discarded_g, 700);
	/* Taken back: it never was thrown away. */
	ck_assert_msg(
	    undo_last(&offer, k.sn, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(offer.kind, UNDO_DISCARD);
	back.step = offer.step;
	ck_assert_msg(
	    undo_do(&offer, k.sn, &back, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(waste_weeks(&w, k.sn, 1, day, &err), RC_OK);
	ck_assert_int_eq(w.discarded_g, 0);
	ck_assert_int_eq(w.preps, 1);
	breakdown_fini(&b);
}
END_TEST

START_TEST(windows_of_the_trail)
{
	struct audit_list l;
	struct err err = { 0 };
	int64_t last, before = 0, want;
	int i, n = 0;

	for (i = 0; i < 12; i++) {
		struct breakdown b;
		char now[32];

		str_fmt(now, sizeof(now), "2026-11-25T11:%02d", i);
		b = break_at(now);
		breakdown_fini(&b);
	}
	ck_assert_int_eq(trail_open(&l, &last, k.sn, 0, 1, &err), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].id, last);
	audit_list_fini(&l);
	for (want = last; want > 0; n++) {
		size_t j;

		ck_assert_int_eq(
		    trail_open(&l, &last, k.sn, before, 5, &err), RC_OK);
		ck_assert_uint_le(l.count, 5);
		for (j = 0; j < l.count; j++)
			ck_assert_int_eq(l.items[j].id, want--);
		before = l.items[l.count - 1].id;
		audit_list_fini(&l);
	}
	ck_assert_int_eq(n, (last + 4) / 5);
	ck_assert_int_eq(trail_open(&l, &last, k.sn, 1, 5, &err), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	audit_list_fini(&l);
}
END_TEST

/* An export that is stopped leaves nothing, and not a part either. */
static bool
stop(void *arg, int64_t done, int64_t total)
{
	int *calls = arg;

	ck_assert_int_le(done, total);
	(*calls)++;
	return false;
}

START_TEST(export_stopped)
{
	int calls = 0;
	struct export_wish w = {
		.kind = "audit",
		.folder = k.folder,
		.tell = stop,
		.arg = &calls,
	};
	char part[1200];
	struct export_done d;
	struct err err = { 0 };

	ck_assert_int_eq(export_run(&d, k.sn, &w, &err), RC_REFUSED);
	ck_assert_int_eq(calls, 1);
	ck_assert(access(d.path, F_OK) != 0);
	str_fmt(part, sizeof(part), "%s.new-%ld", d.path, (long)getpid());
	ck_assert(access(part, F_OK) != 0);
	w.tell = NULL;
	ck_assert_int_eq(export_run(&d, k.sn, &w, &err), RC_OK);
	ck_assert(access(d.path, F_OK) == 0);
}
END_TEST

Suite *
suite_ops_records(void)
{
	Suite *s = suite_create("ops_records");
	TCase *t = tcase_create("records");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, weeks);
	tcase_add_test(t, each_in_its_week);
	tcase_add_test(t, kitchens_monday);
	tcase_add_test(t, lost_later);
	tcase_add_test(t, windows_of_the_trail);
	tcase_add_test(t, export_stopped);
	suite_add_tcase(s, t);
	return s;
}
