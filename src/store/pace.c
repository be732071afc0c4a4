/* pace.c - the kitchen's own pace, and the minutes it was learned from. */
#include "store/pace.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

static enum rc
read_pace(void *item, const struct stmt *q, struct err *err)
{
	struct pace *p = item;
	struct err why;
	char task[24];

	memset(p, 0, sizeof(*p));
	err_clear(&why);
	col_text(task, sizeof(task), q, 0);
	if (task_parse(&p->task, task, &why) != RC_OK)
		return err_set(err, RC_FAILED, 0, "pace learned: %s", why.text);
	col_text(p->species, sizeof(p->species), q, 1);
	p->from_g = col_int(q, 2);
	p->shape = col_int(q, 3);
	p->scale = col_int(q, 4);
	p->learned = true;
	return RC_OK;
}

enum rc
pace_list_open(struct pace_list *out, struct store *st, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT task, species, from_g, shape, scale FROM pace" SCAN_OK
	    "ORDER BY task, species, from_g",
	    err);
	if (rc != RC_OK)
		return rc;
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_pace, err);
	out->items = rows;
	return rc;
}

void
pace_list_fini(struct pace_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
pace_put(struct store *st, const struct pace *p, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO pace (task, species, from_g, shape, scale)"
	    " VALUES (:task, :species, :from, :shape, :scale)"
	    " ON CONFLICT (task, species, from_g) DO UPDATE"
	    " SET shape = excluded.shape, scale = excluded.scale",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":task", task_word(p->task));
	bind_text(&q, ":species", p->species);
	bind_int(&q, ":from", p->from_g);
	bind_int(&q, ":shape", p->shape);
	bind_int(&q, ":scale", p->scale);
	return stmt_run(&q, err);
}

enum rc
prep_minutes_insert(
    struct store *st, const struct prep_minutes *m, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO prep_minutes (prep_id, minutes, expected_s, taught)"
	    " VALUES (:prep, :minutes, :expected, :taught)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", m->prep_id);
	bind_int(&q, ":minutes", m->minutes);
	bind_int(&q, ":expected", m->expected_s);
	bind_int(&q, ":taught", m->taught);
	return stmt_run(&q, err);
}
