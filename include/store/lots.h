/*
 * store/lots.h - batches by what a supplier calls them: lot, document, days.
 * Reads only.
 */
#ifndef STORE_LOTS_H
#define STORE_LOTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"
#include "core/code.h"

struct store;

/* One of lot and document, or a supplier with days; a supplier narrows the
 * first two. */
struct lot_query {
	const char *lot;      /* in any case; or NULL */
	const char *document; /* the same */
	int64_t supplier_id;  /* 0: any */
	day_no from, to;      /* of arrival; of a supplier alone */
	int64_t most;
};

struct lot_batch {
	int64_t id;
	char code[CODE_SIZE]; /* without hyphen */
	char species[4];
	char supplier[80];
	char document[48];
	char lot[48];
	day_no day; /* of arrival */
	grams weight_g, weight_left;
	bool refused, held;
	int64_t units;            /* labelled units that hold food of it */
	int64_t made, left, used; /* servings on them */
};

struct lot_list {
	struct lot_batch *items; /* owned; newest arrival first */
	size_t count;
};

enum rc lot_list_open(struct lot_list *out, struct store *st,
    const struct lot_query *q, struct err *err) MUST_CHECK;
void lot_list_fini(struct lot_list *l);

#endif /* STORE_LOTS_H */
