/*
 * vusb_usbfs.c - what the kernel's usbfs does behind ioctl(), for one device
 * of the test's bus; after linux/usbdevice_fs.h and the kernel's own
 * documentation of it.
 */
#include "vusb_mock.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <linux/usbdevice_fs.h>

#include "base/mem.h"
#include "base/str.h"

/* --- waking the program under test --------------------------------------- */

/* libusb waits for POLLOUT: a pipe has it unless it is full, and this one holds
 * one page. */
void
usbfs_reapable(struct node *n, bool reapable)
{
	static char page[VUSB_PIPE];
	char waste[VUSB_PIPE];
	ssize_t done;

	if (n->fifo < 0)
		return;
	do
		done = reapable ? read(n->fifo, waste, sizeof(waste))
				: write(n->fifo, page, sizeof(page));
	while (done > 0);
}

void
vusb_finished(struct vusb_device *dev, struct vurb *urb)
{
	struct node *n = dev->back;
	struct request **p = &n->finished;

	while (*p != NULL)
		p = &(*p)->next;
	*p = (struct request *)urb;
	usbfs_reapable(n, true);
}

/* --- requests ------------------------------------------------------------ */

/* The program's memory behind a pointer; NULL when it cannot be read. */
static void *
at(UMockdevIoctlData **hold, UMockdevIoctlData *from, size_t offset, size_t len)
{
	*hold = umockdev_ioctl_data_resolve(from, offset, len, NULL);
	return *hold != NULL ? (*hold)->data : NULL;
}

static void
request_free(struct request *r)
{
	if (r->buffer != NULL)
		umockdev_ioctl_data_unref(r->buffer);
	umockdev_ioctl_data_unref(r->usbfs);
	free(r);
}

/* A request that was not claimed for claims by itself, as usbfs does. */
static int
claim(struct node *n, UMockdevIoctlClient *client, unsigned interface)
{
	if (interface >= VUSB_INTERFACES ||
	    !vusb_has_alternate(n->dev, (int)interface, -1))
		return -ENOENT;
	if (n->holder[interface] == client)
		return 0;
	if (n->driver[interface][0] != '\0')
		return -EBUSY;
	n->holder[interface] = client;
	str_copy(n->driver[interface], sizeof(n->driver[0]), "usbfs");
	return 0;
}

static int
release(struct node *n, UMockdevIoctlClient *client, unsigned interface)
{
	if (interface >= VUSB_INTERFACES || n->holder[interface] != client)
		return -EINVAL;
	n->holder[interface] = NULL;
	n->driver[interface][0] = '\0';
	return 0;
}

/* May this control request pass?  GET_DEVICE_ID of a printer always may. */
static int
may_ask(struct node *n, UMockdevIoctlClient *client, const uint8_t *setup)
{
	unsigned index = (unsigned)setup[4] | (unsigned)setup[5] << 8;
	int interface;

	if ((setup[0] & 0x60) == 0x40)
		return 0;
	if (setup[0] == 0xA1 && setup[1] == 0 &&
	    vusb_class(n->dev, (int)(index >> 8)) == 7 &&
	    vusb_has_alternate(n->dev, (int)(index >> 8), (int)(index & 0xFF)))
		return 0;
	if ((setup[0] & 0x1F) == 1)
		return claim(n, client, index & 0xFF);
	if ((setup[0] & 0x1F) == 2) {
		interface = vusb_endpoint_interface(n->dev, setup[4]);
		return interface < 0 ? -ENOENT
				     : claim(n, client, (unsigned)interface);
	}
	return 0;
}

static int
submit_control(struct node *n, struct request *r)
{
	const uint8_t *setup = r->buffer->data;
	size_t len = (size_t)setup[6] | (size_t)setup[7] << 8;
	int done;

	if (r->buffer->data_len < 8 + (int)len)
		return -EINVAL;
	if ((done = may_ask(n, r->client, setup)) != 0)
		return done;
	r->control = true;
	done = vusb_control(n->dev, setup, r->buffer->data + 8, len);
	if (done == VUSB_SILENT) {
		r->next = n->silent;
		n->silent = r;
		return 0;
	}
	r->urb.done = done < 0 ? 0 : (size_t)done;
	r->urb.status = done < 0 ? done : 0;
	vusb_finished(n->dev, &r->urb);
	return 0;
}

static int
submit(struct node *n, UMockdevIoctlClient *client, UMockdevIoctlData *arg)
{
	struct request *r = xcalloc(1, sizeof(*r));
	struct usbdevfs_urb *u = at(&r->usbfs, arg, 0, sizeof(*u));
	int rc = -EFAULT, interface;

	if (u == NULL) {
		free(r);
		return rc;
	}
	r->node = n;
	r->client = client;
	if (u->buffer_length > 0)
		at(&r->buffer, r->usbfs, offsetof(struct usbdevfs_urb, buffer),
		    (size_t)u->buffer_length);
	r->urb.endpoint = u->endpoint;
	r->urb.data = r->buffer != NULL ? r->buffer->data : NULL;
	r->urb.size = (size_t)u->buffer_length;
	if (n->refuse > 0) {
		n->refuse--;
		rc = -ENOMEM;
	} else if (u->type == USBDEVFS_URB_TYPE_CONTROL) {
		if (r->buffer != NULL)
			rc = submit_control(n, r);
	} else if ((interface = vusb_endpoint_interface(n->dev, u->endpoint)) <
	    0)
		rc = -ENOENT;
	else if ((rc = claim(n, client, (unsigned)interface)) == 0)
		vusb_submit(n->dev, &r->urb);
	if (rc != 0)
		request_free(r);
	return rc;
}

/* The oldest finished request of the client. */
static struct request **
find_finished(struct node *n, UMockdevIoctlClient *client)
{
	struct request **p = &n->finished;

	while (*p != NULL && (*p)->client != client)
		p = &(*p)->next;
	return p;
}

static int
reap(struct node *n, UMockdevIoctlClient *client, UMockdevIoctlData *arg)
{
	struct request **p = find_finished(n, client), *r = *p;
	struct usbdevfs_urb *u;
	UMockdevIoctlData *hold;

	if (r == NULL) {
		if (!n->dev->gone && n->finished == NULL)
			usbfs_reapable(n, false);
		return n->dev->gone ? -ENODEV : -EAGAIN;
	}
	*p = r->next;
	u = (struct usbdevfs_urb *)r->usbfs->data;
	u->status = r->urb.status;
	u->actual_length = (int)r->urb.done;
	if (at(&hold, arg, 0, sizeof(void *)) != NULL) {
		umockdev_ioctl_data_set_ptr(hold, 0, r->usbfs);
		umockdev_ioctl_data_unref(hold);
	}
	request_free(r);
	return 0;
}

/* DISCARDURB names the request by the address the program gave it. */
static int
discard(struct node *n, UMockdevIoctlClient *client, UMockdevIoctlData *arg)
{
	gulong address = *(gulong *)(void *)arg->data;
	struct request **p;
	struct vurb *v;

	for (p = &n->silent; *p != NULL; p = &(*p)->next)
		if ((*p)->client == client &&
		    (*p)->usbfs->client_addr == address) {
			struct request *r = *p;

			*p = r->next;
			r->next = NULL;
			r->urb.status = -ENOENT;
			vusb_finished(n->dev, &r->urb);
			return 0;
		}
	for (v = n->dev->queue; v != NULL; v = v->next) {
		struct request *r = (struct request *)v;

		if (r->client == client && r->usbfs->client_addr == address)
			return vusb_discard(n->dev, v) ? 0 : -EINVAL;
	}
	return -EINVAL;
}

/* --- interfaces and drivers ---------------------------------------------- */

/* The kernel's own driver lets go; another program's claim does not. */
static int
disconnect(struct node *n, unsigned interface)
{
	if (interface >= VUSB_INTERFACES || n->driver[interface][0] == '\0')
		return -ENODATA;
	if (str_eq(n->driver[interface], "usbfs"))
		return -EBUSY;
	n->driver[interface][0] = '\0';
	return 0;
}

static int
connect_driver(struct node *n, unsigned interface)
{
	if (interface >= VUSB_INTERFACES || n->driver[interface][0] != '\0')
		return -EBUSY;
	memcpy(n->driver[interface], n->home[interface], sizeof(n->home[0]));
	return n->driver[interface][0] != '\0' ? 1 : 0;
}

static int
disconnect_claim(
    struct node *n, UMockdevIoctlClient *client, UMockdevIoctlData *arg)
{
	UMockdevIoctlData *hold;
	struct usbdevfs_disconnect_claim *dc = at(&hold, arg, 0, sizeof(*dc));
	unsigned interface;
	int rc = 0;
	bool same;

	if (dc == NULL)
		return -EFAULT;
	interface = dc->interface;
	if (interface < VUSB_INTERFACES && n->driver[interface][0] != '\0') {
		same = strncmp(dc->driver, n->driver[interface], 15) == 0;
		if (((dc->flags & USBDEVFS_DISCONNECT_CLAIM_EXCEPT_DRIVER) !=
			    0 &&
			same) ||
		    ((dc->flags & USBDEVFS_DISCONNECT_CLAIM_IF_DRIVER) != 0 &&
			!same))
			rc = -EBUSY;
		else
			rc = disconnect(n, interface);
	}
	umockdev_ioctl_data_unref(hold);
	return rc != 0 ? rc : claim(n, client, interface);
}

static int
get_driver(struct node *n, UMockdevIoctlData *arg)
{
	UMockdevIoctlData *hold;
	struct usbdevfs_getdriver *gd = at(&hold, arg, 0, sizeof(*gd));
	int rc = -ENODATA;

	if (gd == NULL)
		return -EFAULT;
	if (gd->interface < VUSB_INTERFACES &&
	    n->driver[gd->interface][0] != '\0') {
		str_copy(
		    gd->driver, sizeof(gd->driver), n->driver[gd->interface]);
		rc = 0;
	}
	umockdev_ioctl_data_unref(hold);
	return rc;
}

static int
set_interface(
    struct node *n, UMockdevIoctlClient *client, UMockdevIoctlData *arg)
{
	UMockdevIoctlData *hold;
	struct usbdevfs_setinterface *si = at(&hold, arg, 0, sizeof(*si));
	int rc;

	if (si == NULL)
		return -EFAULT;
	rc = claim(n, client, si->interface);
	if (rc == 0 &&
	    !vusb_has_alternate(
		n->dev, (int)si->interface, (int)si->altsetting))
		rc = -EINVAL;
	if (rc == 0) {
		n->dev->alternate[si->interface] = (uint8_t)si->altsetting;
		n->dev->chosen++;
	}
	umockdev_ioctl_data_unref(hold);
	return rc;
}

/* USBDEVFS_IOCTL: DISCONNECT and CONNECT for one interface. */
static int
for_interface(struct node *n, UMockdevIoctlData *arg)
{
	UMockdevIoctlData *hold;
	struct usbdevfs_ioctl *io = at(&hold, arg, 0, sizeof(*io));
	int rc = -ENOTTY;

	if (io == NULL)
		return -EFAULT;
	if ((unsigned)io->ioctl_code == USBDEVFS_DISCONNECT)
		rc = disconnect(n, (unsigned)io->ifno);
	else if ((unsigned)io->ioctl_code == USBDEVFS_CONNECT)
		rc = connect_driver(n, (unsigned)io->ifno);
	umockdev_ioctl_data_unref(hold);
	return rc;
}

static int
get_caps(struct node *n, UMockdevIoctlData *arg)
{
	UMockdevIoctlData *hold;
	void *caps = at(&hold, arg, 0, sizeof(n->caps));

	if (caps == NULL)
		return -EFAULT;
	memcpy(caps, &n->caps, sizeof(n->caps));
	umockdev_ioctl_data_unref(hold);
	return 0;
}

/* --- ioctl --------------------------------------------------------------- */

/* Requests whose argument is one number behind a pointer. */
static int
with_number(struct node *n, UMockdevIoctlClient *client, gulong request,
    UMockdevIoctlData *arg)
{
	UMockdevIoctlData *hold;
	unsigned *p = at(&hold, arg, 0, sizeof(*p)), value;

	if (p == NULL)
		return -EFAULT;
	value = *p;
	umockdev_ioctl_data_unref(hold);
	switch (request) {
	case USBDEVFS_CLAIMINTERFACE:
		return claim(n, client, value);
	case USBDEVFS_RELEASEINTERFACE:
		return release(n, client, value);
	case USBDEVFS_CLEAR_HALT:
		if (vusb_endpoint_interface(n->dev, (uint8_t)value) < 0)
			return -ENOENT;
		vusb_clear_halt(n->dev, (uint8_t)value);
		return 0;
	case USBDEVFS_SETCONFIGURATION:
		return 0;
	default:
		return -ENOTTY;
	}
}

int
usbfs_serve(struct node *n, UMockdevIoctlClient *client)
{
	UMockdevIoctlData *arg = umockdev_ioctl_client_get_arg(client);
	gulong request = umockdev_ioctl_client_get_request(client);

	if (request == USBDEVFS_REAPURBNDELAY)
		return reap(n, client, arg);
	if (n->dev->gone)
		return -ENODEV;
	switch (request) {
	case USBDEVFS_SUBMITURB:
		return submit(n, client, arg);
	case USBDEVFS_DISCARDURB:
		return discard(n, client, arg);
	case USBDEVFS_GET_CAPABILITIES:
		return get_caps(n, arg);
	case USBDEVFS_GETDRIVER:
		return get_driver(n, arg);
	case USBDEVFS_IOCTL:
		return for_interface(n, arg);
	case USBDEVFS_DISCONNECT_CLAIM:
		return disconnect_claim(n, client, arg);
	case USBDEVFS_SETINTERFACE:
		return set_interface(n, client, arg);
	case USBDEVFS_RESET:
		if (n->dev->model->cleared != NULL)
			n->dev->model->cleared(n->dev, 0);
		return 0;
	default:
		return with_number(n, client, request, arg);
	}
}

/* Forget what a client that closed its node left: usbfs does on close. */
void
usbfs_forget(struct node *n, UMockdevIoctlClient *client)
{
	struct request **p, *r;
	struct vurb *v, *next;
	unsigned i;

	for (v = n->dev->queue; v != NULL; v = next) {
		next = v->next;
		if (((struct request *)v)->client == client)
			vusb_discard(n->dev, v);
	}
	for (p = &n->silent; *p != NULL;)
		if ((r = *p)->client == client) {
			*p = r->next;
			request_free(r);
		} else
			p = &r->next;
	while ((r = *(p = find_finished(n, client))) != NULL) {
		*p = r->next;
		request_free(r);
	}
	for (i = 0; i < VUSB_INTERFACES; i++)
		if (n->holder[i] == client)
			release(n, client, i);
}

static void
free_all(struct request **list)
{
	struct request *r;

	while ((r = *list) != NULL) {
		*list = r->next;
		request_free(r);
	}
}

void
usbfs_end(struct node *n)
{
	free_all(&n->silent);
	free_all(&n->finished);
}
