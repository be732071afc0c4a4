/*
 * store/recalls.h - recalls: what has to be pulled, what was found, how it
 * ended.  Changes need an open transaction (store_begin).
 *
 * The list of a recall is frozen when it is opened; what was found and what
 * became of it since are rows of their own.
 */
#ifndef STORE_RECALLS_H
#define STORE_RECALLS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "store/holds.h"
#include "store/moment.h"
#include "store/places.h"
#include "store/portions.h"

struct store;

enum recall_origin {
	RECALL_SUPPLIER,
	RECALL_AUTHORITY,
	RECALL_GUEST,
	RECALL_KITCHEN,
	RECALL_ORIGIN_COUNT
};

const char *recall_origin_word(enum recall_origin o);

/* What became of what was pulled. */
enum recall_outcome {
	RECALL_OPEN, /* not closed yet */
	RECALL_DISCARDED,
	RECALL_RETURNED, /* to the supplier */
	RECALL_RELEASED,
	RECALL_MISTAKE, /* opened by mistake */
	RECALL_OUTCOME_COUNT
};

const char *recall_outcome_word(enum recall_outcome o);

struct recall {
	int64_t id; /* its running number */
	enum recall_origin origin;
	char what[200]; /* what was asked for, in words */
	char reason[200];
	struct moment at;

	/* Filled when read. */
	enum recall_outcome outcome; /* RECALL_OPEN: the rest is empty */
	int64_t lines_missing;       /* when it was closed */
	char end_reason[200];
	struct moment end;
};

/* recall_insert - sets r->id. */
enum rc recall_insert(
    struct store *st, struct recall *r, struct err *err) MUST_CHECK;
/* recall_get - RC_OK, RC_NOTFOUND. */
enum rc recall_get(struct recall *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;
/* recall_close - the row that ends it: r's outcome to end are set. */
enum rc recall_close_row(
    struct store *st, const struct recall *r, struct err *err) MUST_CHECK;

struct recall_list {
	struct recall *items; /* owned */
	size_t count;
};

/* recall_list_open - the newest `most`, newest first; with `open` only those
 * that are not closed. */
enum rc recall_list_open(struct recall_list *out, struct store *st, bool open,
    int64_t most, struct err *err) MUST_CHECK;
void recall_list_fini(struct recall_list *l);

/* recall_of_lot - an open recall that rests on a batch of this supplier's lot;
 * RC_NOTFOUND: none, or the lot is not named. */
enum rc recall_of_lot(int64_t *id, struct store *st, int64_t supplier_id,
    const char *lot, struct err *err) MUST_CHECK;

/* recall_rests - it rests on this hold, opened by it or not. */
enum rc recall_rests(struct store *st, int64_t recall_id, int64_t hold_id,
    bool opened, struct err *err) MUST_CHECK;

/*
 * recall_freeze - put on the list what a subject is about: a batch with what is
 * left whole, and every unit; a breakdown's units; a unit.  What is on it
 * already stays.  The two places are those of goods nobody moved.
 */
enum rc recall_freeze(struct store *st, int64_t recall_id,
    const struct subject *s, const char *place_chilled,
    const char *place_frozen, struct err *err) MUST_CHECK;

/* A hold it rests on, for closing it. */
struct recall_hold {
	struct hold hold;
	bool opened; /* by this recall */
	bool shared; /* another open recall rests on it */
};

enum rc recall_holds_open(struct recall_hold **items, size_t *count,
    struct store *st, int64_t recall_id, struct err *err) MUST_CHECK;

/* A line of the list. */
struct recall_item {
	int64_t id;
	struct subject subject;       /* a batch or a unit */
	char code[CODE_SIZE];         /* without hyphen */
	char batch[CODE_SIZE];        /* the same of a batch */
	char also[PORTION_ALSO_SIZE]; /* other batches it holds food of, as
					 people read them; or "" */
	char name[64];                /* dish, or species code of a batch */
	int64_t left;                 /* when it was opened: servings, fish */
	grams weight_g;               /* the same of a batch; 0 of a unit */
	char place[PLACE_SIZE];       /* then */
	char place_now[PLACE_SIZE];   /* moved since; else empty */
	int64_t use_by_utc;
	bool frozen; /* now */
	bool struck;
	int64_t made;      /* servings */
	int64_t left_now;  /* servings; grams of a batch */
	int64_t found;     /* scanned as found, servings; 1 of a batch */
	int64_t discarded; /* since it was opened: servings, grams */
	/* What became of it before, servings of a unit. */
	int64_t used, thrown, lost;
	int64_t combined; /* put onto other trays */
	int64_t last_utc; /* its last event; 0: none since it was made */
	enum portion_fate last;
};

/* recall_item_missing - servings of a unit, or 1 of a batch, that were on hand
 * when it was opened and were neither found nor thrown away since. */
int64_t recall_item_missing(const struct recall_item *i);
/* recall_item_pull - was there something of it to pull? */
bool recall_item_pull(const struct recall_item *i);

struct recall_item_list {
	struct recall_item *items; /* owned; by place, then first to expire */
	size_t count;
};

enum rc recall_items_open(struct recall_item_list *out, struct store *st,
    int64_t recall_id, struct err *err) MUST_CHECK;
void recall_items_fini(struct recall_item_list *l);

/* recall_item_of - the line of a batch or unit.  RC_OK, RC_NOTFOUND. */
enum rc recall_item_of(struct recall_item *out, struct store *st,
    int64_t recall_id, const struct subject *s, struct err *err) MUST_CHECK;

/* Lines to pull, and of those what is missing. */
struct recall_count {
	int64_t pull, found, missing;
};
enum rc recall_counted(struct recall_count *out, struct store *st,
    int64_t recall_id, struct err *err) MUST_CHECK;

enum recall_verdict {
	TICK_FOUND,
	TICK_AGAIN,    /* all of it had been found */
	TICK_SURPRISE, /* it was recorded as gone */
	TICK_OTHER,    /* known here, not part of this recall */
	TICK_UNKNOWN,  /* a label of a code this station has no record of */
	TICK_COUNT
};

const char *recall_verdict_word(enum recall_verdict v);

struct recall_tick {
	int64_t recall_id, item_id; /* item_id 0: not on the list */
	char code[CODE_SIZE];
	enum recall_verdict verdict;
	int64_t found;
	char says[200]; /* what it was recorded as; what the label said */
	struct moment at;
};

enum rc recall_tick_add(
    struct store *st, const struct recall_tick *t, struct err *err) MUST_CHECK;

struct recall_tick_list {
	struct recall_tick *items; /* owned */
	size_t count;
};

/* recall_ticks_open - every scan of it, oldest first. */
enum rc recall_ticks_open(struct recall_tick_list *out, struct store *st,
    int64_t recall_id, struct err *err) MUST_CHECK;
void recall_ticks_fini(struct recall_tick_list *l);

#endif /* STORE_RECALLS_H */
