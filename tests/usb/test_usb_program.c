/* test_usb_program.c - the whole program as a child, on the test's bus. */
#include "rig.h"

#include <stdlib.h>
#include <string.h>

/* The harness itself: the program starts under it and ends as always. */
START_TEST(version)
{
	const char *const argv[] = { getenv("PINBONE"), "--version", NULL };
	char out[4096];

	ck_assert_msg(argv[0] != NULL, "PINBONE must name the program");
	rig_printer(NULL);
	ck_assert_int_eq(rig_child(out, sizeof(out), argv), 0);
	ck_assert_ptr_nonnull(strstr(out, PINBONE_VERSION));
}
END_TEST

Suite *
suite_usb_program(void)
{
	Suite *s = suite_create("usb_program");
	TCase *tc = rig_tcase(s, "program");

	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_test(tc, version);
	return s;
}
