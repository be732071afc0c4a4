/* year_files.c - the files of years the benches share. */
#include "year_files.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/str.h"
#include "years.h"

#define SEED 1

static void
die(const char *what, const char *why)
{
	fprintf(stderr, "%s: %s\n", what, why);
	exit(1);
}

void
year_file(char *dst, size_t size, int years)
{
	struct years_wish w = { .db = dst, .years = years, .seed = SEED };
	struct years_made made;
	struct err err = { 0 };
	struct stat file, self;
	char name[96];

	str_fmt(dst, size, "build/bench/years-%d.db", years);
	(void)mkdir("build/bench", 0777);
	if (stat("/proc/self/exe", &self) == 0 && stat(dst, &file) == 0) {
		if (file.st_mtime >= self.st_mtime)
			return;
		unlink(dst);
		str_fmt(name, sizeof(name), "%s-wal", dst);
		unlink(name);
		str_fmt(name, sizeof(name), "%s-shm", dst);
		unlink(name);
	}
	fprintf(stderr, "making %s\n", dst);
	if (years_make(&made, &w, &err) != RC_OK)
		die(dst, err.text);
}

void
year_codes(char codes[YEAR_CODES][CODE_SIZE], const char *path)
{
	static const char *const sql[YEAR_CODES] = {
		[YEAR_ON_HAND] =
		    "SELECT code FROM portion WHERE left > 0"
		    " ORDER BY use_by_utc",
		[YEAR_UNIT] =
		    "SELECT code FROM portion WHERE id ="
		    " (SELECT max(id) / 2 FROM portion)",
		[YEAR_BATCH] =
		    "SELECT code FROM batch WHERE id ="
		    " (SELECT max(id) / 2 + 1 FROM batch)",
	};
	sqlite3 *db = NULL;
	sqlite3_stmt *q;
	int i;

	if (sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL) !=
	    SQLITE_OK)
		die(path, sqlite3_errmsg(db));
	for (i = 0; i < YEAR_CODES; i++) {
		str_copy(codes[i], CODE_SIZE,
		    i == YEAR_BATCH ? "2633800Y" : "00001U");
		if (sqlite3_prepare_v2(db, sql[i], -1, &q, NULL) != SQLITE_OK)
			die(sql[i], sqlite3_errmsg(db));
		if (sqlite3_step(q) == SQLITE_ROW)
			str_copy(codes[i], CODE_SIZE,
			    (const char *)sqlite3_column_text(q, 0));
		sqlite3_finalize(q);
	}
	sqlite3_close(db);
}
