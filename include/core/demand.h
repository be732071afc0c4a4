/*
 * core/demand.h - how many portions of each dish a service will ask for.
 *
 * Guests = booked guests who come (they stay away by whole parties) + walk-ins.
 * Each dish takes a share of them that drifts, differs by weekday, and differs
 * from one day to the next by more than chance.  All is learned from the record
 * of past services; a model is a pure function of the record, recomputed each
 * time, so that a corrected record corrects the model.
 *
 * Money is in thousandths of the smallest coin, shares and chances in 1/10 000.
 * Pure; allocates what it returns.
 */
#ifndef CORE_DEMAND_H
#define CORE_DEMAND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"

#define DEMAND_DISHES_MAX 64
#define DEMAND_SITTINGS_MAX 8 /* kinds of service: lunch, dinner ... */
#define DEMAND_PAST_MAX 20000
#define DEMAND_ASKED_MAX 64
#define DEMAND_COVERS_MAX 2000 /* booked, walk-ins or typed, one service */
#define DEMAND_MONEY_MAX 100000000000

#define DEMAND_UNKNOWN (-1) /* also: not on the menu that day */
#define DEMAND_RAN_OUT (-2) /* of ran_out_at: it did, nobody knows when */

/*
 * House figures, ours until the record outweighs them.
 * A party counts for more than a guest: of 2- and 4-tops in equal number,
 * (4 + 16) / (2 + 4) = 3.33.  93 in 100 come, weighed as 20 parties; 10
 * walk-ins per 100 booked, weighed as 2 services [all: ours].
 */
#define DEMAND_PARTY_FACTOR_C 333 /* 1/100 */
#define DEMAND_SHOW_BP 9300
#define DEMAND_WALK_IN_BP 1000

/*
 * The menu's stated share weighs as 20 covers: at 100 covers and a share of
 * 10 % that is 10 portions give or take 7, which is about how little one knows
 * of a dish nobody has sold yet [ours].
 */
#define DEMAND_MENU_WEIGHT 20

/* Ratio when the menu gives no price: short one is four times as bad as over
 * by one [ours]. */
#define DEMAND_RATIO_BP 8000
/* No ratio is above this: nothing is worth endless portions. */
#define DEMAND_RATIO_MAX_BP 9990

/* One service that is over.  Counts are DEMAND_UNKNOWN when not recorded. */
struct demand_past {
	day_no day;
	int sitting; /* 0..DEMAND_SITTINGS_MAX - 1 */
	int booked;
	int seated;   /* booked guests who came */
	int walk_ins; /* guests without a booking */
	int covers;   /* guests in all, where the two are not told apart */
	int party_factor_c; /* demand_party_factor(); 0 unknown */
};

/* What a dish sold in one past service. */
struct demand_sold {
	int portions; /* DEMAND_UNKNOWN: says nothing */
	/*
	 * Guests seated by the time it ran out; DEMAND_UNKNOWN: it did not run
	 * out; DEMAND_RAN_OUT: nobody noted when.  What sold is then what was
	 * asked by so many guests, not by all: or else a dish that runs out
	 * seems less and less wanted.
	 */
	int ran_out_at;
};

/* All that is known.  Borrowed, and kept by a model until it is freed. */
struct demand_record {
	const struct demand_past
	    *past; /* days in order, a sitting once a day */
	size_t past_count;
	size_t dish_count;
	const struct demand_sold *sold; /* [past x dish_count + dish] */
	/*
	 * The menu's stated share of the covers, [sitting x dish_count + dish],
	 * in 1/10 000; DEMAND_UNKNOWN: not on that menu.
	 */
	const int *share_bp;
};

/* What a portion earns and costs. */
struct demand_dish {
	int64_t price;    /* what the guest pays; DEMAND_UNKNOWN */
	int64_t cost;     /* one portion; DEMAND_UNKNOWN */
	int64_t salvage;  /* worth of a portion never sold: staff, trim dish */
	int64_t goodwill; /* lost beyond the sale when a guest is told no */
	int64_t carry;    /* handling and quality lost, portion and service */
	int regain_bp;    /* of the sale, won back on another dish */
	int life; /* services a portion keeps, this one included; >= 1 */
};

/* What the chef says about one dish of one service; DEMAND_UNKNOWN: nothing. */
struct demand_wish {
	int fixed, floor, ceiling; /* portions to have */
};

/* A service to come. */
struct demand_asked {
	day_no day;
	int sitting;
	int booked;
	int typed;          /* covers the chef expects; DEMAND_UNKNOWN */
	const int *parties; /* sizes, adding up to `booked`; NULL unknown */
	size_t party_count;
	int party_factor_c; /* used without `parties`; 0 unknown */
	const struct demand_wish *wishes; /* dish_count; NULL: none */
};

/* What settled the target. */
enum demand_why {
	WHY_NOT_OFFERED, /* not on the menu of that sitting: 0 */
	WHY_RATIO,       /* cost of one short against cost of one left */
	WHY_LIFE,        /* the same over all services the portion keeps for */
	WHY_FLOOR,
	WHY_CEILING,
	WHY_FIXED,
};

/* Where the ratio comes from. */
enum demand_ratio {
	RATIO_PRICES,
	RATIO_DEFAULT, /* price or cost unknown: DEMAND_RATIO_BP */
	RATIO_LOSS,    /* the price does not cover the cost: DEMAND_RATIO_BP */
};

struct demand_line {
	int64_t expected_c; /* 1/100 portions */
	int low, high;      /* 10 % and 90 % quantile: 8 times in 10 between */
	int target;         /* portions to have */
	int out_bp;         /* chance that more are asked for than target */
	int ratio_bp;       /* cu / (cu + co) */
	enum demand_ratio ratio;
	enum demand_why why;
	int share_bp; /* of the covers, as believed now */
	int taught;   /* past services the share was learned from */
};

struct demand_covers {
	int64_t expected_c; /* 1/100 covers */
	int low, high;      /* 10 % and 90 % quantile */
	bool typed;
	int show_bp;        /* believed share of booked guests who come */
	int64_t walk_ins_c; /* expected, 1/100 */
};

struct demand_forecast {
	struct demand_covers *covers; /* asked_count; owned */
	struct demand_line *lines;    /* [asked x dish_count + dish]; owned */
	size_t asked_count, dish_count;
};

/* demand_party_factor - sum of squares over sum of sizes, 1/100; 0 if none. */
int demand_party_factor(const int *sizes, size_t count);

struct demand_model; /* what the record teaches; private */

/*
 * demand_learn - read the record from first to last service.
 * RC_OK, or RC_INVALID naming past service (from 1), dish (from 1) and what is
 * wrong: days out of order, a sitting twice, counts or shares out of range.
 * The caller frees with demand_free(). */
enum rc demand_learn(struct demand_model **out,
    const struct demand_record *record, struct err *err) MUST_CHECK;

void demand_free(struct demand_model *m);

/*
 * demand_forecast - the services asked, in the order they will happen; a
 * portion that keeps for several services is judged by those that follow in
 * `asked`, as far as they reach (R-Q rules of docs/rules.md).
 * RC_OK, or RC_INVALID naming service and dish.  Free: demand_forecast_fini().
 */
enum rc demand_forecast(struct demand_forecast *out,
    const struct demand_model *m, const struct demand_asked *asked,
    size_t asked_count, const struct demand_dish *dishes,
    struct err *err) MUST_CHECK;

void demand_forecast_fini(struct demand_forecast *f);

#endif /* CORE_DEMAND_H */
