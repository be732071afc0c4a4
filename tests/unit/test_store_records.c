/*
 * test_store_records.c - what the station file holds: each record as it was
 * put, what is left of it, and the rules the file itself keeps.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "store/batches.h"
#include "store/bookings.h"
#include "store/holds.h"
#include "store/menu.h"
#include "store/portions.h"
#include "store/preps.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct store *st;
static struct moment at = { 1795600000, 0, "AB" };

static void
setup(void)
{
	kitchen_open(&k);
	st = k.sn->st;
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
begin(void)
{
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
}

static void
commit(void)
{
	rig_commit(st);
}

START_TEST(batch_round_trip)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in), got;
	char *why;

	ck_assert_int_eq(batch_get(&got, st, b.code, NULL), RC_OK);
	ck_assert_int_eq(got.id, b.id);
	ck_assert_str_eq(got.species, "COD");
	ck_assert_int_eq(got.presentation, PRES_GUTTED);
	ck_assert_int_eq(got.count, 10);
	ck_assert_int_eq(got.count_left, 10);
	ck_assert_int_eq(got.weight_g, 20000);
	ck_assert_int_eq(got.weight_left, 20000);
	ck_assert_str_eq(got.lot, "L-77");
	ck_assert_int_eq(got.temp_dc, 15);
	ck_assert_str_eq(got.area, "27.4.a");
	ck_assert_str_eq(got.method, "caught");
	ck_assert_str_eq(got.gear, "longlines");
	ck_assert_int_eq(got.caught_day, DAY_NONE);
	ck_assert_int_eq(got.supplier_use_by, DAY_NONE);
	ck_assert_int_eq(got.decision, DECISION_ACCEPTED);
	ck_assert_str_eq(got.note, "");
	ck_assert_str_eq(got.received.by, "AB");
	ck_assert_str_eq(got.supplier.code, "pier");
	ck_assert_str_eq(got.supplier.name, "North Pier Fish");
	ck_assert_str_eq(got.supplier.address, "1 Netmakers Row, Fairhaven");
	ck_assert_str_eq(got.document, "DN 4471");
	ck_assert(!got.held);
	ck_assert_int_eq(batch_why(&why, st, b.id, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(why, "house life, batch"));
	free(why);
	ck_assert_int_eq(batch_get(&got, st, "2633009C", NULL), RC_NOTFOUND);
}
END_TEST

/* Codes of one day: each once, none skipped without need, then no more. */
START_TEST(day_of_batches)
{
	struct receive_in in = kitchen_cod();
	char want[CODE_SIZE];
	struct batch b;
	struct err err = { 0 };
	int n = 0, made = 0;
	enum rc rc;

	for (;;) {
		rc = receive(&b, NULL, k.sn, &in, &err);
		if (rc != RC_OK)
			break;
		n = batch_code_make(
		    want, local_from_utc(b.received.utc).day, n + 1);
		ck_assert_str_eq(b.code, want);
		made++;
	}
	ck_assert_int_eq(rc, RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "no batch number is left"));
	ck_assert_int_gt(made, 70);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM batch"), made);
	/* One document of one day is one delivery. */
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM delivery"), 1);
	kitchen_at(&k, "2026-11-26T09:00");
	err_clear(&err);
	ck_assert_int_eq(receive(&b, NULL, k.sn, &in, &err), RC_OK);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM delivery"), 2);
}
END_TEST

START_TEST(open_batches_first_expired_first)
{
	struct receive_in in = kitchen_cod();
	struct batch_list l;
	struct batch b[3];
	size_t i;

	b[0] = kitchen_receive(&k, &in);
	in.supplier_date = "2026-11-26";
	b[1] = kitchen_receive(&k, &in);
	in.decision = DECISION_REFUSED;
	in.note = "torn boxes";
	kitchen_receive(&k, &in);
	in = kitchen_cod();
	in.supplier_date = "2026-11-27";
	b[2] = kitchen_receive(&k, &in);
	ck_assert_int_eq(batch_list_open(&l, st, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 3);
	ck_assert_str_eq(l.items[0].code, b[1].code);
	ck_assert_str_eq(l.items[1].code, b[2].code);
	ck_assert_str_eq(l.items[2].code, b[0].code);
	for (i = 1; i < l.count; i++)
		ck_assert_int_le(
		    l.items[i - 1].use_by_utc, l.items[i].use_by_utc);
	batch_list_fini(&l);
}
END_TEST

/* A batch is off the list with its last gram, or its last fish. */
START_TEST(used_up)
{
	struct receive_in in = kitchen_cod();
	struct batch counted = kitchen_receive(&k, &in), weighed, got;
	struct batch_list l;

	in.count = NULL;
	weighed = kitchen_receive(&k, &in);
	begin();
	ck_assert_int_eq(
	    batch_discard(st, counted.id, 9, 17000, "bad", &at, NULL), RC_OK);
	ck_assert_int_eq(
	    batch_discard(st, weighed.id, 0, 19999, "bad", &at, NULL), RC_OK);
	commit();
	ck_assert_int_eq(batch_get(&got, st, counted.code, NULL), RC_OK);
	ck_assert_int_eq(got.count_left, 1);
	ck_assert_int_eq(got.weight_left, 3000);
	ck_assert_int_eq(batch_list_open(&l, st, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	batch_list_fini(&l);
	begin();
	ck_assert_int_eq(
	    batch_discard(st, counted.id, 1, 10, "bad", &at, NULL), RC_OK);
	ck_assert_int_eq(
	    batch_discard(st, weighed.id, 0, 1, "bad", &at, NULL), RC_OK);
	commit();
	ck_assert_int_eq(batch_list_open(&l, st, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	batch_list_fini(&l);
}
END_TEST

START_TEST(portion_round_trip)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	struct portion_list l;
	struct portion got;
	char *why;
	size_t i;

	ck_assert_uint_eq(d.portion_count, 3);
	ck_assert_int_eq(portion_list_batch(&l, st, b.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 3);
	for (i = 0; i < 3; i++) {
		ck_assert_str_eq(l.items[i].code, d.portions[i].code);
		ck_assert_int_eq(
		    portion_get(&got, st, d.portions[i].code, NULL), RC_OK);
		ck_assert_int_eq(got.id, l.items[i].id);
		ck_assert_int_eq(got.servings, 4);
		ck_assert_int_eq(got.left, 4);
		ck_assert_int_eq(got.weight_g, 660);
		ck_assert_str_eq(got.batch, b.code);
		ck_assert_str_eq(got.dish, "cod-leeks");
		ck_assert_str_eq(got.dish_name, "Cod, leeks");
		ck_assert_str_eq(got.allergens, "milk");
		ck_assert_int_eq(got.state, STATE_RAW);
		ck_assert_str_eq(got.species, "COD");
		ck_assert_str_eq(got.made.by, "CD");
		ck_assert_int_eq(got.prep_id, d.prep.id);
		ck_assert_int_eq(got.use_by_utc, d.portions[i].use_by_utc);
		ck_assert(!got.held);
	}
	portion_list_fini(&l);
	ck_assert_int_eq(portion_why(&why, st, got.id, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(why, "raw portion"));
	free(why);
	ck_assert_int_eq(portion_get(&got, st, "001H7C", NULL), RC_NOTFOUND);
	breakdown_fini(&d);
}
END_TEST

START_TEST(never_below_zero)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	struct portion_event e = { .fate = FATE_USED, .servings = 3, .at = at };
	struct portion_event_list l;
	struct portion p;
	int64_t id = d.portions[0].id;

	begin();
	ck_assert_int_eq(portion_take(st, id, &e, NULL), RC_OK);
	commit();
	e.servings = 2;
	begin();
	ck_assert_int_ne(portion_take(st, id, &e, NULL), RC_OK);
	store_rollback(st);
	e.servings = 0;
	begin();
	ck_assert_int_ne(portion_take(st, id, &e, NULL), RC_OK);
	store_rollback(st);
	ck_assert_int_eq(portion_get(&p, st, d.portions[0].code, NULL), RC_OK);
	ck_assert_int_eq(p.left, 1);
	e.servings = 1;
	e.fate = FATE_DISCARDED;
	str_copy(e.reason, sizeof(e.reason), "dropped");
	begin();
	ck_assert_int_eq(portion_take(st, id, &e, NULL), RC_OK);
	commit();
	ck_assert_int_eq(portion_events_open(&l, st, id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_int_eq(l.items[0].fate, FATE_USED);
	ck_assert_int_eq(l.items[0].servings, 3);
	ck_assert_int_eq(l.items[1].fate, FATE_DISCARDED);
	ck_assert_str_eq(l.items[1].reason, "dropped");
	portion_events_fini(&l);
	breakdown_fini(&d);
}
END_TEST

/* Older by use-by, then by time made; never one on hold, empty or expired. */
START_TEST(older_first)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k), later;
	struct kitchen_cut cut = { "cod-leeks", 4, 4, 660, 4000, 2 };
	struct portion p, older;
	struct subject s = { 0 };
	struct portion_event e = { .fate = FATE_USED, .servings = 4, .at = at };

	kitchen_at(&k, "2026-11-25T14:00");
	later = kitchen_break(&k, b.code, &cut);
	p = later.portions[0];
	ck_assert_int_eq(
	    portion_older(&older, st, &p, p.made.utc, NULL), RC_OK);
	ck_assert_str_eq(older.code, d.portions[0].code);
	/* Made together: none goes first. */
	ck_assert_int_eq(
	    portion_older(&older, st, &d.portions[1], p.made.utc, NULL),
	    RC_NOTFOUND);
	begin();
	s.portion_id = d.portions[0].id;
	ck_assert_int_eq(hold_open(st, &s, "smell", &at, NULL), RC_OK);
	ck_assert_int_eq(portion_take(st, d.portions[1].id, &e, NULL), RC_OK);
	commit();
	ck_assert_int_eq(
	    portion_older(&older, st, &p, p.made.utc, NULL), RC_OK);
	ck_assert_str_eq(older.code, d.portions[2].code);
	ck_assert_int_eq(
	    portion_older(&older, st, &p, p.use_by_utc + 1, NULL), RC_NOTFOUND);
	breakdown_fini(&d);
	breakdown_fini(&later);
}
END_TEST

START_TEST(holds_open_and_close)
{
	struct batch b, got;
	struct breakdown d = kitchen_trays(&b, &k);
	struct subject batch = { .batch_id = b.id };
	struct subject portion = { .portion_id = d.portions[0].id };
	struct hold_list l;
	struct portion p;

	begin();
	ck_assert_int_eq(hold_close(st, &batch, "x", &at, NULL), RC_REFUSED);
	ck_assert_int_eq(hold_open(st, &batch, "recall", &at, NULL), RC_OK);
	ck_assert_int_eq(hold_open(st, &batch, "x", &at, NULL), RC_REFUSED);
	commit();
	ck_assert_int_eq(batch_get(&got, st, b.code, NULL), RC_OK);
	ck_assert(got.held);
	ck_assert_int_eq(portion_get(&p, st, d.portions[2].code, NULL), RC_OK);
	ck_assert_msg(p.held, "a batch holds its portions");
	begin();
	/* The portion's own hold is another one. */
	ck_assert_int_eq(hold_close(st, &portion, "x", &at, NULL), RC_REFUSED);
	ck_assert_int_eq(hold_open(st, &portion, "smell", &at, NULL), RC_OK);
	ck_assert_int_eq(hold_close(st, &batch, "cleared", &at, NULL), RC_OK);
	commit();
	ck_assert_int_eq(portion_get(&p, st, d.portions[0].code, NULL), RC_OK);
	ck_assert(p.held);
	ck_assert_int_eq(portion_get(&p, st, d.portions[1].code, NULL), RC_OK);
	ck_assert(!p.held);
	begin();
	ck_assert_int_eq(hold_open(st, &batch, "again", &at, NULL), RC_OK);
	commit();
	ck_assert_int_eq(hold_list_open(&l, st, &batch, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[0].reason, "recall");
	ck_assert_str_eq(l.items[0].released_reason, "cleared");
	ck_assert_str_eq(l.items[0].released_by, "AB");
	ck_assert_int_eq(l.items[0].released_utc, at.utc);
	ck_assert_int_eq(l.items[1].released_utc, 0);
	hold_list_fini(&l);
	breakdown_fini(&d);
}
END_TEST

/* --- suppliers -------------------------------------------------------------*/

static void
put(const char *code, const char *name, enum change want)
{
	struct supplier s = {
		.address = "1 Quay", .approval = "", .contact = ""
	};
	enum change c = CHANGE_NONE;

	str_copy(s.code, sizeof(s.code), code);
	str_copy(s.name, sizeof(s.name), name);
	begin();
	ck_assert_int_eq(supplier_put(&c, st, &s, NULL), RC_OK);
	commit();
	ck_assert_msg(c == want, "%s %s: %d", code, name, c);
}

START_TEST(supplier_changes)
{
	struct supplier s;

	put("gull", "Gull Rock Fish", CHANGE_ADDED);
	put("gull", "Gull Rock Fish", CHANGE_NONE);
	put("gull", "Gull Rock Fish Ltd", CHANGE_CHANGED);
	ck_assert_int_eq(supplier_find(&s, st, "GULL", NULL), RC_OK);
	ck_assert_str_eq(s.name, "Gull Rock Fish Ltd");
	ck_assert_int_eq(
	    supplier_find(&s, st, "gull rock fish ltd", NULL), RC_OK);
	ck_assert_int_eq(supplier_find(&s, st, "gul", NULL), RC_NOTFOUND);
}
END_TEST

/* A code is unique, a name may be anything: the code goes first, or the chain
 * leads to the wrong door. */
START_TEST(code_before_name)
{
	struct supplier s;

	put("tern", "Tern Bay", CHANGE_ADDED);
	put("auk", "Tern", CHANGE_ADDED);
	ck_assert_int_eq(supplier_find(&s, st, "tern", NULL), RC_OK);
	ck_assert_msg(str_eq(s.code, "tern"), "found %s", s.code);
}
END_TEST

/* One supplier, whatever the case of its code. */
START_TEST(one_supplier_whatever_case)
{
	struct supplier s;

	put("skua", "Skua Fish", CHANGE_ADDED);
	put("SKUA", "Skua Fish and Ice", CHANGE_CHANGED);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM supplier"
			     " WHERE lower(code) = 'skua'"),
	    1);
	ck_assert_int_eq(supplier_find(&s, st, "skua", NULL), RC_OK);
	ck_assert_str_eq(s.name, "Skua Fish and Ice");
}
END_TEST

/* --- bookings and menu
 * -------------------------------------------------------*/

START_TEST(bookings_by_day)
{
	struct service s = { .day = 20000, .name = "dinner", .covers = 30 };
	struct service_list l;
	enum change c;

	begin();
	ck_assert_int_eq(service_put(&c, st, &s, NULL), RC_OK);
	ck_assert_int_eq(c, CHANGE_ADDED);
	ck_assert_int_eq(service_put(&c, st, &s, NULL), RC_OK);
	ck_assert_int_eq(c, CHANGE_NONE);
	s.covers = 31;
	ck_assert_int_eq(service_put(&c, st, &s, NULL), RC_OK);
	ck_assert_int_eq(c, CHANGE_CHANGED);
	s.day = 20001;
	ck_assert_int_eq(service_put(&c, st, &s, NULL), RC_OK);
	commit();
	ck_assert_int_eq(service_get(&s, st, 20000, "dinner", NULL), RC_OK);
	ck_assert_int_eq(s.covers, 31);
	ck_assert_int_eq(
	    service_get(&s, st, 20000, "lunch", NULL), RC_NOTFOUND);
	ck_assert_int_eq(service_list_open(&l, st, 20000, 20000, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	service_list_fini(&l);
	ck_assert_int_eq(service_list_open(&l, st, 20000, 20001, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	service_list_fini(&l);
}
END_TEST

/* A changed cut is a new row: what was cut to the old one still says so. */
START_TEST(changed_cut_is_a_new_row)
{
	struct batch b;
	struct breakdown d = kitchen_trays(&b, &k);
	struct plan_cut before, after;
	enum change c;
	int64_t dish;

	ck_assert_int_eq(
	    cut_find(&before, st, "cod-leeks", "COD", NULL), RC_OK);
	dish =
	    kitchen_count(&k, "SELECT id FROM dish WHERE code = 'cod-leeks'");
	after = before;
	begin();
	ck_assert_int_eq(cut_put(&c, st, dish, &after, NULL), RC_OK);
	ck_assert_int_eq(c, CHANGE_NONE);
	after.target_g = 170;
	ck_assert_int_eq(cut_put(&c, st, dish, &after, NULL), RC_OK);
	ck_assert_int_eq(c, CHANGE_CHANGED);
	commit();
	ck_assert_int_eq(cut_find(&after, st, "cod-leeks", "COD", NULL), RC_OK);
	ck_assert_int_eq(after.target_g, 170);
	ck_assert_int_ne(after.id, before.id);
	ck_assert_int_eq(d.portions[0].cut_id, before.id);
	breakdown_fini(&d);
}
END_TEST

Suite *
suite_store_records(void)
{
	Suite *s = suite_create("store_records");
	TCase *tc = tcase_create("records");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_test(tc, batch_round_trip);
	tcase_add_test(tc, day_of_batches);
	tcase_add_test(tc, open_batches_first_expired_first);
	tcase_add_test(tc, used_up);
	tcase_add_test(tc, portion_round_trip);
	tcase_add_test(tc, never_below_zero);
	tcase_add_test(tc, older_first);
	tcase_add_test(tc, holds_open_and_close);
	tcase_add_test(tc, supplier_changes);
	tcase_add_test(tc, code_before_name);
	tcase_add_test(tc, one_supplier_whatever_case);
	tcase_add_test(tc, bookings_by_day);
	tcase_add_test(tc, changed_cut_is_a_new_row);
	suite_add_tcase(s, tc);
	return s;
}
