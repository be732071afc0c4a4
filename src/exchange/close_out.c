/* close_out.c - a closed service beside what was forecast for it. */
#include "exchange/close_out.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "forecast_data.h"

/* A longer code stands on a line of its own. */
#define DISH_WIDTH 20

static const char *
from_word(enum sold_from from)
{
	static const char *const words[] = {
		[SOLD_TOLD] = "told",
		[SOLD_SCANNED] = "scanned",
		[SOLD_BEFORE] = "before",
		[SOLD_UNKNOWN] = "not-counted",
	};

	return words[from];
}

static const struct demand_row *
forecast_of(const struct close_report *r, int64_t dish_id)
{
	size_t i;

	for (i = 0; i < r->forecast->count; i++)
		if (r->forecast->items[i].dish_id == dish_id)
			return &r->forecast->items[i];
	return NULL;
}

static void
note(char *dst, size_t size, const struct close_row *row)
{
	static const char *const words[] = {
		[SOLD_TOLD] = "",
		[SOLD_SCANNED] = "scanned out",
		[SOLD_BEFORE] = "as before",
		[SOLD_UNKNOWN] = "not counted",
	};
	const char *word = words[row->from];
	const char *comma = word[0] == '\0' ? "" : ", ";

	if (row->sale.ran_out_at >= 0)
		str_fmt(dst, size, "%s%sout at %" PRId64, word, comma,
		    row->sale.ran_out_at);
	else
		str_fmt(dst, size, "%s%s", word,
		    row->sale.ran_out_at == SOLD_ON ? ""
			: word[0] == '\0'           ? "ran out"
						    : ", ran out");
}

static void
write_row(
    struct buf *out, const struct close_report *r, const struct close_row *row)
{
	const struct demand_row *f = forecast_of(r, row->sale.dish_id);
	char sold[32] = "-", text[64];
	int64_t tenths;

	if (row->from != SOLD_UNKNOWN)
		str_fmt(sold, sizeof(sold), "%" PRId64, row->sale.sold);
	if (strlen(row->sale.dish) >= DISH_WIDTH)
		buf_printf(out, "%s\n", row->sale.dish);
	buf_printf(out, "%-*s%5s", DISH_WIDTH,
	    strlen(row->sale.dish) >= DISH_WIDTH ? "" : row->sale.dish, sold);
	if (f == NULL) {
		buf_printf(out, "%9s%13s%5s", "-", "-", "-");
	} else {
		tenths = (f->expected_c + 5) / 10;
		str_fmt(text, sizeof(text), "%" PRId64 ".%" PRId64, tenths / 10,
		    tenths % 10);
		buf_printf(out, "%9s", text);
		str_fmt(text, sizeof(text), "%" PRId64 " to %" PRId64, f->low80,
		    f->high80);
		buf_printf(out, "%13s%5" PRId64, text, f->target);
	}
	note(text, sizeof(text), row);
	buf_printf(out, "%s%s\n", text[0] == '\0' ? "" : "  ", text);
}

static void
write_heading(struct buf *out, const struct close_report *r)
{
	const struct closing *c = &r->now;
	int64_t tenths = (r->forecast->covers_c + 5) / 10;
	char day[48];

	buf_printf(out, "%s  %s, %s\n",
	    !r->corrected         ? "CLOSED"
		: r->changed == 0 ? "AS BEFORE"
				  : "CORRECTED",
	    day_words(day, sizeof(day), r->day), r->service);
	buf_printf(out,
	    "covers    %" PRId64 ": %" PRId64 " of %" PRId64
	    " booked came, %" PRId64 " walked in\n",
	    c->seated + c->walk_ins, c->seated, c->booked, c->walk_ins);
	if (r->no_forecast[0] != '\0')
		buf_printf(out, "forecast  none: %s\n", r->no_forecast);
	else if (r->forecast->typed >= 0)
		buf_printf(out, "expected  %" PRId64 ", typed by the chef\n",
		    r->forecast->typed);
	else
		buf_printf(out,
		    "forecast  %" PRId64 ".%" PRId64 ", %" PRId64 " to %" PRId64
		    " eight times in ten; learned from %d service%s\n",
		    tenths / 10, tenths % 10, r->forecast->covers_low,
		    r->forecast->covers_high, r->forecast->services_learned,
		    r->forecast->services_learned == 1 ? "" : "s");
}

static void
write_text(struct buf *out, const struct close_report *r)
{
	bool scanned = false, unknown = false;
	size_t i;

	write_heading(out, r);
	if (r->count > 0)
		buf_printf(out, "\n%-*s%5s%9s%13s%5s\n", DISH_WIDTH, "dish",
		    "sold", "forecast", "8 in 10", "have");
	for (i = 0; i < r->count; i++) {
		write_row(out, r, &r->rows[i]);
		scanned |= r->rows[i].from == SOLD_SCANNED;
		unknown |= r->rows[i].from == SOLD_UNKNOWN;
	}
	if (scanned)
		buf_puts(out,
		    "\nscanned out: portions used for this service, taken as "
		    "sold\n");
	if (unknown)
		buf_puts(out,
		    "\nnot counted teaches nothing; if none was sold, say so: "
		    "--sold DISH:0\n");
}

static void
json_sale(struct jsonw *w, const struct close_row *row)
{
	const struct sale *s = &row->sale;

	jsonw_object(w, NULL);
	jsonw_str(w, "dish", s->dish);
	if (row->from == SOLD_UNKNOWN)
		jsonw_null(w, "sold");
	else
		jsonw_int(w, "sold", s->sold);
	jsonw_bool(w, "ran_out", s->ran_out_at != SOLD_ON);
	if (s->ran_out_at >= 0)
		jsonw_int(w, "ran_out_at", s->ran_out_at);
	jsonw_str(w, "from", from_word(row->from));
	jsonw_end(w);
}

static void
write_json(struct buf *out, const struct close_report *r)
{
	struct jsonw *w = jsonw_new_object();
	char day[16];
	size_t i;

	jsonw_str(w, "kitchen", r->kitchen);
	jsonw_str(w, "date", day_print(day, sizeof(day), r->day));
	jsonw_str(w, "service", r->service);
	jsonw_bool(w, "corrected", r->corrected);
	jsonw_int(w, "changed", r->changed);
	jsonw_int(w, "booked", r->now.booked);
	jsonw_int(w, "seated", r->now.seated);
	jsonw_int(w, "walk_ins", r->now.walk_ins);
	jsonw_array(w, "sold");
	for (i = 0; i < r->count; i++)
		json_sale(w, &r->rows[i]);
	jsonw_end(w);
	if (r->no_forecast[0] == '\0')
		forecast_json(w, "forecast", r->forecast);
	else
		jsonw_null(w, "forecast");
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
write_csv(struct buf *out, const struct close_report *r)
{
	const struct close_row *row;
	const struct demand_row *f;
	char day[16];
	size_t i;

	buf_puts(out,
	    "date,service,booked,seated,walk_ins,dish,sold,ran_out_at,from,"
	    "expected_per_100,low_80,high_80,target\r\n");
	for (i = 0; i < r->count; i++) {
		row = &r->rows[i];
		f = forecast_of(r, row->sale.dish_id);
		buf_printf(out, "%s,%s,%" PRId64 ",%" PRId64 ",%" PRId64 ",%s,",
		    day_print(day, sizeof(day), r->day), r->service,
		    r->now.booked, r->now.seated, r->now.walk_ins,
		    row->sale.dish);
		if (row->from != SOLD_UNKNOWN)
			buf_printf(out, "%" PRId64, row->sale.sold);
		buf_putc(out, ',');
		if (row->sale.ran_out_at >= 0)
			buf_printf(out, "%" PRId64, row->sale.ran_out_at);
		else if (row->sale.ran_out_at == RAN_OUT_SOME_TIME)
			buf_puts(out, "out");
		buf_printf(out, ",%s,", from_word(row->from));
		if (f == NULL)
			buf_puts(out, ",,,\r\n");
		else
			buf_printf(out,
			    "%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64
			    "\r\n",
			    f->expected_c, f->low80, f->high80, f->target);
	}
}

void
close_write(struct buf *out, const struct close_report *r, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		write_text(out, r);
		break;
	case FORMAT_JSON:
		write_json(out, r);
		break;
	case FORMAT_CSV:
		write_csv(out, r);
		break;
	}
}
