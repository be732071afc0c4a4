/*
 * usb.h - what printers and scale share of libusb: finding a device by its
 * address, opening it, control requests with a deadline, and plain words for
 * what went wrong.  Private to drivers/.
 *
 * Every look at the bus has a libusb context of its own and drops it again, so
 * that a device plugged in later is seen also where no udev runs, and ports in
 * different threads share nothing.  No USB at all is a bus with no device.
 *
 * Addresses, behind "usb:":
 *   any                the only one of its kind plugged in
 *   VVVV:PPPP          vendor and product in hexadecimal
 *   VVVV:PPPP/SERIAL   the serial number too, in full and as written
 *   cmd=NAME           a command set of its IEEE 1284 ID beginning with NAME,
 *                      in any case (kinds that have one)
 */
#ifndef USB_H
#define USB_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <libusb.h>

#include "base/err.h"
#include "driver/state.h"

#define USB_SEEN_MAX 16

/* A device of the kind looked for, and the alternate setting that suits. */
struct usb_seen {
	uint16_t vendor, product;
	uint8_t interface, alternate;
	uint8_t alternates; /* how many settings the interface has */
	uint8_t protocol;
	uint8_t out, in; /* bulk or interrupt endpoints; 0: none */
	uint16_t in_packet;
	char make[64]; /* UTF-8; empty when the device does not say */
	char model[64];
	char serial[64];
	char commands[128]; /* command sets, separated by commas */
	unsigned state;     /* PRINTER_DENIED, PRINTER_TAKEN or 0 */
};

/* What is looked for: one static table a driver. */
struct usb_kind {
	const char *word; /* "printer" */
	bool by_commands; /* the address may be cmd=NAME */

	/*
	 * How well an alternate setting suits: 0 not at all, more is better.
	 * `named`: the settings name the device by vendor and product.
	 */
	int (*suits)(const struct libusb_interface_descriptor *alt, bool named);

	/*
	 * Optional.  Ask the device more; its strings are filled in already.
	 * The handle is open and automatic detaching off; the interface is
	 * claimed unless a driver or another program holds it.  What ask()
	 * changes of that it puts back.  It ends by `until`.
	 * False: it is none of this kind after all.
	 */
	bool (*ask)(
	    struct usb_seen *seen, libusb_device_handle *handle, int64_t until);
};

/* An open device, its interface claimed and the alternate setting chosen. */
struct usb_link {
	libusb_context *ctx;
	libusb_device_handle *handle;
	struct usb_seen what;
};

/*
 * usb_list - all devices of a kind, named ones left out.
 * RC_OK also with none; RC_FAILED when libusb cannot look.
 */
enum rc usb_list(struct usb_seen out[USB_SEEN_MAX], size_t *count,
    const struct usb_kind *kind, struct err *err) MUST_CHECK;

/* usb_check - is it an address?  RC_OK, RC_INVALID. */
enum rc usb_check(const struct usb_kind *kind, const char *address,
    struct err *err) MUST_CHECK;

/*
 * usb_open - find, open and claim; a kernel driver is detached until
 * usb_close().  On anything but RC_OK nothing is held.
 * RC_OK       *out is for usb_close()
 * RC_INVALID  no address, or it fits more than one device (the text names
 *             them)
 * RC_RETRY    *state says PRINTER_ABSENT, PRINTER_DENIED or PRINTER_TAKEN,
 *             the text what to do
 * RC_FAILED   anything else; err->lib is libusb's code
 */
enum rc usb_open(struct usb_link *out, unsigned *state,
    const struct usb_kind *kind, const char *address, int deadline_ms,
    struct err *err) MUST_CHECK;

/* usb_close - release, give the kernel its driver back, forget. */
void usb_close(struct usb_link *link);

/* usb_address - "0525:A4A8/12", or without the serial number when it has
 * none.  Returns `dst`; 80 bytes hold any. */
char *usb_address(char *dst, size_t size, const struct usb_seen *seen);

/*
 * usb_left - milliseconds until an instant of clock_ticks_ms(), 0 when it has
 * passed: what a libusb call may take.  libusb reads 0 as "for ever": check.
 */
unsigned usb_left(int64_t until);

/*
 * usb_control - one control request, direction as in `type`.
 * Returns the bytes moved, or a libusb code (LIBUSB_ERROR_TIMEOUT when `until`
 * has passed).
 */
int usb_control(libusb_device_handle *handle, uint8_t type, uint8_t request,
    uint16_t value, uint16_t index, uint8_t *data, uint16_t len, int64_t until);

/*
 * usb_strings - make, model and serial number from the string descriptors;
 * empty what the device does not say by `until`.
 */
void usb_strings(struct usb_seen *seen, libusb_device *device,
    libusb_device_handle *handle, int64_t until);

/*
 * usb_fault - put a libusb code into words: "printer 0525:A4A8/12: ..., while
 * `doing`".  After an I/O error the device is asked whether it is still there:
 * a pulled cable often says so only a moment later.
 * RC_RETRY for a timeout and for a request it does not take; else RC_FAILED.
 * err->lib is the code found to be true.
 */
enum rc usb_fault(struct usb_link *link, const struct usb_kind *kind, int code,
    const char *doing, struct err *err);

#endif /* USB_H */
