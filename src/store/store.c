/* store.c - open, create, upgrade and guard the station file. */
#include "store/store.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "doubt.h"
#include "migration.h"
#include "place.h"
#include "shape.h"
#include "stmt.h"
#include "store/copy.h"
#include "store/damage.h"

#define BUSY_MS 2000

int
store_newest_schema(void)
{
	int i;

	for (i = 0; migrations[i].version != 0; i++)
		assert(migrations[i].version == i + 1);
	return i;
}

static enum rc
run_script(struct store *st, const char *sql, struct err *err)
{
	if (sqlite3_exec(st->db, sql, NULL, NULL, NULL) != SQLITE_OK)
		return db_fail(st, sql, err);
	return RC_OK;
}

/* One number of a PRAGMA. */
static enum rc
pragma_int(int64_t *out, struct store *st, const char *sql, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	rc = stmt_step(&q, err);
	*out = rc == RC_OK ? col_int(&q, 0) : 0;
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

/*
 * The triggers in the schema say to every program that the audit trail takes
 * inserts only.  This says it to ours, whatever SQL it is given, and more: once
 * a file is open nothing changes its tables, triggers, settings or the way it
 * is written, and no other file or library comes in.
 */
static const struct {
	int action;
	const char *what; /* table, or pragma; NULL: any */
	bool sealing;     /* but by the code that writes the trail */
} denied[] = {
	{ SQLITE_INSERT, "audit", true }, { SQLITE_UPDATE, "audit", false },
	{ SQLITE_DELETE, "audit", false },
	{ SQLITE_INSERT, "trail_head", false },
	{ SQLITE_UPDATE, "trail_head", true },
	{ SQLITE_DELETE, "trail_head", false },
	{ SQLITE_INSERT, "adopted", false },
	{ SQLITE_UPDATE, "adopted", false },
	{ SQLITE_DELETE, "adopted", false },
	{ SQLITE_INSERT, "sqlite_master", false },
	{ SQLITE_UPDATE, "sqlite_master", false },
	{ SQLITE_DELETE, "sqlite_master", false },
	{ SQLITE_CREATE_INDEX, NULL, false },
	{ SQLITE_CREATE_TABLE, NULL, false },
	{ SQLITE_CREATE_TEMP_INDEX, NULL, false },
	{ SQLITE_CREATE_TEMP_TABLE, NULL, false },
	{ SQLITE_CREATE_TEMP_TRIGGER, NULL, false },
	{ SQLITE_CREATE_TEMP_VIEW, NULL, false },
	{ SQLITE_CREATE_TRIGGER, NULL, false },
	{ SQLITE_CREATE_VIEW, NULL, false },
	{ SQLITE_CREATE_VTABLE, NULL, false },
	{ SQLITE_DROP_INDEX, NULL, false }, { SQLITE_DROP_TABLE, NULL, false },
	{ SQLITE_DROP_TEMP_INDEX, NULL, false },
	{ SQLITE_DROP_TEMP_TABLE, NULL, false },
	{ SQLITE_DROP_TEMP_TRIGGER, NULL, false },
	{ SQLITE_DROP_TEMP_VIEW, NULL, false },
	{ SQLITE_DROP_TRIGGER, NULL, false }, { SQLITE_DROP_VIEW, NULL, false },
	{ SQLITE_DROP_VTABLE, NULL, false },
	{ SQLITE_ALTER_TABLE, NULL, false }, { SQLITE_REINDEX, NULL, false },
	{ SQLITE_ANALYZE, NULL, false }, { SQLITE_ATTACH, NULL, false },
	{ SQLITE_DETACH, NULL, false },
	{ SQLITE_SAVEPOINT, NULL, false }, /* a part undone would be told of */
};

/* Pragmas that only look. */
static const char *const looks[] = { "data_version", "page_count", "page_size",
	"freelist_count", "table_info", "table_xinfo", "quick_check",
	"integrity_check", "foreign_key_check", "compile_options" };

static bool
only_looks(const char *pragma)
{
	size_t i;

	for (i = 0; i < sizeof(looks) / sizeof(looks[0]); i++)
		if (str_eq(looks[i], pragma))
			return true;
	return false;
}

static int
guard(void *arg, int action, const char *a, const char *b, const char *db,
    const char *trigger)
{
	const struct store *st = arg;
	size_t i;

	(void)db;
	(void)trigger;
	if (action == SQLITE_PRAGMA)
		return only_looks(a) ? SQLITE_OK : SQLITE_DENY;
	if (action == SQLITE_FUNCTION && str_eq(b, "load_extension"))
		return SQLITE_DENY;
	for (i = 0; i < sizeof(denied) / sizeof(denied[0]); i++)
		if (denied[i].action == action &&
		    (denied[i].what == NULL || str_eq(denied[i].what, a)) &&
		    !(denied[i].sealing && st->trail.sealing))
			return SQLITE_DENY;
	return SQLITE_OK;
}

static enum rc
connect_file(struct store **out, const char *path, struct err *err)
{
	static const char setup[] =
	    "PRAGMA foreign_keys = ON;"
	    "PRAGMA trusted_schema = OFF;"
	    "PRAGMA cell_size_check = ON;"
	    "PRAGMA synchronous = FULL;";
	struct store *st;
	char *name = careful_name(path);
	int code;
	enum rc rc;

	st = xcalloc(1, sizeof(*st));
	st->path = xstrdup(path);
	st->lock = -1;
	code = sqlite3_open_v2(name, &st->db,
	    SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_URI,
	    NULL);
	free(name);
	if (code != SQLITE_OK) {
		rc = err_set(err, RC_FAILED, sqlite3_extended_errcode(st->db),
		    "%s: cannot be opened for writing (%s)", path,
		    sqlite3_errmsg(st->db));
		goto done;
	}
	sqlite3_busy_timeout(st->db, BUSY_MS);
	shape_limits(st);
	sqlite3_db_config(st->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
	sqlite3_db_config(st->db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
	sqlite3_db_config(st->db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
	if ((rc = run_script(st, setup, err)) != RC_OK)
		goto done;
	*out = st;
	st = NULL;
done:
	store_close(st);
	return rc;
}

/* What SQL cannot do of a migration: after its script, in its transaction. */
static const struct {
	int version;
	enum rc (*run)(struct store *st, struct err *err);
} steps[] = {
	{ 7, trail_begin },
};

static enum rc
run_step(struct store *st, int version, struct err *err)
{
	enum rc rc = RC_OK;
	size_t i;

	for (i = 0; i < sizeof(steps) / sizeof(steps[0]) && rc == RC_OK; i++)
		if (steps[i].version == version)
			rc = steps[i].run(st, err);
	return rc;
}

static enum rc
run_migration(struct store *st, const struct migration *m, struct err *err)
{
	char version[64];
	int64_t broken = 0;
	enum rc rc;

	str_fmt(
	    version, sizeof(version), "PRAGMA user_version = %d", m->version);
	if ((rc = store_begin(st, err)) != RC_OK)
		return rc;
	if ((rc = run_script(st, m->sql, err)) != RC_OK ||
	    (rc = run_script(st, version, err)) != RC_OK ||
	    (rc = pragma_int(&broken, st,
		 "SELECT count(*) FROM pragma_foreign_key_check" SCAN_OK,
		 err)) != RC_OK)
		goto done;
	if (broken != 0) {
		rc = err_set(err, RC_FAILED, 0,
		    "%s: schema %d would break a link: not upgraded", st->path,
		    m->version);
		goto done;
	}
	if ((rc = run_step(st, m->version, err)) == RC_OK)
		rc = store_commit(st, err);
done:
	store_rollback(st);
	return rc;
}

/* A table may be made anew while others refer to it, so links are not looked
 * at one by one but all of them before each commit. */
static enum rc
migrate(struct store *st, struct err *err)
{
	enum rc rc;
	int i;

	rc = run_script(st, "PRAGMA foreign_keys = OFF", err);
	for (i = 0; migrations[i].version != 0 && rc == RC_OK; i++) {
		if (migrations[i].version <= st->schema)
			continue;
		rc = run_migration(st, &migrations[i], err);
		if (rc == RC_OK)
			st->schema = migrations[i].version;
	}
	if (run_script(st, "PRAGMA foreign_keys = ON", err) != RC_OK)
		return RC_FAILED;
	return rc;
}

/* A new file for its owner alone, whatever the umask: SQLite gives the log and
 * its index the mode of the file. */
static enum rc
make_empty(const char *path, struct err *err)
{
	int fd =
	    open(path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, FILE_OWN_MODE);

	if (fd < 0 && errno == EEXIST)
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: already there: init never overwrites, choose another "
		    "name",
		    path);
	if (fd < 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", path, strerror(errno));
	close(fd);
	return RC_OK;
}

#define BEFORE_MOST 99

/*
 * A copy beside the file before an upgrade: NAME.before-schema-N, or -N-2 and
 * so on where one is that ends elsewhere.  *made: of an upgrade that did not
 * finish.
 */
static enum rc
name_before(char name[1024], bool *made, struct store *st, struct err *err)
{
	struct file_head head;
	char tail[16] = "";
	int64_t last;
	int n;
	enum rc rc;

	rc = pragma_int(
	    &last, st, "SELECT coalesce(max(id), 0) FROM audit", err);
	for (n = 2; rc == RC_OK; n++) {
		if (n > BEFORE_MOST ||
		    !str_fmt(name, 1024, "%s.before-schema-%d%s", st->path,
			store_newest_schema(), tail))
			return err_set(err, RC_FAILED, 0,
			    "no name is left for a copy before the upgrade");
		*made = file_exists(name);
		if (!*made ||
		    (file_head_read(&head, name, NULL) == RC_OK &&
			head.schema <= st->schema && head.last_row == last))
			break;
		str_fmt(tail, sizeof(tail), "-%d", n);
	}
	return rc;
}

static enum rc
backup_before_upgrade(struct store *st, struct err *err)
{
	char name[1024], made[PLACE_SIZE];
	struct stmt q;
	bool there;
	enum rc rc;

	if ((rc = name_before(name, &there, st, err)) != RC_OK || there)
		return rc;
	if ((rc = place_beside(made, name, err)) != RC_OK ||
	    (rc = make_empty(made, err)) != RC_OK ||
	    (rc = stmt_open(&q, st, "VACUUM INTO :name", err)) != RC_OK)
		return rc;
	bind_text(&q, ":name", made);
	if ((rc = stmt_run(&q, err)) != RC_OK) {
		place_drop(made);
		return rc;
	}
	return place_take(made, name, err);
}

/* Is this one of our files, and can this program read it? */
static enum rc
check_identity(struct store *st, struct err *err)
{
	int64_t id, version;
	enum rc rc;

	if ((rc = pragma_int(&id, st, "PRAGMA application_id", err)) != RC_OK ||
	    (rc = pragma_int(&version, st, "PRAGMA user_version", err)) !=
		RC_OK)
		return rc;
	if (id != STORE_APPLICATION_ID)
		return err_set(err, RC_INVALID, DAMAGE_LIB,
		    "%s: " NOT_A_STATION, st->path);
	if (version > store_newest_schema())
		return err_set(err, RC_REFUSED, 0,
		    "%s: written by a newer program (schema %d, this one knows "
		    "%d): install that program",
		    st->path, (int)version, store_newest_schema());
	st->schema = (int)version;
	return RC_OK;
}

enum rc
place_fill(const char *path, struct err *err)
{
	char pragma[64];
	struct store *st = NULL;
	enum rc rc;

	if ((rc = make_empty(path, err)) != RC_OK)
		return rc;
	str_fmt(pragma, sizeof(pragma), "PRAGMA application_id = %d;",
	    STORE_APPLICATION_ID);
	if ((rc = connect_file(&st, path, err)) != RC_OK ||
	    (rc = run_script(st, pragma, err)) != RC_OK ||
	    (rc = run_script(st, "PRAGMA journal_mode = WAL", err)) != RC_OK)
		goto done;
	rc = migrate(st, err);
done:
	store_close(st);
	return rc;
}

/* Its head; then the newest schema, after a copy when the old one had rows. */
static enum rc
open_whole(struct store *st, bool keep_old, struct err *err)
{
	enum rc rc;

	if ((rc = check_identity(st, err)) != RC_OK ||
	    (rc = run_script(st, "PRAGMA journal_mode = WAL", err)) != RC_OK)
		return rc;
	if (st->schema < store_newest_schema() &&
	    ((keep_old && (rc = backup_before_upgrade(st, err)) != RC_OK) ||
		(rc = migrate(st, err)) != RC_OK))
		return rc;
	if ((rc = shape_check(st, err)) != RC_OK)
		return rc;
	if (!st->trail.on && (rc = trail_watch(st, err)) != RC_OK)
		return rc;
	sqlite3_set_authorizer(st->db, guard, st);
	return RC_OK;
}

enum rc
store_open(struct store **out, const char *path, struct err *err)
{
	char aside[SWAP_PATH_SIZE] = "";
	struct store *st = NULL;
	bool finished;
	int lock = -1;
	enum rc rc;

	*out = NULL;
	if ((rc = swap_finish(&finished, aside, path, err)) != RC_OK)
		return rc;
	if (!file_exists(path))
		return err_set(err, RC_NOTFOUND, ENOENT,
		    "%s: no such station file: make it with pinbone init, or "
		    "put a backup there with pinbone restore",
		    path);
	if ((rc = damage_look(path, err)) != RC_OK ||
	    (rc = open_lock(&lock, path, false, err)) != RC_OK ||
	    (rc = connect_file(&st, path, err)) != RC_OK)
		goto done;
	st->lock = lock;
	lock = -1;
	if (finished)
		str_copy(st->set_aside, sizeof(st->set_aside), aside);
	if ((rc = open_whole(st, true, err)) != RC_OK)
		goto done;
	*out = st;
	st = NULL;
done:
	open_unlock(&lock);
	store_close(st);
	return rc;
}

enum rc
store_open_copy(struct store **out, const char *path, struct err *err)
{
	struct store *st = NULL;
	enum rc rc;

	*out = NULL;
	if ((rc = connect_file(&st, path, err)) == RC_OK &&
	    (rc = open_whole(st, false, err)) == RC_OK) {
		*out = st;
		st = NULL;
	}
	store_close(st);
	return rc;
}

enum rc
store_close_copy(struct store *st, struct err *err)
{
	enum rc rc;
	int fd;

	/* Nothing is recorded any more, and how it is written changes. */
	sqlite3_set_authorizer(st->db, NULL, NULL);
	/* Exclusive first: then the change leaves no file beside. */
	if ((rc = run_script(st, "PRAGMA locking_mode = EXCLUSIVE", err)) ==
	    RC_OK)
		rc = run_script(st, "PRAGMA journal_mode = DELETE", err);
	if (rc == RC_OK) {
		fd = open(st->path, O_RDWR | O_CLOEXEC);
		/* closing it drops SQLite's locks, which nobody needs now */
		if (fd < 0 || fsync(fd) != 0)
			rc = err_set(err, RC_FAILED, errno, "%s: %s", st->path,
			    strerror(errno));
		if (fd >= 0)
			close(fd);
	}
	store_close(st);
	return rc;
}

const char *
store_set_aside(const struct store *st)
{
	return st->set_aside[0] == '\0' ? NULL : st->set_aside;
}

void
store_close(struct store *st)
{
	if (st == NULL)
		return;
	store_rollback(st);
	stmt_drop_kept(st);
	trail_unwatch(st);
	sqlite3_close(st->db);
	open_unlock(&st->lock);
	free(st->path);
	free(st);
}

const char *
store_path(const struct store *st)
{
	return st->path;
}

int
store_schema(const struct store *st)
{
	return st->schema;
}

void
store_check_plans(struct store *st, bool on)
{
	stmt_drop_kept(st); /* each is looked at when it is prepared */
	st->check_plans = on;
}

enum rc
store_begin(struct store *st, struct err *err)
{
	enum rc rc;

	assert(!st->in_txn);
	rc = run_script(st, "BEGIN IMMEDIATE", err);
	st->in_txn = rc == RC_OK;
	return rc;
}

enum rc
store_commit(struct store *st, struct err *err)
{
	enum rc rc;

	assert(st->in_txn);
	if ((rc = trail_seal(st, err)) != RC_OK) {
		store_rollback(st);
		return rc;
	}
	rc = run_script(st, "COMMIT", err);
	if (rc == RC_OK) {
		st->in_txn = false;
		return RC_OK;
	}
	store_rollback(st);
	/* What is done about it is no change of the record. */
	sqlite3_set_authorizer(st->db, NULL, NULL);
	rc = commit_failed(st, rc, err);
	sqlite3_set_authorizer(st->db, guard, st);
	return rc;
}

void
store_rollback(struct store *st)
{
	if (!st->in_txn)
		return;
	st->in_txn = false;
	trail_forget(st);
	/* SQLite may have rolled back by itself after an error. */
	if (sqlite3_get_autocommit(st->db) == 0)
		ignore_rc(run_script(st, "ROLLBACK", NULL));
}

enum rc
store_fact_set(
    struct store *st, const char *key, const char *value, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO station (key, value) VALUES (:key, :value)"
	    " ON CONFLICT (key) DO UPDATE SET value = :value",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":key", key);
	bind_text(&q, ":value", value);
	return stmt_run(&q, err);
}

enum rc
store_fact_get(
    char *dst, size_t size, struct store *st, const char *key, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(
	    &q, st, "SELECT value FROM station WHERE key = :key", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":key", key);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		col_text(dst, size, &q, 0);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "%s: the file does not say its %s", st->path, key);
	return rc;
}
