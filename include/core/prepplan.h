/*
 * core/prepplan.h - from what a service will ask for and what is on hand to
 * portions, fish of named batches cut piece by piece, and what is missing.
 *
 * What goes in is here; what comes out is in core/plan_list.h.  In four steps:
 * portions on hand go to services by flow (core/stock.h); shellfish and
 * uncounted batches by weight; counted fish by the cut plan (core/cutplan.h);
 * what is still missing becomes the order.  Integers only, rounded against the
 * kitchen: needs up, what fish gives down.  Rule numbers are those of
 * docs/rules.md.  Pure.
 */
#ifndef CORE_PREPPLAN_H
#define CORE_PREPPLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "core/cut.h"
#include "core/demand.h"
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
	int part; /* cuts of one dish and part stand in for each other */
	enum cut_kind kind;
	bool skin_on;
	enum presentation bought;
	grams low_g, target_g, high_g; /* one portion, before cooking */
	int house_yield_bp; /* to the cut itself; 0: learned or published */
	int finish_bp;      /* left after skinning, boning, squaring */
	int64_t price;      /* of the dish, smallest coin; -1 not told */
	/* Shellfish by the piece: `animals` make so many portions; 0: weight */
	int animals, animals_make;
	int mix_bp; /* share of the covers */
};

/* What a person said about a batch or one fish of it, for this plan only. */
enum plan_pin {
	PLAN_FREE,
	PLAN_FIRST, /* use it before anything else that fits */
	PLAN_LEAVE, /* leave it closed */
	PLAN_SERVE_WHOLE,
};

/* A batch that may be opened.  Stock is taken from it as the plan is made. */
struct plan_batch {
	int64_t id;
	char code[CODE_SIZE];
	char species[4];
	enum presentation presentation;
	int64_t supplier_id;
	int64_t count;  /* fish left; 0 with by_weight */
	bool by_weight; /* the batch was never counted */
	grams weight_g; /* left */
	int64_t price;  /* smallest coins per kg; -1 not told */
	int64_t use_by_utc;
	day_no use_by_day; /* in the kitchen's zone */
	bool held;
	bool parasite_free; /* served raw needs no record for it */
	enum plan_pin pin;
	/*
	 * Single weights when every fish left was weighed, else NULL and the
	 * weights are estimated with spread cv_bp (core/fishweights.h).
	 */
	grams *fish_g;    /* `count` of them, largest first; owned */
	int *fish_number; /* as they came off the scale; owned, or NULL */
	enum plan_pin *fish_pin; /* owned, or NULL */
	int cv_bp;
	/* Pieces of this batch that lie weighed on the board; owned, or NULL.
	 */
	grams *board_g;
	size_t board_count;
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
	bool frozen; /* to be thawed first */
	/*
	 * Of a frozen tray, for each service: its use-by if it is taken out as
	 * late as still thaws it for the start, 0 when no date can be given.
	 * Owned, or NULL.
	 */
	int64_t *thawed_use_by_utc;
};

struct plan_stock {
	struct plan_batch *batches; /* first to expire first */
	size_t batch_count;
	struct plan_tray *trays; /* first to expire first */
	size_t tray_count;
};

/* plan_stock_fini - frees what the stock and its batches own. */
void plan_stock_fini(struct plan_stock *s);

/* One part of a dish of one service: a dish needs all of its parts. */
struct plan_want {
	struct demand_line demand;   /* core/demand.h */
	struct demand_wish typed;    /* by the chef */
	int64_t used;                /* portions already used for it */
	const struct plan_cut *cuts; /* one for each species that will do */
	size_t cut_count;
};

struct plan_service {
	day_no day;
	char name[24];
	int64_t covers; /* booked */
	int64_t start_utc, end_utc;
	const struct plan_want *wants;
	size_t want_count;
};

/* What a supplier sells: one grade of a species and presentation. */
struct plan_offer {
	int64_t id;
	int64_t supplier_id;
	char supplier[24]; /* code */
	char species[4];
	enum presentation presentation;
	grams fish_g;  /* mean fish; 0: sold by weight */
	int64_t price; /* smallest coins per kilogram */
	grams step_g;  /* sold in steps of this */
};

/* What a batch gives a cut: the mean to plan with, the low one to order by. */
struct plan_yield {
	int mean_bp;
	int low_bp;         /* one breakdown in five gives less */
	int64_t breakdowns; /* learned from; 0: the published or house figure */
	struct yield published;
};

/*
 * Yield from a bought form to a cut, whatever is known best.
 * RC_OK, RC_NOTFOUND when nothing is known, or a failure of the caller's.
 */
typedef enum rc plan_yield_fn(struct plan_yield *out, void *arg,
    const struct plan_cut *cut, enum presentation from, int64_t supplier_id,
    struct err *err);

struct plan_problem {
	const struct species_table *species;
	struct plan_stock *stock; /* what the plan uses is taken out of it */
	const struct plan_service *services; /* in the order they happen */
	size_t service_count; /* the last is the one the lists are for */
	const struct plan_offer *offers;
	size_t offer_count;
	plan_yield_fn *yield;
	void *yield_arg;
	int64_t now_utc;    /* when thawing could begin */
	int64_t thaw_hours; /* from the freezer to thawed through */
	bool strict;        /* first to expire first, whatever it costs */
	grams step_g;       /* order step where no offer says one */
	/* Of live shellfish, found dead or broken (core/shellfish.h). */
	int dead_shell_bp, dead_crustacean_bp;
};

struct plan;

/*
 * plan_make - plan the services in order; *out is for the last one.
 * RC_OK; RC_INVALID when a cut names a species the table lacks or the service
 * is beyond the limits of core/cutplan.h; or what `yield` failed with.
 * The caller frees with plan_fini().
 */
enum rc plan_make(
    struct plan *out, const struct plan_problem *p, struct err *err) MUST_CHECK;

/*
 * pieces_per_fish - fillets, loins or wings a fish of this presentation still
 * gives: the species' own while it is whole, 1 when bought as a piece, 0 for
 * shellfish.
 */
int pieces_per_fish(const struct species *sp, enum presentation p);

#endif /* CORE_PREPPLAN_H */
