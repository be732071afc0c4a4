/* menu_in.c - the menu from a CSV file. */
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"
#include "core/shellfish.h"
#include "exchange/records_in.h"
#include "field.h"

static enum rc
dish_code(struct plan_cut *cut, const struct csv *c, struct err *err)
{
	const char *p;
	enum rc rc;

	rc = csv_text(cut->dish, sizeof(cut->dish), c, "dish", false, err);
	if (rc != RC_OK)
		return rc;
	for (p = cut->dish; *p != '\0'; p++)
		if (!((*p >= 'a' && *p <= 'z') || (*p >= '0' && *p <= '9') ||
			*p == '-'))
			return csv_fail(c, "dish",
			    err_set(err, RC_INVALID, 0,
				"a dish code is written with a-z, 0-9 and -"),
			    err);
	return RC_OK;
}

static enum rc
skin(bool *on, const struct csv *c, struct err *err)
{
	const char *s = csv_get(c, "skin");

	*on = str_eq(s, "on");
	if (*on || str_eq(s, "off"))
		return RC_OK;
	return csv_fail(c, "skin",
	    err_set(err, RC_INVALID, 0, "skin is on or off, not \"%.20s\"", s),
	    err);
}

static enum rc
weights(struct plan_cut *cut, const struct csv *c, struct err *err)
{
	static const char *const columns[] = { "low", "target", "high" };
	grams *const fields[] = { &cut->low_g, &cut->target_g, &cut->high_g };
	enum rc rc;
	int i;

	for (i = 0; i < 3; i++) {
		rc = weight_parse(
		    fields[i], columns[i], csv_get(c, columns[i]), err);
		if (rc != RC_OK)
			return csv_fail(c, columns[i], rc, err);
	}
	if (cut->low_g > cut->target_g || cut->target_g > cut->high_g)
		return csv_fail(c, "target",
		    err_set(err, RC_INVALID, 0,
			"weights must be low <= target <= high"),
		    err);
	return RC_OK;
}

/* "lunch:12 dinner:9.5" */
static enum rc
mix(struct menu_row *row, const struct csv *c,
    const struct service_names *services, struct err *err)
{
	char text[CSV_FIELD_MAX + 1];
	char *word, *rest = text, *colon;
	unsigned seen = 0;
	int i;
	enum rc rc;

	str_copy(text, sizeof(text), csv_get(c, "mix"));
	while ((word = strtok_r(rest, " ", &rest)) != NULL) {
		colon = strchr(word, ':');
		if (colon != NULL)
			*colon = '\0';
		i = service_index(services, word);
		if (colon == NULL || i < 0) {
			rc = err_set(err, RC_INVALID, 0,
			    "\"%.24s\": write the share as SERVICE:PERCENT, "
			    "with a service of the settings",
			    word);
			return csv_fail(c, "mix", rc, err);
		}
		if (seen & 1u << i) {
			rc = err_set(err, RC_INVALID, 0,
			    "\"%.24s\" stands in the mix twice", word);
			return csv_fail(c, "mix", rc, err);
		}
		seen |= 1u << i;
		rc = percent_parse(&row->share_bp[i], "share", colon + 1, err);
		if (rc != RC_OK)
			return csv_fail(c, "mix", rc, err);
	}
	return RC_OK;
}

static enum rc
what_it_is(struct plan_cut *cut, const struct csv *c, struct err *err)
{
	enum rc rc;

	rc = food_state_parse(&cut->state, csv_get(c, "state"), err);
	if (rc == RC_OK &&
	    (cut->state == STATE_VACUUM || cut->state == STATE_THAWED))
		rc = err_set(err, RC_INVALID, 0,
		    "a dish is raw, served-raw, cooked or live");
	if (rc != RC_OK)
		return csv_fail(c, "state", rc, err);
	rc = cut_parse(&cut->kind, csv_get(c, "cut"), err);
	if (rc != RC_OK)
		return csv_fail(c, "cut", rc, err);
	rc = presentation_parse(&cut->bought, csv_get(c, "bought"), err);
	return rc == RC_OK ? RC_OK : csv_fail(c, "bought", rc, err);
}

/* One of the species that will do, "HKE" or "Hake". */
static enum rc
made_of(struct plan_cut *cut, const struct csv *c, const char *text,
    const struct species_table *species, struct err *err)
{
	const struct species *sp;
	enum rc rc;

	if ((rc = species_get(&sp, species, text, err)) != RC_OK)
		return csv_fail(c, "species", RC_INVALID, err);
	str_copy(cut->species, sizeof(cut->species), sp->code);
	if (!species_sold_as(sp, cut->bought))
		return csv_fail(c, "bought",
		    err_set(err, RC_INVALID, 0, "%s is not bought %s", sp->name,
			presentation_word(cut->bought)),
		    err);
	return RC_OK;
}

static enum rc
house_yield(int *bp, const struct csv *c, struct err *err)
{
	const char *s = csv_get(c, "yield");
	enum rc rc;

	if (s[0] == '\0')
		return RC_OK;
	rc = percent_parse(bp, "yield", s, err);
	if (rc == RC_OK && *bp == 0)
		rc = err_set(err, RC_INVALID, 0, "a yield of 0 gives nothing");
	return rc == RC_OK ? RC_OK : csv_fail(c, "yield", rc, err);
}

/* What a guest pays, "24.50", and what finishing leaves, "96". */
static enum rc
price_and_finish(struct plan_cut *cut, const struct csv *c, struct err *err)
{
	const char *price = csv_get(c, "price"), *left = csv_get(c, "finish");
	enum rc rc;

	cut->price = -1;
	cut->finish_bp = BP_ONE;
	if (price[0] != '\0' &&
	    (rc = price_parse(&cut->price, "price", price, err)) != RC_OK)
		return csv_fail(c, "price", rc, err);
	if (left[0] == '\0')
		return RC_OK;
	rc = percent_parse(&cut->finish_bp, "finish", left, err);
	if (rc == RC_OK && cut->finish_bp == 0)
		rc = err_set(err, RC_INVALID, 0,
		    "finishing that leaves 0 leaves no fish");
	return rc == RC_OK ? RC_OK : csv_fail(c, "finish", rc, err);
}

/* Shellfish by the piece: "6" animals a portion, "1/2" an animal. */
static enum rc
animals(struct plan_cut *cut, const struct csv *c, struct err *err)
{
	char text[CSV_FIELD_MAX + 1], *slash;
	int64_t n = 0, make = 1;
	enum rc rc;

	cut->animals = 0;
	cut->animals_make = 1;
	str_copy(text, sizeof(text), csv_get(c, "pieces"));
	if (text[0] == '\0')
		return RC_OK;
	slash = strchr(text, '/');
	if (slash != NULL)
		*slash = '\0';
	rc = int_parse(&n, "pieces", text, 1, SHELL_PIECES_MAX, err);
	if (rc == RC_OK && slash != NULL)
		rc = int_parse(
		    &make, "pieces", slash + 1, 1, SHELL_PIECES_MAX, err);
	if (rc == RC_OK && cut->kind != CUT_SHELL && cut->kind != CUT_MEAT)
		rc = err_set(err, RC_INVALID, 0,
		    "only shell and meat are counted by the animal");
	if (rc != RC_OK)
		return csv_fail(c, "pieces", rc, err);
	cut->animals = (int)n;
	cut->animals_make = (int)make;
	return RC_OK;
}

static enum rc
menu_row(struct menu_row *row, const struct csv *c,
    const struct service_names *services, struct err *err)
{
	struct plan_cut *cut = &row->cut;
	enum rc rc;

	if ((rc = dish_code(cut, c, err)) != RC_OK ||
	    (rc = csv_text(cut->dish_name, sizeof(cut->dish_name), c, "name",
		 false, err)) != RC_OK ||
	    (rc = csv_text(cut->allergens, sizeof(cut->allergens), c,
		 "allergens", true, err)) != RC_OK ||
	    (rc = what_it_is(cut, c, err)) != RC_OK ||
	    (rc = skin(&cut->skin_on, c, err)) != RC_OK ||
	    (rc = weights(cut, c, err)) != RC_OK ||
	    (rc = house_yield(&cut->house_yield_bp, c, err)) != RC_OK ||
	    (rc = price_and_finish(cut, c, err)) != RC_OK ||
	    (rc = animals(cut, c, err)) != RC_OK)
		return rc;
	return mix(row, c, services, err);
}

/* A dish on several rows is one dish: only species and cut may differ. */
static enum rc
agrees(
    const struct menu_row *rows, size_t n, const struct csv *c, struct err *err)
{
	const struct plan_cut *b = &rows[n].cut, *a;
	size_t i;

	for (i = 0; i < n; i++) {
		a = &rows[i].cut;
		if (!str_eq(a->dish, b->dish))
			continue;
		if (str_eq(a->species, b->species))
			return csv_fail(c, "dish",
			    err_set(err, RC_INVALID, 0,
				"dish %s with %s stands in the file twice",
				b->dish, b->species),
			    err);
		if (!str_eq(a->dish_name, b->dish_name) ||
		    !str_eq(a->allergens, b->allergens) ||
		    a->state != b->state || a->price != b->price ||
		    memcmp(rows[i].share_bp, rows[n].share_bp,
			sizeof(rows[n].share_bp)) != 0)
			return csv_fail(c, "dish",
			    err_set(err, RC_INVALID, 0,
				"dish %s: name, state, allergens, price and "
				"mix "
				"differ from its row above",
				b->dish),
			    err);
	}
	return RC_OK;
}

struct menu_file {
	struct menu_row *rows;
	size_t count, cap;
	const struct species_table *species;
};

/*
 * One line of the file: a row for each species that will do, "HKE|POK", all one
 * part of the dish; a dish needs every line it has.
 */
static enum rc
take_line(struct menu_file *m, const struct menu_row *line, const struct csv *c,
    struct err *err)
{
	char text[CSV_FIELD_MAX + 1], *word, *rest;
	struct menu_row *row;
	int part = 0;
	size_t i;
	enum rc rc;

	for (i = 0; i < m->count; i++)
		if (str_eq(m->rows[i].cut.dish, line->cut.dish) &&
		    m->rows[i].cut.part >= part)
			part = m->rows[i].cut.part + 1;
	str_copy(text, sizeof(text), csv_get(c, "species"));
	word = text;
	do {
		rest = strchr(word, '|');
		if (rest != NULL)
			*rest++ = '\0';
		m->rows = grow(m->rows, &m->cap, m->count, sizeof(*m->rows));
		row = &m->rows[m->count];
		*row = *line;
		row->cut.part = part;
		rc = made_of(&row->cut, c, word, m->species, err);
		if (rc != RC_OK ||
		    (rc = agrees(m->rows, m->count, c, err)) != RC_OK)
			return rc;
		m->count++;
		word = rest;
	} while (word != NULL);
	return RC_OK;
}

enum rc
menu_parse(struct menu_row **out, size_t *count, const char *name,
    const char *data, size_t len, const struct service_names *services,
    const struct species_table *species, struct err *err)
{
	static const char *const columns[] = {
		"dish",
		"name",
		"state",
		"species",
		"cut",
		"skin",
		"bought",
		"low",
		"target",
		"high",
		"mix",
		NULL,
	};
	static const char *const optional[] = { "allergens", "yield", "price",
		"finish", "pieces", NULL };
	struct menu_file m = { .species = species };
	struct menu_row line;
	struct csv *c = NULL;
	enum rc rc;

	*out = NULL;
	*count = 0;
	rc = csv_open(&c, name, data, len, columns, optional, err);
	while (rc == RC_OK && (rc = csv_next(c, err)) == RC_OK) {
		memset(&line, 0, sizeof(line));
		if ((rc = menu_row(&line, c, services, err)) != RC_OK ||
		    (rc = take_line(&m, &line, c, err)) != RC_OK)
			break;
	}
	csv_close(c);
	if (rc == RC_END && m.count == 0)
		rc = err_set(err, RC_INVALID, 0,
		    "%s: no dish in it: the menu stays as it is", name);
	if (rc != RC_END) {
		free(m.rows);
		return rc;
	}
	*out = m.rows;
	*count = m.count;
	return RC_OK;
}
