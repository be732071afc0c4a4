/*
 * unit.h - what every unit test file shares.  One Suite per file, listed in
 * unit_main.c; rows with a `why` are run by tcase_add_loop_test, so the index
 * Check prints names the row.
 */
#ifndef UNIT_H
#define UNIT_H

#include <check.h>
#include <stddef.h>

#define NELEM(a) (sizeof(a) / sizeof((a)[0]))

/* X-list of suites: test_<area>_<module>.c defines suite_<area>_<module>(). */
#include "suites.h"

#define SUITE_PROTO(name) Suite *suite_##name(void);
SUITES(SUITE_PROTO)
#undef SUITE_PROTO

#endif /* UNIT_H */
