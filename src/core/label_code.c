/* label_code.c - the string inside the symbol on our own labels. */
#include "core/label_code.h"

#include <inttypes.h>
#include <stdlib.h>
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

/* --- the short key ---------------------------------------------------------*/

#define KEY_PORTION 1
#define KEY_BATCH 2

/* The number of a portion code's first five characters. */
static int64_t
portion_serial(const char *code)
{
	int64_t serial = 0;
	const char *at;
	size_t i;

	for (i = 0; i < PORTION_CODE_LEN - 1; i++) {
		at = strchr(CODE_ALPHABET, code[i]);
		if (code[i] == '\0' || at == NULL)
			return 0;
		serial = serial * 28 + (at - CODE_ALPHABET);
	}
	return serial;
}

/* The code of that kind and number; false when there is none. */
static bool
code_of_key(char code[CODE_SIZE], int kind, int64_t number)
{
	enum code_kind got;

	if (kind == KEY_PORTION)
		return number > 0 && portion_code_make(code, number) == number;
	if (!str_fmt(code, BATCH_CODE_LEN, "%07" PRId64, number))
		return false;
	code[BATCH_CODE_LEN - 1] = mod37_36(code, BATCH_CODE_LEN - 1);
	code[BATCH_CODE_LEN] = '\0';
	return code_parse(&got, code, code, NULL) == RC_OK;
}

void
label_code_key(char symbol[LABEL_SYMBOL_SIZE], const char *code)
{
	int kind = strlen(code) == BATCH_CODE_LEN ? KEY_BATCH : KEY_PORTION;
	char again[CODE_SIZE];
	int64_t number;

	/* The check character of a batch code may be a digit too. */
	str_fmt(again, sizeof(again), "%.*s", BATCH_CODE_LEN - 1, code);
	number = kind == KEY_PORTION ? portion_serial(code)
				     : strtoll(again, NULL, 10);
	symbol[0] = '\0';
	if (!code_of_key(again, kind, number) || !str_eq(code, again))
		return;
	number += kind * INT64_C(100000000) + INT64_C(1000000000);
	str_fmt(symbol, LABEL_SYMBOL_SIZE, "[92]%" PRId64 "%02d", number,
	    (int)(98 - number * 100 % 97));
}

static enum rc
parse_key(struct label_code *out, const char *key, struct err *err)
{
	int64_t all = strtoll(key, NULL, 10), number = all / 100 % 100000000;
	int kind = key[1] - '0';

	memset(out, 0, sizeof(*out));
	out->use_by.day = DAY_NONE;
	if (strspn(key, "0123456789") != LABEL_KEY_LEN || all % 97 != 1)
		return err_set(err, RC_INVALID, 0,
		    "the label's bars were read wrong (check digits): scan "
		    "them again");
	if (key[0] != '1' || (kind != KEY_PORTION && kind != KEY_BATCH))
		return err_set(err, RC_INVALID, 0,
		    "the label's bars are of a kind (%.2s) that is not known "
		    "here: the label is from a newer program",
		    key);
	if (!code_of_key(
		kind == KEY_PORTION ? out->portion : out->batch, kind, number))
		return err_set(err, RC_INVALID, 0,
		    "the label's bars hold %" PRId64
		    ", which is no code of ours",
		    number);
	return RC_OK;
}

/* --- a scan ----------------------------------------------------------------*/

/* Behind symbology identifier, separators and this identifier, or NULL. */
static const char *
after_prefix(const char *s, const char *ai)
{
	if (s[0] == ']' && s[1] != '\0' && s[2] != '\0')
		s += 3;
	while (*s == GS)
		s++;
	if (strncmp(s, ai, 2) == 0)
		return s + 2;
	if ((s[0] != '[' && s[0] != '(') || strncmp(s + 1, ai, 2) != 0)
		return NULL;
	return s[3] == (s[0] == '[' ? ']' : ')') ? s + 4 : NULL;
}

/* The short key in a scan of it, right or damaged. */
static bool
find_key(char key[LABEL_KEY_LEN + 1], const char *s)
{
	const char *p = after_prefix(s, "92");
	size_t i;

	if (p == NULL)
		return false;
	for (i = 0; i < LABEL_KEY_LEN; i++) {
		if (!((p[i] >= '0' && p[i] <= '9') ||
			(p[i] >= 'A' && p[i] <= 'Z')))
			return false;
		key[i] = p[i];
	}
	key[i] = '\0';
	return p[i + strspn(p + i, "\x1d")] == '\0';
}

bool
label_code_looks_like(const char *s)
{
	char key[LABEL_KEY_LEN + 1];

	return find_key(key, s) ||
	    (after_prefix(s, "91") != NULL && strlen(s) > CODE_SIZE);
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
	char t[LABEL_CODE_LEN + 1], key[LABEL_KEY_LEN + 1];
	const char *p = after_prefix(s, "91");
	size_t n;

	if (find_key(key, s))
		return parse_key(out, key, err);
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
