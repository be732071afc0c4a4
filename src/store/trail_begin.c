/*
 * trail_begin.c - a file that was there before its trail.  What stands in it is
 * taken as it is, row by row: from then on the trail knows it.
 */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "store/audit.h"
#include "store/trail.h"
#include "trail.h"

#define CHUNK_ROWS 4096
#define CHUNK_MAX (16u * 1024 * 1024)

/* Rows of one table, on their way into a row of `adopted`. */
struct chunk {
	const struct trail_table *table;
	struct buf keys, digests;
	int64_t first, last; /* a run of numbers that is not written yet */
	size_t count;
	int64_t all;
};

static void
end_run(struct chunk *c)
{
	if (c->count == 0 || !c->table->numbered)
		return;
	buf_printf(&c->keys, "%s%" PRId64 "-%" PRId64,
	    c->keys.len == 0 ? "" : " ", c->first, c->last);
}

static enum rc
end_chunk(struct store *st, struct chunk *c, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if (c->count == 0)
		return RC_OK;
	end_run(c);
	c->count = 0;
	rc = stmt_open(&q, st,
	    "INSERT INTO adopted (name, keys, digests)"
	    " VALUES (:name, :keys, :digests)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":name", c->table->name);
	bind_text(&q, ":keys", buf_text(&c->keys));
	bind_blob(&q, ":digests", c->digests.data, c->digests.len);
	rc = stmt_run(&q, err);
	buf_clear(&c->keys);
	buf_clear(&c->digests);
	return rc;
}

static void
add_row(struct chunk *c, sqlite3_value *const *values, struct buf *scratch)
{
	unsigned char d[ROW_DIGEST_SIZE];
	int64_t id;

	row_digest(d, c->table, values, scratch);
	buf_add(&c->digests, d, sizeof(d));
	c->all++;
	if (!c->table->numbered) {
		if (c->count++ > 0)
			buf_putc(&c->keys, ' ');
		row_key(&c->keys, c->table, values);
		return;
	}
	id = sqlite3_value_int64(values[c->table->key[0]]);
	if (c->count > 0 && id != c->last + 1) {
		end_run(c);
		c->first = id;
	}
	if (c->count++ == 0)
		c->first = id;
	c->last = id;
}

static enum rc
adopt_table(int64_t *all, struct store *st, const struct trail_table *t,
    struct err *err)
{
	sqlite3_value *values[TRAIL_COLUMNS_MAX];
	struct chunk c = { .table = t };
	struct buf sql;
	struct stmt q;
	enum rc rc;

	buf_init(&c.keys, CHUNK_MAX);
	buf_init(&c.digests, CHUNK_MAX);
	buf_init(&sql, CHUNK_MAX);
	row_select(&sql, t);
	rc = stmt_open(&q, st, buf_text(&sql), err);
	while (rc == RC_OK && (rc = stmt_step(&q, err)) == RC_OK) {
		row_values(values, t, q.s);
		add_row(&c, values, &st->trail.scratch);
		if (c.count == CHUNK_ROWS)
			rc = end_chunk(st, &c, err);
	}
	stmt_close(&q);
	if (rc == RC_END)
		rc = end_chunk(st, &c, err);
	buf_fini(&sql);
	buf_fini(&c.keys);
	buf_fini(&c.digests);
	*all += c.all;
	return rc;
}

/* Who and when: as of the last record, since only the station may say what time
 * it is. */
static enum rc
adopt_audit(struct store *st, int64_t all, struct err *err)
{
	struct moment at = { .by = "upgrade" };
	char detail[80];
	enum rc rc;

	if ((rc = audit_last_utc(&at.utc, st, err)) != RC_OK)
		return rc;
	str_fmt(detail, sizeof(detail),
	    "%" PRId64 " rows taken into the trail as they were", all);
	return audit_add(st, &at, "adopt", "schema 7", detail, err);
}

static enum rc
set_genesis(struct store *st, struct err *err)
{
	char digest[DIGEST_HEX_MAX];
	struct trail_head head;
	struct stmt q;
	enum rc rc;

	if ((rc = trail_head(&head, st, err)) != RC_OK)
		return rc;
	trail_genesis(digest, head.file);
	rc = stmt_open(&q, st,
	    "UPDATE trail_head SET digest = :digest WHERE one = 1", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":digest", digest);
	return stmt_run(&q, err);
}

enum rc
trail_begin(struct store *st, struct err *err)
{
	const struct trail_tables *l = &st->trail.tables;
	int64_t all = 0;
	size_t i;
	enum rc rc;

	if ((rc = trail_watch(st, err)) != RC_OK ||
	    (rc = set_genesis(st, err)) != RC_OK)
		return rc;
	for (i = 0; rc == RC_OK && i < l->count; i++)
		if ((l->items[i].covered ||
			str_eq(l->items[i].name, "audit")) &&
		    !str_eq(l->items[i].name, "adopted"))
			rc = adopt_table(&all, st, &l->items[i], err);
	if (rc == RC_OK && all > 0)
		rc = adopt_audit(st, all, err);
	return rc;
}
