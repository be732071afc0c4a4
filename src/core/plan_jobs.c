/* plan_jobs.c - what a plan takes in hand, as jobs for the bench. */
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

struct jobs {
	const struct plan *plan;
	const struct plan_problem *p;
	const struct plan_service *s;
	struct work_job *items;
	size_t count, cap;
};

static const struct plan_batch *
batch_of(const struct jobs *j, const char *code)
{
	size_t i;

	for (i = 0; i < j->p->stock->batch_count; i++)
		if (str_eq(j->p->stock->batches[i].code, code))
			return &j->p->stock->batches[i];
	return NULL;
}

static struct work_job *
add_job(struct jobs *j, size_t line, const struct plan_take *t)
{
	const struct plan_line *l = &j->plan->lines[line];
	const struct plan_batch *b = batch_of(j, t->code);
	const struct species *sp = species_find(j->p->species, t->species);
	struct work_job *w;

	j->items = grow(j->items, &j->cap, j->count, sizeof(*j->items));
	w = &j->items[j->count++];
	memset(w, 0, sizeof(*w));
	str_copy(w->batch, sizeof(w->batch), t->code);
	w->line = (int)line;
	str_copy(w->species, sizeof(w->species), t->species);
	w->form = sp->form;
	w->allergen = sp->allergen;
	w->bought = b->presentation;
	w->cut = l->cut.kind;
	w->skin_on = l->cut.skin_on;
	w->state = l->cut.state;
	w->ready_to_eat = l->cut.state == STATE_COOKED;
	w->today = b->use_by_day <= j->s->day;
	w->deadline_utc =
	    b->use_by_utc < j->s->start_utc ? b->use_by_utc : j->s->start_utc;
	w->use_by_utc = b->use_by_utc;
	w->portions = t->portions;
	return w;
}

/* Portions of a line out of one opened fish, trim as one. */
static int64_t
portions_of(const struct plan_opened *o, int line)
{
	int64_t n = o->whole_line == line;
	size_t i, k;

	for (i = 0; i < o->piece_count; i++)
		for (k = 0; k < o->pieces[i].cut_count; k++)
			if (o->pieces[i].cuts[k].line == line)
				n += o->pieces[i].cuts[k].count;
	return n;
}

/* The line a fish is opened for: most portions, the first of equals; -1 when
 * it is opened for its trim alone. */
static int
main_line(const struct jobs *j, const struct plan_opened *o)
{
	int64_t n, best = 0;
	int line, main = -1;

	for (line = 0; line < (int)j->plan->count; line++) {
		n = portions_of(o, line);
		if (n > best) {
			best = n;
			main = line;
		}
	}
	for (line = 0; main < 0 && line < (int)j->plan->count; line++)
		if (j->plan->lines[line].cut.kind == CUT_TRIM &&
		    str_eq(j->plan->lines[line].cut.species, o->species))
			main = line;
	return main;
}

/* Fish of a batch that are opened for this line, and their pieces. */
static void
count_fish(const struct jobs *j, struct work_job *w, int line)
{
	const struct plan_opened *o;
	int64_t drawn = 0;
	size_t i;

	for (i = 0; i < j->plan->opened_count; i++) {
		o = &j->plan->opened[i];
		if (!str_eq(o->batch, w->batch))
			continue;
		drawn += portions_of(o, line) > 0;
		if (main_line(j, o) != line || o->on_board)
			continue;
		w->fish++;
		w->fish_g += o->weight_g;
		w->pieces += o->whole_line >= 0 ? 0 : (int64_t)o->piece_count;
	}
	w->weight_g = w->fish_g;
	if (w->fish > 0) {
		w->fish_g /= w->fish;
		return;
	}
	/* Its pieces come off fish that another line opened, or lie there. */
	w->bought = w->skin_on ? PRES_FILLET : PRES_FILLET_SKINLESS;
	w->fish = w->pieces = drawn > 0 ? drawn : 1;
	w->fish_g = j->plan->lines[line].cut.target_g;
	w->weight_g = w->fish * w->fish_g;
}

static void
line_jobs(struct jobs *j, size_t line)
{
	const struct plan_line *l = &j->plan->lines[line];
	const struct plan_take *t;
	struct work_job *w;
	size_t i;

	for (i = 0; i < l->take_count; i++) {
		t = &l->takes[i];
		if (t->tray || t->reason != PLAN_TAKEN)
			continue;
		w = add_job(j, line, t);
		if (t->opened) {
			count_fish(j, w, (int)line);
			continue;
		}
		w->fish = t->fish;
		w->weight_g = t->weight_g;
		w->fish_g = t->fish > 0 ? t->weight_g / t->fish : 0;
	}
}

void
plan_jobs(struct work_job **out, size_t *count, const struct plan *plan,
    const struct plan_problem *p)
{
	struct jobs j = { .plan = plan, .p = p };
	size_t line;

	j.s = &p->services[p->service_count - 1];
	for (line = 0; line < plan->count; line++)
		line_jobs(&j, line);
	*out = j.items;
	*count = j.count;
}
