/* plan_data.c - the prep list and the order list for programs. */
#include "plan_data.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "exchange/forecast_out.h"

static void
json_yield(struct jsonw *w, const char *key, const struct plan_yield *y)
{
	jsonw_object(w, key);
	jsonw_int(w, "per_10000", y->mean_bp);
	jsonw_int(w, "low_per_10000", y->low_bp);
	jsonw_int(w, "breakdowns", y->breakdowns);
	jsonw_object(w, "published");
	jsonw_int(w, "per_10000", y->published.bp);
	jsonw_int(w, "low_per_10000", y->published.low_bp);
	jsonw_int(w, "high_per_10000", y->published.high_bp);
	jsonw_bool(w, "verified", y->published.verified);
	jsonw_bool(w, "derived", y->published.derived);
	jsonw_str(w, "source", y->published.source);
	jsonw_end(w);
	jsonw_end(w);
}

static void
json_take(struct jsonw *w, const struct plan_take *t)
{
	char code[CODE_SIZE];

	jsonw_object(w, NULL);
	jsonw_str(w, "kind", t->tray ? "portion" : "batch");
	jsonw_str(w, "code", code_show(code, t->code));
	jsonw_str(w, "species", t->species);
	jsonw_time(w, "use_by", t->use_by_utc);
	jsonw_str(w, "reason", plan_reason_word(t));
	jsonw_int(w, "portions", t->portions);
	if (t->frozen)
		jsonw_bool(w, "frozen", true);
	if (t->thaw_by_utc != 0)
		jsonw_time(w, "thaw_by", t->thaw_by_utc);
	if (!t->tray) {
		jsonw_int(w, "fish", t->fish);
		jsonw_int(w, "weight_g", t->weight_g);
		jsonw_bool(w, "estimated", t->estimated);
		jsonw_bool(w, "ask_parasite_record", t->ask_parasites);
		if (t->yield.mean_bp > 0)
			json_yield(w, "yield", &t->yield);
	}
	jsonw_end(w);
}

static void
json_typed(struct jsonw *w, const char *key, int typed)
{
	if (typed < 0)
		jsonw_null(w, key);
	else
		jsonw_int(w, key, typed);
}

static void
json_demand(struct jsonw *w, const struct plan_line *l)
{
	const struct demand_line *d = &l->demand;

	jsonw_object(w, "demand");
	jsonw_int(w, "expected_per_100", d->expected_c);
	jsonw_int(w, "low80", d->low);
	jsonw_int(w, "high80", d->high);
	jsonw_int(w, "target", d->target);
	jsonw_int(w, "runs_out_per_10000", d->out_bp);
	jsonw_int(w, "ratio_per_10000", d->ratio_bp);
	jsonw_int(w, "share_per_10000", d->share_bp);
	jsonw_int(w, "services_learned", d->taught);
	jsonw_str(w, "settled_by", demand_why_word(d->why));
	json_typed(w, "floor", l->typed.floor);
	json_typed(w, "ceiling", l->typed.ceiling);
	json_typed(w, "fixed", l->typed.fixed);
	jsonw_end(w);
}

static void
json_line(struct jsonw *w, const struct plan_line *line)
{
	size_t i;
	int k;

	jsonw_object(w, NULL);
	jsonw_str(w, "dish", line->cut.dish);
	jsonw_str(w, "name", line->cut.dish_name);
	jsonw_array(w, "species");
	for (k = 0; k < line->species_count; k++)
		jsonw_str(w, NULL, line->species[k]);
	jsonw_end(w);
	jsonw_str(w, "cut", cut_word(line->cut.kind));
	jsonw_bool(w, "skin_on", line->cut.skin_on);
	jsonw_int(w, "target_g", line->cut.target_g);
	json_demand(w, line);
	jsonw_int(w, "used", line->used);
	jsonw_int(w, "portions_needed", line->to_have);
	jsonw_int(w, "on_hand", line->on_hand);
	jsonw_int(w, "to_make", line->to_make);
	jsonw_int(w, "short", line->short_of);
	jsonw_bool(w, "short_by_choice", line->by_choice);
	jsonw_array(w, "sources");
	for (i = 0; i < line->take_count; i++)
		json_take(w, &line->takes[i]);
	jsonw_end(w);
	jsonw_end(w);
}

static void
json_piece(
    struct jsonw *w, const struct plan_report *r, const struct plan_piece *p)
{
	size_t i;

	jsonw_object(w, NULL);
	jsonw_array(w, "cuts");
	for (i = 0; i < p->cut_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "dish", r->plan.lines[p->cuts[i].line].cut.dish);
		jsonw_int(w, "portions", p->cuts[i].count);
		jsonw_int(w, "grams", p->cuts[i].portion_g);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_int(w, "trim_g", p->trim_g);
	jsonw_bool(w, "left_whole", p->kept);
	jsonw_end(w);
}

static void
json_cuts(struct jsonw *w, const struct plan_report *r)
{
	const struct plan_opened *o;
	char code[CODE_SIZE];
	size_t i, k;

	jsonw_array(w, "fish");
	for (i = 0; i < r->plan.opened_count; i++) {
		o = &r->plan.opened[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "batch", code_show(code, o->batch));
		jsonw_str(w, "species", o->species);
		jsonw_int(w, "number", o->number);
		jsonw_int(w, "weight_g", o->weight_g);
		jsonw_bool(w, "on_board", o->on_board);
		jsonw_str(w, "whole_for",
		    o->whole_line < 0 ? ""
				      : r->plan.lines[o->whole_line].cut.dish);
		jsonw_bool(w, "steaks", o->troncon);
		jsonw_array(w, "pieces");
		for (k = 0; k < o->piece_count; k++)
			json_piece(w, r, &o->pieces[k]);
		jsonw_end(w);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_object(w, "cut_plan");
	jsonw_int(w, "fish_seen", (int64_t)r->plan.fish_seen);
	jsonw_int(w, "cost", r->plan.cost);
	jsonw_int(w, "bound", r->plan.bound);
	jsonw_bool(w, "proved", r->plan.proved);
	jsonw_bool(w, "cut_off", r->plan.capped);
	jsonw_int(w, "opened_g", r->plan.opened_g);
	jsonw_int(w, "trim_g", r->plan.trim_g);
	jsonw_int(w, "short", r->plan.cut_short);
	jsonw_object(w, "by_eye");
	jsonw_int(w, "fish", (int64_t)r->plan.head_fish);
	jsonw_int(w, "opened_g", r->plan.head_opened_g);
	jsonw_int(w, "trim_g", r->plan.head_trim_g);
	jsonw_int(w, "short", r->plan.head_short);
	jsonw_int(w, "cost", r->plan.head_cost);
	jsonw_end(w);
	jsonw_end(w);
	jsonw_array(w, "inversions");
	for (i = 0; i < r->plan.inversion_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(
		    w, "opened", code_show(code, r->plan.inversions[i].later));
		jsonw_str(w, "before",
		    code_show(code, r->plan.inversions[i].earlier));
		jsonw_str(w, "reason",
		    stock_reason_word(r->plan.inversions[i].reason));
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_work(struct jsonw *w, const struct plan_report *r)
{
	const struct work_task *t;
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, "work");
	for (i = 0; i < r->work.count; i++) {
		t = &r->work.tasks[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "task", task_word(t->kind));
		jsonw_str(w, "class", work_class_word(t->class));
		jsonw_str(w, "batch",
		    t->job < 0 ? "" : code_show(code, r->jobs[t->job].batch));
		jsonw_int(w, "units", t->units);
		jsonw_int(w, "starts_s", t->starts_s);
		jsonw_int(w, "seconds", t->seconds);
		jsonw_int(w, "slow_s", t->slow_s);
		jsonw_int(w, "at_a_time", t->tray);
		jsonw_bool(w, "learned", t->learned);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_int(w, "work_seconds", r->work.seconds);
	jsonw_int(w, "work_slow_s", r->work.slow_s);
}

static void
json_orders(struct jsonw *w, const struct plan_report *r)
{
	const struct plan_order *o;
	size_t i;

	jsonw_array(w, "order");
	for (i = 0; i < r->plan.order_count; i++) {
		o = &r->plan.orders[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "species", o->species);
		jsonw_str(w, "presentation", presentation_word(o->bought));
		jsonw_str(w, "supplier", o->supplier);
		jsonw_int(w, "portions", o->portions);
		jsonw_int(w, "need_g", o->need_g);
		jsonw_int(w, "order_g", o->order_g);
		jsonw_int(w, "fish", o->fish);
		jsonw_int(w, "fish_g", o->fish_g);
		jsonw_int(w, "at_least", o->at_least);
		jsonw_int(w, "cost", o->cost);
		json_yield(w, "yield", &o->yield);
		jsonw_end(w);
	}
	jsonw_end(w);
}

void
plan_write_json(struct buf *out, const struct plan_report *r)
{
	struct jsonw *w = jsonw_new_object();
	char day[16];
	size_t i;

	jsonw_str(w, "kitchen", r->kitchen);
	jsonw_str(w, "date", day_print(day, sizeof(day), r->day));
	jsonw_str(w, "service", r->service);
	jsonw_int(w, "covers", r->covers);
	jsonw_int(w, "expected_covers_per_100", r->expected_c);
	jsonw_bool(w, "covers_typed", r->typed);
	jsonw_time(w, "made", r->made_utc);
	jsonw_time(w, "service_ends", r->end_utc);
	jsonw_int(w, "earlier_services", r->earlier);
	if (r->want_prep) {
		jsonw_array(w, "prep");
		for (i = 0; i < r->plan.count; i++)
			json_line(w, &r->plan.lines[i]);
		jsonw_end(w);
		json_cuts(w, r);
		json_work(w, r);
	}
	if (r->want_order)
		json_orders(w, r);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* One row of the CSV: a line's total, one of its sources, an opened fish for
 * one of its dishes, or an order. */
struct csv_row {
	const char *list, *dish, *species, *code, *reason, *presentation;
	int64_t need, on_hand, portions, short_of, fish, weight_g;
	int64_t use_by_utc; /* 0: none */
	const char *source;
};

static void
csv_row(struct buf *out, const struct csv_row *row)
{
	char code[CODE_SIZE], when[48];

	buf_printf(out, "%s,%s,%s,%s,", row->list, row->dish, row->species,
	    row->presentation);
	buf_printf(out,
	    "%s,%s,%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64
	    ",%" PRId64 ",%s,",
	    row->code[0] == '\0' ? "" : code_show(code, row->code), row->reason,
	    row->need, row->on_hand, row->portions, row->short_of, row->fish,
	    row->weight_g,
	    row->use_by_utc == 0
		? ""
		: time_rfc3339(when, sizeof(when), row->use_by_utc));
	csv_quote(out, row->source);
	buf_puts(out, "\r\n");
}

static void
csv_plan_line(struct buf *out, const struct plan_line *line)
{
	const struct plan_take *t;
	struct csv_row row = {
		.list = "prep",
		.dish = line->cut.dish,
		.species = line->cut.species,
		.presentation = "",
		.code = "",
		.reason = "",
		.need = line->to_have,
		.on_hand = line->on_hand,
		.portions = line->to_make,
		.short_of = line->short_of,
		.source = "",
	};
	size_t i;

	csv_row(out, &row);
	for (i = 0; i < line->take_count; i++) {
		t = &line->takes[i];
		row.list = !t->tray ? "batch"
		    : t->frozen     ? "frozen"
				    : "on-hand";
		row.species = t->species;
		row.code = t->code;
		row.reason = plan_reason_word(t);
		row.need = row.on_hand = row.short_of = 0;
		row.portions = t->portions;
		row.fish = t->fish;
		row.weight_g = t->weight_g;
		row.use_by_utc = t->use_by_utc;
		row.source =
		    t->yield.mean_bp > 0 ? t->yield.published.source : "";
		csv_row(out, &row);
	}
}

/* An opened fish once for each dish it serves; `fish` is its number. */
static void
csv_opened(
    struct buf *out, const struct plan_report *r, const struct plan_opened *o)
{
	struct csv_row row = {
		.list = "cut",
		.species = o->species,
		.presentation = presentation_word(o->presentation),
		.code = o->batch,
		.reason = o->whole_line >= 0 ? "whole" : "cut",
		.fish = o->number,
		.weight_g = o->weight_g,
		.use_by_utc = o->use_by_utc,
		.source = "",
	};
	size_t line, i, k;

	for (line = 0; line < r->plan.count; line++) {
		row.dish = r->plan.lines[line].cut.dish;
		row.portions = o->whole_line == (int)line;
		for (i = 0; i < o->piece_count; i++)
			for (k = 0; k < o->pieces[i].cut_count; k++)
				if (o->pieces[i].cuts[k].line == (int)line)
					row.portions +=
					    o->pieces[i].cuts[k].count;
		if (row.portions > 0)
			csv_row(out, &row);
	}
}

void
plan_write_csv(struct buf *out, const struct plan_report *r)
{
	struct csv_row row = { .list = "order", .dish = "", .code = "" };
	const struct plan_order *o;
	size_t i;

	buf_puts(out,
	    "list,dish,species,presentation,code,reason,need,on_hand,portions,"
	    "short,fish,weight_g,use_by,source\r\n");
	for (i = 0; r->want_prep && i < r->plan.count; i++)
		csv_plan_line(out, &r->plan.lines[i]);
	for (i = 0; r->want_prep && i < r->plan.opened_count; i++)
		csv_opened(out, r, &r->plan.opened[i]);
	row.reason = "";
	for (i = 0; r->want_order && i < r->plan.order_count; i++) {
		o = &r->plan.orders[i];
		row.species = o->species;
		row.presentation = presentation_word(o->bought);
		row.portions = o->portions;
		row.need = o->need_g;
		row.fish = o->fish > 0 ? o->fish : o->at_least;
		row.weight_g = o->order_g;
		row.source = o->supplier;
		csv_row(out, &row);
	}
}
