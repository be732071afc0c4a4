/*
 * ops/backup.h - the station file copied to a stick, while work goes on.
 *
 * A backup is a station file of its own called
 * pinbone-YYYY-MM-DD-NNNN.db: the day it was made and its number, one more
 * than the highest in the folder, so that two never share a name; while the
 * clock is in doubt `uncertain` stands in place of the day.  It gets that
 * name only once it is on the medium, was read back and is whole: until then it
 * is called ....part.  A stick pulled in the middle leaves the older ones as
 * they were.
 */
#ifndef OPS_BACKUP_H
#define OPS_BACKUP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "ops/station.h"
#include "store/copy.h"

#define BACKUP_PATH_SIZE 1024
#define BACKUP_NAME_SIZE 48
#define BACKUP_KEEP_MAX 999
#define BACKUP_LIST_MAX 2000 /* files looked at in a folder */

struct backup_wish {
	const char *folder; /* must be there: a stick that is not in is not
			       made up for by a folder on the disk */
	int keep; /* so many of this station stay, the new one counted;
		     1..BACKUP_KEEP_MAX */
	const char *by;
	copy_fn *tell; /* progress, or NULL */
	void *arg;
};

struct backup {
	char name[BACKUP_NAME_SIZE]; /* in its folder */
	day_no day;                  /* DAY_NONE: the clock was in doubt */
	int number;
	int64_t bytes;
	struct file_head head; /* up to where it holds the record */
	/* BACKUP_TOGETHER, or the last row of the audit trail both have, when
	 * each has others behind it: another copy of this station went its own
	 * way there.  Such a one is never removed because of `keep`. */
	int64_t apart_after;
};

#define BACKUP_TOGETHER (-1)

struct backup_done {
	struct backup made;
	char path[BACKUP_PATH_SIZE];
	int dropped; /* older ones removed, because of `keep` */
};

/*
 * backup_run - make one, then remove this station's oldest beyond `keep`.
 * Backups of another station and files that cannot be read are never removed.
 * What it did is recorded (backup_last()).
 * RC_OK
 * RC_INVALID   keep or initials
 * RC_NOTFOUND  no such folder
 * RC_REFUSED   too little room for it, or `tell` stopped it
 * RC_RETRY     another program is at it
 * RC_FAILED    the medium failed; the older ones are as they were
 * RC_OK with a made backup is also returned when only removing an old one
 * failed.
 */
enum rc backup_run(struct backup_done *out, struct station *sn,
    const struct backup_wish *wish, struct err *err) MUST_CHECK;

/* backup_same_disk - is the folder on the disk the station file is on?  Such a
 * backup is lost with it: a stick that is not in may have left its folder. */
bool backup_same_disk(const struct station *sn, const char *folder);

struct backup_list {
	struct backup *items; /* this station's, newest first; owned */
	size_t count;
	int others;         /* of another station, or not to be read */
	int64_t free_bytes; /* room in the folder */
};

/*
 * backup_list_open - what is in a folder.  Looks into each file's first pages
 * only.  The caller frees with backup_list_fini(), whatever is returned.
 * RC_OK, RC_NOTFOUND, RC_FAILED.
 */
enum rc backup_list_open(struct backup_list *out, struct station *sn,
    const char *folder, struct err *err) MUST_CHECK;
/* backup_list_for - the same for the station file `file`, whether it is open,
 * damaged or gone; while it cannot be read, its backups are those of the
 * kitchen and training mark of the settings. */
enum rc backup_list_for(struct backup_list *out, struct station *sn,
    const char *file, const char *folder, struct err *err) MUST_CHECK;
void backup_list_fini(struct backup_list *l);

/* The last backup that was made of this station, by any program. */
struct backup_last {
	int64_t utc; /* 0: never */
	char name[BACKUP_NAME_SIZE], folder[BACKUP_PATH_SIZE];
};
enum rc backup_last(
    struct backup_last *out, struct station *sn, struct err *err) MUST_CHECK;

/* backup_size - bytes the next one will need, about. */
enum rc backup_size(
    int64_t *out, struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_BACKUP_H */
