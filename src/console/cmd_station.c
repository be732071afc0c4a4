/* cmd_station.c - the full-screen station and its lesson: keys, scans and time
 * to a desk. */
#include "cmds.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/file.h"
#include "base/say.h"
#include "base/str.h"
#include "ops/inspect.h"
#include "ops/lesson.h"
#include "ops/seat.h"
#include "screens/desk.h"
#include "screens/lesson.h"
#include "screens/restore.h"
#include "screens/worker.h"
#include "term/scanner.h"
#include "term/term.h"

#define TICK_MS 1000
#define FIRST_MAX 65536 /* what a new desk shows first */
#define SHOW_W 80
#define SHOW_H 24
#define SELF "/proc/self/exe"
#define KEYS_AT_ONCE 256 /* before the screen is painted again */

#define ASCII                                                                  \
	{                                                                      \
		"ascii", NULL, "draw with plain characters only"               \
	}

static const struct opt station_options[] = {
	ASCII,
	{ "show", "KEY",
	    "no terminal: print what the screen of F1 to F11 shows now" },
	{ NULL, NULL, NULL },
};
static const struct opt lesson_options[] = { ASCII, { NULL, NULL, NULL } };

struct session {
	struct station *sn;
	char why[ERR_TEXT_MAX]; /* its file cannot be used; else empty */
	struct desk *desk;
	struct worker *worker; /* sends labels */
	struct desk_host host;
	struct scanner scanner;
	int64_t now_ms;
	int64_t quiet_ms; /* spent waiting for keys: the scanner's time */
};

static void
on_event(void *arg, const struct scanner_event *e)
{
	static const struct key back = { KEY_CODE_TAKE_BACK, 0 };
	struct session *s = arg;

	if (e->take_back)
		desk_key(s->desk, &back, s->now_ms);
	if (e->says == SCANNER_KEY)
		desk_key(s->desk, &e->key, s->now_ms);
	else if (e->says == SCANNER_SCAN && !s->scanner.too_long)
		desk_scan(s->desk, s->scanner.text, s->scanner.len, s->now_ms);
	else if (e->says == SCANNER_SCAN)
		desk_scan_too_long(s->desk);
	else if (e->says == SCANNER_CUT)
		desk_scan_cut(s->desk);
}

/* Everything that has been typed by now. */
static enum rc
take_keys(struct session *s, int wait_ms, struct err *err)
{
	bool resized, typing;
	int64_t before;
	struct key k;
	int i, w, h;
	enum rc rc;

	for (i = 0; i < KEYS_AT_ONCE; i++) {
		before = clock_ticks_ms();
		rc = term_key(&k, &resized, i == 0 ? wait_ms : 0, err);
		s->now_ms = clock_ticks_ms();
		s->quiet_ms += s->now_ms - before;
		if (resized) {
			term_size(&w, &h);
			desk_resize(s->desk, w, h);
			s->desk->anew = true; /* it may have been two */
		}
		if (rc != RC_OK)
			return rc;
		typing = desk_typing(s->desk, &k);
		scanner_key(&s->scanner, &k, s->quiet_ms, typing, on_event, s);
		if (s->desk->over)
			return RC_OK;
	}
	return RC_OK;
}

static int
wait_of(const struct session *s)
{
	int scan = scanner_wait(&s->scanner, s->quiet_ms);
	int64_t tick = s->desk->tick_ms + TICK_MS - s->now_ms;

	if (tick < 0)
		tick = 0;
	return scan >= 0 && scan < tick ? scan : (int)tick;
}

static void
paint(struct desk *d)
{
	desk_draw(d);
	if (d->anew)
		term_anew();
	d->anew = false;
	term_paint(&d->canvas);
}

static enum rc
go(struct session *s, struct err *err)
{
	enum rc rc = RC_OK;

	while (!s->desk->over && rc != RC_END) {
		paint(s->desk);
		rc = take_keys(s, wait_of(s), err);
		scanner_pause(&s->scanner, s->quiet_ms, on_event, s);
		desk_tick(s->desk, s->now_ms);
		if (s->worker != NULL)
			worker_tick(s->worker, s->now_ms);
	}
	return s->desk->fatal;
}

/* This program itself, to be run beside the station.  The kernel's name for it
 * stays right when the file is replaced by a newer one.  Without /proc labels
 * and backups cannot be made from the screens, and the foot says so. */
static void
find_program(struct session *s)
{
	if (access(SELF, X_OK) == 0)
		s->host.program = SELF;
}

/* A desk over the open station, or without a file; until it is over.  What it
 * wishes then is in `wish`. */
struct wish {
	char from[DESK_PATH_SIZE], by[16];
	char said[NOTICE_SIZE];
};

static enum rc
play(struct session *s, const struct args *a, bool lesson,
    const struct buf *first, struct wish *wish, struct err *err)
{
	const char *no_colour = getenv("NO_COLOR");
	const struct term_options look = {
		.no_colour = no_colour != NULL && no_colour[0] != '\0',
		.ascii = args_flag(a, "ascii"),
	};
	bool rescue = s->why[0] != '\0';
	int w, h;
	enum rc rc;

	/* the variable is for catalogues that are not installed */
	say_start(getenv("PINBONE_LOCALE"));
	if ((rc = term_open(&look, err)) != RC_OK)
		return rc;
	term_size(&w, &h);
	find_program(s);
	s->desk = rescue
	    ? desk_new_rescue(s->sn, &s->host, s->sn->file, s->why, w, h)
	    : desk_new(s->sn, &s->host, w, h);
	s->desk->key_ms = s->desk->now_ms = s->now_ms = clock_ticks_ms();
	if (!rescue) {
		s->worker = worker_start(s->desk);
		s->host.print = worker_print;
		s->host.arg = s->worker;
	}
	if (lesson)
		lesson_begin(s->desk);
	if (first != NULL && first->len > 0)
		desk_read(s->desk, desk_swap_title(), buf_text(first));
	rc = go(s, err);
	str_copy(wish->said, sizeof(wish->said), s->desk->notice);
	str_copy(wish->from, sizeof(wish->from), s->desk->restore_from);
	str_copy(wish->by, sizeof(wish->by), s->desk->by);
	term_close(); /* at once: the sender may have to finish a label */
	worker_stop(s->worker);
	desk_free(s->desk);
	return rc;
}

static enum rc
run_lesson_screens(struct station *sn, const struct args *a, struct err *err)
{
	struct session s = { .sn = sn };
	struct wish wish = { .from = "" };
	enum rc rc = play(&s, a, true, NULL, &wish, err);

	if (rc == RC_FATAL)
		return err_set(err, rc, 0, "%.400s", wish.said);
	return rc;
}

/* --- the station, whatever its file is like --------------------------------*/

/* Looked at quickly, then opened.  *why: it cannot be used, and that is why;
 * then *sn has no file open. */
static enum rc
open_any(struct station **sn, char why[ERR_TEXT_MAX], const char *file,
    const struct args *a, struct err *err)
{
	struct inspected seen;
	struct err bad = { 0 };
	enum rc rc;

	why[0] = '\0';
	/* what cannot be looked at is said by what opens it */
	rc = inspect_file(&seen, file, INSPECT_QUICK_MS, NULL, NULL, &bad);
	if (rc != RC_FATAL) {
		err_clear(&bad);
		rc = station_open(sn, &a->where, true, &bad);
	}
	if (rc == RC_OK)
		return RC_OK;
	if (!damage_said(&bad))
		return err_set(err, rc, bad.lib, "%s", bad.text);
	str_copy(why, ERR_TEXT_MAX, bad.text);
	if ((rc = station_open(sn, &a->where, false, err)) == RC_OK)
		str_copy((*sn)->file, sizeof((*sn)->file), file);
	return rc;
}

/* Desk after desk, until one is left for good. */
static enum rc
run_desks(const char *file, const struct args *a, struct err *err)
{
	struct session s = { .now_ms = 0 };
	struct station *sn = NULL;
	struct wish wish = { .from = "" };
	struct err bad;
	struct buf first;
	enum rc rc;

	buf_init(&first, FIRST_MAX);
	for (;;) {
		s = (struct session){ .now_ms = 0 };
		if (sn == NULL &&
		    (rc = open_any(&sn, s.why, file, a, err)) != RC_OK)
			break;
		if (station_set_aside(sn) != NULL)
			desk_swap_finished(&first, station_set_aside(sn));
		s.sn = sn;
		wish = (struct wish){ .from = "" };
		rc = play(&s, a, false, &first, &wish, err);
		buf_clear(&first);
		if (wish.from[0] != '\0') {
			bad = (struct err){ 0 };
			if (desk_swap(&sn, &a->where, wish.from, wish.by,
				&first, &bad) != RC_OK) {
				buf_clear(&first);
				desk_swap_failed(&first, &bad);
			}
			continue;
		}
		/* Damage: the next desk is the one without a file. */
		if (rc != RC_FATAL || s.why[0] != '\0' ||
		    damage_look(file, NULL) == RC_OK)
			break;
		station_close(sn);
		sn = NULL;
	}
	buf_fini(&first);
	station_close(sn);
	if (rc == RC_FATAL && err->rc == RC_OK)
		return err_set(err, rc, 0, "%.400s", wish.said);
	return rc;
}

static enum rc
run_screens(struct station *sn, const struct args *a, struct err *err)
{
	char file[CONFIG_PATH_SIZE];
	int seat = -1;
	enum rc rc = station_file(file, &a->where, sn, err);

	if (rc != RC_OK)
		return rc;
	/* where there is no file, there is none to sit at */
	if (file_exists(file) && (rc = seat_take(&seat, file, err)) != RC_OK)
		return rc;
	rc = run_desks(file, a, err);
	seat_leave(&seat);
	return rc;
}

/* One screen as text.  Nothing is beside it, so it waits for the plan. */
static enum rc
show(struct buf *out, struct station *sn, const char *name, bool ascii,
    struct err *err)
{
	static const struct desk_host alone = { .program = NULL };
	struct canvas *c;
	struct desk *d;
	struct key k;
	int i;

	if (!key_parse(&k, name) || k.code < KEY_CODE_F1 ||
	    k.code >= KEY_CODE_F1 + SCREEN_COUNT)
		return err_set(err, RC_INVALID, 0,
		    "--show: \"%.20s\" is no screen: it takes F1 to F%d", name,
		    SCREEN_COUNT);
	say_start(getenv("PINBONE_LOCALE"));
	d = desk_new(sn, &alone, SHOW_W, SHOW_H);
	desk_show(d, (enum screen_id)(k.code - KEY_CODE_F1));
	desk_tick(d, TICK_MS); /* what is worked out between keys */
	desk_draw(d);
	c = &d->canvas;
	for (i = 0; ascii && i < c->w * c->h; i++)
		if (c->cells[i].ch >= 0x80)
			c->cells[i].ch = (uint32_t)glyph_plain(c->cells[i].ch);
	canvas_text(out, c);
	desk_free(d);
	return RC_OK;
}

static enum rc
run_station(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *name = args_get(a, "show");
	struct station *open = NULL;
	enum rc rc;

	if (name == NULL)
		return run_screens(sn, a, err);
	if ((rc = station_open(&open, &a->where, true, err)) == RC_OK)
		rc = show(out, open, name, args_flag(a, "ascii"), err);
	station_close(open);
	return rc;
}

static enum rc
run_lesson(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct lesson_place place;
	struct station_options o;
	struct station *lesson = NULL;
	enum rc rc;

	(void)out;
	rc = lesson_make(
	    &place, sn, a->operand_count > 0 ? a->operand[0] : NULL, err);
	if (rc != RC_OK)
		return rc;
	o = (struct station_options){ place.db, place.config, place.now };
	if ((rc = station_open(&lesson, &o, true, err)) != RC_OK)
		return rc;
	rc = run_lesson_screens(lesson, a, err);
	station_close(lesson);
	return rc;
}

const struct cmd cmd_station = {
	.name = "station",
	.operands = "",
	.summary = "the screens: what `pinbone` alone opens",
	.help =
	    "Scan a label at any time; F1 tells the keys.  Ctrl-Q leaves.  The "
	    "language is that of the locale; NO_COLOR draws without colours.",
	.options = station_options,
	.needs = NEEDS_TABLES,
	.run = run_station,
};

const struct cmd cmd_lesson = {
	.name = "lesson",
	.operands = "[FOLDER]",
	.summary = "a new cook's first lesson, on the screens",
	.help =
	    "Receive, plan, break down, label, use and trace in a training "
	    "station of its own, made anew in FOLDER each time; the station's "
	    "own record is not touched.  Ten minutes.",
	.options = lesson_options,
	.max_operands = 1,
	.needs = NEEDS_TABLES,
	.run = run_lesson,
};
