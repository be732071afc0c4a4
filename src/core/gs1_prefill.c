/* gs1_prefill.c - what a supplier's label can fill in at goods in. */
#include "gs1_inner.h"

#include <string.h>

#include "base/str.h"

/* The first good element of an identifier or pattern, or NULL. */
static const struct gs1_element *
good(const struct gs1_scan *s, const char *pattern)
{
	size_t i;

	for (i = 0; i < s->count; i++)
		if (s->elements[i].good &&
		    gs1_ai_matches(pattern, s->elements[i].ai))
			return &s->elements[i];
	return NULL;
}

static void
text(char *dst, size_t size, const struct gs1_scan *s, const char *ai)
{
	const struct gs1_element *e = good(s, ai);

	if (e != NULL)
		str_copy(dst, size, e->value);
}

static day_no
day(const struct gs1_scan *s, const char *ai, size_t at)
{
	const struct gs1_element *e = good(s, ai);
	day_no d;

	if (e == NULL || !gs1_date(&d, e->value + at, s->today, true))
		return DAY_NONE;
	return d;
}

static int64_t
number(const char *digits)
{
	int64_t v = 0;

	for (; *digits >= '0' && *digits <= '9'; digits++)
		v = v * 10 + (*digits - '0');
	return v;
}

/* Kilograms with `n` decimals, rounded down: never more than was delivered. */
static grams
net_weight(const struct gs1_scan *s)
{
	const struct gs1_element *e = good(s, "310n");
	int64_t v;
	int n;

	if (e == NULL)
		return 0;
	v = number(e->value) * 1000;
	for (n = e->ai[3] - '0'; n > 0; n--)
		v /= 10;
	return v <= WEIGHT_MAX_G ? v : 0;
}

static int64_t
count(const struct gs1_scan *s)
{
	const struct gs1_element *e = good(s, "30");
	int64_t n;

	if (e == NULL)
		e = good(s, "37");
	n = e == NULL ? 0 : number(e->value);
	return n <= COUNT_MAX ? n : 0;
}

static void
gtin(struct gs1_prefill *out, const struct gs1_scan *s)
{
	static const char *const from[] = { "01", "02", "03" };
	const struct gs1_element *e;
	size_t i;

	for (i = 0; i < 3 && out->gtin[0] == '\0'; i++) {
		e = good(s, from[i]);
		if (e != NULL && gs1_restricted(e->value, 14) == NULL)
			text(out->gtin, sizeof(out->gtin), s, from[i]);
	}
}

/* An expiry with a time of day is the earlier one on the same day. */
static void
use_by(struct gs1_prefill *out, const struct gs1_scan *s)
{
	const struct gs1_element *e = good(s, "7003");
	day_no timed = day(s, "7003", 0);

	out->use_by = day(s, "17", 0);
	out->use_by_min = -1;
	if (timed == DAY_NONE ||
	    (out->use_by != DAY_NONE && out->use_by < timed))
		return;
	out->use_by = timed;
	out->use_by_min = (e->value[6] - '0') * 600 + (e->value[7] - '0') * 60 +
	    (e->value[8] - '0') * 10 + (e->value[9] - '0');
}

void
gs1_prefill_from(struct gs1_prefill *out, const struct gs1_scan *s)
{
	const struct gs1_element *span = good(s, "7007");

	memset(out, 0, sizeof(*out));
	text(out->species, sizeof(out->species), s, "7008");
	str_upper(out->species);
	text(out->lot, sizeof(out->lot), s, "10");
	gtin(out, s);
	out->net_g = net_weight(s);
	out->count = count(s);
	use_by(out, s);
	out->best_before = day(s, "15", 0);
	text(out->area, sizeof(out->area), s, "7005");
	out->harvest_first = day(s, "7007", 0);
	out->harvest_last = span != NULL && strlen(span->value) == 12
	    ? day(s, "7007", 6)
	    : out->harvest_first;
	out->first_freeze = day(s, "7006", 0);
	text(out->gear, sizeof(out->gear), s, "7009");
	text(out->method, sizeof(out->method), s, "7010");
	text(out->country, sizeof(out->country), s, "422");
}
