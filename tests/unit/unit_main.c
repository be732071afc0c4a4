/*
 * unit_main.c - run every suite.  CK_RUN_SUITE=core_useby runs one.
 */
#include "unit.h"

#include <stdlib.h>

int
main(void)
{
	SRunner *sr = srunner_create(NULL);
	int failed;

#define SUITE_ADD(name) srunner_add_suite(sr, suite_##name());
	SUITES(SUITE_ADD)
#undef SUITE_ADD
	srunner_run_all(sr, CK_ENV);
	failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
