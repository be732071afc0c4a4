/* list_words.c - small words several lists share. */
#include "list_words.h"

#include "base/clock.h"
#include "base/str.h"

char *
list_day_short(char *dst, size_t size, day_no day)
{
	struct civil c = day_civil(day);

	str_fmt(dst, size, "%s %d %s", weekday_short(day_weekday(day)), c.day,
	    month_short(c.month));
	return dst;
}

char *
list_clock(char *dst, size_t size, int64_t utc, day_no day)
{
	struct local_time at = local_from_utc(utc);

	if (at.day != day)
		return time_short(dst, size, utc);
	str_fmt(dst, size, "%02d:%02d", at.hour, at.minute);
	return dst;
}

const char *
list_species(const struct species_table *t, const char *code)
{
	const struct species *sp = species_find(t, code);

	return sp == NULL ? code : sp->name;
}

void
list_paragraph(struct ticket *t, enum ticket_style style, struct buf *text)
{
	ticket_add(t, style, buf_text(text), NULL);
	buf_fini(text);
}

void
list_signature(struct ticket *t, const char *what)
{
	ticket_add(t, TICKET_RULE, NULL, NULL);
	ticket_add(t, TICKET_LINE, what, NULL);
	ticket_add(t, TICKET_LINE, NULL, NULL);
	ticket_add(t, TICKET_LINE, NULL, NULL);
	ticket_add(t, TICKET_RULE, NULL, NULL);
}
