/*
 * parts.h - the parts a label is made of, each placed below the one before.
 *
 * Private to labels/.  Each returns as page_part(): RC_OK, RC_END when it does
 * not fit, or what font_measure() returned.
 */
#ifndef PARTS_H
#define PARTS_H

#include "page.h"

#define TEXT_MIN_UM 2000 /* 16 dots at 203 dpi: below it strokes get lost */
#define BOLD_MIN_UM 2125 /* from 17 dots on stems are 3 dots, not 2 */

/* parts_training - TRAINING, NOT FOR SERVICE. */
enum rc parts_training(struct page *page, struct err *err) MUST_CHECK;

/* parts_name - the food and its species.  `pct` of the size that goes with
 * this level: a long name gives way before everything else does. */
enum rc parts_name(struct page *page, const struct label_facts *facts, int pct,
    struct err *err) MUST_CHECK;

/* parts_head - what state it is in and the day that goes with it, with the
 * mark of a reprint. */
enum rc parts_head(struct page *page, const struct label_facts *facts,
    struct err *err) MUST_CHECK;

/* parts_details - everything else. */
enum rc parts_details(struct page *page, const struct label_facts *facts,
    struct err *err) MUST_CHECK;

/* "Wed 25 Nov 2026", "Thu 26 Nov 09:00" and both; return `dst`. */
#define PARTS_DATE_SIZE 32
char *parts_day(char dst[PARTS_DATE_SIZE], const struct local_time *t);
char *parts_time(char dst[PARTS_DATE_SIZE], const struct local_time *t);
char *parts_day_time(char dst[PARTS_DATE_SIZE], const struct local_time *t);

#endif /* PARTS_H */
