/* label_code.c - the string inside the symbol on our own labels. */
#include "core/label_code.h"

#include <string.h>

#include "base/str.h"

#define GS '\x1d'

void
label_code_make(char symbol[LABEL_SYMBOL_SIZE], const struct label_code *c)
{
	struct civil d = day_civil(c->use_by.day);
	char s[LABEL_CODE_LEN + 1];

	str_fmt(s, sizeof(s), "1%s%s%02d%02d%02d%02d%02d",
	    c->portion[0] == '\0' ? "000000" : c->portion, c->batch,
	    d.year % 100, d.month, d.day, c->use_by.hour, c->use_by.minute);
	s[LABEL_CODE_LEN - 1] = mod37_36(s, LABEL_CODE_LEN - 1);
	s[LABEL_CODE_LEN] = '\0';
	str_fmt(symbol, LABEL_SYMBOL_SIZE, "[91]%s", s);
}

/* Behind symbology identifier, separators and the identifier 91, or NULL. */
static const char *
after_prefix(const char *s)
{
	if (s[0] == ']' && s[1] != '\0' && s[2] != '\0')
		s += 3;
	while (*s == GS)
		s++;
	if (strncmp(s, "[91]", 4) == 0 || strncmp(s, "(91)", 4) == 0)
		return s + 4;
	if (strncmp(s, "91", 2) == 0)
		return s + 2;
	return NULL;
}

bool
label_code_looks_like(const char *s)
{
	return after_prefix(s) != NULL && strlen(s) > CODE_SIZE;
}

static int
two(const char *s)
{
	if (s[0] < '0' || s[0] > '9' || s[1] < '0' || s[1] > '9')
		return -1;
	return (s[0] - '0') * 10 + s[1] - '0';
}

static bool
parse_use_by(struct local_time *out, const char *s)
{
	int yy = two(s), mm = two(s + 2), dd = two(s + 4);

	memset(out, 0, sizeof(*out));
	out->hour = two(s + 6);
	out->minute = two(s + 8);
	return yy >= 0 && day_from_civil(&out->day, 2000 + yy, mm, dd) &&
	    out->hour >= 0 && out->hour < 24 && out->minute >= 0 &&
	    out->minute < 60;
}

static bool
check_ok(const char *s, size_t len)
{
	return mod37_36(s, len - 1) == s[len - 1];
}

enum rc
label_code_parse(struct label_code *out, const char *s, struct err *err)
{
	char t[LABEL_CODE_LEN + 1];
	const char *p = after_prefix(s);
	size_t n;

	n = p == NULL ? 0 : strlen(p);
	while (n > 0 && p[n - 1] == GS)
		n--;
	if (n != LABEL_CODE_LEN)
		return err_set(err, RC_INVALID, 0,
		    "this scan is not one of our labels: (91) holds %zu "
		    "characters, not %d",
		    n, LABEL_CODE_LEN);
	memcpy(t, p, n);
	t[n] = '\0';
	if (t[0] != '1')
		return err_set(err, RC_INVALID, 0,
		    "label version '%c' is not known here: the label is from a "
		    "newer program",
		    t[0]);
	memset(out, 0, sizeof(*out));
	memcpy(out->portion, t + 1, PORTION_CODE_LEN);
	memcpy(out->batch, t + 1 + PORTION_CODE_LEN, BATCH_CODE_LEN);
	if (str_eq(out->portion, "000000"))
		out->portion[0] = '\0';
	if (!check_ok(t, n) || !check_ok(out->batch, BATCH_CODE_LEN) ||
	    (out->portion[0] != '\0' &&
		!check_ok(out->portion, PORTION_CODE_LEN)))
		return err_set(err, RC_INVALID, 0,
		    "the label was read wrong (check character): scan it "
		    "again");
	if (!parse_use_by(&out->use_by, t + 1 + 6 + 8))
		return err_set(err, RC_INVALID, 0,
		    "the label's use-by is not a date: scan it again");
	return RC_OK;
}
