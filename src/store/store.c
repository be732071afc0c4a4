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
#include "stmt.h"

#define BUSY_MS 2000

static int
newest_schema(void)
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
 * The audit trail takes inserts only.  The triggers in the schema say so to
 * every program; this says so to ours, whatever SQL it is given.
 */
static int
guard(void *arg, int action, const char *a, const char *b, const char *db,
    const char *trigger)
{
	(void)arg;
	(void)b;
	(void)db;
	(void)trigger;
	if ((action == SQLITE_UPDATE || action == SQLITE_DELETE ||
		action == SQLITE_DROP_TABLE || action == SQLITE_DROP_TRIGGER) &&
	    a != NULL && strncmp(a, "audit", 5) == 0)
		return SQLITE_DENY;
	return SQLITE_OK;
}

static enum rc
connect_file(struct store **out, const char *path, struct err *err)
{
	static const char setup[] =
	    "PRAGMA foreign_keys = ON;"
	    "PRAGMA trusted_schema = OFF;"
	    "PRAGMA synchronous = FULL;";
	struct store *st;
	char *name = careful_name(path);
	int code;
	enum rc rc;

	st = xcalloc(1, sizeof(*st));
	st->path = xstrdup(path);
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
		 "SELECT count(*) FROM pragma_foreign_key_check", err)) !=
		RC_OK)
		goto done;
	if (broken != 0) {
		rc = err_set(err, RC_FAILED, 0,
		    "%s: schema %d would break a link: not upgraded", st->path,
		    m->version);
		goto done;
	}
	rc = store_commit(st, err);
done:
	store_rollback(st);
	return rc;
}

static enum rc
migrate(struct store *st, struct err *err)
{
	enum rc rc = RC_OK;
	int i;

	for (i = 0; migrations[i].version != 0 && rc == RC_OK; i++) {
		if (migrations[i].version <= st->schema)
			continue;
		rc = run_migration(st, &migrations[i], err);
		if (rc == RC_OK)
			st->schema = migrations[i].version;
	}
	return rc;
}

/* A copy beside the file before an upgrade: NAME.before-schema-N. */
static enum rc
backup_before_upgrade(struct store *st, struct err *err)
{
	char name[1024], made[PLACE_SIZE];
	struct stmt q;
	enum rc rc;

	if (!str_fmt(name, sizeof(name), "%s.before-schema-%d", st->path,
		newest_schema()))
		return err_set(err, RC_FAILED, 0, "station file path too long");
	if (file_exists(name))
		return RC_OK; /* of an upgrade that did not finish */
	if ((rc = place_beside(made, name, err)) != RC_OK ||
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
		return err_set(err, RC_INVALID, 0,
		    "%s: not a Pinbone station file", st->path);
	if (version > newest_schema())
		return err_set(err, RC_REFUSED, 0,
		    "%s: written by a newer program (schema %d, this one knows "
		    "%d): install that program",
		    st->path, (int)version, newest_schema());
	st->schema = (int)version;
	return RC_OK;
}

/* An empty file becomes one of ours. */
static enum rc
make_file(const char *path, struct err *err)
{
	char pragma[64];
	struct store *st = NULL;
	int fd;
	enum rc rc;

	fd = open(path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
	if (fd < 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", path, strerror(errno));
	close(fd);
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

enum rc
store_new(struct store **out, const char *path, struct err *err)
{
	char made[PLACE_SIZE], log[PLACE_SIZE];
	enum rc rc;

	*out = NULL;
	if (file_exists(path))
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: already there: init never overwrites, choose another "
		    "name",
		    path);
	/* SQLite would read it into the new file. */
	if (str_fmt(log, sizeof(log), "%s-wal", path) && file_exists(log))
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: the log of a station file that is gone: it may hold "
		    "records, put them together again or move it away",
		    log);
	if ((rc = place_beside(made, path, err)) != RC_OK)
		return rc;
	if ((rc = make_file(made, err)) != RC_OK ||
	    (rc = store_open(out, made, err)) != RC_OK)
		place_drop(made);
	return rc;
}

void
store_drop(struct store *st)
{
	char made[PLACE_SIZE];

	str_copy(made, sizeof(made), st->path);
	store_close(st);
	place_drop(made);
}

enum rc
store_name(struct store *st, const char *path, struct err *err)
{
	char made[PLACE_SIZE];
	enum rc rc;

	/* All of it into the one file that gets the name. */
	if (sqlite3_wal_checkpoint_v2(st->db, NULL, SQLITE_CHECKPOINT_TRUNCATE,
		NULL, NULL) != SQLITE_OK) {
		rc = db_fail(st, "checkpoint", err);
		store_drop(st);
		return rc;
	}
	str_copy(made, sizeof(made), st->path);
	store_close(st);
	return place_take(made, path, err);
}

enum rc
store_create(const char *path, struct err *err)
{
	struct store *st;
	enum rc rc = store_new(&st, path, err);

	return rc == RC_OK ? store_name(st, path, err) : rc;
}

enum rc
store_open(struct store **out, const char *path, struct err *err)
{
	struct store *st = NULL;
	enum rc rc;

	*out = NULL;
	if (!file_exists(path))
		return err_set(err, RC_NOTFOUND, ENOENT,
		    "%s: no such station file: make it with pinbone init",
		    path);
	if ((rc = connect_file(&st, path, err)) != RC_OK ||
	    (rc = check_identity(st, err)) != RC_OK ||
	    (rc = run_script(st, "PRAGMA journal_mode = WAL", err)) != RC_OK)
		goto done;
	if (st->schema < newest_schema() &&
	    ((rc = backup_before_upgrade(st, err)) != RC_OK ||
		(rc = migrate(st, err)) != RC_OK))
		goto done;
	sqlite3_set_authorizer(st->db, guard, NULL);
	*out = st;
	st = NULL;
done:
	store_close(st);
	return rc;
}

void
store_close(struct store *st)
{
	if (st == NULL)
		return;
	store_rollback(st);
	stmt_drop_kept(st);
	sqlite3_close(st->db);
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
	rc = run_script(st, "COMMIT", err);
	if (rc == RC_OK) {
		st->in_txn = false;
		return RC_OK;
	}
	store_rollback(st);
	return commit_failed(st, rc, err);
}

void
store_rollback(struct store *st)
{
	if (!st->in_txn)
		return;
	st->in_txn = false;
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
