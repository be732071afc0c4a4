/*
 * kitchen.h - an invented kitchen in a folder of its own, for several suites:
 * settings, the real species and yield tables, a menu, suppliers, bookings.
 */
#ifndef KITCHEN_H
#define KITCHEN_H

#include <stdbool.h>
#include <stdint.h>

#include "core/species.h"
#include "core/yield.h"
#include "ops/breakdown.h"
#include "ops/label.h"
#include "ops/receive.h"
#include "ops/station.h"

/* Wednesday 25 November 2026, 10:05 in the kitchen. */
#define KITCHEN_NOW "2026-11-25T10:05"

struct kitchen {
	char folder[256];
	char db[320], ini[320];
	struct station *sn;
};

/* kitchen_tables - config/species.csv and yields.csv; freed by the caller
 * with species_fini() and yield_fini().  Either may be NULL. */
void kitchen_tables(struct species_table *species, struct yield_table *yields);

/*
 * kitchen_make - a folder with settings, no station file yet.  kitchen_open -
 * the same with a training station opened at KITCHEN_NOW (every statement
 * checked for its query plan), menu, suppliers and bookings brought in.
 * kitchen_close - close the station and remove the folder.
 */
void kitchen_make(struct kitchen *k, bool training);
void kitchen_open(struct kitchen *k);
void kitchen_close(struct kitchen *k);

/* kitchen_station - (re)open the station file with --now, or NULL. */
enum rc kitchen_station(
    struct kitchen *k, const char *now, struct err *err) MUST_CHECK;

/* kitchen_write - a file in the folder; returns its path in `path`. */
const char *kitchen_write(
    char path[320], const struct kitchen *k, const char *name, const char *s);

/* kitchen_at - move the clock of the open training station. */
void kitchen_at(struct kitchen *k, const char *now);

/* kitchen_cod - a good delivery of 10 gutted cod, 20 kg, to be changed. */
struct receive_in kitchen_cod(void);

/* kitchen_receive - receive() that must succeed. */
struct batch kitchen_receive(struct kitchen *k, const struct receive_in *in);

/*
 * kitchen_break - break down `fish` of a counted batch into portions of one
 * dish, `per_label` on a label, with trim, frames and waste; must succeed and
 * is freed by the caller with breakdown_fini().
 */
struct kitchen_cut {
	const char *dish;
	int64_t portions, per_label;
	grams portions_g, in_g;
	int64_t fish;
};
struct breakdown kitchen_break(
    struct kitchen *k, const char *batch, const struct kitchen_cut *cut);

/* kitchen_trays - a batch of 10 gutted cod, 20 kg, of which 5 became 3 trays of
 * 4; freed as by kitchen_break(). */
struct breakdown kitchen_trays(struct batch *b, struct kitchen *k);

/* kitchen_label - label_print() of one code by CD, without waiting; `out` gets
 * its job, zeros when none was queued.  NULL: nobody asks. */
enum rc kitchen_label(struct print_job *out, struct kitchen *k,
    const char *code, enum label_want want);

/* kitchen_count - one number by SQL, over a connection of its own. */
int64_t kitchen_count(const struct kitchen *k, const char *sql);

/* kitchen_touched - the file was written to by another program than the
 * station: when it is closed nobody looks whether all is as recorded. */
void kitchen_touched(void);

/* kitchen_sql - run SQL over a connection of its own; SQLite's result code. */
int kitchen_sql(const char *db, const char *sql);

/* kitchen_records - how many rows there are of everything that happened:
 * unchanged when nothing was recorded. */
int64_t kitchen_records(const struct kitchen *k);

/* kitchen_balance - the parts of a batch must sum up to what came in. */
void kitchen_balance(struct kitchen *k, const struct batch *b);

#endif /* KITCHEN_H */
