/*
 * plan_rig.h - small kitchens for plan_make(), without a station: stock, menu,
 * services, offers and yields set row by row, then planned.
 */
#ifndef PLAN_RIG_H
#define PLAN_RIG_H

#include "core/plan_list.h"
#include "core/prepplan.h"

#define RIG_BATCHES 16
#define RIG_TRAYS 12
#define RIG_CUTS 32
#define RIG_SERVICES 3
#define RIG_WANTS 10
#define RIG_OFFERS 10
#define RIG_YIELDS 24

/* The services: day 20000, 20001, 20002; 10 000 s apart, each 1000 s long. */
#define RIG_DAY 20000
#define RIG_END(service) ((int64_t)11000 + 10000 * (service))
#define RIG_LATER 900000 /* in date for all of them, by many days */

/* One figure; a species of "" answers to all, a supplier of 0 too. */
struct rig_yield {
	char species[4];
	enum presentation from;
	enum cut_kind kind;
	bool skin_on;
	int64_t supplier_id;
	int mean_bp, low_bp;
};

struct rig {
	struct plan_batch batches[RIG_BATCHES];
	struct plan_tray trays[RIG_TRAYS];
	struct plan_stock stock;
	struct plan_cut cuts[RIG_CUTS];
	size_t cut_count;
	struct plan_want wants[RIG_SERVICES][RIG_WANTS];
	struct plan_service services[RIG_SERVICES];
	struct plan_offer offers[RIG_OFFERS];
	struct rig_yield yields[RIG_YIELDS];
	size_t yield_count;
	bool published; /* yields of config/yields.csv instead */
	enum rc yield_fails;
	struct plan_problem problem;
	struct plan plan;
};

/* rig_setup, rig_teardown - the species and yield tables, once a process. */
void rig_setup(void);
void rig_teardown(void);

/* rig_open - an empty kitchen with one service; freed with rig_close(). */
void rig_open(struct rig *k);
void rig_close(struct rig *k);

/* rig_batch - in date; by weight when `count` is 0. */
struct plan_batch *rig_batch(struct rig *k, const char *code,
    const char *species, enum presentation p, int64_t count, grams weight);

/* rig_weigh - its fish one by one, numbered 1, 2, ...; `g` largest first. */
void rig_weigh(struct plan_batch *b, const grams *g);

/* rig_board - weighed pieces on the board. */
void rig_board(struct plan_batch *b, size_t count, const grams *g);

struct plan_tray *rig_tray(struct rig *k, const char *code, const char *dish,
    const char *species, int64_t left, int64_t use_by);

/* A dish: `want` portions of it.  No price, nothing lost in finishing. */
struct rig_dish {
	const char *dish, *species;
	enum cut_kind kind;
	bool skin_on;
	grams low, target, high;
	int want;
};

/* rig_dish - on for a service; its cut, to be changed.  rig_or - one more
 * species that will do for the last dish. */
struct plan_cut *rig_dish(
    struct rig *k, size_t service, const struct rig_dish *d);
struct plan_cut *rig_or(struct rig *k, size_t service, const char *species);

/* rig_yield - a figure for all suppliers, to be changed. */
struct rig_yield *rig_yield(struct rig *k, const char *species,
    enum presentation from, enum cut_kind kind, bool skin_on, int mean_bp,
    int low_bp);

struct plan_offer *rig_offer(struct rig *k, const struct plan_offer *o);

/* rig_plan - plan_make() must succeed; the last service's lines.  A plan from
 * before is freed, the stock is as the last plan left it. */
const struct plan *rig_plan(struct rig *k);

/* rig_line - the plan's line of a dish; must be there. */
const struct plan_line *rig_line(const struct rig *k, const char *dish);

/* rig_take - what a line says of a batch or tray, or NULL. */
const struct plan_take *rig_take(
    const struct rig *k, const char *dish, const char *code);

/* rig_cut_g - portions of a dish out of opened fish, and the lightest and
 * heaviest of them. */
int64_t rig_cut_g(
    const struct rig *k, const char *dish, grams *least, grams *most);

/* rig_text - everything a plan says, written out, to compare two; owned by the
 * caller. */
char *rig_text(const struct plan *p);

const struct species_table *rig_species(void);

/*
 * rig_open_hake - rig_open(), and of any fish, whole: 48 % with skin, 43.2 %
 * without, so that 100 g of skin-off are 111.1 g on the scale of skin-on; 21.6
 * % loin, half of the skinless; 90 % dressed.
 */
void rig_open_hake(struct rig *k);

/* rig_fish - weighed fish of any number up to 40, all of one weight. */
struct plan_batch *rig_fish(struct rig *k, const char *code,
    const char *species, int64_t count, grams each);

/* rig_hake - a dish of hake in the first service. */
struct plan_cut *rig_hake(struct rig *k, const char *name, enum cut_kind kind,
    bool skin_on, grams low, grams target, grams high, int want);

/* rig_ends - use-by so many days after the first service. */
void rig_ends(struct plan_batch *b, int days);

#endif /* PLAN_RIG_H */
