/*
 * store/holds.h - batches, breakdowns and portions blocked pending a decision.
 * Changes need an open transaction (store_begin).
 *
 * What is blocked is said in one place, the views held_batch and held_unit of
 * the schema; every query asks there.
 */
#ifndef STORE_HOLDS_H
#define STORE_HOLDS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/code.h"
#include "store/moment.h"

struct store;

/* What a hold is about: exactly one id is not 0.  A label is never about a
 * breakdown. */
struct subject {
	int64_t batch_id;
	int64_t portion_id;
	int64_t prep_id;
};

struct hold {
	int64_t id;
	struct subject subject;
	char reason[200];
	int64_t at_utc;
	char by[16];
	int64_t released_utc; /* 0: still in force */
	char released_by[16];
	char released_reason[200];
};

/* hold_open - RC_OK, or RC_REFUSED when it is held already. */
enum rc hold_open(struct store *st, const struct subject *s, const char *reason,
    const struct moment *at, struct err *err) MUST_CHECK;

/* hold_join - the hold in force on it, opened now if there is none: *opened.
 */
enum rc hold_join(int64_t *id, bool *opened, struct store *st,
    const struct subject *s, const char *reason, const struct moment *at,
    struct err *err) MUST_CHECK;

/* hold_close - RC_OK, or RC_REFUSED when there is no hold of its own, or an
 * open recall rests on it. */
enum rc hold_close(struct store *st, const struct subject *s,
    const char *reason, const struct moment *at, struct err *err) MUST_CHECK;

/* hold_now - the hold in force on it.  RC_OK, RC_NOTFOUND. */
enum rc hold_now(struct hold *out, struct store *st, const struct subject *s,
    struct err *err) MUST_CHECK;

/* hold_of_unit - what blocks a unit: its own hold goes before its breakdown's,
 * that before those of the batches it holds food of.  RC_OK, RC_NOTFOUND. */
enum rc hold_of_unit(struct hold *out, struct store *st, int64_t portion_id,
    struct err *err) MUST_CHECK;

struct hold_list {
	struct hold *items; /* owned */
	size_t count;
};

/* hold_list_open - every hold there was on it, oldest first;
 * hold_list_preps - on any breakdown of a batch. */
enum rc hold_list_open(struct hold_list *out, struct store *st,
    const struct subject *s, struct err *err) MUST_CHECK;
enum rc hold_list_preps(struct hold_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;
void hold_list_fini(struct hold_list *l);

/*
 * hold_stop_labels - every queued label of what is on hold now, but for hold
 * labels, is cancelled with the reason, and kept as stopped by hold `id`.
 * *count is how many.
 */
enum rc hold_stop_labels(int64_t *count, struct store *st, int64_t id,
    const char *reason, int64_t now_utc, struct err *err) MUST_CHECK;

/* A label a hold stopped. */
struct stopped_label {
	char code[CODE_SIZE]; /* without hyphen */
};

/* hold_stopped_open - labels that hold `id` stopped, of what is on hand and not
 * on hold any more: they are wanted again. */
enum rc hold_stopped_open(struct stopped_label **items, size_t *count,
    struct store *st, int64_t id, struct err *err) MUST_CHECK;

/* --- notes ----------------------------------------------------------------*/

/* What was said, heard and done while it lasted; of a hold or of a recall. */
struct hold_note {
	int64_t hold_id, recall_id; /* one of them is 0 */
	char text[400];
	struct moment at;
};

enum rc hold_note_add(
    struct store *st, const struct hold_note *n, struct err *err) MUST_CHECK;

struct hold_note_list {
	struct hold_note *items; /* owned */
	size_t count;
};

/* hold_notes_open - of every hold there was on it, of a batch on its breakdowns
 * too; hold_notes_recall - of a recall; oldest first. */
enum rc hold_notes_open(struct hold_note_list *out, struct store *st,
    const struct subject *s, struct err *err) MUST_CHECK;
enum rc hold_notes_recall(struct hold_note_list *out, struct store *st,
    int64_t recall_id, struct err *err) MUST_CHECK;
void hold_notes_fini(struct hold_note_list *l);

#endif /* STORE_HOLDS_H */
