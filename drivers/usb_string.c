/* usb_string.c - what a device calls itself: its string descriptors. */
#include "usb.h"

#include "base/str.h"

/* One code point as UTF-8; returns its bytes. */
static size_t
put_utf8(char *dst, uint32_t c)
{
	if (c < 0x80) {
		dst[0] = (char)c;
		return 1;
	}
	if (c < 0x800) {
		dst[0] = (char)(0xC0 | c >> 6);
		dst[1] = (char)(0x80 | (c & 0x3F));
		return 2;
	}
	if (c < 0x10000) {
		dst[0] = (char)(0xE0 | c >> 12);
		dst[1] = (char)(0x80 | (c >> 6 & 0x3F));
		dst[2] = (char)(0x80 | (c & 0x3F));
		return 3;
	}
	dst[0] = (char)(0xF0 | c >> 18);
	dst[1] = (char)(0x80 | (c >> 12 & 0x3F));
	dst[2] = (char)(0x80 | (c >> 6 & 0x3F));
	dst[3] = (char)(0x80 | (c & 0x3F));
	return 4;
}

/* UTF-16, least significant byte first, to trimmed UTF-8; cut where full. */
static void
from_utf16(char *dst, size_t size, const uint8_t *units, size_t count)
{
	char text[4 * 128];
	size_t i, n = 0;

	for (i = 0; i < count; i++) {
		uint32_t c = units[2 * i] | (uint32_t)units[2 * i + 1] << 8;

		if (c >= 0xD800 && c < 0xDC00 && i + 1 < count) {
			uint32_t low =
			    units[2 * i + 2] | (uint32_t)units[2 * i + 3] << 8;

			c = 0x10000 + ((c & 0x3FF) << 10 | (low & 0x3FF));
			i++;
		}
		if (c == 0)
			break;
		n += put_utf8(text + n, c);
	}
	text[n] = '\0';
	utf8_clean(text);
	str_fmt(dst, size, "%s", str_trim(text));
	utf8_clean(dst);
}

/* A string descriptor in the device's first language; empty when it has none.
 * libusb's own call waits a second for each and knows ASCII only. */
static void
get_string(char *dst, size_t size, libusb_device_handle *handle, uint8_t index,
    uint16_t lang, int64_t until)
{
	uint8_t d[255];
	int n;

	dst[0] = '\0';
	if (index == 0)
		return;
	n = usb_control(handle, LIBUSB_ENDPOINT_IN,
	    LIBUSB_REQUEST_GET_DESCRIPTOR,
	    (uint16_t)(LIBUSB_DT_STRING << 8 | index), lang, d, sizeof(d),
	    until);
	if (n < 4 || d[1] != LIBUSB_DT_STRING)
		return;
	if (d[0] < n)
		n = d[0];
	if (n >= 4)
		from_utf16(dst, size, d + 2, (size_t)(n - 2) / 2);
}

void
usb_strings(struct usb_seen *seen, libusb_device *device,
    libusb_device_handle *handle, int64_t until)
{
	struct libusb_device_descriptor dd;
	uint16_t lang = 0x0409; /* what most have and some do not list */
	uint8_t d[4];

	if (libusb_get_device_descriptor(device, &dd) != 0)
		return;
	if (usb_control(handle, LIBUSB_ENDPOINT_IN,
		LIBUSB_REQUEST_GET_DESCRIPTOR, LIBUSB_DT_STRING << 8, 0, d,
		sizeof(d), until) == (int)sizeof(d) &&
	    d[1] == LIBUSB_DT_STRING)
		lang = (uint16_t)(d[2] | d[3] << 8);
	get_string(seen->make, sizeof(seen->make), handle, dd.iManufacturer,
	    lang, until);
	get_string(
	    seen->model, sizeof(seen->model), handle, dd.iProduct, lang, until);
	get_string(seen->serial, sizeof(seen->serial), handle, dd.iSerialNumber,
	    lang, until);
}
