/* look_at.c - what is in a station file, by SQL of its own. */
#include "look_at.h"

#include <string.h>

#include "base/str.h"
#include "image.h"
#include "store/verify.h"
#include "tests/unit/sound.h"

static char said[600];

bool
look_open(sqlite3 **out, const char *path)
{
	*out = NULL;
	if (sqlite3_open_v2(path, out, SQLITE_OPEN_READWRITE, NULL) ==
	    SQLITE_OK) {
		sqlite3_busy_timeout(*out, 5000);
		return true;
	}
	sqlite3_close(*out);
	*out = NULL;
	return false;
}

static void
add_value(struct state *s, sqlite3_stmt *q, int c)
{
	int type = sqlite3_column_type(q, c);
	const void *bytes;
	int64_t n;

	s->hash = hash_bytes(s->hash, &type, sizeof(type));
	if (type == SQLITE_INTEGER) {
		n = sqlite3_column_int64(q, c);
		s->hash = hash_bytes(s->hash, &n, sizeof(n));
	} else if (type != SQLITE_NULL) {
		bytes = sqlite3_column_blob(q, c);
		n = sqlite3_column_bytes(q, c);
		s->hash = hash_bytes(s->hash, bytes, (size_t)n);
	}
}

static bool
add_rows(struct state *s, sqlite3 *db, const char *sql)
{
	sqlite3_stmt *q;
	int c, n, rc;

	if (sqlite3_prepare_v2(db, sql, -1, &q, NULL) != SQLITE_OK)
		return false;
	n = sqlite3_column_count(q);
	while ((rc = sqlite3_step(q)) == SQLITE_ROW) {
		for (c = 0; c < n; c++)
			add_value(s, q, c);
		s->rows++;
	}
	sqlite3_finalize(q);
	return rc == SQLITE_DONE;
}

bool
look_state(struct state *out, sqlite3 *db)
{
	char sql[200];
	sqlite3_stmt *q;
	bool ok;
	int rc;

	memset(out, 0, sizeof(*out));
	ok = add_rows(out, db,
	    "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY"
	    " type, name");
	ok = ok && add_rows(out, db, "PRAGMA user_version");
	out->rows = 0;
	if (!ok ||
	    sqlite3_prepare_v2(db,
		"SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY"
		" name",
		-1, &q, NULL) != SQLITE_OK)
		return false;
	while ((rc = sqlite3_step(q)) == SQLITE_ROW && ok) {
		str_fmt(sql, sizeof(sql), "SELECT * FROM \"%s\" ORDER BY 1, 2",
		    (const char *)sqlite3_column_text(q, 0));
		ok = add_rows(out, db, sql);
	}
	sqlite3_finalize(q);
	return ok && rc == SQLITE_DONE;
}

const char *
look_trail(const char *path)
{
	struct verify_wish wish = { 0 };
	struct trail_report r;
	struct err err = { 0 };
	const char *wrong = NULL;

	if (store_verify(&r, path, &wish, &err) != RC_OK)
		wrong = err.text;
	else if (r.found > 0)
		wrong = r.fault_count > 0 ? r.faults[0].text : "the trail";
	if (wrong != NULL)
		str_fmt(said, sizeof(said), "%s", wrong);
	trail_report_fini(&r);
	return wrong == NULL ? NULL : said;
}

const char *
look_sound(sqlite3 *db)
{
	return sound_check(db, 0);
}

int64_t
look_number(sqlite3 *db, const char *sql)
{
	sqlite3_stmt *q = NULL;
	int64_t n = -1;

	if (sqlite3_prepare_v2(db, sql, -1, &q, NULL) == SQLITE_OK &&
	    sqlite3_step(q) == SQLITE_ROW)
		n = sqlite3_column_int64(q, 0);
	sqlite3_finalize(q);
	return n;
}

/* A later step may have said something else of the same. */
static bool
superseded(const struct day *d, size_t i, int step)
{
	size_t k;

	for (k = i + 1; k < d->fact_count && d->facts[k].step <= step; k++)
		if (str_eq(d->facts[k].sql, d->facts[i].sql))
			return true;
	return false;
}

const char *
look_facts(int64_t *held, sqlite3 *db, const struct day *d, int step)
{
	const char *is;
	sqlite3_stmt *q;
	size_t i;

	for (i = 0; i < d->fact_count && d->facts[i].step <= step; i++) {
		if (superseded(d, i, step))
			continue;
		if (sqlite3_prepare_v2(db, d->facts[i].sql, -1, &q, NULL) !=
		    SQLITE_OK)
			return sqlite3_errmsg(db);
		is = sqlite3_step(q) == SQLITE_ROW
		    ? (const char *)sqlite3_column_text(q, 0)
		    : "";
		str_fmt(said, sizeof(said), "step %d said %s, is %s: %s",
		    d->facts[i].step, d->facts[i].want, is == NULL ? "" : is,
		    d->facts[i].sql);
		if (!str_eq(is == NULL ? "" : is, d->facts[i].want)) {
			sqlite3_finalize(q);
			return said;
		}
		sqlite3_finalize(q);
		(*held)++;
	}
	return NULL;
}

const char *
look_labels(sqlite3 *db, const char *bytes, size_t len)
{
	static const char begin[] = "^XA";
	int64_t begun = 0, told;
	size_t i;

	for (i = 0; i + 3 <= len; i++)
		begun += memcmp(bytes + i, begin, 3) == 0;
	told = look_number(db,
	    "SELECT count(*) FROM print_job WHERE state IN ('sending', 'sent',"
	    " 'confirmed', 'unsure')");
	if (begun <= told)
		return NULL;
	str_fmt(said, sizeof(said),
	    "%lld labels begun, and %lld on record as sent", (long long)begun,
	    (long long)told);
	return said;
}
