/*
 * report_load.h - what a report or a list on paper is written from.  Private
 * to src/ops.
 */
#ifndef OPS_REPORT_LOAD_H
#define OPS_REPORT_LOAD_H

#include "exchange/plan_out.h"
#include "exchange/stock_out.h"
#include "ops/plan.h"
#include "ops/station.h"
#include "ops/trace_page.h"
#include "store/deliveries.h"

/* plan_report_load - a service planned, as plan().  The caller frees with
 * plan_report_fini(), whatever is returned. */
enum rc plan_report_load(struct plan_report *r, struct station *sn,
    const struct plan_wish *wish, struct err *err) MUST_CHECK;
void plan_report_fini(struct plan_report *r);

/* plan_suppliers - those the plan's orders name; one who is no longer known is
 * left out.  *out is owned by the caller (free()), whatever is returned. */
enum rc plan_suppliers(struct supplier **out, size_t *count, struct station *sn,
    const struct plan *p, struct err *err) MUST_CHECK;

/*
 * trace_report_load - the chain of a code, as trace(); with `forward` that of
 * the whole batch also when it is a portion's.  The caller frees with
 * trace_report_fini(), whatever is returned.
 * trace_report_window - the same, with only the units of the window in
 * r->portions when it goes forward.
 */
enum rc trace_report_load(struct trace_report *r, struct station *sn,
    const char *code, bool forward, struct err *err) MUST_CHECK;
enum rc trace_report_window(struct trace_report *r, struct station *sn,
    const char *code, const struct trace_window *w, struct err *err) MUST_CHECK;
void trace_report_fini(struct trace_report *r);

#endif /* OPS_REPORT_LOAD_H */
