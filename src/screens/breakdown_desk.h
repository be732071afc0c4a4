/* breakdown_desk.h - parts of the breakdown screen that its own files share.
 * Private to src/screens. */
#ifndef SCREENS_BREAKDOWN_DESK_H
#define SCREENS_BREAKDOWN_DESK_H

#include "breakdown.h"
#include "ops/bench.h"
#include "ops/draft.h"
#include "screens/beside.h"
#include "term/list.h"

/* Fields: three of the first batch, two of each other one, three for each dish,
 * then the rest. */
enum bd_with_field { BD_WITH_FISH, BD_WITH_IN, BD_WITH_FIELDS };
enum bd_field {
	BD_FISH,
	BD_WHICH,
	BD_IN,
	BD_WITH,
	BD_DISH_FIRST = BD_WITH + BREAKDOWN_WITH_MAX * BD_WITH_FIELDS
};
enum bd_dish_field { BD_PORTIONS, BD_WEIGHT, BD_LABEL, BD_DISH_FIELDS };
enum bd_rest {
	BD_TRIM,
	BD_FRAMES,
	BD_WASTE,
	BD_MINUTES,
	BD_NOTE,
	BD_FROZEN,
	BD_THAWED,
	BD_DEGREES,
	BD_FEED,
	BD_REST
};

enum bd_mode { BD_MODE_CHOOSE, BD_MODE_WORK, BD_MODE_MADE };

struct breakdown_desk {
	struct station *sn;
	enum bd_mode mode;
	bool from_prep_list; /* back to it when done */
	struct batch_list batches;
	struct list list;
	bool waiting_known;
	struct draft waiting; /* name empty: nothing is half typed */

	/* The breakdown being typed; BD_MODE_WORK. */
	struct bench bench;
	struct field_row rows[FORM_FIELDS_MAX];
	/* Other batches on the same board, in the order they were added. */
	struct batch with[BREAKDOWN_WITH_MAX];
	size_t with_count;
	char with_labels[BREAKDOWN_WITH_MAX][BD_WITH_FIELDS][40];
	struct batch adding;      /* asked about */
	struct batch_list others; /* to be picked from; owned */
	char labels[BENCH_DISHES_MAX][BD_DISH_FIELDS][80];
	char hints[BENCH_DISHES_MAX][2][40];
	char minutes_hint[60];
	struct form form;
	bool all_dishes;
	char dish[32];                   /* wanted by the task */
	char service[PREP_SERVICE_SIZE]; /* of the task; empty: no task */
	struct work_key task;
	int64_t started_utc; /* 0: the minutes are not counted */
	int fish_at;         /* of the cut plan's fish of this batch */
	bool yield_ok, minutes_ok;
	struct beside *scale;
	int scale_field;

	/* What was recorded; BD_MODE_MADE. */
	struct breakdown made;
	struct list units;
	size_t labels_queued;
	char labels_fault[ERR_TEXT_MAX];
};

/* What is typed, for ops; texts live in it and in the form. */
struct bd_typed {
	struct breakdown_in in;
	char which[FIELD_SIZE], frozen[32], thawed[32];
	struct work_say task;
};

/* field of dish `i`, and of the rest. */
int bd_dish(size_t i, enum bd_dish_field f);
int bd_rest(const struct breakdown_desk *b, enum bd_rest f);
/* field of the other batch `i` */
int bd_with(size_t i, enum bd_with_field f);

/* breakdown_with.c */
/* bd_with_scan - a batch was scanned beside the first: asks whether it goes
 * onto the same board.  false: it is none that may. */
bool bd_with_scan(struct desk *d, struct breakdown_desk *b, const char *code);
/* bd_with_pick - the same, chosen from a list. */
void bd_with_pick(struct desk *d, struct breakdown_desk *b);
/* bd_with_out - the last one added goes again. */
void bd_with_out(struct desk *d, struct breakdown_desk *b);
/* bd_with_put - one more on the board, its fields asked. */
void bd_with_put(struct breakdown_desk *b, const struct batch *t);
/* bd_with_first - the batch on the board that is first to expire. */
const struct batch *bd_with_first(const struct breakdown_desk *b);

/* breakdown_form.c */
/* bd_form - fields for the batch on the bench. */
void bd_form(struct desk *d, struct breakdown_desk *b);
/* bd_ask - which fields are asked now. */
void bd_ask(struct breakdown_desk *b);
/* bd_first_empty - choose the first field before `before` that is asked and
 * empty, if there is one. */
void bd_first_empty(struct breakdown_desk *b, int before);
/* bd_read - as far as it is typed; what is wrong counts as not typed. */
void bd_read(struct bd_typed *out, const struct breakdown_desk *b);
/* bd_settle - all fields, strictly: RC_OK, RC_INVALID with the field chosen. */
enum rc bd_settle(
    struct bd_typed *out, struct breakdown_desk *b, struct err *err) MUST_CHECK;
/* bd_time - "fri 18:00" as "2026-11-27T18:00"; a bare day is taken on its
 * strict side: `late` its last minute.  RC_OK, RC_INVALID. */
enum rc bd_time(char dst[32], const char *text, day_no today, bool late,
    struct err *err) MUST_CHECK;
bool bd_is_time(const struct breakdown_desk *b, int i);
/* bd_time_fixed - the text of field `i`; a time in it without "today" or "fri",
 * which mean another day tomorrow. */
void bd_time_fixed(char dst[FIELD_SIZE], const struct breakdown_desk *b, int i,
    struct err *err);
int64_t bd_minutes(const struct breakdown_desk *b, const struct desk *d);

/* breakdown_draft.c */
void bd_keep(struct breakdown_desk *b, const char *by, struct err *err);
/* bd_resume - the kept one onto the bench; false: said why not. */
bool bd_resume(struct desk *d, struct breakdown_desk *b);
void bd_drop(struct desk *d, struct breakdown_desk *b);

/* breakdown_go.c */
void bd_record(struct desk *d, struct breakdown_desk *b);
void bd_weigh(struct desk *d, struct breakdown_desk *b);
void bd_weigh_tick(struct desk *d, struct breakdown_desk *b);

/* breakdown_draw.c */
void bd_draw(struct desk *d, void *state, const struct pane *p);

/* bd_fish_count, bd_fish - fish of the last cut plan that are of this batch. */
int bd_fish_count(const struct desk *d, const struct breakdown_desk *b);
const struct plan_opened *bd_fish(
    struct desk *d, const struct breakdown_desk *b, int at);

#endif /* SCREENS_BREAKDOWN_DESK_H */
