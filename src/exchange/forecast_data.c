/* forecast_data.c - the forecast for programs. */
#include "forecast_data.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"

static const char *
ratio_word(enum demand_ratio r)
{
	static const char *const words[] = {
		[RATIO_PRICES] = "prices",
		[RATIO_DEFAULT] = "house",
		[RATIO_LOSS] = "house-price-below-cost",
	};

	return words[r];
}

/* What was typed, or null. */
static void
json_typed(struct jsonw *w, const char *key, int64_t n)
{
	if (n < 0)
		jsonw_null(w, key);
	else
		jsonw_int(w, key, n);
}

static void
json_row(struct jsonw *w, const struct demand_row *row)
{
	jsonw_object(w, NULL);
	jsonw_str(w, "dish", row->dish);
	jsonw_str(w, "name", row->name);
	jsonw_int(w, "expected_per_100", row->expected_c);
	jsonw_int(w, "low_80", row->low80);
	jsonw_int(w, "high_80", row->high80);
	jsonw_int(w, "target", row->target);
	jsonw_int(w, "runs_out_per_10000", row->out_bp);
	jsonw_int(w, "ratio_per_10000", row->tau_bp);
	jsonw_str(w, "ratio_from", ratio_word(row->ratio));
	json_typed(w, "floor", row->floor);
	json_typed(w, "ceiling", row->ceiling);
	json_typed(w, "fixed", row->fixed);
	jsonw_str(w, "bound_by", demand_why_word(row->bound));
	jsonw_int(w, "share_per_10000", row->learned_bp);
	jsonw_int(w, "menu_share_per_10000", row->menu_bp);
	jsonw_int(w, "services_learned", row->taught);
	jsonw_int(w, "keeps_services", row->life);
	jsonw_end(w);
}

void
forecast_json(struct jsonw *w, const char *key, const struct demand_report *r)
{
	char day[16];
	size_t i;

	jsonw_object(w, key);
	jsonw_str(w, "date", day_print(day, sizeof(day), r->day));
	jsonw_str(w, "service", r->service);
	jsonw_bool(w, "over", r->over);
	jsonw_int(w, "booked", r->booked);
	json_typed(w, "typed_covers", r->typed);
	jsonw_bool(w, "beyond", r->beyond);
	jsonw_int(w, "covers_per_100", r->covers_c);
	jsonw_int(w, "covers_low_80", r->covers_low);
	jsonw_int(w, "covers_high_80", r->covers_high);
	jsonw_int(w, "show_per_10000", r->show_bp);
	jsonw_int(w, "walk_ins_per_100", r->walk_ins_c);
	jsonw_int(w, "services_learned", r->services_learned);
	jsonw_array(w, "dishes");
	for (i = 0; i < r->count; i++)
		json_row(w, &r->items[i]);
	jsonw_end(w);
	jsonw_end(w);
}

static void
json_tally(struct jsonw *w, const char *key, const struct demand_tally *t)
{
	jsonw_object(w, key);
	jsonw_int(w, "loss_per_10000", t->pinball_bp);
	jsonw_int(w, "ran_out", t->stock_outs);
	jsonw_int(w, "services_with_any", t->with_any);
	jsonw_int(w, "portions_short", t->short_of);
	jsonw_int(w, "portions_left", t->left);
	jsonw_end(w);
}

static void
json_score(struct jsonw *w, const struct forecast_page *p)
{
	const struct demand_score *s = &p->score;

	jsonw_object(w, "backtest");
	jsonw_str(w, "service", p->score_of == NULL ? "" : p->score_of);
	jsonw_int(w, "services", s->services);
	jsonw_int(w, "dish_services", s->dish_services);
	jsonw_int(w, "left_out", s->left_out);
	json_tally(w, "forecast", &s->ours);
	json_tally(w, "booked_share_11", &s->flat);
	jsonw_int(w, "in_range_per_10000", s->in_range_bp);
	jsonw_int(w, "enough_per_10000", s->met_bp);
	jsonw_int(w, "meant_per_10000", s->ratio_bp);
	/* Under DEMAND_ENOUGH services nothing is called better. */
	if (s->enough)
		jsonw_int(w, "better_per_10000", s->skill_bp);
	else
		jsonw_null(w, "better_per_10000");
	jsonw_end(w);
}

void
forecast_write_json(struct buf *out, const struct forecast_page *p)
{
	struct jsonw *w = jsonw_new_object();
	size_t i;

	jsonw_str(w, "kitchen", p->kitchen);
	jsonw_time(w, "made", p->made_utc);
	if (p->scored) {
		json_score(w, p);
	} else {
		jsonw_array(w, "services");
		for (i = 0; i < p->count; i++)
			forecast_json(w, NULL, &p->reports[i]);
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* What was typed, or nothing. */
static void
csv_typed(struct buf *out, int64_t n)
{
	if (n >= 0)
		buf_printf(out, "%" PRId64, n);
	buf_putc(out, ',');
}

static void
csv_row(
    struct buf *out, const struct demand_report *r, const struct demand_row *d)
{
	char day[16];

	buf_printf(out, "%s,%s,%" PRId64 ",%" PRId64 ",",
	    day_print(day, sizeof(day), r->day), r->service, r->booked,
	    r->covers_c);
	csv_typed(out, r->typed);
	buf_printf(out,
	    "%s,%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%d,%d,",
	    d->dish, d->expected_c, d->low80, d->high80, d->target, d->out_bp,
	    d->tau_bp);
	csv_typed(out, d->floor);
	csv_typed(out, d->ceiling);
	csv_typed(out, d->fixed);
	buf_printf(out, "%s,%d,%d,%d\r\n", demand_why_word(d->bound),
	    d->learned_bp, d->menu_bp, d->taught);
}

static void
csv_tally(struct buf *out, const char *rule, const struct demand_score *s,
    const struct demand_tally *t)
{
	buf_printf(out,
	    "%s,%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64
	    ",%" PRId64 ",%" PRId64 "\r\n",
	    rule, s->services, s->dish_services, t->pinball_bp, t->stock_outs,
	    t->with_any, t->short_of, t->left);
}

void
forecast_write_csv(struct buf *out, const struct forecast_page *p)
{
	size_t i, k;

	if (p->scored) {
		buf_puts(out,
		    "rule,services,dish_services,loss_per_10000,ran_out,"
		    "services_with_any,portions_short,portions_left\r\n");
		csv_tally(out, "forecast", &p->score, &p->score.ours);
		csv_tally(out, "booked-share-1.1", &p->score, &p->score.flat);
		return;
	}
	buf_puts(out,
	    "date,service,booked,covers_per_100,typed_covers,dish,"
	    "expected_per_100,low_80,high_80,target,runs_out_per_10000,"
	    "ratio_per_10000,floor,ceiling,fixed,bound_by,share_per_10000,"
	    "menu_share_per_10000,services_learned\r\n");
	for (i = 0; i < p->count; i++)
		for (k = 0; k < p->reports[i].count; k++)
			csv_row(out, &p->reports[i], &p->reports[i].items[k]);
}
