/* verify_trail.c - the chain of the audit trail, and what its lines say. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/paper_code.h"
#include "verify_inner.h"

/* --- lines -----------------------------------------------------------------
 *	+table key AFTER
 *	~table key BEFORE AFTER {"column":[before,after]}
 *	-table key BEFORE
 */

struct change {
	char what, table[48];
	const char *key;
	size_t key_len;
	unsigned char first[ROW_DIGEST_SIZE], second[ROW_DIGEST_SIZE];
};

#define HEX (ROW_HEX_SIZE - 1)

/* False: no station wrote this line. */
static bool
read_line(struct change *c, const char *line, size_t len)
{
	const char *end = line + len, *blank;
	size_t n;

	c->what = *line++;
	if (strchr("+~-", c->what) == NULL ||
	    (blank = memchr(line, ' ', (size_t)(end - line))) == NULL ||
	    (n = (size_t)(blank - line)) >= sizeof(c->table))
		return false;
	memcpy(c->table, line, n);
	c->table[n] = '\0';
	c->key = blank + 1;
	blank = memchr(c->key, ' ', (size_t)(end - c->key));
	if (blank == NULL)
		return false;
	c->key_len = (size_t)(blank - c->key);
	line = blank + 1;
	if (end - line < HEX || !row_unhex(c->first, line))
		return false;
	if (c->what != '~')
		return end - line == HEX;
	return end - line > 2 * HEX + 1 && row_unhex(c->second, line + HEX + 1);
}

/* Rows that were there before the trail: chunk `id` of the adopted ones. */
static enum rc take_adopted(
    struct verifying *v, const char *id, size_t len, struct err *err);

static void
odd(struct verifying *v, const struct change *c, int64_t row, const char *what)
{
	char key[80];

	str_fmt(key, sizeof(key), "%.*s",
	    c->key_len < 79 ? (int)c->key_len : 79, c->key);
	verify_fault(v, TAMPER_ROW_CHANGED, c->table, key,
	    "%s %s: %s, by another program, before row %" PRId64
	    " of the audit trail",
	    c->table, key, what, row);
}

static enum rc
take_change(
    struct verifying *v, int64_t row, const struct change *c, struct err *err)
{
	const struct trail_table *t =
	    trail_table_find(&v->st->trail.tables, c->table);
	const unsigned char *after = c->what == '~' ? c->second : c->first;
	unsigned char *have;

	if (t == NULL || !t->covered)
		return RC_OK; /* verify_schema() says that it is gone */
	have = known_at(
	    v->known[t - v->st->trail.tables.items], c->key, c->key_len, true);
	if (have == NULL)
		return err_set(err, RC_INVALID, 0,
		    "%s: the trail tells of rows of %s that no station wrote",
		    v->st->path, c->table);
	if (c->what == '+') {
		if (!digest_none(have))
			odd(v, c, row, "taken out and put in again");
	} else if (digest_none(have)) {
		odd(v, c, row, "put in");
	} else if (memcmp(have, c->first, ROW_DIGEST_SIZE) != 0) {
		odd(v, c, row, "changed");
	}
	if (c->what == '-') {
		memset(have, 0, ROW_DIGEST_SIZE);
		return RC_OK;
	}
	memcpy(have, after, ROW_DIGEST_SIZE);
	if (str_eq(c->table, "adopted"))
		return take_adopted(v, c->key, c->key_len, err);
	return RC_OK;
}

enum rc
verify_changes(
    struct verifying *v, int64_t row, const char *changes, struct err *err)
{
	struct change c;
	const char *end;
	size_t len;
	enum rc rc = RC_OK;

	for (; *changes != '\0' && rc == RC_OK; changes += len + 1) {
		end = strchr(changes, '\n');
		len = end == NULL ? strlen(changes) : (size_t)(end - changes);
		if (end == NULL || !read_line(&c, changes, len)) {
			verify_fault(v, TAMPER_TRAIL_CHANGED, "audit", "",
			    "row %" PRId64
			    " of the audit trail holds a line "
			    "that no station wrote",
			    row);
			return RC_OK;
		}
		rc = take_change(v, row, &c, err);
	}
	return rc;
}

/* --- rows from before the trail --------------------------------------------*/

struct adopted {
	struct known *known;
	const unsigned char *digests;
	size_t count, next;
};

static bool
adopt_one(struct adopted *a, const char *key, size_t len)
{
	unsigned char *at;

	if (a->next == a->count ||
	    (at = known_at(a->known, key, len, true)) == NULL)
		return false;
	memcpy(at, a->digests + a->next++ * ROW_DIGEST_SIZE, ROW_DIGEST_SIZE);
	return true;
}

/* "1-4096 4099-4099" */
static bool
adopt_runs(struct adopted *a, const char *keys)
{
	int64_t from, to;
	char key[24], *end;

	while (*keys != '\0') {
		from = strtoll(keys, &end, 10);
		if (end == keys || *end != '-')
			return false;
		keys = end + 1;
		to = strtoll(keys, &end, 10);
		if (end == keys || (*end != ' ' && *end != '\0'))
			return false;
		keys = end + (*end == ' ');
		for (; from <= to; from++) {
			str_fmt(key, sizeof(key), "%" PRId64, from);
			if (!adopt_one(a, key, strlen(key)))
				return false;
		}
	}
	return a->next == a->count;
}

static bool
adopt_keys(struct adopted *a, const char *keys)
{
	size_t len;

	while (*keys != '\0') {
		len = strcspn(keys, " ");
		if (!adopt_one(a, keys, len))
			return false;
		keys += len + (keys[len] == ' ');
	}
	return a->next == a->count;
}

static bool
adopt_chunk(struct verifying *v, struct stmt *q)
{
	const char *name = (const char *)sqlite3_column_text(q->s, 0);
	const char *keys = (const char *)sqlite3_column_text(q->s, 1);
	struct adopted a = {
		.digests = sqlite3_column_blob(q->s, 2),
		.count =
		    (size_t)sqlite3_column_bytes(q->s, 2) / ROW_DIGEST_SIZE,
	};
	const struct trail_table *t;

	if (name == NULL || keys == NULL ||
	    (t = trail_table_find(&v->st->trail.tables, name)) == NULL)
		return false;
	a.known = v->known[t - v->st->trail.tables.items];
	v->out->adopted_rows += (int64_t)a.count;
	return t->numbered ? adopt_runs(&a, keys) : adopt_keys(&a, keys);
}

static enum rc
take_adopted(struct verifying *v, const char *id, size_t len, struct err *err)
{
	struct stmt q;
	char text[24];
	bool good = true;
	enum rc rc;

	rc = stmt_open(&q, v->st,
	    "SELECT name, keys, digests FROM adopted WHERE id = :id", err);
	if (rc != RC_OK)
		return rc;
	str_fmt(text, sizeof(text), "%.*s", len < 23 ? (int)len : 23, id);
	bind_int(&q, ":id", strtoll(text, NULL, 10));
	if ((rc = stmt_step(&q, err)) == RC_OK)
		good = adopt_chunk(v, &q);
	stmt_close(&q);
	if (!good)
		verify_fault(v, TAMPER_ROW_CHANGED, "adopted", text,
		    "adopted %s: it does not tell of rows as a station writes "
		    "it",
		    text);
	return rc == RC_END ? RC_OK : rc;
}

/* --- the chain -------------------------------------------------------------*/

struct chain {
	char stored[DIGEST_HEX_MAX];   /* of the row before, as it says */
	char reckoned[DIGEST_HEX_MAX]; /* and as it should */
	char good[DIGEST_HEX_MAX];     /* of the last row that fitted */
	int64_t last;                  /* number of the row before */
	bool begun;                    /* a row with a digest was seen */
};

static bool
fits(struct verifying *v, char out[DIGEST_HEX_MAX], const char *before,
    const struct trail_entry *e, const char *digest)
{
	trail_digest(out, before, e, &v->scratch);
	return str_eq(out, digest);
}

static void
missing(struct verifying *v, int64_t from, int64_t to, const char *where)
{
	char key[24];

	str_fmt(key, sizeof(key), "%" PRId64, from);
	if (from == to)
		verify_fault(v, TAMPER_TRAIL_MISSING, "audit", key,
		    "row %" PRId64 " of the audit trail is missing%s", from,
		    where);
	else
		verify_fault(v, TAMPER_TRAIL_MISSING, "audit", key,
		    "rows %" PRId64 " to %" PRId64
		    " of the audit trail are missing%s",
		    from, to, where);
}

/*
 * A row fits behind the digest the row before has; should that one have been
 * tampered with, behind the digest it ought to have; should rows have been put
 * in between, behind the last that fitted.  So one edit is one fault.
 */
static void
check_row(struct verifying *v, struct chain *c, const struct trail_entry *e,
    const char *digest, bool whole)
{
	char reckoned[DIGEST_HEX_MAX], key[24];
	int64_t gap = e->id - c->last - 1;
	bool good = whole &&
	    (fits(v, reckoned, c->stored, e, digest) ||
		fits(v, reckoned, c->reckoned, e, digest) ||
		fits(v, reckoned, c->good, e, digest));

	str_fmt(key, sizeof(key), "%" PRId64, e->id);
	if (!good && gap > 0)
		missing(v, c->last + 1, e->id - 1, "");
	else if (!good)
		verify_fault(v, TAMPER_TRAIL_CHANGED, "audit", key,
		    "row %" PRId64
		    " of the audit trail was changed, or is not "
		    "in its place",
		    e->id);
	/* Behind a gap nobody can say: it is taken as it is. */
	if (good || gap > 0) {
		str_copy(c->good, sizeof(c->good), digest);
		str_copy(reckoned, sizeof(reckoned), digest);
	} else {
		trail_digest(reckoned, c->stored, e, &v->scratch);
	}
	str_copy(c->stored, sizeof(c->stored), digest);
	str_copy(c->reckoned, sizeof(c->reckoned), reckoned);
	c->begun = true;
}

/* *whole: nothing stands behind a NUL, where a digest of text ends. */
static const char *
text_of(const struct stmt *q, int i, bool *whole)
{
	const char *s = (const char *)sqlite3_column_text(q->s, i);

	if (s == NULL)
		return "";
	if (strlen(s) != (size_t)sqlite3_column_bytes(q->s, i))
		*whole = false;
	return s;
}

static enum rc
take_row(
    struct verifying *v, struct chain *c, const struct stmt *q, struct err *err)
{
	bool whole = true;
	struct trail_entry e = {
		.id = col_int(q, 0),
		.at = { .utc = col_int(q, 1) },
		.action = text_of(q, 4, &whole),
		.subject = text_of(q, 5, &whole),
		.detail = text_of(q, 6, &whole),
		.changes = text_of(q, 7, &whole),
	};
	char digest[DIGEST_HEX_MAX] = "", code[PAPER_CODE_SIZE], key[24];

	e.at.offset_min = (int)col_int(q, 2);
	whole = whole && e.at.offset_min == col_int(q, 2);
	if (sqlite3_column_type(q->s, 8) == SQLITE_NULL) {
		if (c->begun) {
			str_fmt(key, sizeof(key), "%" PRId64, e.id);
			verify_fault(v, TAMPER_TRAIL_EXTRA, "audit", key,
			    "row %" PRId64
			    " of the audit trail has no digest: no station "
			    "wrote it",
			    e.id);
		}
		c->last = e.id;
		return RC_OK; /* of a file before it had a trail, or nothing */
	}
	/* what does not fit was never written */
	whole =
	    str_copy(e.at.by, sizeof(e.at.by), text_of(q, 3, &whole)) && whole;
	whole =
	    str_copy(digest, sizeof(digest), text_of(q, 8, &whole)) && whole;
	check_row(v, c, &e, digest, whole);
	c->last = e.id;
	v->out->trail_rows++;
	if (v->wish->paper != NULL &&
	    str_eq(paper_code_make(code, digest), v->wish->paper))
		v->out->paper_row = e.id;
	return verify_changes(v, e.id, e.changes, err);
}

static void
check_end(struct verifying *v, const struct chain *c)
{
	const struct trail_head *head = &v->out->head;
	char key[24];

	if (c->last < head->row) {
		missing(v, c->last + 1, head->row, " at its end");
	} else if (c->last > head->row) {
		str_fmt(key, sizeof(key), "%" PRId64, head->row + 1);
		verify_fault(v, TAMPER_TRAIL_EXTRA, "audit", key,
		    "rows %" PRId64 " to %" PRId64
		    " of the audit trail stand behind its end",
		    head->row + 1, c->last);
	} else if (!str_eq(head->digest, c->stored)) {
		verify_fault(v, TAMPER_TRAIL_END, "trail_head", "",
		    "the end of the audit trail was changed: it does not fit "
		    "row %" PRId64,
		    c->last);
	}
}

enum rc
verify_trail(struct verifying *v, struct err *err)
{
	struct chain c = { .last = 0 };
	struct stmt q;
	enum rc rc;

	trail_genesis(c.stored, v->out->head.file);
	str_copy(c.reckoned, sizeof(c.reckoned), c.stored);
	str_copy(c.good, sizeof(c.good), c.stored);
	rc = stmt_open(&q, v->st,
	    "SELECT id, at_utc, offset_min, by, action, subject, detail,"
	    " changes, digest FROM audit" SCAN_OK "ORDER BY id",
	    err);
	if (rc != RC_OK)
		return rc;
	while ((rc = stmt_step(&q, err)) == RC_OK)
		if ((rc = take_row(v, &c, &q, err)) != RC_OK ||
		    (rc = verify_goes_on(v, VERIFY_TRAIL, err)) != RC_OK)
			break;
	stmt_close(&q);
	if (rc != RC_END)
		return rc;
	check_end(v, &c);
	return RC_OK;
}
