/*
 * core/cutplan.h - which fish to open, and how to cut every piece of it.
 *
 * Every fish stays closed, is served whole, or is opened in one of its ways
 * (fillets, or tronçons of the trunk); every piece of an opened fish is cut
 * into portions inside their weight bands, served as it is, left whole with a
 * credit, or becomes trim.  The plan is the cheapest of all such choices:
 *
 *   what the opened fish cost - credits for pieces left whole
 *   + what each portion short costs + what trim short costs to buy
 *   + under_price for each gram a portion is below its target, however served
 *
 * which is a multiple-choice, multi-dimensional covering knapsack; with equal
 * pieces and exact weights it is the one-dimensional cutting-stock problem
 * (Gilmore and Gomory 1961).  `bound` is proved: no plan costs less.
 *
 * Integers only: grams; money in thousandths of the smallest coin, so that
 * coins per kilogram times grams is money.  Floating point lives in the search
 * for prices alone, and every price found is put to the proof in integers.
 * The same input gives the same plan: no clock, no random source but a fixed
 * seed.  Pure; allocates up to a cap and then keeps the plan it has.
 */
#ifndef CORE_CUTPLAN_H
#define CORE_CUTPLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"

#define CUT_DISHES_MAX 24
#define CUT_POOLS_MAX 8
#define CUT_SPECIES_MAX 16
#define CUT_FISH_MAX 10000
#define CUT_PIECES_MAX 8 /* of one fish, opened one way */
#define CUT_WAYS_MAX 2
#define CUT_WANTED_MAX 10000       /* portions of one dish */
#define CUT_PIECE_MAX_G 20000      /* one piece */
#define CUT_FISH_MAX_G 200000      /* one fish */
#define CUT_MONEY_MAX 100000000000 /* one price: 10^11 thousandths */

/* How a fish becomes portions of a dish. */
enum cut_serve {
	SERVE_CUT, /* portions cut from a piece, several dishes on one piece */
	SERVE_PIECE, /* one piece is one portion, as it is */
	SERVE_WHOLE, /* one fish is one portion */
};

struct cut_dish {
	int64_t wanted;
	grams low_g, target_g, high_g; /* 0 < low <= target <= high; hard */
	int64_t short_cost;            /* one portion short, >= 0 */
	int64_t under_price;           /* one gram below target, >= 0 */
	uint32_t species;              /* bit s: species s will do */
	enum cut_serve serve;
	/*
	 * Only from the thick part: together such portions take at most the
	 * way's thick_g of a piece at their low weight.
	 */
	bool thick;
};

/* Trim wanted, in grams. */
struct cut_pool {
	grams wanted_g;
	int64_t price; /* one gram bought instead, >= 0 */
	uint32_t species;
};

/* One way to open a fish. */
struct cut_way {
	int pieces;        /* equal ones; 1..CUT_PIECES_MAX */
	grams piece_g;     /* usable grams of each, >= 0 */
	grams thick_g;     /* of each, for `thick` dishes; piece_g: all */
	int64_t keep;      /* credit for a piece left whole, >= 0 */
	grams byproduct_g; /* trim the fish gives beside its pieces, >= 0 */
	uint32_t dishes;   /* bit d: SERVE_CUT or SERVE_PIECE from here */
};

/* What a person has decided already. */
enum cut_pin {
	PIN_NONE,
	PIN_CLOSED, /* stays closed */
	PIN_OPEN,   /* is opened or served whole, never closed */
	PIN_WHOLE,  /* is served whole, if a dish can take it */
};

struct cut_fish {
	int species;   /* 0..CUT_SPECIES_MAX-1 */
	grams whole_g; /* weight against the band of a SERVE_WHOLE dish */
	int64_t cost;  /* of opening it, or serving it whole, >= 0 */
	enum cut_pin pin;
	int way_count; /* 0: can only stay closed or be served whole */
	struct cut_way ways[CUT_WAYS_MAX];
};

struct cut_problem {
	const struct cut_dish *dishes;
	size_t dish_count;
	const struct cut_pool *pools;
	size_t pool_count;
	const struct cut_fish *fish;
	size_t fish_count;
	/*
	 * A plan within this much of the bound counts as proved, in money.
	 * 1 for proofs, 1000 (one coin) in the kitchen.
	 */
	int64_t within;
	size_t memory_max; /* bytes the search may hold; 0: 256 MiB */
};

enum cut_mode { MODE_CLOSED, MODE_WHOLE, MODE_CUT };

/* Portions of one dish out of one piece, all of about one weight. */
struct cut_portion {
	int dish;
	grams portion_g; /* low <= portion_g <= high */
};

struct cut_piece {
	struct cut_portion *cuts; /* owned by the plan */
	size_t cut_count;
	/*
	 * What its portions leave.  Counts as trim only as far as the piece
	 * is heavier than all its portions at target: cutting the guest's
	 * portion short makes no trim.
	 */
	grams trim_g;
	bool kept; /* left whole, cut_count is 0 */
};

struct cut_choice {
	enum cut_mode mode;
	int dish; /* MODE_WHOLE */
	int way;  /* MODE_CUT */
	/* MODE_CUT: CUT_PIECES_MAX of them, the first ways[way].pieces filled;
	 * owned by the plan. */
	struct cut_piece *pieces;
};

struct cut_plan {
	int64_t cost;            /* of this plan, by cut_check() */
	int64_t bound;           /* no plan costs less */
	bool proved;             /* cost - bound < within */
	bool capped;             /* the search hit its memory or work limit */
	struct cut_choice *fish; /* fish_count; owned */
	int64_t made[CUT_DISHES_MAX];
	int64_t short_of[CUT_DISHES_MAX];
	grams trim_g[CUT_POOLS_MAX];
	grams trim_short_g[CUT_POOLS_MAX];
	size_t fish_count;
};

/*
 * cut_problem_check - every number in its range, bands in order and, where a
 * gram under target is priced, not absurdly wide for the pieces, no sum of
 * costs beyond 2^61, no fish pinned open that cannot be.  Bits of way.dishes
 * beyond dish_count are let be.  RC_OK, or RC_INVALID naming fish or dish by
 * its index from 1.
 */
enum rc cut_problem_check(
    const struct cut_problem *p, struct err *err) MUST_CHECK;

/*
 * cut_solve - the best plan, or the best found with its gap.
 * RC_OK, or RC_INVALID as cut_problem_check().  The caller frees with
 * cut_plan_fini(), which expects room for CUT_PIECES_MAX pieces.  Work is
 * bounded: about a second for 10 000 fish, tens of milliseconds for 60 fish and
 * 12 dishes.
 */
enum rc cut_solve(struct cut_plan *out, const struct cut_problem *p,
    struct err *err) MUST_CHECK;

/*
 * cut_check - is this plan allowed, and what does it cost?  Works from the
 * portions alone, knows nothing of how the plan was found.  Sets made, short,
 * trim and cost.  Trim goes to the dearest pool first, as far as its species
 * allow.  RC_OK, or RC_INVALID naming what is wrong.
 */
enum rc cut_check(struct cut_plan *plan, const struct cut_problem *p,
    struct err *err) MUST_CHECK;

void cut_plan_fini(struct cut_plan *p);

#endif /* CORE_CUTPLAN_H */
