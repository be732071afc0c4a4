/*
 * bench_records.c - answers out of files of years: the command from exec to its
 * last byte, beside the same answer by SQL written by hand, given to the
 * sqlite3 program in the same run.
 *
 *	bench_records [YEARS...]	(1 3 10)
 *
 * Each command and its SQL take turns.  Tab-separated: what, then for each
 * file the medians of both in milliseconds and their ratio, then how the
 * command's median grew from the first file to the last, and its peak memory
 * on the last.
 *
 * The SQL answers the bare question: no reasons, no rounding rules, no text.
 * Where a command does what SQL cannot (a plan, a digest), it reads what that
 * has to read; `reads` says so.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/str.h"
#include "tests/unit/cut_child.h"
#include "year_files.h"
#include "years.h"

#define FILES_MAX 6
#define RUNS_MAX 15
#define WORDS_MAX 8

/* @U a unit of the middle of the file, @B its batch, @F a folder. */
struct task {
	const char *what;
	int runs;
	const char *words[WORDS_MAX];
	const char *sql;
};

static const struct task tasks[] = {
	{ "trace a portion back", RUNS_MAX, { "trace", "@U" },
	    "SELECT p.code, p.use_by_utc, p.use_by_why, b.code, b.lot,"
	    " b.use_by_why, d.document, s.name, s.address FROM portion p"
	    " JOIN batch b ON b.id = p.batch_id JOIN delivery d ON d.id ="
	    " b.delivery_id JOIN supplier s ON s.id = d.supplier_id"
	    " WHERE p.code = '@U';"
	    "SELECT e.kind, e.servings, e.at_utc, v.day, v.name"
	    " FROM portion_event e LEFT JOIN service v ON v.id = e.service_id"
	    " WHERE e.portion_id = (SELECT id FROM portion WHERE"
	    " code = '@U');" },
	{ "trace a batch forward", RUNS_MAX, { "trace", "@B" },
	    "SELECT p.code, p.left, p.use_by_utc, p.use_by_why, e.kind,"
	    " e.servings, e.at_utc, v.day, v.name, j.state FROM batch b"
	    " JOIN portion p ON p.batch_id = b.id LEFT JOIN portion_event e"
	    " ON e.portion_id = p.id LEFT JOIN service v ON v.id ="
	    " e.service_id LEFT JOIN print_job j ON j.portion_id = p.id"
	    " WHERE b.code = '@B';"
	    "SELECT * FROM batch b JOIN prep_input i ON i.batch_id = b.id"
	    " JOIN prep r ON r.id = i.prep_id LEFT JOIN prep_loss l"
	    " ON l.prep_id = r.id WHERE b.code = '@B';" },
	{ "stock", RUNS_MAX, { "stock" },
	    "SELECT p.code, d.name, b.code, p.left, p.use_by_utc FROM portion"
	    " p JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"
	    " JOIN batch b ON b.id = p.batch_id WHERE p.left > 0"
	    " ORDER BY p.use_by_utc;"
	    "SELECT b.code, b.species, l.weight_g, l.count FROM batch b JOIN"
	    " batch_left l ON l.batch_id = b.id WHERE b.open = 1"
	    " ORDER BY b.use_by_utc;" },
	{ "plan (reads)", 7, { "plan", "2026-12-04/dinner" },
	    "SELECT d.code, p.left, p.use_by_utc FROM portion p JOIN cut c ON"
	    " c.id = p.cut_id JOIN dish d ON d.id = c.dish_id WHERE p.left >"
	    " 0; SELECT b.*, l.weight_g FROM batch b JOIN batch_left l ON"
	    " l.batch_id = b.id WHERE b.open = 1; SELECT * FROM cut WHERE"
	    " current = 1; SELECT * FROM mix; SELECT v.day, v.name, v.covers,"
	    " o.dish_id, o.sold FROM service v JOIN sold o ON o.service_id ="
	    " v.id WHERE v.day > 20720;" },
	{ "day sheet", RUNS_MAX, { "ticket", "day", "2026-12-03" },
	    "SELECT * FROM batch WHERE delivery_id IN (SELECT id FROM delivery"
	    " WHERE day = 20790); SELECT * FROM prep WHERE at_utc BETWEEN"
	    " 1796256000 AND 1796342399; SELECT kind, sum(servings) FROM"
	    " portion_event WHERE at_utc BETWEEN 1796256000 AND 1796342399"
	    " GROUP BY kind; SELECT * FROM hold WHERE at_utc BETWEEN 1796256000"
	    " AND 1796342399; SELECT state, count(*) FROM print_job WHERE"
	    " at_utc BETWEEN 1796256000 AND 1796342399 GROUP BY state;" },
	{ "drill (reads)", RUNS_MAX, { "drill", "@B", "--by", "AK" },
	    "SELECT b.weight_g, i.weight_g, o.weight_g, o.portions, l.kind,"
	    " l.weight_g FROM batch b JOIN prep_input i ON i.batch_id = b.id"
	    " JOIN prep_output o ON o.prep_id = i.prep_id LEFT JOIN prep_loss"
	    " l ON l.prep_id = i.prep_id WHERE b.code = '@B';"
	    "SELECT p.code, p.left, p.servings, p.weight_g, e.kind,"
	    " e.servings FROM batch b JOIN portion p ON p.batch_id = b.id"
	    " LEFT JOIN portion_event e ON e.portion_id = p.id"
	    " WHERE b.code = '@B';" },
	{ "balance of a day (reads)", RUNS_MAX, { "balance", "2026-12-03" },
	    "SELECT b.code, b.weight_g, i.prep_id, i.weight_g FROM delivery d"
	    " JOIN batch b ON b.delivery_id = d.id LEFT JOIN prep_input i ON"
	    " i.batch_id = b.id WHERE d.day = 20790;"
	    "SELECT b.code, e.kind, sum(e.servings * p.weight_g / p.servings)"
	    " FROM delivery d JOIN batch b ON b.delivery_id = d.id JOIN portion"
	    " p ON p.batch_id = b.id LEFT JOIN portion_event e ON"
	    " e.portion_id = p.id WHERE d.day = 20790 GROUP BY 1, 2;" },
	{ "export, goods in of a week", RUNS_MAX,
	    { "export", "receiving", "2026-11-27..2026-12-03", "@F",
		"--replace" },
	    ".mode csv\n.output @F/hand.csv\nSELECT * FROM delivery d JOIN"
	    " supplier s ON s.id = d.supplier_id JOIN batch b ON"
	    " b.delivery_id = d.id WHERE d.day BETWEEN 20784 AND 20790;" },
	{ "verify (reads)", 1, { "verify" },
	    "SELECT count(*), sum(length(detail)), sum(length(changes)),"
	    " sum(length(digest)) FROM audit; SELECT count(*),"
	    " sum(length(use_by_why)) FROM portion; SELECT count(*),"
	    " sum(length(reason)) FROM portion_event; SELECT count(*),"
	    " sum(length(picture)) FROM print_job; SELECT count(*),"
	    " sum(length(use_by_why)) FROM batch; SELECT count(*) FROM"
	    " prep_input; SELECT sum(weight_g) FROM prep_output;" },
	{ "inspect", 1, { "inspect" }, "PRAGMA integrity_check;" },
	{ "export, the trail", 1, { "export", "audit", "@F", "--replace" },
	    ".mode csv\n.output @F/hand.csv\nSELECT * FROM audit;" },
	{ "backup", 1, { "backup", "@F", "--keep", "1", "--by", "AK" },
	    ".backup @F/hand.db" },
};

static char folder[] = "build/bench/records-XXXXXX";
static char paths[FILES_MAX][64];
static char codes[FILES_MAX][YEAR_CODES][CODE_SIZE];

static void
die(const char *what, const char *why)
{
	fprintf(stderr, "bench_records: %s: %s\n", what, why);
	exit(1);
}

/* `text` with what stands for codes and the folder put in. */
static void
fill(char *dst, size_t size, const char *text, int f)
{
	const char *put;
	size_t n = 0;

	for (; *text != '\0' && n + 1 < size; text++) {
		put = text[0] != '@' ? NULL
		    : text[1] == 'U' ? codes[f][YEAR_UNIT]
		    : text[1] == 'B' ? codes[f][YEAR_BATCH]
		    : text[1] == 'F' ? folder
				     : NULL;
		if (put == NULL) {
			dst[n++] = *text;
			continue;
		}
		if (!str_copy(dst + n, size - n, put))
			die(text, "too long");
		n += strlen(put);
		text++;
	}
	dst[n] = '\0';
}

static double
now_ms(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static double
timed(struct child_use *use, const char *const *argv, const char *name)
{
	char output[80];
	double since = now_ms();

	str_fmt(output, sizeof(output), "%s/%s.out", folder, name);
	if (child_run(use, argv, output) != 0)
		die(argv[0], "it failed: see its .out in build/bench");
	return now_ms() - since;
}

static double
ours(struct child_use *use, const struct task *t, int f)
{
	const char *argv[WORDS_MAX + 8] = { "build/release/pinbone", "--config",
		NULL, "--db", paths[f], "--now", YEARS_NOW };
	char ini[96], words[WORDS_MAX][80];
	int n = 7, i;

	str_fmt(ini, sizeof(ini), "%s.ini", paths[f]);
	argv[2] = ini;
	for (i = 0; i < WORDS_MAX && t->words[i] != NULL; i++) {
		fill(words[i], sizeof(words[i]), t->words[i], f);
		argv[n++] = words[i];
	}
	argv[n] = NULL;
	return timed(use, argv, "ours");
}

static double
by_hand(const struct task *t, int f)
{
	char text[2048], script[80], in[96];
	const char *argv[] = { "sqlite3", paths[f], in, NULL };
	FILE *fp;

	fill(text, sizeof(text), t->sql, f);
	str_fmt(script, sizeof(script), "%s/hand.sql", folder);
	if ((fp = fopen(script, "w")) == NULL || fputs(text, fp) < 0 ||
	    fclose(fp) != 0)
		die(script, "cannot be written");
	str_fmt(in, sizeof(in), ".read %s", script);
	return timed(NULL, argv, "hand");
}

static int
by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return x < y ? -1 : x > y;
}

static double
median(double *ms, int n)
{
	qsort(ms, (size_t)n, sizeof(*ms), by_size);
	return ms[n / 2];
}

static void
measure(const struct task *t, int files)
{
	double a[RUNS_MAX], b[RUNS_MAX], first = 0, last = 0, hand;
	struct child_use use = { 0 };
	int f, i;

	printf("%s", t->what);
	for (f = 0; f < files; f++) {
		/* Once unmeasured: both find the same pages in memory. */
		(void)ours(&use, t, f);
		for (i = 0; i < t->runs; i++) {
			b[i] = by_hand(t, f);
			a[i] = ours(&use, t, f);
		}
		last = median(a, t->runs);
		hand = median(b, t->runs);
		if (f == 0)
			first = last;
		printf("\t%.1f\t%.1f\t%.2f", last, hand, last / hand);
	}
	printf("\t%.2f\t%ld\n", last / first, use.peak_kib);
}

static void
drop_folder(void)
{
	const char *argv[] = { "rm", "-rf", folder, NULL };

	if (child_run(NULL, argv, "/dev/null") != 0)
		fprintf(stderr, "bench_records: %s is left\n", folder);
}

int
main(int argc, char **argv)
{
	static const int usual[] = { 1, 3, 10 };
	int years[FILES_MAX], files, f;
	size_t i;

	setvbuf(stdout, NULL, _IOLBF, 0);
	files = argc > 1 ? argc - 1 : 3;
	if (files > FILES_MAX)
		files = FILES_MAX;
	printf("what");
	for (f = 0; f < files; f++) {
		years[f] =
		    argc > 1 ? (int)strtol(argv[f + 1], NULL, 10) : usual[f];
		year_file(paths[f], sizeof(paths[f]), years[f]);
		year_codes(codes[f], paths[f]);
		printf("\t%dy_ms\t%dy_sql_ms\t%dy_ratio", years[f], years[f],
		    years[f]);
	}
	printf("\tgrowth\tpeak_kib\n");
	if (mkdtemp(folder) == NULL)
		die(folder, "cannot be made");
	for (i = 0; i < sizeof(tasks) / sizeof(tasks[0]); i++)
		measure(&tasks[i], files);
	drop_folder();
	return 0;
}
