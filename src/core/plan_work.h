/*
 * plan_work.h - what the parts of the plan share.  Private to src/core.
 */
#ifndef PLAN_WORK_H
#define PLAN_WORK_H

#include "core/allot.h"
#include "core/cutplan.h"
#include "core/plan_list.h"
#include "core/prepplan.h"
#include "core/shellfish.h"
#include "plan_scale.h"

/* One service while its lines are filled. */
struct run {
	const struct plan_problem *p;
	const struct plan_service *s;
	struct plan *out;
	size_t *take_cap; /* one for each line */
};

/* --- prepplan.c */

/* line_cut - the menu's cut of a line for a species, or NULL. */
const struct plan_cut *line_cut(
    const struct run *r, size_t line, const char *species);

/* line_left - portions of a line that nothing covers yet. */
int64_t line_left(const struct plan_line *l);

/* add_take - one more source of a line, zeroed but for batch and reason. */
struct plan_take *add_take(
    struct run *r, size_t line, const struct plan_batch *b);

/* plan_lot - what stock has on record, chilled; plan_bar - may it be served
 * then? */
struct stock_lot plan_lot(bool held, int64_t use_by_utc);
enum stock_reason plan_bar(
    const struct stock_lot *lot, int64_t now_utc, const struct plan_service *s);

/*
 * batch_bar - may this batch be served at this service for this cut?
 * STOCK_USABLE, or the gravest reason against it (rule R-P3).
 */
enum stock_reason batch_bar(
    const struct plan_batch *b, const struct plan_service *s);

/*
 * cut_yield - yield from a presentation to a cut; *known is false when there
 * is no figure, which is no failure.
 */
enum rc cut_yield(struct plan_yield *y, bool *known, const struct run *r,
    const struct plan_cut *cut, enum presentation from, int64_t supplier_id,
    struct err *err);

/* --- plan_net.c */

/* net_trays - portions on hand to all services; owned by *out. */
enum rc net_trays(
    struct allot *out, const struct plan_problem *p, struct err *err);
/* net_apply - the shares of service `index` into its lines. */
void net_apply(struct run *r, size_t index, const struct allot *shares);

/* --- plan_weight.c */

/*
 * weigh_out - shellfish and uncounted batches, first to expire first.
 * `before_fish`: only uncounted batches that expire no later than any counted
 * one a by-piece line could use; else all that is left.
 */
enum rc weigh_out(struct run *r, bool before_fish, struct err *err);

/*
 * by_shell - what a portion is made of: so many animals, a weight in the
 * shell, or a weight of meat; uncounted fish is reckoned as meat is.
 * `animal_g`: mean live animal, 0 when not known.
 */
struct shell_dish by_shell(const struct run *r, const struct plan_cut *cut,
    enum presentation from, int bp, grams animal_g);

/* --- plan_board.c: the lines and fish of a service as a cut problem */

struct board_fish {
	size_t source; /* batch of the stock, or offer */
	int64_t index; /* of the batch's fish, or of its board pieces */
	bool on_board;
	grams weight_g;
};

struct board {
	struct cut_dish dishes[CUT_DISHES_MAX];
	struct cut_pool pools[CUT_POOLS_MAX];
	size_t dish_line[CUT_DISHES_MAX], pool_line[CUT_POOLS_MAX];
	size_t dish_count, pool_count;
	struct scales scales[CUT_SPECIES_MAX];
	int species_count;
	struct cut_fish *fish;
	struct board_fish *from;
	size_t fish_count, fish_cap, from_cap;
	int64_t dearest;                      /* cost of one fish */
	int64_t flesh_price[CUT_SPECIES_MAX]; /* a gram on the scale */
};

/*
 * plan_board_lines - dishes and pools from the lines that still want pieces, as
 * line_left() says, and the scales of their species.
 * RC_INVALID beyond the limits of core/cutplan.h, naming them.
 */
enum rc plan_board_lines(struct board *b, const struct run *r, struct err *err);

/* plan_board_species - index of a species on the board, or -1. */
int plan_board_species(const struct board *b, const char *species);

/*
 * plan_board_add - one fish, or one piece that lies on the board.  `cost` is
 * that of opening it; `keep` what a piece left whole is worth to a later
 * service.
 */
enum rc plan_board_add(struct board *b, const struct run *r,
    const struct board_fish *from, int species, const struct batch_fit *fit,
    int64_t cost, int64_t keep, enum plan_pin pin, struct err *err);

/*
 * plan_board_gives - can this fish give a portion of a dish of the board?
 * plan_board_trims - can it give trim to a pool?
 */
bool plan_board_gives(
    const struct board *b, const struct cut_fish *f, size_t dish);
bool plan_board_trims(
    const struct board *b, const struct cut_fish *f, size_t pool);

/*
 * plan_board_prices - what a portion short, a gram under target and a gram of
 * trim cost, once all fish are on the board, on the scale of `rho`
 * (core/stock.h).
 */
void plan_board_prices(
    struct board *b, const struct run *r, const struct stock_rho *rho);

void plan_board_fini(struct board *b);

/* --- plan_fish.c, plan_list.c */

/* The stock of one service on the board, and how it is cut. */
struct fishing {
	struct run *r;
	struct board b;
	struct batch_fit *fits; /* one for each batch of the stock */
	struct cut_plan cut;
	size_t opened_cap;
	const struct stock_rho *rho;
};

/* batch_counted - fish or pieces of it can be told one from another. */
bool batch_counted(const struct plan_batch *b);

/* cut_fish - counted fish to the lines that want pieces. */
enum rc cut_fish(struct run *r, struct err *err);

/* fish_back - the cut plan into lines, opened fish and inversions; f->cut may
 * be empty when there was nothing to cut. */
enum rc fish_back(struct fishing *f, struct err *err);

/* --- plan_order.c */

/* order_rest - what is still missing, as it is bought (rules R-P5). */
enum rc order_rest(struct run *r, struct err *err);

#endif /* PLAN_WORK_H */
