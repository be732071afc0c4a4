/*
 * ops/scan.h - say what a scan is.  Nothing here records anything.
 */
#ifndef OPS_SCAN_H
#define OPS_SCAN_H

#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "core/code.h"
#include "core/gs1.h"
#include "ops/station.h"

/*
 * scan_reader - how this station reads scans: its date, its tables, and the
 * setting [scanner] separator.  Borrows from the station.
 * RC_OK, or RC_INVALID when the setting is no character that can stand in.
 */
enum rc scan_reader(struct gs1_reader *out, const struct station *sn,
    struct err *err) MUST_CHECK;

/*
 * scan_code - which batch or portion someone keyed or scanned: code_parse(),
 * and besides the labels of a kitchen with its own GS1 prefix, whose trade item
 * and batch must be those of the portion's record.
 * RC_OK, RC_INVALID, RC_NOTFOUND.  The station file is open.
 */
enum rc scan_code(enum code_kind *kind, char code[CODE_SIZE],
    struct station *sn, const char *text, struct err *err) MUST_CHECK;

/*
 * scan_write - append the result as text, JSON or CSV.
 * The JSON has exactly the members kind, valid, elements (ai, title, value,
 * meaning) and problems.
 */
void scan_write(struct buf *out, const struct gs1_scan *s, enum format format);

/*
 * scan_say - read `len` bytes and append what they are.
 * RC_OK, or RC_INVALID with the first problem; the result is appended then
 * too, except when a setting is wrong.
 */
enum rc scan_say(struct buf *out, const struct station *sn, const char *bytes,
    size_t len, enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_SCAN_H */
