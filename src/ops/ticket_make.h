/*
 * ticket_make.h - the lines of each list from the record.  Private to src/ops.
 */
#ifndef OPS_TICKET_MAKE_H
#define OPS_TICKET_MAKE_H

#include "ops/ticket.h"

/* Return as ticket_make(). */
enum rc ticket_make_plan(struct ticket *t, struct station *sn,
    const struct ticket_wish *wish, struct err *err) MUST_CHECK;
enum rc ticket_make_recall(struct ticket *t, struct station *sn,
    const char *code, struct err *err) MUST_CHECK;
enum rc ticket_make_day(struct ticket *t, struct station *sn, const char *day,
    struct err *err) MUST_CHECK;
/* ticket_report.c */
enum rc ticket_make_report(struct ticket *t, struct station *sn,
    const struct ticket_wish *wish, struct err *err) MUST_CHECK;

#endif /* OPS_TICKET_MAKE_H */
