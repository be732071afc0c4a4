/*
 * hand_deed.h - what is done to stock: the question, the record, what is said
 * afterwards.  Shared by On hand and Service.  Private to src/screens.
 *
 * Each is asked on a sheet that stays, with what was typed, until the record
 * took it or Esc leaves it; so a refusal loses nothing.
 */
#ifndef SCREENS_HAND_DEED_H
#define SCREENS_HAND_DEED_H

#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/hold.h"
#include "ops/on_hand.h"
#include "screens/desk.h"

enum deed_kind {
	DEED_USE,
	DEED_FREEZE,
	DEED_THAW,
	DEED_DISCARD,
	DEED_COUNT,
	DEED_HOLD,
	DEED_RELEASE,
	DEED_KIND_COUNT
};

struct deed_unit {
	enum code_kind kind;
	char code[CODE_SIZE]; /* without hyphen */
	char name[64];
	int64_t left; /* servings or fish */
	int64_t use_by_utc;
	char held[200]; /* why it is on hold; empty when it is not */
};

struct deed;
/* Told when it is recorded, before the screen is loaded again. */
typedef void deed_fn(struct desk *d, struct deed *g);

/* One at a time; a part of a screen's state. */
struct deed {
	enum deed_kind kind;
	struct deed_unit units[FREEZE_UNITS_MAX];
	size_t count;
	char service[48];     /* use: "DATE/NAME"; empty: the present one */
	struct use_look look; /* use: as judged when it was asked */
	int64_t older_row;    /* use: of the older one On hand, from 1 */
	bool run;             /* discard what expired, one after the other */
	size_t run_left;      /* things past their use-by */
	bool breakdown;       /* hold, release: of the breakdown that made it */
	deed_fn *done;        /* may be NULL */
	void *owner;          /* the screen's state, for done */

	/* typed; -1 or empty when not */
	int64_t number, fish;
	char reason[FIELD_SIZE], temp[FIELD_SIZE], weight[FIELD_SIZE];
	bool open; /* its sheet is shown */

	/* afterwards */
	struct portion used;    /* use */
	struct discarded gone;  /* discard of one */
	struct hold_done block; /* hold, release */
};

/* deed_take - a unit or batch as it stands on hand. */
void deed_take(struct deed_unit *u, const struct on_hand_row *r);

/* deed_ask - ask what the deed needs; kind, units, done and owner are set. */
void deed_ask(struct desk *d, struct deed *g);

/* deed_use - use a unit: at once when it is a single serving that may go, else
 * asking how many, or saying loudly why not.  done and owner are set. */
void deed_use(
    struct desk *d, struct deed *g, const char *code, const char *service);

/* deed_run - ask to discard the first thing that expired, and go on so. */
void deed_run(struct desk *d, struct deed *g);

/* --- for hand_use.c and hand_sheet.c --------------------------------------*/

/* deed_record - record it, with initials and PIN as it needs them. */
void deed_record(struct desk *d, struct deed *g);
/* deed_sheet - the sheet with the fields of its kind. */
void deed_sheet(struct desk *d, struct deed *g);

#endif /* SCREENS_HAND_DEED_H */
