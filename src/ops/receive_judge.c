/* receive_judge.c - goods in: may it be taken in, and how long will it keep. */
#include "base/str.h"
#include "receiving.h"

/* docs/rules.md R-G7: what needs a word of explanation. */
#define OLD_CATCH_DAYS 21

#define NOTE_OR_REFUSE                                                         \
	"accept it with --note TEXT or refuse it with --refuse REASON"

static enum rc
check_note(struct receiving *r, struct err *err)
{
	struct batch *b = &r->b;
	const char *note = r->in.note;
	bool may_be_empty = b->decision == DECISION_ACCEPTED;
	const char *what = "the note or reason";
	enum rc rc;

	if (note == NULL && !may_be_empty)
		return err_set(err, RC_INVALID, 0, "%s is missing", what);
	if (note == NULL)
		note = "";
	rc = text_check(what, note, sizeof(b->note) - 1, may_be_empty, err);
	if (rc == RC_OK)
		str_copy(b->note, sizeof(b->note), note);
	return rc;
}

static enum rc
judge_seen(struct receiving *r, struct err *err)
{
	static const enum receive_field at[] = {
		[JUDGE_AREA] = RECEIVE_AREA,
		[JUDGE_MARKS] = RECEIVE_MARKS,
		[JUDGE_POINTS] = RECEIVE_POINTS,
		[JUDGE_CONDITION] = RECEIVE_CONDITION,
		[JUDGE_SIZE] = RECEIVE_SIZE,
		[JUDGE_DONE] = RECEIVE_WHOLE,
	};
	enum rc rc =
	    judge(&r->judged, &r->b, r->sn, &r->in.seen, r->today, err);

	r->at = at[r->judged.at];
	return rc;
}

/* --- docs/rules.md R-G1 to R-G4, R-G7: what may not be accepted ----------- */

static enum rc
limit_supplier_date(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;

	if (b->decision == DECISION_REFUSED || b->supplier_use_by == DAY_NONE ||
	    b->supplier_use_by >= r->today)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "the supplier's use-by has passed: it can only be refused "
	    "(--refuse REASON)");
}

static enum rc
limit_warm(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;
	const struct config *cfg = &r->sn->cfg;
	int most = b->presentation == PRES_LIVE ? cfg->live_refuse_above_dc
						: cfg->refuse_above_dc;
	char is[16], limit[16];

	if (b->decision == DECISION_REFUSED || b->temp_dc <= most)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s is above the limit of %s: it can only be refused "
	    "(--refuse REASON)",
	    temp_print(is, sizeof(is), b->temp_dc),
	    temp_print(limit, sizeof(limit), most));
}

static enum rc
limit_frozen(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;
	char is[16];

	if (b->decision != DECISION_ACCEPTED ||
	    b->temp_dc >= RECEIVE_FROZEN_BELOW_DC)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s is frozen, and this is dated as fresh: " NOTE_OR_REFUSE,
	    temp_print(is, sizeof(is), b->temp_dc));
}

static enum rc
limit_old(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;

	if (b->decision != DECISION_ACCEPTED || b->caught_day == DAY_NONE ||
	    r->today - b->caught_day <= OLD_CATCH_DAYS)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "caught %d days ago: " NOTE_OR_REFUSE,
	    (int)(r->today - b->caught_day));
}

static enum rc
limit_note(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;
	int most = r->sn->cfg.note_above_dc;
	char is[16], limit[16];

	if (b->decision != DECISION_ACCEPTED || b->presentation == PRES_LIVE ||
	    b->temp_dc <= most)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0, "%s is above %s: " NOTE_OR_REFUSE,
	    temp_print(is, sizeof(is), b->temp_dc),
	    temp_print(limit, sizeof(limit), most));
}

/* --- docs/rules.md R-G11: what the scanned label says against a plain
 * acceptance ---------------------------------------------------------------*/

static enum rc
label_species(struct receiving *r, struct err *err)
{
	const char *says = r->filled.got.species;

	if (r->b.decision != DECISION_ACCEPTED || says[0] == '\0' ||
	    str_eq(says, r->b.species))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "--species says %s and the label says %s: " NOTE_OR_REFUSE,
	    r->b.species, says);
}

/* R-G13: a typed day that would make the food look fresher than its label. */
static enum rc
not_later(const struct receiving *r, const char *option, day_no typed,
    day_no label, struct err *err)
{
	char is[16], says[16];

	if (r->b.decision == DECISION_REFUSED || r->in.scan_count == 0 ||
	    typed == DAY_NONE || label == DAY_NONE || typed <= label)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s %s is later than the label's %s: take the label's, or leave "
	    "the label out if it is of other goods",
	    option, day_print(is, sizeof(is), typed),
	    day_print(says, sizeof(says), label));
}

static enum rc
label_use_by(struct receiving *r, struct err *err)
{
	return not_later(r, "--supplier-date", r->b.supplier_use_by,
	    r->filled.last_day, err);
}

static enum rc
label_caught(struct receiving *r, struct err *err)
{
	return not_later(
	    r, "--caught", r->b.caught_day, r->filled.got.harvest_first, err);
}

static enum rc
label_days(struct receiving *r, struct err *err)
{
	const struct gs1_prefill *label = &r->filled.got;
	char day[16];

	/* No label, no days: they are 0 then, not DAY_NONE. */
	if (r->b.decision != DECISION_ACCEPTED || r->in.scan_count == 0)
		return RC_OK;
	if (label->first_freeze != DAY_NONE)
		return err_set(err, RC_REFUSED, 0,
		    "the label says first frozen %s, and this is dated as "
		    "fresh: " NOTE_OR_REFUSE,
		    day_print(day, sizeof(day), label->first_freeze));
	if (label->best_before != DAY_NONE && label->best_before < r->today)
		return err_set(err, RC_REFUSED, 0,
		    "the label's best-before %s has passed: " NOTE_OR_REFUSE,
		    day_print(day, sizeof(day), label->best_before));
	return RC_OK;
}

static enum rc
limit_seen(struct receiving *r, struct err *err)
{
	enum rc rc = judge_decision(&r->judged, r->b.decision, err);

	if (rc == RC_OK)
		return RC_OK;
	if (!r->judged.graded || !r->judged.verdict.refuse)
		r->at = RECEIVE_SIZE;
	return rc;
}

static enum rc
date(struct receiving *r, struct err *err)
{
	struct batch *b = &r->b;
	struct useby *u = &r->dated;
	enum rc rc;

	if (b->decision == DECISION_REFUSED) {
		/* Sent back: no date is given, and none is needed. */
		b->use_by_utc = use_by_instant(r->today);
		return RC_OK;
	}
	if ((rc = date_batch(u, r->sn, b, err)) != RC_OK)
		return rc;
	if (useby_utc(u) < b->received.utc)
		return err_set(err, RC_REFUSED, 0,
		    "out of date already (%s): it can only be refused "
		    "(--refuse REASON)",
		    u->limits[u->bound].name);
	b->use_by_utc = useby_utc(u);
	return RC_OK;
}

static const struct receiving_step steps[] = {
	{ RECEIVE_NOTE, check_note },
	{ RECEIVE_WHOLE, judge_seen },
	{ RECEIVE_SUPPLIER_DATE, limit_supplier_date },
	{ RECEIVE_TEMP, limit_warm },
	{ RECEIVE_TEMP, limit_frozen },
	{ RECEIVE_CAUGHT, limit_old },
	{ RECEIVE_TEMP, limit_note },
	{ RECEIVE_SUPPLIER_DATE, label_use_by },
	{ RECEIVE_CAUGHT, label_caught },
	{ RECEIVE_SPECIES, label_species },
	{ RECEIVE_SCAN, label_days },
	{ RECEIVE_MARKS, limit_seen },
	{ RECEIVE_WHOLE, date },
};

enum rc
receiving_judge(struct receiving *r, enum decision decision, struct err *err)
{
	r->b.decision = decision;
	return receiving_go(r, steps, sizeof(steps) / sizeof(steps[0]), err);
}
