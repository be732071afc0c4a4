/* cut_in.c - fish, dishes and trim to plan cuts for, from CSV files. */
#include "exchange/cut_in.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"

/* A whole number of this record, in [min, max]. */
static enum rc
number(int64_t *out, const struct csv *c, const char *column, int64_t min,
    int64_t max, struct err *err)
{
	enum rc rc = int_parse(out, column, csv_get(c, column), min, max, err);

	return rc == RC_OK ? RC_OK : csv_fail(c, column, rc, err);
}

static enum rc
money(int64_t *out, const struct csv *c, const char *column, struct err *err)
{
	return number(out, c, column, 0, CUT_MONEY_MAX, err);
}

/* The number of a species, given one when it is new. */
static enum rc
species_number(int *out, struct cut_board *b, const char *word,
    const struct csv *c, struct err *err)
{
	enum rc rc;
	int s;

	rc = text_check("species", word, BOARD_NAME_SIZE - 1, false, err);
	if (rc != RC_OK)
		return csv_fail(c, "species", rc, err);
	for (s = 0; s < b->species_count; s++)
		if (str_eq_nocase(b->species[s].text, word))
			break;
	if (s == CUT_SPECIES_MAX) {
		rc = err_set(err, RC_INVALID, 0,
		    "\"%.40s\" would be species number %d: plan at most %d "
		    "together",
		    word, s + 1, CUT_SPECIES_MAX);
		return csv_fail(c, "species", rc, err);
	}
	if (s == b->species_count)
		str_copy(
		    b->species[b->species_count++].text, BOARD_NAME_SIZE, word);
	*out = s;
	return RC_OK;
}

/* "hake|cod" as bits. */
static enum rc
species_list(
    uint32_t *out, struct cut_board *b, const struct csv *c, struct err *err)
{
	char text[CSV_FIELD_MAX + 1];
	char *word = text, *bar;
	int s = 0;
	enum rc rc;

	str_copy(text, sizeof(text), csv_get(c, "species"));
	for (; word != NULL; word = bar) {
		bar = strchr(word, '|');
		if (bar != NULL)
			*bar++ = '\0';
		rc = species_number(&s, b, str_trim(word), c, err);
		if (rc != RC_OK)
			return rc;
		*out |= UINT32_C(1) << s;
	}
	return RC_OK;
}

/* Where `name` stands or would stand in order; true when it is there. */
static bool
find_fish(size_t *at, const struct cut_board *b, const char *name)
{
	size_t low = 0, high = b->fish_count, mid;
	int order;

	while (low < high) {
		mid = low + (high - low) / 2;
		order = strcmp(b->fish_names[b->fish_order[mid]].text, name);
		if (order == 0) {
			*at = mid;
			return true;
		}
		if (order < 0)
			low = mid + 1;
		else
			high = mid;
	}
	*at = low;
	return false;
}

/* Room for one more fish, and its name in its place. */
static enum rc
fish_name(struct cut_board *b, const struct csv *c, struct err *err)
{
	char name[BOARD_NAME_SIZE];
	size_t n = b->fish_count, cap = b->fish_cap, at;
	enum rc rc;

	if ((rc = csv_text(name, sizeof(name), c, "fish", false, err)) != RC_OK)
		return rc;
	if (n == CUT_FISH_MAX)
		return csv_fail(c, "fish",
		    err_set(err, RC_INVALID, 0,
			"more than %d fish: plan them in parts", CUT_FISH_MAX),
		    err);
	if (find_fish(&at, b, name)) {
		rc = err_set(err, RC_INVALID, 0,
		    "fish \"%s\" stands in the file twice: give each its own "
		    "name",
		    name);
		return csv_fail(c, "fish", rc, err);
	}
	b->fish = grow(b->fish, &b->fish_cap, n, sizeof(*b->fish));
	if (b->fish_cap != cap) {
		b->fish_names = xrealloc(
		    b->fish_names, b->fish_cap, sizeof(*b->fish_names));
		b->fish_order = xrealloc(
		    b->fish_order, b->fish_cap, sizeof(*b->fish_order));
	}
	memset(&b->fish[n], 0, sizeof(*b->fish));
	str_copy(b->fish_names[n].text, BOARD_NAME_SIZE, name);
	memmove(&b->fish_order[at + 1], &b->fish_order[at],
	    (n - at) * sizeof(*b->fish_order));
	b->fish_order[at] = n;
	b->fish_count++;
	return RC_OK;
}

/* What a fish gives must come out of it. */
static enum rc
fish_weights(
    struct cut_fish *f, struct cut_way *w, const struct csv *c, struct err *err)
{
	int64_t pieces;
	enum rc rc;

	if ((rc = number(&f->whole_g, c, "bought_g", 1, CUT_FISH_MAX_G, err)) !=
		RC_OK ||
	    (rc = number(&w->piece_g, c, "usable_g", 1, CUT_PIECE_MAX_G,
		 err)) != RC_OK ||
	    (rc = number(&pieces, c, "pieces", 1, CUT_PIECES_MAX, err)) !=
		RC_OK ||
	    (rc = number(&w->byproduct_g, c, "byproduct_g", 0, CUT_FISH_MAX_G,
		 err)) != RC_OK)
		return rc;
	w->pieces = (int)pieces;
	w->thick_g = w->piece_g;
	if (pieces * w->piece_g + w->byproduct_g <= f->whole_g)
		return RC_OK;
	rc = err_set(err, RC_INVALID, 0,
	    "%" PRId64 " x %" PRId64 " g and %" PRId64
	    " g by-product are more than the fish of %" PRId64
	    " g: usable_g is the weight of one piece",
	    pieces, w->piece_g, w->byproduct_g, f->whole_g);
	return csv_fail(c, "usable_g", rc, err);
}

static enum rc
fish_row(struct cut_board *b, const struct csv *c, struct err *err)
{
	char species[BOARD_NAME_SIZE];
	struct cut_fish *f;
	enum rc rc;

	if ((rc = fish_name(b, c, err)) != RC_OK ||
	    (rc = csv_text(
		 species, sizeof(species), c, "species", false, err)) != RC_OK)
		return rc;
	if (strchr(species, '|') != NULL)
		return csv_fail(c, "species",
		    err_set(err, RC_INVALID, 0,
			"a fish is of one species, not \"%s\"", species),
		    err);
	f = &b->fish[b->fish_count - 1];
	f->way_count = 1;
	if ((rc = species_number(&f->species, b, species, c, err)) != RC_OK ||
	    (rc = fish_weights(f, &f->ways[0], c, err)) != RC_OK ||
	    (rc = money(&f->cost, c, "cost", err)) != RC_OK)
		return rc;
	return money(&f->ways[0].keep, c, "keep", err);
}

/* A dish or pool of its own name; their lists are short. */
static enum rc
own_name(struct board_name *names, size_t count, size_t max,
    const struct csv *c, const char *column, struct err *err)
{
	char name[BOARD_NAME_SIZE];
	size_t i;
	enum rc rc;

	if ((rc = csv_text(name, sizeof(name), c, column, false, err)) != RC_OK)
		return rc;
	for (i = 0; i < count && rc == RC_OK; i++)
		if (str_eq(names[i].text, name))
			rc = err_set(err, RC_INVALID, 0,
			    "%s \"%s\" stands in the file twice: add the two "
			    "up in one line",
			    column, name);
	if (rc == RC_OK && count == max)
		rc = err_set(err, RC_INVALID, 0,
		    "more than %zu in one plan: \"%s\" has to wait for "
		    "another",
		    max, name);
	if (rc != RC_OK)
		return csv_fail(c, column, rc, err);
	str_copy(names[count].text, BOARD_NAME_SIZE, name);
	return RC_OK;
}

static enum rc
dish_band(struct cut_dish *d, const struct csv *c, struct err *err)
{
	grams most = d->serve == SERVE_WHOLE ? CUT_FISH_MAX_G : CUT_PIECE_MAX_G;
	enum rc rc;

	if ((rc = number(&d->low_g, c, "low_g", 1, most, err)) != RC_OK ||
	    (rc = number(&d->target_g, c, "target_g", 1, most, err)) != RC_OK ||
	    (rc = number(&d->high_g, c, "high_g", 1, most, err)) != RC_OK)
		return rc;
	if (d->low_g > d->target_g)
		return csv_fail(c, "low_g",
		    err_set(err, RC_INVALID, 0,
			"low_g %" PRId64 " is above target_g %" PRId64
			": the band is low, target, high",
			d->low_g, d->target_g),
		    err);
	if (d->target_g > d->high_g)
		return csv_fail(c, "high_g",
		    err_set(err, RC_INVALID, 0,
			"high_g %" PRId64 " is below target_g %" PRId64
			": the band is low, target, high",
			d->high_g, d->target_g),
		    err);
	return RC_OK;
}

static enum rc
dish_row(struct cut_board *b, const struct csv *c, struct err *err)
{
	struct cut_dish *d;
	int64_t whole;
	enum rc rc;

	rc = own_name(
	    b->dish_names, b->dish_count, CUT_DISHES_MAX, c, "dish", err);
	if (rc != RC_OK)
		return rc;
	d = &b->dishes[b->dish_count];
	if ((rc = species_list(&d->species, b, c, err)) != RC_OK ||
	    (rc = number(&d->wanted, c, "wanted", 0, CUT_WANTED_MAX, err)) !=
		RC_OK ||
	    (rc = number(&whole, c, "whole", 0, 1, err)) != RC_OK)
		return rc;
	d->serve = whole == 1 ? SERVE_WHOLE : SERVE_CUT;
	if ((rc = dish_band(d, c, err)) != RC_OK ||
	    (rc = money(&d->short_cost, c, "short_cost", err)) != RC_OK)
		return rc;
	if (csv_get(c, "under_price")[0] != '\0' &&
	    (rc = money(&d->under_price, c, "under_price", err)) != RC_OK)
		return rc;
	b->dish_count++;
	return RC_OK;
}

static enum rc
trim_row(struct cut_board *b, const struct csv *c, struct err *err)
{
	struct cut_pool *p;
	enum rc rc;

	rc = own_name(
	    b->pool_names, b->pool_count, CUT_POOLS_MAX, c, "pool", err);
	if (rc != RC_OK)
		return rc;
	p = &b->pools[b->pool_count];
	if ((rc = species_list(&p->species, b, c, err)) != RC_OK ||
	    (rc = number(&p->wanted_g, c, "wanted_g", 0, WEIGHT_MAX_G, err)) !=
		RC_OK ||
	    (rc = money(&p->price, c, "price_per_g", err)) != RC_OK)
		return rc;
	b->pool_count++;
	return RC_OK;
}

/* Every record of one file. */
static enum rc
rows(struct cut_board *b, struct csv *c,
    enum rc (*row)(struct cut_board *, const struct csv *, struct err *),
    struct err *err)
{
	enum rc rc;

	while ((rc = csv_next(c, err)) == RC_OK)
		if ((rc = row(b, c, err)) != RC_OK)
			break;
	return rc == RC_END ? RC_OK : rc;
}

enum rc
board_fish(struct cut_board *b, const char *name, const char *data, size_t len,
    struct err *err)
{
	static const char *const columns[] = {
		"fish",
		"species",
		"bought_g",
		"usable_g",
		"pieces",
		"cost",
		"keep",
		"byproduct_g",
		NULL,
	};
	struct csv *c = NULL;
	enum rc rc;

	if ((rc = csv_open(&c, name, data, len, columns, NULL, err)) == RC_OK)
		rc = rows(b, c, fish_row, err);
	csv_close(c);
	if (rc == RC_OK && b->fish_count == 0)
		rc = err_set(err, RC_INVALID, 0,
		    "%s:2:1: no fish in it: name at least one", name);
	return rc;
}

enum rc
board_dishes(struct cut_board *b, const char *name, const char *data,
    size_t len, struct err *err)
{
	static const char *const columns[] = {
		"dish",
		"species",
		"wanted",
		"low_g",
		"target_g",
		"high_g",
		"short_cost",
		"whole",
		NULL,
	};
	static const char *const optional[] = { "under_price", NULL };
	struct csv *c = NULL;
	enum rc rc;

	rc = csv_open(&c, name, data, len, columns, optional, err);
	if (rc == RC_OK)
		rc = rows(b, c, dish_row, err);
	csv_close(c);
	if (rc == RC_OK && b->dish_count == 0)
		rc = err_set(err, RC_INVALID, 0,
		    "%s:2:1: no dish in it: name at least one", name);
	return rc;
}

enum rc
board_trim(struct cut_board *b, const char *name, const char *data, size_t len,
    struct err *err)
{
	static const char *const columns[] = {
		"pool",
		"species",
		"wanted_g",
		"price_per_g",
		NULL,
	};
	struct csv *c = NULL;
	enum rc rc;

	if ((rc = csv_open(&c, name, data, len, columns, NULL, err)) == RC_OK)
		rc = rows(b, c, trim_row, err);
	csv_close(c);
	return rc;
}

struct cut_problem
board_problem(struct cut_board *b)
{
	struct cut_problem p = {
		.dishes = b->dishes,
		.dish_count = b->dish_count,
		.pools = b->pools,
		.pool_count = b->pool_count,
		.fish = b->fish,
		.fish_count = b->fish_count,
		.within = 1,
	};
	uint32_t cut = 0;
	size_t i;

	for (i = 0; i < b->dish_count; i++)
		if (b->dishes[i].serve != SERVE_WHOLE)
			cut |= UINT32_C(1) << i;
	for (i = 0; i < b->fish_count; i++)
		b->fish[i].ways[0].dishes = cut;
	return p;
}

void
board_fini(struct cut_board *b)
{
	free(b->fish);
	free(b->fish_names);
	free(b->fish_order);
	memset(b, 0, sizeof(*b));
}
