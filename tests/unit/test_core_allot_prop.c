/*
 * test_core_allot_prop.c - trays to services against the greedy way, and
 * against every way there is, on cases made with a fixed seed.
 */
#include "unit.h"

#include <string.h>

#include "allot_case.h"
#include "useby_facts.h"

/* --- one dish: the oldest that is still good -------------------------------*/

static void
any_case(struct allot_case *s, struct dice *d, int trays, int wants, int units,
    int dates)
{
	int i;

	memset(s, 0, sizeof(*s));
	case_use(s, (size_t)trays, (size_t)wants);
	for (i = 0; i < trays; i++)
		s->trays[i] = (struct allot_tray){ roll(d, units + 1),
			100 + roll(d, dates) };
	for (i = 0; i < wants; i++)
		s->wants[i] = (struct allot_want){ i, roll(d, units + 1),
			100 + roll(d, dates), 1 };
}

static size_t
oldest_left(const struct allot_case *s, const int64_t *left, size_t want)
{
	size_t best = CASE_MAX, i;

	for (i = 0; i < s->p.tray_count; i++)
		if (left[i] > 0 && s->fits[i * s->p.want_count + want] &&
		    s->trays[i].use_by_utc >= s->wants[want].end_utc &&
		    (best == CASE_MAX ||
			s->trays[i].use_by_utc < s->trays[best].use_by_utc))
			best = i;
	return best;
}

/* Services as they come, the oldest good tray first. */
static int64_t
greedy(int64_t share[CASE_MAX * CASE_MAX], const struct allot_case *s)
{
	int64_t left[CASE_MAX], need, units, served = 0;
	bool done[CASE_MAX] = { false };
	size_t i, w, t, round;

	memset(share, 0, CASE_MAX * CASE_MAX * sizeof(*share));
	for (i = 0; i < s->p.tray_count; i++)
		left[i] = s->trays[i].units;
	for (round = 0; round < s->p.want_count; round++) {
		w = CASE_MAX;
		for (i = 0; i < s->p.want_count; i++)
			if (!done[i] &&
			    (w == CASE_MAX ||
				s->wants[i].end_utc < s->wants[w].end_utc))
				w = i;
		done[w] = true;
		need = s->wants[w].units;
		while (need > 0 && (t = oldest_left(s, left, w)) != CASE_MAX) {
			units = left[t] < need ? left[t] : need;
			share[t * CASE_MAX + w] += units;
			left[t] -= units;
			need -= units;
			served += units;
		}
	}
	return served;
}

/*
 * Pierskalla and Roach 1972: issue the oldest unit that will satisfy the
 * demand.  For one dish the flow gives every service the same portions of the
 * same use-by as the cook who does that.
 */
START_TEST(one_dish_is_greedy)
{
	struct dice d = { 8201 };
	struct allot_case s;
	struct allot a;
	int64_t share[CASE_MAX * CASE_MAX], served, by_hand, by_flow;
	int64_t date, end;
	size_t t, w;
	int round;

	for (round = 0; round < 3000; round++) {
		any_case(&s, &d, 1 + roll(&d, 7), 1 + roll(&d, 6), 9, 6);
		memset(s.fits, true, sizeof(s.fits));
		for (w = 0; w < s.p.want_count; w++)
			s.wants[w].dish = 1;
		served = greedy(share, &s);
		case_solve(&a, &s.p);
		case_sound(&a, &s.p);
		ck_assert_msg(a.served == served, "%d: %lld, greedy %lld",
		    round, (long long)a.served, (long long)served);
		for (date = 100; date < 106; date++)
			for (end = 100; end < 106; end++) {
				by_hand = by_flow = 0;
				for (t = 0; t < s.p.tray_count; t++)
					for (w = 0; w < s.p.want_count; w++) {
						if (s.trays[t].use_by_utc !=
							date ||
						    s.wants[w].end_utc != end)
							continue;
						by_hand +=
						    share[t * CASE_MAX + w];
						by_flow += case_units(&a, t, w);
					}
				ck_assert_msg(by_hand == by_flow,
				    "%d: use-by %d, service %d", round,
				    (int)date, (int)end);
			}
		allot_fini(&a);
	}
}
END_TEST

/* --- several dishes --------------------------------------------------------*/

/*
 * Nested: dish 0 takes every tray, dish 1 only those of kind 1.  Crossed: tray
 * of kind k fits dishes k and k + 1 of four.
 */
static void
any_fits(struct allot_case *s, struct dice *d, bool nested)
{
	size_t t, w;
	int kind, dish;

	for (w = 0; w < s->p.want_count; w++)
		s->wants[w].dish = roll(d, nested ? 2 : 4);
	for (t = 0; t < s->p.tray_count; t++) {
		kind = roll(d, nested ? 2 : 4);
		for (w = 0; w < s->p.want_count; w++) {
			dish = s->wants[w].dish;
			s->fits[t * s->p.want_count + w] = nested
			    ? dish <= kind
			    : dish == kind || dish == (kind + 1) % 4;
		}
	}
}

START_TEST(several_dishes_beat_greedy)
{
	const bool nested = _i == 0;
	struct dice d = { 8202 };
	struct allot_case s;
	struct allot a;
	int64_t share[CASE_MAX * CASE_MAX], served;
	int round, better = 0;

	for (round = 0; round < 2000; round++) {
		any_case(&s, &d, 2 + roll(&d, 8), 2 + roll(&d, 8), 9, 6);
		any_fits(&s, &d, nested);
		served = greedy(share, &s);
		case_solve(&a, &s.p);
		case_sound(&a, &s.p);
		ck_assert_msg(a.served >= served, "%d: %lld, greedy %lld",
		    round, (long long)a.served, (long long)served);
		better += a.served > served;
		allot_fini(&a);
	}
	ck_assert_int_gt(better, 40);
}
END_TEST

/* --- against every way there is --------------------------------------------*/

#define B 3 /* trays and wants */

/* Levels 1 to 4 and 6, the greater the better. */
struct level {
	int64_t at[2 + 6 + B + 1];
};

static void
rate(struct level *l, const int64_t share[B * B], const struct allot_case *s)
{
	size_t t, w, k, n = s->p.want_count;
	int64_t date, end;

	memset(l, 0, sizeof(*l));
	for (t = 0; t < s->p.tray_count; t++)
		for (w = 0; w < n; w++) {
			l->at[0] += share[t * n + w];
			l->at[1] += share[t * n + w] * s->wants[w].value;
			date = s->trays[t].use_by_utc - 100;
			end = s->wants[w].end_utc - 100;
			l->at[2 + date] += share[t * n + w];
			l->at[2 + 6 + B] +=
			    share[t * n + w] * s->p.tray_count * date * end;
		}
	/* Wants by end, then index. */
	k = 0;
	for (end = 0; end < 6; end++)
		for (w = 0; w < n; w++) {
			if (s->wants[w].end_utc != 100 + end)
				continue;
			for (t = 0; t < s->p.tray_count; t++)
				l->at[2 + 6 + k] += share[t * n + w];
			k++;
		}
}

static bool
better(const struct level *a, const struct level *b)
{
	size_t i;

	for (i = 0; i < NELEM(a->at); i++)
		if (a->at[i] != b->at[i])
			return a->at[i] > b->at[i];
	return false;
}

static void
try_all(struct level *best, int64_t share[B * B], const struct allot_case *s,
    size_t k)
{
	size_t n = s->p.want_count, t = k / n, w = k % n, i;
	int64_t tray, want;
	struct level l;

	if (k == s->p.tray_count * n) {
		rate(&l, share, s);
		if (better(&l, best))
			*best = l;
		return;
	}
	tray = s->trays[t].units;
	want = s->wants[w].units;
	for (i = 0; i < w; i++)
		tray -= share[t * n + i];
	for (i = 0; i < t; i++)
		want -= share[i * n + w];
	if (!s->fits[k] || s->trays[t].use_by_utc < s->wants[w].end_utc)
		tray = 0;
	share[k] = 0;
	do {
		try_all(best, share, s, k + 1);
		share[k]++;
	} while (share[k] <= tray && share[k] <= want);
	share[k] = 0;
}

START_TEST(no_way_is_better)
{
	struct dice d = { 8203 };
	struct allot_case s;
	struct allot a;
	struct level best, got;
	int64_t share[B * B];
	size_t i, j;
	int round;

	for (round = 0; round < 1500; round++) {
		any_case(&s, &d, 1 + roll(&d, B), 1 + roll(&d, B), 3, 6);
		for (i = 0; i < s.p.want_count; i++)
			s.wants[i].value = 1 + roll(&d, 3) * roll(&d, 40);
		for (i = 0; i < s.p.tray_count * s.p.want_count; i++)
			s.fits[i] = roll(&d, 4) != 0;
		memset(share, 0, sizeof(share));
		memset(&best, 0, sizeof(best));
		best.at[0] = -1;
		try_all(&best, share, &s, 0);
		case_solve(&a, &s.p);
		case_sound(&a, &s.p);
		for (i = 0; i < s.p.tray_count; i++)
			for (j = 0; j < s.p.want_count; j++)
				share[i * s.p.want_count + j] =
				    case_units(&a, i, j);
		rate(&got, share, &s);
		for (i = 0; i < NELEM(got.at); i++)
			ck_assert_msg(got.at[i] == best.at[i],
			    "%d: level %zu: %lld, best %lld", round, i,
			    (long long)got.at[i], (long long)best.at[i]);
		allot_fini(&a);
	}
}
END_TEST

START_TEST(same_twice)
{
	struct dice d = { 8204 };
	struct allot_case s;
	struct allot a, b;
	int round;

	for (round = 0; round < 300; round++) {
		any_case(&s, &d, CASE_MAX, CASE_MAX, 9, 4);
		any_fits(&s, &d, false);
		case_solve(&a, &s.p);
		case_solve(&b, &s.p);
		ck_assert(a.count == b.count &&
		    memcmp(a.items, b.items, a.count * sizeof(*a.items)) == 0);
		allot_fini(&a);
		allot_fini(&b);
	}
}
END_TEST

Suite *
suite_core_allot_prop(void)
{
	Suite *s = suite_create("core_allot_prop");
	TCase *tc = tcase_create("allot");

	tcase_add_test(tc, one_dish_is_greedy);
	tcase_add_loop_test(tc, several_dishes_beat_greedy, 0, 2);
	tcase_add_test(tc, no_way_is_better);
	tcase_add_test(tc, same_twice);
	suite_add_tcase(s, tc);
	return s;
}
