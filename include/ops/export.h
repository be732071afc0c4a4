/*
 * ops/export.h - a part of the record as a file in a folder.
 *
 * A table is a CSV file called pinbone-KIND-WHAT.csv, or pinbone-KIND-DATE.csv
 * with today's date where nothing is named; epcis is JSON-LD (.jsonld).  It is
 * there whole or not at all, and one that is there already is left alone unless
 * that is asked for.  Looks at the record and changes nothing in it.
 * docs/files.md has the columns.
 */
#ifndef OPS_EXPORT_H
#define OPS_EXPORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "core/code.h"
#include "ops/station.h"

/* What may be exported. */
struct export_kind {
	const char *word; /* "stock", "day" */
	/* What has to be named: "DATE", "CODE", EXPORT_SPAN; NULL nothing. */
	const char *asks;
	const char *summary; /* one line */
};

/* A day, days from one to another, the whole record, or what happened to a
 * batch and all that was made of it. */
#define EXPORT_SPAN "DATE|FROM..TO|all|CODE"

/* Ended by a row without a word. */
extern const struct export_kind export_kinds[];

/* export_kind - by its word, or NULL. */
const struct export_kind *export_kind(const char *word);

struct export_wish {
	const char *kind;
	const char *what; /* as asked; where it is a date NULL is today */
	const char *folder;
	bool replace; /* a file of that name */
	/* Rows or days written of so many; false stops.  May be NULL. */
	bool (*tell)(void *arg, int64_t done, int64_t total);
	void *arg;
};

struct export_done {
	char path[1024];
	int64_t bytes;
};

/*
 * export_look - would it be written?  Says where to, and whether a file of that
 * name is there.  Errors as export_run() before it begins.
 */
enum rc export_look(struct export_done *out, bool *there, struct station *sn,
    const struct export_wish *wish, struct err *err) MUST_CHECK;

/*
 * export_run - write it.
 * RC_OK; RC_INVALID no such kind, or a wrong date or code; RC_NOTFOUND no such
 * folder or code; RC_REFUSED the file is there, `tell` stopped it, or the day
 * has not begun; RC_FAILED it cannot be written.  out->path is set as soon as
 * it is known, so also when the file is there.
 */
enum rc export_run(struct export_done *out, struct station *sn,
    const struct export_wish *wish, struct err *err) MUST_CHECK;

/* A cell of a file that does not say what the record says. */
struct export_differs {
	char batch[CODE_SIZE];
	int line; /* of the file */
	const char *column;
	char file[80], record[80]; /* their beginnings */
};

#define EXPORT_DIFFERS_MAX 100 /* listed; all are counted */

/* A receiving table held against the record. */
struct export_check {
	int64_t rows, same;
	int64_t unknown; /* rows of batches the record does not have */
	int64_t twice;   /* rows of a batch that has one already */
	int64_t absent;  /* batches of the file's days that are not in it */
	struct export_differs differs[EXPORT_DIFFERS_MAX];
	int64_t differ_count; /* cells */
};

/*
 * export_check - does a receiving table that was exported once still say what
 * the record says?  It may have been through a spreadsheet: columns in another
 * order and "12.5" for "12.500" are the same.
 * RC_OK, also when it differs; RC_NOTFOUND no such file; RC_INVALID not such a
 * table, with line and column.
 */
enum rc export_check(struct export_check *out, struct station *sn,
    const char *path, struct err *err) MUST_CHECK;

#endif /* OPS_EXPORT_H */
