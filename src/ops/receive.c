/* receive.c - goods in. */
#include "ops/receive.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "prefill.h"
#include "store/batch_fish.h"
#include "store/store.h"
#include "weighed.h"

static enum rc
want(const char *value, const char *option, struct err *err)
{
	if (value != NULL)
		return RC_OK;
	return err_set(err, RC_INVALID, 0, "%s is missing", option);
}

static enum rc
want_text(char *dst, size_t size, const char *option, const char *value,
    bool may_be_empty, struct err *err)
{
	enum rc rc;

	if (value == NULL && may_be_empty)
		value = "";
	if ((rc = want(value, option, err)) != RC_OK ||
	    (rc = text_check(option, value, size - 1, may_be_empty, err)) !=
		RC_OK)
		return rc;
	str_copy(dst, size, value);
	return RC_OK;
}

/* Production method, by the words of Reg. (EU) 1379/2013 Art. 35. */
static enum rc
parse_method(struct batch *b, const char *s, struct err *err)
{
	static const char *const words[] = {
		"caught",
		"caught-freshwater",
		"farmed",
	};
	size_t i;
	enum rc rc;

	if ((rc = want(s, "--method", err)) != RC_OK)
		return rc;
	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (str_eq_nocase(s, words[i])) {
			str_copy(b->method, sizeof(b->method), words[i]);
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "--method \"%.40s\" is not known: caught, caught-freshwater or "
	    "farmed",
	    s);
}

static enum rc
parse_amount(struct batch *b, struct weighed *each, const struct receive_in *in,
    struct err *err)
{
	enum rc rc;

	each->count = 0;
	if (in->fish_weights != NULL &&
	    (rc = weighed_parse(each, in->fish_weights, err)) != RC_OK)
		return rc;
	if (in->weight == NULL && each->count == 0)
		return err_set(err, RC_INVALID, 0,
		    in->count != NULL
			? "--count without --weight: weigh the fish, a count "
			  "alone plans nothing"
			: "--weight is missing");
	if (in->weight != NULL &&
	    (rc = weight_parse(&b->weight_g, "--weight", in->weight, err)) !=
		RC_OK)
		return rc;
	if (in->count != NULL &&
	    (rc = int_parse(
		 &b->count, "--count", in->count, 1, COUNT_MAX, err)) != RC_OK)
		return rc;
	if (each->count > 0 && (rc = weighed_fill(b, each, err)) != RC_OK)
		return rc;
	if (b->count == 0)
		return RC_OK;
	if (b->weight_g / b->count < FISH_MIN_G ||
	    b->weight_g / b->count > FISH_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "%" PRId64 " fish of %" PRId64
		    " g each cannot be: check --count and --weight",
		    b->count, b->weight_g / b->count);
	return RC_OK;
}

/* More than this for a kilogram is a slip of the point. */
#define PRICE_MAX 10000000

static enum rc
parse_price(struct batch *b, const char *s, struct err *err)
{
	enum rc rc;

	b->price = -1;
	if (s == NULL)
		return RC_OK;
	if ((rc = decimal_parse(&b->price, "--price", s, 2, err)) != RC_OK)
		return rc;
	if (b->price >= 0 && b->price <= PRICE_MAX)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "--price \"%.40s\" is outside 0 to %d a kilogram", s,
	    PRICE_MAX / 100);
}

static enum rc
parse_dates(
    struct batch *b, const struct receive_in *in, day_no today, struct err *err)
{
	enum rc rc;

	b->caught_day = b->supplier_use_by = b->dispatched_day = DAY_NONE;
	if (in->dispatched != NULL &&
	    (rc = day_parse(&b->dispatched_day, "--dispatched", in->dispatched,
		 err)) != RC_OK)
		return rc;
	if (in->caught != NULL &&
	    (rc = day_parse(&b->caught_day, "--caught", in->caught, err)) !=
		RC_OK)
		return rc;
	if (in->supplier_date != NULL &&
	    (rc = day_parse(&b->supplier_use_by, "--supplier-date",
		 in->supplier_date, err)) != RC_OK)
		return rc;
	if (b->caught_day != DAY_NONE && b->caught_day > today)
		return err_set(err, RC_REFUSED, 0,
		    "--caught %s is in the future: read the label again",
		    in->caught);
	if (b->dispatched_day != DAY_NONE && b->dispatched_day > today)
		return err_set(err, RC_REFUSED, 0,
		    "--dispatched %s is in the future: read the label again",
		    in->dispatched);
	if (b->dispatched_day != DAY_NONE && b->caught_day != DAY_NONE &&
	    b->dispatched_day < b->caught_day)
		return err_set(err, RC_REFUSED, 0,
		    "--dispatched %s is before --caught %s: read the label "
		    "again",
		    in->dispatched, in->caught);
	if (b->supplier_use_by != DAY_NONE && b->caught_day != DAY_NONE &&
	    b->supplier_use_by < b->caught_day)
		return err_set(err, RC_REFUSED, 0,
		    "--supplier-date %s is before --caught %s: read the label "
		    "again",
		    in->supplier_date, in->caught);
	return RC_OK;
}

static enum rc
parse(struct batch *b, struct weighed *each, const struct station *sn,
    const struct receive_in *in, day_no today, struct err *err)
{
	const struct species *sp;
	enum rc rc;

	if ((rc = want_text(b->document, sizeof(b->document), "--document",
		 in->document, false, err)) != RC_OK ||
	    (rc = want(in->species, "--species", err)) != RC_OK ||
	    (rc = species_get(&sp, &sn->species, in->species, err)) != RC_OK ||
	    (rc = want(in->presentation, "--presentation", err)) != RC_OK ||
	    (rc = presentation_parse(
		 &b->presentation, in->presentation, err)) != RC_OK ||
	    (rc = parse_amount(b, each, in, err)) != RC_OK ||
	    (rc = parse_price(b, in->price, err)) != RC_OK ||
	    (rc = want_text(b->lot, sizeof(b->lot), "--lot", in->lot, false,
		 err)) != RC_OK ||
	    (rc = want(in->temp, "--temperature", err)) != RC_OK ||
	    (rc = temp_parse(&b->temp_dc, "--temperature", in->temp, err)) !=
		RC_OK ||
	    (rc = want_text(b->area, sizeof(b->area), "--area", in->area, false,
		 err)) != RC_OK ||
	    (rc = parse_method(b, in->method, err)) != RC_OK ||
	    (rc = want_text(b->vessel, sizeof(b->vessel), "--vessel",
		 in->vessel, true, err)) != RC_OK ||
	    (rc = want_text(b->gear, sizeof(b->gear), "--gear", in->gear, true,
		 err)) != RC_OK ||
	    (rc = want_text(b->note, sizeof(b->note), "the note or reason",
		 in->note, b->decision == DECISION_ACCEPTED, err)) != RC_OK)
		return rc;
	if (!species_sold_as(sp, b->presentation))
		return err_set(err, RC_INVALID, 0,
		    "--presentation %s does not go with %s: check the species",
		    presentation_word(b->presentation), sp->name);
	str_copy(b->species, sizeof(b->species), sp->code);
	return parse_dates(b, in, today, err);
}

/* docs/rules.md R-G7: what needs a word of explanation. */
#define FROZEN_BELOW_DC (-30)
#define OLD_CATCH_DAYS 21

/* docs/rules.md R-G1 to R-G4, R-G7: what may not be accepted. */
static enum rc
judge_limits(const struct batch *b, const struct config *cfg, day_no today,
    struct err *err)
{
	char is[16], limit[16];
	int most = b->presentation == PRES_LIVE ? cfg->live_refuse_above_dc
						: cfg->refuse_above_dc;

	if (b->decision == DECISION_REFUSED)
		return RC_OK;
	temp_print(is, sizeof(is), b->temp_dc);
	if (b->supplier_use_by != DAY_NONE && b->supplier_use_by < today)
		return err_set(err, RC_REFUSED, 0,
		    "the supplier's use-by has passed: it can only be refused "
		    "(--refuse REASON)");
	if (b->temp_dc > most)
		return err_set(err, RC_REFUSED, 0,
		    "%s is above the limit of %s: it can only be refused "
		    "(--refuse REASON)",
		    is, temp_print(limit, sizeof(limit), most));
	if (b->decision == DECISION_ACCEPTED && b->temp_dc < FROZEN_BELOW_DC)
		return err_set(err, RC_REFUSED, 0,
		    "%s is frozen, and this is dated as fresh: accept it with "
		    "--note TEXT or refuse it with --refuse REASON",
		    is);
	if (b->decision == DECISION_ACCEPTED && b->caught_day != DAY_NONE &&
	    today - b->caught_day > OLD_CATCH_DAYS)
		return err_set(err, RC_REFUSED, 0,
		    "caught %d days ago: accept it with --note TEXT or refuse "
		    "it with --refuse REASON",
		    (int)(today - b->caught_day));
	if (b->decision == DECISION_ACCEPTED && b->presentation != PRES_LIVE &&
	    b->temp_dc > cfg->note_above_dc)
		return err_set(err, RC_REFUSED, 0,
		    "%s is above %s: accept it with --note TEXT or refuse it "
		    "with --refuse REASON",
		    is, temp_print(limit, sizeof(limit), cfg->note_above_dc));
	return RC_OK;
}

/* docs/rules.md R-G11: what the scanned label says against a plain acceptance.
 */
static enum rc
judge_label(const struct batch *b, const struct gs1_prefill *label,
    day_no today, struct err *err)
{
	const char *ask =
	    "accept it with --note TEXT or refuse it with "
	    "--refuse REASON";
	char day[16];

	if (b->decision != DECISION_ACCEPTED)
		return RC_OK;
	if (label->species[0] != '\0' && !str_eq(label->species, b->species))
		return err_set(err, RC_REFUSED, 0,
		    "--species says %s and the label says %s: %s", b->species,
		    label->species, ask);
	if (label->first_freeze != DAY_NONE)
		return err_set(err, RC_REFUSED, 0,
		    "the label says first frozen %s, and this is dated as "
		    "fresh: %s",
		    day_print(day, sizeof(day), label->first_freeze), ask);
	if (label->best_before != DAY_NONE && label->best_before < today)
		return err_set(err, RC_REFUSED, 0,
		    "the label's best-before %s has passed: %s",
		    day_print(day, sizeof(day), label->best_before), ask);
	return RC_OK;
}

static enum rc
record(struct station *sn, struct batch *b, const struct weighed *each,
    const struct judgement *j, day_no today, struct err *err)
{
	char shown[CODE_SIZE];
	struct useby u;
	struct buf why, seen;
	size_t i;
	enum rc rc;

	buf_init(&seen, 16384);
	buf_init(&why, 16384);
	judge_json(&seen, j);
	if (b->decision == DECISION_REFUSED) {
		/* Sent back: no date is given, and none is needed. */
		b->use_by_utc = use_by_instant(today);
		buf_puts(&why, "{}");
	} else {
		if ((rc = date_batch(&u, sn, b, err)) != RC_OK)
			goto done;
		if (useby_utc(&u) < b->received.utc) {
			rc = err_set(err, RC_REFUSED, 0,
			    "out of date already (%s): it can only be refused "
			    "(--refuse REASON)",
			    u.limits[u.bound].name);
			goto done;
		}
		b->use_by_utc = useby_utc(&u);
		useby_json(&why, &u, &sn->rules, NULL, false);
	}
	if ((rc = delivery_put(&b->delivery_id, sn->st, b->supplier.id,
		 b->document, today, err)) == RC_OK &&
	    (rc = batch_insert(sn->st, b, today, buf_text(&why),
		 buf_text(&seen), err)) == RC_OK &&
	    (rc = batch_fish_insert(
		 sn->st, b->id, each->items, each->count, err)) == RC_OK)
		rc = station_audit(sn, &b->received, err, "receive",
		    code_show(shown, b->code), "%s: %s %s %" PRId64 " g: %s",
		    b->supplier.code, b->species,
		    presentation_word(b->presentation), b->weight_g,
		    decision_word(b->decision));
	for (i = 0; i < j->mark_count && rc == RC_OK; i++)
		rc = batch_mark(sn->st, b->id, j->marks[i],
		    freshness_grade_word(j->grades[i]), err);
done:
	buf_fini(&seen);
	buf_fini(&why);
	return rc;
}

enum rc
receive(struct batch *out, struct judgement *judged, struct station *sn,
    const struct receive_in *typed, struct err *err)
{
	struct receive_in in = *typed;
	struct judgement own;
	struct prefill filled;
	struct weighed each;
	struct batch b;
	day_no today;
	enum rc rc;

	if (judged == NULL)
		judged = &own;
	memset(&b, 0, sizeof(b));
	b.decision = in.decision;
	if ((rc = station_moment(&b.received, sn, in.by, err)) != RC_OK ||
	    (rc = prefill(&in, &filled, sn, err)) != RC_OK)
		return rc;
	today = local_from_utc(b.received.utc).day;
	if ((rc = parse(&b, &each, sn, &in, today, err)) != RC_OK ||
	    (rc = want(in.supplier, "--supplier", err)) != RC_OK ||
	    (rc = supplier_find(&b.supplier, sn->st, in.supplier, err)) !=
		RC_OK ||
	    (rc = judge(judged, &b, sn, &in.seen, today, err)) != RC_OK ||
	    (rc = judge_limits(&b, &sn->cfg, today, err)) != RC_OK ||
	    (in.scan_count > 0 &&
		(rc = judge_label(&b, &filled.got, today, err)) != RC_OK) ||
	    (rc = judge_decision(judged, b.decision, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = record(sn, &b, &each, judged, today, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc != RC_OK)
		return rc;
	return batch_get(out, sn->st, b.code, err);
}
