/* prep_page.c - the plan of a service for a screen, with what is ticked. */
#include "ops/prep_page.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/fate.h"
#include "ops/work_mark.h"
#include "prep_page_of.h"
#include "print/lists.h"
#include "report_load.h"
#include "store/audit.h"

/* --- services --------------------------------------------------------------*/

static const struct service *
booked(const struct service_list *l, day_no day, const char *name)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		if (l->items[i].day == day && str_eq(l->items[i].name, name))
			return &l->items[i];
	return NULL;
}

/* The sittings of one day in the order of the settings. */
static void
add_day(struct prep_services *out, const struct station *sn,
    const struct service_list *l, day_no day, int64_t now)
{
	const struct service_window *w;
	const struct service *s;
	struct prep_service *p;
	char text[16];
	int k;

	for (k = 0; k < sn->cfg.service_count; k++) {
		w = &sn->cfg.services[k];
		if ((s = booked(l, day, w->name)) == NULL ||
		    service_ends(w, day) <= now ||
		    out->count == PREP_SERVICES_MAX)
			continue;
		p = &out->items[out->count++];
		p->service = *s;
		p->start_utc = service_begins(w, day);
		p->end_utc = service_ends(w, day);
		str_fmt(p->text, sizeof(p->text), "%s/%s",
		    day_print(text, sizeof(text), day), w->name);
	}
}

enum rc
prep_services(struct prep_services *out, struct station *sn, struct err *err)
{
	int64_t now = clock_now(&sn->clock);
	day_no today = local_from_utc(now).day, day;
	struct service_list l;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* One that ends after midnight began yesterday. */
	rc = service_list_open(&l, sn->st, today - 1, today + PREP_DAYS, err);
	if (rc != RC_OK)
		return rc;
	for (day = today - 1; day <= today + PREP_DAYS; day++)
		add_day(out, sn, &l, day, now);
	service_list_fini(&l);
	return RC_OK;
}

/* --- tasks -----------------------------------------------------------------*/

const struct plan_take *
prep_take(const struct prep_page *p, int line, const char *batch)
{
	const struct plan_line *l;
	size_t i;

	if (line < 0)
		return NULL;
	l = &p->plan->lines[line];
	for (i = 0; i < l->take_count; i++)
		if (!l->takes[i].tray && l->takes[i].reason == PLAN_TAKEN &&
		    str_eq(l->takes[i].code, batch))
			return &l->takes[i];
	return NULL;
}

static void
add_up(struct prep_task *t, const struct work_task *w)
{
	t->seconds += w->seconds;
	t->slow_s += w->slow_s;
	t->learned = t->learned && w->learned;
	if (w->trays > 1 && (t->at_a_time == 0 || w->tray < t->at_a_time))
		t->at_a_time = w->tray;
	t->count++;
}

static void
name_task(struct prep_task *t, const struct prep_page *p)
{
	const struct work_job *job;
	const struct plan_take *take;

	str_copy(t->key.step, sizeof(t->key.step),
	    task_word(p->work->tasks[t->first].kind));
	if (t->job < 0)
		return;
	job = &p->jobs[t->job];
	t->line = job->line;
	t->board = job->allergen;
	str_copy(t->key.batch, sizeof(t->key.batch), job->batch);
	str_copy(
	    t->key.dish, sizeof(t->key.dish), p->plan->lines[t->line].cut.dish);
	take = prep_take(p, t->line, job->batch);
	t->ask_parasites = take != NULL && take->ask_parasites;
}

/* What the bench needs is known by the work that follows it. */
static void
name_bench(struct prep_page *p)
{
	struct prep_task *t, *next = NULL;
	size_t i;

	for (i = p->task_count; i-- > 0;) {
		t = &p->tasks[i];
		if (t->job >= 0) {
			next = t;
			continue;
		}
		if (next == NULL)
			continue;
		t->board = next->board;
		memcpy(t->key.batch, next->key.batch, sizeof(t->key.batch));
		memcpy(t->key.dish, next->key.dish, sizeof(t->key.dish));
	}
}

static void
make_tasks(struct prep_page *p)
{
	const struct work *w = p->work;
	struct prep_task *t = NULL;
	size_t i, j;

	p->tasks = xcalloc(w->count + 1, sizeof(*p->tasks));
	for (i = 0; i < w->count; i++) {
		if (t == NULL || w->tasks[i].job < 0 ||
		    t->job != w->tasks[i].job) {
			t = &p->tasks[p->task_count++];
			t->job = w->tasks[i].job;
			t->line = -1;
			t->first = i;
			t->starts_s = w->tasks[i].starts_s;
			t->learned = true;
		}
		add_up(t, &w->tasks[i]);
	}
	for (i = 0; i < p->task_count; i++) {
		t = &p->tasks[i];
		name_task(t, p);
		for (j = i + 1; j < p->task_count && t->job >= 0; j++)
			t->later = t->later || p->tasks[j].job == t->job;
	}
	name_bench(p);
}

/* --- what is ticked --------------------------------------------------------*/

/* What a breakdown made is in the plan as stock on hand: a task that is still
 * there asks for more. */
static bool
mark_task(struct prep_page *p, const struct work_mark *m)
{
	bool found = false;
	size_t i;

	if (m->prep_id != 0 && m->at.utc <= p->made_utc)
		return false;
	for (i = 0; i < p->task_count; i++) {
		if (!work_key_same(&p->tasks[i].key, &m->key))
			continue;
		p->tasks[i].said = m->said;
		p->tasks[i].by = m->at;
		found = true;
	}
	return found;
}

enum rc
prep_page_marks(struct prep_page *p, struct station *sn, struct err *err)
{
	struct work_mark_list l;
	size_t i;
	enum rc rc;

	if ((rc = work_marks_open(&l, sn, p->service, err)) != RC_OK)
		return rc;
	for (i = 0; i < p->task_count; i++) {
		p->tasks[i].said = WORK_REOPENED;
		memset(&p->tasks[i].by, 0, sizeof(p->tasks[i].by));
	}
	free(p->gone);
	p->gone = xcalloc(l.count + 1, sizeof(*p->gone));
	p->gone_count = 0;
	for (i = 0; i < l.count; i++)
		if (!mark_task(p, &l.items[i]) &&
		    l.items[i].said != WORK_REOPENED)
			p->gone[p->gone_count++] = l.items[i];
	work_mark_list_fini(&l);
	return RC_OK;
}

/* --- a page ----------------------------------------------------------------*/

static void
fill(struct prep_page *p, const char *service)
{
	const struct plan_report *r = p->report;

	str_copy(p->service, sizeof(p->service), service);
	p->day = r->day;
	p->name = r->service;
	p->covers = r->covers;
	p->expected_c = r->expected_c;
	p->typed = r->typed;
	p->earlier = r->earlier;
	p->made_utc = r->made_utc;
	p->start_utc = r->start_utc;
	p->end_utc = r->end_utc;
	p->plan = &r->plan;
	p->work = &r->work;
	p->jobs = r->jobs;
	make_tasks(p);
}

enum rc
prep_page_version(int64_t *out, struct station *sn, struct err *err)
{
	return audit_last_id(out, sn->st, err);
}

enum rc
prep_page_open(struct prep_page **out, struct station *sn,
    const struct plan_wish *wish, struct err *err)
{
	struct prep_page *p = xcalloc(1, sizeof(*p));
	struct plan_wish both = *wish;
	int64_t began = clock_ticks_ms();
	enum rc rc;

	*out = NULL;
	both.prep = both.order = true;
	both.why = false;
	p->report = xcalloc(1, sizeof(*p->report));
	if ((rc = prep_page_version(&p->recorded, sn, err)) != RC_OK ||
	    (rc = plan_report_load(p->report, sn, &both, err)) != RC_OK ||
	    (rc = plan_suppliers(&p->suppliers, &p->supplier_count, sn,
		 &p->report->plan, err)) != RC_OK)
		goto done;
	fill(p, wish->service);
	if ((rc = prep_page_marks(p, sn, err)) != RC_OK)
		goto done;
	p->took_ms = clock_ticks_ms() - began;
	*out = p;
	p = NULL;
done:
	prep_page_free(p);
	return rc;
}

void
prep_page_of(struct prep_page *p, const struct station *sn)
{
	struct plan_report *r = p->report;
	const struct service_window *w = config_service(&sn->cfg, r->service);

	r->kitchen = sn->cfg.kitchen;
	r->species = &sn->species;
	r->service = p->name = w->name;
}

void
prep_page_free(struct prep_page *p)
{
	if (p == NULL)
		return;
	plan_report_fini(p->report);
	free(p->report);
	free(p->suppliers);
	free(p->tasks);
	free(p->gone);
	free(p);
}

enum rc
prep_print(struct job_list *out, struct station *sn, const struct prep_page *p,
    enum ticket_kind kind, const struct label_order *order, struct err *err)
{
	struct ticket *t = ticket_new();
	enum rc rc;

	if (kind == TICKET_ORDER)
		list_order(t, p->report, p->suppliers, p->supplier_count);
	else
		list_prep(t, p->report);
	rc = ticket_print(out, sn, kind, t, order, err);
	ticket_free(t);
	return rc;
}
