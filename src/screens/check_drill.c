/* check_drill.c - asked from the checks of Records: a recall in play. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand_words.h"
#include "records_inner.h"
#include "says_checks.h"

static void
read_report(struct desk *d, struct checks *c, const struct drill_report *r)
{
	struct buf out;

	c->drill = r->id;
	buf_init(&out, 65536);
	drill_show(&out, r, FORMAT_TEXT);
	desk_read(d, tr(SAY_DRILL_TITLE), buf_text(&out));
	buf_fini(&out);
}

static void
run(struct desk *d, void *arg)
{
	struct checks *c = arg;
	struct drill_in in = { .code = c->what[0] == '\0' ? NULL : c->what,
		.by = d->by };
	struct drill_report r;
	struct err err = { 0 };
	char took[32];

	if (drill_run(&r, d->sn, &in, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	drill_time(took, sizeof(took), r.took_us);
	if (drill_found(&r))
		desk_say(d, LEVEL_DONE, tr(SAY_DRILL_FOUND), took);
	else
		desk_say(d, LEVEL_WARN, tr(SAY_DRILL_GAP), took, r.gap);
	read_report(d, c, &r);
}

static bool
code_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;

	str_copy(c->what, sizeof(c->what), form_value(f, 0));
	desk_shut(d);
	desk_record(d, DUTY_ANYONE, run, c);
	return false;
}

static const char *
row_word(const void *arg, size_t i)
{
	const struct checks *c = arg;

	return c->drill_words[i];
}

static void
pick_row(struct desk *d, void *arg, size_t i)
{
	struct checks *c = arg;
	struct drill_report r;
	struct err err = { 0 };

	if (drill_get(&r, d->sn, c->drills.items[i].id, &err) == RC_OK)
		read_report(d, c, &r);
	else
		desk_fail(d, &err);
}

static void
ask_held(struct desk *d, struct checks *c)
{
	struct choices choices = { 0, row_word, NULL, c };
	char date[48], code[CODE_SIZE], took[32];
	const struct drill *r;
	struct err err = { 0 };
	size_t i;

	free(c->drills.items);
	free(c->drill_words);
	c->drill_words = NULL;
	if (drill_rows(&c->drills, d->sn, &err) != RC_OK) {
		c->drills = (struct drill_list){ 0 };
		desk_fail(d, &err);
		return;
	}
	c->drill_words = xcalloc(c->drills.count, sizeof(*c->drill_words));
	for (i = 0; i < c->drills.count; i++) {
		r = &c->drills.items[i];
		str_fmt(c->drill_words[i], sizeof(c->drill_words[i]),
		    tr(SAY_DRILL_ROW), (long long)r->id,
		    hand_date(
			date, sizeof(date), local_from_utc(r->at.utc).day),
		    r->at.by, code_show(code, r->batch),
		    drill_time(took, sizeof(took), r->took_us));
	}
	choices.count = c->drills.count;
	desk_ask_pick(d, tr(SAY_DRILL_WHICH), &choices, pick_row, c);
}

static void
print(struct desk *d, void *arg)
{
	struct checks *c = arg;
	struct label_order order = { .by = d->by, .only_queue = true };
	struct job_list jobs = { 0 };
	struct drill_report r;
	struct err err = { 0 };

	if (drill_get(&r, d->sn, c->drill, &err) == RC_OK &&
	    drill_print(&jobs, d->sn, &r, &order, &err) == RC_OK) {
		desk_print(d);
		desk_say(d, LEVEL_DONE,
		    trn(SAY_DRILL_PRINTED, (long)jobs.count), (int)jobs.count);
	} else {
		desk_fail(d, &err);
	}
	job_list_fini(&jobs);
}

static void
pick(struct desk *d, void *arg, size_t i)
{
	static const struct field_row row[] = {
		{ SAY_DRILL_CODE_ASK, FIELD_TEXT, FIELD_MUST, NULL },
	};
	struct checks *c = arg;

	switch (i) {
	case 0:
		c->what[0] = '\0';
		desk_record(d, DUTY_ANYONE, run, c);
		break;
	case 1:
		(void)desk_ask_fields(
		    d, tr(SAY_DRILL_CODE_ASK), row, 1, code_read, c);
		break;
	case 2:
		ask_held(d, c);
		break;
	default:
		if (c->drill == 0)
			desk_say(d, LEVEL_NOTE, "%s", tr(SAY_DRILL_NONE_READ));
		else
			desk_record(d, DUTY_ANYONE, print, c);
		break;
	}
}

void
check_drill(struct desk *d, struct records *s)
{
	static const char *const says[] = { SAY_DRILL_DRAW, SAY_DRILL_CODE,
		SAY_DRILL_HELD, SAY_DRILL_PRINT };

	checks_pick(d, &s->asked, tr(SAY_CHECK_DRILL), says,
	    sizeof(says) / sizeof(says[0]), pick);
}
