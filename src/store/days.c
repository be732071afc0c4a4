/* days.c - what happened between two instants. */
#include "store/days.h"

#include <string.h>

#include "base/str.h"
#include "stmt.h"

/* Longer than the field: its beginning, whole characters only. */
static void
col_begin(char *dst, size_t size, const struct stmt *q, int i)
{
	const char *s = (const char *)sqlite3_column_text(q->s, i), *end = s;
	const char *next = s;

	while (utf8_next(&next) != 0 && (size_t)(next - s) < size)
		end = next;
	str_fmt(dst, size, "%.*s", (int)(end - s), s);
}

static enum rc
read_event(void *item, const struct stmt *q, struct err *err)
{
	static const char *const words[] = {
		[DAY_DISCARDED] = "discarded",
		[DAY_FROZEN] = "frozen",
		[DAY_THAWED] = "thawed",
		[DAY_MISSING] = "missing",
		[DAY_FOUND] = "found",
		[DAY_TAKEN_BACK] = "taken back",
		[DAY_COMBINED] = "combined",
	};
	struct day_event *e = item;
	char word[16];
	size_t i;

	(void)err;
	memset(e, 0, sizeof(*e));
	col_text(word, sizeof(word), q, 0);
	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (str_eq(word, words[i]))
			e->deed = (enum day_deed)i;
	col_text(e->code, sizeof(e->code), q, 1);
	col_text(e->name, sizeof(e->name), q, 2);
	col_text(e->species, sizeof(e->species), q, 3);
	e->servings = col_int(q, 4);
	e->weight_g = col_int(q, 5);
	col_text(e->text, sizeof(e->text), q, 6);
	e->at_utc = col_int(q, 7);
	col_text(e->by, sizeof(e->by), q, 8);
	e->temp_dc = (int)col_int(q, 9);
	e->use_by_utc = col_int(q, 10);
	return RC_OK;
}

enum rc
day_events_open(struct day_event_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	const int64_t span[2] = { from_utc, to_utc };
	void *rows;
	enum rc rc;

	rc = stmt_between(&rows, &out->count, sizeof(*out->items), st,
	    "SELECT e.kind, p.code, d.name, '', e.servings, 0, e.reason,"
	    " e.at_utc, e.by, 0, 0 FROM portion_event e"
	    " JOIN portion p ON p.id = e.portion_id"
	    " JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"
	    " WHERE e.at_utc >= :from AND e.at_utc < :to"
	    " AND e.kind IN ('discarded', 'missing', 'found', 'combined')"
	    " UNION ALL SELECT 'taken back', p.code, d.name, '', e.servings, 0,"
	    " e.reason, e.at_utc, e.by, 0, 0"
	    " FROM portion_event e JOIN portion_event u ON u.id = e.undoes"
	    " JOIN portion p ON p.id = e.portion_id"
	    " JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"
	    " WHERE e.at_utc >= :from AND e.at_utc < :to AND u.kind <> 'used'"
	    " UNION ALL SELECT e.kind, b.code, '', b.species, 0,"
	    " e.weight_g, e.reason, e.at_utc, e.by, 0, 0 FROM batch_event e"
	    " JOIN batch b ON b.id = e.batch_id"
	    " WHERE e.at_utc >= :from AND e.at_utc < :to"
	    " AND e.kind = 'discarded'"
	    " UNION ALL SELECT 'taken back', b.code, '', b.species, 0,"
	    " e.weight_g, e.reason, e.at_utc, e.by, 0, 0 FROM batch_event e"
	    " JOIN batch b ON b.id = e.batch_id"
	    " WHERE e.at_utc >= :from AND e.at_utc < :to"
	    " AND e.kind IN ('returned', 'struck')"
	    " UNION ALL SELECT f.kind, p.code, d.name, '', p.servings -"
	    " coalesce((SELECT sum(CASE WHEN kind IN ('found', 'returned')"
	    "  THEN -servings ELSE servings END) FROM portion_event"
	    "  WHERE portion_id = p.id AND at_utc <= f.at_utc), 0), 0,"
	    " f.reason, f.at_utc, f.by, f.temp_dc, f.use_by_utc"
	    " FROM freezing f JOIN portion p ON p.id = f.portion_id"
	    " JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"
	    " WHERE f.at_utc >= :from AND f.at_utc < :to"
	    " ORDER BY 8",
	    read_event, span, err);
	out->items = rows;
	return rc;
}

static enum rc
read_hold(void *item, const struct stmt *q, struct err *err)
{
	struct day_hold *h = item;

	(void)err;
	memset(h, 0, sizeof(*h));
	h->hold.id = col_int(q, 0);
	col_text(h->hold.reason, sizeof(h->hold.reason), q, 1);
	h->hold.at_utc = col_int(q, 2);
	col_text(h->hold.by, sizeof(h->hold.by), q, 3);
	h->hold.released_utc = col_int(q, 4);
	col_text(h->hold.released_by, sizeof(h->hold.released_by), q, 5);
	col_text(
	    h->hold.released_reason, sizeof(h->hold.released_reason), q, 6);
	col_text(h->code, sizeof(h->code), q, 7);
	h->hold.subject.prep_id = col_int(q, 8);
	return RC_OK;
}

enum rc
day_holds_open(struct day_hold_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	const int64_t span[2] = { from_utc, to_utc };
	void *rows;
	enum rc rc;

	rc = stmt_between(&rows, &out->count, sizeof(*out->items), st,
	    "SELECT h.id, h.reason, h.at_utc, h.by, h.released_utc,"
	    " h.released_by, h.released_reason, coalesce(b.code, p.code, ''),"
	    " h.prep_id FROM hold h LEFT JOIN batch b ON b.id = h.batch_id"
	    " LEFT JOIN portion p ON p.id = coalesce(h.portion_id,"
	    "  (SELECT u.id FROM prep_output o CROSS JOIN portion u"
	    "  ON u.prep_output_id = o.id WHERE o.prep_id = h.prep_id"
	    "  ORDER BY u.id LIMIT 1)) WHERE h.id IN"
	    " (SELECT id FROM hold WHERE at_utc >= :from AND at_utc < :to"
	    "  UNION SELECT id FROM hold WHERE released_utc IS NOT NULL"
	    "  AND released_utc >= :from AND released_utc < :to)"
	    " ORDER BY h.id" SORT_OK,
	    read_hold, span, err);
	out->items = rows;
	return rc;
}

static enum rc
read_label(void *item, const struct stmt *q, struct err *err)
{
	struct day_label *l = item;
	char word[16];
	int i;

	(void)err;
	memset(l, 0, sizeof(*l));
	col_text(l->code, sizeof(l->code), q, 0);
	col_begin(l->title, sizeof(l->title), q, 1);
	l->page = (int)col_int(q, 2);
	l->copy = (int)col_int(q, 3);
	col_text(word, sizeof(word), q, 4);
	for (i = 0; i < JOB_STATE_COUNT; i++)
		if (str_eq(word, job_state_word((enum job_state)i)))
			l->state = (enum job_state)i;
	return RC_OK;
}

enum rc
day_labels_open(struct day_label_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	const int64_t span[2] = { from_utc, to_utc };
	void *rows;
	enum rc rc;

	rc = stmt_between(&rows, &out->count, sizeof(*out->items), st,
	    "SELECT coalesce(b.code, p.code, ''), coalesce(t.title, ''),"
	    " j.page, j.copy, j.state FROM print_job j"
	    " LEFT JOIN batch b ON b.id = j.batch_id"
	    " LEFT JOIN portion p ON p.id = j.portion_id"
	    " LEFT JOIN ticket t ON t.id = j.ticket_id"
	    " WHERE j.at_utc >= :from AND j.at_utc < :to"
	    " ORDER BY j.at_utc, j.id",
	    read_label, span, err);
	out->items = rows;
	return rc;
}
