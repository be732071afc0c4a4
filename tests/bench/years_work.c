/* years_work.c - chance, time, the audit trail and labels of the years. */
#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"
#include "tests/unit/chance.h"
#include "years_work.h"

static const char *const people[] = { "AK", "LM", "RS", "DT" };

int64_t
years_chance(struct work *w, int64_t below)
{
	return (int64_t)(chance_next(&w->seed) % (uint64_t)below);
}

bool
years_one_in(struct work *w, int n)
{
	return years_chance(w, n) == 0;
}

const char *
years_someone(struct work *w)
{
	return people[years_chance(w, 4)];
}

void
years_time(struct work *w, int hour, int minute)
{
	w->utc = utc_from_local(w->day, hour, minute, 0);
	w->offset = local_from_utc(w->utc).offset_min;
}

int64_t
years_end_of(day_no day)
{
	return utc_from_local(day, 23, 59, 59);
}

int64_t
years_id(struct work *w, enum row_kind k)
{
	return w->r->next[k]++;
}

void
years_audit(struct work *w, const char *by, const char *action,
    const char *subject, const char *detail)
{
	struct moment at = { .utc = w->utc, .offset_min = w->offset };

	str_copy(at.by, sizeof(at.by), by);
	rows_audit(w->r, &at, action, subject, detail);
}

grams
years_about(struct work *w, grams g, int percent)
{
	return g *
	    (10000 - percent * 100 + years_chance(w, 200 * percent + 1)) /
	    10000;
}

/* --- labels ---------------------------------------------------------------*/

static void
digest(struct work *w, char hex[65])
{
	static const char set[] = "0123456789abcdef";
	uint64_t v = 0;
	int i;

	for (i = 0; i < 64; i++) {
		if (i % 7 == 0)
			v = chance_next(&w->seed);
		hex[i] = set[v & 15];
		v >>= 4;
	}
	hex[64] = '\0';
}

/* Of a batch or a unit: the other id is 0. */
void
years_print(struct work *w, int64_t batch, int64_t unit, const char *code,
    const char *says, const char *by)
{
	char hex[65], shown[CODE_SIZE], detail[160];
	int copy, copies = years_one_in(w, 1500) ? 2 : 1;

	code_show(shown, code);
	for (copy = 0; copy < copies; copy++) {
		digest(w, hex);
		row_put(w->r, ROW_JOB, "ikkkwtwttiit", years_id(w, ROW_JOB),
		    batch, unit, INT64_C(0), 0, says, copy, "main", hex, w->utc,
		    w->utc + 2, by);
		str_fmt(detail, sizeof(detail),
		    "%s, copy %d, picture %.16s on main (usb:any)", says, copy,
		    hex);
		years_audit(
		    w, by, copy == 0 ? "print" : "reprint", shown, detail);
	}
}

void
years_print_list(struct work *w, const char *kind, const char *title)
{
	int64_t id = years_id(w, ROW_TICKET);
	char hex[65], detail[160];
	int page;

	row_put(w->r, ROW_TICKET, "itttiwt", id, kind, title, w->f->ticket,
	    w->utc, w->offset, "AK");
	for (page = 1; page <= 2; page++) {
		digest(w, hex);
		row_put(w->r, ROW_JOB, "ikkkwtwttiit", years_id(w, ROW_JOB),
		    INT64_C(0), INT64_C(0), id, page, "use-by", 0, "roll", hex,
		    w->utc, w->utc + 2, "AK");
	}
	str_fmt(detail, sizeof(detail), "%s, 2 page(s) on roll", title);
	years_audit(w, "AK", "list", kind, detail);
}
