/*
 * store/trail.h - the end of the audit trail: what paper can witness.
 */
#ifndef STORE_TRAIL_H_
#define STORE_TRAIL_H_

#include <stdint.h>

#include "base/digest.h"
#include "base/err.h"

struct store;

#define TRAIL_FILE_SIZE 40

struct trail_head {
	char file[TRAIL_FILE_SIZE];  /* random, made with the trail */
	int64_t row;                 /* the last; 0: none yet */
	char digest[DIGEST_HEX_MAX]; /* over everything up to it */
};

/* trail_head - as it stands in the file.  RC_OK; RC_INVALID when somebody took
 * it out. */
enum rc trail_head(
    struct trail_head *out, struct store *st, struct err *err) MUST_CHECK;

#endif /* STORE_TRAIL_H_ */
