/*
 * test_print_spool.c - from queued to settled: every fault at every point of a
 * label's way gives the state docs/printing.md "Faults" promises.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "print/fault.h"
#include "spool_rig.h"
#include "trail_rig.h"

static struct srig r;

static void
setup(void)
{
	srig_make(&r);
	srig_open(&r);
}

static void
teardown(void)
{
	srig_check(&r, "in the end");
	srig_close(&r);
	ck_assert_int_eq(fake.opens, fake.closes);
}

static void
is(int64_t id, enum job_state want, const char *why)
{
	struct print_job j = srig_job(&r, id);

	ck_assert_msg(j.state == want, "job %lld is %s, not %s: %s",
	    (long long)id, job_state_word(j.state), job_state_word(want),
	    j.error);
	ck_assert_msg(strstr(j.error, why) != NULL &&
		(why[0] != '\0' || j.error[0] == '\0'),
	    "\"%s\" does not say \"%s\"", j.error, why);
}

/* --- the way of one label -------------------------------------------------*/

static enum job_state seen[16];
static int seen_count;
static char seen_picture[DIGEST_HEX_MAX];

/* What a program sees that looks at the file at this moment. */
static void
note(struct srig *rig, const struct print_job *j)
{
	struct print_job in_file = srig_job(rig, j->id);

	ck_assert_int_eq(in_file.state, j->state);
	ck_assert_str_eq(in_file.error, j->error);
	if (j->state == JOB_SENDING) {
		str_copy(seen_picture, sizeof(seen_picture), in_file.picture);
		ck_assert_uint_eq(fake.half_len, 0);
	}
	seen[seen_count++] = j->state;
}

START_TEST(one_label)
{
	int64_t id = srig_queue(&r);
	struct bitmap *bm = fake_label(id, 0, r.filling);
	char want[DIGEST_HEX_MAX];
	struct print_job j;

	seen_count = 0;
	r.moved = note;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	ck_assert_int_eq(seen_count, 3);
	ck_assert_int_eq(seen[0], JOB_SENDING);
	ck_assert_int_eq(seen[1], JOB_SENT);
	ck_assert_int_eq(seen[2], JOB_CONFIRMED);
	is(id, JOB_CONFIRMED, "");
	ck_assert_int_eq(fake_count(id), 1);
	ck_assert_str_eq(fake.begun, "label-1");
	/* The digest of what was sent, on record before it was. */
	digest_hex(want, bm->bits, bm->stride * (size_t)bm->height);
	bitmap_free(bm);
	ck_assert_str_eq(seen_picture, want);
	j = srig_job(&r, id);
	ck_assert_str_eq(j.picture, want);
	ck_assert_int_eq(srig_step(&r), RC_END);
}
END_TEST

START_TEST(in_order)
{
	int64_t id[5];
	int i;

	for (i = 0; i < 5; i++)
		id[i] = srig_queue(&r);
	srig_drain(&r);
	ck_assert_uint_eq(fake.out_count, 5);
	for (i = 0; i < 5; i++)
		ck_assert_int_eq(fake.out[i].id, id[i]);
	/* One conversation for all of them. */
	ck_assert_int_eq(fake.opens, 1);
}
END_TEST

START_TEST(cannot_tell)
{
	int64_t id = srig_queue(&r);

	r.printer = fake_printer(&fake_blind);
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, JOB_SENT, "");
}
END_TEST

/* --- looked up once more --------------------------------------------------*/

START_TEST(not_any_more)
{
	int64_t a = srig_queue(&r), b = srig_queue(&r);

	r.refused = a;
	srig_drain(&r);
	is(a, JOB_CANCELLED, "on hold");
	is(b, JOB_CONFIRMED, "");
	ck_assert_int_eq(fake_count(a), 0);
	a = srig_queue(&r);
	r.undrawable = true;
	srig_drain(&r);
	is(a, JOB_FAILED, "does not fit");
	r.undrawable = false;
	a = srig_queue(&r);
	r.printer.media.darkness_pct = 101;
	srig_drain(&r);
	is(a, JOB_FAILED, "too dark");
	ck_assert_uint_eq(fake.out_count, 1);
}
END_TEST

START_TEST(clock_in_doubt)
{
	int64_t id = srig_queue(&r);

	r.clock_bad = true;
	ck_assert_int_eq(srig_step(&r), RC_REFUSED);
	is(id, JOB_QUEUED, "");
	ck_assert_int_eq(fake.opens, 0);
	r.clock_bad = false;
	srig_drain(&r);
	is(id, JOB_CONFIRMED, "");
}
END_TEST

/* Somebody cancels it while the printer is being reached. */
static enum rc
cancel_inside(struct port **out, unsigned *state, const char *address,
    int deadline_ms, struct err *err)
{
	struct print_job j;

	ck_assert_int_eq(job_next(&j, r.st, 0, NULL), RC_OK);
	ck_assert_int_eq(store_begin(r.st, NULL), RC_OK);
	ck_assert_int_eq(
	    job_move(r.st, &j, JOB_CANCELLED, "by AK", 1, NULL), RC_OK);
	rig_commit(r.st);
	return fake_talks.open(out, state, address, deadline_ms, err);
}

START_TEST(cancelled_in_time)
{
	struct transport via = fake_talks;
	int64_t id = srig_queue(&r);

	via.open = cancel_inside;
	r.printer.via = &via;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, JOB_CANCELLED, "by AK");
	ck_assert_uint_eq(fake.out_count, 0);
	/* The same when it is found not to be there. */
	id = srig_queue(&r);
	spool_rest(&r.sp);
	fake.open_rc = RC_RETRY;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, JOB_CANCELLED, "by AK");
	r.printer.via = &fake_talks;
}
END_TEST

/* --- every fault at every point -------------------------------------------*/

/* As in the document; busy and low let a label out. */
static const struct {
	unsigned state;
	enum job_state before, during, after;
	const char *says;
} faults[] = {
	{ PRINTER_PAPER_OUT, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE,
	    "out of labels" },
	{ PRINTER_COVER_OPEN, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "open" },
	{ PRINTER_RIBBON_OUT, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "ribbon" },
	{ PRINTER_JAM, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "jammed" },
	{ PRINTER_PAUSED, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "paused" },
	{ PRINTER_TOO_HOT, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "hot" },
	{ PRINTER_OFFLINE, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "off line" },
	{ PRINTER_FAULT, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "fault" },
	{ PRINTER_SILENT, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "answer" },
	{ PRINTER_ABSENT, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "plugged" },
	{ PRINTER_DENIED, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "permitted" },
	{ PRINTER_TAKEN, JOB_QUEUED, JOB_UNSURE, JOB_UNSURE, "held" },
	{ PRINTER_BUSY, JOB_CONFIRMED, JOB_UNSURE, JOB_UNSURE, "printing" },
	{ PRINTER_LOW, JOB_CONFIRMED, JOB_UNSURE, JOB_CONFIRMED, "nearly" },
};

static void
heal(void)
{
	fake.state = 0;
	fake.room = -1;
	fake.heals = 0;
}

START_TEST(fault_before)
{
	int64_t id = srig_queue(&r), next = srig_queue(&r);
	bool goes = faults[_i].before != JOB_QUEUED;

	r.printer.patience_ms = 3000;
	fake.state = faults[_i].state;
	fake.heals = goes ? 3 : 0;
	srig_drain(&r);
	if (goes) {
		is(id, JOB_CONFIRMED, "");
		is(next, JOB_CONFIRMED, "");
		return;
	}
	is(id, JOB_QUEUED, faults[_i].says);
	is(next, JOB_QUEUED, ""); /* in order: it waits behind */
	ck_assert_int_eq(fake.half_len, 0);
	heal();
	srig_drain(&r);
	is(id, JOB_CONFIRMED, "");
	is(next, JOB_CONFIRMED, "");
	ck_assert_int_eq(fake.out[0].id, id);
}
END_TEST

static int row;

static void
stop_inside(struct srig *rig, int64_t id)
{
	(void)rig;
	(void)id;
	fake.room = 12;
	fake.state = faults[row].state;
}

START_TEST(fault_during)
{
	int64_t id = srig_queue(&r), next;

	row = _i;
	r.before_draw = stop_inside;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, faults[_i].during, faults[_i].says);
	is(id, faults[_i].during, "stopped after 12 of ");
	ck_assert_int_eq(fake.resets, 1);
	/* It never comes back by itself; the next is not swallowed. */
	r.before_draw = NULL;
	heal();
	next = srig_queue(&r);
	srig_drain(&r);
	is(id, faults[_i].during, faults[_i].says);
	is(next, JOB_CONFIRMED, "");
	ck_assert_int_eq(fake.resets, 2);
	ck_assert_int_eq(fake_count(id), 0);
	ck_assert_int_eq(fake.spoilt, 0);
	/* All is well again: no more resets. */
	srig_queue(&r);
	srig_drain(&r);
	ck_assert_int_eq(fake.resets, 2);
}
END_TEST

/* The last byte is taken, then it shows. */
static void
fault_at_sent(struct srig *rig, const struct print_job *j)
{
	(void)rig;
	if (j->state == JOB_SENT && j->error[0] == '\0')
		fake.state = faults[row].state;
	if (j->state == JOB_SENT && j->error[0] != '\0')
		seen_count++;
}

START_TEST(fault_after)
{
	int64_t id = srig_queue(&r);
	bool fault = faults[_i].after != JOB_CONFIRMED;

	row = _i;
	seen_count = 0;
	r.moved = fault_at_sent;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, faults[_i].after, fault ? faults[_i].says : "");
	/* While it lasts the record says so; busy is no fault, and who is
	 * gone is not waited for. */
	ck_assert_int_eq(seen_count,
	    fault && fault_act(FAULT_AFTER, faults[_i].state) == ACT_WAIT &&
		faults[_i].state != PRINTER_BUSY);
	ck_assert_int_eq(fake.resets,
	    fault && fault_act(FAULT_AFTER, faults[_i].state) == ACT_WAIT);
}
END_TEST

/* Seen to in time: confirmed, and the reason is gone. */
START_TEST(fault_after_healed)
{
	int64_t id = srig_queue(&r);

	row = _i;
	r.moved = fault_at_sent;
	r.printer.patience_ms = 2000;
	fake.heals = 8;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	if (fault_act(FAULT_AFTER, faults[_i].state) == ACT_END) {
		is(id, JOB_UNSURE, faults[_i].says);
		return;
	}
	is(id, JOB_CONFIRMED, "");
	ck_assert_int_eq(fake_count(id), 1);
}
END_TEST

/* Only its port can be asked: a fault is waited for, and that there is none
 * is no proof of a label. */
START_TEST(fault_after_by_port)
{
	int64_t id = srig_queue(&r);
	bool heals;

	row = _i;
	r.moved = fault_at_sent;
	r.printer.ask = ASK_PORT;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, faults[_i].after == JOB_CONFIRMED ? JOB_SENT : faults[_i].after,
	    faults[_i].after == JOB_CONFIRMED ? "" : faults[_i].says);
	heals = fault_act(FAULT_AFTER, faults[_i].state) != ACT_END;
	heal();
	r.printer.patience_ms = 2000;
	fake.heals = 8;
	id = srig_queue(&r);
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, heals ? JOB_SENT : JOB_UNSURE, heals ? "" : faults[_i].says);
}
END_TEST

static const struct {
	long room, breaks;
	enum rc open_rc, begin_rc, finish_rc;
	enum job_state want;
	const char *says, *why;
} breaks[] = {
	{ 0, -1, RC_OK, RC_OK, RC_OK, JOB_QUEUED, "full",
	    "not one byte taken" },
	{ 1, -1, RC_OK, RC_OK, RC_OK, JOB_UNSURE, "stopped after 1 of",
	    "one byte" },
	{ -1, 0, RC_OK, RC_OK, RC_OK, JOB_UNSURE, "cable",
	    "breaks: its count 0 is a guess" },
	{ -1, 9, RC_OK, RC_OK, RC_OK, JOB_UNSURE, "cable", "breaks inside" },
	{ -1, -1, RC_OK, RC_OK, RC_FAILED, JOB_UNSURE, "not kept",
	    "not handed over" },
	{ -1, -1, RC_OK, RC_FAILED, RC_OK, JOB_QUEUED, "cannot begin",
	    "nothing sent" },
	{ -1, -1, RC_OK, RC_INVALID, RC_OK, JOB_FAILED, "cannot begin",
	    "never will" },
	{ -1, -1, RC_RETRY, RC_OK, RC_OK, JOB_QUEUED, "not there",
	    "not plugged in" },
	{ -1, -1, RC_FAILED, RC_OK, RC_OK, JOB_QUEUED, "not there",
	    "anything else at the door" },
	{ -1, -1, RC_INVALID, RC_OK, RC_OK, JOB_QUEUED, "not there",
	    "two of them" },
};

START_TEST(broken)
{
	int64_t id = srig_queue(&r);

	r.printer.patience_ms = 5;
	fake.room = breaks[_i].room;
	fake.breaks = breaks[_i].breaks;
	fake.open_rc = breaks[_i].open_rc;
	fake.begin_rc = breaks[_i].begin_rc;
	fake.finish_rc = breaks[_i].finish_rc;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(id, breaks[_i].want, breaks[_i].says);
	fake.room = fake.breaks = -1;
	fake.open_rc = fake.begin_rc = fake.finish_rc = RC_OK;
	srig_drain(&r);
	if (breaks[_i].want == JOB_QUEUED)
		is(id, JOB_CONFIRMED, "");
	else
		is(id, breaks[_i].want, breaks[_i].says);
}
END_TEST

/* --- pauses and printers --------------------------------------------------*/

START_TEST(pauses_grow)
{
	static const int want[] = { 250, 500, 1000, 2000, 4000, 8000, 8000 };
	struct print_job j;
	int wait_ms;
	size_t i;

	srig_queue(&r);
	srig_queue(&r);
	fake.open_rc = RC_RETRY;
	for (i = 0; i < NELEM(want); i++) {
		ck_assert_int_eq(spool_step(&r.sp, &j, &wait_ms, NULL), RC_OK);
		ck_assert_int_eq(
		    spool_step(&r.sp, &j, &wait_ms, NULL), RC_RETRY);
		ck_assert_int_le(wait_ms, want[i]);
		ck_assert_int_gt(wait_ms, want[i] / 2);
		r.sp.pauses[0].from_ms -= want[i]; /* time goes by */
	}
	/* One change of state for all these tries. */
	ck_assert_int_eq(r.moves, 1);
	/* It is there again: no pause before the next one. */
	fake.open_rc = RC_OK;
	ck_assert_int_eq(spool_step(&r.sp, &j, &wait_ms, NULL), RC_OK);
	ck_assert_int_eq(spool_step(&r.sp, &j, &wait_ms, NULL), RC_OK);
	ck_assert_uint_eq(fake.out_count, 2);
	ck_assert_int_eq(r.sp.pauses[0].pause_ms, 0);
}
END_TEST

/* A printer that is not there holds nobody else up. */
START_TEST(other_printers_go_on)
{
	struct print_job j = { .page = 1, .at = { 1, 0, "AB" } };
	int64_t waits, goes;
	int wait_ms;

	waits = srig_queue(&r);
	ck_assert_int_eq(store_begin(r.st, NULL), RC_OK);
	str_copy(j.printer_name, sizeof(j.printer_name), "bench");
	j.ticket_id = spool_ticket(r.st, &j.at);
	ck_assert_int_eq(job_insert(r.st, &j, NULL), RC_OK);
	rig_commit(r.st);
	goes = j.id;
	fake.state = PRINTER_PAPER_OUT;
	ck_assert_int_eq(spool_step(&r.sp, &j, &wait_ms, NULL), RC_OK);
	ck_assert_int_eq(j.id, waits);
	fake.state = 0;
	ck_assert_int_eq(spool_step(&r.sp, &j, &wait_ms, NULL), RC_OK);
	ck_assert_int_eq(j.id, goes);
	is(goes, JOB_CONFIRMED, "");
	is(waits, JOB_QUEUED, "out of labels");
	r.no_printer = true;
	ck_assert_int_eq(srig_step(&r), RC_OK);
	is(waits, JOB_QUEUED, "not in the settings");
}
END_TEST

Suite *
suite_print_spool(void)
{
	Suite *s = suite_create("print_spool");
	TCase *tc = tcase_create("spool");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_test(tc, one_label);
	tcase_add_test(tc, in_order);
	tcase_add_test(tc, cannot_tell);
	tcase_add_test(tc, not_any_more);
	tcase_add_test(tc, clock_in_doubt);
	tcase_add_test(tc, cancelled_in_time);
	tcase_add_loop_test(tc, fault_before, 0, (int)NELEM(faults));
	tcase_add_loop_test(tc, fault_during, 0, (int)NELEM(faults));
	tcase_add_loop_test(tc, fault_after, 0, (int)NELEM(faults));
	tcase_add_loop_test(tc, fault_after_healed, 0, (int)NELEM(faults));
	tcase_add_loop_test(tc, fault_after_by_port, 0, (int)NELEM(faults));
	tcase_add_loop_test(tc, broken, 0, (int)NELEM(breaks));
	tcase_add_test(tc, pauses_grow);
	tcase_add_test(tc, other_printers_go_on);
	suite_add_tcase(s, tc);
	return s;
}
