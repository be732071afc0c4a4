/*
 * screens/worker.h - the sender of labels beside the station: `printer work`,
 * kept running (docs/decisions/0007).
 */
#ifndef SCREENS_WORKER_H
#define SCREENS_WORKER_H

#include <stdint.h>

#include "screens/desk.h"

struct worker; /* opaque */

/* worker_start - never fails: what cannot be started is tried again, and said
 * at the foot while labels wait.  Owned by the caller. */
struct worker *worker_start(struct desk *d);

/*
 * worker_tick - each turn of the loop, after desk_tick().  Starts the sender
 * again when it has ended, after a pause that grows to a minute.
 */
void worker_tick(struct worker *w, int64_t now_ms);

/* worker_print - for struct desk_host's print, with the worker as its arg: send
 * what is queued now, without waiting for the pause to end. */
void worker_print(void *arg);

/* worker_stop - end it and free.  The label being sent is finished first,
 * within some seconds; a label cut off is unsure at the next start. */
void worker_stop(struct worker *w);

#endif /* SCREENS_WORKER_H */
