/* jobs.c - every label asked for, and how far it got. */
#include "store/jobs.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "units_sql.h"

static const char *const state_words[JOB_STATE_COUNT] = {
	[JOB_QUEUED] = "queued",
	[JOB_SENDING] = "sending",
	[JOB_SENT] = "sent",
	[JOB_CONFIRMED] = "confirmed",
	[JOB_UNSURE] = "unsure",
	[JOB_FAILED] = "failed",
	[JOB_CANCELLED] = "cancelled",
};

static const char *const says_words[JOB_SAYS_COUNT] = {
	[SAYS_USE_BY] = "use-by",
	[SAYS_FROZEN] = "frozen",
	[SAYS_THAWED] = "thawed",
	[SAYS_HOLD] = "hold",
};

const char *
job_state_word(enum job_state s)
{
	return state_words[s];
}

const char *
job_says_word(enum job_says s)
{
	return says_words[s];
}

bool
job_may_be_out(const struct print_job *j)
{
	if (j->state == JOB_CANCELLED)
		return false;
	/* Who looked for it and did not find it may have looked badly. */
	return j->state != JOB_FAILED || j->said_by[0] != '\0';
}

enum rc
job_insert(struct store *st, struct print_job *j, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO print_job (batch_id, portion_id, ticket_id, page,"
	    " says, copy, state, language, printer, printer_name, picture,"
	    " error, at_utc, changed_utc, by)"
	    " VALUES (:batch, :portion, :ticket, :page, :says, :copy,"
	    " 'queued', :language, :printer, :name, :picture, '', :at, :at,"
	    " :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":batch", j->subject.batch_id);
	bind_id(&q, ":portion", j->subject.portion_id);
	bind_id(&q, ":ticket", j->ticket_id);
	bind_int(&q, ":page", j->page);
	bind_text(&q, ":says", says_words[j->says]);
	bind_int(&q, ":copy", j->copy);
	bind_text(&q, ":language", j->language);
	bind_text(&q, ":printer", j->printer);
	bind_text(&q, ":name", j->printer_name);
	bind_text(&q, ":picture", j->picture);
	bind_int(&q, ":at", j->at.utc);
	bind_text(&q, ":by", j->at.by);
	if ((rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	j->id = last_id(st);
	j->state = JOB_QUEUED;
	return RC_OK;
}

static int
word_of(const char *const *words, int count, const struct stmt *q, int column)
{
	char word[16];
	int i;

	col_text(word, sizeof(word), q, column);
	for (i = 0; i < count - 1 && !str_eq(word, words[i]); i++)
		;
	return i;
}

static enum rc
read_job(void *item, const struct stmt *q, struct err *err)
{
	struct print_job *j = item;

	(void)err;
	memset(j, 0, sizeof(*j));
	j->id = col_int(q, 0);
	j->subject.batch_id = col_int(q, 1);
	j->subject.portion_id = col_int(q, 2);
	j->ticket_id = col_int(q, 3);
	j->page = (int)col_int(q, 4);
	j->says = (enum job_says)word_of(says_words, JOB_SAYS_COUNT, q, 5);
	j->copy = (int)col_int(q, 6);
	j->state = (enum job_state)word_of(state_words, JOB_STATE_COUNT, q, 7);
	col_text(j->language, sizeof(j->language), q, 8);
	col_text(j->printer, sizeof(j->printer), q, 9);
	col_text(j->printer_name, sizeof(j->printer_name), q, 10);
	col_text(j->picture, sizeof(j->picture), q, 11);
	col_text(j->error, sizeof(j->error), q, 12);
	j->at.utc = col_int(q, 13);
	j->changed_utc = col_int(q, 14);
	col_text(j->at.by, sizeof(j->at.by), q, 15);
	col_text(j->said_by, sizeof(j->said_by), q, 16);
	col_text(j->code, sizeof(j->code), q, 17);
	col_text(j->list, sizeof(j->list), q, 18);
	return RC_OK;
}

#define JOB_COLUMNS                                                            \
	"SELECT id, batch_id, portion_id, ticket_id, page, says, copy, state," \
	" language, printer, printer_name, picture, error, at_utc,"            \
	" changed_utc, by, said_by, coalesce("                                 \
	"(SELECT code FROM portion WHERE portion.id = portion_id),"            \
	" (SELECT code FROM batch WHERE batch.id = batch_id), ''), coalesce("  \
	"(SELECT CASE kind WHEN 'test' THEN 'test label'"                      \
	" ELSE substr(title, 1, 60) END FROM ticket"                           \
	" WHERE ticket.id = ticket_id), '')"                                   \
	" FROM print_job "

/* Exactly the condition of the index print_job_open, which SQLite wants. */
#define IS_OPEN "state IN ('queued', 'sending', 'unsure')"

static enum rc
read_one(struct print_job *out, struct stmt *q, struct err *err)
{
	enum rc rc = stmt_step(q, err);

	if (rc == RC_OK)
		rc = read_job(out, q, err);
	stmt_close(q);
	return rc;
}

enum rc
job_get(struct print_job *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, JOB_COLUMNS "WHERE id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = read_one(out, &q, err)) == RC_END)
		return err_set(
		    err, RC_NOTFOUND, 0, "there is no job %lld", (long long)id);
	return rc;
}

/* Was the row in the state it was last seen in? */
static enum rc
moved(struct stmt *q, struct print_job *j, enum job_state to, struct err *err)
{
	enum rc rc;

	bind_int(q, ":id", j->id);
	bind_text(q, ":from", state_words[j->state]);
	bind_text(q, ":to", state_words[to]);
	if ((rc = stmt_run(q, err)) != RC_OK)
		return rc;
	if (rows_changed(q->st) != 1)
		return err_set(err, RC_NOTFOUND, 0,
		    "job %lld is no longer %s: another program was faster",
		    (long long)j->id, state_words[j->state]);
	j->state = to;
	return RC_OK;
}

enum rc
job_move(struct store *st, struct print_job *j, enum job_state to,
    const char *error, int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE print_job SET state = :to, error = :error,"
	    " changed_utc = :now WHERE id = :id AND state = :from",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":error", error);
	bind_int(&q, ":now", now_utc);
	if ((rc = moved(&q, j, to, err)) != RC_OK)
		return rc;
	str_copy(j->error, sizeof(j->error), error);
	j->changed_utc = now_utc;
	return RC_OK;
}

enum rc
job_start(
    struct store *st, struct print_job *j, int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE print_job SET state = :to, error = '',"
	    " language = :language, printer = :printer, picture = :picture,"
	    " changed_utc = :now WHERE id = :id AND state = :from",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":language", j->language);
	bind_text(&q, ":printer", j->printer);
	bind_text(&q, ":picture", j->picture);
	bind_int(&q, ":now", now_utc);
	if ((rc = moved(&q, j, JOB_SENDING, err)) != RC_OK)
		return rc;
	j->error[0] = '\0';
	j->changed_utc = now_utc;
	return RC_OK;
}

enum rc
job_said(struct store *st, struct print_job *j, enum job_state to,
    const char *error, const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE print_job SET state = :to, error = :error,"
	    " said_by = :by, changed_utc = :now"
	    " WHERE id = :id AND state = :from",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":error", error);
	bind_text(&q, ":by", at->by);
	bind_int(&q, ":now", at->utc);
	if ((rc = moved(&q, j, to, err)) != RC_OK)
		return rc;
	str_copy(j->error, sizeof(j->error), error);
	str_copy(j->said_by, sizeof(j->said_by), at->by);
	j->changed_utc = at->utc;
	return RC_OK;
}

enum rc
job_next(
    struct print_job *out, struct store *st, int64_t after, struct err *err)
{
	struct stmt q;
	enum rc rc;

	/* By its own number the row would be looked for in all history. */
	rc = stmt_open(&q, st,
	    JOB_COLUMNS "INDEXED BY print_job_open WHERE " IS_OPEN
			" AND state = 'queued' AND id > :after"
			" ORDER BY id LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":after", after);
	return read_one(out, &q, err);
}

enum rc
job_in_doubt(
    bool *out, struct store *st, const char *printer_name, struct err *err)
{
	struct stmt q;
	enum rc rc;

	/* Backwards from the newest: the first one found ends it. */
	rc = stmt_open(&q, st,
	    "SELECT state = 'unsure' OR said_by <> '' FROM print_job" SCAN_OK
	    "WHERE printer_name = :name AND (said_by <> ''"
	    " OR state IN ('sending', 'sent', 'confirmed', 'unsure'))"
	    " ORDER BY id DESC LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":name", printer_name);
	rc = stmt_step(&q, err);
	*out = rc == RC_OK && col_int(&q, 0) != 0;
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

static enum rc
read_list(struct job_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_job, err);
	out->items = rows;
	return rc;
}

static enum rc
list_by(struct job_list *out, struct store *st, const char *sql, int64_t id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	return read_list(out, &q, err);
}

enum rc
job_list_subject(struct job_list *out, struct store *st,
    const struct subject *s, struct err *err)
{
	return s->batch_id != 0
	    ? list_by(out, st, JOB_COLUMNS "WHERE batch_id = :id ORDER BY id",
		  s->batch_id, err)
	    : list_by(out, st, JOB_COLUMNS "WHERE portion_id = :id ORDER BY id",
		  s->portion_id, err);
}

enum rc
job_list_prep(
    struct job_list *out, struct store *st, int64_t prep_id, struct err *err)
{
	return list_by(out, st,
	    JOB_COLUMNS
	    "WHERE portion_id IN (SELECT p.id FROM prep_output o"
	    " JOIN portion p ON p.prep_output_id = o.id WHERE o.prep_id = :id"
	    " AND NOT " IS_JOINED ") ORDER BY id" SORT_OK,
	    prep_id, err);
}

enum rc
job_list_units(
    struct job_list *out, struct store *st, int64_t batch_id, struct err *err)
{
	return list_by(out, st,
	    JOB_COLUMNS
	    "WHERE portion_id IN (SELECT w.portion_id FROM batch_unit w"
	    " WHERE w.batch_id = :id) ORDER BY id" SORT_OK,
	    batch_id, err);
}

enum rc
job_list_open(struct job_list *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    JOB_COLUMNS "INDEXED BY print_job_open WHERE " IS_OPEN
			" ORDER BY id" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	return read_list(out, &q, err);
}

enum rc
job_list_settled(
    struct job_list *out, struct store *st, int64_t most, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    JOB_COLUMNS "WHERE NOT (" IS_OPEN
			") ORDER BY id DESC"
			" LIMIT :most" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	return read_list(out, &q, err);
}

static enum rc
some_open(struct job_list *out, struct store *st, const char *sql, int64_t most,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	return read_list(out, &q, err);
}

enum rc
job_list_unsure(
    struct job_list *out, struct store *st, int64_t most, struct err *err)
{
	return some_open(out, st,
	    JOB_COLUMNS "INDEXED BY print_job_open WHERE " IS_OPEN
			" AND state = 'unsure' ORDER BY id LIMIT :most" SCAN_OK,
	    most, err);
}

enum rc
job_list_waiting(
    struct job_list *out, struct store *st, int64_t most, struct err *err)
{
	return some_open(out, st,
	    JOB_COLUMNS
	    "INDEXED BY print_job_open WHERE " IS_OPEN
	    " AND state <> 'unsure' ORDER BY id LIMIT :most" SCAN_OK,
	    most, err);
}

static enum rc
read_brief(void *item, const struct stmt *q, struct err *err)
{
	struct job_brief *b = item;

	(void)err;
	b->state = (enum job_state)word_of(state_words, JOB_STATE_COUNT, q, 0);
	col_text(b->printer_name, sizeof(b->printer_name), q, 1);
	col_text(b->error, sizeof(b->error), q, 2);
	b->later = col_int(q, 3) != 0;
	return RC_OK;
}

enum rc
job_brief_open(struct job_brief **items, size_t *count, struct store *st,
    int64_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	*items = NULL;
	*count = 0;
	rc = stmt_open(&q, st,
	    "SELECT state, printer_name, error, said_by <> '' FROM print_job"
	    " INDEXED BY print_job_open WHERE " IS_OPEN
	    " ORDER BY id LIMIT :most" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_brief, err);
	*items = rows;
	return rc;
}

void
job_list_fini(struct job_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
job_count_orphans(int *count, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT (SELECT count(*) FROM print_job INDEXED BY print_job_open"
	    " WHERE " IS_OPEN
	    " AND state = 'sending')"
	    " + (SELECT count(*) FROM print_job INDEXED BY print_job_late"
	    " WHERE state = 'sent' AND error <> '')" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*count = (int)col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

static enum rc
make_unsure(int *count, struct store *st, const char *sql, int64_t now_utc,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":now", now_utc);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*count += rows_changed(st);
	return rc;
}

enum rc
job_orphans(int *count, struct store *st, int64_t now_utc, struct err *err)
{
	enum rc rc;

	*count = 0;
	rc = make_unsure(count, st,
	    "UPDATE print_job INDEXED BY print_job_open" SCAN_OK
	    "SET state = 'unsure', changed_utc = :now,"
	    " error = 'the program ended while it was being sent'"
	    " WHERE " IS_OPEN " AND state = 'sending'",
	    now_utc, err);
	if (rc != RC_OK)
		return rc;
	return make_unsure(count, st,
	    "UPDATE print_job INDEXED BY print_job_late" SCAN_OK
	    "SET state = 'unsure', changed_utc = :now"
	    " WHERE state = 'sent' AND error <> ''",
	    now_utc, err);
}

enum rc
job_file_version(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, "PRAGMA data_version", err)) != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}
