/*
 * bench_demand.c - targets by rule of thumb and by core/demand, in an invented
 * house whose true demand is known.
 *
 * The world: dinner seven days a week; 70 to 140 booked by weekday, give or
 * take 12; parties of 1 to 6 that come with chance 0.93; walk-ins negative
 * binomial, mean 12 % of the booked, size 4; five fish dishes with 46 % of the
 * covers, shares that drift, 15 % more of them on Fridays, and differ from day
 * to day as Dirichlet(200).  42 services to learn from, then 60 counted.  Every
 * rule sees the same nights, and only what was known before each of them.  All
 * of it is invented; what it shows is how the rules compare, not what a house
 * will see.
 *
 * Usage: bench_demand [repetitions]
 */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/err.h"
#include "base/units.h"
#include "core/demand.h"

#define DISHES 5
#define LEARN 42
#define SCORED 60
#define NIGHTS (LEARN + SCORED)
#define FIRST_DAY (DAY_MIN + 9000)
#define PARTY_MAX 6

/* Lost by one short, and by one thrown away, in coins. */
static const int under[DISHES] = { 9, 14, 8, 20, 6 };
static const int over[DISHES] = { 4, 6, 2, 13, 1 };
static const double true_share[DISHES] = { .13, .11, .09, .08, .05 };
static const double party_chance[PARTY_MAX] = { .06, .44, .13, .24, .06, .07 };
static const int weekday_booked[7] = { 70, 80, 90, 105, 130, 140, 100 };

/* --- chance ------------------------------------------------------------- */

static uint64_t state;

/* splitmix64 (Steele, Lea and Flood 2014). */
static uint64_t
next(void)
{
	uint64_t z = state += UINT64_C(0x9e3779b97f4a7c15);

	z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
	z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
	return z ^ (z >> 31);
}

static double
uniform(void)
{
	return ((double)(next() >> 11) + .5) / 9007199254740992.0;
}

static double
normal(void)
{
	return sqrt(-2 * log(uniform())) * cos(2 * acos(-1) * uniform());
}

/* Marsaglia and Tsang 2000. */
static double
gamma_draw(double shape)
{
	double d, c, x, v;

	if (shape < 1)
		return gamma_draw(shape + 1) * pow(uniform(), 1 / shape);
	d = shape - 1.0 / 3;
	c = 1 / sqrt(9 * d);
	for (;;) {
		x = normal();
		v = 1 + c * x;
		v = v * v * v;
		if (v > 0 &&
		    log(uniform()) < x * x / 2 + d - d * v + d * log(v))
			return d * v;
	}
}

static int
poisson_draw(double mean)
{
	double p = exp(-mean), s = p, u = uniform();
	int x = 0;

	while (u > s && x < 10000) {
		p *= mean / ++x;
		s += p;
	}
	return x;
}

/* --- the world ---------------------------------------------------------- */

struct world {
	struct demand_past past[NIGHTS + 1];
	struct demand_sold sold[(NIGHTS + 1) * DISHES];
	int share_bp[DEMAND_SITTINGS_MAX * DISHES];
};

static int
party_draw(void)
{
	double u = uniform();
	int k = 0;

	while (k + 1 < PARTY_MAX && u >= party_chance[k])
		u -= party_chance[k++];
	return k + 1;
}

static void
guests_draw(struct demand_past *p)
{
	int target = weekday_booked[day_weekday(p->day)];
	int sizes[200];
	size_t n = 0;

	target += (int)floor(uniform() * 25) - 12;
	p->booked = p->seated = 0;
	while (p->booked < target) {
		sizes[n] = party_draw();
		p->booked += sizes[n];
		if (uniform() < .93)
			p->seated += sizes[n];
		n++;
	}
	p->party_factor_c = demand_party_factor(sizes, n);
	p->walk_ins = poisson_draw(gamma_draw(4) * .12 * p->booked / 4);
	p->covers = DEMAND_UNKNOWN;
}

/* What each guest orders, with this night's shares. */
static void
orders_draw(struct demand_sold *sold, const double *share, int guests)
{
	double own[DISHES + 1], sum = 0, rest = 1, u;
	int d, i;

	for (d = 0; d <= DISHES; d++) {
		own[d] = gamma_draw(200 * (d < DISHES ? share[d] : rest));
		rest -= d < DISHES ? share[d] : 0;
		sum += own[d];
	}
	for (d = 0; d < DISHES; d++) {
		sold[d].portions = 0;
		sold[d].ran_out_at = DEMAND_UNKNOWN;
	}
	for (i = 0; i < guests; i++) {
		u = uniform() * sum;
		for (d = 0; d < DISHES && u >= own[d]; d++)
			u -= own[d];
		if (d < DISHES)
			sold[d].portions++;
	}
}

static void
world_draw(struct world *w)
{
	double drift[DISHES] = { 0 }, share[DISHES];
	struct demand_past *p;
	int d, t;

	for (d = 0; d < DEMAND_SITTINGS_MAX * DISHES; d++)
		w->share_bp[d] = DEMAND_UNKNOWN;
	for (d = 0; d < DISHES; d++)
		w->share_bp[d] = (int)lround(true_share[d] * BP_ONE);
	for (t = 0; t <= NIGHTS; t++) {
		p = &w->past[t];
		p->day = FIRST_DAY + t;
		p->sitting = 0;
		guests_draw(p);
		for (d = 0; d < DISHES; d++) {
			drift[d] = drift[d] * .99 + .03 * normal();
			share[d] = true_share[d] * exp(drift[d]) *
			    (day_weekday(p->day) == 4 ? 1.15 : 1);
		}
		orders_draw(
		    &w->sold[t * DISHES], share, p->seated + p->walk_ins);
	}
}

/* --- the rules ---------------------------------------------------------- */

enum how { FLAT, MENU_FLAT, OWN_RATIO, ONE_RATIO };

struct rule {
	const char *what;
	enum how how;
	int figure; /* percent, or the ratio in 1/10 000 */
	int life;   /* the forecast is told */
};

static const struct rule one_night[] = {
	{ "booked x share x 1.0", FLAT, 100, 1 },
	{ "booked x share x 1.1", FLAT, 110, 1 },
	{ "booked x share x 1.2", FLAT, 120, 1 },
	{ "booked x share x 1.3", FLAT, 130, 1 },
	{ "booked x share x 1.4", FLAT, 140, 1 },
	{ "booked x menu share x 1.1", MENU_FLAT, 110, 1 },
	{ "quantile at cu/(cu+co)", OWN_RATIO, 0, 1 },
	{ "quantile .90 for all", ONE_RATIO, 9000, 1 },
	{ "quantile .95 for all", ONE_RATIO, 9500, 1 },
};

static const struct rule keeps[] = {
	{ "booked x share x 1.0", FLAT, 100, 1 },
	{ "booked x share x 1.1", FLAT, 110, 1 },
	{ "booked x share x 1.2", FLAT, 120, 1 },
	{ "booked x share x 1.3", FLAT, 130, 1 },
	{ "booked x share x 1.4", FLAT, 140, 1 },
	{ "booked x menu share x 1.1", MENU_FLAT, 110, 1 },
	{ "quantile at cu/(cu+co) (wrong here)", OWN_RATIO, 0, 1 },
	{ "quantile .90 for all", ONE_RATIO, 9000, 1 },
	{ "quantile .92 for all", ONE_RATIO, 9200, 1 },
	{ "quantile .95 for all", ONE_RATIO, 9500, 1 },
	{ "life-window rule, h = 0", OWN_RATIO, 0, 2 },
};

#define RULES_MAX 16

static void
die(const struct err *err)
{
	fprintf(stderr, "bench_demand: %s\n", err->text);
	exit(1);
}

static struct demand_dish
dish_of(const struct rule *r, int d)
{
	struct demand_dish dish = { 0 };
	bool one = r->how == ONE_RATIO;

	dish.cost = one ? BP_ONE - r->figure : (int64_t)over[d] * 1000;
	dish.price = one ? BP_ONE : (int64_t)(under[d] + over[d]) * 1000;
	dish.life = r->life;
	return dish;
}

static struct demand_asked
asked_of(const struct demand_past *p)
{
	struct demand_asked a = { p->day, p->sitting, p->booked, DEMAND_UNKNOWN,
		NULL, 0, p->party_factor_c, NULL };

	return a;
}

static void
targets(int *out, const struct rule *r, const struct demand_model *m,
    const struct world *w, int t)
{
	struct demand_asked asked[2] = { asked_of(&w->past[t]),
		asked_of(&w->past[t + 1]) };
	struct demand_dish dishes[DISHES];
	struct demand_forecast f;
	struct err err = { 0 };
	int64_t flat;
	int d, bp;

	for (d = 0; d < DISHES; d++)
		dishes[d] = dish_of(r, d);
	if (demand_forecast(&f, m, asked, (size_t)r->life, dishes, &err) !=
	    RC_OK)
		die(&err);
	for (d = 0; d < DISHES; d++) {
		bp = r->how == MENU_FLAT ? w->share_bp[d] : f.lines[d].share_bp;
		flat = (int64_t)w->past[t].booked * bp * r->figure;
		out[d] = f.lines[d].target;
		if (r->how == FLAT || r->how == MENU_FLAT)
			out[d] = (int)div_up(flat, (int64_t)BP_ONE * 100);
	}
	demand_forecast_fini(&f);
}

/* --- what came of it ---------------------------------------------------- */

struct result {
	double outs, any, missed, binned, met;
	double cost, pinball; /* this repetition */
	double sum, sum_sq;   /* cost a service, over the repetitions */
	double pinball_sum;
	double gap, gap_sq; /* cost beyond the rule compared with */
	int left[DISHES];   /* made a service ago */
};

/* A night of one rule; portions keep for `life` services in truth. */
static void
night(struct result *r, const int *target, const struct demand_sold *sold,
    int life)
{
	int d, y, old, made, short_of, bin;
	bool any = false;
	double ratio;

	for (d = 0; d < DISHES; d++) {
		y = sold[d].portions;
		old = r->left[d];
		made = target[d] > old ? target[d] - old : 0;
		short_of = y > old + made ? y - old - made : 0;
		bin = old > y ? old - y : 0;
		/* The oldest go first; what is left of tonight's keeps. */
		r->left[d] = made - (y - (old - bin) - short_of);
		if (life == 1) {
			bin += r->left[d];
			r->left[d] = 0;
		}
		any |= short_of > 0;
		r->outs += short_of > 0;
		r->missed += short_of;
		r->binned += bin;
		r->met += y <= target[d];
		r->cost += under[d] * short_of + over[d] * bin;
		ratio = (double)under[d] / (under[d] + over[d]);
		r->pinball += y > target[d] ? ratio * (y - target[d])
					    : (1 - ratio) * (target[d] - y);
	}
	r->any += any;
}

static void
repetition(struct result *one, struct result *two, double *asked_for)
{
	static struct world w;
	struct demand_record record = { w.past, 0, DISHES, w.sold, w.share_bp };
	struct demand_model *m;
	struct err err = { 0 };
	int q[DISHES];
	size_t i, d;
	int t;

	world_draw(&w);
	for (t = LEARN; t < NIGHTS; t++) {
		record.past_count = (size_t)t;
		if (demand_learn(&m, &record, &err) != RC_OK)
			die(&err);
		for (i = 0; i < sizeof(one_night) / sizeof(one_night[0]); i++) {
			targets(q, &one_night[i], m, &w, t);
			night(&one[i], q, &w.sold[t * DISHES], 1);
		}
		for (i = 0; i < sizeof(keeps) / sizeof(keeps[0]); i++) {
			targets(q, &keeps[i], m, &w, t);
			night(&two[i], q, &w.sold[t * DISHES], 2);
		}
		for (d = 0; d < DISHES; d++)
			*asked_for += w.sold[(size_t)t * DISHES + d].portions;
		demand_free(m);
	}
}

/* Close a repetition; `to` is the row the others are compared with. */
static void
take_in(struct result *r, size_t count, size_t to)
{
	double base = r[to].cost / SCORED;
	size_t i;

	for (i = 0; i < count; i++) {
		double cost = r[i].cost / SCORED;

		r[i].sum += cost;
		r[i].sum_sq += cost * cost;
		r[i].gap += cost - base;
		r[i].gap_sq += (cost - base) * (cost - base);
		r[i].pinball_sum += r[i].pinball / SCORED / DISHES;
		r[i].cost = r[i].pinball = 0;
		memset(r[i].left, 0, sizeof(r[i].left));
	}
}

static double
std_err(double sum, double sum_sq, int n)
{
	double var = (sum_sq - sum * sum / n) / (n > 1 ? n - 1 : 1);

	return sqrt(fmax(var, 0) / n);
}

static void
show(const char *title, const struct rule *rules, const struct result *r,
    size_t count, int reps)
{
	double n = (double)reps * SCORED;
	size_t i;

	printf("# %s\n", title);
	printf(
	    "rule\tdish_stock_out_%%\tservices_with_any_%%\tshort\t"
	    "binned\tcost\tmore_than_ours\tstd_err\tmet_%%\tpinball\n");
	for (i = 0; i < count; i++)
		printf(
		    "%s\t%.1f\t%.1f\t%.2f\t%.2f\t%.1f\t%.1f\t%.1f\t%.1f\t"
		    "%.3f\n",
		    rules[i].what, 100 * r[i].outs / n / DISHES,
		    100 * r[i].any / n, r[i].missed / n, r[i].binned / n,
		    r[i].sum / reps, r[i].gap / reps,
		    std_err(r[i].gap, r[i].gap_sq, reps),
		    100 * r[i].met / n / DISHES, r[i].pinball_sum / reps);
}

int
main(int argc, char **argv)
{
	static struct result one[RULES_MAX], two[RULES_MAX];
	const size_t ones = sizeof(one_night) / sizeof(one_night[0]);
	const size_t twos = sizeof(keeps) / sizeof(keeps[0]);
	struct err err = { 0 };
	double asked_for = 0;
	int64_t reps = 40, start = clock_ticks_ms();
	int i;

	if (argc > 1 &&
	    int_parse(&reps, "repetitions", argv[1], 1, 10000, &err) != RC_OK)
		die(&err);
	state = 20260101;
	for (i = 0; i < reps; i++) {
		repetition(one, two, &asked_for);
		take_in(one, ones, 6);
		take_in(two, twos, twos - 1);
	}
	printf("# %" PRId64
	       " repetitions of %d services after %d; %.1f "
	       "portions asked a service; costs in coins a service\n",
	    reps, SCORED, LEARN, asked_for / (double)reps / SCORED);
	show("portions die the same night", one_night, one, ones, (int)reps);
	show("portions keep one more service", keeps, two, twos, (int)reps);
	printf("# took %.1f s\n", (double)(clock_ticks_ms() - start) / 1000);
	return 0;
}
