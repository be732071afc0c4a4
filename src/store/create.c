/* create.c - a new station file: whole, or none. */
#include <errno.h>

#include "base/file.h"
#include "base/str.h"
#include "place.h"
#include "stmt.h"
#include "store/damage.h"
#include "store/store.h"
#include "store/swap.h"

enum rc
store_new(struct store **out, const char *path, struct err *err)
{
	char made[PLACE_SIZE], log[PLACE_SIZE], aside[SWAP_PATH_SIZE];
	bool finished;
	enum rc rc;

	*out = NULL;
	if ((rc = swap_finish(&finished, aside, path, err)) != RC_OK)
		return rc;
	if (file_exists(path))
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: already there: init never overwrites, choose another "
		    "name",
		    path);
	/* SQLite would read it into the new file. */
	if (str_fmt(log, sizeof(log), "%s-wal", path) && file_exists(log))
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: the log of a station file that is gone: it may hold "
		    "records, put them together again or move it away",
		    log);
	if ((rc = place_beside(made, path, err)) != RC_OK)
		return rc;
	if ((rc = place_fill(made, err)) != RC_OK ||
	    (rc = store_open_copy(out, made, err)) != RC_OK)
		place_drop(made);
	return rc;
}

void
store_drop(struct store *st)
{
	char made[PLACE_SIZE];

	str_copy(made, sizeof(made), st->path);
	store_close(st);
	place_drop(made);
}

enum rc
store_name(struct store *st, const char *path, struct err *err)
{
	char made[PLACE_SIZE];
	enum rc rc;

	str_copy(made, sizeof(made), st->path);
	if ((rc = store_close_copy(st, err)) == RC_OK)
		return place_take(made, path, err);
	place_drop(made);
	return rc;
}

enum rc
store_create(const char *path, struct err *err)
{
	struct store *st;
	enum rc rc = store_new(&st, path, err);

	return rc == RC_OK ? store_name(st, path, err) : rc;
}
