/* records_file.c - the file itself, from the page Backup: a backup in its
 * place, that it was moved, and whether it is whole. */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/home.h"
#include "ops/inspect.h"
#include "ops/stick.h"
#include "records_inner.h"
#include "says_records.h"

/* The first whole look of a day waits until the station has started and is
 * quiet. */
#define INSPECT_AFTER_MS 120000
#define INSPECT_AGAIN_MS 3600000

/* --- a backup in its place -------------------------------------------------*/

static void
leave_for_restore(struct desk *d, void *arg)
{
	struct records *s = arg;

	str_copy(d->restore_from, sizeof(d->restore_from), s->from);
	d->over = true;
}

static void
restore_chosen(struct desk *d, void *arg, const char *from, const char *by)
{
	struct records *s = arg;

	(void)by;
	str_copy(s->from, sizeof(s->from), from);
	desk_record(d, DUTY_RESTORE, leave_for_restore, s);
}

void
records_restore(struct desk *d, struct records *s)
{
	char folder[FILE_PATH_SIZE] = "";

	if (s->ask == NULL)
		s->ask = restore_ask_new(
		    station_path(d->sn), false, restore_chosen, s);
	if (s->folder[0] != '\0')
		str_copy(folder, sizeof(folder), s->folder);
	else if (stick_folder(folder, d->sn, NULL, NULL, NULL) != RC_OK)
		folder[0] = '\0';
	restore_ask_begin(d, s->ask, folder);
}

/* --- moved -----------------------------------------------------------------*/

bool
records_is_elsewhere(struct desk *d)
{
	enum home at = HOME_HERE;
	struct err err = { 0 };

	if (home_of(&at, d->sn, &err) != RC_OK)
		desk_fail(d, &err);
	return at == HOME_ELSEWHERE;
}

static void
record_moved(struct desk *d, void *arg)
{
	struct err err = { 0 };

	(void)arg;
	if (home_moved(d->sn, d->by, &err) != RC_OK)
		desk_fail(d, &err);
	else
		desk_say(d, LEVEL_DONE, "%s", tr(SAY_MOVED_DONE));
}

static void
moved_sure(struct desk *d, void *arg)
{
	desk_record(d, DUTY_RESTORE, record_moved, arg);
}

void
records_moved(struct desk *d, struct records *s)
{
	desk_ask_yes(
	    d, tr(SAY_MOVED_ASK), tr(SAY_MOVED_ASK_TEXT), moved_sure, s);
}

/* --- whole -----------------------------------------------------------------*/

static void
begin_inspect(struct desk *d, struct records *s)
{
	static const char *const args[] = { "inspect", "--record", NULL };
	struct err err = { 0 };
	int64_t last;

	s->inspect_ms = d->now_ms + INSPECT_AGAIN_MS;
	if (inspect_last(&last, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (last != 0 && clock_now(&d->sn->clock) - last < INSPECT_DUE_S)
		return;
	/* one that cannot be started is tried again later */
	ignore_rc(beside_start(&s->inspect, d, args, 0, &err));
}

static void
end_inspect(struct desk *d, struct records *s)
{
	static const char name[] = "pinbone: ";
	struct err err = { 0 };
	const char *last = beside_last(s->inspect);

	if (strncmp(last, name, strlen(name)) == 0)
		last += strlen(name);
	/* Damage ends the station: what opens next says so.  Anything else is
	 * tried again. */
	if (beside_status(s->inspect) == rc_exit_status(RC_FATAL)) {
		ignore_rc(err_set(&err, RC_FATAL, 0, "%s", last));
		desk_fail(d, &err);
	}
	beside_free(s->inspect, BESIDE_PATIENCE_MS);
	s->inspect = NULL;
}

void
records_file_tick(struct desk *d, struct records *s)
{
	if (s->ask != NULL)
		restore_ask_tick(d, s->ask);
	if (d->host == NULL || d->host->program == NULL)
		return;
	if (s->inspect_ms == 0)
		s->inspect_ms = d->now_ms + INSPECT_AFTER_MS;
	if (s->inspect != NULL) {
		(void)beside_tick(s->inspect, d->now_ms);
		if (!beside_running(s->inspect))
			end_inspect(d, s);
	} else if (d->now_ms >= s->inspect_ms) {
		begin_inspect(d, s);
	}
}

int
records_draw_whole(
    const struct desk *d, const struct records *s, const struct pane *p, int y)
{
	char when[48];

	(void)d;
	if (s->inspect != NULL)
		pane_put(p, 0, y, STYLE_PLAIN, tr(SAY_WHOLE_RUNS));
	else if (s->inspected == 0)
		pane_put(p, 0, y, STYLE_FAINT, tr(SAY_WHOLE_NEVER));
	else
		pane_fmt(p, 0, y, STYLE_FAINT, tr(SAY_WHOLE_LAST),
		    time_minute(when, sizeof(when), s->inspected));
	y++;
	if (s->elsewhere) {
		struct pane rest = pane_part(p, 0, y, p->w, p->h - y);

		y += pane_wrap(&rest, 0, STYLE_BAD, tr(SAY_MOVED_FAULT));
	}
	return y;
}
