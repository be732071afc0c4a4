/*
 * test_core_code.c - batch and portion codes: the check character against
 * published examples, the slips it must find, and what people may key.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/code.h"
#include "core/label_code.h"

#define SET36 "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

/* Letters a hand or an eye mistakes for a digit or for each other. */
#define CONFUSED "BGILOQSZ"

/* GS1 character set 82; source: GS1 Barcode Syntax Dictionary, cset 82. */
#define CSET82                                                                 \
	"!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_"            \
	"abcdefghijklmnopqrstuvwxyz"

static day_no
day(int y, int m, int d)
{
	day_no out;

	ck_assert(day_from_civil(&out, y, m, d));
	return out;
}

/* clang-format off */
static const struct {
	const char *why;
	const char *body;
	char check;
	const char *source;
} published[] = {
	{ "letters and digits", "A12425GABC1234002", 'M',
	    "GRid standard 2.1, its example A1-2425G-ABC1234002-M, as quoted "
	    "in the documentation of ISO 7064 libraries" },
	{ "mostly zeros", "00000000D07A0090", 'Q',
	    "ISAN (ISO 15706), 0000-0000-D07A-0090-Q, from memory" },
	{ "hexadecimal, root and episode", "0000000189470000", '8',
	    "ISAN 0000-0001-8947-0000-8-0000-0000-D, from memory" },
	{ "the same with its version", "000000018947000000000000", 'D',
	    "ISAN 0000-0001-8947-0000-8-0000-0000-D, from memory" },
};
/* clang-format on */

START_TEST(published_rows)
{
	const char *body = published[_i].body;

	ck_assert_msg(mod37_36(body, strlen(body)) == published[_i].check,
	    "%s: %c (%s)", published[_i].why, mod37_36(body, strlen(body)),
	    published[_i].source);
}
END_TEST

/* The standard's way to verify: run over the string with its check character,
 * the hybrid sum must end on 1. */
static bool
congruent(const char *s)
{
	int p = 36, sum = 0;

	for (; *s != '\0'; s++) {
		sum = (p + (int)(strchr(SET36, *s) - SET36)) % 36;
		p = (sum == 0 ? 36 : sum) * 2 % 37;
	}
	return sum == 1;
}

START_TEST(not_in_the_set)
{
	static const char *const bad[] = { "abc", "1-2", "A B", "\xc3\xa9" };

	ck_assert_int_eq(mod37_36(bad[_i], strlen(bad[_i])), '\0');
}
END_TEST

/* A spread of codes of both kinds; false behind the last. */
static bool
sample(char code[CODE_SIZE], int i)
{
	if (i < 400)
		return batch_code_make(
			   code, day(2026, 1, 1) + i * 37, 1 + i % 80) > 0;
	return i < 2400 &&
	    portion_code_make(code, 1 + (int64_t)(i - 400) * 8605) > 0;
}

START_TEST(every_single_error)
{
	char code[CODE_SIZE], got[CODE_SIZE], wrong[CODE_SIZE];
	enum code_kind kind;
	size_t n, at, k;
	int i, tried = 0;

	for (i = 0; sample(code, i); i++) {
		ck_assert_msg(congruent(code), "%s", code);
		n = strlen(code);
		for (at = 0; at < n; at++)
			for (k = 0; k < 36; k++) {
				str_copy(wrong, sizeof(wrong), code);
				wrong[at] = SET36[k];
				if (wrong[at] == code[at])
					continue;
				tried++;
				ck_assert_msg(
				    mod37_36(wrong, n - 1) != wrong[n - 1],
				    "%s for %s", wrong, code);
				/* O, I and L are read as digits: the same
				 * code then, never another. */
				if (code_parse(&kind, got, wrong, NULL) ==
				    RC_OK)
					ck_assert_str_eq(got, code);
			}
	}
	ck_assert_int_eq(i, 2400);
	ck_assert_int_gt(tried, 500000);
}
END_TEST

/* Two neighbours swapped: a hybrid system misses a few.  Out of all pairs of
 * unequal characters fewer than 1 in 400 may pass unseen. */
START_TEST(most_transpositions)
{
	char code[CODE_SIZE], wrong[CODE_SIZE];
	size_t n, at;
	int i, tried = 0, missed = 0;

	for (i = 0; sample(code, i); i++) {
		n = strlen(code);
		for (at = 0; at + 1 < n; at++) {
			if (code[at] == code[at + 1])
				continue;
			str_copy(wrong, sizeof(wrong), code);
			wrong[at] = code[at + 1];
			wrong[at + 1] = code[at];
			tried++;
			missed += mod37_36(wrong, n - 1) == wrong[n - 1];
		}
	}
	ck_assert_int_gt(tried, 10000);
	ck_assert_msg(missed * 400 < tried, "%d of %d missed", missed, tried);
}
END_TEST

/* Only characters that are read right and that every GS1 symbol holds. */
static void
check_characters(const char *code)
{
	const char *p;

	for (p = code; *p != '\0'; p++) {
		ck_assert_msg(strchr(CONFUSED, *p) == NULL, "%s", code);
		ck_assert_msg(strchr(CSET82, *p) != NULL, "%s", code);
		ck_assert_msg(strchr(CODE_ALPHABET, *p) != NULL, "%s", code);
	}
}

START_TEST(alphabet)
{
	const char *p;

	ck_assert_uint_eq(strlen(CODE_ALPHABET), 28);
	ck_assert_uint_eq(strlen(CSET82), 82);
	check_characters(CODE_ALPHABET);
	for (p = SET36; *p != '\0'; p++)
		ck_assert_int_eq(strchr(CODE_ALPHABET, *p) == NULL,
		    strchr(CONFUSED, *p) != NULL);
}
END_TEST

/* Every number of every day of a leap year and of the year behind it. */
START_TEST(whole_days)
{
	char code[CODE_SIZE], before[CODE_SIZE], body[CODE_SIZE];
	day_no d, first = day(2028, 1, 1), last = day(2029, 12, 31);
	int n, next, made, total = 0;

	before[0] = '\0';
	for (d = first; d <= last; d++) {
		made = 0;
		for (next = 1; next <= BATCH_NUMBER_MAX &&
		     (n = batch_code_make(code, d, next)) != 0;
		     next = n + 1) {
			made++;
			ck_assert_int_ge(n, next);
			ck_assert_int_le(n, BATCH_NUMBER_MAX);
			check_characters(code);
			ck_assert_uint_eq(strlen(code), BATCH_CODE_LEN);
			str_fmt(body, sizeof(body), "%02d%03d%02d",
			    day_civil(d).year % 100, day_of_year(d), n);
			ck_assert_int_eq(strncmp(code, body, 7), 0);
			/* In order of day and number, so never one twice. */
			ck_assert_int_gt(strcmp(code, before), 0);
			str_copy(before, sizeof(before), code);
		}
		/* 28 of 36 check characters are usable: 77 of 99 a
		 * day in the long run. */
		total += made;
		ck_assert_msg(made >= 71 && made <= 85, "%d", made);
	}
	ck_assert_int_eq(total / (last - first + 1), 99 * 28 / 36);
}
END_TEST

START_TEST(no_number_left)
{
	char code[CODE_SIZE];
	int n, last = 0;

	for (n = 1; n <= BATCH_NUMBER_MAX; n++)
		if (batch_code_make(code, day(2026, 11, 26), n) == n)
			last = n;
	for (n = last + 1; n <= BATCH_NUMBER_MAX + 1; n++) {
		ck_assert_int_eq(
		    batch_code_make(code, day(2026, 11, 26), n), 0);
		ck_assert_str_eq(code, "");
	}
	ck_assert_int_eq(portion_code_make(code, PORTION_SERIAL_MAX + 1), 0);
	ck_assert_str_eq(code, "");
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	int y, m, d, number;
	const char *body;
} days[] = {
	{ "1 January is day 001", 2026, 1, 1, 1, "26001" },
	{ "29 February is day 060", 2028, 2, 29, 5, "28060" },
	{ "1 March behind a leap day", 2028, 3, 1, 5, "28061" },
	{ "1 March in a common year", 2027, 3, 1, 5, "27060" },
	{ "31 December of a common year", 2026, 12, 31, 9, "26365" },
	{ "31 December of a leap year", 2028, 12, 31, 90, "28366" },
	{ "26 November 2026", 2026, 11, 26, 7, "26330" },
	{ "two digits of the year", 2100, 1, 1, 1, "00001" },
};
/* clang-format on */

START_TEST(day_rows)
{
	char code[CODE_SIZE];
	int n = batch_code_make(
	    code, day(days[_i].y, days[_i].m, days[_i].d), days[_i].number);

	ck_assert_int_gt(n, 0);
	ck_assert_msg(
	    strncmp(code, days[_i].body, 5) == 0, "%s: %s", days[_i].why, code);
	ck_assert_int_eq((code[5] - '0') * 10 + code[6] - '0', n);
}
END_TEST

/* A run of serial numbers, and the last ones: each code once, in order. */
START_TEST(portions_differ)
{
	static const int64_t starts[] = { 1, 21950, 17200000 };
	char code[CODE_SIZE], shown[CODE_SIZE], before[CODE_SIZE] = "";
	char got[CODE_SIZE];
	enum code_kind kind;
	int64_t serial = starts[_i], n;
	int made = 0;

	while (serial <= PORTION_SERIAL_MAX && made < 20000 &&
	    (n = portion_code_make(code, serial)) != 0) {
		made++;
		ck_assert(n >= serial && n < serial + 36);
		ck_assert_uint_eq(strlen(code), PORTION_CODE_LEN);
		check_characters(code);
		/* The alphabet is in ASCII order, so later is greater. */
		ck_assert_int_gt(strcmp(code, before), 0);
		str_copy(before, sizeof(before), code);
		ck_assert_int_eq(
		    code_parse(&kind, got, code_show(shown, code), NULL),
		    RC_OK);
		ck_assert_int_eq(kind, CODE_PORTION);
		ck_assert_str_eq(got, code);
		serial = n + 1;
	}
	ck_assert_int_gt(made, 5000);
}
END_TEST

/* --- what people key -------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	enum code_kind kind;
	const char *code;
} keyed[] = {
	{ "as shown", "26330-09C", CODE_BATCH, "2633009C" },
	{ "without hyphen", "2633009C", CODE_BATCH, "2633009C" },
	{ "lower case", "26330-09c", CODE_BATCH, "2633009C" },
	{ "hyphens anywhere", "26-330-09-C", CODE_BATCH, "2633009C" },
	{ "blanks around and inside", " 26330 09 C ", CODE_BATCH, "2633009C" },
	{ "O for 0", "2633OO9C", CODE_BATCH, "2633009C" },
	{ "small o for 0", "26330-o9C", CODE_BATCH, "2633009C" },
	{ "portion as shown", "001-H7C", CODE_PORTION, "001H7C" },
	{ "portion in lower case", "001h7c", CODE_PORTION, "001H7C" },
	{ "I for 1", "00I-H7C", CODE_PORTION, "001H7C" },
	{ "L for 1, small", "ool-h7c", CODE_PORTION, "001H7C" },
};

static const struct {
	const char *why;
	const char *text;
	const char *says;
} refused[] = {
	{ "nothing", "", "is not a code" },
	{ "hyphens only", "---", "is not a code" },
	{ "one short of a batch", "26330-09", "is not a code" },
	{ "one short of a portion", "001-H7", "is not a code" },
	{ "too long", "26330-09C7", "is not a code" },
	{ "far too long", "26330-09C-26330-09C-26330-09C", "is not a code" },
	{ "wrong check of a batch", "26330-09D", "check character is wrong" },
	{ "wrong check of a portion", "001-H7D", "check character is wrong" },
	{ "wrong digit", "26331-09C", "check character is wrong" },
	{ "digits swapped", "26303-09C", "check character is wrong" },
	{ "a letter we never use", "001-B7C", "'B' cannot stand at place 4" },
	{ "S for 5 is not forgiven", "00S-H7C", "'S' cannot stand at place 3" },
	{ "a letter in a batch's day", "2633A-09C",
	    "'A' cannot stand at place 5" },
	{ "a dot", "26330.09C", "is not a code" },
	{ "a dot of the right length", "2633.09C",
	    "'.' cannot stand at place 5" },
	{ "an accent", "001\xc3\xa9" "C", "cannot stand" },
};
/* clang-format on */

START_TEST(keyed_rows)
{
	enum code_kind kind = CODE_BATCH;
	char code[CODE_SIZE] = "";
	struct err err = { 0 };

	ck_assert_msg(code_parse(&kind, code, keyed[_i].text, &err) == RC_OK,
	    "%s: %s", keyed[_i].why, err.text);
	ck_assert_int_eq(kind, keyed[_i].kind);
	ck_assert_str_eq(code, keyed[_i].code);
}
END_TEST

START_TEST(refused_rows)
{
	enum code_kind kind;
	char code[CODE_SIZE];
	struct err err = { 0 };

	ck_assert_int_eq(
	    code_parse(&kind, code, refused[_i].text, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, refused[_i].says) != NULL, "%s: %s",
	    refused[_i].why, err.text);
}
END_TEST

/* A scan of a whole label gives the unit, or the batch on a batch label. */
START_TEST(scanned_label)
{
	struct label_code c = { .batch = "2633009C",
		.use_by = {
		    .day = day(2026, 11, 27), .hour = 23, .minute = 59 } };
	char symbol[LABEL_SYMBOL_SIZE], code[CODE_SIZE];
	enum code_kind kind;

	label_code_make(symbol, &c);
	ck_assert_int_eq(code_parse(&kind, code, symbol, NULL), RC_OK);
	ck_assert_int_eq(kind, CODE_BATCH);
	ck_assert_str_eq(code, "2633009C");
	str_copy(c.portion, sizeof(c.portion), "001H7C");
	label_code_make(symbol, &c);
	ck_assert_int_eq(code_parse(&kind, code, symbol, NULL), RC_OK);
	ck_assert_int_eq(kind, CODE_PORTION);
	ck_assert_str_eq(code, "001H7C");
	symbol[10] = symbol[10] == '7' ? '8' : '7';
	ck_assert_int_eq(code_parse(&kind, code, symbol, NULL), RC_INVALID);
}
END_TEST

START_TEST(shown)
{
	char s[CODE_SIZE];

	ck_assert_str_eq(code_show(s, "2633009C"), "26330-09C");
	ck_assert_str_eq(code_show(s, "001H7C"), "001-H7C");
	ck_assert_str_eq(code_show(s, "?"), "?");
}
END_TEST

Suite *
suite_core_code(void)
{
	Suite *s = suite_create("core_code");
	TCase *tc = tcase_create("code");

	tcase_add_loop_test(tc, published_rows, 0, (int)NELEM(published));
	tcase_add_loop_test(tc, not_in_the_set, 0, 4);
	tcase_add_test(tc, every_single_error);
	tcase_add_test(tc, most_transpositions);
	tcase_add_test(tc, alphabet);
	tcase_add_test(tc, whole_days);
	tcase_add_test(tc, no_number_left);
	tcase_add_loop_test(tc, day_rows, 0, (int)NELEM(days));
	tcase_add_loop_test(tc, portions_differ, 0, 3);
	tcase_add_loop_test(tc, keyed_rows, 0, (int)NELEM(keyed));
	tcase_add_loop_test(tc, refused_rows, 0, (int)NELEM(refused));
	tcase_add_test(tc, scanned_label);
	tcase_add_test(tc, shown);
	suite_add_tcase(s, tc);
	return s;
}
