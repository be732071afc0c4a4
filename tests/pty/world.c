/* world.c - a kitchen for the program on a terminal. */
#include "world.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "tests/unit/cut_child.h"

static const char settings[] =
    "[station]\n"
    "kitchen = The Lamplighter, fish section\n"
    "training = yes\n"
    "timezone = Europe/London\n"
    "data_folder = %s/config\n"
    "%s"
    "[service lunch]\n"
    "starts = 12:00\n"
    "ends = 15:00\n"
    "[service dinner]\n"
    "starts = 18:00\n"
    "ends = 23:00\n";

static void
give_up(const struct world *w, const char *what)
{
	fprintf(stderr, "%s: %s\n", what, w->said);
	exit(1);
}

void
world_make(struct world *w, const char *program, const char *more)
{
	char here[256], lines[512], *at;
	FILE *fp;

	memset(w, 0, sizeof(*w));
	w->program = program;
	str_copy(w->folder, sizeof(w->folder), "/tmp/pinbone-pty-XXXXXX");
	if (mkdtemp(w->folder) == NULL || getcwd(here, sizeof(here)) == NULL)
		give_up(w, "no folder");
	str_fmt(w->ini, sizeof(w->ini), "%s/station.ini", w->folder);
	str_fmt(w->db, sizeof(w->db), "%s/pinbone.db", w->folder);
	if ((fp = fopen(w->ini, "w")) == NULL)
		give_up(w, "no settings");
	str_fmt(lines, sizeof(lines), "%s", more);
	if ((at = strstr(lines, "FOLDER")) != NULL)
		str_fmt(lines, sizeof(lines), "%.*s%s%s", (int)(at - lines),
		    more, w->folder, more + (at - lines) + 6);
	fprintf(fp, settings, here, lines);
	fclose(fp);
	MUST(w, "init");
	MUST(w, "import", "suppliers", "demo/suppliers.csv");
	MUST(w, "import", "menu", "demo/menu.csv");
	MUST(w, "import", "offers", "demo/offers.csv");
	MUST(w, "import", "bookings", "demo/bookings.csv");
}

void
world_drop(struct world *w)
{
	const char *argv[] = { "rm", "-rf", w->folder, NULL };

	if (child_run(NULL, argv, "/dev/null") != 0)
		fprintf(stderr, "pty: %s is left\n", w->folder);
}

int
world_run(struct world *w, const char *const *words)
{
	const char *argv[64] = { w->program, "--config", w->ini, "--db", w->db,
		"--now", WORLD_NOW, "--by", "AK", "--json" };
	char output[96];
	size_t n = 10, i, got;
	FILE *fp;
	int status;

	for (i = 0; words[i] != NULL && n < 63; i++)
		argv[n++] = words[i];
	argv[n] = NULL;
	str_fmt(output, sizeof(output), "%s/said", w->folder);
	status = child_run(NULL, argv, output);
	w->said[0] = '\0';
	if ((fp = fopen(output, "r")) != NULL) {
		got = fread(w->said, 1, sizeof(w->said) - 1, fp);
		w->said[got] = '\0';
		fclose(fp);
	}
	return status;
}

void
world_must(struct world *w, const char *const *words)
{
	if (world_run(w, words) != 0)
		give_up(w, words[0]);
}

void
world_code(char code[16], const struct world *w, int n)
{
	const char *at = w->said;

	for (; n >= 0 && at != NULL; n--)
		if ((at = strstr(at, "\"code\": \"")) != NULL)
			at += strlen("\"code\": \"");
	if (at == NULL)
		give_up(w, "no such code");
	str_fmt(code, 16, "%.*s", (int)strcspn(at, "\""), at);
}

void
world_fish(char code[16], struct world *w)
{
	MUST(w, "receive", "--supplier", "quay", "--document", "WQ-1",
	    "--species", "HKE", "--presentation", "gutted", "--lot", "H1",
	    "--count", "6", "--weight", "13.8kg", "--temperature", "1.2",
	    "--area", "27.7.j", "--method", "caught", "--gear",
	    "Hooks and lines", "--caught", "2026-12-02", "--accept");
	world_code(code, w, 0);
}

long
world_count(const struct world *w, const char *sql)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *s = NULL;
	long n = -1;

	if (sqlite3_open_v2(w->db, &db, SQLITE_OPEN_READWRITE, NULL) ==
		SQLITE_OK &&
	    sqlite3_busy_timeout(db, 5000) == SQLITE_OK &&
	    sqlite3_prepare_v2(db, sql, -1, &s, NULL) == SQLITE_OK &&
	    sqlite3_step(s) == SQLITE_ROW)
		n = (long)sqlite3_column_int64(s, 0);
	else
		fprintf(stderr, "pty: %s: %s\n", sql, sqlite3_errmsg(db));
	sqlite3_finalize(s);
	sqlite3_close(db);
	return n;
}

void
world_open(
    struct pty *p, const struct world *w, const char *term, int cols, int rows)
{
	const char *argv[] = { w->program, "--config", w->ini, "--db", w->db,
		"--now", WORLD_NOW, NULL };

	pty_start(p, argv, term, cols, rows);
}
