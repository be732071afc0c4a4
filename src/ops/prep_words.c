/* prep_words.c - what a planned page says in words. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/caution.h"
#include "exchange/plan_out.h"
#include "ops/prep_page.h"
#include "print/lists.h"

#define PARAGRAPH_MAX 16384
#define ORDER_COLUMNS 60

void
prep_task_words(
    struct buf *out, const struct prep_page *p, const struct prep_task *t)
{
	size_t i;

	for (i = t->first; i < t->first + t->count; i++) {
		buf_puts(out, i > t->first ? ", " : "");
		plan_task_words(out, &p->work->tasks[i]);
	}
	if (t->at_a_time > 0)
		buf_printf(out, "; %" PRId64 " at a time", t->at_a_time);
}

void
prep_job_words(
    struct buf *out, const struct prep_page *p, const struct prep_task *t)
{
	const struct plan_take *take;

	if (t->job < 0)
		return;
	plan_cut_words(out, &p->plan->lines[t->line].cut);
	take = prep_take(p, t->line, t->key.batch);
	if (take == NULL)
		return;
	buf_puts(out, "; ");
	plan_take_words(out, take);
}

/* One source of a line: what of which, or why it is left. */
static void
take_words(struct buf *out, const struct plan_take *t)
{
	char code[CODE_SIZE], when[48], thaw[48];

	buf_printf(out, "\n%s, %s, use by %s: ", code_show(code, t->code),
	    t->tray ? "on hand" : t->species,
	    time_short(when, sizeof(when), t->use_by_utc));
	if (t->reason != PLAN_TAKEN) {
		buf_printf(out, "left, %s", plan_reason_words(t));
		return;
	}
	plan_take_words(out, t);
	if (t->frozen)
		buf_printf(out, ", frozen: take it out by %s",
		    time_short(thaw, sizeof(thaw), t->thaw_by_utc));
	if (t->ask_parasites)
		buf_puts(out, "; " PLAN_RAW_CAUTION);
}

void
prep_line_why(struct buf *out, const struct prep_page *p, size_t line)
{
	const struct plan_line *l = &p->plan->lines[line];
	size_t i;

	buf_printf(out, "%s (%s)\n", l->cut.dish_name, l->cut.dish);
	plan_cut_words(out, &l->cut);
	buf_printf(out,
	    "\nneed %" PRId64 ", on hand %" PRId64 ", make %" PRId64,
	    l->to_have, l->on_hand, l->to_make);
	if (l->short_of > 0)
		buf_printf(out, ", short %" PRId64 "%s", l->short_of,
		    l->by_choice
			? " by choice: opening a closed fish costs more; say "
			  "first to open it"
			: l->order_known ? ": see the order list"
					 : ": no yield known, order by hand");
	buf_puts(out, "\n\n");
	plan_why(out, l);
	buf_putc(out, '\n');
	for (i = 0; i < l->take_count; i++)
		take_words(out, &l->takes[i]);
	buf_putc(out, '\n');
}

void
prep_fish_words(
    struct buf *out, const struct prep_page *p, const struct plan_opened *o)
{
	plan_opened_words(out, p->report, o);
}

static void
totals(struct buf *out, const struct plan *plan)
{
	char opened[32], trim[32], eye[32], eye_trim[32], cost[32], bound[32];
	size_t i;

	buf_printf(out,
	    "\n%zu of %zu fish opened, %s; %s of trim.  By eye, first fish and "
	    "largest portion: %zu fish, %s; %s of trim.\n",
	    plan->opened_count, plan->fish_seen,
	    weight_print(opened, sizeof(opened), plan->opened_g),
	    weight_print(trim, sizeof(trim), plan->trim_g), plan->head_fish,
	    weight_print(eye, sizeof(eye), plan->head_opened_g),
	    weight_print(eye_trim, sizeof(eye_trim), plan->head_trim_g));
	plan_gap_words(out, plan);
	buf_printf(out, "\ncost %s, bound %s\n",
	    price_print(cost, sizeof(cost), div_up(plan->cost, 1000)),
	    price_print(bound, sizeof(bound), div_down(plan->bound, 1000)));
	if (plan->estimated)
		buf_puts(out,
		    "Fish nobody weighed one by one are estimated: take the "
		    "nearest in weight, then weigh the pieces and plan "
		    "again.\n");
	for (i = 0; i < plan->inversion_count; i++) {
		plan_inversion_words(out, &plan->inversions[i]);
		buf_putc(out, '\n');
	}
}

void
prep_cuts(struct buf *out, const struct prep_page *p, const char *batch)
{
	const struct plan_opened *o;
	const char *last = "";
	char code[CODE_SIZE], when[48];
	size_t i;

	for (i = 0; i < p->plan->opened_count; i++) {
		o = &p->plan->opened[i];
		if (batch != NULL && !str_eq(batch, o->batch))
			continue;
		if (!str_eq(last, o->batch))
			buf_printf(out, "%s%s  %s, use by %s\n",
			    out->len > 0 ? "\n" : "", code_show(code, o->batch),
			    species_find(p->report->species, o->species)->name,
			    time_short(when, sizeof(when), o->use_by_utc));
		last = o->batch;
		buf_puts(out, "  ");
		prep_fish_words(out, p, o);
		buf_putc(out, '\n');
	}
	if (p->plan->fish_seen > 0)
		totals(out, p->plan);
}

void
prep_orders(struct buf *out, const struct prep_page *p)
{
	struct ticket *t = ticket_new();

	list_order(t, p->report, p->suppliers, p->supplier_count);
	ticket_text(out, t, ORDER_COLUMNS);
	ticket_free(t);
}

void
prep_cautions(struct buf *out, const struct prep_page *p)
{
	const char *list[CAUTIONS_MAX];
	const struct species *sp;
	char text[256];
	size_t i;
	int n, k;

	for (i = 0; i < p->report->job_count; i++) {
		sp = species_find(p->report->species, p->jobs[i].species);
		n = caution_list(list, sp, p->jobs[i].bought);
		for (k = 0; k < n; k++) {
			str_fmt(
			    text, sizeof(text), "%s: %s.\n", sp->name, list[k]);
			if (strstr(buf_text(out), text) == NULL)
				buf_puts(out, text);
		}
	}
	if (p->work->count > 0)
		buf_printf(out,
		    "Out of the fridge at most %d minutes at a time.\n%s\n",
		    p->report->bench_minutes, work_caution());
	buf_puts(out, PLAN_CAUTION "\n");
}
