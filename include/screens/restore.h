/*
 * screens/restore.h - asking for a backup to take the place of the file, and
 * the one screen there is when the file cannot be used.
 */
#ifndef SCREENS_RESTORE_H
#define SCREENS_RESTORE_H

#include "ops/restore.h"
#include "screens/desk.h"

struct restore_ask; /* opaque */

/*
 * restore_ask_new - for a screen that offers it; owned by the caller.  `file`
 * is the station file.  restore_ask_begin() asks for the folder, lists what is
 * there, has the chosen one looked at beside, shows what would be lost, and
 * asks for its number; then `chosen` is called with the backup's path, and the
 * initials when `asks_by`.
 */
typedef void restore_chosen_fn(
    struct desk *d, void *arg, const char *from, const char *by);
struct restore_ask *restore_ask_new(
    const char *file, bool asks_by, restore_chosen_fn *chosen, void *arg);
void restore_ask_begin(
    struct desk *d, struct restore_ask *r, const char *folder);
/* restore_ask_tick - from the screen's tick().  restore_ask_busy - is one being
 * looked at?  restore_ask_stop - no more. */
void restore_ask_tick(struct desk *d, struct restore_ask *r);
bool restore_ask_busy(const struct restore_ask *r);
void restore_ask_stop(struct restore_ask *r);
void restore_ask_free(struct restore_ask *r);

/*
 * desk_new_rescue - a desk whose only screen says why the file cannot be used,
 * reads labels by their own content, and offers backups.  `sn` has no file
 * open; `file` names it.  Owned by the caller (desk_free).
 */
struct desk *desk_new_rescue(struct station *sn, const struct desk_host *host,
    const char *file, const char *why, int w, int h);

/*
 * desk_swap - after a desk ended with d->restore_from: put it in place and open
 * the station again.  `*sn` is closed first, and is open, or NULL, afterwards.
 * `said` gets what happened, for people.
 * RC_OK; else as restore_run() or station_open(): the file before is in place.
 */
enum rc desk_swap(struct station **sn, const struct station_options *o,
    const char *from, const char *by, struct buf *said,
    struct err *err) MUST_CHECK;

/* What the next desk shows first: its title; and why it was not done. */
const char *desk_swap_title(void);
void desk_swap_failed(struct buf *out, const struct err *err);
void desk_swap_finished(struct buf *out, const char *aside);

#endif /* SCREENS_RESTORE_H */
