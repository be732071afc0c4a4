/* test_usb_state.c - what a printer answers: port status, reset, its words. */
#include "rig.h"

#include <string.h>

static enum rc
status(struct port *port, int ms)
{
	err_clear(&err);
	state = 0xFFFF;
	return port->via->status(&state, port, ms, &err);
}

static enum rc
reset(struct port *port, int ms)
{
	err_clear(&err);
	return port->via->reset(port, ms, &err);
}

/* At most `size` bytes, into a fresh buffer. */
static enum rc
read_some(char *out, struct port *port, size_t size, int ms)
{
	size_t got = 99;
	enum rc rc;

	err_clear(&err);
	rc = port->via->read(&got, port, (uint8_t *)out, size, ms, &err);
	ck_assert_uint_le(got, size);
	ck_assert(rc == RC_OK ? got > 0 : got == 0);
	out[got] = '\0';
	return rc;
}

/* Port status bytes: printer class 1.1 (0x18 ready, 0x20 paper, 0x10 selected,
 * 0x08 no error); bits 6 and 7 as some makers use them. */
static const struct {
	uint8_t byte;
	unsigned state;
} rows[] = {
	{ 0x18, 0 }, { 0x10, PRINTER_FAULT }, { 0x38, PRINTER_PAPER_OUT },
	{ 0x30, PRINTER_PAPER_OUT }, { 0x08, PRINTER_OFFLINE },
	{ 0x00, PRINTER_OFFLINE | PRINTER_FAULT },
	{ 0x20, PRINTER_OFFLINE | PRINTER_PAPER_OUT },
	{ 0x28, PRINTER_OFFLINE | PRINTER_PAPER_OUT }, { 0x58, PRINTER_JAM },
	{ 0x50, PRINTER_JAM }, { 0x98, PRINTER_COVER_OPEN },
	{ 0x90, PRINTER_COVER_OPEN },
	{ 0xB0, PRINTER_COVER_OPEN | PRINTER_PAPER_OUT },
	{ 0x1F, 0 }, /* reserved bits */
};

START_TEST(port_status)
{
	static const struct vprinter_as second = { .interface = 1 };
	struct vprinter *p = rig_printer(&second);
	struct port *port = rig_open("usb:any");

	vprinter_port(p, rows[_i].byte);
	ck_assert_int_eq(status(port, 1000), RC_OK);
	ck_assert_msg(
	    state == rows[_i].state, "%02X: %X", rows[_i].byte, state);
}
END_TEST

START_TEST(no_status)
{
	static const struct vprinter_as mute = { .no_status = true };
	struct port *port;

	rig_printer(&mute);
	port = rig_open("usb:any");
	ck_assert_int_eq(status(port, 1000), RC_NOTFOUND);
	ck_assert_uint_eq(state, 0);
	ck_assert_int_eq(err.lib, -9); /* LIBUSB_ERROR_PIPE */
	rig_says("refuses");
	rig_write_all(port, rig_job(10), 10);
}
END_TEST

START_TEST(quiet)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	int64_t before;

	vprinter_quiet(p, true);
	before = vusb_now();
	ck_assert_int_eq(status(port, 80), RC_RETRY);
	ck_assert_int_eq(err.lib, -7); /* LIBUSB_ERROR_TIMEOUT */
	rig_says("did not answer in time");
	ck_assert_int_eq(reset(port, 80), RC_RETRY);
	ck_assert_int_ge(vusb_now() - before, 150);
	ck_assert_int_lt(vusb_now() - before, 1500);
	ck_assert_int_eq(status(port, 0), RC_RETRY);
	vprinter_quiet(p, false);
	ck_assert_int_eq(status(port, 1000), RC_OK);
	ck_assert_uint_eq(state, 0);
}
END_TEST

START_TEST(gone)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	char text[8];

	vusb_unplug(vprinter_device(p));
	ck_assert_int_eq(status(port, 1000), RC_FAILED);
	ck_assert_int_eq(err.lib, -4); /* LIBUSB_ERROR_NO_DEVICE */
	rig_says("unplugged or switched off");
	ck_assert_int_eq(reset(port, 1000), RC_FAILED);
	ck_assert_int_eq(read_some(text, port, 4, 1000), RC_FAILED);
}
END_TEST

static const struct {
	const char *why;
	struct vprinter_as as;
	enum rc rc;
	int resets;
	unsigned cleared;
} resets[] = {
	{ "as 1.1 has it", { 0 }, RC_OK, 1, 2 },
	{ "as 1.0 has it", { .old_reset = true }, RC_OK, 1, 2 },
	{ "second interface", { .interface = 1 }, RC_OK, 1, 2 },
	{ "one-way", { .protocols = { 1 } }, RC_OK, 1, 1 },
	{ "does not know it", { .no_reset = true }, RC_RETRY, 0, 0 },
};

START_TEST(soft_reset)
{
	struct vprinter *p = rig_printer(&resets[_i].as);
	struct port *port = rig_open("usb:any");

	ck_assert_msg(reset(port, 1000) == resets[_i].rc, "%s", resets[_i].why);
	ck_assert_int_eq(vprinter_resets(p), resets[_i].resets);
	ck_assert_uint_eq(vprinter_device(p)->cleared, resets[_i].cleared);
	rig_write_all(port, rig_job(10), 10);
}
END_TEST

/* What was said before a reset is no answer to what is asked after it. */
START_TEST(reset_forgets)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	char text[8];

	vprinter_say(p, "old", 3, 0);
	ck_assert_int_eq(read_some(text, port, 1, 1000), RC_OK);
	ck_assert_str_eq(text, "o");
	ck_assert_int_eq(reset(port, 1000), RC_OK);
	ck_assert_int_eq(read_some(text, port, 4, 50), RC_RETRY);
	vprinter_say(p, "new", 3, 0);
	ck_assert_int_eq(read_some(text, port, 4, 1000), RC_OK);
	ck_assert_str_eq(text, "new");
}
END_TEST

START_TEST(one_way)
{
	static const struct vprinter_as as = { .protocols = { 1 } };
	struct port *port;

	rig_printer(&as);
	port = rig_open("usb:any");
	ck_assert(!port->answers);
	ck_assert_int_eq(status(port, 1000), RC_OK);
}
END_TEST

START_TEST(silent)
{
	struct port *port;
	int64_t before = vusb_now();
	char text[8];

	rig_printer(NULL);
	port = rig_open("usb:any");
	ck_assert(port->answers);
	ck_assert_int_eq(read_some(text, port, 4, 100), RC_RETRY);
	rig_says("said nothing in 100 ms");
	ck_assert_int_ge(vusb_now() - before, 95);
	ck_assert_int_lt(vusb_now() - before, 1500);
	ck_assert_int_eq(read_some(text, port, 4, 0), RC_RETRY);
}
END_TEST

START_TEST(late)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	char text[8];

	vprinter_say(p, "ok", 2, 400);
	ck_assert_int_eq(read_some(text, port, 4, 50), RC_RETRY);
	ck_assert_int_eq(read_some(text, port, 4, 2000), RC_OK);
	ck_assert_str_eq(text, "ok");
}
END_TEST

/* Nothing to say, said at once and again: no answer, and no spinning. */
START_TEST(empty_packets)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	unsigned before;
	char text[8];

	vprinter_empty_answers(p);
	before = vprinter_device(p)->submitted;
	ck_assert_int_eq(read_some(text, port, 4, 100), RC_RETRY);
	ck_assert_uint_lt(vprinter_device(p)->submitted - before, 15);
	vprinter_say(p, "ok", 2, 30);
	ck_assert_int_eq(read_some(text, port, 4, 2000), RC_OK);
	ck_assert_str_eq(text, "ok");
}
END_TEST

/* A long answer read a few bytes at a time: none lost, none twice. */
START_TEST(in_pieces)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(3000);
	char text[8];
	size_t i;

	vprinter_say(p, job, 3000, 0);
	for (i = 0; i < 3000;) {
		size_t got;

		ck_assert_int_eq(
		    port->via->read(&got, port, (uint8_t *)text, 7, 1000, NULL),
		    RC_OK);
		ck_assert(memcmp(text, job + i, got) == 0);
		i += got;
	}
	ck_assert_uint_eq(i, 3000);
	ck_assert_int_eq(read_some(text, port, 4, 30), RC_RETRY);
}
END_TEST

START_TEST(stalled_in)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	char text[8];

	vprinter_stall_in(p);
	vprinter_say(p, "ok", 2, 0);
	ck_assert_int_eq(read_some(text, port, 4, 1000), RC_OK);
	ck_assert_str_eq(text, "ok");
	ck_assert_uint_eq(vprinter_device(p)->cleared, 1);
}
END_TEST

/* A language's question and answer, as a language test would set it up. */
static size_t
answer_question(struct vprinter *p, const uint8_t *bytes, size_t len)
{
	if (len < 3)
		return 0;
	if (memcmp(bytes, "\x1B!?", 3) == 0)
		vprinter_answer(p, "\x05", 1, 20);
	return 3;
}

START_TEST(question)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	char text[8];

	vprinter_listen(p, answer_question);
	rig_write_all(port, (const uint8_t *)"\x1B!", 2);
	ck_assert_int_eq(read_some(text, port, 4, 50), RC_RETRY);
	rig_write_all(port, (const uint8_t *)"?", 1);
	ck_assert_int_eq(read_some(text, port, 4, 1000), RC_OK);
	ck_assert_str_eq(text, "\x05");
}
END_TEST

Suite *
suite_usb_state(void)
{
	Suite *s = suite_create("usb_state");
	TCase *tc = rig_tcase(s, "state");

	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_loop_test(tc, port_status, 0, rig_rows(NELEM(rows)));
	tcase_add_test(tc, no_status);
	tcase_add_test(tc, quiet);
	tcase_add_test(tc, gone);
	tcase_add_loop_test(tc, soft_reset, 0, rig_rows(NELEM(resets)));
	tcase_add_test(tc, reset_forgets);
	tcase_add_test(tc, one_way);
	tcase_add_test(tc, silent);
	tcase_add_test(tc, late);
	tcase_add_test(tc, empty_packets);
	tcase_add_test(tc, in_pieces);
	tcase_add_test(tc, stalled_in);
	tcase_add_test(tc, question);
	return s;
}
