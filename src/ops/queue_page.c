/* queue_page.c - the queue for people and programs. */
#include "ops/queue.h"

#include <inttypes.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "store/store.h"

#define SETTLED_SHOWN 20
#define QUESTIONS_MAX 5

char *
queue_name(char dst[QUEUE_NAME_SIZE], const struct print_job *job)
{
	char shown[CODE_SIZE];

	if (job->code[0] != '\0')
		str_copy(dst, QUEUE_NAME_SIZE, code_show(shown, job->code));
	else
		str_fmt(dst, QUEUE_NAME_SIZE, "job%" PRId64, job->id);
	return dst;
}

char *
queue_what(char dst[QUEUE_WHAT_SIZE], const struct print_job *job)
{
	if (job->list[0] == '\0')
		str_copy(dst, QUEUE_WHAT_SIZE,
		    job->says == SAYS_HOLD ? "hold label" : "label");
	else if (str_eq(job->list, "test label"))
		str_copy(dst, QUEUE_WHAT_SIZE, job->list);
	else
		str_fmt(dst, QUEUE_WHAT_SIZE, "page %d of %s", job->page,
		    job->list);
	return dst;
}

char *
queue_which(char dst[QUEUE_WHAT_SIZE], const struct print_job *job)
{
	char what[QUEUE_WHAT_SIZE], name[QUEUE_NAME_SIZE];

	queue_what(what, job);
	if (job->list[0] == '\0')
		str_fmt(dst, QUEUE_WHAT_SIZE, "the %s of %s", what,
		    queue_name(name, job));
	else
		str_fmt(dst, QUEUE_WHAT_SIZE, "%s%s",
		    str_eq(job->list, "test label") ? "the " : "", what);
	return dst;
}

enum rc
queue_questions(struct buf *out, struct station *sn, struct err *err)
{
	char name[QUEUE_NAME_SIZE], which[QUEUE_WHAT_SIZE];
	const struct print_job *j;
	struct job_list l;
	size_t i, asked = 0, more = 0;
	enum rc rc;

	if ((rc = job_list_open(&l, sn->st, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++) {
		j = &l.items[i];
		/* Who said "later" is not asked at every start. */
		if (j->state != JOB_UNSURE || j->said_by[0] != '\0')
			continue;
		if (asked == QUESTIONS_MAX) {
			more++;
			continue;
		}
		asked++;
		buf_printf(out,
		    "did %s come out? pinbone printer answer %s "
		    "yes|no|later\n",
		    queue_which(which, j), queue_name(name, j));
	}
	if (more > 0)
		buf_printf(out, "and %zu more: pinbone printer queue\n", more);
	job_list_fini(&l);
	return RC_OK;
}

static void
job_json(struct jsonw *w, const struct print_job *j)
{
	char name[QUEUE_NAME_SIZE];

	jsonw_object(w, NULL);
	jsonw_int(w, "job", j->id);
	jsonw_str(w, "of", queue_name(name, j));
	jsonw_str(w, "says", job_says_word(j->says));
	jsonw_str(w, "list", j->list);
	jsonw_int(w, "page", j->page);
	jsonw_int(w, "copy", j->copy);
	jsonw_str(w, "state", job_state_word(j->state));
	jsonw_str(w, "reason", j->error);
	jsonw_str(w, "printer", j->printer_name);
	jsonw_str(w, "address", j->printer);
	jsonw_time(w, "at", j->at.utc);
	jsonw_str(w, "by", j->at.by);
	jsonw_time(w, "changed", j->changed_utc);
	jsonw_str(w, "said_by", j->said_by);
	jsonw_end(w);
}

static void
jobs_json(struct jsonw *w, const char *key, const struct job_list *l)
{
	size_t i;

	jsonw_array(w, key);
	for (i = 0; i < l->count; i++)
		job_json(w, &l->items[i]);
	jsonw_end(w);
}

static void
jobs_csv(struct buf *out, const struct job_list *l)
{
	char name[QUEUE_NAME_SIZE], when[48];
	const struct print_job *j;
	size_t i;

	for (i = 0; i < l->count; i++) {
		j = &l->items[i];
		buf_printf(out, "%" PRId64 ",%s,%s,", j->id,
		    queue_name(name, j), job_says_word(j->says));
		csv_quote(out, j->list);
		buf_printf(out, ",%d,%d,%s,", j->page, j->copy,
		    job_state_word(j->state));
		csv_quote(out, j->error);
		buf_putc(out, ',');
		csv_quote(out, j->printer_name);
		buf_printf(
		    out, ",%s,", time_rfc3339(when, sizeof(when), j->at.utc));
		csv_quote(out, j->at.by);
		buf_printf(out, ",%s,",
		    time_rfc3339(when, sizeof(when), j->changed_utc));
		csv_quote(out, j->said_by);
		buf_puts(out, "\r\n");
	}
}

static void
jobs_text(struct buf *out, const struct job_list *l)
{
	char name[QUEUE_NAME_SIZE], what[QUEUE_WHAT_SIZE], when[48];
	const struct print_job *j;
	size_t i;

	for (i = 0; i < l->count; i++) {
		j = &l->items[i];
		buf_printf(out, "  %6" PRId64 "  %-10s %-9s %s", j->id,
		    queue_name(name, j), job_state_word(j->state),
		    time_minute(when, sizeof(when), j->at.utc));
		if (j->list[0] != '\0')
			buf_printf(out, ", %s", queue_what(what, j));
		else if (j->says != SAYS_USE_BY)
			buf_printf(out, ", %s", job_says_word(j->says));
		if (j->copy > 0)
			buf_printf(out, ", reprint %d", j->copy);
		buf_printf(out, ", on %s, by %s%s%s", j->printer_name, j->at.by,
		    j->error[0] == '\0' ? "" : ": ", j->error);
		if (j->said_by[0] != '\0')
			buf_printf(out, " (asked: %s)", j->said_by);
		buf_putc(out, '\n');
	}
}

static void
write_list(struct buf *out, const struct job_list *open,
    const struct job_list *settled, enum format format)
{
	struct jsonw *w;

	if (format == FORMAT_JSON) {
		w = jsonw_new_object();
		jobs_json(w, "queue", open);
		jobs_json(w, "settled", settled);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return;
	}
	if (format == FORMAT_CSV) {
		buf_puts(out,
		    "job,of,says,list,page,copy,state,reason,printer,at,by,"
		    "changed,said_by\r\n");
		jobs_csv(out, open);
		jobs_csv(out, settled);
		return;
	}
	buf_puts(out,
	    open->count == 0 ? "nothing in the queue\n" : "in the queue\n");
	jobs_text(out, open);
	if (settled->count > 0)
		buf_puts(out, "settled, newest first\n");
	jobs_text(out, settled);
}

enum rc
queue_list(
    struct buf *out, struct station *sn, enum format format, struct err *err)
{
	struct job_list open = { 0 }, settled = { 0 };
	enum rc rc;

	if ((rc = job_list_open(&open, sn->st, err)) == RC_OK &&
	    (rc = job_list_settled(&settled, sn->st, SETTLED_SHOWN, err)) ==
		RC_OK) {
		write_list(out, &open, &settled, format);
		rc = buf_check(out, "the queue", err);
	}
	job_list_fini(&open);
	job_list_fini(&settled);
	return rc;
}

enum rc
queue_rows(
    struct queue_rows *out, struct station *sn, int64_t most, struct err *err)
{
	enum rc rc;

	*out = (struct queue_rows){ 0 };
	if ((rc = job_list_unsure(&out->unsure, sn->st, most, err)) == RC_OK &&
	    (rc = job_list_waiting(&out->waiting, sn->st, most, err)) ==
		RC_OK &&
	    (rc = job_list_settled(&out->settled, sn->st, most, err)) == RC_OK)
		return RC_OK;
	queue_rows_fini(out);
	return rc;
}

void
queue_rows_fini(struct queue_rows *r)
{
	job_list_fini(&r->unsure);
	job_list_fini(&r->waiting);
	job_list_fini(&r->settled);
}
