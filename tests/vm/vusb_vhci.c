/*
 * vusb_vhci.c - the bus as a real kernel has it: a device is plugged into the
 * kernel's virtual host controller and its transfers come over a socket pair,
 * as USB/IP messages.  Only inside the virtual machine.
 *
 * Source of the messages: Linux Documentation/usb/usbip_protocol.rst.  An
 * unlink is answered by the transfer itself first, with what it had moved: the
 * plain answer would lose the count.
 */
#define _GNU_SOURCE
#include "tests/usb/vusb.h"

#include <arpa/inet.h>
#include <check.h>
#include <dirent.h>
#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <linux/usbdevice_fs.h>

#include "base/mem.h"
#include "base/str.h"

#define VHCI "/sys/devices/platform/vhci_hcd.0"
#define BUS_DEVICES 64
#define HIGH_SPEED 3
#define PORT_FREE 4 /* of the status file */

#define CMD_SUBMIT 1
#define CMD_UNLINK 2
#define RET_SUBMIT 3
#define RET_UNLINK 4
#define DIR_IN 1

/* A message's first 48 bytes, as the words they are on the wire. */
struct header {
	uint32_t command, seqnum, devid, direction, ep;
	uint32_t word[5]; /* flags or status; length; and more */
	uint8_t setup[8];
};

struct request {
	struct vurb urb; /* must be first */
	uint32_t seqnum;
	bool silent; /* a control request never answered */
	struct request *next;
};

struct node {
	struct vusb_device *dev;
	int sock, wake[2];
	int port, claim; /* claim: our own hold on the node, or -1 */
	pthread_t thread;
	bool closed;
	bool forbidden; /* to all but root, once somebody else looks */
	struct request *silent;
	char name[16];  /* in /sys/bus/usb/devices: "1-3" */
	char where[64]; /* /dev/bus/usb/001/007 */
};

struct vusb {
	struct node *nodes[BUS_DEVICES];
	int count;
};

static void
nap(void)
{
	struct timespec t = { 0, 5 * 1000000L };

	nanosleep(&t, NULL);
}

/* --- messages ------------------------------------------------------------ */

static bool
get(int fd, void *buf, size_t len)
{
	uint8_t *p = buf;
	ssize_t n;

	while (len > 0) {
		n = recv(fd, p, len, 0);
		if (n <= 0)
			return false;
		p += n;
		len -= (size_t)n;
	}
	return true;
}

static void
put(struct node *n, const void *buf, size_t len)
{
	const uint8_t *p = buf;
	ssize_t done;

	while (len > 0 && !n->closed) {
		done = send(n->sock, p, len, MSG_NOSIGNAL);
		if (done <= 0)
			n->closed = true;
		else {
			p += done;
			len -= (size_t)done;
		}
	}
}

static void
answer(struct node *n, uint32_t command, uint32_t seqnum, int status,
    const struct vurb *urb)
{
	struct header h = { .command = htonl(command),
		.seqnum = htonl(seqnum) };

	h.word[0] = htonl((uint32_t)status);
	if (urb != NULL)
		h.word[1] = htonl((uint32_t)urb->done);
	put(n, &h, sizeof(h));
	if (urb != NULL && (urb->endpoint & 0x80) != 0 && urb->done > 0)
		put(n, urb->data, urb->done);
}

void
vusb_finished(struct vusb_device *dev, struct vurb *urb)
{
	struct request *r = (struct request *)urb;

	/* A device that is gone says nothing any more. */
	if (!dev->gone)
		answer(dev->back, RET_SUBMIT, r->seqnum,
		    urb->status == -ENOENT ? -ECONNRESET : urb->status, urb);
	free(urb->data);
	free(r);
}

static void
control(struct node *n, struct request *r, const uint8_t setup[8])
{
	static const uint8_t set_configuration[] = { 0x00, 9 };
	static const uint8_t set_interface[] = { 0x01, 11 };
	int done;

	if (memcmp(setup, set_configuration, 2) == 0) {
		memset(n->dev->alternate, 0, sizeof(n->dev->alternate));
		done = 0;
	} else if (memcmp(setup, set_interface, 2) == 0) {
		done =
		    vusb_has_alternate(n->dev, setup[4], setup[2]) ? 0 : -EPIPE;
		if (done == 0)
			n->dev->alternate[setup[4]] = setup[2];
	} else {
		done = vusb_control(n->dev, setup, r->urb.data, r->urb.size);
	}
	if (done == VUSB_SILENT) {
		r->next = n->silent;
		n->silent = r;
		return;
	}
	r->urb.done = done < 0 ? 0 : (size_t)done;
	r->urb.status = done < 0 ? done : 0;
	vusb_finished(n->dev, &r->urb);
}

static void
unlink_request(struct node *n, uint32_t seqnum, uint32_t which)
{
	struct request **p, *r;
	struct vurb *v;

	for (p = &n->silent; (r = *p) != NULL; p = &r->next)
		if (r->seqnum == which) {
			*p = r->next;
			r->urb.status = -ENOENT;
			vusb_finished(n->dev, &r->urb);
			break;
		}
	for (v = n->dev->queue; v != NULL; v = v->next)
		if (((struct request *)v)->seqnum == which) {
			vusb_discard(n->dev, v);
			break;
		}
	answer(n, RET_UNLINK, seqnum, 0, NULL);
}

/* One message; false when the line is cut. */
static bool
serve(struct node *n)
{
	struct request *r;
	struct header h;
	uint32_t command, ep;
	bool in;

	if (!get(n->sock, &h, sizeof(h)))
		return false;
	command = ntohl(h.command);
	if (command == CMD_UNLINK) {
		unlink_request(n, ntohl(h.seqnum), ntohl(h.word[0]));
		return true;
	}
	if (command != CMD_SUBMIT)
		return false;
	ep = ntohl(h.ep);
	in = ntohl(h.direction) == DIR_IN;
	r = xcalloc(1, sizeof(*r));
	r->seqnum = ntohl(h.seqnum);
	r->urb.size = ntohl(h.word[1]);
	r->urb.data = xcalloc(1, r->urb.size + 1);
	r->urb.endpoint = (uint8_t)(ep | (in ? 0x80U : 0));
	if (!in && r->urb.size > 0 && !get(n->sock, r->urb.data, r->urb.size)) {
		free(r->urb.data);
		free(r);
		return false;
	}
	if (ep == 0)
		control(n, r, h.setup);
	else
		vusb_submit(n->dev, &r->urb);
	return true;
}

static void
cut(struct node *n)
{
	if (!n->closed)
		shutdown(n->sock, SHUT_RDWR);
	n->closed = true;
}

/* The device's own thread: messages in, and work whenever it is due. */
static void *
live(void *arg)
{
	struct node *n = arg;
	struct pollfd p[2] = { { .fd = n->sock, .events = POLLIN },
		{ .fd = n->wake[0], .events = POLLIN } };
	int64_t due = 0, now;
	char c[64];
	bool alive = true;

	while (alive) {
		now = vusb_now();
		poll(p, 2, due == 0 ? -1 : due > now ? (int)(due - now) : 0);
		if ((p[1].revents & POLLIN) != 0)
			ignore_rc(read(n->wake[0], c, sizeof(c)) < 0 ? RC_FAILED
								     : RC_OK);
		pthread_mutex_lock(&n->dev->lock);
		if (p[0].revents != 0 && !n->dev->gone)
			alive = serve(n);
		due = vusb_step(n->dev);
		if (n->dev->gone || !alive) {
			n->dev->gone = true;
			vusb_step(n->dev);
			cut(n);
			alive = false;
		}
		pthread_mutex_unlock(&n->dev->lock);
	}
	return NULL;
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

	pthread_mutex_unlock(&dev->lock);
	if (n != NULL && write(n->wake[1], "", 1) < 0 && errno != EAGAIN)
		ck_abort_msg("wake: %s", strerror(errno));
}

/* --- plugs --------------------------------------------------------------- */

/* A free high-speed port of the virtual controller; -1: none now. */
static int
free_port(void)
{
	char line[160], hub[8];
	FILE *f = fopen(VHCI "/status", "r");
	int port, state, found = -1;

	ck_assert_ptr_nonnull(f);
	while (found < 0 && fgets(line, sizeof(line), f) != NULL)
		if (sscanf(line, "%7s %d %d", hub, &port, &state) == 3 &&
		    str_eq(hub, "hs") && state == PORT_FREE)
			found = port;
	fclose(f);
	return found;
}

/* The controller's two root hubs: the first has the high-speed ports. */
static int
bus_number(void)
{
	DIR *d = opendir(VHCI);
	const struct dirent *e;
	int n, least = 999;

	ck_assert_ptr_nonnull(d);
	while ((e = readdir(d)) != NULL)
		if (sscanf(e->d_name, "usb%d", &n) == 1 && n < least)
			least = n;
	closedir(d);
	return least;
}

static void
attach(struct node *n)
{
	int pair[2], fd, tries, len;
	char text[64];

	ck_assert_int_eq(socketpair(AF_UNIX, SOCK_STREAM, 0, pair), 0);
	n->sock = pair[0];
	for (tries = 0; (n->port = free_port()) < 0 && tries < 400; tries++)
		nap();
	ck_assert_msg(n->port >= 0, "no free port");
	len = snprintf(text, sizeof(text), "%d %d %d %d", n->port, pair[1],
	    1 << 16 | (n->port + 2), HIGH_SPEED);
	fd = open(VHCI "/attach", O_WRONLY);
	ck_assert_msg(fd >= 0 && write(fd, text, (size_t)len) == len,
	    "attach: %s", strerror(errno));
	close(fd);
	close(pair[1]);
	str_fmt(n->name, sizeof(n->name), "%d-%d", bus_number(), n->port + 1);
}

static int
number_in(const struct node *n, const char *file)
{
	char path[128];
	FILE *f;
	int value = -1;

	str_fmt(
	    path, sizeof(path), "/sys/bus/usb/devices/%s/%s", n->name, file);
	f = fopen(path, "r");
	if (f != NULL) {
		if (fscanf(f, "%d", &value) != 1)
			value = -1;
		fclose(f);
	}
	return value;
}

static void
interface_path(char *dst, size_t size, const struct node *n, int interface,
    const char *file)
{
	str_fmt(dst, size, "/sys/bus/usb/devices/%s:1.%d/%s", n->name,
	    interface, file);
}

/* Enumerated, node there, the kernel's driver bound if it wants to. */
static void
wait_ready(struct node *n)
{
	char path[128];
	int tries, at, dev = -1, i;
	bool is_printer;

	for (tries = 0; tries < 600; tries++, nap()) {
		dev = number_in(n, "devnum");
		if (dev < 0 || number_in(n, "bConfigurationValue") != 1)
			continue;
		str_fmt(n->where, sizeof(n->where), "/dev/bus/usb/%03d/%03d",
		    bus_number(), dev);
		if (access(n->where, F_OK) == 0)
			break;
	}
	ck_assert_msg(
	    access(n->where, F_OK) == 0, "%s was not enumerated", n->name);
	is_printer = false;
	for (i = 0; i < VUSB_INTERFACES; i++)
		is_printer = is_printer || vusb_class(n->dev, i) == 7;
	/* A driver that does not want it is not waited for for ever. */
	for (at = 0; is_printer && at < 40; at++, nap())
		for (i = 0; i < VUSB_INTERFACES; i++) {
			interface_path(path, sizeof(path), n, i, "driver");
			if (access(path, F_OK) == 0)
				return;
		}
}

bool
vusb_played(void)
{
	return false;
}

struct vusb *
vusb_new(void)
{
	return xcalloc(1, sizeof(struct vusb));
}

void
vusb_plug(struct vusb *bus, struct vusb_device *dev)
{
	struct node *n = xcalloc(1, sizeof(*n));

	ck_assert_int_lt(bus->count, BUS_DEVICES);
	bus->nodes[bus->count++] = n;
	pthread_mutex_init(&dev->lock, NULL);
	n->dev = dev;
	n->claim = -1;
	ck_assert_int_eq(pipe2(n->wake, O_NONBLOCK | O_CLOEXEC), 0);
	vusb_start(dev, bus, n);
	attach(n);
	ck_assert_int_eq(pthread_create(&n->thread, NULL, live, n), 0);
	wait_ready(n);
}

void
vusb_unplug(struct vusb_device *dev)
{
	char path[64];
	struct node *n = dev->back;
	int tries;

	vusb_lock(dev);
	dev->gone = true;
	vusb_unlock(dev);
	str_fmt(path, sizeof(path), "/sys/bus/usb/devices/%s", n->name);
	for (tries = 0;
	     n->name[0] != '\0' && access(path, F_OK) == 0 && tries < 400;
	     tries++)
		nap();
}

void
vusb_free(struct vusb *bus)
{
	struct request *r;
	int i;

	for (i = 0; i < bus->count; i++) {
		struct node *n = bus->nodes[i];

		if (n->claim >= 0)
			close(n->claim);
		/* Plugged in again it has another node; this one is over. */
		if (n->dev->back == n)
			vusb_unplug(n->dev);
		pthread_join(n->thread, NULL);
		while ((r = n->silent) != NULL) {
			n->silent = r->next;
			free(r->urb.data);
			free(r);
		}
		close(n->sock);
		close(n->wake[0]);
		close(n->wake[1]);
		free(n);
	}
	free(bus);
}

/* --- what the mock plays, and here the kernel does ----------------------- */

static void
write_to(const char *path, const char *text)
{
	int fd = open(path, O_WRONLY);

	ck_assert_msg(fd >= 0 && write(fd, text, strlen(text)) > 0, "%s: %s",
	    path, strerror(errno));
	close(fd);
}

const char *
vusb_driver_now(struct vusb_device *dev, int interface)
{
	static char name[64];
	char path[128], link[128];
	ssize_t len;

	interface_path(path, sizeof(path), dev->back, interface, "driver");
	len = readlink(path, link, sizeof(link) - 1);
	if (len < 0)
		return "";
	link[len] = '\0';
	str_copy(name, sizeof(name), strrchr(link, '/') + 1);
	return name;
}

void
vusb_driver(struct vusb_device *dev, int interface, const char *name)
{
	struct node *n = dev->back;
	struct usbdevfs_disconnect_claim dc = { 0 };
	char path[128], id[32];

	if (str_eq(vusb_driver_now(dev, interface), name))
		return;
	str_fmt(id, sizeof(id), "%s:1.%d", n->name, interface);
	if (str_eq(name, "usbfs")) {
		n->claim = open(n->where, O_RDWR | O_CLOEXEC);
		dc.interface = (unsigned)interface;
		ck_assert_int_ge(n->claim, 0);
		ck_assert_int_eq(
		    ioctl(n->claim, USBDEVFS_DISCONNECT_CLAIM, &dc), 0);
		return;
	}
	if (n->claim >= 0)
		close(n->claim);
	n->claim = -1;
	if (str_eq(vusb_driver_now(dev, interface), name))
		return;
	if (name[0] == '\0') {
		str_fmt(path, sizeof(path), "/sys/bus/usb/drivers/%s/unbind",
		    vusb_driver_now(dev, interface));
		write_to(path, id);
		return;
	}
	str_fmt(path, sizeof(path), "/sys/bus/usb/drivers/%s/bind", name);
	write_to(path, id);
}

/* A real kernel has its own mind about these: see vusb_played. */
void
vusb_caps(struct vusb_device *dev, uint32_t caps)
{
	(void)dev;
	(void)caps;
	ck_abort_msg("a real kernel says itself what it can do");
}

void
vusb_refuse(struct vusb_device *dev, int count)
{
	(void)dev;
	(void)count;
	ck_abort_msg("a real kernel is not short of memory on demand");
}

/* Until udev has done what it wants with the new node. */
static void
settle(void)
{
	char name[] = "udevadm", what[] = "settle";
	char *const argv[] = { name, what, NULL };
	char *const envp[] = { NULL };
	int status = -1;
	pid_t pid;

	ck_assert_int_eq(
	    posix_spawn(&pid, "/bin/udevadm", NULL, NULL, argv, envp), 0);
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert_int_eq(status, 0);
}

void
vusb_forbid(struct vusb_device *dev)
{
	struct node *n = dev->back;

	n->forbidden = true;
}

/* As on the played bus every other node is open to all. */
void
vusb_as_nobody(struct vusb *bus)
{
	const struct node *n;
	int i;

	settle();
	for (i = 0; i < bus->count; i++) {
		n = bus->nodes[i];
		ck_assert_int_eq(
		    chmod(n->where, n->forbidden ? 0600 : 0666), 0);
	}
	ck_assert_int_eq(seteuid(65534), 0);
}

void
vusb_as_root(void)
{
	ck_assert_int_eq(seteuid(0), 0);
}
