/*
 * exchange/received.h - what came in as a sortable table, out and in.
 *
 * One row a received batch, refused and struck ones too, with the key data
 * elements of 21 CFR 1.1345 and the fields of Reg. (EU) 931/2011 Art. 3 and
 * 1379/2013 Art. 35 that the record has; docs/files.md says which column is
 * whose.  Dates are ISO 8601, so that a column of them sorts as text.  What is
 * not known is empty.  A row that is read back gives what was written, to the
 * gram and the tenth of a degree.
 */
#ifndef EXCHANGE_RECEIVED_H
#define EXCHANGE_RECEIVED_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/csv.h"
#include "base/err.h"
#include "store/batches.h"

#define RECEIVED_COLUMNS_MAX 48
#define RECEIVED_CELL_MAX 400

struct received {
	struct batch batch; /* ids and what is left are not in a row */
	char name[48], scientific[48]; /* of the species; may be empty */
	char kitchen[64];              /* who received it, and where */
	/* What each law's list misses, "c, h"; "none"; "?" not judged. */
	char missing_1345[80], missing_931[80], missing_1379[80];
};

/* Names of the columns in their order, ended by NULL. */
const char *const *received_columns(void);

void received_head(struct buf *out);
void received_row(struct buf *out, const struct received *r);

/* received_cell - one cell as it is written, before it is quoted.  `column`
 * counts from 0. */
void received_cell(
    char dst[RECEIVED_CELL_MAX], const struct received *r, size_t column);

/*
 * received_read - the row the reader stands on; c was opened with
 * received_columns().
 * RC_OK, or RC_INVALID with line and column.
 */
enum rc received_read(
    struct received *out, const struct csv *c, struct err *err) MUST_CHECK;

/* received_missing - the three texts out of what was judged at goods in. */
void received_missing(struct received *r, const char *judgement);

#endif /* EXCHANGE_RECEIVED_H */
