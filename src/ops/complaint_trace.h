/*
 * complaint_trace.h - the chain a complaint keeps, and what changed since.
 * Private to src/ops.
 */
#ifndef OPS_COMPLAINT_TRACE_H
#define OPS_COMPLAINT_TRACE_H

#include "base/buf.h"
#include "ops/station.h"
#include "store/complaints.h"

#define COMPLAINT_TRACE_MAX ((size_t)64 * 1024 * 1024)

/* complaint_trace_write - the chain of c's code or dish now, as JSON. */
enum rc complaint_trace_write(struct buf *out, struct station *sn,
    const struct complaint *c, struct err *err) MUST_CHECK;

/* Something that is not as it was. */
struct complaint_change {
	char what[80]; /* a unit, or a word of the batch */
	char then[120], now[120];
};

struct complaint_changes {
	struct complaint_change *items; /* owned: free() */
	size_t count;
};

/* complaint_compare - two such chains of one thing; false when either is not
 * JSON. */
bool complaint_compare(
    struct complaint_changes *out, const char *then, const char *now);

/* complaint_trace_text - append the frozen chain for a person, a line for each
 * thing that matters at the pass. */
void complaint_trace_text(struct buf *out, const char *trace);

#endif /* OPS_COMPLAINT_TRACE_H */
