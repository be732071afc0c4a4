/*
 * core/prepplan.h - from booked covers and the menu to portions, fillets, whole
 * fish from named batches, and what is missing.
 *
 * Integers only, rounded against the kitchen: needs up, what fish gives down.
 * Rule numbers are those of docs/rules.md.  Pure.
 */
#ifndef CORE_PREPPLAN_H
#define CORE_PREPPLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "core/cut.h"
#include "core/species.h"
#include "core/useby.h"
#include "core/yield.h"

/* A dish's portion, as the menu states it. */
struct plan_cut {
	int64_t id;
	char dish[32]; /* code */
	char dish_name[64];
	char allergens[80]; /* beyond the species' own */
	enum food_state state;
	char species[4];
	enum cut_kind kind;
	bool skin_on;
	enum presentation bought;
	grams low_g, target_g, high_g; /* one portion, before cooking */
	int house_yield_bp;            /* 0: use the published table */
	int mix_bp;                    /* share of the covers */
	int64_t used;                  /* portions already used for it */
};

/* A batch that may be opened.  Stock is taken from it as the plan is made. */
struct plan_batch {
	int64_t id;
	char code[CODE_SIZE];
	char species[4];
	enum presentation presentation;
	int64_t count;  /* fish left; 0 with by_weight */
	bool by_weight; /* the batch was never counted */
	grams weight_g; /* left */
	int64_t use_by_utc;
	bool held;
};

/* A labelled unit on hand. */
struct plan_tray {
	int64_t id;
	char code[CODE_SIZE];
	int64_t cut_id;
	char dish[32];
	char species[4];
	int64_t left; /* portions */
	int64_t use_by_utc;
	bool held;
};

struct plan_stock {
	struct plan_batch *batches; /* first to expire first */
	size_t batch_count;
	struct plan_tray *trays; /* first to expire first */
	size_t tray_count;
};

struct plan_service {
	int64_t covers;
	int64_t end_utc;
	const struct plan_cut *cuts;
	size_t cut_count;
};

/* Why a batch or tray in stock was left alone, or how it was used. */
enum plan_reason {
	PLAN_TAKEN,
	PLAN_HELD,
	PLAN_EXPIRED,   /* before the end of the service */
	PLAN_NO_YIELD,  /* no figure from this presentation to the cut */
	PLAN_TOO_SMALL, /* a piece is under the portion's low weight */
	PLAN_TOO_LARGE, /* a whole fish or fillet is over its high weight */
};

/* One source a line draws on, or had to leave. */
struct plan_take {
	enum plan_reason reason;
	bool tray; /* portions on hand, else a batch */
	char code[CODE_SIZE];
	int64_t use_by_utc;
	int64_t portions;   /* that count towards the need */
	int64_t spare;      /* portions the last fish gives beyond it */
	int64_t fish;       /* to take; 0 when by weight */
	int64_t pieces;     /* fillets and so on from those fish */
	grams weight_g;     /* bought weight to take */
	grams fish_g;       /* mean weight of a fish; 0 when by weight */
	grams piece_g;      /* usable weight of one piece */
	int64_t per_piece;  /* portions out of one piece */
	struct yield yield; /* presentation to cut */
};

struct plan_line {
	struct plan_cut cut;
	int64_t covers;
	int64_t need;         /* covers x mix, rounded up */
	int64_t to_have;      /* need less used, not below 0 */
	int64_t on_hand;      /* taken from trays */
	int64_t to_make;      /* from batches */
	int64_t short_of;     /* to order */
	grams order_g;        /* bought weight for short_of, rounded up */
	int64_t order_pieces; /* pieces or fish that is at least; 0 by weight */
	bool order_known;     /* false: no yield is known, order by hand */
	struct yield order_yield;
	struct plan_take *takes; /* owned */
	size_t take_count;
};

struct plan {
	struct plan_line *lines; /* working order; owned */
	size_t count;
};

/*
 * portions_needed - covers x share, rounded up (docs/rules.md R-P1).
 */
int64_t portions_needed(int64_t covers, int mix_bp);

/*
 * pieces_per_fish - fillets, loins or wings a fish of this presentation still
 * gives: the species' own while it is whole, 1 when bought as a piece.
 */
int pieces_per_fish(const struct species *sp, enum presentation p);

/*
 * plan_make - plan one service and take what it uses out of `stock`, so that
 * the next service planned sees what is left.  Services are planned in the
 * order they happen.
 * RC_OK, or RC_INVALID when a cut names a species the table lacks.
 * The caller frees with plan_fini().
 */
enum rc plan_make(struct plan *out, struct plan_stock *stock,
    const struct plan_service *service, const struct species_table *species,
    const struct yield_table *yields, struct err *err) MUST_CHECK;

void plan_fini(struct plan *p);

/* One line of the order list: all that is missing of one kind. */
struct plan_order {
	char species[4];
	enum presentation bought;
	grams need_g;  /* sum of the lines */
	grams order_g; /* rounded up to the step it is sold in */
	int64_t portions;
};

/*
 * plan_orders - sum up what is missing, by species and presentation, rounded
 * up to `step_g`.  *out is owned by the caller (free()).
 */
void plan_orders(
    struct plan_order **out, size_t *count, const struct plan *p, grams step_g);

#endif /* CORE_PREPPLAN_H */
