/* mass.c - where grams went, as sums that add up to the gram. */
#include "core/mass.h"

#include <assert.h>
#include <string.h>

#define SHARES_MAX (MASS_PARTS + 1)

const char *
mass_word(enum mass_part p)
{
	static const char *const words[MASS_PARTS] = {
#define MASS_NAME(id, word, words) [id] = word,
		MASS_LIST(MASS_NAME)
#undef MASS_NAME
	};

	return words[p];
}

const char *
mass_words(enum mass_part p)
{
	static const char *const texts[MASS_PARTS] = {
#define MASS_TEXT(id, word, words) [id] = words,
		MASS_LIST(MASS_TEXT)
#undef MASS_TEXT
	};

	return texts[p];
}

static grams
parts_of(const struct mass *m)
{
	grams sum = 0;
	int i;

	for (i = 0; i < MASS_PARTS; i++)
		sum += m->part[i];
	return sum;
}

void
mass_close(struct mass *m)
{
	m->unexplained = m->in - parts_of(m);
}

grams
mass_open(const struct mass *m)
{
	return m->unexplained - m->explained;
}

void
mass_add(struct mass *sum, const struct mass *m)
{
	int i;

	sum->in += m->in;
	for (i = 0; i < MASS_PARTS; i++)
		sum->part[i] += m->part[i];
	sum->unexplained += m->unexplained;
	sum->explained += m->explained;
}

bool
mass_adds_up(const struct mass *m)
{
	return m->in == parts_of(m) + m->unexplained;
}

void
mass_share(grams *out, grams total, const grams *weights, size_t count)
{
	grams sum = 0, given = 0, rest, best_rest;
	size_t i, best;

	for (i = 0; i < count; i++)
		sum += weights[i];
	assert(sum > 0 && total >= 0);
	for (i = 0; i < count; i++) {
		out[i] = total * weights[i] / sum;
		given += out[i];
	}
	/* Each remainder is below 1, so each gets one gram more at most. */
	for (; given < total; given++) {
		best = count;
		best_rest = 0;
		for (i = 0; i < count; i++) {
			rest = total * weights[i] - out[i] * sum;
			if (rest > best_rest) {
				best = i;
				best_rest = rest;
			}
		}
		assert(best < count);
		out[best]++;
	}
}

void
mass_put_unit(struct mass *m, const struct mass_unit *u)
{
	static const enum mass_part to[] = { MASS_USED, MASS_THROWN,
		MASS_MISSING };
	grams counts[] = { u->left, u->used, u->discarded, u->missing };
	grams weight[4], take;
	int64_t here;
	int i;

	/* Found though nobody missed it: it had been taken off by mistake. */
	for (i = 1; i < 3 && counts[3] < 0; i++) {
		take = counts[i] < -counts[3] ? counts[i] : -counts[3];
		counts[i] -= take;
		counts[3] += take;
	}
	for (i = 0; i < 4; i++)
		if (counts[i] < 0)
			return;
	here = counts[0] + counts[1] + counts[2] + counts[3];
	if (here <= 0 || u->combined < 0 || u->combined_g > u->weight_g ||
	    here + u->combined != u->servings)
		return;
	mass_share(weight, u->weight_g - u->combined_g, counts, 4);
	m->part[u->frozen ? MASS_FROZEN : MASS_CHILLED] += weight[0];
	for (i = 0; i < 3; i++)
		m->part[to[i]] += weight[i + 1];
}

/*
 * One input takes its row of what is left in the columns.  A column never
 * gives more than it has: the row is at most the sum of the columns, and a
 * remainder is only given to a column whose share was cut.
 */
static void
take_row(struct mass *out, grams *columns, grams row)
{
	grams share[SHARES_MAX];
	int i;

	if (row > 0)
		mass_share(share, row, columns, SHARES_MAX);
	else
		memset(share, 0, sizeof(share));
	for (i = 0; i < SHARES_MAX; i++) {
		columns[i] -= share[i];
		if (i < MASS_PARTS)
			out->part[i] = share[i];
		else
			out->unexplained = share[i];
	}
}

void
mass_split(
    struct mass *out, const struct mass *whole, const grams *in, size_t count)
{
	grams columns[SHARES_MAX], over = 0, left = whole->in, one;
	grams pair[2], shares[2];
	size_t i;

	assert(mass_adds_up(whole));
	memcpy(columns, whole->part, sizeof(whole->part));
	columns[MASS_PARTS] = whole->unexplained;
	/* Overweight is shared by input as well, and each input then takes its
	 * weight and its overweight out of the parts. */
	if (whole->unexplained < 0) {
		over = -whole->unexplained;
		columns[MASS_PARTS] = 0;
	}
	for (i = 0; i < count; i++) {
		memset(&out[i], 0, sizeof(out[i]));
		out[i].in = in[i];
		pair[0] = in[i];
		pair[1] = left - in[i];
		mass_share(shares, over, pair, 2);
		one = shares[0];
		over -= one;
		left -= in[i];
		take_row(&out[i], columns, in[i] + one);
		if (one > 0)
			out[i].unexplained = -one;
		out[i].explained = whole->explained == 0 ? 0
		    : whole->explained == whole->unexplained
		    ? out[i].unexplained
		    : 0;
	}
	assert(left == 0);
}
