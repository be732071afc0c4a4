/* screen_today.c - the day at a glance, and what wants a decision. */
#include <ctype.h>
#include <string.h>

#include "base/str.h"
#include "ops/watch.h"
#include "says_desk.h"
#include "says_today.h"
#include "term/when.h"
#include "today_inner.h"

enum { ACT_OPEN = 1, ACT_TRACE, ACT_CLOCK, ACT_FACTS };

static const struct action actions[] = {
	{ ACT_CLOCK, { KEY_CODE_CHAR, 'c' }, SAY_ACT_CLOCK, SAY_HELP_CLOCK },
	{ ACT_OPEN, { KEY_CODE_ENTER, 0 }, SAY_ACT_OPEN, SAY_HELP_OPEN },
	{ ACT_TRACE, { KEY_CODE_CHAR, 't' }, SAY_ACT_TRACE, SAY_HELP_TRACE },
	{ ACT_FACTS, { KEY_CODE_CHAR, 's' }, SAY_ACT_FACTS, SAY_HELP_FACTS },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

/* --- loading --------------------------------------------------------------*/

static void
put_row(struct today_screen *s, enum today_row_kind kind, size_t i)
{
	s->rows[s->list.count++] = (struct today_row){ kind, i };
}

static void
make_rows(struct today_screen *s)
{
	const struct today *t = &s->t;
	size_t i;
	int k;

	s->list.count = 0;
	/* What may hurt somebody first. */
	for (i = 0; i < t->expired.count && i < TODAY_ROWS_MAX; i++)
		put_row(s, TODAY_ROW_EXPIRED, i);
	if (t->unsure > 0)
		put_row(s, TODAY_ROW_UNSURE, 0);
	if (s->half.name[0] != '\0')
		put_row(s, TODAY_ROW_HALF, 0);
	for (i = 0; i < t->expiring.count && i < TODAY_ROWS_MAX; i++)
		put_row(s, TODAY_ROW_TODAY, i);
	for (i = 0; i < t->held.count; i++)
		put_row(s, TODAY_ROW_HELD, i);
	for (k = 0; k < t->service_count; k++)
		if (t->services[k].stage == TODAY_OVER)
			put_row(s, TODAY_ROW_CLOSE, (size_t)k);
}

static const struct today_row *
chosen(const struct today_screen *s)
{
	return s->list.at < 0 || s->list.at >= s->list.count
	    ? NULL
	    : &s->rows[s->list.at];
}

/* The code of a row, or NULL when it is about something else. */
static const char *
code_of(const struct today_screen *s, const struct today_row *r, bool *batch)
{
	const struct expiring *e;

	if (r == NULL || r->kind < TODAY_ROW_EXPIRED)
		return NULL;
	if (r->kind == TODAY_ROW_HELD) {
		*batch = s->t.held.items[r->i].batch;
		return s->t.held.items[r->i].code;
	}
	e = r->kind == TODAY_ROW_EXPIRED ? &s->t.expired.items[r->i]
					 : &s->t.expiring.items[r->i];
	*batch = e->batch;
	return e->code;
}

/* What a row is about, for as long as it stands there: a code, or the name of a
 * service. */
static const char *
name_of(const struct today_screen *s, const struct today_row *r)
{
	bool batch;
	const char *code = code_of(s, r, &batch);

	if (code != NULL)
		return code;
	return r->kind == TODAY_ROW_CLOSE ? s->t.services[r->i].name : "";
}

/* The choice stays with what it is about; that may have become worse since. */
static void
choose_again(struct today_screen *s, const char *name, bool held)
{
	int i;

	for (i = 0; i < s->list.count; i++)
		if (str_eq(name_of(s, &s->rows[i]), name) &&
		    (s->rows[i].kind == TODAY_ROW_HELD) == held)
			s->list.at = i;
	list_fit(&s->list);
}

/* What was reckoned for the same services stays until it is done anew. */
static void
keep_work(struct today *now, const struct today *before)
{
	int i, k;

	for (i = 0; i < now->service_count; i++)
		for (k = 0; k < before->service_count; k++)
			if (now->services[i].day == before->services[k].day &&
			    str_eq(now->services[i].name,
				before->services[k].name))
				now->services[i].to_make =
				    before->services[k].to_make;
}

static void
load(struct desk *d, void *state)
{
	struct today_screen *s = state;
	const struct today_row *r = chosen(s);
	char name[SERVICE_NAME_SIZE + CODE_SIZE] = "";
	bool held = r != NULL && r->kind == TODAY_ROW_HELD;
	struct err err = { 0 };
	struct today t;

	if (r != NULL)
		str_copy(name, sizeof(name), name_of(s, r));
	if (today_load(&t, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (s->loaded && s->t.day == t.day)
		keep_work(&t, &s->t);
	today_fini(&s->t);
	s->t = t;
	if (draft_waiting(&s->half, d->sn, DRAFT_BREAKDOWN, &err) != RC_OK)
		s->half.name[0] = '\0';
	s->loaded = true;
	s->minute = clock_now(&d->sn->clock) / 60;
	s->work_due = true;
	make_rows(s);
	if (r == NULL)
		list_fit(&s->list);
	else
		choose_again(s, name, held);
	fault_foot(d);
}

static void
fini(void *state)
{
	struct today_screen *s = state;

	today_fini(&s->t);
	beside_free(s->work, 0);
}

static void
tick(struct desk *d, void *state)
{
	struct today_screen *s = state;
	struct local_time now;

	fault_foot(d);
	if (d->at != SCREEN_TODAY || !s->loaded)
		return;
	now = local_from_utc(clock_now(&d->sn->clock));
	if (now.day != s->t.day || clock_now(&d->sn->clock) / 60 != s->minute)
		load(d, state); /* what expires with the hour */
	today_reckon(d, s);
}

/* --- actions --------------------------------------------------------------*/

static void
open_row(struct desk *d, const struct today_screen *s, enum screen_id stock)
{
	const struct today_row *r = chosen(s);
	bool batch = false;
	const char *code = code_of(s, r, &batch);
	char copy[CODE_SIZE];

	if (r == NULL)
		return;
	if (code == NULL) {
		desk_show(d,
		    r->kind == TODAY_ROW_UNSURE     ? SCREEN_PRINTING
			: r->kind == TODAY_ROW_HALF ? SCREEN_BREAKDOWN
						    : SCREEN_SERVICE);
		return;
	}
	/* the row may be loaded anew while the screen is shown */
	str_copy(copy, sizeof(copy), code);
	desk_pass_code(d, r->kind == TODAY_ROW_HELD ? SCREEN_TRACE : stock,
	    batch ? CODE_BATCH : CODE_PORTION, copy);
}

static void
put_facts(struct buf *out, struct desk *d, const struct today *t)
{
	const struct config *c = &d->sn->cfg;
	char text[64];
	int i;

	buf_printf(out, tr(SAY_FACTS_KITCHEN), c->kitchen);
	buf_printf(out, tr(SAY_FACTS_FILE), t->path);
	buf_printf(
	    out, tr(SAY_FACTS_SIZE), bytes_words(text, sizeof(text), t->bytes));
	if (t->free_bytes >= 0)
		buf_printf(out, tr(SAY_FACTS_FREE),
		    bytes_words(text, sizeof(text), t->free_bytes));
	buf_printf(out, tr(SAY_FACTS_SCHEMA), t->schema);
	if (t->last_utc != 0)
		buf_printf(out, tr(SAY_FACTS_LAST),
		    time_minute(text, sizeof(text), t->last_utc));
	else
		buf_puts(out, tr(SAY_FACTS_NONE));
	buf_printf(out, tr(SAY_FACTS_SETTINGS), c->path);
	buf_printf(out, tr(SAY_FACTS_RULES), c->rules_set);
	for (i = 0; i < c->printer_count; i++)
		buf_printf(out, tr(SAY_FACTS_PRINTER), c->printers[i].name,
		    c->printers[i].language, c->printers[i].address);
	buf_printf(out, tr(SAY_FACTS_SCALE), c->scale);
}

static void
show_facts(struct desk *d, const struct today_screen *s)
{
	struct buf out;

	buf_init(&out, 16384);
	put_facts(&out, d, &s->t);
	desk_read(d, tr(SAY_FACTS), buf_text(&out));
	buf_fini(&out);
}

/* --- the date -------------------------------------------------------------*/

static void
confirm_clock(struct desk *d, void *arg)
{
	struct today_screen *s = arg;
	struct err err = { 0 };
	char words[48];
	struct buf out;

	buf_init(&out, 1024);
	if (watch_confirm(&out, d->sn, s->date, d->by, &err) == RC_OK)
		desk_say(d, LEVEL_DONE, tr(SAY_DATE_CONFIRMED),
		    day_words(words, sizeof(words), desk_today(d)));
	else
		desk_fail(d, &err);
	buf_fini(&out);
}

/* A year must be said: a clock that lost its battery is wrong in that first. */
static bool
says_year(const char *text)
{
	int digits = 0;

	for (; *text != '\0'; text++) {
		digits = isdigit((unsigned char)*text) ? digits + 1 : 0;
		if (digits == 4)
			return true;
	}
	return false;
}

static bool
date_typed(struct desk *d, void *arg, struct form *f)
{
	struct today_screen *s = arg;
	const char *text = form_value(f, 0);
	struct err err = { 0 };
	day_no day;

	if (text == NULL || !says_year(text)) {
		form_wrong(f, 0, tr(SAY_DATE_YEAR));
		return false;
	}
	if (when_parse(&day, text, desk_today(d), true, &err) != RC_OK) {
		form_wrong(f, 0, err.text);
		return false;
	}
	day_print(s->date, sizeof(s->date), day);
	/* The question is over before the next one (initials, a PIN) opens. */
	desk_shut(d);
	desk_record(d, DUTY_CLOCK, confirm_clock, s);
	return false;
}

static void
act(struct desk *d, void *state, int action)
{
	static const struct field_row row[] = { { SAY_DATE_FIELD, FIELD_TEXT,
	    FIELD_MUST, SAY_DATE_HINT } };
	struct today_screen *s = state;

	if (action == ACT_OPEN)
		open_row(d, s, SCREEN_ON_HAND);
	else if (action == ACT_TRACE)
		open_row(d, s, SCREEN_TRACE);
	else if (action == ACT_FACTS)
		show_facts(d, s);
	else if (action == ACT_CLOCK)
		desk_ask_fields(d, tr(SAY_DATE_ASK), row, 1, date_typed, s);
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct today_screen *s = state;
	bool batch;

	(void)d;
	if (action == ACT_OPEN)
		return chosen(s) != NULL;
	if (action == ACT_TRACE)
		return code_of(s, chosen(s), &batch) != NULL;
	if (action == ACT_CLOCK)
		return s->t.doubt[0] != '\0';
	return s->loaded;
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct today_screen *s = state;

	(void)d;
	return list_key(&s->list, k);
}

const struct screen screen_today = {
	.title = SAY_TODAY,
	.actions = actions,
	.state_size = sizeof(struct today_screen),
	.fini = fini,
	.load = load,
	.draw = today_draw,
	.key = key,
	.act = act,
	.can = can,
	.tick = tick,
};
