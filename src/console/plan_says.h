/*
 * plan_says.h - what the chef says about batches and fish, as options of every
 * command that plans.  Private to src/console.
 */
#ifndef CONSOLE_PLAN_SAYS_H
#define CONSOLE_PLAN_SAYS_H

#include "console/args.h"
#include "ops/plan.h"

#define PLAN_SAYS_MAX 64

#define PLAN_SAYS_OPTIONS                                                      \
	{ "why", NULL, "where every number comes from" },                      \
	    { "strict", NULL, "first to expire first, whatever it costs" },    \
	    { "first", "BATCH[:FISH]", "use it before all others that fit" },  \
	    { "leave", "BATCH[:FISH]", "leave it closed" },                    \
	    { "serve-whole", "BATCH[:FISH]", "serve it whole if a dish can" }, \
	{                                                                      \
		"board", "BATCH:G,G",                                          \
		    "pieces weighed on the board, not yet recorded"            \
	}

/* plan_says_read - RC_OK, or RC_INVALID: too many. */
enum rc plan_says_read(struct plan_say says[PLAN_SAYS_MAX], size_t *count,
    const struct args *a, struct err *err) MUST_CHECK;

#endif /* CONSOLE_PLAN_SAYS_H */
