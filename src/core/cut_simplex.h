/*
 * cut_simplex.h - the basis of the linear programme; for cut_lp.c.
 *
 * Rows: portions of each dish, grams of each trim pool, and for a species that
 * feeds several pools a row that splits its trim.  Besides, the shares of one
 * fish's picks add up to one: these rows are kept out of the basis by a key
 * column for each fish (generalised upper bounds, Dantzig and Van Slyke 1967),
 * so the basis is at most 48 square however many fish there are.
 *
 * All in doubles, and nothing rests on it: the prices are rounded and the
 * bound summed in integers; a wrong digit here makes it weaker, never wrong.
 */
#ifndef CUT_SIMPLEX_H
#define CUT_SIMPLEX_H

#include "cut_work.h"

#define CUT_ROWS_MAX (CUT_DISHES_MAX + CUT_POOLS_MAX + CUT_SPECIES_MAX)
#define CUT_TRIM_UNIT 128.0 /* grams, so that rows are of like size */

enum cut_col_sort {
	COL_SLACK, /* short or surplus of one row */
	COL_MOVE,  /* trim of a species into one of its pools */
	COL_FISH,
};

struct cut_col {
	enum cut_col_sort sort;
	double cost;
	int row, from; /* COL_SLACK, COL_MOVE */
	double sign;
	size_t i; /* COL_FISH: which of the programme's */
	enum cut_mode mode;
	int dish, way;
	struct cut_pat pat; /* of every piece */
};

struct cut_simplex {
	struct cut_work *w;
	struct cut_lp *lp;
	int rows;
	int dish[CUT_DISHES_MAX], pool[CUT_POOLS_MAX];
	int trim[CUT_SPECIES_MAX];       /* row its trim goes to, or -1 */
	double short_cost[CUT_ROWS_MAX]; /* INFINITY: splits trim */
	double rhs[CUT_ROWS_MAX];
	struct cut_col basic[CUT_ROWS_MAX];
	double x[CUT_ROWS_MAX];
	double price[CUT_ROWS_MAX];
	double inv[CUT_ROWS_MAX][CUT_ROWS_MAX];
	struct cut_col *key; /* one a fish */
	double *share;       /* of the key */
	double *fall;        /* scratch of the ratio test, zero between */
	int pivots;
	bool broken; /* the basis went singular */
};

/* cut_col_fish - the pick, as a column of the programme's fish i. */
void cut_col_fish(struct cut_col *c, const struct cut_simplex *s, size_t i,
    const struct cut_pick *pick);
/* cut_basis_new - anew from the basic columns: inverse, prices, shares. */
void cut_basis_new(struct cut_simplex *s);
/* cut_basis_shares - x and share from the inverse. */
void cut_basis_shares(struct cut_simplex *s);
/* cut_basis_enter - bring the column in, if it gains; false when not. */
bool cut_basis_enter(struct cut_simplex *s, const struct cut_col *in);
/* cut_basis_value - of the programme as it stands. */
double cut_basis_value(const struct cut_simplex *s);

#endif /* CUT_SIMPLEX_H */
