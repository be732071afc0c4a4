/*
 * closing.h - record what came and what was sold, for the close of a service
 * and for an import alike.  Private to src/ops.
 */
#ifndef OPS_CLOSING_H
#define OPS_CLOSING_H

#include "base/err.h"
#include "config/config.h"
#include "ops/station.h"
#include "store/bookings.h"
#include "store/sales.h"

struct closing_in {
	const struct service *service;
	int64_t seated, walk_ins; /* -1: as recorded before */
	const struct sale
	    *sales; /* `dish` filled in; others stay as they are */
	size_t count;
};

/*
 * closing_record - add or correct, inside the transaction.  Each correction
 * has an audit row of its own with what stood there before; a first record has
 * none here.  *guests and changes[0 .. count - 1] say what became of each part.
 * RC_OK
 * RC_INVALID  seated above booked, more sold than is believable, ran out later
 *             than there were guests, or no guests known
 * RC_REFUSED  the service has not begun
 */
enum rc closing_record(enum change *guests, enum change *changes,
    struct station *sn, const struct moment *at, const struct closing_in *in,
    struct err *err) MUST_CHECK;

/* service_label - "2026-11-27/dinner"; `size` 48 suffices.  Returns `dst`. */
char *service_label(char *dst, size_t size, const struct service *s);

#endif /* OPS_CLOSING_H */
