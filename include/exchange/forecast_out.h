/*
 * exchange/forecast_out.h - what a service is expected to ask for, and how
 * good such forecasts were.
 */
#ifndef EXCHANGE_FORECAST_OUT_H
#define EXCHANGE_FORECAST_OUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/day.h"
#include "base/format.h"
#include "core/demand.h"
#include "core/demand_score.h"

/* One dish of one service.  -1 where nothing was typed. */
struct demand_row {
	int64_t dish_id;
	char dish[32]; /* code */
	char name[64];
	int64_t expected_c;      /* 1/100 portions */
	int64_t low80, high80;   /* portions: 8 services in 10 lie between */
	int64_t target;          /* portions to have */
	int out_bp;              /* chance that more are asked for, 1/10 000 */
	int tau_bp;              /* cost of one short : of one short or left */
	enum demand_ratio ratio; /* where tau comes from */
	int64_t floor, ceiling, fixed; /* typed, portions */
	enum demand_why bound;         /* what settled the target */
	int menu_bp;                   /* share the menu states */
	int learned_bp;                /* share as believed now */
	int taught;                    /* services it was learned from */
	int life; /* coming services in the book it keeps for, this included */
};

struct demand_report {
	day_no day;
	char service[24];
	bool beyond;      /* more covers than a forecast takes: no figures */
	bool over;        /* it ended before now */
	int64_t booked;   /* covers */
	int64_t typed;    /* covers the chef expects; -1 */
	int64_t covers_c; /* expected, 1/100 */
	int64_t covers_low, covers_high; /* 8 services in 10 lie between */
	int show_bp;                     /* booked guests who come, believed */
	int64_t walk_ins_c;              /* expected, 1/100 */
	int services_learned;     /* closed services before it, all sittings */
	struct demand_row *items; /* owned; by dish code */
	size_t count;
};

void demand_report_fini(struct demand_report *r);

struct forecast_page {
	const char *kitchen;
	int64_t made_utc;
	struct demand_report *reports; /* in the order they happen */
	size_t count;
	bool scored;          /* the record tested; else leave it out */
	const char *score_of; /* a sitting's name, or NULL: all */
	struct demand_score score;
};

/* forecast_write - append the page; CSV gives one row a service and dish. */
void forecast_write(
    struct buf *out, const struct forecast_page *p, enum format format);

/* demand_why_word - "fixed", "floor" and so on, for programs. */
const char *demand_why_word(enum demand_why why);

#endif /* EXCHANGE_FORECAST_OUT_H */
