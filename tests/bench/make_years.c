/* make_years.c - a station file as after years of work: years.h. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "years.h"

int
main(int argc, char **argv)
{
	struct years_wish w = { 0 };
	struct years_made made;
	struct err err = { 0 };

	if (argc != 4) {
		fprintf(stderr, "usage: make_years FILE YEARS SEED\n");
		return 2;
	}
	w.db = argv[1];
	w.years = (int)strtol(argv[2], NULL, 10);
	w.seed = strtoull(argv[3], NULL, 10);
	if (years_make(&made, &w, &err) != RC_OK) {
		fprintf(stderr, "make_years: %s\n", err.text);
		return 1;
	}
	printf("%s: %" PRId64 " batches, %" PRId64 " portions, %" PRId64
	       " events, %" PRId64 " print jobs, %" PRId64
	       " audit rows\n"
	       "pinbone --config %s.ini --db %s --now %s\n",
	    w.db, made.batches, made.portions, made.events, made.jobs,
	    made.audit, w.db, w.db, YEARS_NOW);
	return 0;
}
