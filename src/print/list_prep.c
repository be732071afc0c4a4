/* list_prep.c - the prep list on paper. */
#include "print/lists.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "core/caution.h"
#include "list_words.h"

struct prep_list_at {
	struct ticket *t;
	const struct plan_report *r;
	bool *shown; /* lines of the plan that stand on the list */
};

static const struct plan_line *
line_of(const struct prep_list_at *at, size_t i)
{
	return &at->r->plan.lines[i];
}

/* --- trays ---------------------------------------------------------------- */

static void
put_tray(struct ticket *t, const struct plan_take *take, const char *dish)
{
	char code[CODE_SIZE], when[48], out[48], n[32];

	str_fmt(n, sizeof(n), "%" PRId64, take->portions);
	ticket_add(t, TICKET_TICK, dish, n);
	code_show(code, take->code);
	time_short(when, sizeof(when), take->use_by_utc);
	if (!take->frozen) {
		ticket_printf(
		    t, TICKET_SMALL, NULL, "%s, use by %s", code, when);
		return;
	}
	ticket_printf(t, TICKET_SMALL, NULL, "%s, frozen: take it out by %s",
	    code, time_short(out, sizeof(out), take->thaw_by_utc));
	ticket_printf(t, TICKET_SMALL, NULL, "then use by %s", when);
}

static void
put_trays(struct prep_list_at *at)
{
	const struct plan_take *take;
	const struct plan_line *line;
	bool any = false;
	size_t i, j;

	for (i = 0; i < at->r->plan.count; i++) {
		line = line_of(at, i);
		for (j = 0; j < line->take_count; j++) {
			take = &line->takes[j];
			if (!take->tray || take->reason != PLAN_TAKEN)
				continue;
			if (!any)
				ticket_add(at->t, TICKET_HEAD,
				    "From the trays first", NULL);
			any = true;
			put_tray(at->t, take, line->cut.dish_name);
		}
	}
}

/* --- tasks ---------------------------------------------------------------- */

static void
minutes_text(char *dst, size_t size, int64_t seconds, bool learned)
{
	str_fmt(dst, size, "%s%" PRId64 " min", learned ? "" : "~",
	    div_up(seconds, 60));
}

static void
put_change(struct prep_list_at *at, const struct work_task *task, bool last)
{
	char minutes[32];

	minutes_text(minutes, sizeof(minutes), task->seconds, task->learned);
	ticket_add(at->t, TICKET_TICK,
	    task->kind == TASK_CLEANDOWN ? "FULL CLEAN-DOWN"
					 : "change board and knife",
	    minutes);
	if (!last)
		ticket_printf(at->t, TICKET_SMALL, NULL, "then %s",
		    work_class_word(task->class));
}

/* Tasks of one job that follow each other. */
static size_t
run_end(const struct work *w, size_t from)
{
	size_t end = from + 1;

	while (end < w->count && w->tasks[end].job == w->tasks[from].job)
		end++;
	return end;
}

static bool
comes_again(const struct work *w, size_t from, int job)
{
	for (; from < w->count; from++)
		if (w->tasks[from].job == job)
			return true;
	return false;
}

static const struct plan_take *
take_of(const struct plan_line *line, const char *batch)
{
	size_t i;

	for (i = 0; i < line->take_count; i++)
		if (!line->takes[i].tray &&
		    line->takes[i].reason == PLAN_TAKEN &&
		    str_eq(line->takes[i].code, batch))
			return &line->takes[i];
	return NULL;
}

static void
put_take(struct prep_list_at *at, const struct plan_take *take)
{
	char code[CODE_SIZE], when[48];
	struct buf text;

	buf_init(&text, PARAGRAPH_MAX);
	plan_take_words(&text, take);
	buf_printf(&text, " of %s %s, use by %s", code_show(code, take->code),
	    list_species(at->r->species, take->species),
	    time_short(when, sizeof(when), take->use_by_utc));
	list_paragraph(at->t, TICKET_SMALL, &text);
	if (take->ask_parasites)
		ticket_add(at->t, TICKET_SMALL,
		    PLAN_RAW_CAUTION "; prep asks for it", NULL);
}

static void
put_cut(struct prep_list_at *at, const struct plan_line *line)
{
	struct buf text;

	buf_init(&text, PARAGRAPH_MAX);
	buf_printf(&text, "%s: ", line->cut.dish);
	plan_cut_words(&text, &line->cut);
	list_paragraph(at->t, TICKET_SMALL, &text);
}

/* "fillet 2, pin-bone 4 pieces, portion 14, tray 1; 3 at a time". */
static void
put_steps(struct prep_list_at *at, size_t from, size_t end)
{
	const struct work_task *task;
	int64_t tray = 0;
	struct buf text;
	size_t i;

	buf_init(&text, PARAGRAPH_MAX);
	for (i = from; i < end; i++) {
		task = &at->r->work.tasks[i];
		buf_puts(&text, i > from ? ", " : "");
		plan_task_words(&text, task);
		if (task->trays > 1 && (tray == 0 || task->tray < tray))
			tray = task->tray;
	}
	if (tray > 0)
		buf_printf(&text, "; %" PRId64 " at a time", tray);
	list_paragraph(at->t, TICKET_SMALL, &text);
}

static void
put_run(struct prep_list_at *at, size_t from, size_t end)
{
	const struct work *w = &at->r->work;
	const struct work_job *job = &at->r->jobs[w->tasks[from].job];
	const struct plan_line *line = line_of(at, (size_t)job->line);
	const struct plan_take *take = take_of(line, job->batch);
	int64_t seconds = 0;
	bool learned = true;
	char minutes[32], code[CODE_SIZE];
	size_t i;

	for (i = from; i < end; i++) {
		seconds += w->tasks[i].seconds;
		learned = learned && w->tasks[i].learned;
	}
	minutes_text(minutes, sizeof(minutes), seconds, learned);
	ticket_add(at->t, TICKET_TICK, line->cut.dish_name, minutes);
	if (comes_again(w, end, w->tasks[from].job)) {
		put_steps(at, from, end);
		ticket_printf(at->t, TICKET_SMALL, NULL, "%s %s",
		    code_show(code, job->batch),
		    list_species(at->r->species, job->species));
		return;
	}
	at->shown[job->line] = true;
	put_cut(at, line);
	if (take != NULL)
		put_take(at, take);
	put_steps(at, from, end);
}

static void
put_work(struct prep_list_at *at)
{
	const struct work *w = &at->r->work;
	const struct work_job *job;
	int board = -1;
	size_t i, end;

	if (w->count > 0)
		ticket_printf(at->t, TICKET_SMALL, NULL,
		    "%" PRId64 " minutes of work, %" PRId64 " when slow%s",
		    div_up(w->seconds, 60), div_up(w->slow_s, 60),
		    w->estimated ? "; ~ house estimate, not yet learned" : "");
	for (i = 0; i < w->count; i = end) {
		end = run_end(w, i);
		if (w->tasks[i].job < 0) {
			end = i + 1;
			put_change(at, &w->tasks[i], end == w->count);
			continue;
		}
		job = &at->r->jobs[w->tasks[i].job];
		if ((int)job->allergen != board)
			ticket_add(at->t, TICKET_HEAD,
			    plan_board_words(job->allergen), NULL);
		board = (int)job->allergen;
		put_run(at, i, end);
	}
}

/* What is made without a task that has minutes must not get lost. */
static void
put_others(struct prep_list_at *at)
{
	const struct plan_line *line;
	bool any = false;
	size_t i, j;

	for (i = 0; i < at->r->plan.count; i++) {
		line = line_of(at, i);
		if (at->shown[i] || line->to_make == 0)
			continue;
		if (!any)
			ticket_add(at->t, TICKET_HEAD,
			    "Also to make, minutes not known", NULL);
		any = true;
		ticket_add(at->t, TICKET_TICK, line->cut.dish_name, NULL);
		put_cut(at, line);
		for (j = 0; j < line->take_count; j++)
			if (!line->takes[j].tray &&
			    line->takes[j].reason == PLAN_TAKEN)
				put_take(at, &line->takes[j]);
	}
}

static void
put_fish_remarks(struct prep_list_at *at)
{
	const struct plan *p = &at->r->plan;
	struct buf text;
	size_t i;

	ticket_add(at->t, TICKET_SMALL,
	    "Fish by fish, grams of a portion as it is cut.", NULL);
	if (p->estimated)
		ticket_add(at->t, TICKET_SMALL,
		    "Fish nobody weighed one by one are estimated: take the "
		    "nearest in weight, then weigh the pieces and plan again.",
		    NULL);
	for (i = 0; i < p->inversion_count; i++) {
		buf_init(&text, PARAGRAPH_MAX);
		plan_inversion_words(&text, &p->inversions[i]);
		list_paragraph(at->t, TICKET_SMALL, &text);
	}
}

static void
put_fish(struct prep_list_at *at)
{
	const struct plan *p = &at->r->plan;
	const struct plan_opened *o;
	const char *last = "";
	char code[CODE_SIZE];
	struct buf text;
	size_t i;

	for (i = 0; i < p->opened_count; i++) {
		o = &p->opened[i];
		if (!str_eq(last, o->batch))
			ticket_printf(at->t, TICKET_HEAD, NULL, "Cut %s %s",
			    code_show(code, o->batch),
			    list_species(at->r->species, o->species));
		if (i == 0)
			put_fish_remarks(at);
		last = o->batch;
		buf_init(&text, PARAGRAPH_MAX);
		plan_opened_words(&text, at->r, o);
		list_paragraph(at->t, TICKET_TICK, &text);
	}
}

/* --- what is short or left ------------------------------------------------ */

static void
put_short(struct prep_list_at *at)
{
	const struct plan_line *line;
	bool any = false;
	char n[32];
	size_t i;

	for (i = 0; i < at->r->plan.count; i++) {
		line = line_of(at, i);
		if (line->short_of == 0)
			continue;
		if (!any)
			ticket_add(at->t, TICKET_HEAD, "SHORT", NULL);
		any = true;
		str_fmt(n, sizeof(n), "%" PRId64 " of %" PRId64, line->short_of,
		    line->to_have);
		ticket_add(at->t, TICKET_LINE, line->cut.dish_name, n);
		ticket_add(at->t, TICKET_SMALL,
		    line->by_choice ? "by choice: opening a closed fish for "
				      "it costs more; pin it to open it"
			: line->order_known ? "see the order list"
					    : "no yield known, order by hand",
		    NULL);
	}
}

static void
put_left(struct prep_list_at *at)
{
	const struct plan_take *take;
	const struct plan_line *line;
	char code[CODE_SIZE], when[48];
	bool any = false;
	size_t i, j;

	for (i = 0; i < at->r->plan.count; i++) {
		line = line_of(at, i);
		for (j = 0; j < line->take_count; j++) {
			take = &line->takes[j];
			if (take->reason == PLAN_TAKEN ||
			    (take->reason == PLAN_NOT_NEEDED && !at->r->why))
				continue;
			if (!any)
				ticket_add(
				    at->t, TICKET_HEAD, "Leave alone", NULL);
			any = true;
			ticket_printf(at->t, TICKET_LINE,
			    take->frozen ? "frozen" : NULL, "%s %s",
			    code_show(code, take->code),
			    take->tray
				? line->cut.dish
				: list_species(at->r->species, take->species));
			ticket_printf(at->t, TICKET_SMALL, NULL,
			    "for %s: %s; use by %s", line->cut.dish,
			    plan_reason_words(take),
			    time_short(when, sizeof(when), take->use_by_utc));
		}
	}
}

/* --- cautions and reasons ------------------------------------------------- */

static bool
said_before(const struct ticket *t, size_t from, const char *text)
{
	for (; from < ticket_count(t); from++)
		if (str_eq(ticket_at(t, from)->left, text))
			return true;
	return false;
}

static void
put_cautions(struct prep_list_at *at)
{
	const char *list[CAUTIONS_MAX];
	const struct plan_line *line;
	const struct species *sp;
	size_t i, j, from;
	char text[256];
	int n, k;

	ticket_add(at->t, TICKET_HEAD, "Mind", NULL);
	from = ticket_count(at->t);
	for (i = 0; i < at->r->plan.count; i++) {
		line = line_of(at, i);
		for (j = 0; j < line->take_count; j++) {
			if (line->takes[j].reason != PLAN_TAKEN)
				continue;
			sp = species_find(
			    at->r->species, line->takes[j].species);
			n = caution_list(list, sp, line->cut.bought);
			for (k = 0; k < n; k++) {
				str_fmt(text, sizeof(text), "%s: %s", sp->name,
				    list[k]);
				if (!said_before(at->t, from, text))
					ticket_add(
					    at->t, TICKET_SMALL, text, NULL);
			}
		}
	}
	if (at->r->work.count > 0) {
		ticket_printf(at->t, TICKET_SMALL, NULL,
		    "Out of the fridge at most %d minutes at a time.",
		    at->r->bench_minutes);
		ticket_add(at->t, TICKET_SMALL, work_caution(), NULL);
	}
	ticket_add(at->t, TICKET_SMALL, PLAN_CAUTION, NULL);
}

static void
put_why(struct prep_list_at *at)
{
	struct buf text;
	size_t i;

	if (!at->r->why)
		return;
	ticket_add(at->t, TICKET_HEAD, "Why", NULL);
	if (at->r->plan.fish_seen > 0) {
		buf_init(&text, PARAGRAPH_MAX);
		buf_puts(&text, "the cut: ");
		plan_gap_words(&text, &at->r->plan);
		list_paragraph(at->t, TICKET_SMALL, &text);
	}
	for (i = 0; i < at->r->plan.count; i++) {
		ticket_add(
		    at->t, TICKET_LINE, line_of(at, i)->cut.dish_name, NULL);
		buf_init(&text, PARAGRAPH_MAX);
		plan_why(&text, line_of(at, i));
		list_paragraph(at->t, TICKET_SMALL, &text);
	}
}

void
list_prep(struct ticket *t, const struct plan_report *r)
{
	struct prep_list_at at = { .t = t, .r = r };

	at.shown = xcalloc(r->plan.count, sizeof(*at.shown));
	list_plan_head(t, r, "Prep");
	if (r->plan.count == 0)
		ticket_add(t, TICKET_LINE,
		    "no dish of the menu is on for this service", NULL);
	put_trays(&at);
	put_work(&at);
	put_others(&at);
	put_short(&at);
	put_fish(&at);
	put_left(&at);
	put_cautions(&at);
	put_why(&at);
	free(at.shown);
}
