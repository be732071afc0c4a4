/*
 * bench_station.c - from a key to the painted screen, on files of years beside
 * an empty one.
 *
 *	bench_station [YEARS...]	(0 1 3 10)
 *
 * The same invented kitchen each time (years.h); files are made once, in
 * build/bench.  Three tables, tab-separated:
 *
 *  key	a desk without a terminal: key or scan, answer, canvas drawn
 *  pty	the program on a pseudo-terminal: from exec to the first screen, from
 *	a key to what it writes, and its resident memory
 *  sql	statements that make SQLite do more on the oldest file than on that of
 *	one year, in steps of its virtual machine; no row: nothing grows
 *
 * Microseconds, median and 95th percentile; `ratio` is the oldest file's 95th
 * percentile over the empty one's.  A frame is 16 000.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/str.h"
#include "core/code.h"
#include "ops/station.h"
#include "screens/desk.h"
#include "steps.h"
#include "tests/pty/pty.h"
#include "year_files.h"
#include "years.h"

#define FILES_MAX 6
#define ROUNDS 40
#define TIMES_MAX 4096
#define EVENTS 7

static const char *const events[EVENTS] = { "open", "arrow", "page", "number",
	"type", "scan", "tick" };

struct times {
	int64_t us[TIMES_MAX];
	int count;
};

static struct times keyed[FILES_MAX][SCREEN_COUNT][EVENTS];
static int years[FILES_MAX], files;
static char paths[FILES_MAX][64];

/* --- numbers ---------------------------------------------------------------*/

static void
add(struct times *t, int64_t us)
{
	if (t->count < TIMES_MAX)
		t->us[t->count++] = us;
}

static int
by_size(const void *a, const void *b)
{
	int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;

	return (x > y) - (x < y);
}

/* The value that so many of a hundred are not above. */
static int64_t
part(struct times *t, int percent)
{
	if (t->count == 0)
		return 0;
	qsort(t->us, (size_t)t->count, sizeof(t->us[0]), by_size);
	return t->us[(t->count - 1) * percent / 100];
}

static void
print_times(struct times *const *t)
{
	int64_t first = 0, last = 0;
	int f;

	for (f = 0; f < files; f++) {
		last = part(t[f], 95);
		if (f == 0)
			first = last;
		printf("\t%" PRId64 "\t%" PRId64, part(t[f], 50), last);
	}
	printf("\t%.2f%s\n", first > 0 ? (double)last / (double)first : 0.0,
	    last > 16000 ? "\tover a frame" : "");
}

static void
print_head(const char *what)
{
	int f;

	printf("%s", what);
	for (f = 0; f < files; f++)
		printf("\t%dy_median_us\t%dy_p95_us", years[f], years[f]);
	printf("\tratio\n");
}

static void
die(const char *what, const char *why)
{
	fprintf(stderr, "bench_station: %s: %s\n", what, why);
	exit(1);
}

/* --- a desk ----------------------------------------------------------------*/

struct sitting {
	struct station *sn;
	struct desk *d;
	int f;
	int64_t ms;
	char codes[YEAR_CODES][CODE_SIZE];
};

/* The key as `struct screens` sees it, and the drawing after it. */
static void
press(struct sitting *s, struct key k, int event)
{
	int64_t since = pty_now_us();

	s->ms += 300;
	(void)desk_typing(s->d, &k);
	desk_key(s->d, &k, s->ms);
	desk_draw(s->d);
	add(&keyed[s->f][s->d->at][event], pty_now_us() - since);
}

static void
scan(struct sitting *s, enum screen_id id, const char *text)
{
	int64_t since = pty_now_us();

	s->ms += 300;
	desk_scan(s->d, text, strlen(text), s->ms);
	desk_draw(s->d);
	add(&keyed[s->f][id][5], pty_now_us() - since);
}

static void
back_to(struct sitting *s, enum screen_id id)
{
	struct key f2 = key_of(KEY_CODE_F1 + 1);
	struct key fn = key_of((enum key_code)(KEY_CODE_F1 + (int)id));

	s->ms += 300;
	desk_key(s->d, id == SCREEN_TODAY ? &fn : &f2, s->ms);
	desk_draw(s->d);
	press(s, fn, 0);
}

static void
round_on(struct sitting *s, enum screen_id id)
{
	const char *const codes[] = { s->codes[0], s->codes[1], s->codes[2],
		"(01)04012345678901(7008)TRR(10)T-88(17)261209(3103)004200",
		NULL };
	int64_t since;
	int i;

	back_to(s, id);
	for (i = 0; i < 4; i++)
		press(s, key_of(KEY_CODE_DOWN), 1);
	press(s, key_of(KEY_CODE_UP), 1);
	press(s, key_of(KEY_CODE_PAGE_DOWN), 2);
	press(s, key_of(KEY_CODE_END), 2);
	press(s, key_of(KEY_CODE_PAGE_UP), 2);
	press(s, key_char('2'), 3);
	if (id == SCREEN_GOODS_IN || id == SCREEN_BREAKDOWN ||
	    id == SCREEN_TRACE) {
		press(s, key_char('1'), 4);
		press(s, key_of(KEY_CODE_BACKSPACE), 4);
	}
	since = pty_now_us();
	s->ms += 1000;
	desk_tick(s->d, s->ms);
	desk_draw(s->d);
	add(&keyed[s->f][id][6], pty_now_us() - since);
	/* A service would use it up: what is used up is refused. */
	for (i = id == SCREEN_SERVICE ? 1 : 0; codes[i] != NULL; i++) {
		back_to(s, id);
		scan(s, id, codes[i]);
	}
}

/* A desk on a file, and what is scanned at it. */
static void
no_print(void *arg)
{
	(void)arg;
}

static void
sit_down(struct sitting *s, int f)
{
	char ini[96];
	struct station_options o = {
		.db = paths[f], .config = ini, .now = YEARS_NOW
	};
	/* somebody is at the desk: nothing waits for what is made beside it */
	static const struct desk_host host = { .print = no_print,
		.program = "build/release/pinbone" };
	struct err err = { 0 };

	*s = (struct sitting){ .f = f, .ms = 1000 };
	str_fmt(ini, sizeof(ini), "%s.ini", paths[f]);
	year_codes(s->codes, paths[f]);
	if (station_open(&s->sn, &o, true, &err) != RC_OK)
		die(paths[f], err.text);
	s->d = desk_new(s->sn, &host, 80, 24);
	s->d->key_ms = s->d->tick_ms = s->ms;
	str_copy(s->d->by, sizeof(s->d->by), "AK");
}

/* The files take turns, so that what else the machine does meets all. */
static void
keys(void)
{
	static struct sitting sittings[FILES_MAX];
	int i, id, f;

	for (f = 0; f < files; f++) {
		steps_into(f);
		sit_down(&sittings[f], f);
	}
	for (i = 0; i < ROUNDS; i++)
		for (id = 0; id < SCREEN_COUNT; id++)
			for (f = 0; f < files; f++) {
				steps_into(f);
				round_on(&sittings[f], (enum screen_id)id);
			}
	for (f = 0; f < files; f++) {
		desk_free(sittings[f].d);
		station_close(sittings[f].sn);
	}
}

static void
keys_table(void)
{
	struct times *t[FILES_MAX];
	char what[80];
	int id, e, f;

	print_head("key");
	for (id = 0; id < SCREEN_COUNT; id++)
		for (e = 0; e < EVENTS; e++) {
			for (f = 0; f < files; f++)
				t[f] = &keyed[f][id][e];
			if (t[0]->count == 0)
				continue;
			str_fmt(what, sizeof(what), "%s, %s",
			    screens[id]->title, events[e]);
			printf("%s", what);
			print_times(t);
		}
}

/* --- the program on a terminal ---------------------------------------------*/

#define STARTS 11

static struct times started[FILES_MAX], answered[FILES_MAX];
static long resident[FILES_MAX];

static long
resident_kib(pid_t pid)
{
	char path[48], line[160];
	long kib = 0;
	FILE *fp;

	str_fmt(path, sizeof(path), "/proc/%d/status", (int)pid);
	if ((fp = fopen(path, "r")) == NULL)
		return 0;
	while (fgets(line, sizeof(line), fp) != NULL)
		if (strncmp(line, "VmRSS:", 6) == 0)
			kib = strtol(line + 6, NULL, 10);
	fclose(fp);
	return kib;
}

static void
visit(struct pty *p, int f)
{
	char key[8];
	int i, n;

	for (i = 0; i < 5; i++)
		for (n = 2; n <= (int)SCREEN_COUNT; n++) {
			/* F2 last: a screen that is shown writes nothing. */
			str_fmt(key, sizeof(key), "F%d",
			    n < (int)SCREEN_COUNT ? n + 1 : 2);
			pty_quiet(p, 30);
			add(&answered[f], pty_answer_us(p, key));
		}
	resident[f] = resident_kib(p->pid);
}

static void
start_on(int f, bool last)
{
	char ini[96];
	const char *argv[] = { "build/release/pinbone", "--config", ini, "--db",
		paths[f], "--now", YEARS_NOW, NULL };
	struct pty p;

	str_fmt(ini, sizeof(ini), "%s.ini", paths[f]);
	pty_start(&p, argv, "xterm-256color", 80, 24);
	pty_wait(&p, "F1 ");
	add(&started[f], pty_now_us() - p.started_us);
	pty_quiet(&p, 50);
	if (last)
		visit(&p, f);
	pty_key(&p, "Ctrl-C");
	if (pty_end(&p) != 0)
		die(paths[f], "the program did not end well");
	pty_free(&p);
}

static void
pty_table(void)
{
	struct times *t[FILES_MAX];
	int f;

	print_head("pty");
	for (f = 0; f < files; f++)
		t[f] = &started[f];
	printf("exec to first screen");
	print_times(t);
	for (f = 0; f < files; f++)
		t[f] = &answered[f];
	printf("function key to first byte");
	print_times(t);
	printf("resident memory, KiB");
	for (f = 0; f < files; f++)
		printf("\t%ld\t", resident[f]);
	printf("\t%.2f\n",
	    resident[0] > 0 ? (double)resident[files - 1] / (double)resident[0]
			    : 0.0);
}

/* --- statements ------------------------------------------------------------*/

#define STEPS_LEAST 1500 /* fewer are not worth a word */

/* The file of one year to compare with; -1: none. */
static int
year_one(void)
{
	int f;

	for (f = 0; f < files; f++)
		if (years[f] == 1)
			return f;
	return -1;
}

static void
steps_table(void)
{
	size_t count, i, year_count = 0;
	const struct steps_row *r = steps_rows(&count, files - 1), *year;
	int grown = 0, one = year_one();

	if (one < 0)
		return;
	year = steps_rows(&year_count, one);
	printf("sql\tsteps_1y\tsteps_%dy\tratio\n", years[files - 1]);
	for (i = 0; i < count; i++) {
		int64_t was = steps_of(year, year_count, r[i].sql);

		if (was < 0 || r[i].most < STEPS_LEAST ||
		    r[i].most <= was + was / 2)
			continue;
		grown++;
		printf("%.300s\t%" PRId64 "\t%" PRId64 "\t%.1f\n", r[i].sql,
		    was, r[i].most, (double)r[i].most / (double)(was + 1));
	}
	printf("grows with the years: %d of %zu statements\n", grown, count);
}

int
main(int argc, char **argv)
{
	static const int usual[] = { 0, 1, 3, 10 };
	int f, i;

	setvbuf(stdout, NULL, _IOLBF, 0);
	files = argc > 1 ? argc - 1 : 4;
	if (files > FILES_MAX)
		files = FILES_MAX;
	for (f = 0; f < files; f++) {
		years[f] =
		    argc > 1 ? (int)strtol(argv[f + 1], NULL, 10) : usual[f];
		year_file(paths[f], sizeof(paths[f]), years[f]);
	}
	steps_watch();
	keys();
	keys_table();
	for (i = 0; i < STARTS; i++)
		for (f = 0; f < files; f++)
			start_on(f, i == STARTS - 1);
	pty_table();
	steps_table();
	return 0;
}
