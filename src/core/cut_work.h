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
	uint32_t mask; /* SERVE_CUT and SERVE_PIECE dishes */
	int count;     /* SERVE_CUT dishes */
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

/*
 * Everything one fish may become that is worth at most `window` more than its
 * best, at some prices; cheapest first.
 */
struct cut_outcome {
	int64_t slack; /* above the best */
	int32_t trim;
	uint8_t mode, dish, way;
	uint16_t pat[CUT_PIECES_MAX];
	uint16_t n[CUT_DISHES_MAX];
};

struct cut_list {
	size_t fish;
	int64_t least;  /* cost of the best at the prices */
	int64_t window; /* nothing with less slack than this is missing */
	size_t count, pat_count;
	struct cut_outcome *items;
	struct cut_pat *pats;
};

/*
 * Dynamic programme over the fish of one species, or some of them.  A label is
 * the portions made so far, capped at need, with its slack above the bound.
 */
struct cut_final {
	uint16_t n[CUT_DISHES_MAX]; /* of the link dishes */
	int32_t trim;
	uint32_t trace;
	int64_t slack;
};

struct cut_dp {
	const struct cut_prices *pr;
	const struct cut_list *const *lists; /* borrowed, in order of stages */
	size_t count;
	const struct cut_need *need;
	uint32_t own;  /* dishes settled here: what is short at the end costs */
	uint32_t link; /* dishes counted, to be settled elsewhere */
	int species;
	bool trim; /* trim is counted too, not only priced */
	bool finals_wanted;
	int64_t limit; /* slack of interest, at most */
	size_t width;  /* labels of one stage, at most */
	/* out */
	int64_t value; /* slack of the best, CUT_NEVER when none */
	int64_t lost;  /* least slack cut off, CUT_NEVER when none */
	uint32_t best; /* its trace */
	size_t final_count;
	struct cut_final *finals; /* when wanted; held */
	size_t trace_count, trace_cap;
	struct cut_trace {
		uint32_t before, outcome;
	} * trace; /* held */
};

/* The fish of one species. */
struct cut_part {
	int species;
	uint32_t dishes; /* its fish can make */
	size_t count;
	size_t *fish;
	struct cut_list *list;         /* [count]; empty when it had no room */
	const struct cut_list **order; /* [count]: most decided first */
	int64_t least;                 /* proved: slack its best plan has */
	bool whole;                    /* every fish has its list */
	bool done; /* least is its optimum, or above limit */
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
uint64_t cut_random(struct cut_work *w, uint64_t below);

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

/* cut_list.c */
bool cut_list_make(struct cut_list *out, struct cut_work *w, size_t fish,
    const struct cut_prices *pr, int64_t window, size_t max);
void cut_list_fini(struct cut_list *l, struct cut_work *w);
void cut_list_pick(
    struct cut_pick *out, const struct cut_list *l, size_t outcome);

/* cut_dp.c */
bool cut_dp_run(struct cut_dp *dp, struct cut_work *w);
void cut_dp_picks(
    struct cut_pick *picks, const struct cut_dp *dp, uint32_t trace);
void cut_dp_fini(struct cut_dp *dp, struct cut_work *w);

/* cut_near.c */
void cut_near(
    struct cut_work *w, struct cut_part *parts, int count, int rounds);

/* cut_exact.c */
void cut_exact(struct cut_work *w);

/* cut_link.c */
int64_t cut_link(struct cut_work *w, struct cut_part *parts, int count,
    uint32_t shared, int64_t base, size_t width);

/* cut_dive.c */
void cut_dive(struct cut_work *w);

#endif /* CUT_WORK_H */
