/*
 * trail_rig.h - what a test records by hand, told of as the trail wants it.
 */
#ifndef TRAIL_RIG_H
#define TRAIL_RIG_H

#include "store/moment.h"
#include "store/store.h"

/* rig_commit - end the open transaction, with a row of the trail. */
void rig_commit(struct store *st);
/* rig_note - a row of the trail in a transaction of its own. */
void rig_note(struct store *st, const struct moment *at);

#endif /* TRAIL_RIG_H */
