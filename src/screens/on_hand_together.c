/* on_hand_together.c - what is left of the marked trays onto one. */
#include <string.h>

#include "base/str.h"
#include "on_hand.h"
#include "ops/combine.h"
#include "ops/label.h"
#include "says_on_hand.h"
#include "term/when.h"

/* The marked ones, for ops. */
struct marked {
	const char *codes[COMBINE_UNITS_MAX];
	struct combine_in in;
};

static bool
take(struct marked *m, struct desk *d, const struct on_hand *s)
{
	size_t i;

	if (s->mark_count > COMBINE_UNITS_MAX) {
		desk_say(d, LEVEL_NOTE, tr(SAY_HAND_TOGETHER_MOST),
		    COMBINE_UNITS_MAX);
		return false;
	}
	for (i = 0; i < s->mark_count; i++)
		m->codes[i] = s->marks[i];
	m->in = (struct combine_in){ m->codes, s->mark_count, d->by };
	return true;
}

static void
queue_label(struct desk *d, const char *code)
{
	struct label_order o = { &code, 1, LABEL_FIRST, .by = d->by,
		.only_queue = true };
	struct job_list jobs = { 0 };
	struct err err = { 0 };

	if (label_print(&jobs, d->sn, &o, &err) == RC_OK)
		desk_print(d);
	else
		desk_say(d, LEVEL_WARN, "%s", err.text);
	job_list_fini(&jobs);
}

static void
go(struct desk *d, void *arg)
{
	struct on_hand *s = arg;
	struct combined c;
	struct marked m;
	char shown[CODE_SIZE];
	struct err err = { 0 };

	if (!take(&m, d, s))
		return;
	if (combine(&c, d->sn, &m.in, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	s->mark_count = 0;
	str_copy(s->at, sizeof(s->at), c.tray.code);
	desk_say(d, LEVEL_DONE, trn(SAY_HAND_TOGETHER_DONE, (long)c.count),
	    code_show(shown, c.tray.code), (int)c.count);
	queue_label(d, c.tray.code);
}

static void
go_yes(struct desk *d, void *arg)
{
	desk_record(d, DUTY_ANYONE, go, arg);
}

void
on_hand_together(struct desk *d, struct on_hand *s)
{
	struct portion tray;
	struct marked m;
	char text[400], when[48];
	struct err err = { 0 };

	if (!take(&m, d, s))
		return;
	if (combine_look(&tray, d->sn, &m.in, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	str_fmt(text, sizeof(text), tr(SAY_HAND_TOGETHER_TEXT), (int)m.in.count,
	    (int)tray.servings, tray.dish_name,
	    when_instant(when, sizeof(when), tray.use_by_utc));
	desk_ask_yes(d, tr(SAY_HAND_TOGETHER_ASK), text, go_yes, s);
}
