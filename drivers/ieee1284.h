/*
 * ieee1284.h - what a printer says of itself: the device ID of IEEE 1284.
 * Pure; reads nothing.
 *
 * Two length bytes, then KEY:value{,value}; pairs.  Source: IEEE 1284-1994
 * 7.6 as restated in public descriptions, and the USB printer class 1.1.
 */
#ifndef IEEE1284_H
#define IEEE1284_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define IEEE1284_MAX 1024 /* what is asked for */

struct ieee1284 {
	char make[64];      /* MFG, MANUFACTURER */
	char model[64];     /* MDL, MODEL */
	char serial[64];    /* SN, SERN, SERIALNUMBER */
	char commands[128]; /* CMD, COMMAND SET: separated by commas */
};

/*
 * ieee1284_parse - from the `len` bytes that arrived, length bytes and all.
 *
 * The length is a hint: in either byte order, its own two bytes counted or
 * not, and never beyond what arrived.  The last semicolon may be missing.
 * Keys in any case; unknown ones are skipped; of a key said twice the first
 * counts.  Values are trimmed, bytes that are no UTF-8 become '?'.  What is
 * too long: words are cut, command sets left out whole.
 * False when no key is found; *out is then empty.
 */
bool ieee1284_parse(struct ieee1284 *out, const uint8_t *id, size_t len);

#endif /* IEEE1284_H */
