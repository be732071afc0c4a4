/* doubt.c - what a disk may do to a transaction. */
#include "doubt.h"

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
 * The next transaction of the log begins where the failed one did.  One that
 * changes nothing but writes a page is enough: what was behind it no longer
 * fits its checksum.
 */
static int
overwrite(struct store *st)
{
	char sql[64];

	str_fmt(sql, sizeof(sql), "PRAGMA user_version = %d", st->schema);
	return sqlite3_exec(st->db, sql, NULL, NULL, NULL);
}

enum rc
commit_failed(struct store *st, enum rc rc, struct err *err)
{
	struct err why = { 0 };

	/* Somebody else holds the lock: it was never written. */
	if (rc == RC_RETRY || overwrite(st) == SQLITE_OK)
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
