/*
 * disk.h - a disk that remembers: what was written, what was synced, in which
 * order; and that fails when it is told to.
 *
 * A VFS around SQLite's own, and the program's own calls (open, write, fsync,
 * rename, unlink; the linker wraps them) see every change below one folder.
 * All of it passes through; what is on may also be noted down (disk_record),
 * as a list of changes a power cut may come between, or be made to fail
 * (disk_fail).  Shared memory of the log passes through alone: it is never
 * durable, and made anew after a cut.  One thread.
 */
#ifndef DISK_H
#define DISK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Sectors a write may be torn at. */
#define SECTOR_SMALL 512
#define SECTOR_LARGE 4096

enum change_kind {
	CHANGE_CREATE,   /* name: a new, empty file */
	CHANGE_WRITE,    /* file, at, len, bytes */
	CHANGE_TRUNCATE, /* file, at: its new size */
	CHANGE_SYNC,     /* file */
	CHANGE_UNLINK,   /* name */
	CHANGE_RENAME,   /* name becomes other */
	CHANGE_SYNC_DIR, /* name: of the folder */
	CHANGE_MARK,     /* nothing on the disk: at is what the story says */
};

struct disk_change {
	enum change_kind kind;
	int file; /* number of the file itself, whatever it is called */
	int64_t at;
	size_t len;
	unsigned char *bytes;
	char *name, *other; /* whole paths */
};

struct journal {
	struct disk_change *items;
	size_t count, cap;
	int files; /* numbers given */
};

/* disk_start - becomes SQLite's default VFS; `folder` is what is looked at. */
void disk_start(const char *folder);

/* disk_record - note changes into `j` from now on; NULL: no longer.  A file
 * that is there before is durable as it is: disk_adopt() it first. */
void disk_record(struct journal *j);
void disk_adopt(struct journal *j, const char *path);
void disk_mark(int64_t what);
/* disk_pause - look at the files oneself meanwhile. */
void disk_pause(bool pause);
void journal_fini(struct journal *j);

/* --- faults ----------------------------------------------------------------*/

enum fault {
	FAULT_READ,     /* IOERR_READ */
	FAULT_WRITE,    /* IOERR_WRITE; EIO */
	FAULT_FULL,     /* FULL; ENOSPC */
	FAULT_SHORT,    /* half of it is written, then FULL */
	FAULT_LATE,     /* all of it is written, and said to have failed */
	FAULT_SYNC,     /* IOERR_FSYNC; EIO */
	FAULT_TRUNCATE, /* IOERR_TRUNCATE */
	FAULT_OPEN,     /* CANTOPEN; EMFILE */
	FAULT_DELETE,   /* IOERR_DELETE; EIO */
	FAULT_LOCK,     /* BUSY, of a lock of the file or of the log */
	FAULT_SHM,      /* IOERR_SHMMAP */
	FAULT_RENAME,   /* EIO */
	FAULT_COUNT
};

const char *fault_word(enum fault f);

/* disk_fail - the nth call (from 1) of that kind fails, and with `on` every one
 * after it.  n 0: none, but they are counted. */
void disk_fail(enum fault f, int64_t n, bool on);
/* disk_heal - no more faults; calls of that kind since disk_fail(). */
int64_t disk_heal(void);
/* disk_hit - did it fail since disk_fail()? */
bool disk_hit(void);

#endif /* DISK_H */
