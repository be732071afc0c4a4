/* plan_data.c - the prep list and the order list for programs. */
#include "plan_data.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"

static void
json_yield(struct jsonw *w, const char *key, const struct yield *y)
{
	jsonw_object(w, key);
	jsonw_int(w, "per_10000", y->bp);
	jsonw_int(w, "low_per_10000", y->low_bp);
	jsonw_int(w, "high_per_10000", y->high_bp);
	jsonw_bool(w, "verified", y->verified);
	jsonw_bool(w, "derived", y->derived);
	jsonw_str(w, "source", y->source);
	jsonw_end(w);
}

static void
json_take(struct jsonw *w, const struct plan_take *t)
{
	char code[CODE_SIZE];

	jsonw_object(w, NULL);
	jsonw_str(w, "kind", t->tray ? "portion" : "batch");
	jsonw_str(w, "code", code_show(code, t->code));
	jsonw_time(w, "use_by", t->use_by_utc);
	jsonw_str(w, "reason", plan_reason_word(t->reason));
	jsonw_int(w, "portions", t->portions);
	if (!t->tray) {
		jsonw_int(w, "spare_portions", t->spare);
		jsonw_int(w, "fish", t->fish);
		jsonw_int(w, "pieces", t->pieces);
		jsonw_int(w, "weight_g", t->weight_g);
		jsonw_int(w, "mean_fish_g", t->fish_g);
		jsonw_int(w, "piece_g", t->piece_g);
		jsonw_int(w, "portions_per_piece", t->per_piece);
		if (t->yield.bp > 0)
			json_yield(w, "yield", &t->yield);
	}
	jsonw_end(w);
}

static void
json_line(struct jsonw *w, const struct plan_line *line)
{
	size_t i;

	jsonw_object(w, NULL);
	jsonw_str(w, "dish", line->cut.dish);
	jsonw_str(w, "name", line->cut.dish_name);
	jsonw_str(w, "species", line->cut.species);
	jsonw_str(w, "cut", cut_word(line->cut.kind));
	jsonw_bool(w, "skin_on", line->cut.skin_on);
	jsonw_int(w, "target_g", line->cut.target_g);
	jsonw_int(w, "covers", line->covers);
	jsonw_int(w, "share_per_10000", line->cut.mix_bp);
	jsonw_int(w, "portions_needed", line->need);
	jsonw_int(w, "used", line->cut.used);
	jsonw_int(w, "on_hand", line->on_hand);
	jsonw_int(w, "to_make", line->to_make);
	jsonw_int(w, "short", line->short_of);
	jsonw_array(w, "sources");
	for (i = 0; i < line->take_count; i++)
		json_take(w, &line->takes[i]);
	jsonw_end(w);
	if (line->short_of > 0 && line->order_known) {
		jsonw_int(w, "order_g", line->order_g);
		json_yield(w, "order_yield", &line->order_yield);
	}
	jsonw_end(w);
}

void
plan_write_json(struct buf *out, const struct plan_report *r)
{
	struct jsonw *w = jsonw_new_object();
	const struct plan_order *o;
	char day[16];
	size_t i;

	jsonw_str(w, "kitchen", r->kitchen);
	jsonw_str(w, "date", day_print(day, sizeof(day), r->day));
	jsonw_str(w, "service", r->service);
	jsonw_int(w, "covers", r->covers);
	jsonw_time(w, "made", r->made_utc);
	jsonw_time(w, "service_ends", r->end_utc);
	jsonw_int(w, "earlier_services", r->earlier);
	if (r->want_prep) {
		jsonw_array(w, "prep");
		for (i = 0; i < r->plan.count; i++)
			json_line(w, &r->plan.lines[i]);
		jsonw_end(w);
	}
	if (r->want_order) {
		jsonw_array(w, "order");
		for (i = 0; i < r->order_count; i++) {
			o = &r->orders[i];
			jsonw_object(w, NULL);
			jsonw_str(w, "species", o->species);
			jsonw_str(
			    w, "presentation", presentation_word(o->bought));
			jsonw_int(w, "portions", o->portions);
			jsonw_int(w, "need_g", o->need_g);
			jsonw_int(w, "order_g", o->order_g);
			jsonw_end(w);
		}
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* One row of the CSV: a line's total, one of its sources, or an order. */
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
		row.list = t->tray ? "on-hand" : "batch";
		row.code = t->code;
		row.reason = plan_reason_word(t->reason);
		row.need = row.on_hand = row.short_of = 0;
		row.portions = t->portions;
		row.fish = t->fish;
		row.weight_g = t->weight_g;
		row.use_by_utc = t->use_by_utc;
		row.source = t->yield.bp > 0 ? t->yield.source : "";
		csv_row(out, &row);
	}
}

void
plan_write_csv(struct buf *out, const struct plan_report *r)
{
	struct csv_row row = { .list = "order", .dish = "", .code = "" };
	size_t i;

	buf_puts(out,
	    "list,dish,species,presentation,code,reason,need,on_hand,portions,"
	    "short,fish,weight_g,use_by,source\r\n");
	for (i = 0; r->want_prep && i < r->plan.count; i++)
		csv_plan_line(out, &r->plan.lines[i]);
	row.reason = row.source = "";
	for (i = 0; r->want_order && i < r->order_count; i++) {
		row.species = r->orders[i].species;
		row.presentation = presentation_word(r->orders[i].bought);
		row.portions = r->orders[i].portions;
		row.weight_g = r->orders[i].order_g;
		csv_row(out, &row);
	}
}
