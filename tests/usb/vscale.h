/*
 * vscale.h - a HID weighing device that exists only in a test: what it is, and
 * what it says when.  Back ends: see vusb.h.
 */
#ifndef VSCALE_H
#define VSCALE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tests/usb/vusb.h"

struct vscale;

/* What it is.  Zero or NULL: an ordinary scale, report ID 3 with status, unit,
 * power of ten and 16 bits of weight. */
struct vscale_as {
	uint16_t vendor, product; /* 0: 0x0525, 0xA5CA */
	const char *serial;
	const uint8_t *descriptor; /* its report descriptor */
	size_t descriptor_len;
	size_t claims_len; /* what the HID descriptor says instead */
	uint8_t packet;    /* 0: 8 bytes */
	bool boot;         /* subclass 1, as keyboards have */
	bool no_hid;       /* no HID descriptor */
	bool physical;     /* it names a physical descriptor first */
	bool no_report;    /* stalls the request for its report descriptor */
	bool silent;       /* never answers it */
	bool repeats;      /* knows SET_IDLE: repeats as often as asked */
};

enum vscale_fault {
	VSCALE_WELL,
	VSCALE_UNPLUG,      /* gone */
	VSCALE_YANK,        /* protocol error first, gone 20 ms later */
	VSCALE_STALL,       /* halts once */
	VSCALE_STALL_AGAIN, /* halts whenever it is cleared */
	VSCALE_GARBLE,      /* protocol error; the cable holds */
	VSCALE_HUSH,        /* says nothing until the next step */
};

/* States as HID Usage Tables number them: 0x74 is 4. */
enum { FAULT = 1, ZERO, MOVING, STABLE, UNDER, OVER, CALIBRATE, REZERO };
/* Units likewise. */
enum { MG = 1, G, KG, TAEL = 5, OZ = 11, LB };

/* From at_ms after it was first asked it says this. */
struct vscale_step {
	int at_ms;
	uint8_t status, unit;
	int8_t exponent;
	uint16_t weight;
	enum vscale_fault fault;
	size_t len; /* bytes sent, 0: all six */
};

/* vscale_new - plugged in.  vscale_free after vusb_free(). */
struct vscale *vscale_new(struct vusb *bus, const struct vscale_as *as);
void vscale_free(struct vscale *s);

/* vscale_device - for vusb_ calls. */
struct vusb_device *vscale_device(struct vscale *s);

/*
 * vscale_play - the steps, which stay the caller's.  every_ms: it repeats what
 * it says as often; 0: only when a step begins, unless SET_IDLE told it.
 */
void vscale_play(struct vscale *s, const struct vscale_step *steps,
    size_t count, int every_ms);

/* vscale_asked - requests for its report descriptor; vscale_idle - the
 * milliseconds of the last SET_IDLE, -1: none. */
int vscale_asked(struct vscale *s);
int vscale_idle(struct vscale *s);

#endif /* VSCALE_H */
