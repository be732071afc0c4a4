/*
 * ops/seat.h - one full-screen station on a file at a time.
 *
 * Two of them would each think it is the only one: notices, drafts and ticks
 * would cross.  Commands beside a station are welcome, since each is one
 * transaction.
 */
#ifndef OPS_SEAT_H
#define OPS_SEAT_H

#include <stdint.h>

#include "base/err.h"

/*
 * seat_take - be the station of the file: NAME-station, held until seat_leave()
 * or the end of the process, however it ends.  It says who holds it.
 * RC_OK; RC_REFUSED: another does; err says since when, at which terminal and
 * with which process; RC_FAILED.
 */
enum rc seat_take(int *fd, const char *file, struct err *err) MUST_CHECK;
void seat_leave(int *fd);

#endif /* OPS_SEAT_H */
