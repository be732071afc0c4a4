/*
 * ops/records_page.h - yields, waste and the audit trail over time.
 *
 * A week begins on Monday (ISO 8601).  Every call asks for a number of weeks or
 * rows, so that its cost does not grow with the record.  Nothing is recorded.
 */
#ifndef OPS_RECORDS_PAGE_H
#define OPS_RECORDS_PAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"
#include "core/yieldlearn.h"
#include "ops/station.h"
#include "store/audit.h"

#define RECORDS_WEEKS_MAX 53

/* week_monday - the Monday of the week a day is in. */
day_no week_monday(day_no day);

struct waste_week {
	day_no monday;
	int64_t preps;          /* breakdowns */
	grams worked_g;         /* fish that went into them */
	grams waste_g;          /* thrown away at the board */
	grams trim_g, frames_g; /* kept */
	grams discarded_g;      /* thrown away later: batches and portions */
	grams missing_g;        /* counted as gone; below 0: found again */
};

/*
 * waste_weeks - `weeks` (1..RECORDS_WEEKS_MAX) of them, oldest first; the last
 * is the week of `day`.  RC_OK, RC_FAILED.
 */
enum rc waste_weeks(struct waste_week *out, struct station *sn, int weeks,
    day_no day, struct err *err) MUST_CHECK;

/* waste_share_bp - thrown away at the board, of what went in; 1/10 000, rounded
 * to nearest, 0 when nothing went in. */
int waste_share_bp(const struct waste_week *w);

struct yield_week {
	int64_t preps;     /* breakdowns that count here */
	int64_t set_aside; /* others, outside the gate */
	grams in_g, out_g; /* of those that count */
};

/* One way to cut one species, over the weeks. */
struct yield_course {
	struct yield_key key;
	bool has_published;
	struct yield published;
	bool has_learned;
	struct yield_guess learned; /* what is planned with now */
	int64_t learned_from;       /* breakdowns behind it */
	int64_t preps;              /* in all these weeks */
	struct yield_week week[RECORDS_WEEKS_MAX];
};

struct yield_courses {
	struct yield_course *items; /* most breakdowns first; owned */
	size_t count;
	int weeks;
	day_no monday; /* of the first week */
};

/* yield_courses_open - as waste_weeks().  The caller frees with
 * yield_courses_fini(), whatever is returned. */
enum rc yield_courses_open(struct yield_courses *out, struct station *sn,
    int weeks, day_no day, struct err *err) MUST_CHECK;
void yield_courses_fini(struct yield_courses *c);

/* yield_week_bp - out over in, rounded down as a plan does; 0 without any. */
int yield_week_bp(const struct yield_week *w);

/*
 * trail_open - at most `most` rows of the audit trail before row `before` (0:
 * from the newest on), newest first; *last is the number of the newest row of
 * all.  audit_list_fini() frees, whatever is returned.
 */
enum rc trail_open(struct audit_list *out, int64_t *last, struct station *sn,
    int64_t before, int64_t most, struct err *err) MUST_CHECK;

#endif /* OPS_RECORDS_PAGE_H */
