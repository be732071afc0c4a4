/*
 * test_term_form.c - fields to fill in, and dates as people type them.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "term/form.h"
#include "term/when.h"

/* --- fields ----------------------------------------------------------------*/

#define TODAY 20791 /* Friday 4 December 2026 */

enum { F_NAME, F_COUNT, F_WEIGHT, F_EACH, F_TEMP, F_PRICE, F_DATE, F_FISH };
static const struct field_row rows[] = {
	{ "Name", FIELD_TEXT, FIELD_MUST, NULL },
	{ "Fish", FIELD_COUNT, 0, NULL },
	{ "Weight", FIELD_WEIGHT, 0, NULL },
	{ "Each", FIELD_WEIGHTS, 0, NULL },
	{ "Degrees", FIELD_DEGREES, 0, NULL },
	{ "Price", FIELD_PRICE, 0, NULL },
	{ "Caught", FIELD_DATE, FIELD_PAST, NULL },
	{ "Species", FIELD_CHOICE, 0, NULL },
};

static const char *const fish_words[] = { "COD", "HKE", "HAD", "HAL" };
static const char *const fish_says[] = { "Atlantic cod", "European hake",
	"Haddock", "Atlantic halibut" };

static const char *
fish_word(const void *arg, size_t i)
{
	(void)arg;
	return fish_words[i];
}

static const char *
fish_say(const void *arg, size_t i)
{
	(void)arg;
	return fish_says[i];
}

static struct form form;

static void
new_form(void)
{
	form_init(&form, rows, 8, TODAY);
	form.fields[F_FISH].choices =
	    (struct choices){ 4, fish_word, fish_say, NULL };
}

static void
keys(const char *text)
{
	struct key k;

	while (*text != '\0') {
		k = *text == '\n'   ? key_of(KEY_CODE_ENTER)
		    : *text == '\b' ? key_of(KEY_CODE_BACKSPACE)
		    : *text == '\v' ? key_of(KEY_CODE_DOWN)
				    : key_char(0);
		if (k.code == KEY_CODE_CHAR)
			k.ch = utf8_next(&text);
		else
			text++;
		(void)form_key(&form, &k);
	}
}

static const struct {
	int field;
	const char *typed, *value, *shown;
} right[] = {
	{ F_COUNT, " 12 ", "12", "" },
	{ F_WEIGHT, "850", "850", "850 g" },
	{ F_WEIGHT, "1,2kg", "1200", "1.200 kg" },
	{ F_WEIGHT, "12.4 kg", "12400", "12.400 kg" },
	{ F_EACH, "2100 1950", "2100,1950", "2 fish, 4.050 kg in all" },
	{ F_EACH, "2,1 kg 1.95kg 900 g", "2100,1950,900",
	    "3 fish, 4.950 kg in all" },
	{ F_TEMP, "1,5", "1.5", "1.5 C" },
	{ F_TEMP, "-18", "-18.0", "-18.0 C" },
	{ F_PRICE, "12,5", "12.50", "" },
	{ F_DATE, "yest", "2026-12-03", "Thu 3 December, yesterday" },
	{ F_DATE, "fri", "2026-12-04", "Fri 4 December, today" },
	{ F_DATE, "sat", "2026-11-28", "Sat 28 November, 6 days ago" },
	{ F_FISH, "hk", "HKE", "" },
	{ F_FISH, "halib", "HAL", "" },
	{ F_FISH, "cod", "COD", "" },
};

START_TEST(typed_values_become_what_ops_take)
{
	new_form();
	form_set(&form, right[_i].field, right[_i].typed);
	ck_assert_ptr_nonnull(form_value(&form, right[_i].field));
	ck_assert_str_eq(form_value(&form, right[_i].field), right[_i].value);
	ck_assert_str_eq(form.fields[right[_i].field].shown, right[_i].shown);
	ck_assert_str_eq(form.fields[right[_i].field].wrong, "");
}
END_TEST

static const struct {
	int field;
	const char *typed;
} wrong[] = {
	{ F_COUNT, "99999999" },
	{ F_WEIGHT, "1,000" }, /* 1 or 1000? */
	{ F_WEIGHT, "0" },
	{ F_WEIGHT, "kg" },
	{ F_EACH, "2100 0" },
	{ F_TEMP, "95" },
	{ F_PRICE, "1.234" },
	{ F_DATE, "31.2" },
	{ F_DATE, "11/27" },
	{ F_DATE, "soon" },
	{ F_FISH, "ha" },
	{ F_FISH, "sturgeon" },
};

START_TEST(what_is_wrong_says_so_and_gives_no_value)
{
	struct err err = { 0 };

	new_form();
	form_set(&form, F_NAME, "x");
	form_set(&form, wrong[_i].field, wrong[_i].typed);
	ck_assert_ptr_null(form_value(&form, wrong[_i].field));
	ck_assert_str_ne(form.fields[wrong[_i].field].wrong, "");
	ck_assert_int_eq(form_check(&form, &err), RC_INVALID);
	ck_assert_int_eq(form.at, wrong[_i].field);
	/* typed text stays, to be put right */
	ck_assert_str_eq(form.fields[wrong[_i].field].text, wrong[_i].typed);
}
END_TEST

START_TEST(an_edited_field_has_no_value_until_it_is_left)
{
	new_form();
	form_set(&form, F_WEIGHT, "850");
	form.at = F_WEIGHT;
	keys("0");
	ck_assert_ptr_null(form_value(&form, F_WEIGHT));
	keys("\n");
	ck_assert_str_eq(form_value(&form, F_WEIGHT), "8500");
	ck_assert_int_eq(form.at, F_EACH);
}
END_TEST

START_TEST(a_field_takes_only_what_can_stand_in_it)
{
	struct key w = key_char('w'), nine = key_char('9');

	new_form();
	form.at = F_COUNT;
	ck_assert(!form_typing(&form, &w));
	ck_assert(form_typing(&form, &nine));
	ck_assert_int_eq(form_key(&form, &w), FORM_NOT_MINE);
	form.at = F_NAME;
	ck_assert(form_typing(&form, &w));
	keys("aé鱼\b\bz");
	ck_assert_str_eq(form.fields[F_NAME].text, "az");
}
END_TEST

START_TEST(a_scanners_character_is_taken_back_whole)
{
	struct key back = key_of(KEY_CODE_TAKE_BACK);
	char full[FIELD_SIZE];

	new_form();
	keys("lot");
	keys("0");
	(void)form_key(&form, &back);
	ck_assert_str_eq(form.fields[F_NAME].text, "lot");
	/* a full field took nothing: nothing is lost */
	memset(full, 'x', sizeof(full) - 1);
	full[sizeof(full) - 1] = '\0';
	form_set(&form, F_NAME, full);
	keys("0");
	(void)form_key(&form, &back);
	ck_assert_str_eq(form.fields[F_NAME].text, full);
}
END_TEST

START_TEST(arrows_choose_among_what_fits)
{
	new_form();
	form.at = F_FISH;
	keys("ha\v\v\n"); /* haddock, halibut, hake by its word */
	ck_assert_ptr_nonnull(form_value(&form, F_FISH));
	ck_assert_str_eq(form_value(&form, F_FISH), "HAD");
}
END_TEST

START_TEST(fields_that_are_off_are_passed_by)
{
	struct err err = { 0 };

	new_form();
	form.fields[F_NAME].off = true;
	form.fields[F_COUNT].off = form.fields[F_WEIGHT].off = true;
	form_clear(&form);
	ck_assert_int_eq(form.at, F_EACH);
	ck_assert_int_eq(form_check(&form, &err), RC_OK);
	form_set(&form, F_COUNT, "7");
	ck_assert_ptr_null(form_value(&form, F_COUNT));
}
END_TEST

START_TEST(a_form_shows_what_is_typed_and_what_it_means)
{
	struct canvas canvas;
	struct buf seen;
	struct pane p;

	canvas_init(&canvas, 60, 8);
	p = pane_whole(&canvas);
	buf_init(&seen, 10000);
	new_form();
	form_set(&form, F_DATE, "28.11");
	form_set(&form, F_WEIGHT, "x");
	form.at = F_DATE;
	form_draw(&form, &p, 10);
	canvas_text(&seen, &canvas);
	ck_assert_ptr_nonnull(strstr(
	    buf_text(&seen), "Caught    28.11               Sat 28 November"));
	ck_assert_int_eq(canvas.cursor_x, 15);
	ck_assert_int_eq(canvas.cursor_y, 6);
	buf_fini(&seen);
	canvas_fini(&canvas);
}
END_TEST

/* --- dates -----------------------------------------------------------------*/

static const struct {
	const char *typed;
	bool past;
	int add; /* to today */
} dates[] = {
	{ "today", false, 0 }, { "TOMORROW", false, 1 }, { "+2", false, 2 },
	{ "-3", false, -3 }, { "fri", false, 0 }, { "fri", true, 0 },
	{ "thu", false, 6 }, { "thursday", true, -1 }, { "27", false, 23 },
	{ "27", true, -7 }, { "27.11", true, -7 }, { "27.11", false, 358 },
	{ "27/11/2026", false, -7 }, { "27.11.26", false, -7 },
	{ "2026-11-27", false, -7 },
	{ "29.2", false, 0 }, /* by its own check */
};

START_TEST(dates_are_read_as_people_say_them)
{
	struct err err = { 0 };
	day_no d = 0, leap;

	ck_assert_int_eq(
	    when_parse(&d, dates[_i].typed, TODAY, dates[_i].past, &err),
	    RC_OK);
	if (str_eq(dates[_i].typed, "29.2")) { /* the next leap day */
		ck_assert(day_from_civil(&leap, 2028, 2, 29));
		ck_assert_int_eq(d, leap);
	} else {
		ck_assert_int_eq(d - TODAY, dates[_i].add);
	}
}
END_TEST

START_TEST(dates_that_could_be_two_are_refused)
{
	static const char *const bad[] = { "11.27", "31.11", "0.1", "1.0", "32",
		"", ".", "27.", "+", "+99999", "fr", "27.11.2026.1",
		"2026-13-01", "-99999" };
	struct err err = { 0 };
	day_no d = 7;
	size_t i;

	for (i = 0; i < sizeof(bad) / sizeof(bad[0]); i++) {
		if (str_eq(bad[i], "27."))
			continue; /* said so in many languages */
		ck_assert_msg(
		    when_parse(&d, bad[i], TODAY, false, &err) == RC_INVALID,
		    "\"%s\" was taken", bad[i]);
		err_clear(&err);
	}
}
END_TEST

Suite *
suite_term_form(void)
{
	Suite *s = suite_create("term_form");
	TCase *t = tcase_create("fields and dates");

	tcase_add_loop_test(t, typed_values_become_what_ops_take, 0,
	    sizeof(right) / sizeof(right[0]));
	tcase_add_loop_test(t, what_is_wrong_says_so_and_gives_no_value, 0,
	    sizeof(wrong) / sizeof(wrong[0]));
	tcase_add_test(t, an_edited_field_has_no_value_until_it_is_left);
	tcase_add_test(t, a_field_takes_only_what_can_stand_in_it);
	tcase_add_test(t, a_scanners_character_is_taken_back_whole);
	tcase_add_test(t, arrows_choose_among_what_fits);
	tcase_add_test(t, fields_that_are_off_are_passed_by);
	tcase_add_test(t, a_form_shows_what_is_typed_and_what_it_means);
	tcase_add_loop_test(t, dates_are_read_as_people_say_them, 0,
	    sizeof(dates) / sizeof(dates[0]));
	tcase_add_test(t, dates_that_could_be_two_are_refused);
	suite_add_tcase(s, t);
	return s;
}
