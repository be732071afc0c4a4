/*
 * screens/beside.h - this same program, run beside the station.
 *
 * What takes long (sending labels, a backup, an export, asking a printer how it
 * is) is a process of its own: docs/decisions/0007.  The screen never waits for
 * it; it looks once in a while what it has said and whether it has ended.  Who
 * starts one owns it, and stops it with beside_free() in its fini(), so nothing
 * outlives the station.  Should the station be killed, the kernel tells it to
 * end (SIGTERM).  Any number may run at once.
 */
#ifndef SCREENS_BESIDE_H
#define SCREENS_BESIDE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "screens/desk.h"

#define BESIDE_LINES 120     /* the newest are kept */
#define BESIDE_LINE_SIZE 240 /* bytes of one, cut between characters */
#define BESIDE_ARGS_MAX 24

struct beside; /* opaque; NULL is one that never ran */

/*
 * beside_start - run the program of d->host with `args` (ended by NULL), such
 * as "backup", "/media/stick", NULL; which file, settings and time the station
 * has is put before them.  `expect_ms` is how long it may take, 0 when nobody
 * knows.  Its standard input is empty; output and messages are kept in lines.
 * RC_OK *out is owned by the caller; RC_FAILED it cannot be started.
 */
enum rc beside_start(struct beside **out, const struct desk *d,
    const char *const *args, int64_t expect_ms, struct err *err) MUST_CHECK;

/* beside_tick - take what it said since, and see whether it has ended; never
 * blocks.  True: something is new, draw again. */
bool beside_tick(struct beside *b, int64_t now_ms);

bool beside_running(const struct beside *b);
/* beside_status - its exit status (the command's, 0 done); 128 and the signal
 * when one ended it; -1 while it runs. */
int beside_status(const struct beside *b);

/* beside_last - the last line that was not empty, or "".  Borrowed until the
 * next tick. */
const char *beside_last(const struct beside *b);
/* beside_text - append every line that is kept. */
void beside_text(struct buf *out, const struct beside *b);

/* beside_progress - "12 s of about 40 s", or "12 s" when nobody knows how
 * long; returns `dst`. */
char *beside_progress(
    char *dst, size_t size, const struct beside *b, int64_t now_ms);

/* beside_stop - ask it to end (SIGTERM); it is seen by a later tick. */
void beside_stop(struct beside *b);
/* beside_wait - the only call that waits: until it has ended, at most so long.
 * False: it runs on. */
bool beside_wait(struct beside *b, int64_t most_ms);
/*
 * beside_free - end it and reap it.  What does not end in `patience_ms` is
 * killed; a sender of labels is given time to finish the one it is at.
 */
#define BESIDE_PATIENCE_MS 2000
void beside_free(struct beside *b, int64_t patience_ms);

#endif /* SCREENS_BESIDE_H */
