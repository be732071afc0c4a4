/* suites.h - the USB suites: test_usb_<name>.c defines suite_usb_<name>(). */
#ifndef USB_SUITES_H
/* A tag: the case is worth its time on a real kernel too (tests/vm). */
#define USB_ON_A_KERNEL "kernel"

#define USB_SUITES_H

#include <check.h>

#define USB_SUITES(X)                                                          \
	X(fault)                                                               \
	X(find)                                                                \
	X(name)                                                                \
	X(program)                                                             \
	X(random)                                                              \
	X(scale)                                                               \
	X(spool)                                                               \
	X(state)                                                               \
	X(weigh)                                                               \
	X(write)

#define USB_SUITE_PROTO(name) Suite *suite_usb_##name(void);
USB_SUITES(USB_SUITE_PROTO)
#undef USB_SUITE_PROTO

#endif /* USB_SUITES_H */
