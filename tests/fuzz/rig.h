/*
 * rig.h - an open training station for targets that need one, made once in a
 * folder of its own which is removed at the end, and files for libraries that
 * read nothing else.
 */
#ifndef FUZZ_RIG_H
#define FUZZ_RIG_H

#include <stddef.h>
#include <stdint.h>

#include "ops/station.h"

/* rig_station - the station, with a supplier, a menu, one batch of cod and
 * trays of it.  Every call gives the same one. */
struct station *rig_station(void);

/* rig_batch, rig_tray - codes of what it has on hand. */
const char *rig_batch(void);
const char *rig_tray(void);

/* rig_file - write bytes to a file of its own; the same place every time. */
const char *rig_file(const char *name, const uint8_t *data, size_t size);

/* rig_err - an error is one line of text that says something. */
void rig_err(const struct err *err);

#endif /* FUZZ_RIG_H */
