/* seat.c - one full-screen station on a file at a time. */
#include "ops/seat.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/file.h"
#include "base/str.h"

#define WHO_MAX 200

/* "process 4711 since 2026-12-04 07:10 at /dev/tty1" */
static void
write_who(int fd)
{
	struct clock real = { .fixed = false };
	char who[WHO_MAX], when[48], tty[80];

	if (ttyname_r(STDIN_FILENO, tty, sizeof(tty)) != 0)
		str_copy(tty, sizeof(tty), "no terminal");
	str_fmt(who, sizeof(who), "process %ld since %s at %s\n",
	    (long)getpid(), time_minute(when, sizeof(when), clock_now(&real)),
	    tty);
	/* Only said to whom it may concern: the lock is what counts. */
	if (ftruncate(fd, 0) != 0 ||
	    pwrite(fd, who, strlen(who), 0) != (ssize_t)strlen(who))
		return;
}

static void
read_who(char who[WHO_MAX], int fd)
{
	ssize_t n = pread(fd, who, WHO_MAX - 1, 0);

	who[n < 0 ? 0 : n] = '\0';
	who[strcspn(who, "\n")] = '\0';
	utf8_clean(who);
	if (who[0] == '\0')
		str_copy(who, WHO_MAX, "who did not say");
}

enum rc
seat_take(int *fd, const char *file, struct err *err)
{
	char name[FILE_PATH_SIZE + 16], who[WHO_MAX];
	int e;

	*fd = -1;
	if (!str_fmt(name, sizeof(name), "%s-station", file))
		return err_set(
		    err, RC_FAILED, 0, "the station file's path is too long");
	*fd = open(
	    name, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, FILE_OWN_MODE);
	if (*fd < 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", name, strerror(errno));
	if (flock(*fd, LOCK_EX | LOCK_NB) == 0) {
		write_who(*fd);
		return RC_OK;
	}
	e = errno;
	read_who(who, *fd);
	close(*fd);
	*fd = -1;
	if (e != EWOULDBLOCK)
		return err_set(err, RC_FAILED, e,
		    "%s: %s: keep the station file on a disk of this computer, "
		    "where files can be locked",
		    name, strerror(e));
	return err_set(err, RC_REFUSED, EWOULDBLOCK,
	    "%s: a station is open on it already (%s): leave that one with "
	    "Ctrl-Q, or work there; commands may go on beside it",
	    file, who);
}

void
seat_leave(int *fd)
{
	if (*fd >= 0)
		close(*fd);
	*fd = -1;
}
