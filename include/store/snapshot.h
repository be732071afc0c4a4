/*
 * store/snapshot.h - read the record as it was at one instant.
 *
 * Between begin and end every read of this connection sees the same record,
 * whatever other programs write meanwhile; they are not held up.  Nothing may
 * be written in between.
 */
#ifndef STORE_SNAPSHOT_H
#define STORE_SNAPSHOT_H

#include "base/err.h"

struct store;

/* RC_OK, or an error after which none is open. */
enum rc snapshot_begin(struct store *st, struct err *err) MUST_CHECK;
/* snapshot_end - cannot fail; accepts that none is open. */
void snapshot_end(struct store *st);

#endif /* STORE_SNAPSHOT_H */
