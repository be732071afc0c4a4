/*
 * test_core_gs1_zint.c - the content rules held against libzint, which checks
 * element strings by its own tables: a value is good here exactly when libzint
 * takes it without a warning.
 *
 * Left out: identifiers its version 2.11.1 does not know (03, 4330, 4331,
 * 7011), and countries, of which it holds the list and we do not.  Ours alone
 * is that a harvest may not end before it begins.
 */
#include "unit.h"

#include <stdint.h>
#include <string.h>
#include <zint.h>

#include "base/str.h"
#include "test_core_gs1.h"

static uint64_t seed;

static int
draw(int n)
{
	seed = seed * UINT64_C(6364136223846793005) +
	    UINT64_C(1442695040888963407);
	return (int)((seed >> 33) % (uint64_t)n);
}

/*
 * How to draw a value that is often right: d digit, x character of a text,
 * k check digit of all before it, D a date, T hour and minute, p piece 01 to
 * 03, t total 02 or 03, s hyphen or digit; a capital R stands for 1 to 8
 * digits, a capital X for 1 to 12 characters.
 */
static const struct {
	const char *ai, *form;
} forms[] = {
	{ "00", "dddddddddddddddddk" },
	{ "01", "dddddddddddddk" },
	{ "02", "dddddddddddddk" },
	{ "10", "X" },
	{ "11", "D" },
	{ "12", "D" },
	{ "13", "D" },
	{ "15", "D" },
	{ "16", "D" },
	{ "17", "D" },
	{ "20", "dd" },
	{ "21", "X" },
	{ "22", "X" },
	{ "235", "X" },
	{ "240", "X" },
	{ "241", "X" },
	{ "250", "X" },
	{ "251", "X" },
	{ "254", "X" },
	{ "30", "R" },
	{ "3100", "dddddd" },
	{ "3105", "dddddd" },
	{ "3203", "dddddd" },
	{ "3302", "dddddd" },
	{ "37", "R" },
	{ "3922", "R" },
	{ "400", "X" },
	{ "402", "ddddddddddddddddk" },
	{ "403", "X" },
	{ "410", "ddddddddddddk" },
	{ "414", "ddddddddddddk" },
	{ "417", "ddddddddddddk" },
	{ "420", "X" },
	{ "4326", "D" },
	{ "7001", "ddddddddddddd" },
	{ "7002", "X" },
	{ "7003", "DT" },
	{ "7004", "R" },
	{ "7005", "X" },
	{ "7006", "D" },
	{ "7007", "D" },
	{ "7007", "DD" },
	{ "7008", "xxx" },
	{ "7009", "X" },
	{ "7010", "xx" },
	{ "7040", "dxxx" },
	{ "8005", "dddddd" },
	{ "8006", "dddddddddddddkpt" },
	{ "8008", "Dhh" },
	{ "8008", "DT" },
	{ "8020", "X" },
	{ "90", "X" },
	{ "91", "X" },
	{ "99", "X" },
};

#define SET82                                                                  \
	"!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_"            \
	"abcdefghijklmnopqrstuvwxyz"

static void
put(char *dst, size_t size, const char *text)
{
	size_t n = strlen(dst);

	str_copy(dst + n, size - n, text);
}

/* Every part of a date is wrong now and then, and the day often 00. */
static void
put_date(char *dst, size_t size)
{
	char s[8];

	str_fmt(s, sizeof(s), "%02d%02d%02d", 5 + draw(60), draw(14),
	    draw(4) == 0 ? 0 : draw(33));
	put(dst, size, s);
}

static void
put_part(char *dst, size_t size, char form)
{
	char s[16] = "";
	int i, n;

	if (form == 'D') {
		put_date(dst, size);
		return;
	}
	if (form == 'T')
		str_fmt(s, sizeof(s), "%02d%02d", draw(26), draw(62));
	else if (form == 'h')
		str_fmt(s, sizeof(s), "%d", draw(3));
	else if (form == 'p' || form == 't')
		str_fmt(s, sizeof(s), "%02d", draw(4));
	else if (form == 'd')
		str_fmt(s, sizeof(s), "%d", draw(10));
	else if (form == 'k')
		str_fmt(s, sizeof(s), "%c",
		    draw(5) == 0 ? '0' + draw(10)
				 : gs1_check_digit(dst, strlen(dst)));
	else if (form == 'R')
		for (i = 0, n = 1 + draw(9); i < n; i++)
			s[i] = (char)('0' + draw(10));
	else
		for (i = 0, n = form == 'X' ? 1 + draw(12) : 1; i < n; i++)
			s[i] = SET82[draw((int)sizeof(SET82) - 1)];
	put(dst, size, s);
}

static void
draw_value(char *dst, size_t size, const char *form)
{
	static const char odd[] = "#$@^`{|}~A-0";
	size_t n;

	for (dst[0] = '\0'; *form != '\0'; form++)
		put_part(dst, size, *form);
	n = strlen(dst);
	if (draw(8) == 0)
		dst[draw((int)n)] = odd[draw((int)sizeof(odd) - 1)];
	if (draw(12) == 0)
		dst[n - 1] = '\0';
	else if (draw(12) == 0)
		put(dst, size, "7");
}

static bool
zint_takes(const char *ai, const char *value)
{
	struct zint_symbol *z = ZBarcode_Create();
	char text[160];
	bool good;

	ck_assert_ptr_nonnull(z);
	z->symbology = BARCODE_DATAMATRIX;
	z->input_mode = GS1_MODE;
	str_fmt(text, sizeof(text), "[%s]%s", ai, value);
	good = ZBarcode_Encode(z, (const unsigned char *)text, 0) == 0;
	ZBarcode_Delete(z);
	return good;
}

START_TEST(agrees_with_zint)
{
	const char *ai = forms[_i].ai;
	int round, good = 0, rounds = 400;
	char value[64], text[80];
	struct gs1_scan s;
	bool ours;

	seed = 1000 + (uint64_t)_i;
	for (round = 0; round < rounds; round++) {
		draw_value(value, sizeof(value), forms[_i].form);
		if (value[0] == '\0')
			continue;
		str_fmt(text, sizeof(text), "[%s]%s", ai, value);
		s = gs1_case_read(text, '\0');
		ours = s.count == 1 && s.elements[0].good;
		if (strstr(gs1_case_problems(&s), "before it begins") != NULL)
			continue;
		ck_assert_msg(ours == zint_takes(ai, value), "%s: ours %d: %s",
		    text, ours, gs1_case_problems(&s));
		good += ours;
	}
	/* Both answers were given often enough to mean something. */
	ck_assert_msg(
	    good > 10 && good < rounds - 10, "(%s) %d of %d", ai, good, rounds);
}
END_TEST

Suite *
suite_core_gs1_zint(void)
{
	Suite *s = suite_create("core_gs1_zint");
	TCase *tc = tcase_create("gs1_zint");

	tcase_add_loop_test(tc, agrees_with_zint, 0, (int)NELEM(forms));
	suite_add_tcase(s, tc);
	return s;
}
