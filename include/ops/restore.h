/*
 * ops/restore.h - a backup takes the place of the station file.
 *
 * Nothing is lost by it: the file before is set aside whole, under a name that
 * nothing has yet, and stays.  What it holds and the backup does not is told
 * first.  Codes that were given out since stand on labels in the fridge:
 * numbers go on behind them.  Holds in force in the file before are put on
 * again.  A cut at any step leaves the file before or the backup in place,
 * whole: docs/decisions/0013-restore.md.
 */
#ifndef OPS_RESTORE_H
#define OPS_RESTORE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/backup.h"
#include "ops/station.h"
#include "store/damage.h"
#include "store/salvage.h"
#include "store/swap.h"

/* What would be lost. */
struct restore_look {
	char file[SWAP_PATH_SIZE]; /* the station file */
	char from[SWAP_PATH_SIZE]; /* the backup */
	struct file_head head;     /* of the backup */
	bool there;                /* is there a station file at all? */
	bool known;                /* it could be compared */
	char trouble[300];         /* why not */
	int64_t file_last_utc;     /* its last row, 0 not known */
	struct lost lost;
};

/*
 * restore_look - check the backup whole, and compare.  Nothing is written.
 * `sn` has no open file: it may be damaged.  `goes_on` (NULL: always) is asked
 * now and then.  Freed with restore_look_fini(), whatever is returned.
 * RC_OK
 * RC_NOTFOUND  no such backup
 * RC_INVALID   it is not a whole station file
 * RC_REFUSED   of another kitchen or station, of a training station (or not),
 *              made by a newer program, or stopped
 * RC_FAILED, RC_RETRY
 */
enum rc restore_look(struct restore_look *out, const struct station *sn,
    const char *file, const char *from, bool (*goes_on)(void *arg), void *arg,
    struct err *err) MUST_CHECK;
void restore_look_fini(struct restore_look *l);

/* restore_words - append what would be lost, for people; restore_json - the
 * same as an object that is being written. */
void restore_words(struct buf *out, const struct restore_look *l);
struct jsonw;
void restore_json(struct jsonw *w, const struct restore_look *l);

/* Before each step: those of the swap follow SWAP_DECIDE + RESTORE_SWAP. */
enum restore_step { RESTORE_COPY, RESTORE_PREPARE, RESTORE_SWAP };

struct restore_wish {
	const char *file, *from, *by;
	copy_fn *tell; /* progress, or NULL */
	void *arg;
	/* for tests, which cut it there; NULL */
	bool (*step)(void *step_arg, int step);
	void *step_arg;
};

struct restore_done {
	struct restore_look look;
	char aside[SWAP_PATH_SIZE]; /* the file before; empty: there was none */
	int held_again;             /* holds put on again */
	int held_gone;   /* holds whose food the backup does not know */
	int64_t unsure;  /* labels somebody has to look for */
	int64_t serial;  /* portions go on behind this one */
	char doubt[200]; /* of the clock; may be empty */
};

/*
 * restore_run - do it.  Takes the file for itself: nobody else may have it
 * open, so `sn` has none.  Afterwards the file is there to be opened; `sn` has
 * none still.  Freed with restore_done_fini(), whatever is returned. As
 * restore_look(); RC_INVALID also initials; RC_RETRY: another program has it
 * open.  On any error the file before is in place, or (RC_FAILED, said so) the
 * next start finishes.
 */
enum rc restore_run(struct restore_done *out, struct station *sn,
    const struct restore_wish *wish, struct err *err) MUST_CHECK;
void restore_done_fini(struct restore_done *d);
void restore_done_words(struct buf *out, const struct restore_done *d);

/*
 * restore_newest - the newest backup of a folder that is whole, as `name` in
 * it. `skipped` counts newer ones that are not. RC_OK, RC_NOTFOUND none, and as
 * backup_list_open().
 */
enum rc restore_newest(char path[SWAP_PATH_SIZE], int *skipped,
    struct station *sn, const char *file, const char *folder,
    struct err *err) MUST_CHECK;

/*
 * restore_set_aside - only set the file aside, whole, when nothing better is at
 * hand; there is none then.  As restore_run().
 */
enum rc restore_set_aside(char aside[SWAP_PATH_SIZE], const struct station *sn,
    const char *file, struct err *err) MUST_CHECK;

#endif /* OPS_RESTORE_H */
