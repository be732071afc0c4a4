/* test_core_mass.c - shares that are the whole, to the gram. */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "chance.h"
#include "core/mass.h"

/* The textbook table of the largest remainder method (100 000 votes, 10
 * seats; from memory, each row follows by hand from its quota of 10 000):
 * 4.70 1.60 1.59 1.20 0.60 0.31, whole parts 7, the rest to .70 .60 .60. */
START_TEST(textbook)
{
	static const grams votes[] = { 47000, 16000, 15900, 12000, 6000, 3100 };
	static const grams seats[] = { 5, 2, 1, 1, 1, 0 };
	grams out[6];
	int i;

	mass_share(out, 10, votes, 6);
	for (i = 0; i < 6; i++)
		ck_assert_int_eq(out[i], seats[i]);
}
END_TEST

/* Shares sum up to the whole and are within a gram of exact. */
START_TEST(shares_are_the_whole)
{
	uint64_t seed = (uint64_t)_i + 1;
	grams w[8], out[8], total, sum = 0, wsum = 0;
	size_t n = 1 + chance_next(&seed) % 8, i;

	total = (grams)(chance_next(&seed) % 50000);
	for (i = 0; i < n; i++) {
		w[i] = (grams)(chance_next(&seed) % (i % 3 == 0 ? 3 : 4000));
		wsum += w[i];
	}
	if (wsum == 0)
		w[0] = wsum = 1;
	mass_share(out, total, w, n);
	for (i = 0; i < n; i++) {
		sum += out[i];
		ck_assert_int_ge(out[i], 0);
		ck_assert_int_lt(llabs(out[i] * wsum - total * w[i]), wsum);
		if (w[i] == 0)
			ck_assert_int_eq(out[i], 0);
	}
	ck_assert_int_eq(sum, total);
}
END_TEST

/* A tray of four, 1000 g: each serving is its part, all of it is somewhere. */
static const struct {
	const char *why;
	struct mass_unit unit;
	grams on_hand, frozen, used, thrown, missing;
} units[] = {
	{ "untouched", { 1000, 4, 4, 0, 0, 0, false, 0, 0 }, 1000, 0, 0, 0, 0 },
	{ "in the freezer", { 1000, 4, 3, 1, 0, 0, true, 0, 0 }, 0, 750, 250, 0,
	    0 },
	{ "one of each, three of them share what does not divide",
	    { 1001, 4, 1, 1, 1, 1, false, 0, 0 }, 251, 0, 250, 250, 250 },
	{ "used up", { 137, 1, 0, 1, 0, 0, false, 0, 0 }, 0, 0, 137, 0, 0 },
	{ "thirds", { 410, 3, 2, 1, 0, 0, false, 0, 0 }, 273, 0, 137, 0, 0 },
	{ "a count finds one that had been scanned out",
	    { 1000, 4, 3, 2, 0, -1, false, 0, 0 }, 750, 0, 250, 0, 0 },
	{ "and one that had been thrown away",
	    { 1000, 4, 4, 1, 1, -2, false, 0, 0 }, 1000, 0, 0, 0, 0 },
	{ "one used, the rest on another tray, with its grams",
	    { 1001, 4, 0, 1, 0, 0, false, 3, 750 }, 0, 0, 251, 0, 0 },
	{ "all of it on another tray", { 1000, 4, 0, 0, 0, 0, false, 4, 1000 },
	    0, 0, 0, 0, 0 },
	/* What cannot be: its grams are put nowhere, so they show. */
	{ "one serving is nowhere", { 1000, 4, 2, 1, 0, 0, false, 0, 0 }, 0, 0,
	    0, 0, 0 },
	{ "one too many", { 1000, 4, 4, 1, 0, 0, false, 0, 0 }, 0, 0, 0, 0, 0 },
	{ "more found than was missing", { 1000, 4, 5, 0, 0, -1, false, 0, 0 },
	    0, 0, 0, 0, 0 },
};

START_TEST(unit_rows)
{
	struct mass m = { 0 };

	mass_put_unit(&m, &units[_i].unit);
	ck_assert_int_eq(m.part[MASS_CHILLED], units[_i].on_hand);
	ck_assert_int_eq(m.part[MASS_FROZEN], units[_i].frozen);
	ck_assert_int_eq(m.part[MASS_USED], units[_i].used);
	ck_assert_int_eq(m.part[MASS_THROWN], units[_i].thrown);
	ck_assert_int_eq(m.part[MASS_MISSING], units[_i].missing);
}
END_TEST

/* A breakdown of up to five inputs, under, over and exact: each input keeps
 * its own weight, each part its own sum, and equal inputs get equal shares to
 * the gram. */
START_TEST(split_adds_up_both_ways)
{
	uint64_t seed = 77 + (uint64_t)_i;
	struct mass whole = { 0 }, out[5], sum = { 0 };
	size_t n = 1 + chance_next(&seed) % 5, i;
	grams in[5], ideal;
	int k;

	for (i = 0; i < n; i++) {
		in[i] = 1 + (grams)(chance_next(&seed) % 9000);
		whole.in += in[i];
	}
	for (k = MASS_CHILLED; k < MASS_PARTS; k++)
		whole.part[k] =
		    (grams)(chance_next(&seed) % (uint64_t)(whole.in / 6 + 2));
	mass_close(&whole);
	whole.explained = _i % 3 == 0 ? whole.unexplained : 0;
	mass_split(out, &whole, in, n);
	for (i = 0; i < n; i++) {
		ck_assert_int_eq(out[i].in, in[i]);
		ck_assert(mass_adds_up(&out[i]));
		for (k = 0; k < MASS_PARTS; k++) {
			ideal = whole.part[k] * in[i] / whole.in;
			ck_assert_int_ge(out[i].part[k], 0);
			ck_assert_int_le(
			    llabs(out[i].part[k] - ideal), (long long)n + 1);
		}
		mass_add(&sum, &out[i]);
	}
	ck_assert_int_eq(memcmp(&sum, &whole, sizeof(sum)), 0);
}
END_TEST

/* R. 404/2011 Art. 67(3): lots that are mixed stay identifiable.  A batch of
 * 3 kg and one of 1 kg: three quarters and one of all that came out. */
START_TEST(three_to_one)
{
	const grams in[] = { 3000, 1000 };
	struct mass whole = { .in = 4000 }, out[2];

	whole.part[MASS_CHILLED] = 2000;
	whole.part[MASS_FRAMES] = 1601;
	whole.part[MASS_WASTE] = 300;
	mass_close(&whole);
	mass_split(out, &whole, in, 2);
	ck_assert_int_eq(out[0].part[MASS_CHILLED], 1500);
	ck_assert_int_eq(out[1].part[MASS_CHILLED], 500);
	ck_assert_int_eq(out[0].part[MASS_FRAMES], 1201);
	ck_assert_int_eq(out[1].part[MASS_FRAMES], 400);
	ck_assert_int_eq(out[0].part[MASS_WASTE], 225);
	ck_assert_int_eq(out[0].unexplained, 74);
	ck_assert_int_eq(out[1].unexplained, 25);
}
END_TEST

Suite *
suite_core_mass(void)
{
	Suite *s = suite_create("core_mass");
	TCase *tc = tcase_create("all");

	tcase_add_test(tc, textbook);
	tcase_add_loop_test(tc, shares_are_the_whole, 0, 500);
	tcase_add_loop_test(tc, unit_rows, 0, NELEM(units));
	tcase_add_loop_test(tc, split_adds_up_both_ways, 0, 500);
	tcase_add_test(tc, three_to_one);
	suite_add_tcase(s, tc);
	return s;
}
