/*
 * years_work.h - a kitchen at work: what goods in, service and keeping share.
 */
#ifndef YEARS_WORK_H
#define YEARS_WORK_H

#include "core/code.h"
#include "years_parts.h"

#define BATCHES_A_DAY 1644 /* hundredths */
#define UNITS_LEAST 30     /* of a batch; 23 more at most */
#define UNITS_SPREAD 24
#define BOOKED_AHEAD 2 /* days */
#define LEFT_OVER_PC 15
#define KEEP_DAYS 3 /* longer no unit waits, but for the freezer */
/* Portions of a dish in a day, about: two batches of 42 units. */
#define USUAL 102

/* A labelled unit that is not written yet. */
struct unit {
	int64_t id, serial, output, batch;
	int kind;
	int64_t servings, left;
	grams g;
	int64_t made, use_by, frozen;
	day_no day;
	char code[CODE_SIZE];
	const char *by;
};

struct queue {
	struct unit **items;
	size_t first, count, cap;
};

/* A batch with something left in it. */
struct rest {
	int64_t id, fish;
	grams g;
	day_no last;
	char code[CODE_SIZE];
};

struct work {
	struct rows *r;
	const struct first_day *f;
	uint64_t seed;
	day_no day, last;
	int64_t utc;
	int offset;
	int64_t serial;
	int batches; /* owed, hundredths */

	struct unit **units; /* of the last days, in order; owned */
	size_t count, cap, written;
	struct queue on_hand[KINDS];
	struct unit *frozen[64];
	size_t frozen_count;
	struct unit *thawed[64]; /* this morning */
	size_t thawed_count;
	struct rest rests[256];
	size_t rest_count;
	int64_t *services; /* ids: two a day; owned */
	day_no from;
	int turn; /* of the kinds */
	int part; /* of the numbers of a large kitchen: 1, or an eighth */
};

#define LOT_UNITS (UNITS_LEAST + UNITS_SPREAD)
#define LOTS_MAX 24

/* A batch of today and what will be made of it. */
struct lot {
	int64_t id, rest_fish;
	grams rest_g;
	int kind;
	bool broken; /* today; else it stays whole */
	char code[CODE_SIZE];
	int preps, units;
	struct {
		int first, units;
		int64_t fish, id;
		grams in_g, out_g;
	} prep[2];
	int64_t servings[LOT_UNITS];
	grams g[LOT_UNITS];
};

/* years_chance - 0 .. below - 1. */
int64_t years_chance(struct work *w, int64_t below);
bool years_one_in(struct work *w, int n);
/* years_about - within so many percent of it. */
grams years_about(struct work *w, grams g, int percent);
const char *years_someone(struct work *w);
/* years_time - of today, from now on. */
void years_time(struct work *w, int hour, int minute);
int64_t years_end_of(day_no day);
int64_t years_id(struct work *w, enum row_kind k);
void years_audit(struct work *w, const char *by, const char *action,
    const char *subject, const char *detail);
/* years_print - the label of a batch or a unit: the other id is 0. */
void years_print(struct work *w, int64_t batch, int64_t unit, const char *code,
    const char *says, const char *by);
void years_print_list(struct work *w, const char *kind, const char *title);

/* Goods of a morning, and what is made of them. */
void years_take_in(struct work *w, struct lot *lots, int count);
void years_break_all(struct work *w, struct lot *lots, int count);

#endif /* YEARS_WORK_H */
