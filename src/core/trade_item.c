/* trade_item.c - portion labels of a kitchen with its own GS1 prefix. */
#include "core/trade_item.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "gs1_inner.h"

#define PREFIX_MIN 4
#define PREFIX_MAX 12
/* Digits of prefix and item: 14 less the indicator and the check digit. */
#define BODY 12
#define DAY_ENDS 59 /* 23:59, the last minute of a day */

bool
trade_item_prefix_given(const char *prefix)
{
	return prefix != NULL && prefix[0] != '\0' && !str_eq(prefix, "none");
}

enum rc
trade_item_prefix_check(const char *prefix, struct err *err)
{
	char thirteen[16];
	const char *range;
	size_t n = strlen(prefix);

	if (n < PREFIX_MIN || n > PREFIX_MAX || !gs1_all_digits(prefix, n))
		return err_set(err, RC_INVALID, 0,
		    "gs1_prefix = %.20s: must be 4 to 12 digits, or none",
		    prefix);
	str_fmt(thirteen, sizeof(thirteen), "%s%.*s", prefix, (int)(13 - n),
	    "000000000");
	range = gs1_restricted(thirteen, 13);
	if (range != NULL)
		return err_set(err, RC_INVALID, 0,
		    "gs1_prefix = %s: the range of a %.44s, no company prefix",
		    prefix, range);
	/* 0000000 is the range numbers of 8 digits are filled up with. */
	if (strspn(prefix, "0") >= PREFIX_MIN)
		return err_set(err, RC_INVALID, 0,
		    "gs1_prefix = %s: begins like a number of 8 digits, no "
		    "company prefix",
		    prefix);
	return RC_OK;
}

enum rc
trade_item_gtin(char gtin[TRADE_ITEM_GTIN + 1], const char *prefix,
    int64_t item, struct err *err)
{
	char digits[24];
	int room;
	enum rc rc;

	gtin[0] = '\0';
	if ((rc = trade_item_prefix_check(prefix, err)) != RC_OK)
		return rc;
	room = BODY - (int)strlen(prefix);
	str_fmt(digits, sizeof(digits), "%0*" PRId64, room, item);
	if (item <= 0 || strlen(digits) > (size_t)room)
		return err_set(err, RC_INVALID, 0,
		    "dish number %" PRId64
		    " does not fit: gs1_prefix = %s "
		    "leaves %d digits for it",
		    item, prefix, room);
	str_fmt(gtin, TRADE_ITEM_GTIN + 1, "0%s%s", prefix, digits);
	gtin[TRADE_ITEM_GTIN - 1] = gs1_check_digit(gtin, TRADE_ITEM_GTIN - 1);
	gtin[TRADE_ITEM_GTIN] = '\0';
	return RC_OK;
}

void
trade_item_symbol(char symbol[TRADE_ITEM_SYMBOL_SIZE], const char *gtin,
    const struct label_code *c)
{
	struct civil d = day_civil(c->use_by.day);
	char day[8];

	str_fmt(day, sizeof(day), "%02d%02d%02d", d.year % 100, d.month, d.day);
	if (c->use_by.hour == 23 && c->use_by.minute == DAY_ENDS)
		str_fmt(symbol, TRADE_ITEM_SYMBOL_SIZE,
		    "[01]%s[17]%s[10]%s[21]%s", gtin, day, c->batch,
		    c->portion);
	else
		str_fmt(symbol, TRADE_ITEM_SYMBOL_SIZE,
		    "[01]%s[7003]%s%02d%02d[21]%s", gtin, day, c->use_by.hour,
		    c->use_by.minute, c->portion);
}

/* --- a scan ----------------------------------------------------------------*/

/* Step over separators and this identifier, bare or in brackets. */
static bool
take_ai(const char **s, const char *ai)
{
	const char *p = *s + strspn(*s, "\x1d");
	size_t n = strlen(ai);
	char closing = '\0';

	if (*p == '(' || *p == '[')
		closing = *p++ == '(' ? ')' : ']';
	if (strncmp(p, ai, n) != 0)
		return false;
	p += n;
	if (closing != '\0' && *p++ != closing)
		return false;
	*s = p;
	return true;
}

/* The next `n` characters, none of them a separator or the end. */
static bool
take(char *dst, const char **s, size_t n)
{
	size_t i;

	for (i = 0; i < n; i++)
		if ((*s)[i] == '\0' || (*s)[i] == GS1_GS)
			return false;
	memcpy(dst, *s, n);
	dst[n] = '\0';
	*s += n;
	return true;
}

/* A GTIN under the prefix, in front. */
static bool
take_gtin(char gtin[TRADE_ITEM_GTIN + 1], const char **s, const char *prefix)
{
	const char *p = *s;

	if (!trade_item_prefix_given(prefix))
		return false;
	if (p[0] == ']' && p[1] != '\0' && p[2] != '\0')
		p += 3;
	if (!take_ai(&p, "01") || !take(gtin, &p, TRADE_ITEM_GTIN) ||
	    gtin[0] != '0' || strncmp(gtin + 1, prefix, strlen(prefix)) != 0)
		return false;
	*s = p;
	return true;
}

/* The shape of a label behind its GTIN; `when` takes 6 or 10 digits. */
static bool
take_rest(struct label_code *c, char when[12], const char *s)
{
	memset(c, 0, sizeof(*c));
	if (take_ai(&s, "17")) {
		if (!take(when, &s, 6) || !take_ai(&s, "10") ||
		    !take(c->batch, &s, BATCH_CODE_LEN))
			return false;
	} else if (!take_ai(&s, "7003") || !take(when, &s, 10)) {
		return false;
	}
	return take_ai(&s, "21") && take(c->portion, &s, PORTION_CODE_LEN) &&
	    s[strspn(s, "\x1d")] == '\0';
}

bool
trade_item_looks_like(const char *s, const char *prefix)
{
	char gtin[TRADE_ITEM_GTIN + 1], when[12];
	struct label_code c;

	return take_gtin(gtin, &s, prefix) && take_rest(&c, when, s);
}

static bool
is_code(const char *code, enum code_kind want)
{
	char got[CODE_SIZE];
	enum code_kind kind;

	return code_parse(&kind, got, code, NULL) == RC_OK && kind == want &&
	    str_eq(got, code);
}

static bool
parse_when(struct local_time *out, const char *when)
{
	int n[5] = { 0, 0, 0, 23, DAY_ENDS };
	size_t i, len = strlen(when);

	if (!gs1_all_digits(when, len))
		return false;
	for (i = 0; i < len / 2; i++)
		n[i] = (when[2 * i] - '0') * 10 + when[2 * i + 1] - '0';
	out->hour = n[3];
	out->minute = n[4];
	return day_from_civil(&out->day, 2000 + n[0], n[1], n[2]) &&
	    n[3] < 24 && n[4] < 60;
}

enum rc
trade_item_parse(
    struct trade_item *out, const char *s, const char *prefix, struct err *err)
{
	char when[12];

	memset(out, 0, sizeof(*out));
	if (!take_gtin(out->gtin, &s, prefix) ||
	    !take_rest(&out->code, when, s))
		return err_set(err, RC_INVALID, 0,
		    "this scan is not a label of this kitchen's gs1_prefix");
	if (!gs1_all_digits(out->gtin, TRADE_ITEM_GTIN) ||
	    gs1_check_digit(out->gtin, TRADE_ITEM_GTIN - 1) !=
		out->gtin[TRADE_ITEM_GTIN - 1] ||
	    !is_code(out->code.portion, CODE_PORTION) ||
	    (out->code.batch[0] != '\0' &&
		!is_code(out->code.batch, CODE_BATCH)))
		return err_set(err, RC_INVALID, 0,
		    "the label was read wrong (check character): scan it "
		    "again");
	if (!parse_when(&out->code.use_by, when))
		return err_set(err, RC_INVALID, 0,
		    "the label's use-by is not a date: scan it again");
	out->item = strtoll(out->gtin + 1 + strlen(prefix), NULL, 10) / 10;
	return RC_OK;
}
