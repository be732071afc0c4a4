/* dates.c - what the rule set in force makes of a food. */
#include "ops/rules.h"

#include <string.h>

#include "base/clock.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "base/units.h"
#include "core/caution.h"
#include "ops/station.h"
#include "store/batches.h"
#include "store/portions.h"

/* Room for the text a limit of ice life points at. */
struct useby_ice {
	char source[240];
};

static struct when
when_utc(int64_t utc)
{
	struct when w = { true, utc, local_from_utc(utc).day };

	return w;
}

/* A civil day as a fact: its first instant. */
static struct when
when_day(day_no day)
{
	struct when w = { day != DAY_NONE, 0, day };

	if (w.set)
		w.utc = utc_from_local(day, 0, 0, 0);
	return w;
}

static void
add_extra(struct useby_in *in, const char *name, const char *source, day_no day)
{
	struct useby_extra *e = &in->extras[in->extra_count++];

	e->name = name;
	e->source = source;
	e->verified = true;
	e->day = day;
}

static const char *const house_names[STATE_COUNT] = {
	[STATE_RAW] = "house life, raw portion",
	[STATE_SERVED_RAW] = "house life, served raw",
	[STATE_COOKED] = "house life, cooked portion",
	[STATE_LIVE] = "house life, live shellfish portion",
	[STATE_VACUUM] = "house life, reduced-oxygen pack",
	[STATE_THAWED] = "house life, thawed",
};

/* The house's own life of a state, counted from `from` as day 1. */
static void
add_house(struct useby_in *in, const struct config *cfg,
    const struct rules *rules, enum food_state state, day_no from)
{
	const char *code = in->species == NULL ? "" : in->species->code;

	add_extra(in, house_names[state], "the kitchen's settings",
	    from + house_days(cfg, rules, code, state) - 1);
}

/* Of the state from preparation, and of thawed food from thawing. */
static void
add_houses(
    struct useby_in *in, const struct config *cfg, const struct rules *rules)
{
	if (in->thawed.set)
		add_house(in, cfg, rules, STATE_THAWED, in->thawed.day);
	if (in->thawed.set && in->state == STATE_THAWED)
		return;
	if (in->prepared.set || in->thawed.set)
		add_house(in, cfg, rules, in->state,
		    in->prepared.set ? in->prepared.day : in->thawed.day);
}

static enum icelife_form
life_form(enum presentation p)
{
	switch (p) {
	case PRES_FILLET:
	case PRES_FILLET_SKINLESS:
	case PRES_LOIN:
		return ICELIFE_FILLET;
	case PRES_LIVE:
		return ICELIFE_LIVE;
	case PRES_SHUCKED:
		return ICELIFE_MEAT;
	case PRES_WHOLE:
	case PRES_GUTTED:
	case PRES_HEADED:
	case PRES_TAIL:
	case PRES_WING:
	case PRES_COUNT:
		break;
	}
	return ICELIFE_WHOLE;
}

/*
 * R-D13: life left in ice since the catch, or since receipt when the catch is
 * not known, shorter when it is kept warmer.  Catch or receipt is day 1.  Not
 * for live shellfish: how long it survives is judged by eye, and the house
 * life dates it.
 */
static void
add_ice_life(struct useby_in *in, const struct station *sn,
    enum icelife_form form, struct useby_ice *ice)
{
	const struct icelife *row;
	const struct when *from = in->caught.set ? &in->caught : &in->received;
	struct useby_extra *e;
	int64_t days;

	if (in->species == NULL || !from->set || form == ICELIFE_LIVE)
		return;
	row = icelife_find(&sn->icelife, in->species->code, form);
	if (row == NULL)
		return;
	days = row->low_x100;
	if (in->storage_set && in->storage_dc > row->temp_tenths) {
		days = icelife_convert(days, row->temp_tenths, in->storage_dc);
		if (icelife_faster(row, in->storage_dc))
			in->spoils_faster = true;
	}
	str_fmt(ice->source, sizeof(ice->source), "%s, %s", row->source,
	    row->criterion);
	e = &in->extras[in->extra_count++];
	e->name = in->caught.set ? "life in ice since the catch"
				 : "life in ice since receipt";
	e->source = ice->source;
	e->verified = row->mark == ICELIFE_READ;
	e->day = from->day + (day_no)(days / 100) - 1;
}

static void
facts_of_batch(
    struct useby_in *in, const struct station *sn, const struct batch *b)
{
	memset(in, 0, sizeof(*in));
	in->species = species_find(&sn->species, b->species);
	in->received = when_utc(b->received.utc);
	in->caught = when_day(b->caught_day);
	/* Landed and delivered on one day: the hour of catch is not known. */
	if (in->caught.set && in->caught.utc > in->received.utc)
		in->caught = in->received;
	in->supplier_date = b->supplier_use_by;
	in->freezing_day_counts = sn->cfg.freezing_day_counts;
	in->day_end = use_by_instant;
}

enum rc
date_batch(struct useby *out, const struct station *sn, const struct batch *b,
    struct err *err)
{
	bool live = b->presentation == PRES_LIVE;
	struct useby_ice ice;
	struct useby_in in;

	facts_of_batch(&in, sn, b);
	add_ice_life(&in, sn, life_form(b->presentation), &ice);
	in.state = live ? STATE_LIVE : STATE_RAW;
	add_extra(&in, live ? "house life, live batch" : "house life, batch",
	    "the kitchen's settings",
	    in.received.day +
		(live ? sn->cfg.live_batch_days : sn->cfg.batch_days) - 1);
	return useby_decide(out, &in, &sn->rules.set, err);
}

enum rc
date_portion(struct useby *out, const struct station *sn, const struct batch *b,
    enum food_state state, const struct history *h, struct err *err)
{
	struct useby_in in;

	facts_of_batch(&in, sn, b);
	in.state = state;
	in.prepared = when_utc(h->made_utc);
	in.farmed = h->feed_statement[0] != '\0' && str_eq(b->method, "farmed");
	if (h->frozen) {
		in.frozen = when_utc(h->frozen_utc);
		in.thawed = when_utc(h->thawed_utc);
		in.freeze_set = true;
		in.freeze_dc = h->freeze_dc;
	}
	/* A batch keeps the date it was given, whatever the rules say now. */
	add_extra(&in, "the batch's date", "goods in",
	    local_from_utc(b->use_by_utc).day);
	add_houses(&in, &sn->cfg, &sn->rules);
	return useby_decide(out, &in, &sn->rules.set, err);
}

/* Dates are whole days: one that ends earlier in the day counts as the day
 * before. */
static day_no
last_day(int64_t use_by_utc)
{
	day_no day = local_from_utc(use_by_utc).day;

	return use_by_utc < use_by_instant(day) ? day - 1 : day;
}

/* Live as they came in and nothing done to them but portioned. */
static bool
still_live(const struct batch *b, const struct portion *p)
{
	return p->state == STATE_LIVE ||
	    (b->presentation == PRES_LIVE && p->state != STATE_COOKED &&
		(p->kind == CUT_SHELL || p->kind == CUT_WHOLE));
}

static void
facts_of_frozen(struct useby_in *in, const struct station *sn,
    const struct batch *b, const struct portion *p,
    const struct frozen_life *life)
{
	facts_of_batch(in, sn, b);
	in->prepared =
	    when_utc(p->prepared_utc != 0 ? p->prepared_utc : p->made.utc);
	in->frozen = when_utc(life->frozen_utc);
	in->freeze_set = true;
	in->freeze_dc = life->freeze_dc;
}

enum rc
date_frozen(struct useby *out, struct frozen_life *life,
    const struct station *sn, const struct batch *b, const struct portion *p,
    struct err *err)
{
	struct useby_in in;
	struct useby thawed;
	enum rc rc;

	facts_of_frozen(&in, sn, b, p, life);
	in.state = still_live(b, p)   ? STATE_LIVE
	    : p->keep == KEEP_CHILLED ? p->state
				      : STATE_THAWED;
	add_extra(&in, "house life, frozen", "the kitchen's settings",
	    in.frozen.day + sn->cfg.frozen_days - 1);
	if ((rc = useby_frozen(out, &in, &sn->rules.set, err)) != RC_OK)
		return rc;
	life->until_utc = useby_utc(out);
	life->days_left = useby_days_left(
	    last_day(p->use_by_utc), in.frozen.day, in.freezing_day_counts);
	if (life->days_left <= 0)
		return err_set(err, RC_REFUSED, 0,
		    "it is its last day, and the day of freezing counts as "
		    "used ([rules] freezing_day_counts): no day would be left "
		    "after thawing");
	if (sn->cfg.thaw_hours >= life->days_left * 24)
		useby_caution(out,
		    "by [house life] thaw_hours it is thawed through only when "
		    "its days left are over: it may never be served");
	/* What could not be thawed at once could never be. */
	return date_thawed(&thawed, sn, b, p, life, life->frozen_utc, err);
}

enum rc
date_thawed(struct useby *out, const struct station *sn, const struct batch *b,
    const struct portion *p, const struct frozen_life *life, int64_t thawed_utc,
    struct err *err)
{
	int64_t through_utc = thawed_utc + (int64_t)sn->cfg.thaw_hours * 3600;
	struct useby_in in;
	enum rc rc;

	facts_of_frozen(&in, sn, b, p, life);
	in.state = STATE_THAWED;
	in.thawed = when_utc(thawed_utc);
	add_extra(&in, "days left when frozen, of its own date",
	    "freezing stops the clock; the day of thawing counts",
	    in.thawed.day + life->days_left - 1);
	add_extra(&in, "house life, frozen", "the kitchen's settings",
	    last_day(life->until_utc));
	/* The house counts from when it is soft, the law from the freezer. */
	add_house(
	    &in, &sn->cfg, &sn->rules, STATE_THAWED, when_utc(through_utc).day);
	if ((rc = useby_decide(out, &in, &sn->rules.set, err)) != RC_OK)
		return rc;
	if (through_utc > useby_utc(out))
		useby_caution(out,
		    "by [house life] thaw_hours it is thawed through only "
		    "after this use-by: then it may not be served");
	if (p->state == STATE_VACUUM)
		useby_caution(out,
		    "open the pack before it thaws: Clostridium botulinum can "
		    "grow in a closed one (US FDA Food Code 3-501.13(E))");
	if (p->state == STATE_SERVED_RAW)
		useby_caution(out,
		    "served raw: this freezing is no parasite freezing unless "
		    "its own record says so; tell the guest, follow local law");
	useby_caution(out,
	    "thaw in the fridge at 5 C or below, in a tray that keeps the drip "
	    "off other food, and do not freeze again");
	return RC_OK;
}

static void
json_limits(struct jsonw *w, const struct useby *u)
{
	size_t i;

	jsonw_array(w, "limits");
	for (i = 0; i < u->count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "limit", u->limits[i].name);
		jsonw_time(w, "use_by", u->limits[i].utc);
		jsonw_str(w, "source", u->limits[i].source);
		jsonw_bool(w, "verified", u->limits[i].verified);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "cautions");
	for (i = 0; i < u->caution_count; i++)
		jsonw_str(w, NULL, u->cautions[i]);
	jsonw_end(w);
}

static void
json_history(struct jsonw *w, const struct history *h)
{
	if (h == NULL || (!h->frozen && h->feed_statement[0] == '\0'))
		return;
	jsonw_object(w, "history");
	if (h->frozen) {
		jsonw_time(w, "frozen", h->frozen_utc);
		jsonw_time(w, "thawed", h->thawed_utc);
		jsonw_int(w, "freeze_tenths_c", h->freeze_dc);
	}
	if (h->feed_statement[0] != '\0')
		jsonw_str(w, "feed_statement", h->feed_statement);
	jsonw_end(w);
}

void
useby_put(struct jsonw *w, const struct useby *u, const struct rules *rules,
    const struct history *h)
{
	jsonw_time(w, "use_by", useby_utc(u));
	jsonw_str(w, "bound_by", u->limits[u->bound].name);
	json_limits(w, u);
	jsonw_str(w, "rule_set", rules->set.name);
	jsonw_str(w, "rule_set_digest", rules->digest);
	json_history(w, h);
}

void
useby_json(struct buf *out, const struct useby *u, const struct rules *rules,
    const struct history *h, bool pretty)
{
	struct jsonw *w = jsonw_new_object();

	useby_put(w, u, rules, h);
	jsonw_dump(out, w, pretty);
	jsonw_free(w);
}

static enum rc
ask_time(struct when *w, const char *option, const char *s, struct err *err)
{
	int64_t utc;
	enum rc rc;

	if (s == NULL)
		return RC_OK;
	if ((rc = time_parse(&utc, option, s, err)) == RC_OK)
		*w = when_utc(utc);
	return rc;
}

static enum rc
ask_day(day_no *d, const char *option, const char *s, struct err *err)
{
	*d = DAY_NONE;
	return s == NULL ? RC_OK : day_parse(d, option, s, err);
}

/* 38 may be Fahrenheit: ask rather than guess. */
static enum rc
ask_temp(bool *set, int *dc, const char *option, const char *s, struct err *err)
{
	enum rc rc;

	*set = s != NULL;
	if (s == NULL)
		return RC_OK;
	if ((rc = temp_parse(dc, option, s, err)) != RC_OK)
		return rc;
	if (*dc > 250)
		return err_set(err, RC_INVALID, 0,
		    "%s %.20s: that warm in a fridge? if it is Fahrenheit, "
		    "give degrees Celsius",
		    option, s);
	return RC_OK;
}

static enum rc
ask_dates(struct useby_in *in, const struct useby_ask *ask, struct err *err)
{
	day_no received, caught;
	size_t i;
	enum rc rc;

	if ((rc = ask_time(&in->prepared, "--prepared", ask->prepared, err)) !=
		RC_OK ||
	    (rc = ask_time(&in->frozen, "--frozen", ask->frozen, err)) !=
		RC_OK ||
	    (rc = ask_time(&in->thawed, "--thawed", ask->thawed, err)) !=
		RC_OK ||
	    (rc = ask_day(&received, "--received", ask->received, err)) !=
		RC_OK ||
	    (rc = ask_day(&caught, "--caught", ask->caught, err)) != RC_OK ||
	    (rc = ask_day(&in->supplier_date, "--supplier-date",
		 ask->supplier_date, err)) != RC_OK)
		return rc;
	in->received = when_day(received);
	in->caught = when_day(caught);
	for (i = 0; i < ask->ingredient_count; i++)
		if ((rc = ask_day(&in->ingredients[i], "--ingredient-date",
			 ask->ingredients[i], err)) != RC_OK)
			return rc;
	in->ingredient_count = ask->ingredient_count;
	return RC_OK;
}

static enum rc
ask_facts(struct useby_in *in, const struct station *sn,
    const struct useby_ask *ask, struct err *err)
{
	enum rc rc;

	memset(in, 0, sizeof(*in));
	in->day_end = use_by_instant;
	in->freezing_day_counts = sn->cfg.freezing_day_counts;
	in->farmed = ask->farmed;
	if (ask->state == NULL)
		return err_set(err, RC_INVALID, 0, "--state is missing");
	if ((rc = food_state_parse(&in->state, ask->state, err)) != RC_OK)
		return rc;
	if (ask->species != NULL &&
	    (rc = species_get(&in->species, &sn->species, ask->species, err)) !=
		RC_OK)
		return rc;
	in->freeze_set = ask->freeze_c != NULL;
	if ((rc = ask_temp(&in->storage_set, &in->storage_dc, "--storage-c",
		 ask->storage_c, err)) != RC_OK ||
	    (in->freeze_set &&
		(rc = freezer_temp_parse(&in->freeze_dc, "--freeze-c",
		     ask->freeze_c, err)) != RC_OK))
		return rc;
	return ask_dates(in, ask, err);
}

static void
explain_text(struct buf *out, const struct useby *u, const struct rules *rules)
{
	char when[48];
	size_t i;

	buf_printf(out, "use by %s (rule set %s)\n",
	    time_minute(when, sizeof(when), useby_utc(u)), rules->set.name);
	for (i = 0; i < u->count; i++)
		buf_printf(out, "  %-7s %s  %s\n          %s%s\n",
		    i == u->bound ? "because" : "also",
		    time_minute(when, sizeof(when), u->limits[i].utc),
		    u->limits[i].name, u->limits[i].source,
		    u->limits[i].verified ? "" : " (unverified)");
	for (i = 0; i < u->caution_count; i++)
		buf_printf(out, "caution: %s\n", u->cautions[i]);
	buf_wrap(out, caution_general(), 0, 79);
}

enum rc
useby_explain(struct buf *out, const struct station *sn,
    const struct useby_ask *ask, enum format format, struct err *err)
{
	struct useby_ice ice;
	struct rules rules;
	struct useby_in in;
	struct useby u;
	enum rc rc;

	if ((rc = rules_load(&rules, &sn->cfg, ask->rules, err)) != RC_OK ||
	    (rc = ask_facts(&in, sn, ask, err)) != RC_OK)
		return rc;
	if (in.state != STATE_COOKED && in.state != STATE_VACUUM &&
	    !in.frozen.set)
		add_ice_life(&in, sn,
		    in.state == STATE_LIVE ? ICELIFE_LIVE : ICELIFE_WHOLE,
		    &ice);
	if (!ask->no_house)
		add_houses(&in, &sn->cfg, &rules);
	if ((rc = useby_decide(&u, &in, &rules.set, err)) != RC_OK)
		return rc;
	if (format == FORMAT_JSON)
		useby_json(out, &u, &rules, NULL, true);
	else
		explain_text(out, &u, &rules);
	return RC_OK;
}
