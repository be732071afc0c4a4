/* balance.c - a weight from the station's scale. */
#include "print/balance.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "driver/scale.h"
#include "settle.h"

#define OPEN_MS 3000
#define SLICE_MS 100 /* how long a silence goes unnoticed */

struct balance {
	struct scale *scale;
	struct settle settle;
	struct scale_reading last;
};

enum rc
balance_open(struct balance **out, const char *configured, struct err *err)
{
	const struct scale_driver *driver;
	struct scale *scale;
	const char *address;
	enum rc rc;

	*out = NULL;
	if (str_eq(configured, "none"))
		return err_set(err, RC_NOTFOUND, 0,
		    "no scale is set: key the weight, or set address of "
		    "[scale] in the settings");
	if ((driver = scale_find(&address, configured)) == NULL)
		return err_set(err, RC_INVALID, 0,
		    "scale address \"%.80s\" is not known: usb:any, "
		    "usb:VVVV:PPPP or usb:VVVV:PPPP/SERIAL",
		    configured);
	if ((rc = driver->open(&scale, address, OPEN_MS, err)) != RC_OK)
		return rc;
	*out = xcalloc(1, sizeof(**out));
	(*out)->scale = scale;
	settle_begin(&(*out)->settle, clock_ticks_ms());
	return RC_OK;
}

static bool
has_weight(const struct scale_reading *r)
{
	return r->state == SCALE_STABLE || r->state == SCALE_IN_MOTION;
}

static void
show(const struct balance_watch *watch, const struct scale_reading *r)
{
	char text[80], w[32];

	if (has_weight(r))
		str_fmt(text, sizeof(text), "%s, %s",
		    scale_state_words(r->state),
		    weight_print(w, sizeof(w), settle_grams(r->weight_mg)));
	else
		str_fmt(text, sizeof(text), "%s", scale_state_words(r->state));
	watch->show(watch->ctx, text);
}

/* Keep the last report, and tell when it says something new. */
static void
note(struct balance *b, const struct scale_reading *r,
    const struct balance_watch *watch)
{
	bool news = r->state != b->last.state ||
	    (has_weight(r) &&
		settle_grams(r->weight_mg) != settle_grams(b->last.weight_mg));

	b->last = *r;
	if (news && watch != NULL && watch->show != NULL)
		show(watch, r);
}

static enum rc
too_late(const struct balance *b, int64_t wait_ms, struct err *err)
{
	const char *why = scale_state_words(b->last.state);

	if (b->settle.loaded)
		why = "what was weighed last is still on it";
	else if (b->last.state == SCALE_NONE)
		why =
		    "it says nothing: switch it on, lift the fish and put "
		    "it down again";
	else if (b->last.state == SCALE_STABLE &&
	    settle_grams(b->last.weight_mg) <= b->settle.empty_g)
		why = "what lies on it is too little to weigh";
	else if (b->last.state == SCALE_STABLE)
		why =
		    "its weight may be an old one: lift the fish and put it "
		    "down again";
	return err_set(err, RC_RETRY, 0,
	    "no stable weight from the scale in %" PRId64 " s: %s",
	    (wait_ms + 999) / 1000, why);
}

/* RC_RETRY: go on waiting. */
static enum rc
listen(grams *out, struct balance *b, int slice_ms,
    const struct balance_watch *watch, struct err *err)
{
	struct err why = { 0 };
	struct scale_reading r;
	enum rc rc;

	rc = b->scale->via->read(&r, b->scale, slice_ms, &why);
	if (rc == RC_RETRY)
		return settle_silence(out, &b->settle, clock_ticks_ms())
		    ? RC_OK
		    : RC_RETRY;
	if (rc != RC_OK)
		return err_set(err, rc, why.lib, "%s", why.text);
	note(b, &r, watch);
	return settle_report(out, &b->settle, &r, clock_ticks_ms()) ? RC_OK
								    : RC_RETRY;
}

enum rc
balance_next(grams *out, struct balance *b, int64_t wait_ms,
    const struct balance_watch *watch, struct err *err)
{
	int64_t until = clock_ticks_ms() + wait_ms, left;
	struct err why = { 0 };
	enum rc rc = RC_RETRY;
	grams g;

	while (rc == RC_RETRY) {
		left = until - clock_ticks_ms();
		if (left <= 0)
			return too_late(b, wait_ms, err);
		rc = listen(
		    &g, b, left < SLICE_MS ? (int)left : SLICE_MS, watch, &why);
	}
	/* Nothing is recorded, and it may be plugged in again. */
	if (rc == RC_FAILED)
		rc = RC_RETRY;
	if (rc != RC_OK)
		return err_set(err, rc, why.lib, "%s", why.text);
	if (g > WEIGHT_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "the scale says %" PRId64
		    " kg, %d kg can be: check its "
		    "unit",
		    g / 1000, WEIGHT_MAX_G / 1000);
	*out = g;
	return RC_OK;
}

void
balance_close(struct balance *b)
{
	if (b == NULL)
		return;
	b->scale->via->close(b->scale);
	free(b);
}
