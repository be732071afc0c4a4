/* demand_learn.c - the dishes' shares of the covers, learned with forgetting.
 *
 * A Dirichlet-multinomial over the dishes and all the rest.  Its margin for
 * one dish is a beta-binomial, so each dish keeps its own pair of portions and
 * covers; that lets a dish that ran out count the guests it was there for.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "demand_inner.h"

/*
 * How much of the past is kept from one service to the next; how many covers
 * of all weekdays stand beside those of the weekday asked; what the total may
 * weigh at most, that is how much the shares differ from day to day by more
 * than chance.  First in each row is used while the record is silent.  [ours]
 */
static const double forget[FORGET_COUNT] = { .98, .90, .95, .995 };
static const double lean[LEAN_COUNT] = { 300, 60 };
static const double cap[CAP_COUNT] = { 80, 40, 160, 320, 640, INFINITY };

/* Scores of long ago fade too: 0.99 keeps about the last hundred services. */
#define SCORE_KEEP .99
/* A share below the menu's own unit is still thought possible. */
#define SHARE_LEAST (1.0 / BP_ONE)

int
menu_share(const struct demand_record *r, int sitting, size_t dish)
{
	return r->share_bp[(size_t)sitting * r->dish_count + dish];
}

static double
menu_mean(const struct demand_record *r, int sitting, size_t dish)
{
	int bp = menu_share(r, sitting, dish);

	return bp > 0 ? (double)bp / BP_ONE : SHARE_LEAST;
}

void
mix_start(struct mix *x, const struct demand_record *r, int sitting)
{
	size_t n = r->dish_count;
	size_t g, d;

	x->pool = xcalloc(FORGET_COUNT * n, sizeof(x->pool[0]));
	x->weekday =
	    xcalloc(FORGET_COUNT * WEEKDAYS * n, sizeof(x->weekday[0]));
	x->taught = xcalloc(n, sizeof(x->taught[0]));
	for (g = 0; g < FORGET_COUNT; g++) {
		for (d = 0; d < n; d++) {
			x->pool[g * n + d].of =
			    DEMAND_MENU_WEIGHT * menu_mean(r, sitting, d);
			x->pool[g * n + d].all = DEMAND_MENU_WEIGHT;
		}
	}
}

void
mix_fini(struct mix *x)
{
	free(x->pool);
	free(x->weekday);
	free(x->taught);
}

/* The share on a weekday: that weekday's record beside some of all days'. */
static struct share
blend(
    const struct mix *x, size_t n, size_t g, size_t l, int weekday, size_t dish)
{
	const struct share *pool = &x->pool[g * n + dish];
	const struct share *day =
	    &x->weekday[(g * WEEKDAYS + (size_t)weekday) * n + dish];
	double weight = fmin(lean[l], pool->all);
	struct share s;

	s.of = weight * pool->of / pool->all + day->of;
	s.all = weight + day->all;
	return s;
}

/* Same mean, no more weight than the cap. */
static struct share
capped(struct share s, double most)
{
	double mean = fmin(fmax(s.of / s.all, SHARE_LEAST), 1 - SHARE_LEAST);

	s.all = fmin(s.all, most);
	s.of = mean * s.all;
	return s;
}

/* A product kept in range: its log is sum + log(product). */
struct product {
	double product, sum;
};

/*
 * Times a (a + 1) ... (a + n - 1); a gamma function for its log would cost
 * more at the counts of a service.  Learning spends its time here.
 */
static void
rise(struct product *p, double a, int n)
{
	int i;

	for (i = 0; i < n; i += 4) {
		if (p->product > 1e280) {
			p->sum += log(p->product);
			p->product = 1;
		}
		if (i + 4 <= n) {
			p->product *= ((a + i) * (a + i + 1)) *
			    ((a + i + 2) * (a + i + 3));
			continue;
		}
		for (; i < n; i++)
			p->product *= a + i;
	}
}

static double
log_of(const struct product *p)
{
	return p->sum + log(p->product);
}

/* What one past service says about one dish. */
struct evidence {
	bool known;   /* may be scored: neither silent nor sold out */
	bool teaches; /* may be learned from */
	double of, all;
};

static struct evidence
weigh(const struct demand_sold *s, int covers, double mean)
{
	struct evidence e = { false, false, 0, 0 };
	int all = covers;

	if (s->portions == DEMAND_UNKNOWN)
		return e;
	if (s->ran_out_at >= 0 && s->ran_out_at < covers)
		all = s->ran_out_at;
	all = all > s->portions ? all : s->portions;
	e.known = s->ran_out_at == DEMAND_UNKNOWN;
	/*
	 * Sold out at an unknown hour is a lower bound: it is news only when
	 * it is above what was believed.
	 */
	e.teaches = all > 0 &&
	    (s->ran_out_at != DEMAND_RAN_OUT || s->portions > mean * all);
	e.of = s->portions;
	e.all = all;
	return e;
}

/* The dishes of one service that can be scored, as believed before it. */
struct hand {
	double mean[DEMAND_DISHES_MAX];
	int sold[DEMAND_DISHES_MAX];
	size_t count;
	int others;   /* guests who ordered none of them */
	double least; /* weight of the belief known least of */
};

static void
hand_fill(struct hand *h, const struct mix *x, const struct demand_record *r,
    size_t past, size_t g, size_t l)
{
	const struct demand_past *p = &r->past[past];
	const struct demand_sold *sold = &r->sold[past * r->dish_count];
	int weekday = day_weekday(p->day);
	struct share s;
	size_t d;

	h->count = 0;
	h->least = INFINITY;
	h->others = covers_of(p);
	for (d = 0; d < r->dish_count; d++) {
		if (menu_share(r, p->sitting, d) == DEMAND_UNKNOWN ||
		    !weigh(&sold[d], h->others, 0).known)
			continue;
		s = capped(blend(x, r->dish_count, g, l, weekday, d), INFINITY);
		h->least = fmin(h->least, s.all);
		h->mean[h->count] = s.of / s.all;
		h->sold[h->count++] = sold[d].portions;
	}
	for (d = 0; d < h->count; d++)
		h->others -= h->sold[d];
	h->others = h->others < 0 ? 0 : h->others;
}

/* log of the Dirichlet-multinomial, up to what every weight has in common. */
static double
log_score(const struct hand *h, double weight)
{
	struct product over = { 1, 0 }, under = { 1, 0 };
	double a, rest = weight, all = 0;
	int guests = h->others;
	size_t d;

	for (d = 0; d < h->count; d++) {
		a = weight * h->mean[d];
		rest -= a;
		all += a;
		guests += h->sold[d];
		rise(&over, a, h->sold[d]);
	}
	/* Starters and mains together may be more than all. */
	rest = fmax(rest, weight * SHARE_LEAST);
	rise(&over, rest, h->others);
	rise(&under, all + rest, guests);
	return log_of(&over) - log_of(&under);
}

static void
score(struct mix *x, const struct demand_record *r, size_t past, size_t g,
    size_t l)
{
	struct hand h;
	double *scores = x->score[g][l];
	size_t c;

	hand_fill(&h, x, r, past, g, l);
	for (c = 0; h.count > 0 && c < CAP_COUNT; c++)
		scores[c] = scores[c] * SCORE_KEEP +
		    log_score(&h, fmin(h.least, cap[c]));
}

/* Fade by one service; never lighter than the menu's own word. */
static void
fade(struct mix *x, const struct demand_record *r, int sitting, size_t g,
    size_t d)
{
	struct share *pool = &x->pool[g * r->dish_count + d];
	struct share *day;
	double lack;
	size_t w;

	pool->of *= forget[g];
	pool->all *= forget[g];
	lack = DEMAND_MENU_WEIGHT - pool->all;
	if (lack > 0) {
		pool->of += lack * menu_mean(r, sitting, d);
		pool->all += lack;
	}
	for (w = 0; w < WEEKDAYS; w++) {
		day = &x->weekday[(g * WEEKDAYS + w) * r->dish_count + d];
		day->of *= forget[g];
		day->all *= forget[g];
	}
}

static void
learn(struct mix *x, const struct demand_record *r, size_t past, size_t g,
    size_t d)
{
	const struct demand_past *p = &r->past[past];
	size_t w = (size_t)day_weekday(p->day);
	struct share *pool = &x->pool[g * r->dish_count + d];
	struct share *day = &x->weekday[(g * WEEKDAYS + w) * r->dish_count + d];
	struct evidence e;

	e = weigh(&r->sold[past * r->dish_count + d], covers_of(p),
	    pool->of / pool->all);
	if (e.teaches) {
		pool->of += e.of;
		pool->all += e.all;
		day->of += e.of;
		day->all += e.all;
		x->taught[d] += g == 0;
	}
}

void
mix_see(struct mix *x, const struct demand_record *r, size_t past)
{
	int sitting = r->past[past].sitting;
	size_t g, l, d;

	if (covers_of(&r->past[past]) <= 0)
		return;
	for (g = 0; g < FORGET_COUNT; g++) {
		for (l = 0; l < LEAN_COUNT; l++)
			score(x, r, past, g, l);
		for (d = 0; d < r->dish_count; d++) {
			fade(x, r, sitting, g, d);
			learn(x, r, past, g, d);
		}
	}
}

struct share
mix_share(const struct demand_model *m, int sitting, day_no day, size_t dish)
{
	const struct mix *x = &m->mixes[sitting];
	size_t g, l, c, bg = 0, bl = 0, bc = 0;

	for (g = 0; g < FORGET_COUNT; g++) {
		for (l = 0; l < LEAN_COUNT; l++) {
			for (c = 0; c < CAP_COUNT; c++) {
				if (x->score[g][l][c] <= x->score[bg][bl][bc])
					continue;
				bg = g;
				bl = l;
				bc = c;
			}
		}
	}
	return capped(
	    blend(x, m->record.dish_count, bg, bl, day_weekday(day), dish),
	    cap[bc]);
}
