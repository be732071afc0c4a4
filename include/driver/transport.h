/*
 * driver/transport.h - how bytes reach a label printer, and come back.
 *
 * One `const struct transport` per way in, all listed in drivers/registry.c.
 * The printer language never knows which one is in use.
 *
 * Ownership: open() hands the caller a port; the caller must close() it once,
 * also after an error.  Buffers stay the caller's and are not kept.
 * Blocking: every call returns within deadline_ms.  There is no "forever".
 * Threads: one port, one thread.
 */
#ifndef DRIVER_TRANSPORT_H
#define DRIVER_TRANSPORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "driver/state.h"

struct transport;

/* First member of every transport's own port struct, which stays private. */
struct port {
	const struct transport *via;
	bool answers; /* read() may bring something: there is a way back */
};

#define PORT_FOUND_MAX 16

/* A device seen by list(), whether or not it can be opened. */
struct port_found {
	char address[128]; /* as settings write it: "usb:0525:A4A8/12" */
	char make[64];     /* UTF-8; empty when the device does not say */
	char model[64];
	char serial[64];
	char commands[128]; /* command sets, separated by commas */
	unsigned state;     /* PRINTER_DENIED, PRINTER_TAKEN or 0 */
};

struct transport {
	/* Scheme before the colon in the configured address: "file". */
	const char *scheme;
	/* One line for people: what the part after the colon is. */
	const char *address_help;

	/*
	 * Optional.  Devices this way in can see now, at most PORT_FOUND_MAX.
	 * RC_OK also with none; RC_FAILED when it cannot look at all.
	 */
	enum rc (*list)(struct port_found out[PORT_FOUND_MAX], size_t *count,
	    struct err *err);

	/*
	 * Optional: may a printer be configured like this?  Opens nothing.
	 * RC_OK, RC_INVALID.
	 */
	enum rc (*check)(const char *address, struct err *err);

	/*
	 * Open the printer at `address` (the part after the colon).
	 * RC_OK       *out is a port owned by the caller
	 * RC_INVALID  the address does not parse, or means more than one device
	 * RC_RETRY    not there, not permitted, or held by another program; the
	 *             text says which and what to do; *state has
	 *             PRINTER_ABSENT, PRINTER_DENIED or PRINTER_TAKEN
	 * RC_FAILED   anything else; err->lib holds the library's code
	 */
	enum rc (*open)(struct port **out, unsigned *state, const char *address,
	    int deadline_ms, struct err *err);

	/*
	 * Optional.  Command sets of the printer behind the port, separated by
	 * commas; empty when it does not say.  Never fails.
	 */
	void (*commands)(char *dst, size_t size, struct port *port);

	/*
	 * Optional.  The next write() begins the label called `name`
	 * (a code and a print number, characters fit for a file name), written
	 * in the language whose usual file ending is `ending`.
	 */
	enum rc (*begin)(struct port *port, const char *name,
	    const char *ending, struct err *err);

	/*
	 * Send `len` bytes.  *sent is always set, also on failure.
	 * RC_OK       all of it was taken
	 * RC_RETRY    the printer took exactly *sent bytes and no more until
	 *             the deadline: the rest, from buf + *sent, may be sent on
	 *             this port later.  *sent 0: nothing was printed.
	 * RC_FAILED   the port broke (cable, device, pipe): *sent is no more
	 *             than a guess, a part may be out.  Close it.
	 */
	enum rc (*write)(size_t *sent, struct port *port, const uint8_t *buf,
	    size_t len, int deadline_ms, struct err *err);

	/*
	 * Optional.  The label is whole: hand over what was held back and make
	 * it durable, so that "sent" is never said too early.
	 * RC_OK, or RC_FAILED: the label may not have come out.
	 */
	enum rc (*finish)(struct port *port, struct err *err);

	/*
	 * Optional; only when port->answers.  Up to `size` bytes of what the
	 * printer says.
	 * RC_OK       *got bytes, at least 1
	 * RC_RETRY    it said nothing until the deadline
	 * RC_FAILED   the port broke
	 */
	enum rc (*read)(size_t *got, struct port *port, uint8_t *buf,
	    size_t size, int deadline_ms, struct err *err);

	/*
	 * Optional (NULL: the way in cannot tell).  *state gets PRINTER_ bits.
	 * RC_OK, RC_RETRY (no answer), RC_NOTFOUND (it refuses the question:
	 * it cannot be asked this way) or RC_FAILED (the port broke).
	 */
	enum rc (*status)(unsigned *state, struct port *port, int deadline_ms,
	    struct err *err);

	/*
	 * Optional.  Make the printer forget what it was sent and has not
	 * printed: half a label must not swallow the next one.
	 * RC_OK, RC_RETRY (it does not take the request) or RC_FAILED.
	 */
	enum rc (*reset)(struct port *port, int deadline_ms, struct err *err);

	/* Give everything back.  Accepts NULL.  Cannot fail. */
	void (*close)(struct port *port);
};

/* All transports, NULL-terminated; defined in drivers/registry.c. */
extern const struct transport *const transports[];

/*
 * transport_find - the transport of a configured printer address such as
 * "file:/tmp/labels.zpl", or NULL.  *address points behind the colon.
 */
const struct transport *transport_find(
    const char **address, const char *configured);

#endif /* DRIVER_TRANSPORT_H */
