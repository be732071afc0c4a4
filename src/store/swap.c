/* swap.c - a station file put in place of another. */
#include "store/swap.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/str.h"
#include "store/damage.h"

#define ASIDE_MAX 9999
#define PLAN_MAX 4096

/* --- who has it open -------------------------------------------------------*/

enum rc
open_lock(int *fd, const char *path, bool alone, struct err *err)
{
	char name[SWAP_PATH_SIZE];
	struct stat st;
	int got, e;

	*fd = -1;
	if (!str_fmt(name, sizeof(name), "%s-open", path))
		return err_set(
		    err, RC_FAILED, 0, "the station file's path is too long");
	got = open(
	    name, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, FILE_OWN_MODE);
	e = errno;
	/* Where none can be made, opening the file itself will say why; one
	 * that is there and somebody else's keeps nobody out. */
	if (got < 0 && !alone && lstat(name, &st) != 0)
		return RC_OK;
	if (got < 0)
		return err_set(err, RC_FAILED, e,
		    "%s: %s: remove it when no station is open", name,
		    strerror(e));
	if (flock(got, (alone ? LOCK_EX : LOCK_SH) | LOCK_NB) == 0) {
		*fd = got;
		return RC_OK;
	}
	e = errno;
	close(got);
	if (e != EWOULDBLOCK)
		return err_set(err, RC_FAILED, e,
		    "%s: %s: keep the station file on a disk of this computer, "
		    "where files can be locked",
		    name, strerror(e));
	if (alone)
		return err_set(err, RC_RETRY, EWOULDBLOCK,
		    "%s: another program has it open: leave the station and "
		    "let commands end, then try again",
		    path);
	return err_set(err, RC_RETRY, EWOULDBLOCK,
	    "%s: a backup is just being put in its place: try again", path);
}

void
open_unlock(int *fd)
{
	if (*fd >= 0)
		close(*fd);
	*fd = -1;
}

/* --- names -----------------------------------------------------------------*/

static enum rc
name_of(char out[SWAP_PATH_SIZE], const char *path, const char *tail,
    struct err *err)
{
	if (str_fmt(out, SWAP_PATH_SIZE, "%s%s", path, tail))
		return RC_OK;
	return err_set(err, RC_FAILED, ENAMETOOLONG,
	    "the station file's path is too long");
}

enum rc
swap_coming(char out[SWAP_PATH_SIZE], const char *path, struct err *err)
{
	return name_of(out, path, ".coming", err);
}

/* Also what stands beside a file: a log alone would be taken for its own. */
static bool
is_free(const char *name)
{
	static const char *const tails[] = { "", "-wal", "-shm" };
	char beside[SWAP_PATH_SIZE];
	struct stat st;
	size_t i;

	for (i = 0; i < 3; i++)
		if (!str_fmt(beside, sizeof(beside), "%s%s", name, tails[i]) ||
		    lstat(beside, &st) == 0 || errno != ENOENT)
			return false;
	return true;
}

enum rc
swap_aside(char out[SWAP_PATH_SIZE], const char *path, const char *date,
    struct err *err)
{
	int n;

	for (n = 1; n <= ASIDE_MAX; n++)
		if (str_fmt(
			out, SWAP_PATH_SIZE, "%s.aside-%s-%d", path, date, n) &&
		    is_free(out))
			return RC_OK;
	return err_set(err, RC_FAILED, 0,
	    "%s: no name is left to set it aside under", path);
}

/* --- what is meant ---------------------------------------------------------*/

/* "coming yes\naside NAME\n"; the name as it stands in its folder, since the
 * next start may come from another one. */
static enum rc
write_plan(const char *plan, const char *aside, bool coming, struct err *err)
{
	const char *slash = strrchr(aside, '/');
	char text[PLAN_MAX];

	if (strchr(aside, '\n') !=
	    NULL) /* the folder's too: nobody could read it */
		return err_set(err, RC_INVALID, 0,
		    "the station file's path has a line end in it: give it "
		    "another name first");
	if (!str_fmt(text, sizeof(text), "coming %s\naside %s\n",
		coming ? "yes" : "no", slash == NULL ? aside : slash + 1))
		return err_set(err, RC_FAILED, ENAMETOOLONG,
		    "the station file's path is too long");
	return file_write(plan, text, strlen(text), err);
}

static enum rc
read_plan(
    bool *coming, char aside[SWAP_PATH_SIZE], const char *plan, struct err *err)
{
	static const char yes[] = "coming yes\naside ";
	static const char no[] = "coming no\naside ";
	struct buf b;
	char name[FILE_PATH_SIZE];
	const char *s;
	size_t len;
	enum rc rc;

	buf_init(&b, PLAN_MAX);
	rc = file_read(&b, plan, err);
	s = buf_text(&b);
	*coming = strncmp(s, yes, strlen(yes)) == 0;
	if (rc == RC_OK && !*coming && strncmp(s, no, strlen(no)) != 0)
		s = "";
	else
		s += *coming ? strlen(yes) : strlen(no);
	len = rc == RC_OK ? strcspn(s, "\n") : 0;
	if (rc == RC_OK &&
	    (len == 0 || s[len] != '\n' ||
		!str_fmt(name, sizeof(name), "%.*s", (int)len, s) ||
		strchr(name, '/') != NULL ||
		!file_beside(aside, SWAP_PATH_SIZE, plan, name)))
		rc = err_set(err, RC_FAILED, 0,
		    "%s: not what a restore writes: look at it, then remove "
		    "it",
		    plan);
	buf_fini(&b);
	return rc;
}

/* --- names change ----------------------------------------------------------*/

struct swapping {
	const char *path, *aside, *plan;
	char coming[SWAP_PATH_SIZE]; /* empty: nothing comes */
	swap_fn *tell;
	void *arg;
};

static enum rc
step(const struct swapping *w, enum swap_step at, struct err *err)
{
	if (w->tell == NULL || w->tell(w->arg, at))
		return RC_OK;
	return err_set(err, RC_FAILED, 0, "%s: stopped", w->path);
}

/* One of NAME, NAME-wal, NAME-shm; gone already is done already. */
static enum rc
move_aside(const struct swapping *w, const char *tail, struct err *err)
{
	char from[SWAP_PATH_SIZE], to[SWAP_PATH_SIZE];
	enum rc rc;

	if ((rc = name_of(from, w->path, tail, err)) != RC_OK ||
	    (rc = name_of(to, w->aside, tail, err)) != RC_OK)
		return rc;
	if (file_rename_new(from, to) == 0 || errno == ENOENT)
		return RC_OK;
	return err_set(err, RC_FAILED, errno, "%s: cannot be set aside: %s",
	    from, strerror(errno));
}

/*
 * Each of these may have been done before a cut.  While the new file has not
 * moved, what is at NAME is the old one; when it has, all of the old one had
 * gone before, and that had reached the medium.
 */
static enum rc
do_plan(const struct swapping *w, struct err *err)
{
	bool here;
	enum rc rc;

	/* A file system whose renames are a link more and one less, cut between
	 * the two. */
	if (w->coming[0] != '\0' && file_linked(w->coming, w->path) &&
	    unlink(w->coming) != 0)
		return err_set(err, RC_FAILED, errno, "%s: %s", w->coming,
		    strerror(errno));
	here = w->coming[0] == '\0' || file_exists(w->coming);

	if (here &&
	    ((rc = step(w, SWAP_OLD_FILE, err)) != RC_OK ||
		(rc = move_aside(w, "", err)) != RC_OK ||
		(rc = step(w, SWAP_OLD_LOG, err)) != RC_OK ||
		(rc = move_aside(w, "-wal", err)) != RC_OK ||
		(rc = step(w, SWAP_OLD_INDEX, err)) != RC_OK ||
		(rc = move_aside(w, "-shm", err)) != RC_OK ||
		(rc = move_aside(w, DAMAGE_TAIL, err)) != RC_OK))
		return rc;
	file_sync_folder(w->path);
	if (here && w->coming[0] != '\0') {
		if ((rc = step(w, SWAP_NEW_FILE, err)) != RC_OK)
			return rc;
		if (file_rename_new(w->coming, w->path) != 0)
			return err_set(err, RC_FAILED, errno,
			    "%s: cannot take its place: %s", w->coming,
			    strerror(errno));
		file_sync_folder(w->path);
	}
	if ((rc = step(w, SWAP_FORGET, err)) != RC_OK)
		return rc;
	if (unlink(w->plan) != 0 && errno != ENOENT)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", w->plan, strerror(errno));
	file_sync_folder(w->path);
	return step(w, SWAP_DONE, err);
}

enum rc
swap_files(const char *path, const char *aside, bool coming, swap_fn *tell,
    void *arg, struct err *err)
{
	struct swapping w = {
		.path = path, .aside = aside, .tell = tell, .arg = arg
	};
	char plan[SWAP_PATH_SIZE];
	enum rc rc;

	if ((rc = name_of(plan, path, ".swap", err)) != RC_OK ||
	    (coming && (rc = swap_coming(w.coming, path, err)) != RC_OK))
		return rc;
	w.plan = plan;
	if ((rc = step(&w, SWAP_DECIDE, err)) != RC_OK ||
	    (rc = write_plan(plan, aside, coming, err)) != RC_OK)
		return rc;
	return do_plan(&w, err);
}

bool
swap_pending(const char *path)
{
	char plan[SWAP_PATH_SIZE];

	return str_fmt(plan, sizeof(plan), "%s.swap", path) &&
	    file_exists(plan);
}

enum rc
swap_finish(
    bool *done, char aside[SWAP_PATH_SIZE], const char *path, struct err *err)
{
	struct swapping w = { .path = path };
	char plan[SWAP_PATH_SIZE];
	bool coming;
	int lock = -1;
	enum rc rc;

	*done = false;
	if ((rc = name_of(plan, path, ".swap", err)) != RC_OK ||
	    !file_exists(plan))
		return rc;
	if ((rc = open_lock(&lock, path, true, err)) != RC_OK ||
	    !file_exists(plan)) /* another start was faster */
		goto done;
	if ((rc = read_plan(&coming, aside, plan, err)) != RC_OK ||
	    (coming && (rc = swap_coming(w.coming, path, err)) != RC_OK))
		goto done;
	w.aside = aside;
	w.plan = plan;
	rc = do_plan(&w, err);
	*done = rc == RC_OK;
done:
	open_unlock(&lock);
	return rc;
}
