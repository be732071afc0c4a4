/*
 * list_words.h - small words several lists share.  Private to src/print.
 */
#ifndef PRINT_LIST_WORDS_H
#define PRINT_LIST_WORDS_H

#include "base/buf.h"
#include "core/species.h"
#include "exchange/plan_out.h"
#include "labels/ticket.h"

/* list_day_short - "Fri 4 Dec"; `size` 24 suffices.  Returns `dst`. */
char *list_day_short(char *dst, size_t size, day_no day);

/* list_clock - "07:10" on the day, else "Fri 4 Dec 07:10"; 48 suffice. */
char *list_clock(char *dst, size_t size, int64_t utc, day_no day);

/* list_species - the kitchen's name, or the code of one no longer known. */
const char *list_species(const struct species_table *t, const char *code);

/* list_plan_head - title of a service's list, and what it was made for. */
void list_plan_head(
    struct ticket *t, const struct plan_report *r, const char *title);

/* Bytes of the longest paragraph of a plan. */
#define PARAGRAPH_MAX 16384

/* list_paragraph - a line of a style from a buffer, which is given back. */
void list_paragraph(
    struct ticket *t, enum ticket_style style, struct buf *text);

/* list_signature - a line to sign on, at the end. */
void list_signature(struct ticket *t, const char *what);

/* "s" unless it is one. */
#define PLURAL(n) ((n) == 1 ? "" : "s")

#endif /* PRINT_LIST_WORDS_H */
