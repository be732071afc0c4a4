/* trace_inner.h - the Trace screen's state, and how it is drawn.  Private to
 * src/screens. */
#ifndef SCREENS_TRACE_INNER_H
#define SCREENS_TRACE_INNER_H

#include "hand_deed.h"
#include "hand_label.h"
#include "ops/trace_page.h"
#include "screens/desk.h"
#include "term/list.h"
#include "term/pager.h"

enum trace_mode {
	TRACE_ASK,     /* nothing is shown yet */
	TRACE_CHAIN,   /* a batch or a unit */
	TRACE_DISH,    /* batches behind a dish of a service */
	TRACE_UNKNOWN, /* a label this station has no record of */
};

enum trace_field { TRACE_F_CODE, TRACE_F_DISH, TRACE_F_SERVICE, TRACE_F_COUNT };

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
	struct deed deed;
	struct hand_labels labels;
	char which[2][80]; /* which labels, in words */
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

/* What is done to what is shown; trace_act.c. */
void trace_hold(struct desk *d, struct trace *s);
void trace_release(struct desk *d, struct trace *s);
void trace_labels(struct desk *d, struct trace *s);
void trace_recall(struct desk *d, struct trace *s);
void trace_recall_print(struct desk *d, struct trace *s);
void trace_read_why(struct desk *d, struct trace *s);

#endif /* SCREENS_TRACE_INNER_H */
