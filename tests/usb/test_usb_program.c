/*
 * test_usb_program.c - the whole program as a child, its printer on the test's
 * bus: exit status, what it says, what is on record and on paper.
 */
#include "desk.h"

#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "program.h"

/* The harness itself: the program starts under it and ends as always. */
START_TEST(version)
{
	const char *const argv[] = { getenv("PINBONE"), "--version", NULL };
	char out[4096];

	rig_printer(NULL);
	ck_assert_int_eq(rig_child(out, sizeof(out), argv), 0);
	ck_assert_ptr_nonnull(strstr(out, PINBONE_VERSION));
}
END_TEST

/* --- in the kitchen -------------------------------------------------------*/

static char out[8192];

static int
pinbone(const char *line, const char *code)
{
	return program_run(out, sizeof(out), &qk, line, code);
}

static void
exits(int want, int got)
{
	ck_assert_msg(
	    got == want, "exit status %d, not %d: %s", got, want, out);
}

static void
is_out(const char *words)
{
	ck_assert_msg(
	    strstr(out, words) != NULL, "\"%s\" is not in: %s", words, out);
}

static void
took(int count, size_t first_len)
{
	struct desk_part parts[] = { { 0, first_len }, { 1, DESK_WHOLE },
		{ 2, DESK_WHOLE } };

	desk_took(parts, (size_t)count, "the program");
}

/* In mid-label, behind the question before it. */
static size_t
stop_at(enum vprinter_fault what)
{
	size_t half;

	desk_expect(0, 0);
	half = desk.labels[0].bytes.len / 2;
	vprinter_fault(desk.printer, desk.lang->query_len + half, what, 0);
	return half;
}

static struct print_job
newest(void)
{
	return qk_now(kitchen_count(&qk, "SELECT max(id) FROM print_job"));
}

START_TEST(list)
{
	desk_sit(lang_find("tspl"), false);
	exits(0, pinbone("printer list", NULL));
	is_out("  main         usb:any, tspl, 60 x 40 mm, 203 dpi\n");
	is_out("devices seen\n  usb:0525:A4A8 ");
	is_out(" understands TSPL\n");
	vusb_driver(vprinter_device(desk.printer), 0, "usbfs");
	exits(0, pinbone("printer list", NULL));
	is_out(": held by another program");
	vusb_driver(vprinter_device(desk.printer), 0, "");
	vusb_unplug(vprinter_device(desk.printer));
	exits(0, pinbone("printer list", NULL));
	is_out("no device seen\n");
	desk_took(NULL, 0, "list");
}
END_TEST

START_TEST(status)
{
	desk_sit(lang_find("zpl"), false);
	exits(0, pinbone("printer status", NULL));
	ck_assert_str_eq(out, "main         ready: ready\n");
	talker_says(SAYS_PAPER, 0);
	exits(5, pinbone("printer status", NULL));
	is_out("main         not ready: out of labels: put in a new roll\n");
	is_out("pinbone: printer main is not ready: out of labels");
	talker_says(SAYS_NOTHING, 0);
	exits(5, pinbone("printer status", NULL));
	is_out("does not answer: look whether it is on and ready");
	talker_says(SAYS_READY, 0);
	vusb_unplug(vprinter_device(desk.printer));
	exits(5, pinbone("printer status", NULL));
	is_out("no USB printer is plugged in");
	desk_took(NULL, 0, "status");
}
END_TEST

START_TEST(test_label)
{
	desk_sit(lang_find("zpl"), false);
	desk_expect(DESK_TEST, 0);
	exits(0, pinbone("printer test --by CD", NULL));
	took(1, DESK_WHOLE);
	ck_assert_int_eq(newest().state, JOB_CONFIRMED);
}
END_TEST

/* In each language; one without a question cannot confirm it. */
START_TEST(print)
{
	const struct lang *lang = talker_language(_i);
	struct print_job j;

	desk_sit(lang, false);
	desk_expect(0, 0);
	exits(0, pinbone("label print --by CD", qk_code(0)));
	took(1, DESK_WHOLE);
	j = newest();
	ck_assert_str_eq(j.language, lang->name);
	ck_assert_str_eq(j.error, "");
	ck_assert_int_eq(
	    j.state, lang->query != NULL ? JOB_CONFIRMED : JOB_SENT);
	/* Once only. */
	exits(3, pinbone("label print --by CD", qk_code(0)));
	took(1, DESK_WHOLE);
}
END_TEST

/* It waits in the queue, and comes out when somebody works it. */
START_TEST(not_ready)
{
	desk_sit(lang_find("zpl"), false);
	desk_expect(0, 0);
	talker_says(SAYS_OPEN, 0);
	exits(5, pinbone("label print --wait 0 --by CD", qk_code(0)));
	is_out("head or cover open: close it");
	is_out("it stays in the queue");
	desk_took(NULL, 0, "not ready");
	ck_assert_int_eq(newest().state, JOB_QUEUED);
	exits(5, pinbone("printer work --once", NULL));
	talker_says(SAYS_READY, 0);
	exits(0, pinbone("printer work --once", NULL));
	took(1, DESK_WHOLE);
	ck_assert_int_eq(newest().state, JOB_CONFIRMED);
}
END_TEST

/* The cable is pulled: a person looks, and it is printed again, marked. */
START_TEST(pulled)
{
	struct print_job j;
	size_t half;
	char line[80];

	desk_sit(lang_find("zpl"), false);
	half = stop_at(VPRINTER_UNPLUG);
	exits(1, pinbone("label print --by CD", qk_code(0)));
	is_out(
	    "may be half printed: printer 0525:A4A8 was unplugged or "
	    "switched off while taking a label: look for it");
	took(1, half);
	j = newest();
	ck_assert_int_eq(j.state, JOB_UNSURE);
	exits(0, pinbone("printer queue", NULL));
	is_out(" unsure ");
	vprinter_mend(desk.printer);
	vusb_plug(bus, vprinter_device(desk.printer));
	str_fmt(line, sizeof(line), "printer answer %s no --by", qk_code(0));
	desk_expect(0, 1);
	exits(0, pinbone(line, "CD"));
	took(2, half);
	/* What it held of the first one was forgotten before. */
	ck_assert_int_eq(vprinter_resets(desk.printer), 1);
	ck_assert_int_eq(qk_now(j.id).state, JOB_FAILED);
	ck_assert_int_eq(newest().state, JOB_CONFIRMED);
	ck_assert_int_eq(newest().copy, 1);
}
END_TEST

/* kill -9 in mid-label: the next start asks, once. */
START_TEST(killed)
{
	struct program_line l;
	size_t half, len;
	int output;
	pid_t pid;
	int64_t id;
	char line[80];

	desk_sit(lang_find("zpl"), false);
	half = stop_at(VPRINTER_HANG);
	id = qk_queued(0, LABEL_FIRST).id;
	desk_expect(1, 0);
	program_line(&l, &qk, "label print --by CD", qk_code(1));
	pid = rig_child_start(&output, l.argv);
	for (;;) {
		vprinter_took(desk.printer, &len);
		if (len == desk.lang->query_len + half)
			break;
		poll(NULL, 0, 5);
	}
	ck_assert_int_eq(kill(pid, SIGKILL), 0);
	exits(-SIGKILL, rig_child_end(out, sizeof(out), pid, output));
	/* The test bed does not see a program die: what it had in hand would
	 * go on, so the printer is switched off and on as well. */
	vusb_unplug(vprinter_device(desk.printer));
	vusb_plug(bus, vprinter_device(desk.printer));
	vprinter_mend(desk.printer);
	exits(0, pinbone("printer queue", NULL));
	is_out("1 label was on the way when the program last ended");
	is_out("did the label of ");
	is_out("come out? pinbone printer answer ");
	exits(0, pinbone("printer queue", NULL));
	ck_assert_ptr_null(strstr(out, "on the way when"));
	took(1, half);
	/* What was only queued comes out, and is not swallowed. */
	exits(0, pinbone("printer work --once", NULL));
	ck_assert_int_eq(vprinter_resets(desk.printer), 1);
	took(2, half);
	ck_assert_int_eq(newest().state, JOB_CONFIRMED);
	ck_assert_int_eq(qk_now(id).state, JOB_UNSURE);
	str_fmt(line, sizeof(line), "printer answer %s yes --by", qk_code(0));
	exits(0, pinbone(line, "CD"));
	ck_assert_int_eq(qk_now(id).state, JOB_CONFIRMED);
	took(2, half);
}
END_TEST

START_TEST(drains)
{
	int64_t id[3];
	int i;

	desk_sit(lang_find("epl2"), false);
	for (i = 0; i < 3; i++) {
		id[i] = qk_queued(i, LABEL_FIRST).id;
		desk_expect(i, 0);
	}
	exits(0, pinbone("printer work --once", NULL));
	took(3, DESK_WHOLE);
	for (i = 0; i < 3; i++)
		ck_assert_int_eq(qk_now(id[i]).state, JOB_CONFIRMED);
}
END_TEST

Suite *
suite_usb_program(void)
{
	Suite *s = suite_create("usb_program");
	TCase *tc = rig_tcase(s, "harness");
	int languages = 0;

	while (talker_language(languages) != NULL)
		languages++;
	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_test(tc, version);
	tc = desk_tcase(s, "program");
	tcase_set_tags(tc, "long " USB_ON_A_KERNEL);
	tcase_add_test(tc, list);
	tcase_add_test(tc, status);
	tcase_add_test(tc, test_label);
	tcase_add_loop_test(tc, print, 0, rig_rows((size_t)languages));
	tcase_add_test(tc, not_ready);
	tcase_add_test(tc, pulled);
	tcase_add_test(tc, killed);
	tcase_add_test(tc, drains);
	return s;
}
