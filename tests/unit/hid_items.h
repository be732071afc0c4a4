/*
 * hid_items.h - items of a HID report descriptor as bytes, for tests that
 * write descriptors out.  Prefix bytes: HID 1.11, 6.2.2.2 to 6.2.2.8.
 */
#ifndef HID_ITEMS_H
#define HID_ITEMS_H

#define I_INPUT(flags) 0x81, (flags)
#define I_OUTPUT(flags) 0x91, (flags)
#define I_FEATURE(flags) 0xB1, (flags)
#define I_COLLECTION(type) 0xA1, (type)
#define I_END 0xC0

#define I_PAGE(page) 0x05, (page)
#define I_MIN(v) 0x15, (v)
#define I_MAX(v) 0x25, (v)
#define I_MAX2(low, high) 0x26, (low), (high)
#define I_MAX4(a, b, c, d) 0x27, (a), (b), (c), (d)
#define I_EXPONENT(v) 0x55, (v)
#define I_UNIT(v) 0x65, (v)
#define I_SIZE(bits) 0x75, (bits)
#define I_ID(id) 0x85, (id)
#define I_COUNT(n) 0x95, (n)
#define I_PUSH 0xA4
#define I_POP 0xB4

#define I_USAGE(id) 0x09, (id)
#define I_USAGE4(id, page) 0x0B, (id), 0x00, (page), 0x00
#define I_USAGES(first, last) 0x19, (first), 0x29, (last)

/* Flags of 6.2.2.5. */
#define ARRAY 0x00
#define CONST 0x01
#define VAR 0x02

#endif /* HID_ITEMS_H */
