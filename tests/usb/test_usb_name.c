/* test_usb_name.c - what a printer says of itself, as it travels. */
#include "rig.h"

#include <string.h>

#include "base/str.h"

static void
list_one(struct port_found *out)
{
	const char *part;
	const struct transport *t = transport_find(&part, "usb:any");
	struct port_found found[PORT_FOUND_MAX];
	size_t n;

	ck_assert_int_eq(t->list(found, &n, &err), RC_OK);
	ck_assert_uint_eq(n, 1);
	*out = found[0];
}

/* Each as sent, with the two bytes of its length. */
#define TEXT "MFG:Quay;MDL:L60;CMD:ZPL,EPL;SN:77;"
#define ID(high, low, text)                                                    \
	.id = (const uint8_t *)high low text, .id_len = 2 + sizeof(text) - 1

static const struct {
	const char *why;
	struct vprinter_as as;
	const char *make, *model, *serial, *commands;
} rows[] = {
	{ "length counts itself", { ID("\0", "\x25", TEXT) }, "Quay", "L60",
	    "77", "ZPL,EPL" },
	{ "length bytes swapped", { ID("\x25", "\0", TEXT) }, "Quay", "L60",
	    "77", "ZPL,EPL" },
	{ "length of the text", { ID("\0", "\x23", TEXT) }, "Quay", "L60", "77",
	    "ZPL,EPL" },
	{ "length beyond it", { ID("\x03", "\xFF", TEXT) }, "Quay", "L60", "77",
	    "ZPL,EPL" },
	{ "strings where the ID is silent",
	    { ID("\0", "\x0F", "CMD:TSPL2;XX;"), .make = "Chip",
		.model = "Bridge", .serial = "S9" },
	    "Chip", "Bridge", "S9", "TSPL2" },
	{ "the ID before the strings",
	    { ID("\0", "\x25", TEXT), .make = "Chip", .model = "Bridge" },
	    "Quay", "L60", "77", "ZPL,EPL" },
	{ "but the device's serial number",
	    { ID("\0", "\x25", TEXT), .serial = "S9" }, "Quay", "L60", "S9",
	    "ZPL,EPL" },
	{ "index as a plain number",
	    { ID("\0", "\x25", TEXT), .id_index_plain = true, .interface = 2 },
	    "Quay", "L60", "77", "ZPL,EPL" },
	{ "index with the setting",
	    { ID("\0", "\x25", TEXT), .id_setting = 1, .interface = 2,
		.protocols = { 1, 2 } },
	    "Quay", "L60", "77", "ZPL,EPL" },
	{ "no ID", { .no_id = true, .make = "Chip", .serial = "S9" }, "Chip",
	    "", "S9", "" },
	{ "nonsense", { ID("\x12", "\x34", "\xFF\xFE\x01 no key here") }, "",
	    "", "", "" },
	{ "two bytes", { ID("\0", "\2", "") }, "", "", "", "" },
	{ "strings beyond ASCII",
	    { .no_id = true,
		.make = " \xC3\x89toile ",
		.model = "Gr\xC3\xB6"
			 "\xC3\x9F"
			 "e" },
	    "\xC3\x89toile",
	    "Gr\xC3\xB6\xC3\x9F"
	    "e",
	    "", "" },
	/* a pair of surrogates is one character, half a pair is none */
	{ "strings beyond 16 bits",
	    { .no_id = true,
		.make = "\xED\xA0\xBD\xED\xB0\x9F",
		.model = "x\xED\xA0\xBD" },
	    "\xF0\x9F\x90\x9F", "x???", "", "" },
};

START_TEST(name)
{
	struct vprinter *p = rig_printer(&rows[_i].as);
	struct port_found f;
	char commands[128] = "none";
	struct port *port;

	(void)p;
	list_one(&f);
	ck_assert_msg(str_eq(f.make, rows[_i].make), "%s: make \"%s\"",
	    rows[_i].why, f.make);
	ck_assert_msg(str_eq(f.model, rows[_i].model), "%s: model \"%s\"",
	    rows[_i].why, f.model);
	ck_assert_msg(str_eq(f.serial, rows[_i].serial), "%s: serial \"%s\"",
	    rows[_i].why, f.serial);
	ck_assert_msg(str_eq(f.commands, rows[_i].commands),
	    "%s: commands \"%s\"", rows[_i].why, f.commands);
	/* what the list calls it opens it */
	port = rig_open(f.address);
	port->via->commands(commands, sizeof(commands), port);
	ck_assert_str_eq(commands, rows[_i].commands);
}
END_TEST

/* A string is as long as its descriptor says, whatever follows. */
START_TEST(run_on)
{
	static const struct vprinter_as as = { .no_id = true, .make = "Quay" };
	struct vprinter *p = rig_printer(&as);
	struct port_found f;

	vprinter_device(p)->run_on = true;
	list_one(&f);
	ck_assert_str_eq(f.make, "Quay");
}
END_TEST

/* A text too long for its place is cut between characters. */
START_TEST(long_names)
{
	static const char make[] =
	    "0123456789012345678901234567890123456789012345678901234567890123"
	    "45678901234567890";
	static const char model[] =
	    "01234567890123456789012345678901234567890123456789012345678901"
	    "\xC3\xA9\xC3\xA9";
	struct vprinter_as as = { .no_id = true, .make = make, .model = model };
	struct port_found f;

	rig_printer(&as);
	list_one(&f);
	ck_assert_uint_eq(strlen(f.make), sizeof(f.make) - 1);
	ck_assert(utf8_valid(f.model, strlen(f.model)));
	ck_assert(strncmp(f.model, model, 62) == 0);
}
END_TEST

Suite *
suite_usb_name(void)
{
	Suite *s = suite_create("usb_name");
	TCase *tc = rig_tcase(s, "name");

	tcase_add_loop_test(tc, name, 0, NELEM(rows));
	tcase_add_test(tc, run_on);
	tcase_add_test(tc, long_names);
	return s;
}
