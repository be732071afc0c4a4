/* clock_checks.c - dates an operator vouched for. */
#include "store/clock_checks.h"

#include "stmt.h"

enum rc
clock_check_add(struct store *st, const struct moment *at, const char *zone,
    const char *words, const char *doubt, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO clock_check (at_utc, offset_min, by, zone, words,"
	    " doubt) VALUES (:at, :offset, :by, :zone, :words, :doubt)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":at", at->utc);
	bind_int(&q, ":offset", at->offset_min);
	bind_text(&q, ":by", at->by);
	bind_text(&q, ":zone", zone);
	bind_text(&q, ":words", words);
	bind_text(&q, ":doubt", doubt);
	return stmt_run(&q, err);
}
