/*
 * core/plan_list.h - what a plan says: lines, cuts fish by fish, order, money.
 *
 * Everything is owned by struct plan and freed by plan_fini().  Units as in
 * core/prepplan.h; money in thousandths of the smallest coin.
 */
#ifndef CORE_PLAN_LIST_H
#define CORE_PLAN_LIST_H

#include "core/prepplan.h"
#include "core/stock.h"
#include "core/work.h"

/* Why a batch or tray in stock was left alone, or how it was used. */
enum plan_reason {
	PLAN_TAKEN,
	PLAN_BARRED,     /* may not be served: see `bar` */
	PLAN_NO_YIELD,   /* no figure from this presentation to the cut */
	PLAN_TOO_SMALL,  /* a piece is under the portion's low weight */
	PLAN_TOO_LARGE,  /* a whole fish or fillet is over its high weight */
	PLAN_TOO_HEAVY,  /* its pieces are beyond what core/cutplan.h cuts */
	PLAN_LEFT,       /* a person said to leave it closed */
	PLAN_NOT_NEEDED, /* others were enough, or cheaper to open */
	PLAN_ELSEWHERE,  /* portions went to another service or dish */
};

/* One source a line draws on, or had to leave. */
struct plan_take {
	enum plan_reason reason;
	enum stock_reason bar; /* PLAN_BARRED */
	bool tray;             /* portions on hand, else a batch */
	bool opened; /* by the cut plan, fish by fish; else by weight */
	char code[CODE_SIZE];
	char species[4];
	int64_t use_by_utc;  /* once thawed, of a frozen tray taken */
	bool frozen;         /* a tray in the freezer */
	int64_t thaw_by_utc; /* of a frozen one taken: take it out by then */
	int64_t portions;    /* that count towards the need */
	int64_t fish;        /* it draws on; 0 when by weight */
	grams weight_g;      /* bought weight, by weight only; of trim */
	int dead_bp;         /* of it allowed for as dead or broken */
	grams piece_g;       /* smallest usable piece; 0 by weight */
	bool estimated;      /* no fish of it was weighed by itself */
	bool ask_parasites;  /* served raw: a freeze record is asked for */
	struct plan_yield yield; /* presentation to cut */
};

struct plan_line {
	struct plan_cut cut; /* the first of its species */
	char species[8][4];  /* every species that will do */
	int species_count;
	struct demand_line demand;
	struct demand_wish typed;
	int64_t used;
	int64_t to_have;  /* target less used, not below 0 */
	int64_t on_hand;  /* taken from trays */
	int64_t to_make;  /* from batches */
	int64_t short_of; /* to order */
	bool by_choice;   /* short although a closed fish would do: dearer */
	bool order_known; /* false: no yield is known, order it by hand */
	struct plan_take *takes;
	size_t take_count;
};

/* Portions of one line out of one piece, all of one weight. */
struct plan_portions {
	int line;
	int64_t count;
	grams portion_g; /* as served, after finishing */
};

struct plan_piece {
	struct plan_portions *cuts;
	size_t cut_count;
	grams trim_g;
	bool kept; /* left whole */
};

/* One opened fish, or one piece that lay on the board. */
struct plan_opened {
	char batch[CODE_SIZE];
	char species[4];
	enum presentation presentation;
	int64_t use_by_utc;
	int number;     /* off the scale; 0: not weighed by itself */
	grams weight_g; /* estimated when `number` is 0 */
	bool on_board;  /* already filleted, weight_g is the piece's */
	bool troncon;   /* cut across the bone */
	int whole_line; /* served whole for this line, else -1 */
	struct plan_piece *pieces;
	size_t piece_count;
};

/* A later batch opened while an earlier one of its species stays closed. */
struct plan_inversion {
	char later[CODE_SIZE], earlier[CODE_SIZE];
	enum stock_reason reason;
};

/* One line of the order list: all that is missing of one kind. */
struct plan_order {
	char species[4];
	enum presentation bought;
	char supplier[24]; /* code; empty when no offer is known */
	grams fish_g;      /* grade; 0 by weight */
	int64_t fish;      /* of that grade; 0 by weight */
	int64_t at_least;  /* fish the weight must hold; 0: any number */
	int64_t price;     /* coins per kg; -1 not told */
	grams need_g;      /* what the portions need */
	grams order_g;     /* rounded up to the step it is sold in */
	grams step_g;
	int64_t portions;
	int64_t cost;            /* thousandths; 0 when no price is known */
	struct plan_yield yield; /* ordered by its low figure */
};

struct plan {
	struct plan_line *lines; /* by allergen, species, dish */
	size_t count;
	struct plan_opened *opened; /* by batch, then fish */
	size_t opened_count;
	struct plan_inversion *inversions;
	size_t inversion_count;
	struct plan_order *orders;
	size_t order_count;
	bool estimated; /* some fish were never weighed by themselves */
	/* The cut plan of this service (core/cutplan.h). */
	size_t fish_seen;
	int64_t cost, bound;
	bool proved, capped;
	grams opened_g, trim_g;
	/* The same by eye: first fish, largest portion (core/cut_head.h). */
	size_t head_fish;
	grams head_opened_g, head_trim_g;
	int64_t head_cost, head_short; /* portions short */
	int64_t cut_short;             /* of the plan, of the same lines */
};

void plan_fini(struct plan *p);

/*
 * plan_jobs - what the plan takes in hand, batch by batch and line by line, for
 * core/work.h; *out is owned by the caller (free()).  A fish that serves
 * several lines is filleted for the one that gets most of it.
 */
void plan_jobs(struct work_job **out, size_t *count, const struct plan *plan,
    const struct plan_problem *p);

#endif /* CORE_PLAN_LIST_H */
