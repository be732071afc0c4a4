/* printing_worker.c - the sender of labels beside the station. */
#include "screens/worker.h"

#include <stdlib.h>

#include "base/mem.h"
#include "base/str.h"
#include "says_printing.h"
#include "screens/beside.h"

#define PAUSE_FIRST_MS 1000
#define PAUSE_MOST_MS 60000
/* One that lasted so long did not fail at once: begin with a short pause. */
#define RAN_WELL_MS 60000
/* To finish the label it is at; and once it is told to be patient no more. */
#define FINISH_MS 5000
#define HURRY_MS 3000

struct worker {
	struct desk *d;
	struct beside *b;
	int64_t began_ms, next_ms; /* tried again then */
	int64_t pause_ms;
	char why[BESIDE_LINE_SIZE]; /* why it is not running; may be empty */
};

static void
run(struct worker *w, int64_t now_ms)
{
	static const char *const args[] = { "printer", "work", NULL };
	struct err err = { 0 };

	w->began_ms = now_ms;
	if (beside_start(&w->b, w->d, args, 0, &err) == RC_OK) {
		w->why[0] = '\0';
		return;
	}
	str_fmt(w->why, sizeof(w->why), "%s", err.text);
}

struct worker *
worker_start(struct desk *d)
{
	struct worker *w = xcalloc(1, sizeof(*w));

	w->d = d;
	w->pause_ms = PAUSE_FIRST_MS;
	w->next_ms = d->now_ms;
	return w;
}

/* The command's own words, without the name every message begins with. */
static const char *
bare(const char *line)
{
	static const char name[] = "pinbone: ";
	size_t i = 0;

	while (name[i] != '\0' && line[i] == name[i])
		i++;
	return name[i] == '\0' ? line + i : line;
}

static void
ended(struct worker *w, int64_t now_ms)
{
	str_fmt(w->why, sizeof(w->why), "%s",
	    beside_last(w->b)[0] != '\0' ? bare(beside_last(w->b))
					 : tr(SAY_SENDER_ENDED));
	beside_free(w->b, 0);
	w->b = NULL;
	if (now_ms - w->began_ms >= RAN_WELL_MS)
		w->pause_ms = PAUSE_FIRST_MS;
	w->next_ms = now_ms + w->pause_ms;
	w->pause_ms =
	    w->pause_ms * 2 < PAUSE_MOST_MS ? w->pause_ms * 2 : PAUSE_MOST_MS;
}

void
worker_tick(struct worker *w, int64_t now_ms)
{
	if (w->b != NULL) {
		beside_tick(w->b, now_ms);
		if (!beside_running(w->b))
			ended(w, now_ms);
	}
	if (w->b == NULL && now_ms >= w->next_ms) {
		run(w, now_ms);
		if (w->b == NULL)
			w->next_ms = now_ms + PAUSE_MOST_MS;
	}
	/* A sender at work is heard of through the file: the labels it could
	 * not send say why they wait. */
	if (w->why[0] != '\0')
		str_fmt(w->d->foot, sizeof(w->d->foot), tr(SAY_SENDER_FOOT),
		    w->why);
}

void
worker_print(void *arg)
{
	struct worker *w = arg;

	if (w->b == NULL)
		w->next_ms = w->d->now_ms;
}

void
worker_stop(struct worker *w)
{
	if (w == NULL)
		return;
	beside_stop(w->b);
	if (!beside_wait(w->b, FINISH_MS))
		beside_stop(w->b);
	beside_free(w->b, HURRY_MS);
	free(w);
}
