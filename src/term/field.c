/* field.c - one field: its keys, and what its text is worth. */
#include "field.h"

#include <ctype.h>
#include <inttypes.h>
#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "base/units.h"
#include "says_term.h"
#include "term/when.h"

/* --- keys ------------------------------------------------------------------*/

bool
field_takes(const struct field *f, uint32_t ch)
{
	static const char *const only[] = {
		[FIELD_COUNT] = "0123456789",
		[FIELD_WEIGHT] = "0123456789.,kgKG ",
		[FIELD_WEIGHTS] = "0123456789.,kgKG ",
		[FIELD_DEGREES] = "0123456789.,-+",
		[FIELD_PRICE] = "0123456789.,",
	};
	const char *set = NULL;

	if (glyph_columns(ch) == 0)
		return false;
	if ((size_t)f->row->kind < sizeof(only) / sizeof(only[0]))
		set = only[f->row->kind];
	if (set == NULL)
		return true;
	return ch < 0x80 && strchr(set, (int)ch) != NULL;
}

/* The byte a character before or behind the caret. */
static size_t
back_of(const struct field *f)
{
	size_t i = f->caret;

	if (i == 0)
		return 0;
	for (i--; i > 0 && ((unsigned char)f->text[i] & 0xc0) == 0x80; i--)
		;
	return i;
}

static size_t
ahead_of(const struct field *f)
{
	const char *s = f->text + f->caret;

	if (*s != '\0')
		(void)utf8_next(&s);
	return (size_t)(s - f->text);
}

static void
insert(struct field *f, uint32_t ch)
{
	size_t len = strlen(f->text), n;
	char bytes[5] = { 0 };
	struct buf b;

	memcpy(f->before, f->text, sizeof(f->before));
	f->before_caret = f->caret;
	buf_init(&b, sizeof(bytes));
	utf8_put(&b, ch);
	n = b.len;
	memcpy(bytes, b.data, n);
	buf_fini(&b);
	if (len + n >= sizeof(f->text))
		return;
	memmove(f->text + f->caret + n, f->text + f->caret, len - f->caret + 1);
	memcpy(f->text + f->caret, bytes, n);
	f->caret += n;
}

static void
erase(struct field *f, size_t from, size_t to)
{
	memmove(f->text + from, f->text + to, strlen(f->text + to) + 1);
	f->caret = from;
}

bool
field_edit(struct field *f, const struct key *k)
{
	if (k->code == KEY_CODE_CHAR && field_takes(f, k->ch))
		insert(f, k->ch);
	else if (k->code == KEY_CODE_TAKE_BACK) {
		memcpy(f->text, f->before, sizeof(f->text));
		f->caret = f->before_caret;
	} else if (k->code == KEY_CODE_BACKSPACE)
		erase(f, back_of(f), f->caret);
	else if (k->code == KEY_CODE_DELETE)
		erase(f, f->caret, ahead_of(f));
	else if (k->code == KEY_CODE_CUT_OFF)
		erase(f, 0, strlen(f->text));
	else if (k->code == KEY_CODE_LEFT)
		f->caret = back_of(f);
	else if (k->code == KEY_CODE_RIGHT)
		f->caret = ahead_of(f);
	else if (k->code == KEY_CODE_HOME)
		f->caret = 0;
	else if (k->code == KEY_CODE_END)
		f->caret = strlen(f->text);
	else
		return false;
	if (k->code != KEY_CODE_LEFT && k->code != KEY_CODE_RIGHT &&
	    k->code != KEY_CODE_HOME && k->code != KEY_CODE_END)
		f->value[0] = f->shown[0] = f->wrong[0] = '\0';
	return true;
}

/* --- what the text is worth ------------------------------------------------*/

static const char *
says_of(const struct choices *c, size_t i)
{
	return c->says == NULL ? c->word(c->arg, i) : c->says(c->arg, i);
}

/* Does a word of `text` begin with `typed`?  ASCII letters in any case. */
static bool
fits(const char *text, const char *typed)
{
	size_t n = strlen(typed), i;
	const char *s;

	for (s = text; *s != '\0'; s++) {
		if (s > text && isalnum((unsigned char)s[-1]))
			continue;
		for (i = 0; i < n && s[i] != '\0'; i++)
			if (tolower((unsigned char)s[i]) !=
			    tolower((unsigned char)typed[i]))
				break;
		if (i == n)
			return true;
	}
	return n == 0;
}

size_t
field_matches(const struct field *f, size_t *found, size_t max)
{
	const struct choices *c = &f->choices;
	char typed[FIELD_SIZE], *t;
	size_t i, n = 0;

	memcpy(typed, f->text, sizeof(typed));
	t = str_trim(typed);
	for (i = 0; i < c->count; i++)
		if (fits(c->word(c->arg, i), t) || fits(says_of(c, i), t)) {
			if (n < max)
				found[n] = i;
			n++;
		}
	return n;
}

static bool
settle_choice(struct field *f, const char *text)
{
	const struct choices *c = &f->choices;
	size_t i, found = 0, n;

	for (i = 0; i < c->count; i++)
		if (str_eq_nocase(c->word(c->arg, i), text) ||
		    str_eq_nocase(says_of(c, i), text))
			break;
	if (i == c->count) {
		n = field_matches(f, &found, 1);
		if (n != 1) {
			str_copy(f->wrong, sizeof(f->wrong),
			    tr(n == 0 ? SAY_FIELD_NO_MATCH
				      : SAY_FIELD_SEVERAL));
			return false;
		}
		i = found;
	}
	str_fmt(f->value, sizeof(f->value), "%s", c->word(c->arg, i));
	str_fmt(f->text, sizeof(f->text), "%s", says_of(c, i));
	f->caret = strlen(f->text);
	return true;
}

static enum rc
settle_weights(struct field *f, char *text, struct err *err)
{
	char *at = text, one[40], total[32];
	const char *sep = "";
	struct buf out;
	grams g, sum = 0;
	size_t len;
	int n = 0;
	enum rc rc = RC_OK;

	buf_init(&out, sizeof(f->value) - 1);
	while (rc == RC_OK && *(at += strspn(at, " ")) != '\0') {
		len = strcspn(at, " ");
		str_fmt(one, sizeof(one), "%.*s", (int)len, at);
		at += len;
		/* "1,2 kg" is one weight */
		len = strspn(at, " ");
		if (tolower((unsigned char)at[len]) == 'k' ||
		    tolower((unsigned char)at[len]) == 'g') {
			at += len;
			len = strcspn(at, " ");
			str_fmt(one + strlen(one), sizeof(one) - strlen(one),
			    "%.*s", (int)len, at);
			at += len;
		}
		rc = weight_parse(&g, tr(f->row->label), one, err);
		if (rc != RC_OK)
			break;
		buf_printf(&out, "%s%" PRId64, sep, g);
		sep = ",";
		sum += g;
		n++;
	}
	if (rc == RC_OK && out.full)
		rc = err_set(err, RC_INVALID, 0, "%s", tr(SAY_TOO_MANY));
	if (rc == RC_OK) {
		str_copy(f->value, sizeof(f->value), buf_text(&out));
		weight_print(total, sizeof(total), sum);
		str_fmt(f->shown, sizeof(f->shown), trn(SAY_N_WEIGHTS, n), n,
		    total);
	}
	buf_fini(&out);
	return rc;
}

static enum rc
settle_number(struct field *f, const char *text, struct err *err)
{
	const char *what = tr(f->row->label);
	char shown[48];
	int64_t v;
	int dc;
	enum rc rc;

	if (f->row->kind == FIELD_COUNT) {
		if ((rc = int_parse(&v, what, text, 0, COUNT_MAX, err)) ==
		    RC_OK)
			str_fmt(f->value, sizeof(f->value), "%" PRId64, v);
	} else if (f->row->kind == FIELD_WEIGHT) {
		if ((rc = weight_parse(&v, what, text, err)) == RC_OK) {
			str_fmt(f->value, sizeof(f->value), "%" PRId64, v);
			str_copy(f->shown, sizeof(f->shown),
			    weight_print(shown, sizeof(shown), v));
		}
	} else if (f->row->kind == FIELD_DEGREES) {
		if ((rc = temp_parse(&dc, what, text, err)) == RC_OK) {
			temp_print(shown, sizeof(shown), dc);
			str_copy(f->shown, sizeof(f->shown), shown);
			str_fmt(f->value, sizeof(f->value), "%.*s",
			    (int)strcspn(shown, " "), shown);
		}
	} else if ((rc = price_parse(&v, what, text, err)) == RC_OK) {
		price_print(f->value, sizeof(f->value), v);
	}
	return rc;
}

/* What was typed as "yesterday" stays that day when midnight has passed: `was`
 * is what the same text was settled for before, if it was. */
static enum rc
settle_date(struct field *f, const char *text, const char *was, day_no today,
    struct err *err)
{
	bool past = (f->row->flags & FIELD_PAST) != 0;
	day_no d;
	enum rc rc = was[0] != '\0' ? day_parse(&d, "date", was, err)
				    : when_parse(&d, text, today, past, err);

	if (rc != RC_OK)
		return rc;
	day_print(f->value, sizeof(f->value), d);
	when_words(f->shown, sizeof(f->shown), d, today);
	return RC_OK;
}

bool
field_settle(struct field *f, day_no today)
{
	char typed[FIELD_SIZE], was[FIELD_SIZE], *text;
	struct err err = { 0 };
	enum rc rc = RC_OK;

	memcpy(typed, f->text, sizeof(typed));
	memcpy(was, f->value, sizeof(was));
	text = str_trim(typed);
	f->value[0] = f->shown[0] = f->wrong[0] = '\0';
	if (text[0] == '\0') {
		if ((f->row->flags & FIELD_MUST) == 0)
			return true;
		str_copy(f->wrong, sizeof(f->wrong), tr(SAY_FIELD_MUST));
		return false;
	}
	switch (f->row->kind) {
	case FIELD_TEXT:
		str_copy(f->value, sizeof(f->value), text);
		break;
	case FIELD_CHOICE:
		return settle_choice(f, text);
	case FIELD_DATE:
		rc = settle_date(f, text, was, today, &err);
		break;
	case FIELD_WEIGHTS:
		rc = settle_weights(f, text, &err);
		break;
	case FIELD_COUNT:
	case FIELD_WEIGHT:
	case FIELD_DEGREES:
	case FIELD_PRICE:
		rc = settle_number(f, text, &err);
		break;
	}
	if (rc == RC_OK)
		return true;
	f->value[0] = '\0';
	str_fmt(f->wrong, sizeof(f->wrong), "%s", err.text);
	utf8_clean(f->wrong);
	return false;
}
