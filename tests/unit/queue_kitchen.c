/* queue_kitchen.c - a kitchen whose labels are to be printed. */
#include "queue_kitchen.h"

#include <check.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "ops/queue.h"

struct kitchen qk;
struct breakdown qk_made;
struct err qk_err;

void
qk_setup(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 6, 1, 990, 10000, 5 };
	struct batch b;

	kitchen_open(&qk);
	b = kitchen_receive(&qk, &in);
	qk_made = kitchen_break(&qk, b.code, &cut);
	err_clear(&qk_err);
}

void
qk_teardown(void)
{
	breakdown_fini(&qk_made);
	kitchen_close(&qk);
}

void
qk_printer(const char *language, const char *address, int patience_s)
{
	static const char old[] = "language = png\naddress = ";
	struct buf was, text;
	const char *at;
	char path[320];

	buf_init(&was, FILE_READ_MAX);
	buf_init(&text, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&was, qk.ini, NULL), RC_OK);
	at = strstr(buf_text(&was), old);
	ck_assert_ptr_nonnull(at);
	buf_add(&text, was.data, (size_t)(at - was.data));
	buf_printf(&text,
	    "language = %s\naddress = %s\npatience_seconds = %d\n", language,
	    address, patience_s);
	buf_puts(&text, strchr(at + sizeof(old), '\n'));
	kitchen_write(path, &qk, "station.ini", buf_text(&text));
	buf_fini(&was);
	buf_fini(&text);
	ck_assert_msg(kitchen_station(&qk, KITCHEN_NOW, &qk_err) == RC_OK, "%s",
	    qk_err.text);
}

const char *
qk_code(int i)
{
	return qk_made.portions[i].code;
}

/* Only queued. */
struct print_job
qk_queued(int i, enum label_want want)
{
	const char *c = qk_code(i);
	struct label_order o = { &c, 1, want, .by = "CD", .only_queue = true };
	struct print_job j;
	struct job_list jobs;

	ck_assert_msg(
	    label_print(&jobs, qk.sn, &o, &qk_err) == RC_OK, "%s", qk_err.text);
	ck_assert_uint_eq(jobs.count, 1);
	j = jobs.items[0];
	job_list_fini(&jobs);
	ck_assert_int_eq(j.state, JOB_QUEUED);
	return j;
}

struct print_job
qk_now(int64_t id)
{
	struct print_job j;

	ck_assert_int_eq(job_get(&j, qk.sn->st, id, NULL), RC_OK);
	return j;
}

enum rc
qk_work(void)
{
	volatile sig_atomic_t stop = 0;

	err_clear(&qk_err);
	return queue_run(qk.sn, true, &stop, NULL, &qk_err);
}

/* Set straight into the file, as a crash would leave it. */
void
qk_force(int64_t id, const char *state)
{
	char sql[160];

	str_fmt(sql, sizeof(sql),
	    "UPDATE print_job SET state = '%s', error = 'x' WHERE id = %lld",
	    state, (long long)id);
	ck_assert_int_eq(kitchen_sql(qk.db, sql), 0);
}

bool
qk_on_paper(int i, const char *rest)
{
	char path[600], shown[CODE_SIZE];

	str_fmt(path, sizeof(path), "%s/labels/portion-%s%s.png", qk.folder,
	    code_show(shown, qk_code(i)), rest);
	return file_exists(path);
}

/* A printer that is not there: a folder that cannot be qk_made. */
void
qk_gone(bool gone)
{
	char path[400];

	str_fmt(path, sizeof(path), "%s/labels", qk.folder);
	if (gone)
		rmdir(path); /* an empty one; else there is none */
	if (gone)
		ck_assert_int_eq(file_write(path, "x", 1, NULL), RC_OK);
	else
		ck_assert_int_eq(unlink(path), 0);
}
