/*
 * hid_report.h - what a HID report descriptor says about the reports of a
 * device: which field is where.  Pure; private to drivers/.
 *
 * Source: USB Device Class Definition for HID 1.11, sections 6.2.2 (items),
 * 5.6 to 5.10 (reports), 8 (array and variable fields); sections from memory.
 *
 * A descriptor that is cut short, unbalanced, contradicts itself or is larger
 * than the limits below is refused whole: the bytes come from outside.
 */
#ifndef HID_REPORT_H
#define HID_REPORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

#define HID_DESCRIPTOR_MAX 4096 /* bytes */
#define HID_REPORT_MAX 4096     /* bytes of one report */
#define HID_FIELDS_MAX 128
#define HID_USAGES_MAX 512 /* usage ranges of all fields */
#define HID_COLLECTIONS_MAX 64

/* A usage page and the usage in it, as an extended usage (6.2.2.8). */
#define HID_USAGE(page, id) ((uint32_t)(page) << 16 | (uint32_t)(id))

/* Bits of a field's flags (6.2.2.5). */
#define HID_CONSTANT 0x01
#define HID_VARIABLE 0x02 /* one usage an element; else an array */

enum hid_kind { HID_INPUT, HID_OUTPUT, HID_FEATURE, HID_KINDS };

struct hid_usages {
	uint32_t first, last; /* extended usages, both included */
};

/* One Main item: `count` elements of `bits` bits, one behind the other. */
struct hid_field {
	enum hid_kind kind;
	unsigned flags;
	uint8_t report; /* its report ID; 0: the device uses none */
	uint32_t at;    /* bits from the start of the data, behind the ID */
	uint32_t bits, count;
	int64_t min, max;     /* logical; min < 0 makes elements signed */
	uint32_t unit;        /* HID unit code, 0: none */
	int unit_exponent;    /* power of ten of that unit */
	int collection;       /* innermost, -1: in none */
	size_t usage, usages; /* of hid_layout.usages */
};

struct hid_collection {
	uint32_t usage;
	int parent; /* -1: outermost */
};

struct hid_layout {
	struct hid_field fields[HID_FIELDS_MAX];
	size_t field_count;
	struct hid_usages usages[HID_USAGES_MAX];
	size_t usage_count;
	struct hid_collection collections[HID_COLLECTIONS_MAX];
	size_t collection_count;
	bool ids; /* every report begins with a byte that is its ID */
};

/*
 * hid_report_parse - RC_OK, or RC_INVALID: one line with the byte at which the
 * descriptor stops making sense; *out is then empty.
 */
enum rc hid_report_parse(struct hid_layout *out, const uint8_t *bytes,
    size_t len, struct err *err) MUST_CHECK;

/* hid_report_length - bytes of a report, its ID included; 0: there is none. */
size_t hid_report_length(
    const struct hid_layout *l, enum hid_kind kind, uint8_t report);

/* hid_report_usage - n-th usage of a field, or 0.  Of a variable field the
 * last one stands for all elements that have none of their own (6.2.2.8). */
uint32_t hid_report_usage(
    const struct hid_layout *l, const struct hid_field *f, uint32_t n);

/* hid_report_within - is the field in a collection of this usage? */
bool hid_report_within(
    const struct hid_layout *l, const struct hid_field *f, uint32_t usage);

/*
 * hid_report_value - element n of a field, from a whole report as it came.
 * False when the report is too short for it, is another report, or the element
 * is wider than 32 bits.  The value may be outside the field's min and max,
 * which means "no value" (5.10).
 */
bool hid_report_value(int64_t *out, const struct hid_layout *l,
    const struct hid_field *f, uint32_t n, const uint8_t *report, size_t len);

#endif /* HID_REPORT_H */
