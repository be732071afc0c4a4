/* screen_rescue.c - the one screen there is when the file cannot be used. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "desk_inner.h"
#include "ops/scan.h"
#include "ops/stick.h"
#include "says_restore.h"
#include "screens/restore.h"

#define READ_MAX 8192

enum { ACT_BACKUP = 1, ACT_TYPE, ACT_ASIDE, ACT_STOP };

static const struct action actions[] = {
	{ ACT_BACKUP, { KEY_CODE_CHAR, 'b' }, SAY_RESCUE_ACT_BACKUP,
	    SAY_RESCUE_ACT_BACKUP_HELP },
	{ ACT_TYPE, { KEY_CODE_CHAR, 't' }, SAY_RESCUE_ACT_TYPE,
	    SAY_RESCUE_ACT_TYPE_HELP },
	{ ACT_ASIDE, { KEY_CODE_CHAR, 'x' }, SAY_RESCUE_ACT_ASIDE,
	    SAY_RESCUE_ACT_ASIDE_HELP },
	{ ACT_STOP, { KEY_CODE_CHAR, 's' }, SAY_RESCUE_ACT_STOP,
	    SAY_RESCUE_ACT_STOP_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

struct rescue {
	char file[CONFIG_PATH_SIZE];
	char why[ERR_TEXT_MAX];
	struct restore_ask *ask;
	char *label; /* what the last scan said; owned, or NULL */
};

/* The label's own words: nothing of a file is needed. */
static void
read_label(struct desk *d, struct rescue *s, const char *text, size_t len)
{
	struct err err = { 0 };
	struct buf out;

	buf_init(&out, READ_MAX);
	if (scan_say(&out, d->sn, text, len, FORMAT_TEXT, &err) != RC_OK &&
	    out.len == 0)
		desk_fail(d, &err);
	free(s->label);
	s->label = xstrdup(buf_text(&out));
	buf_fini(&out);
}

static bool
scan(struct desk *d, void *state, const struct desk_scan *in)
{
	read_label(d, state, in->text, in->len);
	return true;
}

static bool
code_read(struct desk *d, void *arg, struct form *f)
{
	const char *text = form_value(f, 0);

	read_label(d, arg, text, strlen(text));
	return true;
}

static void
chosen(struct desk *d, void *arg, const char *from, const char *by)
{
	(void)arg;
	str_copy(d->restore_from, sizeof(d->restore_from), from);
	str_copy(d->by, sizeof(d->by), by);
	d->over = true;
}

static void
set_aside(struct desk *d, void *arg)
{
	struct rescue *s = arg;
	char aside[SWAP_PATH_SIZE];
	struct err err = { 0 };

	if (restore_set_aside(aside, d->sn, s->file, &err) != RC_OK)
		desk_fail(d, &err);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_RESCUE_ASIDE_DONE), aside);
}

static void
act(struct desk *d, void *state, int action)
{
	static const struct field_row row[] = {
		{ SAY_RESCUE_CODE, FIELD_TEXT, FIELD_MUST,
		    SAY_RESCUE_CODE_HINT },
	};
	struct rescue *s = state;
	char folder[FILE_PATH_SIZE];

	switch (action) {
	case ACT_BACKUP:
		if (stick_folder(folder, d->sn, NULL, NULL, NULL) != RC_OK)
			folder[0] = '\0';
		restore_ask_begin(d, s->ask, folder);
		return;
	case ACT_TYPE:
		(void)desk_ask_fields(
		    d, tr(SAY_RESCUE_CODE), row, 1, code_read, s);
		return;
	case ACT_STOP:
		restore_ask_stop(s->ask);
		return;
	default:
		desk_ask_yes(d, tr(SAY_RESCUE_ASIDE_ASK),
		    tr(SAY_RESCUE_ASIDE_TEXT), set_aside, s);
	}
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct rescue *s = state;

	(void)d;
	if (action == ACT_STOP)
		return restore_ask_busy(s->ask);
	return !restore_ask_busy(s->ask) || action == ACT_TYPE;
}

static void
tick(struct desk *d, void *state)
{
	struct rescue *s = state;

	restore_ask_tick(d, s->ask);
}

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	struct rescue *s = state;
	struct pane rest;
	int y;

	(void)d;
	y = pane_wrap(p, 0, STYLE_BAD, s->why) + 1;
	y = pane_wrap(p, y, STYLE_PLAIN, tr(SAY_RESCUE_FILE)) + 1;
	y = pane_wrap(p, y, STYLE_STRONG, tr(SAY_RESCUE_SCAN)) + 1;
	if (s->label == NULL)
		return;
	pane_put(p, 0, y, STYLE_FAINT, tr(SAY_RESCUE_READ));
	rest = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	(void)pane_wrap(&rest, 0, STYLE_PLAIN, s->label);
}

static void
fini(void *state)
{
	struct rescue *s = state;

	restore_ask_free(s->ask);
	free(s->label);
}

static const struct screen screen_rescue = {
	.title = SAY_RESCUE,
	.actions = actions,
	.state_size = sizeof(struct rescue),
	.fini = fini,
	.draw = draw,
	.act = act,
	.scan = scan,
	.can = can,
	.tick = tick,
};

struct desk *
desk_new_rescue(struct station *sn, const struct desk_host *host,
    const char *file, const char *why, int w, int h)
{
	struct desk *d = xcalloc(1, sizeof(*d));
	struct rescue *s = xcalloc(1, sizeof(*s));

	d->sn = sn;
	d->host = host;
	d->only = &screen_rescue;
	d->only_state = s;
	canvas_init(&d->canvas, w, h);
	str_copy(s->file, sizeof(s->file), file);
	str_copy(s->why, sizeof(s->why), why);
	s->ask = restore_ask_new(s->file, true, chosen, s);
	return d;
}
