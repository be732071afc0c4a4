/*
 * store/portions.h - labelled units, and what became of them.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_PORTIONS_H
#define STORE_PORTIONS_H

#include <stddef.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "core/cut.h"
#include "core/useby.h"
#include "store/moment.h"

struct store;

/* Batches one unit may be made of, the one it is filed under included. */
#define PORTION_BATCHES_MAX 8
#define PORTION_ALSO_SIZE (PORTION_BATCHES_MAX * (CODE_SIZE + 3))

/* How a unit is kept now. */
enum portion_keep {
	KEEP_CHILLED, /* never frozen, as far as is recorded */
	KEEP_FROZEN,
	KEEP_THAWED, /* or made of thawed fish; never frozen again */
};

const char *keep_word(enum portion_keep k); /* "frozen" */

struct portion {
	int64_t id;
	char code[CODE_SIZE]; /* without hyphen */
	int64_t prep_output_id;
	int64_t prep_id;  /* filled when read */
	int64_t batch_id; /* of several the first to expire */
	int64_t cut_id;
	int64_t servings; /* as made */
	int64_t left;
	grams weight_g; /* as made */
	struct moment made;
	int64_t use_by_utc; /* in force: changes when frozen and thawed */
	int64_t frozen_utc; /* it, or the fish it was made of; 0: never */
	int64_t thawed_utc; /* taken out to thaw; 0: never */
	/* When the food was prepared: made.utc, or of a tray that was put
	 * together that of the oldest on it.  0 when inserted: made.utc. */
	int64_t prepared_utc;

	/* Filled when read, ignored when inserted. */
	enum portion_keep keep; /* follows from the two times */
	char batch[CODE_SIZE];
	int others;                   /* batches it is made of besides that */
	char also[PORTION_ALSO_SIZE]; /* those, as people read them, or "" */
	bool joined; /* a tray put together from what was left of others */
	int64_t dish_id;
	char dish[32];
	char dish_name[64];
	char allergens[80];
	enum food_state state; /* as made */
	enum cut_kind kind;
	char species[4];
	bool held;   /* itself, or any batch it is made of */
	bool struck; /* its breakdown was taken back: it never was */
};

/* portion_last_serial - the highest that was given out, or may have been
 * (store/floors.h); 0 none. */
enum rc portion_last_serial(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;

/*
 * portion_insert - record a labelled unit; the next free serial gives
 * p->code.  `use_by_why` is JSON.
 * RC_OK, RC_REFUSED when no code is left.
 */
enum rc portion_insert(struct store *st, struct portion *p,
    const char *use_by_why, struct err *err) MUST_CHECK;

/* portion_get - by code without hyphen.  RC_OK, RC_NOTFOUND. */
enum rc portion_get(struct portion *out, struct store *st, const char *code,
    struct err *err) MUST_CHECK;

struct portion_list {
	struct portion *items; /* owned */
	size_t count;
};

/* portion_list_on_hand - units with something left, first to expire first. */
enum rc portion_list_on_hand(
    struct portion_list *out, struct store *st, struct err *err) MUST_CHECK;
/* portion_list_batch - every unit that holds food of a batch, alone or with
 * others, in order of code. */
enum rc portion_list_batch(struct portion_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;
void portion_list_fini(struct portion_list *l);

/*
 * portion_older - the unit of the same dish that should be used before this
 * one: in date at `now_utc`, not held, not frozen, with an earlier use-by, or
 * the same use-by and made earlier.  RC_OK, RC_NOTFOUND when this one is the
 * first.
 */
enum rc portion_older(struct portion *out, struct store *st,
    const struct portion *p, int64_t now_utc, struct err *err) MUST_CHECK;

/* What became of servings. */
enum portion_fate {
	FATE_USED,
	FATE_DISCARDED,
	FATE_MISSING, /* a count did not find them */
	FATE_FOUND,   /* a count found them after all: they come back */
	/* What was recorded by mistake is taken back by an event that names it:
	 */
	FATE_RETURNED,  /* a use, discard or missing: they come back */
	FATE_WITHDRAWN, /* a find: they go again */
	FATE_STRUCK,    /* the breakdown that made them never happened */
	FATE_COMBINED,  /* put onto another tray: neither used nor lost */
};

#define FATE_COUNT (FATE_COMBINED + 1)

const char *fate_word(enum portion_fate f); /* "discarded" */
/* fate_adds - does it raise what is left? */
bool fate_adds(enum portion_fate f);

struct portion_event {
	enum portion_fate fate;
	int64_t servings;
	int64_t service_id; /* 0: not for a known service */
	char service[48];   /* "2026-11-27/dinner"; filled when read */
	char reason[200];   /* may be empty for used only */
	struct moment at;
	int64_t undoes; /* event it takes back; 0 but for returned, withdrawn */

	/* Filled when read, ignored when inserted. */
	int64_t id;
	enum portion_fate undone; /* what it takes back, when undoes is set */
	bool taken_back;          /* another event took this one back */
};

/* portion_take - record an event and lower what is left, or raise it by what
 * came back; it must stay between none and all. */
enum rc portion_take(struct store *st, int64_t portion_id,
    const struct portion_event *e, struct err *err) MUST_CHECK;

struct portion_event_list {
	struct portion_event *items; /* owned */
	size_t count;
};

enum rc portion_events_open(struct portion_event_list *out, struct store *st,
    int64_t portion_id, struct err *err) MUST_CHECK;
void portion_events_fini(struct portion_event_list *l);

/*
 * portion_list_window - `most` units of a batch from the `first` on (from 0);
 * with prep_id not 0 of one breakdown of it.  Those on hand first, first to
 * expire first, then the others by code.
 */
enum rc portion_list_window(struct portion_list *out, struct store *st,
    int64_t batch_id, int64_t prep_id, size_t first, size_t most,
    struct err *err) MUST_CHECK;

/* portion_list_prep - every unit a breakdown made, in order of code; not trays
 * that were put together later. */
enum rc portion_list_prep(struct portion_list *out, struct store *st,
    int64_t prep_id, struct err *err) MUST_CHECK;

/* Servings scanned out. */
struct portion_use {
	int64_t event_id;
	char code[CODE_SIZE]; /* of the unit, without hyphen */
	char dish[32];
	char dish_name[64];
	int64_t left;       /* in the unit now */
	int64_t use_by_utc; /* of the unit, in force now */
	int64_t servings;
	char reason[200]; /* why before an older one; may be empty */
	struct moment at;
};

struct portion_use_list {
	struct portion_use *items; /* owned */
	size_t count;
};

/*
 * portion_uses_open - the newest `most` for a service that were not taken back,
 * newest first; with `service_id` 0 those for none known since `from_utc`.
 */
enum rc portion_uses_open(struct portion_use_list *out, struct store *st,
    int64_t service_id, int64_t from_utc, int most, struct err *err) MUST_CHECK;
void portion_uses_fini(struct portion_use_list *l);

/* portion_why - the stored JSON of the use-by decision, owned. */
enum rc portion_why(
    char **out, struct store *st, int64_t id, struct err *err) MUST_CHECK;

#endif /* STORE_PORTIONS_H */
