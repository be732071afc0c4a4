/*
 * gs1_value.c - read the value of one element: is it what the identifier
 * demands, and what does it mean in words.
 */
#include "gs1_inner.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/species.h"

static bool
fail(struct gs1_value *v, const char *text)
{
	str_copy(v->why, sizeof(v->why), text);
	return false;
}

bool
gs1_all_digits(const char *s, size_t n)
{
	size_t i;

	for (i = 0; i < n; i++)
		if (s[i] < '0' || s[i] > '9')
			return false;
	return true;
}

/* GS1 character set 82 (General Specifications figure 7.11-1). */
bool
gs1_in_set82(const char *s, size_t n)
{
	static const char set[] =
	    "!\"%&'()*+,-./0123456789:;<=>?"
	    "ABCDEFGHIJKLMNOPQRSTUVWXYZ_"
	    "abcdefghijklmnopqrstuvwxyz";
	size_t i;

	for (i = 0; i < n; i++)
		if (s[i] == '\0' || strchr(set, s[i]) == NULL)
			return false;
	return true;
}

char
gs1_check_digit(const char *digits, size_t n)
{
	int sum = 0, weight = 3;
	size_t i;

	if (!gs1_all_digits(digits, n))
		return '\0';
	for (i = n; i > 0; i--) {
		sum += (digits[i - 1] - '0') * weight;
		weight = 4 - weight;
	}
	return (char)('0' + (10 - sum % 10) % 10);
}

int
gs1_year(int yy, int this_year)
{
	int century = this_year - this_year % 100;
	int d = yy - this_year % 100;

	if (d >= 51)
		century -= 100;
	else if (d <= -50)
		century += 100;
	return century + yy;
}

/* `n` digits as a number; they were checked to be digits, n <= 15. */
static int64_t
number(const char *s, size_t n)
{
	int64_t v = 0;

	for (; n > 0; n--, s++)
		v = v * 10 + (*s - '0');
	return v;
}

bool
gs1_date(day_no *out, const char *s, day_no today, bool day_may_be_00)
{
	int year, month, day, last;

	if (!gs1_all_digits(s, 6))
		return false;
	year = gs1_year((int)number(s, 2), day_civil(today).year);
	month = (int)number(s + 2, 2);
	day = (int)number(s + 4, 2);
	if (day != 0 || !day_may_be_00)
		return day_from_civil(out, year, month, day);
	for (last = 31; last >= 28; last--)
		if (day_from_civil(out, year, month, last))
			return true;
	return false;
}

static bool
date_fail(struct gs1_value *v, const char *s)
{
	int year = gs1_year((int)number(s, 2), day_civil(v->r->today).year);

	str_fmt(v->why, sizeof(v->why), "%.6s is not a day in %d%s", s, year,
	    year < 2000 || year > 2199
		? ", and years outside 2000 to 2199 are not believed"
		: "");
	return false;
}

/* Digits at `at`, else what is missing. */
static bool
want_digits(struct gs1_value *v, size_t at, size_t n)
{
	if (gs1_all_digits(v->s + at, n))
		return true;
	return fail(v, "is not all digits: a separator may be missing");
}

static bool
exact_day(struct gs1_value *v, size_t at, day_no *day)
{
	if (!want_digits(v, at, 6))
		return false;
	if (gs1_date(day, v->s + at, v->r->today, false))
		return true;
	return date_fail(v, v->s + at);
}

/* HHMM; 24 and minute 60 do not exist. */
static bool
clock_time(struct gs1_value *v, size_t at)
{
	if (number(v->s + at, 2) <= 23 && number(v->s + at + 2, 2) <= 59)
		return true;
	str_fmt(v->why, sizeof(v->why), "%.4s is not a time of day", v->s + at);
	return false;
}

bool
gs1_text(struct gs1_value *v)
{
	str_fmt(v->meaning, sizeof(v->meaning), "%.*s", (int)v->n, v->s);
	return true;
}

bool
gs1_number(struct gs1_value *v)
{
	return want_digits(v, 0, v->n) && gs1_text(v);
}

bool
gs1_count(struct gs1_value *v)
{
	if (!want_digits(v, 0, v->n))
		return false;
	str_fmt(v->meaning, sizeof(v->meaning), "%d", (int)number(v->s, v->n));
	return true;
}

bool
gs1_key(struct gs1_value *v)
{
	char want;

	if (!want_digits(v, 0, v->n))
		return false;
	want = gs1_check_digit(v->s, v->n - 1);
	if (v->s[v->n - 1] == want)
		return gs1_text(v);
	str_fmt(v->why, sizeof(v->why),
	    "the check digit is %c but should be %c: read it again",
	    v->s[v->n - 1], want);
	return false;
}

/*
 * Prefixes of restricted circulation numbers (General Specifications 2.1.11
 * and 2.1.12).  There is none of 14 digits; a U.P.C. prefix 2 or 4 is 02 or 04
 * here, where the 12 digits have their zero in front.
 */
const char *
gs1_restricted(const char *digits, size_t n)
{
	static const char company[] =
	    "restricted circulation number within one company";
	static const char region[] =
	    "restricted circulation number within a region: the national GS1 "
	    "office says what it holds, often a price or weight";

	if (n == 14 && digits[0] != '0')
		return NULL;
	if (n == 14) {
		n = strncmp(digits, "000000", 6) == 0 ? 8 : 13;
		digits += n == 8 ? 6 : 1;
	}
	if (n == 8)
		return digits[0] == '0' || digits[0] == '2' ? company : NULL;
	if (digits[0] == '0' && digits[1] == '4')
		return company;
	if (digits[0] == '2' || (digits[0] == '0' && digits[1] == '2'))
		return region;
	return NULL;
}

bool
gs1_gtin(struct gs1_value *v)
{
	size_t pad = 0;

	if (!gs1_key(v))
		return false;
	while (pad < 6 && v->s[pad] == '0')
		pad++;
	if (pad == 0) {
		str_fmt(v->meaning, sizeof(v->meaning), "GTIN-14 %.14s%s", v->s,
		    v->s[0] == '9' ? ", variable measure" : "");
		return true;
	}
	/* UPC-A, EAN-13 and EAN-8 numbers, padded to 14. */
	pad = pad >= 6 ? 6 : pad >= 2 ? 2 : 1;
	str_fmt(v->meaning, sizeof(v->meaning), "GTIN-%d %.*s", (int)(14 - pad),
	    (int)(14 - pad), v->s + pad);
	if (gs1_restricted(v->s, 14) != NULL)
		str_copy(v->note, sizeof(v->note),
		    "is a restricted circulation number, no GTIN");
	return true;
}

bool
gs1_day(struct gs1_value *v)
{
	char words[48];
	day_no day;

	if (!want_digits(v, 0, 6))
		return false;
	if (!gs1_date(&day, v->s, v->r->today, true))
		return date_fail(v, v->s);
	str_fmt(v->meaning, sizeof(v->meaning), "%s%s",
	    day_words(words, sizeof(words), day),
	    number(v->s + 4, 2) == 0 ? " (no day given: the last of the month)"
				     : "");
	return true;
}

bool
gs1_day_exact(struct gs1_value *v)
{
	day_no day;

	if (!exact_day(v, 0, &day))
		return false;
	day_words(v->meaning, sizeof(v->meaning), day);
	return true;
}

/* One date, or the first and the last of a span. */
bool
gs1_day_span(struct gs1_value *v)
{
	char a[48], b[48];
	day_no first, last;

	if (v->n != 6 && v->n != 12)
		return fail(v,
		    "must have 6 digits, or 12 for a span: a "
		    "separator may be missing");
	if (!exact_day(v, 0, &first))
		return false;
	if (v->n == 6) {
		day_words(v->meaning, sizeof(v->meaning), first);
		return true;
	}
	if (!exact_day(v, 6, &last))
		return false;
	if (last < first)
		return fail(v, "ends before it begins");
	str_fmt(v->meaning, sizeof(v->meaning), "%s to %s",
	    day_words(a, sizeof(a), first), day_words(b, sizeof(b), last));
	return true;
}

/* Day and time of `hhmm` behind it. */
static bool
day_with_time(struct gs1_value *v)
{
	char words[48];
	day_no day;

	if (!want_digits(v, 0, v->n) || !exact_day(v, 0, &day) ||
	    !clock_time(v, 6))
		return false;
	str_fmt(v->meaning, sizeof(v->meaning), "%s %.2s:%.2s",
	    day_words(words, sizeof(words), day), v->s + 6, v->s + 8);
	return true;
}

bool
gs1_day_time(struct gs1_value *v)
{
	return day_with_time(v);
}

bool
gs1_test_by(struct gs1_value *v)
{
	if (v->n == 6)
		return gs1_day_exact(v);
	if (v->n == 10)
		return day_with_time(v);
	return fail(v, "must have 6 or 10 digits");
}

/* YYMMDDHH, minutes and seconds optional. */
bool
gs1_made_at(struct gs1_value *v)
{
	char words[48];
	day_no day;

	if (v->n % 2 != 0)
		return fail(v, "must have 8, 10 or 12 digits");
	if (!want_digits(v, 0, v->n) || !exact_day(v, 0, &day))
		return false;
	if (number(v->s + 6, 2) > 23 ||
	    (v->n >= 10 && number(v->s + 8, 2) > 59) ||
	    (v->n == 12 && number(v->s + 10, 2) > 59))
		return fail(v, "holds a time of day that does not exist");
	str_fmt(v->meaning, sizeof(v->meaning), "%s %.2s:%.2s%s%.*s",
	    day_words(words, sizeof(words), day), v->s + 6,
	    v->n >= 10 ? v->s + 8 : "00", v->n == 12 ? ":" : "",
	    v->n == 12 ? 2 : 0, v->n == 12 ? v->s + 10 : "");
	return true;
}

/* `n` digits of which the last `decimals` stand behind the point. */
static void
print_decimal(char *dst, size_t size, const char *s, size_t n, int decimals)
{
	size_t whole = n > (size_t)decimals ? n - (size_t)decimals : 0;

	if (whole == 0)
		str_fmt(
		    dst, size, "0.%0*lld", decimals, (long long)number(s, n));
	else if (decimals == 0)
		str_fmt(dst, size, "%lld", (long long)number(s, n));
	else
		str_fmt(dst, size, "%lld.%.*s", (long long)number(s, whole),
		    decimals, s + whole);
}

/* The unit is the one in brackets in the data title. */
bool
gs1_measure(struct gs1_value *v)
{
	const char *unit = strchr(v->row->title, '(');
	char text[32];

	if (!want_digits(v, 0, v->n))
		return false;
	print_decimal(
	    text, sizeof(text), v->s, v->n, v->ai[strlen(v->ai) - 1] - '0');
	str_fmt(v->meaning, sizeof(v->meaning), "%s %.*s", text,
	    (int)strcspn(unit + 1, ")"), unit + 1);
	return true;
}

bool
gs1_price(struct gs1_value *v)
{
	if (!want_digits(v, 0, v->n))
		return false;
	print_decimal(v->meaning, sizeof(v->meaning), v->s, v->n,
	    v->ai[strlen(v->ai) - 1] - '0');
	return true;
}

static bool
country_at(struct gs1_value *v, size_t at)
{
	if (!want_digits(v, at, 3))
		return false;
	if (number(v->s + at, 3) != 0)
		return true;
	return fail(v, "000 is no country");
}

bool
gs1_country(struct gs1_value *v)
{
	if (!country_at(v, 0))
		return false;
	str_fmt(v->meaning, sizeof(v->meaning),
	    "country %.3s (ISO 3166-1 numeric)", v->s);
	return true;
}

bool
gs1_countries(struct gs1_value *v)
{
	size_t at;

	if (v->n % 3 != 0)
		return fail(v, "must be 1 to 5 countries of 3 digits");
	for (at = 0; at < v->n; at += 3)
		if (!country_at(v, at))
			return false;
	str_copy(v->meaning, sizeof(v->meaning), "countries");
	for (at = 0; at < v->n; at += 3)
		str_fmt(v->meaning + strlen(v->meaning), 6, " %.3s", v->s + at);
	str_fmt(v->meaning + strlen(v->meaning), 24, " (ISO 3166-1 numeric)");
	return true;
}

bool
gs1_country_text(struct gs1_value *v)
{
	if (!country_at(v, 0))
		return false;
	str_fmt(v->meaning, sizeof(v->meaning), "country %.3s, %.*s", v->s,
	    (int)(v->n - 3), v->s + 3);
	return true;
}

/* GTIN of a whole, number of this piece, number of pieces. */
bool
gs1_piece(struct gs1_value *v)
{
	struct gs1_value item = *v;
	int piece, total;

	item.n = 14;
	if (!gs1_key(&item)) {
		str_copy(v->why, sizeof(v->why), item.why);
		return false;
	}
	if (!want_digits(v, 14, 4))
		return false;
	piece = (int)number(v->s + 14, 2);
	total = (int)number(v->s + 16, 2);
	if (piece == 0 || piece > total)
		return fail(v, "the piece number is not within the total");
	str_fmt(v->meaning, sizeof(v->meaning), "piece %d of %d of %.14s",
	    piece, total, v->s);
	return true;
}

/* Hundredths of a degree, a hyphen behind them for below zero. */
bool
gs1_temperature(struct gs1_value *v)
{
	char text[32];

	if (!want_digits(v, 0, 6))
		return false;
	if (v->n == 7 && v->s[6] != '-')
		return fail(v, "may only have a hyphen behind its 6 digits");
	print_decimal(text, sizeof(text), v->s, 6, 2);
	str_fmt(v->meaning, sizeof(v->meaning), "%s%s %c", v->n == 7 ? "-" : "",
	    text, v->row->title[strlen("MAX TEMP ")]);
	return true;
}

bool
gs1_species(struct gs1_value *v)
{
	const struct species *sp = NULL;
	char code[4];

	str_fmt(code, sizeof(code), "%.*s", (int)v->n, v->s);
	if (v->r->names.species != NULL)
		sp = species_find(v->r->names.species, code);
	if (sp != NULL) {
		str_fmt(v->meaning, sizeof(v->meaning), "%s (%s)", sp->name,
		    sp->scientific);
		return true;
	}
	str_fmt(v->meaning, sizeof(v->meaning), "FAO code %s", code);
	if (v->r->names.species != NULL)
		str_copy(v->note, sizeof(v->note),
		    "is not in the species table, kept");
	return true;
}

static bool
look_up(struct gs1_value *v, const char *what,
    const char *(*name)(void *ctx, const char *code))
{
	const char *found = NULL;
	char code[16];

	str_fmt(code, sizeof(code), "%.*s", (int)v->n, v->s);
	if (name != NULL)
		found = name(v->r->names.ctx, code);
	if (name != NULL && found == NULL)
		str_fmt(
		    v->note, sizeof(v->note), "is not a known %s, kept", what);
	str_fmt(v->meaning, sizeof(v->meaning), "%s %s%s%s", what, code,
	    found == NULL ? "" : ", ", found == NULL ? "" : found);
	return true;
}

bool
gs1_area(struct gs1_value *v)
{
	return look_up(v, "FAO area", v->r->names.area);
}

bool
gs1_gear(struct gs1_value *v)
{
	return look_up(v, "FAO gear", v->r->names.gear);
}

/* The values were not found in a standard that could be read, so the code is
 * shown and a person asks. */
bool
gs1_method(struct gs1_value *v)
{
	str_fmt(v->meaning, sizeof(v->meaning), "production method code %.*s",
	    (int)v->n, v->s);
	return true;
}

bool
gs1_uic(struct gs1_value *v)
{
	if (v->s[0] < '0' || v->s[0] > '9')
		return fail(v, "must begin with a digit");
	if (v->s[3] == '-' || v->s[3] == '_' ||
	    (gs1_in_set82(v->s + 3, 1) &&
		strchr("!\"%&'()*+,./:;<=>?", v->s[3]) == NULL))
		return gs1_text(v);
	return fail(v, "has an importer index that cannot be");
}
