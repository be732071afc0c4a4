/*
 * printing_inner.h - what Printing keeps, and its drawing.  Private to
 * src/screens.
 */
#ifndef SCREENS_PRINTING_INNER_H
#define SCREENS_PRINTING_INNER_H

#include "ops/queue.h"
#include "ops/today.h"
#include "screens/beside.h"
#include "screens/desk.h"
#include "term/list.h"

#define PRINTING_ROWS 60 /* of each part of the queue */

struct printing {
	struct queue_rows rows;
	struct today_printer printers[CONFIG_PRINTERS_MAX];
	int printer_count;
	int64_t queued, unsure;
	bool loaded;
	struct list list;
	int64_t chosen_id; /* the list moves, the choice stays with its job */

	/* What is being done while initials or a PIN are asked for. */
	int64_t job_id;
	char code[CODE_SIZE], which[QUEUE_WHAT_SIZE];
	bool hold; /* a hold label */
	enum queue_answer answer;
	int printer;

	struct beside *look; /* `printer status`, NULL when nobody asked */
	char says[CONFIG_PRINTERS_MAX][BESIDE_LINE_SIZE]; /* its answers */
};

/* printing_job - the job of a row, or NULL. */
const struct print_job *printing_job(const struct printing *s, int row);

/* job_words - "label, copy 1", job_which - "label of 000-01U", in the language
 * of the station. */
char *job_words(char dst[QUEUE_WHAT_SIZE], const struct print_job *j);
char *job_which(char dst[QUEUE_WHAT_SIZE], const struct print_job *j);
const char *job_state_words(enum job_state state);

void printing_draw(struct desk *d, void *state, const struct pane *p);

#endif /* SCREENS_PRINTING_INNER_H */
