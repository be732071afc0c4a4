/*
 * store/yields.h - yields learned, and the breakdowns they were learned from.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_YIELDS_H
#define STORE_YIELDS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/yieldlearn.h"

struct store;

#define YIELD_ALL_SUPPLIERS 0

struct yield_learned {
	struct yield_key key;
	int64_t supplier_id;      /* or YIELD_ALL_SUPPLIERS */
	struct yield_state start; /* before the first breakdown */
	struct yield_state now;
	char supplier[24]; /* code; filled when read, "" for all */
};

struct yield_learned_list {
	struct yield_learned *items; /* by form, cut, supplier; owned */
	size_t count;
};

/* One breakdown that could teach. */
struct yield_seen {
	int64_t prep_id;
	struct yield_key key;
	int64_t supplier_id;
	struct yield_obs obs;
	bool learned; /* false: outside the gate, recorded and set aside */
};

struct yield_seen_list {
	struct yield_seen *items; /* oldest first; owned */
	size_t count;
};

/* yield_learned_get - RC_OK, RC_NOTFOUND when nothing was learned yet. */
enum rc yield_learned_get(struct yield_learned *out, struct store *st,
    const struct yield_key *key, int64_t supplier_id,
    struct err *err) MUST_CHECK;

/* yield_learned_put - insert or replace. */
enum rc yield_learned_put(struct store *st, const struct yield_learned *l,
    struct err *err) MUST_CHECK;

/* yield_learned_drop - forget a key for the species and every supplier; the
 * rows seen stay. */
enum rc yield_learned_drop(
    struct store *st, const struct yield_key *key, struct err *err) MUST_CHECK;

/* yield_learned_open - of one species, or of all when NULL.  RC_OK; the caller
 * frees with yield_learned_fini(). */
enum rc yield_learned_open(struct yield_learned_list *out, struct store *st,
    const char *species, struct err *err) MUST_CHECK;
void yield_learned_fini(struct yield_learned_list *l);

/* yield_seen_insert - one row for one breakdown. */
enum rc yield_seen_insert(
    struct store *st, const struct yield_seen *s, struct err *err) MUST_CHECK;

/* yield_seen_open - of one key, oldest first, without what was struck out.
 * RC_OK; the caller frees with yield_seen_fini(). */
enum rc yield_seen_open(struct yield_seen_list *out, struct store *st,
    const struct yield_key *key, struct err *err) MUST_CHECK;
void yield_seen_fini(struct yield_seen_list *l);

#endif /* STORE_YIELDS_H */
