/*
 * store/audit.h - what was done, by whom, when.  Insert only.
 */
#ifndef STORE_AUDIT_H
#define STORE_AUDIT_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "store/moment.h"

struct store;

/*
 * audit_add - one row, in the transaction of the changes it tells of: those
 * since the row before, and the last row those behind it too.  It is written by
 * store_commit(), which fails when something changed and no row tells of it.
 */
enum rc audit_add(struct store *st, const struct moment *at, const char *action,
    const char *subject, const char *detail, struct err *err) MUST_CHECK;

/* audit_last_utc - instant of the newest row, 0 when there is none. */
enum rc audit_last_utc(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;

/* audit_last_but - the last row above `since` whose action is not one of
 * `but`, written ",use,discard,"; `since` when there is none. */
enum rc audit_last_but(int64_t *out, struct store *st, int64_t since,
    const char *but, struct err *err) MUST_CHECK;

/* audit_last_id - number of the newest row, 0 when there is none: it grows with
 * everything that is recorded. */
enum rc audit_last_id(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;

struct audit_row {
	int64_t id;
	struct moment at;
	char *action, *subject, *detail; /* owned by the list */
	char *changes; /* as the trail keeps them, owned; NULL: not asked for */
};

struct audit_list {
	struct audit_row *items; /* owned */
	size_t count;
};

/* audit_list_open - the newest `most` rows, oldest of them first. */
enum rc audit_list_open(struct audit_list *out, struct store *st, int64_t most,
    struct err *err) MUST_CHECK;
/*
 * audit_list_before - at most `most` rows before row `before` (0: from the
 * newest on), newest first; *last is the number of the newest of all, 0 when
 * there is none.  As fast after ten years as on the first day.
 */
enum rc audit_list_before(struct audit_list *out, int64_t *last,
    struct store *st, int64_t before, int64_t most, struct err *err) MUST_CHECK;
/* audit_list_from - at most `most` rows from row `from` on, oldest first. */
enum rc audit_list_from(struct audit_list *out, struct store *st, int64_t from,
    int64_t most, struct err *err) MUST_CHECK;
/* audit_changes - what one row changed, a line for each row (docs/trail.md);
 * owned.  RC_OK; RC_NOTFOUND no such row. */
enum rc audit_changes(
    char **out, struct store *st, int64_t row, struct err *err) MUST_CHECK;
/* audit_list_changes - and of every row of a list. */
enum rc audit_list_changes(
    struct audit_list *l, struct store *st, struct err *err) MUST_CHECK;
void audit_list_fini(struct audit_list *l);

#endif /* STORE_AUDIT_H */
