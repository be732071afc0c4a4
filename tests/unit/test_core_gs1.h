/*
 * test_core_gs1.h - shared by the tests of the GS1 reader; defined in
 * test_core_gs1.c.
 */
#ifndef TEST_CORE_GS1_H
#define TEST_CORE_GS1_H

#include "core/gs1.h"

day_no gs1_case_day(int y, int m, int d);

/* Today is 26 November 2026. */
struct gs1_reader gs1_case_reader(void);
struct gs1_scan gs1_case_read(const char *text, char separator);

/* "01=1234|10=ABC" of all elements; valid until the next call. */
const char *gs1_case_list(const struct gs1_scan *s);
/* All problems in one line; valid until the next call. */
const char *gs1_case_problems(const struct gs1_scan *s);

#endif /* TEST_CORE_GS1_H */
