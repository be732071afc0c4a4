/* hand_words.c - dates and amounts of stock in words and large digits. */
#include "hand_words.h"

#include "base/str.h"
#include "says_hand.h"

char *
hand_date(char *dst, size_t size, day_no day)
{
	struct civil c = day_civil(day);

	str_fmt(dst, size, tr(SAY_HAND_DATE),
	    tr(weekday_short(day_weekday(day))), c.day,
	    tr(month_short(c.month)));
	return dst;
}

bool
hand_at_end(int64_t utc, struct local_time *t)
{
	*t = local_from_utc(utc);
	return t->hour == 23 && t->minute == 59;
}

char *
hand_date_at(char *dst, size_t size, int64_t use_by_utc)
{
	struct local_time t;
	char date[48];

	if (hand_at_end(use_by_utc, &t))
		return hand_date(dst, size, t.day);
	str_fmt(dst, size, "%s %02d:%02d", hand_date(date, sizeof(date), t.day),
	    t.hour, t.minute);
	return dst;
}

/* How long it is good for, whatever else is the matter. */
static void
days_words(char *dst, size_t size, const struct on_hand_row *r)
{
	struct local_time t;

	if (r->days_left > 1)
		str_fmt(
		    dst, size, trn(SAY_HAND_LEFT, r->days_left), r->days_left);
	else if (r->days_left == 1)
		str_copy(dst, size, tr(SAY_HAND_TOMORROW));
	else if (hand_at_end(r->use_by_utc, &t))
		str_copy(dst, size, tr(SAY_HAND_TODAY));
	else
		str_fmt(dst, size, tr(SAY_HAND_TODAY_UNTIL), t.hour, t.minute);
}

enum style
hand_standing(char *dst, size_t size, const struct on_hand_row *r)
{
	char days[64];

	if (r->expired) {
		str_copy(dst, size,
		    tr(r->held ? SAY_HAND_EXPIRED_HELD : SAY_HAND_EXPIRED));
		return STYLE_BAD;
	}
	if (r->held) {
		str_copy(dst, size,
		    tr(r->is == ON_HAND_FROZEN  ? SAY_HAND_FROZEN_HELD
			    : r->days_left == 0 ? SAY_HAND_HELD_TODAY
						: SAY_HAND_HELD));
		return STYLE_BAD;
	}
	days_words(days, sizeof(days), r);
	if (r->is == ON_HAND_FROZEN && r->days_left > 0)
		str_fmt(dst, size, tr(SAY_HAND_FROZEN), r->days_left);
	else if (r->is == ON_HAND_THAWED)
		str_fmt(dst, size, tr(SAY_HAND_THAWED), days);
	else
		str_copy(dst, size, days);
	return r->days_left == 0 ? STYLE_WARN : STYLE_PLAIN;
}

char *
hand_portions(char *dst, size_t size, int64_t n)
{
	str_fmt(dst, size, trn(SAY_HAND_PORTIONS, (long)n), (long long)n);
	return dst;
}

char *
hand_amount(char *dst, size_t size, const struct on_hand_row *r)
{
	if (r->kind == CODE_PORTION)
		return hand_portions(dst, size, r->count);
	if (r->count == 0)
		return weight_print(dst, size, r->weight_g);
	str_fmt(
	    dst, size, trn(SAY_HAND_FISH, (long)r->count), (long long)r->count);
	return dst;
}

int
hand_big(const struct pane *p, int x, int y, enum style style, const char *text)
{
	if (x + big_columns(text) <= p->w && y + BIG_ROWS <= p->h)
		return pane_big(p, x, y, style, text);
	return pane_put(p, x, y, style, text) + 1;
}

int
hand_big_date(const struct pane *p, int x, int y, enum style style, day_no day)
{
	char date[48], number[16];
	struct civil c = day_civil(day);

	hand_date(date, sizeof(date), day);
	str_fmt(number, sizeof(number), "%d.%d.", c.day, c.month);
	if (x + big_columns(date) <= p->w || x + big_columns(number) > p->w)
		return hand_big(p, x, y, style, date);
	return hand_big(p, x, y, style, number);
}
