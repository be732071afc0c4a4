/*
 * store/preps.h - breakdowns: what went in, what came out.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_PREPS_H
#define STORE_PREPS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "store/moment.h"

struct store;

/* Weights a breakdown gives besides portions. */
enum loss_kind {
	LOSS_TRIM,   /* usable offcuts, kept */
	LOSS_FRAMES, /* bones and heads for stock */
	LOSS_WASTE,  /* thrown away */
	LOSS_COUNT
};

const char *loss_word(enum loss_kind k);

/* Batches that go into one breakdown. */
#define PREP_INPUTS_MAX 4
#define PREP_ALSO_SIZE (PREP_INPUTS_MAX * (CODE_SIZE + 3))

struct prep {
	int64_t id;
	struct moment at;
	char note[200];
	/* What went in of one batch: the first, or the one that was asked. */
	int64_t batch_id;
	char batch[CODE_SIZE]; /* filled when read */
	int64_t fish;          /* 0 when the batch is not counted */
	grams in_g;
	/* Of all batches together; filled when read. */
	int64_t all_fish;
	grams all_g;
	char also[PREP_ALSO_SIZE]; /* the other batches, as people read them:
				      "26338-024 + 26338-031"; or "" */
	grams loss_g[LOSS_COUNT];
	grams portions_g; /* filled when read */
	int64_t portions; /* filled when read */
	char species[4];  /* filled when read */
	/* Filled when read: taken back as a mistake, by whom and why. */
	bool struck;
	struct moment struck_at;
	char struck_reason[200];
};

/* prep_insert - the breakdown, its input and its losses; sets p->id. */
enum rc prep_insert(
    struct store *st, struct prep *p, struct err *err) MUST_CHECK;

/* prep_input_insert - one more batch into a breakdown just inserted. */
enum rc prep_input_insert(struct store *st, int64_t prep_id, int64_t batch_id,
    int64_t fish, grams weight, struct err *err) MUST_CHECK;

/* prep_output_insert - portions of one cut out of a breakdown. */
enum rc prep_output_insert(int64_t *id, struct store *st, int64_t prep_id,
    int64_t cut_id, int64_t portions, grams weight, struct err *err) MUST_CHECK;

struct prep_list {
	struct prep *items; /* owned */
	size_t count;
};

/*
 * Breakdowns that were struck out are not in these two lists, so that sums over
 * them are right; prep_list_struck() has them.
 * prep_list_open - breakdowns of a batch, alone or with others, oldest first.
 * prep_list_between - breakdowns recorded from `from_utc` to before `to_utc`,
 * oldest first, each once: under the first batch that went in.
 */
enum rc prep_list_open(struct prep_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;
enum rc prep_list_between(struct prep_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;
void prep_list_fini(struct prep_list *l);

/* What went into a breakdown. */
struct prep_input {
	int64_t batch_id;
	char batch[CODE_SIZE];
	int64_t fish;
	grams weight_g;
};

struct prep_input_list {
	struct prep_input *items; /* owned */
	size_t count;
};

/* prep_inputs_open - every batch of a breakdown, in the order they went in. */
enum rc prep_inputs_open(struct prep_input_list *out, struct store *st,
    int64_t prep_id, struct err *err) MUST_CHECK;
void prep_inputs_fini(struct prep_input_list *l);

/* prep_list_unit - the breakdowns behind a unit, struck or not: one, or those
 * of all the units a tray was put together from. */
enum rc prep_list_unit(struct prep_list *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;

/*
 * prep_list_struck - breakdowns of a batch that were struck out, oldest first.
 * prep_list_struck_between - those recorded in that time.
 */
enum rc prep_list_struck(struct prep_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;
enum rc prep_list_struck_between(struct prep_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

/*
 * prep_of_moment - the newest breakdown of a batch recorded at that instant by
 * that person and not struck out.  RC_OK, RC_NOTFOUND.
 */
enum rc prep_of_moment(int64_t *id, struct store *st, int64_t batch_id,
    const struct moment *at, struct err *err) MUST_CHECK;

/*
 * prep_closed - "2026-11-27/dinner": a service that is closed and had a task
 * ticked off by this breakdown.  RC_OK, RC_NOTFOUND: none.
 */
enum rc prep_closed(char service[48], struct store *st, int64_t prep_id,
    struct err *err) MUST_CHECK;

/* prep_strike - the counter-record alone; its units, fish and what it taught
 * are the caller's.  prep_fish_back - the fish weighed one by one that it took
 * are there again; *list is their numbers, "3,5". */
enum rc prep_strike(struct store *st, int64_t prep_id, const char *reason,
    const struct moment *at, struct err *err) MUST_CHECK;
enum rc prep_fish_back(char *list, size_t size, struct store *st,
    int64_t prep_id, struct err *err) MUST_CHECK;

#endif /* STORE_PREPS_H */
