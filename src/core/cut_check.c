/*
 * What may be asked of the cut plan, and the check of a finished one.
 *
 * cut_check() shares nothing with the search: it adds up portions, and splits
 * the trim by paths, where the search counts sets of pools.
 */
#include "core/cutplan.h"

#include <inttypes.h>
#include <string.h>

#define MONEY_SUM_MAX ((int64_t)1 << 61)
#define POOL_MAX_G ((grams)CUT_FISH_MAX * CUT_FISH_MAX_G)

/* --- the question ----------------------------------------------------------*/

static bool
in(int64_t v, int64_t min, int64_t max)
{
	return v >= min && v <= max;
}

/* Adds a * b * c; false when the sum leaves the range. */
static bool
add(int64_t *sum, int64_t a, int64_t b, int64_t c)
{
	int64_t v;

	if (__builtin_mul_overflow(a, b, &v) ||
	    __builtin_mul_overflow(v, c, &v) ||
	    __builtin_add_overflow(*sum, v, sum))
		return false;
	return *sum <= MONEY_SUM_MAX;
}

static enum rc
dish_check(const struct cut_dish *d, size_t no, struct err *err)
{
	const char *bad = NULL;

	if (!in(d->wanted, 0, CUT_WANTED_MAX))
		bad = "portions wanted are not 0 to 10000";
	else if (!(0 < d->low_g && d->low_g <= d->target_g &&
		     d->target_g <= d->high_g && d->high_g <= CUT_FISH_MAX_G))
		bad = "weights are not 0 < low <= target <= high <= 200 kg";
	else if (!in(d->short_cost, 0, CUT_MONEY_MAX) ||
	    !in(d->under_price, 0, CUT_MONEY_MAX))
		bad = "a price is below 0 or above 10^11";
	else if (d->species >> CUT_SPECIES_MAX != 0)
		bad = "a species is above 16";
	else if (d->serve != SERVE_CUT && d->serve != SERVE_PIECE &&
	    d->serve != SERVE_WHOLE)
		bad = "it is served neither cut nor as a piece nor whole";
	if (bad != NULL)
		return err_set(err, RC_INVALID, 0, "dish %zu: %s", no, bad);
	return RC_OK;
}

static enum rc
pool_check(const struct cut_pool *k, size_t no, struct err *err)
{
	const char *bad = NULL;

	if (!in(k->wanted_g, 0, POOL_MAX_G))
		bad = "grams wanted are out of range";
	else if (!in(k->price, 0, CUT_MONEY_MAX))
		bad = "the price is below 0 or above 10^11";
	else if (k->species >> CUT_SPECIES_MAX != 0)
		bad = "a species is above 16";
	if (bad != NULL)
		return err_set(
		    err, RC_INVALID, 0, "trim pool %zu: %s", no, bad);
	return RC_OK;
}

static const char *
way_bad(const struct cut_way *w)
{
	if (!in(w->pieces, 1, CUT_PIECES_MAX))
		return "pieces are not 1 to 8";
	if (!in(w->piece_g, 0, CUT_PIECE_MAX_G))
		return "a piece is not 0 to 20 kg";
	if (!in(w->thick_g, 0, w->piece_g))
		return "the thick part is heavier than the piece, or below 0";
	if (!in(w->keep, 0, CUT_MONEY_MAX))
		return "the credit for a piece is below 0 or above 10^11";
	if (!in(w->byproduct_g, 0, CUT_FISH_MAX_G))
		return "the trim beside the pieces is not 0 to 200 kg";
	return NULL;
}

/* Does some dish take this fish whole? */
static bool
fits_whole(const struct cut_problem *p, const struct cut_fish *f)
{
	const struct cut_dish *d;
	size_t i;

	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		if (d->serve == SERVE_WHOLE &&
		    (d->species >> f->species & 1) != 0 &&
		    in(f->whole_g, d->low_g, d->high_g))
			return true;
	}
	return false;
}

static enum rc
fish_check(const struct cut_problem *p, size_t no, struct err *err)
{
	const struct cut_fish *f = &p->fish[no - 1];
	const char *bad = NULL;
	int i;

	if (!in(f->species, 0, CUT_SPECIES_MAX - 1))
		bad = "its species is not 0 to 15";
	else if (!in(f->whole_g, 0, CUT_FISH_MAX_G))
		bad = "its weight is not 0 to 200 kg";
	else if (!in(f->cost, 0, CUT_MONEY_MAX))
		bad = "its cost is below 0 or above 10^11";
	else if (f->pin != PIN_NONE && f->pin != PIN_CLOSED &&
	    f->pin != PIN_OPEN && f->pin != PIN_WHOLE)
		bad = "the pin is none of the four";
	else if (!in(f->way_count, 0, CUT_WAYS_MAX))
		bad = "ways to open it are not 0 to 2";
	for (i = 0; bad == NULL && i < f->way_count; i++)
		bad = way_bad(&f->ways[i]);
	if (bad == NULL && f->pin == PIN_OPEN && f->way_count == 0 &&
	    !fits_whole(p, f))
		bad = "must be opened, but has no way and fits no dish whole";
	if (bad != NULL)
		return err_set(err, RC_INVALID, 0, "fish %zu: %s", no, bad);
	return RC_OK;
}

/* The most one gram of a piece can be worth or cost, in any plan. */
static bool
piece_sum(int64_t *sum, const struct cut_problem *p, const struct cut_way *w,
    int64_t trim_price)
{
	const struct cut_dish *d;
	int64_t most = 0, v;
	size_t i;

	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		if (d->serve == SERVE_WHOLE)
			continue;
		v = d->short_cost + d->under_price * (d->target_g - d->low_g);
		if (__builtin_mul_overflow(v, div_up(w->piece_g, d->low_g), &v))
			return false;
		if (v > most)
			most = v;
	}
	return add(sum, most, w->pieces, 1) &&
	    add(sum, w->keep, w->pieces, 1) &&
	    add(sum, trim_price, w->pieces, w->piece_g) &&
	    add(sum, trim_price, w->byproduct_g, 1);
}

/* The most a fish served whole can cost for being under its target. */
static int64_t
whole_under(const struct cut_problem *p)
{
	const struct cut_dish *d;
	int64_t most = 0;
	size_t i;

	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		if (d->serve == SERVE_WHOLE &&
		    d->under_price * (d->target_g - d->low_g) > most)
			most = d->under_price * (d->target_g - d->low_g);
	}
	return most;
}

static bool
sums_fit(const struct cut_problem *p)
{
	int64_t sum = 0, trim_price = 0;
	size_t i;
	int j;

	for (i = 0; i < p->dish_count; i++)
		if (!add(&sum, p->dishes[i].short_cost, p->dishes[i].wanted, 1))
			return false;
	for (i = 0; i < p->pool_count; i++) {
		if (!add(&sum, p->pools[i].price, p->pools[i].wanted_g, 1))
			return false;
		if (p->pools[i].price > trim_price)
			trim_price = p->pools[i].price;
	}
	for (i = 0; i < p->fish_count; i++) {
		if (!add(&sum, p->fish[i].cost, 1, 1) ||
		    !add(&sum, whole_under(p), 1, 1))
			return false;
		for (j = 0; j < p->fish[i].way_count; j++)
			if (!piece_sum(
				&sum, p, &p->fish[i].ways[j], trim_price))
				return false;
	}
	return true;
}

/*
 * Grams a portion may lack, times portions out of the heaviest piece: beyond
 * this the tables of a priced band take minutes.  A kitchen stays under a tenth
 * of it: 20 kg in portions of 150 to 165 g are 2 000.
 */
#define BAND_STEPS_MAX 100000

static enum rc
bands_check(const struct cut_problem *p, struct err *err)
{
	const struct cut_dish *d;
	grams most = 0;
	size_t i;
	int j;

	for (i = 0; i < p->fish_count; i++)
		for (j = 0; j < p->fish[i].way_count; j++)
			if (p->fish[i].ways[j].piece_g > most)
				most = p->fish[i].ways[j].piece_g;
	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		if (d->serve == SERVE_CUT && d->under_price > 0 &&
		    most / d->low_g * (d->target_g - d->low_g) > BAND_STEPS_MAX)
			return err_set(err, RC_INVALID, 0,
			    "dish %zu: from %" PRId64 " to %" PRId64
			    " g is too wide a band for pieces of %" PRId64
			    " g: raise its low weight",
			    i + 1, d->low_g, d->target_g, most);
	}
	return RC_OK;
}

enum rc
cut_problem_check(const struct cut_problem *p, struct err *err)
{
	enum rc rc;
	size_t i;

	if (p->dish_count > CUT_DISHES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu dishes, at most %d in one cut plan", p->dish_count,
		    CUT_DISHES_MAX);
	if (p->pool_count > CUT_POOLS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu trim pools, at most %d in one cut plan", p->pool_count,
		    CUT_POOLS_MAX);
	if (p->fish_count > CUT_FISH_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu fish, at most %d in one cut plan", p->fish_count,
		    CUT_FISH_MAX);
	if (!in(p->within, 1, MONEY_SUM_MAX))
		return err_set(err, RC_INVALID, 0,
		    "the gap that counts as proved is not 1 to 2^61");
	for (i = 0; i < p->dish_count; i++)
		if ((rc = dish_check(&p->dishes[i], i + 1, err)) != RC_OK)
			return rc;
	for (i = 0; i < p->pool_count; i++)
		if ((rc = pool_check(&p->pools[i], i + 1, err)) != RC_OK)
			return rc;
	for (i = 0; i < p->fish_count; i++)
		if ((rc = fish_check(p, i + 1, err)) != RC_OK)
			return rc;
	if (!sums_fit(p))
		return err_set(err, RC_INVALID, 0,
		    "the costs add up beyond 2^61; lower the prices");
	return bands_check(p, err);
}

/* --- the answer ------------------------------------------------------------*/

struct tally {
	struct cut_plan *plan;
	const struct cut_problem *p;
	grams trim[CUT_SPECIES_MAX];
	int64_t cost;
};

static enum rc
wrong(size_t fish, int piece, const char *what, struct err *err)
{
	if (piece < 0)
		return err_set(
		    err, RC_INVALID, 0, "fish %zu: %s", fish + 1, what);
	return err_set(err, RC_INVALID, 0, "fish %zu, piece %d: %s", fish + 1,
	    piece + 1, what);
}

static const char *
portion_bad(const struct tally *t, const struct cut_fish *f,
    const struct cut_way *way, const struct cut_piece *piece, size_t i)
{
	const struct cut_portion *c = &piece->cuts[i];
	const struct cut_dish *d;

	if (c->dish < 0 || (size_t)c->dish >= t->p->dish_count)
		return "a portion of no dish";
	d = &t->p->dishes[c->dish];
	if (d->serve == SERVE_WHOLE)
		return "a portion of a dish served as a whole fish";
	if ((d->species >> f->species & 1) == 0)
		return "a portion of a dish of other species";
	if ((way->dishes >> c->dish & 1) == 0)
		return "a portion that this way of opening does not give";
	if (!in(c->portion_g, d->low_g, d->high_g))
		return "a portion outside its weights";
	if (d->serve == SERVE_PIECE &&
	    (piece->cut_count != 1 || c->portion_g != way->piece_g))
		return "a piece served as it is that was cut";
	return NULL;
}

static enum rc
piece_add(struct tally *t, size_t no, const struct cut_way *way, int piece_no,
    struct err *err)
{
	const struct cut_fish *f = &t->p->fish[no];
	const struct cut_piece *piece = &t->plan->fish[no].pieces[piece_no];
	const struct cut_dish *d;
	grams sum = 0, target = 0, thick = 0, spare;
	const char *bad;
	size_t i;

	if (piece->kept && (piece->cut_count > 0 || piece->trim_g != 0))
		return wrong(no, piece_no, "left whole, and cut", err);
	if (piece->kept) {
		t->cost -= way->keep;
		return RC_OK;
	}
	for (i = 0; i < piece->cut_count; i++) {
		if ((bad = portion_bad(t, f, way, piece, i)) != NULL)
			return wrong(no, piece_no, bad, err);
		d = &t->p->dishes[piece->cuts[i].dish];
		sum += piece->cuts[i].portion_g;
		target += d->serve == SERVE_PIECE ? way->piece_g : d->target_g;
		if (d->thick)
			thick += d->low_g;
		if (piece->cuts[i].portion_g < d->target_g)
			t->cost += d->under_price *
			    (d->target_g - piece->cuts[i].portion_g);
		t->plan->made[piece->cuts[i].dish]++;
	}
	if (piece->trim_g < 0 || sum + piece->trim_g != way->piece_g)
		return wrong(no, piece_no,
		    "portions and trim are not the weight of the piece", err);
	if (thick > way->thick_g)
		return wrong(no, piece_no,
		    "more than the thick part holds is cut from it", err);
	spare = way->piece_g - target;
	if (spare > piece->trim_g)
		spare = piece->trim_g;
	if (spare > 0)
		t->trim[f->species] += spare;
	return RC_OK;
}

static const char *
choice_bad(const struct tally *t, size_t no)
{
	const struct cut_fish *f = &t->p->fish[no];
	const struct cut_choice *c = &t->plan->fish[no];
	const struct cut_dish *d;

	if (f->pin == PIN_CLOSED && c->mode != MODE_CLOSED)
		return "is opened, but must stay closed";
	if (f->pin == PIN_OPEN && c->mode == MODE_CLOSED)
		return "stays closed, but must be opened";
	if (f->pin == PIN_WHOLE && c->mode != MODE_WHOLE && fits_whole(t->p, f))
		return "must be served whole";
	if (c->mode == MODE_CLOSED)
		return NULL;
	if (c->mode == MODE_CUT)
		return in(c->way, 0, f->way_count - 1) && c->pieces != NULL
		    ? NULL
		    : "is opened in a way it does not have";
	if (c->mode != MODE_WHOLE)
		return "is neither closed, whole nor cut";
	if (c->dish < 0 || (size_t)c->dish >= t->p->dish_count)
		return "is served whole for no dish";
	d = &t->p->dishes[c->dish];
	if (d->serve != SERVE_WHOLE || (d->species >> f->species & 1) == 0 ||
	    !in(f->whole_g, d->low_g, d->high_g))
		return "is served whole for a dish that does not take it";
	return NULL;
}

static enum rc
choice_add(struct tally *t, size_t no, struct err *err)
{
	const struct cut_fish *f = &t->p->fish[no];
	const struct cut_choice *c = &t->plan->fish[no];
	const struct cut_dish *d;
	const struct cut_way *way;
	const char *bad;
	enum rc rc;
	int i;

	if ((bad = choice_bad(t, no)) != NULL)
		return wrong(no, -1, bad, err);
	if (c->mode == MODE_CLOSED)
		return RC_OK;
	t->cost += f->cost;
	if (c->mode == MODE_WHOLE) {
		d = &t->p->dishes[c->dish];
		if (f->whole_g < d->target_g)
			t->cost += d->under_price * (d->target_g - f->whole_g);
		t->plan->made[c->dish]++;
		return RC_OK;
	}
	way = &f->ways[c->way];
	t->trim[f->species] += way->byproduct_g;
	for (i = 0; i < way->pieces; i++)
		if ((rc = piece_add(t, no, way, i, err)) != RC_OK)
			return rc;
	return RC_OK;
}

/* What pool k got from species s so far. */
struct split {
	grams left[CUT_SPECIES_MAX];
	grams got[CUT_POOLS_MAX][CUT_SPECIES_MAX];
	uint32_t seen; /* pools on the path */
};

/*
 * Up to `want` grams for pool k: from a species with trim left, or from one
 * whose trim another pool has and can replace.
 */
static grams
split_give(struct split *sp, const struct cut_problem *p, size_t k, grams want)
{
	grams give;
	size_t j;
	int s;

	sp->seen |= 1u << k;
	for (s = 0; s < CUT_SPECIES_MAX; s++) {
		if ((p->pools[k].species >> s & 1) == 0 || sp->left[s] == 0)
			continue;
		give = sp->left[s] < want ? sp->left[s] : want;
		sp->left[s] -= give;
		sp->got[k][s] += give;
		return give;
	}
	for (s = 0; s < CUT_SPECIES_MAX; s++) {
		if ((p->pools[k].species >> s & 1) == 0)
			continue;
		for (j = 0; j < p->pool_count; j++) {
			if ((sp->seen >> j & 1) != 0 || sp->got[j][s] == 0)
				continue;
			give = sp->got[j][s] < want ? sp->got[j][s] : want;
			give = split_give(sp, p, j, give);
			sp->got[j][s] -= give;
			sp->got[k][s] += give;
			if (give > 0)
				return give;
		}
	}
	return 0;
}

static void
trim_split(struct tally *t)
{
	const struct cut_problem *p = t->p;
	struct split sp;
	uint32_t done = 0;
	size_t i, k, best;
	grams give, want;

	memset(&sp, 0, sizeof(sp));
	memcpy(sp.left, t->trim, sizeof(sp.left));
	for (i = 0; i < p->pool_count; i++) {
		best = p->pool_count;
		for (k = 0; k < p->pool_count; k++)
			if ((done >> k & 1) == 0 &&
			    (best == p->pool_count ||
				p->pools[k].price > p->pools[best].price))
				best = k;
		done |= 1u << best;
		want = p->pools[best].wanted_g;
		do {
			sp.seen = 0;
			give = want == 0 ? 0 : split_give(&sp, p, best, want);
			want -= give;
		} while (give > 0);
		t->plan->trim_g[best] = p->pools[best].wanted_g - want;
		t->plan->trim_short_g[best] = want;
		t->cost += p->pools[best].price * want;
	}
}

enum rc
cut_check(struct cut_plan *plan, const struct cut_problem *p, struct err *err)
{
	struct tally t;
	enum rc rc;
	size_t i;

	if (plan->fish_count != p->fish_count)
		return err_set(err, RC_INVALID, 0,
		    "the plan is for %zu fish, there are %zu", plan->fish_count,
		    p->fish_count);
	memset(&t, 0, sizeof(t));
	t.plan = plan;
	t.p = p;
	memset(plan->made, 0, sizeof(plan->made));
	memset(plan->short_of, 0, sizeof(plan->short_of));
	memset(plan->trim_g, 0, sizeof(plan->trim_g));
	memset(plan->trim_short_g, 0, sizeof(plan->trim_short_g));
	for (i = 0; i < p->fish_count; i++)
		if ((rc = choice_add(&t, i, err)) != RC_OK)
			return rc;
	for (i = 0; i < p->dish_count; i++) {
		if (plan->made[i] >= p->dishes[i].wanted)
			continue;
		plan->short_of[i] = p->dishes[i].wanted - plan->made[i];
		t.cost += p->dishes[i].short_cost * plan->short_of[i];
	}
	trim_split(&t);
	plan->cost = t.cost;
	return RC_OK;
}
