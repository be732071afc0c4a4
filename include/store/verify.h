/*
 * store/verify.h - was anything changed, removed, put in or cut off?
 *
 * Follows the audit trail from its first row, so that it knows of every row of
 * the record which digest it must have, then looks at every row there is.
 * docs/trail.md says what that finds and what it cannot.
 */
#ifndef STORE_VERIFY_H
#define STORE_VERIFY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "store/trail.h"

enum tamper_kind {
	TAMPER_TRAIL_CHANGED, /* a row of the audit trail */
	TAMPER_TRAIL_MISSING,
	TAMPER_TRAIL_EXTRA,
	TAMPER_TRAIL_END, /* the head does not fit the last row */
	TAMPER_ROW_CHANGED,
	TAMPER_ROW_MISSING,
	TAMPER_ROW_UNKNOWN, /* the trail does not tell of it */
	TAMPER_TABLES       /* tables, triggers, views */
};
/* tamper_word - "trail-changed" and so on. */
const char *tamper_word(enum tamper_kind k);

struct trail_fault {
	enum tamper_kind kind;
	char table[48]; /* "audit" for a row of the trail */
	char key[80];   /* as the trail writes it; of a range the first */
	char text[240]; /* one line for a person */
};

#define TRAIL_FAULTS_MAX 200 /* kept; the others are counted */

struct trail_report {
	struct trail_head head;
	int64_t trail_rows, adopted_rows; /* with a digest; from before it */
	int64_t rows;                     /* of the record, looked at */
	struct trail_fault *faults;       /* owned */
	size_t fault_count;
	int64_t found;     /* faults in all */
	int64_t paper_row; /* row of the trail with that code; 0: none */
};

enum verify_phase {
	VERIFY_TRAIL, /* rows of the trail */
	VERIFY_ROWS   /* rows of the record */
};

/* Told of `done` of about `total` rows of a phase.  False stops. */
typedef bool verify_fn(
    void *arg, enum verify_phase phase, int64_t done, int64_t total);

struct verify_wish {
	const char
	    *paper;      /* a code as paper_code_parse() gives it; NULL none */
	verify_fn *tell; /* or NULL */
	void *arg;
};

/*
 * store_verify - of the file at `path`, as it is now; it is not changed, and a
 * station may go on recording in it.  About 16 bytes of memory for each row of
 * the record.  The caller frees with trail_report_fini(), whatever is returned.
 * RC_OK        looked through; out->found says what is wrong, 0 nothing
 * RC_REFUSED   `tell` stopped it, or the file is of an older schema and has no
 *              trail yet
 * RC_NOTFOUND  no such file
 * RC_INVALID   not a station file, or damaged
 * RC_FAILED    it cannot be read
 */
enum rc store_verify(struct trail_report *out, const char *path,
    const struct verify_wish *wish, struct err *err) MUST_CHECK;
void trail_report_fini(struct trail_report *r);

#endif /* STORE_VERIFY_H */
