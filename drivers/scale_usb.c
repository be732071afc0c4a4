/*
 * scale_usb.c - a weighing device behind USB, through libusb.
 *
 * Source: USB Device Class Definition for HID 1.11, sections 4.2 (class),
 * 6.2.1 (HID descriptor), 7.1.1 (Get_Descriptor), 7.2.4 (Set_Idle).
 *
 * A device says that it is a scale only in its report descriptor, and that can
 * be asked for only with the interface claimed: a kernel driver is put aside
 * for as long as that takes.  Keyboards and mice are left alone.
 */
#include "drivers.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "scale_hid.h"
#include "usb.h"

#define CLASS_HID 3
#define SUBCLASS_BOOT 1 /* a keyboard or mouse that works without a driver */
#define DESCRIPTOR_HID 0x21
#define DESCRIPTOR_REPORT 0x22
#define SET_IDLE 0x0A
#define IDLE_4MS 25 /* say it again after 100 ms when nothing changes */

struct usb_scale {
	struct scale base; /* must be first */
	struct usb_link link;
	struct scale_hid hid;
	size_t ask_bytes; /* of one transfer */
	bool stalled;     /* once already, and nothing came since */
	uint8_t buf[HID_REPORT_MAX + 1024];
};

static bool
sends_reports(const struct libusb_interface_descriptor *alt)
{
	const struct libusb_endpoint_descriptor *e;
	int i;

	for (i = 0; i < alt->bNumEndpoints; i++) {
		e = &alt->endpoint[i];
		if ((e->bmAttributes & LIBUSB_TRANSFER_TYPE_MASK) ==
			LIBUSB_TRANSFER_TYPE_INTERRUPT &&
		    (e->bEndpointAddress & LIBUSB_ENDPOINT_IN) != 0)
			return true;
	}
	return false;
}

static int
suits(const struct libusb_interface_descriptor *alt, bool named)
{
	if (alt->bInterfaceClass != CLASS_HID || !sends_reports(alt))
		return 0;
	if (alt->bInterfaceSubClass == SUBCLASS_BOOT)
		return named ? 1 : 0;
	return 2;
}

/* --- The report descriptor ------------------------------------------------ */

/* Its length, out of the HID descriptor among an interface's own, or 0. */
static size_t
length_in(const uint8_t *b, int size)
{
	size_t left = size < 0 ? 0 : (size_t)size, i;

	for (; left >= 2 && b[0] >= 2 && b[0] <= left; left -= b[0], b += b[0])
		if (b[1] == DESCRIPTOR_HID)
			for (i = 6; i + 3 <= b[0]; i += 3)
				if (b[i] == DESCRIPTOR_REPORT)
					return b[i + 1] | (size_t)b[i + 2] << 8;
	return 0;
}

static size_t
report_length(libusb_device_handle *handle, const struct usb_seen *seen)
{
	const struct libusb_interface_descriptor *alt;
	struct libusb_config_descriptor *config;
	size_t len = 0;
	int i, j;

	if (libusb_get_active_config_descriptor(
		libusb_get_device(handle), &config) != 0)
		return 0;
	for (i = 0; i < config->bNumInterfaces; i++)
		for (j = 0; j < config->interface[i].num_altsetting; j++) {
			alt = &config->interface[i].altsetting[j];
			if (alt->bInterfaceNumber == seen->interface &&
			    alt->bAlternateSetting == seen->alternate)
				len = length_in(alt->extra, alt->extra_length);
		}
	libusb_free_config_descriptor(config);
	return len;
}

/* Bytes of `out`, or a libusb code; the interface is claimed. */
static int
get_descriptor(uint8_t out[HID_DESCRIPTOR_MAX], libusb_device_handle *handle,
    const struct usb_seen *seen, int64_t until)
{
	size_t len = report_length(handle, seen);

	if (len == 0 || len > HID_DESCRIPTOR_MAX)
		return LIBUSB_ERROR_NOT_FOUND;
	return usb_control(handle,
	    LIBUSB_ENDPOINT_IN | LIBUSB_RECIPIENT_INTERFACE,
	    LIBUSB_REQUEST_GET_DESCRIPTOR, DESCRIPTOR_REPORT << 8,
	    seen->interface, out, (uint16_t)len, until);
}

/* --- Is it one? ----------------------------------------------------------- */

static bool
is_scale(struct usb_seen *seen, libusb_device_handle *handle, int64_t until)
{
	uint8_t bytes[HID_DESCRIPTOR_MAX];
	struct hid_layout layout;
	int n = get_descriptor(bytes, handle, seen, until);

	return n > 0 &&
	    hid_report_parse(&layout, bytes, (size_t)n, NULL) == RC_OK &&
	    scale_hid_is_scale(&layout);
}

static bool
ask(struct usb_seen *seen, libusb_device_handle *handle, int64_t until)
{
	int interface = seen->interface;
	bool detached, yes;

	detached = libusb_kernel_driver_active(handle, interface) == 1 &&
	    libusb_detach_kernel_driver(handle, interface) == 0;
	if (libusb_claim_interface(handle, interface) == 0) {
		yes = is_scale(seen, handle, until);
		libusb_release_interface(handle, interface);
	} else {
		/* It cannot be asked: it may be the scale somebody holds. */
		seen->state = PRINTER_TAKEN;
		yes = true;
	}
	if (detached)
		libusb_attach_kernel_driver(handle, interface);
	return yes;
}

static const struct usb_kind kind = {
	.word = "scale",
	.suits = suits,
	.ask = ask,
};

/* --- The driver ----------------------------------------------------------- */

static enum rc
usb_scale_check(const char *address, struct err *err)
{
	return usb_check(&kind, address, err);
}

/* Whole packets, as many as the longest report takes: a transfer that asks for
 * more would wait for the next report, one that asks for less breaks. */
static size_t
transfer_size(const struct scale_hid *hid, const struct usb_seen *seen)
{
	size_t packet = seen->in_packet, most = 0, n, i;
	const struct hid_layout *l = &hid->layout;

	for (i = 0; i < l->field_count; i++) {
		n = hid_report_length(l, HID_INPUT, l->fields[i].report);
		most = n > most ? n : most;
	}
	if (packet == 0 || packet > 1024)
		packet = 1024;
	return (most + packet - 1) / packet * packet;
}

static enum rc
understand(struct usb_scale *s, int64_t until, struct err *err)
{
	uint8_t bytes[HID_DESCRIPTOR_MAX];
	char address[80];
	int n;
	enum rc rc;

	n = get_descriptor(bytes, s->link.handle, &s->link.what, until);
	if (n < 0) {
		rc =
		    usb_fault(&s->link, &kind, n, "telling what it sends", err);
		return rc == RC_RETRY ? RC_RETRY : RC_FAILED;
	}
	rc = scale_hid_init(&s->hid, bytes, (size_t)n, err);
	if (rc != RC_OK) {
		err_prefix(err, "scale %s: ",
		    usb_address(address, sizeof(address), &s->link.what));
		return RC_FAILED;
	}
	s->ask_bytes = transfer_size(&s->hid, &s->link.what);
	/* Kernel drivers ask for news only; a scale may refuse to repeat. */
	usb_control(s->link.handle,
	    LIBUSB_REQUEST_TYPE_CLASS | LIBUSB_RECIPIENT_INTERFACE, SET_IDLE,
	    IDLE_4MS << 8, s->link.what.interface, NULL, 0, until);
	return RC_OK;
}

static void
usb_scale_close(struct scale *scale)
{
	struct usb_scale *s = (struct usb_scale *)scale;

	if (s == NULL)
		return;
	usb_close(&s->link);
	free(s);
}

/*
 * Any HID device may be a scale as long as nobody could ask it: one that is
 * not permitted or held by another program is meant only when no scale
 * answered.  *picked gets the address of the device then meant, or stays empty.
 */
static enum rc
pick(char picked[80], struct err *err)
{
	struct usb_seen seen[USB_SEEN_MAX];
	size_t i, n, one = 0, open = 0, held = 0;
	enum rc rc;

	picked[0] = '\0';
	if ((rc = usb_list(seen, &n, &kind, err)) != RC_OK)
		return rc;
	for (i = 0; i < n; i++) {
		if (seen[i].state == 0 && open++ == 0)
			one = i;
		if (open == 0 && seen[i].state == PRINTER_TAKEN && held++ == 0)
			one = i;
	}
	if (n > 0 && open < 2)
		usb_address(picked, 80, &seen[one]);
	return RC_OK;
}

static enum rc
usb_scale_open(
    struct scale **out, const char *address, int deadline_ms, struct err *err)
{
	int64_t until = clock_ticks_ms() + deadline_ms;
	char picked[80];
	struct usb_scale *s;
	unsigned state;
	enum rc rc;

	*out = NULL;
	if (str_eq(address, "any")) {
		if ((rc = pick(picked, err)) != RC_OK)
			return rc;
		if (picked[0] != '\0')
			address = picked;
	}
	s = xcalloc(1, sizeof(*s));
	s->base.via = &scale_usb;
	rc = usb_open(&s->link, &state, &kind, address, deadline_ms, err);
	if (rc != RC_OK) {
		free(s);
		return rc;
	}
	if ((rc = understand(s, until, err)) != RC_OK) {
		usb_scale_close(&s->base);
		return rc;
	}
	*out = &s->base;
	return RC_OK;
}

/* One transfer.  RC_END: nothing about a weight, ask again. */
static enum rc
next_report(struct scale_reading *out, struct usb_scale *s, int64_t until,
    struct err *err)
{
	unsigned left = usb_left(until);
	int got = 0, code;

	if (left == 0)
		return err_set(err, RC_RETRY, LIBUSB_ERROR_TIMEOUT,
		    "the scale says nothing");
	code = libusb_interrupt_transfer(s->link.handle, s->link.what.in,
	    s->buf, (int)s->ask_bytes, &got, left);
	if (code == LIBUSB_ERROR_PIPE && !s->stalled) {
		s->stalled = true;
		if (libusb_clear_halt(s->link.handle, s->link.what.in) == 0)
			return RC_END;
	}
	if (code == LIBUSB_ERROR_TIMEOUT && got == 0)
		return err_set(err, RC_RETRY, code, "the scale says nothing");
	if (code != 0 && code != LIBUSB_ERROR_TIMEOUT) {
		ignore_rc(usb_fault(&s->link, &kind, code, "weighing", err));
		return RC_FAILED;
	}
	s->stalled = false;
	return scale_hid_read(out, &s->hid, s->buf, (size_t)got, err);
}

static enum rc
usb_scale_read(struct scale_reading *out, struct scale *scale, int deadline_ms,
    struct err *err)
{
	struct usb_scale *s = (struct usb_scale *)scale;
	int64_t until = clock_ticks_ms() + deadline_ms;
	enum rc rc;

	do
		rc = next_report(out, s, until, err);
	while (rc == RC_END);
	return rc;
}

const struct scale_driver scale_usb = {
	.scheme = "usb",
	.address_help = "any, VVVV:PPPP or VVVV:PPPP/SERIAL of a HID scale",
	.check = usb_scale_check,
	.open = usb_scale_open,
	.read = usb_scale_read,
	.close = usb_scale_close,
};
