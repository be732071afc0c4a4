/*
 * test_print_session.c - one conversation with one printer: every state it can
 * tell, before, during and after a label, by port and by language; every way a
 * transport can fail.  docs/printing.md "Faults" is the table held against.
 */
#include "unit.h"

#include <string.h>

#include "base/clock.h"
#include "fake_printer.h"
#include "print/fault.h"
#include "print/session.h"

static struct session s;
static struct printer p;
static struct buf label;
static struct err err;

static void
setup(void)
{
	struct bitmap *bm = fake_label(7, 0, 90);

	fake_reset();
	memset(&s, 0, sizeof(s));
	err_clear(&err);
	p = fake_printer(&fake_talks);
	buf_init(&label, 1000);
	ck_assert_int_eq(printer_encode(&label, &p, bm, NULL), RC_OK);
	bitmap_free(bm);
}

static void
teardown(void)
{
	session_close(&s);
	ck_assert_int_eq(fake.opens, fake.closes);
	buf_fini(&label);
}

/* Another printer, another conversation. */
static void
renew(void)
{
	teardown();
	setup();
}

static void
open_it(void)
{
	ck_assert_msg(
	    session_open(&s, &p, false, &err) == RC_OK, "%s", err.text);
}

/* The table of the document, written again from it. */
static const struct {
	unsigned state;
	bool go;   /* a label may be sent in this state */
	bool out;  /* a label is out in this state */
	bool gone; /* no use in being patient */
	const char *says;
} rows[] = {
	{ 0, true, true, false, "ready" },
	{ PRINTER_PAPER_OUT, false, false, false,
	    "out of labels: put in a new roll" },
	{ PRINTER_COVER_OPEN, false, false, false,
	    "head or cover open: close it" },
	{ PRINTER_RIBBON_OUT, false, false, false,
	    "out of ribbon: put in a new ribbon" },
	{ PRINTER_JAM, false, false, false,
	    "jammed: take the stuck label out" },
	{ PRINTER_PAUSED, false, false, false,
	    "paused: press its pause or feed key" },
	{ PRINTER_TOO_HOT, false, false, false,
	    "head too hot: let it cool down" },
	{ PRINTER_OFFLINE, false, false, false, "off line: switch it on line" },
	{ PRINTER_FAULT, false, false, false,
	    "reports a fault: look at its lamps" },
	{ PRINTER_BUSY, true, false, false, "still printing" },
	{ PRINTER_SILENT, false, false, false,
	    "does not answer: look whether it is on and ready" },
	{ PRINTER_ABSENT, false, false, true,
	    "not plugged in: look at plug and power" },
	{ PRINTER_DENIED, false, false, true,
	    "not permitted to this user: its rule for users is not "
	    "installed" },
	{ PRINTER_TAKEN, false, false, true,
	    "held by another program: end the other program" },
	{ PRINTER_LOW, true, true, false, "labels nearly out" },
	{ PRINTER_LOW | PRINTER_BUSY, true, false, false,
	    "still printing, labels nearly out" },
	{ PRINTER_PAPER_OUT | PRINTER_COVER_OPEN, false, false, false,
	    "out of labels, head or cover open: close it" },
	{ 1U << 20, false, false, false,
	    "in a state this program does not know" },
};

START_TEST(words)
{
	char text[256];

	ck_assert_str_eq(
	    fault_words(text, sizeof(text), rows[_i].state), rows[_i].says);
}
END_TEST

static const enum printer_asking ways[] = { ASK_AUTO, ASK_PORT, ASK_LANGUAGE };

static void
ask_by(int way)
{
	p.ask = ways[way];
}

/* Not ready: not a byte of a label, the reason in words. */
START_TEST(before)
{
	int way;

	for (way = 0; way < 3; way++) {
		if (rows[_i].state > 0xffff && way != 1)
			continue; /* the language has no word for it */
		renew();
		ask_by(way);
		fake.state = rows[_i].state;
		if (rows[_i].go) {
			open_it();
			ck_assert(s.asked);
			ck_assert_uint_eq(s.state, rows[_i].state);
		} else {
			ck_assert_int_eq(
			    session_open(&s, &p, false, &err), RC_RETRY);
			ck_assert_str_eq(err.text, rows[_i].says);
			ck_assert_ptr_null(s.port);
		}
		ck_assert_uint_eq(fake.half_len, 0);
		ck_assert_uint_eq(fake.out_count, 0);
	}
}
END_TEST

/* It stops in mid-label, for good: given up, and told to forget it. */
START_TEST(during)
{
	int64_t from;

	if (rows[_i].gone)
		p.patience_ms = 3000;
	open_it();
	fake.room = 10;
	fake.state = rows[_i].state;
	from = clock_ticks_ms();
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_FAILED);
	if (rows[_i].gone)
		ck_assert_int_lt(clock_ticks_ms() - from, p.patience_ms);
	else
		ck_assert_int_ge(clock_ticks_ms() - from, p.patience_ms);
	ck_assert_ptr_nonnull(strstr(err.text, "stopped after 10 of 96 bytes"));
	if (rows[_i].state != 0)
		ck_assert_ptr_nonnull(strstr(err.text, rows[_i].says));
	ck_assert_int_eq(fake.resets, 1);
	ck_assert_ptr_null(s.port);
	ck_assert_int_eq(fake.questions, 1); /* before it; never inside */
	fake.state = 0;
	ck_assert_uint_eq(fake.half_len, 0);
}
END_TEST

/* The same, and somebody sees to it in time: it goes on at the exact byte. */
START_TEST(during_and_healed)
{
	p.patience_ms = 3000;
	open_it();
	fake.room = 10;
	fake.state = rows[_i].gone ? 0 : rows[_i].state;
	fake.heals = 5;
	ck_assert_msg(
	    session_send(&s, &label, "x", &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(fake.resets, 0);
	ck_assert_int_eq(fake_count(7), 1);
	ck_assert_int_eq(fake.spoilt, 0);
	ck_assert_str_eq(fake.begun, "x");
	ck_assert_int_eq(fake.finishes, 1);
}
END_TEST

/* That all is well counts only in the printer's own language. */
START_TEST(after)
{
	enum look want;
	int way;

	for (way = 0; way < 3; way++) {
		if (rows[_i].state > 0xffff && way != 1)
			continue;
		renew();
		ask_by(way);
		want = rows[_i].gone        ? LOOK_LOST
		    : !rows[_i].out         ? LOOK_WAIT
		    : ways[way] == ASK_PORT ? LOOK_BLIND
					    : LOOK_OUT;
		open_it();
		ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
		fake.state = rows[_i].state;
		ck_assert_int_eq(session_look(&s, &err), want);
		if (want == LOOK_WAIT)
			ck_assert_uint_eq(s.state, rows[_i].state);
		if (want == LOOK_LOST) {
			ck_assert_str_eq(err.text, rows[_i].says);
			ck_assert_ptr_null(s.port);
		}
	}
}
END_TEST

/* Silence by either way is "not ready", before and after. */
START_TEST(silence)
{
	int port;

	for (port = 0; port < 2; port++) {
		renew();
		p.deadline_ms = 30;
		*(port ? &fake.port_silent : &fake.language_silent) = true;
		ck_assert_int_eq(session_open(&s, &p, false, &err), RC_RETRY);
		ck_assert_ptr_nonnull(strstr(err.text, "does not answer"));
		renew();
		open_it();
		p.deadline_ms = 30;
		ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
		*(port ? &fake.port_silent : &fake.language_silent) = true;
		ck_assert_int_eq(session_look(&s, &err), LOOK_WAIT);
		ck_assert_uint_eq(s.state, PRINTER_SILENT);
	}
	renew();
	fake.garbled = true;
	ck_assert_int_eq(session_open(&s, &p, false, &err), RC_RETRY);
	ck_assert_ptr_nonnull(strstr(err.text, "does not answer"));
}
END_TEST

/* An answer that came too late is not taken for the next one's. */
START_TEST(stale_answer)
{
	open_it();
	memcpy(fake.reply, "!0001\n", 6);
	fake.reply_len = 6;
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	ck_assert_int_eq(session_look(&s, &err), LOOK_OUT);
}
END_TEST

/* A port that refuses the question is none to be asked: the language is. */
START_TEST(port_refuses)
{
	fake.status_rc = RC_NOTFOUND;
	open_it();
	ck_assert(s.asked);
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	ck_assert_int_eq(session_look(&s, &err), LOOK_OUT);
	renew();
	fake.status_rc = RC_NOTFOUND;
	p.ask = ASK_PORT;
	open_it();
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	ck_assert_int_eq(session_look(&s, &err), LOOK_BLIND);
}
END_TEST

START_TEST(cannot_be_asked)
{
	p = fake_printer(&fake_blind);
	open_it();
	ck_assert(!s.asked);
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	ck_assert_int_eq(session_look(&s, &err), LOOK_BLIND);
	session_close(&s);
	/* Nobody wants it asked. */
	p = fake_printer(&fake_talks);
	p.ask = ASK_NO;
	fake.state = PRINTER_PAPER_OUT;
	fake.looks = 0;
	open_it();
	ck_assert_int_eq(fake.looks, 0);
	ck_assert_int_eq(session_look(&s, &err), LOOK_BLIND);
	session_close(&s);
	/* It is to be asked, and there is no way back: never ready. */
	p = fake_printer(&fake_blind);
	p.ask = ASK_LANGUAGE;
	ck_assert_int_eq(session_open(&s, &p, false, &err), RC_RETRY);
}
END_TEST

static const struct {
	enum rc open_rc;
	unsigned state;
	const char *commands;
	const char *says;
} doors[] = {
	{ RC_RETRY, PRINTER_ABSENT, "", "fake: not there" },
	{ RC_RETRY, PRINTER_DENIED, "", "fake: not there" },
	{ RC_RETRY, PRINTER_TAKEN, "", "fake: not there" },
	{ RC_FAILED, 0, "", "fake: not there" },
	{ RC_INVALID, 0, "", "fake: not there" },
	{ RC_OK, 0, "EPL,ZPL",
	    "it understands EPL,ZPL, not fake: set [printer] language to what "
	    "it understands" },
};

START_TEST(not_opened)
{
	fake.open_rc = doors[_i].open_rc;
	fake.open_state = doors[_i].state;
	fake.commands = doors[_i].commands;
	ck_assert_int_eq(session_open(&s, &p, true, &err), RC_RETRY);
	ck_assert_str_eq(err.text, doors[_i].says);
	ck_assert_uint_eq(fake.taken, 0);
	ck_assert_int_eq(fake.resets, 0);
	fake.open_rc = RC_OK;
	fake.commands = "XYZ, fake2";
	err_clear(&err);
	open_it();
}
END_TEST

/* Every way a label may break, and what is then known. */
static const struct {
	long room, breaks;
	enum rc begin_rc, finish_rc;
	bool lies;
	enum rc want;
	const char *why;
} breaks[] = {
	{ -1, -1, RC_OK, RC_OK, false, RC_OK, "nothing breaks" },
	{ 0, -1, RC_OK, RC_OK, false, RC_RETRY, "takes not one byte" },
	{ 1, -1, RC_OK, RC_OK, false, RC_FAILED, "takes one byte" },
	{ 95, -1, RC_OK, RC_OK, false, RC_FAILED, "all but the last" },
	{ -1, 0, RC_OK, RC_OK, false, RC_FAILED, "breaks, count 0 or not" },
	{ -1, 1, RC_OK, RC_OK, false, RC_FAILED, "breaks after one" },
	{ -1, 95, RC_OK, RC_OK, false, RC_FAILED, "breaks before the last" },
	{ 20, -1, RC_OK, RC_OK, true, RC_FAILED, "a count that cannot be" },
	{ -1, -1, RC_OK, RC_FAILED, false, RC_FAILED, "not made durable" },
	{ -1, -1, RC_OK, RC_RETRY, false, RC_FAILED, "not made durable yet" },
	{ -1, -1, RC_INVALID, RC_OK, false, RC_INVALID, "no such name" },
	{ -1, -1, RC_FAILED, RC_OK, false, RC_RETRY, "cannot begin" },
};

START_TEST(broken)
{
	p.patience_ms = 5;
	open_it();
	fake.room = breaks[_i].room;
	fake.breaks = breaks[_i].breaks;
	fake.begin_rc = breaks[_i].begin_rc;
	fake.finish_rc = breaks[_i].finish_rc;
	fake.lies = breaks[_i].lies;
	ck_assert_msg(session_send(&s, &label, "x", &err) == breaks[_i].want,
	    "%s: %s", breaks[_i].why, err.text);
	if (breaks[_i].want == RC_OK)
		return;
	ck_assert_msg(s.port == NULL, "%s: kept open", breaks[_i].why);
	ck_assert_msg(err.text[0] != '\0', "%s: no reason", breaks[_i].why);
	/* Such a driver is not given more, nor waited for. */
	if (breaks[_i].lies)
		ck_assert_ptr_null(strstr(err.text, "stopped after"));
}
END_TEST

/* Slow is not broken: each byte begins the patience anew. */
START_TEST(slow)
{
	int64_t from = clock_ticks_ms();

	p.patience_ms = 20;
	fake.most = 2;
	open_it();
	fake.taken = 0;
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	ck_assert_int_ge(clock_ticks_ms() - from, 20);
	ck_assert_uint_eq(fake.taken, label.len);
	ck_assert_int_eq(fake_count(7), 1);
}
END_TEST

/* What an earlier label left in the printer does not swallow this one. */
START_TEST(half_a_label_before)
{
	memcpy(fake.half, "<6.0|...", 8);
	fake.half_len = 8;
	ck_assert_int_eq(session_open(&s, &p, true, &err), RC_OK);
	ck_assert_int_eq(fake.resets, 1);
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	ck_assert_int_eq(fake_count(7), 1);
	ck_assert_int_eq(fake.spoilt, 0);
	session_close(&s);
	/* It does not take the request: no reason to wait for ever. */
	fake.reset_rc = RC_RETRY;
	ck_assert_int_eq(session_open(&s, &p, true, &err), RC_OK);
	/* The port broke over it. */
	session_close(&s);
	fake.reset_rc = RC_FAILED;
	ck_assert_int_eq(session_open(&s, &p, true, &err), RC_RETRY);
}
END_TEST

/* The port breaks while it is asked. */
START_TEST(broken_while_asked)
{
	fake.status_rc = RC_FAILED;
	ck_assert_int_eq(session_open(&s, &p, false, &err), RC_RETRY);
	fake.status_rc = RC_OK;
	open_it();
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_OK);
	fake.status_rc = RC_FAILED;
	err_clear(&err);
	ck_assert_int_eq(session_look(&s, &err), LOOK_LOST);
	ck_assert_str_eq(err.text, "fake: port gone");
	ck_assert_ptr_null(s.port);
	fake.status_rc = RC_OK;
	err_clear(&err);
	open_it();
	fake.room = 10;
	fake.status_rc = RC_FAILED;
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_FAILED);
	ck_assert_ptr_null(s.port);
}
END_TEST

/* Somebody wants to go home: the second signal ends the patience. */
START_TEST(hurried)
{
	volatile sig_atomic_t stop = 1;
	int64_t from;

	p.patience_ms = 60;
	s.stop = &stop;
	open_it();
	fake.room = 10;
	from = clock_ticks_ms();
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_FAILED);
	ck_assert_int_ge(clock_ticks_ms() - from, p.patience_ms);
	p.patience_ms = 10000;
	stop = 2;
	fake.room = -1;
	err_clear(&err);
	open_it();
	fake.room = 10;
	from = clock_ticks_ms();
	ck_assert_int_eq(session_send(&s, &label, "x", &err), RC_FAILED);
	ck_assert_int_lt(clock_ticks_ms() - from, 2000);
}
END_TEST

Suite *
suite_print_session(void)
{
	Suite *suite = suite_create("print_session");
	TCase *tc = tcase_create("session");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, words, 0, (int)NELEM(rows));
	tcase_add_loop_test(tc, before, 0, (int)NELEM(rows));
	tcase_add_loop_test(tc, during, 0, (int)NELEM(rows) - 1);
	tcase_add_loop_test(tc, during_and_healed, 0, (int)NELEM(rows) - 1);
	tcase_add_loop_test(tc, after, 0, (int)NELEM(rows));
	tcase_add_test(tc, silence);
	tcase_add_test(tc, port_refuses);
	tcase_add_test(tc, stale_answer);
	tcase_add_test(tc, cannot_be_asked);
	tcase_add_loop_test(tc, not_opened, 0, (int)NELEM(doors));
	tcase_add_loop_test(tc, broken, 0, (int)NELEM(breaks));
	tcase_add_test(tc, slow);
	tcase_add_test(tc, half_a_label_before);
	tcase_add_test(tc, broken_while_asked);
	tcase_add_test(tc, hurried);
	suite_add_tcase(suite, tc);
	return suite;
}
