/*
 * scale_hid.h - reports of a HID weighing device as readings.  Pure; private
 * to drivers/.
 *
 * Source: HID Usage Tables 1.12, page 0x8D (Weighing Devices; first published
 * as HID Point of Sale Usage Tables 1.02).  Where a value stands is taken from
 * the device's own report descriptor, never assumed.
 */
#ifndef SCALE_HID_H
#define SCALE_HID_H

#include "driver/scale.h"
#include "hid_report.h"

/* The scale's one report that carries a weight. */
struct scale_hid {
	struct hid_layout layout;
	const struct hid_field *weight;  /* of layout, as all below */
	const struct hid_field *scaling; /* NULL: a power of ten of 0 */
	size_t length;                   /* bytes, its ID included */
};

/* scale_hid_is_scale - does anything in it belong to weighing? */
bool scale_hid_is_scale(const struct hid_layout *layout);

/*
 * scale_hid_init - from the report descriptor.  The struct must stay where it
 * is.
 * RC_OK, RC_INVALID: malformed, no weighing device, or one whose reports do
 * not say all of weight, unit and whether it is stable.
 */
enum rc scale_hid_init(struct scale_hid *out, const uint8_t *descriptor,
    size_t len, struct err *err) MUST_CHECK;

/*
 * scale_hid_read - one report as it came from the device.
 * RC_OK
 * RC_END      another report of the device: nothing about a weight
 * RC_INVALID  it does not fit the descriptor, or it is a stable weight in a
 *             unit that is not converted, or more than can be written down
 * Only a stable weight must make sense; in any other state weight_mg is 0
 * where it does not.
 */
enum rc scale_hid_read(struct scale_reading *out, const struct scale_hid *s,
    const uint8_t *report, size_t len, struct err *err) MUST_CHECK;

/*
 * scale_hid_mg - `count` times ten to the power of `exponent` of a weight unit
 * (its usage on page 0x8D), in whole milligrams, rounded half away from zero.
 * RC_OK, RC_INVALID: not converted, or it does not fit.
 */
enum rc scale_hid_mg(int64_t *out, uint32_t unit, int64_t count, int exponent,
    struct err *err) MUST_CHECK;

#endif /* SCALE_HID_H */
