/*
 * store/sources.h - the batches and the units a labelled unit is made of.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_SOURCES_H
#define STORE_SOURCES_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"

struct store;

/* portion_source_add - one more batch the unit just inserted is made of,
 * besides p->batch_id. */
enum rc portion_source_add(struct store *st, int64_t portion_id,
    int64_t batch_id, struct err *err) MUST_CHECK;

/* portion_prep_add - one more breakdown a tray just put together rests on,
 * besides that of its output; adding one twice changes nothing. */
enum rc portion_prep_add(struct store *st, int64_t portion_id, int64_t prep_id,
    struct err *err) MUST_CHECK;

struct portion_source_list {
	int64_t *items; /* ids of batches; owned */
	size_t count;
};

/* portion_sources_open - every batch a unit is made of, the one it is filed
 * under first. */
enum rc portion_sources_open(struct portion_source_list *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;
void portion_sources_fini(struct portion_source_list *l);

/* What came from one unit onto a tray that was put together. */
struct portion_part {
	int64_t id; /* of the other unit */
	char code[CODE_SIZE];
	int64_t servings;
	grams weight_g;
};

struct portion_part_list {
	struct portion_part *items; /* owned */
	size_t count;
};

/*
 * portion_join - what is left of `from` goes onto `portion_id`, a tray just
 * inserted: how much of it that was.  The event is the caller's.
 * portion_parts_open - what a tray was put together from.
 * portion_went_open - the trays that what was left of a unit went onto, but for
 * those taken apart again.
 */
enum rc portion_join(struct store *st, int64_t portion_id,
    const struct portion_part *from, struct err *err) MUST_CHECK;
enum rc portion_parts_open(struct portion_part_list *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;
enum rc portion_went_open(struct portion_part_list *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;
void portion_parts_fini(struct portion_part_list *l);

#endif /* STORE_SOURCES_H */
