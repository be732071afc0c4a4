/* demand_house.c - a record of past services for the demand tests. */
#include "demand_house.h"

#include <string.h>

#include "unit.h"

void
house_init(struct house *h, size_t dish_count, int share_bp)
{
	size_t d;

	memset(h, 0, sizeof(*h));
	for (d = 0; d < NELEM(h->share_bp); d++)
		h->share_bp[d] = d < dish_count ? share_bp : DEMAND_UNKNOWN;
	for (d = 0; d < dish_count; d++) {
		h->dishes[d].price = DEMAND_UNKNOWN;
		h->dishes[d].cost = DEMAND_UNKNOWN;
		h->dishes[d].life = 1;
	}
	h->record.past = h->past;
	h->record.sold = h->sold;
	h->record.share_bp = h->share_bp;
	h->record.dish_count = dish_count;
}

struct demand_sold *
house_add(struct house *h, int day, int covers)
{
	struct demand_past *p = &h->past[h->record.past_count];
	struct demand_sold *sold;
	size_t d, n = h->record.dish_count;

	ck_assert_uint_lt(h->record.past_count, HOUSE_PAST_MAX);
	sold = &h->sold[h->record.past_count++ * n];
	p->day = HOUSE_MONDAY + day;
	p->booked = p->seated = covers;
	p->covers = DEMAND_UNKNOWN;
	for (d = 0; d < n; d++)
		sold[d].portions = sold[d].ran_out_at = DEMAND_UNKNOWN;
	return sold;
}

struct demand_asked
house_ask(int day, int booked)
{
	struct demand_asked a = { HOUSE_MONDAY + day, 0, booked, DEMAND_UNKNOWN,
		NULL, 0, 0, NULL };

	return a;
}

struct demand_forecast
house_forecast(
    const struct house *h, const struct demand_asked *asked, size_t count)
{
	struct demand_forecast f;
	struct demand_model *m;
	struct err err = { 0 };

	ck_assert_msg(
	    demand_learn(&m, &h->record, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(
	    demand_forecast(&f, m, asked, count, h->dishes, &err) == RC_OK,
	    "%s", err.text);
	demand_free(m);
	return f;
}

struct demand_line
house_line(const struct house *h, int day, int covers)
{
	struct demand_asked a = house_ask(day, covers);
	struct demand_forecast f;
	struct demand_line line;

	a.typed = covers;
	f = house_forecast(h, &a, 1);
	line = f.lines[0];
	demand_forecast_fini(&f);
	return line;
}
