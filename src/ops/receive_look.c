/* receive_look.c - goods in: what there is to say before a batch is recorded.
 */
#include <string.h>

#include "base/str.h"
#include "ops/watch.h"
#include "receiving.h"

enum rc
receive_prefill(struct receive_label *out, const struct station *sn,
    const char *const *scans, size_t scan_count, struct err *err)
{
	struct receive_in in = { .scan_count = scan_count };
	struct prefill room;
	const struct {
		enum receive_field field;
		const char **text;
	} rows[] = {
		{ RECEIVE_SPECIES, &in.species },
		{ RECEIVE_LOT, &in.lot },
		{ RECEIVE_AREA, &in.area },
		{ RECEIVE_GEAR, &in.gear },
		{ RECEIVE_WEIGHT, &in.weight },
		{ RECEIVE_COUNT, &in.count },
		{ RECEIVE_SUPPLIER_DATE, &in.supplier_date },
		{ RECEIVE_CAUGHT, &in.caught },
	};
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->first_freeze = out->best_before = DAY_NONE;
	if (scan_count == 0)
		return RC_OK;
	if (scan_count > RECEIVE_SCANS_MAX)
		return err_set(err, RC_INVALID, 0, "more than %d --scan",
		    RECEIVE_SCANS_MAX);
	memcpy(in.scans, scans, scan_count * sizeof(*scans));
	if ((rc = prefill(&in, &room, sn, err)) != RC_OK)
		return rc;
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++)
		if (*rows[i].text != NULL)
			str_copy(out->value[rows[i].field], RECEIVE_VALUE_SIZE,
			    *rows[i].text);
	out->first_freeze = room.got.first_freeze;
	out->best_before = room.got.best_before;
	return RC_OK;
}

/*
 * The mildest decision that may stand is proposed; a refusal where the marks
 * propose one, though a note may say why not.
 */
static enum rc
propose(struct receive_view *out, struct receiving *r, struct err *err)
{
	static const enum decision order[] = {
		DECISION_ACCEPTED,
		DECISION_NOTED,
		DECISION_REFUSED,
	};
	const struct batch read = r->b;
	struct err why;
	size_t i;
	enum rc rc;

	for (i = 0; i < sizeof(order) / sizeof(order[0]); i++) {
		memset(&why, 0, sizeof(why));
		r->b = read;
		rc = receiving_judge(r, order[i], &why);
		if (rc == RC_OK) {
			out->mildest = out->proposed = order[i];
			if (r->judged.graded && r->judged.verdict.refuse)
				out->proposed = DECISION_REFUSED;
			return RC_OK;
		}
		if (rc != RC_REFUSED)
			return err_set(err, rc, why.lib, "%s", why.text);
		/* Of two reasons the one that leaves less of a choice. */
		str_copy(out->why, sizeof(out->why), why.text);
		out->why_at = r->at;
	}
	return err_set(err, RC_REFUSED, 0, "%s", out->why);
}

enum rc
receive_look(struct receive_view *out, enum receive_field *at,
    struct station *sn, const struct receive_in *in, struct err *err)
{
	struct receive_in typed = *in;
	struct moment now = { .utc = clock_now(&sn->clock) };
	struct err doubt = { 0 };
	struct receiving r;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	now.offset_min = local_from_utc(now.utc).offset_min;
	typed.note = "-"; /* nobody decided yet */
	if ((rc = watch_check(sn, now.utc, &doubt)) != RC_OK &&
	    rc != RC_REFUSED)
		return err_set(err, rc, doubt.lib, "%s", doubt.text);
	str_copy(out->doubt, sizeof(out->doubt), doubt.text);
	if ((rc = receiving_read(&r, sn, &typed, &now, err)) == RC_OK)
		rc = propose(out, &r, err);
	if (at != NULL)
		*at = r.at;
	if (rc != RC_OK)
		return rc;
	out->batch = r.b;
	out->batch.note[0] = '\0';
	out->judged = r.judged;
	out->dated = out->mildest != DECISION_REFUSED && out->doubt[0] == '\0';
	if (out->dated)
		out->bound = r.dated.limits[r.dated.bound];
	return RC_OK;
}

enum rc
received_on(struct batch_list *out, struct station *sn, day_no day, size_t most,
    struct err *err)
{
	return batch_list_newest(out, sn->st, day, most, err);
}

enum rc
suppliers_known(
    struct supplier_list *out, struct station *sn, size_t most, struct err *err)
{
	return supplier_list(out, sn->st, most, err);
}
