/*
 * store/floors.h - numbers that may have been given out without being in the
 * file: after a restore codes go on behind them.
 */
#ifndef STORE_FLOORS_H
#define STORE_FLOORS_H

#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "store/moment.h"

struct store;

/* code_floor - the last number that may have been given out: running numbers of
 * batches of a day, or (DAY_NONE) serial numbers of portions; 0: none beyond
 * the file's own. */
enum rc code_floor(
    int64_t *out, struct store *st, day_no day, struct err *err) MUST_CHECK;

/* code_floor_add - in an open transaction. */
enum rc code_floor_add(struct store *st, day_no day, int64_t number,
    const char *why, const struct moment *at, struct err *err) MUST_CHECK;

/*
 * jobs_doubt - every label and page that is queued or on its way may have come
 * out after a backup was taken: a person is asked, nothing is sent by itself.
 * In an open transaction; *count of them.
 */
enum rc jobs_doubt(int64_t *count, struct store *st, int64_t now_utc,
    struct err *err) MUST_CHECK;

#endif /* STORE_FLOORS_H */
