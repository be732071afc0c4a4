/*
 * vusb.h - USB devices that exist only in a test.
 *
 * A device is a model: descriptors, strings and two functions.  vusb.c queues
 * its transfers and answers the standard requests; a back end carries them to
 * the real libusb.  vusb_mock.c is one: the kernel's usbfs as umockdev lets a
 * test play it, in the Check process.  Models know nothing of the back end.
 *
 * Threads: the back end calls models from a thread of its own with the device
 * locked.  A test changes a model only between vusb_lock() and vusb_unlock().
 */
#ifndef VUSB_H
#define VUSB_H

#include <errno.h>
#include <pthread.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define VUSB_INTERFACES 4
#define VUSB_STRINGS 6

struct vusb; /* a bus; the back end's */
struct vusb_device;

/* One transfer on an endpoint that is not 0. */
struct vurb {
	uint8_t endpoint; /* 0x80 set: to the host */
	uint8_t *data;
	size_t size;
	size_t done; /* bytes moved so far: the model counts up */
	int status;  /* when finished: 0 or -errno as the kernel says it */
	struct vurb *next;
};

/* What a model says beside 0 (done) and -errno (-EPIPE: stalled). */
enum {
	VUSB_WAIT = 1,       /* transfer(): not yet */
	VUSB_SILENT = -1000, /* control(): never answers */
};

struct vusb_model {
	/*
	 * A control request the bus does not answer itself; the setup packet
	 * as on the wire.  Returns the bytes moved, -EPIPE (not supported),
	 * another -errno, or VUSB_SILENT.
	 */
	int (*control)(struct vusb_device *dev, const uint8_t setup[8],
	    uint8_t *data, size_t size);

	/*
	 * Work on the oldest transfer of an endpoint.  0: finished; VUSB_WAIT:
	 * call again when something changed or at dev->wake_ms, if the model
	 * set it (vusb_wake()); -errno: failed.
	 */
	int (*transfer)(
	    struct vusb_device *dev, struct vurb *urb, int64_t now_ms);

	/* Optional: the endpoint's halt was cleared; 0: the device was reset.*/
	void (*cleared)(struct vusb_device *dev, uint8_t endpoint);
};

/* First member of every model's own struct. */
struct vusb_device {
	/* Filled in by the model before vusb_plug(). */
	const struct vusb_model *model;
	const uint8_t *descriptors; /* device, then its one configuration */
	size_t descriptors_len;
	const char *strings[VUSB_STRINGS]; /* by index, UTF-8; [0] not used */
	bool run_on; /* sends more of a string than its length says */

	/* Written by the bus; models and tests may read. */
	struct vusb *bus;
	bool gone;
	uint8_t alternate[VUSB_INTERFACES];
	unsigned asked;     /* times it was asked whether it is there */
	unsigned chosen;    /* times a setting was chosen */
	unsigned cleared;   /* halts cleared */
	size_t largest;     /* largest single transfer submitted */
	unsigned submitted; /* transfers submitted */

	/* The bus's own. */
	pthread_mutex_t lock;
	struct vurb *queue;
	uint32_t halted;
	int64_t wake_ms, vanish_ms;
	void *back;
};

/* --- for tests ----------------------------------------------------------- */

/* vusb_new, vusb_free - a bus with nothing plugged in.  One at a time. */
struct vusb *vusb_new(void);
void vusb_free(struct vusb *bus);

/* vusb_plug, vusb_unplug - may be repeated; the device stays the caller's and
 * must outlive the bus. */
void vusb_plug(struct vusb *bus, struct vusb_device *dev);
void vusb_unplug(struct vusb_device *dev);

/* vusb_lock, vusb_unlock - around every change of a model; unlocking makes the
 * device look at its transfers again. */
void vusb_lock(struct vusb_device *dev);
void vusb_unlock(struct vusb_device *dev);

/* vusb_now - milliseconds, as models are told. */
int64_t vusb_now(void);

/* vusb_played - does the back end play the kernel too?  Then a test may also
 * say what the kernel can and what it was asked; else it is a real one, with
 * drivers and a mind of its own. */
bool vusb_played(void);

/* vusb_driver - what holds an interface: "usblp", "usbfs" (another program),
 * "" nothing.  What was bound comes back when the kernel may probe again. */
void vusb_driver(struct vusb_device *dev, int interface, const char *name);
const char *vusb_driver_now(struct vusb_device *dev, int interface);

/* vusb_caps - what usbfs reports it can do (USBDEVFS_CAP_ bits). */
void vusb_caps(struct vusb_device *dev, uint32_t caps);

/* vusb_refuse - the next `count` submissions fail with ENOMEM. */
void vusb_refuse(struct vusb_device *dev, int count);

/* vusb_forbid - nobody but root may open the node.  A test that runs as root
 * is a user who may not between vusb_as_nobody() and vusb_as_root(). */
void vusb_forbid(struct vusb_device *dev);
void vusb_as_nobody(struct vusb *bus);
void vusb_as_root(void);

/* --- for models ---------------------------------------------------------- */

/* vusb_wake - call transfer() again at `ms` at the latest. */
void vusb_wake(struct vusb_device *dev, int64_t ms);

/* vusb_vanish - the device is gone at `ms` (0: at once). */
void vusb_vanish(struct vusb_device *dev, int64_t ms);

/* --- for back ends, the device locked ------------------------------------ */

void vusb_start(struct vusb_device *dev, struct vusb *bus, void *back);
void vusb_submit(struct vusb_device *dev, struct vurb *urb);
/* vusb_discard - finish it with -ENOENT and the bytes moved so far; false when
 * it is not waiting. */
bool vusb_discard(struct vusb_device *dev, struct vurb *urb);
int vusb_control(struct vusb_device *dev, const uint8_t setup[8], uint8_t *data,
    size_t size);
void vusb_clear_halt(struct vusb_device *dev, uint8_t endpoint);
/* vusb_endpoint_interface - whose alternate setting in force has it, or -1. */
int vusb_endpoint_interface(const struct vusb_device *dev, uint8_t endpoint);
bool vusb_has_alternate(
    const struct vusb_device *dev, int interface, int alternate);
int vusb_class(const struct vusb_device *dev, int interface);
/* vusb_step - let the model work; vusb_finished() is called for each transfer
 * done.  Returns when to step again, 0: when something happens. */
int64_t vusb_step(struct vusb_device *dev);
/* The back end's: `urb` is finished. */
void vusb_finished(struct vusb_device *dev, struct vurb *urb);

#endif /* VUSB_H */
