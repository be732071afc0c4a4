/*
 * store/damage.h - a station file that is not whole.
 *
 * Once damage was seen, by whatever call, a small file beside it (NAME-damaged)
 * says what and when, and nobody opens the file for writing any more until it
 * was set aside, or a full check found it whole.
 */
#ifndef STORE_DAMAGE_H
#define STORE_DAMAGE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/err.h"

#define DAMAGE_TAIL "-damaged"

/* In err->lib of every error that says a file is damaged, or no station file at
 * all. */
#define DAMAGE_LIB 7001

/* damage_said - is this such an error? */
bool damage_said(const struct err *err);

/* damage_mark - write down that it was seen; what is written down first
 * stays.  `what` is one line. */
void damage_mark(const char *path, const char *what);
/* damage_clear - it was found whole after all. */
void damage_clear(const char *path);

/* damage_look - RC_OK nothing is written down; RC_FATAL with it. */
enum rc damage_look(const char *path, struct err *err) MUST_CHECK;

/* What a check of a file found. */
struct whole {
	bool good;       /* nothing wrong in what was reached */
	bool all;        /* all of it was reached */
	int tables;      /* looked through */
	int tables_all;  /* there are */
	int64_t ms;      /* it took */
	char found[240]; /* the first thing wrong, or empty */
};

/*
 * whole_quick - header, schema and list of free pages, then table by table
 * (SQLite's quick_check), the large ones last, until `budget_ms` are over.
 * Nothing is written.
 * whole_full - every page, index and link (integrity_check,
 * foreign_key_check).  `goes_on` (NULL: always) is asked now and then.
 * RC_OK, whatever was found; RC_NOTFOUND no such file; RC_REFUSED stopped;
 * RC_RETRY, RC_FAILED it cannot be read.
 */
enum rc whole_quick(struct whole *out, const char *path, int64_t budget_ms,
    struct err *err) MUST_CHECK;
enum rc whole_full(struct whole *out, const char *path,
    bool (*goes_on)(void *arg), void *arg, struct err *err) MUST_CHECK;

#endif /* STORE_DAMAGE_H */
