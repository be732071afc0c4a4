/*
 * store/work_marks.h - what was said of the tasks of a prep list.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_WORK_MARKS_H
#define STORE_WORK_MARKS_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/code.h"
#include "store/moment.h"

struct store;

enum work_said {
	WORK_REOPENED, /* as if nothing had been said */
	WORK_STARTED,
	WORK_DONE,
	WORK_SAID_COUNT
};

const char *work_said_word(enum work_said s); /* "started" */

/* What stays the same of a task when the plan is made anew. */
struct work_key {
	char batch[CODE_SIZE]; /* without hyphen; empty: the last clean-down */
	char dish[32];         /* code; empty: the same */
	char step[16];         /* word of core/minutes.h it begins with */
};

struct work_mark {
	int64_t id; /* filled when inserted */
	int64_t service_id;
	struct work_key key;
	enum work_said said;
	int64_t prep_id; /* breakdown that did it; 0: ticked by hand */
	struct moment at;
	char dish_name[64]; /* filled when read */
	int64_t portions; /* of the breakdown for the dish; filled when read */
};

/* work_mark_insert - RC_OK, RC_NOTFOUND when batch or dish is not here. */
enum rc work_mark_insert(
    struct store *st, struct work_mark *m, struct err *err) MUST_CHECK;

struct work_mark_list {
	struct work_mark *items; /* owned */
	size_t count;
};

/* work_mark_list_open - the newest of each task of a service, in the order
 * they were said.  Done by a breakdown that was struck out is opened again. */
enum rc work_mark_list_open(struct work_mark_list *out, struct store *st,
    int64_t service_id, struct err *err) MUST_CHECK;
void work_mark_list_fini(struct work_mark_list *l);

#endif /* STORE_WORK_MARKS_H */
