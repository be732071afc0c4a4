/* recall_items.c - the list of a recall: what was to be pulled, what was found,
 * what guests were served. */
#include <stdlib.h>
#include <string.h>

#include "base/day.h"
#include "base/str.h"
#include "stmt.h"
#include "store/recall_reach.h"
#include "store/recalls.h"

int64_t
recall_item_missing(const struct recall_item *i)
{
	int64_t rest, unseen;

	if (!recall_item_pull(i))
		return 0;
	if (i->subject.batch_id != 0)
		return i->found == 0 && i->left_now > 0 ? 1 : 0;
	/* What was thrown away may be of what was found: in doubt it was. */
	rest = i->left - i->discarded;
	unseen = i->left - i->found;
	rest = rest < unseen ? rest : unseen;
	return rest > 0 ? rest : 0;
}

bool
recall_item_pull(const struct recall_item *i)
{
	return i->left > 0 || i->weight_g > 0;
}

static enum portion_fate
fate_of(const char *word)
{
	enum portion_fate f = FATE_USED;

	while (f < FATE_COUNT - 1 && !str_eq(word, fate_word(f)))
		f++;
	return f;
}

static enum rc
read_item(void *item, const struct stmt *q, struct err *err)
{
	struct recall_item *i = item;
	char word[16];

	(void)err;
	memset(i, 0, sizeof(*i));
	i->id = col_int(q, 0);
	i->subject.batch_id = col_int(q, 1);
	i->subject.portion_id = col_int(q, 2);
	i->left = col_int(q, 3);
	i->weight_g = col_int(q, 4);
	col_text(i->place, sizeof(i->place), q, 5);
	col_text(i->code, sizeof(i->code), q, 6);
	col_text(i->batch, sizeof(i->batch), q, 7);
	col_text(i->name, sizeof(i->name), q, 8);
	col_text(i->place_now, sizeof(i->place_now), q, 9);
	if (str_eq(i->place, i->place_now))
		i->place_now[0] = '\0';
	i->use_by_utc = col_int(q, 10);
	i->frozen = col_int(q, 11) != 0;
	i->struck = col_int(q, 12) != 0;
	i->made = col_int(q, 13);
	i->left_now = col_int(q, 14);
	i->found = col_int(q, 15);
	i->discarded = col_int(q, 16);
	i->used = col_int(q, 17);
	i->thrown = col_int(q, 18);
	i->lost = col_int(q, 19);
	i->last_utc = col_int(q, 20);
	col_text(word, sizeof(word), q, 21);
	i->last = fate_of(word);
	i->combined = col_int(q, 22);
	col_codes(i->also, sizeof(i->also), q, 23);
	return RC_OK;
}

#define FOUND                                                                  \
	"coalesce((SELECT sum(t.found) FROM recall_tick t"                     \
	" WHERE t.item_id = i.id AND t.verdict IN ('found', 'surprise')), 0)"

/* Servings of a unit by what became of them; what was taken back counts
 * against it. */
#define BECAME(word)                                                           \
	"coalesce((SELECT sum(CASE WHEN e.undoes IS NULL THEN e.servings"      \
	" ELSE -e.servings END) FROM portion_event e LEFT JOIN portion_event"  \
	" x ON x.id = e.undoes WHERE e.portion_id = p.id"                      \
	" AND coalesce(x.kind, e.kind) = '" word "'), 0)"
#define LAST(what)                                                             \
	"(SELECT e." what                                                      \
	" FROM portion_event e WHERE e.portion_id = p.id"                      \
	" ORDER BY e.id DESC LIMIT 1)"

#define UNIT_ITEMS                                                             \
	"SELECT i.id, i.batch_id, i.portion_id, i.left, i.weight_g, i.place,"  \
	" p.code AS code, b.code, d.name, coalesce((SELECT w.place"            \
	"  FROM place_unit w WHERE w.portion_id = p.id), ''),"                 \
	" p.use_by_utc AS use_by,"                                             \
	" p.frozen_utc IS NOT NULL AND p.thawed_utc IS NULL,"                  \
	" EXISTS (SELECT 1 FROM prep_output o JOIN prep_struck k"              \
	"  ON k.prep_id = o.prep_id WHERE o.id = p.prep_output_id)"            \
	" OR EXISTS (SELECT 1 FROM portion_event e WHERE e.portion_id = p.id"  \
	"  AND e.kind = 'struck'),"                                            \
	" p.servings, p.left, " FOUND ", coalesce((SELECT sum(CASE WHEN"       \
	"  e.undoes IS NULL THEN e.servings ELSE -e.servings END)"             \
	"  FROM portion_event e LEFT JOIN portion_event x ON x.id = e.undoes"  \
	"  WHERE e.portion_id = p.id AND e.id > r.portion_event_id"            \
	"  AND coalesce(x.kind, e.kind) = 'discarded'), 0), " BECAME(          \
	    "used") ", " BECAME("discarded") ", " BECAME("missing") " - "      \
							    BECAME("found")    \
								", coalesce("  \
	LAST("at_utc") ", 0), coalesce(" LAST(                                 \
	    "kind") ", ''), " BECAME("combined") ", (SELECT"                   \
	" group_concat(y.code) FROM portion_source m CROSS JOIN batch y"       \
	"  ON y.id = m.batch_id WHERE m.portion_id = p.id)"                    \
	" FROM recall_item i JOIN recall r ON r.id = i.recall_id"              \
	" JOIN portion p ON p.id = i.portion_id"                               \
	" JOIN batch b ON b.id = p.batch_id JOIN cut c ON c.id = p.cut_id"     \
	" JOIN dish d ON d.id = c.dish_id WHERE i.recall_id = :id"

#define BATCH_ITEMS                                                            \
	"SELECT i.id, i.batch_id, i.portion_id, i.left, i.weight_g, i.place,"  \
	" b.code AS code, b.code, b.species, coalesce((SELECT w.place"         \
	"  FROM place_batch w WHERE w.batch_id = b.id), ''),"                  \
	" b.use_by_utc AS use_by, 0, 0, b.count, l.weight_g, " FOUND           \
	","                                                                    \
	" coalesce((SELECT sum(CASE e.kind WHEN 'returned' THEN -e.weight_g"   \
	"  ELSE e.weight_g END) FROM batch_event e WHERE e.batch_id = b.id"    \
	"  AND e.id > r.batch_event_id), 0), 0, 0, 0, 0, '', 0, NULL"          \
	" FROM recall_item i JOIN recall r ON r.id = i.recall_id"              \
	" JOIN batch b ON b.id = i.batch_id"                                   \
	" JOIN batch_left l ON l.batch_id = b.id WHERE i.recall_id = :id"

/* By place; what is still whole first; then first to expire. */
static int
by_place(const void *a, const void *b)
{
	const struct recall_item *x = a, *y = b;
	int by = strcmp(x->place, y->place);

	if (by != 0)
		return by;
	if ((x->subject.batch_id != 0) != (y->subject.batch_id != 0))
		return x->subject.batch_id != 0 ? -1 : 1;
	if (x->use_by_utc != y->use_by_utc)
		return x->use_by_utc < y->use_by_utc ? -1 : 1;
	return x->id < y->id ? -1 : x->id > y->id;
}

enum rc
recall_items_open(struct recall_item_list *out, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st, BATCH_ITEMS " UNION ALL " UNIT_ITEMS, err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_item, err);
	out->items = rows;
	if (rc == RC_OK && out->count > 1)
		qsort(out->items, out->count, sizeof(*out->items), by_place);
	return rc;
}

void
recall_items_fini(struct recall_item_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
recall_item_of(struct recall_item *out, struct store *st, int64_t recall_id,
    const struct subject *s, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    s->batch_id != 0 ? BATCH_ITEMS " AND i.batch_id = :subject"
			     : UNIT_ITEMS " AND i.portion_id = :subject",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	bind_int(
	    &q, ":subject", s->batch_id != 0 ? s->batch_id : s->portion_id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		rc = read_item(out, &q, err);
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
recall_counted(struct recall_count *out, struct store *st, int64_t recall_id,
    struct err *err)
{
	struct recall_item_list l;
	size_t i;
	enum rc rc = recall_items_open(&l, st, recall_id, err);

	memset(out, 0, sizeof(*out));
	for (i = 0; rc == RC_OK && i < l.count; i++) {
		out->pull += recall_item_pull(&l.items[i]);
		out->missing += recall_item_missing(&l.items[i]) > 0;
	}
	out->found = out->pull - out->missing;
	recall_items_fini(&l);
	return rc;
}

/* --- what guests were served ----------------------------------------------*/

static enum rc
read_use(void *item, const struct stmt *q, struct err *err)
{
	struct recall_use *u = item;
	char day[16], name[24];

	(void)err;
	memset(u, 0, sizeof(*u));
	col_text(u->code, sizeof(u->code), q, 0);
	col_text(u->dish, sizeof(u->dish), q, 1);
	u->servings = col_int(q, 2);
	if (col_int(q, 8) != 0) {
		col_text(name, sizeof(name), q, 4);
		str_fmt(u->service, sizeof(u->service), "%s/%s",
		    day_print(day, sizeof(day), col_day(q, 3)), name);
	}
	u->at.utc = col_int(q, 5);
	u->at.offset_min = (int)col_int(q, 6);
	col_text(u->at.by, sizeof(u->at.by), q, 7);
	return RC_OK;
}

enum rc
recall_uses_open(struct recall_use **items, size_t *count, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*items = NULL;
	*count = 0;
	rc = stmt_open(&q, st,
	    "SELECT p.code, d.name, e.servings, s.day, s.name, e.at_utc,"
	    " e.offset_min, e.by, e.service_id FROM recall_item i"
	    " CROSS JOIN portion_event e ON e.portion_id = i.portion_id"
	    " JOIN portion p ON p.id = i.portion_id"
	    " JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"
	    " LEFT JOIN service s ON s.id = e.service_id"
	    " WHERE i.recall_id = :id AND i.portion_id IS NOT NULL"
	    " AND e.kind = 'used' AND NOT EXISTS (SELECT 1"
	    "  FROM portion_event x WHERE x.undoes = e.id)"
	    " ORDER BY e.at_utc, e.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_use, err);
	*items = rows;
	return rc;
}

/* --- what carries no label ------------------------------------------------*/

static enum rc
read_loose(void *item, const struct stmt *q, struct err *err)
{
	struct recall_loose *l = item;

	(void)err;
	memset(l, 0, sizeof(*l));
	col_text(l->batch, sizeof(l->batch), q, 0);
	l->trim = col_int(q, 1);
	l->frames = col_int(q, 2);
	return RC_OK;
}

#define LOST(word)                                                             \
	" coalesce(sum((SELECT x.weight_g FROM prep_loss x"                    \
	" WHERE x.prep_id = n.prep_id AND x.kind = '" word "')), 0)"

enum rc
recall_loose_open(struct recall_loose **items, size_t *count, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*items = NULL;
	*count = 0;
	/* Of whole batches and of breakdowns; of a unit alone there is none. */
	rc = stmt_open(&q, st,
	    "SELECT b.code," LOST("trim") " AS trim," LOST(
		"frames") " AS frames FROM prep_input n"
			  " JOIN batch b ON b.id = n.batch_id"
			  " WHERE n.prep_id IN (SELECT m.prep_id"
			  "  FROM recall_hold r JOIN hold h ON h.id = r.hold_id"
			  "  JOIN prep_input m ON m.batch_id = h.batch_id"
			  "  WHERE r.recall_id = :id"
			  "  UNION SELECT h.prep_id FROM recall_hold r"
			  "  JOIN hold h ON h.id = r.hold_id"
			  "  WHERE r.recall_id = :id AND h.prep_id > 0)"
			  /* trim of several batches lies in one box */
			  " AND n.id = (SELECT min(f.id) FROM prep_input f"
			  "  WHERE f.prep_id = n.prep_id)"
			  " AND NOT EXISTS (SELECT 1 FROM prep_struck k"
			  "  WHERE k.prep_id = n.prep_id) GROUP BY b.id"
			  " HAVING trim + frames > 0 ORDER BY b.code" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_loose, err);
	*items = rows;
	return rc;
}

static enum rc
read_supplier(void *item, const struct stmt *q, struct err *err)
{
	struct supplier *s = item;

	(void)err;
	memset(s, 0, sizeof(*s));
	s->id = col_int(q, 0);
	col_text(s->code, sizeof(s->code), q, 1);
	col_text(s->name, sizeof(s->name), q, 2);
	col_text(s->address, sizeof(s->address), q, 3);
	col_text(s->approval, sizeof(s->approval), q, 4);
	col_text(s->contact, sizeof(s->contact), q, 5);
	return RC_OK;
}

enum rc
recall_suppliers(struct supplier **items, size_t *count, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*items = NULL;
	*count = 0;
	rc = stmt_open(&q, st,
	    "SELECT s.id, s.code, s.name, s.address, s.approval, s.contact"
	    " FROM supplier s WHERE s.id IN (SELECT d.supplier_id"
	    "  FROM recall_item i LEFT JOIN portion p ON p.id = i.portion_id"
	    "  CROSS JOIN batch b ON b.id IN (SELECT i.batch_id"
	    "   UNION ALL SELECT p.batch_id UNION ALL SELECT m.batch_id"
	    "   FROM portion_source m WHERE m.portion_id = p.id)"
	    "  JOIN delivery d ON d.id = b.delivery_id"
	    "  WHERE i.recall_id = :id) ORDER BY s.code" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_supplier, err);
	*items = rows;
	return rc;
}
