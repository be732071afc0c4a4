/*
 * test_ops_mixed_recall.c - food of several batches where something is wrong:
 * recalls, holds, complaints and drills follow it onto every tray.
 *
 * That each lot of origin stays identifiable after mixing: Reg. (EU) 404/2011
 * Art. 67(3), in force as the UK's copy.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/combine.h"
#include "ops/complaint.h"
#include "ops/drill.h"
#include "ops/fate.h"
#include "ops/hold.h"
#include "ops/recall.h"
#include "ops/trace_page.h"

static struct kitchen k;
static struct batch cod[2]; /* of two suppliers */
static struct breakdown made[2];
static struct combined tray;

/* A tray of 4 of each batch, put together onto a third. */
static void
setup(void)
{
	const struct kitchen_cut cut = { "cod-leeks", 8, 4, 1300, 4000, 2 };
	const char *codes[2];
	const struct combine_in in = { codes, 2, "EF" };
	struct receive_in rin = kitchen_cod();
	int i;

	kitchen_open(&k);
	for (i = 0; i < 2; i++) {
		rin.supplier = i == 0 ? "pier" : "reef";
		rin.lot = i == 0 ? "ONE" : "TWO";
		cod[i] = kitchen_receive(&k, &rin);
		made[i] = kitchen_break(&k, cod[i].code, &cut);
		codes[i] = made[i].portions[0].code;
	}
	ck_assert_int_eq(combine(&tray, k.sn, &in, NULL), RC_OK);
}

static void
teardown(void)
{
	breakdown_fini(&made[0]);
	breakdown_fini(&made[1]);
	kitchen_close(&k);
}

static bool
held(const char *code)
{
	struct portion p;

	ck_assert_int_eq(portion_get(&p, k.sn->st, code, NULL), RC_OK);
	return p.held;
}

static int64_t
recall_of(const char *code, bool breakdown)
{
	const struct recall_in in = { .codes = &code,
		.count = 1,
		.breakdown = breakdown,
		.reason = "rang",
		.by = "GH" };
	struct recall_brief b;
	struct err err = { 0 };

	ck_assert_msg(
	    recall_open(&b, k.sn, &in, &err) == RC_OK, "%s", err.text);
	return b.recall.id;
}

/* Of either batch, of either breakdown, or of an emptied tray alone: what lies
 * on the new tray is blocked and on the list. */
static const struct {
	const char *why;
	int of, what; /* 0 batch, 1 breakdown, 2 the emptied tray */
} ways[] = {
	{ "the batch it is filed under, or the other", 0, 0 },
	{ "the other", 1, 0 },
	{ "a breakdown", 0, 1 },
	{ "the other breakdown", 1, 1 },
	{ "an emptied tray", 0, 2 },
	{ "the other emptied tray", 1, 2 },
};

START_TEST(followed_onto_the_tray)
{
	const struct breakdown *of = &made[ways[_i].of];
	int64_t id = recall_of(
	    ways[_i].what == 0 ? cod[ways[_i].of].code : of->portions[0].code,
	    ways[_i].what == 1);
	struct recall_page p;
	bool there = false, both = false;
	size_t i;

	ck_assert_msg(held(tray.tray.code), "%s", ways[_i].why);
	ck_assert_int_eq(recall_load(&p, k.sn, id, NULL), RC_OK);
	for (i = 0; i < p.items.count; i++)
		if (str_eq(p.items.items[i].code, tray.tray.code)) {
			there = recall_item_missing(&p.items.items[i]) == 8;
			both = p.items.items[i].also[0] != '\0';
		}
	ck_assert_msg(there && both, "%s", ways[_i].why);
	/* Each of them may be the one to ring. */
	ck_assert_uint_eq(p.supplier_count, 2);
	recall_fini(&p);
}
END_TEST

/* The list on paper names every batch of a unit. */
START_TEST(paper_names_both)
{
	int64_t id = recall_of(cod[1].code, false);
	char one[CODE_SIZE], other[CODE_SIZE], want[64];
	const struct batch *by = &cod[str_eq(tray.tray.batch, cod[1].code)];
	const struct batch *rest = by == &cod[0] ? &cod[1] : &cod[0];
	struct ticket *t;
	struct buf text;

	ck_assert_int_eq(recall_ticket(&t, k.sn, id, NULL), RC_OK);
	buf_init(&text, 65536);
	ticket_write(&text, t);
	ticket_free(t);
	str_fmt(want, sizeof(want), "of %s + %s", code_show(one, by->code),
	    code_show(other, rest->code));
	ck_assert_msg(strstr(buf_text(&text), want) != NULL, "%s in %s", want,
	    buf_text(&text));
	buf_fini(&text);
}
END_TEST

/* An emptied tray that turns up says where its food went. */
START_TEST(empty_label_found)
{
	int64_t id = recall_of(cod[0].code, false);
	struct recall_scan s;

	ck_assert_int_eq(
	    recall_tick(&s, k.sn, id, made[0].portions[0].code, 0, "GH", NULL),
	    RC_OK);
	ck_assert_int_eq(s.verdict, TICK_SURPRISE);
	ck_assert_ptr_nonnull(strstr(s.says, "4 put onto another tray"));
}
END_TEST

/* Some found, one of those thrown away before it is closed: what was not found
 * stays, blocked. */
START_TEST(partly_found)
{
	int64_t id = recall_of(cod[0].code, false);
	struct recall_close_in end = { .id = id,
		.outcome = "discarded",
		.reason = "the rest is not here",
		.by = "GH" };
	struct discard_in gone = { .code = tray.tray.code,
		.servings = 1,
		.reason = "leaks",
		.by = "GH" };
	struct recall_closed closed;
	struct discarded d;
	struct recall_scan s;
	struct portion p;

	ck_assert_int_eq(
	    recall_tick(&s, k.sn, id, tray.tray.code, 5, "GH", NULL), RC_OK);
	ck_assert_int_eq(discard(&d, k.sn, &gone, NULL), RC_OK);
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_OK);
	ck_assert_int_eq(
	    portion_get(&p, k.sn->st, tray.tray.code, NULL), RC_OK);
	ck_assert_int_eq(p.left, 3);
	ck_assert(p.held);
}
END_TEST

/* A hold on a label whose food is elsewhere would block nothing. */
START_TEST(hold_of_an_empty_tray)
{
	const struct hold_in in = { made[0].portions[0].code, false, "smell",
		"AB" };
	struct hold_done d;
	struct err err = { 0 };
	char shown[CODE_SIZE];

	ck_assert_int_eq(hold_set(&d, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(
	    strstr(err.text, code_show(shown, tray.tray.code)));
}
END_TEST

/* Whose fish the guest had nobody can say: all of it is blocked. */
START_TEST(complaint_holds_all)
{
	const struct complaint_in in = { .code = tray.tray.code,
		.what = "ill",
		.hold = true,
		.by = "GH" };
	struct complaint_taken t;
	struct batch b;
	int i;

	ck_assert_int_eq(complaint_add(&t, k.sn, &in, NULL), RC_OK);
	ck_assert_uint_eq(t.held_count, 2);
	for (i = 0; i < 2; i++) {
		ck_assert_int_eq(
		    batch_get(&b, k.sn->st, cod[i].code, NULL), RC_OK);
		ck_assert(b.held);
	}
}
END_TEST

/* A tray leads back to both. */
START_TEST(drill_leads_back)
{
	struct drill_report r;
	int i;

	for (i = 0; i < 2; i++) {
		const struct drill_in in = { .code = cod[i].code, .by = "EF" };

		ck_assert_int_eq(drill_run(&r, k.sn, &in, NULL), RC_OK);
		ck_assert_int_eq(r.units, 3);
		ck_assert_int_eq(r.back, 3);
		/* 4000 g, of it 1300 in portions; the rest was weighed out. */
		ck_assert_int_eq(
		    r.mass.part[MASS_CHILLED] + r.mass.part[MASS_USED], 1300);
	}
}
END_TEST

/* A serving of two batches is one serving: four scanned of six sold are not
 * all that was sold. */
START_TEST(scanned_once)
{
	const struct use_in in = { .code = tray.tray.code,
		.servings = 4,
		.service = "2026-11-26/dinner",
		.reason = "test",
		.by = "EF" };
	struct trace_guess g;
	struct portion p;

	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(
	    trace_guess_load(&g, k.sn, "cod-leeks", in.service, NULL), RC_OK);
	ck_assert_int_eq(g.scanned, 4);
	ck_assert_uint_eq(g.certain, 2);
	trace_guess_fini(&g);
}
END_TEST

/* More of a lot that is being recalled is blocked as it comes in; of another
 * supplier the same word is another lot. */
START_TEST(more_of_the_lot)
{
	static const struct {
		const char *supplier, *lot;
		bool held;
	} rows[] = {
		{ "pier", "one", true },
		{ "reef", "ONE", false },
		{ "pier", "THREE", false },
	};
	struct recall_close_in end = { .outcome = "mistake", .by = "GH" };
	struct receive_in rin = kitchen_cod();
	struct recall_closed closed;
	size_t i;

	end.id = recall_of(cod[0].code, false);
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		rin.supplier = rows[i].supplier;
		rin.lot = rows[i].lot;
		ck_assert(kitchen_receive(&k, &rin).held == rows[i].held);
	}
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_OK);
	rin.lot = "ONE";
	ck_assert(!kitchen_receive(&k, &rin).held);
}
END_TEST

/* Bought gutted and bought as fillets: no tray of both, as no board of both;
 * it could be neither frozen nor labelled. */
START_TEST(one_presentation)
{
	struct receive_in rin = kitchen_cod();
	struct breakdown_in bin = {
		.fish = 0,
		.weight_g = 1000,
		.makes = { { "cod-leeks", 4, 640, 4 } },
		.make_count = 1,
		.yield_ok = true,
		.by = "CD",
	};
	const char *codes[2] = { made[0].portions[1].code, NULL };
	const struct combine_in in = { codes, 2, "EF" };
	struct breakdown b;
	struct combined c;
	struct batch fillets;
	struct portion look;
	struct err err = { 0 };

	rin.presentation = "fillet";
	rin.count = NULL;
	rin.weight = "2 kg";
	fillets = kitchen_receive(&k, &rin);
	bin.batch = fillets.code;
	ck_assert_msg(
	    breakdown_record(&b, k.sn, &bin, &err) == RC_OK, "%s", err.text);
	codes[1] = b.portions[0].code;
	ck_assert_int_eq(combine_look(&look, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(combine(&c, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "bought differently"));
	breakdown_fini(&b);
}
END_TEST

Suite *
suite_ops_mixed_recall(void)
{
	Suite *s = suite_create("ops_mixed_recall");
	TCase *tc = tcase_create("mixed");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, followed_onto_the_tray, 0,
	    (int)(sizeof(ways) / sizeof(ways[0])));
	tcase_add_test(tc, paper_names_both);
	tcase_add_test(tc, empty_label_found);
	tcase_add_test(tc, partly_found);
	tcase_add_test(tc, hold_of_an_empty_tray);
	tcase_add_test(tc, complaint_holds_all);
	tcase_add_test(tc, drill_leads_back);
	tcase_add_test(tc, scanned_once);
	tcase_add_test(tc, more_of_the_lot);
	tcase_add_test(tc, one_presentation);
	suite_add_tcase(s, tc);
	return s;
}
