/* allot_case.c - what the tests of core/allot share. */
#include "allot_case.h"

#include "unit.h"

void
case_use(struct allot_case *s, size_t trays, size_t wants)
{
	s->p =
	    (struct allot_problem){ s->trays, trays, s->wants, wants, s->fits };
}

void
case_solve(struct allot *a, const struct allot_problem *p)
{
	struct err err = { 0 };

	ck_assert_msg(allot_solve(a, p, &err) == RC_OK, "%s", err.text);
}

int64_t
case_units(const struct allot *a, size_t tray, size_t want)
{
	size_t i;

	for (i = 0; i < a->count; i++)
		if (a->items[i].tray == tray && a->items[i].want == want)
			return a->items[i].units;
	return 0;
}

void
case_sound(const struct allot *a, const struct allot_problem *p)
{
	int64_t tray[ALLOT_TRAYS_MAX] = { 0 }, want[ALLOT_WANTS_MAX] = { 0 };
	int64_t served = 0, value = 0;
	const struct allot_share *s;
	size_t i;

	for (i = 0; i < a->count; i++) {
		s = &a->items[i];
		ck_assert(s->tray < p->tray_count && s->want < p->want_count);
		ck_assert_int_gt(s->units, 0);
		ck_assert(p->fits[s->tray * p->want_count + s->want]);
		ck_assert(
		    p->trays[s->tray].use_by_utc >= p->wants[s->want].end_utc);
		ck_assert(i == 0 || s[-1].tray < s->tray ||
		    (s[-1].tray == s->tray && s[-1].want < s->want));
		tray[s->tray] += s->units;
		want[s->want] += s->units;
		served += s->units;
		value += s->units * p->wants[s->want].value;
	}
	for (i = 0; i < p->tray_count; i++)
		ck_assert_int_le(tray[i], p->trays[i].units);
	for (i = 0; i < p->want_count; i++)
		ck_assert_int_le(want[i], p->wants[i].units);
	ck_assert_int_eq(served, a->served);
	ck_assert_int_eq(value, a->value);
}
