/*
 * store/days.h - what happened between two instants, for the sheet of a day.
 *
 * Every call reads rows whose instant is at least `from_utc` and before
 * `to_utc`, oldest first.  Lists are owned by the caller:
 * free(items).
 */
#ifndef STORE_DAYS_H
#define STORE_DAYS_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "store/jobs.h"

struct store;

/* Something thrown away, frozen, thawed, or found out by counting. */
struct day_event {
	enum day_deed {
		DAY_DISCARDED,
		DAY_FROZEN,
		DAY_THAWED,
		DAY_MISSING,
		DAY_FOUND,
		DAY_TAKEN_BACK, /* a discard or count entered by mistake, or
				   goods in: of a batch of that species */
		DAY_COMBINED, /* put onto another tray, which the text names */
	} deed;
	char code[CODE_SIZE]; /* of a batch or portion, without hyphen */
	char name[64];        /* dish; empty for a batch */
	char species[4];      /* of a batch; empty when the code says all */
	int64_t servings;     /* of a portion; 0 for a batch.  Frozen or
				 thawed: what was left of it then */
	grams weight_g;       /* of a batch */
	char text[512];       /* reason, may be empty when frozen or thawed */
	int temp_dc;          /* frozen: reached, tenths */
	int64_t use_by_utc;   /* frozen or thawed: from then on */
	int64_t at_utc;
	char by[16];
};

struct day_event_list {
	struct day_event *items;
	size_t count;
};

enum rc day_events_open(struct day_event_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

/* A hold opened or released in that time, or both: look at the instants. */
struct day_hold {
	struct hold hold;
	char code[CODE_SIZE];
};

struct day_hold_list {
	struct day_hold *items;
	size_t count;
};

enum rc day_holds_open(struct day_hold_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

/* A label or a page of a list asked for in that time. */
struct day_label {
	char code[CODE_SIZE]; /* empty for a page of a list */
	char title[120];      /* of the list, its beginning */
	int page;             /* of the list; 0 for a label */
	int copy;
	enum job_state state;
};

struct day_label_list {
	struct day_label *items;
	size_t count;
};

enum rc day_labels_open(struct day_label_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

#endif /* STORE_DAYS_H */
