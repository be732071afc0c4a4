/*
 * run_cuts.c - nothing is lost: docs/testing.md, "Power cuts".
 *
 *	run_cuts quick            what `make check` runs: some of everything
 *	run_cuts all              every point, 1 000 kills, 10 000 bad files
 *	run_cuts cuts|upgrade|faults [EACH]   one point in EACH
 *	run_cuts faults EACH KIND of disk.h: "sync"
 *	run_cuts kill|damage [SEEDS]
 *	run_cuts damage-one SEED  for a debugger
 *
 * Ends with 1 when anything was lost.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "cuts.h"

static const struct part {
	const char *word;
	bool (*points)(const struct amount *a);
	unsigned quick; /* one point in so many */
	bool (*seeds)(unsigned seeds, unsigned workers);
	unsigned quick_seeds, all_seeds;
} parts[] = {
	{ .word = "cuts", .points = cuts_run, .quick = 25 },
	{ .word = "upgrade", .points = cuts_upgrade, .quick = 5 },
	{ .word = "faults", .points = faults_run, .quick = 60 },
	{ .word = "kill",
	    .seeds = kill_run,
	    .quick_seeds = 50,
	    .all_seeds = 1000 },
	{ .word = "damage",
	    .seeds = damage_run,
	    .quick_seeds = 200,
	    .all_seeds = 10000 },
};

static bool
run(const struct part *p, unsigned n, bool all, unsigned workers,
    const char *only)
{
	struct amount a = { .each = n, .workers = workers, .only = only };

	if (p->seeds != NULL)
		return p->seeds(n != 0 ? n
			: all          ? p->all_seeds
				       : p->quick_seeds,
		    workers);
	if (n == 0)
		a.each = all ? 1 : p->quick;
	return p->points(&a);
}

int
main(int argc, char **argv)
{
	const char *what = argc > 1 ? argv[1] : "quick";
	unsigned n = argc > 2 ? (unsigned)strtoul(argv[2], NULL, 10) : 0;
	bool all = str_eq(what, "all"), every = all || str_eq(what, "quick");
	long cores = sysconf(_SC_NPROCESSORS_ONLN);
	bool ok = true, known = false;
	size_t i;

	setvbuf(stdout, NULL, _IOLBF, 0);
	if (str_eq(what, "damage-one")) {
		damage_one(n);
		return 0;
	}
	for (i = 0; i < sizeof(parts) / sizeof(parts[0]); i++)
		if (every || str_eq(what, parts[i].word)) {
			known = true;
			ok &= run(&parts[i], every ? 0 : n, all || !every,
			    cores < 2        ? 2
				: cores > 16 ? 16
					     : (unsigned)cores,
			    argc > 3 ? argv[3] : NULL);
		}
	if (!known)
		fprintf(stderr, "cuts: no such part: %s\n", what);
	return ok && known ? 0 : 1;
}
