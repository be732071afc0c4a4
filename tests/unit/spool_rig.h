/*
 * spool_rig.h - a spool with a file of its own and the fake printer.  Labels
 * are pages of a list, so that no kitchen is needed.
 */
#ifndef SPOOL_RIG_H
#define SPOOL_RIG_H

#include <stdbool.h>
#include <stdint.h>

#include "fake_printer.h"
#include "print/spool.h"
#include "store/jobs.h"
#include "store/store.h"

struct srig {
	char folder[128], db[160];
	struct store *st;
	struct spool sp;
	struct printer printer; /* every job's, whatever its name */
	int filling;            /* of a label, bytes */
	int history;            /* settled jobs srig_check() looks at */
	bool clock_bad, no_printer, undrawable;
	int64_t refused; /* id of a job that may not be printed any more */
	void (*before_draw)(struct srig *r, int64_t id);
	int moves; /* durable changes of state */
	void (*moved)(struct srig *r, const struct print_job *j);
};

void srig_make(struct srig *r);
/* srig_open - as a program that starts: orphans are settled; returns them. */
int srig_open(struct srig *r);
void srig_shut(struct srig *r);
void srig_close(struct srig *r);

/* srig_queue - a job for a new list, or for the same list as `again`'s. */
int64_t srig_queue(struct srig *r);
int64_t srig_again(struct srig *r, const struct print_job *again);

struct print_job srig_job(struct srig *r, int64_t id);

/* srig_step - spool_step(), all pauses over. */
enum rc srig_step(struct srig *r);

/* srig_drain - steps until nothing more can be done. */
void srig_drain(struct srig *r);

/* srig_answer - a person says so. */
void srig_answer(struct srig *r, int64_t id, enum job_state to);

/*
 * srig_check - whatever happened: no label that came out is queued or unknown,
 * none came out twice without a mark, at most one is being sent, every
 * doubtful state has its reason.  `where` is put before what is wrong.
 */
void srig_check(struct srig *r, const char *where);

/* spool_ticket - record a test label's list; its id.  Needs a transaction. */
int64_t spool_ticket(struct store *st, const struct moment *at);

#endif /* SPOOL_RIG_H */
