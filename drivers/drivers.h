/*
 * drivers.h - every printer language, transport and scale; only registry.c
 * lists them for the program.
 */
#ifndef DRIVERS_H
#define DRIVERS_H

#include "driver/lang.h"
#include "driver/scale.h"
#include "driver/transport.h"

extern const struct lang lang_zpl;
extern const struct lang lang_png;

extern const struct transport transport_file;
extern const struct transport transport_preview;
extern const struct transport transport_usb;

#endif /* DRIVERS_H */
