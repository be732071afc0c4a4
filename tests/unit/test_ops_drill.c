/*
 * test_ops_drill.c - a recall in play: found both ways, accounted for to the
 * gram, or the gap named; kept as it was.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/balance.h"
#include "ops/drill.h"
#include "store/audit.h"
#include "store/store.h"
#include "ops/fate.h"
#include "store/tickets.h"

static struct kitchen k;
static struct batch cod;
static struct breakdown trays;

static void
setup(void)
{
	kitchen_open(&k);
	kitchen_at(&k, "2026-11-25T09:00");
	trays = kitchen_trays(&cod, &k);
}

static void
teardown(void)
{
	breakdown_fini(&trays);
	kitchen_close(&k);
}

static struct drill_report
run(const char *code, int64_t seed)
{
	struct drill_in in = { .code = code, .seed = seed, .by = "EF" };
	struct drill_report r;
	struct err err = { 0 };

	ck_assert_msg(drill_run(&r, k.sn, &in, &err) == RC_OK, "%s", err.text);
	return r;
}

START_TEST(found)
{
	struct use_in in = { .code = trays.portions[0].code,
		.servings = 3,
		.reason = "test",
		.by = "EF" };
	struct drill_report r;
	struct portion p;
	grams gap;

	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	r = run(cod.code, 0);
	ck_assert(mass_adds_up(&r.mass));
	ck_assert_int_eq(r.mass.in, cod.weight_g);
	ck_assert_int_eq(r.units, 3);
	ck_assert_int_eq(r.back, 3);
	ck_assert_int_eq(r.units_on_hand, 3);
	ck_assert_int_eq(r.on_hand, 9);
	ck_assert_int_eq(r.used, 3);
	ck_assert_int_eq(r.services, 1);
	ck_assert_str_eq(r.lot, "L-77");
	/* The goal on a file of one day; a file of years is the bench's. */
	ck_assert_int_lt(r.took_us, DRILL_GOAL_US);
	ck_assert_int_gt(r.took_us, 0);
	/* Drip nobody explained is a gap, and it is named. */
	ck_assert(!drill_found(&r));
	ck_assert_str_eq(r.gap, "breakdown 1: 802 g");
	ck_assert_int_eq(
	    balance_explain(&gap, k.sn, "1", "drip", "EF", NULL), RC_OK);
	r = run(cod.code, 0);
	ck_assert(drill_found(&r));
	ck_assert_str_eq(r.gap, "");
}
END_TEST

/* A unit whose link is broken does not lead back, and the drill says so. */
START_TEST(broken_link)
{
	struct drill_report r;
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 4, 4, 660, 4000, 2 };
	struct batch other = kitchen_receive(&k, &in);
	struct breakdown b = kitchen_break(&k, other.code, &cut);

	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE portion SET prep_output_id ="
			     " (SELECT max(id) FROM prep_output)"
			     " WHERE id = 1"),
	    0);
	r = run(cod.code, 0);
	ck_assert_int_eq(r.back, r.units - 1);
	ck_assert(!drill_found(&r));
	/* Its grams are missing from the batch it was labelled from. */
	ck_assert_int_eq(mass_open(&r.mass), 802 + 660);
	breakdown_fini(&b);
}
END_TEST

/* It is kept as it was shown, and reads the same again. */
START_TEST(kept)
{
	struct drill_report r = run(NULL, 4711), again;
	struct buf a, b;

	ck_assert(r.has_seed);
	ck_assert_int_eq(r.seed, 4711);
	ck_assert_int_eq(kitchen_count(&k, "SELECT seed FROM drill"), 4711);
	ck_assert_int_eq(drill_get(&again, k.sn, r.id, NULL), RC_OK);
	buf_init(&a, 65536);
	buf_init(&b, 65536);
	drill_show(&a, &r, FORMAT_TEXT);
	drill_show(&b, &again, FORMAT_TEXT);
	ck_assert_str_eq(buf_text(&a), buf_text(&b));
	buf_clear(&a);
	buf_clear(&b);
	drill_show(&a, &r, FORMAT_JSON);
	drill_show(&b, &again, FORMAT_JSON);
	ck_assert_str_eq(buf_text(&a), buf_text(&b));
	buf_fini(&a);
	buf_fini(&b);
	ck_assert_int_ne(kitchen_sql(k.db, "UPDATE drill SET took_us = 1"), 0);
	ck_assert_int_eq(drill_get(&again, k.sn, 99, NULL), RC_NOTFOUND);
}
END_TEST

/* The same seed draws the same batch; newer ones come more often, and any may
 * come; one refused at the door never does. */
START_TEST(drawn)
{
	struct receive_in in = kitchen_cod();
	int64_t seed, recent = 0, seen[33] = { 0 };
	struct batch b[32];
	struct drill_report r;
	int i, all = 0;

	for (i = 0; i < 32; i++) {
		in.decision = i == 30 ? DECISION_REFUSED : DECISION_ACCEPTED;
		in.note = i == 30 ? "soft" : NULL;
		b[i] = kitchen_receive(&k, &in);
	}
	for (seed = 1; seed <= 300; seed++) {
		r = run(NULL, seed);
		ck_assert_str_ne(r.batch, b[30].code);
		for (i = 0; i < 32; i++)
			if (str_eq(r.batch, b[i].code))
				seen[i + 1]++;
		if (str_eq(r.batch, cod.code))
			seen[0]++;
	}
	r = run(NULL, 7);
	ck_assert_str_eq(run(NULL, 7).batch, r.batch);
	for (i = 0; i < 33; i++)
		all += seen[i] > 0;
	for (i = 25; i < 33; i++)
		recent += seen[i];
	/* All but the one refused; the newest quarter in half of the draws. */
	ck_assert_int_ge(all, 28);
	ck_assert_int_ge(recent, 130);
}
END_TEST

START_TEST(nothing_yet)
{
	struct drill_in in = { .by = "EF" };
	struct drill_report r;
	struct err err = { 0 };

	ck_assert_int_eq(kitchen_sql(k.db,
			     "PRAGMA foreign_keys = OFF;"
			     "DROP TRIGGER batch_kept; DELETE FROM batch"),
	    0);
	ck_assert_int_eq(drill_run(&r, k.sn, &in, &err), RC_NOTFOUND);
	ck_assert_ptr_nonnull(strstr(err.text, "take goods in first"));
}
END_TEST

/* On the roll: a list of its own kind, kept as it was printed. */
START_TEST(printed)
{
	struct drill_report r = run(cod.code, 0);
	struct ticket_record row = { .kind = TICKET_DRILL,
		.at = { .utc = r.at_utc, .by = "EF" } };
	struct ticket *t = drill_ticket(&r);
	struct buf text;

	buf_init(&text, 65536);
	ticket_write(&text, t);
	ticket_free(t);
	row.title = text.data;
	row.body = text.data;
	ck_assert_int_eq(store_begin(k.sn->st, NULL), RC_OK);
	ck_assert_int_eq(ticket_insert(k.sn->st, &row, NULL), RC_OK);
	ck_assert_int_eq(
	    audit_add(k.sn->st, &row.at, "ticket", "drill", "", NULL), RC_OK);
	ck_assert_int_eq(store_commit(k.sn->st, NULL), RC_OK);
	buf_fini(&text);
	ck_assert_int_eq(ticket_get(&row, k.sn->st, row.id, NULL), RC_OK);
	ck_assert_int_eq(row.kind, TICKET_DRILL);
	ticket_record_fini(&row);
}
END_TEST

Suite *
suite_ops_drill(void)
{
	Suite *s = suite_create("ops_drill");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 120);
	tcase_add_test(tc, found);
	tcase_add_test(tc, broken_link);
	tcase_add_test(tc, kept);
	tcase_add_test(tc, drawn);
	tcase_add_test(tc, nothing_yet);
	tcase_add_test(tc, printed);
	suite_add_tcase(s, tc);
	return s;
}
