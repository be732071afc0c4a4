/* steps.c - work of each SQL statement, counted. */
#include "steps.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

static struct steps_row *rows;
static size_t row_count, row_cap;

static int
on_done(unsigned kind, void *arg, void *p, void *x)
{
	sqlite3_stmt *s = p;
	const char *sql = sqlite3_sql(s);
	int64_t n = sqlite3_stmt_status(s, SQLITE_STMTSTATUS_VM_STEP, 1);
	size_t i;

	(void)kind;
	(void)arg;
	(void)x;
	if (sql == NULL)
		return 0;
	for (i = 0; i < row_count; i++)
		if (strcmp(rows[i].sql, sql) == 0)
			break;
	if (i == row_count) {
		rows = grow(rows, &row_cap, row_count, sizeof(*rows));
		rows[row_count++] = (struct steps_row){ xstrdup(sql), 0, 0 };
	}
	rows[i].runs++;
	if (n > rows[i].most)
		rows[i].most = n;
	return 0;
}

static int
on_open(sqlite3 *db, char **error, const struct sqlite3_api_routines *api)
{
	(void)error;
	(void)api;
	return sqlite3_trace_v2(db, SQLITE_TRACE_PROFILE, on_done, NULL);
}

void
steps_watch(void)
{
	sqlite3_auto_extension((void (*)(void))on_open);
}

void
steps_anew(void)
{
	size_t i;

	for (i = 0; i < row_count; i++)
		free(rows[i].sql);
	free(rows);
	rows = NULL;
	row_count = row_cap = 0;
}

const struct steps_row *
steps_rows(size_t *count)
{
	*count = row_count;
	return rows;
}

int64_t
steps_of(const struct steps_row *r, size_t count, const char *sql)
{
	size_t i;

	for (i = 0; i < count; i++)
		if (strcmp(r[i].sql, sql) == 0)
			return r[i].most;
	return -1;
}
