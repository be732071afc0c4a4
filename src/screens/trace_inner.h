/* trace_inner.h - the Trace screen's state, and how it is drawn.  Private to
 * src/screens. */
#ifndef SCREENS_TRACE_INNER_H
#define SCREENS_TRACE_INNER_H

#include "complaint.h"
#include "hand_deed.h"
#include "hand_label.h"
#include "ops/trace_page.h"
#include "screens/desk.h"
#include "term/list.h"
#include "term/pager.h"
#include "trace_recall.h"

struct ticket;

enum trace_mode {
	TRACE_ASK,     /* nothing is shown yet */
	TRACE_CHAIN,   /* a batch or a unit */
	TRACE_DISH,    /* batches behind a dish of a service */
	TRACE_UNKNOWN, /* a label this station has no record of */
	TRACE_LOTS,    /* batches by what a supplier names */
	TRACE_RECALL,  /* goods to be found and pulled */
};

enum trace_field {
	TRACE_F_CODE,
	TRACE_F_DISH,
	TRACE_F_SERVICE,
	TRACE_F_AT,
	TRACE_F_LOT,
	TRACE_F_DOCUMENT,
	TRACE_F_SUPPLIER,
	TRACE_F_DAY,
	TRACE_F_RECALL,
	TRACE_F_COUNT
};

#define TRACE_WAY_MAX 12 /* steps back */

/* What was shown, to come back to. */
struct trace_step {
	enum trace_mode mode;
	char code[CODE_SIZE];
	int64_t prep_id;
	int at;
};

struct trace {
	enum trace_mode mode;
	struct form form;
	struct trace_choices choices;
	char (*sittings)[80]; /* the services in words; owned */
	struct trace_page page;
	struct trace_guess guess;
	struct list list;
	struct pager itself;     /* what an unknown label says of itself */
	char unknown[CODE_SIZE]; /* its code; empty: it has none of ours */
	struct trace_step way[TRACE_WAY_MAX];
	int steps;
	struct trace_recalls recalls;
	char recall_words[RECALLS_MAX][2][240]; /* number; in words */
	struct deed deed;
	struct hand_labels labels;
	char which[2][80]; /* which labels, in words */
	struct complaint_ask complaint;
};

/* Rows of a chain, in this order: of a unit its batches and its breakdowns,
 * then what happened to it; of a batch its breakdowns, then its units; of one
 * breakdown its units alone. */
enum trace_row_kind {
	TROW_BATCH,
	TROW_PREP,
	TROW_FREEZE,
	TROW_EVENT,
	TROW_UNIT
};
struct trace_row {
	enum trace_row_kind kind;
	size_t i; /* of its kind */
};
struct trace_row trace_row(const struct trace *s, int i);
int trace_row_count(const struct trace *s);
/* trace_unit_at - NULL when it is outside the window. */
const struct trace_unit *trace_unit_at(const struct trace *s, size_t i);
/* trace_see - have the units of rows `from` to `to` - 1 in the window. */
void trace_see(struct desk *d, struct trace *s, int from, int to);

/* trace_draw - the screen; trace_draw_chain, trace_draw_dish - its parts. */
void trace_draw(struct desk *d, void *state, const struct pane *p);
void trace_draw_chain(struct desk *d, struct trace *s, const struct pane *p);
void trace_draw_dish(struct trace *s, const struct pane *p);
/* trace_sitting - "Thu 3 December, dinner"; `dst` of 80 bytes. */
char *trace_sitting(char *dst, size_t size, const struct trace_service *s);

/* trace_show_code - the chain of a code, of one breakdown when prep_id is not
 * 0; trace_show_dish - the batches behind a plate. */
void trace_show_code(
    struct desk *d, struct trace *s, const char *text, int64_t prep_id);
void trace_show_dish(
    struct desk *d, struct trace *s, const char *dish, const char *service);

/* What is asked; trace_ask.c. */
void trace_ask_init(struct desk *d, struct trace *s);
void trace_ask_load(struct desk *d, struct trace *s);
bool trace_ask_key(struct desk *d, struct trace *s, const struct key *k);

/* trace_leave - remember what is shown, to come back to it. */
void trace_leave(struct trace *s);
/* trace_lot_wish - what was typed of a supplier's names. */
void trace_lot_wish(struct lot_wish *w, const struct trace *s);
/* trace_outcome_says - of a closed recall, 0 the first, in words. */
const char *trace_outcome_says(const void *arg, size_t i);

/* What is done to what is shown; trace_act.c. */
void trace_hold(struct desk *d, struct trace *s);
void trace_release(struct desk *d, struct trace *s);
void trace_labels(struct desk *d, struct trace *s);
void trace_recall(struct desk *d, struct trace *s);
void trace_recall_print(struct desk *d, struct trace *s);
/* trace_print_list - queue a recall's list, which is freed. */
void trace_print_list(struct desk *d, struct ticket *t);
void trace_read_why(struct desk *d, struct trace *s);
/* trace_complaint - the answer at the pass, then the complaint. */
void trace_complaint(struct desk *d, struct trace *s);
/* trace_of_prep - units of one breakdown are shown; trace_own_hold - the hold
 * in force is on what is shown itself. */
bool trace_of_prep(const struct trace *s);
bool trace_own_hold(const struct trace *s);

#endif /* SCREENS_TRACE_INNER_H */
