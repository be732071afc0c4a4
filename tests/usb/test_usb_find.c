/* test_usb_find.c - which printer an address means, and whether it opens. */
#include "rig.h"

#include <dirent.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"

static const struct vprinter_as cod = { .vendor = 0x1209,
	.product = 0x0001,
	.make = "Quay",
	.model = "L60",
	.serial = "A1",
	.commands = "TSPL2,EPL" };
static const struct vprinter_as ling = { .vendor = 0x1209,
	.product = 0x0001,
	.make = "Quay",
	.model = "L60",
	.serial = "A2",
	.commands = "ZPL" };

static void
list(struct port_found found[PORT_FOUND_MAX], size_t want)
{
	const char *part;
	const struct transport *t = transport_find(&part, "usb:any");
	size_t n = 99;

	err_clear(&err);
	ck_assert_msg(t->list(found, &n, &err) == RC_OK, "%s", err.text);
	ck_assert_uint_eq(n, want);
}

START_TEST(none)
{
	static const char *const addresses[] = { "usb:any", "usb:1209:0001",
		"usb:1209:0001/A1", "usb:cmd=ZPL" };
	struct port_found found[PORT_FOUND_MAX];
	struct port *port = (struct port *)found;
	size_t i;

	list(found, 0);
	for (i = 0; i < NELEM(addresses); i++) {
		ck_assert_int_eq(rig_try(&port, addresses[i]), RC_RETRY);
		ck_assert_ptr_null(port);
		ck_assert_uint_eq(state, PRINTER_ABSENT);
		rig_says("check the cable");
	}
	rig_says("usb:cmd=ZPL");
}
END_TEST

static const char *const no_address[] = { "", "an", "any ", "ANY", "1209",
	"1209:", "1209:1", "1209:00011", "12090001", "1209:0001/",
	"1209:0001 A1", "120g:0001", " 1209:0001", "0x12:0001", "-209:0001",
	"1209:+001", "cmd=", "cmd", "cmd:ZPL", "1209:0001:A1" };

START_TEST(bad_address)
{
	const char *part, *bad = no_address[_i];
	const struct transport *t = transport_find(&part, "usb:any");
	struct port *port;

	rig_printer(&cod);
	err_clear(&err);
	ck_assert_msg(
	    t->check(bad, &err) == RC_INVALID, "accepted: \"%s\"", bad);
	rig_says("usb:VVVV:PPPP/SERIAL");
	err_clear(&err);
	ck_assert_int_eq(t->open(&port, &state, bad, 100, &err), RC_INVALID);
	ck_assert_ptr_null(port);
	ck_assert_uint_eq(state, 0);
}
END_TEST

/* Of `cod` and `ling`, plugged in by `there`: which one opens? */
static const struct {
	const char *why, *address;
	const char *there; /* c, l */
	enum rc rc;
	const char *opens; /* its command sets */
} rows[] = {
	{ "the only one", "usb:any", "c", RC_OK, "TSPL2,EPL" },
	{ "two of them", "usb:any", "cl", RC_INVALID, NULL },
	{ "ids of the only one", "usb:1209:0001", "l", RC_OK, "ZPL" },
	{ "ids of both", "usb:1209:0001", "cl", RC_INVALID, NULL },
	{ "ids of another", "usb:1209:0002", "cl", RC_RETRY, NULL },
	{ "vendor of another", "usb:1208:0001", "cl", RC_RETRY, NULL },
	{ "serial, first", "usb:1209:0001/A1", "cl", RC_OK, "TSPL2,EPL" },
	{ "serial, second", "usb:1209:0001/A2", "cl", RC_OK, "ZPL" },
	{ "serial in part", "usb:1209:0001/A", "cl", RC_RETRY, NULL },
	{ "serial too long", "usb:1209:0001/A1x", "cl", RC_RETRY, NULL },
	{ "serial, other case", "usb:1209:0001/a1", "cl", RC_RETRY, NULL },
	{ "command set", "usb:cmd=ZPL", "cl", RC_OK, "ZPL" },
	{ "it begins so", "usb:cmd=TSPL", "cl", RC_OK, "TSPL2,EPL" },
	{ "not the first", "usb:cmd=EPL", "cl", RC_OK, "TSPL2,EPL" },
	{ "other case", "usb:cmd=zpl", "cl", RC_OK, "ZPL" },
	{ "not the middle", "usb:cmd=SPL", "cl", RC_RETRY, NULL },
	{ "longer than it", "usb:cmd=ZPL2", "cl", RC_RETRY, NULL },
	{ "wrong language", "usb:cmd=ZPL", "c", RC_RETRY, NULL },
	{ "not over the comma", "usb:cmd=TSPL2,E", "cl", RC_RETRY, NULL },
	{ "two of a set", "usb:cmd=TSPL", "cc", RC_INVALID, NULL },
	{ "twins", "usb:1209:0001/A1", "cc", RC_INVALID, NULL },
};

START_TEST(address)
{
	char commands[128] = "none";
	struct port *port;
	const char *c;
	enum rc rc;

	for (c = rows[_i].there; *c != '\0'; c++)
		rig_printer(*c == 'c' ? &cod : &ling);
	rc = rig_try(&port, rows[_i].address);
	ck_assert_msg(
	    rc == rows[_i].rc, "%s: rc %d, %s", rows[_i].why, rc, err.text);
	ck_assert_uint_eq(state, rc == RC_RETRY ? PRINTER_ABSENT : 0);
	if (rc == RC_INVALID) {
		rig_says("1209:0001/A1 (Quay L60)");
		rig_says(strchr(rows[_i].there, 'l') != NULL
			? "1209:0001/A2 (Quay L60)"
			: "fits 2 printers");
	}
	if (rc != RC_OK)
		return;
	port->via->commands(commands, sizeof(commands), port);
	ck_assert_msg(str_eq(commands, rows[_i].opens), "%s: opened %s",
	    rows[_i].why, commands);
	port->via->close(port);
}
END_TEST

/* Settings by protocol, in the device's order: which is used? */
static const struct {
	const char *why;
	struct vprinter_as as;
	const char *address;
	int alternate; /* -1: no printer */
	bool answers;
} settings[] = {
	{ "two-way", { .protocols = { 2 } }, "usb:any", 0, true },
	{ "one-way", { .protocols = { 1 } }, "usb:any", 0, false },
	{ "two-way is better", { .protocols = { 1, 2 } }, "usb:any", 1, true },
	{ "order is no matter", { .protocols = { 2, 1 } }, "usb:any", 0, true },
	{ "the first of equals", { .protocols = { 1, 2, 2 } }, "usb:any", 1,
	    true },
	{ "no packets", { .protocols = { 1, 2, 3 } }, "usb:any", 1, true },
	{ "no IPP", { .protocols = { 4, 1 } }, "usb:any", 1, false },
	{ "packets only", { .protocols = { 3 } }, "usb:any", -1, false },
	{ "IPP only", { .protocols = { 4 } }, "usb:any", -1, false },
	{ "second interface", { .interface = 1, .protocols = { 1, 2 } },
	    "usb:any", 1, true },
	{ "maker's class", { .class = 0xFF }, "usb:any", -1, false },
	{ "maker's class, set", { .class = 0xFF }, "usb:cmd=ZPL", -1, false },
	{ "maker's class, named", { .class = 0xFF, .protocols = { 2 } },
	    "usb:0525:A4A8", 0, true },
	{ "in small letters", { .class = 0xFF, .protocols = { 1 } },
	    "usb:0525:a4a8", 0, false },
	{ "another class", { .class = 8, .subclass = 6 }, "usb:0525:A4A8", -1,
	    false },
	{ "another subclass", { .class = 7, .subclass = 2 }, "usb:any", -1,
	    false },
};

START_TEST(setting)
{
	struct vprinter *p = rig_printer(&settings[_i].as);
	struct vusb_device *dev = vprinter_device(p);
	uint8_t interface = settings[_i].as.interface;
	struct port_found found[PORT_FOUND_MAX];
	struct port *port;
	enum rc rc = rig_try(&port, settings[_i].address);

	if (settings[_i].alternate < 0) {
		ck_assert_msg(rc == RC_RETRY, "%s", settings[_i].why);
		ck_assert_uint_eq(state, PRINTER_ABSENT);
		list(found, 0);
		return;
	}
	ck_assert_msg(rc == RC_OK, "%s: %s", settings[_i].why, err.text);
	ck_assert_int_eq(dev->alternate[interface], settings[_i].alternate);
	/* only when there is a choice; a real kernel's driver chooses too */
	if (vusb_played())
		ck_assert_uint_eq(
		    dev->chosen, settings[_i].as.protocols[1] != 0 ? 1 : 0);
	ck_assert_int_eq(port->answers, settings[_i].answers);
	rig_write_all(port, rig_job(100), 100);
	rig_took(p, rig_job(100), 100);
	port->via->close(port);
}
END_TEST

START_TEST(listed)
{
	struct port_found found[PORT_FOUND_MAX];
	struct port_found *a, *b;

	rig_printer(&cod);
	rig_printer(NULL);
	list(found, 2);
	a = &found[str_eq(found[0].serial, "A1") ? 0 : 1];
	b = &found[str_eq(found[0].serial, "A1") ? 1 : 0];
	ck_assert_str_eq(a->address, "usb:1209:0001/A1");
	ck_assert_str_eq(a->make, "Quay");
	ck_assert_str_eq(a->model, "L60");
	ck_assert_str_eq(a->commands, "TSPL2,EPL");
	ck_assert_uint_eq(a->state, 0);
	ck_assert_str_eq(b->address, "usb:0525:A4A8");
	ck_assert_str_eq(b->make, "");
	ck_assert_str_eq(b->serial, "");
	ck_assert_str_eq(b->commands, "");
}
END_TEST

START_TEST(listed_many)
{
	struct port_found found[PORT_FOUND_MAX];
	int i;

	for (i = 0; i < PORT_FOUND_MAX + 2; i++)
		rig_printer(&cod);
	list(found, PORT_FOUND_MAX);
}
END_TEST

/* A printer that answers no question must not hide the others. */
START_TEST(listed_quiet)
{
	struct port_found found[PORT_FOUND_MAX];
	struct vprinter *p = rig_printer(&cod);
	int64_t before = vusb_now();
	struct port *port;

	vprinter_quiet(p, true);
	rig_printer(&ling);
	list(found, 2);
	ck_assert_int_lt(vusb_now() - before, 4000);
	port = rig_open("usb:cmd=ZPL");
	rig_close(port);
	/* and still takes labels itself */
	port = rig_open("usb:1209:0001/A1");
	rig_write_all(port, rig_job(10), 10);
}
END_TEST

START_TEST(open_deadline)
{
	struct vprinter *p = rig_printer(&cod);
	const char *part;
	const struct transport *t = transport_find(&part, "usb:any");
	int64_t before = vusb_now();
	struct port *port;

	vprinter_quiet(p, true);
	ck_assert_int_eq(
	    t->open(&port, &state, "cmd=TSPL", 100, NULL), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_ABSENT);
	ck_assert_int_lt(vusb_now() - before, 700);
}
END_TEST

START_TEST(kernel_driver)
{
	struct vprinter *p = rig_printer(&cod);
	struct vusb_device *dev = vprinter_device(p);
	struct port_found found[PORT_FOUND_MAX];
	struct port *port;

	vusb_driver(dev, 0, "usblp");
	list(found, 1);
	ck_assert_uint_eq(found[0].state, 0);
	ck_assert_str_eq(found[0].commands, "TSPL2,EPL");
	ck_assert_str_eq(vusb_driver_now(dev, 0), "usblp");
	port = rig_open("usb:any");
	ck_assert_str_eq(vusb_driver_now(dev, 0), "usbfs");
	rig_write_all(port, rig_job(1000), 1000);
	rig_close(port);
	ck_assert_str_eq(vusb_driver_now(dev, 0), "usblp");
	/* and once more */
	port = rig_open("usb:any");
	rig_close(port);
	ck_assert_str_eq(vusb_driver_now(dev, 0), "usblp");
}
END_TEST

/* Nothing was bound: looking must not bind anything. */
START_TEST(no_driver)
{
	struct vprinter *p = rig_printer(&cod);
	struct port_found found[PORT_FOUND_MAX];

	vusb_driver(vprinter_device(p), 0, "");
	list(found, 1);
	ck_assert_str_eq(vusb_driver_now(vprinter_device(p), 0), "");
}
END_TEST

START_TEST(taken)
{
	struct vprinter *p = rig_printer(&cod);
	struct port_found found[PORT_FOUND_MAX];
	struct port *port = (struct port *)found;

	vusb_driver(vprinter_device(p), 0, "usbfs");
	list(found, 1);
	ck_assert_uint_eq(found[0].state, PRINTER_TAKEN);
	ck_assert_str_eq(found[0].model, "L60");
	ck_assert_int_eq(rig_try(&port, "usb:any"), RC_RETRY);
	ck_assert_ptr_null(port);
	ck_assert_uint_eq(state, PRINTER_TAKEN);
	rig_says("1209:0001/A1 (Quay L60) is held by another program");
	ck_assert_str_eq(vusb_driver_now(vprinter_device(p), 0), "usbfs");
	vusb_driver(vprinter_device(p), 0, "");
	rig_open("usb:any");
	/* and the next program is told the same of us */
	ck_assert_int_eq(rig_try(&port, "usb:any"), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_TAKEN);
}
END_TEST

/* As root there is nobody to be refused; the tests then play a user. */
START_TEST(denied)
{
	static const char *const addresses[] = { "usb:any", "usb:1209:0001",
		"usb:1209:0001/A1", "usb:cmd=TSPL" };
	struct vprinter *p = rig_printer(&cod);
	struct port_found found[PORT_FOUND_MAX];
	struct port *port;
	bool root = geteuid() == 0;
	size_t i;

	vusb_forbid(vprinter_device(p));
	if (root)
		vusb_as_nobody(bus);
	list(found, 1);
	ck_assert_str_eq(found[0].address, "usb:1209:0001");
	ck_assert_uint_eq(found[0].state, PRINTER_DENIED);
	for (i = 0; i < NELEM(addresses); i++) {
		ck_assert_int_eq(rig_try(&port, addresses[i]), RC_RETRY);
		ck_assert_ptr_null(port);
		ck_assert_uint_eq(state, PRINTER_DENIED);
		rig_says("group lp");
		rig_says("70-pinbone.rules");
		rig_says("log in again");
	}
	ck_assert_int_eq(rig_try(&port, "usb:1209:0002"), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_ABSENT);
	/* beside one that may be used: by its own names that one opens */
	if (root)
		vusb_as_root();
	rig_printer(&ling);
	if (root)
		vusb_as_nobody(bus);
	rig_close(rig_open("usb:1209:0001/A2"));
	rig_close(rig_open("usb:cmd=ZPL"));
	ck_assert_int_eq(rig_try(&port, "usb:any"), RC_INVALID);
	ck_assert_int_eq(rig_try(&port, "usb:1209:0001/A1"), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_DENIED);
	if (root)
		vusb_as_root();
}
END_TEST

static int
open_files(void)
{
	DIR *dir = opendir("/proc/self/fd");
	int n = 0;

	ck_assert_ptr_nonnull(dir);
	while (readdir(dir) != NULL)
		n++;
	closedir(dir);
	return n;
}

/* Looks, ports and refusals give everything back: a station runs for months. */
START_TEST(nothing_left)
{
	struct vprinter *p = rig_printer(&cod);
	struct port_found found[PORT_FOUND_MAX];
	struct port *port;
	int before = 0, i;

	for (i = 0; i < 20; i++) {
		list(found, 1);
		rig_close(rig_open("usb:any"));
		ck_assert_int_eq(rig_try(&port, "usb:cmd=XYZ"), RC_RETRY);
		vusb_driver(vprinter_device(p), 0, "usbfs");
		ck_assert_int_eq(rig_try(&port, "usb:any"), RC_RETRY);
		vusb_driver(vprinter_device(p), 0, "");
		/* the bus and libraries have opened their own by now */
		if (i == 4)
			before = open_files();
	}
	/* the test bed notices a closed node a moment later */
	ck_assert_int_le(open_files(), before + 3);
}
END_TEST

START_TEST(late_plug)
{
	struct port *port;
	struct vprinter *p;

	ck_assert_int_eq(rig_try(&port, "usb:any"), RC_RETRY);
	p = rig_printer(&cod);
	port = rig_open("usb:any");
	rig_write_all(port, rig_job(500), 500);
	rig_took(p, rig_job(500), 500);
	rig_close(port);
	vusb_unplug(vprinter_device(p));
	ck_assert_int_eq(rig_try(&port, "usb:any"), RC_RETRY);
	ck_assert_uint_eq(state, PRINTER_ABSENT);
	vusb_plug(bus, vprinter_device(p));
	port = rig_open("usb:1209:0001/A1");
	rig_write_all(port, rig_job(500), 500);
}
END_TEST

Suite *
suite_usb_find(void)
{
	Suite *s = suite_create("usb_find");
	TCase *tc = rig_tcase(s, "find");

	tcase_add_test(tc, none);
	tcase_add_loop_test(tc, bad_address, 0, NELEM(no_address));
	tcase_add_loop_test(tc, address, 0, NELEM(rows));
	tcase_add_loop_test(tc, setting, 0, NELEM(settings));
	tcase_add_test(tc, listed);
	/* more than a virtual host controller has ports for */
	if (vusb_played())
		tcase_add_test(tc, listed_many);
	tcase_add_test(tc, listed_quiet);
	tcase_add_test(tc, open_deadline);
	tc = rig_tcase(s, "bus");
	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_test(tc, kernel_driver);
	tcase_add_test(tc, no_driver);
	tcase_add_test(tc, taken);
	tcase_add_test(tc, denied);
	tcase_add_test(tc, nothing_left);
	tcase_add_test(tc, late_plug);
	return s;
}
