/*
 * ops/export.h - a table of the record as a CSV file in a folder.
 *
 * The file is called pinbone-KIND-WHAT.csv, or pinbone-KIND-DATE.csv with
 * today's date where nothing is named.  It is there whole or not at all, and
 * one that is there already is left alone unless that is asked for.  Looks at
 * the record and changes nothing in it.  docs/files.md has the columns.
 */
#ifndef OPS_EXPORT_H
#define OPS_EXPORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "ops/station.h"

/* What may be exported. */
struct export_kind {
	const char *word; /* "stock", "day" */
	const char *asks; /* what has to be named: "DATE", "CODE"; NULL none */
	const char *summary; /* one line */
};

/* Ended by a row without a word. */
extern const struct export_kind export_kinds[];

/* export_kind - by its word, or NULL. */
const struct export_kind *export_kind(const char *word);

struct export_wish {
	const char *kind;
	const char *what; /* a date or code; DATE may be NULL: today */
	const char *folder;
	bool replace; /* a file of that name */
	/* Rows written of about so many; false stops.  May be NULL. */
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

#endif /* OPS_EXPORT_H */
