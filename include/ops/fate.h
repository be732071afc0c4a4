/*
 * ops/fate.h - what becomes of stock: used, discarded, counted.  Holding and
 * releasing it is ops/hold.h.
 */
#ifndef OPS_FATE_H
#define OPS_FATE_H

#include "base/err.h"
#include "ops/hold.h"
#include "ops/station.h"
#include "store/batches.h"
#include "store/portions.h"

struct use_in {
	const char *code;
	int64_t servings;    /* 0: all that is left */
	const char *service; /* "DATE/NAME", or NULL: the present sitting */
	const char *reason;  /* why not the older one first; may be NULL */
	const char *by;
};

/*
 * use - scan out for service.  *out is the portion afterwards.
 * RC_OK
 * RC_REFUSED   expired, on hold, fewer left, or an older one should go first
 *              (named), unless a reason is given
 * RC_INVALID, RC_NOTFOUND
 */
enum rc use(struct portion *out, struct station *sn, const struct use_in *in,
    struct err *err) MUST_CHECK;

/* Why a unit may not go out now, the gravest first. */
enum use_verdict {
	USE_MAY,
	USE_USED_UP,
	USE_EXPIRED,
	USE_HELD,
	USE_FROZEN,
	USE_OLDER_FIRST, /* a reason opens this one, and no other */
};

struct use_look {
	struct portion portion;
	enum use_verdict verdict;
	struct portion older; /* USE_OLDER_FIRST: the first of its dish */
	/* USE_USED_UP: the tray that the rest of it was put onto, or "" */
	char onto[CODE_SIZE];
};

/*
 * use_look - may it go out now?  As use() would judge it; records nothing.
 * RC_OK, RC_INVALID, RC_NOTFOUND.
 */
enum rc use_look(struct use_look *out, struct station *sn, const char *code,
    struct err *err) MUST_CHECK;

struct count_in {
	const char *code;
	int64_t servings;   /* seen on hand, 0 or more */
	const char *reason; /* needed when it is not what the record has */
	const char *by;
};

struct counted {
	struct portion portion; /* afterwards */
	int64_t before;         /* left on record until then */
};

/*
 * count_unit - a portion or tray counted by hand.  What is missing, or found
 * after all, becomes an event with its reason; nothing is deleted.
 * RC_OK, RC_REFUSED (more than was ever made), RC_INVALID, RC_NOTFOUND.
 */
enum rc count_unit(struct counted *out, struct station *sn,
    const struct count_in *in, struct err *err) MUST_CHECK;

struct discard_in {
	const char *code; /* of a portion or a batch */
	int64_t servings; /* of a portion; 0: all that is left */
	int64_t fish;     /* of a counted batch */
	grams weight_g;   /* of a batch; 0 with fish 0: all that is left */
	const char *reason;
	const char *by;
};

/* What was thrown away. */
struct discarded {
	enum code_kind kind;
	char code[CODE_SIZE];
	int64_t servings, servings_left;
	int64_t fish;
	grams weight_g, weight_left;
};

/*
 * discard - throw away, with a reason.  Held and expired stock included: it
 * has to go somewhere.
 * RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED (nothing or less left).
 */
enum rc discard(struct discarded *out, struct station *sn,
    const struct discard_in *in, struct err *err) MUST_CHECK;

/*
 * sitting_parse - "2026-11-27/dinner": a day and a service of the settings.
 * RC_OK or RC_INVALID.
 */
enum rc sitting_parse(day_no *day, const struct service_window **window,
    const struct config *cfg, const char *text, struct err *err) MUST_CHECK;

/* sitting_present - of today: the one going on, else the next, else the last
 * there was.  What use() takes when nobody names a service. */
const struct service_window *sitting_present(
    const struct config *cfg, const struct local_time *now);

#endif /* OPS_FATE_H */
