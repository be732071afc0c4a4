/*
 * demand_house.h - a record of past services for the demand tests.  All of it
 * is invented.  Day 0 is a Monday.
 */
#ifndef DEMAND_HOUSE_H
#define DEMAND_HOUSE_H

#include "core/demand.h"
#include "core/demand_score.h"

#define HOUSE_PAST_MAX 400
#define HOUSE_DISHES_MAX 8
#define HOUSE_MONDAY 20003 /* 2024-10-07 */

struct house {
	struct demand_past past[HOUSE_PAST_MAX];
	struct demand_sold sold[HOUSE_PAST_MAX * HOUSE_DISHES_MAX];
	int share_bp[DEMAND_SITTINGS_MAX * HOUSE_DISHES_MAX];
	struct demand_dish dishes[HOUSE_DISHES_MAX];
	struct demand_record record; /* points into this house */
};

/* Nothing past; every dish with this share of sitting 0, no price, life 1. */
void house_init(struct house *h, size_t dish_count, int share_bp);

/*
 * Add a service of sitting 0 with this many booked, who all came, and nobody
 * else; all dishes unknown.  Returns what its dishes sold, to be filled in.
 */
struct demand_sold *house_add(struct house *h, int day, int covers);

/* A service to come, nothing typed or wished. */
struct demand_asked house_ask(int day, int booked);

/* Learn and forecast; fails the test when refused.  The caller frees. */
struct demand_forecast house_forecast(
    const struct house *h, const struct demand_asked *asked, size_t count);

/* The line of dish 0 on this day with exactly so many covers. */
struct demand_line house_line(const struct house *h, int day, int covers);

#endif /* DEMAND_HOUSE_H */
