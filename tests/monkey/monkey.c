/*
 * monkey.c - random keys, scans and changes at a desk, and what must hold
 * whatever is done.
 *
 *	monkey ACTIONS SEED...
 *
 * A child plays a seed; should it crash or hang, the seed and its last actions
 * are told, with which it happens again.  Tab-separated: seed, actions, what
 * was recorded, slowest answer.
 */
#define _DEFAULT_SOURCE 1 /* MAP_ANONYMOUS */
#include <inttypes.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/str.h"
#include "monkey.h"
#include "tests/bench/years.h"
#include "tests/unit/cut_child.h"
#include "tests/unit/sound.h"

#define DAYS 8
#define LOOK_EVERY 1000 /* actions */
#define HANG_MS 30000   /* no action takes so long, under ASan neither */
#define LOOK_HANG_MS 90000

static const char *const counted[] = { "delivery", "batch", "prep", "portion",
	"portion_event", "batch_event", "freezing", "hold", "print_job",
	"service", "closed", "audit" };
#define COUNTED (sizeof(counted) / sizeof(counted[0]))

static void
folder_drop(const char *folder)
{
	const char *argv[] = { "rm", "-rf", folder, NULL };

	if (child_run(NULL, argv, "/dev/null") != 0)
		fprintf(stderr, "monkey: %s is left\n", folder);
}

/* --- the child -------------------------------------------------------------*/

static void
fail(struct monkey *m, const struct err *err)
{
	monkey_wrong(m, "%s", err->text);
	_exit(1);
}

static void
open_all(struct monkey *m, const char *db)
{
	char ini[320];
	struct station_options o = {
		.db = db, .config = ini, .now = YEARS_NOW
	};
	struct err err = { 0 };

	str_fmt(ini, sizeof(ini), "%s.ini", db);
	if (station_open(&m->sn, &o, true, &err) != RC_OK ||
	    station_open(&m->other, &o, true, &err) != RC_OK)
		fail(m, &err);
	if (sqlite3_open_v2(db, &m->db, SQLITE_OPEN_READWRITE, NULL) !=
	    SQLITE_OK)
		monkey_wrong(m, "%s", sqlite3_errmsg(m->db));
	m->utc = m->sn->clock.fixed_utc;
	m->desk = desk_new(m->sn, NULL, 80, 24);
	m->desk->key_ms = m->desk->tick_ms = m->ms;
}

static void
look(struct monkey *m, int64_t *audit)
{
	int64_t now = sound_count(m->db, "audit");
	const char *wrong = m->wild_clock ? sound_check_undated(m->db, 0)
					  : sound_check(m->db, 0);

	if (wrong != NULL)
		monkey_wrong(m, "%s", wrong);
	if (now < *audit)
		monkey_wrong(m, "the audit trail lost rows");
	*audit = now;
}

static void
play(struct monkey *m, uint64_t actions)
{
	uint64_t looked = 0;
	int64_t audit = 0;

	while (m->tale->actions < actions && m->tale->wrong[0] == '\0') {
		monkey_draw(m);
		monkey_act(m);
		if (m->tale->actions / LOOK_EVERY != looked) {
			looked = m->tale->actions / LOOK_EVERY;
			look(m, &audit);
		}
	}
	monkey_draw(m);
	look(m, &audit);
}

static void
child(const char *db, uint64_t seed, uint64_t actions, struct tale *tale)
{
	struct monkey m = { .seed = seed, .tale = tale, .ms = 1000 };
	struct years_wish w = {
		.db = db, .days = DAYS, .small = true, .seed = seed
	};
	struct years_made made;
	struct err err = { 0 };
	int64_t before[COUNTED];
	size_t i;

	m.wild_clock = seed % 2 == 0;
	if (years_make(&made, &w, &err) != RC_OK)
		fail(&m, &err);
	open_all(&m, db);
	for (i = 0; i < COUNTED; i++)
		before[i] = sound_count(m.db, counted[i]);
	play(&m, actions);
	printf("%" PRIu64 "\t%" PRIu64, seed, tale->actions);
	for (i = 0; i < COUNTED; i++)
		printf("\t%" PRId64, sound_count(m.db, counted[i]) - before[i]);
	printf("\t%" PRId64 "\t%s\n", tale->slowest_us / 1000, tale->slowest);
	fflush(stdout);
	desk_free(m.desk);
	station_close(m.sn);
	station_close(m.other);
	sqlite3_close(m.db);
	/* exit(), not _exit(): what leaked is told. */
	exit(tale->wrong[0] != '\0');
}

/* --- the parent ------------------------------------------------------------*/

/* Wait for the child; false: it did not move for too long, and was ended. */
static bool
watch(pid_t pid, int *status, const struct tale *tale)
{
	static const struct timespec nap = { 0, 20000000 };
	int64_t since = clock_ticks_ms();
	uint64_t seen = 0;

	while (waitpid(pid, status, WNOHANG) == 0) {
		nanosleep(&nap, NULL);
		if (tale->actions != seen) {
			seen = tale->actions;
			since = clock_ticks_ms();
		}
		if (clock_ticks_ms() - since <
		    (seen % LOOK_EVERY < 40 ? LOOK_HANG_MS : HANG_MS))
			continue;
		kill(pid, SIGABRT);
		waitpid(pid, status, 0);
		return false;
	}
	return true;
}

static void
tell_tale(const struct tale *t, uint64_t seed)
{
	uint64_t from =
	    t->actions > TALE_ACTIONS ? t->actions - TALE_ACTIONS : 0;

	for (; from < t->actions; from++)
		fprintf(stderr, "%8" PRIu64 "  %s\n", from,
		    t->last[from % TALE_ACTIONS]);
	fprintf(stderr, "monkey: seed %" PRIu64 ", action %" PRIu64 ": %s\n",
	    seed, t->actions,
	    t->wrong[0] != '\0' ? t->wrong : "it crashed, or lost memory");
}

static bool
seed_holds(uint64_t seed, uint64_t actions, struct tale *tale)
{
	char folder[] = "/tmp/pinbone-monkey-XXXXXX", db[64];
	bool holds;
	int status;
	pid_t pid;

	if (mkdtemp(folder) == NULL)
		return false;
	str_fmt(db, sizeof(db), "%s/m.db", folder);
	memset(tale, 0, sizeof(*tale));
	fflush(stdout);
	if ((pid = fork()) == 0)
		child(db, seed, actions, tale);
	if (!watch(pid, &status, tale))
		str_copy(tale->wrong, sizeof(tale->wrong), "it hangs");
	holds = WIFEXITED(status) && WEXITSTATUS(status) == 0;
	if (!holds)
		tell_tale(tale, seed);
	folder_drop(folder);
	return holds;
}

int
main(int argc, char **argv)
{
	struct tale *tale = mmap(NULL, sizeof(*tale), PROT_READ | PROT_WRITE,
	    MAP_SHARED | MAP_ANONYMOUS, -1, 0);
	uint64_t actions;
	int i, failed = 0;
	size_t c;

	if (argc < 3 || tale == MAP_FAILED) {
		fprintf(stderr, "usage: monkey ACTIONS SEED...\n");
		return 2;
	}
	actions = strtoull(argv[1], NULL, 10);
	printf("seed\tactions");
	for (c = 0; c < COUNTED; c++)
		printf("\t%s", counted[c]);
	printf("\tslowest_ms\tat\n");
	for (i = 2; i < argc; i++)
		failed +=
		    !seed_holds(strtoull(argv[i], NULL, 10), actions, tale);
	return failed != 0;
}
