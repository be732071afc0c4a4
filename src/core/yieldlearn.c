/* yieldlearn.c - yields that learn: a local-level filter. */
#include "core/yieldlearn.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"

#define LEVEL_MAX 1000000000

/* Quantiles of the standard normal distribution in 1/10 000, from its table:
 * 20 % below 0.8416, 80 % within 1.2816. */
#define Z_LOW 8416
#define Z_80 12816

#define BP_E8 (YIELD_E8 / BP_ONE)
#define MEAN_MIN BP_E8
#define MEAN_MAX (YIELD_E8 - BP_E8)

/* Standard deviation in 1/10 000 to variance in 1/10^10. */
#define VAR_E10(sd_bp) ((int64_t)(sd_bp) * (sd_bp)*100)

/* a / b rounded to nearest, halves away from zero; b > 0. */
static int64_t
div_near(int64_t a, int64_t b)
{
	return a >= 0 ? (a + b / 2) / b : -((-a + b / 2) / b);
}

/* Smallest root with root * root >= v. */
static int64_t
root_up(int64_t v)
{
	int64_t low = 0, high = 3037000499, mid;

	while (low < high) {
		mid = low + (high - low) / 2;
		if (mid * mid >= v)
			high = mid;
		else
			low = mid + 1;
	}
	return low;
}

static int64_t
clamp(int64_t v, int64_t low, int64_t high)
{
	return v < low ? low : v > high ? high : v;
}

struct level_step
level_step(struct yield_level *l, int64_t y, int64_t q, int64_t r)
{
	struct level_step s;
	int64_t sum;

	s.prior_var = l->var + q;
	sum = s.prior_var + r;
	assert(r > 0 && r <= LEVEL_MAX && q >= 0 && l->var >= 0);
	assert(s.prior_var <= LEVEL_MAX);
	assert(l->mean >= -LEVEL_MAX && l->mean <= LEVEL_MAX);
	assert(y >= -LEVEL_MAX && y <= LEVEL_MAX);
	s.gain_e6 = div_near(s.prior_var * 1000000, sum);
	l->mean += div_near(s.prior_var * (y - l->mean), sum);
	/* (1 - K) P- = P- R / (P- + R) */
	l->var = div_near(s.prior_var * r, sum);
	return s;
}

/* --- the state of one yield ------------------------------------------------*/

static bool
known(const struct yield_state *s)
{
	return s->mean_e8 > 0;
}

static int64_t
obs_var_e10(int64_t fish)
{
	return VAR_E10(YIELD_DAY_SD_BP) +
	    VAR_E10(YIELD_FISH_SD_BP) / (fish < 1 ? 1 : fish);
}

static int64_t
obs_e8(const struct yield_obs *o)
{
	assert(o->in_g > 0 && o->out_g >= 0 && o->out_g <= o->in_g);
	return clamp(
	    div_near(o->out_g * YIELD_E8, o->in_g), MEAN_MIN, MEAN_MAX);
}

/* Variance of the next weighing, 1/10^10. */
static int64_t
next_var_e10(const struct yield_state *s, int64_t fish)
{
	return s->var_e10 + VAR_E10(YIELD_DRIFT_SD_BP) + obs_var_e10(fish);
}

struct yield_state
yield_start(const struct yield *published)
{
	struct yield_state s = { 0, 0, 0 };
	int sd, least;

	if (published == NULL)
		return s;
	sd = published->high_bp - published->bp;
	if (published->bp - published->low_bp > sd)
		sd = published->bp - published->low_bp;
	least = published->verified ? YIELD_START_SD_BP : YIELD_DOUBT_SD_BP;
	sd = (int)clamp(sd / 2, least, YIELD_START_MAX_BP);
	s.mean_e8 = clamp((int64_t)published->bp * BP_E8, MEAN_MIN, MEAN_MAX);
	s.var_e10 = VAR_E10(sd);
	return s;
}

struct yield_state
yield_start_supplier(const struct yield_state *species)
{
	struct yield_state s = { 0, 0, 0 };

	if (!known(species))
		return s;
	s.mean_e8 = species->mean_e8;
	s.var_e10 = VAR_E10(YIELD_SUPPLIER_SD_BP);
	return s;
}

bool
yield_plausible(const struct yield_state *s, const struct yield_obs *o)
{
	int64_t d = obs_e8(o) - s->mean_e8;

	/* Squares of 1/10^8 are 1/10^16: 10^6 of 1/10^10. */
	return !known(s) ||
	    d * d <=
	    YIELD_GATE_SD * YIELD_GATE_SD * next_var_e10(s, o->fish) * 1000000;
}

void
yield_learn(struct yield_state *s, const struct yield_obs *o)
{
	int64_t y = obs_e8(o), r = obs_var_e10(o->fish);
	struct yield_level l = { s->mean_e8, s->var_e10 };

	if (known(s)) {
		level_step(&l, y, VAR_E10(YIELD_DRIFT_SD_BP), r);
	} else {
		/* The filter's own answer to a start nobody knows. */
		l.mean = y;
		l.var = r;
	}
	s->mean_e8 = l.mean; /* between two that are within the bounds */
	s->var_e10 = l.var;
	s->count++;
}

void
yield_teach(struct yield_state *species, struct yield_state *supplier,
    const struct yield_obs *o)
{
	if (supplier->count == 0)
		*supplier = yield_start_supplier(species);
	yield_learn(species, o);
	yield_learn(supplier, o);
}

static int
down_bp(int64_t e8)
{
	return (int)(clamp(e8, MEAN_MIN, MEAN_MAX) / BP_E8);
}

static int
up_bp(int64_t e8)
{
	return (int)((clamp(e8, MEAN_MIN, MEAN_MAX) + BP_E8 - 1) / BP_E8);
}

struct yield_guess
yield_guess(const struct yield_state *s, int64_t fish)
{
	struct yield_guess g;
	/* 1/10^10 times 10^6 are 1/10^16, and their roots 1/10^8. */
	int64_t sd = root_up(next_var_e10(s, fish) * 1000000);
	int64_t mean_sd = root_up(s->var_e10 * 1000000);

	assert(known(s));
	g.mean_bp = down_bp(s->mean_e8);
	g.low_bp = down_bp(s->mean_e8 - sd * Z_LOW / 10000);
	g.sd_bp = (int)((sd + BP_E8 - 1) / BP_E8);
	g.from_bp = down_bp(s->mean_e8 - mean_sd * Z_80 / 10000);
	g.to_bp = up_bp(s->mean_e8 + mean_sd * Z_80 / 10000);
	g.gate_low_bp = down_bp(s->mean_e8 - sd * YIELD_GATE_SD);
	g.gate_high_bp = up_bp(s->mean_e8 + sd * YIELD_GATE_SD);
	return g;
}

int
yield_observed_bp(const struct yield_obs *o)
{
	return (int)div_down(o->out_g * BP_ONE, o->in_g);
}

/* --- which yield a breakdown teaches ---------------------------------------*/

bool
yield_key_make(struct yield_key *out, const char *species, enum yield_form from,
    enum cut_kind kind, bool skin_on)
{
	enum yield_form to = cut_form(kind, skin_on, from);
	bool steak = kind == CUT_TRONCON;

	memset(out, 0, sizeof(*out));
	if (kind == CUT_TRIM || (to == from && !steak))
		return false;
	out->from = from;
	if (!str_copy(out->species, sizeof(out->species), species) ||
	    !str_copy(out->cut, sizeof(out->cut),
		steak ? cut_word(kind) : yield_form_word(to)))
		assert(!"a code and a word fit");
	return true;
}

bool
yield_key_published(
    struct yield *out, const struct yield_table *t, const struct yield_key *key)
{
	enum yield_form to;

	return yield_form_parse(&to, key->cut, NULL) == RC_OK &&
	    yield_find(out, t, key->species, key->from, to, NULL) == RC_OK;
}

/* Offcuts are flesh of the same piece: they count as yield. */
static bool
trim_counts(const struct yield_part *p)
{
	return p->kind == CUT_FILLET || p->kind == CUT_SUPREME ||
	    p->kind == CUT_MEAT;
}

bool
yield_lesson(
    struct yield_key *key, struct yield_obs *obs, const struct yield_work *w)
{
	const struct yield_part *p, *first = NULL;
	grams trim = w->trim_g, out = 0;
	struct yield_key k;
	size_t i;

	for (i = 0; i < w->part_count; i++) {
		p = &w->parts[i];
		if (p->kind == CUT_TRIM) {
			trim += p->weight_g;
			continue;
		}
		out += p->weight_g;
		if (!yield_key_make(
			&k, w->species, w->from, p->kind, p->skin_on) ||
		    (first != NULL && !str_eq(k.cut, key->cut)))
			return false;
		if (first == NULL) {
			first = p;
			*key = k;
		}
	}
	if (first == NULL)
		return false;
	obs->in_g = w->in_g;
	obs->out_g = out + (trim_counts(first) ? trim : 0);
	obs->fish = w->fish;
	return obs->out_g > 0 && obs->out_g <= obs->in_g;
}
