/*
 * store/freezing.h - units frozen here and taken out to thaw, and what that
 * did to their use-by.  Changes need an open transaction (store_begin).
 */
#ifndef STORE_FREEZING_H
#define STORE_FREEZING_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "store/moment.h"
#include "store/portions.h"

struct store;

/* One change of how a unit is kept. */
struct freezing {
	int64_t id;                /* filled when read */
	enum portion_keep to;      /* KEEP_FROZEN or KEEP_THAWED */
	int temp_dc;               /* reached, tenths, below 0; 0 when thawed */
	int days_left;             /* of its life in chill, kept while frozen */
	int64_t use_by_before_utc; /* in force until then */
	int64_t use_by_utc;        /* in force from then on */
	char reason[200];          /* a person's, may be empty */
	struct moment at;
};

/*
 * freezing_insert - record it, with the use-by decision as JSON; the portion
 * takes the new use-by and the time.
 * The caller has checked that it may be: a second row of a kind fails.
 */
enum rc freezing_insert(struct store *st, int64_t portion_id,
    const struct freezing *f, const char *why, struct err *err) MUST_CHECK;

struct freezing_list {
	struct freezing *items; /* owned, first frozen, then thawed */
	size_t count;
};

enum rc freezing_list_open(struct freezing_list *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;
void freezing_list_fini(struct freezing_list *l);

/* freezing_why - the stored JSON of the use-by decision, owned. */
enum rc freezing_why(
    char **out, struct store *st, int64_t id, struct err *err) MUST_CHECK;

#endif /* STORE_FREEZING_H */
