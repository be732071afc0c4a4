/* useby.c - the last moment a food may be served, and why. */
#include "core/useby.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"

#define HOUR 3600

static const char *const state_words[STATE_COUNT] = {
	[STATE_RAW] = "raw",
	[STATE_SERVED_RAW] = "served-raw",
	[STATE_COOKED] = "cooked",
	[STATE_LIVE] = "live",
	[STATE_VACUUM] = "vacuum",
	[STATE_THAWED] = "thawed",
};

const char *
food_state_word(enum food_state s)
{
	return state_words[s];
}

enum rc
food_state_parse(enum food_state *out, const char *s, struct err *err)
{
	int i;

	for (i = 0; i < STATE_COUNT; i++)
		if (str_eq_nocase(s, state_words[i])) {
			*out = (enum food_state)i;
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "state \"%.40s\" is not known: raw, served-raw, cooked, live, "
	    "vacuum or thawed",
	    s);
}

/* A decision being made. */
struct work {
	struct useby *out;
	const struct useby_in *in;
	const struct ruleset *rules;
};

static void
limit_at(struct work *w, const char *name, const char *source, bool verified,
    int64_t utc)
{
	struct useby *u = w->out;
	struct useby_limit *l;

	assert(u->count < USEBY_LIMITS_MAX);
	l = &u->limits[u->count];
	str_fmt(l->name, sizeof(l->name), "%s", name);
	str_fmt(l->source, sizeof(l->source), "%s", source);
	l->verified = verified;
	l->utc = utc;
	if (utc < u->limits[u->bound].utc)
		u->bound = u->count;
	u->count++;
}

static void
limit_day(struct work *w, const char *name, const char *source, bool verified,
    day_no day)
{
	limit_at(w, name, source, verified, w->in->day_end(day));
}

void
useby_caution(struct useby *u, const char *text)
{
	if (u->caution_count < USEBY_CAUTIONS_MAX)
		str_fmt(u->cautions[u->caution_count++], sizeof(u->cautions[0]),
		    "%s", text);
}

static void
caution(struct work *w, const char *text)
{
	useby_caution(w->out, text);
}

static const struct figure *
figure(const struct work *w, enum figure_id id)
{
	return &w->rules->figures[id];
}

/* A limit of the rule set, counted from the day of preparation as day 1. */
static void
legal_days(struct work *w, enum figure_id id, const char *name, day_no from)
{
	const struct figure *f = figure(w, id);
	char source[220];

	if (f->set)
		limit_day(w, name, figure_source(source, sizeof(source), f),
		    f->verified, from + f->value - 1);
}

static bool
after(const struct when *a, const struct when *b)
{
	return a->set && b->set && a->utc > b->utc;
}

/* docs/rules.md R-D9: events in an order that can be. */
static enum rc
check_order(const struct useby_in *in, struct err *err)
{
	static const char order[] = "the facts are in an impossible order";

	if (after(&in->frozen, &in->thawed))
		return err_set(
		    err, RC_INVALID, 0, "%s: thawed before frozen", order);
	if (after(&in->caught, &in->received))
		return err_set(
		    err, RC_INVALID, 0, "%s: received before caught", order);
	if (after(&in->caught, &in->prepared))
		return err_set(
		    err, RC_INVALID, 0, "%s: prepared before caught", order);
	if (after(&in->caught, &in->frozen))
		return err_set(
		    err, RC_INVALID, 0, "%s: frozen before caught", order);
	/* Only a reduced-oxygen pack is made while it is frozen. */
	if (in->state != STATE_VACUUM && after(&in->prepared, &in->frozen) &&
	    after(&in->thawed, &in->prepared))
		return err_set(err, RC_INVALID, 0,
		    "%s: prepared while it was frozen", order);
	if (in->thawed.set && !in->frozen.set)
		return err_set(
		    err, RC_INVALID, 0, "thawed needs to know when frozen");
	if (in->state == STATE_THAWED && !in->thawed.set)
		return err_set(err, RC_INVALID, 0,
		    "a thawed food needs to know when it was frozen and "
		    "thawed");
	if (!in->prepared.set && !in->received.set && !in->thawed.set &&
	    in->supplier_date == DAY_NONE)
		return err_set(err, RC_INVALID, 0,
		    "nothing to count from: when was it prepared, received or "
		    "thawed?");
	return RC_OK;
}

/* Facts with a day are compared by day: a bare date has no hour. */
static enum rc
check_ingredients(struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	char text[16];
	size_t i;

	for (i = 0; i < in->ingredient_count; i++) {
		if (in->prepared.set && in->ingredients[i] < in->prepared.day)
			return err_set(err, RC_REFUSED, 0,
			    "an ingredient's use-by, %s, had passed when this "
			    "was prepared",
			    day_print(text, sizeof(text), in->ingredients[i]));
		limit_day(w, "earliest ingredient",
		    "US FDA Food Code, 3-501.17(C); never later than what it "
		    "is made of",
		    true, in->ingredients[i]);
	}
	return RC_OK;
}

/* R-D10: a food kept warmer than the rule's chill limit is no longer dated. */
static enum rc
check_storage(struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	const struct figure *f = figure(w, FIG_CHILL_MAX);
	char is[16], most[16], source[220];

	if (!in->storage_set)
		return RC_OK;
	temp_print(is, sizeof(is), in->storage_dc);
	if (f->set && in->storage_dc > f->value)
		return err_set(err, RC_REFUSED, 0, "kept at %s, above %s (%s)",
		    is, temp_print(most, sizeof(most), f->value),
		    figure_source(source, sizeof(source), f));
	f = figure(w, FIG_ICE_MAX);
	if (f->set && in->storage_dc > f->value)
		caution(w,
		    "kept warmer than melting ice: fresh fish belongs in "
		    "ice");
	return RC_OK;
}

/* R-D12: hours above the limit for species that form histamine. */
static enum rc
histamine(struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	const struct figure *above = figure(w, FIG_HISTAMINE_C);
	const struct figure *hours = figure(w, FIG_HISTAMINE_HOURS);
	const struct when *from;
	char source[220];

	if (in->species == NULL || !in->species->histamine)
		return RC_OK;
	caution(w,
	    "this species can form histamine when it gets warm; neither "
	    "freezing nor cooking removes it");
	if (!above->set || !hours->set || !in->storage_set ||
	    in->storage_dc <= above->value)
		return RC_OK;
	from = in->thawed.set  ? &in->thawed
	    : in->prepared.set ? &in->prepared
			       : &in->received;
	if (!from->set)
		return err_set(err, RC_INVALID, 0,
		    "%s this warm has hours, not days (histamine): say since "
		    "when, received, prepared or thawed",
		    in->species->code);
	limit_at(w, "time above the limit, histamine",
	    figure_source(source, sizeof(source), hours), hours->verified,
	    from->utc + (int64_t)hours->value * HOUR);
	return RC_OK;
}

static const char *
exemption(const struct work *w)
{
	const struct useby_in *in = w->in;

	if (in->species == NULL)
		return NULL;
	if (figure_words_have(figure(w, FIG_EXEMPT_SPECIES), in->species->code))
		return "exempt from parasite freezing by species";
	if (figure_words_have(
		figure(w, FIG_EXEMPT_FORMS), body_form_word(in->species->form)))
		return "exempt from parasite freezing: shellfish of this kind";
	if (in->farmed && figure(w, FIG_EXEMPT_FARMED)->set &&
	    figure(w, FIG_EXEMPT_FARMED)->value)
		return "exempt from parasite freezing: farmed, with the "
		       "supplier's feed statement on file";
	return NULL;
}

static bool
freeze_meets(const struct work *w, enum figure_id c, enum figure_id hours)
{
	const struct useby_in *in = w->in;
	const struct figure *fc = figure(w, c), *fh = figure(w, hours);

	return fc->set && fh->set && in->freeze_set && in->frozen.set &&
	    in->thawed.set && in->freeze_dc <= fc->value &&
	    in->thawed.utc - in->frozen.utc >= (int64_t)fh->value * HOUR;
}

/* R-D5: served raw needs its freeze record, or an exemption that is named. */
static enum rc
parasites(struct work *w, struct err *err)
{
	const struct figure *c = figure(w, FIG_PARASITE_C);
	const struct figure *h = figure(w, FIG_PARASITE_HOURS);
	const char *why = exemption(w);
	char source[220], text[16];

	if (w->in->state != STATE_SERVED_RAW)
		return RC_OK;
	caution(w,
	    "food served raw can carry parasites, bacteria and viruses: tell "
	    "the guest, keep the records, follow local law");
	if (why != NULL) {
		caution(w, why);
		return RC_OK;
	}
	if (freeze_meets(w, FIG_PARASITE_C, FIG_PARASITE_HOURS) ||
	    freeze_meets(w, FIG_PARASITE_DEEP_C, FIG_PARASITE_DEEP_HOURS)) {
		caution(w, "parasite freezing on record meets the rule set");
		return RC_OK;
	}
	if (!c->set || !h->set)
		return err_set(err, RC_REFUSED, 0,
		    "rule set %s has no parasite freezing that would allow "
		    "food served raw",
		    w->rules->name);
	return err_set(err, RC_REFUSED, 0,
	    "served raw needs %s or colder for %d h on record, or an exemption "
	    "(%s)",
	    temp_print(text, sizeof(text), c->value), h->value,
	    figure_source(source, sizeof(source), h));
}

/* R-D11: freezing stops the clock and does not set it back. */
static enum rc
thawed_days(struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	const struct figure *base = figure(w, FIG_THAWED_DAYS);
	const struct figure *day = figure(w, FIG_THAW_DAY);
	const struct figure *hours = figure(w, FIG_UNMARKED_HOURS);
	bool thaw_counts = !day->set || day->value != 0;
	char source[220];
	int used, left;

	/* A mark made after thawing says nothing of the days before. */
	if (!in->prepared.set || after(&in->prepared, &in->frozen)) {
		if (hours->set)
			limit_at(w, "frozen without a mark, after thawing",
			    figure_source(source, sizeof(source), hours),
			    hours->verified,
			    in->thawed.utc + (int64_t)hours->value * HOUR);
		return RC_OK;
	}
	if (!base->set)
		return RC_OK;
	used = in->frozen.day - in->prepared.day +
	    (in->freezing_day_counts ? 1 : 0);
	left = base->value - used;
	if (left <= 0)
		return err_set(err, RC_REFUSED, 0,
		    "all %d days were used before it was frozen (%s)",
		    base->value, figure_source(source, sizeof(source), base));
	limit_day(w, "days left when frozen, after thawing",
	    figure_source(source, sizeof(source), base), base->verified,
	    in->thawed.day + left - (thaw_counts ? 1 : 0));
	return RC_OK;
}

int
useby_days_left(day_no last, day_no frozen, bool freezing_day_counts)
{
	return last - frozen + (freezing_day_counts ? 0 : 1);
}

/* The supplier's date; freezing in time keeps the days that were left. */
static enum rc
supplier(struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	char text[16];
	int left;

	if (in->supplier_date == DAY_NONE)
		return RC_OK;
	/* Sold frozen, or thawed again in time: its own date still binds. */
	if (!in->frozen.set || !in->thawed.set ||
	    in->thawed.day <= in->supplier_date) {
		limit_day(w, "supplier's date", "the supplier's label", true,
		    in->supplier_date);
		return RC_OK;
	}
	if (in->frozen.day > in->supplier_date)
		return err_set(err, RC_REFUSED, 0,
		    "frozen after the supplier's use-by of %s",
		    day_print(text, sizeof(text), in->supplier_date));
	left = useby_days_left(
	    in->supplier_date, in->frozen.day, in->freezing_day_counts);
	limit_day(w, "supplier's date, days left when frozen",
	    "the supplier's label; freezing stops the clock", true,
	    in->thawed.day + (left > 0 ? left - 1 : 0));
	return RC_OK;
}

/* Legal maximum for the state of the food. */
static enum rc
state_limits(struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	const struct figure *f;
	char source[220];
	day_no from = in->prepared.set ? in->prepared.day
	    : in->thawed.set           ? in->thawed.day
				       : in->received.day;
	bool known = in->prepared.set || in->thawed.set || in->received.set;

	switch (in->state) {
	case STATE_RAW:
		if (known)
			legal_days(w, FIG_RAW_DAYS, "legal maximum, raw", from);
		break;
	case STATE_SERVED_RAW:
		if (known)
			legal_days(w, FIG_SERVED_RAW_DAYS,
			    "legal maximum, served raw", from);
		return parasites(w, err);
	case STATE_COOKED:
		if (known)
			legal_days(
			    w, FIG_COOKED_DAYS, "legal maximum, cooked", from);
		break;
	case STATE_LIVE:
		if (known)
			legal_days(
			    w, FIG_LIVE_DAYS, "legal maximum, live", from);
		break;
	case STATE_VACUUM:
		f = figure(w, FIG_VACUUM_FROZEN);
		if (f->set && f->value && !(in->frozen.set && !in->thawed.set))
			return err_set(err, RC_REFUSED, 0,
			    "fish in a reduced-oxygen pack must be frozen "
			    "before, during and after packing (%s)",
			    figure_source(source, sizeof(source), f));
		caution(w,
		    "reduced-oxygen packs let Clostridium botulinum grow: keep "
		    "below 3 C, follow local law on packing");
		if (known)
			legal_days(w, FIG_VACUUM_DAYS,
			    "legal maximum, reduced-oxygen pack", from);
		break;
	case STATE_THAWED:
		return thawed_days(w, err);
	case STATE_COUNT:
		break;
	}
	return RC_OK;
}

static void
duties(struct work *w)
{
	const struct figure *f = figure(w, FIG_TAG_DAYS);
	char text[200];

	if (w->in->species == NULL || w->in->species->form != FORM_BIVALVE)
		return;
	if (w->in->state == STATE_LIVE || w->in->state == STATE_SERVED_RAW)
		caution(w,
		    "raw bivalves carry their own risk whatever the date: tell "
		    "the guest");
	if (f->set &&
	    str_fmt(text, sizeof(text),
		"keep the shellfish tag %d days after the last of "
		"it is served (%s, %s)",
		f->value, f->source, f->section))
		caution(w, text);
}

static void
extras(struct work *w)
{
	const struct useby_extra *e = w->in->extras;
	size_t i;

	for (i = 0; i < w->in->extra_count; i++)
		limit_day(w, e[i].name, e[i].source, e[i].verified, e[i].day);
}

/* A limit that had passed before the food was made is no date but a reason to
 * throw it away. */
static enum rc
check_result(const struct work *w, struct err *err)
{
	const struct useby *u = w->out;
	const struct useby_in *in = w->in;
	const struct when *made =
	    after(&in->prepared, &in->thawed) || !in->thawed.set ? &in->prepared
								 : &in->thawed;

	if (u->count == 0)
		return err_set(err, RC_REFUSED, 0,
		    "no limit is known for this food: give a supplier's date "
		    "or a house life");
	if (made->set && made->utc > u->limits[u->bound].utc)
		return err_set(err, RC_REFUSED, 0,
		    "out of date before it was %s: %s",
		    made == &in->thawed ? "thawed" : "prepared",
		    u->limits[u->bound].name);
	return RC_OK;
}

enum rc
useby_decide(struct useby *out, const struct useby_in *in,
    const struct ruleset *rules, struct err *err)
{
	struct work w = { out, in, rules };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = check_order(in, err)) != RC_OK ||
	    (rc = check_storage(&w, err)) != RC_OK ||
	    (rc = supplier(&w, err)) != RC_OK ||
	    (rc = state_limits(&w, err)) != RC_OK ||
	    (rc = check_ingredients(&w, err)) != RC_OK)
		return rc;
	extras(&w);
	if (in->spoils_faster)
		caution(&w,
		    "this species was measured to spoil faster than the rate "
		    "says at this temperature: use it sooner");
	if ((rc = histamine(&w, err)) != RC_OK)
		return rc;
	duties(&w);
	return check_result(&w, err);
}

/* R-D17: what may be frozen, and when it counts as frozen. */
static enum rc
may_freeze(const struct work *w, struct err *err)
{
	const struct useby_in *in = w->in;
	const struct figure *pack = figure(w, FIG_VACUUM_FROZEN);
	const struct figure *most = figure(w, FIG_FROZEN_MAX);
	char is[16], limit[16], source[220];

	if (!in->frozen.set || !in->freeze_set)
		return err_set(err, RC_INVALID, 0,
		    "frozen when, and how cold did it get?");
	if (in->thawed.set || in->state == STATE_THAWED)
		return err_set(err, RC_REFUSED, 0,
		    "it was frozen and thawed before: it is not frozen again");
	if (in->state == STATE_LIVE)
		return err_set(err, RC_REFUSED, 0,
		    "live shellfish is not frozen: cook it or take it out of "
		    "its shell first");
	if (in->state == STATE_VACUUM && pack->set && pack->value)
		return err_set(err, RC_REFUSED, 0,
		    "fish in a reduced-oxygen pack must be frozen before it is "
		    "packed (%s)",
		    figure_source(source, sizeof(source), pack));
	if (most->set && in->freeze_dc > most->value)
		return err_set(err, RC_REFUSED, 0,
		    "not frozen yet: it reached %s, and %s or colder is "
		    "wanted (%s)",
		    temp_print(is, sizeof(is), in->freeze_dc),
		    temp_print(limit, sizeof(limit), most->value),
		    figure_source(source, sizeof(source), most));
	return RC_OK;
}

enum rc
useby_frozen(struct useby *out, const struct useby_in *in,
    const struct ruleset *rules, struct err *err)
{
	struct work w = { out, in, rules };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = may_freeze(&w, err)) != RC_OK)
		return rc;
	extras(&w);
	duties(&w);
	return check_result(&w, err);
}

int64_t
useby_utc(const struct useby *u)
{
	return u->limits[u->bound].utc;
}
