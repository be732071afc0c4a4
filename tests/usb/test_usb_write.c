/* test_usb_write.c - labels out. */
#include "rig.h"

START_TEST(whole_label)
{
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(40000);

	rig_write_all(port, job, 40000);
	rig_took(p, job, 40000);
}
END_TEST

Suite *
suite_usb_write(void)
{
	Suite *s = suite_create("usb_write");
	TCase *tc = rig_tcase(s, "write");

	tcase_add_test(tc, whole_label);
	return s;
}
