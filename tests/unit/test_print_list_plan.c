/*
 * test_print_list_plan.c - lists of plans made by hand: what no kitchen gives
 * every day must not get lost on paper either.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "print/lists.h"

static struct species_table species;
static struct plan_line lines[2];
static struct plan_take takes[2];
static struct work_job job;
static struct work_task tasks[3];
static struct plan_report report;
static struct ticket *list;

/* Two dishes of hake, the first with work for it. */
static void
setup(void)
{
	int i;

	kitchen_tables(&species, NULL);
	memset(lines, 0, sizeof(lines));
	memset(takes, 0, sizeof(takes));
	memset(tasks, 0, sizeof(tasks));
	memset(&job, 0, sizeof(job));
	memset(&report, 0, sizeof(report));
	for (i = 0; i < 2; i++) {
		str_copy(lines[i].cut.species, 4, "HKE");
		str_fmt(lines[i].cut.dish, 32, "dish-%d", i);
		str_fmt(lines[i].cut.dish_name, 64, "Dish %d", i);
		lines[i].cut.kind = CUT_SUPREME;
		lines[i].cut.low_g = lines[i].cut.target_g = 100;
		lines[i].cut.high_g = 120;
		lines[i].to_make = 4;
		lines[i].takes = &takes[i];
		lines[i].take_count = 1;
		str_copy(
		    takes[i].code, CODE_SIZE, i == 0 ? "26330019" : "26330027");
		str_copy(takes[i].species, 4, "HKE");
		takes[i].portions = 4;
		takes[i].fish = 1;
		takes[i].opened = true;
		takes[i].use_by_utc = 1795600000;
	}
	str_copy(job.batch, CODE_SIZE, "26330019");
	str_copy(job.species, 4, "HKE");
	for (i = 0; i < 3; i++) {
		tasks[i].kind = i == 0 ? TASK_FILLET
		    : i == 1           ? TASK_PORTION
				       : TASK_TRAY;
		tasks[i].units = i + 1;
		tasks[i].seconds = 61;
		tasks[i].learned = true;
	}
	report.kitchen = "The Slipway";
	report.service = "dinner";
	report.day = 20782;
	report.species = &species;
	report.plan.lines = lines;
	report.plan.count = 2;
	report.jobs = &job;
	report.job_count = 1;
	report.work.tasks = tasks;
	report.work.count = 3;
	list = ticket_new();
}

static void
teardown(void)
{
	ticket_free(list);
	species_fini(&species);
}

static const struct ticket_line *
find(enum ticket_style style, const char *left)
{
	size_t i;

	for (i = 0; i < ticket_count(list); i++)
		if (ticket_at(list, i)->style == style &&
		    strncmp(ticket_at(list, i)->left, left, strlen(left)) == 0)
			return ticket_at(list, i);
	return NULL;
}

static void
has(enum ticket_style style, const char *left, const char *right)
{
	const struct ticket_line *l = find(style, left);

	ck_assert_msg(l != NULL, "no line \"%s\"", left);
	ck_assert_str_eq(l->right, right);
}

/* Minutes are summed, then rounded up once; a ~ when any is a guess. */
START_TEST(minutes)
{
	list_prep(list, &report);
	has(TICKET_TICK, "Dish 0", "4 min"); /* 183 seconds */
	ticket_free(list);
	list = ticket_new();
	tasks[1].learned = false;
	list_prep(list, &report);
	has(TICKET_TICK, "Dish 0", "~4 min");
}
END_TEST

/* The smallest tray of a job is the one that keeps the fish cold. */
START_TEST(smallest_tray)
{
	tasks[0].tray = 5;
	tasks[0].trays = 2;
	tasks[1].tray = 3;
	tasks[1].trays = 3;
	tasks[2].tray = 1;
	tasks[2].trays = 1;
	list_prep(list, &report);
	has(TICKET_SMALL, "fillet 1, portion 2, tray 3; 3 at a time", "");
}
END_TEST

/* No task has minutes for it: it stands on the list all the same. */
START_TEST(work_without_minutes)
{
	list_prep(list, &report);
	has(TICKET_HEAD, "Also to make, minutes not known", "");
	has(TICKET_TICK, "Dish 1", "");
	has(TICKET_SMALL, "dish-1: supreme skin off, 100 g", "");
	has(TICKET_SMALL, "4 portions from 1 fish of 26330-027 Hake", "");
	ticket_free(list);
	list = ticket_new();
	lines[1].to_make = 0;
	list_prep(list, &report);
	ck_assert_ptr_null(find(TICKET_HEAD, "Also to make"));
}
END_TEST

START_TEST(no_dish)
{
	report.plan.count = 0;
	report.work.count = 0;
	list_prep(list, &report);
	has(TICKET_LINE, "no dish of the menu is on for this service", "");
}
END_TEST

START_TEST(short_of)
{
	static const struct {
		bool by_choice, known;
		const char *says;
	} rows[] = {
		{ false, true, "see the order list" },
		{ false, false, "no yield known, order by hand" },
		{ true, true, "by choice: opening a closed fish" },
	};

	lines[0].to_have = 9;
	lines[0].short_of = 5;
	lines[0].by_choice = rows[_i].by_choice;
	lines[0].order_known = rows[_i].known;
	list_prep(list, &report);
	has(TICKET_LINE, "Dish 0", "5 of 9");
	has(TICKET_SMALL, rows[_i].says, "");
}
END_TEST

START_TEST(left_alone)
{
	takes[1].reason = _i == 0 ? PLAN_BARRED
	    : _i == 1             ? PLAN_LEFT
				  : PLAN_NOT_NEEDED;
	takes[1].bar = STOCK_HELD;
	list_prep(list, &report);
	/* What is not needed is nobody's business, unless one asks why. */
	ck_assert_int_eq(find(TICKET_LINE, "26330-027 Hake") != NULL, _i < 2);
	ticket_free(list);
	list = ticket_new();
	report.why = true;
	list_prep(list, &report);
	has(TICKET_LINE, "26330-027 Hake", "");
	ck_assert_ptr_nonnull(strstr(find(TICKET_SMALL, "for dish-1: ")->left,
	    plan_reason_words(&takes[1])));
}
END_TEST

/* A tray in the freezer is of no use unless somebody takes it out in time. */
START_TEST(frozen_tray)
{
	takes[0].tray = takes[1].tray = true;
	takes[0].frozen = takes[1].frozen = true;
	str_copy(takes[0].code, CODE_SIZE, "00001U");
	str_copy(takes[1].code, CODE_SIZE, "00005M");
	takes[0].thaw_by_utc = 1795500000;
	takes[1].reason = PLAN_LEFT;
	list_prep(list, &report);
	has(TICKET_HEAD, "From the trays first", "");
	has(TICKET_TICK, "Dish 0", "4");
	has(TICKET_SMALL, "000-01U, frozen: take it out by Tue 24 Nov 06:00",
	    "");
	has(TICKET_SMALL, "then use by Wed 25 Nov 09:46", "");
	has(TICKET_LINE, "000-05M dish-1", "frozen");
	ticket_free(list);
	list = ticket_new();
	takes[0].frozen = false;
	list_prep(list, &report);
	has(TICKET_SMALL, "000-01U, use by Wed 25 Nov 09:46", "");
	ck_assert_ptr_null(find(TICKET_SMALL, "then use by"));
}
END_TEST

START_TEST(by_hand)
{
	lines[0].short_of = 5;
	lines[1].short_of = 3;
	lines[1].order_known = true;
	list_order(list, &report, NULL, 0);
	has(TICKET_HEAD, "By hand, no yield is known", "");
	has(TICKET_TICK, "Dish 0", "5 x 100 g");
	ck_assert_ptr_null(find(TICKET_TICK, "Dish 1"));
	has(TICKET_LINE, "nothing to order that a yield is known for", "");
}
END_TEST

/* Orders of one supplier stand together, each once. */
START_TEST(by_supplier)
{
	struct plan_order orders[3];
	struct supplier pier = {
		.code = "pier", .name = "North Pier Fish", .contact = "ext. 7"
	};
	size_t i, heads = 0, ticks = 0;

	memset(orders, 0, sizeof(orders));
	for (i = 0; i < 3; i++) {
		str_copy(orders[i].species, 4, "HKE");
		orders[i].order_g = 1000 * ((grams)i + 1);
		str_copy(orders[i].supplier, 24, i == 1 ? "reef" : "PIER");
	}
	report.plan.orders = orders;
	report.plan.order_count = 3;
	list_order(list, &report, &pier, 1);
	for (i = 0; i < ticket_count(list); i++) {
		heads += ticket_at(list, i)->style == TICKET_HEAD;
		ticks += ticket_at(list, i)->style == TICKET_TICK;
	}
	ck_assert_uint_eq(heads, 2);
	ck_assert_uint_eq(ticks, 3);
	has(TICKET_HEAD, "North Pier Fish", "");
	has(TICKET_SMALL, "ext. 7", "");
	has(TICKET_HEAD, "reef", "");
	ck_assert_str_eq(ticket_at(list, 8)->right, "3.000 kg");
}
END_TEST

Suite *
suite_print_list_plan(void)
{
	Suite *s = suite_create("print_list_plan");
	TCase *tc = tcase_create("plan");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, minutes);
	tcase_add_test(tc, smallest_tray);
	tcase_add_test(tc, work_without_minutes);
	tcase_add_test(tc, no_dish);
	tcase_add_loop_test(tc, short_of, 0, 3);
	tcase_add_loop_test(tc, left_alone, 0, 3);
	tcase_add_test(tc, frozen_tray);
	tcase_add_test(tc, by_hand);
	tcase_add_test(tc, by_supplier);
	suite_add_tcase(s, tc);
	return s;
}
