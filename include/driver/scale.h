/*
 * driver/scale.h - a weighing device.
 *
 * Source: USB Device Class Definition for HID 1.11; HID Usage Tables 1.12,
 * page 0x8D (Weighing Devices).
 *
 * Ownership, blocking and threads as driver/transport.h.
 */
#ifndef DRIVER_SCALE_H
#define DRIVER_SCALE_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

/*
 * X(name, usage of the Scale Status, words).  NONE is ours: no report yet.
 * Only STABLE carries a weight that may be recorded.
 */
#define SCALE_STATE_LIST(X)                                                    \
	X(NONE, 0x00, "says nothing")                                          \
	X(FAULT, 0x71, "reports a fault")                                      \
	X(ZERO, 0x72, "empty, at zero")                                        \
	X(IN_MOTION, 0x73, "still moving")                                     \
	X(STABLE, 0x74, "stable")                                              \
	X(UNDER_ZERO, 0x75, "below zero: empty it and set it to zero")         \
	X(OVER_LIMIT, 0x76, "overloaded: take something off")                  \
	X(CALIBRATE, 0x77, "asks to be calibrated")                            \
	X(REZERO, 0x78, "asks to be set to zero")

enum scale_state {
#define SCALE_ENUM(name, usage, words) SCALE_##name,
	SCALE_STATE_LIST(SCALE_ENUM)
#undef SCALE_ENUM
	    SCALE_STATE_COUNT
};

const char *scale_state_words(enum scale_state s);

struct scale_reading {
	enum scale_state state;
	int64_t weight_mg; /* of STABLE, IN_MOTION, UNDER_ZERO; may be < 0 */
};

/* First member of every driver's own struct, which stays private. */
struct scale_driver;
struct scale {
	const struct scale_driver *via;
};

struct scale_driver {
	const char *scheme;       /* before the colon: "usb" */
	const char *address_help; /* one line: what is behind it */

	/* Optional: may a scale be configured like this?  RC_OK, RC_INVALID. */
	enum rc (*check)(const char *address, struct err *err);

	/*
	 * RC_OK       *out is owned by the caller
	 * RC_INVALID  the address does not parse or means more than one scale
	 * RC_RETRY    not there, not permitted or held by another program
	 * RC_FAILED   it is no scale this driver understands, or an I/O error
	 */
	enum rc (*open)(struct scale **out, const char *address,
	    int deadline_ms, struct err *err);

	/*
	 * The next report.
	 * RC_OK
	 * RC_RETRY    none until the deadline
	 * RC_INVALID  one that does not make sense, or a stable weight in a
	 *             unit that is not converted; the text says which
	 * RC_FAILED   it went away, close it
	 */
	enum rc (*read)(struct scale_reading *out, struct scale *scale,
	    int deadline_ms, struct err *err);

	/* Give everything back.  Accepts NULL.  Cannot fail. */
	void (*close)(struct scale *scale);
};

/* All scale drivers, NULL-terminated; defined in drivers/registry.c. */
extern const struct scale_driver *const scale_drivers[];

/* scale_find - the driver of a configured address, or NULL; *address points
 * behind the colon. */
const struct scale_driver *scale_find(
    const char **address, const char *configured);

#endif /* DRIVER_SCALE_H */
