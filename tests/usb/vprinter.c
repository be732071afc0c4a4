/* vprinter.c - a label printer of USB class 7 that exists only in a test. */
#include "vprinter.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/mem.h"
#include "base/str.h"

#define TOOK_MAX ((size_t)16 * 1024 * 1024)
#define PACKET 512
#define YANK_MS 20

/* USB printer class 1.1. */
#define GET_DEVICE_ID 0
#define GET_PORT_STATUS 1
#define SOFT_RESET 2

struct vprinter {
	struct vusb_device dev; /* must be first */
	struct vprinter_as as;
	uint8_t descriptors[18 + 9 + VPRINTER_SETTINGS * (9 + 7 + 7)];
	struct buf id;
	struct buf took;
	size_t heard; /* of `took`, by the ear */
	vprinter_ear *ear;

	enum vprinter_fault fault;
	size_t fault_at; /* of `took`; SIZE_MAX: none */
	uint8_t port, fault_port;
	bool quiet;

	size_t pace, most;
	int pace_ms;
	int64_t next_ms; /* takes nothing before */
	uint32_t chance;

	struct buf say;
	int64_t say_ms;
	bool empty_answers, stall_in;
	int resets;
};

/* --- what it is ---------------------------------------------------------- */

static void
put(uint8_t *d, size_t *n, const uint8_t *bytes, size_t len)
{
	memcpy(d + *n, bytes, len);
	*n += len;
}

static void
put_setting(struct vprinter *p, size_t *n, int i)
{
	uint8_t protocol = p->as.protocols[i];
	bool both = protocol >= 2 || p->as.class == 0xFF;
	const uint8_t setting[] = { 9, 4, p->as.interface, (uint8_t)i,
		both ? 2 : 1, p->as.class, p->as.subclass, protocol, 0 };
	/* endpoints differ by setting, so that the wrong one is noticed */
	const uint8_t out[] = { 7, 5, (uint8_t)(1 + i), 2, 0, 2, 0 };
	const uint8_t in[] = { 7, 5, (uint8_t)(0x81 + i), 2, 0, 2, 0 };

	put(p->descriptors, n, setting, sizeof(setting));
	put(p->descriptors, n, out, sizeof(out));
	if (both)
		put(p->descriptors, n, in, sizeof(in));
}

static void
describe(struct vprinter *p)
{
	const struct vprinter_as *as = &p->as;
	const uint8_t device[] = { 18, 1, 0, 2, 0, 0, 0, 64,
		(uint8_t)as->vendor, (uint8_t)(as->vendor >> 8),
		(uint8_t)as->product, (uint8_t)(as->product >> 8), 0, 1,
		as->make != NULL ? 1 : 0, as->model != NULL ? 2 : 0,
		as->serial != NULL ? 3 : 0, 1 };
	uint8_t config[] = { 9, 2, 0, 0, 1, 1, 0, 0xC0, 0 };
	size_t n = 0;
	int i;

	put(p->descriptors, &n, device, sizeof(device));
	put(p->descriptors, &n, config, sizeof(config));
	for (i = 0; i < VPRINTER_SETTINGS && as->protocols[i] != 0; i++)
		put_setting(p, &n, i);
	p->descriptors[18 + 2] = (uint8_t)(n - 18);
	p->dev.descriptors = p->descriptors;
	p->dev.descriptors_len = n;
	p->dev.strings[1] = as->make;
	p->dev.strings[2] = as->model;
	p->dev.strings[3] = as->serial;
}

static void
make_id(struct vprinter *p)
{
	const struct vprinter_as *as = &p->as;

	buf_init(&p->id, 4096);
	if (as->id != NULL) {
		buf_add(&p->id, as->id, as->id_len);
		return;
	}
	buf_printf(&p->id, "  MFG:%s;MDL:%s;CMD:%s;CLS:PRINTER;",
	    as->make != NULL ? as->make : "",
	    as->model != NULL ? as->model : "",
	    as->commands != NULL ? as->commands : "");
	p->id.data[0] = (char)(p->id.len >> 8);
	p->id.data[1] = (char)p->id.len;
}

/* --- requests ------------------------------------------------------------ */

static int
device_id(const struct vprinter *p, unsigned index, uint8_t *data, size_t size)
{
	size_t n = p->id.len < size ? p->id.len : size;
	bool right = index >> 8 == p->as.interface &&
	    (p->as.id_setting == 0 || (index & 0xFF) == p->as.id_setting);

	if (p->as.id_index_plain)
		right = index == p->as.interface;
	if (p->as.no_id || !right)
		return -EPIPE;
	memcpy(data, p->id.data, n);
	return (int)n;
}

static int
printer_control(
    struct vusb_device *dev, const uint8_t setup[8], uint8_t *data, size_t size)
{
	struct vprinter *p = (struct vprinter *)dev;
	unsigned index = setup[4] | (unsigned)setup[5] << 8;

	/* after the cable was pulled nothing answers, and for a moment the
	 * kernel does not know */
	if (dev->vanish_ms != 0)
		return -EPROTO;
	if ((setup[0] & 0x60) != 0x20)
		return -EPIPE;
	if (p->quiet)
		return VUSB_SILENT;
	if (setup[0] == 0xA1 && setup[1] == GET_DEVICE_ID)
		return device_id(p, index, data, size);
	if (setup[0] == 0xA1 && setup[1] == GET_PORT_STATUS && size >= 1 &&
	    index == p->as.interface && !p->as.no_status) {
		data[0] = p->port;
		return 1;
	}
	if (setup[1] == SOFT_RESET && index == p->as.interface &&
	    !p->as.no_reset && setup[0] == (p->as.old_reset ? 0x23 : 0x21)) {
		p->resets++;
		return 0;
	}
	return -EPIPE;
}

/* --- bytes in ------------------------------------------------------------ */

static uint32_t
chance(struct vprinter *p)
{
	p->chance = p->chance * 1664525 + 1013904223;
	return p->chance >> 8;
}

/* How many of `left` bytes it takes now. */
static size_t
appetite(struct vprinter *p, size_t left, int64_t now)
{
	size_t n = left, until_fault = p->fault_at - p->took.len;

	if (now < p->next_ms) {
		vusb_wake(&p->dev, p->next_ms);
		return 0;
	}
	if (p->pace > 0 && n > p->pace)
		n = p->pace;
	if (p->most > 0 && n > 0) {
		size_t most = 1 + chance(p) % p->most;

		n = n < most ? n : most;
	}
	return n < until_fault ? n : until_fault;
}

static void
rest(struct vprinter *p, int64_t now)
{
	int ms = p->pace_ms;

	if (p->most > 0)
		ms = chance(p) % 4 == 0 ? (int)(chance(p) % 8) : 0;
	p->next_ms = now + ms;
	vusb_wake(&p->dev, p->next_ms > now ? p->next_ms : now);
}

static int
go_wrong(struct vprinter *p, int64_t now)
{
	if (p->fault_port != 0)
		p->port = p->fault_port;
	switch (p->fault) {
	case VPRINTER_STALL:
		p->fault_at = SIZE_MAX;
		return -EPIPE;
	case VPRINTER_STALL_AGAIN:
		return -EPIPE;
	case VPRINTER_GARBLE:
		p->fault_at = SIZE_MAX;
		return -EPROTO;
	case VPRINTER_UNPLUG:
		vusb_vanish(&p->dev, 0);
		return VUSB_WAIT;
	case VPRINTER_YANK:
		vusb_vanish(&p->dev, now + YANK_MS);
		return -EPROTO;
	case VPRINTER_WELL:
	case VPRINTER_HANG:
		break;
	}
	return VUSB_WAIT;
}

static int
take(struct vprinter *p, struct vurb *urb, int64_t now)
{
	size_t n = appetite(p, urb->size - urb->done, now);

	if (n > 0) {
		buf_add(&p->took, urb->data + urb->done, n);
		ck_assert(!p->took.full);
		urb->done += n;
		if (p->ear != NULL)
			p->heard +=
			    p->ear(p, (uint8_t *)p->took.data + p->heard,
				p->took.len - p->heard);
		if (p->pace > 0 || p->most > 0)
			rest(p, now);
	}
	if (urb->done == urb->size)
		return 0;
	if (p->took.len == p->fault_at)
		return go_wrong(p, now);
	return VUSB_WAIT;
}

/* --- bytes out ----------------------------------------------------------- */

static int
tell(struct vprinter *p, struct vurb *urb, int64_t now)
{
	size_t n = p->say.len;

	if (p->stall_in) {
		p->stall_in = false;
		return -EPIPE;
	}
	if (n > 0 && now < p->say_ms) {
		vusb_wake(&p->dev, p->say_ms);
		n = 0;
	}
	if (n == 0)
		return p->empty_answers ? 0 : VUSB_WAIT;
	/* a packet longer than what was asked for babbles */
	if (urb->size < (n < PACKET ? n : PACKET))
		return -EOVERFLOW;
	if (n > urb->size)
		n = urb->size;
	memcpy(urb->data, p->say.data, n);
	urb->done = n;
	memmove(p->say.data, p->say.data + n, p->say.len - n);
	p->say.len -= n;
	return 0;
}

static int
printer_transfer(struct vusb_device *dev, struct vurb *urb, int64_t now_ms)
{
	struct vprinter *p = (struct vprinter *)dev;

	if (dev->vanish_ms != 0)
		return -EPROTO;
	return urb->endpoint >= 0x80 ? tell(p, urb, now_ms)
				     : take(p, urb, now_ms);
}

static const struct vusb_model printer_model = {
	.control = printer_control,
	.transfer = printer_transfer,
};

/* --- for tests ----------------------------------------------------------- */

struct vprinter *
vprinter_new(struct vusb *bus, const struct vprinter_as *as)
{
	struct vprinter *p = xcalloc(1, sizeof(*p));

	if (as != NULL)
		p->as = *as;
	if (p->as.vendor == 0) {
		p->as.vendor = 0x0525;
		p->as.product = 0xA4A8;
	}
	if (p->as.class == 0) {
		p->as.class = 7;
		p->as.subclass = 1;
	}
	if (p->as.protocols[0] == 0)
		p->as.protocols[0] = 2;
	p->port = 0x18;
	p->fault_at = SIZE_MAX;
	buf_init(&p->took, TOOK_MAX);
	buf_init(&p->say, TOOK_MAX);
	describe(p);
	make_id(p);
	p->dev.model = &printer_model;
	vusb_plug(bus, &p->dev);
	return p;
}

void
vprinter_free(struct vprinter *p)
{
	if (p == NULL)
		return;
	buf_fini(&p->id);
	buf_fini(&p->took);
	buf_fini(&p->say);
	free(p);
}

struct vusb_device *
vprinter_device(struct vprinter *p)
{
	return &p->dev;
}

void
vprinter_fault(
    struct vprinter *p, size_t after, enum vprinter_fault fault, uint8_t port)
{
	vusb_lock(&p->dev);
	p->fault = fault;
	p->fault_at = p->took.len + after;
	p->fault_port = port;
	vusb_unlock(&p->dev);
}

void
vprinter_mend(struct vprinter *p)
{
	vusb_lock(&p->dev);
	p->fault = VPRINTER_WELL;
	p->fault_at = SIZE_MAX;
	p->port = 0x18;
	vusb_unlock(&p->dev);
}

void
vprinter_port(struct vprinter *p, uint8_t port)
{
	vusb_lock(&p->dev);
	p->port = port;
	vusb_unlock(&p->dev);
}

void
vprinter_quiet(struct vprinter *p, bool quiet)
{
	vusb_lock(&p->dev);
	p->quiet = quiet;
	vusb_unlock(&p->dev);
}

void
vprinter_pace(struct vprinter *p, size_t bytes, int ms)
{
	vusb_lock(&p->dev);
	p->pace = bytes;
	p->pace_ms = ms;
	vusb_unlock(&p->dev);
}

void
vprinter_ragged(struct vprinter *p, size_t most, uint32_t seed)
{
	vusb_lock(&p->dev);
	p->most = most;
	p->chance = seed;
	vusb_unlock(&p->dev);
}

void
vprinter_answer(struct vprinter *p, const void *bytes, size_t len, int ms)
{
	buf_add(&p->say, bytes, len);
	p->say_ms = vusb_now() + ms;
	vusb_wake(&p->dev, p->say_ms);
}

void
vprinter_say(struct vprinter *p, const void *bytes, size_t len, int ms)
{
	vusb_lock(&p->dev);
	vprinter_answer(p, bytes, len, ms);
	vusb_unlock(&p->dev);
}

void
vprinter_empty_answers(struct vprinter *p)
{
	vusb_lock(&p->dev);
	p->empty_answers = true;
	vusb_unlock(&p->dev);
}

void
vprinter_stall_in(struct vprinter *p)
{
	vusb_lock(&p->dev);
	p->stall_in = true;
	vusb_unlock(&p->dev);
}

void
vprinter_listen(struct vprinter *p, vprinter_ear *ear)
{
	vusb_lock(&p->dev);
	p->ear = ear;
	vusb_unlock(&p->dev);
}

const uint8_t *
vprinter_took(struct vprinter *p, size_t *len)
{
	const uint8_t *bytes;

	vusb_lock(&p->dev);
	*len = p->took.len;
	bytes = (const uint8_t *)buf_text(&p->took);
	vusb_unlock(&p->dev);
	return bytes;
}

int
vprinter_resets(struct vprinter *p)
{
	return p->resets;
}
