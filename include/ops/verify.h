/*
 * ops/verify.h - was anything of the record changed, removed or cut off?
 */
#ifndef OPS_VERIFY_H
#define OPS_VERIFY_H

#include "base/buf.h"
#include "base/format.h"
#include "ops/station.h"
#include "store/verify.h"

struct verify_order {
	const char *file;  /* a backup to look at; NULL: the station's own */
	const char *paper; /* code from a day sheet as keyed; NULL: none */
	enum format format;
	verify_fn *tell; /* progress, or NULL */
	void *arg;
};

/*
 * verify - look through a station file, which is not changed, and append what
 * was found (exchange/verify_out.h), also when it returns RC_FAILED.
 * RC_OK        everything is as it was recorded
 * RC_FAILED    something is not, or the code from paper is not in this trail
 * RC_INVALID   the code is keyed wrong, or not a station file
 * RC_REFUSED, RC_NOTFOUND as store_verify()
 */
enum rc verify(struct buf *out, struct station *sn,
    const struct verify_order *o, struct err *err) MUST_CHECK;

/* The end of the trail, for a day sheet and a screen. */
struct trail_end {
	int64_t row;   /* the last; 0 none */
	char code[32]; /* as it is keyed from paper, in groups */
};
enum rc trail_end(
    struct trail_end *out, struct station *sn, struct err *err) MUST_CHECK;

/* changes_of - append what a row of the audit trail changed, a line each
 * (exchange/changes_out.h).  RC_OK also when it changed nothing. */
enum rc changes_of(struct buf *out, struct station *sn, int64_t row,
    struct err *err) MUST_CHECK;

#endif /* OPS_VERIFY_H */
