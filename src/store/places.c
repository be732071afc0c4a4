/* places.c - where batches and units were put. */
#include "store/places.h"

#include "stmt.h"

enum rc
place_get(char dst[PLACE_SIZE], struct store *st, const struct subject *s,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    s->batch_id != 0
		? "SELECT place FROM place_batch WHERE batch_id = :id"
		: "SELECT place FROM place_unit WHERE portion_id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", s->batch_id != 0 ? s->batch_id : s->portion_id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		col_text(dst, PLACE_SIZE, &q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
place_set(struct store *st, const struct subject *s, const char *place,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO moved (batch_id, portion_id, place, at_utc,"
	    " offset_min, by) VALUES (:batch, :portion, :place, :at, :offset,"
	    " :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":batch", s->batch_id);
	bind_id(&q, ":portion", s->portion_id);
	bind_text(&q, ":place", place);
	bind_int(&q, ":at", at->utc);
	bind_int(&q, ":offset", at->offset_min);
	bind_text(&q, ":by", at->by);
	return stmt_run(&q, err);
}
