/*
 * useby_facts.h - facts about a food written as a cook would say them, the
 * shipped rule sets, and random facts, for the suites about dates.
 */
#ifndef USEBY_FACTS_H
#define USEBY_FACTS_H

#include <stdbool.h>
#include <stdint.h>

#include "core/useby.h"

/* Texts, NULL when not known; times as time_parse() takes them. */
struct facts {
	enum food_state state;
	const char *species;
	const char *prepared, *received, *caught, *frozen, *thawed;
	const char *supplier;
	const char *ingredients[3];
	const char *storage, *freeze; /* degrees Celsius */
	bool farmed;
	bool freezing_day_free; /* the day of freezing does not count as used */
	const char *house;      /* last day of a house life */
};

/* facts_read - in the zone that is set now; `t` must outlive `in`. */
void facts_read(
    struct useby_in *in, const struct facts *f, const struct species_table *t);

/* The shipped sets, the strict one last. */
#define RULE_SETS 4
extern const char *const rule_set_names[RULE_SETS];

/* rules_shipped - config/rules/NAME.ini; strict is folded here, from the names
 * in its file. */
void rules_shipped(struct ruleset *out, const char *name);

/* Numbers that are the same in every run. */
struct dice {
	uint64_t seed;
};
int roll(struct dice *d, int n); /* 0 to n - 1 */

/* facts_any - facts in a possible order, with a limit from outside the rules
 * far away, so that something always applies. */
void facts_any(
    struct useby_in *in, struct dice *d, const struct species_table *t);

#endif /* USEBY_FACTS_H */
