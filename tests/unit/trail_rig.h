/*
 * trail_rig.h - what a test records by hand, told of as the trail wants it.
 */
#ifndef TRAIL_RIG_H
#define TRAIL_RIG_H

#include "kitchen.h"
#include "store/moment.h"
#include "store/store.h"
#include "store/verify.h"

/* rig_commit - end the open transaction, with a row of the trail. */
void rig_commit(struct store *st);
/* rig_note - a row of the trail in a transaction of its own. */
void rig_note(struct store *st, const struct moment *at);

/* rig_day - a day in an open kitchen that leaves rows in nearly every table:
 * goods in, breakdowns, labels, service, freezing, holds, corrections, undo.
 * The station is closed again. */
void rig_day(struct kitchen *k);

/* rig_later - and what is rarer: mixed and combined trays, a complaint, a
 * recall, a drill, papers; part of rig_day(). */
void rig_later(struct kitchen *k);

/* rig_tamper - SQL by another program that first takes every trigger away and
 * puts them back afterwards; SQLite's result code. */
int rig_tamper(const char *db, const char *sql);

/* rig_verify - store_verify() that must get through; the caller frees. */
struct trail_report rig_verify(const char *db);
/* rig_whole - nothing is found. */
void rig_whole(const char *db);

#endif /* TRAIL_RIG_H */
