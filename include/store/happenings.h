/*
 * store/happenings.h - what happened to food, in order of time: of one civil
 * day, or of one batch and all that was made of it.  For records that go out.
 * Reads only.
 *
 * A happening that was taken back as a mistake is still there, and says by whom
 * and why.  A list is a day's or a batch's, never the whole record; its cost
 * does not grow with the years.
 */
#ifndef STORE_HAPPENINGS_H
#define STORE_HAPPENINGS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "store/moment.h"
#include "store/preps.h"

struct store;

/* In this order within one second. */
enum happening_kind {
	HAPPENED_RECEIVED, /* a batch */
	HAPPENED_REFUSED,  /* a batch, at the door */
	HAPPENED_BREAKDOWN,
	HAPPENED_COMBINED, /* what was left of units, onto a tray of its own */
	HAPPENED_FROZEN,
	HAPPENED_THAWED,
	HAPPENED_HELD,
	HAPPENED_RELEASED,
	HAPPENED_USED,
	HAPPENED_FOUND,
	HAPPENED_MISSING,
	HAPPENED_DISCARDED,       /* servings of a unit */
	HAPPENED_BATCH_DISCARDED, /* of what was not broken down */
	HAPPENED_COUNT
};

/* happening_word - "received", "breakdown". */
const char *happening_word(enum happening_kind k);

struct happening {
	enum happening_kind kind;
	int64_t id; /* of its row: batch, prep, event, freezing, hold */
	struct moment at;
	char batch[CODE_SIZE];   /* without hyphen; "" for a breakdown */
	char portion[CODE_SIZE]; /* "" when it is about a batch */
	int64_t prep_id;         /* made by, or held; 0 when it is about none */
	char species[4];         /* "" for a breakdown */
	int64_t dish_id;         /* of the unit; 0 none */
	char dish[32];           /* its code */
	int64_t servings;        /* it is about; of frozen, thawed: left then */
	int64_t left;            /* servings in the unit afterwards */
	int64_t fish;            /* of a batch; 0 not counted */
	grams weight_g;
	int temp_dc;        /* frozen: reached */
	int64_t use_by_utc; /* frozen, thawed: from then on; 0 else */
	char reason[200];
	char service[48]; /* "2026-11-27/dinner"; "" none known */
	bool recall;      /* held: because of a recall */
	bool undone;      /* taken back: it never happened */
	struct moment undone_at;
	char undone_reason[200];
};

struct happening_list {
	struct happening *items; /* owned */
	size_t count;
};

/*
 * happenings_day - of a civil day: batches of that day's goods in, and the rest
 * from `from_utc` to before `to_utc`, which are the day's instants.
 */
enum rc happenings_day(struct happening_list *out, struct store *st, day_no day,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

/* happenings_batch - of a batch, of breakdowns it went into and of every unit
 * they made. */
enum rc happenings_batch(struct happening_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;

/*
 * happenings_undone - what happened before `from_utc` and was taken back from
 * then to before `to_utc`: who was told of it has to be told of that.
 */
enum rc happenings_undone(struct happening_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;
void happening_list_fini(struct happening_list *l);

/*
 * happenings_span - first and last civil day anything came in on; DAY_NONE
 * when nothing ever did.  Nothing else can be older.
 */
enum rc happenings_span(
    day_no *first, day_no *last, struct store *st, struct err *err) MUST_CHECK;

/* What went into a breakdown or a tray put together, and what it made. */
struct prep_in {
	char batch[CODE_SIZE];
	char species[4];
	int64_t fish; /* 0 not counted */
	grams weight_g;
};

struct prep_unit {
	char code[CODE_SIZE];
	char batch[CODE_SIZE]; /* it names on its label */
	int64_t dish_id;
	char dish[32];
	char dish_name[64];
	int64_t servings;
	grams weight_g;
	int64_t use_by_utc; /* as it was made */
};

struct prep_sides {
	struct prep_in *in;      /* owned */
	struct prep_unit *from;  /* owned; units a tray was put together from */
	struct prep_unit *units; /* owned, in order of code */
	size_t in_count, from_count, unit_count;
	grams loss_g[LOSS_COUNT];
	grams unlabelled_g;  /* weighed out as portions, on no label */
	grams unexplained_g; /* went in and is nowhere; below 0: overweight */
};

/* prep_sides_open - of breakdown `id`, one that was struck out too. */
enum rc prep_sides_open(struct prep_sides *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;
/* prep_holds_open - units that hold food of breakdown `id`, trays put together
 * later too, but none that was taken back; nothing else is filled. */
enum rc prep_holds_open(struct prep_sides *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;
/* combined_sides_open - of a tray that was put together: what it is from
 * (weight and servings of what came over) and the tray. */
enum rc combined_sides_open(struct prep_sides *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;
void prep_sides_fini(struct prep_sides *s);

#endif /* STORE_HAPPENINGS_H */
