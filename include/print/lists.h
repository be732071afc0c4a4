/*
 * print/lists.h - prep list, order list, recall list and day sheet as lines of
 * a ticket.
 *
 * Nothing is worked out here: what stands on paper is what the reports of
 * exchange/ and the records hold.
 */
#ifndef PRINT_LISTS_H
#define PRINT_LISTS_H

#include "exchange/plan_out.h"
#include "exchange/stock_out.h"
#include "labels/ticket.h"
#include "store/bookings.h"
#include "store/days.h"
#include "store/sales.h"

/* list_prep - tasks of a service in working order, each to tick off; with
 * r->why the reckoning behind every number. */
void list_prep(struct ticket *t, const struct plan_report *r);

/*
 * list_order - what is missing, by supplier.  `suppliers` has those named in
 * the plan's orders as far as they are known.
 */
void list_order(struct ticket *t, const struct plan_report *r,
    const struct supplier *suppliers, size_t count);

/* list_recall - a batch and all that was made of it, what to pull first; `r`
 * is forward from the batch. */
void list_recall(struct ticket *t, const struct trace_report *r);

/* One civil day as it was recorded. */
struct day_report {
	const char *kitchen;
	const struct species_table *species;
	day_no day;
	int64_t now_utc;
	struct batch_list batches;
	struct prep_list preps;
	struct prep_list struck; /* breakdowns entered by mistake */
	struct day_event_list events;
	struct day_hold_list holds;
	struct service_list services; /* of the day, closed or not */
	struct sales_record closed;   /* of the day */
	struct day_label_list labels;
	int64_t trail_row;      /* last row of the audit trail */
	const char *trail_code; /* its code, core/paper_code.h, in groups */
};

/* list_day - the sheet of a day, to be signed. */
void list_day(struct ticket *t, const struct day_report *r);

/* list_drill - a recall in play: exchange/drill_out.h. */
struct drill_report;
void list_drill(struct ticket *t, const struct drill_report *r);

#endif /* PRINT_LISTS_H */
