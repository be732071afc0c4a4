/* work_marks.c - what was said of the tasks of a prep list. */
#include "store/work_marks.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

static const char *const said_words[WORK_SAID_COUNT] = {
	[WORK_REOPENED] = "reopened",
	[WORK_STARTED] = "started",
	[WORK_DONE] = "done",
};

const char *
work_said_word(enum work_said s)
{
	return said_words[s];
}

/* The row's id of a code; 0 for no code. */
static enum rc
id_of(int64_t *out, struct store *st, const char *sql, const char *what,
    const char *code, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	if (code[0] == '\0')
		return RC_OK;
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_text(&q, ":code", code);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc != RC_END
	    ? rc
	    : err_set(err, RC_NOTFOUND, 0,
		  "%s %.40s is not in this station file", what, code);
}

enum rc
work_mark_insert(struct store *st, struct work_mark *m, struct err *err)
{
	int64_t batch, dish;
	struct stmt q;
	enum rc rc;

	if ((rc = id_of(&batch, st, "SELECT id FROM batch WHERE code = :code",
		 "batch", m->key.batch, err)) != RC_OK ||
	    (rc = id_of(&dish, st, "SELECT id FROM dish WHERE code = :code",
		 "dish", m->key.dish, err)) != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    "INSERT INTO work_mark (service_id, batch_id, dish_id, step, said,"
	    " prep_id, at_utc, offset_min, by) VALUES (:service, :batch, :dish,"
	    " :step, :said, :prep, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", m->service_id);
	bind_id(&q, ":batch", batch);
	bind_id(&q, ":dish", dish);
	bind_text(&q, ":step", m->key.step);
	bind_text(&q, ":said", said_words[m->said]);
	bind_id(&q, ":prep", m->prep_id);
	bind_int(&q, ":at", m->at.utc);
	bind_int(&q, ":offset", m->at.offset_min);
	bind_text(&q, ":by", m->at.by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		m->id = last_id(st);
	return rc;
}

static enum rc
read_row(void *item, const struct stmt *q, struct err *err)
{
	struct work_mark *m = item;
	char word[16];
	int i;

	memset(m, 0, sizeof(*m));
	m->id = col_int(q, 0);
	m->service_id = col_int(q, 1);
	col_text(m->key.batch, sizeof(m->key.batch), q, 2);
	col_text(m->key.dish, sizeof(m->key.dish), q, 3);
	col_text(m->key.step, sizeof(m->key.step), q, 4);
	col_text(word, sizeof(word), q, 5);
	for (i = 0; i < WORK_SAID_COUNT; i++)
		if (str_eq(word, said_words[i]))
			m->said = (enum work_said)i;
	m->prep_id = col_int(q, 6);
	m->at.utc = col_int(q, 7);
	m->at.offset_min = (int)col_int(q, 8);
	col_text(m->at.by, sizeof(m->at.by), q, 9);
	col_text(m->dish_name, sizeof(m->dish_name), q, 10);
	m->portions = col_int(q, 11);
	(void)err;
	return RC_OK;
}

enum rc
work_mark_list_open(struct work_mark_list *out, struct store *st,
    int64_t service_id, struct err *err)
{
	struct stmt q;
	void *items;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT m.id, m.service_id, coalesce(b.code, ''),"
	    " coalesce(d.code, ''), m.step, CASE WHEN EXISTS (SELECT 1"
	    "  FROM prep_struck k WHERE k.prep_id = m.prep_id)"
	    "  THEN 'reopened' ELSE m.said END, m.prep_id, m.at_utc,"
	    " m.offset_min, m.by, coalesce(d.name, ''),"
	    " (SELECT sum(o.portions) FROM prep_output o"
	    "  JOIN cut c ON c.id = o.cut_id"
	    "  WHERE o.prep_id = m.prep_id AND c.dish_id = m.dish_id)"
	    " FROM work_mark m LEFT JOIN batch b ON b.id = m.batch_id"
	    " LEFT JOIN dish d ON d.id = m.dish_id"
	    " WHERE m.service_id = :service AND NOT EXISTS ("
	    "  SELECT 1 FROM work_mark n WHERE n.service_id = m.service_id"
	    "  AND n.batch_id IS m.batch_id AND n.dish_id IS m.dish_id"
	    "  AND n.step = m.step AND n.id > m.id)"
	    " ORDER BY m.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	rc = stmt_rows(
	    &items, &out->count, sizeof(*out->items), &q, read_row, err);
	out->items = items;
	return rc;
}

void
work_mark_list_fini(struct work_mark_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
