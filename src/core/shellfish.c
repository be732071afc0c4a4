/* shellfish.c - portions of shellfish to pieces or grams, and back. */
#include "core/shellfish.h"

#include <assert.h>

static void
check(const struct shell_dish *d)
{
	assert(d->dead_bp >= 0 && d->dead_bp <= SHELL_DEAD_MAX_BP);
	assert(d->piece_g >= 0 && d->piece_g <= WEIGHT_MAX_G);
	if (d->by == SHELL_PIECE)
		assert(d->pieces >= 1 && d->pieces <= SHELL_PIECES_MAX &&
		    d->portions >= 1 && d->portions <= SHELL_PIECES_MAX);
	else
		assert(d->portion_g > 0 && d->portion_g <= WEIGHT_MAX_G);
	if (d->by == SHELL_MEAT)
		assert(
		    d->yield_bp >= SHELL_YIELD_MIN_BP && d->yield_bp <= BP_ONE);
}

/* The smallest whole number of which enough is alive. */
static int64_t
with_dead(const struct shell_dish *d, int64_t alive)
{
	return div_up(alive * BP_ONE, BP_ONE - d->dead_bp);
}

static int64_t
alive_of(const struct shell_dish *d, int64_t all)
{
	return div_down(all * (BP_ONE - d->dead_bp), BP_ONE);
}

struct shell_amount
shell_take(const struct shell_dish *d, int64_t portions)
{
	struct shell_amount a = { 0, 0 };
	grams alive_g;

	check(d);
	assert(portions >= 0 && portions <= COUNT_MAX);
	if (d->by == SHELL_PIECE) {
		a.pieces =
		    with_dead(d, div_up(portions * d->pieces, d->portions));
		a.weight_g = a.pieces * d->piece_g;
		return a;
	}
	alive_g = portions * d->portion_g;
	if (d->by == SHELL_MEAT)
		alive_g = div_up(alive_g * BP_ONE, d->yield_bp);
	a.weight_g = with_dead(d, alive_g);
	if (d->piece_g > 0) {
		a.pieces = div_up(a.weight_g, d->piece_g);
		a.weight_g = a.pieces * d->piece_g;
	}
	return a;
}

struct shell_amount
shell_buy(const struct shell_dish *d, const struct shell_amount *need,
    const struct shell_amount *step)
{
	struct shell_amount a = *need;

	check(d);
	if (need->pieces > 0 && step->pieces > 0) {
		a.pieces = div_up(need->pieces, step->pieces) * step->pieces;
		a.weight_g = a.pieces * d->piece_g;
		return a;
	}
	/* Pieces without a known size cannot be bought by weight. */
	assert(step->weight_g > 0 && (need->pieces == 0 || d->piece_g > 0));
	a.weight_g = div_up(need->weight_g, step->weight_g) * step->weight_g;
	if (d->piece_g > 0)
		a.pieces = div_down(a.weight_g, d->piece_g);
	return a;
}

int64_t
shell_portions(const struct shell_dish *d, const struct shell_amount *stock)
{
	grams g;

	check(d);
	if (d->by == SHELL_PIECE)
		return div_down(
		    alive_of(d, stock->pieces) * d->portions, d->pieces);
	g = alive_of(d, stock->weight_g);
	if (d->by == SHELL_MEAT)
		g = div_down(g * d->yield_bp, BP_ONE);
	return div_down(g, d->portion_g);
}
