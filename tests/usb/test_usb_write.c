/* test_usb_write.c - labels out to a printer that is slow or stops, but is
 * there. */
#include "rig.h"

#include <sys/ioctl.h>

#include <linux/usbdevice_fs.h>

#define PIECE 16384

static const size_t sizes[] = { 0, 1, 63, 64, 511, 512, 513, PIECE - 1, PIECE,
	PIECE + 1, 2 * PIECE, 40000, 300000 };

START_TEST(whole_label)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(sizes[_i]);

	rig_write_all(port, job, sizes[_i]);
	rig_took(p, job, sizes[_i]);
}
END_TEST

/* Kernels differ in how large a transfer they take in one piece. */
static const uint32_t caps[] = {
	0,
	USBDEVFS_CAP_BULK_CONTINUATION,
	USBDEVFS_CAP_NO_PACKET_SIZE_LIM,
	USBDEVFS_CAP_BULK_SCATTER_GATHER | USBDEVFS_CAP_NO_PACKET_SIZE_LIM,
	USBDEVFS_CAP_ZERO_PACKET | USBDEVFS_CAP_BULK_CONTINUATION,
};

START_TEST(any_kernel)
{
	struct vprinter *p = rig_printer(NULL);
	const uint8_t *job = rig_job(100000);
	struct port *port;
	size_t sent;

	vusb_caps(vprinter_device(p), caps[_i]);
	port = rig_open("usb:any");
	vprinter_fault(p, 50000, VPRINTER_HANG, 0);
	ck_assert_int_eq(rig_write(&sent, port, job, 100000, 250), RC_RETRY);
	ck_assert_uint_eq(sent, 50000);
	vprinter_mend(p);
	rig_write_all(port, job + sent, 100000 - sent);
	rig_took(p, job, 100000);
	ck_assert_uint_eq(vprinter_device(p)->largest, PIECE);
}
END_TEST

/* Stops after so many bytes, goes on later: the count is exact. */
static const size_t stops[] = { 0, 1, 512, 1000, PIECE - 1, PIECE, PIECE + 1,
	16900, 2 * PIECE, 39999 };

START_TEST(resume)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(40000);
	int64_t before = vusb_now();
	size_t sent;

	vprinter_fault(p, stops[_i], VPRINTER_HANG, 0);
	ck_assert_int_eq(rig_write(&sent, port, job, 40000, 250), RC_RETRY);
	ck_assert_uint_eq(sent, stops[_i]);
	ck_assert_int_eq(err.lib, -7);
	rig_says("of 40000 bytes in 250 ms");
	ck_assert_int_ge(vusb_now() - before, 245);
	ck_assert_int_lt(vusb_now() - before, 1500);
	rig_took(p, job, stops[_i]);
	/* still stuck: nothing more, and nothing again */
	ck_assert_int_eq(
	    rig_write(&sent, port, job + stops[_i], 40000 - stops[_i], 50),
	    RC_RETRY);
	ck_assert_uint_eq(sent, 0);
	vprinter_mend(p);
	rig_write_all(port, job + stops[_i], 40000 - stops[_i]);
	rig_took(p, job, 40000);
}
END_TEST

START_TEST(no_time)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	size_t sent;

	ck_assert_int_eq(rig_write(&sent, port, rig_job(10), 10, 0), RC_RETRY);
	ck_assert_uint_eq(sent, 0);
	rig_took(p, rig_job(0), 0);
}
END_TEST

/* 1 KiB every 4 ms: within one deadline, and over several. */
START_TEST(slow)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(60000);
	size_t at = 0, sent = 0;
	int calls = 0;

	vprinter_pace(p, 1024, 4);
	rig_write_all(port, job, 20000);
	for (at = 20000; at < 60000; at += sent, calls++) {
		enum rc rc = rig_write(&sent, port, job + at, 60000 - at, 40);

		ck_assert(rc == RC_OK || rc == RC_RETRY);
		ck_assert_int_lt(calls, 100);
	}
	ck_assert_int_ge(calls, 3);
	rig_took(p, job, 60000);
}
END_TEST

/* Port status bytes as in test_usb_state.c. */
static const struct {
	uint8_t port;
	unsigned state;
} stopped[] = {
	{ 0x38, PRINTER_PAPER_OUT },
	{ 0x90, PRINTER_COVER_OPEN },
	{ 0x08, PRINTER_OFFLINE },
};

START_TEST(stops_and_says_why)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(30000);
	unsigned now = 99;
	size_t sent;

	vprinter_fault(p, 12345, VPRINTER_HANG, stopped[_i].port);
	ck_assert_int_eq(port->via->status(&now, port, 1000, &err), RC_OK);
	ck_assert_uint_eq(now, 0);
	ck_assert_int_eq(rig_write(&sent, port, job, 30000, 250), RC_RETRY);
	ck_assert_uint_eq(sent, 12345);
	ck_assert_int_eq(port->via->status(&now, port, 1000, NULL), RC_OK);
	ck_assert_uint_eq(now, stopped[_i].state);
	vprinter_mend(p);
	ck_assert_int_eq(port->via->status(&now, port, 1000, NULL), RC_OK);
	ck_assert_uint_eq(now, 0);
	rig_write_all(port, job + sent, 30000 - sent);
	rig_took(p, job, 30000);
}
END_TEST

/* The system has no memory for transfers, for a while or for good. */
START_TEST(no_memory)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(40000);
	size_t sent;

	vusb_refuse(vprinter_device(p), 2);
	rig_write_all(port, job, 20000);
	vusb_refuse(vprinter_device(p), 1000000);
	ck_assert_int_eq(
	    rig_write(&sent, port, job + 20000, 20000, 100), RC_RETRY);
	ck_assert_uint_eq(sent, 0);
	vusb_refuse(vprinter_device(p), 0);
	rig_write_all(port, job + 20000, 20000);
	rig_took(p, job, 40000);
}
END_TEST

/* Two labels on one port, and two printers at once. */
START_TEST(side_by_side)
{
	static const struct vprinter_as other = { .vendor = 0x1209,
		.product = 1 };
	struct vprinter *p = rig_printer(NULL), *q = rig_printer(&other);
	struct port *a = rig_open("usb:0525:A4A8");
	struct port *b = rig_open("usb:1209:0001");
	const uint8_t *job = rig_job(50000);
	size_t sent;

	vprinter_fault(p, 777, VPRINTER_HANG, 0);
	ck_assert_int_eq(rig_write(&sent, a, job, 20000, 250), RC_RETRY);
	rig_write_all(b, job, 30000);
	rig_write_all(b, job + 30000, 20000);
	rig_took(p, job, 777);
	rig_took(q, job, 50000);
}
END_TEST

Suite *
suite_usb_write(void)
{
	Suite *s = suite_create("usb_write");
	TCase *tc = rig_tcase(s, "write");

	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_loop_test(tc, whole_label, 0, rig_rows(NELEM(sizes)));
	if (vusb_played())
		tcase_add_loop_test(tc, any_kernel, 0, rig_rows(NELEM(caps)));
	tcase_add_loop_test(tc, resume, 0, rig_rows(NELEM(stops)));
	tcase_add_test(tc, no_time);
	tcase_add_test(tc, slow);
	tcase_add_loop_test(
	    tc, stops_and_says_why, 0, rig_rows(NELEM(stopped)));
	if (vusb_played())
		tcase_add_test(tc, no_memory);
	tcase_add_test(tc, side_by_side);
	return s;
}
