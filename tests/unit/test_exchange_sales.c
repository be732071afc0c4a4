/*
 * test_exchange_sales.c - sales from a file: what is read, and that what is not
 * understood is refused with its place.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "exchange/sales_in.h"

static const struct service_names services = { { "lunch", "dinner" }, 2 };
static struct dish_sold items[] = {
	{ .id = 7, .code = "cod-leeks" },
	{ .id = 9, .code = "mussel-pot" },
};
static const struct dish_sold_list dishes = { items, NELEM(items) };

#define H "date,service,dish,sold,ran_out_at,seated,walk_ins\n"
#define GOOD H "2026-11-20,dinner,cod-leeks,9,,40,5\n"

START_TEST(sales_read)
{
	static const char text[] =
	    "walk_ins,seated,dish,service,date,sold,ran_out_at\r\n"
	    "5,40,cod-leeks,dinner,2026-11-20,9,\r\n"
	    ",,cod-leeks,LUNCH,2026-11-20,0,out\r\n"
	    "\r\n"
	    ",,mussel-pot,dinner,2026-11-20,5000,38\r\n";
	const struct sales_service *s;
	struct sales_file f;
	struct err err = { 0 };
	day_no d;

	ck_assert_msg(sales_parse(&f, "s.csv", text, sizeof(text) - 1,
			  &services, &dishes, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_uint_eq(f.service_count, 2);
	ck_assert_uint_eq(f.row_count, 3);
	ck_assert(day_from_civil(&d, 2026, 11, 20));
	s = &f.services[0];
	ck_assert_int_eq(s->day, d);
	ck_assert_int_eq(s->service, 1);
	ck_assert_int_eq(s->line, 2);
	ck_assert_int_eq(s->seated, 40);
	ck_assert_int_eq(s->walk_ins, 5);
	ck_assert_int_eq(s->count, 2);
	ck_assert_int_eq(s->first, 0);
	ck_assert_int_eq(f.rows[0].dish_id, 7);
	ck_assert_int_eq(f.rows[0].sold, 9);
	ck_assert_int_eq(f.rows[0].ran_out_at, SOLD_ON);
	ck_assert_int_eq(f.rows[0].next, 2);
	ck_assert_int_eq(f.rows[2].dish_id, 9);
	ck_assert_int_eq(f.rows[2].sold, 5000);
	ck_assert_int_eq(f.rows[2].ran_out_at, 38);
	ck_assert_int_eq(f.rows[2].next, -1);
	s = &f.services[1];
	ck_assert_int_eq(s->service, 0);
	ck_assert_int_eq(s->seated, -1);
	ck_assert_int_eq(s->walk_ins, -1);
	ck_assert_int_eq(f.rows[s->first].sold, 0);
	ck_assert_int_eq(f.rows[s->first].ran_out_at, RAN_OUT_SOME_TIME);
	sales_fini(&f);
}
END_TEST

START_TEST(sales_none)
{
	struct sales_file f;

	ck_assert_int_eq(
	    sales_parse(&f, "s.csv", H, strlen(H), &services, &dishes, NULL),
	    RC_OK);
	ck_assert_uint_eq(f.service_count, 0);
	sales_fini(&f);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *place; /* file, line and column */
	const char *says;
} bad[] = {
	{ "an empty file", "", "s.csv:1:1:", "empty" },
	{ "no column for the dish", "date,service,sold\n", "s.csv:1:1:",
	    "dish" },
	{ "a column nobody knows", "date,service,dish,sold,price\n",
	    "s.csv:1:24:", "price" },
	{ "no such day", GOOD "2026-02-29,dinner,cod-leeks,9,,,\n",
	    "s.csv:3:1:", "date" },
	{ "day first", GOOD "20/11/2026,dinner,cod-leeks,9,,,\n", "s.csv:3:1:",
	    "date" },
	{ "before the believed years", GOOD "1999-12-31,lunch,cod-leeks,9,,,\n",
	    "s.csv:3:1:", "date" },
	{ "no such service", GOOD "2026-11-21,brunch,cod-leeks,9,,,\n",
	    "s.csv:3:12:", "no [service] section" },
	{ "no such dish", GOOD "2026-11-21,dinner,cod,9,,,\n", "s.csv:3:19:",
	    "\"cod\" was never on the menu" },
	{ "no dish", GOOD "2026-11-21,dinner,,9,,,\n", "s.csv:3:19:",
	    "never on the menu" },
	{ "a row twice", GOOD "2026-11-20,dinner,cod-leeks,9,,40,5\n",
	    "s.csv:3:19:", "twice" },
	{ "the same in another case", GOOD
	    "2026-11-20,DINNER,cod-leeks,3,,,\n", "s.csv:3:19:", "twice" },
	{ "nothing sold is 0, not blank", GOOD
	    "2026-11-21,dinner,cod-leeks,,,,\n", "s.csv:3:29:", "sold" },
	{ "below nothing", GOOD "2026-11-21,dinner,cod-leeks,-1,,,\n",
	    "s.csv:3:29:", "sold" },
	{ "half a portion", GOOD "2026-11-21,dinner,cod-leeks,4.5,,,\n",
	    "s.csv:3:29:", "sold" },
	{ "more than anybody sells", GOOD
	    "2026-11-21,dinner,cod-leeks,5001,,,\n", "s.csv:3:29:", "sold" },
	{ "more than a number holds", GOOD
	    "2026-11-21,dinner,cod-leeks,99999999999999999999,,,\n",
	    "s.csv:3:29:", "sold" },
	{ "ran out at a word", GOOD "2026-11-21,dinner,cod-leeks,9,yes,,\n",
	    "s.csv:3:31:", "out" },
	{ "ran out before it began", GOOD
	    "2026-11-21,dinner,cod-leeks,9,-1,,\n", "s.csv:3:31:", "out" },
	{ "seated alone", GOOD "2026-11-21,dinner,cod-leeks,9,,4,\n",
	    "s.csv:3:34:", "walk_ins is missing" },
	{ "walk-ins alone", GOOD "2026-11-21,dinner,cod-leeks,9,,,4\n",
	    "s.csv:3:32:", "seated is missing" },
	{ "seated is a word", GOOD "2026-11-21,dinner,cod-leeks,9,,all,4\n",
	    "s.csv:3:32:", "seated" },
	{ "other guests for the same service", GOOD
	    "2026-11-20,dinner,mussel-pot,9,,40,6\n", "s.csv:3:36:",
	    "walk_ins is 6 here and 5 above" },
};
/* clang-format on */

START_TEST(sales_refused)
{
	struct sales_file f;
	struct err err = { 0 };
	const char *text = bad[_i].text;

	ck_assert_msg(sales_parse(&f, "s.csv", text, strlen(text), &services,
			  &dishes, &err) == RC_INVALID,
	    "%s", bad[_i].why);
	ck_assert_ptr_null(f.rows);
	ck_assert_uint_eq(f.service_count, 0);
	ck_assert_msg(
	    strncmp(err.text, bad[_i].place, strlen(bad[_i].place)) == 0 &&
		strstr(err.text, bad[_i].says) != NULL,
	    "%s: %s", bad[_i].why, err.text);
}
END_TEST

/* The last day of the calendar and the last service have their place. */
START_TEST(sales_edges)
{
	static const struct service_names eight = {
		{ "a", "b", "c", "d", "e", "f", "g", "h" }, 8
	};
	static const char text[] = H
	    "2199-12-31,h,cod-leeks,1,,1,1\n"
	    "2000-01-01,a,cod-leeks,1,,1,1\n";
	struct sales_file f;

	ck_assert_int_eq(sales_parse(&f, "s.csv", text, sizeof(text) - 1,
			     &eight, &dishes, NULL),
	    RC_OK);
	ck_assert_uint_eq(f.service_count, 2);
	sales_fini(&f);
}
END_TEST

Suite *
suite_exchange_sales(void)
{
	Suite *s = suite_create("exchange_sales");
	TCase *tc = tcase_create("sales");

	tcase_add_test(tc, sales_read);
	tcase_add_test(tc, sales_none);
	tcase_add_loop_test(tc, sales_refused, 0, (int)NELEM(bad));
	tcase_add_test(tc, sales_edges);
	suite_add_tcase(s, tc);
	return s;
}
