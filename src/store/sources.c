/* sources.c - the batches and the units a unit is made of. */
#include "store/sources.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

enum rc
portion_source_add(
    struct store *st, int64_t portion_id, int64_t batch_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO portion_source (portion_id, batch_id)"
	    " VALUES (:portion, :batch)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	bind_int(&q, ":batch", batch_id);
	return stmt_run(&q, err);
}

enum rc
portion_prep_add(
    struct store *st, int64_t portion_id, int64_t prep_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO portion_prep (portion_id, prep_id)"
	    " SELECT :portion, :prep WHERE NOT EXISTS (SELECT 1"
	    " FROM portion_prep r WHERE r.portion_id = :portion"
	    " AND r.prep_id = :prep)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	bind_int(&q, ":prep", prep_id);
	return stmt_run(&q, err);
}

static enum rc
read_id(void *item, const struct stmt *q, struct err *err)
{
	(void)err;
	*(int64_t *)item = col_int(q, 0);
	return RC_OK;
}

enum rc
portion_sources_open(struct portion_source_list *out, struct store *st,
    int64_t portion_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT batch_id, 0 FROM portion WHERE id = :portion"
	    " UNION ALL SELECT batch_id, 1 FROM portion_source"
	    " WHERE portion_id = :portion ORDER BY 2, 1" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_id, err);
	out->items = rows;
	return rc;
}

void
portion_sources_fini(struct portion_source_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
portion_join(struct store *st, int64_t portion_id,
    const struct portion_part *from, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO portion_joined (portion_id, from_id, servings,"
	    " weight_g) VALUES (:portion, :from, :servings, :weight)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	bind_int(&q, ":from", from->id);
	bind_int(&q, ":servings", from->servings);
	bind_int(&q, ":weight", from->weight_g);
	return stmt_run(&q, err);
}

static enum rc
read_part(void *item, const struct stmt *q, struct err *err)
{
	struct portion_part *p = item;

	(void)err;
	memset(p, 0, sizeof(*p));
	p->id = col_int(q, 0);
	col_text(p->code, sizeof(p->code), q, 1);
	p->servings = col_int(q, 2);
	p->weight_g = col_int(q, 3);
	return RC_OK;
}

static enum rc
list_parts(struct portion_part_list *out, struct store *st, const char *sql,
    int64_t portion_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_part, err);
	out->items = rows;
	return rc;
}

enum rc
portion_parts_open(struct portion_part_list *out, struct store *st,
    int64_t portion_id, struct err *err)
{
	return list_parts(out, st,
	    "SELECT p.id, p.code, j.servings, j.weight_g FROM portion_joined j"
	    " JOIN portion p ON p.id = j.from_id WHERE j.portion_id = :portion"
	    " ORDER BY p.id" SORT_OK,
	    portion_id, err);
}

enum rc
portion_went_open(struct portion_part_list *out, struct store *st,
    int64_t portion_id, struct err *err)
{
	return list_parts(out, st,
	    "SELECT p.id, p.code, j.servings, j.weight_g FROM portion_joined j"
	    " JOIN portion p ON p.id = j.portion_id WHERE j.from_id = :portion"
	    " AND NOT EXISTS (SELECT 1 FROM portion_event e"
	    "  WHERE e.portion_id = p.id AND e.kind = 'struck')"
	    " ORDER BY p.id" SORT_OK,
	    portion_id, err);
}

void
portion_parts_fini(struct portion_part_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
