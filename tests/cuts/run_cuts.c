/*
 * run_cuts.c - nothing is lost.
 *
 *	run_cuts quick        what `make check` runs: a sample of everything
 *	run_cuts all          every point, 1 000 kills
 *	run_cuts cuts|upgrade|faults [EACH]
 *	run_cuts kill|damage [SEEDS]
 *
 * Ends with 1 when anything was lost.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "cuts.h"

int
main(int argc, char **argv)
{
	const char *what = argc > 1 ? argv[1] : "quick";
	unsigned n = argc > 2 ? (unsigned)strtoul(argv[2], NULL, 10) : 0;
	struct amount a = { .each = n == 0 ? 1 : n, .workers = 2 };
	bool ok = true;

	setvbuf(stdout, NULL, _IOLBF, 0);
	if (str_eq(what, "cuts"))
		ok = cuts_run(&a);
	else if (str_eq(what, "upgrade"))
		ok = cuts_upgrade(&a);
	else if (str_eq(what, "kill"))
		ok = kill_run(n == 0 ? 50 : n);
	else if (str_eq(what, "damage"))
		ok = damage_run(n == 0 ? 200 : n, 2);
	else if (str_eq(what, "damage-one"))
		damage_one(n);
	else if (str_eq(what, "faults"))
		ok = faults_run(&a);
	return ok ? 0 : 1;
}
