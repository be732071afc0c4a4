/*
 * epl2_reader.h - a label printer's side of the EPL2 subset we send.
 *
 * Written from the EPL Programming Guide (N, q, Q, S, D, GW, P) and the maker's
 * note on GW, which says that a comma or a line end stands before the data.
 */
#ifndef EPL2_READER_H
#define EPL2_READER_H

#include "lang_readers.h"

/* Width, height and gap of the label are dots.  Each takes only its own mark
 * before the data. */
bool epl2_read_comma(
    struct seen_label *out, const char **why, const char *data, size_t len);
bool epl2_read_lf(
    struct seen_label *out, const char **why, const char *data, size_t len);

#endif /* EPL2_READER_H */
