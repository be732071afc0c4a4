/* happenings.c - what happened to food, in order of time. */
#include "store/happenings.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "stmt.h"

static const char *const words[HAPPENED_COUNT] = {
	[HAPPENED_RECEIVED] = "received",
	[HAPPENED_REFUSED] = "refused",
	[HAPPENED_BREAKDOWN] = "breakdown",
	[HAPPENED_COMBINED] = "combined",
	[HAPPENED_FROZEN] = "frozen",
	[HAPPENED_THAWED] = "thawed",
	[HAPPENED_HELD] = "held",
	[HAPPENED_RELEASED] = "released",
	[HAPPENED_USED] = "used",
	[HAPPENED_FOUND] = "found",
	[HAPPENED_MISSING] = "missing",
	[HAPPENED_DISCARDED] = "discarded",
	[HAPPENED_BATCH_DISCARDED] = "batch discarded",
};

const char *
happening_word(enum happening_kind k)
{
	return words[k];
}

static enum happening_kind
kind_of(const char *word)
{
	int k;

	for (k = 0; k < HAPPENED_COUNT; k++)
		if (str_eq(words[k], word))
			break;
	return (enum happening_kind)k;
}

/*
 * One part a kind of happening, with the same columns, so that SQLite merges
 * them in order of time.  Column by column: at, offset (NULL: a hold keeps
 * none), by, place in the order, word, id, batch, unit, breakdown, species,
 * dish, its code, servings, left, fish, grams, temperature, use-by, reason,
 * service, recall, and of its taking back: at, offset, by, reason.
 */
#define NOT_UNDONE " NULL, NULL, NULL, NULL"

#define RECEIVED                                                               \
	"SELECT b.received_utc, b.received_offset_min, b.by, 0,"               \
	" CASE b.decision WHEN 'refused' THEN 'refused' ELSE 'received' END,"  \
	" b.id, b.code, '', 0, b.species, 0, '', 0, 0, b.count, b.weight_g,"   \
	" 0, 0, b.note, '', 0, u.at_utc, u.offset_min, u.by, u.reason"         \
	" FROM batch b LEFT JOIN batch_event u"                                \
	" ON u.batch_id = b.id AND u.kind = 'struck' WHERE "

#define BREAKDOWN                                                              \
	" UNION ALL SELECT r.at_utc, r.offset_min, r.by, 1, 'breakdown', "     \
	"r.id,"                                                                \
	" '', '', r.id, '', 0, '', 0, 0, 0, 0, 0, 0, r.note, '', 0,"           \
	" u.at_utc, u.offset_min, u.by, u.reason"                              \
	" FROM prep r LEFT JOIN prep_struck u ON u.prep_id = r.id WHERE "

/* What was in the unit when it was frozen or thawed. */
#define LEFT_AT(at)                                                            \
	"(p.servings - coalesce((SELECT sum(CASE WHEN x.kind IN ('found',"     \
	" 'returned') THEN -x.servings ELSE x.servings END)"                   \
	" FROM portion_event x WHERE x.portion_id = p.id AND " at "), 0))"

/* As the tray was put together. */
#define USE_BY_MADE                                                            \
	" coalesce((SELECT f.use_by_before_utc FROM freezing f"                \
	"  WHERE f.portion_id = p.id AND f.kind = 'frozen'),"                  \
	"  (SELECT f.use_by_before_utc FROM freezing f"                        \
	"  WHERE f.portion_id = p.id AND f.kind = 'thawed'), p.use_by_utc)"

#define COMBINED                                                               \
	" UNION ALL SELECT p.made_utc, p.made_offset_min, p.by, 1,"            \
	" 'combined', p.id, b.code, p.code, 0, b.species, c.dish_id, d.code,"  \
	" p.servings, p.servings, 0, p.weight_g, 0," USE_BY_MADE               \
	", '', '', 0,"                                                         \
	" u.at_utc, u.offset_min, u.by, u.reason"                              \
	" FROM portion p CROSS JOIN batch b ON b.id = p.batch_id"              \
	" CROSS JOIN cut c ON c.id = p.cut_id"                                 \
	" CROSS JOIN dish d ON d.id = c.dish_id LEFT JOIN portion_event u"     \
	" ON u.portion_id = p.id AND u.kind = 'struck' WHERE "
#define IS_COMBINED                                                            \
	" EXISTS (SELECT 1 FROM portion_joined j WHERE j.portion_id = p.id)"

#define FREEZING                                                               \
	" UNION ALL SELECT f.at_utc, f.offset_min, f.by,"                      \
	" CASE f.kind WHEN 'frozen' THEN 2 ELSE 3 END, f.kind, f.id, b.code,"  \
	" p.code, 0, b.species, c.dish_id, d.code,"                            \
	" " LEFT_AT("x.at_utc <= f.at_utc") ","                                \
	" " LEFT_AT("x.at_utc <= f.at_utc") ", 0, p.weight_g * "               \
	LEFT_AT("x.at_utc <= f.at_utc") " / p.servings,"                       \
	" coalesce(f.temp_dc, 0), f.use_by_utc, f.reason, '', 0," NOT_UNDONE   \
	" FROM freezing f CROSS JOIN portion p ON p.id = f.portion_id"         \
	" CROSS JOIN batch b ON b.id = p.batch_id"                             \
	" CROSS JOIN cut c ON c.id = p.cut_id"                                 \
	" CROSS JOIN dish d ON d.id = c.dish_id WHERE "

#define HOLD_COLUMNS(at)                                                       \
	" coalesce(b.code, ub.code, ''), coalesce(p.code, ''),"                \
	" coalesce(h.prep_id, 0), coalesce(b.species, ub.species, ''),"        \
	" coalesce(c.dish_id, 0), coalesce(d.code, ''), 0,"                    \
	" coalesce(" LEFT_AT("x.at_utc <= " at) ", 0), 0, 0, 0, 0,"
#define HOLD_RECALL                                                            \
	" EXISTS (SELECT 1 FROM recall_hold y WHERE y.hold_id = h.id),"
#define HOLD_FROM                                                              \
	" FROM hold h LEFT JOIN batch b ON b.id = h.batch_id"                  \
	" LEFT JOIN portion p ON p.id = h.portion_id"                          \
	" LEFT JOIN batch ub ON ub.id = p.batch_id"                            \
	" LEFT JOIN cut c ON c.id = p.cut_id"                                  \
	" LEFT JOIN dish d ON d.id = c.dish_id WHERE "

#define HELD                                                                   \
	" UNION ALL SELECT h.at_utc, NULL, h.by, 4, 'held', "                  \
	"h.id," HOLD_COLUMNS(                                                  \
	    "h.at_utc") " h.reason, ''," HOLD_RECALL NOT_UNDONE HOLD_FROM

#define RELEASED                                                               \
	" UNION ALL SELECT h.released_utc, NULL, h.released_by, 5,"            \
	" 'released', h.id," HOLD_COLUMNS(                                     \
	    "h.released_utc") " h.released_reason, ''," HOLD_RECALL NOT_UNDONE \
	    HOLD_FROM " h.released_utc IS NOT NULL AND "

#define EVENT                                                                  \
	" UNION ALL SELECT e.at_utc, e.offset_min, e.by,"                      \
	" CASE e.kind WHEN 'used' THEN 6 WHEN 'found' THEN 7"                  \
	"  WHEN 'missing' THEN 8 ELSE 9 END, e.kind, e.id, b.code, p.code, 0," \
	" b.species, c.dish_id, d.code, e.servings,"                           \
	" " LEFT_AT("x.id <= e.id") ", 0,"                                     \
	" p.weight_g * e.servings / p.servings, 0, 0, e.reason,"               \
	" coalesce(date(s.day * 86400, 'unixepoch') || '/' || s.name, ''), 0," \
	" u.at_utc, u.offset_min, u.by, u.reason"                              \
	" FROM portion_event e CROSS JOIN portion p ON p.id = e.portion_id"    \
	" CROSS JOIN batch b ON b.id = p.batch_id"                             \
	" CROSS JOIN cut c ON c.id = p.cut_id"                                 \
	" CROSS JOIN dish d ON d.id = c.dish_id"                               \
	" LEFT JOIN service s ON s.id = e.service_id"                          \
	" LEFT JOIN portion_event u ON u.undoes = e.id"                        \
	" WHERE e.kind IN ('used', 'discarded', 'missing', 'found') AND "

#define DISCARDED                                                              \
	" UNION ALL SELECT e.at_utc, e.offset_min, e.by, 10,"                  \
	" 'batch discarded', e.id, b.code, '', 0, b.species, 0, '', 0, 0,"     \
	" e.fish, e.weight_g, 0, 0, e.reason, '', 0,"                          \
	" u.at_utc, u.offset_min, u.by, u.reason"                              \
	" FROM batch_event e CROSS JOIN batch b ON b.id = e.batch_id"          \
	" LEFT JOIN batch_event u ON u.undoes = e.id"                          \
	" WHERE e.kind = 'discarded' AND "

#define IN_ORDER " ORDER BY 1, 4, 6" SORT_OK
#define WITHIN(at) at " >= :from AND " at " < :to"

static enum rc
read_happening(void *item, const struct stmt *q, struct err *err)
{
	struct happening *h = item;
	char word[24];

	(void)err;
	memset(h, 0, sizeof(*h));
	h->at.utc = col_int(q, 0);
	h->at.offset_min = sqlite3_column_type(q->s, 1) == SQLITE_NULL
	    ? local_from_utc(h->at.utc).offset_min
	    : (int)col_int(q, 1);
	col_text(h->at.by, sizeof(h->at.by), q, 2);
	col_text(word, sizeof(word), q, 4);
	h->kind = kind_of(word);
	h->id = col_int(q, 5);
	col_text(h->batch, sizeof(h->batch), q, 6);
	col_text(h->portion, sizeof(h->portion), q, 7);
	h->prep_id = col_int(q, 8);
	col_text(h->species, sizeof(h->species), q, 9);
	h->dish_id = col_int(q, 10);
	col_text(h->dish, sizeof(h->dish), q, 11);
	h->servings = col_int(q, 12);
	h->left = col_int(q, 13);
	h->fish = col_int(q, 14);
	h->weight_g = col_int(q, 15);
	h->temp_dc = (int)col_int(q, 16);
	h->use_by_utc = col_int(q, 17);
	col_text(h->reason, sizeof(h->reason), q, 18);
	col_text(h->service, sizeof(h->service), q, 19);
	h->recall = col_int(q, 20) != 0;
	h->undone_at.utc = col_int(q, 21);
	h->undone = h->undone_at.utc != 0;
	h->undone_at.offset_min = (int)col_int(q, 22);
	col_text(h->undone_at.by, sizeof(h->undone_at.by), q, 23);
	col_text(h->undone_reason, sizeof(h->undone_reason), q, 24);
	return RC_OK;
}

static enum rc
read_all(struct happening_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_happening, err);
	out->items = rows;
	return rc;
}

enum rc
happenings_day(struct happening_list *out, struct store *st, day_no day,
    int64_t from_utc, int64_t to_utc, struct err *err)
{
	struct civil c = day_civil(day);
	char low[CODE_SIZE], high[CODE_SIZE];
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* A code begins with its day but for the century. */
	str_fmt(low, sizeof(low), "%02d%03d", c.year % 100, day_of_year(day));
	str_fmt(high, sizeof(high), "%s:", low);
	rc = stmt_open(&q, st,
	    RECEIVED
	    "b.code >= :low AND b.code < :high AND EXISTS (SELECT 1"
	    " FROM delivery y WHERE y.id = b.delivery_id AND y.day = "
	    ":day)" BREAKDOWN WITHIN("r.at_utc") COMBINED
	    "p.id IN (SELECT j.portion_id FROM portion_event e CROSS JOIN"
	    " portion_joined j ON j.from_id = e.portion_id"
	    " WHERE e.kind = 'combined' AND " WITHIN(
		"e.at_utc") ") AND " WITHIN("p.made_utc")
		FREEZING WITHIN("f.at_utc") HELD WITHIN("h.at_utc")
		    RELEASED WITHIN("h.released_utc") EVENT WITHIN("e.at_utc")
			DISCARDED WITHIN("e.at_utc") IN_ORDER,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":low", low);
	bind_text(&q, ":high", high);
	bind_day(&q, ":day", day);
	bind_int(&q, ":from", from_utc);
	bind_int(&q, ":to", to_utc);
	return read_all(out, &q, err);
}

/* Breakdowns the batch went into, and units they made. */
#define ITS_PREPS                                                              \
	"(SELECT i.prep_id FROM prep_input i WHERE i.batch_id = :batch)"
#define ITS_UNITS                                                              \
	"(SELECT y.id FROM prep_input i CROSS JOIN prep_output o"              \
	" ON o.prep_id = i.prep_id CROSS JOIN portion y"                       \
	" ON y.prep_output_id = o.id WHERE i.batch_id = :batch"                \
	" UNION SELECT y.portion_id FROM batch_unit y"                         \
	" WHERE y.batch_id = :batch)"

enum rc
happenings_batch(struct happening_list *out, struct store *st, int64_t batch_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    RECEIVED
	    "b.id = :batch" BREAKDOWN "r.id IN " ITS_PREPS COMBINED
	    "p.id IN " ITS_UNITS " AND" IS_COMBINED FREEZING
	    "f.portion_id IN " ITS_UNITS HELD "h.batch_id = :batch" HELD
	    "h.portion_id IN " ITS_UNITS HELD "h.prep_id IN " ITS_PREPS RELEASED
	    "h.batch_id = :batch" RELEASED "h.portion_id IN " ITS_UNITS RELEASED
	    "h.prep_id IN " ITS_PREPS EVENT
	    "e.portion_id IN " ITS_UNITS DISCARDED
	    "e.batch_id = :batch" IN_ORDER,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	return read_all(out, &q, err);
}

enum rc
happenings_undone(struct happening_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* Breakdowns struck out are few: they are looked through. */
	rc = stmt_open(&q, st,
	    SCAN_OK RECEIVED
	    "b.received_utc < :from AND b.id IN (SELECT t.batch_id"
	    " FROM batch_event t WHERE t.kind = 'struck' AND "
	    WITHIN("t.at_utc") ")"
	    BREAKDOWN
	    "r.at_utc < :from AND r.id IN (SELECT t.prep_id"
	    " FROM prep_struck t WHERE " WITHIN("t.at_utc") ")"
	    COMBINED
	    "p.made_utc < :from AND p.id IN (SELECT t.portion_id"
	    " FROM portion_event t WHERE t.kind = 'struck' AND "
	    WITHIN("t.at_utc") ") AND" IS_COMBINED
	    EVENT
	    "e.at_utc < :from AND e.id IN (SELECT t.undoes"
	    " FROM portion_event t WHERE t.undoes IS NOT NULL AND "
	    WITHIN("t.at_utc") ")"
	    DISCARDED
	    "e.at_utc < :from AND e.id IN (SELECT t.undoes"
	    " FROM batch_event t WHERE t.undoes IS NOT NULL AND "
	    WITHIN("t.at_utc") ")" IN_ORDER,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", from_utc);
	bind_int(&q, ":to", to_utc);
	return read_all(out, &q, err);
}

void
happening_list_fini(struct happening_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
happenings_span(day_no *first, day_no *last, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*first = *last = DAY_NONE;
	/* One row a document: read once an export. */
	rc = stmt_open(
	    &q, st, "SELECT min(day), max(day) FROM delivery" SCAN_OK, err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		*first = col_day(&q, 0);
		*last = col_day(&q, 1);
	}
	stmt_close(&q);
	return rc;
}

/* --- one breakdown ---------------------------------------------------------*/

#define UNIT_COLUMNS(servings, weight)                                         \
	"SELECT p.code, b.code, c.dish_id, d.code, d.name, " servings          \
	","                                                                    \
	" " weight "," USE_BY_MADE
#define UNIT_JOINS                                                             \
	" CROSS JOIN batch b ON b.id = p.batch_id"                             \
	" CROSS JOIN cut c ON c.id = p.cut_id"                                 \
	" CROSS JOIN dish d ON d.id = c.dish_id"

static enum rc
read_in(void *item, const struct stmt *q, struct err *err)
{
	struct prep_in *i = item;

	(void)err;
	memset(i, 0, sizeof(*i));
	col_text(i->batch, sizeof(i->batch), q, 0);
	col_text(i->species, sizeof(i->species), q, 1);
	i->fish = col_int(q, 2);
	i->weight_g = col_int(q, 3);
	return RC_OK;
}

static enum rc
read_unit(void *item, const struct stmt *q, struct err *err)
{
	struct prep_unit *u = item;

	(void)err;
	memset(u, 0, sizeof(*u));
	col_text(u->code, sizeof(u->code), q, 0);
	col_text(u->batch, sizeof(u->batch), q, 1);
	u->dish_id = col_int(q, 2);
	col_text(u->dish, sizeof(u->dish), q, 3);
	col_text(u->dish_name, sizeof(u->dish_name), q, 4);
	u->servings = col_int(q, 5);
	u->weight_g = col_int(q, 6);
	u->use_by_utc = col_int(q, 7);
	return RC_OK;
}

static enum rc
rows_of(void **rows, size_t *count, size_t size, struct store *st, int64_t id,
    const char *sql, row_fn *read, struct err *err)
{
	struct stmt q;
	enum rc rc = stmt_open(&q, st, sql, err);

	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", id);
	return stmt_rows(rows, count, size, &q, read, err);
}

static enum rc
read_weights(
    struct prep_sides *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	char word[16];
	enum rc rc;
	int k;

	rc = stmt_open(&q, st,
	    "SELECT kind, weight_g FROM prep_loss WHERE prep_id = :prep"
	    " UNION ALL SELECT '', weight_g FROM prep_output"
	    " WHERE prep_id = :prep",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", id);
	while ((rc = stmt_step(&q, err)) == RC_OK) {
		col_text(word, sizeof(word), &q, 0);
		if (word[0] == '\0')
			out->unlabelled_g += col_int(&q, 1);
		for (k = 0; k < LOSS_COUNT; k++)
			if (str_eq(word, loss_word((enum loss_kind)k)))
				out->loss_g[k] = col_int(&q, 1);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

/* What is on no label and what is nowhere, out of all the weights. */
static void
balance(struct prep_sides *s)
{
	size_t i;
	int k;

	s->unexplained_g = -s->unlabelled_g;
	for (i = 0; i < s->in_count; i++)
		s->unexplained_g += s->in[i].weight_g;
	for (k = 0; k < LOSS_COUNT; k++)
		s->unexplained_g -= s->loss_g[k];
	for (i = 0; i < s->unit_count; i++)
		s->unlabelled_g -= s->units[i].weight_g;
}

enum rc
prep_sides_open(
    struct prep_sides *out, struct store *st, int64_t id, struct err *err)
{
	void *in = NULL, *units = NULL;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = rows_of(&in, &out->in_count, sizeof(*out->in), st, id,
	    "SELECT b.code, b.species, i.fish, i.weight_g FROM prep_input i"
	    " CROSS JOIN batch b ON b.id = i.batch_id WHERE i.prep_id = :prep"
	    " ORDER BY i.id",
	    read_in, err);
	out->in = in;
	if (rc == RC_OK)
		rc = rows_of(&units, &out->unit_count, sizeof(*out->units), st,
		    id,
		    UNIT_COLUMNS("p.servings", "p.weight_g")
		    " FROM prep_output o CROSS JOIN portion p"
		    " ON p.prep_output_id = o.id" UNIT_JOINS
		    " WHERE o.prep_id = :prep AND NOT" IS_COMBINED
		    " ORDER BY p.code" SORT_OK,
		    read_unit, err);
	out->units = units;
	if (rc == RC_OK && (rc = read_weights(out, st, id, err)) == RC_OK)
		balance(out);
	return rc;
}

enum rc
prep_holds_open(
    struct prep_sides *out, struct store *st, int64_t id, struct err *err)
{
	void *units = NULL;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = rows_of(&units, &out->unit_count, sizeof(*out->units), st, id,
	    UNIT_COLUMNS("p.servings",
		"p.weight_g") " FROM portion p" UNIT_JOINS
			      " WHERE p.id IN (SELECT y.portion_id"
			      " FROM prep_unit y WHERE y.prep_id = :prep)"
			      " AND NOT EXISTS (SELECT 1 FROM portion_event e"
			      "  WHERE e.portion_id = p.id AND e.kind = "
			      "'struck')"
			      " ORDER BY p.code" SORT_OK,
	    read_unit, err);
	out->units = units;
	return rc;
}

enum rc
combined_sides_open(struct prep_sides *out, struct store *st,
    int64_t portion_id, struct err *err)
{
	void *from = NULL, *units = NULL;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = rows_of(&from, &out->from_count, sizeof(*out->from), st,
	    portion_id,
	    UNIT_COLUMNS("j.servings", "j.weight_g")
	    " FROM portion_joined j CROSS JOIN portion p"
	    " ON p.id = j.from_id" UNIT_JOINS
	    " WHERE j.portion_id = :prep ORDER BY p.code" SORT_OK,
	    read_unit, err);
	out->from = from;
	if (rc == RC_OK)
		rc = rows_of(&units, &out->unit_count, sizeof(*out->units), st,
		    portion_id,
		    UNIT_COLUMNS(
			"p.servings", "p.weight_g") " FROM portion p" UNIT_JOINS
						    " WHERE p.id = :prep",
		    read_unit, err);
	out->units = units;
	return rc;
}

void
prep_sides_fini(struct prep_sides *s)
{
	free(s->in);
	free(s->from);
	free(s->units);
	memset(s, 0, sizeof(*s));
}
