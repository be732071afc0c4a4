/*
 * store/drafts.h - forms somebody has half typed.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_DRAFTS_H
#define STORE_DRAFTS_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "store/moment.h"

struct store;

struct draft {
	char name[32];   /* whose form it is */
	char title[120]; /* what it is about, for a person */
	char *body;      /* owned by the row when read; NULL in a list */
	struct moment at;
};

/* draft_put - keep a form in place of the one of the same name. */
enum rc draft_put(
    struct store *st, const struct draft *d, struct err *err) MUST_CHECK;
/* draft_drop - forget it; also when there is none. */
enum rc draft_drop(
    struct store *st, const char *name, struct err *err) MUST_CHECK;
/* draft_get - RC_OK, the caller frees with draft_fini(); RC_NOTFOUND. */
enum rc draft_get(struct draft *out, struct store *st, const char *name,
    struct err *err) MUST_CHECK;
void draft_fini(struct draft *d);

#endif /* STORE_DRAFTS_H */
