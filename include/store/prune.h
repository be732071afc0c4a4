/*
 * store/prune.h - records that are old enough, found chain by chain and
 * removed.
 *
 * A chain is a batch with all its breakdowns, every other batch that went into
 * one of those, their units, events, holds and labels.  It goes whole or stays
 * whole.  Nothing here decides how old is old enough: ops/keeping.h does.  The
 * schema allows a deletion only between prune_begin() and prune_end(), of rows
 * older than that pruning says.
 */
#ifndef STORE_PRUNE_H
#define STORE_PRUNE_H

#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/code.h"
#include "store/moment.h"

struct store;
struct prune; /* opaque: the statements, ready for many chains */

/* More batches hang together than this: the chain stays. */
#define PRUNE_CHAIN_MAX 2000

/* Why a chain stays; the first that holds. */
enum prune_stay {
	PRUNE_GOES,
	PRUNE_YOUNG,   /* something of it was recorded, or held, later */
	PRUNE_ON_HAND, /* of a batch or unit something is left */
	PRUNE_HELD,
	PRUNE_JOB,     /* a label of it waits or asks for an answer */
	PRUNE_CASE,    /* a recall, complaint or drill speaks of it */
	PRUNE_NEWEST,  /* the newest of its kind: numbers are not used twice */
	PRUNE_TANGLED, /* more than PRUNE_CHAIN_MAX batches */
	PRUNE_STAYS
};

struct prune_chain {
	int64_t *batches, *preps; /* ids, oldest batch first; owned */
	size_t batch_count, prep_count, batch_cap, prep_cap;
	char code[CODE_SIZE];     /* of the first batch */
	int64_t from_utc, to_utc; /* received */
	int64_t newest_utc;       /* of anything in it, use-by included */
	int64_t units;
	enum prune_stay stay;
};

/* What one transaction removed. */
struct prune_sum {
	day_no from_day, to_day; /* DAY_NONE: nothing yet */
	int64_t chains, batches, breakdowns, units;
	int64_t cases, services, lists, clock_checks;
	int64_t rows; /* of all tables */
};

/* prune_open - prepare.  The caller frees with prune_close(), whatever is
 * returned. */
enum rc prune_open(
    struct prune **out, struct store *st, struct err *err) MUST_CHECK;
void prune_close(struct prune *p);

/* prune_next - the first batch with an id above `after` that was received
 * before `before_utc`.  RC_OK, RC_END. */
enum rc prune_next(int64_t *id, struct prune *p, int64_t after,
    int64_t before_utc, struct err *err) MUST_CHECK;

/*
 * prune_chain_read - the chain of a batch, and whether it may go when all that
 * is of `before_utc` or later must stay.  Freed with prune_chain_fini().
 */
enum rc prune_chain_read(struct prune_chain *out, struct prune *p,
    int64_t batch_id, int64_t before_utc, struct err *err) MUST_CHECK;
void prune_chain_fini(struct prune_chain *c);
/* prune_chain_first - the smallest id of its batches: where it is counted. */
int64_t prune_chain_first(const struct prune_chain *c);
/* prune_chain_add - count it, without its rows. */
void prune_chain_add(struct prune_sum *sum, const struct prune_chain *c);

/* What a pruning says of itself. */
struct pruning {
	int64_t before_utc;
	const char *rule, *backup;
};

/* prune_begin, prune_end - first and last row of a pruning, both in one
 * transaction (store_begin).  A commit between them fails. */
enum rc prune_begin(struct prune *p, const struct pruning *what,
    const struct moment *at, struct err *err) MUST_CHECK;
enum rc prune_end(
    struct prune *p, const struct prune_sum *sum, struct err *err) MUST_CHECK;

/* prune_chain_drop - remove a chain that goes; added to *sum. */
enum rc prune_chain_drop(struct prune_sum *sum, struct prune *p,
    const struct prune_chain *c, struct err *err) MUST_CHECK;

/*
 * What stands alone, at most `most` of each, oldest first: recalls and
 * complaints that are closed, drills, services whose uses are gone, lists
 * printed, dates confirmed.  *found gets what may go; removed only with `drop`.
 */
enum prune_alone {
	PRUNE_RECALLS, /* closed; first, since they keep what they speak of */
	PRUNE_COMPLAINTS,
	PRUNE_DRILLS,
	PRUNE_SERVICES,
	PRUNE_LISTS,
	PRUNE_CLOCKS,
	PRUNE_ALONE
};
struct prune_alone_wish {
	enum prune_alone kind;
	int64_t before_utc;
	day_no before_day; /* the same, of a service */
	int64_t most;
	bool drop;
};
enum rc prune_alone(struct prune_sum *found, struct prune *p,
    const struct prune_alone_wish *wish, struct err *err) MUST_CHECK;

/* prune_days_recorded - on how many UTC days of [from, to) something was
 * recorded, among the newest 20 000 rows of the audit trail. */
enum rc prune_days_recorded(int64_t *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err) MUST_CHECK;

/* What was pruned, newest first, at most `most` transactions. */
struct pruning_row {
	int64_t id;
	struct moment at;
	int64_t before_utc;
	struct prune_sum sum;
	char *rule, *backup; /* owned by the list */
};
struct pruning_list {
	struct pruning_row *items; /* owned */
	size_t count;
};
enum rc pruning_list_open(struct pruning_list *out, struct store *st,
    int64_t most, struct err *err) MUST_CHECK;
void pruning_list_fini(struct pruning_list *l);

#endif /* STORE_PRUNE_H */
