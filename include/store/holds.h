/*
 * store/holds.h - batches and portions blocked pending a decision.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_HOLDS_H
#define STORE_HOLDS_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "store/moment.h"

struct store;

/* What a hold or a label is about: exactly one id is not 0. */
struct subject {
	int64_t batch_id;
	int64_t portion_id;
};

struct hold {
	int64_t id;
	char reason[200];
	int64_t at_utc;
	char by[16];
	int64_t released_utc; /* 0: still in force */
	char released_by[16];
	char released_reason[200];
};

/* hold_open - RC_OK, or RC_REFUSED when it is held already. */
enum rc hold_open(struct store *st, const struct subject *s, const char *reason,
    const struct moment *at, struct err *err) MUST_CHECK;

/* hold_close - RC_OK, or RC_REFUSED when there is no hold of its own. */
enum rc hold_close(struct store *st, const struct subject *s,
    const char *reason, const struct moment *at, struct err *err) MUST_CHECK;

/* hold_now - the hold in force on it.  RC_OK, RC_NOTFOUND. */
enum rc hold_now(struct hold *out, struct store *st, const struct subject *s,
    struct err *err) MUST_CHECK;

struct hold_list {
	struct hold *items; /* owned */
	size_t count;
};

/* hold_list_open - every hold there was on it, oldest first. */
enum rc hold_list_open(struct hold_list *out, struct store *st,
    const struct subject *s, struct err *err) MUST_CHECK;
void hold_list_fini(struct hold_list *l);

#endif /* STORE_HOLDS_H */
