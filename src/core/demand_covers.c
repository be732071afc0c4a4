/* demand_covers.c - guests: booked ones who come, and walk-ins. */
#include <math.h>

#include "demand_inner.h"

/* Half of what is known fades in about 34 services [ours]. */
#define KEEP .98
/* Parties the house figure for coming weighs, and services for walk-ins. */
#define SHOW_WEIGHT 20.0
#define WALK_WEIGHT 2.0
/* Spread of walk-ins while the record is silent, weighed as so many services:
 * size 4, that is at mean 12 give or take 7 [ours]. */
#define WALK_SIZE 4.0
#define SIZE_WEIGHT 4.0

/* Two of guests in all, booked ones and walk-ins tell the third. */
static struct demand_past
filled_in(const struct demand_past *past)
{
	struct demand_past p = *past;

	if (p.covers < 0 && p.seated >= 0 && p.walk_ins >= 0)
		p.covers = p.seated + p.walk_ins;
	else if (p.covers >= 0 && p.seated >= 0 && p.walk_ins < 0)
		p.walk_ins = p.covers > p.seated ? p.covers - p.seated : 0;
	else if (p.covers >= 0 && p.walk_ins >= 0 && p.seated < 0)
		p.seated = p.covers > p.walk_ins ? p.covers - p.walk_ins : 0;
	return p;
}

int
covers_of(const struct demand_past *past)
{
	return filled_in(past).covers;
}

static double
party_factor(int factor_c)
{
	return (factor_c > 0 ? factor_c : DEMAND_PARTY_FACTOR_C) / 100.0;
}

void
covers_start(struct demand_model *m)
{
	m->came = SHOW_WEIGHT * DEMAND_SHOW_BP / BP_ONE;
	m->stayed = SHOW_WEIGHT - m->came;
}

double
covers_show(const struct demand_model *m)
{
	return m->came / (m->came + m->stayed);
}

/* A mean that starts at the house's, goes by all days, then by the weekday. */
static double
view_mean(const struct walk_view *v, int weekday, double weight, double house)
{
	const struct share *day = &v->weekday[weekday];
	double pooled;

	pooled = (weight * house + v->pool.of) / (weight + v->pool.all);
	return (weight * pooled + day->of) / (weight + day->all);
}

static double
mean_heads(const struct walk_ins *w, int weekday, int booked)
{
	double house = (double)booked * DEMAND_WALK_IN_BP / BP_ONE;

	return view_mean(&w->heads, weekday, WALK_WEIGHT, house);
}

static double
mean_per_booked(const struct walk_ins *w, int weekday, int booked)
{
	double house = (double)DEMAND_WALK_IN_BP / BP_ONE;

	if (booked <= 0)
		return 0;
	return booked *
	    view_mean(&w->per_booked, weekday, WALK_WEIGHT * booked, house);
}

static void
view_see(struct walk_view *v, int weekday, double mean, int came, double out_of)
{
	double miss = (came - mean) * (came - mean);
	int w;

	v->miss = v->miss * KEEP + miss;
	v->excess = v->excess * KEEP + miss - mean;
	v->mean_sq = v->mean_sq * KEEP + mean * mean;
	v->pool.of = v->pool.of * KEEP + came;
	v->pool.all = v->pool.all * KEEP + out_of;
	for (w = 0; w < WEEKDAYS; w++) {
		v->weekday[w].of *= KEEP;
		v->weekday[w].all *= KEEP;
	}
	v->weekday[weekday].of += came;
	v->weekday[weekday].all += out_of;
}

/*
 * Guests in all without a word on how many had booked: those beyond the
 * booked ones that should have come count as walk-ins.
 */
static int
walked_in(const struct demand_model *m, const struct demand_past *p)
{
	int beyond;

	if (p->walk_ins >= 0 || p->covers < 0 || p->booked < 0)
		return p->walk_ins;
	beyond = p->covers - (int)lround(p->booked * covers_show(m));
	return beyond > 0 ? beyond : 0;
}

void
covers_see(struct demand_model *m, const struct demand_past *past)
{
	struct demand_past p = filled_in(past);
	struct walk_ins *w = &m->walk_ins[p.sitting];
	int weekday = day_weekday(p.day);
	int came = walked_in(m, &p);
	double parties = p.booked / party_factor(p.party_factor_c);
	double share;

	if (came >= 0 && p.booked >= 0) {
		view_see(&w->heads, weekday, mean_heads(w, weekday, p.booked),
		    came, 1);
		view_see(&w->per_booked, weekday,
		    mean_per_booked(w, weekday, p.booked), came, p.booked);
	}
	if (p.booked > 0 && p.seated >= 0) {
		share = fmin((double)p.seated / p.booked, 1);
		m->came = m->came * KEEP + parties * share;
		m->stayed = m->stayed * KEEP + parties * (1 - share);
	}
}

/* The view that missed by less; by heads while they are even. */
static const struct walk_view *
better_view(const struct walk_ins *w)
{
	return w->per_booked.miss < w->heads.miss ? &w->per_booked : &w->heads;
}

double
covers_walk_ins(const struct demand_model *m, const struct demand_asked *asked)
{
	const struct walk_ins *w = &m->walk_ins[asked->sitting];
	int weekday = day_weekday(asked->day);

	if (better_view(w) == &w->heads)
		return mean_heads(w, weekday, asked->booked);
	return mean_per_booked(w, weekday, asked->booked);
}

/* Variance = mean + mean^2 / size, by moments; size 1 at least. */
static double
walk_size(const struct walk_view *v, double mean)
{
	double weight = SIZE_WEIGHT * mean * mean;
	double inverse;

	inverse = (weight / WALK_SIZE + v->excess) / (weight + v->mean_sq);
	if (inverse <= 0)
		return DIST_POISSON;
	return fmax(1, 1 / inverse);
}

/*
 * Booked guests who come.  Var = B s (1 - s) v, v the party factor; that the
 * show rate s is itself known from n parties only adds (B - v) / (n + 1) to v.
 */
static struct dist
booked_dist(const struct demand_model *m, int booked, double v)
{
	double s = covers_show(m);
	double phi;

	if (booked <= v)
		return dist_two(booked, s); /* one party */
	v += (booked - v) / (m->came + m->stayed + 1);
	if (v < 1 + 1e-9)
		return dist_binomial(booked, s);
	phi = (booked - v) / (v - 1);
	return dist_beta_binomial(booked, phi * s, phi * (1 - s));
}

/*
 * The same from the parties themselves.  What is not known of the show rate is
 * carried by two rates with the mean and variance of its beta.
 */
static struct dist
parties_dist(const struct demand_model *m, const struct demand_asked *asked)
{
	double s = covers_show(m);
	double var = s * (1 - s) / (m->came + m->stayed + 1);
	double high = fmin(1, s + sqrt(var));
	double low = s - var / (high - s);
	struct dist at_high, at_low, d;

	low = fmax(low, 0);
	at_high = dist_parties(asked->parties, asked->party_count, high);
	at_low = dist_parties(asked->parties, asked->party_count, low);
	d = dist_blend(&at_high, &at_low, (s - low) / (high - low));
	dist_fini(&at_high);
	dist_fini(&at_low);
	return d;
}

struct dist
covers_dist(const struct demand_model *m, const struct demand_asked *asked)
{
	const struct walk_ins *w = &m->walk_ins[asked->sitting];
	double mean = covers_walk_ins(m, asked);
	struct dist booked, walk, d;

	if (asked->typed != DEMAND_UNKNOWN)
		return dist_point(asked->typed);
	if (asked->parties != NULL)
		booked = parties_dist(m, asked);
	else
		booked = booked_dist(
		    m, asked->booked, party_factor(asked->party_factor_c));
	walk = dist_neg_binomial(
	    mean, mean > 0 ? walk_size(better_view(w), mean) : DIST_POISSON);
	d = dist_sum(&booked, &walk);
	dist_fini(&booked);
	dist_fini(&walk);
	return d;
}
