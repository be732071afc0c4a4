/* queue_answer.c - what a person says about a label, and cancelling one. */
#include "ops/queue.h"
#include "ops/scan.h"

#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "store/batches.h"
#include "store/portions.h"
#include "store/store.h"

#define JOB_PREFIX "job"
/* A number of so many digits cannot be taken for a code. */
#define BARE_DIGITS_MAX (PORTION_CODE_LEN - 1)

/* "job12", or "12" when it is too short for a code; 0 else. */
static int64_t
job_number(const char *what)
{
	const size_t n = strlen(JOB_PREFIX);
	const char *digits = what;
	int64_t id = 0;

	if (strncmp(what, JOB_PREFIX, n) == 0)
		digits = what + n;
	else if (strlen(what) > BARE_DIGITS_MAX)
		return 0;
	if (int_parse(&id, "job", digits, 1, INT64_C(1) << 40, NULL) != RC_OK)
		return 0;
	return id;
}

static enum rc
subject_of(
    struct subject *out, struct station *sn, const char *what, struct err *err)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	struct portion p;
	struct batch b;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = scan_code(&kind, code, sn, what, err)) != RC_OK)
		return rc;
	if (kind == CODE_BATCH) {
		rc = batch_get(&b, sn->st, code, err);
		out->batch_id = rc == RC_OK ? b.id : 0;
		return rc;
	}
	rc = portion_get(&p, sn->st, code, err);
	out->portion_id = rc == RC_OK ? p.id : 0;
	return rc;
}

/* The one job of a code that is in this state. */
static enum rc
find_by_code(struct print_job *out, struct station *sn, const char *what,
    enum job_state state, struct err *err)
{
	struct subject s;
	struct job_list l;
	size_t i, n = 0;
	enum rc rc;

	if ((rc = subject_of(&s, sn, what, err)) != RC_OK ||
	    (rc = job_list_subject(&l, sn->st, &s, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++)
		if (l.items[i].state == state) {
			*out = l.items[i];
			n++;
		}
	job_list_fini(&l);
	if (n > 1)
		return err_set(err, RC_REFUSED, 0,
		    "%.40s has %zu labels that are %s: name one by its job, "
		    "such as job%lld (pinbone printer queue)",
		    what, n, job_state_word(state), (long long)out->id);
	if (n == 0)
		return err_set(err, RC_REFUSED, 0,
		    "%.40s has no label that is %s: pinbone printer queue "
		    "lists them",
		    what, job_state_word(state));
	return RC_OK;
}

static enum rc
find(struct print_job *out, struct station *sn, const char *what,
    enum job_state state, struct err *err)
{
	int64_t id = job_number(what);
	enum rc rc;

	if (id == 0)
		return find_by_code(out, sn, what, state, err);
	if ((rc = job_get(out, sn->st, id, err)) != RC_OK)
		return rc;
	if (out->state != state)
		return err_set(err, RC_REFUSED, 0, "job%lld is %s, not %s",
		    (long long)id, job_state_word(out->state),
		    job_state_word(state));
	return RC_OK;
}

static enum rc
record(struct print_job *old, struct print_job *again, struct station *sn,
    enum queue_answer answer, const struct moment *at, struct err *err)
{
	static const struct {
		enum job_state to;
		const char *word;
	} table[] = {
		[ANSWER_YES] = { JOB_CONFIRMED, "yes" },
		[ANSWER_NO] = { JOB_FAILED, "no" },
		[ANSWER_LATER] = { JOB_UNSURE, "later" },
		[ANSWER_DROP] = { JOB_FAILED, "nobody knows, dropped" },
	};
	char why[sizeof(old->error)], name[QUEUE_NAME_SIZE];
	enum rc rc;

	str_copy(why, sizeof(why), old->error);
	if (answer == ANSWER_YES)
		str_fmt(
		    why, sizeof(why), "said to have come out by %s", at->by);
	if (answer == ANSWER_NO)
		str_fmt(why, sizeof(why), "said not to have come out by %s",
		    at->by);
	if (answer == ANSWER_DROP)
		str_fmt(why, sizeof(why),
		    "nobody knows whether it came out, dropped by %s", at->by);
	queue_name(name, old);
	if ((rc = job_said(sn->st, old, table[answer].to, why, at, err)) !=
		RC_OK ||
	    (rc = station_audit(sn, at, err, "answer", name,
		 "job %lld came out: %s", (long long)old->id,
		 table[answer].word)) != RC_OK)
		return rc;
	return answer == ANSWER_NO ? label_again(again, sn, old, at, err)
				   : RC_OK;
}

enum rc
queue_answer(struct print_job *old, struct print_job *again, struct station *sn,
    const char *what, enum queue_answer answer, const char *by, struct err *err)
{
	struct moment at;
	enum rc rc;

	memset(again, 0, sizeof(*again));
	if ((rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = find(old, sn, what, JOB_UNSURE, err)) == RC_OK &&
	    (rc = record(old, again, sn, answer, &at, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
queue_cancel(struct print_job *out, struct station *sn, const char *what,
    const char *by, struct err *err)
{
	char why[sizeof(out->error)], name[QUEUE_NAME_SIZE];
	struct moment at;
	enum rc rc;

	if ((rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	str_fmt(why, sizeof(why), "cancelled by %s", at.by);
	if ((rc = find(out, sn, what, JOB_QUEUED, err)) == RC_OK &&
	    (rc = job_move(sn->st, out, JOB_CANCELLED, why, at.utc, err)) ==
		RC_OK &&
	    (rc = station_audit(sn, &at, err, "cancel", queue_name(name, out),
		 "label of job %lld", (long long)out->id)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}
