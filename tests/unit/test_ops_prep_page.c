/*
 * test_ops_prep_page.c - the plan for a screen against the plan command's own
 * JSON, and the same made beside the screen.
 */
#include "unit.h"

#include <inttypes.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "exchange/plan_out.h"
#include "ops/prep_page.h"
#include "ops/work_mark.h"

#define DINNER "2026-11-25/dinner"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	in.fish_weights = "2100,1950,2050,1900,2000,2000,2000,2000,2000,2000";
	cod = kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct plan_wish
dinner(void)
{
	struct plan_wish w = { .service = DINNER };

	return w;
}

static struct prep_page *
opened(void)
{
	struct plan_wish w = dinner();
	struct prep_page *p;
	struct err err = { 0 };

	ck_assert_msg(
	    prep_page_open(&p, k.sn, &w, &err) == RC_OK, "%s", err.text);
	return p;
}

static json_int_t
number(const json_t *o, const char *key)
{
	const json_t *v = json_object_get(o, key);

	ck_assert_msg(json_is_integer(v), "no number %s", key);
	return json_integer_value(v);
}

static const char *
text(const json_t *o, const char *key)
{
	const char *s = json_string_value(json_object_get(o, key));

	ck_assert_msg(s != NULL, "no text %s", key);
	return s;
}

static json_t *
plan_json(void)
{
	struct plan_wish w = dinner();
	struct buf out;
	json_t *j;

	w.prep = w.order = true;
	w.format = FORMAT_JSON;
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(plan(&out, k.sn, &w, NULL), RC_OK);
	j = json_loads(buf_text(&out), 0, NULL);
	ck_assert_ptr_nonnull(j);
	buf_fini(&out);
	return j;
}

static void
same_lines(const struct prep_page *p, const json_t *j)
{
	const json_t *lines = json_object_get(j, "prep"), *l;
	size_t i;

	ck_assert_uint_eq(p->plan->count, json_array_size(lines));
	for (i = 0; i < p->plan->count; i++) {
		l = json_array_get(lines, i);
		ck_assert_str_eq(p->plan->lines[i].cut.dish, text(l, "dish"));
		ck_assert_int_eq(
		    p->plan->lines[i].to_have, number(l, "portions_needed"));
		ck_assert_int_eq(
		    p->plan->lines[i].on_hand, number(l, "on_hand"));
		ck_assert_int_eq(
		    p->plan->lines[i].to_make, number(l, "to_make"));
		ck_assert_int_eq(
		    p->plan->lines[i].short_of, number(l, "short"));
	}
}

/* Every task of the working order is in exactly one row, with its seconds. */
static void
same_work(const struct prep_page *p, const json_t *j)
{
	const json_t *work = json_object_get(j, "work"), *t;
	int64_t seconds = 0;
	char shown[CODE_SIZE];
	size_t i, n, at = 0;

	for (i = 0; i < p->task_count; i++) {
		ck_assert_uint_eq(p->tasks[i].first, at);
		t = json_array_get(work, at);
		ck_assert_str_eq(p->tasks[i].key.step, text(t, "task"));
		ck_assert_int_eq(p->tasks[i].starts_s, number(t, "starts_s"));
		if (p->tasks[i].job >= 0)
			ck_assert_str_eq(
			    code_show(shown, p->tasks[i].key.batch),
			    text(t, "batch"));
		for (n = 0; n < p->tasks[i].count; n++, at++)
			seconds += number(json_array_get(work, at), "seconds");
	}
	ck_assert_uint_eq(at, json_array_size(work));
	ck_assert_int_eq(seconds, number(j, "work_seconds"));
	for (i = 0; i < p->task_count; i++)
		seconds -= p->tasks[i].seconds;
	ck_assert_int_eq(seconds, 0);
}

START_TEST(same_as_the_command)
{
	struct prep_page *p = opened();
	json_t *j = plan_json();

	ck_assert_int_eq(p->covers, number(j, "covers"));
	ck_assert_int_eq(p->expected_c, number(j, "expected_covers_per_100"));
	ck_assert_str_eq(p->name, text(j, "service"));
	ck_assert_int_gt((int)p->task_count, 1);
	same_lines(p, j);
	same_work(p, j);
	ck_assert_uint_eq(
	    p->plan->opened_count, json_array_size(json_object_get(j, "fish")));
	ck_assert_int_eq(
	    p->plan->bound, number(json_object_get(j, "cut_plan"), "bound"));
	ck_assert_uint_eq(
	    p->plan->order_count, json_array_size(json_object_get(j, "order")));
	json_decref(j);
	prep_page_free(p);
}
END_TEST

/* No two rows answer to one key: a tick belongs to one task. */
START_TEST(keys_differ)
{
	struct prep_page *p = opened();
	size_t i, j;

	for (i = 0; i < p->task_count; i++)
		for (j = 0; j < i; j++)
			ck_assert(
			    !work_key_same(&p->tasks[i].key, &p->tasks[j].key));
	prep_page_free(p);
}
END_TEST

START_TEST(words)
{
	struct prep_page *p = opened();
	struct buf b;

	buf_init(&b, 65536);
	prep_task_words(&b, p, &p->tasks[0]);
	ck_assert_str_eq(buf_text(&b), "scale 3");
	ck_assert(p->tasks[0].later);
	buf_clear(&b);
	prep_cuts(&b, p, NULL);
	ck_assert_ptr_nonnull(strstr(buf_text(&b), " g: 2 fillets each "));
	ck_assert_ptr_nonnull(strstr(buf_text(&b), "(gap 0.01 %)"));
	ck_assert_ptr_nonnull(strstr(buf_text(&b), "bound 269.18"));
	buf_clear(&b);
	prep_orders(&b, p);
	ck_assert_ptr_nonnull(strstr(buf_text(&b), "portions for dinner"));
	buf_clear(&b);
	prep_line_why(&b, p, (size_t)p->tasks[0].line);
	ck_assert_ptr_nonnull(strstr(buf_text(&b), "expected"));
	buf_clear(&b);
	prep_cautions(&b, p);
	ck_assert_ptr_nonnull(strstr(buf_text(&b), work_caution()));
	buf_fini(&b);
	prep_page_free(p);
}
END_TEST

/* A tick is found again; what the plan no longer has, is told of. */
START_TEST(ticked)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 1, 1980, 10000, 5 };
	struct prep_page *p = opened();
	struct work_say say = { .service = DINNER,
		.key = p->tasks[0].key,
		.said = WORK_STARTED,
		.by = "CD" };
	struct breakdown b;

	ck_assert_int_eq(p->tasks[0].said, WORK_REOPENED);
	ck_assert_int_eq(work_mark_say(NULL, k.sn, &say, NULL), RC_OK);
	ck_assert_int_eq(prep_page_marks(p, k.sn, NULL), RC_OK);
	ck_assert_int_eq(p->tasks[0].said, WORK_STARTED);
	ck_assert_str_eq(p->tasks[0].by.by, "CD");
	ck_assert_int_eq(p->tasks[1].said, WORK_REOPENED);
	ck_assert_uint_eq(p->gone_count, 0);
	prep_page_free(p);
	b = kitchen_break(&k, cod.code, &cut);
	say.said = WORK_DONE;
	say.prep_id = b.prep.id;
	ck_assert_int_eq(work_mark_say(NULL, k.sn, &say, NULL), RC_OK);
	breakdown_fini(&b);
	p = opened();
	ck_assert_uint_eq(p->gone_count, 1);
	ck_assert_int_eq(p->gone[0].said, WORK_DONE);
	ck_assert_int_eq(p->gone[0].portions, 12);
	/* What the plan still wants of it is open. */
	ck_assert_int_eq(p->tasks[0].said, WORK_REOPENED);
	prep_page_free(p);
}
END_TEST

START_TEST(services)
{
	struct prep_services s;

	ck_assert_int_eq(prep_services(&s, k.sn, NULL), RC_OK);
	ck_assert_uint_eq(s.count, 3);
	ck_assert_str_eq(s.items[0].text, "2026-11-25/lunch");
	ck_assert_str_eq(s.items[1].text, DINNER);
	ck_assert_int_eq(s.items[1].service.covers, 60);
	/* Lunch is over at three, the day after tomorrow has nothing. */
	kitchen_at(&k, "2026-11-25T15:00");
	ck_assert_int_eq(prep_services(&s, k.sn, NULL), RC_OK);
	ck_assert_uint_eq(s.count, 2);
	ck_assert_str_eq(s.items[0].text, DINNER);
	kitchen_at(&k, "2026-11-27T10:00");
	ck_assert_int_eq(prep_services(&s, k.sn, NULL), RC_OK);
	ck_assert_uint_eq(s.count, 0);
}
END_TEST

static char *
in_words(const struct prep_page *p)
{
	struct buf b;
	size_t i;

	buf_init(&b, 1 << 20);
	for (i = 0; i < p->task_count; i++) {
		buf_printf(&b, "%s %s %" PRId64 " ", p->tasks[i].key.batch,
		    p->tasks[i].key.dish, p->tasks[i].seconds);
		prep_task_words(&b, p, &p->tasks[i]);
	}
	for (i = 0; i < p->plan->count; i++)
		prep_line_why(&b, p, i);
	prep_cuts(&b, p, NULL);
	prep_orders(&b, p);
	return b.data;
}

/* The same plan, made while the screen goes on using its own station. */
START_TEST(beside)
{
	char batch[CODE_SIZE + 4];
	struct plan_say say = { PLAN_SAY_LEAVE, batch };
	struct plan_wish w = dinner();
	struct prep_beside *b[3];
	struct prep_page *p, *here;
	struct moment at;
	char *one, *other;
	size_t i;

	str_fmt(batch, sizeof(batch), "%s:1", cod.code);
	w.says = &say;
	w.say_count = 1;
	for (i = 0; i < NELEM(b); i++)
		ck_assert_int_eq(
		    prep_beside_start(&b[i], k.sn, &w, NULL), RC_OK);
	ck_assert_int_eq(prep_page_open(&here, k.sn, &w, NULL), RC_OK);
	one = in_words(here);
	batch[0] = '\0'; /* they keep their own */
	ck_assert_int_eq(station_moment(&at, k.sn, "CD", NULL), RC_OK);
	for (i = 0; i < NELEM(b) - 1; i++) {
		ck_assert_int_eq(prep_beside_take(&p, b[i], -1, NULL), RC_OK);
		/* It is whole without what it was made in. */
		prep_beside_free(b[i]);
		b[i] = NULL;
		ck_assert_ptr_eq(p->report->species, &k.sn->species);
		other = in_words(p);
		ck_assert_str_eq(one, other);
		free(other);
		prep_page_free(p);
	}
	/* One nobody takes is given back all the same. */
	for (i = 0; i < NELEM(b); i++)
		prep_beside_free(b[i]);
	prep_beside_free(NULL);
	free(one);
	prep_page_free(here);
}
END_TEST

START_TEST(beside_refused)
{
	struct plan_wish w = { .service = "2026-12-25/dinner" };
	struct prep_beside *b;
	struct prep_page *p;
	struct err err = { 0 };

	ck_assert_int_eq(prep_beside_start(&b, k.sn, &w, NULL), RC_OK);
	ck_assert_int_eq(prep_beside_take(&p, b, -1, &err), RC_NOTFOUND);
	ck_assert_ptr_null(p);
	ck_assert_ptr_nonnull(strstr(err.text, "dinner"));
	prep_beside_free(b);
}
END_TEST

Suite *
suite_ops_prep_page(void)
{
	Suite *s = suite_create("ops_prep_page");
	TCase *tc = tcase_create("page");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, same_as_the_command);
	tcase_add_test(tc, keys_differ);
	tcase_add_test(tc, words);
	tcase_add_test(tc, ticked);
	tcase_add_test(tc, services);
	tcase_add_test(tc, beside);
	tcase_add_test(tc, beside_refused);
	suite_add_tcase(s, tc);
	return s;
}
