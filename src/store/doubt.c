/* doubt.c - what a disk may do to a transaction. */
#include "doubt.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/mem.h"
#include "base/str.h"
#include "stmt.h"

char *
careful_name(const char *path)
{
	static const char hex[] = "0123456789abcdef";
	struct buf b;
	char *name;
	const char *p;

	buf_init(&b, 16384);
	/* Two slashes: a path that begins with one names no host. */
	buf_puts(&b, path[0] == '/' ? "file://" : "file:");
	for (p = path; *p != '\0'; p++) {
		if (strchr("%?#", *p) == NULL) {
			buf_putc(&b, *p);
			continue;
		}
		buf_putc(&b, '%');
		buf_putc(&b, hex[(unsigned char)*p / 16]);
		buf_putc(&b, hex[(unsigned char)*p % 16]);
	}
	buf_puts(&b, "?psow=0");
	name = xstrdup(buf_text(&b));
	buf_fini(&b);
	return name;
}

/*
 * --- is it in the log all the same? -----------------------------------------
 *
 * The log as https://www.sqlite.org/fileformat2.html (4, the write-ahead log)
 * and https://www.sqlite.org/walformat.html (2.1, the index header) have it.
 * Its index says up to which frame everybody reads; a program that opens the
 * file next has no index and reads on as long as salts and checksums fit.
 */

#define LOG_HEAD 32
#define FRAME_HEAD 24
#define INDEX_BYTES 32768
#define PAGE_MAX 65536

struct log {
	sqlite3_file *file;
	uint32_t frames, salt[2], sum[2]; /* of what everybody reads */
	uint32_t page;
	bool big; /* checksums take big-endian words */
	unsigned char *frame;
	bool unread; /* the disk gave nothing back */
};

static uint32_t
be32(const unsigned char *p)
{
	return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 |
	    (uint32_t)p[2] << 8 | p[3];
}

static void
add_sum(struct log *l, const unsigned char *p, size_t len)
{
	uint32_t x, y;
	size_t i;

	for (i = 0; i < len; i += 8) {
		x = be32(p + i);
		y = be32(p + i + 4);
		if (!l->big) {
			x = __builtin_bswap32(x);
			y = __builtin_bswap32(y);
		}
		l->sum[0] += x + l->sum[1];
		l->sum[1] += y + l->sum[0];
	}
}

static bool
read_at(struct log *l, void *to, size_t len, int64_t at)
{
	int rc = l->file->pMethods->xRead(l->file, to, (int)len, at);

	if (rc != SQLITE_OK && rc != SQLITE_IOERR_SHORT_READ)
		l->unread = true;
	return rc == SQLITE_OK;
}

/* The header of the index; false when there is none to be had. */
static bool
read_index(struct log *l, struct store *st)
{
	volatile void *p = NULL;
	sqlite3_file *main = NULL;
	uint32_t head[12];
	uint16_t page;

	if (sqlite3_file_control(st->db, "main", SQLITE_FCNTL_FILE_POINTER,
		&main) != SQLITE_OK ||
	    sqlite3_file_control(st->db, "main", SQLITE_FCNTL_JOURNAL_POINTER,
		&l->file) != SQLITE_OK ||
	    main == NULL || main->pMethods == NULL || l->file == NULL ||
	    l->file->pMethods == NULL ||
	    main->pMethods->xShmMap(main, 0, INDEX_BYTES, 0, &p) != SQLITE_OK ||
	    p == NULL)
		return false;
	memcpy(head, (const void *)(uintptr_t)p, sizeof(head));
	l->big = ((const unsigned char *)&head[3])[1] != 0;
	memcpy(&page, (const unsigned char *)&head[3] + 2, sizeof(page));
	l->page = page == 1 ? PAGE_MAX : page;
	l->frames = head[4];
	memcpy(l->sum, &head[6], sizeof(l->sum));
	/* These are kept as they stand in the log. */
	l->salt[0] = be32((const unsigned char *)&head[8]);
	l->salt[1] = be32((const unsigned char *)&head[9]);
	return l->page >= 512;
}

/* Begun anew: the sum starts in the log's own head.  False: it is an older
 * one, of which everything is in the file. */
static bool
from_the_start(struct log *l)
{
	unsigned char head[LOG_HEAD];

	if (!read_at(l, head, sizeof(head), 0) ||
	    be32(head + 16) != l->salt[0] || be32(head + 20) != l->salt[1])
		return false;
	l->sum[0] = be32(head + 24);
	l->sum[1] = be32(head + 28);
	return true;
}

/* The frame at `at`: does it go on from the one before? */
static bool
goes_on(struct log *l, int64_t at)
{
	if (!read_at(l, l->frame, FRAME_HEAD + l->page, at) ||
	    be32(l->frame + 8) != l->salt[0] ||
	    be32(l->frame + 12) != l->salt[1])
		return false;
	add_sum(l, l->frame, 8);
	add_sum(l, l->frame + FRAME_HEAD, l->page);
	return be32(l->frame + 16) == l->sum[0] &&
	    be32(l->frame + 20) == l->sum[1];
}

/* A whole transaction behind what everybody reads; true also when that cannot
 * be read. */
static bool
in_the_log(struct store *st)
{
	struct log l = { 0 };
	sqlite3_int64 size = 0;
	int64_t at;
	bool found = false;

	if (!read_index(&l, st) ||
	    l.file->pMethods->xFileSize(l.file, &size) != SQLITE_OK)
		return true;
	at = LOG_HEAD + (int64_t)l.frames * (FRAME_HEAD + l.page);
	if (at + FRAME_HEAD + l.page > size)
		return false;
	if (l.frames == 0 && !from_the_start(&l))
		return l.unread;
	l.frame = xcalloc(1, FRAME_HEAD + l.page);
	for (; !found && goes_on(&l, at); at += FRAME_HEAD + l.page)
		found = be32(l.frame + 4) != 0;
	free(l.frame);
	return found || l.unread;
}

/*
 * The next transaction of the log begins where the failed one did.  One that
 * changes nothing but writes a page is enough: what was behind it no longer
 * fits its checksum.
 */
static bool
overwrite(struct store *st)
{
	char sql[64];
	sqlite3_stmt *s = NULL;
	bool done;

	str_fmt(sql, sizeof(sql), "PRAGMA user_version = %d", st->schema);
	done = sqlite3_prepare_v2(st->db, sql, -1, &s, NULL) == SQLITE_OK &&
	    sqlite3_step(s) == SQLITE_DONE;
	return sqlite3_finalize(s) == SQLITE_OK && done;
}

enum rc
commit_failed(struct store *st, enum rc rc, struct err *err)
{
	struct err why = { 0 };

	/* Somebody else holds the lock: it was never written. */
	if (rc == RC_RETRY || !in_the_log(st) || overwrite(st))
		return rc;
	if (err != NULL)
		why = *err;
	err_clear(err);
	return err_set(err, RC_FATAL, why.lib,
	    "%s: the disk failed while this was saved, and it is not certain "
	    "whether it was recorded: leave the station, see to the disk, then "
	    "look at the record before it is done again",
	    st->path);
}
