/*
 * core/keeping.h - how long records must be kept.
 *
 * Each kind of record has its own duty, but none may go while the longest duty
 * of all still runs: what an inspector asks for is the whole chain, and a tag
 * without its delivery says nothing.  Figures are the rule set's (R-K1); a
 * house may lengthen them and shorten none.  Pure.
 */
#ifndef CORE_KEEPING_H
#define CORE_KEEPING_H

#include <stddef.h>

#include "base/err.h"
#include "core/ruleset.h"

enum keep_kind {
	KEEPING_CHAIN,     /* deliveries, breakdowns, units and their events */
	KEEPING_SHELLFISH, /* shellfish batches with their tag data */
	KEEPING_FROZEN,    /* freezing against parasites, of fish served raw */
	KEEPING_FARM,      /* bought directly from a farm */
	KEEPING_LABELS,    /* labels and lists that were printed */
	KEEPING_CASES,     /* recalls, complaints, drills */
	KEEPING_SALES,     /* services and what was sold */
	KEEPING_CLOCKS,    /* dates somebody confirmed */
	KEEPING_COUNT
};

/* What a house says, in days; 0: nothing. */
struct keep_house {
	int records_days, cases_days, sales_days, clock_days;
};

struct keep_duty {
	const struct figure *law; /* borrowed from the set; NULL: none */
	int house_days;           /* 0: none */
	int days;                 /* in force: never below keep_rule.longest */
};

#define KEEP_WORDS_SIZE 260

struct keep_rule {
	struct keep_duty duty[KEEPING_COUNT];
	int longest;                 /* days; 0: no duty is known */
	char binds[KEEP_WORDS_SIZE]; /* the rule behind it, with its source */
};

/*
 * keep_rule_make - the duties in force.  `set` must outlive *out.
 * RC_OK, or RC_REFUSED when the house would keep something for less than the
 * longest duty of the rule set; err names both.
 */
enum rc keep_rule_make(struct keep_rule *out, const struct ruleset *set,
    const struct keep_house *house, struct err *err) MUST_CHECK;

/* keep_kind_word - "deliveries and breakdowns". */
const char *keep_kind_word(enum keep_kind kind);

#endif /* CORE_KEEPING_H */
