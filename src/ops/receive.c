/* receive.c - goods in: a batch is recorded. */
#include "ops/receive.h"

#include <inttypes.h>

#include "base/str.h"
#include "receiving.h"
#include "store/batch_fish.h"
#include "store/holds.h"
#include "store/recalls.h"
#include "store/store.h"

static enum rc
record(struct receiving *r, struct err *err)
{
	const struct judgement *j = &r->judged;
	struct station *sn = r->sn;
	struct batch *b = &r->b;
	char shown[CODE_SIZE];
	struct buf why, seen;
	size_t i;
	enum rc rc;

	buf_init(&seen, 16384);
	buf_init(&why, 16384);
	judge_json(&seen, j);
	if (b->decision == DECISION_REFUSED)
		buf_puts(&why, "{}");
	else
		useby_json(&why, &r->dated, &sn->rules, NULL, false);
	if ((rc = delivery_put(&b->delivery_id, sn->st, b->supplier.id,
		 b->document, r->today, err)) == RC_OK &&
	    (rc = batch_insert(sn->st, b, r->today, buf_text(&why),
		 buf_text(&seen), err)) == RC_OK &&
	    (rc = batch_fish_insert(
		 sn->st, b->id, r->each.items, r->each.count, err)) == RC_OK)
		rc = station_audit(sn, &b->received, err, "receive",
		    code_show(shown, b->code), "%s: %s %s %" PRId64 " g: %s",
		    b->supplier.code, b->species,
		    presentation_word(b->presentation), b->weight_g,
		    decision_word(b->decision));
	for (i = 0; i < j->mark_count && rc == RC_OK; i++)
		rc = batch_mark(sn->st, b->id, j->marks[i],
		    freshness_grade_word(j->grades[i]), err);
	buf_fini(&seen);
	buf_fini(&why);
	return rc;
}

/*
 * More of a lot that is being recalled: blocked as it comes in.  A hold of its
 * own, since the list of the recall stays as it was opened: a person looks, and
 * releases it or opens another recall.
 */
static enum rc
hold_recalled(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;
	const struct subject s = { .batch_id = b->id };
	char shown[CODE_SIZE], why[160];
	int64_t id;
	enum rc rc;

	if (b->decision == DECISION_REFUSED)
		return RC_OK;
	rc = recall_of_lot(&id, r->sn->st, b->supplier.id, b->lot, err);
	if (rc != RC_OK)
		return rc == RC_NOTFOUND ? RC_OK : rc;
	str_fmt(why, sizeof(why), "recall %" PRId64 " is of this lot, %.100s",
	    id, b->lot);
	utf8_clean(why); /* it may have been cut within a character */
	if ((rc = hold_open(r->sn->st, &s, why, &b->received, err)) != RC_OK)
		return rc;
	return station_audit(r->sn, &b->received, err, "hold",
	    code_show(shown, b->code), "%s", why);
}

static enum rc
take_in(struct batch *out, struct receiving *r, struct station *sn,
    const struct receive_in *in, struct err *err)
{
	struct moment at;
	enum rc rc;

	r->at = RECEIVE_WHOLE;
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = receiving_read(r, sn, in, &at, err)) != RC_OK ||
	    (rc = receiving_judge(r, in->decision, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	/* The commit last: what failed later would look like nothing was
	 * recorded, and be recorded twice. */
	if ((rc = record(r, err)) == RC_OK &&
	    (rc = hold_recalled(r, err)) == RC_OK &&
	    (rc = batch_get(out, sn->st, r->b.code, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
receive(struct batch *out, struct judgement *judged, struct station *sn,
    const struct receive_in *in, struct err *err)
{
	struct receiving r;
	enum rc rc = take_in(out, &r, sn, in, err);

	if (rc == RC_OK && judged != NULL)
		*judged = r.judged;
	return rc;
}

enum rc
receive_at(struct batch *out, enum receive_field *at, struct station *sn,
    const struct receive_in *in, struct err *err)
{
	struct receiving r;
	enum rc rc = take_in(out, &r, sn, in, err);

	*at = r.at;
	return rc;
}
