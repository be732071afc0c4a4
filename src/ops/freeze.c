/* freeze.c - units into the freezer and out of it. */
#include "ops/freeze.h"

#include <assert.h>
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "mix.h"
#include "store/store.h"
#include "unit.h"

/* What may neither go in nor come out. */
static enum rc
may_move(const struct portion *p, int64_t now, struct err *err)
{
	char shown[CODE_SIZE], text[48];

	code_show(shown, p->code);
	if (p->left == 0)
		return err_set(
		    err, RC_REFUSED, 0, "portion %s is used up already", shown);
	if (p->use_by_utc < now)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s expired on %s: discard it", shown,
		    time_short(text, sizeof(text), p->use_by_utc));
	if (p->held)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is on hold: leave it where it is", shown);
	return RC_OK;
}

static enum rc
may_freeze(const struct portion *p, int64_t now, struct err *err)
{
	char shown[CODE_SIZE];

	if (p->keep == KEEP_FROZEN)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is frozen already", code_show(shown, p->code));
	return may_move(p, now, err);
}

static enum rc
may_thaw(const struct portion *p, int64_t now, struct err *err)
{
	char shown[CODE_SIZE];

	if (p->keep != KEEP_FROZEN)
		return err_set(err, RC_REFUSED, 0, "portion %s is not frozen",
		    code_show(shown, p->code));
	return may_move(p, now, err);
}

enum rc
frozen_life_of(struct frozen_life *out, struct station *sn,
    const struct portion *p, struct err *err)
{
	struct freezing_list l;
	const struct freezing *f;
	char shown[CODE_SIZE];
	enum rc rc;

	if ((rc = freezing_list_open(&l, sn->st, p->id, err)) != RC_OK)
		return rc;
	if (l.count == 0 || l.items[0].to != KEEP_FROZEN) {
		rc = err_set(err, RC_NOTFOUND, 0,
		    "portion %s has no record of freezing",
		    code_show(shown, p->code));
	} else {
		f = &l.items[0];
		*out = (struct frozen_life){
			.frozen_utc = f->at.utc,
			.freeze_dc = f->temp_dc,
			.days_left = f->days_left,
			.until_utc = f->use_by_utc,
		};
	}
	freezing_list_fini(&l);
	return rc;
}

/* The record, the portion's new date and the audit row. */
static enum rc
record(struct kept *k, struct station *sn, const struct mix *mix,
    const struct mix_dates *dates, struct err *err)
{
	struct freezing *f = &k->record;
	bool in = f->to == KEEP_FROZEN;
	char shown[CODE_SIZE], before[48], after[48], cold[16] = "";
	struct buf why;
	enum rc rc;

	f->use_by_before_utc = k->portion.use_by_utc;
	f->use_by_utc = useby_utc(&k->useby);
	buf_init(&why, MIX_WHY_MAX);
	mix_json(&why, mix, dates, &sn->rules, NULL);
	if ((rc = buf_check(&why, "the use-by decision", err)) == RC_OK)
		rc = freezing_insert(
		    sn->st, k->portion.id, f, buf_text(&why), err);
	buf_fini(&why);
	if (rc != RC_OK)
		return rc;
	k->portion.use_by_utc = f->use_by_utc;
	k->portion.keep = f->to;
	*(in ? &k->portion.frozen_utc : &k->portion.thawed_utc) = f->at.utc;
	if (in)
		temp_print(cold, sizeof(cold), f->temp_dc);
	return station_audit(sn, &f->at, err, in ? "freeze" : "thaw",
	    code_show(shown, k->portion.code),
	    "%" PRId64 " of %s%s%s, use by %s, before %s%s%s", k->portion.left,
	    k->portion.dish, in ? " at " : "", cold,
	    time_short(after, sizeof(after), f->use_by_utc),
	    time_short(before, sizeof(before), f->use_by_before_utc),
	    f->reason[0] == '\0' ? "" : ": ", f->reason);
}

/* One unit; k->record has who, when, why and how cold. */
static enum rc
move_unit(struct kept *k, struct station *sn, const char *code, struct err *err)
{
	struct freezing *f = &k->record;
	struct frozen_life life = { .frozen_utc = f->at.utc,
		.freeze_dc = f->temp_dc };
	bool in = f->to == KEEP_FROZEN;
	char shown[CODE_SIZE];
	struct mix_dates dates;
	struct mix mix;
	enum rc rc;

	if ((rc = unit_by_code(&k->portion, sn, code, err)) != RC_OK ||
	    (rc = (in ? may_freeze : may_thaw)(&k->portion, f->at.utc, err)) !=
		RC_OK ||
	    (rc = mix_of_unit(&mix, sn, &k->portion, err)) != RC_OK)
		return rc;
	if (in) {
		rc = mix_frozen(&dates, &life, sn, &mix, &k->portion, err);
	} else {
		rc = frozen_life_of(&life, sn, &k->portion, err);
		if (rc == RC_OK)
			rc = mix_thawed(&dates, sn, &mix, &k->portion, &life,
			    f->at.utc, err);
	}
	if (rc != RC_OK) {
		err_prefix(
		    err, "portion %s: ", code_show(shown, k->portion.code));
		return rc;
	}
	f->days_left = life.days_left;
	k->useby = dates.each[dates.first];
	return record(k, sn, &mix, &dates, err);
}

static enum rc
move_all(struct kept *out, struct station *sn, const struct freeze_in *in,
    const struct freezing *as, struct err *err)
{
	size_t i;
	enum rc rc;

	assert(in->count >= 1 && in->count <= FREEZE_UNITS_MAX);
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	for (i = 0; i < in->count && rc == RC_OK; i++) {
		memset(&out[i], 0, sizeof(out[i]));
		out[i].record = *as;
		rc = move_unit(&out[i], sn, in->codes[i], err);
	}
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
freeze(struct kept *out, struct station *sn, const struct freeze_in *in,
    struct err *err)
{
	struct freezing as = { .to = KEEP_FROZEN };
	enum rc rc;

	if ((rc = station_moment(&as.at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(as.reason, sizeof(as.reason), in->reason,
		 in->reason == NULL, err)) != RC_OK ||
	    (rc = freezer_temp_parse(
		 &as.temp_dc, "--temperature", in->temp, err)) != RC_OK)
		return rc;
	return move_all(out, sn, in, &as, err);
}

enum rc
thaw(struct kept *out, struct station *sn, const struct freeze_in *in,
    struct err *err)
{
	struct freezing as = { .to = KEEP_THAWED };
	enum rc rc;

	if ((rc = station_moment(&as.at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(as.reason, sizeof(as.reason), in->reason,
		 in->reason == NULL, err)) != RC_OK)
		return rc;
	return move_all(out, sn, in, &as, err);
}
