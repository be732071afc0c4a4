/*
 * ops/bring_in.h - bookings, menu, sales and suppliers from CSV files.
 */
#ifndef OPS_BRING_IN_H
#define OPS_BRING_IN_H

#include "base/err.h"

struct station;

struct import_result {
	int added, changed, same; /* records in the file */
	int dropped;              /* dishes or cuts no longer on the menu */
};

/*
 * import_bookings, import_menu, import_sales, import_suppliers - read `path`
 * ("-" standard input) and record it whole or not at all.  Reading the same
 * file again changes nothing; sales that differ from what was recorded are a
 * correction. RC_OK; RC_NOTFOUND no such file; RC_INVALID with file, line and
 * column; RC_REFUSED a rule forbids it; RC_FAILED.
 */
enum rc import_bookings(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err) MUST_CHECK;
enum rc import_menu(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err) MUST_CHECK;
enum rc import_sales(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err) MUST_CHECK;
enum rc import_suppliers(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err) MUST_CHECK;
enum rc import_offers(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err) MUST_CHECK;

#endif /* OPS_BRING_IN_H */
