/*
 * store/deliveries.h - suppliers and what came under which document.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_DELIVERIES_H
#define STORE_DELIVERIES_H

#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"

struct store;

struct supplier {
	int64_t id;
	char code[24];
	char name[80];
	char address[160];
	char approval[24]; /* may be empty */
	char contact[64];  /* may be empty */
};

/* What an import did to a record that may have been there. */
enum change {
	CHANGE_NONE,
	CHANGE_ADDED,
	CHANGE_CHANGED,
};

/* supplier_put - add, or change the one of the same code. */
enum rc supplier_put(enum change *out, struct store *st,
    const struct supplier *s, struct err *err) MUST_CHECK;

/* supplier_find - by code, or by full name, in any case.  RC_OK, RC_NOTFOUND.
 */
enum rc supplier_find(struct supplier *out, struct store *st,
    const char *code_or_name, struct err *err) MUST_CHECK;

struct supplier_list {
	struct supplier *items; /* owned */
	size_t count;
};

/* supplier_list - in order of their codes, at most `most`.  RC_OK; the caller
 * frees with supplier_list_fini(). */
enum rc supplier_list(struct supplier_list *out, struct store *st, size_t most,
    struct err *err) MUST_CHECK;
void supplier_list_fini(struct supplier_list *l);

/* delivery_put - id of the delivery of this document and day, made if new. */
enum rc delivery_put(int64_t *id, struct store *st, int64_t supplier_id,
    const char *document, day_no day, struct err *err) MUST_CHECK;

#endif /* STORE_DELIVERIES_H */
