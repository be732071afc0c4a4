/*
 * ops/queue.h - work the queue of labels, look at it, answer its questions.
 *
 * Whoever holds the printing lock works the queue for everybody; the lock is
 * held only while there is something to do.  docs/printing.md "The queue".
 */
#ifndef OPS_QUEUE_H
#define OPS_QUEUE_H

#include <signal.h>
#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/label.h"
#include "ops/station.h"
#include "store/jobs.h"

/*
 * queue_start - labels that were in mid-air when the program last ended
 * become unsure, unless somebody is sending right now; sn->unsure_labels is
 * how many.
 */
enum rc queue_start(struct station *sn, struct err *err) MUST_CHECK;

/* queue_questions - append a line for each label a person is to look for. */
enum rc queue_questions(
    struct buf *out, struct station *sn, struct err *err) MUST_CHECK;

/*
 * queue_finish - work the queue until these jobs are settled, or no printer of
 * theirs was ready for order->wait_ms; not at all with order->only_queue.
 * Returns as label_print(), with the jobs as far as they got.
 */
enum rc queue_finish(struct job_list *jobs, struct station *sn,
    const struct label_order *order, struct err *err) MUST_CHECK;

/* queue_count_out - how many of them are sent or confirmed. */
size_t queue_count_out(const struct job_list *jobs);

/*
 * queue_run - work the queue until *stop is not 0: the label being sent is
 * finished first, its printer's patience ends when *stop reaches 2.  With
 * `once` until the queue is empty or no printer is ready.
 * `said` (may be NULL) is told of each job it did something to; with job NULL
 * why it waits.
 * RC_OK; RC_RETRY (once) labels are left; RC_REFUSED (once) the clock;
 * RC_FAILED, RC_FATAL the file.
 */
struct queue_told {
	void (*said)(void *arg, const struct print_job *job, const char *text);
	void *arg;
};
enum rc queue_run(struct station *sn, bool once,
    const volatile sig_atomic_t *stop, const struct queue_told *told,
    struct err *err) MUST_CHECK;

/* queue_list - append what is unsettled, and the newest settled ones. */
enum rc queue_list(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

/* What a screen shows of the queue: `most` of each at the most. */
struct queue_rows {
	struct job_list unsure, waiting; /* oldest first */
	struct job_list settled;         /* newest first */
};

/* queue_rows - RC_OK, the caller frees with queue_rows_fini(); a failure of the
 * file leaves nothing to free. */
enum rc queue_rows(struct queue_rows *out, struct station *sn, int64_t most,
    struct err *err) MUST_CHECK;
void queue_rows_fini(struct queue_rows *r);

/* queue_name - a job for people and commands: its code, or "job12". */
#define QUEUE_NAME_SIZE 32
char *queue_name(char dst[QUEUE_NAME_SIZE], const struct print_job *job);

/*
 * queue_what - what comes out: "label", "hold label", "test label", or
 * "page 2 of Recall 26338-011".  queue_which - the same in a sentence: "the
 * label of 000-01U".
 */
#define QUEUE_WHAT_SIZE 320
char *queue_what(char dst[QUEUE_WHAT_SIZE], const struct print_job *job);
char *queue_which(char dst[QUEUE_WHAT_SIZE], const struct print_job *job);

enum queue_answer {
	ANSWER_YES,   /* it came out: confirmed */
	ANSWER_NO,    /* it failed; a marked reprint is queued */
	ANSWER_LATER, /* still unsure, and not asked for at every start */
	ANSWER_DROP,  /* nobody knows, and it is not wanted: failed, no reprint;
			 a label printed later is still marked as one more */
};

/*
 * queue_answer - a person looked.  `what` is a code or "job12".
 * *old is the job answered for, *again the reprint (id 0: none).
 * RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED: nothing is unsure there.
 */
enum rc queue_answer(struct print_job *old, struct print_job *again,
    struct station *sn, const char *what, enum queue_answer answer,
    const char *by, struct err *err) MUST_CHECK;

/* queue_cancel - a queued job will not be sent.  RC_OK, RC_INVALID,
 * RC_NOTFOUND, RC_REFUSED: nothing is queued there. */
enum rc queue_cancel(struct print_job *out, struct station *sn,
    const char *what, const char *by, struct err *err) MUST_CHECK;

#endif /* OPS_QUEUE_H */
