/* keeping_limits.h - up to where records may go.  Private to src/ops. */
#ifndef OPS_KEEPING_LIMITS_H
#define OPS_KEEPING_LIMITS_H

#include "ops/keeping.h"

struct keeping_limits {
	struct keep_rule rule;
	day_no today, latest, before; /* as in struct keeping */
};

/* keeping_limits - RC_OK, RC_REFUSED: `before` is too young. */
enum rc keeping_limits(struct keeping_limits *out, struct station *sn,
    day_no before, struct err *err) MUST_CHECK;

/* keeping_alone - the same of what stands alone; its number is not set. */
struct prune_alone_wish keeping_alone(
    const struct keeping_limits *l, enum prune_alone kind);

#endif /* OPS_KEEPING_LIMITS_H */
