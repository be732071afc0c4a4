/* disk_vfs.c - SQLite's files, seen by the disk. */
#include "disk_in.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"

struct seen {
	sqlite3_file base; /* must be first */
	int file;
	/* The system's VFS syncs the folder with the first sync of a journal
	 * or log it may have made: os_unix.c, UNIXFILE_DIRSYNC. */
	bool sync_dir, watched;
	const char *path; /* SQLite's, stands as long as the file is open */
	sqlite3_file *real;
};

static sqlite3_vfs *system_vfs;

static struct seen *
of(sqlite3_file *f)
{
	return (struct seen *)f;
}

static sqlite3_file *
real(sqlite3_file *f)
{
	return of(f)->real;
}

static int
disk_close(sqlite3_file *f)
{
	int rc = real(f)->pMethods->xClose(real(f));

	free(real(f));
	of(f)->real = NULL;
	return rc;
}

static int
disk_read(sqlite3_file *f, void *to, int n, sqlite3_int64 at)
{
	if (of(f)->watched && disk_fails(FAULT_READ))
		return SQLITE_IOERR_READ;
	return real(f)->pMethods->xRead(real(f), to, n, at);
}

static int
disk_write(sqlite3_file *f, const void *from, int n, sqlite3_int64 at)
{
	enum fault fault = FAULT_COUNT;
	int rc;

	if (of(f)->watched)
		fault = disk_fails_write();
	if (fault == FAULT_WRITE)
		return SQLITE_IOERR_WRITE;
	if (fault == FAULT_FULL)
		return SQLITE_FULL;
	if (fault == FAULT_SHORT)
		n /= 2;
	rc = real(f)->pMethods->xWrite(real(f), from, n, at);
	if (rc == SQLITE_OK)
		disk_wrote(of(f)->file, at, from, (size_t)n);
	if (fault != FAULT_COUNT)
		return fault == FAULT_SHORT ? SQLITE_FULL : SQLITE_IOERR_WRITE;
	return rc;
}

static int
disk_truncate(sqlite3_file *f, sqlite3_int64 size)
{
	int rc;

	if (of(f)->watched && disk_fails(FAULT_TRUNCATE))
		return SQLITE_IOERR_TRUNCATE;
	rc = real(f)->pMethods->xTruncate(real(f), size);
	if (rc == SQLITE_OK)
		disk_cut(of(f)->file, size);
	return rc;
}

static int
disk_sync(sqlite3_file *f, int flags)
{
	int rc;

	if (of(f)->watched && disk_fails(FAULT_SYNC))
		return SQLITE_IOERR_FSYNC;
	rc = real(f)->pMethods->xSync(real(f), flags);
	if (rc != SQLITE_OK || !of(f)->watched)
		return rc;
	disk_synced(of(f)->file);
	if (of(f)->sync_dir)
		disk_synced_dir(of(f)->path, false);
	of(f)->sync_dir = false;
	return rc;
}

static int
disk_size(sqlite3_file *f, sqlite3_int64 *size)
{
	return real(f)->pMethods->xFileSize(real(f), size);
}

static int
disk_lock(sqlite3_file *f, int level)
{
	if (of(f)->watched && disk_fails(FAULT_LOCK))
		return SQLITE_BUSY;
	return real(f)->pMethods->xLock(real(f), level);
}

static int
disk_unlock(sqlite3_file *f, int level)
{
	return real(f)->pMethods->xUnlock(real(f), level);
}

static int
disk_reserved(sqlite3_file *f, int *out)
{
	return real(f)->pMethods->xCheckReservedLock(real(f), out);
}

static int
disk_control(sqlite3_file *f, int op, void *arg)
{
	return real(f)->pMethods->xFileControl(real(f), op, arg);
}

static int
disk_sector(sqlite3_file *f)
{
	return real(f)->pMethods->xSectorSize(real(f));
}

static int
disk_device(sqlite3_file *f)
{
	return real(f)->pMethods->xDeviceCharacteristics(real(f));
}

static int
disk_shm_map(sqlite3_file *f, int page, int size, int extend, void volatile **p)
{
	if (of(f)->watched && disk_fails(FAULT_SHM))
		return SQLITE_IOERR_SHMMAP;
	return real(f)->pMethods->xShmMap(real(f), page, size, extend, p);
}

static int
disk_shm_lock(sqlite3_file *f, int at, int n, int flags)
{
	if (of(f)->watched && (flags & SQLITE_SHM_LOCK) != 0 &&
	    disk_fails(FAULT_LOCK))
		return SQLITE_BUSY;
	return real(f)->pMethods->xShmLock(real(f), at, n, flags);
}

static void
disk_shm_barrier(sqlite3_file *f)
{
	real(f)->pMethods->xShmBarrier(real(f));
}

static int
disk_shm_unmap(sqlite3_file *f, int drop)
{
	return real(f)->pMethods->xShmUnmap(real(f), drop);
}

static const sqlite3_io_methods methods = {
	.iVersion = 2,
	.xClose = disk_close,
	.xRead = disk_read,
	.xWrite = disk_write,
	.xTruncate = disk_truncate,
	.xSync = disk_sync,
	.xFileSize = disk_size,
	.xLock = disk_lock,
	.xUnlock = disk_unlock,
	.xCheckReservedLock = disk_reserved,
	.xFileControl = disk_control,
	.xSectorSize = disk_sector,
	.xDeviceCharacteristics = disk_device,
	.xShmMap = disk_shm_map,
	.xShmLock = disk_shm_lock,
	.xShmBarrier = disk_shm_barrier,
	.xShmUnmap = disk_shm_unmap,
};

static int
disk_open(
    sqlite3_vfs *vfs, const char *name, sqlite3_file *f, int flags, int *out)
{
	const int journals = SQLITE_OPEN_MAIN_JOURNAL |
	    SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL;
	struct seen *s = of(f);
	bool there = name != NULL && access(name, F_OK) == 0;
	int rc;

	(void)vfs;
	memset(s, 0, sizeof(*s));
	if (disk_sees(name) && disk_fails(FAULT_OPEN))
		return SQLITE_CANTOPEN;
	s->real = xcalloc(1, (size_t)system_vfs->szOsFile);
	rc = system_vfs->xOpen(system_vfs, name, s->real, flags, out);
	if (rc != SQLITE_OK) {
		free(s->real);
		return rc;
	}
	s->base.pMethods = &methods;
	s->watched = disk_sees(name);
	if (!s->watched)
		return SQLITE_OK;
	s->path = name;
	s->file = disk_opened(name, !there);
	s->sync_dir =
	    (flags & SQLITE_OPEN_CREATE) != 0 && (flags & journals) != 0;
	return SQLITE_OK;
}

static int
disk_delete(sqlite3_vfs *vfs, const char *name, int sync_dir)
{
	bool there = access(name, F_OK) == 0;
	int rc;

	(void)vfs;
	if (disk_sees(name) && disk_fails(FAULT_DELETE))
		return SQLITE_IOERR_DELETE;
	rc = system_vfs->xDelete(system_vfs, name, sync_dir);
	if (rc != SQLITE_OK || !disk_sees(name))
		return rc;
	if (there)
		disk_gone(name);
	if ((sync_dir & 1) != 0)
		disk_synced_dir(name, false);
	return rc;
}

static int
disk_access(sqlite3_vfs *vfs, const char *name, int flags, int *out)
{
	(void)vfs;
	return system_vfs->xAccess(system_vfs, name, flags, out);
}

static int
disk_full(sqlite3_vfs *vfs, const char *name, int n, char *out)
{
	(void)vfs;
	return system_vfs->xFullPathname(system_vfs, name, n, out);
}

void
disk_start(const char *folder)
{
	static sqlite3_vfs vfs;

	disk_root(folder);
	if (system_vfs != NULL)
		return;
	system_vfs = sqlite3_vfs_find(NULL);
	vfs = *system_vfs;
	vfs.pNext = NULL;
	vfs.zName = "remembering";
	vfs.szOsFile = (int)sizeof(struct seen);
	vfs.xOpen = disk_open;
	vfs.xDelete = disk_delete;
	vfs.xAccess = disk_access;
	vfs.xFullPathname = disk_full;
	if (sqlite3_vfs_register(&vfs, 1) != SQLITE_OK)
		abort();
}
