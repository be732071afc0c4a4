/* plan_text.c - fish by fish, working order, order list as text. */
#include "plan_text.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"

char *
money_text(char *dst, size_t size, int64_t thousandths)
{
	return price_print(dst, size, div_up(thousandths, 1000));
}

void
plan_gap_words(struct buf *out, const struct plan *p)
{
	int64_t gap = p->cost - p->bound;
	int64_t bp = p->cost == 0 ? 0 : div_up(gap * 10000, p->cost);

	if (p->proved)
		buf_puts(out, "proved: no way of cutting costs less");
	else
		buf_puts(out, "the best found");
	buf_printf(
	    out, " (gap %" PRId64 ".%02" PRId64 " %%", bp / 100, bp % 100);
	buf_puts(out, p->capped ? ", the search was cut off)" : ")");
}

/* "2 x 165 + 148 hake-beans"; kept and trim behind it. */
static void
piece_text(
    struct buf *out, const struct plan_report *r, const struct plan_piece *p)
{
	const struct plan_portions *c;
	size_t i;

	for (i = 0; i < p->cut_count; i++) {
		c = &p->cuts[i];
		if (i > 0)
			buf_puts(out, " + ");
		if (c->count > 1)
			buf_printf(out, "%" PRId64 " x ", c->count);
		buf_printf(out, "%" PRId64, c->portion_g);
		if (i + 1 == p->cut_count || p->cuts[i + 1].line != c->line)
			buf_printf(out, " %s", r->plan.lines[c->line].cut.dish);
	}
	if (p->kept)
		buf_puts(out, "left whole");
	else if (p->cut_count == 0)
		buf_printf(out, "all trim, %" PRId64, p->trim_g);
	else if (p->trim_g > 0)
		buf_printf(out, ", trim %" PRId64, p->trim_g);
}

static bool
same_piece(const struct plan_piece *a, const struct plan_piece *b)
{
	size_t i;

	if (a->cut_count != b->cut_count || a->kept != b->kept ||
	    a->trim_g != b->trim_g)
		return false;
	for (i = 0; i < a->cut_count; i++)
		if (a->cuts[i].line != b->cuts[i].line ||
		    a->cuts[i].count != b->cuts[i].count ||
		    a->cuts[i].portion_g != b->cuts[i].portion_g)
			return false;
	return true;
}

void
plan_opened_words(
    struct buf *out, const struct plan_report *r, const struct plan_opened *o)
{
	const char *word = species_find(r->species, o->species)->piece_word;
	size_t i, n;

	if (o->on_board)
		buf_printf(out, "on the board, %" PRId64 " g: ", o->weight_g);
	else if (o->number > 0)
		buf_printf(
		    out, "fish %d, %" PRId64 " g: ", o->number, o->weight_g);
	else
		buf_printf(out, "a fish of about %" PRId64 " g: ", o->weight_g);
	if (o->whole_line >= 0)
		buf_printf(
		    out, "whole, %s", r->plan.lines[o->whole_line].cut.dish);
	else if (o->troncon)
		buf_puts(out, "steaks: ");
	for (i = 0; i < o->piece_count; i += n) {
		for (n = 1; i + n < o->piece_count &&
		     same_piece(&o->pieces[i], &o->pieces[i + n]);
		     n++)
			;
		if (i > 0)
			buf_puts(out, "; ");
		if (!o->on_board && !o->troncon)
			buf_printf(out, "%zu %s%s%s ", n,
			    word[0] == '\0' ? "piece" : word, n == 1 ? "" : "s",
			    n == 1 ? ":" : " each");
		piece_text(out, r, &o->pieces[i]);
	}
}

static void
opened_text(
    struct buf *out, const struct plan_report *r, const struct plan_opened *o)
{
	struct buf text;

	buf_init(&text, 4096);
	plan_opened_words(&text, r, o);
	buf_wrap(out, buf_text(&text), 6, 79);
	buf_fini(&text);
}

void
plan_inversion_words(struct buf *out, const struct plan_inversion *v)
{
	char later[CODE_SIZE], earlier[CODE_SIZE];

	buf_printf(out, "%s is opened before %s, which expires first: %s.",
	    code_show(later, v->later), code_show(earlier, v->earlier),
	    stock_reason_text(v->reason));
}

static void
inversions_text(struct buf *out, const struct plan_report *r)
{
	struct buf text;
	size_t i;

	for (i = 0; i < r->plan.inversion_count; i++) {
		buf_init(&text, 1024);
		plan_inversion_words(&text, &r->plan.inversions[i]);
		buf_wrap(out, buf_text(&text), 2, 79);
		buf_fini(&text);
	}
}

/* The plan beside the cut a cook would make by eye. */
static void
totals_text(struct buf *out, const struct plan *p)
{
	char g[32], trim[32], money[32];

	buf_puts(out,
	    "\n               fish     opened       trim  short       cost\n");
	buf_printf(out, "  this plan   %5zu %10s %10s  %5" PRId64 " %10s\n",
	    p->opened_count, weight_print(g, sizeof(g), p->opened_g),
	    weight_print(trim, sizeof(trim), p->trim_g), p->cut_short,
	    money_text(money, sizeof(money), p->cost));
	buf_printf(out, "  by eye      %5zu %10s %10s  %5" PRId64 " %10s\n",
	    p->head_fish, weight_print(g, sizeof(g), p->head_opened_g),
	    weight_print(trim, sizeof(trim), p->head_trim_g), p->head_short,
	    money_text(money, sizeof(money), p->head_cost));
	buf_printf(out,
	    "  (by eye: first fish, largest portion that fits) of "
	    "%zu fish; the plan is\n  ",
	    p->fish_seen);
	plan_gap_words(out, p);
	buf_putc(out, '\n');
}

void
plan_text_cuts(struct buf *out, const struct plan_report *r)
{
	const struct plan_opened *o;
	char code[CODE_SIZE], when[48];
	const char *last = "";
	size_t i;

	if (r->plan.fish_seen == 0)
		return;
	buf_puts(out, "\n== CUT, FISH BY FISH  (grams of a portion)\n");
	for (i = 0; i < r->plan.opened_count; i++) {
		o = &r->plan.opened[i];
		if (!str_eq(last, o->batch))
			buf_printf(out, "\n  %s  %s, use by %s\n",
			    code_show(code, o->batch),
			    species_find(r->species, o->species)->name,
			    time_short(when, sizeof(when), o->use_by_utc));
		last = o->batch;
		opened_text(out, r, o);
	}
	totals_text(out, &r->plan);
	if (r->plan.estimated)
		buf_puts(out,
		    "  Fish nobody weighed one by one are estimated: take the "
		    "nearest in weight,\n  then weigh the pieces and plan "
		    "again "
		    "(--board).\n");
	if (r->why)
		buf_puts(out,
		    "  Cost: what the opened fish are worth, less the sooner "
		    "they expire, and what\n  every portion short, cut under "
		    "its target, or trim short would cost.\n");
	inversions_text(out, r);
}

static void
clock_text(char *dst, size_t size, int64_t seconds)
{
	int64_t minutes = div_up(seconds, 60);

	str_fmt(
	    dst, size, "%" PRId64 ":%02" PRId64, minutes / 60, minutes % 60);
}

void
plan_task_words(struct buf *out, const struct work_task *t)
{
	enum task_unit unit = task_unit(t->kind);

	buf_printf(out, "%s %" PRId64, task_word(t->kind), t->units);
	if (unit == UNIT_KG)
		buf_puts(out, " kg");
	else if (unit != UNIT_EACH && t->kind != TASK_TRAY &&
	    t->kind != TASK_PORTION)
		buf_printf(out, " %s%s", task_unit_word(unit),
		    t->units == 1 ? "" : "s");
}

static void
task_text(
    struct buf *out, const struct plan_report *r, const struct work_task *t)
{
	const struct work_job *j;
	char at[24], took[24], code[CODE_SIZE];

	clock_text(at, sizeof(at), t->starts_s);
	clock_text(took, sizeof(took), t->seconds);
	buf_printf(out, "  %6s %6s%s ", at, took, t->learned ? " " : "~");
	if (t->job < 0) {
		buf_puts(out,
		    t->kind == TASK_CLEANDOWN ? "FULL CLEAN-DOWN"
					      : "change board and knife");
		if (t + 1 < r->work.tasks + r->work.count)
			buf_printf(out, ", then %s", work_class_word(t->class));
		buf_putc(out, '\n');
		return;
	}
	j = &r->jobs[t->job];
	plan_task_words(out, t);
	buf_printf(out, ", %s %s", species_find(r->species, j->species)->name,
	    code_show(code, j->batch));
	if (t->trays > 1)
		buf_printf(out, ", %" PRId64 " at a time", t->tray);
	buf_putc(out, '\n');
}

void
plan_text_work(struct buf *out, const struct plan_report *r)
{
	char all[24], slow[24];
	size_t i;

	if (r->work.count == 0)
		return;
	clock_text(all, sizeof(all), r->work.seconds);
	clock_text(slow, sizeof(slow), r->work.slow_s);
	buf_printf(out,
	    "\n== WORKING ORDER  %s h, %s when slow%s\n\n   start   takes\n",
	    all, slow,
	    r->work.estimated ? "  (~ house estimate, not yet learned)" : "");
	for (i = 0; i < r->work.count; i++)
		task_text(out, r, &r->work.tasks[i]);
	buf_printf(out, "  Out of the fridge at most %d minutes at a time.\n",
	    r->bench_minutes);
	buf_wrap(out, work_caution(), 2, 79);
}

void
plan_order_why(struct buf *out, const struct plan_order *o)
{
	char s[32];

	buf_printf(out,
	    "%" PRId64 " portion%s need %" PRId64
	    " g as bought, ordered by "
	    "the low yield %s of ",
	    o->portions, o->portions == 1 ? "" : "s", o->need_g,
	    percent_print(s, sizeof(s), o->yield.low_bp));
	yield_text(out, &o->yield);
	buf_printf(out, "; rounded up to steps of %" PRId64 " g", o->step_g);
	if (o->price >= 0) {
		buf_printf(out, "; %s a kilogram",
		    price_print(s, sizeof(s), o->price));
		buf_printf(out, ", %s in all%s",
		    money_text(s, sizeof(s), o->cost),
		    o->fish_g > 0 ? "; this grade leaves the cheapest plan"
				  : "");
	}
}

static void
order_why(struct buf *out, const struct plan_order *o)
{
	struct buf why;

	buf_init(&why, 4096);
	plan_order_why(&why, o);
	buf_wrap(out, buf_text(&why), 13, 79);
	buf_fini(&why);
}

void
plan_text_order(struct buf *out, const struct plan_report *r)
{
	const struct plan_order *o;
	const struct plan_line *line;
	char w[32], g[32];
	size_t i;

	for (i = 0; i < r->plan.order_count; i++) {
		o = &r->plan.orders[i];
		buf_printf(out, "\n%11s  %s, %s",
		    weight_print(w, sizeof(w), o->order_g),
		    species_find(r->species, o->species)->name,
		    presentation_word(o->bought));
		if (o->fish > 0)
			buf_printf(out, ", %" PRId64 " fish of about %s",
			    o->fish, weight_print(g, sizeof(g), o->fish_g));
		else if (o->at_least > 0)
			buf_printf(
			    out, ", at least %" PRId64 " of them", o->at_least);
		if (o->supplier[0] != '\0')
			buf_printf(out, ", from %s", o->supplier);
		buf_printf(out, ": %" PRId64 " portion%s\n", o->portions,
		    o->portions == 1 ? "" : "s");
		if (r->why)
			order_why(out, o);
	}
	for (i = 0; i < r->plan.count; i++) {
		line = &r->plan.lines[i];
		if (line->short_of > 0 && !line->order_known)
			buf_printf(out,
			    "\n    by hand  %s: %" PRId64
			    " portions of %" PRId64 " g, no yield known\n",
			    line->cut.dish, line->short_of, line->cut.target_g);
	}
	if (r->plan.order_count == 0)
		buf_puts(out, "\nnothing to order that a yield is known for\n");
}
