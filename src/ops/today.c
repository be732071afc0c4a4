/* today.c - the day at a glance. */
#include "ops/today.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/statvfs.h>

#include "base/str.h"
#include "ops/home.h"
#include "ops/queue.h"
#include "store/audit.h"
#include "store/recalls.h"
#include "store/bookings.h"
#include "store/complaints.h"
#include "store/sales.h"
#include "store/store.h"

/* --- services -------------------------------------------------------------*/

static enum rc
read_service(struct today_service *out, struct station *sn,
    const struct service *s, int64_t now, struct err *err)
{
	const struct service_window *w = config_service(&sn->cfg, s->name);
	struct closing c;
	enum rc rc;

	*out = (struct today_service){
		.day = s->day, .covers = s->covers, .to_make = TODAY_NOT_ASKED
	};
	str_copy(out->name, sizeof(out->name), s->name);
	if (w != NULL) {
		out->start_utc = service_begins(w, s->day);
		out->end_utc = service_ends(w, s->day);
	}
	if (out->start_utc > now)
		out->stage = TODAY_COMING;
	else
		out->stage = now < out->end_utc ? TODAY_RUNNING : TODAY_OVER;
	rc = closing_get(&c, sn->st, s->id, NULL);
	if (rc == RC_OK)
		out->stage = TODAY_CLOSED;
	else if (rc != RC_NOTFOUND)
		return err_set(
		    err, rc, 0, "whether a service is closed cannot be read");
	return RC_OK;
}

/* Yesterday's only while somebody has to close it; of the days to come those
 * of the next day that has any. */
static bool
is_wanted(const struct today *t, const struct today_service *s)
{
	const struct today_service *last;

	if (s->day < t->day)
		return s->stage == TODAY_OVER;
	if (s->day == t->day || t->service_count == 0)
		return true;
	last = &t->services[t->service_count - 1];
	return last->day <= t->day || last->day == s->day;
}

/* Of one day in the order of their start; the list comes by day and name. */
static void
put_service(struct today *t, const struct today_service *s)
{
	int i = t->service_count;

	if (i == TODAY_SERVICES_MAX)
		return;
	for (; i > 0 && t->services[i - 1].day == s->day &&
	     t->services[i - 1].start_utc > s->start_utc;
	     i--)
		t->services[i] = t->services[i - 1];
	t->services[i] = *s;
	t->service_count++;
}

static enum rc
load_services(struct today *t, struct station *sn, struct err *err)
{
	struct today_service s;
	struct service_list l;
	size_t i;
	enum rc rc;

	rc = service_list_open(
	    &l, sn->st, t->day - 1, t->day + TODAY_AHEAD_DAYS, err);
	if (rc != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++) {
		rc = read_service(&s, sn, &l.items[i], t->now_utc, err);
		if (rc == RC_OK && is_wanted(t, &s))
			put_service(t, &s);
	}
	service_list_fini(&l);
	return rc;
}

/* --- labels ---------------------------------------------------------------*/

static struct today_printer *
printer_of(struct today *t, const char *name)
{
	int i;

	for (i = 0; i < t->printer_count; i++)
		if (str_eq_nocase(t->printers[i].name, name))
			return &t->printers[i];
	return NULL;
}

static void
count_job(struct today *t, const struct job_brief *j)
{
	struct today_printer *p = printer_of(t, j->printer_name);
	bool unsure = j->state == JOB_UNSURE;

	t->unsure += unsure;
	t->queued += !unsure;
	t->later += unsure && j->later;
	if (p == NULL) /* it was taken out of the settings since */
		return;
	p->unsure += unsure;
	p->queued += !unsure;
	if (!unsure && p->why[0] == '\0')
		str_copy(p->why, sizeof(p->why), j->error);
}

enum rc
today_labels(struct today *t, struct station *sn, struct err *err)
{
	struct job_brief *jobs;
	size_t count, i;
	enum rc rc;
	int k;

	t->printer_count = sn->cfg.printer_count;
	for (k = 0; k < t->printer_count; k++)
		t->printers[k].name = sn->cfg.printers[k].name;
	rc = job_brief_open(&jobs, &count, sn->st, STOP_COUNTING, err);
	for (i = 0; i < count && rc == RC_OK; i++)
		count_job(t, &jobs[i]);
	free(jobs);
	return rc;
}

/* --- the file -------------------------------------------------------------*/

static int64_t
size_of(const char *path)
{
	struct stat s;

	return stat(path, &s) == 0 ? (int64_t)s.st_size : 0;
}

/* Free for this user, -1 when it cannot be told. */
static int64_t
space_at(const char *path)
{
	struct statvfs v;

	if (statvfs(path, &v) != 0)
		return -1;
	return (int64_t)v.f_bavail * (int64_t)v.f_frsize;
}

static void
look_at_file(struct today *t, struct station *sn)
{
	char log[CONFIG_PATH_SIZE + 8];

	t->path = store_path(sn->st);
	t->bytes = size_of(t->path);
	if (str_fmt(log, sizeof(log), "%s-wal", t->path))
		t->bytes += size_of(log);
	t->free_bytes = space_at(t->path);
	t->schema = store_schema(sn->st);
}

/* --- all of it ------------------------------------------------------------*/

static enum rc
load_stock(struct today *t, struct station *sn, struct err *err)
{
	int64_t end = use_by_instant(t->day) + 1;
	enum rc rc;

	/* At its use-by it may still be served, a second later no more. */
	if ((rc = expiring_count(
		 &t->expired_count, sn->st, 0, t->now_utc, err)) != RC_OK ||
	    (rc = expiring_count(
		 &t->today_count, sn->st, t->now_utc, end, err)) != RC_OK ||
	    (rc = expiring_open(&t->expired, sn->st, 0, t->now_utc,
		 TODAY_ROWS_MAX, err)) != RC_OK)
		return rc;
	return expiring_open(
	    &t->expiring, sn->st, t->now_utc, end, TODAY_ROWS_MAX, err);
}

static enum rc
load_recalls(struct today *t, struct station *sn, struct err *err)
{
	struct recall_list l;
	struct recall_count n;
	size_t i;
	enum rc rc;

	rc = recall_list_open(&l, sn->st, true, TODAY_RECALLS_MAX, err);
	for (i = 0; rc == RC_OK && i < l.count; i++) {
		rc = recall_counted(&n, sn->st, l.items[i].id, err);
		t->recalls[t->recall_count++] =
		    (struct today_recall){ l.items[i].id, n.pull, n.missing };
	}
	recall_list_fini(&l);
	return rc;
}

enum rc
today_load(struct today *out, struct station *sn, struct err *err)
{
	struct today *t = out;
	enum rc rc;

	*t = (struct today){ .now_utc = clock_now(&sn->clock) };
	t->day = local_from_utc(t->now_utc).day;
	t->scale = !str_eq(sn->cfg.scale, "none");
	look_at_file(t, sn);
	if ((rc = watch_doubt(t->doubt, sn, err)) == RC_OK &&
	    (rc = load_services(t, sn, err)) == RC_OK &&
	    (rc = load_stock(t, sn, err)) == RC_OK &&
	    (rc = held_open(&t->held, &t->held_count, sn->st, TODAY_ROWS_MAX,
		 err)) == RC_OK &&
	    (rc = load_recalls(t, sn, err)) == RC_OK &&
	    (rc = complaint_count_open(&t->complaints, sn->st, err)) == RC_OK &&
	    (rc = today_labels(t, sn, err)) == RC_OK &&
	    (rc = begun_get(&t->begun, sn->st, err)) == RC_OK &&
	    (rc = audit_last_utc(&t->last_utc, sn->st, err)) == RC_OK)
		return RC_OK;
	today_fini(t);
	return rc;
}

void
today_fini(struct today *t)
{
	free(t->expired.items);
	free(t->expiring.items);
	free(t->held.items);
	t->expired = t->expiring = (struct expiring_list){ 0 };
	t->held = (struct held_list){ 0 };
}

/* --- what stands against working ------------------------------------------*/

static void
gravest(struct today_fault *out, const struct today *t)
{
	const struct today_printer *p;
	int i;

	if (t->doubt[0] != '\0') {
		out->kind = FAULT_CLOCK;
		str_copy(out->text, sizeof(out->text), t->doubt);
		return;
	}
	if (t->free_bytes >= 0 && t->free_bytes < TODAY_SPACE_LOW) {
		out->kind = FAULT_SPACE;
		out->count = t->free_bytes;
		return;
	}
	for (i = 0; i < t->printer_count; i++) {
		p = &t->printers[i];
		if (p->why[0] == '\0')
			continue;
		out->kind = FAULT_PRINTER;
		out->count = p->queued;
		str_copy(out->printer, sizeof(out->printer), p->name);
		str_copy(out->text, sizeof(out->text), p->why);
		return;
	}
	if (t->unsure > t->later) {
		out->kind = FAULT_UNSURE;
		out->count = t->unsure - t->later;
	}
}

enum rc
today_fault(struct today_fault *out, struct station *sn, struct err *err)
{
	struct today t = { 0 };
	enum home home;
	enum rc rc;

	*out = (struct today_fault){ 0 };
	if ((rc = home_of(&home, sn, err)) != RC_OK)
		return rc;
	if (home == HOME_ELSEWHERE) {
		out->kind = FAULT_HOME;
		return RC_OK;
	}
	t.free_bytes = space_at(store_path(sn->st));
	if ((rc = watch_doubt(t.doubt, sn, err)) == RC_OK &&
	    (rc = today_labels(&t, sn, err)) == RC_OK)
		gravest(out, &t);
	return rc;
}
