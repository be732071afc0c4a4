/* lesson.c - the first lesson, step by step. */
#include "screens/lesson.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/records_page.h"
#include "says_lesson.h"

#define LOOK_BACK 20 /* audit rows that one key can have written, and more */

/* A step is done when its screen is shown, or its record was made. */
static const struct step {
	const char *text;
	enum screen_id screen; /* SCREEN_HELP: any */
	const char *record;    /* action of the audit trail, or NULL */
} steps[] = {
	{ SAY_LESSON_TODAY, SCREEN_GOODS_IN, NULL },
	{ SAY_LESSON_RECEIVE, SCREEN_HELP, "receive" },
	{ SAY_LESSON_PLAN, SCREEN_PREP_LIST, NULL },
	{ SAY_LESSON_BEGIN, SCREEN_BREAKDOWN, NULL },
	{ SAY_LESSON_BREAK, SCREEN_HELP, "prep" },
	{ SAY_LESSON_LABELS, SCREEN_PRINTING, NULL },
	{ SAY_LESSON_HAND, SCREEN_ON_HAND, NULL },
	{ SAY_LESSON_USE, SCREEN_HELP, "use" },
	{ SAY_LESSON_TRACE, SCREEN_TRACE, NULL },
	{ SAY_LESSON_UNDO, SCREEN_HELP, "undo" },
};
#define STEPS ((int)(sizeof(steps) / sizeof(steps[0])))

struct lesson {
	int at;       /* STEPS: over */
	int64_t last; /* newest audit row when the step began */
	int64_t start_ms;
	int64_t took_ms;
};

/* The newest audit row, and whether one since `last` says `action`. */
static bool
recorded(int64_t *newest, struct desk *d, int64_t last, const char *action)
{
	struct audit_list rows = { NULL, 0 };
	struct err err = { 0 };
	bool found = false;
	size_t i;

	if (trail_open(&rows, newest, d->sn, 0, LOOK_BACK, &err) != RC_OK)
		desk_fail(d, &err);
	for (i = 0; i < rows.count; i++)
		found = found ||
		    (rows.items[i].id > last && action != NULL &&
			str_eq(rows.items[i].action, action));
	audit_list_fini(&rows);
	return found;
}

void
lesson_skip(struct desk *d)
{
	struct lesson *l = d->lesson;

	if (l == NULL || l->at == STEPS)
		return;
	l->at++;
	(void)recorded(&l->last, d, 0, NULL);
	l->took_ms = d->now_ms - l->start_ms;
}

void
lesson_begin(struct desk *d)
{
	assert(d->sn->cfg.training);
	d->lesson = xcalloc(1, sizeof(*d->lesson));
	d->lesson->start_ms = d->now_ms;
	(void)recorded(&d->lesson->last, d, 0, NULL);
}

void
lesson_free(struct lesson *l)
{
	free(l);
}

void
lesson_look(struct desk *d)
{
	const struct step *s;
	int64_t newest = 0;
	bool done;

	if (d->lesson == NULL || d->lesson->at == STEPS)
		return;
	s = &steps[d->lesson->at];
	done = s->record != NULL
	    ? recorded(&newest, d, d->lesson->last, s->record)
	    : d->at == s->screen;
	if (done)
		lesson_skip(d);
}

static void
words(char *dst, size_t size, const struct lesson *l)
{
	int minutes = (int)((l->took_ms + 59999) / 60000);

	if (l->at == STEPS) {
		str_fmt(dst, size, trn(SAY_LESSON_END, minutes), minutes);
		return;
	}
	str_fmt(dst, size, tr(SAY_LESSON_STEP), l->at + 1, STEPS,
	    tr(steps[l->at].text));
}

int
lesson_rows(const struct lesson *l, int w)
{
	char text[600];

	words(text, sizeof(text), l);
	return pane_wrap_rows(w, text) + 1;
}

void
lesson_draw(const struct lesson *l, const struct pane *p)
{
	struct pane in = pane_part(p, 0, 1, p->w, p->h - 1);
	char text[600];

	words(text, sizeof(text), l);
	pane_rule(p, 0);
	pane_right(p, p->w - 1, 0, STYLE_FAINT, tr(SAY_LESSON_SKIP));
	(void)pane_wrap(&in, 0, STYLE_STRONG, text);
}
