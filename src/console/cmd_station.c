/* cmd_station.c - the full-screen station and its lesson: keys, scans and time
 * to a desk. */
#include "cmds.h"

#include <stdlib.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/say.h"
#include "base/str.h"
#include "ops/lesson.h"
#include "screens/desk.h"
#include "screens/lesson.h"
#include "screens/worker.h"
#include "term/scanner.h"
#include "term/term.h"

#define TICK_MS 1000
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

static enum rc
run_screens(
    struct station *sn, const struct args *a, bool lesson, struct err *err)
{
	const char *no_colour = getenv("NO_COLOR");
	const struct term_options look = {
		.no_colour = no_colour != NULL && no_colour[0] != '\0',
		.ascii = args_flag(a, "ascii"),
	};
	struct session s = { .now_ms = clock_ticks_ms() };
	char said[NOTICE_SIZE];
	int w, h;
	enum rc rc;

	/* the variable is for catalogues that are not installed */
	say_start(getenv("PINBONE_LOCALE"));
	if ((rc = term_open(&look, err)) != RC_OK)
		return rc;
	term_size(&w, &h);
	find_program(&s);
	s.desk = desk_new(sn, &s.host, w, h);
	s.desk->key_ms = s.desk->now_ms = s.now_ms;
	s.worker = worker_start(s.desk);
	s.host.print = worker_print;
	s.host.arg = s.worker;
	if (lesson)
		lesson_begin(s.desk);
	rc = go(&s, err);
	str_copy(said, sizeof(said), s.desk->notice);
	term_close(); /* at once: the sender may have to finish a label */
	worker_stop(s.worker);
	desk_free(s.desk);
	if (rc == RC_FATAL)
		return err_set(err, rc, 0, "%.400s", said);
	return RC_OK;
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

	if (name != NULL)
		return show(out, sn, name, args_flag(a, "ascii"), err);
	return run_screens(sn, a, false, err);
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
	rc = run_screens(lesson, a, true, err);
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
	.needs = NEEDS_STORE,
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
