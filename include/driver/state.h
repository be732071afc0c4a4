/*
 * driver/state.h - what may keep a printer from printing, whoever says so: the
 * USB port, the printer's own language, or the system.
 */
#ifndef DRIVER_STATE_H
#define DRIVER_STATE_H

#include <stddef.h>

/* X(name, bit, words for people).  No bit: ready. */
#define PRINTER_STATE_LIST(X)                                                  \
	X(PAPER_OUT, 0, "out of labels")                                       \
	X(COVER_OPEN, 1, "head or cover open")                                 \
	X(RIBBON_OUT, 2, "out of ribbon")                                      \
	X(JAM, 3, "jammed")                                                    \
	X(PAUSED, 4, "paused")                                                 \
	X(TOO_HOT, 5, "head too hot")                                          \
	X(OFFLINE, 6, "off line")                                              \
	X(FAULT, 7, "reports a fault")                                         \
	X(BUSY, 8, "still printing")                                           \
	X(SILENT, 9, "does not answer")                                        \
	X(ABSENT, 10, "not plugged in")                                        \
	X(DENIED, 11, "not permitted to this user")                            \
	X(TAKEN, 12, "held by another program")                                \
	X(LOW, 13, "labels nearly out")

enum printer_state {
#define STATE_ENUM(name, bit, words) PRINTER_##name = 1 << (bit),
	PRINTER_STATE_LIST(STATE_ENUM)
#undef STATE_ENUM
};

/* Bits that do not keep a label from coming out. */
#define PRINTER_HARMLESS (PRINTER_BUSY | PRINTER_LOW)

/*
 * printer_state_words - "out of labels, paused", or "ready" for 0.
 * Returns `dst`; 200 bytes hold any state.
 */
const char *printer_state_words(char *dst, size_t size, unsigned state);

#endif /* DRIVER_STATE_H */
