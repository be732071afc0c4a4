/* freezing.c - units frozen and thawed, and what that did to their use-by. */
#include "store/freezing.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

/* The portion as it is kept from now on. */
static enum rc
update_portion(struct store *st, int64_t portion_id, const struct freezing *f,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    f->to == KEEP_FROZEN
		? "UPDATE portion SET use_by_utc = :use_by, frozen_utc = :at"
		  " WHERE id = :portion"
		: "UPDATE portion SET use_by_utc = :use_by, thawed_utc = :at"
		  " WHERE id = :portion",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":use_by", f->use_by_utc);
	bind_int(&q, ":at", f->at.utc);
	bind_int(&q, ":portion", portion_id);
	return stmt_run(&q, err);
}

enum rc
freezing_insert(struct store *st, int64_t portion_id, const struct freezing *f,
    const char *why, struct err *err)
{
	struct stmt q;
	enum rc rc;

	assert(f->to != KEEP_CHILLED);
	rc = stmt_open(&q, st,
	    "INSERT INTO freezing (portion_id, kind, temp_dc, days_left,"
	    " use_by_before_utc, use_by_utc, why, reason, at_utc, offset_min,"
	    " by) VALUES (:portion, :kind, :temp, :days, :before, :use_by,"
	    " :why, :reason, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	bind_text(&q, ":kind", keep_word(f->to));
	bind_id(&q, ":temp", f->temp_dc);
	bind_int(&q, ":days", f->days_left);
	bind_int(&q, ":before", f->use_by_before_utc);
	bind_int(&q, ":use_by", f->use_by_utc);
	bind_text(&q, ":why", why);
	bind_text(&q, ":reason", f->reason);
	bind_int(&q, ":at", f->at.utc);
	bind_int(&q, ":offset", f->at.offset_min);
	bind_text(&q, ":by", f->at.by);
	if ((rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	return update_portion(st, portion_id, f, err);
}

static enum rc
read_freezing(void *item, const struct stmt *q, struct err *err)
{
	struct freezing *f = item;
	char kind[16];

	(void)err;
	memset(f, 0, sizeof(*f));
	col_text(kind, sizeof(kind), q, 0);
	f->to =
	    str_eq(kind, keep_word(KEEP_FROZEN)) ? KEEP_FROZEN : KEEP_THAWED;
	f->temp_dc = (int)col_int(q, 1);
	f->days_left = (int)col_int(q, 2);
	f->use_by_before_utc = col_int(q, 3);
	f->use_by_utc = col_int(q, 4);
	col_text(f->reason, sizeof(f->reason), q, 5);
	f->at.utc = col_int(q, 6);
	f->at.offset_min = (int)col_int(q, 7);
	col_text(f->at.by, sizeof(f->at.by), q, 8);
	f->id = col_int(q, 9);
	return RC_OK;
}

enum rc
freezing_list_open(struct freezing_list *out, struct store *st,
    int64_t portion_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT kind, coalesce(temp_dc, 0), days_left, use_by_before_utc,"
	    " use_by_utc, reason, at_utc, offset_min, by, id FROM freezing"
	    " WHERE portion_id = :portion ORDER BY id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_freezing, err);
	out->items = rows;
	return rc;
}

void
freezing_list_fini(struct freezing_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
freezing_why(char **out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, "SELECT why FROM freezing WHERE id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		*out = col_dup(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? row_gone(st, err) : rc;
}
