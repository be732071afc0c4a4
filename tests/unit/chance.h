/*
 * chance.h - repeatable chance for simulations in tests: one seed, one series.
 */
#ifndef CHANCE_H
#define CHANCE_H

#include <math.h>
#include <stdint.h>

/* chance_next - uniform in 0 .. 2^31 - 1 (Knuth's MMIX constants). */
static inline uint64_t
chance_next(uint64_t *seed)
{
	*seed = *seed * UINT64_C(6364136223846793005) +
	    UINT64_C(1442695040888963407);
	return *seed >> 33;
}

/* chance_normal - standard normal, by Box and Muller. */
static inline double
chance_normal(uint64_t *seed)
{
	double u = ((double)chance_next(seed) + 0.5) / 2147483648.0;
	double v = ((double)chance_next(seed) + 0.5) / 2147483648.0;

	return sqrt(-2 * log(u)) * cos(8 * atan(1) * v);
}

#endif /* CHANCE_H */
