/* demand_target.c - portions to have, from what is wanted and what it costs. */
#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "demand_inner.h"

/* A double may lie this much under the tie it stands for. */
#define TIE 1e-12

static enum rc
money_check(int64_t v, bool may_be_unknown, const char *what, size_t number,
    struct err *err)
{
	if (may_be_unknown && v == DEMAND_UNKNOWN)
		return RC_OK;
	if (v >= 0 && v <= DEMAND_MONEY_MAX)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "dish %zu: %s %" PRId64 " is not 0 to %" PRId64, number, what, v,
	    (int64_t)DEMAND_MONEY_MAX);
}

enum rc
dish_check(const struct demand_dish *d, size_t number, struct err *err)
{
	enum rc rc;

	if ((rc = money_check(d->price, true, "price", number, err)) != RC_OK)
		return rc;
	if ((rc = money_check(d->cost, true, "cost", number, err)) != RC_OK)
		return rc;
	rc = money_check(d->salvage, false, "salvage", number, err);
	if (rc != RC_OK)
		return rc;
	rc = money_check(d->goodwill, false, "goodwill", number, err);
	if (rc != RC_OK)
		return rc;
	if ((rc = money_check(d->carry, false, "carry", number, err)) != RC_OK)
		return rc;
	if (d->cost != DEMAND_UNKNOWN && d->salvage > d->cost)
		return err_set(err, RC_INVALID, 0,
		    "dish %zu: salvage %" PRId64 " is above cost %" PRId64,
		    number, d->salvage, d->cost);
	if (d->regain_bp < 0 || d->regain_bp > BP_ONE)
		return err_set(err, RC_INVALID, 0,
		    "dish %zu: won back %d is not 0 to %d", number,
		    d->regain_bp, BP_ONE);
	if (d->life < 1 || d->life > DEMAND_ASKED_MAX)
		return err_set(err, RC_INVALID, 0,
		    "dish %zu: life of %d services is not 1 to %d", number,
		    d->life, DEMAND_ASKED_MAX);
	return RC_OK;
}

/* What one short, one thrown away and one carried over cost. */
struct costs {
	int64_t under, over, carry;
	enum demand_ratio from;
};

static struct costs
costs_of(const struct demand_dish *d)
{
	struct costs c = { DEMAND_RATIO_BP, BP_ONE - DEMAND_RATIO_BP, 0,
		RATIO_DEFAULT };
	int64_t least;

	if (d->price == DEMAND_UNKNOWN || d->cost == DEMAND_UNKNOWN)
		return c;
	if (d->price <= d->cost) {
		c.from = RATIO_LOSS;
		return c;
	}
	c.from = RATIO_PRICES;
	c.under = (d->price - d->cost) * (BP_ONE - d->regain_bp) / BP_ONE +
	    d->goodwill;
	c.over = d->cost - d->salvage;
	c.carry = d->carry;
	/* Portions that cost nothing would be wanted without end. */
	least = c.under * (BP_ONE - DEMAND_RATIO_MAX_BP) / DEMAND_RATIO_MAX_BP;
	if (c.over < least)
		c.over = least;
	if (c.over == 0)
		c.over = 1;
	return c;
}

static int
ratio_bp(const struct costs *c)
{
	int64_t all = c->under + c->over;
	int64_t bp = (c->under * BP_ONE + all / 2) / all;

	return bp < DEMAND_RATIO_MAX_BP ? (int)bp : DEMAND_RATIO_MAX_BP;
}

/*
 * Smallest number at which one portion more is lost oftener, weighed by cost,
 * than it is missed.  The last portion is lost only if all services it keeps
 * for together ask for less, as the oldest goes out first.
 */
static int
life_target(const struct costs *c, const struct dist *own, size_t count)
{
	struct dist all, next;
	double under = (double)c->under, over = (double)c->over;
	double carry = (double)c->carry;
	double f = 0, g = 0, allowed = TIE * (under + over + carry);
	size_t i;
	int x;

	all = dist_sum(&own[0], &own[1]);
	for (i = 2; i < count; i++) {
		next = dist_sum(&all, &own[i]);
		dist_fini(&all);
		all = next;
	}
	for (x = 0; (size_t)x + 1 < own[0].n; x++) {
		f += own[0].p[x];
		g += all.p[x];
		if (under * (1 - f) <= over * g + carry * f + allowed)
			break;
	}
	dist_fini(&all);
	return x;
}

static void
apply_wish(struct demand_line *line, const struct demand_wish *w)
{
	if (w->floor != DEMAND_UNKNOWN && line->target < w->floor) {
		line->target = w->floor;
		line->why = WHY_FLOOR;
	}
	if (w->ceiling != DEMAND_UNKNOWN && line->target > w->ceiling) {
		line->target = w->ceiling;
		line->why = WHY_CEILING;
	}
	if (w->fixed != DEMAND_UNKNOWN) {
		line->target = w->fixed;
		line->why = WHY_FIXED;
	}
}

void
target_settle(struct demand_line *line, const struct dist *own, size_t count,
    const struct demand_dish *dish, const struct demand_wish *wish)
{
	struct costs c = costs_of(dish);
	double out;

	line->ratio_bp = ratio_bp(&c);
	line->ratio = c.from;
	if (count > 1) {
		line->target = life_target(&c, own, count);
		line->why = WHY_LIFE;
	} else {
		line->target =
		    dist_quantile(&own[0], (double)line->ratio_bp / BP_ONE);
		line->why = WHY_RATIO;
	}
	if (wish != NULL)
		apply_wish(line, wish);
	out = 1 - dist_cdf(&own[0], line->target);
	line->out_bp = (int)lround(out * BP_ONE);
}
