/*
 * test_usb_scale.c - the scale's driver against the real libusb: found among
 * other devices, read, and every way it may go wrong.
 */
#include "scale_rig.h"

#include <string.h>

#include "driver/scale.h"
#include "drivers/hid_report.h"
#include "tests/unit/hid_items.h"

#define OPEN_MS 3000
#define READ_MS 1000

static struct scale *held;

static void
let_go(void)
{
	if (held != NULL)
		held->via->close(held);
	held = NULL;
}

static enum rc
try_open(const char *address)
{
	const char *part;
	const struct scale_driver *d = scale_find(&part, address);

	ck_assert_ptr_nonnull(d);
	ck_assert_ptr_null(held);
	err_clear(&err);
	return d->open(&held, part, OPEN_MS, &err);
}

static void
must_open(const char *address)
{
	ck_assert_msg(try_open(address) == RC_OK, "%s", err.text);
	ck_assert_ptr_nonnull(held);
}

static enum rc
try_read(struct scale_reading *r)
{
	err_clear(&err);
	return held->via->read(r, held, READ_MS, &err);
}

static void
reads(enum scale_state s, int64_t mg)
{
	struct scale_reading r;

	ck_assert_msg(try_read(&r) == RC_OK, "%s", err.text);
	ck_assert_int_eq(r.state, s);
	ck_assert_int_eq(r.weight_mg, mg);
}

/* --- finding it ----------------------------------------------------------- */

static const uint8_t mouse[] = { I_PAGE(1), I_USAGE(2), I_COLLECTION(1),
	I_USAGE(0x30), I_USAGE(0x31), I_MIN(0x81), I_MAX(0x7F), I_SIZE(8),
	I_COUNT(2), I_INPUT(VAR), I_END };

START_TEST(found_and_given_back)
{
	struct vscale *s = scale_rig_plug(NULL);
	struct vusb_device *dev = vscale_device(s);

	vusb_driver(dev, 0, "usbhid");
	PLAY(s, 50, { 0, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	must_open("usb:any");
	ck_assert_str_eq(vusb_driver_now(dev, 0), "usbfs");
	reads(SCALE_STABLE, 850000);
	reads(SCALE_STABLE, 850000);
	let_go();
	ck_assert_str_eq(vusb_driver_now(dev, 0), "usbhid");
}
END_TEST

/* HID 1.11, 6.2.1: the report descriptor need not be named first. */
START_TEST(physical_descriptor_first)
{
	struct vscale *s =
	    scale_rig_plug(&(struct vscale_as){ .physical = true });

	PLAY(s, 50, { 0, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	must_open("usb:any");
	reads(SCALE_STABLE, 850000);
}
END_TEST

START_TEST(none_there)
{
	ck_assert_int_eq(try_open("usb:any"), RC_RETRY);
	rig_says("no USB scale is plugged in: check the cable");
	ck_assert_int_eq(try_open("usb:0525:A5CA"), RC_RETRY);
	rig_says("scale usb:0525:A5CA is not plugged in");
	ck_assert_int_eq(try_open("usb:0525"), RC_INVALID);
	rig_says("names no scale");
}
END_TEST

/* A keyboard is not even asked; another device gets its driver back. */
START_TEST(others_left_alone)
{
	struct vscale *keyboard =
	    scale_rig_plug(&(struct vscale_as){ .product = 1,
		.vendor = 1,
		.boot = true,
		.descriptor = mouse,
		.descriptor_len = sizeof(mouse) });
	struct vscale *pointer =
	    scale_rig_plug(&(struct vscale_as){ .product = 2,
		.vendor = 1,
		.descriptor = mouse,
		.descriptor_len = sizeof(mouse) });

	vusb_driver(vscale_device(keyboard), 0, "usbhid");
	vusb_driver(vscale_device(pointer), 0, "usbhid");
	ck_assert_int_eq(try_open("usb:any"), RC_RETRY);
	rig_says("no USB scale is plugged in");
	/* a real kernel has a driver for keyboards, which does ask */
	if (vusb_played())
		ck_assert_int_eq(vscale_asked(keyboard), 0);
	ck_assert_int_gt(vscale_asked(pointer), 0);
	ck_assert_str_eq(vusb_driver_now(vscale_device(keyboard), 0), "usbhid");
	ck_assert_str_eq(vusb_driver_now(vscale_device(pointer), 0), "usbhid");
	scale_rig_plug(NULL);
	must_open("usb:any");
}
END_TEST

/* Named in the settings, it is believed although it looks like a keyboard. */
START_TEST(named_boot_device)
{
	struct vscale *s = scale_rig_plug(&(struct vscale_as){ .boot = true });

	PLAY(s, 50, { 0, ZERO, G, 0, 0, VSCALE_WELL, 0 });
	ck_assert_int_eq(try_open("usb:any"), RC_RETRY);
	must_open("usb:0525:a5ca");
	reads(SCALE_ZERO, 0);
}
END_TEST

START_TEST(two_scales)
{
	struct vscale *s;

	scale_rig_plug(&(struct vscale_as){ .serial = "K1" });
	s = scale_rig_plug(&(struct vscale_as){ .serial = "K2" });
	PLAY(s, 50, { 0, STABLE, KG, -3, 1234, VSCALE_WELL, 0 });
	ck_assert_int_eq(try_open("usb:any"), RC_INVALID);
	rig_says("usb:any fits 2 scales, among them ");
	rig_says("0525:A5CA/K1 (Invented bench scale)");
	rig_says("0525:A5CA/K2 (Invented bench scale)");
	ck_assert_int_eq(try_open("usb:0525:A5CA"), RC_INVALID);
	must_open("usb:0525:A5CA/K2");
	reads(SCALE_STABLE, 1234000);
	let_go();
	ck_assert_int_eq(try_open("usb:0525:A5CA/K3"), RC_RETRY);
}
END_TEST

START_TEST(not_permitted)
{
	struct vscale *s = scale_rig_plug(NULL);

	vusb_forbid(vscale_device(s));
	vusb_as_nobody(bus);
	ck_assert_int_eq(try_open("usb:any"), RC_RETRY);
	rig_says("scale 0525:A5CA is not permitted to this user: add");
	ck_assert_int_eq(try_open("usb:0525:A5CA"), RC_RETRY);
	rig_says("is not permitted to this user");
	vusb_as_root();
}
END_TEST

/* Nobody knows what that one is; the one that may be opened is the scale. */
START_TEST(another_not_permitted)
{
	vusb_forbid(vscale_device(scale_rig_plug(NULL)));
	PLAY(scale_rig_plug(&(struct vscale_as){ .vendor = 1, .product = 7 }),
	    50, { 0, STABLE, G, 0, 9, VSCALE_WELL, 0 });
	vusb_as_nobody(bus);
	must_open("usb:any");
	reads(SCALE_STABLE, 9000);
	let_go();
	vusb_as_root();
}
END_TEST

START_TEST(held_by_another)
{
	struct vscale *s = scale_rig_plug(NULL);

	vusb_driver(vscale_device(s), 0, "usbfs");
	ck_assert_int_eq(try_open("usb:any"), RC_RETRY);
	rig_says("is held by another program");
	ck_assert_int_eq(try_open("usb:0525:A5CA"), RC_RETRY);
	rig_says("is held by another program");
	PLAY(scale_rig_plug(&(struct vscale_as){ .vendor = 1, .product = 7 }),
	    50, { 0, STABLE, G, 0, 9, VSCALE_WELL, 0 });
	must_open("usb:any");
	reads(SCALE_STABLE, 9000);
}
END_TEST

START_TEST(no_way_to_know)
{
	static const uint8_t huge[HID_DESCRIPTOR_MAX + 1000];
	static const struct {
		const char *why;
		struct vscale_as as;
	} rows[] = {
		{ "no HID descriptor", { .no_hid = true } },
		{ "a report descriptor of 0 bytes",
		    { .descriptor = mouse, .descriptor_len = 0 } },
		{ "more than 4096 bytes",
		    { .descriptor = huge, .descriptor_len = sizeof(huge) } },
		{ "cut short: unbalanced", { .claims_len = 20 } },
		{ "it refuses to say", { .no_report = true } },
		{ "it does not answer", { .silent = true } },
	};

	scale_rig_plug(&rows[_i].as);
	ck_assert_msg(
	    try_open("usb:any") == RC_RETRY, "%s: %s", rows[_i].why, err.text);
	rig_says("no USB scale is plugged in");
	ck_assert_ptr_null(held);
}
END_TEST

START_TEST(not_understood)
{
	static const uint8_t no_state[] = { I_PAGE(0x8D), I_USAGE(0x20),
		I_COLLECTION(1), I_MIN(0), I_MAX(100), I_SIZE(8), I_COUNT(1),
		I_USAGE(0x40), I_INPUT(VAR), I_END };

	scale_rig_plug(&(struct vscale_as){ .descriptor = no_state,
	    .descriptor_len = sizeof(no_state),
	    .serial = "K1" });
	ck_assert_int_eq(try_open("usb:any"), RC_FAILED);
	rig_says(
	    "scale 0525:A5CA/K1: this scale's reports are not understood: "
	    "they do not say whether it is stable");
	ck_assert_ptr_null(held);
}
END_TEST

/* --- reading -------------------------------------------------------------- */

START_TEST(states_and_units)
{
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 0, { 0, ZERO, G, 0, 0, VSCALE_WELL, 0 },
	    { 1, MOVING, G, 0, 400, VSCALE_WELL, 0 },
	    { 2, STABLE, OZ, -1, 6452, VSCALE_WELL, 0 },
	    { 3, STABLE, LB, -1, 52, VSCALE_WELL, 0 },
	    { 4, UNDER, G, 0, 20, VSCALE_WELL, 0 },
	    { 5, OVER, G, 0, 0xFFFF, VSCALE_WELL, 0 },
	    { 6, FAULT, G, 0, 0, VSCALE_WELL, 0 },
	    { 7, CALIBRATE, G, 0, 0, VSCALE_WELL, 0 },
	    { 8, REZERO, G, 0, 0, VSCALE_WELL, 0 },
	    { 9, STABLE, TAEL, 0, 3, VSCALE_WELL, 0 });
	must_open("usb:any");
	reads(SCALE_ZERO, 0);
	reads(SCALE_IN_MOTION, 400000);
	reads(SCALE_STABLE, 18291112); /* see test_drivers_scale.c */
	reads(SCALE_STABLE, 2358680);
	reads(SCALE_UNDER_ZERO, -20000);
	reads(SCALE_OVER_LIMIT, 0);
	reads(SCALE_FAULT, 0);
	reads(SCALE_CALIBRATE, 0);
	reads(SCALE_REZERO, 0);
	ck_assert_int_eq(try_read(&(struct scale_reading){ 0 }), RC_INVALID);
	rig_says("in taels");
}
END_TEST

START_TEST(silent)
{
	struct scale_reading r;
	int64_t began;

	scale_rig_plug(NULL);
	must_open("usb:any");
	began = vusb_now();
	ck_assert_int_eq(try_read(&r), RC_RETRY);
	ck_assert_int_ge(vusb_now() - began, READ_MS - 5);
	ck_assert_int_lt(vusb_now() - began, READ_MS * 3);
	ck_assert_int_eq(held->via->read(&r, held, 0, &err), RC_RETRY);
}
END_TEST

/* It is asked to repeat itself; one that knows how does. */
START_TEST(asked_to_repeat)
{
	struct vscale *s =
	    scale_rig_plug(&(struct vscale_as){ .repeats = true });

	PLAY(s, 0, { 0, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	must_open("usb:any");
	ck_assert_int_eq(vscale_idle(s), 100);
	reads(SCALE_STABLE, 850000);
	reads(SCALE_STABLE, 850000);
}
END_TEST

START_TEST(short_report)
{
	struct scale_reading r;
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 0, { 0, STABLE, G, 0, 850, VSCALE_WELL, 5 },
	    { 1, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	must_open("usb:any");
	ck_assert_int_eq(try_read(&r), RC_INVALID);
	rig_says("malformed: 5 bytes, 6 are due");
	reads(SCALE_STABLE, 850000);
}
END_TEST

/* One transfer is one report, whatever the packet. */
START_TEST(size_of_a_transfer)
{
	static const struct {
		uint8_t packet;
		size_t asked;
	} rows[] = { { 8, 8 }, { 6, 6 }, { 4, 8 }, { 64, 64 } };
	struct vscale *s =
	    scale_rig_plug(&(struct vscale_as){ .packet = rows[_i].packet });

	PLAY(s, 50, { 0, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	must_open("usb:any");
	reads(SCALE_STABLE, 850000);
	ck_assert_uint_eq(vscale_device(s)->largest, rows[_i].asked);
}
END_TEST

static const struct {
	const char *why, *says;
	enum vscale_fault fault;
	enum rc rc;
} faults[] = {
	{ "pulled out", "was unplugged or switched off while weighing",
	    VSCALE_UNPLUG, RC_FAILED },
	{ "pulled out, an error first",
	    "was unplugged or switched off while weighing", VSCALE_YANK,
	    RC_FAILED },
	{ "it stalls for good", "refuses weighing", VSCALE_STALL_AGAIN,
	    RC_FAILED },
	{ "noise on the cable", "while weighing", VSCALE_GARBLE, RC_FAILED },
	{ "it falls silent", "says nothing", VSCALE_HUSH, RC_RETRY },
};

START_TEST(fault_rows)
{
	struct vscale_step steps[] = {
		{ 0, STABLE, G, 0, 850, VSCALE_WELL, 0 },
		{ 1, STABLE, G, 0, 850, faults[_i].fault, 0 },
	};
	struct vscale *s = scale_rig_plug(NULL);
	struct scale_reading r;

	vscale_play(s, steps, 2, 0);
	must_open("usb:any");
	reads(SCALE_STABLE, 850000);
	ck_assert_msg(
	    try_read(&r) == faults[_i].rc, "%s: %s", faults[_i].why, err.text);
	rig_says(faults[_i].says);
}
END_TEST

START_TEST(stalled_once)
{
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 0, { 0, STABLE, G, 0, 850, VSCALE_STALL, 0 },
	    { 1, STABLE, G, 0, 860, VSCALE_WELL, 0 },
	    { 2, STABLE, G, 0, 850, VSCALE_STALL, 0 },
	    { 3, STABLE, G, 0, 870, VSCALE_WELL, 0 });
	must_open("usb:any");
	reads(SCALE_STABLE, 860000);
	reads(SCALE_STABLE, 870000);
	ck_assert_uint_eq(vscale_device(s)->cleared, 2);
}
END_TEST

START_TEST(plugged_in_again)
{
	struct vscale *s = scale_rig_plug(NULL);
	struct scale_reading r;

	PLAY(s, 50, { 0, STABLE, G, 0, 850, VSCALE_UNPLUG, 0 });
	must_open("usb:any");
	ck_assert_int_eq(try_read(&r), RC_FAILED);
	let_go();
	ck_assert_int_eq(try_open("usb:any"), RC_RETRY);
	rig_says("no USB scale is plugged in");
	PLAY(s, 50, { 0, STABLE, G, 0, 900, VSCALE_WELL, 0 });
	vusb_plug(bus, vscale_device(s));
	must_open("usb:any");
	reads(SCALE_STABLE, 900000);
}
END_TEST

Suite *
suite_usb_scale(void)
{
	Suite *s = suite_create("usb_scale");
	TCase *tc = scale_rig_tcase(s, "scale", let_go);

	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_test(tc, found_and_given_back);
	tcase_add_test(tc, physical_descriptor_first);
	tcase_add_test(tc, none_there);
	tcase_add_test(tc, others_left_alone);
	tcase_add_test(tc, named_boot_device);
	tcase_add_test(tc, two_scales);
	tcase_add_test(tc, not_permitted);
	tcase_add_test(tc, another_not_permitted);
	tcase_add_test(tc, held_by_another);
	tcase_add_loop_test(tc, no_way_to_know, 0, 6);
	tcase_add_test(tc, not_understood);
	tcase_add_test(tc, states_and_units);
	tcase_add_test(tc, silent);
	tcase_add_test(tc, asked_to_repeat);
	tcase_add_test(tc, short_report);
	tcase_add_loop_test(tc, size_of_a_transfer, 0, 4);
	tcase_add_loop_test(tc, fault_rows, 0, (int)NELEM(faults));
	tcase_add_test(tc, stalled_once);
	tcase_add_test(tc, plugged_in_again);
	return s;
}
