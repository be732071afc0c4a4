/*
 * ops/ticket.h - prep list, order list, recall list, day sheet and reports on
 * paper.
 *
 * A list is made from the record as it is now, looked at or printed.  What is
 * printed is kept as it was, so that a reprint says the same.
 */
#ifndef OPS_TICKET_H
#define OPS_TICKET_H

#include <stdint.h>

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "labels/ticket.h"
#include "ops/label.h"
#include "ops/plan.h"
#include "ops/station.h"
#include "store/tickets.h"

enum ticket_report { REPORT_WASTE, REPORT_YIELDS };

struct ticket_wish {
	enum ticket_kind kind;
	enum ticket_report report; /* of TICKET_REPORT */
	/* "DATE/NAME" of prep and order, a code of recall, "DATE" or NULL for
	 * today of day, and of report: the week it ends with */
	const char *what;
	bool why, strict; /* of prep and order, as struct plan_wish */
	const struct plan_say *says;
	size_t say_count;
};

/*
 * ticket_make - the list; records nothing.
 * RC_OK, *out is owned by the caller (ticket_free); RC_INVALID, RC_NOTFOUND,
 * RC_REFUSED: a service that is over, a day that has not begun.
 */
enum rc ticket_make(struct ticket **out, struct station *sn,
    const struct ticket_wish *wish, struct err *err) MUST_CHECK;

/* ticket_show - append it as text of 40 columns, JSON or CSV. */
void ticket_show(struct buf *out, const struct ticket *t, enum format format);

/* What it would be printed on. */
struct ticket_paper {
	const char *printer; /* name in the settings; NULL: [printer] tickets */
	int width_mm, dpi;   /* 0: the printer's */
};

/*
 * ticket_preview - a page as PNG, as it would come out the first time; *pages
 * is how many there are.  Records nothing.
 * RC_OK, RC_INVALID: no such page or printer, or as ticket_render().
 */
enum rc ticket_preview(struct buf *out, int *pages, struct station *sn,
    const struct ticket *t, int page, const struct ticket_paper *paper,
    struct err *err) MUST_CHECK;

/*
 * ticket_record - keep a list that is going to be printed on `p`, inside the
 * caller's transaction; *pages is how many pages to queue.
 * RC_OK, RC_INVALID: the printer has no continuous roll, or as
 * ticket_render().
 */
enum rc ticket_record(int64_t *id, int *pages, struct station *sn,
    enum ticket_kind kind, const struct ticket *t,
    const struct printer_setting *p, const struct moment *at,
    struct err *err) MUST_CHECK;

/*
 * ticket_page_picture - page 1..n of a list that was kept, drawn for `p`.
 * `reprint` as in struct label_facts.
 * RC_OK, *out is owned by the caller; RC_NOTFOUND, and as ticket_record().
 */
enum rc ticket_page_picture(struct bitmap **out, struct station *sn,
    int64_t ticket_id, int page, const struct printer_setting *p, int reprint,
    struct err *err) MUST_CHECK;

/*
 * ticket_print - keep a list and queue its pages, in one transaction, then work
 * the queue as label_print().  Of `order` only printer (NULL: [printer]
 * tickets), by, only_queue and wait_ms count; *out has a job for each page.
 */
enum rc ticket_print(struct job_list *out, struct station *sn,
    enum ticket_kind kind, const struct ticket *t,
    const struct label_order *order, struct err *err) MUST_CHECK;

#endif /* OPS_TICKET_H */
