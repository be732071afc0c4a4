/*
 * cut_search.h - outcomes of a fish, and the programme over them; for
 * src/core/cut*.c.
 *
 * Slack: how much dearer than the bound, at the prices the lists were made at.
 */
#ifndef CUT_SEARCH_H
#define CUT_SEARCH_H

#include "cut_work.h"

/*
 * Everything one fish may become that is worth at most `window` more than its
 * best, at some prices; cheapest first.
 */
struct cut_outcome {
	int64_t slack; /* above the best */
	int32_t trim;
	uint8_t mode, dish, way;
	uint16_t pat[CUT_PIECES_MAX];
	uint16_t n[CUT_DISHES_MAX];
};

struct cut_outcomes {
	size_t fish;
	int64_t least;  /* cost of the best at the prices */
	int64_t window; /* nothing with so much slack or less is missing */
	size_t count, pat_count;
	struct cut_outcome *items;
	struct cut_pat *pats;
};

/*
 * Dynamic programme over the fish of one species, or some of them.  A label is
 * the portions made so far, capped at need, with its slack above the bound.
 */
struct cut_final {
	uint16_t n[CUT_DISHES_MAX]; /* of the link dishes */
	int32_t trim;
	uint32_t trace;
	int64_t slack;
};

struct cut_dp {
	const struct cut_prices *pr;
	const struct cut_outcomes *const
	    *lists; /* borrowed, in order of stages */
	size_t count;
	const struct cut_need *need;
	uint32_t own;  /* dishes settled here: what is short at the end costs */
	uint32_t link; /* dishes counted, to be settled elsewhere */
	int species;
	bool trim; /* trim is counted too, not only priced */
	bool finals_wanted;
	int64_t limit; /* slack of interest, at most */
	size_t width;  /* labels of one stage, at most */
	size_t most;   /* outcomes of a list; 0: all, else lost says nothing */
	/* out */
	int64_t value; /* slack of the best, CUT_NEVER when none */
	int64_t lost;  /* least slack cut off, CUT_NEVER when none */
	uint32_t best; /* its trace */
	size_t final_count;
	struct cut_final *finals; /* when wanted; held */
	size_t trace_count, trace_cap;
	struct cut_trace {
		uint32_t before, outcome;
	} * trace; /* held */
};

/* The fish of one species. */
struct cut_part {
	int species;
	uint32_t dishes; /* its fish can make */
	size_t count;
	size_t *fish;
	struct cut_outcomes *list; /* [count]; empty when it had no room */
	const struct cut_outcomes **order; /* [count]: most decided first */
	int64_t least;                     /* proved: slack its best plan has */
	int64_t work;                      /* its last programme took */
	bool whole;                        /* every fish has its list */
	bool done; /* least is its optimum, or above limit */
};

/* cut_outcomes.c */
bool cut_outcomes_make(struct cut_outcomes *out, struct cut_work *w,
    size_t fish, const struct cut_prices *pr, int64_t window, size_t max);
void cut_outcomes_fini(struct cut_outcomes *l, struct cut_work *w);
void cut_outcome_pick(
    struct cut_pick *out, const struct cut_outcomes *l, size_t outcome);

/* cut_dp.c */
bool cut_dp_run(struct cut_dp *dp, struct cut_work *w);
void cut_dp_picks(
    struct cut_pick *picks, const struct cut_dp *dp, uint32_t trace);
void cut_dp_fini(struct cut_dp *dp, struct cut_work *w);

/* cut_near.c */
void cut_near(
    struct cut_work *w, const struct cut_part *parts, int count, int64_t work);

/* cut_link.c */
int64_t cut_link(struct cut_work *w, struct cut_part *parts, int count,
    uint32_t shared, int64_t base, size_t width);

#endif /* CUT_SEARCH_H */
