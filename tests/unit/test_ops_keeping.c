/*
 * test_ops_keeping.c - what is removed is exactly what is old enough, against
 * SQL of its own over a copy from before; what speaks against it refuses all.
 */
#include "unit.h"

#include <signal.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "ops/backup.h"
#include "ops/fate.h"
#include "ops/keeping.h"
#include "sound.h"

#define DAY_S 86400
/* 24 months, 21 CFR 1.1455 as reference/law-checked.md has it: the strict
 * set's longest duty. */
#define LONGEST 731

static bool past; /* a story writes past the station; else verified */
static struct kitchen k;
static char stick[400], copy[400];
static int64_t began;

static void
setup(void)
{
	kitchen_open(&k);
	began = k.sn->clock.fixed_utc;
	str_fmt(stick, sizeof(stick), "%s/stick", k.folder);
	str_fmt(copy, sizeof(copy), "%s/copy.db", k.folder);
	ck_assert_int_eq(mkdir(stick, 0755), 0);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

struct dice {
	uint64_t seed;
};

static int
roll(struct dice *d, int sides)
{
	return (int)(chance_next(&d->seed) % (uint64_t)sides);
}

static void
on_day(int day)
{
	k.sn->clock.fixed_utc = began + (int64_t)day * DAY_S;
}

/* One statement with ?1. */
static void
sql1(const char *text, int64_t a)
{
	sqlite3 *db;
	sqlite3_stmt *s = NULL;

	kitchen_touched();
	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	ck_assert_msg(sqlite3_prepare_v2(db, text, -1, &s, NULL) == SQLITE_OK,
	    "%s", sqlite3_errmsg(db));
	sqlite3_bind_int64(s, 1, a);
	ck_assert_msg(sqlite3_step(s) == SQLITE_DONE, "%s", sqlite3_errmsg(db));
	sqlite3_finalize(s);
	sqlite3_close(db);
}

/* --- a story ---------------------------------------------------------------*/

static void
discard_one(const char *code)
{
	struct discard_in in = { .code = code, .reason = "over", .by = "EF" };
	struct discarded out;
	struct err err = { 0 };

	ck_assert_msg(discard(&out, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

/* All of it cut, and each tray used up, kept or held as chance has it. */
static void
cut_up(const struct batch *b, struct dice *d)
{
	struct kitchen_cut cut = { "cod-leeks", 24, 8, 4000, 20000, 10 };
	struct breakdown made = kitchen_break(&k, b->code, &cut);
	size_t i;

	for (i = 0; i < made.portion_count; i++)
		if (roll(d, 12) != 0)
			discard_one(made.portions[i].code);
	if (roll(d, 8) == 0)
		ck_assert_int_eq(hold(NULL, k.sn, made.portions[0].code,
				     "smells", "EF", NULL),
		    RC_OK);
	breakdown_fini(&made);
}

static void
one_batch(struct dice *d, int n)
{
	struct receive_in in = kitchen_cod();
	struct batch b;
	char document[24];
	int what = roll(d, 10);

	str_fmt(document, sizeof(document), "DN %d", n / 2);
	in.document = document;
	b = kitchen_receive(&k, &in);
	if (what == 0)
		return; /* left on hand */
	if (what == 1) {
		discard_one(b.code);
	} else {
		cut_up(&b, d);
	}
	if (roll(d, 8) == 0)
		ck_assert_int_eq(
		    hold(NULL, k.sn, b.code, "a call", "EF", NULL), RC_OK);
	if (roll(d, 16) == 0 && past)
		sql1(
		    "UPDATE hold SET released_utc = at_utc + 86400 * ?1,"
		    " released_by = 'EF', released_reason = 'ok'"
		    " WHERE id = (SELECT max(id) FROM hold)",
		    20 + roll(d, 60));
	if (roll(d, 6) == 0 && past)
		sql1(
		    "INSERT INTO print_job (batch_id, copy, state, language,"
		    " printer, picture, error, at_utc, changed_utc, by)"
		    " SELECT max(id), 0, CASE ?1 % 3 WHEN 0 THEN 'unsure'"
		    " ELSE 'confirmed' END, 'zpl', 'p', 'x', '',"
		    " max(received_utc), max(received_utc) + ?1 * 86400, 'AB'"
		    " FROM batch",
		    roll(d, 40));
	/* A gram of an earlier batch went into this breakdown. */
	if (what > 1 && roll(d, 5) == 0 && past) {
		sql1(
		    "INSERT INTO prep_input (prep_id, batch_id, fish,"
		    " weight_g) SELECT max(q.id), b.id, 0, 1 FROM prep q,"
		    " batch b WHERE b.id = max(1, (SELECT max(id) FROM batch)"
		    " - ?1) GROUP BY b.id HAVING b.use_by_utc >="
		    " (SELECT max(use_by_utc) FROM portion WHERE"
		    "  prep_output_id = (SELECT max(id) FROM prep_output))",
		    1 + roll(d, 3));
		sql1(
		    "INSERT INTO portion_source SELECT p.id, i.batch_id"
		    " FROM prep_output o JOIN portion p ON p.prep_output_id ="
		    " o.id JOIN prep_input i ON i.prep_id = o.prep_id"
		    " WHERE o.prep_id = (SELECT max(id) FROM prep) + ?1"
		    " AND i.batch_id <> p.batch_id",
		    0);
	}
}

/* The days before `now` on which the station was in use, and a backup. */
static void
in_use(int now, int days)
{
	struct receive_in in = kitchen_cod();
	int i;

	for (i = days; i > 0; i--) {
		on_day(now - i);
		kitchen_receive(&k, &in);
	}
	on_day(now);
}

static void
back_up(void)
{
	struct backup_wish w = { .folder = stick, .keep = 9, .by = "AK" };
	struct backup_done done;
	struct err err = { 0 };

	ck_assert_msg(
	    backup_run(&done, k.sn, &w, &err) == RC_OK, "%s", err.text);
}

static const char *
today(void)
{
	static char text[16];

	return day_print(
	    text, sizeof(text), local_from_utc(k.sn->clock.fixed_utc).day);
}

static enum rc
prune(struct prune_sum *sum, struct err *err)
{
	struct keeping_wish w = {
		.before = DAY_NONE, .today = today(), .by = "AK"
	};

	memset(err, 0, sizeof(*err));
	return keeping_prune(sum, k.sn, &w, err);
}

/* --- what should have gone, asked of the copy ------------------------------*/

/* What must stay for a reason of its own; :L is the instant. */
#define OWN_REASON                                                             \
	"SELECT id FROM batch WHERE received_utc >= :L OR use_by_utc >= :L"    \
	" OR open = 1 OR id = (SELECT max(id) FROM batch)"                     \
	" UNION SELECT batch_id FROM hold WHERE batch_id IS NOT NULL AND"      \
	" (released_utc IS NULL OR released_utc >= :L)"                        \
	" UNION SELECT batch_id FROM print_job WHERE batch_id IS NOT NULL"     \
	" AND (changed_utc >= :L OR state IN ('queued', 'sending', 'unsure'))" \
	" UNION SELECT batch_id FROM batch_event WHERE at_utc >= :L"           \
	" UNION SELECT i.batch_id FROM prep q JOIN prep_input i ON i.prep_id"  \
	" = q.id WHERE q.at_utc >= :L OR q.id = (SELECT max(id) FROM prep)"    \
	" UNION SELECT i.batch_id FROM portion p JOIN prep_output o ON o.id"   \
	" = p.prep_output_id JOIN prep_input i ON i.prep_id = o.prep_id"       \
	" WHERE p.left > 0 OR p.made_utc >= :L OR p.use_by_utc >= :L"          \
	" OR p.id = (SELECT max(id) FROM portion)"                             \
	" OR EXISTS (SELECT 1 FROM hold h WHERE h.portion_id = p.id AND"       \
	" (h.released_utc IS NULL OR h.released_utc >= :L))"                   \
	" OR EXISTS (SELECT 1 FROM portion_event e WHERE e.portion_id = p.id"  \
	" AND e.at_utc >= :L)"

#define CHAIN                                                                  \
	"WITH RECURSIVE own(id) AS (" OWN_REASON                               \
	"), chain(root, id) AS ("                                              \
	"SELECT id, id FROM batch UNION SELECT c.root, j.batch_id FROM chain"  \
	" c JOIN prep_input i ON i.batch_id = c.id JOIN prep_input j ON"       \
	" j.prep_id = i.prep_id), gone(id) AS (SELECT b.id FROM batch b WHERE" \
	" NOT EXISTS (SELECT 1 FROM chain c JOIN own o ON o.id = c.id"         \
	" WHERE c.root = b.id)) "

static int64_t
of_copy(const char *sql, int64_t limit)
{
	sqlite3 *db;
	sqlite3_stmt *s = NULL;
	int64_t n;

	ck_assert_int_eq(sqlite3_open(copy, &db), SQLITE_OK);
	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &s, NULL) == SQLITE_OK,
	    "%s", sqlite3_errmsg(db));
	if (sqlite3_bind_parameter_count(s) > 0)
		sqlite3_bind_int64(
		    s, sqlite3_bind_parameter_index(s, ":L"), limit);
	ck_assert_int_eq(sqlite3_step(s), SQLITE_ROW);
	n = sqlite3_column_int64(s, 0);
	sqlite3_finalize(s);
	sqlite3_close(db);
	return n;
}

/* What of a chain's tables goes with the batches gone. */
static const struct {
	const char *table, *gone;
} tables[] = {
	{ "batch", "id IN gone" }, { "prep_input", "batch_id IN gone" },
	{ "prep",
	    "id IN (SELECT prep_id FROM prep_input"
	    " WHERE batch_id IN gone)" },
	{ "prep_output",
	    "prep_id IN (SELECT prep_id FROM prep_input"
	    " WHERE batch_id IN gone)" },
	{ "prep_loss",
	    "prep_id IN (SELECT prep_id FROM prep_input"
	    " WHERE batch_id IN gone)" },
	{ "portion", "batch_id IN gone" },
	{ "portion_event",
	    "portion_id IN (SELECT id FROM portion"
	    " WHERE batch_id IN gone)" },
	{ "batch_event", "batch_id IN gone" },
	{ "print_job", "batch_id IN gone" },
	{ "hold",
	    "batch_id IN gone OR portion_id IN (SELECT id FROM"
	    " portion WHERE batch_id IN gone)" },
	{ "delivery",
	    "NOT EXISTS (SELECT 1 FROM batch b WHERE b.delivery_id"
	    " = t.id AND b.id NOT IN gone)" },
	{ "yield_seen", "0" }, /* what was learned stays */
};

static void
check_gone(int64_t limit)
{
	char sql[3000];
	int64_t before, gone;
	size_t i;

	for (i = 0; i < NELEM(tables); i++) {
		str_fmt(sql, sizeof(sql), "SELECT count(*) FROM %s",
		    tables[i].table);
		before = of_copy(sql, 0);
		ck_assert(str_fmt(sql, sizeof(sql),
		    CHAIN "SELECT count(*) FROM %s t WHERE %s", tables[i].table,
		    tables[i].gone));
		gone = of_copy(sql, limit);
		str_fmt(sql, sizeof(sql), "SELECT count(*) FROM %s",
		    tables[i].table);
		ck_assert_msg(kitchen_count(&k, sql) == before - gone,
		    "%s: %lld - %lld, not %lld", tables[i].table,
		    (long long)before, (long long)gone,
		    (long long)kitchen_count(&k, sql));
	}
	/* The very batches. */
	str_fmt(sql, sizeof(sql),
	    CHAIN
	    "SELECT coalesce(sum(id * id), 0) FROM batch"
	    " WHERE id NOT IN gone");
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT coalesce(sum(id * id), 0) FROM batch"),
	    of_copy(sql, limit));
}

static void
check_sound(void)
{
	const char *wrong;
	sqlite3 *db;

	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	wrong = sound_check(db, 0);
	ck_assert_msg(wrong == NULL, "%s", wrong);
	sqlite3_close(db);
}

static int64_t
limit_now(void)
{
	return utc_from_local(
	    local_from_utc(k.sn->clock.fixed_utc).day - LONGEST, 0, 0, 0);
}

/* Two batches in three days, then two years later. */
static void
story(unsigned seed, int batches, int later)
{
	struct dice d = { seed };
	char sql[600];
	sqlite3 *db;
	int i;

	for (i = 0; i < batches; i++) {
		on_day(i + i / 2);
		one_batch(&d, i);
	}
	in_use(LONGEST + later, 6);
	back_up();
	str_fmt(copy, sizeof(copy), "%s/copy-%u.db", k.folder, seed);
	str_fmt(sql, sizeof(sql), "VACUUM INTO '%s'", copy);
	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
	sqlite3_close(db);
}

START_TEST(only_what_is_old_goes)
{
	struct keeping look;
	struct prune_sum sum, again;
	struct err err = { 0 };
	int64_t gone;

	past = _i % 2 == 0;
	story(100 + (unsigned)_i, 30, 5 + 4 * _i);
	ck_assert_int_eq(keeping_look(&look, k.sn, DAY_NONE, 0, &err), RC_OK);
	ck_assert_msg(prune(&sum, &err) == RC_OK, "%s", err.text);
	check_gone(limit_now());
	check_sound();
	gone = of_copy("SELECT count(*) FROM batch", 0) -
	    kitchen_count(&k, "SELECT count(*) FROM batch");
	ck_assert_int_eq(look.may.batches, gone);
	ck_assert_int_eq(sum.batches, gone);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE action ="
			     " 'prune' AND detail LIKE '%batch%'"),
	    sum.chains);
	keeping_fini(&look);
	ck_assert_int_eq(prune(&again, &err), RC_OK);
	ck_assert_int_eq(again.rows, 0);
	if (_i > 3)
		ck_assert_int_gt(gone, 0);
}
END_TEST

/* --- refused ---------------------------------------------------------------*/

static void
backup_old(void)
{
	k.sn->clock.fixed_utc += KEEPING_BACKUP_S + 1;
}

static const char *
backup_path(void)
{
	static char path[1200];
	struct backup_last last;

	ck_assert_int_eq(backup_last(&last, k.sn, NULL), RC_OK);
	str_fmt(path, sizeof(path), "%s/%s", last.folder, last.name);
	return path;
}

static void
backup_gone(void)
{
	ck_assert_int_eq(unlink(backup_path()), 0);
}

static void
backup_other(void)
{
	ck_assert_int_eq(kitchen_sql(backup_path(),
			     "UPDATE station SET value = 'Another'"
			     " WHERE key = 'kitchen'"),
	    SQLITE_OK);
}

/* Ten years ahead, and a backup made there. */
static void
clock_jumped(void)
{
	k.sn->clock.fixed_utc += (int64_t)3650 * DAY_S;
	back_up();
}

static void
house_longer(void)
{
	k.sn->cfg.keep_records_days = 5000;
}

/* clang-format off */
static const struct {
	const char *why;
	int days_seen;
	void (*change)(void);
	const char *today;	/* NULL: as it is */
	int before;		/* days after the longest duty's; 0 none */
	enum rc rc;
	const char *says;
} refused[] = {
	{ "nothing speaks against it", 5, NULL, NULL, 0, RC_OK, "" },
	{ "younger than the longest duty", 6, NULL, NULL, 1, RC_REFUSED,
	    "records are kept 731 days" },
	{ "four days of work before", 4, NULL, NULL, 0, RC_REFUSED,
	    "on 4 of the last 14 days" },
	{ "a clock that jumped", 6, clock_jumped, NULL, 0, RC_REFUSED,
	    "a clock that jumped ahead" },
	{ "another day than the person knows", 6, NULL, "2026-11-25", 0,
	    RC_REFUSED, "set the clock" },
	{ "a backup of the day before", 6, backup_old, NULL, 0, RC_REFUSED,
	    "no backup of the last 24 hours" },
	{ "the stick is out", 6, backup_gone, NULL, 0, RC_REFUSED,
	    "put its stick in" },
	{ "another station's", 6, backup_other, NULL, 0, RC_REFUSED,
	    "not a backup of this station" },
	{ "the house keeps longer", 6, house_longer, NULL, -10, RC_REFUSED,
	    "records are kept 5000 days (the house" },
};
/* clang-format on */

START_TEST(refusals)
{
	struct keeping_wish w = { .before = DAY_NONE, .by = "AK" };
	struct prune_sum sum;
	struct err err = { 0 };
	int64_t rows;
	int i;
	struct dice d = { 7 };

	for (i = 0; i < 4; i++) {
		on_day(i);
		one_batch(&d, i);
	}
	in_use(LONGEST + 60, refused[_i].days_seen);
	back_up();
	if (refused[_i].change != NULL)
		refused[_i].change();
	rows = kitchen_records(&k);
	w.today = refused[_i].today == NULL ? today() : refused[_i].today;
	if (refused[_i].before != 0)
		w.before = local_from_utc(k.sn->clock.fixed_utc).day - LONGEST +
		    refused[_i].before;
	ck_assert_msg(keeping_prune(&sum, k.sn, &w, &err) == refused[_i].rc,
	    "%s: %s", refused[_i].why, err.text);
	if (refused[_i].rc == RC_OK) {
		ck_assert_int_gt(sum.batches, 0);
		return;
	}
	ck_assert_msg(strstr(err.text, refused[_i].says) != NULL, "%s: %s",
	    refused[_i].why, err.text);
	ck_assert_int_eq(kitchen_records(&k), rows);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM pruning"), 0);
}
END_TEST

/* A house that would keep less is told so when its settings are read. */
START_TEST(shorter_is_refused)
{
	struct keep_rule r;
	struct err err = { 0 };

	k.sn->cfg.keep_sales_days = LONGEST - 1;
	ck_assert_int_eq(
	    rules_keep(&r, &k.sn->rules, &k.sn->cfg, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text,
			  "sales_days = 730 would be shorter than 731") != NULL,
	    "%s", err.text);
	k.sn->cfg.keep_sales_days = LONGEST;
	ck_assert_int_eq(rules_keep(&r, &k.sn->rules, &k.sn->cfg, &err), RC_OK);
	k.sn->cfg.keep_cases_days = 3000;
	ck_assert_int_eq(rules_keep(&r, &k.sn->rules, &k.sn->cfg, &err), RC_OK);
	ck_assert_int_eq(r.duty[KEEPING_CASES].days, 3000);
	ck_assert_int_eq(r.duty[KEEPING_SHELLFISH].days, LONGEST);
}
END_TEST

/* --- killed ----------------------------------------------------------------*/

START_TEST(killed_in_the_middle)
{
	struct prune_sum sum;
	struct err err = { 0 };
	struct timespec wait = { 0, 0 };
	pid_t pid;
	int status;
	char now[48];

	past = _i % 2 == 0;
	story(77 + (unsigned)_i, 120, 90);
	time_rfc3339(now, sizeof(now), k.sn->clock.fixed_utc);
	now[16] = '\0'; /* to the minute */
	/* SQLite does not survive a fork. */
	station_close(k.sn);
	k.sn = NULL;
	wait.tv_nsec = 1000000L * (15 + 4 * _i);
	pid = fork();
	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		struct station_options o = { .db = k.db, .config = k.ini };

		o.now = now;
		if (station_open(&k.sn, &o, true, &err) != RC_OK)
			_exit(3);
		for (;;) {
			struct keeping_wish w = {
				.before = DAY_NONE,
				.today = today(),
				.by = "AK",
			};

			if (keeping_prune(&sum, k.sn, &w, &err) != RC_OK)
				_exit(4);
		}
	}
	nanosleep(&wait, NULL);
	kill(pid, SIGKILL);
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert_msg(WIFSIGNALED(status), "%d", WEXITSTATUS(status));
	check_sound();
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM pruning WHERE id NOT IN"
			     " (SELECT pruning_id FROM pruned)"),
	    0);
	ck_assert_int_eq(kitchen_station(&k, now, &err), RC_OK);
	ck_assert_msg(prune(&sum, &err) == RC_OK, "%s", err.text);
	check_gone(limit_now());
	check_sound();
}
END_TEST

Suite *
suite_ops_keeping(void)
{
	Suite *s = suite_create("ops_keeping");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, only_what_is_old_goes, 0, 10);
	tcase_add_loop_test(tc, refusals, 0, NELEM(refused));
	tcase_add_test(tc, shorter_is_refused);
	tcase_add_loop_test(tc, killed_in_the_middle, 0, 6);
	suite_add_tcase(s, tc);
	return s;
}
