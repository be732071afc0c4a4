/* units.c - grams, counts, temperatures and shares as exact integers. */
#include "base/units.h"

#include <assert.h>
#include <inttypes.h>
#include <stdbool.h>
#include <string.h>

#include "base/str.h"

#define MAGNITUDE_MAX INT64_C(1000000000000000)

/*
 * Read sign, digits, point or comma, digits from *s and leave *s behind them.
 * False when there is no digit, too many, or a place beyond `scale` that is
 * not zero.  At scale 0 no point is taken: "1,000" must never become 1.
 */
static bool
scan_decimal(int64_t *out, const char **s, int scale)
{
	const char *p = *s;
	bool negative = false;
	bool any = false;
	int places = 0;
	bool point = false;
	int64_t v = 0;

	if (*p == '-' || *p == '+')
		negative = *p++ == '-';
	for (;; p++) {
		if ((*p == '.' || *p == ',') && scale > 0 && !point && any) {
			point = true;
			continue;
		}
		if (*p < '0' || *p > '9')
			break;
		any = true;
		if (point && places == scale) {
			if (*p != '0')
				return false;
			continue;
		}
		v = v * 10 + (*p - '0');
		if (v >= MAGNITUDE_MAX)
			return false;
		if (point)
			places++;
	}
	if (!any)
		return false;
	if (point && (p[-1] == '.' || p[-1] == ','))
		return false;
	for (; places < scale; places++) {
		v *= 10;
		if (v >= MAGNITUDE_MAX)
			return false;
	}
	*out = negative ? -v : v;
	*s = p;
	return true;
}

static const char *
skip_blanks(const char *s)
{
	while (*s == ' ')
		s++;
	return s;
}

enum rc
decimal_parse(
    int64_t *out, const char *what, const char *s, int scale, struct err *err)
{
	const char *p = skip_blanks(s);
	int64_t v;

	if (!scan_decimal(&v, &p, scale) || *skip_blanks(p) != '\0') {
		if (scale == 0)
			return err_set(err, RC_INVALID, 0,
			    "%s \"%.40s\" is not a whole number", what, s);
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not a number with at most %d decimals",
		    what, s, scale);
	}
	*out = v;
	return RC_OK;
}

enum rc
int_parse(int64_t *out, const char *what, const char *s, int64_t min,
    int64_t max, struct err *err)
{
	int64_t v;
	enum rc rc;

	if ((rc = decimal_parse(&v, what, s, 0, err)) != RC_OK)
		return rc;
	if (v < min || v > max)
		return err_set(err, RC_INVALID, 0,
		    "%s %" PRId64 " is outside %" PRId64 " to %" PRId64, what,
		    v, min, max);
	*out = v;
	return RC_OK;
}

enum rc
weight_parse(grams *out, const char *what, const char *s, struct err *err)
{
	const char *p = skip_blanks(s);
	const char *q;
	int64_t v;
	bool ok;

	/* Grams first, without decimals: "1,000" must never become 1 g. */
	ok = scan_decimal(&v, &p, 0);
	q = skip_blanks(p);
	if (!ok || (*q != '\0' && !str_eq_nocase(q, "g"))) {
		p = skip_blanks(s);
		ok = scan_decimal(&v, &p, 3) &&
		    str_eq_nocase(skip_blanks(p), "kg");
	}
	if (!ok)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not a weight: whole grams such as 850, "
		    "or kilograms such as 1.2kg",
		    what, s);
	if (v <= 0)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not above zero", what, s);
	if (v > WEIGHT_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is more than %d kg: check the unit", what, s,
		    WEIGHT_MAX_G / 1000);
	*out = v;
	return RC_OK;
}

enum rc
temp_parse(int *out, const char *what, const char *s, struct err *err)
{
	const char *p = skip_blanks(s);
	int64_t v;
	bool ok;

	ok = scan_decimal(&v, &p, 1);
	p = skip_blanks(p);
	if (strncmp(p, "\xc2\xb0", 2) == 0) /* degree sign */
		p += 2;
	if (ok && str_eq_nocase(p, "f"))
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is in Fahrenheit: give degrees Celsius", what,
		    s);
	if (!ok || (*p != '\0' && !str_eq_nocase(p, "c")))
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not a temperature such as 1.5", what, s);
	if (v < -600 || v > 600)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is outside -60 to 60 degrees Celsius", what,
		    s);
	*out = (int)v;
	return RC_OK;
}

enum rc
freezer_temp_parse(int *out, const char *what, const char *s, struct err *err)
{
	enum rc rc;
	int v;

	if ((rc = temp_parse(&v, what, s, err)) != RC_OK)
		return rc;
	if (v >= 0)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" freezes nothing: is a minus sign missing?",
		    what, s);
	*out = v;
	return RC_OK;
}

enum rc
percent_parse(int *out, const char *what, const char *s, struct err *err)
{
	const char *p = skip_blanks(s);
	int64_t v;
	bool ok;

	ok = scan_decimal(&v, &p, 2);
	p = skip_blanks(p);
	if (*p == '%')
		p = skip_blanks(p + 1);
	if (!ok || *p != '\0' || v < 0 || v > BP_ONE)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not a percentage from 0 to 100 with at "
		    "most 2 decimals",
		    what, s);
	*out = (int)v;
	return RC_OK;
}

enum rc
price_parse(int64_t *out, const char *what, const char *s, struct err *err)
{
	const char *p = skip_blanks(s);
	int64_t v;
	bool ok;

	ok = scan_decimal(&v, &p, 2);
	p = skip_blanks(p);
	if (!ok || *p != '\0' || v < 0 || v > PRICE_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not a price from 0 to 100000 with at most "
		    "2 decimals",
		    what, s);
	*out = v;
	return RC_OK;
}

char *
weight_print(char *dst, size_t size, grams g)
{
	const char *sign = g < 0 ? "-" : "";
	int64_t v = g < 0 ? -g : g;

	if (v < 1000)
		str_fmt(dst, size, "%s%" PRId64 " g", sign, v);
	else
		str_fmt(dst, size, "%s%" PRId64 ".%03" PRId64 " kg", sign,
		    v / 1000, v % 1000);
	return dst;
}

char *
temp_print(char *dst, size_t size, int tenths)
{
	int v = tenths < 0 ? -tenths : tenths;

	str_fmt(dst, size, "%s%d.%d C", tenths < 0 ? "-" : "", v / 10, v % 10);
	return dst;
}

char *
percent_print(char *dst, size_t size, int bp)
{
	if (bp % 100 == 0)
		str_fmt(dst, size, "%d %%", bp / 100);
	else if (bp % 10 == 0)
		str_fmt(dst, size, "%d.%d %%", bp / 100, bp % 100 / 10);
	else
		str_fmt(dst, size, "%d.%02d %%", bp / 100, bp % 100);
	return dst;
}

char *
price_print(char *dst, size_t size, int64_t coins)
{
	str_fmt(dst, size, "%" PRId64 ".%02" PRId64, coins / 100, coins % 100);
	return dst;
}

int64_t
div_up(int64_t a, int64_t b)
{
	assert(a >= 0 && b > 0);
	return a / b + (a % b != 0);
}

int64_t
div_down(int64_t a, int64_t b)
{
	assert(a >= 0 && b > 0);
	return a / b;
}
