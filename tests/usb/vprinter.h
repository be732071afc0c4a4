/*
 * vprinter.h - a label printer of USB class 7 that exists only in a test: what
 * it is, what it does wrong, and the bytes it took.
 *
 * It keeps every byte of its bulk OUT endpoint, so that a test can work out
 * what would have been printed.  Back ends: see vusb.h.
 */
#ifndef VPRINTER_H
#define VPRINTER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tests/usb/vusb.h"

#define VPRINTER_SETTINGS 4

struct vprinter;

/* What it is.  Zero or NULL: an ordinary two-way printer. */
struct vprinter_as {
	uint16_t vendor, product;          /* 0: 0x0525, 0xA4A8 */
	const char *make, *model, *serial; /* string descriptors */
	const char *commands; /* for the ID made here: "TSPL,EPL" */
	const uint8_t *id;    /* the ID as sent, length bytes and all */
	size_t id_len;
	uint8_t interface;                    /* its number */
	uint8_t class, subclass;              /* 0: 7, 1 */
	uint8_t protocols[VPRINTER_SETTINGS]; /* of the settings; {0}: {2} */
	uint8_t id_setting; /* gives its ID for this setting only; 0: for any */
	bool id_index_plain; /* wants the ID's wIndex as a plain number */
	bool old_reset;      /* knows SOFT_RESET as of version 1.0 only */
	bool no_status;      /* stalls GET_PORT_STATUS */
	bool no_reset;
	bool no_id; /* stalls GET_DEVICE_ID */
};

enum vprinter_fault {
	VPRINTER_WELL,
	VPRINTER_HANG,        /* takes no more, until it is well */
	VPRINTER_STALL,       /* halts the endpoint; goes on when cleared */
	VPRINTER_STALL_AGAIN, /* and halts again at once, for ever */
	VPRINTER_GARBLE,      /* protocol error; the cable holds */
	VPRINTER_UNPLUG,      /* gone */
	VPRINTER_YANK,        /* protocol error first, gone 20 ms later */
};

/* vprinter_new - plugged in.  vprinter_free after vusb_free(). */
struct vprinter *vprinter_new(struct vusb *bus, const struct vprinter_as *as);
void vprinter_free(struct vprinter *p);

/* vprinter_device - for vusb_ calls. */
struct vusb_device *vprinter_device(struct vprinter *p);

/* vprinter_fault - `after` more bytes the fault happens and the port status
 * becomes `port` (0: stays).  vprinter_mend() undoes it: well, 0x18. */
void vprinter_fault(
    struct vprinter *p, size_t after, enum vprinter_fault fault, uint8_t port);
void vprinter_mend(struct vprinter *p);

/* vprinter_port - the byte of GET_PORT_STATUS; 0x18 at first. */
void vprinter_port(struct vprinter *p, uint8_t port);

/* vprinter_quiet - it does not answer control requests of its class. */
void vprinter_quiet(struct vprinter *p, bool quiet);

/* vprinter_pace - takes `bytes` every `ms`.  0, 0: all at once. */
void vprinter_pace(struct vprinter *p, size_t bytes, int ms);

/* vprinter_ragged - takes pieces of 1..`most` bytes, by chance from `seed`,
 * sometimes waiting some milliseconds. */
void vprinter_ragged(struct vprinter *p, size_t most, uint32_t seed);

/* vprinter_say - these bytes are ready for the host in `ms` from now. */
void vprinter_say(struct vprinter *p, const void *bytes, size_t len, int ms);

/* vprinter_empty_answers - with nothing to say it sends empty packets instead
 * of waiting. */
void vprinter_empty_answers(struct vprinter *p);

/* vprinter_stall_in - the way back is halted once. */
void vprinter_stall_in(struct vprinter *p);

/*
 * vprinter_listen - a language's answers: called with all bytes taken since
 * the last answer whenever some came, device locked; it may call
 * vprinter_answer() and returns how many of them it has dealt with.
 */
typedef size_t vprinter_ear(
    struct vprinter *p, const uint8_t *bytes, size_t len);
void vprinter_listen(struct vprinter *p, vprinter_ear *ear);
/* vprinter_answer - as vprinter_say(), from inside an ear. */
void vprinter_answer(struct vprinter *p, const void *bytes, size_t len, int ms);

/* vprinter_took - the bytes so far.  They stay where they are until more
 * arrive. */
const uint8_t *vprinter_took(struct vprinter *p, size_t *len);

/* vprinter_resets - SOFT_RESET requests it took. */
int vprinter_resets(struct vprinter *p);

#endif /* VPRINTER_H */
