/* yields.c - yields learned, and the breakdowns they were learned from. */
#include "store/yields.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

static void
bind_key(struct stmt *q, const struct yield_key *key)
{
	bind_text(q, ":species", key->species);
	bind_text(q, ":bought", yield_form_word(key->from));
	bind_text(q, ":cut", key->cut);
}

/* Species, bought form and cut in the first three columns. */
static enum rc
col_key(struct yield_key *key, const struct stmt *q, struct err *err)
{
	char word[16];

	col_text(key->species, sizeof(key->species), q, 0);
	col_text(word, sizeof(word), q, 1);
	col_text(key->cut, sizeof(key->cut), q, 2);
	return yield_form_parse(&key->from, word, err);
}

#define LEARNED_COLUMNS                                                        \
	"SELECT y.species, y.bought, y.cut, y.supplier_id, y.start_mean_e8,"   \
	" y.start_var_e10, y.mean_e8, y.var_e10, y.count,"                     \
	" coalesce(s.code, '') FROM yield_learned y"                           \
	" LEFT JOIN supplier s ON s.id = y.supplier_id "

static enum rc
read_learned(void *item, const struct stmt *q, struct err *err)
{
	struct yield_learned *l = item;

	memset(l, 0, sizeof(*l));
	l->supplier_id = col_int(q, 3);
	l->start.mean_e8 = col_int(q, 4);
	l->start.var_e10 = col_int(q, 5);
	l->now.mean_e8 = col_in(q, 6, 1, 99999999);
	l->now.var_e10 = col_in(q, 7, 1, COL_INT_MAX);
	l->now.count = col_in(q, 8, 1, COL_INT_MAX);
	col_text(l->supplier, sizeof(l->supplier), q, 9);
	return col_key(&l->key, q, err);
}

enum rc
yield_learned_get(struct yield_learned *out, struct store *st,
    const struct yield_key *key, int64_t supplier_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    LEARNED_COLUMNS
	    "WHERE y.species = :species AND y.bought = :bought"
	    " AND y.cut = :cut AND y.supplier_id = :supplier",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_key(&q, key);
	bind_int(&q, ":supplier", supplier_id);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_learned(out, &q, err);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "no yield of %s from %s to %s was learned yet",
		    key->species, yield_form_word(key->from), key->cut);
	return rc;
}

enum rc
yield_learned_put(
    struct store *st, const struct yield_learned *l, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO yield_learned (species, bought, cut, supplier_id,"
	    " start_mean_e8, start_var_e10, mean_e8, var_e10, count)"
	    " VALUES (:species, :bought, :cut, :supplier, :start_mean,"
	    " :start_var, :mean, :var, :count)"
	    " ON CONFLICT (species, bought, cut, supplier_id) DO UPDATE SET"
	    " mean_e8 = :mean, var_e10 = :var, count = :count",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_key(&q, &l->key);
	bind_int(&q, ":supplier", l->supplier_id);
	bind_int(&q, ":start_mean", l->start.mean_e8);
	bind_int(&q, ":start_var", l->start.var_e10);
	bind_int(&q, ":mean", l->now.mean_e8);
	bind_int(&q, ":var", l->now.var_e10);
	bind_int(&q, ":count", l->now.count);
	return stmt_run(&q, err);
}

enum rc
yield_learned_drop(
    struct store *st, const struct yield_key *key, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "DELETE FROM yield_learned WHERE species = :species"
	    " AND bought = :bought AND cut = :cut",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_key(&q, key);
	return stmt_run(&q, err);
}

enum rc
yield_learned_open(struct yield_learned_list *out, struct store *st,
    const char *species, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    species == NULL ? LEARNED_COLUMNS SCAN_OK
		"ORDER BY y.species, y.bought, y.cut, y.supplier_id"
			    : LEARNED_COLUMNS
		"WHERE y.species = :species"
		" ORDER BY y.species, y.bought, y.cut, y.supplier_id",
	    err);
	if (rc != RC_OK)
		return rc;
	if (species != NULL)
		bind_text(&q, ":species", species);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_learned, err);
	out->items = rows;
	return rc;
}

void
yield_learned_fini(struct yield_learned_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
yield_seen_insert(struct store *st, const struct yield_seen *s, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO yield_seen (prep_id, species, bought, cut,"
	    " supplier_id, fish, in_g, out_g, learned) VALUES (:prep,"
	    " :species, :bought, :cut, :supplier, :fish, :in, :out, :learned)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_key(&q, &s->key);
	bind_int(&q, ":prep", s->prep_id);
	bind_int(&q, ":supplier", s->supplier_id);
	bind_int(&q, ":fish", s->obs.fish);
	bind_int(&q, ":in", s->obs.in_g);
	bind_int(&q, ":out", s->obs.out_g);
	bind_int(&q, ":learned", s->learned);
	return stmt_run(&q, err);
}

static enum rc
read_seen(void *item, const struct stmt *q, struct err *err)
{
	struct yield_seen *s = item;

	memset(s, 0, sizeof(*s));
	s->prep_id = col_int(q, 3);
	s->supplier_id = col_int(q, 4);
	s->obs.fish = col_int(q, 5);
	s->obs.in_g = col_int(q, 6);
	s->obs.out_g = col_int(q, 7);
	s->learned = col_int(q, 8) != 0;
	return col_key(&s->key, q, err);
}

enum rc
yield_seen_open(struct yield_seen_list *out, struct store *st,
    const struct yield_key *key, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT species, bought, cut, prep_id, supplier_id, fish, in_g,"
	    " out_g, learned FROM yield_seen WHERE species = :species"
	    " AND bought = :bought AND cut = :cut AND NOT EXISTS (SELECT 1"
	    "  FROM prep_struck k WHERE k.prep_id = yield_seen.prep_id)"
	    " ORDER BY prep_id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_key(&q, key);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_seen, err);
	out->items = rows;
	return rc;
}

void
yield_seen_fini(struct yield_seen_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
