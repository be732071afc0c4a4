/* trace_recall.h - recalls on the Trace screen.  Private to src/screens. */
#ifndef SCREENS_TRACE_RECALL_H
#define SCREENS_TRACE_RECALL_H

#include "ops/recall.h"
#include "screens/desk.h"

struct trace;

/* A part of the Trace screen's state. */
struct trace_recalls {
	/* What may be chosen: the newest, open ones first as they are newest.
	 */
	struct recall_brief_list list;
	struct trace_lots lots; /* batches of a lot, a document, a day */

	int64_t id; /* the one shown */
	struct recall_page page;
	const struct recall_item **rows; /* missing first; owned */
	int row_count;
	bool scanned; /* something was scanned: `last` is the answer */
	struct recall_scan last;

	/* What waits for initials. */
	char scan[512];
	int64_t found;
	char reason[FIELD_SIZE], origin[16], text[FIELD_SIZE], outcome[16];
	char codes[1][CODE_SIZE];
	enum { OPEN_BATCH, OPEN_PREP, OPEN_UNIT, OPEN_LOTS } of;
};

/* Lots: the batches behind what a supplier names. */
void trace_lots_show(struct desk *d, struct trace *s);
void trace_draw_lots(struct trace *s, const struct pane *p);

/* trace_recall_choices - load what may be chosen. */
void trace_recall_choices(struct desk *d, struct trace *s);
/* trace_recall_show - the page of recall `id`; trace_recall_load - again. */
void trace_recall_show(struct desk *d, struct trace *s, int64_t id);
void trace_recall_load(struct desk *d, struct trace *s);
void trace_draw_recall(struct desk *d, struct trace *s, const struct pane *p);

/* What is done: opened of what is shown, ticked by a scan or by hand, noted,
 * printed, read whole, closed. */
void trace_recall_open(struct desk *d, struct trace *s);
bool trace_recall_scan(
    struct desk *d, struct trace *s, const struct desk_scan *sc);
void trace_recall_found(struct desk *d, struct trace *s);
void trace_recall_note(struct desk *d, struct trace *s);
void trace_recall_page_print(struct desk *d, struct trace *s);
void trace_recall_read(struct desk *d, struct trace *s);
void trace_recall_end(struct desk *d, struct trace *s);
void trace_recall_free(struct trace *s);

#endif /* SCREENS_TRACE_RECALL_H */
