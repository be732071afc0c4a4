/*
 * plan_scale.h - weights of different cuts on one scale.  Private to src/core.
 */
#ifndef PLAN_SCALE_H
#define PLAN_SCALE_H

#include <stdbool.h>
#include <stdint.h>

#include "core/prepplan.h"

struct run; /* plan_work.h */

/*
 * A species' pieces are weighed as one reference cut of it; other cuts' bands
 * are put on that scale: a gram there is to a gram of the cut as `ref` to
 * `cut`, both yields times finishing, in 1/10^8.
 */
struct scale {
	int64_t ref, cut; /* 0: the line cannot be had on this scale */
	int64_t share_bp; /* of a piece that is thick enough; BP_ONE: all */
};

/* Of one species: its reference cuts and every line's scale. */
struct scales {
	char species[4];
	const struct plan_cut *flesh, *whole, *steak; /* NULL: none wanted */
	struct scale *line;                           /* out->count; owned */
};

enum rc scales_make(struct scales *out, const struct run *r,
    const char *species, struct err *err);
void scales_fini(struct scales *s);

grams scale_up(const struct scale *s, grams g);   /* cut to reference */
grams scale_down(const struct scale *s, grams g); /* reference to cut */

/* What a batch gives on its species' scale. */
struct batch_fit {
	int64_t flesh, whole, steak; /* yield in 1/10^8 of bought; 0: none */
	int pieces;
	uint64_t lines; /* bit of a line that can be had from it */
};

enum rc batch_fit_make(struct batch_fit *out, const struct run *r,
    const struct scales *s, enum presentation from, int64_t supplier_id,
    bool low, struct err *err);

/* A plan within a coin of the bound is good enough for a kitchen. */
#define PLAN_WITHIN 1000
/* What a fish costs that the chef puts first: next to nothing, yet more than
 * the plan may be off by, so that none is opened for nothing. */
#define PLAN_FIRST_COST (2 * PLAN_WITHIN)

#endif /* PLAN_SCALE_H */
