/*
 * demand_inner.h - what the files of core/demand share.
 */
#ifndef DEMAND_INNER_H
#define DEMAND_INNER_H

#include "core/demand.h"
#include "core/dist.h"

#define WEEKDAYS 7

/* The small grid the record chooses from. */
#define FORGET_COUNT 4
#define LEAN_COUNT 2
#define CAP_COUNT 6

/* Portions of a dish out of covers, both discounted. */
struct share {
	double of, all;
};

/* What one sitting teaches of the dishes. */
struct mix {
	struct share *pool;    /* [forget x dish] */
	struct share *weekday; /* [(forget x 7 + weekday) x dish] */
	int *taught;           /* services, [dish] */
	double score[FORGET_COUNT][LEAN_COUNT][CAP_COUNT];
};

/* Walk-ins by one way of looking at them: heads, or heads per booked guest. */
struct walk_view {
	struct share pool, weekday[WEEKDAYS];
	double miss;            /* discounted squared error, one step ahead */
	double excess, mean_sq; /* of it beyond Poisson; mean squared */
};

struct walk_ins {
	struct walk_view heads, per_booked;
};

struct demand_model {
	struct demand_record record;
	struct mix mixes[DEMAND_SITTINGS_MAX];
	struct walk_ins walk_ins[DEMAND_SITTINGS_MAX];
	double came, stayed; /* parties, discounted */
};

/* The beta of a dish's share: of / all its mean, all its weight in covers. */
struct share mix_share(
    const struct demand_model *m, int sitting, day_no day, size_t dish);

/* The menu's share in 1/10 000, or DEMAND_UNKNOWN: not offered. */
int menu_share(const struct demand_record *r, int sitting, size_t dish);

void mix_start(struct mix *x, const struct demand_record *r, int sitting);
void mix_see(struct mix *x, const struct demand_record *r, size_t past);
void mix_fini(struct mix *x);

void covers_start(struct demand_model *m);
void covers_see(struct demand_model *m, const struct demand_past *past);

/* Guests of a past service; DEMAND_UNKNOWN when the record does not say. */
int covers_of(const struct demand_past *past);

/* Guests of a service to come; the caller frees. */
struct dist covers_dist(
    const struct demand_model *m, const struct demand_asked *asked);
double covers_show(const struct demand_model *m);
double covers_walk_ins(
    const struct demand_model *m, const struct demand_asked *asked);

/* demand_learn in steps, for a backtest. */
enum rc model_new(struct demand_model **out, const struct demand_record *record,
    struct err *err) MUST_CHECK;
void model_see(struct demand_model *m, size_t past);

enum rc dish_check(
    const struct demand_dish *d, size_t number, struct err *err) MUST_CHECK;

/*
 * Settle target, chance of running out, ratio and why of a line.  own[0] is
 * the service itself, own[1] and on the services after it.
 */
void target_settle(struct demand_line *line, const struct dist *own,
    size_t count, const struct demand_dish *dish,
    const struct demand_wish *wish);

#endif /* DEMAND_INNER_H */
