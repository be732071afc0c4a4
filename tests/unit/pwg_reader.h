/*
 * pwg_reader.h - PWG raster read by libcups, which has nothing of ours.
 */
#ifndef PWG_READER_H
#define PWG_READER_H

#include "lang_readers.h"

/* Width and height of the label are millimetres, from the name of the page
 * size.  Exactly one page of one bit a dot, 1 black. */
bool pwg_read(
    struct seen_label *out, const char **why, const char *data, size_t len);

#endif /* PWG_READER_H */
