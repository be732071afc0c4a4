/* salvage.c - what can still be read of a station file beside another. */
#include "store/salvage.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "stmt.h"

struct salvage {
	sqlite3 *db;
	const char *path;
	bool cut;
};

enum rc
salvage_open(struct salvage **out, const char *path, struct err *err)
{
	struct salvage *s;
	sqlite3_stmt *q = NULL;
	enum rc rc;
	int code;

	*out = NULL;
	if ((rc = file_plain(path, err)) != RC_OK)
		return rc;
	rc = RC_INVALID;
	s = xcalloc(1, sizeof(*s));
	code = sqlite3_open_v2(
	    path, &s->db, SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX, NULL);
	/* its log stays as it is, whoever closes it last */
	if (code == SQLITE_OK) {
		sqlite3_db_config(
		    s->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
		sqlite3_db_config(
		    s->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
		code = sqlite3_prepare_v2(s->db,
		    "SELECT count(*) FROM sqlite_schema" SCAN_OK, -1, &q, NULL);
	}
	if (code == SQLITE_OK)
		code = sqlite3_step(q);
	sqlite3_finalize(q);
	if (code == SQLITE_ROW) {
		s->path = path;
		*out = s;
		return RC_OK;
	}
	/* The disk's fault says nothing of the file. */
	if ((code & 0xff) == SQLITE_IOERR || (code & 0xff) == SQLITE_CANTOPEN ||
	    (code & 0xff) == SQLITE_BUSY || (code & 0xff) == SQLITE_PROTOCOL)
		rc = RC_FAILED;
	ignore_rc(err_set(err, rc, code, "%s: it cannot be read (%s)", path,
	    sqlite3_errmsg(s->db)));
	sqlite3_close(s->db);
	free(s);
	return rc;
}

void
salvage_close(struct salvage *s)
{
	if (s == NULL)
		return;
	sqlite3_close(s->db);
	free(s);
}

/* --- statements that may fail in the middle --------------------------------*/

/* False: it cannot even begin; there may be more than what is read. */
static bool
begin(sqlite3_stmt **q, struct salvage *s, const char *sql)
{
	*q = NULL;
	if (sqlite3_prepare_v2(s->db, sql, -1, q, NULL) == SQLITE_OK)
		return true;
	s->cut = true;
	return false;
}

/* True: a row is there. */
static bool
next(sqlite3_stmt *q, struct salvage *s)
{
	int code = sqlite3_step(q);

	s->cut = s->cut || (code != SQLITE_ROW && code != SQLITE_DONE);
	return code == SQLITE_ROW;
}

static void
text_of(char *dst, size_t size, sqlite3_stmt *q, int i)
{
	const char *t = (const char *)sqlite3_column_text(q, i);

	str_fmt(dst, size, "%s", t == NULL ? "" : t);
	utf8_clean(dst);
}

static int64_t
one_number(struct salvage *s, const char *sql)
{
	sqlite3_stmt *q;
	int64_t n = 0;

	if (begin(&q, s, sql) && next(q, s))
		n = sqlite3_column_int64(q, 0);
	sqlite3_finalize(q);
	return n;
}

#define TRAIL_ROW                                                              \
	"SELECT id, at_utc, offset_min, by, action, subject, detail"           \
	" FROM audit WHERE id = ?1"
/* Where both keep digests: each is over all rows before it. */
#define TRAIL_ROW_DIGEST                                                       \
	"SELECT id, at_utc, offset_min, by, action, subject, detail,"          \
	" coalesce(digest, '') FROM audit WHERE id = ?1"

/* Does the answer to `sql` at :id have the same columns in both? */
static bool
same_row(struct salvage *a, struct salvage *b, const char *sql, int64_t id)
{
	sqlite3_stmt *x, *y;
	const unsigned char *s, *t;
	bool same;
	int i;

	same = begin(&x, a, sql);
	same = begin(&y, b, sql) && same;
	if (same) {
		sqlite3_bind_int64(x, 1, id);
		sqlite3_bind_int64(y, 1, id);
		same = next(x, a);
		same = next(y, b) && same;
	}
	for (i = 0; same && i < sqlite3_column_count(x); i++) {
		s = sqlite3_column_text(x, i);
		t = sqlite3_column_text(y, i);
		same = s != NULL && t != NULL &&
		    str_eq((const char *)s, (const char *)t);
	}
	sqlite3_finalize(x);
	sqlite3_finalize(y);
	return same;
}

#define HAS_DIGEST                                                             \
	"SELECT count(*) FROM pragma_table_info('audit')"                      \
	" WHERE name = 'digest'" SCAN_OK
#define TRAIL_END "SELECT coalesce(max(id), 0) FROM audit"

enum rc
salvage_fork(
    int64_t *row, struct salvage *a, struct salvage *b, struct err *err)
{
	int64_t low = 0, high, mid, other;
	bool cut = a->cut || b->cut;
	bool digests;

	a->cut = b->cut = false;
	digests =
	    one_number(a, HAS_DIGEST) != 0 && one_number(b, HAS_DIGEST) != 0;
	high = one_number(a, TRAIL_END);
	other = one_number(b, TRAIL_END);
	if (other < high)
		high = other;
	/* Rows both have come first: halve what is between. */
	while (low < high && !a->cut && !b->cut) {
		mid = low + (high - low + 1) / 2;
		if (digests ? same_row(a, b, TRAIL_ROW_DIGEST, mid)
			    : same_row(a, b, TRAIL_ROW, mid))
			low = mid;
		else
			high = mid - 1;
	}
	*row = low;
	if (a->cut || b->cut)
		return err_set(err, RC_INVALID, 0,
		    "%s: its audit trail cannot be read", a->path);
	a->cut = cut;
	return RC_OK;
}

/* --- what one has and the other has not ------------------------------------*/

static void
read_kinds(struct lost *l, struct salvage *s)
{
	struct salvage_kind *k;
	sqlite3_stmt *q;
	size_t cap = 0;

	if (begin(&q, s,
		"SELECT action, count(*), min(at_utc), max(at_utc) FROM audit"
		" WHERE id > ?1 GROUP BY action ORDER BY min(id)" SORT_OK)) {
		sqlite3_bind_int64(q, 1, l->after_row);
		while (next(q, s)) {
			l->kinds =
			    grow(l->kinds, &cap, l->kind_count, sizeof(*k));
			k = &l->kinds[l->kind_count++];
			text_of(k->action, sizeof(k->action), q, 0);
			k->count = sqlite3_column_int64(q, 1);
			k->first_utc = sqlite3_column_int64(q, 2);
			k->last_utc = sqlite3_column_int64(q, 3);
			if (l->rows == 0 || k->first_utc < l->first_utc)
				l->first_utc = k->first_utc;
			if (l->rows == 0 || k->last_utc > l->last_utc)
				l->last_utc = k->last_utc;
			l->rows += k->count;
		}
	}
	sqlite3_finalize(q);
}

/*
 * Ids only grow, and nothing is removed: going back from the newest, the first
 * row that both have is behind all that only one has.
 */
static bool
goes_on(struct salvage *s, struct salvage *older, size_t count, const char *sql,
    int64_t id)
{
	if (count == SALVAGE_MOST)
		s->cut = true;
	return count < SALVAGE_MOST && !same_row(s, older, sql, id);
}

static void
read_batches(struct lost *l, struct salvage *s, struct salvage *older)
{
	struct salvage_batch *b;
	sqlite3_stmt *q;
	size_t cap = 0;

	if (begin(&q, s,
		"SELECT id, code, species, weight_g, received_utc FROM batch"
		" ORDER BY id DESC" SCAN_OK))
		while (next(q, s) &&
		    goes_on(s, older, l->batch_count,
			"SELECT code, received_utc FROM batch WHERE id = ?1",
			sqlite3_column_int64(q, 0))) {
			l->batches =
			    grow(l->batches, &cap, l->batch_count, sizeof(*b));
			b = &l->batches[l->batch_count++];
			text_of(b->code, sizeof(b->code), q, 1);
			text_of(b->species, sizeof(b->species), q, 2);
			b->weight_g = sqlite3_column_int64(q, 3);
			b->received_utc = sqlite3_column_int64(q, 4);
		}
	sqlite3_finalize(q);
}

static void
read_units(struct lost *l, struct salvage *s, struct salvage *older)
{
	struct salvage_unit *u;
	sqlite3_stmt *q;
	size_t cap = 0;

	if (begin(&q, s,
		"SELECT p.id, p.code, coalesce((SELECT d.name FROM cut c"
		" JOIN dish d ON d.id = c.dish_id WHERE c.id = p.cut_id), ''),"
		" p.left, p.servings, p.made_utc, p.use_by_utc"
		" FROM portion p ORDER BY p.id DESC" SCAN_OK))
		while (next(q, s) &&
		    goes_on(s, older, l->unit_count,
			"SELECT code, made_utc FROM portion WHERE id = ?1",
			sqlite3_column_int64(q, 0))) {
			l->units =
			    grow(l->units, &cap, l->unit_count, sizeof(*u));
			u = &l->units[l->unit_count++];
			text_of(u->code, sizeof(u->code), q, 1);
			text_of(u->dish, sizeof(u->dish), q, 2);
			u->left = sqlite3_column_int64(q, 3);
			u->servings = sqlite3_column_int64(q, 4);
			u->made_utc = sqlite3_column_int64(q, 5);
			u->use_by_utc = sqlite3_column_int64(q, 6);
		}
	sqlite3_finalize(q);
}

static void
count_labels(struct lost *l, struct salvage *s, struct salvage *older)
{
	sqlite3_stmt *q;
	size_t n = 0;

	if (begin(&q, s,
		"SELECT id, state IN ('sending', 'sent', 'confirmed', 'unsure')"
		" FROM print_job ORDER BY id DESC" SCAN_OK))
		while (next(q, s) &&
		    goes_on(s, older, n,
			"SELECT at_utc, by FROM print_job WHERE id = ?1",
			sqlite3_column_int64(q, 0))) {
			l->labels += sqlite3_column_int64(q, 1);
			n++;
		}
	sqlite3_finalize(q);
}

#define HOLDS_IN_FORCE                                                         \
	"SELECT coalesce((SELECT code FROM batch b WHERE b.id = h.batch_id),"  \
	" (SELECT code FROM portion p WHERE p.id = h.portion_id), ''),"        \
	" h.batch_id IS NOT NULL, h.reason, h.by, h.at_utc FROM hold h"        \
	" WHERE h.released_utc IS NULL" SCAN_OK

static bool
is_held(struct salvage *s, const char *code)
{
	sqlite3_stmt *q;
	bool held = false;

	if (begin(&q, s, HOLDS_IN_FORCE))
		while (!held && next(q, s))
			held = str_eq(
			    (const char *)sqlite3_column_text(q, 0), code);
	sqlite3_finalize(q);
	return held;
}

static void
read_holds(struct lost *l, struct salvage *s, struct salvage *older)
{
	struct salvage_hold h;
	sqlite3_stmt *q;
	size_t cap = 0;

	if (begin(&q, s, HOLDS_IN_FORCE "ORDER BY h.id"))
		while (next(q, s) && l->hold_count < SALVAGE_MOST) {
			text_of(h.code, sizeof(h.code), q, 0);
			h.is_batch = sqlite3_column_int64(q, 1) != 0;
			text_of(h.reason, sizeof(h.reason), q, 2);
			text_of(h.by, sizeof(h.by), q, 3);
			h.at_utc = sqlite3_column_int64(q, 4);
			if (h.code[0] != '\0' && is_held(older, h.code))
				continue;
			l->holds =
			    grow(l->holds, &cap, l->hold_count, sizeof(h));
			l->holds[l->hold_count++] = h;
		}
	sqlite3_finalize(q);
}

/* "26338" is day 338 of 2026. */
static day_no
day_of_code(const char *code)
{
	int year = (code[0] - '0') * 10 + code[1] - '0';
	int nth = (code[2] - '0') * 100 + (code[3] - '0') * 10 + code[4] - '0';
	day_no day;

	if (!day_from_civil(&day, 2000 + year, 1, 1) || nth < 1)
		return DAY_NONE;
	return day + nth - 1;
}

/* Of the batches that are lost; codes of one day came one after another. */
static void
read_numbers(struct lost *l)
{
	struct salvage_number *n;
	const char *code;
	size_t i, k, cap = 0;
	int64_t number;
	day_no day;

	for (i = 0; i < l->batch_count; i++) {
		code = l->batches[i].code;
		if (strspn(code, "0123456789") < 7 ||
		    (day = day_of_code(code)) == DAY_NONE)
			continue;
		number = (code[5] - '0') * 10 + code[6] - '0';
		for (k = 0; k < l->number_count; k++)
			if (l->numbers[k].day == day)
				break;
		if (k == l->number_count) {
			l->numbers =
			    grow(l->numbers, &cap, l->number_count, sizeof(*n));
			l->numbers[l->number_count++] =
			    (struct salvage_number){ .day = day };
		}
		n = &l->numbers[k];
		if (number > n->number)
			n->number = number;
	}
}

enum rc
salvage_lost(struct lost *out, struct salvage *from, struct salvage *older,
    struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = salvage_fork(&out->after_row, from, older, err)) != RC_OK)
		return rc;
	read_kinds(out, from);
	read_batches(out, from, older);
	read_units(out, from, older);
	count_labels(out, from, older);
	read_holds(out, from, older);
	read_numbers(out);
	out->serial =
	    one_number(from, "SELECT coalesce(max(serial), 0) FROM portion");
	out->cut = from->cut;
	return RC_OK;
}

void
lost_fini(struct lost *l)
{
	free(l->kinds);
	free(l->batches);
	free(l->units);
	free(l->holds);
	free(l->numbers);
	memset(l, 0, sizeof(*l));
}

/* --- bytes -----------------------------------------------------------------*/

#define CHUNK 65536

static int64_t
highest_in(const char *path, const char *begins, int64_t highest)
{
	char buf[CHUNK + BATCH_CODE_LEN];
	size_t have = 0, i, len = strlen(begins);
	int fd = open(path, O_RDONLY | O_CLOEXEC);
	int64_t n;
	ssize_t got;

	while (fd >= 0 && (got = read(fd, buf + have, CHUNK)) > 0) {
		have += (size_t)got;
		for (i = 0; i + BATCH_CODE_LEN <= have; i++) {
			if (memcmp(buf + i, begins, len) != 0 ||
			    buf[i + 5] < '0' || buf[i + 5] > '9' ||
			    buf[i + 6] < '0' || buf[i + 6] > '9' ||
			    mod37_36(buf + i, BATCH_CODE_LEN - 1) !=
				buf[i + BATCH_CODE_LEN - 1])
				continue;
			n = (buf[i + 5] - '0') * 10 + buf[i + 6] - '0';
			highest = n > highest ? n : highest;
		}
		/* a code may lie across two chunks */
		if (have >= BATCH_CODE_LEN) {
			memmove(buf, buf + have - (BATCH_CODE_LEN - 1),
			    BATCH_CODE_LEN - 1);
			have = BATCH_CODE_LEN - 1;
		}
	}
	if (fd >= 0)
		close(fd);
	return highest;
}

int64_t
salvage_bytes(const char *path, day_no day)
{
	char begins[8], log[FILE_PATH_SIZE + 8];
	struct civil c = day_civil(day);
	int64_t n;

	str_fmt(
	    begins, sizeof(begins), "%02d%03d", c.year % 100, day_of_year(day));
	n = highest_in(path, begins, 0);
	if (str_fmt(log, sizeof(log), "%s-wal", path))
		n = highest_in(log, begins, n);
	return n;
}
