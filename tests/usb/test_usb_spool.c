/*
 * test_usb_spool.c - every fault of a USB printer in every printer language:
 * the label's state and reason, the bytes the printer took, and the label
 * after.  docs/printing.md "Faults" is what is held against.
 */
#include "desk.h"

#include <poll.h>
#include <pthread.h>
#include <string.h>

#include "base/str.h"

/* As if nothing had been wrong. */
#define OUT JOB_STATE_COUNT

enum point { BEFORE, INSIDE, AFTER };
enum seen_to {
	LATER, /* seen to when the label has been given up */
	SOON,  /* while it is waited for */
};

struct fault {
	const char *why;
	enum point when;
	enum seen_to until;
	/* What is wrong: what it says, the port's byte, what the bus does in
	 * mid-label, anything else. */
	enum saying saying;
	int times; /* it says so; 0: until seen to */
	uint8_t port;
	enum vprinter_fault bus;
	void (*spoil)(void), (*mend)(void);
	/* What comes of it. */
	enum job_state want;
	const char *says;
	int resets;
};

static const struct fault *fault;
static bool one_way, armed;
static int reasons; /* times a sent label got a reason */

/* --- faults of their own kind ---------------------------------------------*/

static void
unplug(void)
{
	vusb_unplug(vprinter_device(desk.printer));
}

static void
plug(void)
{
	if (vprinter_device(desk.printer)->gone)
		vusb_plug(bus, vprinter_device(desk.printer));
}

static void
forbid(void)
{
	vusb_forbid(vprinter_device(desk.printer));
	desk.may_not = true;
}

static void
permit(void)
{
	desk.may_not = false;
}

static void
hold(void)
{
	vusb_driver(vprinter_device(desk.printer), 0, "usbfs");
}

static void
let_go(void)
{
	vusb_driver(vprinter_device(desk.printer), 0, "");
}

static void
foreign(void)
{
	unplug();
	desk_printer("XQL,XQL2", one_way);
}

/* The right one instead; the other took nothing, not even a question. */
static void
exchange(void)
{
	size_t len;

	vprinter_took(desk.printer, &len);
	ck_assert_uint_eq(len, 0);
	unplug();
	desk_printer(NULL, one_way);
}

static struct vprinter *first;

static void
two(void)
{
	first = desk.printer;
	desk_printer(NULL, one_way);
}

static void
one(void)
{
	unplug();
	desk.printer = first;
	talker_listen(first, desk.lang);
}

static void
quiet(void)
{
	desk.sp.printer.deadline_ms = desk.deadline_ms = 100;
	vprinter_quiet(desk.printer, true);
}

static void
speak(void)
{
	desk.sp.printer.deadline_ms = desk.deadline_ms = 2000;
	vprinter_quiet(desk.printer, false);
}

/* Slower than its patience, but never still for so long. */
static void
slow(void)
{
	desk.sp.printer.patience_ms = 200;
	desk.sp.printer.deadline_ms = 20;
	vprinter_pace(desk.printer, desk.labels[0].bytes.len / 8 + 1, 40);
}

static void
fast(void)
{
	vprinter_pace(desk.printer, 0, 0);
}

/* --- the table ------------------------------------------------------------*/

#define NO_WORD "does not answer: look whether it is on and ready"
#define PAPER "out of labels: put in a new roll"
#define COVER "head or cover open: close it"

/* clang-format off */
static const struct fault faults[] = {
	{ "nothing", BEFORE, .want = OUT },

	{ "not plugged in, plugged in late", BEFORE, .spoil = unplug,
	    .want = JOB_QUEUED, .says = "no USB printer is plugged in" },
	{ "no permission", BEFORE, .spoil = forbid, .mend = permit,
	    .want = JOB_QUEUED, .says = "is not permitted to this user" },
	{ "held by another program", BEFORE, .spoil = hold, .mend = let_go,
	    .want = JOB_QUEUED, .says = "is held by another program" },
	{ "another language in its ID", BEFORE, .spoil = foreign,
	    .mend = exchange, .want = JOB_QUEUED,
	    .says = "it understands XQL,XQL2, not " },
	{ "two printers", BEFORE, .spoil = two, .mend = one,
	    .want = JOB_QUEUED, .says = "2 printers" },
	{ "silent in its language", BEFORE, .saying = SAYS_NOTHING,
	    .want = JOB_QUEUED, .says = NO_WORD },
	{ "garbage in its language", BEFORE, .saying = SAYS_GARBAGE,
	    .want = JOB_QUEUED, .says = NO_WORD },
	{ "silent port", BEFORE, .spoil = quiet, .mend = speak,
	    .want = JOB_QUEUED, .says = NO_WORD },
	{ "paper out", BEFORE, .saying = SAYS_PAPER,
	    .want = JOB_QUEUED, .says = "out of labels" },
	{ "cover open", BEFORE, .saying = SAYS_OPEN,
	    .want = JOB_QUEUED, .says = "head or cover open" },
	{ "ribbon out", BEFORE, .saying = SAYS_RIBBON,
	    .want = JOB_QUEUED, .says = "out of ribbon: put in a new ribbon" },
	{ "paused", BEFORE, .saying = SAYS_PAUSED,
	    .want = JOB_QUEUED, .says = "paused: press its pause or feed key" },
	{ "too hot", BEFORE, .saying = SAYS_HOT,
	    .want = JOB_QUEUED, .says = "head too hot" },
	{ "busy with something else", BEFORE, .saying = SAYS_BUSY, .times = 3,
	    .want = OUT },
	/* printer class 1.1; bits 6 and 7 as some makers have them */
	{ "paper out by port", BEFORE, .port = 0x38,
	    .want = JOB_QUEUED, .says = PAPER },
	{ "cover open by port", BEFORE, .port = 0x98,
	    .want = JOB_QUEUED, .says = COVER },
	{ "jammed by port", BEFORE, .port = 0x58,
	    .want = JOB_QUEUED, .says = "jammed: take the stuck label out" },
	{ "off line by port", BEFORE, .port = 0x08,
	    .want = JOB_QUEUED, .says = "off line: switch it on line" },
	{ "a fault by port", BEFORE, .port = 0x10,
	    .want = JOB_QUEUED, .says = "reports a fault: look at its lamps" },

	{ "stops and goes on", INSIDE, SOON, .bus = VPRINTER_HANG,
	    .port = 0x38, .want = OUT },
	{ "stops for good, no paper", INSIDE, .bus = VPRINTER_HANG,
	    .port = 0x38, .want = JOB_UNSURE, .says = PAPER, .resets = 2 },
	{ "stops for good, says ready", INSIDE, .bus = VPRINTER_HANG,
	    .want = JOB_UNSURE, .says = "stopped after ", .resets = 2 },
	{ "halts once", INSIDE, SOON, .bus = VPRINTER_STALL, .want = OUT },
	{ "halts again", INSIDE, .bus = VPRINTER_STALL_AGAIN,
	    .want = JOB_UNSURE, .says = "refuses", .resets = 1 },
	{ "protocol error", INSIDE, .bus = VPRINTER_GARBLE,
	    .want = JOB_UNSURE, .says = "0525:A4A8", .resets = 1 },
	{ "I/O error, then gone", INSIDE, .bus = VPRINTER_YANK,
	    .want = JOB_UNSURE, .resets = 1,
	    .says = "was unplugged or switched off while taking a label" },
	{ "unplugged in mid-label", INSIDE, .bus = VPRINTER_UNPLUG,
	    .want = JOB_UNSURE, .resets = 1,
	    .says = "was unplugged or switched off while taking a label" },
	{ "slow", INSIDE, SOON, .spoil = slow, .mend = fast, .want = OUT },

	{ "paper out, reloaded", AFTER, SOON, .saying = SAYS_PAPER,
	    .want = OUT, .says = "out of labels" },
	{ "paper out for good", AFTER, .saying = SAYS_PAPER,
	    .want = JOB_UNSURE, .says = "out of labels", .resets = 2 },
	{ "cover open for good", AFTER, .saying = SAYS_OPEN,
	    .want = JOB_UNSURE, .says = "head or cover open", .resets = 2 },
	{ "paper out by port, reloaded", AFTER, SOON, .port = 0x38,
	    .want = OUT, .says = PAPER },
	{ "paper out by port for good", AFTER, .port = 0x38,
	    .want = JOB_UNSURE, .says = PAPER, .resets = 2 },
	{ "busy, then done", AFTER, SOON, .saying = SAYS_BUSY, .times = 4,
	    .want = OUT },
	{ "busy for ever", AFTER, .saying = SAYS_BUSY,
	    .want = JOB_UNSURE, .says = "still printing", .resets = 2 },
	{ "no more words", AFTER, .saying = SAYS_NOTHING,
	    .want = JOB_UNSURE, .says = NO_WORD, .resets = 2 },
	{ "no more words from its port", AFTER, .spoil = quiet, .mend = speak,
	    .want = JOB_UNSURE, .says = NO_WORD, .resets = 1 },
	{ "unplugged", AFTER, .spoil = unplug,
	    .want = JOB_UNSURE, .resets = 1,
	    .says = "was unplugged or switched off" },
};
/* clang-format on */

/* --- the runner -----------------------------------------------------------*/

static size_t
half(void)
{
	return desk.labels[0].bytes.len / 2;
}

static void *
mend_soon(void *arg)
{
	poll(NULL, 0, 150);
	vprinter_mend(desk.printer);
	return arg;
}

static pthread_t mender;

static void
spoil(void)
{
	armed = false;
	if (fault->saying == SAYS_NOTHING)
		desk.sp.printer.deadline_ms = desk.deadline_ms = 100;
	talker_says(fault->saying, fault->times);
	if (fault->bus == VPRINTER_WELL && fault->port != 0)
		vprinter_port(desk.printer, fault->port);
	if (fault->bus != VPRINTER_WELL)
		vprinter_fault(desk.printer, half(), fault->bus, fault->port);
	if (fault->bus == VPRINTER_HANG && fault->until == SOON) {
		desk.sp.printer.deadline_ms = 60;
		ck_assert_int_eq(
		    pthread_create(&mender, NULL, mend_soon, NULL), 0);
	}
	if (fault->spoil != NULL)
		fault->spoil();
}

static void
mend(void)
{
	desk.sp.printer.deadline_ms = desk.deadline_ms = 2000;
	desk.sp.printer.patience_ms = desk.patience_ms = 10000;
	talker_says(SAYS_READY, 0);
	vprinter_mend(desk.printer);
	if (fault->mend != NULL)
		fault->mend();
	plug();
}

/* Nothing has been sent yet, or the last byte has been taken. */
static void
moved(const struct print_job *job)
{
	if (job->state == JOB_SENT && job->error[0] != '\0') {
		reasons++;
		ck_assert_msg(fault->says != NULL &&
			strstr(job->error, fault->says) != NULL,
		    "%s, %s: %s", desk.lang->name, fault->why, job->error);
		if (fault->until == SOON)
			mend();
		return;
	}
	if (job->state == JOB_SENT && fault->when == INSIDE)
		desk.sp.printer.deadline_ms = desk.deadline_ms;
	if (armed &&
	    ((job->state == JOB_SENDING && fault->when == INSIDE) ||
		(job->state == JOB_SENT && fault->when == AFTER)))
		spoil();
}

/* Is the fault one that this printer can tell? */
static bool
is_told(void)
{
	return fault->saying == SAYS_READY ||
	    (!one_way && talker_can(desk.lang, fault->saying));
}

/* Only who answers in its language lets a label be confirmed. */
static enum job_state
good(void)
{
	return desk.lang->query != NULL && !one_way ? JOB_CONFIRMED : JOB_SENT;
}

static void
is(int label, enum job_state want, const char *says)
{
	struct print_job j = desk_job(label);

	ck_assert_msg(j.state == want, "%s, %s: label %d is %s (%s), not %s",
	    desk.lang->name, fault->why, label, job_state_word(j.state),
	    j.error, job_state_word(want));
	ck_assert_msg(says[0] == '\0' ? j.error[0] == '\0'
				      : strstr(j.error, says) != NULL,
	    "%s, %s: \"%s\" does not say \"%s\"", desk.lang->name, fault->why,
	    j.error, says);
}

/* What is on record and on paper when the fault was not seen to in time. */
static void
first_label(enum job_state want)
{
	bool out = want == OUT;
	char stopped[80] = "";

	is(0, out ? good() : want, out ? "" : fault->says);
	is(1, JOB_QUEUED, "");
	if (fault->bus == VPRINTER_HANG && !out) {
		str_fmt(stopped, sizeof(stopped), "stopped after %zu of %zu ",
		    half(), desk.labels[0].bytes.len);
		is(0, want, stopped);
	}
	/* A reason is on record while it lasts; busy is none, and who is gone
	 * is not waited for. */
	ck_assert_msg(reasons ==
		(is_told() && fault->when == AFTER && fault->says != NULL &&
		    fault->saying != SAYS_BUSY && fault->spoil != unplug),
	    "%s, %s: %d reasons", desk.lang->name, fault->why, reasons);
}

static void
run(const struct lang *lang, const struct fault *f, bool blind)
{
	struct desk_part parts[] = { { 0, DESK_WHOLE }, { 1, DESK_WHOLE } };
	enum job_state want;

	fault = f;
	one_way = blind;
	reasons = 0;
	desk_sit(lang, one_way);
	want = is_told() ? f->want : OUT;
	desk.moved = moved;
	armed = true;
	if (want == JOB_UNSURE)
		desk.patience_ms = f->when == AFTER ? 400 : 200;
	desk_queue();
	desk_queue();
	if (f->when == BEFORE)
		spoil();
	desk_step();
	if (f->bus == VPRINTER_HANG && f->until == SOON)
		ck_assert_int_eq(pthread_join(mender, NULL), 0);
	ck_assert(!armed);
	first_label(want);
	if (want == JOB_QUEUED) {
		desk_took(NULL, 0, f->why);
	} else {
		if (want == JOB_UNSURE && f->when == INSIDE)
			parts[0].len = half();
		desk_took(parts, 1, f->why);
	}
	mend();
	desk_drain();
	if (want == JOB_UNSURE)
		is(0, JOB_UNSURE, f->says); /* never again by itself */
	else
		is(0, good(), "");
	is(1, good(), "");
	desk_took(parts, 2, f->why);
	ck_assert_msg(
	    vprinter_resets(desk.printer) == (want == OUT ? 0 : f->resets),
	    "%s, %s: %d resets", lang->name, f->why,
	    vprinter_resets(desk.printer));
}

static int
languages(void)
{
	int n = 0;

	while (talker_language(n) != NULL)
		n++;
	return n;
}

#define FAULTS ((int)NELEM(faults))

START_TEST(fault_by_language)
{
	run(talker_language(_i / FAULTS), &faults[_i % FAULTS], false);
}
END_TEST

/* No way back, in any language: the port is all there is. */
START_TEST(fault_one_way)
{
	run(talker_language(_i % languages()), &faults[_i], true);
}
END_TEST

/* A part of a question would be printed with the next label. */
START_TEST(stops_in_question)
{
	const struct lang *lang = talker_language(_i);
	const struct desk_part part = { 0, DESK_WHOLE };
	const char *took;
	size_t len;

	fault = &faults[0];
	one_way = false;
	desk_sit(lang, false);
	desk_queue();
	desk.deadline_ms = 100;
	vprinter_fault(
	    desk.printer, lang->query != NULL ? 1 : 0, VPRINTER_HANG, 0);
	desk_step();
	is(0, JOB_QUEUED, lang->query != NULL ? NO_WORD : "printer took 0 of ");
	took = (const char *)vprinter_took(desk.printer, &len);
	if (lang->query != NULL) {
		ck_assert_uint_eq(len, 1);
		ck_assert_int_eq(took[0], lang->query[0]);
	}
	ck_assert_int_eq(vprinter_resets(desk.printer), lang->query != NULL);
	desk.skip = len;
	mend();
	desk_drain();
	is(0, good(), "");
	desk_took(&part, 1, "after half a question");
}
END_TEST

/* "Ready", said too late, is no answer to the next question. */
START_TEST(late_answer)
{
	const struct lang *lang = talker_language(_i);
	bool talks = lang->query != NULL;

	fault = &faults[0];
	one_way = false;
	desk_sit(lang, false);
	desk_queue();
	desk.deadline_ms = 100;
	talker_late(250);
	desk_step();
	is(0, talks ? JOB_QUEUED : JOB_SENT, talks ? NO_WORD : "");
	poll(NULL, 0, 300);
	talker_late(0);
	talker_says(SAYS_PAPER, 0);
	desk.deadline_ms = 2000;
	desk_drain();
	is(0, talks ? JOB_QUEUED : JOB_SENT, talks ? "out of labels" : "");
	mend();
	desk_drain();
	is(0, good(), "");
}
END_TEST

Suite *
suite_usb_spool(void)
{
	Suite *s = suite_create("usb_spool");
	TCase *tc = desk_tcase(s, "spool");

	tcase_set_tags(tc, "long");
	tcase_add_loop_test(tc, fault_by_language, 0, languages() * FAULTS);
	tc = desk_tcase(s, "one_way");
	tcase_add_loop_test(tc, fault_one_way, 0, FAULTS);
	tcase_add_loop_test(tc, stops_in_question, 0, languages());
	tcase_add_loop_test(tc, late_answer, 0, languages());
	return s;
}
