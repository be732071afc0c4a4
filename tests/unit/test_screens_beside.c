/*
 * test_screens_beside.c - the program beside the station: what it says, how it
 * ends, that nothing outlives the station; the sender of labels; the questions
 * of Today and Printing that need more than a script has.
 */
#include "unit.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/str.h"
#include "ops/today.h"
#include "process.h"
#include "queue_kitchen.h"
#include "screens/beside.h"
#include "screens/worker.h"
#include "store/audit.h"
#include "store/store.h"
#include "trail_rig.h"

#define PATIENCE_MS 20000

static struct desk *d;
static struct desk_host host;
static struct err err;

static void
setup(void)
{
	qk_setup();
	err_clear(&err);
	host = (struct desk_host){ .program = getenv("PINBONE") };
	ck_assert_ptr_nonnull(host.program);
	d = desk_new(qk.sn, &host, 80, 24);
	str_copy(d->by, sizeof(d->by), "CD");
}

static void
no_children(void)
{
	ck_assert_int_eq(waitpid(-1, NULL, WNOHANG), -1);
	ck_assert_int_eq(errno, ECHILD);
}

static void
teardown(void)
{
	desk_free(d);
	no_children();
	qk_teardown();
}

static struct beside *
start(const char *const *args)
{
	struct beside *b = NULL;

	ck_assert_msg(
	    beside_start(&b, d, args, 0, &err) == RC_OK, "%s", err.text);
	return b;
}

static void
until_ended(struct beside *b)
{
	ck_assert(beside_wait(b, PATIENCE_MS));
	ck_assert(!beside_running(b));
}

static void
nap(void)
{
	poll(NULL, 0, 20);
}

/* --- what it says and how it ends -----------------------------------------*/

static const struct {
	const char *why;
	const char *args[6];
	int status; /* README.md, exit status */
	const char *says;
} commands[] = {
	{ "a list", { "printer", "list" }, 0, "in the settings" },
	{ "its file is the station's", { "trace", "000-01U" }, 0, "000-01U" },
	{ "its time is the station's", { "clock" }, 0,
	    "25 November 2026, 10:05" },
	{ "what is not found", { "printer", "cancel", "job999", "--by", "CD" },
	    4, "no job 999" },
	{ "what is no command", { "scale-the-fish" }, 64, "not a command" },
};

START_TEST(commands_beside)
{
	struct beside *b = start(commands[_i].args);
	struct buf text;

	ck_assert_int_eq(beside_status(b), -1);
	until_ended(b);
	buf_init(&text, 100000);
	beside_text(&text, b);
	ck_assert_msg(beside_status(b) == commands[_i].status &&
		strstr(buf_text(&text), commands[_i].says) != NULL,
	    "%s: %d, %s", commands[_i].why, beside_status(b), buf_text(&text));
	ck_assert_str_ne(beside_last(b), "");
	buf_fini(&text);
	beside_free(b, 0);
}
END_TEST

START_TEST(only_the_newest_lines)
{
	static const char *const args[] = { "config", "sample", NULL };
	struct beside *b = start(args);
	struct buf text;
	const char *at;
	int lines = 0;

	until_ended(b);
	buf_init(&text, 100000);
	beside_text(&text, b);
	for (at = buf_text(&text); *at != '\0'; at++)
		lines += *at == '\n';
	ck_assert_int_eq(lines, BESIDE_LINES);
	ck_assert_ptr_null(strstr(buf_text(&text), "Pinbone station settings"));
	ck_assert_ptr_nonnull(strstr(buf_text(&text), beside_last(b)));
	buf_fini(&text);
	beside_free(b, 0);
}
END_TEST

START_TEST(what_cannot_run)
{
	static const char *const args[] = { "help", NULL };
	struct beside *b = NULL;

	host.program = "/nowhere/pinbone";
	b = start(args);
	until_ended(b);
	ck_assert_int_eq(beside_status(b), 127);
	beside_free(b, 0);
	b = NULL;
	host.program = NULL;
	ck_assert_int_eq(beside_start(&b, d, args, 0, &err), RC_FAILED);
	ck_assert_ptr_null(b);
	/* what never ran is nothing to be careful with */
	ck_assert(!beside_tick(NULL, 0));
	ck_assert_str_eq(beside_last(NULL), "");
	beside_stop(NULL);
	beside_free(NULL, 0);
}
END_TEST

START_TEST(stopped)
{
	static const char *const args[] = { "printer", "work", NULL };
	struct beside *b = start(args);
	int64_t began = clock_ticks_ms();
	pid_t pid = process_child(getpid());

	ck_assert_int_gt(pid, 0);
	while (!process_listens(pid) && clock_ticks_ms() - began < PATIENCE_MS)
		nap();
	ck_assert(!beside_wait(b, 100));
	ck_assert(beside_running(b));
	began = clock_ticks_ms();
	beside_stop(b);
	until_ended(b);
	ck_assert_int_eq(beside_status(b), 0);
	ck_assert_int_lt(clock_ticks_ms() - began, 5000);
	beside_free(b, 0);
}
END_TEST

/* What does not listen is killed, and waited for. */
START_TEST(killed)
{
	static const char *const args[] = { "printer", "work", NULL };
	struct beside *b = start(args);

	ck_assert(!beside_wait(b, 300));
	beside_free(b, 0);
	no_children();
}
END_TEST

START_TEST(four_at_once)
{
	static const char *const args[] = { "printer", "work", NULL };
	static const char *const list[] = { "printer", "list", NULL };
	struct beside *b[4];
	int i;

	for (i = 0; i < 4; i++)
		b[i] = start(i == 2 ? list : args);
	until_ended(b[2]);
	ck_assert(beside_running(b[0]) && beside_running(b[3]));
	for (i = 0; i < 4; i++)
		beside_free(b[i], BESIDE_PATIENCE_MS);
}
END_TEST

START_TEST(how_far)
{
	static const char *const args[] = { "printer", "work", NULL };
	struct beside *b = NULL;
	char text[80];

	d->now_ms = 1000;
	ck_assert_int_eq(beside_start(&b, d, args, 40000, &err), RC_OK);
	ck_assert_str_eq(beside_progress(text, sizeof(text), b, 13000),
	    "12 s of about 40 s");
	ck_assert_str_eq(beside_progress(text, sizeof(text), b, 141000),
	    "2 min 20 s, longer than expected");
	beside_free(b, BESIDE_PATIENCE_MS);
}
END_TEST

/* --- the station is killed ------------------------------------------------*/

START_TEST(nothing_outlives_a_killed_station)
{
	static const char *const args[] = { "printer", "work", NULL };
	int64_t until = clock_ticks_ms() + PATIENCE_MS;
	pid_t station = fork(), beside = 0, of;
	struct beside *b = NULL;
	char state = 'R';

	if (station == 0) {
		if (beside_start(&b, d, args, 0, &err) != RC_OK)
			_exit(1);
		for (;;)
			pause();
	}
	while (beside == 0 && clock_ticks_ms() < until) {
		nap();
		beside = process_child(station);
	}
	ck_assert_int_gt(beside, 0);
	while (getpgid(beside) != beside && clock_ticks_ms() < until)
		nap();
	/* a Ctrl-C at the terminal is for the station alone */
	ck_assert_int_eq(getpgid(beside), beside);
	kill(station, SIGKILL);
	waitpid(station, NULL, 0);
	while (state != 0 && state != 'Z' && clock_ticks_ms() < until) {
		nap();
		state = process_state(beside, &of);
	}
	ck_assert(state == 0 || state == 'Z');
}
END_TEST

/* --- the sender of labels -------------------------------------------------*/

static void
turn(struct worker *w, int64_t ms)
{
	desk_tick(d, ms);
	worker_tick(w, ms);
}

START_TEST(labels_are_sent)
{
	struct print_job j = qk_queued(0, LABEL_FIRST);
	struct worker *w = worker_start(d);
	int64_t began = clock_ticks_ms(), now = 0;

	while (qk_now(j.id).state != JOB_SENT && now < PATIENCE_MS) {
		now = clock_ticks_ms() - began;
		turn(w, now);
		nap();
	}
	ck_assert_int_eq(qk_now(j.id).state, JOB_SENT);
	ck_assert(qk_on_paper(0, ""));
	ck_assert_str_eq(d->foot, "");
	worker_stop(w);
}
END_TEST

START_TEST(a_printer_that_is_not_there)
{
	struct print_job j = qk_queued(0, LABEL_FIRST);
	struct worker *w;
	int64_t began = clock_ticks_ms(), now = 0;

	qk_gone(true);
	w = worker_start(d);
	while (strstr(d->foot, "1 label waits") == NULL && now < PATIENCE_MS) {
		now = clock_ticks_ms() - began;
		turn(w, now);
		nap();
	}
	ck_assert_ptr_nonnull(strstr(d->foot, "Printer main, 1 label waits:"));
	ck_assert_int_eq(d->sheet_count, 0);
	qk_gone(false);
	while ((d->foot[0] != '\0' || qk_now(j.id).state != JOB_SENT) &&
	    now < 2 * PATIENCE_MS) {
		now = clock_ticks_ms() - began;
		turn(w, now);
		nap();
	}
	ck_assert_str_eq(d->foot, "");
	ck_assert_int_eq(qk_now(j.id).state, JOB_SENT);
	worker_stop(w);
}
END_TEST

static int
runs_of(const char *log)
{
	char line[600];
	int n = 0;
	FILE *f = fopen(log, "r");

	ck_assert_ptr_nonnull(f);
	while (fgets(line, sizeof(line), f) != NULL)
		n += strstr(line, "printer work") != NULL;
	fclose(f);
	return n;
}

/* Ends at once, each time: tried again after 1, 2, 4 ... seconds. */
START_TEST(a_sender_that_dies)
{
	struct worker *w;
	char log[400], program[400];
	int64_t ms;
	int before;
	FILE *f;

	str_fmt(log, sizeof(log), "%s/runs", qk.folder);
	str_fmt(program, sizeof(program), "%s/sender", qk.folder);
	ck_assert_ptr_nonnull(f = fopen(program, "w"));
	fprintf(f,
	    "#!/bin/sh\necho \"$*\" >>'%s'\n"
	    "echo 'pinbone: the disk is on fire' >&2\nexit 70\n",
	    log);
	fclose(f);
	ck_assert_int_eq(chmod(program, 0755), 0);
	host.program = program;
	w = worker_start(d);
	for (ms = 0; ms <= 15000; ms += 250) {
		turn(w, ms);
		poll(NULL, 0, 30); /* it is a real process */
	}
	ck_assert_str_eq(d->foot,
	    "Labels are not being sent, and it is tried again: the disk is on "
	    "fire");
	/* at 0, 1, 3 and 7 s and a little; the next is after 15 */
	ck_assert_int_eq(runs_of(log), 4);
	/* who asks for a label does not wait for the pause to end */
	before = runs_of(log);
	worker_print(w);
	turn(w, ms);
	poll(NULL, 0, 300);
	ck_assert_int_eq(runs_of(log), before + 1);
	worker_stop(w);
}
END_TEST

/* --- screens --------------------------------------------------------------*/

static void
press(enum key_code code, uint32_t ch)
{
	struct key key = { code, ch };

	desk_key(d, &key, d->now_ms + 100);
}

static void
type(const char *text)
{
	for (; *text != '\0'; text++)
		press(KEY_CODE_CHAR, (unsigned char)*text);
}

static bool
is_seen(const char *want)
{
	struct buf text;
	bool is;

	desk_draw(d);
	buf_init(&text, 100000);
	canvas_text(&text, &d->canvas);
	is = strstr(buf_text(&text), want) != NULL;
	buf_fini(&text);
	return is;
}

static void
seen(const char *want)
{
	struct buf text;

	if (is_seen(want))
		return;
	buf_init(&text, 100000);
	canvas_text(&text, &d->canvas);
	ck_abort_msg("not seen: %s\n%s", want, buf_text(&text));
}

START_TEST(printers_are_asked_beside)
{
	int64_t began = clock_ticks_ms(), now = 0;

	desk_show(d, SCREEN_PRINTING);
	type("s");
	seen("Asking the printers how they are, 0 s of about 4 s");
	/* the screen works on meanwhile, and does not ask twice */
	type("s");
	seen("The printers are being asked already.");
	desk_show(d, SCREEN_TODAY);
	desk_show(d, SCREEN_PRINTING);
	while (now < PATIENCE_MS && (now == 0 || is_seen("Asking"))) {
		now = clock_ticks_ms() - began + 2000;
		desk_tick(d, now);
		nap();
	}
	seen("main         nothing waits   ready: there, but it ");
}
END_TEST

/* What is left to make is reckoned beside, and comes when it is there. */
START_TEST(portions_to_make)
{
	int64_t began = clock_ticks_ms(), now = 0;
	struct today t;
	char want[80];

	ck_assert_int_eq(today_load(&t, qk.sn, &err), RC_OK);
	ck_assert_int_eq(today_work(&t, qk.sn, &err), RC_OK);
	ck_assert_int_gt(t.services[0].to_make, 1);
	str_fmt(want, sizeof(want),
	    "lunch      12:00  40 covers  %d portions to make",
	    (int)t.services[0].to_make);
	today_fini(&t);
	seen("lunch      12:00  40 covers  ...");
	while (!is_seen("portions to make") && now < PATIENCE_MS) {
		now = clock_ticks_ms() - began;
		desk_tick(d, now);
		nap();
	}
	seen(want);
}
END_TEST

/* --- a clock in doubt: a real station, since training may set its own ------*/

static struct kitchen real;

static void
doubt_setup(void)
{
	struct moment at = { .by = "AB" };

	kitchen_make(&real, false);
	ck_assert_msg(
	    kitchen_station(&real, NULL, &err) == RC_OK, "%s", err.text);
	at.utc = clock_now(&real.sn->clock) + 3600;
	rig_note(real.sn->st, &at);
	d = desk_new(real.sn, NULL, 80, 24);
	str_copy(d->by, sizeof(d->by), "AB");
}

static void
doubt_teardown(void)
{
	desk_free(d);
	kitchen_close(&real);
}

static int64_t
checks(void)
{
	return kitchen_count(&real, "SELECT count(*) FROM clock_check");
}

static void
type_day(day_no day, bool with_year)
{
	struct civil c = day_civil(day);
	char text[32];

	str_fmt(text, sizeof(text), with_year ? "%d.%d.%d" : "%d.%d", c.day,
	    c.month, c.year);
	type(text);
	press(KEY_CODE_ENTER, 0);
}

START_TEST(the_date_is_confirmed)
{
	desk_tick(d, 1000);
	seen("CLOCK IN DOUBT");
	seen("before the last record of");
	seen("The clock is in doubt, nothing is recorded or printed");
	type("c");
	seen("What day is it?");
	/* the year is what a dead battery loses first */
	type_day(desk_today(d), false);
	seen("write day, month and year");
	ck_assert_int_eq(checks(), 0);
	press(KEY_CODE_CUT_OFF, 0);
	/* what is not a date stays there to be put right */
	type("yesterday 2026");
	press(KEY_CODE_ENTER, 0);
	seen("yesterday 2026");
	ck_assert_int_eq(d->sheet_count, 1);
	press(KEY_CODE_CUT_OFF, 0);
	type_day(desk_today(d) + 1, true);
	seen("Refused: you say");
	seen("CLOCK IN DOUBT");
	ck_assert_int_eq(checks(), 0);
	type("c");
	type_day(desk_today(d), true);
	seen("Clock: in order");
	seen("The date is confirmed:");
	seen("No chef has a PIN yet");
	ck_assert_int_eq(checks(), 1);
	ck_assert_str_eq(d->foot, "");
	/* and there is nothing to confirm any more */
	type("c");
	ck_assert_int_eq(d->sheet_count, 0);
}
END_TEST

Suite *
suite_screens_beside(void)
{
	Suite *s = suite_create("screens_beside");
	TCase *c = tcase_create("beside");

	tcase_add_checked_fixture(c, setup, teardown);
	tcase_set_timeout(c, 60);
	tcase_add_loop_test(c, commands_beside, 0, NELEM(commands));
	tcase_add_test(c, only_the_newest_lines);
	tcase_add_test(c, what_cannot_run);
	tcase_add_test(c, stopped);
	tcase_add_test(c, killed);
	tcase_add_test(c, four_at_once);
	tcase_add_test(c, how_far);
	tcase_add_test(c, nothing_outlives_a_killed_station);
	tcase_add_test(c, labels_are_sent);
	tcase_add_test(c, a_printer_that_is_not_there);
	tcase_add_test(c, a_sender_that_dies);
	tcase_add_test(c, printers_are_asked_beside);
	tcase_add_test(c, portions_to_make);
	suite_add_tcase(s, c);
	c = tcase_create("doubt");
	tcase_add_checked_fixture(c, doubt_setup, doubt_teardown);
	tcase_add_test(c, the_date_is_confirmed);
	suite_add_tcase(s, c);
	return s;
}
