/*
 * screens/desk.h - the station's screens and what they share.
 *
 * A desk is one person at one terminal: the screen shown, the sheets over it,
 * who works, what was last said.  Keys and scans go in, a canvas comes out; it
 * knows no terminal, so tests drive it headless.  Screens call only ops.
 */
#ifndef SCREENS_DESK_H
#define SCREENS_DESK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "core/code.h"
#include "ops/people.h"
#include "ops/station.h"
#include "base/say.h"
#include "screens/screen.h"
#include "term/form.h"

/* --- the desk --------------------------------------------------------------*/

enum level { LEVEL_DONE, LEVEL_NOTE, LEVEL_WARN, LEVEL_REFUSED };

/* What surrounds a desk; tests leave members NULL. */
struct desk_host {
	void *arg;
	/* the queue of labels has something new: see that it is worked */
	void (*print)(void *arg);
	/* run the program beside the station: screens/beside.h */
	const char *program; /* its path */
};

typedef void desk_fn(struct desk *d, void *arg);

#define NOTICE_SIZE 600
#define SHEETS_MAX 6
#define DESK_PATH_SIZE 1100

struct desk {
	struct station *sn;
	const struct desk_host *host;
	struct canvas canvas;
	enum screen_id at, before; /* shown, and shown before it */
	void *states[SCREEN_COUNT];
	struct {
		const struct sheet *sheet;
		void *state;
	} sheets[SHEETS_MAX];
	int sheet_count;
	struct {
		enum duty duty;
		desk_fn *go;
		void *arg;
	} record;              /* waits for initials or a PIN */
	struct lesson *lesson; /* screens/lesson.h; NULL: none */
	char by[16];           /* initials of who works; empty: nobody yet */
	int64_t now_ms;  /* of the last key or tick, from a monotonic clock */
	int64_t key_ms;  /* of the last key or scan */
	int64_t tick_ms; /* of the last tick */
	int64_t file_version; /* of the record, as last loaded */
	enum level level;
	char notice[NOTICE_SIZE]; /* what was last said; may be empty */
	char foot[NOTICE_SIZE]; /* a fault that stays: printer, scale, clock */
	bool anew;              /* paint everything again */
	bool over;              /* the program is to end */
	/* the one screen there is: no file is open (screens/restore.h) */
	const struct screen *only;
	void *only_state;
	/* over, so that this backup takes the place of the file, by `by`: who
	 * drives the desk sees to it (desk_swap) */
	char restore_from[DESK_PATH_SIZE];
	enum rc fatal; /* RC_FATAL: it ends because of this */
};

/* desk_new - a desk of w by h cells showing Today; owned by the caller. */
struct desk *desk_new(
    struct station *sn, const struct desk_host *host, int w, int h);
void desk_free(struct desk *d);
void desk_resize(struct desk *d, int w, int h);

/* What comes in.  `now_ms` as struct desk's. */
void desk_key(struct desk *d, const struct key *k, int64_t now_ms);
void desk_scan(struct desk *d, const char *text, size_t len, int64_t now_ms);
/* A scan beyond SCANNER_MAX; one that came without its end: nothing of it is
 * used. */
void desk_scan_too_long(struct desk *d);
void desk_scan_cut(struct desk *d);
void desk_tick(struct desk *d, int64_t now_ms);
/* desk_typing - would this character be typed into a field now? */
bool desk_typing(const struct desk *d, const struct key *k);
/* desk_draw - what is to be seen, into d->canvas. */
void desk_draw(struct desk *d);

/* --- for screens -----------------------------------------------------------*/

day_no desk_today(const struct desk *d);
/* desk_show - another screen; desk_load - load the one shown again. */
void desk_show(struct desk *d, enum screen_id id);
void desk_load(struct desk *d);
/* desk_open - show a sheet; `state` (from xmalloc, freed by the desk) is its
 * own.  Esc ends it unless its key() takes it. */
void desk_open(struct desk *d, const struct sheet *s, void *state);
/* desk_shut - end the uppermost sheet. */
void desk_shut(struct desk *d);
/* desk_pass - show a screen and hand it a scan, as if scanned there. */
void desk_pass(struct desk *d, enum screen_id id, const struct desk_scan *s);
/* desk_pass_code - the same with a code of ours. */
void desk_pass_code(
    struct desk *d, enum screen_id id, enum code_kind kind, const char *code);

/* desk_say - one line at the foot, until the next.  desk_fail - why something
 * was not done; RC_FATAL ends the program. */
void desk_say(struct desk *d, enum level level, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));
void desk_fail(struct desk *d, const struct err *err);

/*
 * desk_record - call `go` with initials in d->by, after asking who works if
 * nobody is known, and for the chef's PIN if `duty` needs it.  `go` is called
 * at once, later, or (Esc) never; `arg` must live as long, so it is the
 * screen's state.  Afterwards the screen is loaded again.
 */
void desk_record(struct desk *d, enum duty duty, desk_fn *go, void *arg);

/* desk_ask_fields - a small form; `go` reads it, and says false to go on
 * asking.  desk_ask_yes - Enter does it, Esc does not.
 * desk_ask_pick - one of a list.  Titles and hints are translated already. */
typedef bool desk_form_fn(struct desk *d, void *arg, struct form *f);
/* Returns the form, for form_set() and choices. */
struct form *desk_ask_fields(struct desk *d, const char *title,
    const struct field_row *rows, int count, desk_form_fn *go, void *arg);
void desk_ask_yes(struct desk *d, const char *title, const char *text,
    desk_fn *go, void *arg);
typedef void desk_pick_fn(struct desk *d, void *arg, size_t i);
void desk_ask_pick(struct desk *d, const char *title,
    const struct choices *choices, desk_pick_fn *go, void *arg);
/* desk_read - a long text to read over the screen; `text` is copied. */
void desk_read(struct desk *d, const char *title, const char *text);
/* desk_read_on - the same, and Enter goes on with `go`. */
void desk_read_on(struct desk *d, const char *title, const char *text,
    desk_fn *go, void *arg);

/* desk_print - labels were queued: have them sent. */
void desk_print(struct desk *d);

#endif /* SCREENS_DESK_H */
