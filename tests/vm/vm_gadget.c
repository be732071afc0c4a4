/*
 * vm_gadget.c - the USB transport against the kernel's printer gadget: real
 * enumeration, real transfers, a real driver in the way, a real cable pulled.
 * Source of the device's side: Linux drivers/usb/gadget/function/f_printer.c.
 */
#include "gadget.h"

#include <check.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/buf.h"
#include "driver/lang.h"
#include "driver/transport.h"
#include "tests/usb/suites.h"

#define ID "MFG:Invented;MDL:Gadget;CMD:ZPL,TSPL;CLS:PRINTER;"
/* More than the gadget itself holds back (10 buffers of 8 KiB). */
#define JOB 200000

static const struct transport *usb;
static struct port *port;
static unsigned state;
static struct err err;
static uint8_t job[JOB], taken[2 * JOB];

static void
open_port(const char *address)
{
	memset(&err, 0, sizeof(err));
	ck_assert_msg(usb->open(&port, &state, address, 2000, &err) == RC_OK,
	    "%s: %s", address, err.text);
}

static void
close_port(void)
{
	if (port != NULL)
		usb->close(port);
	port = NULL;
}

/* What the printer does while the test is busy sending. */
struct taker {
	size_t got;
	int wait_ms;
};

static void *
take(void *arg)
{
	struct taker *t = arg;

	t->got = gadget_take(taken, sizeof(taken), t->wait_ms);
	return NULL;
}

static void *
pull(void *arg)
{
	(void)arg;
	gadget_wait(300);
	gadget_unplug();
	return NULL;
}

START_TEST(listed)
{
	struct port_found found[PORT_FOUND_MAX];
	size_t n = 0;

	ck_assert_int_eq(usb->list(found, &n, &err), RC_OK);
	ck_assert_uint_eq(n, 1);
	ck_assert_str_eq(found[0].make, "Invented");
	ck_assert_str_eq(found[0].model, "Gadget");
	ck_assert_str_eq(found[0].commands, "ZPL,TSPL");
	ck_assert_str_eq(found[0].serial, "G1");
	ck_assert_uint_eq(found[0].state, 0);
	ck_assert_str_eq(found[0].address, "usb:0525:A4A8/G1");
}
END_TEST

START_TEST(every_address)
{
	static const char *const addresses[] = { "any", "0525:a4a8",
		"0525:A4A8/G1", "cmd=TSPL" };
	size_t i;

	for (i = 0; i < sizeof(addresses) / sizeof(addresses[0]); i++) {
		open_port(addresses[i]);
		close_port();
	}
	ck_assert_int_eq(
	    usb->open(&port, &state, "0525:a4a9", 500, &err), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_ABSENT);
	ck_assert_int_eq(
	    usb->open(&port, &state, "cmd=EPL2", 500, &err), RC_RETRY);
}
END_TEST

/* The system's own driver is asked to step aside and gets it back. */
START_TEST(driver_steps_aside)
{
	int tries;

	ck_assert(gadget_driver_bound());
	open_port("any");
	ck_assert(!gadget_driver_bound());
	close_port();
	for (tries = 0; tries < 100 && !gadget_driver_bound(); tries++)
		gadget_wait(10);
	ck_assert(gadget_driver_bound());
}
END_TEST

START_TEST(port_status)
{
	static const struct {
		uint8_t byte;
		unsigned state;
	} rows[] = {
		{ 0x18, 0 },
		{ 0x38, PRINTER_PAPER_OUT },
		{ 0x30, PRINTER_PAPER_OUT | PRINTER_FAULT },
		{ 0x08, PRINTER_OFFLINE },
		{ 0x10, PRINTER_FAULT },
	};
	size_t i;

	open_port("any");
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		gadget_status(rows[i].byte);
		ck_assert_int_eq(usb->status(&state, port, 1000, &err), RC_OK);
		/* Paper out may be told with or without a general fault. */
		ck_assert_msg((state & ~(unsigned)PRINTER_FAULT) ==
			(rows[i].state & ~(unsigned)PRINTER_FAULT),
		    "%02x gives %x", rows[i].byte, state);
		ck_assert((state == 0) == (rows[i].byte == 0x18));
	}
	gadget_status(0x18);
	close_port();
}
END_TEST

START_TEST(whole_job)
{
	struct taker t = { 0, 500 };
	pthread_t thread;
	size_t sent;

	open_port("any");
	pthread_create(&thread, NULL, take, &t);
	ck_assert_msg(usb->write(&sent, port, job, JOB, 5000, &err) == RC_OK,
	    "%s", err.text);
	pthread_join(thread, NULL);
	ck_assert_uint_eq(sent, JOB);
	ck_assert_uint_eq(t.got, JOB);
	ck_assert_mem_eq(taken, job, JOB);
	close_port();
}
END_TEST

/* Nobody takes it: the count is exact, and what is left goes out later. */
START_TEST(resumes_at_the_count)
{
	size_t sent, all = 0, got;
	int tries;
	enum rc rc = RC_RETRY;

	open_port("any");
	rc = usb->write(&sent, port, job, JOB, 300, &err);
	ck_assert_int_eq(rc, RC_RETRY);
	ck_assert_uint_lt(sent, JOB);
	all = sent;
	got = 0;
	for (tries = 0; tries < 400 && rc == RC_RETRY; tries++) {
		got += gadget_take(taken + got, 5000, 50);
		err_clear(&err);
		rc = usb->write(&sent, port, job + all, JOB - all, 100, &err);
		all += sent;
	}
	got += gadget_take(taken + got, sizeof(taken) - got, 300);
	ck_assert_msg(rc == RC_OK, "%s", err.text);
	ck_assert_uint_eq(all, JOB);
	ck_assert_uint_eq(got, JOB);
	ck_assert_mem_eq(taken, job, JOB);
	close_port();
}
END_TEST

START_TEST(answers)
{
	uint8_t buf[64];
	size_t got = 0;

	open_port("any");
	ck_assert(port->answers);
	ck_assert_int_eq(
	    usb->read(&got, port, buf, sizeof(buf), 200, &err), RC_RETRY);
	gadget_say(
	    "\x02"
	    "030,0,0\x03\r\n",
	    12);
	err_clear(&err);
	ck_assert_msg(
	    usb->read(&got, port, buf, sizeof(buf), 2000, &err) == RC_OK, "%s",
	    err.text);
	ck_assert_uint_eq(got, 12);
	ck_assert_int_eq(buf[0], 2);
	close_port();
}
END_TEST

START_TEST(soft_reset)
{
	struct taker t = { 0, 500 };
	pthread_t thread;
	size_t sent;

	open_port("any");
	ck_assert_msg(usb->reset(port, 1000, &err) == RC_OK, "%s", err.text);
	pthread_create(&thread, NULL, take, &t);
	ck_assert_int_eq(usb->write(&sent, port, job, 5000, 5000, &err), RC_OK);
	pthread_join(thread, NULL);
	ck_assert_uint_eq(t.got, 5000);
	close_port();
}
END_TEST

/* The cable comes out in mid-label, and goes in again. */
START_TEST(cable_pulled)
{
	pthread_t thread;
	size_t sent;
	enum rc rc;

	open_port("any");
	pthread_create(&thread, NULL, pull, NULL);
	rc = usb->write(&sent, port, job, JOB, 5000, &err);
	pthread_join(thread, NULL);
	ck_assert_int_eq(rc, RC_FAILED);
	close_port();
	ck_assert_int_eq(usb->open(&port, &state, "any", 500, &err), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_ABSENT);
	gadget_plug();
	open_port("any");
	close_port();
}
END_TEST

/* A label of every language arrives as it was written. */
START_TEST(every_language)
{
	struct lang_media media = {
		.dpi = 203,
		.width_mm = 60,
		.height_mm = 40,
		.gap_mm = 3,
		.darkness_pct = 50,
	};
	struct taker t = { 0, 500 };
	struct bitmap *bm = bitmap_new(479, 319);
	pthread_t thread;
	struct buf wire;
	size_t sent, i;
	int x;

	for (x = 0; x < 319; x++)
		bitmap_set(bm, x + x * x % 97, x, true);
	open_port("any");
	for (i = 0; langs[i] != NULL; i++) {
		if (langs[i]->command_sets == NULL)
			continue;
		buf_init(&wire, 1 << 20);
		ck_assert_int_eq(
		    langs[i]->encode(&wire, bm, &media, &err), RC_OK);
		pthread_create(&thread, NULL, take, &t);
		ck_assert_int_eq(
		    usb->write(&sent, port, (const uint8_t *)wire.data,
			wire.len, 5000, &err),
		    RC_OK);
		pthread_join(thread, NULL);
		ck_assert_uint_eq(t.got, wire.len);
		ck_assert_mem_eq(taken, wire.data, wire.len);
		buf_fini(&wire);
	}
	close_port();
	bitmap_free(bm);
}
END_TEST

static void
plug_in(void)
{
	gadget_make(ID, "G1");
	gadget_plug();
}

int
main(void)
{
	const TTest *const tests[] = { listed, every_address,
		driver_steps_aside, port_status, whole_job,
		resumes_at_the_count, answers, soft_reset, cable_pulled,
		every_language };
	Suite *s = suite_create("gadget");
	TCase *c = tcase_create("gadget");
	SRunner *r = srunner_create(s);
	const char *address;
	size_t i;
	int failed;

	for (i = 0; i < JOB; i++)
		job[i] = (uint8_t)(i * 31 + i / 251);
	usb = transport_find(&address, "usb:any");
	if (usb == NULL)
		return 1;
	tcase_add_unchecked_fixture(c, plug_in, gadget_unplug);
	tcase_add_checked_fixture(c, NULL, close_port);
	tcase_set_tags(c, USB_ON_A_KERNEL);
	tcase_set_timeout(c, 60);
	for (i = 0; i < sizeof(tests) / sizeof(tests[0]); i++)
		tcase_add_test(c, tests[i]);
	suite_add_tcase(s, c);
	/* One device for all: no forks. */
	srunner_set_fork_status(r, CK_NOFORK);
	srunner_run_all(r, CK_NORMAL);
	failed = srunner_ntests_failed(r);
	srunner_free(r);
	return failed != 0;
}
