/*
 * store/clock_checks.h - dates an operator vouched for.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_CLOCK_CHECKS_H
#define STORE_CLOCK_CHECKS_H

#include "base/err.h"
#include "store/moment.h"

struct store;

/* clock_check_add - one row: the date in words, and why it was asked. */
enum rc clock_check_add(struct store *st, const struct moment *at,
    const char *zone, const char *words, const char *doubt,
    struct err *err) MUST_CHECK;

#endif /* STORE_CLOCK_CHECKS_H */
