/*
 * bench_cook.c - the cut plan against two cooks without one (cut_cook.h), on
 * the same invented boards: what is opened, what is wasted, what it costs.
 * Means of each board.  Ratios and counts are the claim; the boards are not a
 * real kitchen's.
 *
 * Waste: usable flesh and by-product of opened fish that is neither portion,
 * nor left whole, nor trim a pool wanted.  Cost: of core/cutplan.h, in coins.
 * Later first: fish left closed although one of the species with more days was
 * opened.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cut_cook.h"
#include "tests/unit/cut_judge.h"

struct sums {
	double kg, fish, short_of, waste_g, cost;
	double under_g, target_g; /* of portions cut */
	double later_first, expired_kg;
	int boards, unproved;
};

static struct board board, priced; /* too large for a stack, pointed into */

static void
must(bool ok, const char *what)
{
	if (ok)
		return;
	printf("WRONG: %s\n", what);
	exit(1);
}

/* What the pieces of one opened fish became. */
static void
add_pieces(
    struct sums *s, const struct board *b, size_t i, const struct cut_choice *c)
{
	const struct cut_way *w = &b->fish[i].ways[c->way];
	const struct cut_portion *cut;
	const struct cut_dish *d;
	size_t k;
	int j;

	s->waste_g += (double)w->byproduct_g;
	for (j = 0; j < w->pieces; j++) {
		if (!c->pieces[j].kept)
			s->waste_g += (double)c->pieces[j].trim_g;
		for (k = 0; k < c->pieces[j].cut_count; k++) {
			cut = &c->pieces[j].cuts[k];
			d = &b->dishes[cut->dish];
			s->target_g += (double)d->target_g;
			if (cut->portion_g < d->target_g)
				s->under_g +=
				    (double)(d->target_g - cut->portion_g);
		}
	}
}

static bool
later_opened(const struct board *b, const struct cut_plan *plan, size_t closed)
{
	size_t i;

	for (i = 0; i < plan->fish_count; i++)
		if (plan->fish[i].mode != MODE_CLOSED &&
		    b->fish[i].species == b->fish[closed].species &&
		    b->days_left[i] > b->days_left[closed])
			return true;
	return false;
}

/* Add a plan, its cost by the prices of `b`. */
static void
add_plan(struct sums *s, const struct board *b, const struct cut_plan *plan)
{
	struct judgement j;
	size_t i;

	must(judge_plan(&j, &b->p, plan), j.why);
	for (i = 0; i < plan->fish_count; i++) {
		if (plan->fish[i].mode == MODE_CLOSED) {
			s->later_first += later_opened(b, plan, i);
			if (b->days_left[i] == 0)
				s->expired_kg +=
				    (double)b->fish[i].whole_g / 1000;
			continue;
		}
		s->fish++;
		s->kg += (double)b->fish[i].whole_g / 1000;
		if (plan->fish[i].mode == MODE_CUT)
			add_pieces(s, b, i, &plan->fish[i]);
	}
	for (i = 0; i < b->p.dish_count; i++)
		s->short_of += (double)j.short_of[i];
	s->waste_g -= (double)j.trim_used;
	s->cost += (double)j.cost / 1e5;
	s->boards++;
}

static void
plan(struct sums *s, const struct board *b, const struct board *prices)
{
	struct cut_plan p = { 0 };
	struct err err = { 0 };

	must(cut_solve(&p, &b->p, &err) == RC_OK, err.text);
	s->unproved += !p.proved;
	add_plan(s, prices, &p);
	cut_plan_fini(&p);
}

static void
cook(struct sums *s, void (*fn)(struct cut_plan *, const struct board *))
{
	struct cut_plan p;

	fn(&p, &board);
	add_plan(s, &board, &p);
	cut_plan_fini(&p);
}

static void
print_sums(const char *who, const struct sums *s, const struct sums *to)
{
	double n = s->boards;

	printf("  %-22s %7.1f %6.1f %7.1f %7.0f %8.1f %6.2f %6.2f %6.2f", who,
	    s->kg / n, s->fish / n, s->short_of / n, s->waste_g / n,
	    s->cost / n, 100 * s->under_g / s->target_g, s->later_first / n,
	    s->expired_kg / n);
	if (to != NULL)
		printf(" | kg x%.3f, waste x%.3f, cost x%.3f", s->kg / to->kg,
		    s->waste_g / to->waste_g, s->cost / to->cost);
	if (s->unproved > 0)
		printf(" (%d not proved)", s->unproved);
	printf("\n");
	fflush(stdout);
}

static void
compare(const struct board_recipe *r, int seeds)
{
	struct sums dish = { 0 }, fish = { 0 }, best = { 0 };
	double portions = 0;
	size_t i;
	int seed;

	for (seed = 1; seed <= seeds; seed++) {
		board_make(&board, r, (uint64_t)seed);
		for (i = 0; i < board.p.dish_count; i++)
			portions += (double)board.dishes[i].wanted;
		cook(&dish, cook_by_dish);
		cook(&fish, cook_by_fish);
		plan(&best, &board, &board);
	}
	printf("%s (%d boards, %.0f portions wanted)\n", r->why, seeds,
	    portions / seeds);
	print_sums("cook, dish by dish", &dish, NULL);
	print_sums("cook, fish by fish", &fish, NULL);
	print_sums("plan", &best, &fish);
}

/* Opened by worth, or strictly first expired; both at the prices by worth. */
static void
compare_strict(const struct board_recipe *r, int seeds)
{
	struct board_recipe hard = *r;
	struct sums fish = { 0 }, soft = { 0 }, strict = { 0 };
	int seed;

	hard.strict = true;
	for (seed = 1; seed <= seeds; seed++) {
		board_make(&board, r, (uint64_t)seed);
		board_make(&priced, &hard, (uint64_t)seed);
		cook(&fish, cook_by_fish);
		plan(&soft, &board, &board);
		plan(&strict, &priced, &board);
	}
	printf("%s (%d boards)\n", r->why, seeds);
	print_sums("cook, fish by fish", &fish, NULL);
	print_sums("plan by worth", &soft, NULL);
	print_sums("plan, first expired", &strict, &soft);
}

/*
 * What a gram under target must cost so that the plan does not shave: none,
 * its worth, and multiples of it.  What is paid for it is left out of the cost,
 * which is that of the boards without such a price.
 */
static void
compare_under(const struct board_recipe *r, int seeds)
{
	static const int percent[] = { 0, 100, 150, 200, 300 };
	struct board_recipe hard = *r;
	struct sums free_of = { 0 }, s;
	char who[32];
	size_t i, d;
	int seed;

	hard.under = true;
	printf("%s (%d boards)\n", r->why, seeds);
	for (i = 0; i < sizeof(percent) / sizeof(percent[0]); i++) {
		memset(&s, 0, sizeof(s));
		for (seed = 1; seed <= seeds; seed++) {
			board_make(&priced, &hard, (uint64_t)seed);
			board_make(&board, &hard, (uint64_t)seed);
			for (d = 0; d < priced.p.dish_count; d++) {
				priced.dishes[d].under_price =
				    priced.dishes[d].under_price * percent[i] /
				    100;
				board.dishes[d].under_price = 0;
			}
			plan(&s, &priced, &board);
		}
		snprintf(
		    who, sizeof(who), "plan, worth x %.1f", percent[i] / 100.0);
		print_sums(who, &s, i == 0 ? NULL : &free_of);
		if (i == 0)
			free_of = s;
	}
}

#define KITCHEN 60, 5, 11

static const struct board_recipe demand[] = {
	{ "5 species, 12 dishes, demand x 1.0", KITCHEN, 60, .pools = 1,
	    .whole = true },
	{ "5 species, 12 dishes, demand x 0.7", KITCHEN, 42, .pools = 1,
	    .whole = true },
	{ "5 species, 12 dishes, demand x 1.3", KITCHEN, 78, .pools = 1,
	    .whole = true },
	{ "60 hake, 3 dishes", 60, 1, 3, 60, .pools = 0 },
};

static const struct board_recipe tolerance[] = {
	{ "all of the band under target", KITCHEN, 60, .pools = 1,
	    .whole = true, .tolerance = TOLERANCE_ALL },
	{ "half of it", KITCHEN, 60, .pools = 1, .whole = true,
	    .tolerance = TOLERANCE_HALF },
	{ "none: every portion at target or above", KITCHEN, 60, .pools = 1,
	    .whole = true, .tolerance = TOLERANCE_NONE },
	{ "all, with a price on grams under target", KITCHEN, 60, .pools = 1,
	    .whole = true, .under = true },
};

int
main(void)
{
	size_t i;

	printf(
	    "plan and cooks, 60 fish; means of a board\n"
	    "  %-22s %7s %6s %7s %7s %8s %6s %6s %6s | plan against the "
	    "line above it\n",
	    "", "kg open", "fish", "short", "waste g", "cost", "under%",
	    "later", "exp kg");
	for (i = 0; i < sizeof(demand) / sizeof(demand[0]); i++)
		compare(&demand[i], 30);
	printf("\nTOLERANCE\n");
	for (i = 0; i < sizeof(tolerance) / sizeof(tolerance[0]); i++)
		compare(&tolerance[i], 30);
	printf("\nA GRAM UNDER TARGET\n");
	compare_under(&demand[0], 30);
	printf("\nFIRST EXPIRED FIRST\n");
	compare_strict(&demand[0], 30);
	return 0;
}
