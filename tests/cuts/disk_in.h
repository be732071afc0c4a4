/* disk_in.h - shared by disk.c (what is noted) and disk_vfs.c, disk_posix.c
 * (who sees it); private to them. */
#ifndef DISK_IN_H
#define DISK_IN_H

#include "disk.h"

/* disk_root - the folder that is looked at. */
void disk_root(const char *folder);
/* disk_sees - is this path below the folder? */
bool disk_sees(const char *path);
/* disk_fails - one call of that kind: does it fail? */
bool disk_fails(enum fault f);
/* The fault of a write: FAULT_COUNT for none. */
enum fault disk_fails_write(void);

/* disk_opened - number of the file now called `path`; `made`: it was not there
 * before.  0 when nothing is noted. */
int disk_opened(const char *path, bool made);
void disk_wrote(int file, int64_t at, const void *bytes, size_t len);
void disk_cut(int file, int64_t size);
void disk_synced(int file);
void disk_gone(const char *path);
void disk_moved(const char *from, const char *to);
/* disk_synced_dir - the folder `path` lies in, or is. */
void disk_synced_dir(const char *path, bool itself);

#endif /* DISK_IN_H */
