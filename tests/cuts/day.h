/*
 * day.h - a whole day of an invented kitchen, step by step, and what each step
 * said it recorded.  Steps are played by ops alone.
 */
#ifndef DAY_H
#define DAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/code.h"
#include "ops/station.h"

#define DAY_UNITS 32

/* What later steps need of earlier ones; copied as it is. */
struct day_codes {
	char hake[CODE_SIZE], plaice[CODE_SIZE], mussels[CODE_SIZE];
	char hakes[DAY_UNITS][CODE_SIZE], plaices[DAY_UNITS][CODE_SIZE];
	int hake_count, plaice_count;
	int64_t batches, events; /* so many were recorded */
	int64_t audits;          /* rows of the trail the steps wrote */
	int lots;                /* numbers given to later deliveries */
};

/* Something a step said: this SQL gives this text from then on, until a later
 * step says otherwise. */
struct fact {
	char *sql, *want;
	int step;
};

struct day {
	struct station *sn; /* settings and tables; sn->st NULL: no file open */
	char folder[256], db[320], ini[320], stick[320], out[320];
	struct day_codes c;
	struct fact *facts;
	size_t fact_count, fact_cap;
	int step; /* being played */
};

typedef enum rc step_fn(struct day *d, struct err *err);

struct step {
	const char *name;
	step_fn *play;
	/* Several transactions: a part of them may be there when it failed or
	 * was cut short. */
	bool parts;
	/* It opens the file itself: nothing is open before it. */
	bool opens;
};

extern const struct step day_steps[];
extern const int day_step_count;

/* day_make - a folder of its own with settings, no station file; day_at - the
 * same day in a folder that is there. */
void day_make(struct day *d);
void day_here(struct day *d, const char *folder);
void day_drop(struct day *d);
/* day_done - close, and free what it keeps; the folder stays. */
void day_done(struct day *d);

/* day_open - the file, as a start of the program does; day_shut - close it. */
enum rc day_open(struct day *d, struct err *err) MUST_CHECK;
void day_shut(struct day *d);
/* day_at - set the clock: "07:10". */
void day_at(struct day *d, const char *time);

/* day_play - one step, at its time. */
enum rc day_play(struct day *d, int step, struct err *err) MUST_CHECK;

/* day_fact - sql and what it gives, both made with printf. */
void day_fact(struct day *d, const char *want, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));

/* day_more - one delivery more, and units of it: the station goes on.  RC_OK,
 * and no code of them was there before. */
enum rc day_more(struct day *d, struct err *err) MUST_CHECK;

#endif /* DAY_H */
