/*
 * test_ops_recall.c - what is blocked is blocked everywhere from the same
 * instant, by whatever blocks it; a recall's list, its scans and its end.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/hold.h"
#include "ops/on_hand.h"
#include "ops/place.h"
#include "ops/queue.h"
#include "ops/recall.h"
#include "ops/trace_page.h"

/* Two batches; the first broken down twice, the second once: 3, 2 and 2 trays.
 * The last of each is frozen. */
#define BATCHES 2
#define PREPS 3
#define UNITS 7

static struct kitchen k;
static struct batch batch[BATCHES];
static struct unit {
	char code[CODE_SIZE];
	int prep, batch;
	bool frozen;
} unit[UNITS];
static int unit_count;

static void
cut_up(int b, int prep, int trays)
{
	const struct kitchen_cut cut = { .dish = "cod-leeks",
		.portions = (int64_t)trays * 4,
		.per_label = 4,
		.portions_g = (grams)trays * 4 * 150,
		.in_g = 2000 * (trays / 2 + 1),
		.fish = trays / 2 + 1 };
	struct breakdown made = kitchen_break(&k, batch[b].code, &cut);
	const char *code;
	struct freeze_in in = {
		.codes = &code, .count = 1, .temp = "-20", .by = "CD"
	};
	struct kept kept;
	size_t i;

	for (i = 0; i < made.portion_count; i++) {
		unit[unit_count].prep = prep;
		unit[unit_count].batch = b;
		str_copy(
		    unit[unit_count].code, CODE_SIZE, made.portions[i].code);
		unit_count++;
	}
	unit[unit_count - 1].frozen = true;
	code = unit[unit_count - 1].code;
	ck_assert_int_eq(freeze(&kept, k.sn, &in, NULL), RC_OK);
	breakdown_fini(&made);
}

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	unit_count = 0;
	batch[0] = kitchen_receive(&k, &in);
	in.document = "N-OTHER";
	in.lot = "other";
	batch[1] = kitchen_receive(&k, &in);
	cut_up(0, 0, 3);
	cut_up(0, 1, 2);
	cut_up(1, 2, 2);
	ck_assert_int_eq(unit_count, UNITS);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static size_t
below(uint64_t *c, size_t n)
{
	return (size_t)(chance_next(c) % n);
}

/* --- the model: what is blocked, kept apart from the record --------------- */

static struct model {
	bool batch[BATCHES], prep[PREPS], unit[UNITS];
} on;

static bool
blocked(int u)
{
	return on.unit[u] || on.prep[unit[u].prep] || on.batch[unit[u].batch];
}

/* --- ways out ------------------------------------------------------------- */

static enum rc
way_use(int u)
{
	const struct use_in in = { .code = unit[u].code,
		.servings = 1,
		.reason = "asked for",
		.by = "EF" };
	struct portion p;

	return use(&p, k.sn, &in, NULL);
}

static enum rc
way_move(int u, bool into)
{
	const char *code = unit[u].code;
	const struct freeze_in in = {
		.codes = &code, .count = 1, .temp = "-20", .by = "EF"
	};
	struct kept kept;

	return (into ? freeze : thaw)(&kept, k.sn, &in, NULL);
}

static enum rc
way_freeze(int u)
{
	return way_move(u, true);
}

static enum rc
way_thaw(int u)
{
	return way_move(u, false);
}

static enum rc
way_label(int u)
{
	struct print_job job;

	return kitchen_label(&job, &k, unit[u].code, LABEL_FIRST);
}

static enum rc
way_reprint(int u)
{
	struct print_job job;

	return kitchen_label(&job, &k, unit[u].code, LABEL_AGAIN);
}

static enum rc (*const ways[])(
    int u) = { way_use, way_freeze, way_thaw, way_label, way_reprint };

static int extra[BATCHES]; /* units made since, of breakdowns of their own */

static enum rc
break_batch(int b)
{
	const struct breakdown_in in = { .batch = batch[b].code,
		.fish = 1,
		.weight_g = 2000,
		.makes = { { "cod-leeks", 4, 600, 4 } },
		.make_count = 1,
		.loss_g = { 100, 900, 300 },
		.by = "EF" };
	struct breakdown out;
	enum rc rc = breakdown_record(&out, k.sn, &in, NULL);

	extra[b] += rc == RC_OK ? (int)out.portion_count : 0;
	breakdown_fini(&out);
	return rc;
}

/* Everything that says what is on hand agrees with the model. */
static void
agrees(void)
{
	const struct trace_window w = { 0, 0, 200 };
	struct on_hand_wish wish = { .limit = 100 };
	struct on_hand_page page;
	struct trace_page t;
	struct use_look look;
	int64_t held = on.batch[0] ? extra[0] : 0;
	size_t i;
	int u;

	for (u = 0; u < UNITS; u++) {
		ck_assert_int_eq(
		    use_look(&look, k.sn, unit[u].code, NULL), RC_OK);
		ck_assert_int_eq(look.portion.held, blocked(u));
		if (look.portion.left > 0)
			held += blocked(u) && unit[u].batch == 0;
		if (blocked(u) && look.portion.left > 0)
			ck_assert_int_eq(look.verdict, USE_HELD);
		/* Nobody is sent to an older one that is blocked. */
		if (look.verdict == USE_OLDER_FIRST)
			ck_assert(!look.older.held);
	}
	ck_assert_int_eq(on_hand_load(&page, k.sn, &wish, NULL), RC_OK);
	for (i = 0; i < page.count; i++)
		for (u = 0; u < UNITS; u++)
			if (str_eq(page.rows[i].code, unit[u].code)) {
				ck_assert_int_eq(page.rows[i].held, blocked(u));
				ck_assert_int_eq(
				    page.rows[i].own_hold, on.unit[u]);
				ck_assert_int_eq(
				    page.rows[i].hold_reason[0] != '\0',
				    blocked(u));
			}
	on_hand_fini(&page);
	ck_assert_int_eq(
	    trace_page_load(&t, k.sn, batch[0].code, &w, NULL), RC_OK);
	ck_assert_int_eq(t.counts.held, held);
	ck_assert_int_eq(t.batch.held, on.batch[0]);
	trace_page_fini(&t);
	/* No label is queued that says usable of what is blocked. */
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM print_job j JOIN held_unit"
			     " u ON u.portion_id = j.portion_id WHERE u.held"
			     " AND j.state = 'queued' AND j.says <> 'hold'"),
	    0);
}

/* --- steps ---------------------------------------------------------------- */

/* One of BATCHES + PREPS + UNITS subjects: its row of the model, a code that
 * names it. */
static bool *
subject(struct hold_in *in, int n)
{
	int u;

	*in = (struct hold_in){ .reason = "a doubt", .by = "EF" };
	if (n < BATCHES) {
		in->code = batch[n].code;
		return &on.batch[n];
	}
	n -= BATCHES;
	if (n < PREPS) {
		for (u = 0; unit[u].prep != n; u++)
			;
		in->code = unit[u].code;
		in->breakdown = true;
		return &on.prep[n];
	}
	n -= PREPS;
	in->code = unit[n].code;
	return &on.unit[n];
}

static void
step_hold(uint64_t *c)
{
	struct hold_done d;
	struct hold_in in;
	bool *is = subject(&in, (int)below(c, BATCHES + PREPS + UNITS));
	bool lift = *is && below(c, 3) > 0;
	enum rc rc;

	if (lift) {
		ck_assert_int_eq(hold_lift(&d, k.sn, &in, NULL), RC_OK);
		*is = false;
		return;
	}
	rc = hold_set(&d, k.sn, &in, NULL);
	ck_assert_int_eq(rc, *is ? RC_REFUSED : RC_OK);
	*is = true;
}

/* A recall blocks what was free, and by mistake frees just that. */
static void
step_recall(uint64_t *c)
{
	struct hold_done d;
	struct hold_in what;
	bool *is = subject(&what, (int)below(c, BATCHES + PREPS + UNITS));
	const struct recall_in in = { .codes = &what.code,
		.count = 1,
		.breakdown = what.breakdown,
		.reason = "rang",
		.by = "GH" };
	struct recall_close_in end = { .outcome = "mistake", .by = "GH" };
	struct recall_brief b;
	struct recall_closed closed;
	bool was = *is;

	ck_assert_int_eq(recall_open(&b, k.sn, &in, NULL), RC_OK);
	*is = true;
	agrees();
	/* What it rests on cannot be let go behind its back. */
	ck_assert_int_eq(hold_lift(&d, k.sn, &what, NULL), RC_REFUSED);
	end.id = b.recall.id;
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_OK);
	ck_assert_int_eq(closed.released, !was);
	*is = was;
}

static void
step_way(uint64_t *c)
{
	int u = (int)below(c, UNITS), b = unit[u].batch;
	int64_t records = kitchen_records(&k);
	enum rc rc;

	if (below(c, 6) == 0) {
		rc = break_batch(b);
		if (on.batch[b])
			ck_assert_int_eq(rc, RC_REFUSED);
	} else {
		rc = ways[below(c, NELEM(ways))](u);
		if (blocked(u))
			ck_assert_int_eq(rc, RC_REFUSED);
	}
	if (rc != RC_OK)
		ck_assert_int_eq(kitchen_records(&k), records);
}

START_TEST(blocked_everywhere)
{
	uint64_t c = (uint64_t)_i + 1;
	int i;

	memset(&on, 0, sizeof(on));
	memset(extra, 0, sizeof(extra));
	for (i = 0; i < 60; i++) {
		switch (below(&c, 5)) {
		case 0:
		case 1:
			step_hold(&c);
			break;
		case 2:
			step_recall(&c);
			break;
		default:
			step_way(&c);
		}
		agrees();
	}
}
END_TEST

/* --- labels --------------------------------------------------------------- */

static struct print_job
queued(const char *code)
{
	const struct label_order o = { &code, 1, LABEL_FIRST, .by = "CD",
		.only_queue = true };
	struct job_list l;
	struct print_job j;

	ck_assert_int_eq(label_print(&l, k.sn, &o, NULL), RC_OK);
	j = l.items[0];
	job_list_fini(&l);
	return j;
}

/* A label is queued; another process blocks its food; the queue is worked. */
START_TEST(label_race)
{
	struct kitchen other = k;
	struct hold_in in = { .code = unit[0].code,
		.breakdown = _i == 1,
		.reason = "glass",
		.by = "EF" };
	volatile sig_atomic_t stop = 0;
	struct hold_done d;
	struct print_job job, after;
	struct err err = { 0 };

	if (_i == 2)
		in.code = batch[0].code;
	job = queued(unit[0].code);
	other.sn = NULL;
	ck_assert_msg(kitchen_station(&other, KITCHEN_NOW, &err) == RC_OK, "%s",
	    err.text);
	ck_assert_int_eq(hold_set(&d, other.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(d.labels, 1);
	ignore_rc(queue_run(k.sn, true, &stop, NULL, NULL));
	ck_assert_int_eq(job_get(&after, k.sn->st, job.id, NULL), RC_OK);
	ck_assert_int_eq(after.state, JOB_CANCELLED);
	ck_assert_str_eq(after.error, "on hold: glass");
	/* Let go, it is wanted again, and may be printed for the first time. */
	ck_assert_int_eq(hold_lift(&d, other.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(d.labels, 1);
	ck_assert_ptr_nonnull(strchr(d.codes, '-'));
	job = queued(unit[0].code);
	ck_assert_int_eq(job.copy, 0);
	station_close(other.sn);
}
END_TEST

/* --- units of several batches --------------------------------------------- */

/* The view that says which units hold food of a batch may grow: then a hold
 * and a recall of any of them reach it. */
START_TEST(several_batches)
{
	const char *code = batch[1].code;
	const struct recall_in in = {
		.codes = &code, .count = 1, .reason = "rang", .by = "GH"
	};
	const struct hold_in h = {
		.code = batch[1].code, .reason = "a doubt", .by = "EF"
	};
	struct recall_page page;
	struct recall_brief b;
	struct hold_done d;
	struct use_look look;
	size_t i, found = 0;
	struct err err = { 0 };
	char sql[800];

	str_fmt(sql, sizeof(sql),
	    "CREATE TABLE test_source (portion_id INTEGER, batch_id INTEGER);"
	    "CREATE INDEX test_source_portion ON test_source (portion_id);"
	    "CREATE INDEX test_source_batch ON test_source (batch_id);"
	    "INSERT INTO test_source SELECT p.id, %lld FROM portion p"
	    " WHERE p.code = '%s'; DROP VIEW batch_unit;"
	    "CREATE VIEW batch_unit AS SELECT batch_id, id AS portion_id"
	    " FROM portion UNION ALL SELECT batch_id, portion_id FROM"
	    " test_source;",
	    (long long)batch[1].id, unit[0].code);
	ck_assert_int_eq(kitchen_sql(k.db, sql), 0);
	ck_assert_msg(hold_set(&d, k.sn, &h, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(use_look(&look, k.sn, unit[0].code, NULL), RC_OK);
	ck_assert_int_eq(look.verdict, USE_HELD);
	ck_assert_int_eq(use_look(&look, k.sn, unit[1].code, NULL), RC_OK);
	ck_assert(!look.portion.held);
	ck_assert_int_eq(recall_open(&b, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(recall_load(&page, k.sn, b.recall.id, NULL), RC_OK);
	for (i = 0; i < page.items.count; i++)
		found += str_eq(page.items.items[i].code, unit[0].code);
	ck_assert_uint_eq(found, 1);
	recall_fini(&page);
}
END_TEST

/* --- a recall from end to end --------------------------------------------- */

static struct recall_scan
scan(int64_t id, const char *code)
{
	struct recall_scan s;

	ck_assert_int_eq(recall_tick(&s, k.sn, id, code, 0, "GH", NULL), RC_OK);
	return s;
}

/* One step back, one step forward (Reg. (EC) 178/2002 Art. 18): the list has
 * every unit of the lot, and every gram of it is where the record says. */
START_TEST(to_its_end)
{
	const struct lot_wish lot = { .lot = "OTHER" };
	const struct recall_in in = { .lot = lot,
		.reason = "rang",
		.origin = "authority",
		.by = "GH" };
	struct recall_close_in end = { .outcome = "returned", .by = "GH" };
	struct recall_brief b;
	struct recall_scan s;
	struct recall_page page;
	struct recall_closed closed;
	struct ticket *t;
	char place[PLACE_SIZE];
	const char *code = unit[5].code;
	const struct move_in put = { &code, 1, "ICE", "EF" };
	struct err err = { 0 };

	ck_assert_int_eq(way_use(5), RC_OK);
	ck_assert_int_eq(move(place, k.sn, &put, NULL), RC_OK);
	ck_assert_str_eq(place, "ice");
	ck_assert_int_eq(recall_open(&b, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(b.count.pull, 3); /* a batch, two trays */
	ck_assert_msg(recall_load(&page, k.sn, b.recall.id, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_uint_eq(page.items.count, 3);
	ck_assert_uint_eq(page.use_count, 1);
	ck_assert_uint_eq(page.supplier_count, 1);
	ck_assert_str_eq(page.items.items[2].place, "ice");
	recall_fini(&page);
	s = scan(b.recall.id, unit[0].code);
	ck_assert_int_eq(s.verdict, TICK_OTHER);
	s = scan(b.recall.id, unit[5].code);
	ck_assert_int_eq(s.verdict, TICK_FOUND);
	ck_assert_int_eq(s.found, 3);
	s = scan(b.recall.id, unit[5].code);
	ck_assert_int_eq(s.verdict, TICK_AGAIN);
	end.id = b.recall.id;
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_REFUSED);
	s = scan(b.recall.id, unit[6].code);
	s = scan(b.recall.id, batch[1].code);
	ck_assert_int_eq(s.count.missing, 0);
	ck_assert_int_eq(recall_ticket(&t, k.sn, b.recall.id, NULL), RC_OK);
	ck_assert_uint_gt(ticket_count(t), 10);
	ticket_free(t);
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_OK);
	ck_assert_int_eq(closed.discarded, 3);
	ck_assert_int_eq(closed.kept, 1);
	ck_assert_int_eq(way_use(6), RC_REFUSED);
	kitchen_balance(&k, &batch[1]);
	/* It is not opened, ticked or closed over again. */
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_REFUSED);
	ck_assert_int_eq(
	    recall_tick(&s, k.sn, end.id, unit[6].code, 0, "GH", NULL),
	    RC_REFUSED);
}
END_TEST

/* What a recall says is never changed. */
static const char *const changes[] = {
	"UPDATE recall SET reason = 'x'",
	"UPDATE recall_item SET left = 0",
	"UPDATE recall_tick SET verdict = 'found'",
	"UPDATE recall_end SET outcome = 'released'",
	"UPDATE hold_note SET text = 'x'",
	"UPDATE moved SET place = 'x'",
};

START_TEST(stays_row)
{
	const char *code = unit[0].code;
	const struct recall_in in = {
		.codes = &code, .count = 1, .reason = "rang", .by = "GH"
	};
	const struct move_in put = { &code, 1, "ice", "EF" };
	struct recall_close_in end = { .outcome = "mistake", .by = "GH" };
	struct recall_brief b;
	struct recall_closed closed;

	ck_assert_int_eq(move(NULL, k.sn, &put, NULL), RC_OK);
	ck_assert_int_eq(recall_open(&b, k.sn, &in, NULL), RC_OK);
	(void)scan(b.recall.id, code);
	ck_assert_int_eq(
	    recall_note(k.sn, b.recall.id, "told", "GH", NULL), RC_OK);
	end.id = b.recall.id;
	ck_assert_int_eq(recall_close(&closed, k.sn, &end, NULL), RC_OK);
	ck_assert_int_ne(kitchen_sql(k.db, changes[_i]), 0);
}
END_TEST

Suite *
suite_ops_recall(void)
{
	Suite *s = suite_create("ops_recall");
	TCase *tc = tcase_create("recall");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, blocked_everywhere, 0, 12);
	tcase_add_loop_test(tc, label_race, 0, 3);
	tcase_add_test(tc, several_batches);
	tcase_add_test(tc, to_its_end);
	tcase_add_loop_test(tc, stays_row, 0, NELEM(changes));
	suite_add_tcase(s, tc);
	return s;
}
