/*
 * bench_plan.c - the plan command as a cook waits for it: from the key to the
 * list, the process and the opening of the file included.
 *
 * A store of the demo's kitchen: with no record and one service to come; with
 * three weeks of sales; and with ten services to come besides, planned to the
 * last of them.  Stock is what the demo takes in.  Tab-separated: what, runs,
 * median and worst milliseconds of the clock, ratio of medians to the first
 * row, peak memory.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/str.h"
#include "tests/unit/cut_child.h"

#define RUNS 21

static char folder[] = "/tmp/pinbone-bench-XXXXXX";

/* One command of the station; what it prints is of no interest. */
static void
run(struct child_use *use, const char *db, const char *const *words)
{
	const char *argv[64] = { "build/release/pinbone", "--config",
		"demo/station.ini", "--db", db, "--now", "2026-12-04T07:10",
		"--by", "AK" };
	char output[64];
	size_t n = 9, i;

	for (i = 0; words[i] != NULL && n + 1 < 64; i++)
		argv[n++] = words[i];
	argv[n] = NULL;
	str_fmt(output, sizeof(output), "%s/out", folder);
	if (child_run(use, argv, output) != 0) {
		fprintf(stderr, "bench_plan: %s failed, see %s\n", words[0],
		    output);
		exit(1);
	}
}

#define RUN(db, ...) run(NULL, db, (const char *const[]){ __VA_ARGS__, NULL })

static void
take_in(const char *db, const char *species, const char *presentation,
    const char *lot, const char *count, const char *weight)
{
	RUN(db, "receive", "--supplier", "quay", "--document", "B-1",
	    "--species", species, "--presentation", presentation, "--lot", lot,
	    "--count", count, "--weight", weight, "--temperature", "1.0",
	    "--area", "27.7.j", "--method", "caught", "--gear", "Trawls",
	    "--caught", "2026-12-02", "--accept");
}

/* The demo's kitchen and goods, with as much of a record as asked. */
static void
store_make(const char *db, int coming, bool record)
{
	char path[80];
	FILE *fp;
	int i;

	RUN(db, "init");
	RUN(db, "import", "suppliers", "demo/suppliers.csv");
	RUN(db, "import", "menu", "demo/menu.csv");
	RUN(db, "import", "offers", "demo/offers.csv");
	if (record) {
		RUN(db, "import", "bookings", "demo/past-bookings.csv");
		RUN(db, "import", "sales", "demo/past-sales.csv");
	}
	str_fmt(path, sizeof(path), "%s/coming.csv", folder);
	if ((fp = fopen(path, "w")) == NULL)
		exit(1);
	fputs("date,service,covers\n", fp);
	for (i = 0; i < coming; i++)
		fprintf(fp, "2026-12-%02d,%s,%d\n", 4 + i / 2,
		    i % 2 == 0 ? "lunch" : "dinner", 50 + i);
	fclose(fp);
	RUN(db, "import", "bookings", path);
	take_in(db, "HKE", "gutted", "1", "14", "31kg");
	take_in(db, "POK", "gutted", "2", "5", "15kg");
	take_in(db, "PLE", "gutted", "3", "45", "20kg");
	take_in(db, "LEM", "gutted", "4", "24", "10kg");
	take_in(db, "MAC", "whole", "5", "30", "11kg");
}

/* The stores are small; everything in the folder is ours. */
static void
folder_drop(void)
{
	const char *argv[] = { "rm", "-rf", folder, NULL };

	if (child_run(NULL, argv, "/dev/null") != 0)
		fprintf(stderr, "bench_plan: %s is left\n", folder);
}

static int64_t
now_ns(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (int64_t)t.tv_sec * 1000000000 + t.tv_nsec;
}

static int
by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return x < y ? -1 : x > y;
}

int
main(void)
{
	static const struct {
		const char *what, *service;
		int coming;
		bool record;
	} rows[] = {
		{ "no record, next service", "2026-12-04/lunch", 1, false },
		{ "three weeks of sales", "2026-12-04/lunch", 1, true },
		{ "and the last of ten services", "2026-12-08/dinner", 10,
		    true },
	};
	double ms[RUNS], first = 0;
	struct child_use use;
	char db[80];
	int64_t start;
	size_t i, k;

	if (mkdtemp(folder) == NULL)
		return 1;
	setvbuf(stdout, NULL, _IOLBF, 0);
	printf("what\truns\tmedian_ms\tworst_ms\tratio\tpeak_kib\n");
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		str_fmt(db, sizeof(db), "%s/%zu.db", folder, i);
		store_make(db, rows[i].coming, rows[i].record);
		for (k = 0; k < RUNS; k++) {
			start = now_ns();
			run(&use, db,
			    (const char *const[]){
				"plan", rows[i].service, NULL });
			ms[k] = (double)(now_ns() - start) / 1e6;
		}
		qsort(ms, RUNS, sizeof(ms[0]), by_size);
		if (i == 0)
			first = ms[RUNS / 2];
		printf("%s\t%d\t%.1f\t%.1f\t%.2f\t%ld\n", rows[i].what, RUNS,
		    ms[RUNS / 2], ms[RUNS - 1], ms[RUNS / 2] / first,
		    use.peak_kib);
	}
	folder_drop();
	return 0;
}
