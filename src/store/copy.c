/* copy.c - a whole copy of a station file, while it is in use. */
#include "store/copy.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "base/digest.h"
#include "base/file.h"
#include "base/str.h"
#include "stmt.h"

/* A quarter of a mebibyte of the usual pages between two reports. */
#define STEP_PAGES 64
#define READ_BYTES 65536
/* Steps of SQLite's machine between two reports of a check: about a tenth of
 * a second, measured. */
#define CHECK_STEPS 200000

/* What went wrong on a file that is not the open station's own. */
static enum rc
fail(sqlite3 *db, const char *path, struct err *err)
{
	int code = sqlite3_errcode(db);

	switch (code & 0xff) {
	case SQLITE_FULL:
		return err_set(err, RC_FAILED, code,
		    "%s: no space left there: nothing was kept", path);
	case SQLITE_NOTADB:
	case SQLITE_CORRUPT:
		return err_set(err, RC_INVALID, code,
		    "%s: not a whole station file", path);
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
		return err_set(err, RC_RETRY, code,
		    "%s: another program is writing: try again", path);
	default:
		return err_set(err, RC_FAILED, sqlite3_extended_errcode(db),
		    "%s: it cannot be read or written any more (%s): was it "
		    "taken out?",
		    path, sqlite3_errmsg(db));
	}
}

static enum rc
connect_to(struct store *st, const char *path, int flags, struct err *err)
{
	memset(st, 0, sizeof(*st));
	if (sqlite3_open_v2(path, &st->db, flags | SQLITE_OPEN_NOMUTEX, NULL) ==
	    SQLITE_OK)
		return RC_OK;
	return fail(st->db, path, err);
}

/* One row of one statement; the columns are read by `q`. */
static enum rc
first_row(struct stmt *q, sqlite3 *db, const char *path, const char *sql,
    struct err *err)
{
	int code = sqlite3_prepare_v2(db, sql, -1, &q->s, NULL);

	q->st = NULL;
	q->kept = NULL;
	if (code != SQLITE_OK)
		return fail(db, path, err);
	code = sqlite3_step(q->s);
	if (code == SQLITE_ROW)
		return RC_OK;
	if (code == SQLITE_DONE)
		return RC_END;
	return fail(db, path, err);
}

static enum rc
read_number(int64_t *out, sqlite3 *db, const char *path, const char *sql,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = first_row(&q, db, path, sql, err);
	if (rc == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

static void
read_fact(char *dst, size_t size, struct stmt *q, int i)
{
	const char *s = (const char *)sqlite3_column_text(q->s, i);

	if (s == NULL || !str_copy(dst, size, s))
		dst[0] = '\0';
}

/* One statement whose rows, if any, say nothing. */
static enum rc
run_one(sqlite3 *db, const char *path, const char *sql, struct err *err)
{
	struct stmt q;
	enum rc rc = first_row(&q, db, path, sql, err);

	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

/* The head, over a connection that is open; begins its read transaction. */
static enum rc
read_head(struct file_head *out, sqlite3 *db, const char *path, struct err *err)
{
	struct stmt q;
	int64_t id, schema;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = read_number(&id, db, path, "PRAGMA application_id", err)) !=
		RC_OK ||
	    (rc = read_number(&schema, db, path, "PRAGMA user_version", err)) !=
		RC_OK)
		return rc;
	if (id != STORE_APPLICATION_ID)
		return err_set(
		    err, RC_INVALID, 0, "%s: not a Pinbone station file", path);
	out->schema = (int)schema;
	rc = first_row(&q, db, path,
	    "SELECT (SELECT value FROM station WHERE key = 'kitchen'),"
	    " (SELECT value FROM station WHERE key = 'created'),"
	    " (SELECT value FROM station WHERE key = 'training')",
	    err);
	if (rc == RC_OK) {
		read_fact(out->kitchen, sizeof(out->kitchen), &q, 0);
		read_fact(out->created, sizeof(out->created), &q, 1);
		read_fact(out->training, sizeof(out->training), &q, 2);
	}
	stmt_close(&q);
	if (rc != RC_OK)
		return rc;
	rc = first_row(&q, db, path,
	    "SELECT id, at_utc FROM audit" SCAN_OK "ORDER BY id DESC LIMIT 1",
	    err);
	if (rc == RC_OK) {
		out->last_row = col_int(&q, 0);
		out->last_utc = col_int(&q, 1);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
file_head_read(struct file_head *out, const char *path, struct err *err)
{
	struct store st;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = file_plain(path, err)) != RC_OK)
		return rc;
	rc = connect_to(&st, path, SQLITE_OPEN_READONLY, err);
	if (rc == RC_OK)
		rc = read_head(out, st.db, path, err);
	sqlite3_close(st.db);
	return rc;
}

bool
file_head_same(const struct file_head *a, const struct file_head *b)
{
	return str_eq(a->created, b->created) &&
	    str_eq(a->kitchen, b->kitchen) && str_eq(a->training, b->training);
}

/* --- writing ---------------------------------------------------------------*/

struct copying {
	const char *from, *to;
	copy_fn *tell;
	void *arg;
	int64_t bytes;
};

static enum rc
stopped(const struct copying *c, struct err *err)
{
	return err_set(err, RC_REFUSED, 0,
	    "%s: stopped before it was whole: nothing was kept", c->to);
}

static bool
goes_on(
    const struct copying *c, enum copy_phase phase, int64_t done, int64_t total)
{
	return c->tell == NULL || c->tell(c->arg, phase, done, total);
}

static enum rc
write_pages(struct copying *c, sqlite3 *to, sqlite3 *from, struct err *err)
{
	sqlite3_backup *b = sqlite3_backup_init(to, "main", from, "main");
	int64_t page, all, left;
	int code = SQLITE_OK;
	enum rc rc;

	if (b == NULL)
		return fail(to, c->to, err);
	rc = read_number(&page, from, c->from, "PRAGMA page_size", err);
	while (rc == RC_OK &&
	    ((code = sqlite3_backup_step(b, STEP_PAGES)) == SQLITE_OK)) {
		all = sqlite3_backup_pagecount(b);
		left = sqlite3_backup_remaining(b);
		if (!goes_on(c, COPY_WRITING, (all - left) * page, all * page))
			rc = stopped(c, err);
	}
	c->bytes = (int64_t)sqlite3_backup_pagecount(b) * page;
	if (sqlite3_backup_finish(b) != SQLITE_OK && rc == RC_OK)
		rc = fail(to, c->to, err);
	if (rc == RC_OK && code != SQLITE_DONE)
		rc = err_set(err, RC_RETRY, code,
		    "%s: another program is using it: try again", c->to);
	return rc;
}

/*
 * A copy carries the station's mark for a write-ahead log, which needs two
 * more files to be read.  Exclusive first: then the change makes none either.
 */
static enum rc
plain_journal(struct copying *c, sqlite3 *to, struct err *err)
{
	enum rc rc = run_one(to, c->to, "PRAGMA locking_mode = EXCLUSIVE", err);

	if (rc != RC_OK)
		return rc;
	return run_one(to, c->to, "PRAGMA journal_mode = DELETE", err);
}

static enum rc
write_copy(struct file_head *head, struct copying *c, struct err *err)
{
	struct store from, to = { 0 };
	enum rc rc;

	rc = connect_to(&from, c->from, SQLITE_OPEN_READONLY, err);
	if (rc != RC_OK)
		goto done;
	if ((rc = run_one(from.db, c->from, "BEGIN", err)) != RC_OK)
		goto done;
	/* From here on this connection sees the file as it is now. */
	if ((rc = read_head(head, from.db, c->from, err)) != RC_OK ||
	    (rc = connect_to(&to, c->to, SQLITE_OPEN_READWRITE, err)) != RC_OK)
		goto done;
	/* The journal would only bring an empty file back. */
	if ((rc = run_one(to.db, c->to, "PRAGMA journal_mode = OFF", err)) !=
		RC_OK ||
	    (rc = run_one(to.db, c->to, "PRAGMA synchronous = OFF", err)) !=
		RC_OK)
		goto done;
	rc = write_pages(c, to.db, from.db, err);
	sqlite3_close(to.db);
	to.db = NULL;
	if (rc == RC_OK &&
	    (rc = connect_to(&to, c->to, SQLITE_OPEN_READWRITE, err)) == RC_OK)
		rc = plain_journal(c, to.db, err);
done:
	sqlite3_close(to.db);
	sqlite3_close(from.db);
	return rc;
}

/* --- reading back ----------------------------------------------------------*/

static enum rc
fail_errno(const char *path, struct err *err)
{
	int e = errno;

	return err_set(
	    err, RC_FAILED, e, "%s: %s: was it taken out?", path, strerror(e));
}

static enum rc
digest_file(char out[DIGEST_HEX_MAX], const struct copying *c, int fd,
    enum copy_phase phase, struct err *err)
{
	struct digest *d = digest_new();
	unsigned char chunk[READ_BYTES];
	int64_t done = 0;
	enum rc rc = RC_OK;
	ssize_t n;

	if (lseek(fd, 0, SEEK_SET) != 0)
		rc = fail_errno(c->to, err);
	while (rc == RC_OK && (n = read(fd, chunk, sizeof(chunk))) != 0) {
		if (n < 0) {
			rc = fail_errno(c->to, err);
			break;
		}
		digest_add(d, chunk, (size_t)n);
		done += n;
		if (!goes_on(c, phase, done, c->bytes))
			rc = stopped(c, err);
	}
	digest_end(out, d);
	return rc;
}

/*
 * The same bytes twice: as the computer believes to have written them, and as
 * the medium gives them back once the computer's own pages of it are dropped.
 */
static enum rc
read_back(struct copying *c, struct err *err)
{
	char meant[DIGEST_HEX_MAX], kept[DIGEST_HEX_MAX];
	int fd = open(c->to, O_RDWR | O_CLOEXEC);
	enum rc rc;

	if (fd < 0)
		return fail_errno(c->to, err);
	rc = digest_file(meant, c, fd, COPY_WRITING, err);
	if (rc == RC_OK && fsync(fd) != 0)
		rc = fail_errno(c->to, err);
	if (rc != RC_OK)
		goto done;
	/* Not on every file system; without it the check is the weaker one. */
	posix_fadvise(fd, 0, 0, POSIX_FADV_DONTNEED);
	rc = digest_file(kept, c, fd, COPY_READING, err);
	if (rc == RC_OK && !str_eq(meant, kept))
		rc = err_set(err, RC_FAILED, 0,
		    "%s: the medium gives back other bytes than were written: "
		    "take another one",
		    c->to);
done:
	close(fd);
	return rc;
}

struct watching {
	const struct copying *c;
	bool stop;
};

static int
watch(void *arg)
{
	struct watching *w = arg;

	w->stop = !goes_on(w->c, COPY_CHECKING, 0, 0);
	return w->stop;
}

static enum rc
check_copy(struct copying *c, const struct file_head *want, struct err *err)
{
	struct watching w = { .c = c };
	struct file_head seen;
	struct store st;
	struct stmt q;
	char text[200];
	enum rc rc;

	rc = connect_to(&st, c->to, SQLITE_OPEN_READONLY, err);
	if (rc != RC_OK)
		goto done;
	sqlite3_progress_handler(st.db, CHECK_STEPS, watch, &w);
	rc = first_row(&q, st.db, c->to, "PRAGMA quick_check(1)", err);
	if (rc == RC_OK) {
		str_fmt(text, sizeof(text), "%.190s",
		    (const char *)sqlite3_column_text(q.s, 0));
		if (!str_eq(text, "ok"))
			rc = err_set(err, RC_FAILED, 0,
			    "%s: not whole (%s): the station file itself may "
			    "be damaged, stop and look",
			    c->to, text);
	}
	stmt_close(&q);
	if (w.stop) {
		err_clear(err);
		rc = stopped(c, err);
	}
	if (rc != RC_OK || (rc = read_head(&seen, st.db, c->to, err)) != RC_OK)
		goto done;
	if (!file_head_same(&seen, want) || seen.schema != want->schema ||
	    seen.last_row != want->last_row || seen.last_utc != want->last_utc)
		rc = err_set(err, RC_FAILED, 0,
		    "%s: it does not end where the station's record did",
		    c->to);
done:
	sqlite3_close(st.db);
	return rc;
}

enum rc
store_copy(struct file_head *out, int64_t *bytes, const char *from,
    const char *to, copy_fn *tell, void *arg, struct err *err)
{
	struct copying c = { .from = from, .to = to, .tell = tell, .arg = arg };
	enum rc rc;

	*bytes = 0;
	if ((rc = write_copy(out, &c, err)) != RC_OK ||
	    (rc = read_back(&c, err)) != RC_OK ||
	    (rc = check_copy(&c, out, err)) != RC_OK)
		return rc;
	*bytes = c.bytes;
	return RC_OK;
}
