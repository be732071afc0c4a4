/*
 * vusb_mock.h - between the two halves of the umockdev back end: the bus
 * (vusb_mock.c) and the kernel's usbfs on it (vusb_usbfs.c).
 */
#ifndef VUSB_MOCK_H
#define VUSB_MOCK_H

#include <umockdev.h>

#include "vusb.h"

#define VUSB_PIPE 4096 /* the smallest a pipe can be made */

/* A transfer of the program under test. */
struct request {
	struct vurb urb; /* must be first */
	UMockdevIoctlData *usbfs, *buffer;
	struct node *node;
	UMockdevIoctlClient *client;
	bool control;
	struct request *next; /* of those finished */
};

/* What usbfs knows of one device. */
struct node {
	struct vusb *bus;
	struct vusb_device *dev;
	UMockdevIoctlBase *base;
	GSource *timer; /* on the thread that serves */
	int number;
	int fifo; /* full: nothing to reap; -1: none */
	char path[32], syspath[64];
	int removed;
	uint32_t caps;
	int refuse;
	struct request *silent;   /* control requests never answered */
	struct request *finished; /* in order */
	char driver[VUSB_INTERFACES][16], home[VUSB_INTERFACES][16];
	UMockdevIoctlClient *holder[VUSB_INTERFACES];
};

/* usbfs_reapable - make the node look as if a request can be reaped, or not. */
void usbfs_reapable(struct node *n, bool reapable);

/* usbfs_serve - one ioctl, the device locked.  Returns its result or
 * -errno. */
int usbfs_serve(struct node *n, UMockdevIoctlClient *client);

/* usbfs_forget - a client closed its node; the device locked. */
void usbfs_forget(struct node *n, UMockdevIoctlClient *client);

/* usbfs_end - what clients never fetched, because they were killed. */
void usbfs_end(struct node *n);

#endif /* VUSB_MOCK_H */
