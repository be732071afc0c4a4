/*
 * store/chain.h - sums over a batch's units, and the batches behind a dish of a
 * service.  Reads only.
 */
#ifndef STORE_CHAIN_H
#define STORE_CHAIN_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/code.h"

struct store;

/* Servings, but for `units` and `held`, which count labelled units. */
struct chain_counts {
	int64_t units, held; /* held: on hand, by itself or its batch */
	int64_t made, left;  /* made: what was struck out is left out */
	int64_t frozen;      /* of those left */
	int64_t expired;     /* of those left */
	int64_t used, discarded;
	int64_t missing; /* less what was found again */
	int64_t struck;
	/* Onto trays that were put together, less what went off units of the
	 * batch for them: what others brought.  made + brought = left + used +
	 * discarded + missing; below 0 when only what went off is looked at. */
	int64_t brought;
};

/* chain_count - of all units that hold food of a batch, alone or with others,
 * or of one breakdown of it when prep_id is not 0. */
enum rc chain_count(struct chain_counts *out, struct store *st,
    int64_t batch_id, int64_t prep_id, int64_t now_utc,
    struct err *err) MUST_CHECK;

struct chain_candidate {
	char batch[CODE_SIZE];
	char species_code[4];
	char supplier[64];
	char lot[48];
	int64_t scanned;    /* servings */
	int64_t on_hand;    /* servings, when the service began */
	int64_t units;      /* labelled units those are on */
	int64_t use_by_utc; /* the earliest of them; 0: none on hand */
};

struct chain_candidates {
	struct chain_candidate *items; /* owned */
	size_t count;
};

/* chain_served - servings scanned out for a service, of a dish; each once,
 * however many batches it is of. */
enum rc chain_served(int64_t *out, struct store *st, int64_t service_id,
    int64_t dish_id, struct err *err) MUST_CHECK;

/* chain_scanned - by batch, most servings first: what was scanned out for a
 * service as a dish, less what was taken back. */
enum rc chain_scanned(struct chain_candidates *out, struct store *st,
    int64_t service_id, int64_t dish_id, struct err *err) MUST_CHECK;

/* What was on hand of a dish while a service went on. */
struct chain_time {
	int64_t from_utc; /* units made, or thawed, since then; so that the
			     cost does not grow with the record */
	int64_t begin_utc, end_utc; /* of the service */
};

/* chain_on_hand - by batch, first to expire first: units made before the end,
 * not frozen all through it, in date and with something left at its begin. */
enum rc chain_on_hand(struct chain_candidates *out, struct store *st,
    int64_t dish_id, const struct chain_time *t, struct err *err) MUST_CHECK;

/* One scan of a dish out for a service, that was not taken back; of a unit of
 * several batches once for each. */
struct chain_scan {
	char batch[CODE_SIZE];
	int64_t servings, at_utc;
};

/* chain_scans_open - in order of time; *items is owned by the caller. */
enum rc chain_scans_open(struct chain_scan **items, size_t *count,
    struct store *st, int64_t service_id, int64_t dish_id,
    struct err *err) MUST_CHECK;

#endif /* STORE_CHAIN_H */
