/*
 * prune.h - the statements of pruning.  Private to src/store: prune.c reads and
 * removes chains, prune_rows.c what stands alone and what is written of it.
 */
#ifndef STORE_PRUNE_INNER_H
#define STORE_PRUNE_INNER_H

#include "stmt.h"
#include "store/prune.h"

enum {
	PQ_NEXT,
	PQ_PREPS_OF,
	PQ_BATCHES_OF,
	PQ_BATCH,
	PQ_PREP,
	PQ_UNITS,
	PQ_DELIVERY,
	PQ_DELIVERY_DROP,
	PQ_READS
};

#define PRUNE_DROPS_MAX 32

struct prune {
	struct store *st;
	struct stmt q[PQ_READS];
	struct stmt prep_links[PRUNE_DROPS_MAX], batch_links[PRUNE_DROPS_MAX];
	struct stmt prep[PRUNE_DROPS_MAX], batch[PRUNE_DROPS_MAX];
	int64_t id; /* of the open pruning */
};

/* prune_run - step a statement that returns no row and make it ready again;
 * adds the rows it changed. */
enum rc prune_run(int64_t *rows, struct stmt *q, struct err *err) MUST_CHECK;

/* prune_days - widen the days of a sum. */
void prune_days(struct prune_sum *s, day_no day);

#endif /* STORE_PRUNE_INNER_H */
