/* jobs.c - every label asked for, and how far it got. */
#include "store/jobs.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

static const char *const state_words[JOB_STATE_COUNT] = {
	[JOB_QUEUED] = "queued",
	[JOB_SENDING] = "sending",
	[JOB_SENT] = "sent",
	[JOB_CONFIRMED] = "confirmed",
	[JOB_UNSURE] = "unsure",
	[JOB_FAILED] = "failed",
	[JOB_CANCELLED] = "cancelled",
};

const char *
job_state_word(enum job_state s)
{
	return state_words[s];
}

enum rc
job_insert(struct store *st, struct print_job *j, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO print_job (batch_id, portion_id, copy, state,"
	    " language, printer, picture, error, at_utc, changed_utc, by)"
	    " VALUES (:batch, :portion, :copy, 'queued', :language, :printer,"
	    " :picture, '', :at, :at, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":batch", j->subject.batch_id);
	bind_id(&q, ":portion", j->subject.portion_id);
	bind_int(&q, ":copy", j->copy);
	bind_text(&q, ":language", j->language);
	bind_text(&q, ":printer", j->printer);
	bind_text(&q, ":picture", j->picture);
	bind_int(&q, ":at", j->at.utc);
	bind_text(&q, ":by", j->at.by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		j->id = last_id(st);
	return rc;
}

enum rc
job_set(struct store *st, int64_t id, enum job_state state, const char *error,
    int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE print_job SET state = :state, error = :error,"
	    " changed_utc = :now WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":state", state_words[state]);
	bind_text(&q, ":error", error);
	bind_int(&q, ":now", now_utc);
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}

static enum rc
read_job(void *item, const struct stmt *q, struct err *err)
{
	struct print_job *j = item;
	char word[16];
	int i;

	(void)err;
	memset(j, 0, sizeof(*j));
	j->id = col_int(q, 0);
	j->subject.batch_id = col_int(q, 1);
	j->subject.portion_id = col_int(q, 2);
	j->copy = (int)col_int(q, 3);
	col_text(word, sizeof(word), q, 4);
	for (i = 0; i < JOB_STATE_COUNT; i++)
		if (str_eq(word, state_words[i]))
			j->state = (enum job_state)i;
	col_text(j->language, sizeof(j->language), q, 5);
	col_text(j->printer, sizeof(j->printer), q, 6);
	col_text(j->picture, sizeof(j->picture), q, 7);
	col_text(j->error, sizeof(j->error), q, 8);
	j->at.utc = col_int(q, 9);
	j->changed_utc = col_int(q, 10);
	col_text(j->at.by, sizeof(j->at.by), q, 11);
	return RC_OK;
}

#define JOB_COLUMNS                                                            \
	"SELECT id, batch_id, portion_id, copy, state, language, printer,"     \
	" picture, error, at_utc, changed_utc, by FROM print_job "

enum rc
job_list_subject(struct job_list *out, struct store *st,
    const struct subject *s, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    s->batch_id != 0 ? JOB_COLUMNS "WHERE batch_id = :id ORDER BY id"
			     : JOB_COLUMNS "WHERE portion_id = :id ORDER BY id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", s->batch_id != 0 ? s->batch_id : s->portion_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_job, err);
	out->items = rows;
	return rc;
}

void
job_list_fini(struct job_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
job_count_open(int *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT count(*) FROM print_job" SCAN_OK
	    "WHERE state IN ('queued', 'sending')",
	    err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = (int)col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

enum rc
job_orphans(int *count, struct store *st, int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE print_job SET changed_utc = :now,"
	    " error = 'the program ended before this label was done',"
	    " state = CASE state WHEN 'sending' THEN 'unsure' ELSE 'failed' END"
	    " WHERE state IN ('queued', 'sending')",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":now", now_utc);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*count = rows_changed(st);
	return rc;
}
