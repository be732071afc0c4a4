/* stock.c - who may serve what, what opening costs, why an earlier batch
 * stayed closed. */
#include "core/stock.h"

#include <assert.h>
#include <stdlib.h>

#include "base/mem.h"

static const char *const words[] = {
#define WORD(code, word, sentence) [STOCK_##code] = word,
	STOCK_REASONS(WORD)
#undef WORD
};

static const char *const texts[] = {
#define TEXT(code, word, sentence) [STOCK_##code] = sentence,
	STOCK_REASONS(TEXT)
#undef TEXT
};

const char *
stock_reason_word(enum stock_reason r)
{
	assert(r <= STOCK_USABLE);
	return words[r];
}

const char *
stock_reason_text(enum stock_reason r)
{
	assert(r <= STOCK_USABLE);
	return texts[r];
}

/* --- eligibility -----------------------------------------------------------*/

static uint32_t
against(bool yes, enum stock_reason r)
{
	return yes ? UINT32_C(1) << r : 0;
}

/* A stop that is not known to be off still stops (R-S1). */
static uint32_t
status_reasons(const struct stock_lot *lot)
{
	return against(lot->recalled == FACT_YES, STOCK_RECALLED) |
	    against(lot->refused == FACT_YES, STOCK_REFUSED) |
	    against(lot->held == FACT_YES, STOCK_HELD) |
	    against(lot->recalled == FACT_UNKNOWN ||
		    lot->refused == FACT_UNKNOWN || lot->held == FACT_UNKNOWN,
		STOCK_UNRELEASED) |
	    against(lot->temperature_ok != FACT_YES, STOCK_WARM);
}

/* Whole hours that do not fit before the start, without adding them up: a
 * service that has begun leaves none. */
static bool
thaws_late(const struct stock_lot *lot, const struct stock_ask *ask)
{
	return lot->thaw_hours < 1 || ask->now_utc < 1 ||
	    lot->thaw_hours > (ask->start_utc - ask->now_utc) / 3600;
}

static uint32_t
frozen_reasons(const struct stock_lot *lot, const struct stock_ask *ask)
{
	if (lot->frozen == FACT_NO)
		return 0;
	return against(thaws_late(lot, ask), STOCK_FROZEN) |
	    against(lot->thawed_use_by_utc < 1 ||
		    lot->thawed_use_by_utc < ask->end_utc,
		STOCK_THAWED);
}

uint32_t
stock_reasons(const struct stock_lot *lot, const struct stock_ask *ask)
{
	return status_reasons(lot) |
	    against(ask->start_utc < 1 || ask->end_utc < ask->start_utc,
		STOCK_UNTIMED) |
	    against(lot->use_by_utc < 1, STOCK_UNDATED) |
	    against(lot->use_by_utc >= 1 && lot->use_by_utc < ask->end_utc,
		STOCK_EXPIRED) |
	    against(ask->served_raw != FACT_NO && lot->parasites_ok != FACT_YES,
		STOCK_PARASITES) |
	    frozen_reasons(lot, ask) |
	    against(ask->species_fit != FACT_YES, STOCK_SPECIES) |
	    against(ask->cut_fit != FACT_YES, STOCK_FORM);
}

bool
stock_usable(enum stock_reason *out, const struct stock_lot *lot,
    const struct stock_ask *ask)
{
	uint32_t reasons = stock_reasons(lot, ask);
	enum stock_reason r = STOCK_RECALLED;

	while (r < STOCK_USABLE && (reasons & (UINT32_C(1) << r)) == 0)
		r++;
	*out = r;
	return r == STOCK_USABLE;
}

/* --- what opening costs ----------------------------------------------------*/

#define KEEP_PERCENT 60 /* R-S8 */
#define COIN 1000       /* thousandths */
#define DAY_COINS_MAX 30
#define PERCENT_MAX 10000

const struct stock_rho stock_rho_plain = { { 5, 50, 80, 100 } };
const struct stock_rho stock_rho_strict = { { 1, 8, 60, 400 } };

int64_t
stock_penalty(int64_t price, const struct stock_rho *rho)
{
	const int last = rho->percent[STOCK_RHO_DAYS - 1];

	assert(price >= 0 && price <= STOCK_MONEY_MAX);
	assert(last >= 0 && last <= PERCENT_MAX);
	return div_up(price * last, 100);
}

static enum rc
check_rho(const struct stock_rho *rho, struct err *err)
{
	int before = 0, i;

	for (i = 0; i < STOCK_RHO_DAYS; i++) {
		if (rho->percent[i] < before || rho->percent[i] > PERCENT_MAX)
			return err_set(err, RC_INVALID, 0,
			    "days left %d: %d %% of the value is not in %d..%d",
			    i, rho->percent[i], before, PERCENT_MAX);
		before = rho->percent[i];
	}
	return RC_OK;
}

static enum rc
check_fish(const struct stock_fish *f, day_no service, struct err *err)
{
	if (f->price_per_kg < 0 || f->price_per_kg > STOCK_PRICE_MAX)
		return err_set(err, RC_INVALID, 0,
		    "price %lld a kilogram is not in 0..%d",
		    (long long)f->price_per_kg, STOCK_PRICE_MAX);
	if (f->weight_g < 1 || f->weight_g > WEIGHT_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "a fish of %lld g is not in 1..%d", (long long)f->weight_g,
		    WEIGHT_MAX_G);
	if (service < DAY_MIN || service > DAY_MAX || f->use_by < DAY_MIN ||
	    f->use_by > DAY_MAX)
		return err_set(err, RC_INVALID, 0,
		    "the day of the service or of the use-by is not known");
	if (f->use_by < service)
		return err_set(err, RC_REFUSED, 0,
		    "the use-by is before the day of the service");
	return RC_OK;
}

enum rc
stock_open_cost(int64_t *out, const struct stock_fish *fish, day_no service,
    const struct stock_rho *rho, struct err *err)
{
	int64_t price, days;
	int percent;
	enum rc rc;

	*out = 0;
	if ((rc = check_rho(rho, err)) != RC_OK)
		return rc;
	if ((rc = check_fish(fish, service, err)) != RC_OK)
		return rc;
	price =
	    fish->price_per_kg == 0 ? STOCK_PRICE_UNKNOWN : fish->price_per_kg;
	days = fish->use_by - service;
	percent =
	    rho->percent[days < STOCK_RHO_DAYS ? days : STOCK_RHO_DAYS - 1];
	*out = div_up(price * fish->weight_g * percent, 100) +
	    COIN * (days < DAY_COINS_MAX ? days : DAY_COINS_MAX);
	return RC_OK;
}

int64_t
stock_keep_credit(int64_t cost, int pieces, day_no service, day_no use_by)
{
	assert(cost >= 0 && cost <= INT64_MAX / 100);
	assert(pieces >= 1);
	if (use_by <= service)
		return 0;
	return div_down(cost * KEEP_PERCENT, (int64_t)100 * pieces);
}

/* --- inversions ------------------------------------------------------------*/

/* The gravest thing said against `earlier` for what came out of `later`. */
static enum stock_reason
pair_reason(const struct stock_outcome *o, size_t earlier, size_t later)
{
	const enum stock_reason *why = &o->why[earlier * o->dish_count];
	const bool *made = &o->made[later * o->dish_count];
	enum stock_reason worst = STOCK_USABLE, any = STOCK_USABLE;
	bool portions = false, serves = false;
	size_t d;

	for (d = 0; d < o->dish_count; d++) {
		serves = serves || why[d] == STOCK_USABLE;
		if (why[d] < any)
			any = why[d];
		if (!made[d])
			continue;
		portions = true;
		if (why[d] < worst)
			worst = why[d];
	}
	if (!portions && !serves)
		worst = any;
	return worst == STOCK_USABLE ? STOCK_COST : worst;
}

static enum rc
check_outcome(const struct stock_outcome *o, struct err *err)
{
	size_t i;

	if (o->batch_count > STOCK_BATCHES_MAX)
		return err_set(err, RC_INVALID, 0, "%zu batches, at most %d",
		    o->batch_count, STOCK_BATCHES_MAX);
	for (i = 0; i < o->batch_count; i++)
		if (o->batches[i].opened < 0 || o->batches[i].closed < 0)
			return err_set(err, RC_INVALID, 0,
			    "batch %zu: fewer than no fish opened or closed",
			    i + 1);
	return RC_OK;
}

static bool
inverted(const struct stock_left *earlier, const struct stock_left *later)
{
	return earlier->species == later->species &&
	    earlier->use_by_utc < later->use_by_utc && earlier->closed > 0 &&
	    later->opened > 0;
}

enum rc
stock_inversions(struct stock_inversion **out, size_t *count,
    const struct stock_outcome *o, struct err *err)
{
	struct stock_inversion *items = NULL;
	size_t i, j, n = 0, cap = 0;
	enum rc rc;

	*out = NULL;
	*count = 0;
	if ((rc = check_outcome(o, err)) != RC_OK)
		return rc;
	for (i = 0; i < o->batch_count; i++)
		for (j = 0; j < o->batch_count; j++) {
			if (!inverted(&o->batches[i], &o->batches[j]))
				continue;
			items = grow(items, &cap, n, sizeof(*items));
			items[n].earlier = i;
			items[n].later = j;
			items[n++].reason = pair_reason(o, i, j);
		}
	*out = items;
	*count = n;
	return RC_OK;
}
