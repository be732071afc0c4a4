/*
 * store/jobs.h - every label asked for, and how far it got.
 */
#ifndef STORE_JOBS_H
#define STORE_JOBS_H

#include <stddef.h>
#include <stdint.h>

#include "base/digest.h"
#include "base/err.h"
#include "store/holds.h"
#include "store/moment.h"

struct store;

enum job_state {
	JOB_QUEUED,
	JOB_SENDING,
	JOB_SENT,
	JOB_CONFIRMED,
	JOB_UNSURE,
	JOB_FAILED,
	JOB_CANCELLED,
	JOB_STATE_COUNT
};

const char *job_state_word(enum job_state s);

struct print_job {
	int64_t id;
	struct subject subject;
	int copy; /* 0 first print, n nth reprint */
	enum job_state state;
	char language[16];
	char printer[512];
	char picture[DIGEST_HEX_MAX]; /* digest of the bitmap */
	char error[200];
	struct moment at;
	int64_t changed_utc;
};

/* job_insert - queued; sets j->id.  Needs an open transaction. */
enum rc job_insert(
    struct store *st, struct print_job *j, struct err *err) MUST_CHECK;

/* job_set - move a job to a state, in a transaction of its own, durable when
 * it returns. */
enum rc job_set(struct store *st, int64_t id, enum job_state state,
    const char *error, int64_t now_utc, struct err *err) MUST_CHECK;

struct job_list {
	struct print_job *items; /* owned */
	size_t count;
};

/* job_list_subject - every label of a batch or portion, oldest first. */
enum rc job_list_subject(struct job_list *out, struct store *st,
    const struct subject *s, struct err *err) MUST_CHECK;
void job_list_fini(struct job_list *l);

/* job_count_open - labels queued or being sent. */
enum rc job_count_open(int *out, struct store *st, struct err *err) MUST_CHECK;

/*
 * job_orphans - labels that were on their way when the program last ended:
 * what was being sent becomes unsure, what was only queued failed.  Needs an
 * open transaction.  *count is how many.
 */
enum rc job_orphans(
    int *count, struct store *st, int64_t now_utc, struct err *err) MUST_CHECK;

#endif /* STORE_JOBS_H */
