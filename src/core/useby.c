/* useby.c - the last moment a food may be served, and why. */
#include "core/useby.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"

static const char *const state_words[STATE_COUNT] = {
	[STATE_RAW] = "raw",
	[STATE_COOKED] = "cooked",
	[STATE_LIVE] = "live",
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
	/* docs/rules.md R-D5: no freeze record, no raw dish. */
	if (str_eq_nocase(s, "served-raw"))
		return err_set(err, RC_REFUSED, 0,
		    "a dish served raw needs a parasite-freeze record, which "
		    "this station cannot hold yet");
	return err_set(err, RC_INVALID, 0,
	    "state \"%.40s\" is not known: raw, cooked or live", s);
}

static void
limit(struct useby *u, const char *name, const char *source, day_no day)
{
	assert(u->count < USEBY_LIMITS_MAX);
	u->limits[u->count].name = name;
	u->limits[u->count].source = source;
	u->limits[u->count].day = day;
	if (day < u->limits[u->bound].day)
		u->bound = u->count;
	u->count++;
}

static const char *const state_limit[STATE_COUNT] = {
	[STATE_RAW] = "house life, raw portion",
	[STATE_COOKED] = "house life, cooked portion",
	[STATE_LIVE] = "house life, live shellfish portion",
};

static const char *const state_source[STATE_COUNT] = {
	[STATE_RAW] = "settings: house life, raw_days",
	[STATE_COOKED] = "settings: house life, cooked_days",
	[STATE_LIVE] = "settings: house life, live_days",
};

void
useby_decide(struct useby *out, const struct useby_in *in,
    const struct house_life *house)
{
	memset(out, 0, sizeof(*out));
	if (in->supplier_date != DAY_NONE)
		limit(out, "supplier's date", "delivery", in->supplier_date);
	if (in->live_batch)
		limit(out, "house life, live batch",
		    "settings: house life, live_batch_days",
		    in->received + house->live_batch_days - 1);
	else
		limit(out, "house life, batch",
		    "settings: house life, batch_days",
		    in->received + house->batch_days - 1);
	if (in->prepared != DAY_NONE)
		limit(out, state_limit[in->state], state_source[in->state],
		    in->prepared + house->state_days[in->state] - 1);
}

day_no
useby_day(const struct useby *u)
{
	return u->limits[u->bound].day;
}
