/*
 * test_ops_freeze_dates.c - the use-by of frozen and thawed units, against a
 * reckoning of its own.
 */
#include "unit.h"

#include <string.h>

#include "chance.h"
#include "kitchen.h"
#include "ops/freeze.h"

static struct kitchen k;
static struct batch cod;
static struct breakdown made;

static void
setup(void)
{
	kitchen_open(&k);
	k.sn->cfg.batch_days = 9;
	made = kitchen_trays(&cod, &k);
}

static void
teardown(void)
{
	breakdown_fini(&made);
	kitchen_close(&k);
}

/* One unit, what is done to it, and under which settings. */
struct chance {
	struct portion p;
	struct batch b;
	day_no made, own, froze, thawed;
	bool counts;
};

static day_no
within(uint64_t *seed, int days)
{
	return (day_no)(chance_next(seed) % (uint64_t)days);
}

static void
any(struct chance *c, uint64_t *seed)
{
	c->p = made.portions[0];
	c->b = cod;
	c->made = local_from_utc(c->p.made.utc).day;
	c->own = c->made + within(seed, 12);
	c->froze = c->made + within(seed, c->own - c->made + 1);
	c->thawed = c->froze + within(seed, 40);
	c->p.use_by_utc = use_by_instant(c->own);
	c->b.supplier_use_by =
	    within(seed, 3) == 0 ? c->own + within(seed, 3) : DAY_NONE;
	c->counts = within(seed, 2) == 0;
	k.sn->cfg.freezing_day_counts = c->counts;
	k.sn->cfg.thawed_days = 1 + within(seed, 7);
	k.sn->cfg.thaw_hours = 1 + within(seed, 72);
	k.sn->cfg.frozen_days = 1 + within(seed, 60);
}

static day_no
least(day_no a, day_no b)
{
	return a < b ? a : b;
}

/* Days of the Food Code's seven used before freezing (3-501.18(A)(1)). */
static int
used(const struct chance *c)
{
	return c->froze - c->made + c->counts;
}

/*
 * The least of: days left of its own date, of the supplier's, of the Food
 * Code's seven, the house's thawed life from when it is thawed through, taken
 * out at 18:00, and the frozen life.
 */
static day_no
reckoned(const struct chance *c)
{
	const struct config *cfg = &k.sn->cfg;
	day_no through = c->thawed + (18 + cfg->thaw_hours) / 24;
	day_no d = least(c->thawed + (c->own - c->froze + !c->counts) - 1,
	    c->froze + cfg->frozen_days - 1);

	d = least(d, through + cfg->thawed_days - 1);
	d = least(d, c->thawed + 7 - used(c) - 1);
	if (c->b.supplier_use_by == DAY_NONE)
		return d;
	if (c->thawed <= c->b.supplier_use_by)
		return least(d, c->b.supplier_use_by);
	return least(
	    d, c->thawed + (c->b.supplier_use_by - c->froze + !c->counts) - 1);
}

/*
 * Any life, any day of freezing and thawing, any setting; and never later than
 * the same unit would have kept in chill, put off by the days it lay frozen.
 */
START_TEST(any_date)
{
	uint64_t seed = 11;
	struct frozen_life life;
	struct chance c;
	struct useby u;
	int i, left, tried = 0;
	enum rc rc;

	for (i = 0; i < 4000; i++) {
		any(&c, &seed);
		memset(&life, 0, sizeof(life));
		life.frozen_utc = utc_from_local(c.froze, 12, 0, 0);
		life.freeze_dc = -200;
		rc = date_frozen(&u, &life, k.sn, &c.b, &c.p, NULL);
		left = c.own - c.froze + !c.counts;
		ck_assert_int_eq(
		    rc, left == 0 || used(&c) >= 7 ? RC_REFUSED : RC_OK);
		if (rc != RC_OK)
			continue;
		ck_assert_int_eq(life.days_left, left);
		ck_assert_int_eq(life.until_utc,
		    use_by_instant(c.froze + k.sn->cfg.frozen_days - 1));
		rc = date_thawed(&u, k.sn, &c.b, &c.p, &life,
		    utc_from_local(c.thawed, 18, 0, 0), NULL);
		ck_assert_int_eq(
		    rc, reckoned(&c) < c.thawed ? RC_REFUSED : RC_OK);
		if (rc != RC_OK)
			continue;
		tried++;
		ck_assert_int_eq(local_from_utc(useby_utc(&u)).day - c.thawed,
		    reckoned(&c) - c.thawed);
		ck_assert_int_eq(useby_utc(&u), use_by_instant(reckoned(&c)));
		ck_assert_int_le(reckoned(&c),
		    c.own + (c.thawed - c.froze) - (c.counts ? 1 : 0));
		ck_assert_int_le(useby_utc(&u), life.until_utc);
	}
	ck_assert_int_gt(tried, 400);
}
END_TEST

/* A date that ends before midnight counts as the day before. */
START_TEST(ends_in_the_day)
{
	struct portion p = made.portions[0];
	struct frozen_life life = { .freeze_dc = -200 };
	struct useby u;
	day_no day = local_from_utc(p.made.utc).day;

	life.frozen_utc = utc_from_local(day, 12, 0, 0);
	p.use_by_utc = utc_from_local(day + 3, 20, 0, 0);
	ck_assert_int_eq(date_frozen(&u, &life, k.sn, &cod, &p, NULL), RC_OK);
	ck_assert_int_eq(life.days_left, 2);
	p.use_by_utc = use_by_instant(day + 3);
	ck_assert_int_eq(date_frozen(&u, &life, k.sn, &cod, &p, NULL), RC_OK);
	ck_assert_int_eq(life.days_left, 3);
}
END_TEST

Suite *
suite_ops_freeze_dates(void)
{
	Suite *s = suite_create("ops_freeze_dates");
	TCase *tc = tcase_create("dates");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, any_date);
	tcase_add_test(tc, ends_in_the_day);
	suite_add_tcase(s, tc);
	return s;
}
