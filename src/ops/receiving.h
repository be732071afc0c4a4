/*
 * receiving.h - a batch on its way in: what receive() and receive_look() share.
 * Private to src/ops.
 */
#ifndef OPS_RECEIVING_H
#define OPS_RECEIVING_H

#include "core/useby.h"
#include "ops/receive.h"
#include "prefill.h"
#include "weighed.h"

struct receiving {
	struct station *sn;
	struct receive_in in; /* as keyed, the rest from the label */
	struct prefill filled;
	struct weighed each;
	struct batch b;
	struct judgement judged;
	struct useby dated; /* unless it is refused */
	day_no today;
	enum receive_field at; /* being looked at: what is refused */
};

/* One question about the batch; the field it is about stands in its row. */
struct receiving_step {
	enum receive_field at;
	enum rc (*go)(struct receiving *r, struct err *err);
};

/* receiving_go - one after another until one is not RC_OK; r->at is then its
 * field. */
enum rc receiving_go(struct receiving *r, const struct receiving_step *steps,
    size_t count, struct err *err) MUST_CHECK;

/*
 * receiving_read - begin: the label, then every field that stands whatever is
 * decided.  `at` has the instant and who.
 */
enum rc receiving_read(struct receiving *r, struct station *sn,
    const struct receive_in *in, const struct moment *at,
    struct err *err) MUST_CHECK;

/* receiving_judge - may it be taken in by this decision, and until when may it
 * be used? */
enum rc receiving_judge(
    struct receiving *r, enum decision decision, struct err *err) MUST_CHECK;

#endif /* OPS_RECEIVING_H */
