/* shape.c - the schema a file has beside the one it should have. */
#include "shape.h"

#include <string.h>

#include "base/str.h"
#include "migration.h"
#include "stmt.h"
#include "store/damage.h"

void
shape_limits(struct store *st)
{
	sqlite3_limit(st->db, SQLITE_LIMIT_LENGTH, VALUE_MAX);
	sqlite3_limit(st->db, SQLITE_LIMIT_TRIGGER_DEPTH, 4);
}

/* A trigger or view is kept in the words it was made with. */
static bool
is_ours(const char *words)
{
	int i;

	for (i = 0; migrations[i].version != 0; i++)
		if (strstr(migrations[i].sql, words) != NULL)
			return true;
	return false;
}

/* Columns that are worked out are hidden ones (2, 3). */
static const char parts[] =
    "SELECT type || ' ' || name, sql FROM sqlite_schema"
    " WHERE type IN ('trigger', 'view')"
    " UNION ALL SELECT 'column ' || m.name || '.' || x.name, ''"
    " FROM sqlite_schema m, pragma_table_xinfo(m.name) x"
    " WHERE m.type = 'table' AND x.hidden > 1" SCAN_OK;

enum rc
shape_check(struct store *st, struct err *err)
{
	sqlite3_stmt *s = NULL;
	const char *words;
	enum rc rc = RC_OK;
	int code;

	code = sqlite3_prepare_v2(st->db, parts, -1, &s, NULL);
	if (code != SQLITE_OK)
		return db_fail(st, parts, err);
	while (rc == RC_OK && (code = sqlite3_step(s)) == SQLITE_ROW) {
		words = (const char *)sqlite3_column_text(s, 1);
		if (words == NULL || words[0] == '\0' || !is_ours(words))
			rc = err_set(err, RC_FATAL, DAMAGE_LIB,
			    "%s: another program put something into it (%.80s)"
			    " that may change records: pinbone restore puts a "
			    "backup in its place",
			    st->path, (const char *)sqlite3_column_text(s, 0));
	}
	if (rc == RC_OK && code != SQLITE_DONE)
		rc = db_fail(st, parts, err);
	sqlite3_finalize(s);
	return rc;
}
