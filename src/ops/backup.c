/* backup.c - the station file copied to a stick, while work goes on. */
#include "ops/backup.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/watch.h"
#include "store/salvage.h"
#include "store/store.h"

#define MIB ((int64_t)1024 * 1024)
/* A file of SQLite has at least one page of this size. */
#define FILE_LEAST 512
/* Left free beside a backup: a full stick cannot even be tidied. */
#define ROOM_SPARE (4 * MIB)

static enum rc
fail_folder(const char *folder, struct err *err)
{
	int e = errno;

	if (e == ENOENT || e == ENOTDIR || e == ENODEV || e == ENXIO)
		return err_set(err, RC_NOTFOUND, e,
		    "%s: no such folder: is the stick in?", folder);
	return err_set(err, RC_FAILED, e, "%s: %s", folder, strerror(e));
}

/* What stands in a name when the clock was in doubt: the number alone counts.
 */
#define NO_DAY "uncertain"

static void
make_name(struct backup *b)
{
	char date[16];

	str_fmt(b->name, sizeof(b->name), "pinbone-%s-%04d.db",
	    b->day == DAY_NONE ? NO_DAY : day_print(date, sizeof(date), b->day),
	    b->number);
}

/* pinbone-2026-11-25-0001.db, pinbone-uncertain-0001.db, and nothing behind. */
static bool
parse_name(struct backup *b, const char *name)
{
	int year, month, day;

	if (sscanf(name, "pinbone-" NO_DAY "-%9d.db", &b->number) == 1)
		b->day = DAY_NONE;
	else if (sscanf(name, "pinbone-%4d-%2d-%2d-%9d.db", &year, &month, &day,
		     &b->number) != 4 ||
	    !day_from_civil(&b->day, year, month, day))
		return false;
	if (b->number < 1)
		return false;
	make_name(b);
	return str_eq(b->name, name);
}

static int
by_number(const void *a, const void *b)
{
	const struct backup *x = a, *y = b;

	return (y->number > x->number) - (y->number < x->number);
}

static enum rc
room_in(int64_t *out, const char *folder, struct err *err)
{
	struct statvfs v;

	if (statvfs(folder, &v) != 0)
		return fail_folder(folder, err);
	*out = (int64_t)v.f_bavail * (int64_t)v.f_frsize;
	return RC_OK;
}

/* What the files of a folder are held against. */
struct own {
	bool known;            /* the station's file can be read */
	struct file_head head; /* else kitchen and training mark as set */
	struct stat open;
	struct salvage *trail;
};

/* A file that is missing or damaged: its backups are told by the settings. */
static enum rc
own_open(struct own *own, const struct station *sn, const char *path,
    struct err *err)
{
	enum rc rc;

	memset(own, 0, sizeof(*own));
	rc = file_head_read(&own->head, path, err);
	own->known = rc == RC_OK && stat(path, &own->open) == 0;
	if (sn->st != NULL && !own->known)
		return rc != RC_OK ? rc
				   : err_set(err, RC_FAILED, errno, "%s: %s",
					 path, strerror(errno));
	err_clear(err);
	if (own->known)
		return salvage_open(&own->trail, path, err);
	memset(&own->head, 0, sizeof(own->head));
	str_copy(own->head.kitchen, sizeof(own->head.kitchen), sn->cfg.kitchen);
	str_copy(own->head.training, sizeof(own->head.training),
	    sn->cfg.training ? "yes" : "no");
	return RC_OK;
}

/* Where its trail leaves ours, when neither is the beginning of the other.
 * False: it cannot be read to its end, and nobody knows. */
static bool
apart(struct backup *b, const struct own *own, const char *path)
{
	int64_t fork = 0, shorter = b->head.last_row;
	struct salvage *other;
	enum rc rc;

	if (salvage_open(&other, path, NULL) != RC_OK)
		return false;
	rc = salvage_fork(&fork, own->trail, other, NULL);
	salvage_close(other);
	if (own->head.last_row < shorter)
		shorter = own->head.last_row;
	b->apart_after = fork < shorter ? fork : BACKUP_TOGETHER;
	return rc == RC_OK;
}

/*
 * One of this station's backups, which may be removed when it is old?  Not a
 * link, and never the file that is open: a backup that somebody works with is
 * the station now.
 */
static bool
is_own(struct backup *b, const struct own *own, const char *folder)
{
	char path[BACKUP_PATH_SIZE];
	struct stat st;

	if (!str_fmt(path, sizeof(path), "%s/%s", folder, b->name) ||
	    lstat(path, &st) != 0 || !S_ISREG(st.st_mode) ||
	    st.st_size < FILE_LEAST || /* not worth opening */
	    (own->known && st.st_dev == own->open.st_dev &&
		st.st_ino == own->open.st_ino) ||
	    file_head_read(&b->head, path, NULL) != RC_OK)
		return false;
	b->bytes = st.st_size;
	b->apart_after = BACKUP_TOGETHER;
	if (!own->known)
		return str_eq(b->head.kitchen, own->head.kitchen) &&
		    str_eq(b->head.training, own->head.training);
	return file_head_same(&b->head, &own->head) && apart(b, own, path);
}

/* All backups of a folder by number; `highest` of any station. */
static enum rc
read_folder(struct backup_list *l, int *highest, const struct station *sn,
    const char *file, const char *folder, struct err *err)
{
	struct backup b;
	struct dirent *d;
	struct own own;
	DIR *dir = NULL;
	enum rc rc;

	if ((rc = own_open(&own, sn, file, err)) != RC_OK)
		goto done;
	if ((dir = opendir(folder)) == NULL) {
		rc = fail_folder(folder, err);
		goto done;
	}
	l->items = xcalloc(BACKUP_LIST_MAX, sizeof(*l->items));
	while (errno = 0, (d = readdir(dir)) != NULL) {
		memset(&b, 0, sizeof(b));
		if (!parse_name(&b, d->d_name))
			continue;
		if (b.number > *highest)
			*highest = b.number;
		if (l->count < BACKUP_LIST_MAX && is_own(&b, &own, folder))
			l->items[l->count++] = b;
		else
			l->others++;
	}
	/* What cannot be read to its end may hold a higher number. */
	rc = errno != 0 ? fail_folder(folder, err) : RC_OK;
	qsort(l->items, l->count, sizeof(*l->items), by_number);
done:
	if (dir != NULL)
		closedir(dir);
	salvage_close(own.trail);
	return rc;
}

enum rc
backup_list_open(struct backup_list *out, struct station *sn,
    const char *folder, struct err *err)
{
	return backup_list_for(out, sn, store_path(sn->st), folder, err);
}

enum rc
backup_list_for(struct backup_list *out, struct station *sn, const char *file,
    const char *folder, struct err *err)
{
	int highest = 0;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = read_folder(out, &highest, sn, file, folder, err)) != RC_OK) {
		backup_list_fini(out);
		return rc;
	}
	return room_in(&out->free_bytes, folder, err);
}

void
backup_list_fini(struct backup_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

/* The file and what waits in its log. */
enum rc
backup_size(int64_t *out, struct station *sn, struct err *err)
{
	char log[BACKUP_PATH_SIZE];
	const char *path = store_path(sn->st);
	struct stat st;

	if (stat(path, &st) != 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", path, strerror(errno));
	*out = st.st_size;
	if (str_fmt(log, sizeof(log), "%s-wal", path) && stat(log, &st) == 0)
		*out += st.st_size;
	return RC_OK;
}

static enum rc
check_room(struct station *sn, const char *folder, struct err *err)
{
	int64_t need = 0, room = 0;
	enum rc rc;

	if ((rc = backup_size(&need, sn, err)) != RC_OK ||
	    (rc = room_in(&room, folder, err)) != RC_OK)
		return rc;
	if (room >= need + ROOM_SPARE)
		return RC_OK;
	return err_set(err, RC_REFUSED, ENOSPC,
	    "%s: %lld MB free, a backup needs %lld MB: make room or take "
	    "another stick; the older backups are as they were",
	    folder, (long long)(room / MIB),
	    (long long)((need + ROOM_SPARE) / MIB + 1));
}

/* What a backup that was cut short left behind; nobody else writes these: the
 * lock is held. */
static void
drop_parts(const char *folder)
{
	char path[BACKUP_PATH_SIZE], name[BACKUP_NAME_SIZE];
	struct backup b;
	struct dirent *d;
	DIR *dir = opendir(folder);
	size_t len;

	while (dir != NULL && (d = readdir(dir)) != NULL) {
		len = strlen(d->d_name);
		if (len < 5 || len >= sizeof(name) + 5 ||
		    !str_eq(d->d_name + len - 5, ".part"))
			continue;
		str_fmt(name, sizeof(name), "%.*s", (int)(len - 5), d->d_name);
		if (parse_name(&b, name) &&
		    str_fmt(path, sizeof(path), "%s/%s", folder, d->d_name))
			unlink(path);
	}
	if (dir != NULL)
		closedir(dir);
}

/* Two at once would take each other's number. */
static enum rc
lock_folder(int *fd, const char *folder, struct err *err)
{
	*fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (*fd < 0)
		return fail_folder(folder, err);
	/* A file system without locks has none to wait for. */
	if (flock(*fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
		return err_set(err, RC_RETRY, EWOULDBLOCK,
		    "%s: another backup is being written there: wait for it",
		    folder);
	return RC_OK;
}

static enum rc
make(struct backup_done *out, struct station *sn,
    const struct backup_wish *wish, struct err *err)
{
	char part[BACKUP_PATH_SIZE];
	struct backup *b = &out->made;
	int fd;
	enum rc rc;

	if (!str_fmt(
		out->path, sizeof(out->path), "%s/%s", wish->folder, b->name) ||
	    !str_fmt(part, sizeof(part), "%s.part", out->path))
		return err_set(err, RC_INVALID, ENAMETOOLONG,
		    "%.60s...: the path is too long", wish->folder);
	fd = open(part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, FILE_OWN_MODE);
	if (fd < 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", part, strerror(errno));
	close(fd);
	rc = store_copy(&b->head, &b->bytes, store_path(sn->st), part,
	    wish->tell, wish->arg, err);
	/* Its number is higher than any; should it be there all the same, what
	 * is there stays. */
	if (rc == RC_OK && file_rename_new(part, out->path) != 0)
		rc = errno == EEXIST
		    ? err_set(err, RC_REFUSED, EEXIST,
			  "%s: already there: it was left as it is", out->path)
		    : err_set(err, RC_FAILED, errno, "%s: %s", part,
			  strerror(errno));
	if (rc != RC_OK)
		unlink(part);
	else
		file_sync_folder(out->path);
	/* It says of the stick what store.c would say of the station. */
	return rc == RC_FATAL ? RC_FAILED : rc;
}

/* A backup, and what stands beside one that was opened as a station. */
static bool
drop_one(const char *folder, const char *name)
{
	static const char *const tails[] = { "-wal", "-shm", "-open", "" };
	char path[BACKUP_PATH_SIZE];
	bool gone = false;
	size_t i;

	for (i = 0; i < sizeof(tails) / sizeof(tails[0]); i++)
		gone = str_fmt(path, sizeof(path), "%s/%s%s", folder, name,
			   tails[i]) &&
		    unlink(path) == 0;
	return gone;
}

/* The list is from before the new one. */
static int
drop_old(const struct backup_list *l, const char *folder, size_t keep)
{
	int dropped = 0;
	size_t i, ours = 0;

	/* What another branch recorded is nowhere else. */
	for (i = 0; i < l->count; i++) {
		if (l->items[i].apart_after != BACKUP_TOGETHER)
			continue;
		if (++ours >= keep)
			dropped += drop_one(folder, l->items[i].name);
	}
	return dropped;
}

static enum rc
record(struct backup_done *out, struct station *sn,
    const struct backup_wish *wish, const struct moment *at, const char *doubt,
    struct err *err)
{
	char utc[24];
	enum rc rc;

	str_fmt(utc, sizeof(utc), "%lld", (long long)at->utc);
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = store_fact_set(sn->st, "backup_utc", utc, err)) == RC_OK &&
	    (rc = store_fact_set(sn->st, "backup_name", out->made.name, err)) ==
		RC_OK &&
	    (rc = store_fact_set(sn->st, "backup_folder", wish->folder, err)) ==
		RC_OK &&
	    (rc = watch_keep(sn, doubt, err)) == RC_OK &&
	    (rc = station_audit(sn, at, err, "backup", out->made.name,
		 "%lld bytes to %s, up to row %lld, %d older removed",
		 (long long)out->made.bytes, wish->folder,
		 (long long)out->made.head.last_row, out->dropped)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
backup_run(struct backup_done *out, struct station *sn,
    const struct backup_wish *wish, struct err *err)
{
	struct backup_list l = { 0 };
	char doubt[WATCH_DOUBT_SIZE];
	struct moment at;
	int highest = 0, lock = -1;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (wish->keep < 1 || wish->keep > BACKUP_KEEP_MAX)
		return err_set(err, RC_INVALID, 0,
		    "keep: %d is not between 1 and %d", wish->keep,
		    BACKUP_KEEP_MAX);
	/* A clock is never a reason to have no backup. */
	if ((rc = watch_moment(&at, doubt, sn, wish->by, err)) != RC_OK ||
	    (rc = lock_folder(&lock, wish->folder, err)) != RC_OK)
		goto done;
	drop_parts(wish->folder);
	if ((rc = read_folder(&l, &highest, sn, store_path(sn->st),
		 wish->folder, err)) != RC_OK ||
	    (rc = check_room(sn, wish->folder, err)) != RC_OK)
		goto done;
	out->made.day =
	    doubt[0] == '\0' ? local_from_utc(at.utc).day : DAY_NONE;
	out->made.number = highest + 1;
	out->made.apart_after = BACKUP_TOGETHER;
	make_name(&out->made);
	if ((rc = make(out, sn, wish, err)) != RC_OK)
		goto done;
	out->dropped = drop_old(&l, wish->folder, (size_t)wish->keep);
	rc = record(out, sn, wish, &at, doubt, err);
	if (rc != RC_OK)
		err_prefix(
		    err, "%s was made, but not written down: ", out->made.name);
done:
	if (lock >= 0)
		close(lock);
	backup_list_fini(&l);
	return rc;
}

static enum rc
get_fact(char *dst, size_t size, struct station *sn, const char *key,
    struct err *err)
{
	struct err none = { 0 };
	enum rc rc = store_fact_get(dst, size, sn->st, key, &none);

	if (rc == RC_OK)
		return RC_OK;
	dst[0] = '\0';
	return rc == RC_NOTFOUND ? RC_OK
				 : err_set(err, rc, none.lib, "%s", none.text);
}

enum rc
backup_last(struct backup_last *out, struct station *sn, struct err *err)
{
	char utc[24];
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = get_fact(utc, sizeof(utc), sn, "backup_utc", err)) != RC_OK ||
	    (rc = get_fact(out->name, sizeof(out->name), sn, "backup_name",
		 err)) != RC_OK ||
	    (rc = get_fact(out->folder, sizeof(out->folder), sn,
		 "backup_folder", err)) != RC_OK)
		return rc;
	out->utc = strtoll(utc, NULL, 10);
	return RC_OK;
}
