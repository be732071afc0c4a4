/*
 * transport_usb.c - label printers of USB class 7, over libusb.
 *
 * Source: USB Device Class Definition for Printing Devices 1.1.
 *
 * Bytes go out in pieces of one kernel transfer each, copied first, because
 * libusb may move bytes about in what it was given.  So the count of a piece
 * that timed out is the device's own, and sending goes on behind it: a printer
 * keeps what it took, and a byte sent twice would spoil the label.
 *
 * Only two things may outlast a deadline: the kernel's own requests (choosing
 * a setting, clearing a halt), and after an I/O error the question whether the
 * device is still there.
 */
#include "drivers.h"

#include <poll.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "ieee1284.h"
#include "usb.h"

/* Requests of the class. */
#define GET_DEVICE_ID 0
#define GET_PORT_STATUS 1
#define SOFT_RESET 2
#define CLASS_IN 0xA1
#define CLASS_OUT 0x21
#define CLASS_OUT_1_0 0x23 /* as version 1.0 of the class had it */

/* Bits of GET_PORT_STATUS; 6 and 7 are no standard's, but some makers'. */
#define PORT_NO_ERROR 0x08
#define PORT_SELECTED 0x10
#define PORT_PAPER_OUT 0x20
#define PORT_JAM 0x40
#define PORT_COVER 0x80

#define PROTOCOL_ONE_WAY 1
#define PROTOCOL_TWO_WAY 2
#define CLASS_VENDOR 0xFF

/* The largest transfer a kernel without scatter-gather takes in one piece,
 * and a whole number of packets at any speed. */
#define PIECE 16384
/* Room for whole packets at any speed, else a long one is an error. */
#define IN_ROOM 1024
/* Between two questions to a printer that answers with nothing. */
#define IN_PAUSE_MS 10
/* Before a piece the system had no memory for is tried again. */
#define MEMORY_PAUSE_MS 20

struct usb_port {
	struct port base; /* must be first */
	struct usb_link link;
	bool stalled; /* once in this label already */
	uint8_t piece[PIECE];
	uint8_t in[IN_ROOM]; /* read, not yet handed on: [in_at, in_len) */
	size_t in_at, in_len;
};

/* --- finding ------------------------------------------------------------- */

static bool
has_bulk_out(const struct libusb_interface_descriptor *alt)
{
	int i;

	for (i = 0; i < alt->bNumEndpoints; i++) {
		const struct libusb_endpoint_descriptor *ep = &alt->endpoint[i];

		if ((ep->bmAttributes & LIBUSB_TRANSFER_TYPE_MASK) ==
			LIBUSB_TRANSFER_TYPE_BULK &&
		    (ep->bEndpointAddress & LIBUSB_ENDPOINT_IN) == 0)
			return true;
	}
	return false;
}

/*
 * Two-way before one-way; 1284.4 packets and IPP are other protocols.  A
 * printer that hides behind a class of its maker is taken only when named.
 */
static int
suits(const struct libusb_interface_descriptor *alt, bool named)
{
	if (!has_bulk_out(alt))
		return 0;
	if (alt->bInterfaceClass == LIBUSB_CLASS_PRINTER &&
	    alt->bInterfaceSubClass == 1) {
		if (alt->bInterfaceProtocol == PROTOCOL_TWO_WAY)
			return 3;
		return alt->bInterfaceProtocol == PROTOCOL_ONE_WAY ? 2 : 0;
	}
	return named && alt->bInterfaceClass == CLASS_VENDOR ? 1 : 0;
}

/* The standard's index first, then as some printers want it. */
static bool
get_id(struct ieee1284 *id, const struct usb_seen *seen,
    libusb_device_handle *handle, int64_t until)
{
	const uint16_t forms[] = {
		(uint16_t)(seen->interface << 8 | seen->alternate),
		(uint16_t)(seen->interface << 8),
		seen->interface,
	};
	uint8_t bytes[IEEE1284_MAX];
	size_t i;
	int n;

	for (i = 0; i < sizeof(forms) / sizeof(forms[0]); i++) {
		if (i > 0 && forms[i] == forms[i - 1])
			continue;
		n = usb_control(handle, CLASS_IN, GET_DEVICE_ID, 0, forms[i],
		    bytes, sizeof(bytes), until);
		if (n > 0 && ieee1284_parse(id, bytes, (size_t)n))
			return true;
	}
	return false;
}

/* What the ID says of make and model is nearer the truth than the strings,
 * which are often those of a chip inside. */
static bool
ask(struct usb_seen *seen, libusb_device_handle *handle, int64_t until)
{
	struct ieee1284 id;

	if (!get_id(&id, seen, handle, until))
		return true;
	if (id.make[0] != '\0')
		str_copy(seen->make, sizeof(seen->make), id.make);
	if (id.model[0] != '\0')
		str_copy(seen->model, sizeof(seen->model), id.model);
	if (seen->serial[0] == '\0')
		str_copy(seen->serial, sizeof(seen->serial), id.serial);
	str_copy(seen->commands, sizeof(seen->commands), id.commands);
	return true;
}

static const struct usb_kind printers = {
	.word = "printer",
	.by_commands = true,
	.suits = suits,
	.ask = ask,
};

static enum rc
transport_usb_list(
    struct port_found out[PORT_FOUND_MAX], size_t *count, struct err *err)
{
	struct usb_seen seen[USB_SEEN_MAX];
	char address[80];
	enum rc rc;
	size_t i, n;

	*count = 0;
	if ((rc = usb_list(seen, &n, &printers, err)) != RC_OK)
		return rc;
	for (i = 0; i < n && i < PORT_FOUND_MAX; i++) {
		struct port_found *f = &out[i];

		memset(f, 0, sizeof(*f));
		str_fmt(f->address, sizeof(f->address), "usb:%s",
		    usb_address(address, sizeof(address), &seen[i]));
		str_copy(f->make, sizeof(f->make), seen[i].make);
		str_copy(f->model, sizeof(f->model), seen[i].model);
		str_copy(f->serial, sizeof(f->serial), seen[i].serial);
		str_copy(f->commands, sizeof(f->commands), seen[i].commands);
		f->state = seen[i].state;
	}
	*count = i;
	return RC_OK;
}

static enum rc
transport_usb_check(const char *address, struct err *err)
{
	return usb_check(&printers, address, err);
}

static enum rc
transport_usb_open(struct port **out, unsigned *state, const char *address,
    int deadline_ms, struct err *err)
{
	struct usb_port *port;
	struct usb_link link;
	enum rc rc;

	*out = NULL;
	if ((rc = usb_open(
		 &link, state, &printers, address, deadline_ms, err)) != RC_OK)
		return rc;
	port = xcalloc(1, sizeof(*port));
	port->base.via = &transport_usb;
	port->base.answers =
	    link.what.in != 0 && link.what.protocol == PROTOCOL_TWO_WAY;
	port->link = link;
	*out = &port->base;
	return RC_OK;
}

static void
transport_usb_close(struct port *port)
{
	struct usb_port *up = (struct usb_port *)port;

	if (up == NULL)
		return;
	usb_close(&up->link);
	free(up);
}

static void
transport_usb_commands(char *dst, size_t size, struct port *port)
{
	str_copy(dst, size, ((struct usb_port *)port)->link.what.commands);
}

/* --- labels out ---------------------------------------------------------- */

static enum rc
transport_usb_begin(
    struct port *port, const char *name, const char *ending, struct err *err)
{
	(void)name;
	(void)ending;
	(void)err;
	((struct usb_port *)port)->stalled = false;
	return RC_OK;
}

/* The halted endpoint is cleared once a label; a printer that halts again is
 * not going to take it. */
static enum rc
clear_stall(
    struct usb_port *up, uint8_t endpoint, const char *doing, struct err *err)
{
	int n;

	if (up->stalled) {
		usb_fault(&up->link, &printers, LIBUSB_ERROR_PIPE, doing, err);
		return RC_FAILED;
	}
	up->stalled = true;
	n = libusb_clear_halt(up->link.handle, endpoint);
	return n == 0 ? RC_OK : usb_fault(&up->link, &printers, n, doing, err);
}

/* One piece out, or as much of it as is taken. */
static int
send_piece(size_t *sent, struct usb_port *up, const uint8_t *buf, size_t len,
    unsigned left)
{
	int n, got = 0;

	if (len > PIECE)
		len = PIECE;
	memcpy(up->piece, buf, len);
	n = libusb_bulk_transfer(up->link.handle, up->link.what.out, up->piece,
	    (int)len, &got, left);
	*sent += (size_t)got;
	return n;
}

static enum rc
transport_usb_write(size_t *sent, struct port *port, const uint8_t *buf,
    size_t len, int deadline_ms, struct err *err)
{
	struct usb_port *up = (struct usb_port *)port;
	int64_t until = clock_ticks_ms() + deadline_ms;
	unsigned left;
	enum rc rc;
	int n;

	*sent = 0;
	while (*sent < len) {
		if ((left = usb_left(until)) == 0)
			return err_set(err, RC_RETRY, LIBUSB_ERROR_TIMEOUT,
			    "printer took %zu of %zu bytes in %d ms", *sent,
			    len, deadline_ms);
		n = send_piece(sent, up, buf + *sent, len - *sent, left);
		if (n == LIBUSB_ERROR_NO_MEM)
			poll(NULL, 0, MEMORY_PAUSE_MS);
		else if (n == LIBUSB_ERROR_PIPE) {
			rc = clear_stall(
			    up, up->link.what.out, "bytes of a label", err);
			if (rc != RC_OK)
				return RC_FAILED;
		} else if (n != 0 && n != LIBUSB_ERROR_TIMEOUT) {
			usb_fault(
			    &up->link, &printers, n, "taking a label", err);
			return RC_FAILED;
		}
	}
	return RC_OK;
}

/* --- answers in ---------------------------------------------------------- */

/* One transfer in.  RC_OK may bring nothing: some say so at once. */
static enum rc
fill(struct usb_port *up, unsigned left, bool *stalled, struct err *err)
{
	int n, got = 0;

	up->in_at = up->in_len = 0;
	n = libusb_bulk_transfer(up->link.handle, up->link.what.in, up->in,
	    sizeof(up->in), &got, left);
	if (n == 0 || n == LIBUSB_ERROR_TIMEOUT) {
		up->in_len = (size_t)got;
		return RC_OK;
	}
	if (n == LIBUSB_ERROR_PIPE && !*stalled) {
		*stalled = true;
		n = libusb_clear_halt(up->link.handle, up->link.what.in);
		if (n == 0)
			return RC_OK;
	}
	usb_fault(&up->link, &printers, n, "answering", err);
	return RC_FAILED;
}

static enum rc
transport_usb_read(size_t *got, struct port *port, uint8_t *buf, size_t size,
    int deadline_ms, struct err *err)
{
	struct usb_port *up = (struct usb_port *)port;
	int64_t until = clock_ticks_ms() + deadline_ms;
	bool stalled = false;
	unsigned left;
	enum rc rc;

	*got = 0;
	while (up->in_at == up->in_len) {
		if ((left = usb_left(until)) == 0)
			return err_set(err, RC_RETRY, LIBUSB_ERROR_TIMEOUT,
			    "printer said nothing in %d ms", deadline_ms);
		if ((rc = fill(up, left, &stalled, err)) != RC_OK)
			return rc;
		if (up->in_len == 0)
			poll(NULL, 0, IN_PAUSE_MS);
	}
	*got = up->in_len - up->in_at;
	if (*got > size)
		*got = size;
	memcpy(buf, up->in + up->in_at, *got);
	up->in_at += *got;
	return RC_OK;
}

/* --- state --------------------------------------------------------------- */

static unsigned
port_state(uint8_t byte)
{
	unsigned state = 0;

	if ((byte & PORT_PAPER_OUT) != 0)
		state |= PRINTER_PAPER_OUT;
	if ((byte & PORT_JAM) != 0)
		state |= PRINTER_JAM;
	if ((byte & PORT_COVER) != 0)
		state |= PRINTER_COVER_OPEN;
	/* a fault without a reason; paper out is a reason */
	if ((byte & PORT_NO_ERROR) == 0 && state == 0)
		state |= PRINTER_FAULT;
	if ((byte & PORT_SELECTED) == 0)
		state |= PRINTER_OFFLINE;
	return state;
}

static enum rc
transport_usb_status(
    unsigned *state, struct port *port, int deadline_ms, struct err *err)
{
	struct usb_port *up = (struct usb_port *)port;
	uint8_t byte;
	enum rc rc;
	int n;

	*state = 0;
	n = usb_control(up->link.handle, CLASS_IN, GET_PORT_STATUS, 0,
	    up->link.what.interface, &byte, 1, clock_ticks_ms() + deadline_ms);
	if (n == 0)
		n = LIBUSB_ERROR_PIPE; /* an answer without its one byte */
	if (n >= 0) {
		*state = port_state(byte);
		return RC_OK;
	}
	rc = usb_fault(
	    &up->link, &printers, n, "being asked for its state", err);
	/* Refused is no silence: it does not know the question. */
	return n == LIBUSB_ERROR_PIPE && rc == RC_RETRY ? RC_NOTFOUND : rc;
}

/* The class resets both ways to their first state: so must the host. */
static enum rc
transport_usb_reset(struct port *port, int deadline_ms, struct err *err)
{
	struct usb_port *up = (struct usb_port *)port;
	int64_t until = clock_ticks_ms() + deadline_ms;
	libusb_device_handle *handle = up->link.handle;
	int n;

	n = usb_control(handle, CLASS_OUT, SOFT_RESET, 0,
	    up->link.what.interface, NULL, 0, until);
	if (n == LIBUSB_ERROR_PIPE)
		n = usb_control(handle, CLASS_OUT_1_0, SOFT_RESET, 0,
		    up->link.what.interface, NULL, 0, until);
	if (n == 0)
		n = libusb_clear_halt(handle, up->link.what.out);
	if (n == 0 && up->link.what.in != 0)
		n = libusb_clear_halt(handle, up->link.what.in);
	if (n != 0)
		return usb_fault(&up->link, &printers, n, "a reset", err);
	up->in_at = up->in_len = 0;
	up->stalled = false;
	return RC_OK;
}

const struct transport transport_usb = {
	.scheme = "usb",
	.address_help =
	    "any, VVVV:PPPP, VVVV:PPPP/SERIAL or cmd=LANGUAGE; a "
	    "printer that is no USB printer class only by VVVV:PPPP",
	.list = transport_usb_list,
	.check = transport_usb_check,
	.open = transport_usb_open,
	.commands = transport_usb_commands,
	.begin = transport_usb_begin,
	.write = transport_usb_write,
	.read = transport_usb_read,
	.status = transport_usb_status,
	.reset = transport_usb_reset,
	.close = transport_usb_close,
};
