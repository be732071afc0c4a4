/*
 * kill.c - programs that record, print and back up are ended by SIGKILL at
 * random moments, one alone or two on one file; what they reported is there,
 * and the next one goes on with the same file.
 */
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/clock.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "cuts.h"
#include "folder.h"
#include "hand.h"
#include "look_at.h"
#include "tests/unit/chance.h"

#define LIVES_A_FILE 25 /* then another kitchen, so that files stay small */
#define SAID_MAX ((size_t)4 << 20)
#define RECENT 400 /* words looked up after each life; all at the end */

/* What was reported, by everybody, of the file there is now. */
struct word {
	char *sql, *want;
};

static struct told {
	struct word *items;
	size_t count, cap;
	int64_t said, held;  /* words, and those compared */
	int64_t ops, in_air; /* reported, and under way when it was killed */
	int64_t lost;
} told;

static void
forget_words(void)
{
	size_t i;

	for (i = 0; i < told.count; i++) {
		free(told.items[i].sql);
		free(told.items[i].want);
	}
	told.count = 0;
}

static struct word *
word_of(const char *sql)
{
	size_t i;

	for (i = told.count; i > 0; i--)
		if (str_eq(told.items[i - 1].sql, sql))
			return &told.items[i - 1];
	return NULL;
}

static void
tell(const char *sql, const char *want)
{
	struct word *w = word_of(sql), was;

	told.said++;
	if (w != NULL) {
		/* The newest last. */
		was = *w;
		memmove(w, w + 1,
		    (size_t)(told.items + told.count - w - 1) * sizeof(*w));
		told.items[told.count - 1] = was;
		free(was.want);
		told.items[told.count - 1].want = xstrdup(want);
		return;
	}
	told.items =
	    grow(told.items, &told.cap, told.count, sizeof(*told.items));
	told.items[told.count].sql = xstrdup(sql);
	told.items[told.count++].want = xstrdup(want);
}

/* It may be so or not: whatever it is now. */
static void
doubt(const char *sql)
{
	struct word *w = word_of(sql);

	if (w == NULL)
		return;
	free(w->sql);
	free(w->want);
	memmove(
	    w, w + 1, (size_t)(told.items + told.count - w - 1) * sizeof(*w));
	told.count--;
}

/*
 * Lines of one life: "?SQL" may change now, "=SQL\tTEXT" gives that from now
 * on, "." what was under way is done.
 */
static void
take_down(char *text)
{
	char *line, *next, *tab, *begun = text;
	bool open = false;

	for (line = text; (next = strchr(line, '\n')) != NULL; line = next) {
		*next++ = '\0';
		if (line[0] == '.') {
			for (; begun < line; begun += strlen(begun) + 1)
				if (begun[0] == '=' &&
				    (tab = strchr(begun, '\t')) != NULL) {
					*tab = '\0';
					tell(begun + 1, tab + 1);
					*tab = '\t';
				}
			told.ops++;
			open = false;
			begun = next;
		} else {
			open = true;
		}
	}
	for (; open && begun < line; begun += strlen(begun) + 1)
		if (begun[0] == '?')
			doubt(begun + 1);
	told.in_air += open;
}

/* --- one life --------------------------------------------------------------*/

struct life {
	pid_t pid;
	int fd;
	struct buf said;
};

static void
born(struct life *l, struct day *d, unsigned seed, int who)
{
	int p[2];

	if (pipe(p) != 0 || (l->pid = fork()) < 0)
		give_up("no process");
	if (l->pid == 0) {
		close(p[0]);
		_exit(hand_play(d, seed, who, p[1]));
	}
	close(p[1]);
	l->fd = p[0];
	buf_init(&l->said, SAID_MAX);
}

/* Listen until it has said that much, or for so long. */
static void
listen(struct life *l, size_t bytes, int ms)
{
	struct pollfd p = { .fd = l->fd, .events = POLLIN };
	int64_t until = clock_ticks_ms() + ms, left;
	char chunk[4096];
	ssize_t n;

	while (l->said.len < bytes && (left = until - clock_ticks_ms()) > 0 &&
	    poll(&p, 1, (int)left) > 0) {
		if ((n = read(l->fd, chunk, sizeof(chunk))) <= 0)
			return;
		buf_add(&l->said, chunk, (size_t)n);
	}
}

/* True when it ended by itself, and well, or was killed. */
static bool
dead(struct life *l, bool killing)
{
	char *text;
	int status;

	if (killing)
		kill(l->pid, SIGKILL);
	listen(l, SAID_MAX, 20000);
	if (waitpid(l->pid, &status, 0) != l->pid)
		give_up("no child");
	close(l->fd);
	text = xstrdup(buf_text(&l->said));
	buf_fini(&l->said);
	take_down(text);
	free(text);
	return WIFSIGNALED(status) ? WTERMSIG(status) == SIGKILL
				   : WEXITSTATUS(status) == 0;
}

/* --- what it left ----------------------------------------------------------*/

static const char *
look_words(sqlite3 *db, size_t most)
{
	static char said[700];
	const char *is;
	sqlite3_stmt *q;
	size_t i = told.count > most ? told.count - most : 0;

	for (; i < told.count; i++) {
		if (strncmp(told.items[i].sql, "file ", 5) == 0)
			continue;
		if (sqlite3_prepare_v2(db, told.items[i].sql, -1, &q, NULL) !=
		    SQLITE_OK)
			return sqlite3_errmsg(db);
		is = sqlite3_step(q) == SQLITE_ROW
		    ? (const char *)sqlite3_column_text(q, 0)
		    : "";
		str_fmt(said, sizeof(said), "it said %s, there is %s: %s",
		    told.items[i].want, is == NULL ? "" : is,
		    told.items[i].sql);
		if (!str_eq(is == NULL ? "" : is, told.items[i].want)) {
			sqlite3_finalize(q);
			return said;
		}
		sqlite3_finalize(q);
		told.held++;
	}
	return NULL;
}

/* Backups that were reported are there as they were. */
static const char *
look_backups(void)
{
	char hash[24];
	size_t i;
	int seen = 0;

	for (i = told.count; i > 0 && seen < 2; i--) {
		if (strncmp(told.items[i - 1].sql, "file ", 5) != 0)
			continue;
		seen++;
		hand_hash(hash, told.items[i - 1].sql + 5);
		if (!str_eq(hash, told.items[i - 1].want))
			return "a backup is gone, or not as it was";
		told.held++;
	}
	return NULL;
}

static const char *
look_left(struct day *d, bool program, size_t most)
{
	static char said[ERR_TEXT_MAX];
	struct err err = { 0 };
	const char *wrong = NULL;
	struct buf labels;
	char path[400];
	sqlite3 *db = NULL;

	if (program && day_open(d, &err) != RC_OK) {
		str_copy(said, sizeof(said), err.text);
		return said;
	}
	if (!look_open(&db, d->db))
		return "it cannot be read";
	buf_init(&labels, FILE_READ_MAX);
	str_fmt(path, sizeof(path), "%s/labels.zpl", d->out);
	if (file_read(&labels, path, NULL) == RC_OK)
		wrong = look_labels(db, buf_text(&labels), labels.len);
	buf_fini(&labels);
	if (wrong == NULL)
		wrong = look_words(db, most);
	if (wrong == NULL)
		wrong = look_backups();
	if (wrong == NULL)
		wrong = look_sound(db);
	if (wrong == NULL && (program || most == SIZE_MAX))
		wrong = look_trail(d->db);
	sqlite3_close(db);
	day_shut(d);
	return wrong;
}

static void
new_kitchen(struct day *d)
{
	struct err err = { 0 };
	int i;

	day_make(d);
	forget_words();
	/* As far as the bookings. */
	for (i = 0; i < 6; i++)
		if (day_play(d, i, &err) != RC_OK)
			give_up("%s: %s", day_steps[i].name, err.text);
	day_shut(d);
	day_at(d, "10:00");
}

static bool
one_life(struct day *d, unsigned seed, int *killed)
{
	uint64_t chance = seed;
	struct life l[2];
	int n = seed % 3 == 0 ? 2 : 1, i;
	bool kill_it = chance_next(&chance) % 10 != 0, well = true;
	size_t bytes = chance_next(&chance) % 6000;
	int us = (int)(chance_next(&chance) % 4000);

	for (i = 0; i < n; i++)
		born(&l[i], d, seed, i);
	listen(&l[0], kill_it ? bytes : SAID_MAX, 20000);
	if (kill_it)
		pause_us(us);
	for (i = 0; i < n; i++)
		well &= dead(&l[i], kill_it);
	*killed += kill_it ? n : 0;
	return well;
}

bool
kill_run(unsigned seeds, unsigned workers)
{
	const char *wrong = NULL;
	struct day d;
	int killed = 0;
	unsigned i;

	(void)workers; /* one life after the other, on what it left */
	log_small();
	for (i = 0; i < seeds && wrong == NULL; i++) {
		if (i % LIVES_A_FILE == 0)
			new_kitchen(&d);
		if (!one_life(&d, i + 1, &killed))
			wrong = "a program gave up or crashed";
		if (wrong == NULL)
			wrong = look_left(&d, i % 2 == 0,
			    (i + 1) % LIVES_A_FILE == 0 ? SIZE_MAX : RECENT);
		if (wrong != NULL)
			fprintf(stderr, "cuts: kill, seed %u: %s (%s)\n", i + 1,
			    wrong, d.folder);
		else if ((i + 1) % LIVES_A_FILE == 0 || i + 1 == seeds)
			day_drop(&d);
	}
	forget_words();
	free(told.items);
	told.items = NULL;
	printf(
	    "kill: %u seeds, %d programs killed; %lld steps reported, %lld "
	    "killed in mid-step; %lld words, looked up %lld times, %d lost\n",
	    i, killed, (long long)told.ops, (long long)told.in_air,
	    (long long)told.said, (long long)told.held, wrong != NULL);
	return wrong == NULL;
}
