/*
 * cuts.h - power cuts, faults of the disk, kill -9 and damaged files, each
 * over the day of day.h.  Every run returns true when nothing was lost, and
 * prints what it tried.
 */
#ifndef CUTS_H
#define CUTS_H

#include <stdbool.h>
#include <stdint.h>

/* How much of it: one point in `each`; 1: every one. */
struct amount {
	unsigned each;
	unsigned workers; /* processes */
	const char *only; /* kind of fault; NULL: all */
};

bool cuts_run(const struct amount *a);
/* cuts_upgrade - over a file of an older schema being opened. */
bool cuts_upgrade(const struct amount *a);
bool faults_run(const struct amount *a);
bool kill_run(unsigned seeds, unsigned workers);
bool damage_run(unsigned seeds, unsigned workers);
/* damage_one - in this process, for a debugger; its folder stays. */
void damage_one(unsigned seed);

/* log_small - SQLite brings its log back into the file every so many pages,
 * so that a day crosses that often. */
#define LOG_PAGES 40
void log_small(void);

/*
 * share_out - call fn(arg, tally, n, i) for i = 0 .. n - 1 in n processes, and
 * wait.  The tallies are added up.  False when one of them found something, or
 * ended badly; what it was at then is told.
 */
#define TALLY_MAX 8
struct tally {
	int64_t n[TALLY_MAX];
	int64_t at, how; /* what it is doing */
	bool lost;
};
bool share_out(struct tally *sum, unsigned n,
    void (*fn)(void *arg, struct tally *t, unsigned n, unsigned i), void *arg);

#endif /* CUTS_H */
