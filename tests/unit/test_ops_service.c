/*
 * test_ops_service.c - use, discard, hold, print, lists and the chain on a file
 * of its own, with every statement's query plan checked.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/fate.h"
#include "ops/label.h"
#include "ops/look.h"
#include "ops/plan.h"

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

static struct batch
get_batch(const char *code)
{
	struct batch b;

	ck_assert_int_eq(batch_get(&b, k.sn->st, code, NULL), RC_OK);
	return b;
}

/* --- service
 * --------------------------------------------------------------------*/

static struct breakdown
made(const char *supplier_date)
{
	struct receive_in rin = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct batch b;

	rin.supplier_date = supplier_date;
	b = kitchen_receive(&k, &rin);
	return kitchen_break(&k, b.code, &cut);
}

START_TEST(oldest_goes_first)
{
	struct breakdown young = made(NULL), old = made("2026-11-25");
	struct use_in in = {
		.code = young.portions[0].code, .servings = 1, .by = "EF"
	};
	char shown[CODE_SIZE];
	struct portion p;
	struct err err = { 0 };

	ck_assert_int_eq(use(&p, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(
	    strstr(err.text, code_show(shown, old.portions[0].code)));
	in.reason = "the old one is frozen to the tray";
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(p.left, 3);
	in.reason = NULL;
	in.code = old.portions[0].code;
	in.servings = 0;
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(p.left, 0);
	err_clear(&err);
	ck_assert_int_eq(use(&p, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "used up"));
	breakdown_fini(&young);
	breakdown_fini(&old);
}
END_TEST

/* A reason opens the order, never the date or a hold. */
START_TEST(reason_opens_no_date)
{
	struct breakdown d = made("2026-11-25");
	struct use_in in = { .code = d.portions[0].code,
		.by = "EF",
		.reason = "guest is waiting" };
	struct portion p;
	struct err err = { 0 };

	in.servings = 5;
	ck_assert_int_eq(use(&p, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "has 4 left"));
	in.servings = 1;
	ck_assert_int_eq(
	    hold(NULL, k.sn, d.batch.code, "recall", "AB", NULL), RC_OK);
	err_clear(&err);
	ck_assert_int_eq(use(&p, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "on hold"));
	ck_assert_int_eq(
	    release(NULL, k.sn, d.batch.code, "cleared", "AB", NULL), RC_OK);
	kitchen_at(&k, "2026-11-25T23:59:59");
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	kitchen_at(&k, "2026-11-26T00:00:00");
	err_clear(&err);
	ck_assert_int_eq(use(&p, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "expired"));
	breakdown_fini(&d);
}
END_TEST

START_TEST(discards)
{
	struct breakdown d = made(NULL);
	struct discard_in in = { .code = d.portions[1].code,
		.servings = 3,
		.reason = "dropped",
		.by = "EF" };
	struct discarded out;
	struct batch b;

	ck_assert_int_eq(discard(&out, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(out.servings_left, 1);
	in.servings = 2;
	ck_assert_int_eq(discard(&out, k.sn, &in, NULL), RC_REFUSED);
	in.code = d.batch.code;
	in.servings = 0;
	in.fish = 2;
	in.weight_g = 4100;
	ck_assert_int_eq(discard(&out, k.sn, &in, NULL), RC_OK);
	b = get_batch(d.batch.code);
	ck_assert_int_eq(b.count_left, 3);
	ck_assert_int_eq(b.weight_left, 5900);
	kitchen_balance(&k, &b);
	in.fish = 4;
	in.weight_g = 100;
	ck_assert_int_eq(discard(&out, k.sn, &in, NULL), RC_REFUSED);
	in.fish = 0;
	in.weight_g = 0;
	ck_assert_int_eq(discard(&out, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(out.weight_g, 5900);
	b = get_batch(d.batch.code);
	kitchen_balance(&k, &b);
	in.reason = "";
	ck_assert_int_eq(discard(&out, k.sn, &in, NULL), RC_INVALID);
	breakdown_fini(&d);
}
END_TEST

/* --- lists, labels, the chain
 * ----------------------------------------------------*/

static void
says(const char *text, const char *const *words)
{
	for (; *words != NULL; words++)
		ck_assert_msg(strstr(text, *words) != NULL, "no \"%s\" in:\n%s",
		    *words, text);
}

/* All of a day, every statement by index; then back along the chain. */
START_TEST(whole_day)
{
	struct breakdown d = made(NULL);
	struct plan_wish wish = { .service = "2026-11-25/dinner",
		.prep = true,
		.order = true,
		.format = FORMAT_TEXT };
	struct use_in in = { .code = d.portions[0].code,
		.servings = 2,
		.service = "2026-11-25/dinner",
		.by = "EF" };
	const char *const back[] = { "North Pier Fish", "DN 4471", "L-77",
		"Cod, leeks", "2026-11-25/dinner", "smell", NULL };
	const char *const forth[] = { "North Pier Fish", "unexplained", NULL };
	const char *const lists[] = { "cod-leeks", "sole-bone", NULL };
	const char *const acts[] = { "receive", "prep", "print", "use", "hold",
		NULL };
	struct print_job j;
	struct portion p;
	struct buf out;
	int f;

	buf_init(&out, 1000000);
	ck_assert_int_eq(
	    kitchen_label(&j, &k, d.portions[0].code, LABEL_FIRST), RC_OK);
	ck_assert_int_eq(j.state, JOB_SENT);
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(
	    hold(NULL, k.sn, d.portions[0].code, "smell", "AB", NULL), RC_OK);
	for (f = FORMAT_TEXT; f <= FORMAT_CSV; f++) {
		struct err err = { 0 };

		wish.format = (enum format)f;
		buf_clear(&out);
		ck_assert_msg(
		    plan(&out, k.sn, &wish, &err) == RC_OK, "%s", err.text);
		says(buf_text(&out), lists);
		ck_assert_msg(stock(&out, k.sn, wish.format, &err) == RC_OK,
		    "%s", err.text);
		buf_clear(&out);
		ck_assert_msg(trace(&out, k.sn, d.portions[0].code, wish.format,
				  &err) == RC_OK,
		    "%s", err.text);
		if (f != FORMAT_CSV)
			says(buf_text(&out), back);
		buf_clear(&out);
		ck_assert_msg(
		    trace(&out, k.sn, d.batch.code, wish.format, &err) == RC_OK,
		    "%s", err.text);
		if (f != FORMAT_CSV)
			says(buf_text(&out), forth);
		buf_clear(&out);
		ck_assert_msg(audit_trail(&out, k.sn, 50, false, wish.format,
				  &err) == RC_OK,
		    "%s", err.text);
		says(buf_text(&out), acts);
	}
	buf_fini(&out);
	breakdown_fini(&d);
}
END_TEST

/* Looking records nothing, and so does a preview. */
START_TEST(looking_records_nothing)
{
	struct breakdown d = made(NULL);
	struct plan_wish wish = { .service = "2026-11-26/dinner",
		.prep = true,
		.order = true,
		.format = FORMAT_TEXT };
	struct label_wish label = { .code = d.portions[0].code };
	int64_t before = kitchen_records(&k);
	struct buf out;

	buf_init(&out, 1000000);
	ck_assert_int_eq(plan(&out, k.sn, &wish, NULL), RC_OK);
	ck_assert_int_eq(stock(&out, k.sn, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_int_eq(
	    trace(&out, k.sn, d.batch.code, FORMAT_TEXT, NULL), RC_OK);
	ck_assert_int_eq(label_preview(&out, k.sn, &label, NULL), RC_OK);
	ck_assert_int_eq(kitchen_records(&k), before);
	buf_fini(&out);
	breakdown_fini(&d);
}
END_TEST

START_TEST(one_label_then_marked_ones)
{
	struct breakdown d = made(NULL);
	const char *code = d.portions[0].code;
	struct print_job j;

	ck_assert_int_eq(kitchen_label(&j, &k, code, LABEL_AGAIN), RC_REFUSED);
	ck_assert_int_eq(kitchen_label(&j, &k, code, LABEL_FIRST), RC_OK);
	ck_assert_int_eq(j.copy, 0);
	ck_assert_int_eq(kitchen_label(&j, &k, code, LABEL_FIRST), RC_REFUSED);
	ck_assert_int_eq(kitchen_label(&j, &k, code, LABEL_AGAIN), RC_OK);
	ck_assert_int_eq(j.copy, 1);
	ck_assert_int_eq(kitchen_label(&j, &k, code, LABEL_AGAIN), RC_OK);
	ck_assert_int_eq(j.copy, 2);
	kitchen_at(&k, "2026-11-27T00:00");
	ck_assert_int_eq(kitchen_label(&j, &k, code, LABEL_AGAIN), RC_REFUSED);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 3);
	breakdown_fini(&d);
}
END_TEST

/* The same file again changes nothing; one bad line and nothing is new. */
START_TEST(imports)
{
	struct import_result r;
	struct err err = { 0 };
	char path[320];
	int64_t before = kitchen_records(&k);

	str_fmt(path, sizeof(path), "%s/menu.csv", k.folder);
	ck_assert_int_eq(import_menu(&r, k.sn, path, "AB", NULL), RC_OK);
	ck_assert_int_eq(r.added + r.changed + r.dropped, 0);
	ck_assert_int_eq(r.same, 5);
	ck_assert_int_eq(kitchen_records(&k), before);
	kitchen_write(path, &k, "b.csv",
	    "date,service,covers\n2026-12-01,lunch,9\n2026-12-01,brunch,9\n");
	ck_assert_int_eq(
	    import_bookings(&r, k.sn, path, "AB", &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "b.csv:3:12:"));
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM service"), 3);
}
END_TEST

Suite *
suite_ops_service(void)
{
	Suite *s = suite_create("ops_service");
	TCase *tc = tcase_create("service");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_test(tc, oldest_goes_first);
	tcase_add_test(tc, reason_opens_no_date);
	tcase_add_test(tc, discards);
	tcase_add_test(tc, whole_day);
	tcase_add_test(tc, looking_records_nothing);
	tcase_add_test(tc, one_label_then_marked_ones);
	tcase_add_test(tc, imports);
	suite_add_tcase(s, tc);
	return s;
}
