/*
 * base/mount.h - which file systems are mounted where: proc(5), mountinfo.
 */
#ifndef BASE_MOUNT_H
#define BASE_MOUNT_H

#include <stdbool.h>
#include <stddef.h>

#include "base/file.h"

struct mount {
	unsigned int major, minor; /* of the device it lies on */
	bool read_only;            /* here, or the file system itself */
	char at[FILE_PATH_SIZE];   /* where */
	char type[32];             /* vfat, ext4, ... */
	char source[FILE_PATH_SIZE];
};

/*
 * mount_parse - the next line of mountinfo's text at *s, and step over it;
 * lines that are not understood are stepped over.  False: no more.  Blank, tab,
 * backslash and line feed are written there as \040 \011 \134 \012.  Pure.
 */
bool mount_parse(struct mount *out, const char **s);

/*
 * mount_of - where the file system on `device` (a path such as /dev/sdb1, or
 * else its numbers) is mounted, writable places first.  False: nowhere.  Pure.
 */
bool mount_of(struct mount *out, const char *text, const char *device,
    unsigned int major, unsigned int minor);

/*
 * mount_label_name - the name udev gives the label of a file system under
 * /dev/disk/by-label: letters, digits, #+-.:=@_ and UTF-8 beyond ASCII as they
 * are, every other byte as \xHH.  False when it does not fit.  Pure.
 */
bool mount_label_name(char *dst, size_t size, const char *label);

#endif /* BASE_MOUNT_H */
