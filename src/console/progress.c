/* progress.c - a line on standard error now and then. */
#include "progress.h"

#include <inttypes.h>
#include <stdio.h>

#include "base/clock.h"

#define SAY_EVERY_MS 500 /* what is done sooner says nothing */

void
progress_begin(struct progress *p)
{
	p->next_ms = clock_ticks_ms() + SAY_EVERY_MS;
}

static bool
due(struct progress *p)
{
	int64_t now = clock_ticks_ms();

	if (now < p->next_ms)
		return false;
	p->next_ms = now + SAY_EVERY_MS;
	return true;
}

bool
progress_copy(void *arg, enum copy_phase phase, int64_t done, int64_t total)
{
	static const char *const words[] = {
		[COPY_WRITING] = "writing",
		[COPY_READING] = "reading back",
		[COPY_CHECKING] = "checking",
	};

	if (!due(arg))
		return true;
	if (total == 0)
		fprintf(stderr, "%s\n", words[phase]);
	else
		fprintf(stderr, "%s: %d %% of %" PRId64 ".%" PRId64 " MB\n",
		    words[phase], (int)(done * 100 / total), total / 1000000,
		    total / 100000 % 10);
	return true;
}

bool
progress_rows(void *arg, int64_t done, int64_t total)
{
	if (due(arg))
		fprintf(stderr, "writing: %d %% of %" PRId64 " rows\n",
		    (int)(done * 100 / total), total);
	return true;
}

bool
progress_check(void *arg)
{
	return progress_copy(arg, COPY_CHECKING, 0, 0);
}
