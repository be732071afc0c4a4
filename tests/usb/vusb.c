/* vusb.c - devices, their transfers and the standard requests. */
#include "vusb.h"

#include <string.h>
#include <time.h>

/* USB 2.0 chapter 9. */
#define GET_STATUS 0
#define CLEAR_FEATURE 1
#define GET_DESCRIPTOR 6
#define DT_DEVICE 1
#define DT_CONFIG 2
#define DT_STRING 3
#define DT_INTERFACE 4
#define DT_ENDPOINT 5
#define DEVICE_LEN 18

int64_t
vusb_now(void)
{
	struct timespec ts;

	clock_gettime(CLOCK_MONOTONIC, &ts);
	return (int64_t)ts.tv_sec * 1000 + ts.tv_nsec / 1000000;
}

void
vusb_start(struct vusb_device *dev, struct vusb *bus, void *back)
{
	dev->bus = bus;
	dev->back = back;
	dev->gone = false;
	dev->queue = NULL;
	dev->halted = 0;
	dev->wake_ms = dev->vanish_ms = 0;
	memset(dev->alternate, 0, sizeof(dev->alternate));
}

void
vusb_wake(struct vusb_device *dev, int64_t ms)
{
	if (dev->wake_ms == 0 || ms < dev->wake_ms)
		dev->wake_ms = ms;
}

void
vusb_vanish(struct vusb_device *dev, int64_t ms)
{
	if (ms == 0)
		dev->gone = true;
	else
		dev->vanish_ms = ms;
}

/* --- descriptors --------------------------------------------------------- */

/* Calls `fn` for each descriptor of the configuration, with the interface and
 * alternate setting it stands under, until it says true. */
static bool
each_descriptor(const struct vusb_device *dev,
    bool (*fn)(const uint8_t *d, int interface, int alternate, void *arg),
    void *arg)
{
	size_t at = DEVICE_LEN;
	int interface = -1, alternate = -1;

	while (at + 2 <= dev->descriptors_len && dev->descriptors[at] >= 2 &&
	    at + dev->descriptors[at] <= dev->descriptors_len) {
		const uint8_t *d = dev->descriptors + at;

		if (d[1] == DT_INTERFACE) {
			interface = d[2];
			alternate = d[3];
		}
		if (fn(d, interface, alternate, arg))
			return true;
		at += d[0];
	}
	return false;
}

struct want {
	const struct vusb_device *dev;
	int interface, alternate, endpoint, class;
};

static bool
is_endpoint(const uint8_t *d, int interface, int alternate, void *arg)
{
	struct want *w = arg;

	if (d[1] != DT_ENDPOINT || d[2] != w->endpoint ||
	    interface >= VUSB_INTERFACES ||
	    w->dev->alternate[interface] != alternate)
		return false;
	w->interface = interface;
	return true;
}

int
vusb_endpoint_interface(const struct vusb_device *dev, uint8_t endpoint)
{
	struct want w = { .dev = dev, .interface = -1, .endpoint = endpoint };

	each_descriptor(dev, is_endpoint, &w);
	return w.interface;
}

static bool
is_setting(const uint8_t *d, int interface, int alternate, void *arg)
{
	struct want *w = arg;

	if (d[1] != DT_INTERFACE || interface != w->interface ||
	    (w->alternate >= 0 && alternate != w->alternate))
		return false;
	w->class = d[5];
	return true;
}

bool
vusb_has_alternate(const struct vusb_device *dev, int interface, int alternate)
{
	struct want w = { .interface = interface, .alternate = alternate };

	return each_descriptor(dev, is_setting, &w);
}

int
vusb_class(const struct vusb_device *dev, int interface)
{
	struct want w = { .interface = interface, .alternate = -1 };

	return each_descriptor(dev, is_setting, &w) ? w.class : -1;
}

/* --- standard requests --------------------------------------------------- */

static int
reply(uint8_t *data, size_t size, const uint8_t *bytes, size_t len)
{
	if (len > size)
		len = size;
	memcpy(data, bytes, len);
	return (int)len;
}

/* Up to 16 bits: a test that wants more writes surrogates, as devices do. */
static int
string_descriptor(
    const struct vusb_device *dev, unsigned index, uint8_t *data, size_t size)
{
	static const uint8_t langs[] = { 4, DT_STRING, 0x09, 0x04 };
	uint8_t d[255] = { 0, DT_STRING };
	const char *s;
	size_t n = 2;

	if (index == 0)
		return reply(data, size, langs, sizeof(langs));
	if (index >= VUSB_STRINGS || dev->strings[index] == NULL)
		return -EPIPE;
	for (s = dev->strings[index]; *s != '\0' && n + 2 <= sizeof(d);
	     n += 2) {
		unsigned c = (uint8_t)*s++;

		if (c >= 0xE0) {
			c = (c & 0x0F) << 6 | ((uint8_t)*s++ & 0x3F);
			c = c << 6 | ((uint8_t)*s++ & 0x3F);
		} else if (c >= 0xC0)
			c = (c & 0x1F) << 6 | ((uint8_t)*s++ & 0x3F);
		d[n] = (uint8_t)c;
		d[n + 1] = (uint8_t)(c >> 8);
	}
	d[0] = (uint8_t)n;
	if (dev->run_on && n + 2 <= sizeof(d)) {
		d[n] = '!';
		n += 2;
	}
	return reply(data, size, d, n);
}

static int
standard(
    struct vusb_device *dev, const uint8_t setup[8], uint8_t *data, size_t size)
{
	static const uint8_t self_powered[] = { 1, 0 };

	if (setup[0] == 0x80 && setup[1] == GET_STATUS) {
		dev->asked++;
		return reply(data, size, self_powered, sizeof(self_powered));
	}
	if (setup[0] == 0x02 && setup[1] == CLEAR_FEATURE) {
		vusb_clear_halt(dev, setup[4]);
		return 0;
	}
	if (setup[0] != 0x80 || setup[1] != GET_DESCRIPTOR)
		return -EPIPE;
	if (setup[3] == DT_DEVICE)
		return reply(data, size, dev->descriptors, DEVICE_LEN);
	if (setup[3] == DT_CONFIG && setup[2] == 0)
		return reply(data, size, dev->descriptors + DEVICE_LEN,
		    dev->descriptors_len - DEVICE_LEN);
	if (setup[3] == DT_STRING)
		return string_descriptor(dev, setup[2], data, size);
	return -EPIPE;
}

/* The model may answer standard requests too, or spoil them; what it stalls
 * the bus answers. */
int
vusb_control(
    struct vusb_device *dev, const uint8_t setup[8], uint8_t *data, size_t size)
{
	int n = dev->model->control(dev, setup, data, size);

	if (n == -EPIPE && (setup[0] & 0x60) == 0)
		n = standard(dev, setup, data, size);
	return n;
}

/* --- transfers ----------------------------------------------------------- */

static uint32_t
endpoint_bit(uint8_t endpoint)
{
	return UINT32_C(1) << ((endpoint & 0x0F) + (endpoint >= 0x80 ? 16 : 0));
}

void
vusb_clear_halt(struct vusb_device *dev, uint8_t endpoint)
{
	dev->halted &= ~endpoint_bit(endpoint);
	dev->cleared++;
	if (dev->model->cleared != NULL)
		dev->model->cleared(dev, endpoint);
}

void
vusb_submit(struct vusb_device *dev, struct vurb *urb)
{
	struct vurb **p = &dev->queue;

	urb->done = 0;
	urb->status = 0;
	urb->next = NULL;
	while (*p != NULL)
		p = &(*p)->next;
	*p = urb;
	dev->submitted++;
	if (urb->size > dev->largest)
		dev->largest = urb->size;
}

static void
finish(struct vusb_device *dev, struct vurb **p, int status)
{
	struct vurb *urb = *p;

	*p = urb->next;
	urb->next = NULL;
	urb->status = status;
	vusb_finished(dev, urb);
}

bool
vusb_discard(struct vusb_device *dev, struct vurb *urb)
{
	struct vurb **p;

	for (p = &dev->queue; *p != NULL; p = &(*p)->next)
		if (*p == urb) {
			finish(dev, p, -ENOENT);
			return true;
		}
	return false;
}

/* Work on one queue place; true when it was finished. */
static bool
work(struct vusb_device *dev, struct vurb **p, int64_t now)
{
	uint32_t bit = endpoint_bit((*p)->endpoint);
	int n = -EPIPE;

	if ((dev->halted & bit) == 0)
		n = dev->model->transfer(dev, *p, now);
	if (n == VUSB_WAIT || dev->gone)
		return false;
	if (n == -EPIPE)
		dev->halted |= bit;
	finish(dev, p, n);
	return true;
}

int64_t
vusb_step(struct vusb_device *dev)
{
	int64_t now = vusb_now();
	struct vurb **p = &dev->queue;
	uint32_t busy = 0;

	dev->wake_ms = 0;
	if (dev->vanish_ms != 0 && now >= dev->vanish_ms)
		dev->gone = true;
	while (*p != NULL && !dev->gone) {
		uint32_t bit = endpoint_bit((*p)->endpoint);

		/* one transfer of an endpoint at a time, in order */
		if ((busy & bit) != 0 || !work(dev, p, now)) {
			busy |= bit;
			if (*p != NULL)
				p = &(*p)->next;
		}
	}
	while (dev->gone && dev->queue != NULL)
		finish(dev, &dev->queue, -ESHUTDOWN);
	if (dev->vanish_ms != 0 && !dev->gone)
		vusb_wake(dev, dev->vanish_ms);
	return dev->gone ? 0 : dev->wake_ms;
}
