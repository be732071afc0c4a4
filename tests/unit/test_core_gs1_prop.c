/*
 * test_core_gs1_prop.c - what must hold for every scan, on many made by a
 * generator with a fixed seed.
 */
#include "unit.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/gs1.h"

#define F12 "\x1b[24~"

static uint64_t seed;

/* 0 to n - 1; the multiplier and increment are Knuth's MMIX. */
static int
draw(int n)
{
	seed = seed * UINT64_C(6364136223846793005) +
	    UINT64_C(1442695040888963407);
	return (int)((seed >> 33) % (uint64_t)n);
}

static struct gs1_reader
reader(void)
{
	struct gs1_reader r = { 0 };

	ck_assert(day_from_civil(&r.today, 2026, 11, 26));
	return r;
}

static void
draw_digits(char *dst, int n)
{
	int i;

	for (i = 0; i < n; i++)
		dst[i] = (char)('0' + draw(10));
	dst[n] = '\0';
}

static void
draw_key(char *dst, int n)
{
	draw_digits(dst, n - 1);
	dst[n - 1] = gs1_check_digit(dst, (size_t)n - 1);
	dst[n] = '\0';
}

static void
draw_text(char *dst, int most)
{
	static const char set[] =
	    "!\"%&'()*+,-./0123456789:;<=>?"
	    "ABCDEFGHIJKLMNOPQRSTUVWXYZ_"
	    "abcdefghijklmnopqrstuvwxyz";
	int i, n = 1 + draw(most);

	for (i = 0; i < n; i++)
		dst[i] = set[draw((int)sizeof(set) - 1)];
	dst[n] = '\0';
}

static void
draw_date(char *dst)
{
	str_fmt(
	    dst, 8, "%02d%02d%02d", 10 + draw(60), 1 + draw(12), 1 + draw(28));
}

/* Form of an identifier's value: d date, k key, t text, n digits. */
static const struct {
	const char *ai;
	char form;
	int n;
} forms[] = {
	{ "00", 'k', 18 },
	{ "02", 'k', 14 },
	{ "10", 't', 20 },
	{ "11", 'd', 6 },
	{ "15", 'd', 6 },
	{ "17", 'd', 6 },
	{ "20", 'n', 2 },
	{ "21", 't', 20 },
	{ "240", 't', 30 },
	{ "3103", 'n', 6 },
	{ "3305", 'n', 6 },
	{ "400", 't', 30 },
	{ "414", 'k', 13 },
	{ "7006", 'd', 6 },
	{ "7007", 'd', 6 },
	{ "7008", 'n', 3 },
	{ "7009", 't', 10 },
	{ "719", 't', 25 },
	{ "90", 't', 30 },
	{ "98", 't', 90 },
};

/* A GTIN and some others in any order, none twice. */
static size_t
draw_elements(struct gs1_element *e)
{
	size_t n = 1 + (size_t)draw(8), i, at;
	bool used[NELEM(forms)] = { false };

	memset(e, 0, n * sizeof(*e));
	str_copy(e[0].ai, sizeof(e[0].ai), "01");
	draw_key(e[0].value, 14);
	for (i = 1; i < n; i++) {
		do
			at = (size_t)draw((int)NELEM(forms));
		while (used[at]);
		used[at] = true;
		str_copy(e[i].ai, sizeof(e[i].ai), forms[at].ai);
		if (forms[at].form == 'd')
			draw_date(e[i].value);
		else if (forms[at].form == 'k')
			draw_key(e[i].value, forms[at].n);
		else if (forms[at].form == 'n')
			draw_digits(e[i].value, forms[at].n);
		else
			draw_text(e[i].value, forms[at].n);
	}
	return n;
}

static void
same_elements(const struct gs1_scan *s, const struct gs1_element *e, size_t n,
    const char *text)
{
	size_t i;

	ck_assert_msg(s->kind == GS1_ELEMENT_STRING && s->count == n,
	    "%s: %zu of %zu: %s", text, s->count, n,
	    s->problem_count > 0 ? s->problems[0].text : "");
	for (i = 0; i < n; i++) {
		ck_assert_msg(str_eq(s->elements[i].ai, e[i].ai), "%s", text);
		ck_assert_msg(
		    str_eq(s->elements[i].value, e[i].value), "%s", text);
	}
}

/* The built string with each GS as `as`, and one too many at the end. */
static void
retype(char *dst, size_t size, const char *built, const char *as, bool more)
{
	size_t n = 0;

	str_fmt(dst, size, "]C1");
	for (n = 3; *built != '\0'; built++) {
		if (*built == GS1_GS)
			str_fmt(dst + n, size - n, "%s", as);
		else
			str_fmt(dst + n, size - n, "%c", *built);
		n += strlen(dst + n);
	}
	str_fmt(dst + n, size - n, "%s\r\n", more ? as : "");
}

START_TEST(round_trip)
{
	static const char *const as[] = { "\x1d", F12, "~", "\x1d\x1d" };
	struct gs1_reader r = reader();
	struct gs1_element e[16];
	struct gs1_scan s;
	struct buf a, b;
	char text[2000];
	size_t n, k;
	int i;

	seed = 20261126 + (uint64_t)_i;
	buf_init(&a, GS1_SCAN_MAX);
	buf_init(&b, GS1_SCAN_MAX);
	for (i = 0; i < 2000; i++) {
		n = draw_elements(e);
		buf_clear(&a);
		ck_assert_int_eq(gs1_build(&a, e, n, NULL), RC_OK);
		for (k = 0; k < NELEM(as); k++) {
			retype(text, sizeof(text), buf_text(&a), as[k],
			    i % 2 == 0);
			r.separator = *as[k] == '~' ? '~' : '\0';
			gs1_read(&s, text, strlen(text), &r);
			same_elements(&s, e, n, text);
			buf_clear(&b);
			ck_assert_int_eq(
			    gs1_build(&b, s.elements, s.count, NULL), RC_OK);
			ck_assert_str_eq(buf_text(&a), buf_text(&b));
		}
	}
	buf_fini(&a);
	buf_fini(&b);
}
END_TEST

/* Brackets say the same as separators do. */
START_TEST(bracket_trip)
{
	struct gs1_reader r = reader();
	struct gs1_element e[16];
	struct gs1_scan s;
	char text[2000];
	size_t n, i, at;
	int round;

	seed = 7;
	for (round = 0; round < 2000; round++) {
		n = draw_elements(e);
		for (i = 0, at = 0; i < n; i++, at += strlen(text + at))
			str_fmt(text + at, sizeof(text) - at, "[%s]%s", e[i].ai,
			    e[i].value);
		gs1_read(&s, text, strlen(text), &r);
		same_elements(&s, e, n, text);
	}
}
END_TEST

/* Whatever bytes come: a result, its texts UTF-8 without control characters,
 * and valid exactly when no problem weighs. */
START_TEST(random_bytes)
{
	static const char *const starts[] = { "", "]C1", "]d2", "(01)",
		"https://a/01/",
		"[)>\x1e"
		"05",
		"01", "]E0", "91" };
	static const char likely[] =
	    "0123456789"
	    "()[]]/?&=%\x1d~.ABC";
	struct gs1_reader r = reader();
	char text[256];
	struct gs1_scan s;
	size_t n, i;
	int round;

	seed = 99;
	for (round = 0; round < 60000; round++) {
		str_copy(text, sizeof(text), starts[draw(NELEM(starts))]);
		for (n = strlen(text); n < 200 && draw(40) > 0; n++)
			text[n] = draw(20) == 0
			    ? (char)draw(256)
			    : likely[draw((int)sizeof(likely) - 1)];
		gs1_read(&s, text, n, &r);
		ck_assert_uint_le(s.count, GS1_ELEMENTS_MAX);
		ck_assert_int_eq(s.valid, gs1_first_problem(&s) == NULL);
		ck_assert(s.valid || s.problem_count > 0);
		ck_assert(!s.valid || s.count > 0);
		for (i = 0; i < s.count; i++) {
			ck_assert_int_eq(text_check("v", s.elements[i].value,
					     GS1_VALUE_MAX, false, NULL),
			    RC_OK);
			ck_assert_int_eq(
			    text_check("m", s.elements[i].meaning,
				sizeof(s.elements[i].meaning), true, NULL),
			    RC_OK);
		}
		for (i = 0; i < s.problem_count; i++)
			ck_assert_int_eq(
			    text_check("p", s.problems[i].text,
				sizeof(s.problems[i].text), false, NULL),
			    RC_OK);
	}
}
END_TEST

/* A lot of digits, alone behind its GTIN, is rarely doubted for what chance
 * makes of it: fewer than 1 in 100. */
START_TEST(few_false_doubts)
{
	struct gs1_reader r = reader();
	int round, doubted = 0, rounds = 20000;
	char lot[24], text[64];
	struct gs1_scan s;

	seed = 2;
	for (round = 0; round < rounds; round++) {
		draw_digits(lot, 4 + draw(13));
		str_fmt(text, sizeof(text),
		    "]C10112345678901231"
		    "10%s",
		    lot);
		gs1_read(&s, text, strlen(text), &r);
		ck_assert_uint_eq(s.count, 2);
		doubted += !s.valid;
	}
	ck_assert_int_gt(doubted, 0);
	ck_assert_msg(doubted * 100 < rounds, "%d of %d", doubted, rounds);
}
END_TEST

/* A mod-10 check digit finds every single wrong digit. */
START_TEST(single_digits)
{
	static const int lengths[] = { 8, 12, 13, 14 };
	struct gs1_reader r = reader();
	int n = lengths[_i], round, at, found = 0;
	char text[32], right, wrong;
	struct gs1_scan s;

	seed = 14;
	for (round = 0; round < 100; round++) {
		draw_key(text, n);
		gs1_read(&s, text, strlen(text), &r);
		ck_assert_msg(s.valid, "%s", text);
		for (at = 0; at < n; at++) {
			right = text[at];
			for (wrong = '0'; wrong <= '9'; wrong++) {
				if (wrong == right)
					continue;
				text[at] = wrong;
				gs1_read(&s, text, strlen(text), &r);
				/* Eight digits may be a batch by chance. */
				ck_assert_msg(!s.valid ||
					(n == 8 && s.kind == GS1_OWN_BATCH),
				    "%s", text);
				found += !s.valid;
			}
			text[at] = right;
		}
	}
	ck_assert_msg(found >= 100 * n * 9 * 95 / 100, "%d", found);
}
END_TEST

START_TEST(build_refuses)
{
	static const struct {
		const char *ai, *value, *says;
	} bad[] = {
		{ "", "1", "no application identifier" },
		{ "1", "1", "no application identifier" },
		{ "1A", "1", "no application identifier" },
		{ "100", "1", "no application identifier" },
		{ "10", "", "0 characters" },
		{ "01", "123", "3 characters" },
		{ "14", "12345", "5 characters" },
		{ "10", "A B", "cannot hold" },
		{ "10", "\x1d", "cannot hold" },
		{ "719", "\x1d", "cannot be printed" },
	};
	struct gs1_element e = { .title = "" };
	struct err err = { 0 };
	struct buf out;

	buf_init(&out, 100);
	str_copy(e.ai, sizeof(e.ai), bad[_i].ai);
	str_copy(e.value, sizeof(e.value), bad[_i].value);
	ck_assert_int_eq(gs1_build(&out, &e, 1, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, bad[_i].says) != NULL, "%s", err.text);
	ck_assert_uint_eq(out.len, 0);
	buf_fini(&out);
}
END_TEST

/* Separators stand only where one is needed. */
START_TEST(build_separators)
{
	struct gs1_element e[] = {
		{ .ai = "01", .value = "12345678901231" },
		{ .ai = "3103", .value = "000400" },
		{ .ai = "422", .value = "372" },
		{ .ai = "17", .value = "261130" },
		{ .ai = "10", .value = "L1" },
	};
	struct buf out;

	buf_init(&out, 100);
	ck_assert_int_eq(gs1_build(&out, e, NELEM(e), NULL), RC_OK);
	ck_assert_str_eq(buf_text(&out),
	    "01123456789012313103000400422372\x1d"
	    "1726113010L1");
	buf_fini(&out);
}
END_TEST

Suite *
suite_core_gs1_prop(void)
{
	Suite *s = suite_create("core_gs1_prop");
	TCase *tc = tcase_create("gs1_prop");

	tcase_add_loop_test(tc, round_trip, 0, 4);
	tcase_add_test(tc, bracket_trip);
	tcase_add_test(tc, random_bytes);
	tcase_add_test(tc, few_false_doubts);
	tcase_add_loop_test(tc, single_digits, 0, 4);
	tcase_add_loop_test(tc, build_refuses, 0, 10);
	tcase_add_test(tc, build_separators);
	suite_add_tcase(s, tc);
	return s;
}
