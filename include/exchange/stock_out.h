/*
 * exchange/stock_out.h - stock on hand, and the chain of one code.
 */
#ifndef EXCHANGE_STOCK_OUT_H
#define EXCHANGE_STOCK_OUT_H

#include "base/buf.h"
#include "base/format.h"
#include "core/mass.h"
#include "core/species.h"
#include "store/batches.h"
#include "store/freezing.h"
#include "store/holds.h"
#include "store/jobs.h"
#include "store/portions.h"
#include "store/preps.h"
#include "store/sources.h"

/* One thing on hand: a batch or a labelled unit. */
struct stock_item {
	const struct batch *batch;     /* or NULL */
	const struct portion *portion; /* or NULL */
};

struct stock_report {
	const char *kitchen;
	int64_t now_utc;
	const struct species_table *species;
	struct stock_item *items; /* first to expire first */
	size_t count;
};

/* stock_write - append the listing. */
void stock_write(
    struct buf *out, const struct stock_report *r, enum format format);

/* A labelled unit with all that became of it. */
struct traced_portion {
	struct portion portion;
	struct portion_event_list events;
	struct hold_list holds;
	struct hold_note_list notes; /* at those */
	struct hold other_hold;      /* in force, of whatever holds it; id 0 */
	char place[48];              /* where it is, as far as is known */
	struct job_list labels;
	char *why; /* use-by decision when it was made, JSON */
	struct freezing_list freezings;
	char **freezing_why;            /* one for each, JSON */
	struct portion_part_list parts; /* what a tray was put together from */
	struct portion_part_list went; /* trays that the rest of it went onto */
};

/* What became of servings; with what is left they are what was made. */
struct portion_sums {
	int64_t used, discarded;
	int64_t missing;  /* less what was found again */
	int64_t struck;   /* of a breakdown that never happened */
	int64_t combined; /* put onto another tray */
};

void portion_sums(struct portion_sums *s, const struct traced_portion *t);

/* Where the grams of a batch are. */
struct gram_balance {
	grams received;
	grams portions, trim, frames, waste; /* out of breakdowns */
	grams discarded;                     /* before any breakdown */
	grams whole;                         /* still there, unopened */
	grams returned;                      /* refused at the door */
	grams struck;                        /* taken in by mistake */
	grams unexplained;                   /* the rest; below 0: overweight */
};

/* balance_of - the same grams with all that is in portions as one; the parts
 * always sum up to what was received. */
struct gram_balance balance_of(const struct mass *m);

struct trace_report {
	const char *kitchen;
	int64_t now_utc;
	const struct species_table *species;
	char asked[CODE_SIZE]; /* code without hyphen */
	bool of_portion;       /* back from a portion, else forward */
	struct batch batch;
	struct mass mass;      /* of the batch, forward; else zeros */
	char *batch_why;       /* use-by decision, JSON */
	char *batch_judgement; /* what was seen at goods in, JSON */
	struct hold_list batch_holds;
	struct hold_list prep_holds;       /* on its breakdowns */
	struct hold_note_list batch_notes; /* at both */
	char batch_place[48];
	struct job_list batch_labels;
	struct batch_struck batch_struck; /* taken in by mistake */
	struct prep_list preps;
	struct prep_list struck;         /* breakdowns entered by mistake */
	struct traced_portion *portions; /* of the batch; the one asked when
					    of_portion */
	size_t portion_count;
	/* of_portion: the other batches it is made of, each with what stands
	 * above about a batch; owned. */
	struct trace_report *others;
	size_t other_count;
};

/* trace_write - append the chain.  FORMAT_CSV gives one row a portion. */
void trace_write(
    struct buf *out, const struct trace_report *r, enum format format);

/* trace_text_why - append a stored use-by decision (JSON), a line a limit. */
void trace_text_why(struct buf *out, const char *why);
/* trace_text_freezings - append what freezing and thawing did to the date. */
void trace_text_freezings(struct buf *out, const struct traced_portion *t);

#endif /* EXCHANGE_STOCK_OUT_H */
