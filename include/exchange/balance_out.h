/*
 * exchange/balance_out.h - where the grams of a batch, a day or a supplier
 * went, and those nobody has explained.
 */
#ifndef EXCHANGE_BALANCE_OUT_H
#define EXCHANGE_BALANCE_OUT_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/format.h"
#include "core/species.h"
#include "store/mass.h"

/* A batch with its part of every breakdown it went into. */
struct balance_batch {
	char code[CODE_SIZE];
	char species[4];
	char supplier[24]; /* code */
	struct mass mass;
	char reason[200]; /* of what was left when it was used up */
};

/* A breakdown; of a batch's balance the part that is the batch's. */
struct balance_prep {
	int64_t id;
	struct moment at;
	struct mass mass;
	char reason[200];
	char batch[CODE_SIZE]; /* the first of its inputs */
	size_t inputs;
	grams of_g; /* weight of all its inputs: more than mass.in when shared
		     */
};

struct balance_report {
	const char *kitchen;
	const struct species_table *species;
	int64_t now_utc;
	char title[160];
	struct balance_batch *batches; /* owned by the caller, as are preps */
	size_t batch_count;
	struct balance_prep *preps;
	size_t prep_count;
	bool of_day;       /* preps: all that were made on the day */
	struct mass total; /* of the batches */
	bool cut;          /* there were more batches than are shown */
};

/* balance_write - append it.  FORMAT_CSV: one row a batch, then one row a
 * breakdown. */
void balance_write(
    struct buf *out, const struct balance_report *r, enum format format);

/* balance_text_mass - append a line for each part that holds something. */
void balance_text_mass(struct buf *out, const struct mass *m);

struct gaps_report {
	const char *kitchen;
	const struct species_table *species;
	day_no from, to;
	struct mass_gaps gaps;
	bool cut; /* there were more, older ones */
};

void gaps_write(
    struct buf *out, const struct gaps_report *r, enum format format);

#endif /* EXCHANGE_BALANCE_OUT_H */
