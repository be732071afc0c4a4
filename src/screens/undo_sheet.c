/* undo_sheet.c - what the last step was, and whether it is taken back. */
#include "screens/undo.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/undo.h"
#include "says_undo.h"

#define SHEET_W 66
#define SHEET_H 15

struct undo_sheet {
	struct undo_offer offer;
	char of[16];   /* whose; empty: anybody's */
	char why[400]; /* why it stays; empty: it can be taken back */
};

static int
put_part(const struct pane *p, int y, enum style style, const char *text)
{
	struct pane part;

	if (text[0] == '\0' || y >= p->h)
		return y;
	part = pane_part(p, 0, 0, p->w, p->h);
	return pane_wrap(&part, y, style, text);
}

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	const struct undo_sheet *u = state;
	const struct undo_offer *o = &u->offer;
	char text[600];
	int y = 0;
	long n;

	(void)d;
	if (u->of[0] == '\0')
		str_copy(text, sizeof(text), tr(SAY_UNDO_OF_STATION));
	else
		str_fmt(text, sizeof(text), tr(SAY_UNDO_OF), u->of);
	y = put_part(p, y, STYLE_FAINT, text);
	y = put_part(p, y, STYLE_STRONG, o->what) + 1;
	if (u->why[0] != '\0') {
		y = put_part(p, y, STYLE_FAINT, tr(SAY_UNDO_STAYS));
		y = put_part(p, y, STYLE_WARN, u->why) + 1;
		put_part(p, y, STYLE_PLAIN, tr(SAY_UNDO_NO));
		return;
	}
	y = put_part(p, y, STYLE_FAINT, tr(SAY_UNDO_THEN));
	y = put_part(p, y, STYLE_STRONG, o->does);
	if (o->collect_count > 0) {
		n = (long)o->collect_count;
		str_fmt(text, sizeof(text), trn(SAY_UNDO_COLLECT, n), n,
		    o->collect);
		y = put_part(p, y, STYLE_WARN, text);
	}
	y = put_part(p, y, STYLE_WARN, o->care) + 1;
	put_part(p, y, STYLE_PLAIN, tr(SAY_UNDO_YES));
}

/* With initials, and the PIN if the house wants it. */
static void
go(struct desk *d, void *arg)
{
	struct undo_sheet *u = arg;
	struct undo_in in = {
		.step = u->offer.step,
		.of = u->of[0] == '\0' ? NULL : u->of,
		.by = d->by,
	};
	struct undo_offer done;
	struct err err = { 0 };
	enum rc rc = undo_do(&done, d->sn, &in, &err);

	desk_shut(d); /* u goes with it */
	if (rc != RC_OK)
		desk_fail(d, &err);
	else if (done.collect_count > 0)
		desk_say(d, LEVEL_WARN, tr(SAY_UNDO_DONE_COLLECT), done.what,
		    done.does, done.collect);
	else
		desk_say(
		    d, LEVEL_DONE, tr(SAY_UNDO_DONE), done.what, done.does);
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct undo_sheet *u = state;

	if (k->code != KEY_CODE_ENTER)
		return false;
	if (u->why[0] != '\0') {
		desk_shut(d);
		return true;
	}
	desk_record(
	    d, u->offer.kind == UNDO_HOLD ? DUTY_RELEASE : DUTY_ANYONE, go, u);
	return true;
}

static const struct sheet undo_sheet = {
	.title = SAY_UNDO_TITLE,
	.draw = draw,
	.key = key,
	.want_w = SHEET_W,
	.want_h = SHEET_H,
};

void
undo_ask(struct desk *d)
{
	struct undo_sheet *u = xcalloc(1, sizeof(*u));
	struct err err = { 0 };
	enum rc rc;

	str_copy(u->of, sizeof(u->of), d->by);
	rc = undo_last(&u->offer, d->sn, u->of[0] == '\0' ? NULL : u->of, &err);
	if (rc != RC_OK && rc != RC_REFUSED) {
		free(u);
		if (rc == RC_NOTFOUND)
			desk_say(d, LEVEL_NOTE, "%s", err.text);
		else
			desk_fail(d, &err);
		return;
	}
	if (rc == RC_REFUSED)
		str_fmt(u->why, sizeof(u->why), "%s", err.text);
	desk_open(d, &undo_sheet, u);
}
