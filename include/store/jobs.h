/*
 * store/jobs.h - every label asked for, and how far it got.
 * Changes need an open transaction (store_begin).
 *
 *	queued ----> sending ----> sent ----> confirmed
 *	  |  ^          |  |        |             ^
 *	  |  +-nothing--+  |        |             | a person says so
 *	  |    went out    v        v             |
 *	  |             unsure <----+-------------+
 *	  v                |
 *	cancelled,         +--> failed (a person says it did not come out)
 *	failed
 *
 * Once a byte went out a job never becomes queued again.
 */
#ifndef STORE_JOBS_H
#define STORE_JOBS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/digest.h"
#include "base/err.h"
#include "core/code.h"
#include "store/holds.h"
#include "store/moment.h"

struct store;

enum job_state {
	JOB_QUEUED,
	JOB_SENDING,   /* moved to before the first byte goes out */
	JOB_SENT,      /* the last byte was taken; error: what speaks against */
	JOB_CONFIRMED, /* and the printer, or a person, says it is out */
	JOB_UNSURE,    /* a part may be out: a person is asked */
	JOB_FAILED,    /* could not be made, or said not to have come out */
	JOB_CANCELLED, /* was not sent and will not be */
	JOB_STATE_COUNT
};

const char *job_state_word(enum job_state s);

/* What a label says of its food; each gets a first print of its own. */
enum job_says {
	SAYS_USE_BY,
	SAYS_FROZEN,
	SAYS_THAWED,
	SAYS_HOLD,
	JOB_SAYS_COUNT
};

const char *job_says_word(enum job_says s);

struct print_job {
	int64_t id;
	struct subject subject; /* of a label; both 0 for a page of a list */
	int64_t ticket_id;      /* of a list; 0 for a label */
	int page;               /* of a list, from 1; 0 for a label */
	enum job_says says;
	int copy; /* 0 first print, n nth reprint */
	enum job_state state;
	char language[16];
	char printer[512];            /* configured address */
	char printer_name[24];        /* section of the settings */
	char picture[DIGEST_HEX_MAX]; /* digest of the bitmap */
	char error[200];              /* why it waits, failed or is unsure */
	struct moment at;
	int64_t changed_utc;
	char said_by[16]; /* who answered for it; empty: nobody */

	/* Filled when read, ignored when inserted. */
	char code[CODE_SIZE]; /* without hyphen; empty for a list */
	char list[244];       /* "Recall 26338-011", "test label", or empty */
};

/* job_may_be_out - may this label lie around somewhere?  Then the next one
 * of its kind is a reprint. */
bool job_may_be_out(const struct print_job *j);

/* job_insert - queued; sets j->id and j->state. */
enum rc job_insert(
    struct store *st, struct print_job *j, struct err *err) MUST_CHECK;

/* job_get - by id.  RC_OK, RC_NOTFOUND. */
enum rc job_get(struct print_job *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;

/*
 * job_move - from one state to another, with the reason.  `j` follows.
 * RC_OK, or RC_NOTFOUND when it is no longer in j->state: another program or
 * person was there first.
 */
enum rc job_move(struct store *st, struct print_job *j, enum job_state to,
    const char *error, int64_t now_utc, struct err *err) MUST_CHECK;

/* job_start - to sending, with what is really being sent: j's language,
 * printer and picture.  Returns as job_move(). */
enum rc job_start(struct store *st, struct print_job *j, int64_t now_utc,
    struct err *err) MUST_CHECK;

/* job_said - as job_move(), by a person.  JOB_UNSURE: "find out later". */
enum rc job_said(struct store *st, struct print_job *j, enum job_state to,
    const char *error, const struct moment *at, struct err *err) MUST_CHECK;

/* job_next - the first queued job behind `after`.  RC_OK, RC_END. */
enum rc job_next(struct print_job *out, struct store *st, int64_t after,
    struct err *err) MUST_CHECK;

/*
 * job_in_doubt - did the last job this printer was sent not end well, so that
 * it may hold half a label?  Also after a person has answered for it.
 */
enum rc job_in_doubt(bool *out, struct store *st, const char *printer_name,
    struct err *err) MUST_CHECK;

struct job_list {
	struct print_job *items; /* owned */
	size_t count;
};

/* job_list_subject - every label of a batch or portion, oldest first. */
enum rc job_list_subject(struct job_list *out, struct store *st,
    const struct subject *s, struct err *err) MUST_CHECK;
/* job_list_prep - every label of the units a breakdown made; job_list_units -
 * of every unit of a batch; oldest first. */
enum rc job_list_prep(struct job_list *out, struct store *st, int64_t prep_id,
    struct err *err) MUST_CHECK;
enum rc job_list_units(struct job_list *out, struct store *st, int64_t batch_id,
    struct err *err) MUST_CHECK;
/* job_list_open - queued, sending and unsure, oldest first. */
enum rc job_list_open(
    struct job_list *out, struct store *st, struct err *err) MUST_CHECK;
/* job_list_settled - the newest `most` others, newest first. */
enum rc job_list_settled(struct job_list *out, struct store *st, int64_t most,
    struct err *err) MUST_CHECK;
/* job_list_unsure, job_list_waiting (queued or sending) - the first `most` of
 * each, oldest first. */
enum rc job_list_unsure(struct job_list *out, struct store *st, int64_t most,
    struct err *err) MUST_CHECK;
enum rc job_list_waiting(struct job_list *out, struct store *st, int64_t most,
    struct err *err) MUST_CHECK;
void job_list_fini(struct job_list *l);

/* As much of a job that is not settled as it takes to count them. */
struct job_brief {
	enum job_state state;
	char printer_name[24];
	char error[200];
	bool later; /* somebody has been asked and will look */
};

/* job_brief_open - the first `most` that are not settled, oldest first;
 * *items is owned by the caller. */
enum rc job_brief_open(struct job_brief **items, size_t *count,
    struct store *st, int64_t most, struct err *err) MUST_CHECK;

/*
 * job_count_orphans - how many job_orphans() would change, if nobody is
 * sending.
 * job_orphans - labels that were on their way when the program that sent them
 * ended: what was being sent, and what was sent but spoken against, becomes
 * unsure.  *count is how many.  Only for who holds the printing lock.
 */
enum rc job_count_orphans(
    int *count, struct store *st, struct err *err) MUST_CHECK;
enum rc job_orphans(
    int *count, struct store *st, int64_t now_utc, struct err *err) MUST_CHECK;

/* job_file_version - a number that changes when another program records
 * something: cheap enough to ask often. */
enum rc job_file_version(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;

#endif /* STORE_JOBS_H */
