/* fate.c - what becomes of stock: used, discarded, counted. */
#include "ops/fate.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "ops/scan.h"
#include "store/bookings.h"
#include "store/sources.h"
#include "store/store.h"
#include "unit.h"

enum rc
sitting_parse(day_no *day, const struct service_window **window,
    const struct config *cfg, const char *text, struct err *err)
{
	char date[16];
	const char *slash = strchr(text, '/');
	enum rc rc;

	if (slash == NULL ||
	    !str_fmt(date, sizeof(date), "%.*s", (int)(slash - text), text))
		return err_set(err, RC_INVALID, 0,
		    "\"%.60s\" is not a service: write it as DATE/NAME, such "
		    "as 2026-11-27/dinner",
		    text);
	if ((rc = day_parse(day, "the service's date", date, err)) != RC_OK)
		return rc;
	*window = config_service(cfg, slash + 1);
	if (*window == NULL)
		return err_set(err, RC_INVALID, 0,
		    "service \"%.24s\" has no [service] section in the "
		    "settings",
		    slash + 1);
	return RC_OK;
}

const struct service_window *
sitting_present(const struct config *cfg, const struct local_time *now)
{
	int minute = now->hour * 60 + now->minute;
	int i;

	for (i = 0; i < cfg->service_count; i++)
		if (minute < cfg->services[i].ends_min)
			return &cfg->services[i];
	return &cfg->services[cfg->service_count - 1];
}

/* Id of the service the portions are for; 0 when it has no bookings. */
static enum rc
service_for(int64_t *id, struct station *sn, const char *text, int64_t now,
    struct err *err)
{
	struct local_time lt = local_from_utc(now);
	const struct service_window *w = sitting_present(&sn->cfg, &lt);
	struct service s;
	day_no day = lt.day;
	enum rc rc;

	*id = 0;
	if (text != NULL &&
	    (rc = sitting_parse(&day, &w, &sn->cfg, text, err)) != RC_OK)
		return rc;
	rc = service_get(&s, sn->st, day, w->name, err);
	if (rc == RC_OK)
		*id = s.id;
	if (rc != RC_NOTFOUND || text != NULL)
		return rc;
	err_clear(err);
	return RC_OK;
}

enum rc
unit_by_code(
    struct portion *out, struct station *sn, const char *text, struct err *err)
{
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum code_kind kind;
	enum rc rc;

	if ((rc = scan_code(&kind, code, sn, text, err)) != RC_OK)
		return rc;
	if (kind != CODE_PORTION)
		return err_set(err, RC_INVALID, 0,
		    "%.40s is a batch's code: scan a portion or tray", text);
	if ((rc = portion_get(out, sn->st, code, err)) != RC_OK || !out->struck)
		return rc;
	/* docs/rules.md R-Z4 */
	if (out->joined)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s was put together by mistake and taken apart: "
		    "take its label off",
		    code_show(shown, code));
	return err_set(err, RC_REFUSED, 0,
	    "portion %s was struck out with its breakdown: take its label off, "
	    "and record the breakdown again if there was one",
	    code_show(shown, code));
}

/* An empty tray whose label still lies around: where the rest of it is. */
static enum rc
went_onto(struct use_look *l, struct station *sn, struct err *err)
{
	struct portion_part_list went;
	enum rc rc = portion_went_open(&went, sn->st, l->portion.id, err);

	if (rc == RC_OK && went.count > 0)
		str_copy(
		    l->onto, sizeof(l->onto), went.items[went.count - 1].code);
	portion_parts_fini(&went);
	return rc;
}

/* docs/rules.md R-U1, R-U2: what may be served, and in which order. */
static enum rc
judge(struct use_look *l, struct station *sn, int64_t now, struct err *err)
{
	const struct portion *p = &l->portion;
	enum rc rc;

	l->verdict = p->left == 0    ? USE_USED_UP
	    : p->use_by_utc < now    ? USE_EXPIRED
	    : p->held                ? USE_HELD
	    : p->keep == KEEP_FROZEN ? USE_FROZEN
				     : USE_MAY;
	if (l->verdict == USE_USED_UP)
		return went_onto(l, sn, err);
	if (l->verdict != USE_MAY)
		return RC_OK;
	rc = portion_older(&l->older, sn->st, p, now, err);
	if (rc == RC_OK)
		l->verdict = USE_OLDER_FIRST;
	return rc == RC_NOTFOUND ? RC_OK : rc;
}

enum rc
use_look(
    struct use_look *out, struct station *sn, const char *code, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = unit_by_code(&out->portion, sn, code, err)) != RC_OK)
		return rc;
	return judge(out, sn, clock_now(&sn->clock), err);
}

static enum rc
say_verdict(const struct use_look *l, struct err *err)
{
	const struct portion *p = &l->portion;
	char shown[CODE_SIZE], text[48], other[CODE_SIZE];

	code_show(shown, p->code);
	switch (l->verdict) {
	case USE_USED_UP:
		if (l->onto[0] != '\0')
			return err_set(err, RC_REFUSED, 0,
			    "portion %s is empty: the rest of it is on tray "
			    "%s, take this label off",
			    shown, code_show(other, l->onto));
		return err_set(
		    err, RC_REFUSED, 0, "portion %s is used up already", shown);
	case USE_EXPIRED:
		return err_set(err, RC_REFUSED, 0,
		    "portion %s expired on %s: discard it", shown,
		    time_short(text, sizeof(text), p->use_by_utc));
	case USE_HELD:
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is on hold: do not serve it", shown);
	case USE_FROZEN:
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is frozen: take it out with pinbone thaw %s "
		    "first",
		    shown, shown);
	case USE_OLDER_FIRST:
		return err_set(err, RC_REFUSED, 0,
		    "use %s first: same dish, use by %s (or say why not with "
		    "--reason)",
		    code_show(other, l->older.code),
		    time_short(text, sizeof(text), l->older.use_by_utc));
	case USE_MAY:
		break;
	}
	return RC_OK;
}

static enum rc
may_use(struct station *sn, const struct portion *p, const char *reason,
    int64_t now, struct err *err)
{
	struct use_look l = { .portion = *p };
	enum rc rc = judge(&l, sn, now, err);

	if (rc != RC_OK || (l.verdict == USE_OLDER_FIRST && reason != NULL))
		return rc;
	return say_verdict(&l, err);
}

static enum rc
servings_of(
    int64_t *out, const struct portion *p, int64_t asked, struct err *err)
{
	char shown[CODE_SIZE];

	*out = asked == 0 ? p->left : asked;
	if (*out >= 1 && *out <= p->left)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "portion %s has %" PRId64 " left, not %" PRId64,
	    code_show(shown, p->code), p->left, *out);
}

static const char *const actions[] = {
	[FATE_USED] = "use",
	[FATE_DISCARDED] = "discard",
	[FATE_MISSING] = "count",
	[FATE_FOUND] = "count",
};

/* Take servings off a portion, in one transaction with its audit row. */
static enum rc
take(struct station *sn, struct portion *p, struct portion_event *e,
    struct err *err)
{
	char shown[CODE_SIZE];
	enum rc rc;

	if ((rc = portion_take(sn->st, p->id, e, err)) != RC_OK)
		return rc;
	p->left += e->fate == FATE_FOUND ? e->servings : -e->servings;
	return station_audit(sn, &e->at, err, actions[e->fate],
	    code_show(shown, p->code), "%" PRId64 " of %s%s%s%s", e->servings,
	    p->dish,
	    e->fate == FATE_MISSING     ? " missing"
		: e->fate == FATE_FOUND ? " found"
					: "",
	    e->reason[0] == '\0' ? "" : ": ", e->reason);
}

enum rc
reason_into(
    char *dst, size_t size, const char *reason, bool optional, struct err *err)
{
	enum rc rc;

	rc = text_check(
	    "--reason", reason == NULL ? "" : reason, size - 1, optional, err);
	if (rc == RC_OK)
		str_copy(dst, size, reason == NULL ? "" : reason);
	return rc;
}

enum rc
use(struct portion *out, struct station *sn, const struct use_in *in,
    struct err *err)
{
	struct portion_event e = { .fate = FATE_USED };
	enum rc rc;

	if ((rc = station_moment(&e.at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(e.reason, sizeof(e.reason), in->reason,
		 in->reason == NULL, err)) != RC_OK ||
	    (rc = service_for(&e.service_id, sn, in->service, e.at.utc, err)) !=
		RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = unit_by_code(out, sn, in->code, err)) == RC_OK &&
	    (rc = may_use(sn, out, in->reason, e.at.utc, err)) == RC_OK &&
	    (rc = servings_of(&e.servings, out, in->servings, err)) == RC_OK &&
	    (rc = take(sn, out, &e, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* What a count says that the record does not. */
static enum rc
settle(struct counted *out, struct station *sn, const struct count_in *in,
    struct portion_event *e, struct err *err)
{
	struct portion *p = &out->portion;
	char shown[CODE_SIZE];

	code_show(shown, p->code);
	out->before = p->left;
	if (in->servings > p->servings)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s was made with %" PRId64 ": count again", shown,
		    p->servings);
	if (in->servings == p->left)
		return station_audit(sn, &e->at, err, "count", shown,
		    "%" PRId64 " of %s, as recorded", p->left, p->dish);
	if (e->reason[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "portion %s has %" PRId64 " on record, not %" PRId64
		    ": say why with --reason",
		    shown, p->left, in->servings);
	e->fate = in->servings < p->left ? FATE_MISSING : FATE_FOUND;
	e->servings = in->servings < p->left ? p->left - in->servings
					     : in->servings - p->left;
	return take(sn, p, e, err);
}

enum rc
count_unit(struct counted *out, struct station *sn, const struct count_in *in,
    struct err *err)
{
	struct portion_event e = { .fate = FATE_MISSING };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&e.at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(e.reason, sizeof(e.reason), in->reason,
		 in->reason == NULL, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = unit_by_code(&out->portion, sn, in->code, err)) == RC_OK &&
	    (rc = settle(out, sn, in, &e, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

static enum rc
discard_portion(struct discarded *out, struct station *sn,
    const struct discard_in *in, struct portion_event *e, struct err *err)
{
	struct portion p;
	enum rc rc;

	if (in->weight_g != 0 || in->fish != 0)
		return err_set(err, RC_INVALID, 0,
		    "a portion is discarded by --servings, not by weight or "
		    "fish");
	if ((rc = unit_by_code(&p, sn, in->code, err)) != RC_OK ||
	    (rc = servings_of(&e->servings, &p, in->servings, err)) != RC_OK ||
	    (rc = take(sn, &p, e, err)) != RC_OK)
		return rc;
	out->servings = e->servings;
	out->servings_left = p.left;
	return RC_OK;
}

/* How much of a batch goes: all that is left unless told. */
static enum rc
batch_amount(struct discarded *out, const struct batch *b,
    const struct discard_in *in, struct err *err)
{
	char shown[CODE_SIZE];

	code_show(shown, b->code);
	out->fish = in->fish;
	out->weight_g = in->weight_g;
	if (in->fish == 0 && in->weight_g == 0) {
		out->fish = b->count_left;
		out->weight_g = b->weight_left;
	} else if (in->weight_g == 0 || (b->count > 0 && in->fish == 0)) {
		return err_set(err, RC_INVALID, 0,
		    "batch %s: give %s too, or neither for all of it", shown,
		    in->weight_g == 0 ? "--weight" : "--fish");
	}
	if (b->decision == DECISION_REFUSED || out->weight_g <= 0 ||
	    out->weight_g > b->weight_left || out->fish > b->count_left)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s has %" PRId64 " g and %" PRId64
		    " fish left to discard",
		    shown, b->decision == DECISION_REFUSED ? 0 : b->weight_left,
		    b->decision == DECISION_REFUSED ? 0 : b->count_left);
	return RC_OK;
}

static enum rc
discard_batch(struct discarded *out, struct station *sn,
    const struct discard_in *in, const struct portion_event *e, struct err *err)
{
	char shown[CODE_SIZE];
	struct batch b;
	enum rc rc;

	if (in->servings != 0)
		return err_set(err, RC_INVALID, 0,
		    "a batch is discarded by --fish and --weight, not by "
		    "servings");
	if ((rc = batch_get(&b, sn->st, out->code, err)) != RC_OK ||
	    (rc = batch_amount(out, &b, in, err)) != RC_OK ||
	    (rc = batch_discard(sn->st, b.id, out->fish, out->weight_g,
		 e->reason, &e->at, err)) != RC_OK)
		return rc;
	out->weight_left = b.weight_left - out->weight_g;
	return station_audit(sn, &e->at, err, "discard",
	    code_show(shown, b.code), "%" PRId64 " g: %s", out->weight_g,
	    e->reason);
}

enum rc
discard_now(struct discarded *out, struct station *sn,
    const struct discard_in *in, const struct moment *at, struct err *err)
{
	struct portion_event e = { .fate = FATE_DISCARDED, .at = *at };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = reason_into(e.reason, sizeof(e.reason), in->reason, false,
		 err)) != RC_OK ||
	    (rc = scan_code(&out->kind, out->code, sn, in->code, err)) != RC_OK)
		return rc;
	return out->kind == CODE_PORTION ? discard_portion(out, sn, in, &e, err)
					 : discard_batch(out, sn, in, &e, err);
}

enum rc
discard(struct discarded *out, struct station *sn, const struct discard_in *in,
    struct err *err)
{
	struct moment at;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = discard_now(out, sn, in, &at, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}
