/*
 * test_ops_service_page.c - the page of a service beside what the commands say
 * of it: forecast and close, use, and the order of what goes out.
 */
#include "unit.h"

#include <inttypes.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/close.h"
#include "ops/expect.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/service_page.h"
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

static struct service_page
page_of(const char *date, const char *name)
{
	struct service_page p;
	struct err err = { 0 };
	day_no day;

	ck_assert_int_eq(day_parse(&day, "day", date, NULL), RC_OK);
	ck_assert_msg(
	    service_page_load(&p, k.sn, day, config_service(&k.sn->cfg, name),
		true, &err) == RC_OK,
	    "%s", err.text);
	return p;
}

static const struct service_dish *
dish_of(const struct service_page *p, const char *dish)
{
	size_t i;

	for (i = 0; i < p->dish_count; i++)
		if (str_eq(p->dishes[i].dish, dish))
			return &p->dishes[i];
	ck_abort_msg("%s is not on the page", dish);
}

/* 3 trays of 4, made of a batch the supplier dates as said. */
static struct breakdown
trays(const char *supplier_date)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in in = kitchen_cod();
	struct batch b;

	in.supplier_date = supplier_date;
	b = kitchen_receive(&k, &in);
	return kitchen_break(&k, b.code, &cut);
}

static void
use_some(const char *code, int64_t servings, const char *service)
{
	struct use_in in = { .code = code,
		.servings = servings,
		.service = service,
		.reason = "as it came",
		.by = "EF" };
	struct portion p;
	struct err err = { 0 };

	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
close_it(struct buf *out, const char *service, const char *const *sold,
    size_t count, bool correct)
{
	struct close_in in = { .service = service,
		.seated = 35,
		.walk_ins = 6,
		.sold = sold,
		.sold_count = count,
		.correct = correct,
		.by = "EF" };
	struct err err = { 0 };

	buf_init(out, 1 << 20);
	ck_assert_msg(close_service(out, k.sn, &in, FORMAT_CSV, &err) == RC_OK,
	    "%s", err.text);
}

START_TEST(nothing_yet)
{
	struct service_page p = page_of("2026-11-25", "lunch");
	const struct service_dish *d;

	ck_assert(p.booked);
	ck_assert_int_eq(p.covers, 40);
	ck_assert_int_eq(p.phase, SERVICE_AHEAD);
	ck_assert_str_eq(p.label, "2026-11-25/lunch");
	ck_assert(p.forecast);
	ck_assert(!p.closed);
	/* Lemon sole and mussels are for dinner alone. */
	ck_assert_uint_eq(p.dish_count, 3);
	d = dish_of(&p, "cod-leeks");
	ck_assert(d->forecast);
	ck_assert_int_gt(d->target, 0);
	ck_assert_int_eq(d->ready + d->early + d->frozen + d->barred, 0);
	ck_assert_uint_eq(d->next_count, 0);
	service_page_fini(&p);
	p = page_of("2026-11-26", "lunch");
	ck_assert(!p.booked);
	ck_assert(!p.forecast);
	ck_assert_int_eq(p.service_id, 0);
	ck_assert_uint_eq(p.dish_count, 3);
	ck_assert(!p.dishes[0].forecast);
	service_page_fini(&p);
}
END_TEST

/* Each tray counts in one place: ready, frozen, barred. */
START_TEST(where_each_tray_counts)
{
	struct breakdown d;
	struct service_page p;
	const struct service_dish *dish;
	const char *code;
	struct freeze_in in = {
		.codes = &code, .count = 1, .temp = "-20", .by = "CD"
	};
	struct kept kept;
	struct err err = { 0 };

	k.sn->cfg.raw_days = 4;
	d = trays(NULL);
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "cod-leeks");
	ck_assert_int_eq(dish->ready, 12);
	ck_assert_uint_eq(dish->next_count, 1);
	ck_assert_str_eq(dish->next[0].code, d.portions[0].code);
	service_page_fini(&p);
	code = d.portions[0].code;
	ck_assert_msg(freeze(&kept, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(
	    hold(NULL, k.sn, d.portions[1].code, "smells", "AB", NULL), RC_OK);
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "cod-leeks");
	ck_assert_int_eq(dish->ready, 4);
	ck_assert_int_eq(dish->frozen, 4);
	ck_assert_int_eq(dish->barred, 4);
	ck_assert_int_eq(dish->early, 0);
	ck_assert_str_eq(dish->next[0].code, d.portions[2].code);
	service_page_fini(&p);
	breakdown_fini(&d);
}
END_TEST

static const char duo[] =
    "dish,name,state,species,cut,skin,bought,low,target,high,mix,allergens\n"
    "duo,Cod and plaice,raw,COD,supreme,on,gutted,150,165,180,dinner:20,\n"
    "duo,Cod and plaice,raw,PLE|LEM,fillet,off,gutted,40,55,90,dinner:20,\n";

/* A plate needs both parts, whichever species the second is of. */
START_TEST(parts_of_a_plate)
{
	struct kitchen_cut cod = { "duo", 10, 5, 1650, 10000, 5 };
	struct kitchen_cut flat = { "duo", 4, 4, 220, 2000, 1 };
	struct receive_in in = kitchen_cod();
	struct breakdown d[3];
	struct import_result r;
	struct batch b[3];
	struct service_page p;
	const struct service_dish *dish;
	char path[320];
	size_t i;

	kitchen_write(path, &k, "duo.csv", duo);
	ck_assert_int_eq(import_menu(&r, k.sn, path, "AB", NULL), RC_OK);
	b[0] = kitchen_receive(&k, &in);
	in.species = "PLE";
	b[1] = kitchen_receive(&k, &in);
	in.species = "LEM";
	b[2] = kitchen_receive(&k, &in);
	d[0] = kitchen_break(&k, b[0].code, &cod);
	p = page_of("2026-11-25", "dinner");
	ck_assert_uint_eq(p.dish_count, 1);
	dish = dish_of(&p, "duo");
	ck_assert_int_eq(dish->ready, 0);
	ck_assert_uint_eq(dish->next_count, 1);
	service_page_fini(&p);
	d[1] = kitchen_break(&k, b[1].code, &flat);
	flat.portions = flat.per_label = 3;
	d[2] = kitchen_break(&k, b[2].code, &flat);
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "duo");
	ck_assert_int_eq(dish->ready, 7); /* 10 of one, 4 and 3 of the other */
	ck_assert_uint_eq(dish->next_count, 3);
	service_page_fini(&p);
	/* Both parts go out: it is one plate, not two. */
	use_some(d[0].portions[0].code, 2, "2026-11-25/dinner");
	use_some(d[1].portions[0].code, 1, "2026-11-25/dinner");
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "duo");
	ck_assert_int_eq(dish->out, 2);
	ck_assert_int_eq(dish->ready, 6);
	service_page_fini(&p);
	for (i = 0; i < 3; i++)
		breakdown_fini(&d[i]);
}
END_TEST

/* A date within the service: in date at first, not through its end. */
START_TEST(early_is_not_ready)
{
	struct breakdown d = trays("2026-11-25");
	struct service_page p;
	const struct service_dish *dish;

	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE portion SET use_by_utc = use_by_utc"
			     " - 3 * 3600 WHERE serial ="
			     " (SELECT min(serial) FROM portion)"),
	    SQLITE_OK);
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "cod-leeks");
	ck_assert_int_eq(dish->early, 4);
	ck_assert_int_eq(dish->ready, 8);
	ck_assert_str_eq(dish->next[0].code, d.portions[0].code);
	service_page_fini(&p);
	/* Past it, while the service goes on. */
	kitchen_at(&k, "2026-11-25T21:30");
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "cod-leeks");
	ck_assert_int_eq(p.phase, SERVICE_NOW);
	ck_assert_int_eq(dish->early, 0);
	ck_assert_int_eq(dish->ready, 8);
	ck_assert_int_eq(dish->barred, 4);
	ck_assert_str_eq(dish->next[0].code, d.portions[1].code);
	service_page_fini(&p);
	breakdown_fini(&d);
}
END_TEST

/* The unit named first is the one use() lets go, and no other. */
START_TEST(next_is_what_use_takes)
{
	struct breakdown young = trays(NULL), old = trays("2026-11-25");
	const struct service_dish *dish;
	struct service_page p;
	struct use_look l;
	int i, taken;

	for (taken = 0; taken < 6; taken++) {
		p = page_of("2026-11-25", "dinner");
		dish = dish_of(&p, "cod-leeks");
		ck_assert_uint_eq(dish->next_count, 1);
		ck_assert_int_eq(
		    use_look(&l, k.sn, dish->next[0].code, NULL), RC_OK);
		ck_assert_int_eq(l.verdict, USE_MAY);
		for (i = 0; i < 3; i++) {
			ck_assert_int_eq(
			    use_look(&l, k.sn, young.portions[i].code, NULL),
			    RC_OK);
			if (taken < 3) {
				ck_assert_int_eq(l.verdict, USE_OLDER_FIRST);
				ck_assert_str_eq(
				    l.older.code, dish->next[0].code);
			}
		}
		use_some(dish->next[0].code, 0, "2026-11-25/dinner");
		service_page_fini(&p);
	}
	p = page_of("2026-11-25", "dinner");
	dish = dish_of(&p, "cod-leeks");
	ck_assert_uint_eq(dish->next_count, 0);
	ck_assert_int_eq(dish->ready, 0);
	ck_assert_int_eq(dish->out, 24);
	ck_assert_int_eq(p.out_total, 24);
	service_page_fini(&p);
	breakdown_fini(&young);
	breakdown_fini(&old);
}
END_TEST

START_TEST(uses_newest_first)
{
	struct breakdown d = trays(NULL);
	struct service_page p;
	size_t i;

	for (i = 0; i < 3; i++)
		use_some(d.portions[i].code, (int64_t)i + 1,
		    i == 1 ? "2026-11-25/lunch" : "2026-11-25/dinner");
	p = page_of("2026-11-25", "dinner");
	ck_assert_uint_eq(p.uses.count, 2);
	ck_assert_str_eq(p.uses.items[0].code, d.portions[2].code);
	ck_assert_int_eq(p.uses.items[0].servings, 3);
	ck_assert_int_eq(p.uses.items[0].left, 1);
	ck_assert_str_eq(p.uses.items[0].reason, "as it came");
	ck_assert_str_eq(p.uses.items[0].at.by, "EF");
	ck_assert_int_eq(p.uses.items[0].use_by_utc, d.portions[2].use_by_utc);
	ck_assert_str_eq(p.uses.items[1].code, d.portions[0].code);
	use_some(d.portions[0].code, 1, "2026-11-25/dinner");
	ck_assert_int_eq(service_page_again(&p, k.sn, NULL), RC_OK);
	ck_assert_uint_eq(p.uses.count, 3);
	ck_assert_int_eq(p.out_total, 5);
	ck_assert(p.forecast);
	ck_assert_int_eq(dish_of(&p, "cod-leeks")->out, 5);
	service_page_fini(&p);
	/* Without a book there is no service to record them for. */
	kitchen_at(&k, "2026-11-26T12:30");
	use_some(d.portions[0].code, 1, NULL);
	p = page_of("2026-11-26", "lunch");
	ck_assert_uint_eq(p.uses.count, 1);
	ck_assert_int_eq(p.out_total, 0);
	service_page_fini(&p);
	breakdown_fini(&d);
}
END_TEST

/* A wrong scan taken back is no longer listed, nor counted. */
START_TEST(taken_back)
{
	struct breakdown d = trays(NULL);
	struct service_page p;
	struct undo_offer offer;
	struct undo_in in = { .by = "EF" };

	use_some(d.portions[0].code, 3, "2026-11-25/dinner");
	use_some(d.portions[1].code, 1, "2026-11-25/dinner");
	ck_assert_int_eq(undo_last(&offer, k.sn, NULL, NULL), RC_OK);
	in.step = offer.step;
	ck_assert_int_eq(undo_do(&offer, k.sn, &in, NULL), RC_OK);
	p = page_of("2026-11-25", "dinner");
	ck_assert_uint_eq(p.uses.count, 1);
	ck_assert_str_eq(p.uses.items[0].code, d.portions[0].code);
	ck_assert_int_eq(p.out_total, 3);
	ck_assert_int_eq(dish_of(&p, "cod-leeks")->out, 3);
	ck_assert_int_eq(dish_of(&p, "cod-leeks")->ready, 9);
	service_page_fini(&p);
	breakdown_fini(&d);
}
END_TEST

static char *
next_field(char **at)
{
	char *field = *at;
	char *end = strpbrk(field, ",\r");

	ck_assert_ptr_nonnull(end);
	*end = '\0';
	*at = end + 1;
	return field;
}

static void
same(const char *text, bool known, int64_t n)
{
	char want[32] = "";

	if (known)
		str_fmt(want, sizeof(want), "%" PRId64, n);
	ck_assert_str_eq(text, want);
}

/* date,service,booked,seated,walk_ins,dish,sold,ran_out_at,from,
 * expected_per_100,low_80,high_80,target */
static void
check_line(char *line, const struct service_page *p)
{
	const struct service_dish *d;
	const char *ran_out;

	next_field(&line);
	next_field(&line);
	same(next_field(&line), true, p->closing.booked);
	same(next_field(&line), true, p->closing.seated);
	same(next_field(&line), true, p->closing.walk_ins);
	d = dish_of(p, next_field(&line));
	same(next_field(&line), d->sold_known, d->sold);
	ran_out = next_field(&line);
	if (d->ran_out_at == RAN_OUT_SOME_TIME)
		ck_assert_str_eq(ran_out, "out");
	else
		same(ran_out, d->ran_out_at >= 0, d->ran_out_at);
	next_field(&line);
	same(next_field(&line), d->forecast, d->expected_c);
	same(next_field(&line), d->forecast, d->low80);
	same(next_field(&line), d->forecast, d->high80);
	same(next_field(&line), d->forecast, d->target);
}

static size_t
same_as_close(struct buf *b)
{
	struct service_page p = page_of("2026-11-25", "lunch");
	char *line, *rest;
	size_t n = 0;

	ck_assert(p.closed);
	line = strtok_r(b->data, "\n", &rest); /* the heading */
	while ((line = strtok_r(NULL, "\n", &rest)) != NULL) {
		check_line(line, &p);
		n++;
	}
	ck_assert_uint_eq(n, p.dish_count);
	service_page_fini(&p);
	return n;
}

START_TEST(closed_as_the_command_says)
{
	static const char *const sold[] = { "plaice-crumb:9:30" };
	static const char *const better[] = { "plaice-crumb:10",
		"cod-cakes:2:out" };
	struct breakdown d = trays(NULL);
	struct buf b;

	use_some(d.portions[0].code, 3, "2026-11-25/lunch");
	kitchen_at(&k, "2026-11-25T15:30");
	close_it(&b, "2026-11-25/lunch", sold, NELEM(sold), false);
	ck_assert_uint_eq(same_as_close(&b), 3);
	buf_fini(&b);
	close_it(&b, "2026-11-25/lunch", better, NELEM(better), true);
	ck_assert_uint_eq(same_as_close(&b), 3);
	buf_fini(&b);
	breakdown_fini(&d);
}
END_TEST

START_TEST(what_the_chef_typed)
{
	struct expect_in in = { .service = "2026-11-25/lunch",
		.covers = 55,
		.words = { { EXPECT_FIXED, "cod-leeks:21" } },
		.count = 1,
		.by = "AB" };
	struct service_page p;
	struct buf b;

	buf_init(&b, 1 << 20);
	ck_assert_int_eq(expect(&b, k.sn, &in, FORMAT_TEXT, NULL), RC_OK);
	buf_fini(&b);
	p = page_of("2026-11-25", "lunch");
	ck_assert_int_eq(p.typed, 55);
	ck_assert_int_eq(dish_of(&p, "cod-leeks")->target, 21);
	service_page_fini(&p);
}
END_TEST

static const struct {
	const char *why, *now, *day, *name;
} presents[] = {
	{ "before lunch", "2026-11-25T07:00", "2026-11-25", "lunch" },
	{ "during lunch", "2026-11-25T14:59", "2026-11-25", "lunch" },
	{ "lunch is over", "2026-11-25T15:00", "2026-11-25", "dinner" },
	{ "the last stays", "2026-11-25T23:30", "2026-11-25", "dinner" },
	{ "another day", "2026-11-26T00:00", "2026-11-26", "lunch" },
};

START_TEST(present_sitting)
{
	const struct service_window *w;
	char text[16];
	day_no day;

	kitchen_at(&k, presents[_i].now);
	service_page_default(&day, &w, k.sn);
	ck_assert_msg(str_eq(w->name, presents[_i].name), "%s: %s",
	    presents[_i].why, w->name);
	ck_assert_str_eq(day_print(text, sizeof(text), day), presents[_i].day);
	/* One step either way comes back. */
	service_page_step(&day, &w, &k.sn->cfg, 1);
	ck_assert(!str_eq(w->name, presents[_i].name));
	service_page_step(&day, &w, &k.sn->cfg, -1);
	ck_assert_str_eq(w->name, presents[_i].name);
	ck_assert_str_eq(day_print(text, sizeof(text), day), presents[_i].day);
}
END_TEST

Suite *
suite_ops_service_page(void)
{
	Suite *s = suite_create("ops_service_page");
	TCase *t = tcase_create("page");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, nothing_yet);
	tcase_add_test(t, where_each_tray_counts);
	tcase_add_test(t, parts_of_a_plate);
	tcase_add_test(t, early_is_not_ready);
	tcase_add_test(t, next_is_what_use_takes);
	tcase_add_test(t, uses_newest_first);
	tcase_add_test(t, taken_back);
	tcase_add_test(t, closed_as_the_command_says);
	tcase_add_test(t, what_the_chef_typed);
	tcase_add_loop_test(t, present_sitting, 0, (int)NELEM(presents));
	suite_add_tcase(s, t);
	return s;
}
