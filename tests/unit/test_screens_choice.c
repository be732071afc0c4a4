/*
 * test_screens_choice.c - what is done is done to the thing that was seen and
 * chosen, also when another program changes the list in between.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "hands.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/menu_edit.h"
#include "ops/people.h"
#include "screens/desk.h"
#include "store/store.h"

static struct kitchen k;
static struct desk *d;
static struct breakdown made; /* 3 trays of 4 */
static struct batch cod;

static void
setup(void)
{
	kitchen_open(&k);
	made = kitchen_trays(&cod, &k);
	d = desk_new(k.sn, NULL, 80, 24);
	str_copy(d->by, sizeof(d->by), "LM");
}

static void
teardown(void)
{
	desk_free(d);
	breakdown_fini(&made);
	kitchen_close(&k);
}

/* Another program recorded something: the desk sees it at its next tick. */
static void
tick(void)
{
	desk_tick(d, d->now_ms + 1500);
	desk_draw(d);
}

static void
new_dish(const char *code, const char *name)
{
	struct dish_in in = { .add = true, .by = "EF" };
	struct err err = { 0 };

	in.dish[MENU_DISH] = code;
	in.dish[MENU_NAME] = name;
	in.dish[MENU_STATE] = "raw";
	in.dish[MENU_MIX] = "lunch:5";
	in.cut_count = 1;
	in.cuts[0][MENU_SPECIES] = "COD";
	in.cuts[0][MENU_CUT] = "supreme";
	in.cuts[0][MENU_SKIN] = "on";
	in.cuts[0][MENU_BOUGHT] = "gutted";
	in.cuts[0][MENU_LOW] = "140";
	in.cuts[0][MENU_TARGET] = "150";
	in.cuts[0][MENU_HIGH] = "180";
	if (menu_put(NULL, k.sn, &in, &err) != RC_OK)
		ck_abort_msg("%s", err.text);
}

static int64_t
gone(const char *code)
{
	char sql[120];

	(void)snprintf(sql, sizeof(sql),
	    "SELECT count(*) FROM dish WHERE on_menu = 0 AND code = '%s'",
	    code);
	return kitchen_count(&k, sql);
}

/* A dish before the chosen one comes on the menu. */
START_TEST(menu_keeps_its_dish)
{
	on(d, SCREEN_MENU);
	type(d, "2");
	ck_assert(seen(d, "cod-leeks"));
	new_dish("aa-first", "A first one");
	tick();
	ck_assert(seen(d, "aa-first"));
	type(d, "o");
	ck_assert_int_eq(gone("aa-first"), 0);
	ck_assert_int_eq(gone("cod-leeks"), 1);
}
END_TEST

/* The same while the station asks who works. */
START_TEST(menu_keeps_its_dish_under_a_question)
{
	on(d, SCREEN_MENU);
	type(d, "2");
	d->by[0] = '\0';
	type(d, "o");
	ck_assert_int_eq(
	    menu_take(k.sn, "cod-leeks", false, "EF", NULL), RC_OK);
	tick();
	type(d, "LM");
	press(d, KEY_CODE_ENTER);
	type(d, "Lou");
	press(d, KEY_CODE_ENTER);
	ck_assert_str_eq(d->by, "LM");
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM dish WHERE on_menu = 0"),
	    1);
	ck_assert_int_eq(gone("cod-leeks"), 1);
}
END_TEST

/* Something typed is to be dropped for a dish that is gone by then. */
START_TEST(menu_opens_no_other)
{
	new_dish("aa-first", "A first one");
	on(d, SCREEN_MENU);
	type(d, "n");
	type(d, "x-new");
	press(d, KEY_CODE_ESC);
	type(d, "1");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(d->sheet_count, 1);
	ck_assert_int_eq(menu_take(k.sn, "aa-first", false, "EF", NULL), RC_OK);
	tick();
	press(d, KEY_CODE_ENTER);
	ck_assert(seen(d, "A first one was taken off this list"));
	/* and what was typed is there still */
	type(d, "n");
	ck_assert(seen(d, "x-new"));
}
END_TEST

/* A dish with more cuts than the form has is left as it is. */
START_TEST(menu_drops_no_cut)
{
	static const char *const species[] = { "BSS", "COD", "HAD", "HKE",
		"JOD", "LIN", "GUR", "GUG", "BRB" };
	struct import_result r;
	struct err err = { 0 };
	char path[320];
	struct buf b;
	size_t i;

	buf_init(&b, 4096);
	buf_puts(&b,
	    "dish,name,state,species,cut,skin,bought,low,target,high,"
	    "mix,allergens\n");
	for (i = 0; i < NELEM(species); i++)
		buf_printf(&b,
		    "aa-many,Of many,raw,%s,fillet,on,gutted,50,60,70,"
		    "lunch:5,\n",
		    species[i]);
	kitchen_write(path, &k, "many.csv", buf_text(&b));
	buf_fini(&b);
	ck_assert_msg(
	    import_menu(&r, k.sn, path, "EF", &err) == RC_OK, "%s", err.text);
	on(d, SCREEN_MENU);
	type(d, "1");
	press(d, KEY_CODE_ENTER);
	ck_assert(seen(d, "Of many has more cuts than fit here"));
	ck_assert(!seen(d, "cut 1 of"));
}
END_TEST

/* A dish before the chosen one comes into the service. */
START_TEST(service_keeps_its_dish)
{
	on(d, SCREEN_SERVICE);
	type(d, "2");
	ck_assert(seen(d, "2 Cod, leeks"));
	new_dish("aa-first", "A first one");
	tick();
	ck_assert(seen(d, "1 A first one"));
	ck_assert(seen(d, "3 Cod, leeks"));
	type(d, "u");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM portion_event"
			     " WHERE kind = 'used'"),
	    1);
}
END_TEST

/* What the species are is asked; one more comes in, which stands before. */
START_TEST(filter_takes_the_word_seen)
{
	struct receive_in in = kitchen_cod();

	on(d, SCREEN_ON_HAND);
	type(d, "y");
	ck_assert(seen(d, "Cod (4)"));
	press(d, KEY_CODE_DOWN);
	in.species = "BLL"; /* brill, before cod */
	in.document = "D-77";
	(void)kitchen_receive(&k, &in);
	tick();
	press(d, KEY_CODE_ENTER);
	ck_assert(seen(d, "Shown: everything, Cod "));
}
END_TEST

/* An unsure label comes before the one that is looked at. */
START_TEST(printing_keeps_its_job)
{
	struct print_job a, b;
	char sql[160];

	ck_assert_int_eq(
	    kitchen_label(&a, &k, made.portions[0].code, LABEL_FIRST), RC_OK);
	ck_assert_int_eq(
	    kitchen_label(&b, &k, made.portions[1].code, LABEL_FIRST), RC_OK);
	(void)snprintf(sql, sizeof(sql),
	    "UPDATE print_job SET state = CASE id WHEN %lld THEN 'queued'"
	    " ELSE 'unsure' END",
	    (long long)a.id);
	ck_assert_int_eq(kitchen_sql(k.db, sql), 0);
	on(d, SCREEN_PRINTING);
	ck_assert_int_eq(
	    kitchen_sql(k.db, "UPDATE print_job SET state = 'unsure'"), 0);
	tick();
	type(d, "y");
	(void)snprintf(sql, sizeof(sql),
	    "SELECT count(*) FROM print_job WHERE state = 'confirmed' AND"
	    " id = %lld",
	    (long long)b.id);
	ck_assert_int_eq(kitchen_count(&k, sql), 1);
	/* The same key again answers nothing for the other one. */
	type(d, "y");
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT count(*) FROM print_job WHERE state = 'unsure'"),
	    1);
}
END_TEST

/* Each old label that lies around is told of before new ones are made. */
START_TEST(labels_again)
{
	struct print_job job;
	int i;

	for (i = 0; i < 2; i++)
		ck_assert_int_eq(
		    kitchen_label(&job, &k, made.portions[i].code, LABEL_FIRST),
		    RC_OK);
	on(d, SCREEN_ON_HAND);
	press(d, KEY_CODE_HOME);
	type(d, "   l");
	ck_assert(seen(d, "has a label already"));
	ck_assert(seen(d, "1 more"));
	press(d, KEY_CODE_ESC);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 2);
	type(d, "l");
	press(d, KEY_CODE_ENTER);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 5);
}
END_TEST

/* However tall the terminal is, each row of it is there. */
START_TEST(any_height)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 240, 1, 39600, 90000, 45 };
	struct breakdown many;
	struct batch b;

	in.count = "60";
	in.weight = "120kg";
	in.document = "D-60";
	b = kitchen_receive(&k, &in);
	many = kitchen_break(&k, b.code, &cut);
	desk_resize(d, 80, 300);
	on(d, SCREEN_ON_HAND);
	press(d, KEY_CODE_END);
	ck_assert(seen(d, "245   "));
	press(d, KEY_CODE_HOME);
	ck_assert(seen(d, "  1   "));
	breakdown_fini(&many);
}
END_TEST

Suite *
suite_screens_choice(void)
{
	Suite *s = suite_create("screens_choice");
	TCase *t = tcase_create("choice");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 30);
	tcase_add_test(t, menu_keeps_its_dish);
	tcase_add_test(t, menu_keeps_its_dish_under_a_question);
	tcase_add_test(t, menu_opens_no_other);
	tcase_add_test(t, menu_drops_no_cut);
	tcase_add_test(t, service_keeps_its_dish);
	tcase_add_test(t, filter_takes_the_word_seen);
	tcase_add_test(t, printing_keeps_its_job);
	tcase_add_test(t, labels_again);
	tcase_add_test(t, any_height);
	suite_add_tcase(s, t);
	return s;
}
