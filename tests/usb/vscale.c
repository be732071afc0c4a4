/* vscale.c - a HID weighing device that exists only in a test. */
#include "vscale.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "tests/unit/hid_items.h"

#define YANK_MS 20
#define ENDPOINT 0x81
#define REPORT_LEN 6

/* HID 1.11, 7.1 and 7.2. */
#define GET_DESCRIPTOR 6
#define DT_REPORT 0x22
#define DT_PHYSICAL 0x23
#define SET_IDLE 0x0A

static const uint8_t ordinary[] = { I_PAGE(0x8D), I_USAGE(0x20),
	I_COLLECTION(1), I_USAGE(0x32), I_COLLECTION(2), I_ID(3), I_USAGE(0x70),
	I_COLLECTION(2), I_MIN(1), I_MAX(8), I_SIZE(8), I_COUNT(1),
	I_USAGES(0x71, 0x78), I_INPUT(ARRAY), I_END, I_USAGE(0x50),
	I_COLLECTION(2), I_MAX(12), I_USAGES(0x51, 0x5C), I_INPUT(ARRAY), I_END,
	I_MIN(0x81), I_MAX(0x7F), I_USAGE(0x41), I_INPUT(VAR), I_MIN(0),
	I_MAX4(0xFF, 0xFF, 0, 0), I_SIZE(16), I_USAGE(0x40), I_INPUT(VAR),
	I_END, I_END };

struct vscale {
	struct vusb_device dev; /* must be first */
	struct vscale_as as;
	uint8_t descriptors[18 + 9 + 9 + 12 + 7];

	const struct vscale_step *steps;
	size_t count;
	int every_ms, idle_ms;
	int64_t first_ms; /* first asked, 0: not yet */
	size_t said;      /* steps begun */
	int64_t last_ms;  /* said last */
	int asked;
};

static void
put(struct vscale *s, const uint8_t *bytes, size_t len)
{
	memcpy(s->descriptors + s->dev.descriptors_len, bytes, len);
	s->dev.descriptors_len += len;
}

static void
describe(struct vscale *s)
{
	const struct vscale_as *as = &s->as;
	size_t report =
	    as->claims_len != 0 ? as->claims_len : as->descriptor_len;
	const uint8_t device[] = { 18, 1, 0, 2, 0, 0, 0, 8, (uint8_t)as->vendor,
		(uint8_t)(as->vendor >> 8), (uint8_t)as->product,
		(uint8_t)(as->product >> 8), 0, 1, 1, 2,
		as->serial != NULL ? 3 : 0, 1 };
	const uint8_t hid[] = { as->physical ? 12 : 9, 0x21, 0x11, 1, 0,
		as->physical ? 2 : 1 };
	const uint8_t physical[] = { DT_PHYSICAL, 4, 0 };
	const uint8_t wanted[] = { DT_REPORT, (uint8_t)report,
		(uint8_t)(report >> 8) };
	const uint8_t config[] = { 9, 2,
		(uint8_t)(25 + (as->no_hid ? 0 : hid[0])), 0, 1, 1, 0, 0x80,
		50 };
	const uint8_t interface[] = { 9, 4, 0, 0, 1, 3, as->boot ? 1 : 0, 0,
		0 };
	const uint8_t endpoint[] = { 7, 5, ENDPOINT, 3, as->packet, 0, 10 };

	s->dev.descriptors = s->descriptors;
	put(s, device, sizeof(device));
	put(s, config, sizeof(config));
	put(s, interface, sizeof(interface));
	if (!as->no_hid) {
		put(s, hid, sizeof(hid));
		if (as->physical)
			put(s, physical, sizeof(physical));
		put(s, wanted, sizeof(wanted));
	}
	put(s, endpoint, sizeof(endpoint));
	s->dev.strings[1] = "Invented";
	s->dev.strings[2] = "bench scale";
	s->dev.strings[3] = as->serial;
}

static int
scale_control(
    struct vusb_device *dev, const uint8_t setup[8], uint8_t *data, size_t size)
{
	struct vscale *s = (struct vscale *)dev;
	size_t len = s->as.descriptor_len;

	if (dev->vanish_ms != 0)
		return -EPROTO;
	if (setup[0] == 0x21 && setup[1] == SET_IDLE && s->as.repeats) {
		s->idle_ms = setup[3] * 4;
		return 0;
	}
	if (setup[0] != 0x81 || setup[1] != GET_DESCRIPTOR ||
	    setup[3] != DT_REPORT)
		return -EPIPE;
	s->asked++;
	if (s->as.silent)
		return VUSB_SILENT;
	if (s->as.no_report)
		return -EPIPE;
	if (len > size)
		len = size;
	memcpy(data, s->as.descriptor, len);
	return (int)len;
}

static int
say(struct vscale *s, const struct vscale_step *step, struct vurb *urb,
    int64_t now)
{
	const uint8_t report[REPORT_LEN] = { 3, step->status, step->unit,
		(uint8_t)step->exponent, (uint8_t)step->weight,
		(uint8_t)(step->weight >> 8) };
	size_t len = step->len != 0 ? step->len : REPORT_LEN;

	s->last_ms = now;
	switch (step->fault) {
	case VSCALE_UNPLUG:
		vusb_vanish(&s->dev, 0);
		return VUSB_WAIT;
	case VSCALE_YANK:
		vusb_vanish(&s->dev, now + YANK_MS);
		return -EPROTO;
	case VSCALE_STALL:
	case VSCALE_STALL_AGAIN:
		return -EPIPE;
	case VSCALE_GARBLE:
		return -EPROTO;
	case VSCALE_HUSH:
		return VUSB_WAIT;
	case VSCALE_WELL:
		break;
	}
	/* a packet longer than what was asked for babbles */
	if (urb->size < len)
		return -EOVERFLOW;
	memcpy(urb->data, report, len);
	urb->done = len;
	return 0;
}

/* When it speaks again if nothing new happens; 0: never. */
static int64_t
again_ms(const struct vscale *s)
{
	const struct vscale_step *step = &s->steps[s->said - 1];
	int every = s->idle_ms > 0 ? s->idle_ms : s->every_ms;

	if (step->fault == VSCALE_HUSH || step->fault == VSCALE_STALL)
		return 0;
	if (step->fault == VSCALE_STALL_AGAIN)
		return s->last_ms;
	return every > 0 ? s->last_ms + every : 0;
}

static int
scale_transfer(struct vusb_device *dev, struct vurb *urb, int64_t now)
{
	struct vscale *s = (struct vscale *)dev;
	int64_t next = 0, again;

	if (dev->vanish_ms != 0)
		return -EPROTO;
	if (s->first_ms == 0)
		s->first_ms = now;
	if (s->said < s->count) {
		next = s->first_ms + s->steps[s->said].at_ms;
		if (now >= next)
			return say(s, &s->steps[s->said++], urb, now);
	}
	again = s->said > 0 ? again_ms(s) : 0;
	if (again != 0 && now >= again)
		return say(s, &s->steps[s->said - 1], urb, now);
	if (next != 0)
		vusb_wake(dev, next);
	if (again != 0)
		vusb_wake(dev, again);
	return VUSB_WAIT;
}

static const struct vusb_model scale_model = {
	.control = scale_control,
	.transfer = scale_transfer,
};

/* --- for tests ------------------------------------------------------------ */

struct vscale *
vscale_new(struct vusb *bus, const struct vscale_as *as)
{
	struct vscale *s = xcalloc(1, sizeof(*s));

	if (as != NULL)
		s->as = *as;
	if (s->as.vendor == 0) {
		s->as.vendor = 0x0525;
		s->as.product = 0xA5CA;
	}
	if (s->as.descriptor == NULL) {
		s->as.descriptor = ordinary;
		s->as.descriptor_len = sizeof(ordinary);
	}
	if (s->as.packet == 0)
		s->as.packet = 8;
	s->idle_ms = -1;
	describe(s);
	s->dev.model = &scale_model;
	vusb_plug(bus, &s->dev);
	return s;
}

void
vscale_free(struct vscale *s)
{
	free(s);
}

struct vusb_device *
vscale_device(struct vscale *s)
{
	return &s->dev;
}

void
vscale_play(struct vscale *s, const struct vscale_step *steps, size_t count,
    int every_ms)
{
	vusb_lock(&s->dev);
	s->steps = steps;
	s->count = count;
	s->every_ms = every_ms;
	s->first_ms = s->last_ms = 0;
	s->said = 0;
	vusb_unlock(&s->dev);
}

int
vscale_asked(struct vscale *s)
{
	return s->asked;
}

int
vscale_idle(struct vscale *s)
{
	return s->idle_ms;
}
