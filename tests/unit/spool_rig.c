/* spool_rig.c - a spool with a file of its own and the fake printer. */
#include "spool_rig.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "store/tickets.h"
#include "trail_rig.h"

static struct moment at = { 1795600000, 0, "AB" };

static enum rc
ready(void *arg, struct err *err)
{
	struct srig *r = arg;

	return r->clock_bad ? err_set(err, RC_REFUSED, 0, "clock in doubt")
			    : RC_OK;
}

static enum rc
printer(struct printer *out, void *arg, const struct print_job *job,
    struct err *err)
{
	struct srig *r = arg;

	(void)job;
	if (r->no_printer)
		return err_set(err, RC_INVALID, 0, "not in the settings");
	*out = r->printer;
	return RC_OK;
}

static enum rc
draw(struct spool_label *out, void *arg, const struct print_job *job,
    const struct printer *p, struct err *err)
{
	struct srig *r = arg;

	(void)p;
	if (r->before_draw != NULL)
		r->before_draw(r, job->id);
	if (job->id == r->refused)
		return err_set(err, RC_REFUSED, 0, "on hold");
	if (r->undrawable)
		return err_set(err, RC_INVALID, 0, "does not fit");
	str_fmt(out->name, sizeof(out->name), "label-%lld", (long long)job->id);
	out->picture = fake_label(job->id, job->copy, r->filling);
	return RC_OK;
}

static int64_t
now(void *arg)
{
	(void)arg;
	return at.utc;
}

static void
moved(void *arg, const struct print_job *job)
{
	struct srig *r = arg;

	r->moves++;
	if (r->moved != NULL)
		r->moved(r, job);
}

static const struct spool_host host = { ready, printer, draw, now, moved };

void
srig_make(struct srig *r)
{
	const char *tmp = getenv("TMPDIR");

	/* A killed program loses nothing of a file in memory, and many of
	 * them die here. */
	if (access("/dev/shm", W_OK) == 0)
		tmp = "/dev/shm";
	memset(r, 0, sizeof(*r));
	fake_reset();
	r->printer = fake_printer(&fake_talks);
	r->filling = 40;
	r->history = 40;
	ck_assert(str_fmt(r->folder, sizeof(r->folder), "%s/spool-XXXXXX",
	    tmp == NULL ? "/tmp" : tmp));
	ck_assert_ptr_nonnull(mkdtemp(r->folder));
	ck_assert(str_fmt(r->db, sizeof(r->db), "%s/s.db", r->folder));
	ck_assert_int_eq(store_create(r->db, NULL), RC_OK);
}

int
srig_open(struct srig *r)
{
	int count = 0;

	ck_assert_int_eq(store_open(&r->st, r->db, NULL), RC_OK);
	store_check_plans(r->st, true);
	spool_init(&r->sp, r->st, &host, r, NULL);
	ck_assert_int_eq(store_begin(r->st, NULL), RC_OK);
	ck_assert_int_eq(job_orphans(&count, r->st, at.utc, NULL), RC_OK);
	rig_commit(r->st);
	return count;
}

void
srig_shut(struct srig *r)
{
	spool_rest(&r->sp);
	store_close(r->st);
	r->st = NULL;
}

void
srig_close(struct srig *r)
{
	static const char *const ends[] = { "", "-wal", "-shm", "-printing" };
	char path[200];
	size_t i;

	srig_shut(r);
	for (i = 0; i < sizeof(ends) / sizeof(ends[0]); i++) {
		str_fmt(path, sizeof(path), "%s%s", r->db, ends[i]);
		unlink(path);
	}
	rmdir(r->folder);
}

static int64_t
insert(struct srig *r, struct print_job *j)
{
	str_copy(j->language, sizeof(j->language), "fake");
	str_copy(j->printer, sizeof(j->printer), "fake:x");
	if (j->printer_name[0] == '\0')
		str_copy(j->printer_name, sizeof(j->printer_name), "main");
	j->picture[0] = '0';
	j->at = at;
	j->page = 1;
	ck_assert_int_eq(job_insert(r->st, j, NULL), RC_OK);
	rig_commit(r->st);
	return j->id;
}

int64_t
srig_queue(struct srig *r)
{
	struct print_job j = { .copy = 0 };

	ck_assert_int_eq(store_begin(r->st, NULL), RC_OK);
	j.ticket_id = spool_ticket(r->st, &j.at);
	return insert(r, &j);
}

int64_t
srig_again(struct srig *r, const struct print_job *again)
{
	struct print_job j = { .copy = again->copy + 1,
		.ticket_id = again->ticket_id };

	ck_assert_int_eq(store_begin(r->st, NULL), RC_OK);
	return insert(r, &j);
}

struct print_job
srig_job(struct srig *r, int64_t id)
{
	struct print_job j;

	ck_assert_int_eq(job_get(&j, r->st, id, NULL), RC_OK);
	return j;
}

enum rc
srig_step(struct srig *r)
{
	int wait_ms;

	spool_wake(&r->sp);
	return spool_step(&r->sp, NULL, &wait_ms, NULL);
}

void
srig_drain(struct srig *r)
{
	int wait_ms;

	spool_wake(&r->sp);
	while (spool_step(&r->sp, NULL, &wait_ms, NULL) == RC_OK)
		;
}

void
srig_answer(struct srig *r, int64_t id, enum job_state to)
{
	struct print_job j = srig_job(r, id);

	ck_assert_int_eq(store_begin(r->st, NULL), RC_OK);
	ck_assert_int_eq(job_said(r->st, &j, to, "said so", &at, NULL), RC_OK);
	rig_commit(r->st);
}

/* Which of a list's labels came out: no two alike. */
static void
check_marks(const struct job_list *l, const char *where)
{
	const struct print_job *a, *b;
	size_t i, k;

	for (i = 0; i < l->count; i++) {
		a = &l->items[i];
		ck_assert_msg(fake_count(a->id) <= 1,
		    "%s: job %lld came out "
		    "%d times",
		    where, (long long)a->id, fake_count(a->id));
		if (fake_count(a->id) == 0)
			continue;
		for (k = 0; k < i; k++) {
			b = &l->items[k];
			ck_assert_msg(b->ticket_id != a->ticket_id ||
				b->copy != a->copy || fake_count(b->id) == 0,
			    "%s: jobs %lld and %lld look alike", where,
			    (long long)a->id, (long long)b->id);
		}
	}
}

static void
check_job(const struct print_job *j, const char *where)
{
	bool out = fake_count(j->id) > 0, quiet = j->error[0] == '\0';
	bool good = true;

	switch (j->state) {
	case JOB_QUEUED:
	case JOB_CANCELLED:
		good = !out;
		break;
	case JOB_SENDING:
	case JOB_SENT:
	case JOB_CONFIRMED:
		break;
	case JOB_UNSURE:
		good = !quiet;
		break;
	case JOB_FAILED:
		good = !quiet && (!out || j->said_by[0] != '\0');
		break;
	case JOB_STATE_COUNT:
		good = false;
		break;
	}
	ck_assert_msg(good, "%s: job %lld is %s (%s) and came out %d times",
	    where, (long long)j->id, job_state_word(j->state), j->error,
	    fake_count(j->id));
}

void
srig_check(struct srig *r, const char *where)
{
	struct job_list open, rest;
	size_t i, sending = 0;

	ck_assert_int_eq(job_list_open(&open, r->st, NULL), RC_OK);
	ck_assert_int_eq(
	    job_list_settled(&rest, r->st, r->history, NULL), RC_OK);
	for (i = 0; i < open.count; i++) {
		check_job(&open.items[i], where);
		sending += open.items[i].state == JOB_SENDING;
	}
	ck_assert_msg(sending <= 1, "%s: %zu being sent", where, sending);
	for (i = 0; i < rest.count; i++)
		check_job(&rest.items[i], where);
	open.items = realloc(
	    open.items, (open.count + rest.count + 1) * sizeof(*open.items));
	ck_assert_ptr_nonnull(open.items);
	for (i = 0; i < rest.count; i++)
		open.items[open.count++] = rest.items[i];
	check_marks(&open, where);
	/* No label without a record. */
	for (i = fake.out_count; i > 0 && fake.out_count - i < 100; i--)
		srig_job(r, fake.out[i - 1].id);
	job_list_fini(&open);
	job_list_fini(&rest);
}

int64_t
spool_ticket(struct store *st, const struct moment *when)
{
	char title[] = "x", body[] = "";
	struct ticket_record row = {
		.kind = TICKET_TEST, .title = title, .body = body, .at = *when
	};

	ck_assert_int_eq(ticket_insert(st, &row, NULL), RC_OK);
	return row.id;
}
