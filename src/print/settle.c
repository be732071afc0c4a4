/* settle.c - when does what a scale says become a weight? */
#include "settle.h"

#include <string.h>

void
settle_begin(struct settle *s, int64_t now_ms)
{
	memset(s, 0, sizeof(*s));
	s->began_ms = now_ms;
}

grams
settle_grams(int64_t mg)
{
	grams g = mg / 1000;
	int64_t rest = mg % 1000;

	if (rest >= 500)
		return g + 1;
	return rest <= -500 ? g - 1 : g;
}

static bool
take(grams *out, struct settle *s)
{
	grams empty = s->run_g * SETTLE_EMPTY_BP / BP_ONE;

	*out = s->run_g;
	s->loaded = true;
	s->run = 0;
	s->empty_g = empty < SETTLE_EMPTY_MIN_G ? SETTLE_EMPTY_MIN_G
	    : empty > SETTLE_EMPTY_MAX_G        ? SETTLE_EMPTY_MAX_G
						: empty;
	return true;
}

/* A weight on its way down is no empty scale: a fish that is only moved must
 * not be counted twice. */
static bool
is_empty(const struct settle *s, const struct scale_reading *r)
{
	return r->state == SCALE_ZERO || r->state == SCALE_UNDER_ZERO ||
	    (r->state == SCALE_STABLE &&
		settle_grams(r->weight_mg) <= s->empty_g);
}

bool
settle_report(
    grams *out, struct settle *s, const struct scale_reading *r, int64_t now_ms)
{
	grams g = settle_grams(r->weight_mg);

	if (now_ms - s->began_ms < SETTLE_OLD_MS)
		return false;
	if (s->loaded) {
		s->loaded = !is_empty(s, r);
		return false;
	}
	if (r->state != SCALE_STABLE || g <= s->empty_g) {
		s->run = 0;
		return false;
	}
	if (s->run == 0 || g != s->run_g) {
		s->run = 0;
		s->run_g = g;
	}
	s->run++;
	s->run_ms = now_ms;
	return s->run >= SETTLE_SAME && take(out, s);
}

bool
settle_silence(grams *out, struct settle *s, int64_t now_ms)
{
	return s->run > 0 && now_ms - s->run_ms >= SETTLE_QUIET_MS &&
	    take(out, s);
}
