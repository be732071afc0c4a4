/*
 * usb_main.c - run the USB suites.  CK_RUN_SUITE=usb_write runs one.
 *
 * Everything they leave on disk is in one short folder: umockdev puts sockets
 * there, and a socket's path is short.
 */
#define _XOPEN_SOURCE 700
#include "suites.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static int
remove_one(const char *path, const struct stat *st, int what, struct FTW *ftw)
{
	(void)st;
	(void)what;
	(void)ftw;
	return remove(path);
}

int
main(void)
{
	char folder[] = "/tmp/pbusb-XXXXXX";
	SRunner *sr = srunner_create(NULL);
	int failed;

	if (mkdtemp(folder) == NULL || chmod(folder, 0755) != 0 ||
	    setenv("TMPDIR", folder, 1) != 0) {
		perror(folder);
		return EXIT_FAILURE;
	}
#define USB_SUITE_ADD(name) srunner_add_suite(sr, suite_usb_##name());
	USB_SUITES(USB_SUITE_ADD)
#undef USB_SUITE_ADD
	srunner_run_all(sr, CK_ENV);
	failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	if (nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS) != 0)
		perror(folder);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
