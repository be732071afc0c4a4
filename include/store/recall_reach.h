/*
 * store/recall_reach.h - how far the goods of a recall got: guests, parts
 * without a label, and back to whom to call.  Reads only.
 */
#ifndef STORE_RECALL_REACH_H
#define STORE_RECALL_REACH_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "store/deliveries.h"
#include "store/moment.h"

struct store;

/* Servings of it that guests were served. */
struct recall_use {
	char code[CODE_SIZE];
	char dish[64];
	int64_t servings;
	char service[48]; /* "2026-11-27/dinner"; empty: none known */
	struct moment at;
};
enum rc recall_uses_open(struct recall_use **items, size_t *count,
    struct store *st, int64_t recall_id, struct err *err) MUST_CHECK;

/* Parts of a batch on the list that carry no label of a unit. */
struct recall_loose {
	char batch[CODE_SIZE];
	grams trim, frames;
};
enum rc recall_loose_open(struct recall_loose **items, size_t *count,
    struct store *st, int64_t recall_id, struct err *err) MUST_CHECK;

/* recall_suppliers - whose goods are on the list; *items is owned. */
enum rc recall_suppliers(struct supplier **items, size_t *count,
    struct store *st, int64_t recall_id, struct err *err) MUST_CHECK;

#endif /* STORE_RECALL_REACH_H */
