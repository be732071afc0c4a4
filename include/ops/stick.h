/*
 * ops/stick.h - where a stick with a label is mounted.
 *
 * Nothing is mounted here, and no other program is asked: udev keeps a name for
 * each label, the kernel says what is mounted where.
 */
#ifndef OPS_STICK_H
#define OPS_STICK_H

#include "base/file.h"
#include "ops/station.h"

/* Longest label of a file system in use on sticks, in bytes: ext4 has 16,
 * exFAT 15 and NTFS 32 characters (UTF-8 up to 3 bytes each). */
#define STICK_LABEL_MAX 96

/* Where the names and the mounts are read; tests have their own. */
struct stick_place {
	const char *by_label;  /* /dev/disk/by-label */
	const char *mountinfo; /* /proc/self/mountinfo */
};
extern const struct stick_place stick_here;

/*
 * stick_find - the folder where the file system labelled `label` is mounted.
 * `touch`, a folder or NULL, is looked at first: a mount that is made when it
 * is looked at is there then.
 * RC_OK; RC_INVALID no label; RC_NOTFOUND no such stick, or it is not mounted;
 * RC_REFUSED it is mounted read-only.  err says which and what to do.
 */
enum rc stick_find(char folder[FILE_PATH_SIZE], const char *label,
    const struct stick_place *place, const char *touch,
    struct err *err) MUST_CHECK;

/*
 * stick_folder - the folder for backups: of the stick `label` when it is not
 * NULL, else `path` when it is not NULL, else as the settings say ([backup]
 * stick, then folder).
 * As stick_find(); RC_INVALID also when the settings name neither.
 */
enum rc stick_folder(char folder[FILE_PATH_SIZE], const struct station *sn,
    const char *label, const char *path, struct err *err) MUST_CHECK;

#endif /* OPS_STICK_H */
