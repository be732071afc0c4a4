/* files.c - two stations on one file, a file that is damaged, a backup put in
 * place: the program itself, on a terminal. */
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/str.h"
#include "run_pty.h"

static void
open_on(struct pty *p, struct world *w)
{
	world_open(p, w, "xterm-256color", 80, 24);
	pty_wait(p, "F1 Help");
	pty_quiet(p, 100);
}

/* The second is refused with who the first is; a command is not; and a station
 * that was killed holds no seat. */
static void
two_stations(struct world *w)
{
	const char *const argv[] = { w->program, "--config", w->ini, "--db",
		w->db, "--now", WORLD_NOW, NULL };
	struct pty first, second;
	char who[40];
	int status;

	open_on(&first, w);
	pty_start(&second, argv, "xterm-256color", 200, 24);
	pty_wait(&second, "already (process");
	str_fmt(who, sizeof(who), "process %ld", (long)first.pid);
	if (!pty_shows(&second, who))
		pty_fail(&second, "not said: %s", who);
	status = pty_end(&second);
	if (!WIFEXITED(status) || WEXITSTATUS(status) != 3)
		pty_fail(&second, "ended with %x", (unsigned)status);
	pty_free(&second);
	MUST(w, "stock");
	MUST(w, "station", "--show", "F2");
	kill(first.pid, SIGKILL);
	(void)pty_end(&first);
	pty_free(&first);
	open_on(&first, w);
	pty_leave(&first);
}

static void
scribble(const struct world *w, off_t at)
{
	char junk[4096];
	int fd = open(w->db, O_WRONLY);

	memset(junk, 0x5a, sizeof(junk));
	if (fd < 0 ||
	    pwrite(fd, junk, sizeof(junk), at) != (ssize_t)sizeof(junk)) {
		fprintf(stderr, "the file cannot be scribbled over\n");
		exit(1);
	}
	close(fd);
}

/* From the damaged file to work going on, and nothing but keys. */
static void
rescue_from(struct world *w, off_t at)
{
	char stick[96], batch[16];
	struct stat before, after;
	struct pty p;

	world_fish(batch, w);
	str_fmt(stick, sizeof(stick), "%s/stick", w->folder);
	if (mkdir(stick, 0700) != 0)
		exit(1);
	MUST(w, "--by", "AK", "backup", stick);
	scribble(w, at);
	stat(w->db, &before);
	world_open(&p, w, "xterm-256color", 80, 24);
	pty_wait(&p, "cannot be used");
	/* a label: batch 26338-011, by the check of core/label_code.h */
	pty_type(&p, "9110000002633801126120723591\r", 1000);
	pty_wait(&p, "Monday 7 December 2026 23:59");
	stat(w->db, &after);
	if (before.st_mtime != after.st_mtime ||
	    before.st_size != after.st_size)
		pty_fail(&p, "the damaged file was written to");
	pty_key(&p, "b");
	pty_wait(&p, "in which folder");
	pty_type(&p, stick, 30000);
	pty_key(&p, "Enter");
	pty_wait(&p, "Which backup?");
	pty_key(&p, "Enter");
	pty_wait(&p, "This would be lost");
	pty_key(&p, "Enter");
	pty_wait(&p, "Its number");
	pty_fields(&p, (const char *const[]){ "1", "AK", NULL });
	pty_wait(&p, "the file before is whole");
	pty_key(&p, "Enter");
	pty_wait(&p, "F1 Help");
	pty_key(&p, "F6");
	pty_wait(&p, batch);
	pty_leave(&p);
	if (world_count(
		w, "SELECT count(*) FROM audit WHERE action = 'restore'") != 1)
		pty_fail(&p, "no record of it");
	MUST(w, "inspect");
}

static void
rescue_header(struct world *w)
{
	rescue_from(w, 0);
}

static void
rescue_page(struct world *w)
{
	rescue_from(w, (off_t)3 * 4096);
}

/* Seen by another program while the station is open: it writes no more. */
static void
found_while_open(struct world *w)
{
	const char *const look[] = { "inspect", NULL };
	struct pty p;

	open_on(&p, w);
	scribble(w, (off_t)5 * 4096);
	if (world_run(w, look) != 70)
		pty_fail(&p, "damage was not found: %s", w->said);
	pty_wait(&p, "cannot be used");
	pty_wait(&p, "nothing is written to it");
	pty_leave(&p);
}

/* From Records, with the sender of labels running beside. */
static void
restore_from_records(struct world *w)
{
	char stick[96], batch[16];
	struct pty p;

	world_fish(batch, w);
	str_fmt(stick, sizeof(stick), "%s/stick", w->folder);
	if (mkdir(stick, 0700) != 0)
		exit(1);
	MUST(w, "--by", "AK", "backup", stick);
	MUST(w, "--by", "AK", "hold", batch, "--reason", "warm");
	open_on(&p, w);
	pty_key(&p, "F11");
	pty_key(&p, "b");
	pty_wait(&p, "Last backup");
	pty_key(&p, "r");
	pty_wait(&p, "in which folder");
	pty_type(&p, stick, 30000);
	pty_key(&p, "Enter");
	pty_wait(&p, "Which backup?");
	pty_key(&p, "Enter");
	pty_wait(&p, "ON HOLD now");
	pty_key(&p, "Enter");
	pty_wait(&p, "in place of the file?");
	pty_fields(&p, (const char *const[]){ "1", NULL });
	pty_wait(&p, "Initials");
	pty_fields(&p, (const char *const[]){ "AK", "Ada Kern", NULL });
	pty_wait(&p, "1 on hold again");
	pty_key(&p, "Enter");
	pty_key(&p, "F6");
	pty_wait(&p, "on hold");
	pty_leave(&p);
}

const struct pty_test pty_files[] = {
	{ "two stations on one file", two_stations, NULL },
	{ "a scribbled header, and a backup", rescue_header, NULL },
	{ "a scribbled page, and a backup", rescue_page, NULL },
	{ "damage found while open", found_while_open, NULL },
	{ "a backup from Records", restore_from_records, NULL },
	{ NULL, NULL, NULL },
};
