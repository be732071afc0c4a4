/*
 * verify_inner.h - what the parts of verify.c share.  Private to src/store.
 */
#ifndef STORE_VERIFY_INNER_H
#define STORE_VERIFY_INNER_H

#include "known.h"
#include "stmt.h"
#include "store/verify.h"

struct verifying {
	struct trail_report *out;
	const struct verify_wish *wish;
	struct store *st; /* a connection of its own, with the tables loaded */
	struct known **known; /* for each table */
	struct buf scratch;
	int64_t done, total;
	size_t cap; /* of the faults */
};

/* verify_fault - add one; `key` may be "". */
void verify_fault(struct verifying *v, enum tamper_kind kind, const char *table,
    const char *key, const char *fmt, ...)
    __attribute__((format(printf, 5, 6)));

/* verify_goes_on - one row more of a phase; RC_REFUSED when it is stopped. */
enum rc verify_goes_on(
    struct verifying *v, enum verify_phase phase, struct err *err) MUST_CHECK;

/* verify_trail - the chain, and what it says of each row. */
enum rc verify_trail(struct verifying *v, struct err *err) MUST_CHECK;
/* verify_changes - the lines of one row of the trail. */
enum rc verify_changes(struct verifying *v, int64_t row, const char *changes,
    struct err *err) MUST_CHECK;
/* verify_rows - every row of every table, and those that are gone. */
enum rc verify_rows(struct verifying *v, struct err *err) MUST_CHECK;
/* verify_schema - tables, triggers and views as this program makes them. */
enum rc verify_schema(struct verifying *v, struct err *err) MUST_CHECK;

#endif /* STORE_VERIFY_INNER_H */
