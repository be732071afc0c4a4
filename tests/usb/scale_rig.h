/*
 * scale_rig.h - what the suites about the scale share: a bus for each test and
 * the scales on it.
 */
#ifndef SCALE_RIG_H
#define SCALE_RIG_H

#include "rig.h"
#include "tests/usb/vscale.h"

/* scale_rig_tcase - a case with a timeout and the bus as its fixture, added.
 * let_go: run before the bus goes away; closes what a test left open. */
TCase *scale_rig_tcase(Suite *s, const char *name, void (*let_go)(void));

/* scale_rig_plug - plugged in, freed with the bus. */
struct vscale *scale_rig_plug(const struct vscale_as *as);

#define PLAY(scale, every, ...)                                                \
	do {                                                                   \
		static const struct vscale_step steps_[] = { __VA_ARGS__ };    \
		vscale_play(scale, steps_, NELEM(steps_), every);              \
	} while (0)

#endif /* SCALE_RIG_H */
