/*
 * vusb_mock.c - the bus as umockdev lets a test play it: sysfs entries, device
 * nodes, uevents.  What ioctl() does is in vusb_usbfs.c.
 *
 * umockdev serves ioctls from a thread of its own, in which all memory of the
 * program under test is read and written.
 */
#define _GNU_SOURCE
#include "vusb_mock.h"

#include <check.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <linux/usbdevice_fs.h>

#include "base/mem.h"
#include "base/str.h"

#define BUS_DEVICES 20
#define NOBODY 65534
#define CAPS_DEFAULT                                                           \
	(USBDEVFS_CAP_ZERO_PACKET | USBDEVFS_CAP_BULK_CONTINUATION |           \
	    USBDEVFS_CAP_NO_PACKET_SIZE_LIM |                                  \
	    USBDEVFS_CAP_BULK_SCATTER_GATHER |                                 \
	    USBDEVFS_CAP_REAP_AFTER_DISCONNECT)

struct vusb {
	UMockdevTestbed *testbed;
	char *root;
	struct node *nodes[BUS_DEVICES];
	int count;
};

/* --- the serving thread ----------------------------------------------------
 */

static void
remove_node(struct node *n)
{
	/* the serving thread sees that it is gone as soon as the test does */
	if (!g_atomic_int_compare_and_exchange(&n->removed, 0, 1))
		return;
	umockdev_testbed_uevent(n->bus->testbed, n->syspath, "remove");
	umockdev_testbed_remove_device(n->bus->testbed, n->syspath);
	usbfs_reapable(n, true);
}

/* Step the device; on the serving thread. */
static void
run(struct node *n)
{
	int64_t wake;
	bool gone;

	pthread_mutex_lock(&n->dev->lock);
	wake = vusb_step(n->dev);
	gone = n->dev->gone;
	pthread_mutex_unlock(&n->dev->lock);
	g_source_set_ready_time(n->timer, wake > 0 ? wake * 1000 : -1);
	if (gone)
		remove_node(n);
}

static gboolean
on_timer(GSource *source, GSourceFunc fn, gpointer arg)
{
	(void)source;
	(void)arg;
	return fn(arg);
}

static gboolean
on_ready(gpointer arg)
{
	run(arg);
	return G_SOURCE_CONTINUE;
}

static GSourceFuncs timer_funcs = { .dispatch = on_timer };

static void
make_timer(struct node *n)
{
	GSource *timer;

	if (n->timer != NULL)
		return;
	timer = g_source_new(&timer_funcs, sizeof(GSource));
	g_source_set_callback(timer, on_ready, n, NULL);
	g_source_attach(timer, g_main_context_get_thread_default());
	/* whole before the test's thread may see it */
	g_atomic_pointer_set(&n->timer, timer);
}

void
vusb_lock(struct vusb_device *dev)
{
	pthread_mutex_lock(&dev->lock);
}

void
vusb_unlock(struct vusb_device *dev)
{
	struct node *n = dev->back;
	GSource *timer;

	pthread_mutex_unlock(&dev->lock);
	if (n != NULL && (timer = g_atomic_pointer_get(&n->timer)) != NULL)
		g_source_set_ready_time(timer, 0);
}

static gboolean
on_ioctl(UMockdevIoctlBase *base, UMockdevIoctlClient *client, gpointer arg)
{
	struct node *n = arg;
	int rc;

	(void)base;
	make_timer(n);
	pthread_mutex_lock(&n->dev->lock);
	rc = usbfs_serve(n, client);
	pthread_mutex_unlock(&n->dev->lock);
	umockdev_ioctl_client_complete(
	    client, rc < 0 ? -1 : rc, rc < 0 ? -rc : 0);
	run(n);
	return TRUE;
}

static void
on_connected(UMockdevIoctlClient *client, GParamSpec *spec, gpointer arg)
{
	struct node *n = arg;

	(void)spec;
	if (umockdev_ioctl_client_get_connected(client))
		return;
	pthread_mutex_lock(&n->dev->lock);
	usbfs_forget(n, client);
	pthread_mutex_unlock(&n->dev->lock);
}

static void
on_client(UMockdevIoctlBase *base, UMockdevIoctlClient *client, gpointer arg)
{
	(void)base;
	g_signal_connect(
	    client, "notify::connected", G_CALLBACK(on_connected), arg);
}

/* --- the bus ------------------------------------------------------------- */

bool
vusb_played(void)
{
	return true;
}

static void
nothing(void)
{
}

/*
 * The test bed puts its folder into the environment while its own thread makes
 * its first signal connection, for which glib reads the environment, once: a
 * crash now and then.  So the first connection is made before there is a
 * thread.
 */
static void
connect_once(void)
{
	GCancellable *c = g_cancellable_new();

	g_signal_connect(c, "cancelled", G_CALLBACK(nothing), NULL);
	g_object_unref(c);
}

struct vusb *
vusb_new(void)
{
	struct vusb *bus = xcalloc(1, sizeof(*bus));

	connect_once();
	bus->testbed = umockdev_testbed_new();
	/* asked before there is a testbed, it says no for good */
	ck_assert(umockdev_in_mock_environment());
	bus->root = umockdev_testbed_get_root_dir(bus->testbed);
	return bus;
}

static void
node_path(char *dst, size_t size, const struct node *n)
{
	ck_assert(str_fmt(dst, size, "%s%s", n->bus->root, n->path));
}

/* A pipe in place of the node: it can be waited for without spinning. */
static void
make_fifo(struct node *n)
{
	char path[256];

	node_path(path, sizeof(path), n);
	unlink(path);
	ck_assert_int_eq(mkfifo(path, 0666), 0);
	ck_assert_int_eq(chmod(path, 0666), 0);
	n->fifo = open(path, O_RDWR | O_NONBLOCK | O_CLOEXEC);
	ck_assert_int_ge(n->fifo, 0);
	ck_assert_int_gt(fcntl(n->fifo, F_SETPIPE_SZ, VUSB_PIPE), 0);
	usbfs_reapable(n, false);
}

static void
describe(struct node *n)
{
	char text[4096];
	size_t used, i;
	GError *e = NULL;

	str_fmt(text, sizeof(text),
	    "P: %s\nN: %s\n"
	    "E: SUBSYSTEM=usb\nE: DEVTYPE=usb_device\nE: DEVNAME=%s\n"
	    "E: BUSNUM=001\nE: DEVNUM=%03d\nE: MAJOR=189\nE: MINOR=%d\n"
	    "A: busnum=1\\n\nA: devnum=%d\\n\nA: speed=480\\n\n"
	    "A: bConfigurationValue=1\\n\nA: dev=189:%d\\n\n"
	    "H: descriptors=",
	    n->syspath + 4, n->path + 5, n->path, n->number, n->number - 1,
	    n->number, n->number - 1);
	used = strlen(text);
	for (i = 0; i < n->dev->descriptors_len; i++, used += 2)
		ck_assert(str_fmt(text + used, sizeof(text) - used, "%02X",
		    n->dev->descriptors[i]));
	ck_assert(str_fmt(text + used, sizeof(text) - used, "\n\n"));
	ck_assert_msg(
	    umockdev_testbed_add_from_string(n->bus->testbed, text, &e), "%s",
	    e != NULL ? e->message : "");
}

static struct node *
new_node(struct vusb *bus, struct vusb_device *dev)
{
	struct node *n = xcalloc(1, sizeof(*n));

	ck_assert_int_lt(bus->count, BUS_DEVICES);
	n->bus = bus;
	n->dev = dev;
	n->caps = CAPS_DEFAULT;
	n->fifo = -1;
	/* a device plugged in again has a new number, as with the kernel */
	n->number = 2 + bus->count;
	str_fmt(n->path, sizeof(n->path), "/dev/bus/usb/001/%03d", n->number);
	str_fmt(n->syspath, sizeof(n->syspath), "/sys/devices/usb1/1-%d",
	    n->number);
	bus->nodes[bus->count++] = n;
	return n;
}

void
vusb_plug(struct vusb *bus, struct vusb_device *dev)
{
	struct node *n = new_node(bus, dev);
	GError *e = NULL;

	pthread_mutex_init(&dev->lock, NULL);
	vusb_start(dev, bus, n);
	n->base = umockdev_ioctl_base_new();
	g_signal_connect_after(
	    n->base, "handle-ioctl", G_CALLBACK(on_ioctl), n);
	g_signal_connect(n->base, "client-connected", G_CALLBACK(on_client), n);
	ck_assert_msg(
	    umockdev_testbed_attach_ioctl(bus->testbed, n->path, n->base, &e),
	    "%s", e != NULL ? e->message : "");
	describe(n);
	make_fifo(n);
}

void
vusb_unplug(struct vusb_device *dev)
{
	struct node *n = dev->back;

	vusb_lock(dev);
	dev->gone = true;
	vusb_step(dev);
	vusb_unlock(dev);
	remove_node(n);
}

void
vusb_free(struct vusb *bus)
{
	int i;

	for (i = 0; i < bus->count; i++) {
		struct node *n = bus->nodes[i];

		if (n->timer != NULL)
			g_source_destroy(n->timer);
	}
	/* ends the thread that serves */
	g_object_unref(bus->testbed);
	for (i = 0; i < bus->count; i++) {
		struct node *n = bus->nodes[i];

		if (n->timer != NULL)
			g_source_unref(n->timer);
		usbfs_end(n);
		g_object_unref(n->base);
		if (n->fifo >= 0)
			close(n->fifo);
		free(n);
	}
	g_free(bus->root);
	free(bus);
}

/* --- the kernel's side --------------------------------------------------- */

void
vusb_driver(struct vusb_device *dev, int interface, const char *name)
{
	struct node *n = dev->back;

	vusb_lock(dev);
	str_copy(n->driver[interface], sizeof(n->driver[0]), name);
	if (!str_eq(name, "usbfs"))
		str_copy(n->home[interface], sizeof(n->home[0]), name);
	vusb_unlock(dev);
}

const char *
vusb_driver_now(struct vusb_device *dev, int interface)
{
	struct node *n = dev->back;

	return n->driver[interface];
}

void
vusb_caps(struct vusb_device *dev, uint32_t caps)
{
	struct node *n = dev->back;

	n->caps = caps;
}

void
vusb_refuse(struct vusb_device *dev, int count)
{
	struct node *n = dev->back;

	vusb_lock(dev);
	n->refuse = count;
	vusb_unlock(dev);
}

void
vusb_forbid(struct vusb_device *dev)
{
	struct node *n = dev->back;
	char path[256];

	node_path(path, sizeof(path), n);
	ck_assert_int_eq(chmod(path, 0), 0);
}

/* The test bed's own files stay open to that user; only nodes forbid. */
void
vusb_as_nobody(struct vusb *bus)
{
	char path[256];
	int i;

	ck_assert_int_eq(chmod(bus->root, 0777), 0);
	for (i = 0; i < bus->count; i++) {
		ck_assert(str_fmt(path, sizeof(path), "%s/ioctl%s", bus->root,
		    bus->nodes[i]->path));
		ck_assert_int_eq(chmod(path, 0777), 0);
	}
	ck_assert_int_eq(seteuid(NOBODY), 0);
}

void
vusb_as_root(void)
{
	ck_assert_int_eq(seteuid(0), 0);
}
