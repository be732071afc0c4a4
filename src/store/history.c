/* history.c - breakdowns and losses over weeks. */
#include "store/history.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

static enum rc
read_yield(void *item, const struct stmt *q, struct err *err)
{
	struct yield_past *y = item;
	char word[16];

	memset(y, 0, sizeof(*y));
	y->at_utc = col_int(q, 0);
	col_text(y->key.species, sizeof(y->key.species), q, 1);
	col_text(word, sizeof(word), q, 2);
	col_text(y->key.cut, sizeof(y->key.cut), q, 3);
	y->in_g = col_int(q, 4);
	y->out_g = col_int(q, 5);
	y->learned = col_int(q, 6) != 0;
	return yield_form_parse(&y->key.from, word, err);
}

enum rc
yield_past_open(struct yield_past_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	const int64_t span[2] = { from_utc, to_utc };
	void *rows;
	enum rc rc;

	rc = stmt_between(&rows, &out->count, sizeof(*out->items), st,
	    "SELECT p.at_utc, s.species, s.bought, s.cut, s.in_g, s.out_g,"
	    " s.learned FROM prep p CROSS JOIN yield_seen s"
	    " ON s.prep_id = p.id"
	    " WHERE p.at_utc >= :from AND p.at_utc < :to"
	    " AND NOT EXISTS (SELECT 1 FROM prep_struck k"
	    "  WHERE k.prep_id = p.id)"
	    " ORDER BY p.at_utc, p.id",
	    read_yield, span, err);
	out->items = rows;
	return rc;
}

static enum rc
read_loss(void *item, const struct stmt *q, struct err *err)
{
	struct loss_past *l = item;

	(void)err;
	memset(l, 0, sizeof(*l));
	l->at_utc = col_int(q, 0);
	l->prep = col_int(q, 1) != 0;
	l->worked_g = col_int(q, 2);
	l->waste_g = col_int(q, 3);
	l->trim_g = col_int(q, 4);
	l->frames_g = col_int(q, 5);
	l->discarded_g = col_int(q, 6);
	l->missing_g = col_int(q, 7);
	return RC_OK;
}

#define LOSS_OF(kind)                                                          \
	" coalesce((SELECT weight_g FROM prep_loss WHERE prep_id = p.id"       \
	"  AND kind = '" kind "'), 0)"

/* A serving weighs its part of its tray. */
#define SERVED_G "p.weight_g * e.servings / p.servings"

enum rc
loss_past_open(struct loss_past_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	const int64_t span[2] = { from_utc, to_utc };
	void *rows;
	enum rc rc;

	rc = stmt_between(&rows, &out->count, sizeof(*out->items), st,
	    "SELECT p.at_utc, 1, coalesce((SELECT sum(i.weight_g)"
	    "  FROM prep_input i WHERE i.prep_id = p.id), 0),"
	    LOSS_OF("waste") "," LOSS_OF("trim") "," LOSS_OF("frames")
	    ", 0, 0 FROM prep p WHERE p.at_utc >= :from AND p.at_utc < :to"
	    " AND NOT EXISTS (SELECT 1 FROM prep_struck k"
	    "  WHERE k.prep_id = p.id)"
	    " UNION ALL SELECT e.at_utc, 0, 0, 0, 0, 0,"
	    " CASE e.kind WHEN 'discarded' THEN " SERVED_G " ELSE 0 END,"
	    " CASE e.kind WHEN 'missing' THEN " SERVED_G
	    " WHEN 'found' THEN -(" SERVED_G ") ELSE 0 END"
	    " FROM portion_event e JOIN portion p ON p.id = e.portion_id"
	    " WHERE e.kind IN ('discarded', 'missing', 'found')"
	    " AND e.at_utc >= :from AND e.at_utc < :to"
	    " AND NOT EXISTS (SELECT 1 FROM portion_event u"
	    "  WHERE u.undoes = e.id)"
	    " UNION ALL SELECT e.at_utc, 0, 0, 0, 0, 0, e.weight_g, 0"
	    " FROM batch_event e WHERE e.kind = 'discarded'"
	    " AND e.at_utc >= :from AND e.at_utc < :to"
	    " AND NOT EXISTS (SELECT 1 FROM batch_event u"
	    "  WHERE u.undoes = e.id)"
	    " ORDER BY 1",
	    read_loss, span, err);
	out->items = rows;
	return rc;
}
