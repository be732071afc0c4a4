/*
 * year_files.h - the files of years the benches share, in build/bench.
 */
#ifndef YEAR_FILES_H
#define YEAR_FILES_H

#include <stddef.h>

#include "core/code.h"

/*
 * year_file - the path of the file of so many years, and its settings at path +
 * ".ini".  Made where it is missing or older than this program.  Ends the
 * program when it cannot be made.
 */
void year_file(char *dst, size_t size, int years);

/* year_codes - of a unit on hand, of a unit and a batch of the middle of the
 * file; codes of nothing where the file is empty. */
enum { YEAR_ON_HAND, YEAR_UNIT, YEAR_BATCH, YEAR_CODES };
void year_codes(char codes[YEAR_CODES][CODE_SIZE], const char *path);

#endif /* YEAR_FILES_H */
