/* desk.c - keys, scans and time go in; screens and sheets answer. */
#include "screens/desk.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "desk_inner.h"
#include "ops/scan.h"
#include "says_desk.h"
#include "screens/lesson.h"
#include "screens/people.h"
#include "screens/undo.h"
#include "term/scanner.h"

#define TICK_MS 1000

const struct action desk_actions[] = {
	{ DESK_UNDO, { KEY_CODE_UNDO, 0 }, NULL, SAY_HELP_UNDO },
	{ DESK_WHO, { KEY_CODE_WHO, 0 }, NULL, SAY_HELP_WHO },
	{ DESK_ANEW, { KEY_CODE_ANEW, 0 }, NULL, SAY_HELP_ANEW },
	{ DESK_QUIT, { KEY_CODE_QUIT, 0 }, NULL, SAY_HELP_QUIT },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

struct desk *
desk_new(struct station *sn, const struct desk_host *host, int w, int h)
{
	struct desk *d = xcalloc(1, sizeof(*d));
	size_t i;

	d->sn = sn;
	d->host = host;
	canvas_init(&d->canvas, w, h);
	for (i = 0; i < SCREEN_COUNT; i++) {
		d->states[i] = xcalloc(1, screens[i]->state_size + 1);
		if (screens[i]->init != NULL)
			screens[i]->init(d, d->states[i]);
	}
	d->at = d->before = SCREEN_TODAY;
	desk_load(d);
	return d;
}

const struct screen *
desk_screen(const struct desk *d)
{
	return d->only != NULL ? d->only : screens[d->at];
}

void *
desk_state(const struct desk *d)
{
	return d->only != NULL ? d->only_state : d->states[d->at];
}

void
desk_free(struct desk *d)
{
	size_t i;

	if (d == NULL)
		return;
	while (d->sheet_count > 0)
		desk_shut(d);
	for (i = 0; d->only == NULL && i < SCREEN_COUNT; i++) {
		/* what is half typed may have to be kept */
		if (screens[i]->tick != NULL)
			screens[i]->tick(d, d->states[i]);
		if (screens[i]->fini != NULL)
			screens[i]->fini(d->states[i]);
		free(d->states[i]);
	}
	if (d->only != NULL)
		d->only->fini(d->only_state);
	free(d->only_state);
	lesson_free(d->lesson);
	canvas_fini(&d->canvas);
	free(d);
}

void
desk_resize(struct desk *d, int w, int h)
{
	canvas_size(&d->canvas, w, h);
}

day_no
desk_today(const struct desk *d)
{
	return local_from_utc(clock_now(&d->sn->clock)).day;
}

/* --- screens and sheets ----------------------------------------------------*/

void
desk_load(struct desk *d)
{
	const struct screen *s = desk_screen(d);

	if (s->load != NULL)
		s->load(d, desk_state(d));
}

void
desk_show(struct desk *d, enum screen_id id)
{
	while (d->sheet_count > 0)
		desk_shut(d);
	if (d->only != NULL)
		return;
	if (id != d->at) {
		d->before = d->at;
		d->at = id;
		d->notice[0] = '\0';
	}
	desk_load(d);
}

void
desk_open(struct desk *d, const struct sheet *s, void *state)
{
	if (d->sheet_count == SHEETS_MAX)
		desk_shut(d); /* deeper than any screen goes */
	d->sheets[d->sheet_count].sheet = s;
	d->sheets[d->sheet_count++].state = state;
}

static void
shut_at(struct desk *d, int i)
{
	const struct sheet *s = d->sheets[i].sheet;
	void *state = d->sheets[i].state;

	d->sheet_count--;
	memmove(&d->sheets[i], &d->sheets[i + 1],
	    (size_t)(d->sheet_count - i) * sizeof(d->sheets[0]));
	if (s->fini != NULL)
		s->fini(state);
	free(state);
}

void
desk_shut(struct desk *d)
{
	if (d->sheet_count > 0)
		shut_at(d, d->sheet_count - 1);
}

void
desk_shut_one(struct desk *d, const void *state)
{
	int i;

	for (i = 0; i < d->sheet_count; i++)
		if (d->sheets[i].state == state) {
			shut_at(d, i);
			return;
		}
}

const struct sheet *
desk_sheet(const struct desk *d, void **state)
{
	if (d->sheet_count == 0)
		return NULL;
	*state = d->sheets[d->sheet_count - 1].state;
	return d->sheets[d->sheet_count - 1].sheet;
}

/* --- what is said ----------------------------------------------------------*/

void
desk_say(struct desk *d, enum level level, const char *fmt, ...)
{
	va_list ap;

	va_start(ap, fmt);
	(void)vsnprintf(d->notice, sizeof(d->notice), fmt, ap);
	va_end(ap);
	utf8_clean(d->notice);
	d->level = level;
}

void
desk_fail(struct desk *d, const struct err *err)
{
	desk_say(d, err->rc == RC_REFUSED ? LEVEL_REFUSED : LEVEL_WARN, "%s",
	    err->text[0] != '\0' ? err->text : rc_word(err->rc));
	if (err->rc == RC_FATAL) {
		d->fatal = RC_FATAL;
		d->over = true;
	}
}

void
desk_print(struct desk *d)
{
	if (d->host != NULL && d->host->print != NULL)
		d->host->print(d->host->arg);
}

/* --- records ---------------------------------------------------------------*/

static void
record_now(struct desk *d, void *arg)
{
	desk_fn *go = d->record.go;

	(void)arg;
	d->record.go = NULL;
	if (go != NULL)
		go(d, d->record.arg);
	desk_load(d);
}

static void
record_named(struct desk *d, void *arg)
{
	(void)arg;
	if (d->record.duty == DUTY_ANYONE)
		record_now(d, NULL);
	else
		people_pin(d, d->record.duty, record_now, NULL);
}

void
desk_record(struct desk *d, enum duty duty, desk_fn *go, void *arg)
{
	d->record.duty = duty;
	d->record.go = go;
	d->record.arg = arg;
	if (d->by[0] == '\0')
		people_choose(d, record_named, NULL);
	else
		record_named(d, NULL);
}

/* --- keys ------------------------------------------------------------------*/

bool
desk_can(const struct desk *d, int action)
{
	const struct screen *s = desk_screen(d);

	return s->can == NULL || s->can(d, desk_state(d), action);
}

bool
desk_typing(const struct desk *d, const struct key *k)
{
	const struct screen *s = desk_screen(d);
	void *state;
	const struct sheet *sheet = desk_sheet(d, &state);

	if (sheet != NULL)
		return sheet->typing != NULL && sheet->typing(state, k);
	return s->typing != NULL && s->typing(desk_state(d), k);
}

static bool
same_key(const struct key *a, const struct key *b)
{
	if (a->code != b->code)
		return false;
	return a->code != KEY_CODE_CHAR || a->ch == b->ch ||
	    (b->ch < 0x80 && key_is(a, (char)b->ch));
}

static int
action_of(const struct action *rows, const struct key *k)
{
	for (; rows != NULL && rows->id != 0; rows++)
		if (same_key(k, &rows->key))
			return rows->id;
	return 0;
}

static void
quit(struct desk *d, void *arg)
{
	(void)arg;
	d->over = true;
}

static bool
global_key(struct desk *d, const struct key *k)
{
	int action = action_of(desk_actions, k);

	if (d->only != NULL && (action == DESK_UNDO || action == DESK_WHO))
		return true; /* both are of a file */
	switch (action) {
	case DESK_UNDO:
		undo_ask(d);
		return true;
	case DESK_WHO:
		d->by[0] = '\0';
		people_choose(d, NULL, NULL);
		return true;
	case DESK_ANEW:
		d->anew = true;
		return true;
	case DESK_QUIT:
		desk_ask_yes(
		    d, tr(SAY_ASK_QUIT), tr(SAY_ASK_QUIT_TEXT), quit, NULL);
		return true;
	default:
		return false;
	}
}

static void
screen_key(struct desk *d, const struct key *k)
{
	const struct screen *s = desk_screen(d);
	void *state = desk_state(d);
	int action;

	if (k->code == KEY_CODE_CHAR && desk_typing(d, k) && s->key != NULL &&
	    s->key(d, state, k))
		return;
	action = action_of(s->actions, k);
	if (action != 0 && desk_can(d, action)) {
		s->act(d, state, action);
		return;
	}
	if (s->key != NULL && s->key(d, state, k))
		return;
	if (global_key(d, k) || k->code != KEY_CODE_ESC)
		return;
	if (d->only == NULL && d->at != SCREEN_TODAY)
		desk_show(d, d->before != d->at ? d->before : SCREEN_TODAY);
}

static void
any_key(struct desk *d, const struct key *k)
{
	const struct sheet *sheet;
	void *state;

	if (k->code >= KEY_CODE_F1 &&
	    k->code < KEY_CODE_F1 + (int)SCREEN_COUNT) {
		desk_show(d, (enum screen_id)(k->code - KEY_CODE_F1));
		return;
	}
	if ((sheet = desk_sheet(d, &state)) == NULL) {
		screen_key(d, k);
		return;
	}
	if (sheet->key != NULL && sheet->key(d, state, k))
		return;
	if (k->code == KEY_CODE_ANEW)
		d->anew = true;
	if (k->code == KEY_CODE_ESC)
		desk_shut(d);
}

void
desk_key(struct desk *d, const struct key *k, int64_t now_ms)
{
	d->now_ms = d->key_ms = now_ms;
	if (k->code == KEY_CODE_SKIP)
		lesson_skip(d);
	else
		any_key(d, k);
	lesson_look(d);
}

/* --- scans -----------------------------------------------------------------*/

static void
know_scan(struct desk_scan *s, struct desk *d)
{
	struct gs1_reader reader;
	struct gs1_scan *read;
	struct err err = { 0 };
	enum code_kind kind;

	if (d->sn->st == NULL)
		return; /* the label speaks for itself */
	if (scan_code(&kind, s->code, d->sn, s->text, &err) == RC_OK) {
		s->kind = kind == CODE_PORTION ? SCAN_PORTION : SCAN_BATCH;
		return;
	}
	err_clear(&err);
	if (scan_reader(&reader, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	read = xcalloc(1, sizeof(*read));
	gs1_read(read, s->text, s->len, &reader);
	if (read->kind == GS1_ELEMENT_STRING || read->kind == GS1_EAN ||
	    read->kind == GS1_DIGITAL_LINK)
		s->kind = SCAN_SUPPLIER;
	free(read);
}

static void
show_unknown(struct desk *d, const struct desk_scan *s)
{
	char text[80];

	str_fmt(text, sizeof(text), "%s", s->text);
	utf8_clean(text);
	desk_say(d, LEVEL_WARN, tr(SAY_SCAN_UNKNOWN), text);
}

/* Where a scan goes that its screen has no use for. */
static void
pass_on(struct desk *d, const struct desk_scan *s)
{
	enum screen_id to =
	    s->kind == SCAN_SUPPLIER ? SCREEN_GOODS_IN : SCREEN_TRACE;

	if (s->kind == SCAN_UNKNOWN || to == d->at)
		show_unknown(d, s);
	else
		desk_pass(d, to, s);
}

void
desk_pass(struct desk *d, enum screen_id id, const struct desk_scan *s)
{
	desk_show(d, id);
	if (screens[id]->scan == NULL ||
	    !screens[id]->scan(d, d->states[id], s))
		show_unknown(d, s);
}

void
desk_pass_code(
    struct desk *d, enum screen_id id, enum code_kind kind, const char *code)
{
	struct desk_scan s = {
		.kind = kind == CODE_PORTION ? SCAN_PORTION : SCAN_BATCH,
		.text = code,
		.len = strlen(code),
	};

	str_copy(s.code, sizeof(s.code), code);
	desk_pass(d, id, &s);
}

void
desk_scan(struct desk *d, const char *text, size_t len, int64_t now_ms)
{
	const struct screen *screen = desk_screen(d);
	struct desk_scan s = { .kind = SCAN_UNKNOWN, .text = text, .len = len };
	const struct sheet *sheet;
	void *state;

	d->now_ms = d->key_ms = now_ms;
	if (len == 0)
		return;
	know_scan(&s, d);
	if ((sheet = desk_sheet(d, &state)) != NULL) {
		if (sheet->scan == NULL || !sheet->scan(d, state, &s))
			desk_say(d, LEVEL_WARN, "%s", tr(SAY_SCAN_NOT_NOW));
		return;
	}
	if (screen->scan == NULL || !screen->scan(d, desk_state(d), &s))
		pass_on(d, &s);
	lesson_look(d);
}

void
desk_scan_too_long(struct desk *d)
{
	desk_say(d, LEVEL_WARN, tr(SAY_SCAN_TOO_LONG), SCANNER_MAX);
}

void
desk_scan_cut(struct desk *d)
{
	desk_say(d, LEVEL_WARN, "%s", tr(SAY_SCAN_CUT));
}

/* --- time ------------------------------------------------------------------*/

static void
go_idle(struct desk *d)
{
	if (d->by[0] == '\0' && d->at == SCREEN_TODAY && d->sheet_count == 0)
		return;
	desk_show(d, SCREEN_TODAY);
	d->by[0] = '\0';
	d->record.go = NULL;
	desk_say(d, LEVEL_NOTE, "%s", tr(SAY_IDLE));
}

void
desk_tick(struct desk *d, int64_t now_ms)
{
	struct err err = { 0 };
	int64_t version;
	size_t i;

	d->now_ms = now_ms;
	if (now_ms - d->tick_ms < TICK_MS && now_ms >= d->tick_ms)
		return;
	d->tick_ms = now_ms;
	if (d->only != NULL) {
		d->only->tick(d, d->only_state);
		return;
	}
	for (i = 0; i < SCREEN_COUNT; i++)
		if (screens[i]->tick != NULL)
			screens[i]->tick(d, d->states[i]);
	if (now_ms - d->key_ms > (int64_t)d->sn->cfg.idle_minutes * 60000)
		go_idle(d);
	if (station_version(&version, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (version != d->file_version) {
		d->file_version = version;
		desk_load(d);
	}
}
