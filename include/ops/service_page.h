/*
 * ops/service_page.h - one service: who is booked and expected, and dish by
 * dish what is wanted, what went out and what to take next.  Reads only.
 */
#ifndef OPS_SERVICE_PAGE_H
#define OPS_SERVICE_PAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/code.h"
#include "exchange/forecast_out.h"
#include "ops/station.h"
#include "store/portions.h"
#include "store/sales.h"

enum service_phase { SERVICE_AHEAD, SERVICE_NOW, SERVICE_OVER };

/* A unit to take: in date, not on hold, not frozen, the oldest first. */
struct service_unit {
	char code[CODE_SIZE]; /* without hyphen */
	char species[4];
	int64_t left;
	int64_t use_by_utc;
};

#define SERVICE_NEXT_MAX 4

struct service_dish {
	int64_t dish_id;
	char dish[32]; /* code */
	char name[64];
	bool forecast;         /* the next four are known */
	int64_t expected_c;    /* 1/100 portions */
	int64_t low80, high80; /* portions: 8 services in 10 lie between */
	int64_t target;        /* portions to have */
	int64_t out;           /* portions scanned out for it */
	/* Plates on hand; of a dish of several parts as many as every part
	 * will do for.  `ready` out of units in date through the end, not on
	 * hold and not frozen; `early` more out of those in date now (or when
	 * it begins) but not to the end; `frozen` more once thawed. */
	int64_t ready, early, frozen;
	int64_t barred; /* on hold or expired, servings of all parts */
	struct service_unit next[SERVICE_NEXT_MAX]; /* one for each species */
	size_t next_count;
	bool sold_known; /* it is closed, and somebody counted */
	int64_t sold;
	int64_t ran_out_at; /* covers, SOLD_ON or RAN_OUT_SOME_TIME */
};

#define SERVICE_USES_MAX 20

struct service_page {
	day_no day;
	const struct service_window *window; /* borrowed from the settings */
	int64_t service_id;                  /* 0: no bookings */
	char label[48];                      /* "2026-11-27/dinner" */
	int64_t now_utc, begins_utc, ends_utc;
	enum service_phase phase;
	bool booked; /* there is a book for it: the next are known */
	int64_t covers;
	int64_t typed;                  /* covers the chef expects; -1 */
	bool due;                       /* the forecast has not been made yet */
	bool forecast;                  /* it has, and there is one */
	char no_forecast[ERR_TEXT_MAX]; /* why there is none */
	struct demand_report report;    /* when there is one; owned */
	bool closed;
	struct closing closing;
	struct service_dish *dishes; /* owned; by code */
	size_t dish_count;
	int64_t out_total;
	struct portion_use_list uses; /* the newest, newest first; owned */
};

/*
 * service_page_load - the page of a sitting of a day.  The forecast takes from
 * a millisecond to a tenth of a second: without it the page says that it is
 * due, and service_beside_start() makes it.
 * RC_OK, the caller frees with service_page_fini(); an error of the file.
 * A forecast that cannot be made is no error.
 */
enum rc service_page_load(struct service_page *out, struct station *sn,
    day_no day, const struct service_window *w, bool forecast,
    struct err *err) MUST_CHECK;
/* service_page_again - all but the forecast once more, after something went
 * out.  As above; on an error the page stays as it was. */
enum rc service_page_again(
    struct service_page *p, struct station *sn, struct err *err) MUST_CHECK;
void service_page_fini(struct service_page *p);

/*
 * service_recorded - a number that grows with everything recorded that a
 * forecast may depend on.  `since` is what it was, 0 at first.
 */
enum rc service_recorded(int64_t *out, struct station *sn, int64_t since,
    struct err *err) MUST_CHECK;

/* A forecast being made beside the screen: docs/decisions/0011. */
struct service_beside;

/* service_beside_start - of a page's sitting.  RC_OK, *out is owned by the
 * caller (service_beside_free); RC_FAILED, or an error of the file. */
enum rc service_beside_start(struct service_beside **out, struct station *sn,
    const struct service_page *p, struct err *err) MUST_CHECK;
/*
 * service_beside_take - wait at most `wait_ms` (-1: to its end) for it, and put
 * it into a page of the same sitting.  RC_END: it is still being made.  After
 * anything else `b` is only to be freed; on an error the page stays as it was.
 */
enum rc service_beside_take(struct service_page *p, struct station *sn,
    struct service_beside *b, int wait_ms, struct err *err) MUST_CHECK;
void service_beside_free(struct service_beside *b); /* NULL is accepted */

/* service_page_default - the sitting use() takes: going on, else the next of
 * today, else the last there was. */
void service_page_default(
    day_no *day, const struct service_window **w, const struct station *sn);
/* service_page_step - the sitting before (-1) or after (1) this one. */
void service_page_step(day_no *day, const struct service_window **w,
    const struct config *cfg, int step);

#endif /* OPS_SERVICE_PAGE_H */
