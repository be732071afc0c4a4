/*
 * gadget.h - a printer made by the kernel's own printer gadget over its dummy
 * controller: both ends of a real USB stack in one machine.  Nothing of it is
 * ours, so it can contradict what the emulator believes.
 *
 * Only inside the virtual machine: it writes to /sys/kernel/config.
 */
#ifndef GADGET_H
#define GADGET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define GADGET_VENDOR 0x0525
#define GADGET_PRODUCT 0xa4a8

/* gadget_make - describe the printer; once.  `id` is the IEEE 1284 text. */
void gadget_make(const char *id, const char *serial);

/* gadget_plug, gadget_unplug - the cable. */
void gadget_plug(void);
void gadget_unplug(void);

/* gadget_status - the port status byte it answers with from now on. */
void gadget_status(uint8_t status);

/*
 * gadget_take - read what the host sent, up to `size` bytes, until nothing
 * has come for wait_ms.  Returns the bytes.
 */
size_t gadget_take(uint8_t *buf, size_t size, int wait_ms);

/* gadget_say - queue bytes for the host to read. */
void gadget_say(const void *buf, size_t len);

/* gadget_driver_bound - does the system's own printer driver hold it? */
bool gadget_driver_bound(void);

/* gadget_wait - let the kernel get on with it. */
void gadget_wait(int ms);

#endif /* GADGET_H */
