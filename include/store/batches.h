/*
 * store/batches.h - batches: what came in, and what is left of it.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_BATCHES_H
#define STORE_BATCHES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "core/cut.h"
#include "store/deliveries.h"
#include "store/moment.h"

enum decision {
	DECISION_ACCEPTED,
	DECISION_NOTED, /* accepted with a note */
	DECISION_REFUSED,
};

const char *decision_word(enum decision d);

struct batch {
	int64_t id;
	char code[CODE_SIZE]; /* without hyphen */
	int64_t delivery_id;
	char species[4];
	enum presentation presentation;
	int64_t count; /* 0 not counted */
	grams weight_g;
	char lot[48];
	int temp_dc; /* tenths of a degree Celsius */
	char area[48];
	char method[24];
	char gear[48];
	day_no caught_day;      /* or DAY_NONE */
	day_no supplier_use_by; /* or DAY_NONE */
	enum decision decision;
	char note[200];
	struct moment received;
	int64_t use_by_utc;
	char vessel[64];       /* vessel or farm; may be empty */
	day_no dispatched_day; /* or DAY_NONE */
	int size;              /* of the smallest; 0 not measured */
	char grade[16];        /* core/freshness.h; empty when not marked */
	int64_t price;         /* smallest coins per kilogram; -1 unknown */

	/* Filled when read, ignored when inserted. */
	int64_t count_left;
	grams weight_left;
	bool held;
	bool struck; /* taken in by mistake, and taken back: it never was */
	struct supplier supplier;
	char document[48];
};

/*
 * batch_insert - record a batch; the code is chosen from the day of receipt
 * and put into b->code.  `use_by_why` is JSON.
 * RC_OK, RC_REFUSED when the day has no number left.
 */
enum rc batch_insert(struct store *st, struct batch *b, day_no day,
    const char *use_by_why, const char *judgement, struct err *err) MUST_CHECK;

/* batch_get - by code without hyphen.  RC_OK, RC_NOTFOUND. */
enum rc batch_get(struct batch *out, struct store *st, const char *code,
    struct err *err) MUST_CHECK;
/* batch_by_id - the same by its id, which a link of the file gave. */
enum rc batch_by_id(struct batch *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;

struct batch_list {
	struct batch *items; /* owned */
	size_t count;
};

/*
 * batch_list_open - accepted batches that are not used up, first to expire
 * first.  RC_OK; the caller frees with batch_list_fini().
 */
enum rc batch_list_open(
    struct batch_list *out, struct store *st, struct err *err) MUST_CHECK;
/* batch_list_day - every batch received on a civil day, refused ones too, in
 * order of code. */
enum rc batch_list_day(struct batch_list *out, struct store *st, day_no day,
    struct err *err) MUST_CHECK;
/* batch_list_newest - of a civil day, last received first, at most `most`. */
enum rc batch_list_newest(struct batch_list *out, struct store *st, day_no day,
    size_t most, struct err *err) MUST_CHECK;
void batch_list_fini(struct batch_list *l);

/* batch_mark - one attribute as the person saw it (core/freshness.h). */
enum rc batch_mark(struct store *st, int64_t id, const char *attribute,
    const char *grade, struct err *err) MUST_CHECK;

/* batch_why - the stored JSON of the use-by decision, owned by the caller. */
enum rc batch_why(
    char **out, struct store *st, int64_t id, struct err *err) MUST_CHECK;
/* batch_judgement - the stored JSON of what was seen at goods in, owned. */
enum rc batch_judgement(
    char **out, struct store *st, int64_t id, struct err *err) MUST_CHECK;

/* batch_discard - weight (and fish) thrown away, with a reason. */
enum rc batch_discard(struct store *st, int64_t id, int64_t fish, grams weight,
    const char *reason, const struct moment *at, struct err *err) MUST_CHECK;

/*
 * batch_discard_last - the newest discard of that instant and person that was
 * not taken back.  RC_OK, RC_NOTFOUND.
 * batch_return - take it back: fish and weight are there again.
 */
struct batch_discarded {
	int64_t id;
	int64_t fish;
	grams weight_g;
};
enum rc batch_discard_last(struct batch_discarded *out, struct store *st,
    int64_t id, const struct moment *at, struct err *err) MUST_CHECK;
enum rc batch_return(struct store *st, int64_t id,
    const struct batch_discarded *what, const char *reason,
    const struct moment *at, struct err *err) MUST_CHECK;

/*
 * batch_touched - was anything ever made of it or thrown away of it, and not
 * taken back?
 * batch_strike - goods in taken back: nothing is left, nothing was wasted.
 * batch_struck_get - by whom and why; ->is tells whether it was.
 */
enum rc batch_touched(
    bool *out, struct store *st, int64_t id, struct err *err) MUST_CHECK;
enum rc batch_strike(struct store *st, const struct batch *b,
    const char *reason, const struct moment *at, struct err *err) MUST_CHECK;
struct batch_struck {
	bool is;
	char reason[200];
	struct moment at;
};
enum rc batch_struck_get(struct batch_struck *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;

/* batch_reopen - put a batch back on the list of open ones when something of
 * it is left again. */
enum rc batch_reopen(struct store *st, int64_t id, struct err *err) MUST_CHECK;

/* batch_shut - take a batch that is used up off the list of open ones; a
 * counted batch is used up with its last fish, one by weight with its last
 * gram. */
enum rc batch_shut(struct store *st, int64_t id, struct err *err) MUST_CHECK;

#endif /* STORE_BATCHES_H */
