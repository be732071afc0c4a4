/*
 * labels/testlabel.h - a label that shows whether a printer is set up right.
 */
#ifndef LABELS_TESTLABEL_H
#define LABELS_TESTLABEL_H

#include "base/bitmap.h"
#include "base/err.h"
#include "labels/label.h"

struct fonts;

/*
 * testlabel_render - corner marks at the edges of the printable area, a ramp
 * of greys by dot density, the smallest text in use, the printer's name and
 * settings in words, and a code that must scan: the element string
 * "[91]TEST" and the name.
 * Any label size or roll width of the settings, 203 or 300 dpi.
 * RC_OK, *out is owned by the caller; RC_INVALID as label_render().
 */
enum rc testlabel_render(struct bitmap **out, const char *name,
    const char *settings, const struct label_media *media, struct fonts *fonts,
    struct err *err) MUST_CHECK;

#endif /* LABELS_TESTLABEL_H */
