/*
 * damage.c - station files that somebody or something spoilt: bytes, pages,
 * lengths, and by SQL whatever SQLite lets a bad hand write.  Opened, listed,
 * traced, planned, printed, recorded on: an error or an answer, and never a
 * crash, a program that does not end, or memory without bounds.
 */
#define _DEFAULT_SOURCE 1 /* wait4 */
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "cuts.h"
#include "day.h"
#include "folder.h"
#include "ops/backup.h"
#include "ops/close.h"
#include "ops/export.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/label.h"
#include "ops/look.h"
#include "ops/on_hand.h"
#include "ops/plan.h"
#include "ops/ticket.h"
#include "ops/today.h"
#include "ops/trace_page.h"
#include "ops/undo.h"
#include "ops/species_page.h"
#include "store/copy.h"
#include "tests/unit/chance.h"

#define PAGE 4096
#define SECONDS 20
#define KIB_MAX (600L * 1024)

enum { FILES, REFUSED, ANSWERS, ERRORS, LOST };

struct spoil {
	struct buf good; /* the day's file */
	struct day_codes codes;
	unsigned seeds;
};

/* --- bytes -----------------------------------------------------------------*/

static size_t
any(uint64_t *c, size_t below)
{
	return below == 0 ? 0 : chance_next(c) % below;
}

static void
spoil_bytes(unsigned char *b, size_t *len, uint64_t *c)
{
	size_t pages = *len / PAGE, n = 1 + any(c, 20), i;

	switch (chance_next(c) % 7) {
	case 0:
		for (i = 0; i < n; i++)
			b[any(c, *len)] ^= (unsigned char)(1u << any(c, 8));
		break;
	case 1: /* the head and the schema */
		for (i = 0; i < n; i++)
			b[any(c, 8 * PAGE)] = (unsigned char)chance_next(c);
		break;
	case 2: /* heads of pages: cell counts, pointers */
		for (i = 0; i < n; i++)
			b[any(c, pages) * PAGE + any(c, 24)] =
			    (unsigned char)chance_next(c);
		break;
	case 3:
		memmove(
		    b + any(c, pages) * PAGE, b + any(c, pages) * PAGE, PAGE);
		break;
	case 4:
		memset(b + any(c, pages) * PAGE, 0, PAGE);
		break;
	case 5:
		n = any(c, pages) * PAGE;
		for (i = 0; i < PAGE; i++)
			b[n + i] = (unsigned char)chance_next(c);
		break;
	default:
		*len = any(c, *len);
		break;
	}
}

/* --- by SQL ----------------------------------------------------------------*/

/* What a column is set to. */
static const char *const values[] = { "-1", "0", "9223372036854775807",
	"-9223372036854775808", "1e308", "70368744177664", "2147483648",
	"x'00ff00'", "NULL", "''", "'a' || char(0) || 'b'",
	"CAST(x'fffe80c0' AS TEXT)", "char(27) || '[2J' || char(10)",
	"replace(hex(zeroblob(40)), '0', 'w')",
	"replace(hex(zeroblob(5000)), '0', '[')",
	"replace(hex(zeroblob(400000)), '0', 'x')",
	"replace(hex(zeroblob(200)), '00', char(233, 8364))",
	"'{\"limits\": [{\"until\": 1e999}]}'", "'[[[[[[[['", "'%s%n'",
	"'../../x'" };

/* What else a bad hand may do; each alone. */
static const char *const tricks[] = {
	"CREATE TRIGGER evil AFTER INSERT ON audit BEGIN DELETE FROM hold; END",
	"CREATE TRIGGER evil AFTER UPDATE ON portion BEGIN UPDATE portion SET"
	" left = servings; END",
	"DROP VIEW batch_left; CREATE VIEW batch_left AS WITH RECURSIVE c(x) AS"
	" (SELECT 1 UNION ALL SELECT x + 1 FROM c) SELECT x AS batch_id, x AS"
	" weight_g, x AS count FROM c",
	"ALTER TABLE batch ADD COLUMN big GENERATED ALWAYS AS"
	" (hex(zeroblob(400000000))) VIRTUAL",
	"DROP TABLE portion_event",
	"DROP VIEW batch_left",
	"DROP INDEX portion_on_hand",
	"PRAGMA user_version = 999",
	"PRAGMA user_version = -5",
	"PRAGMA user_version = 3",
	"PRAGMA application_id = 7",
	"DELETE FROM station",
	"DELETE FROM cut",
	"DELETE FROM delivery",
	"DELETE FROM prep_output",
	"DROP TRIGGER audit_no_delete; DELETE FROM audit",
	"UPDATE sqlite_schema SET sql = replace(sql, 'INTEGER', 'TEXT')"
	" WHERE name = 'batch'",
	"UPDATE sqlite_schema SET rootpage = 1 WHERE name = 'portion'",
	"UPDATE sqlite_schema SET rootpage = 99999 WHERE name = 'portion_code'",
	"UPDATE sqlite_schema SET sql = 'CREATE TABLE batch (' ||"
	" replace(hex(zeroblob(100000)), '00', 'x INT,') || 'y)'"
	" WHERE name = 'batch'",
	"CREATE VIRTUAL TABLE evil USING fts5(x)",
	"INSERT INTO portion_event SELECT id + 1000, portion_id, kind, "
	"servings,"
	" service_id, reason, at_utc, offset_min, by, undoes FROM"
	" portion_event",
	"WITH RECURSIVE c(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM c LIMIT"
	" 3000) INSERT INTO hold (batch_id, reason, at_utc, by) SELECT 1, x, 1,"
	" 'x' FROM c",
	"UPDATE portion SET code = 'AAA' || id, serial = -id",
	"UPDATE batch SET code = code || 'X'",
	"PRAGMA journal_mode = DELETE",
	"PRAGMA encoding = 'UTF-16'; VACUUM",
	"PRAGMA page_size = 65536; VACUUM",
};

/* "table" and "column" of any one column of the record. */
static bool
any_column(char table[64], char column[64], sqlite3 *db, uint64_t *c)
{
	static const char sql[] =
	    "SELECT m.name, x.name FROM sqlite_schema m,"
	    " pragma_table_info(m.name) x WHERE m.type = 'table' AND m.name"
	    " NOT LIKE 'sqlite%' ORDER BY 1, 2";
	sqlite3_stmt *s;
	size_t n = any(c, 400);
	bool got = false;

	if (sqlite3_prepare_v2(db, sql, -1, &s, NULL) != SQLITE_OK)
		return false;
	while (!got) {
		while (sqlite3_step(s) == SQLITE_ROW && !got)
			if (n-- == 0)
				got = str_copy(table, 64,
					  (const char *)sqlite3_column_text(
					      s, 0)) &&
				    str_copy(column, 64,
					(const char *)sqlite3_column_text(
					    s, 1));
		sqlite3_reset(s);
	}
	sqlite3_finalize(s);
	return got;
}

static void
spoil_columns(sqlite3 *db, uint64_t *c)
{
	char table[64], column[64], sql[500];
	size_t n = 1 + any(c, 3), i;

	for (i = 0; i < n; i++) {
		if (!any_column(table, column, db, c))
			return;
		str_fmt(sql, sizeof(sql),
		    "UPDATE OR IGNORE \"%s\" SET \"%s\" ="
		    " %s WHERE rowid %% %zu = 0",
		    table, column,
		    values[any(c, sizeof(values) / sizeof(values[0]))],
		    1 + any(c, 3));
		if (sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK)
			continue;
		/* Tables without a rowid. */
		*strstr(sql, " WHERE rowid") = '\0';
		(void)sqlite3_exec(db, sql, NULL, NULL, NULL);
	}
}

static void
spoil_by_sql(const char *path, uint64_t *c)
{
	static const char loose[] =
	    "PRAGMA writable_schema = ON; PRAGMA ignore_check_constraints = ON;"
	    "PRAGMA foreign_keys = OFF;"
	    "UPDATE sqlite_schema SET sql = replace(replace(sql, ') STRICT',"
	    " ')'), 'STRICT, WITHOUT', 'WITHOUT') WHERE type = 'table';"
	    "DELETE FROM sqlite_schema WHERE type = 'trigger';"
	    "PRAGMA schema_version = 77";
	sqlite3 *db;
	bool columns = chance_next(c) % 3 != 0;

	if (sqlite3_open(path, &db) != SQLITE_OK)
		give_up("%s", path);
	(void)sqlite3_exec(db, loose, NULL, NULL, NULL);
	sqlite3_close(db);
	if (sqlite3_open(path, &db) != SQLITE_OK)
		give_up("%s", path);
	(void)sqlite3_exec(db,
	    "PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF;"
	    "PRAGMA writable_schema = ON",
	    NULL, NULL, NULL);
	if (columns)
		spoil_columns(db, c);
	else
		(void)sqlite3_exec(db,
		    tricks[any(c, sizeof(tricks) / sizeof(tricks[0]))], NULL,
		    NULL, NULL);
	sqlite3_close(db);
}

/* --- what is done with it --------------------------------------------------*/

static int answers, errors;

static void
count_at(enum rc rc, struct err *err, int line)
{
	if (rc == RC_OK)
		answers++;
	else
		errors++;
	/* One line that says something. */
	if (rc != RC_OK && err->text[0] == '\0') {
		fprintf(stderr, "%s:%d: %s without a word\n", __FILE__, line,
		    rc_word(rc));
		abort();
	}
	err_clear(err);
}

#define count(rc, err) count_at(rc, err, __LINE__)

static void
looks(struct day *d, struct err *err)
{
	struct trace_window all = { .most = TRACE_UNITS_MAX };
	struct on_hand_wish wish = { .limit = 100 };
	struct plan_wish pw = { .service = "2026-12-04/dinner",
		.prep = true,
		.order = true,
		.why = true };
	struct on_hand_page on;
	struct trace_page page;
	struct undo_offer offer;
	struct buf b;
	enum rc rc;

	buf_init(&b, 16 << 20);
	count(stock(&b, d->sn, FORMAT_TEXT, err), err);
	count(stock(&b, d->sn, FORMAT_JSON, err), err);
	count(today_page(&b, d->sn, FORMAT_JSON, err), err);
	count(audit_trail(&b, d->sn, 1000, true, FORMAT_JSON, err), err);
	count(trace(&b, d->sn, d->c.hake, FORMAT_TEXT, err), err);
	count(trace(&b, d->sn, d->c.plaices[2], FORMAT_JSON, err), err);
	if ((rc = trace_page_load(&page, d->sn, d->c.plaice, &all, err)) ==
	    RC_OK)
		trace_page_fini(&page);
	count(rc, err);
	if ((rc = on_hand_load(&on, d->sn, &wish, err)) == RC_OK)
		on_hand_fini(&on);
	count(rc, err);
	count(plan(&b, d->sn, &pw, err), err);
	count(species_page(&b, d->sn, "HKE", FORMAT_TEXT, err), err);
	count(undo_last(&offer, d->sn, NULL, err), err);
	buf_fini(&b);
}

static void
papers(struct day *d, struct err *err)
{
	static const struct {
		const char *kind, *what;
	} exports[] = { { "stock", NULL }, { "day", NULL } };
	struct label_wish lw = { .code = d->c.hakes[3], .language = "png" };
	struct ticket_wish tw = { .kind = TICKET_DAY };
	struct export_done out;
	struct file_head head;
	struct ticket *t;
	struct buf b;
	enum rc rc;
	size_t i;

	buf_init(&b, 16 << 20);
	count(label_preview(&b, d->sn, &lw, err), err);
	lw.code = d->c.plaice;
	lw.language = "zpl";
	count(label_preview(&b, d->sn, &lw, err), err);
	if ((rc = ticket_make(&t, d->sn, &tw, err)) == RC_OK)
		ticket_free(t);
	count(rc, err);
	for (i = 0; i < sizeof(exports) / sizeof(exports[0]); i++) {
		struct export_wish w = { .kind = exports[i].kind,
			.folder = d->out,
			.replace = true };

		count(export_run(&out, d->sn, &w, err), err);
	}
	count(file_head_read(&head, d->db, err), err);
	buf_fini(&b);
}

static void
records(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.hakes[3] }, *sold[] = { "hake-beans:2" };
	struct use_in use_it = { .code = d->c.hakes[1],
		.servings = 1,
		.reason = "asked",
		.by = "LM" };
	struct freeze_in cold = { codes, 1, "-21", NULL, "AK" };
	struct label_order lo = { codes, 1, LABEL_FIRST, .by = "AK" };
	struct backup_wish bw = { .folder = d->stick, .keep = 2, .by = "AK" };
	struct close_in ci = { .service = "2026-12-04/dinner",
		.seated = 60,
		.walk_ins = 2,
		.sold = sold,
		.sold_count = 1,
		.by = "AK" };
	struct job_list jobs = { 0 };
	struct backup_done done;
	struct kept kept;
	struct portion p;
	struct buf b;

	buf_init(&b, 16 << 20);
	count(label_print(&jobs, d->sn, &lo, err), err);
	job_list_fini(&jobs);
	count(use(&p, d->sn, &use_it, err), err);
	count(freeze(&kept, d->sn, &cold, err), err);
	count(hold(NULL, d->sn, d->c.plaice, "smell", "AK", err), err);
	count(day_more(d, err), err);
	count(close_service(&b, d->sn, &ci, FORMAT_TEXT, err), err);
	count(backup_run(&done, d->sn, &bw, err), err);
	buf_fini(&b);
}

static int
try_file(struct day *d, struct tally *t)
{
	struct err err = { 0 };

	alarm(SECONDS);
	if (day_open(d, &err) != RC_OK) {
		count(RC_FAILED, &err);
		t->n[REFUSED]++;
	} else {
		day_at(d, "19:00");
		looks(d, &err);
		papers(d, &err);
		records(d, &err);
	}
	day_shut(d);
	t->n[ANSWERS] += answers;
	t->n[ERRORS] += errors;
	fflush(NULL);
	return 0;
}

/* --- all of them -----------------------------------------------------------*/

static void
make_bad(const struct spoil *s, const char *db, unsigned seed)
{
	unsigned char *bytes = xcalloc(1, s->good.len);
	size_t len = s->good.len;
	uint64_t c = seed;

	memcpy(bytes, s->good.data, len);
	(void)chance_next(&c);
	if (chance_next(&c) % 2 == 0) {
		spoil_bytes(bytes, &len, &c);
		folder_put(db, bytes, len);
	} else {
		folder_put(db, bytes, len);
		spoil_by_sql(db, &c);
	}
	free(bytes);
}

static void
try_one(struct day *d, struct tally *t, unsigned seed)
{
	struct rusage use;
	pid_t pid;
	int status;

	fflush(NULL);
	if ((pid = fork()) == 0)
		exit(try_file(d, t));
	if (pid < 0 || wait4(pid, &status, 0, &use) != pid)
		give_up("no child");
	t->n[FILES]++;
	if (WIFEXITED(status) && WEXITSTATUS(status) == 0 &&
	    use.ru_maxrss < KIB_MAX)
		return;
	t->lost = true;
	t->n[LOST]++;
	fprintf(stderr, "cuts: damaged file %u: %s %d, %ld KiB\n", seed,
	    WIFSIGNALED(status) ? "signal" : "status",
	    WIFSIGNALED(status) ? WTERMSIG(status) : WEXITSTATUS(status),
	    use.ru_maxrss);
}

static void
part(void *arg, struct tally *t, unsigned n, unsigned i)
{
	const struct spoil *s = arg;
	char folder[256];
	struct day d;
	unsigned seed;

	folder_new(folder, "bad");
	day_here(&d, folder);
	d.c = s->codes;
	for (seed = i + 1; seed <= s->seeds; seed += n) {
		t->at = seed;
		folder_empty(folder);
		make_bad(s, d.db, seed);
		try_one(&d, t, seed);
	}
	day_drop(&d);
}

static void
load_day(struct spoil *s)
{
	struct err err = { 0 };
	struct day d;
	int i;

	day_make(&d);
	for (i = 0; i < day_step_count; i++)
		if (day_play(&d, i, &err) != RC_OK)
			give_up("%s: %s", day_steps[i].name, err.text);
	day_shut(&d);
	buf_init(&s->good, FILE_READ_MAX);
	if (file_read(&s->good, d.db, &err) != RC_OK)
		give_up("%s", err.text);
	s->codes = d.c;
	day_drop(&d);
}

void
damage_one(unsigned seed)
{
	struct spoil s = { .seeds = seed };
	struct tally t = { 0 };
	char folder[256];
	struct day d;

	load_day(&s);
	folder_new(folder, "bad");
	day_here(&d, folder);
	d.c = s.codes;
	make_bad(&s, d.db, seed);
	printf("%s\n", d.db);
	try_file(&d, &t);
}

bool
damage_run(unsigned seeds, unsigned workers)
{
	struct spoil s = { .seeds = seeds };
	struct tally sum;
	bool ok;

	load_day(&s);
	ok = share_out(&sum, workers, part, &s);
	buf_fini(&s.good);
	printf(
	    "damaged files: %lld, %lld not opened; %lld answers, %lld "
	    "errors; %lld crashed, hung or took too much\n",
	    (long long)sum.n[FILES], (long long)sum.n[REFUSED],
	    (long long)sum.n[ANSWERS], (long long)sum.n[ERRORS],
	    (long long)sum.n[LOST]);
	return ok && sum.n[FILES] == (int64_t)seeds;
}
