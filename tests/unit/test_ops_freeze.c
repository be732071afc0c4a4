/*
 * test_ops_freeze.c - units into the freezer and out of it on a real station
 * file: what is refused and what is recorded.
 */
#include "unit.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "store/store.h"

static struct kitchen k;
static struct batch cod;
static struct breakdown made; /* 3 trays of 4 */

static const char more[] =
    "dish,name,state,species,cut,skin,bought,low,target,high,mix,allergens\n"
    "cod-leeks,\"Cod, leeks\",raw,COD,supreme,on,gutted,150,165,180,"
    "dinner:20,milk\n"
    "cod-pack,Packed cod,raw,COD,supreme,on,gutted,150,165,180,dinner:2,\n"
    "cod-cured,Cured cod,served-raw,COD,supreme,on,gutted,150,165,180,"
    "dinner:2,\n"
    "mussel-pot,Mussel pot,live,MUS,shell,on,live,450,500,550,dinner:15,\n"
    "mussel-raw,Mussels,raw,MUS,shell,on,live,450,500,550,dinner:15,\n"
    "mussel-meat,Mussel meat,raw,MUS,meat,off,live,450,500,550,dinner:15,\n"
    "mussel-soup,Mussel soup,cooked,MUS,shell,on,live,450,500,550,"
    "dinner:15,\n";

static void
setup(void)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in in = kitchen_cod();
	struct import_result r;
	struct err err = { 0 };
	char path[320];

	kitchen_open(&k);
	kitchen_write(path, &k, "more.csv", more);
	ck_assert_msg(
	    import_menu(&r, k.sn, path, "AB", &err) == RC_OK, "%s", err.text);
	/* No menu takes a pack yet; the rules do. */
	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE dish SET state = 'vacuum'"
			     " WHERE code = 'cod-pack'"),
	    SQLITE_OK);
	/* A portion's own life shall bind, not the batch's. */
	k.sn->cfg.batch_days = 9;
	k.sn->cfg.raw_days = 5;
	cod = kitchen_receive(&k, &in);
	made = kitchen_break(&k, cod.code, &cut);
}

static void
teardown(void)
{
	breakdown_fini(&made);
	kitchen_close(&k);
}

static struct freeze_in
asked(const char *const *codes, size_t count, const char *temp)
{
	struct freeze_in in = { codes, count, temp, NULL, "CD" };

	return in;
}

static struct kept
must(enum rc (*move)(struct kept *, struct station *, const struct freeze_in *,
	 struct err *),
    const char *code, const char *now)
{
	struct freeze_in in = asked(&code, 1, "-20.5");
	struct err err = { 0 };
	struct kept out;

	kitchen_at(&k, now);
	ck_assert_msg(move(&out, k.sn, &in, &err) == RC_OK, "%s", err.text);
	return out;
}

static int64_t
local(const char *s)
{
	int64_t t;

	ck_assert_int_eq(time_parse(&t, "t", s, NULL), RC_OK);
	return t;
}

/* --- what may not ----------------------------------------------------------*/

static void
use_up(const char *code)
{
	struct use_in in = { .code = code, .by = "CD", .reason = "x" };
	struct portion p;

	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
}

static void
put_on_hold(const char *code)
{
	ck_assert_int_eq(hold(NULL, k.sn, code, "smell", "CD", NULL), RC_OK);
}

static void
hold_batch(const char *code)
{
	(void)code;
	put_on_hold(cod.code);
}

static void
outlive(const char *code)
{
	(void)code;
	kitchen_at(&k, "2026-11-30T00:00");
}

static void
freeze_it(const char *code)
{
	must(freeze, code, "2026-11-25T12:00");
}

static void
freeze_and_thaw(const char *code)
{
	freeze_it(code);
	must(thaw, code, "2026-11-26T12:00");
}

static void
freeze_and_outlive(const char *code)
{
	freeze_it(code);
	kitchen_at(&k, "2027-01-24T00:00");
}

static void
freeze_and_hold(const char *code)
{
	freeze_it(code);
	put_on_hold(code);
}

static void
last_day(const char *code)
{
	(void)code;
	kitchen_at(&k, "2026-11-29T08:00");
}

/* clang-format off */
static const struct {
	const char *why;
	void (*before)(const char *code);
	bool out; /* to thaw */
	const char *temp;
	enum rc rc;
	const char *says;
} refused[] = {
	{ "used up", use_up, false, "-20", RC_REFUSED, "used up" },
	{ "on hold", put_on_hold, false, "-20", RC_REFUSED, "on hold" },
	{ "its batch on hold", hold_batch, false, "-20", RC_REFUSED,
	    "on hold" },
	{ "expired", outlive, false, "-20", RC_REFUSED, "expired on" },
	{ "frozen", freeze_it, false, "-20", RC_REFUSED, "frozen already" },
	{ "thawed", freeze_and_thaw, false, "-20", RC_REFUSED,
	    "not frozen again" },
	{ "its last day", last_day, false, "-20", RC_REFUSED,
	    "freezing_day_counts" },
	{ "not cold", NULL, false, "-17.9", RC_REFUSED, "not frozen yet" },
	{ "no minus sign", NULL, false, "20", RC_INVALID, "minus sign" },
	{ "no temperature at all", NULL, false, "", RC_INVALID,
	    "--temperature" },
	{ "thaw what is chilled", NULL, true, NULL, RC_REFUSED,
	    "is not frozen" },
	{ "thaw twice", freeze_and_thaw, true, NULL, RC_REFUSED,
	    "is not frozen" },
	{ "thaw what expired frozen", freeze_and_outlive, true, NULL,
	    RC_REFUSED, "expired on Sat 23 Jan" },
	{ "thaw what is on hold", freeze_and_hold, true, NULL, RC_REFUSED,
	    "on hold" },
};
/* clang-format on */

/* Refused in one line that names the unit, and nothing is recorded. */
START_TEST(refused_rows)
{
	const char *code = made.portions[1].code;
	struct freeze_in in = asked(&code, 1, refused[_i].temp);
	char shown[CODE_SIZE];
	struct err err = { 0 };
	struct kept out;
	int64_t before;
	enum rc rc;

	if (refused[_i].before != NULL)
		refused[_i].before(code);
	before = kitchen_records(&k);
	rc = (refused[_i].out ? thaw : freeze)(&out, k.sn, &in, &err);
	ck_assert_msg(
	    rc == refused[_i].rc && strstr(err.text, refused[_i].says),
	    "%s: %d %s", refused[_i].why, (int)rc, err.text);
	if (rc == RC_REFUSED)
		ck_assert_msg(strstr(err.text, code_show(shown, code)) != NULL,
		    "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

/* A batch, a wrong code, a code nobody has, and initials that are missing. */
START_TEST(not_a_unit)
{
	const char *batch = cod.code, *wrong = "000-01A", *none = "YYY-000";
	struct freeze_in in = asked(&batch, 1, "-20");
	struct kept out;
	struct err err = { 0 };

	ck_assert_int_eq(freeze(&out, k.sn, &in, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "batch's code"));
	in.codes = &wrong;
	ck_assert_int_eq(freeze(&out, k.sn, &in, NULL), RC_INVALID);
	in.codes = &none;
	ck_assert_int_ne(freeze(&out, k.sn, &in, NULL), RC_OK);
	in = asked(&batch, 1, "-20");
	in.by = "";
	ck_assert_int_eq(thaw(&out, k.sn, &in, NULL), RC_INVALID);
}
END_TEST

/* All or none: the second is not cold enough a story. */
START_TEST(all_or_none)
{
	const char *codes[] = { made.portions[0].code, made.portions[1].code };
	struct freeze_in in = asked(codes, 2, "-20");
	int64_t before;
	struct kept out[2];

	put_on_hold(codes[1]);
	before = kitchen_records(&k);
	ck_assert_int_eq(freeze(out, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM freezing"), 0);
	codes[1] = codes[0];
	ck_assert_int_eq(freeze(out, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM freezing"), 0);
	codes[1] = made.portions[2].code;
	ck_assert_int_eq(freeze(out, k.sn, &in, NULL), RC_OK);
	ck_assert_str_eq(out[1].portion.code, codes[1]);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM freezing"), 2);
}
END_TEST

/* Portions that came of a dish in a state, and what freezing says of them. */
/* clang-format off */
static const struct {
	const char *why, *dish, *rules;
	bool live; /* mussels, else cod */
	const char *frozen, *thawed; /* before it was cut */
	enum rc rc;
	const char *says;
} states[] = {
	{ "live", "mussel-pot", NULL, true, NULL, NULL, RC_REFUSED, "live" },
	{ "in its shell, called raw", "mussel-raw", NULL, true, NULL, NULL,
	    RC_REFUSED, "live" },
	{ "out of its shell", "mussel-meat", NULL, true, NULL, NULL, RC_OK,
	    "" },
	{ "cooked in its shell", "mussel-soup", NULL, true, NULL, NULL, RC_OK,
	    "" },
	{ "made of thawed fish", "cod-cured", NULL, false,
	    "2026-11-26T10:00", "2026-12-04T10:00", RC_REFUSED,
	    "not frozen again" },
	{ "a pack, where the set lets it", "cod-pack", "england", false, NULL,
	    NULL, RC_OK, "" },
};
/* clang-format on */

START_TEST(state_rows)
{
	struct receive_in mussels = kitchen_cod();
	struct breakdown_in in = {
		.makes = { { states[_i].dish, 2, 900, 2 } },
		.make_count = 1,
		.frozen = states[_i].frozen,
		.thawed = states[_i].thawed,
		.freeze_c = states[_i].frozen == NULL ? NULL : "-20",
		.yield_ok = true,
		.by = "CD",
	};
	struct batch b = cod;
	struct breakdown d;
	struct freeze_in ask;
	const char *code;
	struct kept out;
	struct err err = { 0 };
	enum rc rc;

	k.sn->cfg.batch_days = 60;
	if (states[_i].rules != NULL)
		ck_assert_int_eq(rules_load(&k.sn->rules, &k.sn->cfg,
				     states[_i].rules, NULL),
		    RC_OK);
	mussels.species = states[_i].live ? "MUS" : "COD";
	mussels.presentation = states[_i].live ? "live" : "gutted";
	k.sn->cfg.live_days = 3;
	k.sn->cfg.live_batch_days = 9;
	k.sn->cfg.served_raw_days = 5;
	b = kitchen_receive(&k, &mussels);
	in.batch = b.code;
	in.fish = b.count > 0 ? 2 : 0;
	in.weight_g = 4000;
	in.loss_g[LOSS_WASTE] = 3000;
	if (states[_i].thawed != NULL)
		kitchen_at(&k, states[_i].thawed);
	rc = breakdown_record(&d, k.sn, &in, &err);
	ck_assert_msg(rc == RC_OK, "%s: %s", states[_i].why, err.text);
	ck_assert_int_eq(d.portions[0].keep,
	    states[_i].thawed != NULL ? KEEP_THAWED : KEEP_CHILLED);
	code = d.portions[0].code;
	ask = asked(&code, 1, "-20");
	rc = freeze(&out, k.sn, &ask, &err);
	ck_assert_msg(rc == states[_i].rc && strstr(err.text, states[_i].says),
	    "%s: %d %s", states[_i].why, (int)rc, err.text);
	breakdown_fini(&d);
}
END_TEST

/* --- what is recorded ------------------------------------------------------*/

static const struct jsonr *
limit_named(const struct jsonr *doc, const char *name)
{
	const struct jsonr *l;
	size_t i;

	for (i = 0; (l = jsonr_item(doc, "limits", i)) != NULL; i++)
		if (str_eq(jsonr_str(l, "limit"), name))
			return l;
	return NULL;
}

/* Five days from the 25th are the 29th; frozen on the 26th, that day counted,
 * leaves 3: 27, 28, 29.  Out on 10 December: 10, 11, 12; thawed through on the
 * 11th, where the house's one day ends. */
START_TEST(recorded)
{
	const char *code = made.portions[0].code;
	int64_t was = made.portions[0].use_by_utc;
	struct kept in, out;
	struct freezing_list l;
	struct portion p;
	struct jsonr *doc;
	char *why;

	ck_assert_int_eq(was, local("2026-11-29T23:59") + 59);
	in = must(freeze, code, "2026-11-26T09:30");
	ck_assert_int_eq(in.record.days_left, 3);
	ck_assert_int_eq(in.record.use_by_before_utc, was);
	/* 60 days, the day of freezing the first. */
	ck_assert_int_eq(in.record.use_by_utc, local("2027-01-24T23:59") + 59);
	ck_assert_int_eq(in.record.temp_dc, -205);
	ck_assert_int_eq(in.portion.keep, KEEP_FROZEN);
	ck_assert_int_eq(portion_get(&p, k.sn->st, code, NULL), RC_OK);
	ck_assert_int_eq(p.keep, KEEP_FROZEN);
	ck_assert_int_eq(p.use_by_utc, in.record.use_by_utc);
	ck_assert_int_eq(p.frozen_utc, local("2026-11-26T09:30"));
	ck_assert_int_eq(p.left, 4);
	out = must(thaw, code, "2026-12-10T08:00");
	ck_assert_int_eq(out.record.use_by_utc, local("2026-12-11T23:59") + 59);
	ck_assert_int_eq(out.record.use_by_before_utc, in.record.use_by_utc);
	ck_assert_int_eq(out.record.days_left, 3);
	ck_assert_int_eq(portion_get(&p, k.sn->st, code, NULL), RC_OK);
	ck_assert_int_eq(p.keep, KEEP_THAWED);
	ck_assert_int_eq(p.use_by_utc, out.record.use_by_utc);
	ck_assert_int_eq(p.thawed_utc, local("2026-12-10T08:00"));
	ck_assert_int_eq(freezing_list_open(&l, k.sn->st, p.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[0].at.by, "CD");
	ck_assert_int_eq(
	    freezing_why(&why, k.sn->st, l.items[1].id, NULL), RC_OK);
	doc = jsonr_open(why);
	ck_assert_str_eq(jsonr_str(doc, "bound_by"), "house life, thawed");
	ck_assert_str_eq(jsonr_str(doc, "rule_set"), "strict");
	ck_assert_ptr_nonnull(limit_named(doc, "house life, frozen"));
	/* 3-501.18(A)(1): 7 days less the 2 used, from the 10th. */
	ck_assert_int_eq(strncmp(jsonr_str(limit_named(doc,
					       "days left when frozen, after "
					       "thawing"),
				     "use_by"),
			     "2026-12-14", 10),
	    0);
	ck_assert_int_eq(strncmp(jsonr_str(limit_named(doc,
					       "days left when frozen, of its "
					       "own date"),
				     "use_by"),
			     "2026-12-12", 10),
	    0);
	jsonr_close(doc);
	free(why);
	freezing_list_fini(&l);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action IN ('freeze', 'thaw')"),
	    2);
}
END_TEST

static bool
cautioned(const struct kept *kept, const char *words)
{
	size_t i;

	for (i = 0; i < kept->useby.caution_count; i++)
		if (strstr(kept->useby.cautions[i], words) != NULL)
			return true;
	return false;
}

/* The fridge for all; the pack opened first; too few days to thaw in. */
START_TEST(cautions)
{
	struct kitchen_cut cut = { "cod-pack", 2, 2, 330, 2000, 1 };
	struct breakdown d;
	struct kept in, out;

	in = must(freeze, made.portions[0].code, "2026-11-25T12:00");
	ck_assert(!cautioned(&in, "thaw_hours"));
	out = must(thaw, made.portions[0].code, "2026-12-01T12:00");
	ck_assert(cautioned(&out, "in the fridge at 5 C"));
	ck_assert(!cautioned(&out, "open the pack"));
	kitchen_at(&k, "2026-11-28T12:00");
	k.sn->cfg.thaw_hours = 24;
	in = must(freeze, made.portions[1].code, "2026-11-28T12:00");
	ck_assert_int_eq(in.record.days_left, 1);
	ck_assert(cautioned(&in, "thaw_hours"));
	k.sn->cfg.thaw_hours = 23;
	in = must(freeze, made.portions[2].code, "2026-11-28T12:00");
	ck_assert(!cautioned(&in, "thaw_hours"));
	ck_assert_int_eq(
	    rules_load(&k.sn->rules, &k.sn->cfg, "england", NULL), RC_OK);
	d = kitchen_break(&k, cod.code, &cut);
	must(freeze, d.portions[0].code, "2026-11-28T12:00");
	out = must(thaw, d.portions[0].code, "2026-11-30T12:00");
	ck_assert(cautioned(&out, "open the pack before it thaws"));
	out = must(thaw, made.portions[1].code, "2026-11-30T12:00");
	ck_assert(cautioned(&out, "only after this use-by"));
	k.sn->cfg.thaw_hours = 1;
	out = must(thaw, made.portions[2].code, "2026-11-30T12:30");
	ck_assert(!cautioned(&out, "only after this use-by"));
	breakdown_fini(&d);
}
END_TEST

/* Frozen it is not served but may be thrown away; thawed it is served. */
START_TEST(frozen_is_not_served)
{
	const char *code = made.portions[0].code;
	struct use_in in = { .code = code, .servings = 1, .by = "CD" };
	struct discard_in away = { .code = made.portions[1].code,
		.reason = "freezer burn",
		.by = "CD" };
	struct discarded gone;
	struct portion p;
	struct err err = { 0 };

	must(freeze, made.portions[1].code, "2026-11-25T12:00");
	must(freeze, code, "2026-11-25T12:00");
	ck_assert_int_eq(use(&p, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "pinbone thaw"));
	in.reason = "it is soft";
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_REFUSED);
	in.reason = NULL;
	/* The chilled one is not told to wait for a frozen one. */
	in.code = made.portions[2].code;
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(discard(&gone, k.sn, &away, NULL), RC_OK);
	must(thaw, code, "2026-11-25T13:00");
	in.code = code;
	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
}
END_TEST

/* --- counted by hand -------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	int64_t servings;
	const char *reason;
	enum rc rc;
	int64_t left;
	const char *says;
} counts[] = {
	{ "as recorded", 3, NULL, RC_OK, 3, "" },
	{ "one missing", 2, "not in the fridge", RC_OK, 2, "" },
	{ "all missing", 0, "not in the fridge", RC_OK, 0, "" },
	{ "missing without a reason", 2, NULL, RC_INVALID, 3, "--reason" },
	{ "missing with an empty one", 2, "", RC_INVALID, 3, "--reason" },
	{ "one found", 4, "scanned out twice", RC_OK, 4, "" },
	{ "found without a reason", 4, NULL, RC_INVALID, 3, "--reason" },
	{ "more than there ever were", 5, "x", RC_REFUSED, 3,
	    "was made with 4" },
};
/* clang-format on */

START_TEST(count_rows)
{
	const char *code = made.portions[0].code;
	struct use_in one = { .code = code, .servings = 1, .by = "CD" };
	struct count_in in = { code, counts[_i].servings, counts[_i].reason,
		"CD" };
	int64_t before, events;
	struct counted c;
	struct portion p;
	struct err err = { 0 };
	enum rc rc;

	ck_assert_int_eq(use(&p, k.sn, &one, NULL), RC_OK);
	before = kitchen_records(&k);
	events = kitchen_count(&k, "SELECT count(*) FROM portion_event");
	rc = count_unit(&c, k.sn, &in, &err);
	ck_assert_msg(rc == counts[_i].rc && strstr(err.text, counts[_i].says),
	    "%s: %d %s", counts[_i].why, (int)rc, err.text);
	ck_assert_int_eq(portion_get(&p, k.sn->st, code, NULL), RC_OK);
	ck_assert_int_eq(p.left, counts[_i].left);
	if (rc != RC_OK) {
		ck_assert_int_eq(kitchen_records(&k), before);
		return;
	}
	ck_assert_int_eq(c.before, 3);
	ck_assert_int_eq(c.portion.left, p.left);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM portion_event"),
	    events + (p.left != 3));
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'count'"),
	    1);
}
END_TEST

Suite *
suite_ops_freeze(void)
{
	Suite *s = suite_create("ops_freeze");
	TCase *tc = tcase_create("freeze");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, refused_rows, 0, (int)NELEM(refused));
	tcase_add_test(tc, not_a_unit);
	tcase_add_test(tc, all_or_none);
	tcase_add_loop_test(tc, state_rows, 0, (int)NELEM(states));
	tcase_add_test(tc, recorded);
	tcase_add_test(tc, cautions);
	tcase_add_test(tc, frozen_is_not_served);
	tcase_add_loop_test(tc, count_rows, 0, (int)NELEM(counts));
	suite_add_tcase(s, tc);
	return s;
}
