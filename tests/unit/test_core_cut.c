/* test_core_cut.c - words and mappings of presentations, cuts and forms. */
#include "unit.h"

#include <string.h>

#include "core/cut.h"

/* clang-format off */
static const struct {
	const char *why;
	const char *word;
	enum presentation p;
	enum yield_form form;
} presentations[] = {
	{ "as caught", "whole", PRES_WHOLE, YIELD_WHOLE },
	{ "head on", "gutted", PRES_GUTTED, YIELD_GUTTED },
	{ "head off", "headed", PRES_HEADED, YIELD_HEADED },
	{ "skin on", "fillet", PRES_FILLET, YIELD_FILLET },
	{ "skin off", "fillet-skinless", PRES_FILLET_SKINLESS, YIELD_SKINLESS },
	{ "loin", "loin", PRES_LOIN, YIELD_LOIN },
	{ "tail", "tail", PRES_TAIL, YIELD_TAIL },
	{ "wing", "wing", PRES_WING, YIELD_WING },
	{ "live is weighed in its shell", "live", PRES_LIVE, YIELD_WHOLE },
	{ "out of the shell is all meat", "shucked", PRES_SHUCKED, YIELD_MEAT },
};

static const struct {
	const char *why;
	const char *word;
	enum cut_kind c;
	enum yield_form skin_on, skin_off; /* cut from a gutted fish */
	bool by_piece;
} cuts[] = {
	{ "a fish is served gutted", "whole", CUT_WHOLE,
	    YIELD_GUTTED, YIELD_GUTTED, true },
	{ "skin counts", "fillet", CUT_FILLET,
	    YIELD_FILLET, YIELD_SKINLESS, true },
	{ "skin counts", "supreme", CUT_SUPREME,
	    YIELD_FILLET, YIELD_SKINLESS, true },
	{ "always skinless", "loin", CUT_LOIN, YIELD_LOIN, YIELD_LOIN, true },
	{ "across the bone: the form it is cut from", "troncon", CUT_TRONCON,
	    YIELD_GUTTED, YIELD_GUTTED, true },
	{ "by weight", "tail", CUT_TAIL, YIELD_TAIL, YIELD_TAIL, false },
	{ "two to a ray", "wing", CUT_WING, YIELD_WING, YIELD_WING, true },
	{ "in shell: the form it is cut from", "shell", CUT_SHELL,
	    YIELD_GUTTED, YIELD_GUTTED, false },
	{ "by weight", "meat", CUT_MEAT, YIELD_MEAT, YIELD_MEAT, false },
	{ "no yield of its own", "trim", CUT_TRIM,
	    YIELD_SKINLESS, YIELD_SKINLESS, false },
};

static const struct {
	const char *word;
	enum yield_form f;
} forms[] = {
	{ "whole", YIELD_WHOLE }, { "gutted", YIELD_GUTTED },
	{ "headed", YIELD_HEADED }, { "fillet", YIELD_FILLET },
	{ "skinless", YIELD_SKINLESS }, { "loin", YIELD_LOIN },
	{ "tail", YIELD_TAIL }, { "wing", YIELD_WING },
	{ "meat", YIELD_MEAT },
};

static const struct {
	const char *why;
	const char *word;
} unknown[] = {
	{ "nothing", "" },
	{ "part of a word", "fill" },
	{ "a blank behind", "fillet " },
	{ "two words for one", "skin-off" },
	{ "accents are not typed at a till", "tron\xc3\xa7on" },
};
/* clang-format on */

START_TEST(presentation_rows)
{
	enum presentation p = PRES_COUNT;

	ck_assert_str_eq(
	    presentation_word(presentations[_i].p), presentations[_i].word);
	ck_assert_int_eq(
	    presentation_parse(&p, presentations[_i].word, NULL), RC_OK);
	ck_assert_int_eq(p, presentations[_i].p);
	ck_assert_msg(presentation_form(p) == presentations[_i].form, "%s",
	    presentations[_i].why);
}
END_TEST

START_TEST(cut_rows)
{
	enum cut_kind c = CUT_COUNT;

	ck_assert_str_eq(cut_word(cuts[_i].c), cuts[_i].word);
	ck_assert_int_eq(cut_parse(&c, cuts[_i].word, NULL), RC_OK);
	ck_assert_int_eq(c, cuts[_i].c);
	ck_assert_msg(cut_form(c, true, YIELD_GUTTED) == cuts[_i].skin_on,
	    "skin on: %s", cuts[_i].why);
	ck_assert_msg(cut_form(c, false, YIELD_GUTTED) == cuts[_i].skin_off,
	    "skin off: %s", cuts[_i].why);
	ck_assert_msg(cut_by_piece(c) == cuts[_i].by_piece, "%s", cuts[_i].why);
}
END_TEST

START_TEST(form_rows)
{
	enum yield_form f = YIELD_FORM_COUNT;

	ck_assert_str_eq(yield_form_word(forms[_i].f), forms[_i].word);
	ck_assert_int_eq(yield_form_parse(&f, forms[_i].word, NULL), RC_OK);
	ck_assert_int_eq(f, forms[_i].f);
}
END_TEST

/* A new enum value without a row above must not pass unnoticed. */
START_TEST(every_value_has_a_row)
{
	ck_assert_uint_eq(NELEM(presentations), PRES_COUNT);
	ck_assert_uint_eq(NELEM(cuts), CUT_COUNT);
	ck_assert_uint_eq(NELEM(forms), YIELD_FORM_COUNT);
}
END_TEST

START_TEST(from_is_handed_back)
{
	int f;

	for (f = 0; f < YIELD_FORM_COUNT; f++) {
		enum yield_form from = (enum yield_form)f;

		ck_assert_int_eq(cut_form(CUT_TRONCON, false, from), from);
		ck_assert_int_eq(cut_form(CUT_SHELL, true, from), from);
	}
}
END_TEST

START_TEST(unknown_words)
{
	enum presentation p = PRES_WING;
	enum cut_kind c = CUT_TAIL;
	enum yield_form f = YIELD_LOIN;
	struct err err;
	const char *s = unknown[_i].word;

	err_clear(&err);
	ck_assert_msg(presentation_parse(&p, s, &err) == RC_INVALID, "%s",
	    unknown[_i].why);
	ck_assert_ptr_nonnull(strstr(err.text,
	    "whole, gutted, headed, fillet, fillet-skinless, loin, tail, "
	    "wing, live, shucked"));
	err_clear(&err);
	ck_assert_int_eq(cut_parse(&c, s, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text,
	    "whole, fillet, supreme, loin, troncon, tail, wing, shell, meat, "
	    "trim"));
	err_clear(&err);
	ck_assert_int_eq(yield_form_parse(&f, s, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text,
	    "whole, gutted, headed, fillet, skinless, loin, tail, wing, meat"));
	/* outputs are untouched */
	ck_assert(p == PRES_WING && c == CUT_TAIL && f == YIELD_LOIN);
}
END_TEST

START_TEST(case_does_not_count)
{
	enum presentation p = PRES_COUNT;

	ck_assert_int_eq(
	    presentation_parse(&p, "Fillet-SKINLESS", NULL), RC_OK);
	ck_assert_int_eq(p, PRES_FILLET_SKINLESS);
}
END_TEST

Suite *
suite_core_cut(void)
{
	Suite *s = suite_create("core_cut");
	TCase *tc = tcase_create("words");

	tcase_add_loop_test(
	    tc, presentation_rows, 0, (int)NELEM(presentations));
	tcase_add_loop_test(tc, cut_rows, 0, (int)NELEM(cuts));
	tcase_add_loop_test(tc, form_rows, 0, (int)NELEM(forms));
	tcase_add_test(tc, every_value_has_a_row);
	tcase_add_test(tc, from_is_handed_back);
	tcase_add_loop_test(tc, unknown_words, 0, (int)NELEM(unknown));
	tcase_add_test(tc, case_does_not_count);
	suite_add_tcase(s, tc);
	return s;
}
