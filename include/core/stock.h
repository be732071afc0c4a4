/*
 * core/stock.h - who may serve what, and first expired, first out.
 *
 * Three answers, each apart: may this lot serve this dish at this service
 * (hard, never priced); what opening a raw fish costs; and why a plan left an
 * earlier batch closed.  Prepared portions are shared out in core/allot.h.
 *
 * Instants are UTC seconds, days civil days, weights grams, money thousandths
 * of the smallest coin, so that coins per kilogram times grams is money.
 * Integers only.  Rule numbers are those of docs/rules.md.  Pure.
 */
#ifndef CORE_STOCK_H
#define CORE_STOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"

/* A fact as recorded.  Zeroed memory is unknown, and unknown never serves. */
enum stock_fact { FACT_UNKNOWN, FACT_NO, FACT_YES };

/*
 * X(code, word, sentence), the gravest first: of several reasons against a lot
 * the first in this list is the one reported.  LEFT, SIZE and COST never come
 * from stock_usable(): a caller that knows pins and weights may set LEFT and
 * SIZE, and COST is said by stock_inversions() alone.
 */
#define STOCK_REASONS(X)                                                       \
	X(RECALLED, "recalled", "the batch is recalled")                       \
	X(REFUSED, "refused", "it was refused at goods in")                    \
	X(HELD, "held", "it is on hold")                                       \
	X(UNRELEASED, "unreleased", "nothing says that it is released")        \
	X(WARM, "warm", "its temperature record is missing or out of order")   \
	X(UNTIMED, "untimed", "the service has no start and end to check by")  \
	X(UNDATED, "undated", "it has no use-by")                              \
	X(EXPIRED, "expired", "its use-by is before the end of the service")   \
	X(PARASITES, "parasites",                                              \
	    "served raw, it has no parasite-freezing record or exemption")     \
	X(FROZEN, "frozen", "it is not thawed when the service starts")        \
	X(THAWED, "thawed", "once thawed it keeps less than the service")      \
	X(SPECIES, "species", "it is not the species the dish asks for")       \
	X(FORM, "form", "the dish cannot be cut from its form")                \
	X(LEFT, "left", "the chef leaves it closed")                           \
	X(SIZE, "size", "its pieces cannot give the portion")                  \
	X(COST, "cost", "the plan is cheaper with the later batch")            \
	X(USABLE, "usable", "it may be served")

enum stock_reason {
#define STOCK_REASON_ENUM(code, word, sentence) STOCK_##code,
	STOCK_REASONS(STOCK_REASON_ENUM)
#undef STOCK_REASON_ENUM
};

const char *stock_reason_word(enum stock_reason r);
const char *stock_reason_text(enum stock_reason r); /* no full stop */

/* What is recorded of a lot: a batch, or a tray of portions. */
struct stock_lot {
	enum stock_fact recalled, refused, held;
	enum stock_fact temperature_ok; /* its record is complete, in limits */
	int64_t use_by_utc;             /* 0: not known */
	enum stock_fact parasites_ok;   /* freeze record met, or exempt */
	enum stock_fact frozen;         /* now, still to be thawed */
	int64_t thaw_hours;             /* of a frozen lot; below 1: unknown */
	int64_t thawed_use_by_utc;      /* of a frozen lot; 0: not known */
};

/* What a dish at a service asks of this lot. */
struct stock_ask {
	int64_t now_utc;             /* when thawing would begin */
	int64_t start_utc, end_utc;  /* of the service; 0: not known */
	enum stock_fact served_raw;  /* unknown counts as raw */
	enum stock_fact species_fit; /* the caller has compared them */
	enum stock_fact cut_fit;
};

/*
 * stock_reasons - every reason against, as bits 1 << STOCK_..; 0: usable.
 * Released is: known not recalled, not refused, not held.  In date is
 * use_by_utc >= end_utc.  A frozen lot needs now + thaw_hours <= start_utc and
 * both its dates to cover the service (R-S1 to R-S5).
 */
uint32_t stock_reasons(
    const struct stock_lot *lot, const struct stock_ask *ask);

/* stock_usable - *out is STOCK_USABLE, else the gravest reason and false. */
bool stock_usable(enum stock_reason *out, const struct stock_lot *lot,
    const struct stock_ask *ask);

/* --- what opening a raw fish costs ---------------------------------------- */

#define STOCK_RHO_DAYS 4
#define STOCK_MONEY_MAX 100000000000 /* one price: 10^11 thousandths */
#define STOCK_PRICE_MAX 1000000      /* smallest coins per kilogram */
/*
 * Stands in for a price nobody recorded, coins per kilogram: 10 pounds or
 * euros [memory].  One figure for every batch, so the use-by alone decides.
 */
#define STOCK_PRICE_UNKNOWN 1000

/*
 * How much of a fish's value would live on if it stayed closed, percent, with
 * 0, 1, 2, 3 and more days left after the service.  Never falls.
 */
struct stock_rho {
	int percent[STOCK_RHO_DAYS];
};

/* 5 50 80 100: start values [memory]; a species may have its own. */
extern const struct stock_rho stock_rho_plain;
/*
 * 1 8 60 400 [memory]: strict first expired.  A day weighs 6 to 8 times the
 * next, more than prices and weights of one species differ.
 */
extern const struct stock_rho stock_rho_strict;

/*
 * stock_penalty - a shortage or trim price on the scale of `rho`: times its
 * last percentage, so that leaving a portion short is not made attractive by
 * the table alone.  0 <= price <= STOCK_MONEY_MAX, asserted.
 */
int64_t stock_penalty(int64_t price, const struct stock_rho *rho);

/* A fish that may be opened. */
struct stock_fish {
	int64_t price_per_kg; /* smallest coins, 0: not known */
	grams weight_g;       /* 1..WEIGHT_MAX_G */
	day_no use_by;
};

/*
 * stock_open_cost - price x weight x rho / 100, rounded up, and one coin for
 * each day left up to 30: of equal fish the earlier is cheaper by itself, also
 * beyond the table's days.  Days left run from the service's day to the use-by
 * day (R-S7).
 * RC_OK, RC_INVALID (price, weight, day or table out of range), or RC_REFUSED
 * when the use-by day is before the service: no price makes that servable.
 */
enum rc stock_open_cost(int64_t *out, const struct stock_fish *fish,
    day_no service, const struct stock_rho *rho, struct err *err) MUST_CHECK;

/*
 * stock_keep_credit - for a piece cut but left whole: 60 % [memory] of its
 * share of the fish's cost, rounded down, if a day is left after the service,
 * else 0 (R-S8).  `pieces` equal pieces, 1 or more.
 */
int64_t stock_keep_credit(
    int64_t cost, int pieces, day_no service, day_no use_by);

/* --- inversions -
 * ------------------------------------------------------------*/

#define STOCK_BATCHES_MAX 500

/* A batch, or one fish of it, as a plan leaves it. */
struct stock_left {
	int64_t use_by_utc;
	int species;
	int64_t opened, closed; /* fish */
};

/* What a plan did with them; tables are [batch * dish_count + dish]. */
struct stock_outcome {
	const struct stock_left *batches;
	size_t batch_count; /* up to STOCK_BATCHES_MAX */
	size_t dish_count;
	const enum stock_reason
	    *why;         /* STOCK_USABLE, or why it may not serve */
	const bool *made; /* the plan made this dish from it */
};

struct stock_inversion {
	size_t earlier, later;
	enum stock_reason reason; /* COST: a strict table may change it */
};

/*
 * stock_inversions - every pair of one species whose later use-by was opened
 * while some of the earlier stayed closed, by earlier, then later (R-S9).
 * The reason is the gravest one against the earlier batch among the dishes
 * made from the later; none: COST.  A batch opened for trim alone counts as
 * made into any dish the earlier one may serve.
 * RC_OK, *out owned by the caller (free()); RC_INVALID for negative counts or
 * too many batches.
 */
enum rc stock_inversions(struct stock_inversion **out, size_t *count,
    const struct stock_outcome *o, struct err *err) MUST_CHECK;

#endif /* CORE_STOCK_H */
