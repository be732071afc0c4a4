/*
 * test_ops_trace_page.c - a chain as a page: its counts, its window, and the
 * batches a plate may have come from.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/close.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/look.h"
#include "ops/trace_page.h"
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

static struct breakdown
cut(const struct batch *b, int64_t fish, int64_t portions, int64_t per_label)
{
	struct kitchen_cut c = { "cod-leeks", portions, per_label,
		165 * portions, 2000 * fish, fish };

	return kitchen_break(&k, b->code, &c);
}

static struct trace_page
page_of(const char *code, int64_t prep_id, size_t first, size_t most)
{
	const struct trace_window w = { prep_id, first, most };
	struct trace_page p;
	struct err err = { 0 };

	ck_assert_msg(
	    trace_page_load(&p, k.sn, code, &w, &err) == RC_OK, "%s", err.text);
	return p;
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

static void
undo_now(void)
{
	struct undo_offer o;
	struct undo_in in = { .by = "EF" };
	struct err err = { 0 };

	ck_assert_msg(undo_last(&o, k.sn, NULL, &err) == RC_OK, "%s", err.text);
	in.step = o.step;
	ck_assert_msg(undo_do(&o, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
freeze_now(const char *code)
{
	struct freeze_in in = { .codes = &code,
		.count = 1,
		.temp = "-20",
		.reason = "too many",
		.by = "EF" };
	struct kept out;
	struct err err = { 0 };

	ck_assert_msg(freeze(&out, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

/* --- a page --------------------------------------------------------------- */

/* A batch of which everything happened; freed by the caller. */
static void
busy(struct breakdown *b, struct breakdown *c)
{
	struct count_in count = { .servings = 2, .reason = "gone", .by = "EF" };
	struct discard_in gone = {
		.servings = 1, .reason = "dropped", .by = "EF"
	};
	struct breakdown mistake;
	struct counted counted;
	struct discarded d;

	*b = cut(&cod, 5, 12, 4);
	kitchen_at(&k, "2026-11-25T10:00");
	mistake = cut(&cod, 2, 4, 2);
	undo_now();
	breakdown_fini(&mistake);
	*c = cut(&cod, 1, 2, 1);
	use_of(b->portions[0].code, 3, NULL);
	use_of(b->portions[0].code, 1, NULL);
	undo_now();
	count.code = b->portions[1].code;
	ck_assert_int_eq(count_unit(&counted, k.sn, &count, NULL), RC_OK);
	gone.code = b->portions[2].code;
	ck_assert_int_eq(discard(&d, k.sn, &gone, NULL), RC_OK);
	freeze_now(b->portions[2].code);
	ck_assert_int_eq(
	    hold(NULL, k.sn, b->portions[1].code, "smells", "EF", NULL), RC_OK);
}

/* What a batch's page counts is what its units say, however many are shown. */
START_TEST(counts_are_sums)
{
	struct chain_counts sum = { 0 };
	const struct chain_counts *n;
	struct breakdown b, c;
	struct trace_page all;
	size_t i;

	busy(&b, &c);
	all = page_of(cod.code, 0, 0, 200);
	n = &all.counts;
	ck_assert_uint_eq(all.unit_count, 3 + 2 + 2);
	for (i = 0; i < all.unit_count; i++) {
		sum.made += all.units[i].portion.servings - all.units[i].struck;
		sum.left += all.units[i].portion.left;
		sum.used += all.units[i].used;
		sum.discarded += all.units[i].discarded;
		sum.missing += all.units[i].missing;
		sum.struck += all.units[i].struck;
	}
	ck_assert_int_eq(n->units, 7);
	ck_assert_int_eq(n->made, sum.made);
	ck_assert_int_eq(n->made, 14);
	ck_assert_int_eq(n->left, sum.left);
	ck_assert_int_eq(n->used, sum.used);
	ck_assert_int_eq(n->used, 3);
	ck_assert_int_eq(n->discarded, sum.discarded);
	ck_assert_int_eq(n->discarded, 1);
	ck_assert_int_eq(n->missing, sum.missing);
	ck_assert_int_eq(n->missing, 2);
	ck_assert_int_eq(n->struck, sum.struck);
	ck_assert_int_eq(n->struck, 4);
	ck_assert_int_eq(
	    n->made, n->left + n->used + n->discarded + n->missing);
	ck_assert_int_eq(n->held, 1);
	ck_assert_int_eq(n->frozen, 3);
	ck_assert_int_eq(n->expired, 0);
	ck_assert_uint_eq(all.preps.count, 3);
	ck_assert(!all.preps.items[0].struck && !all.preps.items[1].struck);
	ck_assert(all.preps.items[2].struck);
	trace_page_fini(&all);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

START_TEST(of_one_breakdown)
{
	struct breakdown b, c;
	struct trace_page p;

	busy(&b, &c);
	p = page_of(cod.code, c.prep.id, 0, 200);
	ck_assert_uint_eq(p.unit_count, 2);
	ck_assert_int_eq(p.counts.made, 2);
	ck_assert_int_eq(p.counts.left, 2);
	trace_page_fini(&p);
	kitchen_at(&k, "2026-12-25T10:00");
	p = page_of(cod.code, 0, 0, 200);
	ck_assert_int_eq(p.counts.expired, p.counts.left - 3); /* but frozen */
	trace_page_fini(&p);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

/* Windows put side by side are the whole, those on hand first. */
START_TEST(windows)
{
	struct breakdown b = cut(&cod, 5, 30, 1);
	struct trace_page all, part;
	size_t i, first;

	for (i = 0; i < 30; i += 4)
		use_of(b.portions[i].code, 1, NULL);
	all = page_of(cod.code, 0, 0, 200);
	ck_assert_uint_eq(all.unit_count, 30);
	for (i = 0; i < 22; i++)
		ck_assert_int_eq(all.units[i].portion.left, 1);
	for (; i < 30; i++)
		ck_assert_int_eq(all.units[i].portion.left, 0);
	for (first = 0; first < 35; first += 7) {
		part = page_of(cod.code, 0, first, 7);
		ck_assert_uint_eq(
		    part.unit_count, first + 7 <= 30 ? 7 : 30 - first);
		for (i = 0; i < part.unit_count; i++)
			ck_assert_str_eq(part.units[i].portion.code,
			    all.units[first + i].portion.code);
		ck_assert_int_eq(part.counts.units, 30);
		trace_page_fini(&part);
	}
	trace_page_fini(&all);
	breakdown_fini(&b);
}
END_TEST

START_TEST(back_from_a_unit)
{
	struct breakdown b = cut(&cod, 5, 12, 4);
	const struct trace_window w = { 0, 0, 1 };
	struct trace_page p;
	struct err err = { 0 };
	struct buf why;
	size_t count = 0;
	char codes[2][CODE_SIZE];

	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "recall", "AB", NULL), RC_OK);
	p = page_of(b.portions[1].code, 0, 0, 1);
	ck_assert(p.of_portion);
	ck_assert_str_eq(p.batch.code, cod.code);
	ck_assert_str_eq(p.species, "Cod");
	ck_assert_int_eq(p.prep.id, b.prep.id);
	ck_assert_str_eq(p.hold.reason, "recall");
	ck_assert(p.hold_of_batch);
	ck_assert_int_eq(p.counts.made, 12);
	trace_page_fini(&p);
	ck_assert_int_eq(
	    hold(NULL, k.sn, b.portions[1].code, "smells", "AB", NULL), RC_OK);
	p = page_of(b.portions[1].code, 0, 0, 1);
	ck_assert_str_eq(p.hold.reason, "smells");
	ck_assert(!p.hold_of_batch);
	trace_page_fini(&p);
	ck_assert_int_eq(
	    trace_on_hand(codes, 2, &count, k.sn, cod.code, NULL), RC_OK);
	ck_assert_uint_eq(count, 3);
	ck_assert_str_eq(codes[1], b.portions[1].code);
	ck_assert_int_eq(
	    trace_page_load(&p, k.sn, "AAA-AA5", &w, &err), RC_NOTFOUND);
	err_clear(&err);
	ck_assert_int_eq(
	    trace_page_load(&p, k.sn, "AAA-AA4", &w, &err), RC_INVALID);
	buf_init(&why, 1 << 16);
	ck_assert_int_eq(
	    trace_why(&why, k.sn, b.portions[0].code, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&why), "because"));
	buf_fini(&why);
	breakdown_fini(&b);
}
END_TEST

/* --- the label is gone ---------------------------------------------------- */

static struct trace_guess
guess(const char *service)
{
	struct trace_guess g;
	struct err err = { 0 };

	ck_assert_msg(
	    trace_guess_load(&g, k.sn, "cod-leeks", service, &err) == RC_OK,
	    "%s", err.text);
	return g;
}

START_TEST(scanned_is_certain)
{
	struct receive_in rin = kitchen_cod();
	struct batch second = kitchen_receive(&k, &rin);
	struct breakdown b = cut(&cod, 5, 12, 4), c = cut(&second, 5, 12, 4);
	struct close_in close = {
		.service = "2026-11-25/lunch", .seated = 40, .by = "AB"
	};
	const char *sold = "cod-leeks:6";
	struct trace_guess g;
	struct buf out;
	struct err err = { 0 };

	kitchen_at(&k, "2026-11-25T13:00");
	g = guess("2026-11-25/lunch");
	ck_assert_uint_eq(g.certain, 0);
	ck_assert_uint_eq(g.count, 2);
	ck_assert_int_eq(g.items[0].is.on_hand, 12);
	ck_assert_int_eq(g.sold, -1);
	trace_guess_fini(&g);
	use_of(c.portions[0].code, 3, "2026-11-25/lunch");
	use_of(b.portions[0].code, 2, "2026-11-25/lunch");
	use_of(b.portions[1].code, 2, "2026-11-25/dinner");
	use_of(b.portions[2].code, 1, "2026-11-25/lunch");
	undo_now();
	g = guess("2026-11-25/lunch");
	ck_assert_uint_eq(g.certain, 2);
	ck_assert_uint_eq(g.count, 2);
	ck_assert_str_eq(g.items[0].is.batch, second.code);
	ck_assert_int_eq(g.items[0].is.scanned, 3);
	ck_assert_int_eq(g.items[1].is.scanned, 2);
	ck_assert_int_eq(g.scanned, 5);
	ck_assert_int_eq(g.items[1].is.on_hand, 12);
	trace_guess_fini(&g);
	kitchen_at(&k, "2026-11-25T15:30");
	close.sold = &sold;
	close.sold_count = 1;
	buf_init(&out, 1 << 20);
	ck_assert_msg(
	    close_service(&out, k.sn, &close, FORMAT_TEXT, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&out);
	g = guess("2026-11-25/lunch");
	ck_assert_int_eq(g.sold, 6);
	trace_guess_fini(&g);
	breakdown_fini(&b);
	breakdown_fini(&c);
}
END_TEST

/* What could have been on the pass that evening, and nothing else. */
START_TEST(on_hand_then)
{
	struct breakdown b, struck, c;
	struct receive_in rin = kitchen_cod();
	struct batch late;
	struct trace_guess g;

	kitchen_at(&k, "2026-11-25T10:00");
	b = cut(&cod, 2, 4, 1);
	freeze_now(b.portions[0].code); /* frozen all through it */
	use_of(b.portions[1].code, 1, "2026-11-25/lunch"); /* gone before */
	kitchen_at(&k, "2026-11-25T10:10");
	struck = cut(&cod, 1, 2, 1);
	undo_now();
	kitchen_at(&k, "2026-11-25T23:30"); /* after it */
	freeze_now(b.portions[2].code);
	freeze_now(b.portions[3].code);
	late = kitchen_receive(&k, &rin);
	c = cut(&late, 1, 2, 1);
	g = guess("2026-11-25/dinner");
	ck_assert_uint_eq(g.count, 1);
	ck_assert_str_eq(g.items[0].is.batch, cod.code);
	/* Two of the four, frozen only afterwards; with the date they had. */
	ck_assert_int_eq(g.items[0].is.on_hand, 2);
	ck_assert_int_eq(g.items[0].is.units, 2);
	ck_assert_int_eq(g.items[0].is.use_by_utc, b.portions[3].use_by_utc);
	trace_guess_fini(&g);
	/* The one used before lunch began is known by its scan alone. */
	g = guess("2026-11-25/lunch");
	ck_assert_int_eq(g.items[0].is.on_hand, 2);
	ck_assert_int_eq(g.items[0].is.scanned, 1);
	trace_guess_fini(&g);
	/* A day later the late batch alone is there. */
	g = guess("2026-11-26/dinner");
	ck_assert_uint_eq(g.count, 1);
	ck_assert_str_eq(g.items[0].is.batch, late.code);
	trace_guess_fini(&g);
	breakdown_fini(&b);
	breakdown_fini(&struck);
	breakdown_fini(&c);
}
END_TEST

START_TEST(expired_then)
{
	struct receive_in rin = kitchen_cod();
	struct breakdown b;
	struct trace_guess g;
	struct batch old;

	rin.supplier_date = "2026-11-25";
	old = kitchen_receive(&k, &rin);
	b = cut(&old, 2, 4, 1);
	g = guess("2026-11-25/dinner");
	ck_assert_uint_eq(g.count, 1);
	trace_guess_fini(&g);
	g = guess("2026-11-26/dinner");
	ck_assert_uint_eq(g.count, 0);
	trace_guess_fini(&g);
	breakdown_fini(&b);
}
END_TEST

START_TEST(choices)
{
	struct trace_choices c;
	struct trace_guess g;
	struct err err = { 0 };
	size_t i;

	kitchen_at(&k, "2026-11-25T19:00");
	ck_assert_int_eq(trace_choices_load(&c, k.sn, &err), RC_OK);
	ck_assert_uint_eq(c.service_count, 2);
	ck_assert_str_eq(c.services[0].word, "2026-11-25/dinner");
	ck_assert_str_eq(c.services[1].word, "2026-11-25/lunch");
	ck_assert_uint_gt(c.dish_count, 1);
	for (i = 1; i < c.dish_count; i++)
		ck_assert_int_le(
		    strcmp(c.dishes[i - 1].name, c.dishes[i].name), 0);
	trace_choices_fini(&c);
	ck_assert_int_eq(
	    trace_guess_load(&g, k.sn, "no-such", "2026-11-25/lunch", &err),
	    RC_NOTFOUND);
	err_clear(&err);
	ck_assert_int_eq(
	    trace_guess_load(&g, k.sn, "cod-leeks", "2026-11-20/lunch", &err),
	    RC_NOTFOUND);
	err_clear(&err);
	ck_assert_int_eq(
	    trace_guess_load(&g, k.sn, "cod-leeks", "2026-11-20/brunch", &err),
	    RC_INVALID);
}
END_TEST

Suite *
suite_ops_trace_page(void)
{
	Suite *s = suite_create("ops_trace_page");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, counts_are_sums);
	tcase_add_test(tc, of_one_breakdown);
	tcase_add_test(tc, windows);
	tcase_add_test(tc, back_from_a_unit);
	tcase_add_test(tc, scanned_is_certain);
	tcase_add_test(tc, on_hand_then);
	tcase_add_test(tc, expired_then);
	tcase_add_test(tc, choices);
	suite_add_tcase(s, tc);
	return s;
}
