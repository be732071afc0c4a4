/*
 * test_ops_mixed.c - food of several batches: dated by all of them, held by
 * any, found from each; and what is left of several trays on one.
 *
 * That every lot of origin stays identifiable after mixing is asked by Reg.
 * (EU) 404/2011 Art. 67(3), in force as the UK's copy (legislation.gov.uk,
 * eur/2011/404, title IV); the oldest date of freezing of a mixture by Reg.
 * (EU) 16/2012.
 */
#include "unit.h"

#include <inttypes.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "ops/combine.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/hold.h"
#include "ops/look.h"
#include "ops/rules.h"
#include "ops/trace_page.h"
#include "ops/undo.h"
#include "sound.h"
#include "store/chain.h"
#include "store/holds.h"
#include "store/portions.h"
#include "store/store.h"

#define BATCHES 4
#define UNITS_MAX 400

static struct kitchen k;
static struct batch cod[BATCHES];

static void
setup(void)
{
	/* Dates that bind in turn: the supplier's, or the day of the catch. */
	static const char *const until[BATCHES] = { "2026-11-27", "2026-12-02",
		NULL, "2026-11-26" };
	static const char *const lots[BATCHES] = { "A", "B", "C", "D" };
	struct receive_in in = kitchen_cod();
	size_t i;

	kitchen_open(&k);
	k.sn->cfg.batch_days = 9;
	k.sn->cfg.raw_days = 5;
	for (i = 0; i < BATCHES; i++) {
		in.supplier_date = until[i];
		in.lot = lots[i];
		cod[i] = kitchen_receive(&k, &in);
	}
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
sound(void)
{
	sqlite3 *db;
	const char *said;

	ck_assert_int_eq(
	    sqlite3_open_v2(k.db, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
	said = sound_check(db, 0);
	ck_assert_msg(said == NULL, "%s", said);
	sqlite3_close(db);
}

/* One breakdown of the batches named by bits, two kilograms and a fish each. */
static struct breakdown
mix(unsigned set, int64_t portions, int64_t per_label)
{
	struct breakdown_in in = {
		.makes = { { "cod-leeks", portions, portions * 160,
		    per_label } },
		.make_count = 1,
		.yield_ok = true,
		.by = "CD",
	};
	struct breakdown out;
	struct err err = { 0 };
	size_t i;

	for (i = 0; i < BATCHES; i++) {
		if ((set >> i & 1) == 0)
			continue;
		if (in.batch == NULL) {
			in.batch = cod[i].code;
			in.fish = 1;
			in.weight_g = 2000;
			continue;
		}
		in.with[in.with_count++] =
		    (struct breakdown_with){ cod[i].code, 1, 2000 };
	}
	in.loss_g[LOSS_FRAMES] = 501;
	in.loss_g[LOSS_WASTE] = 103;
	ck_assert_msg(
	    breakdown_record(&out, k.sn, &in, &err) == RC_OK, "%s", err.text);
	return out;
}

/* The batches a unit is of, as bits; by the file alone. */
static unsigned
batches_of(int64_t unit)
{
	unsigned set = 0;
	char sql[300];
	size_t i;

	for (i = 0; i < BATCHES; i++) {
		str_fmt(sql, sizeof(sql),
		    "SELECT EXISTS (SELECT 1 FROM portion WHERE id = %" PRId64
		    " AND batch_id = %" PRId64
		    ") + EXISTS (SELECT 1 FROM portion_source WHERE portion_id"
		    " = %" PRId64 " AND batch_id = %" PRId64 ")",
		    unit, cod[i].id, unit, cod[i].id);
		if (kitchen_count(&k, sql) > 0)
			set |= 1u << i;
	}
	return set;
}

/* Back from a unit: what the trace names, as bits. */
static unsigned
traced_back(const char *code)
{
	const struct trace_window w = { 0, 0, 1 };
	struct trace_page p;
	unsigned set = 0;
	size_t i, j;

	ck_assert_int_eq(trace_page_load(&p, k.sn, code, &w, NULL), RC_OK);
	for (i = 0; i < BATCHES; i++) {
		if (str_eq(p.batch.code, cod[i].code))
			set |= 1u << i;
		for (j = 0; j < p.other_count; j++)
			if (str_eq(p.others[j].code, cod[i].code)) {
				ck_assert_str_eq(
				    p.others[j].supplier.code, "pier");
				set |= 1u << i;
			}
	}
	ck_assert_uint_eq(p.other_count + 1,
	    (size_t)__builtin_popcount(set)); /* none twice */
	trace_page_fini(&p);
	return set;
}

/* Forward from a batch: is the unit there? */
static bool
traced_forward(size_t batch, const char *code)
{
	struct portion_list l;
	bool found = false;
	size_t i;

	ck_assert_int_eq(
	    portion_list_batch(&l, k.sn->st, cod[batch].id, NULL), RC_OK);
	for (i = 0; i < l.count; i++)
		found = found || str_eq(l.items[i].code, code);
	portion_list_fini(&l);
	return found;
}

/* What one batch alone would be dated. */
static int64_t
alone(size_t batch)
{
	struct history h = { .made_utc = clock_now(&k.sn->clock) };
	struct useby u;

	ck_assert_int_eq(
	    date_portion(&u, k.sn, &cod[batch], STATE_RAW, &h, NULL), RC_OK);
	return useby_utc(&u);
}

static bool
held(const char *code)
{
	struct portion p;

	ck_assert_int_eq(portion_get(&p, k.sn->st, code, NULL), RC_OK);
	return p.held;
}

static void
hold_it(const char *code, bool on)
{
	struct err err = { 0 };
	enum rc rc = on ? hold(NULL, k.sn, code, "smell", "AB", &err)
			: release(NULL, k.sn, code, "fine", "AB", &err);

	ck_assert_msg(rc == RC_OK, "%s", err.text);
}

/* Every set of batches: dates, holds, closure both ways, every gram. */
START_TEST(every_mix)
{
	unsigned set = (unsigned)_i + 1;
	struct breakdown b = mix(set, 6, 2);
	int64_t first = INT64_MAX;
	size_t i, u;

	sound();
	for (i = 0; i < BATCHES; i++)
		if ((set >> i & 1) != 0 && alone(i) < first)
			first = alone(i);
	for (u = 0; u < b.portion_count; u++) {
		const struct portion *p = &b.portions[u];

		ck_assert_uint_eq(batches_of(p->id), set);
		ck_assert_uint_eq(traced_back(p->code), set);
		ck_assert_int_eq(p->use_by_utc, first);
		for (i = 0; i < BATCHES; i++) {
			bool of = (set >> i & 1) != 0;

			ck_assert(traced_forward(i, p->code) == of);
			ck_assert(!of || p->use_by_utc <= alone(i));
			hold_it(cod[i].code, true);
			ck_assert(held(p->code) == of);
			hold_it(cod[i].code, false);
			ck_assert(!held(p->code));
			/* Filed under the one that binds. */
			ck_assert(
			    p->batch_id != cod[i].id || alone(i) == first);
		}
	}
	for (i = 0; i < BATCHES; i++) {
		struct batch now;

		ck_assert_int_eq(
		    batch_get(&now, k.sn->st, cod[i].code, NULL), RC_OK);
		ck_assert_int_eq(now.weight_left,
		    cod[i].weight_g - ((set >> i & 1) != 0 ? 2000 : 0));
		kitchen_balance(&k, &now);
	}
	breakdown_fini(&b);
}
END_TEST

/* --- at random
 * --------------------------------------------------------------*/

/* What the test itself knows of each unit. */
struct known {
	char code[CODE_SIZE];
	unsigned set;
	int64_t use_by, left;
};

static struct known known[UNITS_MAX];
static size_t known_count;

static void
learn(const struct portion *p, unsigned set, int64_t use_by)
{
	struct known *n = &known[known_count++];

	ck_assert_uint_lt(known_count, UNITS_MAX);
	str_copy(n->code, sizeof(n->code), p->code);
	n->set = set;
	n->use_by = use_by;
	n->left = p->servings;
}

static void
some_mix(uint64_t *seed)
{
	unsigned set = 1 + (unsigned)(chance_next(seed) % 15);
	struct breakdown b = mix(set, 2 + (int64_t)(chance_next(seed) % 5), 2);
	int64_t first = INT64_MAX;
	size_t i;

	for (i = 0; i < BATCHES; i++)
		if ((set >> i & 1) != 0 && alone(i) < first)
			first = alone(i);
	for (i = 0; i < b.portion_count; i++)
		learn(&b.portions[i], set, first);
	breakdown_fini(&b);
}

static void
some_use(uint64_t *seed)
{
	struct known *n = &known[chance_next(seed) % known_count];
	struct use_in in = {
		.code = n->code, .servings = 1, .reason = "a test", .by = "LM"
	};
	struct portion p;

	if (n->left == 0)
		return;
	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	n->left--;
}

static void
some_combine(uint64_t *seed)
{
	const char *codes[3];
	struct combine_in in = { .codes = codes, .by = "AB" };
	struct known *from[3];
	struct combined c;
	struct err err = { 0 };
	int64_t left = 0, first = INT64_MAX;
	unsigned set = 0;
	size_t i, tries;

	for (tries = 0; tries < 20 && in.count < 3; tries++) {
		struct known *n = &known[chance_next(seed) % known_count];

		for (i = 0; i < in.count && from[i] != n; i++)
			;
		if (i < in.count || n->left == 0)
			continue;
		from[in.count] = n;
		codes[in.count++] = n->code;
		set |= n->set;
		left += n->left;
		if (n->use_by < first)
			first = n->use_by;
	}
	if (in.count < 2)
		return;
	ck_assert_msg(combine(&c, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(c.tray.servings, left);
	for (i = 0; i < in.count; i++)
		from[i]->left = 0;
	learn(&c.tray, set, first);
}

/* Anything in any order: what the file says of each unit is what the test
 * knows of it. */
START_TEST(at_random)
{
	uint64_t seed = (uint64_t)_i * 7919 + 1;
	struct chain_counts counts;
	struct portion p;
	size_t i, b;
	int step, mixes = 1;

	known_count = 0;
	some_mix(&seed);
	for (step = 0; step < 40; step++) {
		uint64_t deed = chance_next(&seed) % 10;

		if (deed < 2 && mixes < 9 && ++mixes > 0)
			some_mix(&seed);
		else if (deed < 6)
			some_use(&seed);
		else
			some_combine(&seed);
	}
	sound();
	for (i = 0; i < known_count; i++) {
		ck_assert_int_eq(
		    portion_get(&p, k.sn->st, known[i].code, NULL), RC_OK);
		ck_assert_int_eq(p.left, known[i].left);
		ck_assert_int_eq(p.use_by_utc, known[i].use_by);
		ck_assert_uint_eq(batches_of(p.id), known[i].set);
		ck_assert_uint_eq(traced_back(p.code), known[i].set);
		for (b = 0; b < BATCHES; b++)
			ck_assert(traced_forward(b, p.code) ==
			    ((known[i].set >> b & 1) != 0));
	}
	/* Nothing is counted twice, and nothing is lost. */
	for (b = 0; b < BATCHES; b++) {
		ck_assert_int_eq(chain_count(&counts, k.sn->st, cod[b].id, 0,
				     clock_now(&k.sn->clock), NULL),
		    RC_OK);
		ck_assert_int_eq(counts.made + counts.brought,
		    counts.left + counts.used + counts.discarded +
			counts.missing);
	}
}
END_TEST

/* --- undone
 * -------------------------------------------------------------------*/

static void
undo_now(const char *of)
{
	struct undo_offer o;
	struct undo_in in = { .of = of, .by = of };
	struct err err = { 0 };

	ck_assert_msg(undo_last(&o, k.sn, of, &err) == RC_OK, "%s", err.text);
	in.step = o.step;
	ck_assert_msg(undo_do(&o, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

START_TEST(all_inputs_come_back)
{
	struct breakdown b = mix(15, 4, 2);
	struct batch now;
	size_t i;

	undo_now("CD");
	sound();
	for (i = 0; i < BATCHES; i++) {
		ck_assert_int_eq(
		    batch_get(&now, k.sn->st, cod[i].code, NULL), RC_OK);
		ck_assert_int_eq(now.weight_left, cod[i].weight_g);
		ck_assert_int_eq(now.count_left, cod[i].count);
		kitchen_balance(&k, &now);
	}
	breakdown_fini(&b);
}
END_TEST

/* Batches that were used up are open again, every one. */
START_TEST(used_up_and_back)
{
	struct breakdown_in in = {
		.batch = cod[0].code,
		.fish = 10,
		.weight_g = 20000,
		.with = { { cod[1].code, 10, 20000 } },
		.with_count = 1,
		.loss_g = { [LOSS_TRIM] = 30000 },
		.by = "CD",
	};
	struct breakdown b;

	ck_assert_int_eq(breakdown_record(&b, k.sn, &in, NULL), RC_OK);
	breakdown_fini(&b);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT sum(open) FROM batch"), BATCHES - 2);
	undo_now("CD");
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT sum(open) FROM batch"), BATCHES);
}
END_TEST

/* A breakdown whose units lie on another tray is not struck out under it, and
 * a tray taken apart leaves everything as it was. */
START_TEST(apart_again)
{
	struct breakdown a = mix(1, 4, 2), b = mix(2, 4, 2);
	const char *codes[] = { a.portions[0].code, b.portions[0].code };
	struct combine_in in = { codes, 2, "EF" };
	struct undo_offer o;
	struct combined c;
	struct portion p;
	struct err err = { 0 };
	int i;

	ck_assert_int_eq(combine(&c, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(undo_last(&o, k.sn, "CD", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "has 0 of 2 left"));
	undo_now("EF");
	sound();
	for (i = 0; i < 2; i++) {
		ck_assert_int_eq(
		    portion_get(&p, k.sn->st, codes[i], NULL), RC_OK);
		ck_assert_int_eq(p.left, 2);
		ck_assert(!p.struck);
	}
	ck_assert_int_eq(portion_get(&p, k.sn->st, c.tray.code, NULL), RC_OK);
	ck_assert(p.struck);
	ck_assert_int_eq(p.left, 0);
	/* Now the breakdowns themselves, the tray not in their way. */
	undo_now("CD");
	undo_now("CD");
	sound();
	breakdown_fini(&a);
	breakdown_fini(&b);
}
END_TEST

/* A hold on a breakdown holds the tray that some of it lies on. */
START_TEST(held_by_its_breakdown)
{
	struct breakdown a = mix(1, 4, 2), b = mix(2, 4, 2);
	const char *codes[] = { a.portions[0].code, b.portions[0].code };
	struct combine_in in = { codes, 2, "EF" };
	struct subject s = { .prep_id = 0 };
	struct moment at = { clock_now(&k.sn->clock), 0, "AB" };
	struct combined c;
	int i;

	ck_assert_int_eq(combine(&c, k.sn, &in, NULL), RC_OK);
	for (i = 0; i < 2; i++) {
		s.prep_id = i == 0 ? a.prep.id : b.prep.id;
		ck_assert_int_eq(store_begin(k.sn->st, NULL), RC_OK);
		ck_assert_int_eq(
		    hold_open(k.sn->st, &s, "knife", &at, NULL), RC_OK);
		ck_assert(held(c.tray.code));
		ck_assert(held((i == 0 ? &a : &b)->portions[1].code));
		ck_assert(!held((i == 0 ? &b : &a)->portions[1].code));
		store_rollback(k.sn->st);
	}
	ck_assert(!held(c.tray.code));
	breakdown_fini(&a);
	breakdown_fini(&b);
}
END_TEST

/* --- what it teaches
 * ------------------------------------------------------------*/

/* Of one supplier the yield is learned on the sum, of several it is set aside:
 * whose fish gave it is not known. */
START_TEST(yield_of_the_sum)
{
	struct receive_in other = kitchen_cod();
	struct breakdown_in in = {
		.batch = cod[0].code,
		.fish = 1,
		.weight_g = 2000,
		.with = { { cod[1].code, 2, 3900 } },
		.with_count = 1,
		.makes = { { "cod-leeks", 16, 2600, 4 } },
		.make_count = 1,
		.by = "CD",
	};
	struct breakdown out;
	struct batch far;

	ck_assert_int_eq(breakdown_record(&out, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(out.yield.verdict, YIELD_LEARNED);
	ck_assert_int_eq(out.yield.observed_bp, 2600 * 10000 / 5900);
	breakdown_fini(&out);
	other.supplier = "reef";
	far = kitchen_receive(&k, &other);
	in.with[0] = (struct breakdown_with){ far.code, 2, 3900 };
	ck_assert_int_eq(breakdown_record(&out, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(out.yield.verdict, YIELD_SET_ASIDE);
	breakdown_fini(&out);
	/* The gate asks as it does of one batch. */
	in.makes[0].weight_g = 1000;
	in.makes[0].portions = 8;
	ck_assert_int_eq(breakdown_record(&out, k.sn, &in, NULL), RC_REFUSED);
	ck_assert_int_eq(out.doubt, DOUBT_YIELD);
	breakdown_fini(&out);
}
END_TEST

/* --- from the freezer
 * ------------------------------------------------------------*/

/* Frozen and thawed, a mixed unit has the shortest life of its batches. */
START_TEST(frozen_mixed)
{
	struct breakdown b = mix(6, 4, 2);
	const char *code = b.portions[0].code;
	struct freeze_in in = { &code, 1, "-18", NULL, "AB" };
	struct kept kept;
	struct frozen_life life;
	struct useby u;
	struct portion p = b.portions[0];
	struct err err = { 0 };
	int64_t shortest = INT64_MAX;
	size_t i;

	for (i = 1; i <= 2; i++) {
		life =
		    (struct frozen_life){ .frozen_utc = clock_now(&k.sn->clock),
			    .freeze_dc = -180 };
		ck_assert_int_eq(
		    date_frozen(&u, &life, k.sn, &cod[i], &p, NULL), RC_OK);
		if (useby_utc(&u) < shortest)
			shortest = useby_utc(&u);
	}
	ck_assert_msg(freeze(&kept, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(kept.portion.use_by_utc, shortest);
	ck_assert_uint_eq(traced_back(code), 6);
	breakdown_fini(&b);
}
END_TEST

Suite *
suite_ops_mixed(void)
{
	Suite *s = suite_create("ops_mixed");
	TCase *tc = tcase_create("mixed");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, every_mix, 0, 15);
	tcase_add_loop_test(tc, at_random, 0, 12);
	tcase_add_test(tc, all_inputs_come_back);
	tcase_add_test(tc, used_up_and_back);
	tcase_add_test(tc, apart_again);
	tcase_add_test(tc, held_by_its_breakdown);
	tcase_add_test(tc, yield_of_the_sum);
	tcase_add_test(tc, frozen_mixed);
	suite_add_tcase(s, tc);
	return s;
}
