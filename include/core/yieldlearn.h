/*
 * core/yieldlearn.h - yields that learn: a local-level filter per species,
 * bought form and cut.
 *
 * Each breakdown is one weighing y = out / in of n fish.  The level mu moves a
 * little from breakdown to breakdown (variance q), a weighing misses it by
 * R = sb^2 + sf^2 / n (day, fish), and
 *	P- = P + q,  K = P- / (P- + R),  mu += K (y - mu),  P = (1 - K) P-
 * (Kalman 1960; the form of Durbin and Koopman's local level model).
 *
 * All of it in integers, so that the same rows give the same state on every
 * machine.  mu is kept in 1/10^8 and P in 1/10^10 of one squared, finer than
 * the 1/10 000 that is shown and planned with: with K near 0.1 a mean kept in
 * 1/10 000 would no longer move for a surprise below 5/10 000.
 * Rules: docs/rules.md R-Y10 to R-Y16.  Pure.
 */
#ifndef CORE_YIELDLEARN_H
#define CORE_YIELDLEARN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/units.h"
#include "core/cut.h"
#include "core/yield.h"

/* Standard deviations in 1/10 000; start values from memory, unverified. */
#define YIELD_DAY_SD_BP 120      /* sb: one breakdown */
#define YIELD_FISH_SD_BP 300     /* sf: one fish */
#define YIELD_DRIFT_SD_BP 40     /* sqrt q: from one breakdown to the next */
#define YIELD_START_SD_BP 300    /* of a published figure, at least */
#define YIELD_START_MAX_BP 1500  /* of a published figure, at most */
#define YIELD_DOUBT_SD_BP 500    /* of one that nobody has verified, at least */
#define YIELD_SUPPLIER_SD_BP 200 /* between suppliers of a species */

/* Breakdowns a supplier needs before its own yield is planned with. */
#define YIELD_SUPPLIER_MIN 5

/* Weighings further off than this many standard deviations are asked about. */
#define YIELD_GATE_SD 4

#define YIELD_E8 100000000 /* one, in the unit of a mean */

/* --- one step of the filter, in any units --------------------------------- */

/* Mean in any unit, variance in any unit; each below 10^9 (see level_step). */
struct yield_level {
	int64_t mean, var;
};

struct level_step {
	int64_t prior_var; /* P- */
	int64_t gain_e6;   /* K in 1/10^6 */
};

/*
 * level_step - take in one observation `y` of the mean's unit with variance `r`
 * after a drift of variance `q`.  Rounded to nearest.  r > 0, q >= 0, and
 * var + q, r, mean and y each within +-10^9.
 */
struct level_step level_step(
    struct yield_level *l, int64_t y, int64_t q, int64_t r);

/* --- the state of one yield ------------------------------------------------*/

/* All zero: nothing is published and nothing was learned. */
struct yield_state {
	int64_t mean_e8; /* 1/10^8; 0 < mean < 10^8 once it is known */
	int64_t var_e10; /* 1/10^10 of one squared */
	int64_t count;   /* breakdowns learned */
};

/* One breakdown as the filter sees it. */
struct yield_obs {
	grams in_g, out_g; /* 0 < out_g <= in_g */
	int64_t fish;      /* 0: by weight, then taken as one fish */
};

/*
 * yield_start - before any breakdown.  The published figure (NULL: none, the
 * state is all zero), with half the wider side of its range as its standard
 * deviation: at least YIELD_START_SD_BP, or YIELD_DOUBT_SD_BP when unverified,
 * and at most YIELD_START_MAX_BP.
 */
struct yield_state yield_start(const struct yield *published);

/* yield_start_supplier - a supplier starts where the species stands. */
struct yield_state yield_start_supplier(const struct yield_state *species);

/*
 * yield_plausible - is the weighing within YIELD_GATE_SD standard deviations of
 * what was expected?  A state that knows nothing believes the first one.
 */
bool yield_plausible(const struct yield_state *s, const struct yield_obs *o);

/*
 * yield_learn - take the weighing in.  A state that knows nothing starts at it,
 * with the weighing's own variance.  The mean stays within 1 to 9 999 of
 * 10 000.
 */
void yield_learn(struct yield_state *s, const struct yield_obs *o);

/* What a state says of the next breakdown.  All in 1/10 000. */
struct yield_guess {
	int mean_bp;        /* rounded down; plan with it */
	int low_bp;         /* 20 % of breakdowns give less; order with it */
	int sd_bp;          /* of one breakdown, rounded up */
	int from_bp, to_bp; /* the mean itself is within, 80 % */
	int gate_low_bp, gate_high_bp; /* outside it is asked about */
};

/*
 * yield_teach - learn one weighing for the species and for its supplier, whose
 * state is all zero before the supplier's first.
 */
void yield_teach(struct yield_state *species, struct yield_state *supplier,
    const struct yield_obs *o);

/* yield_guess - for a breakdown of `fish` (0: as one).  The state is known. */
struct yield_guess yield_guess(const struct yield_state *s, int64_t fish);

/* yield_observed_bp - out over in, rounded down. */
int yield_observed_bp(const struct yield_obs *o);

/* --- which yield a breakdown teaches ---------------------------------------*/

struct yield_key {
	char species[4];
	enum yield_form from;
	/* What comes out: word of core/cut.h of the yield form, or "troncon",
	 * which has no form of its own but loses head and tail all the same. */
	char cut[12];
};

/*
 * yield_key_make - the key of a cut.  False when nothing is lost that could be
 * learned: a cut of the form it was bought in (a fillet out of a bought fillet,
 * shellfish in its shell), and trim.
 */
bool yield_key_make(struct yield_key *out, const char *species,
    enum yield_form from, enum cut_kind kind, bool skin_on);

/*
 * yield_key_published - the published figure for a key; false when there is
 * none.  A steak across the bone has none: its form is the one it is cut from,
 * and cutting nothing off is no figure.
 */
bool yield_key_published(struct yield *out, const struct yield_table *t,
    const struct yield_key *key);

/* One dish's portions out of a breakdown. */
struct yield_part {
	enum cut_kind kind;
	bool skin_on;
	grams weight_g;
};

struct yield_work {
	const char *species;
	enum yield_form from;
	const struct yield_part *parts;
	size_t part_count;
	grams trim_g; /* usable offcuts kept */
	grams in_g;
	int64_t fish; /* 0: by weight */
};

/*
 * yield_lesson - what a breakdown teaches, if anything (R-Y11).
 * True when all portions are of one cut, not counting portions of trim.  Out is
 * then the portions; for fillets, skinless fillets and meat also the trim and
 * the portions of trim, which are flesh of the same piece.  Mixed cuts teach
 * nothing: the fish cannot be told apart.
 */
bool yield_lesson(
    struct yield_key *key, struct yield_obs *obs, const struct yield_work *w);

#endif /* CORE_YIELDLEARN_H */
