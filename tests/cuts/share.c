/* share.c - work shared out between processes. */
#define _DEFAULT_SOURCE 1 /* MAP_ANONYMOUS */
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include "cuts.h"
#include "folder.h"

static int
few_pages(sqlite3 *db, char **text, const struct sqlite3_api_routines *api)
{
	(void)text;
	(void)api;
	sqlite3_wal_autocheckpoint(db, LOG_PAGES);
	return SQLITE_OK;
}

void
log_small(void)
{
	/* SQLite's own way of saying it. */
	if (sqlite3_auto_extension((void (*)(void))few_pages) != SQLITE_OK)
		give_up("no hook");
}

static bool
ended_well(pid_t pid, unsigned i, const struct tally *t)
{
	int status;

	if (waitpid(pid, &status, 0) != pid)
		return false;
	if (WIFEXITED(status) && WEXITSTATUS(status) == 0)
		return !t->lost;
	fprintf(stderr, "cuts: worker %u ended badly (%s %d) at %lld, %lld\n",
	    i, WIFSIGNALED(status) ? "signal" : "status",
	    WIFSIGNALED(status) ? WTERMSIG(status) : WEXITSTATUS(status),
	    (long long)t->at, (long long)t->how);
	return false;
}

bool
share_out(struct tally *sum, unsigned n,
    void (*fn)(void *arg, struct tally *t, unsigned n, unsigned i), void *arg)
{
	struct tally *all = mmap(NULL, n * sizeof(*all), PROT_READ | PROT_WRITE,
	    MAP_SHARED | MAP_ANONYMOUS, -1, 0);
	pid_t pids[64];
	bool well = true;
	unsigned i, k;

	if (all == MAP_FAILED || n > 64)
		give_up("no memory to share");
	memset(sum, 0, sizeof(*sum));
	fflush(NULL);
	for (i = 0; i < n; i++) {
		if ((pids[i] = fork()) < 0)
			give_up("no process");
		if (pids[i] == 0) {
			fn(arg, &all[i], n, i);
			fflush(NULL);
			exit(0); /* what leaked is told, under ASan */
		}
	}
	for (i = 0; i < n; i++) {
		well &= ended_well(pids[i], i, &all[i]);
		for (k = 0; k < TALLY_MAX; k++)
			sum->n[k] += all[i].n[k];
	}
	munmap(all, n * sizeof(*all));
	return well;
}
