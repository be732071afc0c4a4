/*
 * driver/transport.h - how bytes reach a label printer.
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

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

struct transport;

/* First member of every transport's own port struct, which stays private. */
struct port {
	const struct transport *via;
};

/* Bits reported by status(); 0 means ready. */
enum port_state {
	PORT_PAPER_OUT = 1 << 0,
	PORT_COVER_OPEN = 1 << 1,
	PORT_OFFLINE = 1 << 2,
	PORT_FAULT = 1 << 3,
};

struct transport {
	/* Scheme before the colon in the configured address: "file". */
	const char *scheme;
	/* One line for people: what the part after the colon is. */
	const char *address_help;

	/*
	 * Open the printer at `address` (the part after the colon).
	 * RC_OK       *out is a port owned by the caller
	 * RC_INVALID  the address does not parse
	 * RC_RETRY    not plugged in, or held by another program
	 * RC_FAILED   anything else; err->lib holds the library's code
	 */
	enum rc (*open)(struct port **out, const char *address, int deadline_ms,
	    struct err *err);

	/*
	 * Optional.  The next write() begins the label called `name`
	 * (a code and a print number, characters fit for a file name), written
	 * in the language whose usual file ending is `ending`.
	 */
	enum rc (*begin)(struct port *port, const char *name,
	    const char *ending, struct err *err);

	/*
	 * Send `len` bytes.  *sent is always set, also on failure, so that the
	 * spool knows whether a label may already be half printed.
	 * RC_OK       all of it was taken
	 * RC_RETRY    deadline reached and *sent is 0: nothing was printed
	 * RC_FAILED   part was sent, or the port broke: close it
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
	 * Optional (NULL: the way in cannot tell).  *out gets PORT_ bits.
	 * RC_OK, RC_RETRY or RC_FAILED as above.
	 */
	enum rc (*status)(
	    unsigned *out, struct port *port, int deadline_ms, struct err *err);

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
