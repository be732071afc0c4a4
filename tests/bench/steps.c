/* steps.c - work of each SQL statement, counted. */
#include "steps.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

static struct set {
	struct steps_row *rows;
	size_t count, cap;
} sets[STEPS_SETS];
static struct set *now = sets;

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
	for (i = 0; i < now->count; i++)
		if (strcmp(now->rows[i].sql, sql) == 0)
			break;
	if (i == now->count) {
		now->rows =
		    grow(now->rows, &now->cap, now->count, sizeof(*now->rows));
		now->rows[now->count++] =
		    (struct steps_row){ xstrdup(sql), 0, 0 };
	}
	now->rows[i].runs++;
	if (n > now->rows[i].most)
		now->rows[i].most = n;
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
steps_into(int set)
{
	now = &sets[set];
}

const struct steps_row *
steps_rows(size_t *count, int set)
{
	*count = sets[set].count;
	return sets[set].rows;
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
