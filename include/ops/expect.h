/*
 * ops/expect.h - numbers the chef types for a service.
 */
#ifndef OPS_EXPECT_H
#define OPS_EXPECT_H

#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

/* What is typed for a dish. */
enum expect_kind {
	EXPECT_FLOOR,   /* at least so many portions */
	EXPECT_CEILING, /* at most */
	EXPECT_FIXED,   /* exactly */
	EXPECT_CLEAR,   /* nothing any more */
};

#define EXPECT_WORDS_MAX 128

struct expect_in {
	const char *service; /* "DATE/NAME" */
	int64_t covers;      /* walk-ins included; -1: not said */
	struct {
		enum expect_kind kind;
		const char *text; /* "DISH:N"; to clear "DISH" or "covers" */
	} words[EXPECT_WORDS_MAX];
	size_t count;
	const char *by; /* may be NULL when nothing is typed */
};

/*
 * expect - record what was typed and append the forecast with it; with nothing
 * typed only the forecast.  Clearing comes first, so that a dish may be cleared
 * and typed anew.
 * RC_OK
 * RC_INVALID   malformed, out of range, twice, or numbers that contradict each
 *              other
 * RC_NOTFOUND  no such dish, or no bookings for the service
 * RC_REFUSED   the service is over
 */
enum rc expect(struct buf *out, struct station *sn, const struct expect_in *in,
    enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_EXPECT_H */
