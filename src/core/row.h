/*
 * row.h - one data file row by row, one field by one field.
 *
 * Private to core: what the parsers of config/ tables share.  Every reader
 * gives RC_OK or RC_INVALID with file, line and column.
 */
#ifndef CORE_ROW_H
#define CORE_ROW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/csv.h"
#include "base/err.h"

/* How a table is read: `read` fills one zeroed item, `check` (may be NULL)
 * refuses it beside the `count` items read before. */
struct row_spec {
	const char *const *columns;  /* all must be there */
	const char *const *optional; /* may be NULL */
	size_t size;                 /* of one item */
	const char *what;            /* "areas", for an empty file */
	enum rc (*read)(void *item, const struct csv *c, struct err *err);
	enum rc (*check)(const void *items, size_t count, const void *item,
	    const struct csv *c, struct err *err);
};

struct rows {
	void *items; /* owned by the caller */
	size_t count;
};

/* rows_read - the whole file; *out is empty unless RC_OK.  A file without a
 * row is RC_INVALID. */
enum rc rows_read(struct rows *out, const struct row_spec *spec,
    const char *name, const char *data, size_t len, struct err *err) MUST_CHECK;

/* row_code - an ASFIS 3-alpha code in capitals; "" when `may_be_empty`. */
enum rc row_code(char out[4], const struct csv *c, const char *column,
    bool may_be_empty, struct err *err) MUST_CHECK;

/* row_word - index of the field among `count` words. */
enum rc row_word(int *out, const struct csv *c, const char *column,
    const char *const *words, int count, struct err *err) MUST_CHECK;

/* row_yes - "yes" or "no". */
enum rc row_yes(bool *out, const struct csv *c, const char *column,
    struct err *err) MUST_CHECK;

/* row_int - a whole number in [min, max]. */
enum rc row_int(int *out, const struct csv *c, const char *column, int min,
    int max, struct err *err) MUST_CHECK;

/* row_refuse - RC_INVALID with a message at the field, as printf forms it. */
#define row_refuse(c, column, err, ...)                                        \
	csv_fail(c, column, err_set(err, RC_INVALID, 0, __VA_ARGS__), err)

#endif /* CORE_ROW_H */
