/* floors.c - numbers that may have been given out without being in the file. */
#include "store/floors.h"

#include "stmt.h"

enum rc
code_floor(int64_t *out, struct store *st, day_no day, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = stmt_open(&q, st,
	    "SELECT coalesce(max(number), 0) FROM code_floor WHERE day IS :day",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_day(&q, ":day", day);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

enum rc
code_floor_add(struct store *st, day_no day, int64_t number, const char *why,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO code_floor (day, number, why, at_utc, by)"
	    " VALUES (:day, :number, :why, :at, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_day(&q, ":day", day);
	bind_int(&q, ":number", number);
	bind_text(&q, ":why", why);
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	return stmt_run(&q, err);
}

enum rc
jobs_doubt(int64_t *count, struct store *st, int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	/* They are few: the index holds those that are not settled. */
	rc = stmt_open(&q, st,
	    "UPDATE print_job" SCAN_OK
	    "SET state = 'unsure',"
	    " changed_utc = :now, error = 'a backup from before it was put in"
	    " place: it may be out'"
	    " WHERE state IN ('queued', 'sending', 'sent')",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":now", now_utc);
	rc = stmt_run(&q, err);
	*count = rc == RC_OK ? rows_changed(st) : 0;
	return rc;
}
