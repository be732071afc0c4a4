/*
 * cut_work.h - what the parts of the cut plan share; for src/core/cut*.c.
 *
 * A pattern is what one piece becomes, a pick what one fish becomes.  Prices
 * are what a portion and a gram of trim are worth; any prices prove a bound:
 *
 *   L = sum pi q + sum nu T + sum over fish of its cheapest pick at the prices
 *
 * The best of them come from column generation in doubles (cut_lp.c), rounded;
 * L itself is always summed in integers.
 */
#ifndef CUT_WORK_H
#define CUT_WORK_H

#include "core/cutplan.h"

#define CUT_TABLES_MAX 64
#define CUT_NEVER (INT64_MAX / 4)

/* What one piece becomes. */
struct cut_pat {
	uint16_t n[CUT_DISHES_MAX];
	int64_t cost; /* under price - keep credit */
	int32_t trim;
	bool kept;
};

/* What one fish becomes. */
struct cut_pick {
	enum cut_mode mode;
	int dish, way;
	struct cut_pat pat[CUT_PIECES_MAX];
};

/* What a pick does to the plan. */
struct cut_sum {
	int64_t cost;
	int64_t n[CUT_DISHES_MAX];
	grams trim;
};

struct cut_prices {
	int64_t pi[CUT_DISHES_MAX];
	int64_t nu[CUT_POOLS_MAX];
	int64_t mu[CUT_SPECIES_MAX]; /* dearest nu the species feeds */
};

/* What is still wanted. */
struct cut_need {
	int64_t q[CUT_DISHES_MAX];
	grams t[CUT_POOLS_MAX];
};

/*
 * One species and one set of dishes its pieces may become.  Tables at the
 * prices of the last cut_tables(), for pieces of 0 to top grams, one row for
 * each tail of the list of dishes: `line` entries further is the row without
 * the first dish.
 *   at   best sum of pi - mu target, whole portions at target within w
 *   low  best sum of pi - under price, portions anywhere in the lower band
 */
struct cut_table {
	int species;
	uint32_t mask;  /* SERVE_CUT and SERVE_PIECE dishes */
	uint32_t as_is; /* SERVE_PIECE dishes */
	int count;      /* SERVE_CUT dishes */
	int dish[CUT_DISHES_MAX];
	int by_under[CUT_DISHES_MAX]; /* the same, cheapest under price first */
	bool thick;                   /* some of them are */
	grams top;
	size_t line; /* top + 1, or 0 when one row must do */
	int64_t *at, *low;
};

struct cut_work {
	const struct cut_problem *p;
	struct cut_need all;
	int64_t price_max[CUT_DISHES_MAX]; /* short cost; 0: not wanted */
	struct cut_table table[CUT_TABLES_MAX];
	int tables;
	int (*fish_table)[CUT_WAYS_MAX]; /* -1: the way gives nothing */
	uint32_t *whole;                 /* dishes the fish may be, whole */
	bool *closed;                    /* may stay closed */
	bool *opens;                     /* may be cut */
	uint32_t pools[CUT_SPECIES_MAX];
	grams trim_top[CUT_SPECIES_MAX];   /* all its pools want */
	int64_t trim_max[CUT_SPECIES_MAX]; /* dearest pool */
	struct cut_prices prices;          /* the best found */
	int64_t bound;                     /* L at these */
	struct cut_pick *best;             /* one of each fish */
	int64_t cost;                      /* of best */
	size_t held, held_max;             /* bytes */
	int64_t work, work_max;            /* steps of the search */
	bool stopped;                      /* prices or dive ran out of work */
	bool capped;                       /* no more may be looked at */
	uint64_t seed;
};

/* A linear programme over some fish; x is what of each fish's pick it takes. */
struct cut_lp {
	const size_t *fish; /* borrowed */
	size_t count;
	struct cut_need need;
	bool warm;             /* start from the prices given */
	double enough;         /* gap to stop at, as a share of the cost */
	struct cut_pick *pick; /* [count], owned: the leading pick */
	double *x;             /* [count], owned: its share */
};

/* A fish and what it is ranked by; equal ones by their place. */
struct cut_rank {
	int64_t value;
	size_t fish;
};

/* cutplan.c */
bool cut_want(struct cut_work *w, size_t bytes);
void *cut_hold(struct cut_work *w, size_t n, size_t size); /* NULL: capped */
void cut_drop(struct cut_work *w, void *mem, size_t n, size_t size);
void cut_effect(struct cut_sum *out, const struct cut_work *w, size_t fish,
    const struct cut_pick *pick);
int64_t cut_cost(const struct cut_work *w, const struct cut_pick *picks);
int64_t cut_pool_cost(const struct cut_problem *p, const grams *trim);
bool cut_offer(struct cut_work *w, const struct cut_pick *picks);
int cut_rank_order(const void *a, const void *b); /* for qsort */
uint64_t cut_random(struct cut_work *w, uint64_t below);

int64_t cut_as_is(const struct cut_dish *d, grams g);

/* cut_out.c */
void cut_output(
    struct cut_plan *out, const struct cut_work *w, struct cut_pick *picks);

/* cut_table.c */
void cut_tables_make(struct cut_work *w);
void cut_tables_fini(struct cut_work *w);
void cut_prices_set(struct cut_work *w, struct cut_prices *pr);
void cut_tables_fill(struct cut_work *w, const struct cut_prices *pr);
bool cut_thick_ok(const struct cut_work *w, const struct cut_table *t,
    const struct cut_pat *pat, grams thick_g);
void cut_pat_finish(const struct cut_work *w, const struct cut_table *t,
    grams piece_g, struct cut_pat *pat);
int64_t cut_piece_best(struct cut_pat *pat, struct cut_work *w, int table,
    const struct cut_way *way, const struct cut_prices *pr);
int64_t cut_fish_open(struct cut_pick *pick, struct cut_work *w, size_t fish,
    const struct cut_prices *pr);
int64_t cut_fish_best(struct cut_pick *pick, struct cut_work *w, size_t fish,
    const struct cut_prices *pr);
int64_t cut_base(const struct cut_work *w, const struct cut_prices *pr,
    const struct cut_need *need);
bool cut_piece_dish(const struct cut_work *w, const struct cut_table *t,
    const struct cut_way *way, size_t dish);

/* cut_lp.c */
int64_t cut_lp_solve(
    struct cut_lp *lp, struct cut_work *w, struct cut_prices *pr, int rounds);
void cut_lp_fini(struct cut_lp *lp);

/* cut_exact.c */
void cut_exact(struct cut_work *w);

/* cut_dive.c */
void cut_dive(struct cut_work *w);

#endif /* CUT_WORK_H */
