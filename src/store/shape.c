/* shape.c - the schema a file has beside the one it should have. */
#include "shape.h"

#include <string.h>

#include "base/str.h"
#include "migration.h"
#include "stmt.h"
#include "store/damage.h"

/* The longest value: lines of the trail of a large transaction.  What SQLite
 * takes as it comes is a thousand million bytes. */
#define VALUE_MAX (256 * 1000 * 1000)

void
shape_limits(struct store *st)
{
	sqlite3_limit(st->db, SQLITE_LIMIT_LENGTH, VALUE_MAX);
	sqlite3_limit(st->db, SQLITE_LIMIT_TRIGGER_DEPTH, 4);
}

/* Every column of a table, and every word of a view or trigger. */
static const char parts[] =
    "SELECT m.type || ' ' || m.name, m.tbl_name || ' ' || m.sql"
    " FROM sqlite_schema m WHERE m.type IN ('view', 'trigger')"
    " UNION ALL SELECT 'column ' || m.name || '.' || x.name, x.cid || ' ' ||"
    " x.type || ' ' || x.\"notnull\" || ' ' || x.pk || ' ' || x.hidden"
    " FROM sqlite_schema m, pragma_table_xinfo(m.name) x"
    " WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' ORDER BY 1";

struct side {
	sqlite3_stmt *s;
	bool there; /* a row */
};

static bool
next(struct side *side)
{
	int rc = sqlite3_step(side->s);

	side->there = rc == SQLITE_ROW;
	return rc == SQLITE_ROW || rc == SQLITE_DONE;
}

static const char *
col(const struct side *side, int i)
{
	const char *s = (const char *)sqlite3_column_text(side->s, i);

	return s == NULL ? "" : s;
}

static enum rc
wrong(struct store *st, const char *what, const char *how, struct err *err)
{
	return err_set(err, RC_FATAL, DAMAGE_LIB,
	    "%s: another program changed how it is made (%.80s %s): stop, and "
	    "restore a backup",
	    st->path, what, how);
}

/* Both in order of their names. */
static enum rc
compare(struct store *st, struct side *is, struct side *want, struct err *err)
{
	int order;

	for (;;) {
		if (!is->there && !want->there)
			return RC_OK;
		order = !is->there ? 1
		    : !want->there ? -1
				   : strcmp(col(is, 0), col(want, 0));
		if (order > 0)
			return wrong(st, col(want, 0), "is missing", err);
		if (order < 0 && strncmp(col(is, 0), "trigger ", 8) == 0)
			return wrong(st, col(is, 0), "is not ours", err);
		if (order == 0 && !str_eq(col(is, 1), col(want, 1)))
			return wrong(st, col(is, 0), "is another", err);
		if (!next(is) || (order == 0 && !next(want)))
			return db_fail(st, parts, err);
	}
}

static bool
empty_one(sqlite3 **out)
{
	int i;

	if (sqlite3_open(":memory:", out) != SQLITE_OK)
		return false;
	for (i = 0; migrations[i].version != 0; i++)
		if (sqlite3_exec(*out, migrations[i].sql, NULL, NULL, NULL) !=
		    SQLITE_OK)
			return false;
	return true;
}

enum rc
shape_check(struct store *st, struct err *err)
{
	struct side is = { 0 }, want = { 0 };
	sqlite3 *empty = NULL;
	enum rc rc;

	if (!empty_one(&empty) ||
	    sqlite3_prepare_v2(empty, parts, -1, &want.s, NULL) != SQLITE_OK ||
	    !next(&want)) {
		rc = err_set(err, RC_FATAL, 0, "no schema: %s",
		    sqlite3_errmsg(empty));
		goto done;
	}
	if (sqlite3_prepare_v2(st->db, parts, -1, &is.s, NULL) != SQLITE_OK ||
	    !next(&is))
		rc = db_fail(st, parts, err);
	else
		rc = compare(st, &is, &want, err);
done:
	sqlite3_finalize(is.s);
	sqlite3_finalize(want.s);
	sqlite3_close(empty);
	return rc;
}
