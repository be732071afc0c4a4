/* recalls.c - recalls: opened, ticked off, closed. */
#include "store/recalls.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

static const char *const origin_words[RECALL_ORIGIN_COUNT] = {
	[RECALL_SUPPLIER] = "supplier",
	[RECALL_AUTHORITY] = "authority",
	[RECALL_GUEST] = "guest",
	[RECALL_KITCHEN] = "kitchen",
};

static const char *const outcome_words[RECALL_OUTCOME_COUNT] = {
	[RECALL_OPEN] = "open",
	[RECALL_DISCARDED] = "discarded",
	[RECALL_RETURNED] = "returned",
	[RECALL_RELEASED] = "released",
	[RECALL_MISTAKE] = "mistake",
};

static const char *const verdict_words[TICK_COUNT] = {
	[TICK_FOUND] = "found",
	[TICK_AGAIN] = "again",
	[TICK_SURPRISE] = "surprise",
	[TICK_OTHER] = "other",
	[TICK_UNKNOWN] = "unknown",
};

const char *
recall_origin_word(enum recall_origin o)
{
	return origin_words[o];
}

const char *
recall_outcome_word(enum recall_outcome o)
{
	return outcome_words[o];
}

const char *
recall_verdict_word(enum recall_verdict v)
{
	return verdict_words[v];
}

/* The schema takes no other words. */
static int
word_of(const char *const *words, int count, const struct stmt *q, int col)
{
	char word[16];
	int i = 0;

	col_text(word, sizeof(word), q, col);
	while (i < count - 1 && !str_eq(words[i], word))
		i++;
	return i;
}

/* --- the recall -----------------------------------------------------------*/

enum rc
recall_insert(struct store *st, struct recall *r, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO recall (origin, what, reason, portion_event_id,"
	    " batch_event_id, at_utc, offset_min, by) VALUES (:origin, :what,"
	    " :reason, (SELECT coalesce(max(id), 0) FROM portion_event),"
	    " (SELECT coalesce(max(id), 0) FROM batch_event), :at, :offset,"
	    " :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":origin", origin_words[r->origin]);
	bind_text(&q, ":what", r->what);
	bind_text(&q, ":reason", r->reason);
	bind_int(&q, ":at", r->at.utc);
	bind_int(&q, ":offset", r->at.offset_min);
	bind_text(&q, ":by", r->at.by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		r->id = last_id(st);
	return rc;
}

static enum rc
read_recall(void *item, const struct stmt *q, struct err *err)
{
	struct recall *r = item;

	(void)err;
	memset(r, 0, sizeof(*r));
	r->id = col_int(q, 0);
	r->origin = (enum recall_origin)word_of(
	    origin_words, RECALL_ORIGIN_COUNT, q, 1);
	col_text(r->what, sizeof(r->what), q, 2);
	col_text(r->reason, sizeof(r->reason), q, 3);
	r->at.utc = col_int(q, 4);
	r->at.offset_min = (int)col_int(q, 5);
	col_text(r->at.by, sizeof(r->at.by), q, 6);
	r->outcome = (enum recall_outcome)word_of(
	    outcome_words, RECALL_OUTCOME_COUNT, q, 7);
	r->lines_missing = col_int(q, 8);
	col_text(r->end_reason, sizeof(r->end_reason), q, 9);
	r->end.utc = col_int(q, 10);
	r->end.offset_min = (int)col_int(q, 11);
	col_text(r->end.by, sizeof(r->end.by), q, 12);
	return RC_OK;
}

#define RECALL_COLUMNS                                                         \
	"SELECT r.id, r.origin, r.what, r.reason, r.at_utc, r.offset_min,"     \
	" r.by, coalesce(e.outcome, 'open'), coalesce(e.missing, 0),"          \
	" coalesce(e.reason, ''), coalesce(e.at_utc, 0),"                      \
	" coalesce(e.offset_min, 0), coalesce(e.by, '') FROM recall r"         \
	" LEFT JOIN recall_end e ON e.recall_id = r.id "

enum rc
recall_get(struct recall *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, RECALL_COLUMNS "WHERE r.id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		rc = read_recall(out, &q, err);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "there is no recall %" PRId64 ": pinbone recall list", id);
	return rc;
}

enum rc
recall_close_row(struct store *st, const struct recall *r, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO recall_end (recall_id, outcome, missing, reason,"
	    " at_utc, offset_min, by) VALUES (:id, :outcome, :missing,"
	    " :reason, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", r->id);
	bind_text(&q, ":outcome", outcome_words[r->outcome]);
	bind_int(&q, ":missing", r->lines_missing);
	bind_text(&q, ":reason", r->end_reason);
	bind_int(&q, ":at", r->end.utc);
	bind_int(&q, ":offset", r->end.offset_min);
	bind_text(&q, ":by", r->end.by);
	return stmt_run(&q, err);
}

enum rc
recall_list_open(struct recall_list *out, struct store *st, bool open,
    int64_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* Recalls are few in the life of a kitchen. */
	rc = stmt_open(&q, st,
	    open ? RECALL_COLUMNS
		"WHERE e.recall_id IS NULL ORDER BY r.id DESC LIMIT "
		":most" SCAN_OK
		 : RECALL_COLUMNS "ORDER BY r.id DESC LIMIT :most" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_recall, err);
	out->items = rows;
	return rc;
}

void
recall_list_fini(struct recall_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
recall_of_lot(int64_t *id, struct store *st, int64_t supplier_id,
    const char *lot, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if (lot[0] == '\0')
		return RC_NOTFOUND;
	rc = stmt_open(&q, st,
	    "SELECT r.recall_id FROM batch b INDEXED BY batch_lot_said"
	    " CROSS JOIN delivery d ON d.id = b.delivery_id"
	    " CROSS JOIN hold h ON h.batch_id = b.id"
	    " CROSS JOIN recall_hold r ON r.hold_id = h.id"
	    " WHERE b.lot = :lot COLLATE NOCASE AND d.supplier_id = :supplier"
	    " AND h.released_utc IS NULL AND NOT EXISTS (SELECT 1"
	    "  FROM recall_end e WHERE e.recall_id = r.recall_id) LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":lot", lot);
	bind_int(&q, ":supplier", supplier_id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*id = col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

/* --- what it rests on -----------------------------------------------------*/

enum rc
recall_rests(struct store *st, int64_t recall_id, int64_t hold_id, bool opened,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO recall_hold (recall_id, hold_id, opened)"
	    " VALUES (:recall, :hold, :opened) ON CONFLICT DO NOTHING",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":recall", recall_id);
	bind_int(&q, ":hold", hold_id);
	bind_int(&q, ":opened", opened);
	return stmt_run(&q, err);
}

static enum rc
read_hold(void *item, const struct stmt *q, struct err *err)
{
	struct recall_hold *h = item;

	(void)err;
	memset(h, 0, sizeof(*h));
	h->hold.id = col_int(q, 0);
	h->hold.subject.batch_id = col_int(q, 1);
	h->hold.subject.portion_id = col_int(q, 2);
	h->hold.subject.prep_id = col_int(q, 3);
	h->hold.released_utc = col_int(q, 4);
	h->opened = col_int(q, 5) != 0;
	h->shared = col_int(q, 6) != 0;
	return RC_OK;
}

enum rc
recall_holds_open(struct recall_hold **items, size_t *count, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*items = NULL;
	*count = 0;
	rc = stmt_open(&q, st,
	    "SELECT h.id, h.batch_id, h.portion_id, h.prep_id, h.released_utc,"
	    " r.opened, EXISTS (SELECT 1 FROM recall_hold o"
	    "  WHERE o.hold_id = h.id AND o.recall_id <> r.recall_id"
	    "  AND NOT EXISTS (SELECT 1 FROM recall_end e"
	    "  WHERE e.recall_id = o.recall_id)) FROM recall_hold r"
	    " JOIN hold h ON h.id = r.hold_id WHERE r.recall_id = :id"
	    " ORDER BY h.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_hold, err);
	*items = rows;
	return rc;
}

/* --- the list, frozen -----------------------------------------------------*/

#define WHOLE_BATCH                                                            \
	"INSERT INTO recall_item (recall_id, batch_id, left, weight_g, place)" \
	" SELECT :recall, b.id, CASE b.count WHEN 0 THEN 0"                    \
	" ELSE max(l.count, 0) END, l.weight_g, coalesce((SELECT w.place"      \
	" FROM place_batch w WHERE w.batch_id = b.id), :chilled)"              \
	" FROM batch b JOIN batch_left l ON l.batch_id = b.id"                 \
	" WHERE b.id = :batch AND b.decision <> 'refused' AND l.weight_g > 0"  \
	" AND (b.count = 0 OR l.count > 0) ON CONFLICT DO NOTHING"

#define UNITS                                                                  \
	"INSERT INTO recall_item (recall_id, portion_id, left, weight_g,"      \
	" place) SELECT :recall, p.id, p.left, 0, coalesce((SELECT w.place"    \
	" FROM place_unit w WHERE w.portion_id = p.id), CASE WHEN"             \
	" p.frozen_utc IS NOT NULL AND p.thawed_utc IS NULL THEN :frozen"      \
	" ELSE :chilled END) FROM portion p WHERE "

static enum rc
freeze_by(struct store *st, const char *sql, int64_t recall_id,
    const char *name, int64_t id, const char *chilled, const char *frozen,
    struct err *err)
{
	struct stmt q;
	enum rc rc = stmt_open(&q, st, sql, err);

	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":recall", recall_id);
	bind_int(&q, name, id);
	bind_text(&q, ":chilled", chilled);
	if (frozen != NULL)
		bind_text(&q, ":frozen", frozen);
	return stmt_run(&q, err);
}

enum rc
recall_freeze(struct store *st, int64_t recall_id, const struct subject *s,
    const char *chilled, const char *frozen, struct err *err)
{
	enum rc rc;

	if (s->portion_id != 0)
		return freeze_by(st,
		    UNITS "p.id = :portion ON CONFLICT DO NOTHING", recall_id,
		    ":portion", s->portion_id, chilled, frozen, err);
	if (s->prep_id != 0)
		return freeze_by(st,
		    UNITS
		    "p.id IN (SELECT u.portion_id FROM prep_unit u"
		    " WHERE u.prep_id = :prep) ON CONFLICT DO NOTHING",
		    recall_id, ":prep", s->prep_id, chilled, frozen, err);
	rc = freeze_by(st, WHOLE_BATCH, recall_id, ":batch", s->batch_id,
	    chilled, NULL, err);
	if (rc != RC_OK)
		return rc;
	return freeze_by(st,
	    UNITS
	    "p.id IN (SELECT u.portion_id FROM batch_unit u"
	    " WHERE u.batch_id = :batch) ON CONFLICT DO NOTHING",
	    recall_id, ":batch", s->batch_id, chilled, frozen, err);
}

/* --- ticks ----------------------------------------------------------------*/

enum rc
recall_tick_add(struct store *st, const struct recall_tick *t, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO recall_tick (recall_id, item_id, code, verdict, found,"
	    " says, at_utc, offset_min, by) VALUES (:recall, :item, :code,"
	    " :verdict, :found, :says, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":recall", t->recall_id);
	bind_id(&q, ":item", t->item_id);
	bind_text(&q, ":code", t->code);
	bind_text(&q, ":verdict", verdict_words[t->verdict]);
	bind_int(&q, ":found", t->found);
	bind_text(&q, ":says", t->says);
	bind_int(&q, ":at", t->at.utc);
	bind_int(&q, ":offset", t->at.offset_min);
	bind_text(&q, ":by", t->at.by);
	return stmt_run(&q, err);
}

static enum rc
read_tick(void *item, const struct stmt *q, struct err *err)
{
	struct recall_tick *t = item;

	(void)err;
	memset(t, 0, sizeof(*t));
	t->recall_id = col_int(q, 0);
	t->item_id = col_int(q, 1);
	col_text(t->code, sizeof(t->code), q, 2);
	t->verdict =
	    (enum recall_verdict)word_of(verdict_words, TICK_COUNT, q, 3);
	t->found = col_int(q, 4);
	col_text(t->says, sizeof(t->says), q, 5);
	t->at.utc = col_int(q, 6);
	t->at.offset_min = (int)col_int(q, 7);
	col_text(t->at.by, sizeof(t->at.by), q, 8);
	return RC_OK;
}

enum rc
recall_ticks_open(struct recall_tick_list *out, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT recall_id, item_id, code, verdict, found, says, at_utc,"
	    " offset_min, by FROM recall_tick WHERE recall_id = :id"
	    " ORDER BY id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_tick, err);
	out->items = rows;
	return rc;
}

void
recall_ticks_fini(struct recall_tick_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
