/* usb.c - what printers and scale share of libusb. */
#include "usb.h"

#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"

/* For one question to a device that is only looked at. */
#define ASK_MS 1000
/* A pulled cable is known a few milliseconds after the I/O error; a device
 * that only hiccuped answers at once. */
#define GONE_MS 300
#define GONE_STEP_MS 20

struct address {
	bool any, ids;
	unsigned vendor, product;
	const char *serial;   /* NULL: any */
	const char *commands; /* NULL: not by command set */
};

/* What a look at the bus found. */
struct look {
	libusb_context *ctx;
	struct usb_seen seen[USB_SEEN_MAX];
	libusb_device *device[USB_SEEN_MAX]; /* referenced */
	size_t count;
};

/* --- addresses ----------------------------------------------------------- */

/* Four hexadecimal digits. */
static bool
hex4(unsigned *out, const char *s)
{
	if (strspn(s, "0123456789ABCDEFabcdef") < 4)
		return false;
	return sscanf(s, "%4x", out) == 1;
}

static enum rc
address_parse(struct address *out, const struct usb_kind *kind,
    const char *address, struct err *err)
{
	memset(out, 0, sizeof(*out));
	if (str_eq(address, "any")) {
		out->any = true;
		return RC_OK;
	}
	if (kind->by_commands && strncmp(address, "cmd=", 4) == 0 &&
	    address[4] != '\0') {
		out->commands = address + 4;
		return RC_OK;
	}
	out->ids = true;
	if (hex4(&out->vendor, address) && address[4] == ':' &&
	    hex4(&out->product, address + 5)) {
		if (address[9] == '\0')
			return RC_OK;
		if (address[9] == '/' && address[10] != '\0') {
			out->serial = address + 10;
			return RC_OK;
		}
	}
	return err_set(err, RC_INVALID, 0,
	    "\"usb:%s\" names no %s: write usb:any, usb:VVVV:PPPP%s or "
	    "usb:VVVV:PPPP/SERIAL",
	    address, kind->word, kind->by_commands ? ", usb:cmd=NAME" : "");
}

enum rc
usb_check(const struct usb_kind *kind, const char *address, struct err *err)
{
	struct address a;

	return address_parse(&a, kind, address, err);
}

char *
usb_address(char *dst, size_t size, const struct usb_seen *seen)
{
	str_fmt(dst, size, "%04X:%04X%s%s", seen->vendor, seen->product,
	    seen->serial[0] != '\0' ? "/" : "", seen->serial);
	return dst;
}

/* Is one of the command sets what the address begins with? */
static bool
has_command(const char *commands, const char *name)
{
	size_t n = strlen(name), i;
	char word[128];

	for (; *commands != '\0'; commands += *commands == ',') {
		i = strcspn(commands, ",");
		if (i >= n &&
		    str_fmt(word, sizeof(word), "%.*s", (int)n, commands) &&
		    str_eq_nocase(word, name))
			return true;
		commands += i;
	}
	return false;
}

/* A device that does not let itself be read may be the one meant. */
static bool
fits(const struct usb_seen *seen, const struct address *a)
{
	bool denied = (seen->state & PRINTER_DENIED) != 0;

	if (a->serial != NULL && !denied)
		return str_eq(seen->serial, a->serial);
	if (a->commands != NULL && !denied)
		return has_command(seen->commands, a->commands);
	return true;
}

/* --- requests with a deadline -------------------------------------------- */

unsigned
usb_left(int64_t until)
{
	int64_t left = until - clock_ticks_ms();

	return left > 0 ? (unsigned)left : 0;
}

int
usb_control(libusb_device_handle *handle, uint8_t type, uint8_t request,
    uint16_t value, uint16_t index, uint8_t *data, uint16_t len, int64_t until)
{
	unsigned left = usb_left(until);

	if (left == 0)
		return LIBUSB_ERROR_TIMEOUT;
	return libusb_control_transfer(
	    handle, type, request, value, index, data, len, left);
}

/* --- looking ------------------------------------------------------------- */

/* Take the endpoints of the setting that suits. */
static void
take_setting(struct usb_seen *seen, const struct libusb_interface *all,
    const struct libusb_interface_descriptor *alt)
{
	int i;

	seen->interface = alt->bInterfaceNumber;
	seen->alternate = alt->bAlternateSetting;
	seen->alternates = (uint8_t)all->num_altsetting;
	seen->protocol = alt->bInterfaceProtocol;
	seen->out = seen->in = 0;
	for (i = 0; i < alt->bNumEndpoints; i++) {
		const struct libusb_endpoint_descriptor *ep = &alt->endpoint[i];
		int type = ep->bmAttributes & LIBUSB_TRANSFER_TYPE_MASK;
		bool in = (ep->bEndpointAddress & LIBUSB_ENDPOINT_IN) != 0;

		if (type != LIBUSB_TRANSFER_TYPE_BULK &&
		    type != LIBUSB_TRANSFER_TYPE_INTERRUPT)
			continue;
		if (in && seen->in == 0) {
			seen->in = ep->bEndpointAddress;
			seen->in_packet = ep->wMaxPacketSize & 0x7FF;
		}
		if (!in && seen->out == 0)
			seen->out = ep->bEndpointAddress;
	}
}

/* The alternate setting that suits best; false when none does. */
static bool
find_setting(struct usb_seen *seen, libusb_device *device,
    const struct usb_kind *kind, bool named)
{
	struct libusb_config_descriptor *config;
	int best = 0, i, k, n;

	/* A device the kernel has not configured has none: it is no use. */
	if (libusb_get_active_config_descriptor(device, &config) != 0)
		return false;
	for (i = 0; i < config->bNumInterfaces; i++) {
		const struct libusb_interface *in = &config->interface[i];

		for (k = 0; k < in->num_altsetting; k++) {
			n = kind->suits(&in->altsetting[k], named);
			if (n <= best)
				continue;
			best = n;
			take_setting(seen, in, &in->altsetting[k]);
		}
	}
	libusb_free_config_descriptor(config);
	return best > 0;
}

/* Claim what is free.  A driver of the kernel is left alone: it would be
 * detached for opening.  False: another program holds the interface. */
static bool
claim_free(bool *claimed, libusb_device_handle *handle, uint8_t interface)
{
	int n;

	*claimed = false;
	if (libusb_kernel_driver_active(handle, interface) == 1)
		return true;
	n = libusb_claim_interface(handle, interface);
	*claimed = n == 0;
	return n != LIBUSB_ERROR_BUSY;
}

/* Open the device and ask it.  False: none of this kind, or it went away. */
static bool
ask_device(struct usb_seen *seen, libusb_device *device,
    const struct usb_kind *kind, int64_t until)
{
	libusb_device_handle *handle;
	bool is_kind = true, claimed;
	int64_t asked = clock_ticks_ms() + ASK_MS;
	int n;

	n = libusb_open(device, &handle);
	if (n == LIBUSB_ERROR_ACCESS) {
		seen->state = PRINTER_DENIED;
		return true;
	}
	if (n != 0)
		return n != LIBUSB_ERROR_NO_DEVICE;
	if (asked > until)
		asked = until;
	usb_strings(seen, device, handle, asked);
	if (!claim_free(&claimed, handle, seen->interface))
		seen->state = PRINTER_TAKEN;
	if (kind->ask != NULL)
		is_kind = kind->ask(seen, handle, asked);
	if (claimed)
		libusb_release_interface(handle, seen->interface);
	libusb_close(handle);
	return is_kind;
}

static void
look_end(struct look *look)
{
	size_t i;

	for (i = 0; i < look->count; i++)
		libusb_unref_device(look->device[i]);
	look->count = 0;
	if (look->ctx != NULL)
		libusb_exit(look->ctx);
	look->ctx = NULL;
}

static void
look_at(struct look *look, libusb_device *device, const struct usb_kind *kind,
    const struct address *a, int64_t until)
{
	struct libusb_device_descriptor dd;
	struct usb_seen seen = { 0 };

	if (look->count == USB_SEEN_MAX ||
	    libusb_get_device_descriptor(device, &dd) != 0)
		return;
	seen.vendor = dd.idVendor;
	seen.product = dd.idProduct;
	if (a->ids && (a->vendor != seen.vendor || a->product != seen.product))
		return;
	if (!find_setting(&seen, device, kind, a->ids) ||
	    !ask_device(&seen, device, kind, until) || !fits(&seen, a))
		return;
	look->device[look->count] = libusb_ref_device(device);
	look->seen[look->count++] = seen;
}

/* Everything that fits an address.  look_end() in any case. */
static enum rc
look_for(struct look *look, const struct usb_kind *kind,
    const struct address *a, int64_t until, struct err *err)
{
	libusb_device **all;
	ssize_t n, i;

	memset(look, 0, sizeof(*look));
	if ((n = libusb_init(&look->ctx)) != 0) {
		look->ctx = NULL;
		return err_set(err, RC_FAILED, (int)n,
		    "cannot look at the USB: %s", libusb_strerror((int)n));
	}
	libusb_set_option(
	    look->ctx, LIBUSB_OPTION_LOG_LEVEL, LIBUSB_LOG_LEVEL_NONE);
	if ((n = libusb_get_device_list(look->ctx, &all)) < 0)
		return err_set(err, RC_FAILED, (int)n,
		    "cannot list the USB: %s", libusb_strerror((int)n));
	for (i = 0; i < n; i++)
		look_at(look, all[i], kind, a, until);
	libusb_free_device_list(all, 1);
	return RC_OK;
}

enum rc
usb_list(struct usb_seen out[USB_SEEN_MAX], size_t *count,
    const struct usb_kind *kind, struct err *err)
{
	const struct address every = { .any = true };
	struct look look;
	enum rc rc;

	*count = 0;
	/* Each device has ASK_MS of its own. */
	rc = look_for(
	    &look, kind, &every, clock_ticks_ms() + USB_SEEN_MAX * ASK_MS, err);
	if (rc == RC_OK) {
		*count = look.count;
		memcpy(out, look.seen, look.count * sizeof(out[0]));
	}
	look_end(&look);
	return rc;
}

/* --- opening ------------------------------------------------------------- */

/* "0525:A4A8/12 (make model)" */
static char *
who(char *dst, size_t size, const struct usb_seen *seen)
{
	char address[80];
	bool named = seen->make[0] != '\0' || seen->model[0] != '\0';

	usb_address(address, sizeof(address), seen);
	if (named)
		str_fmt(dst, size, "%s (%s%s%s)", address, seen->make,
		    seen->make[0] != '\0' && seen->model[0] != '\0' ? " " : "",
		    seen->model);
	else
		str_fmt(dst, size, "%s", address);
	return dst;
}

static enum rc
absent(unsigned *state, const struct usb_kind *kind, const char *address,
    struct err *err)
{
	*state = PRINTER_ABSENT;
	if (str_eq(address, "any"))
		return err_set(err, RC_RETRY, LIBUSB_ERROR_NO_DEVICE,
		    "no USB %s is plugged in: check the cable and that it is "
		    "switched on",
		    kind->word);
	return err_set(err, RC_RETRY, LIBUSB_ERROR_NO_DEVICE,
	    "%s usb:%s is not plugged in: check the cable, that it is switched "
	    "on, and the address in the settings",
	    kind->word, address);
}

static enum rc
denied(unsigned *state, const struct usb_kind *kind,
    const struct usb_seen *seen, struct err *err)
{
	char name[256];

	*state = PRINTER_DENIED;
	return err_set(err, RC_RETRY, LIBUSB_ERROR_ACCESS,
	    "%s %s is not permitted to this user: add the user to group lp, "
	    "install 70-pinbone.rules for udev, then log in again",
	    kind->word, who(name, sizeof(name), seen));
}

static enum rc
taken(unsigned *state, const struct usb_kind *kind, const struct usb_seen *seen,
    struct err *err)
{
	char name[256];

	*state = PRINTER_TAKEN;
	return err_set(err, RC_RETRY, LIBUSB_ERROR_BUSY,
	    "%s %s is held by another program: stop that program, or remove "
	    "the device from it",
	    kind->word, who(name, sizeof(name), seen));
}

/*
 * The one device meant.  Of those an address by serial or command set was
 * asked about, a device that cannot be read counts only when no other fits.
 */
static enum rc
choose(size_t *out, unsigned *state, struct look *look,
    const struct usb_kind *kind, const struct address *a, const char *address,
    struct err *err)
{
	bool reads = a->serial != NULL || a->commands != NULL;
	char one[256], two[256];
	size_t i, n = 0, pick[USB_SEEN_MAX];

	for (i = 0; i < look->count; i++)
		if (!reads || (look->seen[i].state & PRINTER_DENIED) == 0)
			pick[n++] = i;
	if (n == 0 && look->count > 0)
		return denied(state, kind, &look->seen[0], err);
	if (n == 0)
		return absent(state, kind, address, err);
	*out = pick[0];
	if (n == 1)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "usb:%s fits %zu %ss, among them %s and %s: name one of them with "
	    "its serial number, or unplug the other",
	    address, n, kind->word, who(one, sizeof(one), &look->seen[pick[0]]),
	    who(two, sizeof(two), &look->seen[pick[1]]));
}

/* libusb's code while opening, as the contract has it. */
static enum rc
refused(unsigned *state, const struct usb_kind *kind,
    const struct usb_seen *seen, const char *address, int code, struct err *err)
{
	char name[256];

	if (code == LIBUSB_ERROR_ACCESS)
		return denied(state, kind, seen, err);
	if (code == LIBUSB_ERROR_BUSY)
		return taken(state, kind, seen, err);
	if (code == LIBUSB_ERROR_NO_DEVICE || code == LIBUSB_ERROR_NOT_FOUND)
		return absent(state, kind, address, err);
	return err_set(err, RC_FAILED, code, "%s %s cannot be opened: %s",
	    kind->word, who(name, sizeof(name), seen), libusb_strerror(code));
}

/* Claim, and choose the setting where there is a choice.  A device with one
 * setting need not know the request. */
static int
claim(libusb_device_handle *handle, const struct usb_seen *seen)
{
	int n;

	if ((n = libusb_claim_interface(handle, seen->interface)) != 0)
		return n;
	if (seen->alternates > 1 &&
	    (n = libusb_set_interface_alt_setting(
		 handle, seen->interface, seen->alternate)) != 0)
		libusb_release_interface(handle, seen->interface);
	return n;
}

enum rc
usb_open(struct usb_link *out, unsigned *state, const struct usb_kind *kind,
    const char *address, int deadline_ms, struct err *err)
{
	int64_t until = clock_ticks_ms() + deadline_ms;
	struct address a;
	struct look look = { 0 };
	size_t i = 0;
	enum rc rc;
	int n;

	*state = 0;
	memset(out, 0, sizeof(*out));
	if ((rc = address_parse(&a, kind, address, err)) != RC_OK)
		return rc;
	if ((rc = look_for(&look, kind, &a, until, err)) != RC_OK ||
	    (rc = choose(&i, state, &look, kind, &a, address, err)) != RC_OK)
		goto done;
	out->what = look.seen[i];
	if ((n = libusb_open(look.device[i], &out->handle)) != 0) {
		rc = refused(state, kind, &look.seen[i], address, n, err);
		goto done;
	}
	libusb_set_auto_detach_kernel_driver(out->handle, 1);
	if ((n = claim(out->handle, &out->what)) != 0) {
		rc = refused(state, kind, &look.seen[i], address, n, err);
		libusb_close(out->handle);
		goto done;
	}
	out->ctx = look.ctx;
	look.ctx = NULL; /* the link's now */
done:
	look_end(&look);
	return rc;
}

void
usb_close(struct usb_link *link)
{
	libusb_release_interface(link->handle, link->what.interface);
	libusb_close(link->handle);
	libusb_exit(link->ctx);
	memset(link, 0, sizeof(*link));
}

/* --- faults -------------------------------------------------------------- */

/* GET_STATUS of the device: what every device answers while it is there. */
static bool
is_gone(libusb_device_handle *handle)
{
	int64_t until = clock_ticks_ms() + GONE_MS;
	uint8_t status[2];
	int n;

	do {
		n = usb_control(handle, LIBUSB_ENDPOINT_IN,
		    LIBUSB_REQUEST_GET_STATUS, 0, 0, status, sizeof(status),
		    until);
		if (n == LIBUSB_ERROR_NO_DEVICE)
			return true;
		if (n >= 0)
			return false;
		poll(NULL, 0, GONE_STEP_MS);
	} while (usb_left(until) > 0);
	return false;
}

enum rc
usb_fault(struct usb_link *link, const struct usb_kind *kind, int code,
    const char *doing, struct err *err)
{
	char name[256];

	if (code == LIBUSB_ERROR_IO && is_gone(link->handle))
		code = LIBUSB_ERROR_NO_DEVICE;
	who(name, sizeof(name), &link->what);
	if (code == LIBUSB_ERROR_NO_DEVICE)
		return err_set(err, RC_FAILED, code,
		    "%s %s was unplugged or switched off while %s", kind->word,
		    name, doing);
	if (code == LIBUSB_ERROR_TIMEOUT)
		return err_set(err, RC_RETRY, code,
		    "%s %s did not answer in time while %s", kind->word, name,
		    doing);
	if (code == LIBUSB_ERROR_PIPE)
		return err_set(err, RC_RETRY, code, "%s %s refuses %s",
		    kind->word, name, doing);
	return err_set(err, RC_FAILED, code, "%s %s: %s while %s", kind->word,
	    name, libusb_strerror(code), doing);
}
