/*
 * store/pace.h - the kitchen's own pace, and the minutes it was learned from.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_PACE_H
#define STORE_PACE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/minutes.h"

struct store;

struct pace_list {
	struct pace *items; /* owned; all marked learned */
	size_t count;
};

/*
 * pace_list_open - every pace learned so far, by task, species and size.
 * RC_OK, or RC_FAILED when the file names a task this program does not know.
 */
enum rc pace_list_open(
    struct pace_list *out, struct store *st, struct err *err) MUST_CHECK;
void pace_list_fini(struct pace_list *l);

/* pace_put - keep a pace in place of the one known before. */
enum rc pace_put(
    struct store *st, const struct pace *p, struct err *err) MUST_CHECK;

/* pace_drop - forget what was learned of a task, species and size. */
enum rc pace_drop(
    struct store *st, const struct pace *p, struct err *err) MUST_CHECK;

/* What a breakdown taught one pace. */
struct pace_seen {
	int64_t prep_id;
	struct pace before; /* as it stood, learned or the table's */
	int64_t units, ms;
};

struct pace_seen_list {
	struct pace_seen *items; /* owned */
	size_t count;
};

/* pace_seen_insert - once for a breakdown and pace. */
enum rc pace_seen_insert(
    struct store *st, const struct pace_seen *s, struct err *err) MUST_CHECK;
/* pace_seen_prep - every pace a breakdown taught.
 * pace_seen_after - what later breakdowns taught the same pace, oldest first,
 * without what was struck out.  The caller frees items. */
enum rc pace_seen_prep(struct pace_seen_list *out, struct store *st,
    int64_t prep_id, struct err *err) MUST_CHECK;
enum rc pace_seen_after(struct pace_seen_list *out, struct store *st,
    const struct pace_seen *s, struct err *err) MUST_CHECK;

/* What a breakdown took. */
struct prep_minutes {
	int64_t prep_id;
	int64_t minutes;    /* > 0 */
	int64_t expected_s; /* seconds expected of it then; 0: not known */
	bool taught;        /* the pace was learned from it */
};

/* prep_minutes_insert - once for a breakdown. */
enum rc prep_minutes_insert(
    struct store *st, const struct prep_minutes *m, struct err *err) MUST_CHECK;
/* prep_minutes_get - minutes is 0 when nobody said. */
enum rc prep_minutes_get(struct prep_minutes *out, struct store *st,
    int64_t prep_id, struct err *err) MUST_CHECK;

#endif /* STORE_PACE_H */
