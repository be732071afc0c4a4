/*
 * store/undo.h - steps that may be taken back, and those that were.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_UNDO_H
#define STORE_UNDO_H

#include <stdint.h>

#include "base/err.h"
#include "store/audit.h"

struct store;

/*
 * undo_rows_open - rows of the audit trail since `from_utc` that were not taken
 * back, newest first, out of the newest `most`.  RC_OK; the caller frees with
 * audit_list_fini().
 */
enum rc undo_rows_open(struct audit_list *out, struct store *st,
    int64_t from_utc, int64_t most, struct err *err) MUST_CHECK;

/* undone_add - the step of that row is taken back; the newest row of the audit
 * trail says so. */
enum rc undone_add(
    struct store *st, int64_t step_id, struct err *err) MUST_CHECK;

#endif /* STORE_UNDO_H */
