/*
 * ops/close.h - close a service: who came, and what was sold.
 */
#ifndef OPS_CLOSE_H
#define OPS_CLOSE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

#define CLOSE_SOLD_MAX 64

struct close_in {
	const char *service;      /* "DATE/NAME" */
	int64_t seated, walk_ins; /* covers; -1: not said */
	const char *const *sold; /* "DISH:N", "DISH:N:COVERS" or "DISH:N:out" */
	size_t sold_count;       /* at most CLOSE_SOLD_MAX */
	bool correct;            /* it was closed already, put it right */
	const char *by;
};

/*
 * close_service - record the service and append it beside its forecast, which
 * is made from what was known before it.  A dish without a word in `sold`
 * takes the portions scanned out for the service; with none of those it is not
 * counted.  A correction changes what it names and nothing else; before and
 * after go into the audit trail.
 * RC_OK
 * RC_INVALID   malformed, or not to be believed: the text says what
 * RC_NOTFOUND  no such dish, or no bookings for the service
 * RC_REFUSED   it has not begun, is closed already, or is not closed yet
 */
enum rc close_service(struct buf *out, struct station *sn,
    const struct close_in *in, enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_CLOSE_H */
