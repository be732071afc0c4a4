/*
 * test_core_label_code.c - the string in our own labels: there and back, every
 * form a scanner may type it in, and no damage that passes.
 *
 * Source of the limits: GS1 Barcode Syntax Dictionary: AI 91 holds 1 to 90
 * characters of set 82 and needs no other element beside it.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/label_code.h"

#define CSET82                                                                 \
	"!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_"            \
	"abcdefghijklmnopqrstuvwxyz"

static uint64_t seed;

/* The same numbers in every run. */
static int
any(int below)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (int)((seed >> 33) % (uint64_t)below);
}

static day_no
day(int y, int m, int d)
{
	day_no out;

	ck_assert(day_from_civil(&out, y, m, d));
	return out;
}

static struct label_code
any_code(void)
{
	struct label_code c;
	int64_t serial;

	memset(&c, 0, sizeof(c));
	c.use_by.day = day(2000, 1, 1) + any(36525);
	c.use_by.hour = any(24);
	c.use_by.minute = any(60);
	while (batch_code_make(
		   c.batch, day(2000, 1, 1) + any(36525), 1 + any(90)) == 0)
		;
	serial = 1 + (int64_t)any(17210000);
	if (any(4) > 0)
		ck_assert(portion_code_make(c.portion, serial) > 0);
	return c;
}

static void
same(const struct label_code *got, const struct label_code *want)
{
	ck_assert_str_eq(got->portion, want->portion);
	ck_assert_str_eq(got->batch, want->batch);
	ck_assert_int_eq(got->use_by.day, want->use_by.day);
	ck_assert_int_eq(got->use_by.hour, want->use_by.hour);
	ck_assert_int_eq(got->use_by.minute, want->use_by.minute);
}

static void
there_and_back(const struct label_code *c)
{
	char symbol[LABEL_SYMBOL_SIZE];
	struct label_code got;
	struct err err = { 0 };
	const char *p;

	label_code_make(symbol, c);
	ck_assert(strncmp(symbol, "[91]", 4) == 0);
	ck_assert_uint_eq(strlen(symbol + 4), LABEL_CODE_LEN);
	ck_assert_uint_le(strlen(symbol + 4), 90);
	for (p = symbol + 4; *p != '\0'; p++)
		ck_assert_msg(
		    strchr(CSET82, *p) != NULL && strchr("[]()", *p) == NULL,
		    "%s", symbol);
	ck_assert_int_eq(symbol[4 + LABEL_CODE_LEN - 1],
	    mod37_36(symbol + 4, LABEL_CODE_LEN - 1));
	ck_assert_msg(label_code_parse(&got, symbol, &err) == RC_OK, "%s: %s",
	    symbol, err.text);
	same(&got, c);
}

START_TEST(any_value)
{
	struct label_code c;
	int i;

	seed = 26;
	for (i = 0; i < 20000; i++) {
		c = any_code();
		there_and_back(&c);
	}
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	int y, m, d, hour, minute;
} moments[] = {
	{ "last minute of a year", 2026, 12, 31, 23, 59 },
	{ "first minute of a year", 2027, 1, 1, 0, 0 },
	{ "leap day", 2028, 2, 29, 23, 59 },
	{ "first year there is", 2000, 1, 1, 0, 0 },
	{ "last year there is", 2099, 12, 31, 23, 59 },
	{ "the night clocks go back", 2026, 10, 25, 1, 30 },
};
/* clang-format on */

static struct label_code
plain(bool portion)
{
	struct label_code c = { .batch = "2633009C",
		.use_by = {
		    .day = day(2026, 11, 27), .hour = 23, .minute = 59 } };

	if (portion)
		str_copy(c.portion, sizeof(c.portion), "001H7C");
	return c;
}

START_TEST(moment_rows)
{
	struct label_code c = plain(_i % 2 == 0);

	c.use_by.day = day(moments[_i].y, moments[_i].m, moments[_i].d);
	c.use_by.hour = moments[_i].hour;
	c.use_by.minute = moments[_i].minute;
	there_and_back(&c);
}
END_TEST

/* The layout itself, so that an old label can always be read. */
START_TEST(layout)
{
	struct label_code c = plain(true);
	char symbol[LABEL_SYMBOL_SIZE];

	label_code_make(symbol, &c);
	symbol[4 + LABEL_CODE_LEN - 1] = '\0';
	ck_assert_str_eq(symbol, "[91]1001H7C2633009C2611272359");
	c.portion[0] = '\0';
	label_code_make(symbol, &c);
	symbol[4 + LABEL_CODE_LEN - 1] = '\0';
	ck_assert_str_eq(symbol, "[91]10000002633009C2611272359");
}
END_TEST

/* Around the 26 characters; symbology identifiers: GS1 General
 * Specifications, ]d2 GS1 DataMatrix, ]C1 GS1-128. */
/* clang-format off */
static const struct {
	const char *why;
	const char *before, *behind;
} forms[] = {
	{ "bare", "91", "" },
	{ "as we write it", "[91]", "" },
	{ "as people write it", "(91)", "" },
	{ "DataMatrix identifier", "]d2" "91", "" },
	{ "GS1-128 identifier", "]C1" "91", "" },
	{ "leading FNC1 typed as GS", "\x1d" "91", "" },
	{ "two of them", "\x1d\x1d" "91", "" },
	{ "identifier and GS", "]d2\x1d" "91", "" },
	{ "identifier, GS and brackets", "]C1\x1d" "[91]", "" },
	{ "trailing GS", "91", "\x1d" },
	{ "trailing GS twice", "91", "\x1d\x1d" },
	{ "everything", "]d2\x1d" "91", "\x1d" },
	{ "identifier and brackets", "]d2" "(91)", "" },
};
/* clang-format on */

START_TEST(form_rows)
{
	struct label_code c = plain(_i % 3 != 0), got;
	char symbol[LABEL_SYMBOL_SIZE], text[80];
	struct err err = { 0 };

	label_code_make(symbol, &c);
	str_fmt(text, sizeof(text), "%s%s%s", forms[_i].before, symbol + 4,
	    forms[_i].behind);
	ck_assert_msg(label_code_looks_like(text), "%s", forms[_i].why);
	ck_assert_msg(label_code_parse(&got, text, &err) == RC_OK, "%s: %s",
	    forms[_i].why, err.text);
	same(&got, &c);
}
END_TEST

/* Each character replaced by every other printable one. */
START_TEST(damaged)
{
	struct label_code c, got;
	char symbol[LABEL_SYMBOL_SIZE], was;
	int n, i, ch, tried = 0;

	seed = 91;
	for (n = 0; n < 40; n++) {
		c = n == 0 ? plain(true) : n == 1 ? plain(false) : any_code();
		label_code_make(symbol, &c);
		for (i = 4; i < 4 + LABEL_CODE_LEN; i++) {
			was = symbol[i];
			for (ch = '!'; ch <= '~'; ch++) {
				if (ch == was)
					continue;
				symbol[i] = (char)ch;
				tried++;
				ck_assert_msg(label_code_parse(&got, symbol,
						  NULL) == RC_INVALID,
				    "%s", symbol);
			}
			symbol[i] = was;
		}
	}
	ck_assert_int_eq(tried, 40 * LABEL_CODE_LEN * 93);
}
END_TEST

/* A string whose check character is right, whatever it says. */
static void
checked(char text[80], const char *body)
{
	size_t n = strlen(body);

	str_fmt(text, 80, "91%s%c", body, mod37_36(body, n));
}

/* clang-format off */
static const struct {
	const char *why;
	const char *body; /* without its check character */
	const char *says;
} wrong[] = {
	{ "one short", "1001H7C2633009C261127235", "holds 25 characters" },
	{ "one too many", "1001H7C2633009C26112723590",
	    "holds 27 characters" },
	{ "nothing in it", "", "holds" },
	{ "version 2", "2001H7C2633009C2611272359", "version '2'" },
	{ "the portion's own check", "1001H7D2633009C2611272359",
	    "check character" },
	{ "the batch's own check", "1001H7C2633009D2611272359",
	    "check character" },
	{ "no portion, the batch's check", "10000002633009D2611272359",
	    "check character" },
	{ "month 13", "1001H7C2633009C2613272359", "not a date" },
	{ "month 0", "1001H7C2633009C2600272359", "not a date" },
	{ "day 0", "1001H7C2633009C2611002359", "not a date" },
	{ "31 November", "1001H7C2633009C2611312359", "not a date" },
	{ "29 February of a common year", "1001H7C2633009C2702292359",
	    "not a date" },
	{ "hour 24", "1001H7C2633009C2611272400", "not a date" },
	{ "minute 60", "1001H7C2633009C2611272360", "not a date" },
	{ "a letter in the year", "1001H7C2633009CA611272359", "not a date" },
	{ "a letter in the minute", "1001H7C2633009C26112723A9",
	    "not a date" },
};
/* clang-format on */

START_TEST(wrong_rows)
{
	struct label_code got;
	char text[80];
	struct err err = { 0 };

	checked(text, wrong[_i].body);
	ck_assert_int_eq(label_code_parse(&got, text, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, wrong[_i].says) != NULL, "%s: %s",
	    wrong[_i].why, err.text);
}
END_TEST

/* What a person keys, or another label says, is no scan of ours. */
START_TEST(not_ours)
{
	static const char *const texts[] = {
		"", "91", "26330-09C", "001-H7C",
		"91001-1", /* a batch of 2091 would begin like this */
		"]d2", "]", "\x1d",
		"01095011015300031727112710AB12", /* a supplier's */
	};
	struct label_code got;

	ck_assert(!label_code_looks_like(texts[_i]));
	ck_assert_int_eq(label_code_parse(&got, texts[_i], NULL), RC_INVALID);
}
END_TEST

/* --- the short key ---------------------------------------------------------*/

/* ISO/IEC 7064 MOD 97-10 by its definition, digit by digit: the number taken
 * as a whole leaves 1. */
static int
mod97(const char *digits)
{
	int r = 0;

	for (; *digits != '\0'; digits++)
		r = (r * 10 + *digits - '0') % 97;
	return r;
}

/* The same rule on a number whose check is published everywhere: the example
 * IBAN GB82 WEST 1234 5698 7654 32 of ISO 13616, letters as 10 to 35 and the
 * first four characters last. */
START_TEST(mod97_itself)
{
	ck_assert_int_eq(mod97("3214282912345698765432161182"), 1);
	ck_assert_int_ne(mod97("3214282912345698765432161183"), 1);
}
END_TEST

static void
key_there_and_back(const char *code, bool portion)
{
	char key[LABEL_SYMBOL_SIZE], got[CODE_SIZE];
	struct label_code c;
	enum code_kind kind;

	label_code_key(key, code);
	ck_assert_uint_eq(strlen(key), 4 + LABEL_KEY_LEN);
	ck_assert(strncmp(key, "[92]1", 5) == 0);
	ck_assert_int_eq(mod97(key + 4), 1);
	ck_assert_int_eq(label_code_parse(&c, key, NULL), RC_OK);
	ck_assert_str_eq(portion ? c.portion : c.batch, code);
	ck_assert_str_eq(portion ? c.batch : c.portion, "");
	ck_assert_int_eq(c.use_by.day, DAY_NONE);
	ck_assert_int_eq(code_parse(&kind, got, key, NULL), RC_OK);
	ck_assert_int_eq(kind, portion ? CODE_PORTION : CODE_BATCH);
	ck_assert_str_eq(got, code);
}

START_TEST(any_key)
{
	struct label_code c;
	int i;

	seed = 92;
	for (i = 0; i < 20000; i++) {
		c = any_code();
		key_there_and_back(c.batch, false);
		if (c.portion[0] != '\0')
			key_there_and_back(c.portion, true);
	}
	key_there_and_back("001H7C", true);
	ck_assert_int_eq(PORTION_SERIAL_MAX, 17210367);
}
END_TEST

/* The layout itself, so that an old label can always be read: the two check
 * digits by trying all. */
START_TEST(key_layout)
{
	char code[CODE_SIZE], key[LABEL_SYMBOL_SIZE], want[20];
	int check = 0;

	ck_assert_int_eq(portion_code_make(code, 801), 801);
	label_code_key(key, code);
	do
		str_fmt(want, sizeof(want), "1100000801%02d", ++check);
	while (mod97(want) != 1);
	ck_assert_str_eq(key + 4, want);
	label_code_key(key, "2633009C");
	ck_assert(strncmp(key, "[92]1202633009", 14) == 0);
}
END_TEST

/* Nothing of ours: no key, rather than a wrong one. */
START_TEST(no_key)
{
	static const char *const codes[] = { "", "001H7D", "2633009D", "001H7",
		"001-H7C", "00000X", "B01H7C", "26330091C" };
	char key[LABEL_SYMBOL_SIZE];

	label_code_key(key, codes[_i]);
	ck_assert_str_eq(key, "");
}
END_TEST

/* Each digit replaced by every other, and each two neighbours swapped. */
START_TEST(key_damaged)
{
	char key[LABEL_SYMBOL_SIZE], was;
	struct label_code got;
	struct label_code c;
	int n, i, d;

	seed = 97;
	for (n = 0; n < 300; n++) {
		c = any_code();
		label_code_key(key, c.portion[0] != '\0' ? c.portion : c.batch);
		for (i = 4; i < 4 + LABEL_KEY_LEN; i++) {
			was = key[i];
			for (d = '0'; d <= '9'; d++) {
				key[i] = (char)d;
				ck_assert_int_eq(
				    label_code_parse(&got, key, NULL) == RC_OK,
				    d == was);
			}
			key[i] = was;
			if (i == 4 || key[i - 1] == was)
				continue;
			key[i] = key[i - 1];
			key[i - 1] = was;
			ck_assert_int_eq(
			    label_code_parse(&got, key, NULL), RC_INVALID);
			key[i - 1] = key[i];
			key[i] = was;
		}
	}
}
END_TEST

/* clang-format off */
static const struct {
	const char *text; /* a '#' stands for the right check digits */
	const char *says; /* NULL: good */
	const char *why;
} keys[] = {
	{ "921100000801#", NULL, "bare" },
	{ "]C1921100000801#", NULL, "identifier" },
	{ "]C1\x1d" "921100000801#\x1d", NULL, "separators" },
	{ "(92)1100000801#", NULL, "brackets" },
	{ "[92)1100000801#", "holds", "brackets that do not match" },
	{ "922100000801#", "not known here", "version 2" },
	{ "921300000801#", "not known here", "kind 3" },
	{ "921100000000#", "no code of ours", "serial 0" },
	{ "921100000800#", "no code of ours",
	    "a serial that was left out for its check character" },
	{ "921117210368#", "no code of ours", "serial beyond the last" },
	{ "921299999999#", "no code of ours", "eight digits of a batch" },
	{ "92110000080A#", "check digits", "a letter" },
	{ "931100000801#", "holds", "another identifier" },
	{ "921100000801#1", "holds", "more behind it" },
};
/* clang-format on */

START_TEST(key_rows)
{
	char text[48], body[24] = "";
	const char *hash = strchr(keys[_i].text, '#'), *p;
	struct label_code got;
	struct err err = { 0 };
	int check = 0;

	/* The ten characters before the '#'. */
	p = hash - 10;
	do
		str_fmt(body, sizeof(body), "%.10s%02d", p, ++check);
	while (mod97(body) != 1 && check < 98);
	str_fmt(text, sizeof(text), "%.*s%02d%s", (int)(hash - keys[_i].text),
	    keys[_i].text, check, hash + 1);
	if (keys[_i].says == NULL) {
		ck_assert_msg(label_code_looks_like(text) &&
			label_code_parse(&got, text, &err) == RC_OK,
		    "%s: %s", keys[_i].why, err.text);
		ck_assert_str_ne(got.portion, "");
	} else {
		ck_assert_int_eq(
		    label_code_parse(&got, text, &err), RC_INVALID);
		ck_assert_msg(strstr(err.text, keys[_i].says) != NULL, "%s: %s",
		    keys[_i].why, err.text);
	}
}
END_TEST

Suite *
suite_core_label_code(void)
{
	Suite *s = suite_create("core_label_code");
	TCase *tc = tcase_create("label_code");

	tcase_add_test(tc, any_value);
	tcase_add_loop_test(tc, moment_rows, 0, (int)NELEM(moments));
	tcase_add_test(tc, layout);
	tcase_add_loop_test(tc, form_rows, 0, (int)NELEM(forms));
	tcase_add_test(tc, damaged);
	tcase_add_loop_test(tc, wrong_rows, 0, (int)NELEM(wrong));
	tcase_add_loop_test(tc, not_ours, 0, 9);
	tcase_add_test(tc, mod97_itself);
	tcase_add_test(tc, any_key);
	tcase_add_test(tc, key_layout);
	tcase_add_loop_test(tc, no_key, 0, 8);
	tcase_add_test(tc, key_damaged);
	tcase_add_loop_test(tc, key_rows, 0, (int)NELEM(keys));
	suite_add_tcase(s, tc);
	return s;
}
