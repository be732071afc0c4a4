/* gadget.c - a printer made by the kernel; see gadget.h. */
#include "gadget.h"

#include <check.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include <linux/usb/g_printer.h>

#define ROOT "/sys/kernel/config/usb_gadget/printer"
#define NODE "/dev/g_printer0"

static int node = -1;

void
gadget_wait(int ms)
{
	struct timespec t = { ms / 1000, ms % 1000 * 1000000L };

	nanosleep(&t, NULL);
}

static void
put(const char *path, const char *text)
{
	int fd = open(path, O_WRONLY);
	size_t n = strlen(text);

	ck_assert_msg(fd >= 0, "%s: %s", path, strerror(errno));
	ck_assert_msg(
	    write(fd, text, n) == (ssize_t)n, "%s: %s", path, strerror(errno));
	close(fd);
}

static void
folder(const char *path)
{
	ck_assert_msg(mkdir(path, 0755) == 0 || errno == EEXIST, "%s: %s", path,
	    strerror(errno));
}

void
gadget_make(const char *id, const char *serial)
{
	char text[16];

	folder(ROOT);
	snprintf(text, sizeof(text), "0x%04x", GADGET_VENDOR);
	put(ROOT "/idVendor", text);
	snprintf(text, sizeof(text), "0x%04x", GADGET_PRODUCT);
	put(ROOT "/idProduct", text);
	folder(ROOT "/strings/0x409");
	put(ROOT "/strings/0x409/serialnumber", serial);
	put(ROOT "/strings/0x409/manufacturer", "Invented");
	put(ROOT "/strings/0x409/product", "Gadget");
	folder(ROOT "/configs/c.1");
	folder(ROOT "/functions/printer.0");
	put(ROOT "/functions/printer.0/pnp_string", id);
	ck_assert(symlink(ROOT "/functions/printer.0",
		      ROOT "/configs/c.1/printer.0") == 0 ||
	    errno == EEXIST);
}

void
gadget_plug(void)
{
	int tries;

	put(ROOT "/UDC", "dummy_udc.0");
	for (tries = 0; tries < 200 && node < 0; tries++) {
		node = open(NODE, O_RDWR | O_NONBLOCK);
		if (node < 0)
			gadget_wait(10);
	}
	ck_assert_msg(node >= 0, "%s: %s", NODE, strerror(errno));
	gadget_status(PRINTER_NOT_ERROR | PRINTER_SELECTED);
	/* The host's side is ready when its driver has bound. */
	for (tries = 0; tries < 300 && !gadget_driver_bound(); tries++)
		gadget_wait(10);
	ck_assert(gadget_driver_bound());
}

void
gadget_unplug(void)
{
	put(ROOT "/UDC", "\n");
	close(node);
	node = -1;
}

void
gadget_status(uint8_t status)
{
	/* The call takes the byte itself, not its address. */
	ck_assert_int_ge(
	    ioctl(node, GADGET_SET_PRINTER_STATUS, (unsigned long)status), 0);
}

size_t
gadget_take(uint8_t *buf, size_t size, int wait_ms)
{
	struct pollfd p = { .fd = node, .events = POLLIN };
	size_t got = 0;
	ssize_t n;

	while (got < size && poll(&p, 1, wait_ms) > 0) {
		n = read(node, buf + got, size - got);
		if (n > 0)
			got += (size_t)n;
		else if (n == 0 || errno != EAGAIN)
			break;
	}
	return got;
}

void
gadget_say(const void *buf, size_t len)
{
	ck_assert_int_eq(write(node, buf, len), (ssize_t)len);
}

bool
gadget_driver_bound(void)
{
	DIR *d = opendir("/sys/bus/usb/drivers/usblp");
	const struct dirent *e;
	bool bound = false;

	if (d == NULL)
		return false;
	while ((e = readdir(d)) != NULL)
		bound = bound || strchr(e->d_name, ':') != NULL;
	closedir(d);
	return bound;
}
