/*
 * exchange/papers_out.h - is a delivery's record complete, law by law?
 */
#ifndef EXCHANGE_PAPERS_OUT_H
#define EXCHANGE_PAPERS_OUT_H

#include "base/buf.h"
#include "base/format.h"
#include "core/papers.h"
#include "core/species.h"
#include "store/batches.h"

/* A batch, what each law asks of it, and what is there. */
struct papers_batch {
	struct batch batch;
	struct paper_line lines[PAPERS_LINES_MAX];
	size_t line_count, missing;
	char value[DATUM_COUNT][200]; /* what is there; empty: nothing */
};

struct papers_report {
	const char *kitchen;
	const struct species_table *species;
	int64_t now_utc;
	char asked[80];
	char rule_set[24];
	bool all; /* laws beyond those of the rule set as well */
	struct papers_batch *items; /* owned by the caller */
	size_t count;
	bool cut; /* there were more */
};

/* papers_write - append it.  FORMAT_CSV: a row for each datum. */
void papers_write(
    struct buf *out, const struct papers_report *r, enum format format);

#endif /* EXCHANGE_PAPERS_OUT_H */
