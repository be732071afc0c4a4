/* stock_out.c - stock on hand. */
#include "exchange/stock_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"

static const char *
state_of(bool held, int64_t use_by_utc, int64_t now)
{
	if (use_by_utc < now)
		return "expired";
	return held ? "held" : "ok";
}

/* The facts of one row, whichever kind it is. */
struct row {
	const char *kind, *code, *name, *species, *state;
	int64_t use_by_utc;
	int64_t count; /* fish, or servings */
	grams weight_g;
	const char *batch;
	const char *also;       /* other batches of a unit, or "" */
	enum portion_keep keep; /* a batch is chilled */
};

static struct row
row_of(const struct stock_item *it, const struct stock_report *r)
{
	const struct species *sp;
	struct row row = { .also = "" };

	if (it->batch != NULL) {
		sp = species_find(r->species, it->batch->species);
		row.kind = "batch";
		row.code = row.batch = it->batch->code;
		row.name = sp == NULL ? it->batch->species : sp->name;
		row.species = it->batch->species;
		row.count = it->batch->count_left;
		row.weight_g = it->batch->weight_left;
		row.use_by_utc = it->batch->use_by_utc;
		row.state =
		    state_of(it->batch->held, row.use_by_utc, r->now_utc);
		return row;
	}
	row.kind = "portion";
	row.code = it->portion->code;
	row.batch = it->portion->batch;
	row.also = it->portion->also;
	row.name = it->portion->dish_name;
	row.species = it->portion->species;
	row.count = it->portion->left;
	row.weight_g =
	    it->portion->weight_g * it->portion->left / it->portion->servings;
	row.use_by_utc = it->portion->use_by_utc;
	row.keep = it->portion->keep;
	row.state = state_of(it->portion->held, row.use_by_utc, r->now_utc);
	return row;
}

static void
text_row(struct buf *out, const struct stock_item *it, const struct row *row)
{
	char code[CODE_SIZE], when[48], w[32], amount[48];

	weight_print(w, sizeof(w), row->weight_g);
	if (it->portion != NULL)
		str_fmt(amount, sizeof(amount), "%" PRId64 " portion%s, %s",
		    row->count, row->count == 1 ? "" : "s", w);
	else if (row->count > 0)
		str_fmt(amount, sizeof(amount), "%" PRId64 " fish, %s",
		    row->count, w);
	else
		str_copy(amount, sizeof(amount), w);
	buf_printf(out, "%-17s  %-9s  %-9s  %-24s %s",
	    time_short(when, sizeof(when), row->use_by_utc),
	    code_show(code, row->code),
	    str_eq(row->state, "ok") ? "" : row->state, row->name, amount);
	if (it->batch != NULL)
		buf_printf(
		    out, ", %s", presentation_word(it->batch->presentation));
	if (row->keep != KEEP_CHILLED)
		buf_printf(out, ", %s", keep_word(row->keep));
	if (row->also[0] != '\0')
		buf_printf(out, ", of %s + %s", code_show(code, row->batch),
		    row->also);
	buf_putc(out, '\n');
}

static void
stock_text(struct buf *out, const struct stock_report *r)
{
	struct row row;
	char now[48];
	size_t i;

	buf_printf(out, "ON HAND  %s, first to expire first   %s\n",
	    time_minute(now, sizeof(now), r->now_utc), r->kitchen);
	buf_printf(out, "\n%-17s  %-9s  %-9s  %-24s %s\n", "use by", "code", "",
	    "what", "left");
	for (i = 0; i < r->count; i++) {
		row = row_of(&r->items[i], r);
		text_row(out, &r->items[i], &row);
	}
	if (r->count == 0)
		buf_puts(out, "nothing on hand\n");
}

static void
stock_json(struct buf *out, const struct stock_report *r)
{
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];
	struct row row;
	size_t i;

	jsonw_str(w, "kitchen", r->kitchen);
	jsonw_time(w, "now", r->now_utc);
	jsonw_array(w, "stock");
	for (i = 0; i < r->count; i++) {
		row = row_of(&r->items[i], r);
		jsonw_object(w, NULL);
		jsonw_str(w, "kind", row.kind);
		jsonw_str(w, "code", code_show(code, row.code));
		jsonw_str(w, "state", row.state);
		jsonw_time(w, "use_by", row.use_by_utc);
		jsonw_str(w, "name", row.name);
		jsonw_str(w, "species", row.species);
		jsonw_str(w, "batch", code_show(code, row.batch));
		if (r->items[i].portion != NULL) {
			jsonw_str(w, "also", row.also);
			jsonw_str(w, "dish", r->items[i].portion->dish);
			jsonw_int(w, "servings", row.count);
			jsonw_str(w, "keep", keep_word(row.keep));
		} else {
			jsonw_str(w, "presentation",
			    presentation_word(r->items[i].batch->presentation));
			jsonw_int(w, "fish", row.count);
		}
		jsonw_int(w, "weight_g", row.weight_g);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
stock_csv(struct buf *out, const struct stock_report *r)
{
	char code[CODE_SIZE], when[48];
	struct row row;
	size_t i;

	buf_puts(out,
	    "kind,code,batch,state,use_by,name,species,count,weight_g,"
	    "keep,also\r\n");
	for (i = 0; i < r->count; i++) {
		row = row_of(&r->items[i], r);
		buf_printf(out, "%s,%s,", row.kind, code_show(code, row.code));
		buf_printf(out, "%s,%s,%s,", code_show(code, row.batch),
		    row.state,
		    time_rfc3339(when, sizeof(when), row.use_by_utc));
		csv_quote(out, row.name);
		buf_printf(out, ",%s,%" PRId64 ",%" PRId64 ",%s,%s\r\n",
		    row.species, row.count, row.weight_g, keep_word(row.keep),
		    row.also);
	}
}

void
stock_write(struct buf *out, const struct stock_report *r, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		stock_text(out, r);
		break;
	case FORMAT_JSON:
		stock_json(out, r);
		break;
	case FORMAT_CSV:
		stock_csv(out, r);
		break;
	}
}
