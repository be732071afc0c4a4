/*
 * ops/prep_page.h - the plan of a service for a screen, with what is ticked.
 *
 * The plan is the one of ops/plan.h, as structs.  It records nothing.  Times
 * are UTC seconds unless a name says otherwise.
 */
#ifndef OPS_PREP_PAGE_H
#define OPS_PREP_PAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "core/plan_list.h"
#include "core/work.h"
#include "ops/plan.h"
#include "ops/station.h"
#include "ops/ticket.h"
#include "store/bookings.h"
#include "store/work_marks.h"

#define PREP_SERVICE_SIZE 48 /* "2026-11-27/dinner" */

/* --- services to prepare for ----------------------------------------------*/

#define PREP_SERVICES_MAX 40
#define PREP_DAYS 21 /* looked ahead */

struct prep_service {
	char text[PREP_SERVICE_SIZE];
	struct service service;
	int64_t start_utc, end_utc;
};

struct prep_services {
	struct prep_service items[PREP_SERVICES_MAX]; /* the next first */
	size_t count;
};

/* prep_services - those with bookings that are not over. */
enum rc prep_services(
    struct prep_services *out, struct station *sn, struct err *err) MUST_CHECK;

/* --- a plan ----------------------------------------------------------------*/

/* Tasks of one job that follow each other, or what the bench needs between. */
struct prep_task {
	struct work_key key;
	int job;      /* of the page's jobs; -1: a change or a clean-down */
	int line;     /* of the plan; -1 the same */
	size_t first; /* of the work's tasks, and */
	size_t count; /* how many */
	int64_t starts_s, seconds, slow_s; /* in all; as struct work_task */
	bool learned;        /* all of them from this kitchen's records */
	bool later;          /* the job comes once more further down */
	bool ask_parasites;  /* served raw: a freeze record is asked for */
	int64_t at_a_time;   /* animals out of the fridge; 0: all at once */
	enum allergen board; /* whose board; of the next work when job is -1 */
	enum work_said said;
	struct moment by; /* who said so and when; utc 0: nobody */
};

struct plan_report; /* exchange/plan_out.h */
struct supplier;

struct prep_page {
	char service[PREP_SERVICE_SIZE];
	day_no day;
	const char *name;   /* of the sitting; borrowed from the settings */
	int64_t covers;     /* booked */
	int64_t expected_c; /* covers expected, 1/100 */
	bool typed;         /* by the chef */
	int earlier;        /* services before it that take their share first */
	int64_t made_utc, start_utc, end_utc;
	int64_t took_ms;  /* to plan it */
	int64_t recorded; /* prep_page_version() when it was begun */
	const struct plan *plan;
	const struct work *work;
	const struct work_job *jobs;
	struct prep_task *tasks; /* in working order; owned */
	size_t task_count;
	/* What was said of tasks the plan no longer has: made and counted as
	 * on hand, or no longer needed.  Oldest first; owned. */
	struct work_mark *gone;
	size_t gone_count;
	struct plan_report *report; /* owned */
	struct supplier *suppliers; /* of the orders; owned */
	size_t supplier_count;
};

/*
 * prep_page_open - plan a service now.  Of `wish` the service, strict and what
 * the chef says count.  Takes from milliseconds to a second or two:
 * prep_beside_start() does not wait for it.
 * RC_OK, *out is owned by the caller (prep_page_free); else as plan().
 */
enum rc prep_page_open(struct prep_page **out, struct station *sn,
    const struct plan_wish *wish, struct err *err) MUST_CHECK;
void prep_page_free(struct prep_page *p);

/* prep_page_version - a number that grows with everything recorded in the file:
 * a plan made at another one may no longer be right. */
enum rc prep_page_version(
    int64_t *out, struct station *sn, struct err *err) MUST_CHECK;

/* prep_page_marks - read anew what is ticked. */
enum rc prep_page_marks(
    struct prep_page *p, struct station *sn, struct err *err) MUST_CHECK;

/*
 * Words of a page; each appends.
 * prep_task_words - "fillet 2, pin-bone 4 pieces; 3 at a time".
 * prep_job_words - "supreme skin on, 165 g (150 to 185); 14 portions from 3
 * fish", of a task that is of a job.
 * prep_line_why - where the numbers of a line come from, its sources, and what
 * was left alone and why.
 * prep_cuts - fish by fish, with the gap; of one batch, or all when NULL.
 * prep_fish_words - of one opened fish.
 * prep_orders - the order list by supplier.
 * prep_cautions - what can hurt someone in this work.
 */
void prep_task_words(
    struct buf *out, const struct prep_page *p, const struct prep_task *t);
void prep_job_words(
    struct buf *out, const struct prep_page *p, const struct prep_task *t);
void prep_line_why(struct buf *out, const struct prep_page *p, size_t line);
void prep_cuts(struct buf *out, const struct prep_page *p, const char *batch);
void prep_fish_words(
    struct buf *out, const struct prep_page *p, const struct plan_opened *o);
void prep_orders(struct buf *out, const struct prep_page *p);
void prep_cautions(struct buf *out, const struct prep_page *p);

/*
 * prep_print - the prep list or the order list (TICKET_PREP, TICKET_ORDER) as
 * the page has it, onto paper: as ticket_print().
 */
enum rc prep_print(struct job_list *out, struct station *sn,
    const struct prep_page *p, enum ticket_kind kind,
    const struct label_order *order, struct err *err) MUST_CHECK;

/* prep_take - the batch of a line that is taken, or NULL. */
const struct plan_take *prep_take(
    const struct prep_page *p, int line, const char *batch);

/* --- beside the screen ----------------------------------------------------*/

/* A plan being made in a thread of its own, with a connection of its own to
 * the station file: docs/decisions/0011. */
struct prep_beside;

/*
 * prep_beside_start - `wish` and what it points to are copied.
 * RC_OK, *out is owned by the caller (prep_beside_free); RC_FAILED: no thread.
 */
enum rc prep_beside_start(struct prep_beside **out, struct station *sn,
    const struct plan_wish *wish, struct err *err) MUST_CHECK;

/*
 * prep_beside_take - wait at most `wait_ms` (-1: to its end) for the plan.
 * RC_END: it is still being made.  Else the result of prep_page_open(), once;
 * `b` is then only to be freed.
 */
enum rc prep_beside_take(struct prep_page **out, struct prep_beside *b,
    int wait_ms, struct err *err) MUST_CHECK;

/* prep_beside_free - NULL is accepted.  Waits for a plan still being made. */
void prep_beside_free(struct prep_beside *b);

#endif /* OPS_PREP_PAGE_H */
