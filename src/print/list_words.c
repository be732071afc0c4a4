/* list_words.c - small words several lists share. */
#include "list_words.h"

#include <inttypes.h>

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
list_plan_head(struct ticket *t, const struct plan_report *r, const char *title)
{
	char day[48], from[48], made[48], typed[32] = "";

	ticket_printf(t, TICKET_TITLE, NULL, "%s, %s %s", title, r->service,
	    list_day_short(day, sizeof(day), r->day));
	ticket_printf(t, TICKET_SMALL, NULL, "%s, %s",
	    day_words(day, sizeof(day), r->day),
	    list_clock(from, sizeof(from), r->start_utc, r->day));
	if (r->typed)
		str_copy(typed, sizeof(typed), " (typed by the chef)");
	ticket_printf(t, TICKET_SMALL, NULL,
	    "%" PRId64 " covers booked, %" PRId64 ".%" PRId64
	    " guests expected%s",
	    r->covers, r->expected_c / 100, r->expected_c % 100 / 10, typed);
	if (r->earlier > 0)
		ticket_printf(t, TICKET_SMALL, NULL,
		    "after the needs of %d earlier service%s", r->earlier,
		    PLURAL(r->earlier));
	ticket_printf(t, TICKET_SMALL, NULL, "%s, made %s", r->kitchen,
	    time_short(made, sizeof(made), r->made_utc));
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
