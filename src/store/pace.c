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
	p->from_g = col_in(q, 2, 0, COL_INT_MAX);
	p->shape = col_in(q, 3, 1, COL_INT_MAX);
	p->scale = col_in(q, 4, 0, COL_INT_MAX);
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

enum rc
prep_minutes_get(struct prep_minutes *out, struct store *st, int64_t prep_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT minutes, expected_s, taught FROM prep_minutes"
	    " WHERE prep_id = :prep",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		out->prep_id = prep_id;
		out->minutes = col_int(&q, 0);
		out->expected_s = col_int(&q, 1);
		out->taught = col_int(&q, 2) != 0;
	}
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
pace_drop(struct store *st, const struct pace *p, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "DELETE FROM pace WHERE task = :task AND species = :species"
	    " AND from_g = :from",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":task", task_word(p->task));
	bind_text(&q, ":species", p->species);
	bind_int(&q, ":from", p->from_g);
	return stmt_run(&q, err);
}

enum rc
pace_seen_insert(struct store *st, const struct pace_seen *s, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO pace_seen (prep_id, task, species, from_g, units, ms,"
	    " shape, scale, learned) VALUES (:prep, :task, :species, :from,"
	    " :units, :ms, :shape, :scale, :learned)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", s->prep_id);
	bind_text(&q, ":task", task_word(s->before.task));
	bind_text(&q, ":species", s->before.species);
	bind_int(&q, ":from", s->before.from_g);
	bind_int(&q, ":units", s->units);
	bind_int(&q, ":ms", s->ms);
	bind_int(&q, ":shape", s->before.shape);
	bind_int(&q, ":scale", s->before.scale);
	bind_int(&q, ":learned", s->before.learned);
	return stmt_run(&q, err);
}

static enum rc
read_seen(void *item, const struct stmt *q, struct err *err)
{
	struct pace_seen *s = item;
	enum rc rc;

	memset(s, 0, sizeof(*s));
	if ((rc = read_pace(&s->before, q, err)) != RC_OK)
		return rc;
	s->before.learned = col_int(q, 5) != 0;
	s->prep_id = col_int(q, 6);
	s->units = col_int(q, 7);
	s->ms = col_int(q, 8);
	return RC_OK;
}

#define SEEN_COLUMNS                                                           \
	"SELECT task, species, from_g, shape, scale, learned, prep_id, units," \
	" ms FROM pace_seen "

static enum rc
read_all_seen(struct pace_seen_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_seen, err);
	out->items = rows;
	return rc;
}

enum rc
pace_seen_prep(struct pace_seen_list *out, struct store *st, int64_t prep_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st, SEEN_COLUMNS "WHERE prep_id = :prep", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	return read_all_seen(out, &q, err);
}

enum rc
pace_seen_after(struct pace_seen_list *out, struct store *st,
    const struct pace_seen *s, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    SEEN_COLUMNS
	    "WHERE task = :task AND species = :species AND from_g = :from"
	    " AND prep_id > :prep AND NOT EXISTS (SELECT 1 FROM prep_struck k"
	    "  WHERE k.prep_id = pace_seen.prep_id) ORDER BY prep_id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":task", task_word(s->before.task));
	bind_text(&q, ":species", s->before.species);
	bind_int(&q, ":from", s->before.from_g);
	bind_int(&q, ":prep", s->prep_id);
	return read_all_seen(out, &q, err);
}
