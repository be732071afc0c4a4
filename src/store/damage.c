/* damage.c - is a station file whole? */
#include "store/damage.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/clock.h"
#include "base/file.h"
#include "base/str.h"
#include "stmt.h"
#include "store/swap.h"

#define MARK_MAX 1000
/* Steps of SQLite's machine between two looks at the time: some ms. */
#define LOOK_STEPS 10000

/* --- what is known of it ---------------------------------------------------*/

bool
damage_said(const struct err *err)
{
	return err != NULL && err->rc != RC_OK && err->lib == DAMAGE_LIB;
}

void
damage_mark(const char *path, const char *what)
{
	char name[SWAP_PATH_SIZE], when[48], text[MARK_MAX];
	struct clock real = { .fixed = false };
	struct file_new f;

	if (!file_exists(path) ||
	    !str_fmt(name, sizeof(name), "%s" DAMAGE_TAIL, path))
		return;
	str_fmt(text, sizeof(text), "%.300s (seen %s)\n", what,
	    time_minute(when, sizeof(when), clock_now(&real)));
	if (file_new_open(&f, name, NULL) == RC_OK &&
	    file_new_add(&f, text, strlen(text), NULL) == RC_OK)
		ignore_rc(file_new_done(&f, false, NULL)); /* or it is there */
	file_new_drop(&f);
}

void
damage_clear(const char *path)
{
	char name[SWAP_PATH_SIZE];

	if (str_fmt(name, sizeof(name), "%s" DAMAGE_TAIL, path) &&
	    unlink(name) == 0)
		file_sync_folder(path);
}

enum rc
damage_look(const char *path, struct err *err)
{
	char name[SWAP_PATH_SIZE], what[200];
	struct buf b;

	if (!str_fmt(name, sizeof(name), "%s" DAMAGE_TAIL, path) ||
	    !file_exists(name))
		return RC_OK;
	buf_init(&b, MARK_MAX);
	/* What cannot be read was still written down. */
	ignore_rc(file_read(&b, name, NULL));
	str_fmt(what, sizeof(what), "%.*s", (int)strcspn(buf_text(&b), "\n"),
	    buf_text(&b));
	buf_fini(&b);
	return err_set(err, RC_FATAL, DAMAGE_LIB,
	    "%s: damaged, and not written to any more: %s: pinbone restore "
	    "puts a backup in its place; labels can still be read with "
	    "pinbone scan",
	    path, what);
}

/* --- looking ---------------------------------------------------------------*/

struct looking {
	sqlite3 *db;
	struct whole *out;
	int64_t end_ms; /* 0: no end */
	bool (*goes_on)(void *arg);
	void *arg;
	bool stopped;
};

static int
progress(void *arg)
{
	struct looking *l = arg;

	l->stopped = (l->end_ms != 0 && clock_ticks_ms() > l->end_ms) ||
	    (l->goes_on != NULL && !l->goes_on(l->arg));
	return l->stopped;
}

static void
found(struct looking *l, const char *what)
{
	static const char head[] = "*** in database main ***\n";

	if (!l->out->good)
		return;
	l->out->good = false;
	if (strncmp(what, head, strlen(head)) == 0)
		what += strlen(head);
	str_fmt(l->out->found, sizeof(l->out->found), "%.230s", what);
	utf8_clean(l->out->found);
}

/* What SQLite says of a statement that failed: of the file, or of the disk. */
static enum rc
take_error(struct looking *l, const char *path, struct err *err)
{
	int code = sqlite3_extended_errcode(l->db);

	switch (code & 0xff) {
	case SQLITE_INTERRUPT:
		return RC_OK;
	case SQLITE_CORRUPT:
	case SQLITE_NOTADB:
	case SQLITE_FORMAT:
		found(l, sqlite3_errmsg(l->db));
		return RC_OK;
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
		return err_set(err, RC_RETRY, code,
		    "%s: another program is writing: try again", path);
	default:
		return err_set(err, RC_FAILED, code,
		    "%s: it cannot be read (%s)", path, sqlite3_errmsg(l->db));
	}
}

/* A check, of a table if one is named, whose first row is "ok" or the first
 * thing wrong. */
static enum rc
one_check(struct looking *l, const char *path, const char *sql,
    const char *table, struct err *err)
{
	sqlite3_stmt *s = NULL;
	const char *text;
	enum rc rc = RC_OK;

	if (sqlite3_prepare_v2(l->db, sql, -1, &s, NULL) != SQLITE_OK)
		return take_error(l, path, err);
	if (table != NULL)
		sqlite3_bind_text(s, 1, table, -1, SQLITE_STATIC);
	switch (sqlite3_step(s)) {
	case SQLITE_ROW:
		text = (const char *)sqlite3_column_text(s, 0);
		if (text != NULL && !str_eq(text, "ok"))
			found(l, text);
		break;
	case SQLITE_DONE:
		break;
	default:
		rc = take_error(l, path, err);
	}
	sqlite3_finalize(s);
	return rc;
}

/* A link without its other end: table and row. */
static enum rc
check_links(struct looking *l, const char *path, struct err *err)
{
	return one_check(l, path,
	    "SELECT \"table\" || ' row ' || coalesce(rowid, '?') || ' names a "
	    "' "
	    "|| parent || ' that is not there' FROM pragma_foreign_key_check"
	    " LIMIT 1" SCAN_OK,
	    NULL, err);
}

#define NAME_MAX_BYTES 64
#define TABLES_MAX 200

struct names {
	char name[TABLES_MAX][NAME_MAX_BYTES];
	int count;
};

/* Small tables first: what cooks work with is reached in any case. */
static enum rc
read_names(
    struct names *n, struct looking *l, const char *path, struct err *err)
{
	sqlite3_stmt *s = NULL;
	const char *text;
	int code;
	enum rc rc = RC_OK;

	n->count = 0;
	if (sqlite3_prepare_v2(l->db,
		"SELECT name FROM sqlite_schema WHERE type = 'table'"
		" ORDER BY name IN ('portion', 'portion_event', 'print_job',"
		" 'audit', 'freshness_mark'), name" SCAN_OK,
		-1, &s, NULL) != SQLITE_OK)
		return take_error(l, path, err);
	while ((code = sqlite3_step(s)) == SQLITE_ROW) {
		text = (const char *)sqlite3_column_text(s, 0);
		/* Ours are plain words. */
		if (text != NULL && text[0] != '\0' &&
		    text[strspn(text,
			"abcdefghijklmnopqrstuvwxyz_0123456789")] == '\0' &&
		    n->count < TABLES_MAX &&
		    str_copy(n->name[n->count], NAME_MAX_BYTES, text))
			n->count++;
		else
			found(l, "it has a table that is not one of ours");
	}
	if (code != SQLITE_DONE)
		rc = take_error(l, path, err);
	sqlite3_finalize(s);
	return rc;
}

static enum rc
check_tables(struct looking *l, const char *path, struct err *err)
{
	static const char of_table[] =
	    "SELECT * FROM pragma_quick_check(?)" SCAN_OK;
	struct names n;
	int i;
	enum rc rc;

	rc = one_check(l, path, of_table, "sqlite_schema", err);
	if (rc != RC_OK || !l->out->good || l->stopped ||
	    (rc = read_names(&n, l, path, err)) != RC_OK)
		return rc;
	l->out->tables_all = n.count;
	for (i = 0; i < n.count && l->out->good && !l->stopped; i++) {
		rc = one_check(l, path, of_table, n.name[i], err);
		if (rc != RC_OK)
			return rc;
		l->out->tables += !l->stopped;
	}
	l->out->all = l->out->tables == n.count;
	return RC_OK;
}

static enum rc
check_identity(struct looking *l, const char *path, struct err *err)
{
	sqlite3_stmt *s = NULL;
	enum rc rc = RC_OK;

	if (sqlite3_prepare_v2(l->db, "PRAGMA application_id", -1, &s, NULL) !=
		SQLITE_OK ||
	    sqlite3_step(s) != SQLITE_ROW)
		rc = take_error(l, path, err);
	else if (sqlite3_column_int64(s, 0) != STORE_APPLICATION_ID)
		found(l, "its first page is not that of a station file");
	sqlite3_finalize(s);
	return rc;
}

static enum rc
open_to_look(struct looking *l, const char *path, struct err *err)
{
	struct stat st;
	enum rc rc;

	*l->out = (struct whole){ .good = true };
	if ((rc = file_plain(path, err)) != RC_OK)
		return rc;
	if (stat(path, &st) == 0 && st.st_size == 0)
		found(l, "it is empty");
	if (sqlite3_open_v2(path, &l->db,
		SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX, NULL) != SQLITE_OK)
		return take_error(l, path, err);
	sqlite3_busy_timeout(l->db, 2000);
	sqlite3_progress_handler(l->db, LOOK_STEPS, progress, l);
	return RC_OK;
}

enum rc
whole_quick(
    struct whole *out, const char *path, int64_t budget_ms, struct err *err)
{
	int64_t began = clock_ticks_ms();
	struct looking l = { .out = out, .end_ms = began + budget_ms };
	enum rc rc = open_to_look(&l, path, err);

	if (rc == RC_OK && out->good)
		rc = check_identity(&l, path, err);
	if (rc == RC_OK && out->good)
		rc = check_tables(&l, path, err);
	sqlite3_close(l.db);
	out->ms = clock_ticks_ms() - began;
	return rc;
}

enum rc
whole_full(struct whole *out, const char *path, bool (*goes_on)(void *arg),
    void *arg, struct err *err)
{
	int64_t began = clock_ticks_ms();
	struct looking l = { .out = out, .goes_on = goes_on, .arg = arg };
	struct names n = { .count = 0 };
	enum rc rc = open_to_look(&l, path, err);

	if (rc == RC_OK && out->good)
		rc = check_identity(&l, path, err);
	if (rc == RC_OK && out->good)
		rc =
		    one_check(&l, path, "PRAGMA integrity_check(1)", NULL, err);
	if (rc == RC_OK && out->good && !l.stopped)
		rc = check_links(&l, path, err);
	if (rc == RC_OK && out->good && !l.stopped)
		rc = read_names(&n, &l, path, err);
	out->all = !l.stopped;
	out->tables = out->tables_all = n.count;
	sqlite3_close(l.db);
	out->ms = clock_ticks_ms() - began;
	if (rc == RC_OK && l.stopped)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s: stopped before all of it was looked at", path);
	return rc;
}
