/* test_usb_fault.c - halts, spoilt packets, and cables pulled in mid-label. */
#include "rig.h"

#include <string.h>

#define NO_DEVICE (-4)
#define PIPE (-9)
#define IO (-1)

static enum rc
begin(struct port *port)
{
	return port->via->begin(port, "P7K2QX-1", "zpl", NULL);
}

static const size_t places[] = { 0, 1, 700, 16384, 16385, 29999 };

START_TEST(stall_once)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(30000);

	vprinter_fault(p, places[_i], VPRINTER_STALL, 0);
	rig_write_all(port, job, 30000);
	rig_took(p, job, 30000);
	ck_assert_uint_eq(vprinter_device(p)->cleared, 1);
}
END_TEST

START_TEST(stall_for_ever)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(30000);
	size_t sent;

	vprinter_fault(p, places[_i], VPRINTER_STALL_AGAIN, 0);
	ck_assert_int_eq(rig_write(&sent, port, job, 30000, 2000), RC_FAILED);
	ck_assert_uint_eq(sent, places[_i]);
	ck_assert_int_eq(err.lib, PIPE);
	rig_says("refuses");
	ck_assert_uint_eq(vprinter_device(p)->cleared, 1);
	rig_took(p, job, places[_i]);
}
END_TEST

/* Once a label, however many calls it takes; the next label starts anew. */
START_TEST(stall_twice)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(30000);
	size_t sent;

	ck_assert_int_eq(begin(port), RC_OK);
	vprinter_fault(p, 100, VPRINTER_STALL, 0);
	rig_write_all(port, job, 10000);
	ck_assert_int_eq(begin(port), RC_OK);
	vprinter_fault(p, 100, VPRINTER_STALL, 0);
	rig_write_all(port, job + 10000, 10000);
	vprinter_fault(p, 100, VPRINTER_STALL, 0);
	ck_assert_int_eq(
	    rig_write(&sent, port, job + 20000, 10000, 2000), RC_FAILED);
	ck_assert_uint_eq(sent, 100);
	rig_took(p, job, 20100);
}
END_TEST

START_TEST(garbled)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	size_t sent;

	vprinter_fault(p, places[_i], VPRINTER_GARBLE, 0);
	ck_assert_int_eq(
	    rig_write(&sent, port, rig_job(30000), 30000, 2000), RC_FAILED);
	ck_assert_int_eq(err.lib, IO);
	rig_says("0525:A4A8");
	ck_assert_ptr_null(strstr(err.text, "unplugged"));
	ck_assert_uint_eq(vprinter_device(p)->asked, 1);
	rig_took(p, rig_job(30000), places[_i]);
}
END_TEST

/* Gone at once, or first an I/O error and a moment later gone. */
static const enum vprinter_fault pulled[] = { VPRINTER_UNPLUG, VPRINTER_YANK };

START_TEST(unplugged)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any"), *again;
	const uint8_t *job = rig_job(30000);
	int64_t before;
	size_t sent, i;

	for (i = 0; i < NELEM(places); i++) {
		before = vusb_now();
		vprinter_fault(p, places[i], pulled[_i], 0);
		ck_assert_int_eq(
		    rig_write(&sent, port, job, 30000, 2000), RC_FAILED);
		ck_assert_int_eq(err.lib, NO_DEVICE);
		rig_says("was unplugged or switched off while taking a label");
		ck_assert_int_lt(vusb_now() - before, 1500);
		/* and stays so */
		ck_assert_int_eq(
		    rig_write(&sent, port, job, 10, 500), RC_FAILED);
		ck_assert_int_eq(rig_try(&again, "usb:any"), RC_RETRY);
		ck_assert_uint_eq(state, PRINTER_ABSENT);
		rig_close(port);
		vprinter_mend(p);
		vusb_plug(bus, vprinter_device(p));
		port = rig_open("usb:any");
	}
	rig_write_all(port, job, 30000);
}
END_TEST

START_TEST(unplugged_reading)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	uint8_t in[8];
	size_t got, sent;

	vprinter_fault(p, 10, pulled[_i], 0);
	ck_assert_int_eq(
	    rig_write(&sent, port, rig_job(20), 20, 2000), RC_FAILED);
	err_clear(&err);
	ck_assert_int_eq(
	    port->via->read(&got, port, in, sizeof(in), 1000, &err), RC_FAILED);
	ck_assert_uint_eq(got, 0);
	ck_assert_int_eq(err.lib, NO_DEVICE);
}
END_TEST

/* Switched off between labels. */
START_TEST(unplugged_idle)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	size_t sent;

	vusb_unplug(vprinter_device(p));
	ck_assert_int_eq(
	    rig_write(&sent, port, rig_job(20), 20, 2000), RC_FAILED);
	ck_assert_uint_eq(sent, 0);
	ck_assert_int_eq(err.lib, NO_DEVICE);
	rig_close(port);
	vusb_plug(bus, vprinter_device(p));
	rig_write_all(rig_open("usb:any"), rig_job(20), 20);
	rig_took(p, rig_job(20), 20);
}
END_TEST

Suite *
suite_usb_fault(void)
{
	Suite *s = suite_create("usb_fault");
	TCase *tc = rig_tcase(s, "fault");

	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_loop_test(tc, stall_once, 0, rig_rows(NELEM(places)));
	tcase_add_loop_test(tc, stall_for_ever, 0, rig_rows(NELEM(places)));
	tcase_add_test(tc, stall_twice);
	tcase_add_loop_test(tc, garbled, 0, rig_rows(NELEM(places)));
	tcase_add_loop_test(tc, unplugged, 0, rig_rows(NELEM(pulled)));
	tcase_add_loop_test(tc, unplugged_reading, 0, rig_rows(NELEM(pulled)));
	tcase_add_test(tc, unplugged_idle);
	return s;
}
