/*
 * core/trade_item.h - portion labels of a kitchen with a GS1 company prefix of
 * its own.
 *
 * Each dish is a trade item: its GTIN is an indicator digit 0, the prefix, the
 * number of the dish with zeros in front, and the check digit (GS1 General
 * Specifications 7.9.1), 14 digits in all.  A label carries
 *
 *   (01) GTIN (17) use-by day (10) batch (21) portion
 *   (01) GTIN (7003) use-by day and time (21) portion
 *
 * the second where the use-by ends before its day does.  01 and 17 have a
 * pre-defined length and what is last needs no separator, so each form has one
 * (General Specifications table 7-6; 7003 is not in that table).  All widths
 * are fixed: a scanner that loses the separator does no harm.  Pure.
 */
#ifndef CORE_TRADE_ITEM_H
#define CORE_TRADE_ITEM_H

#include <stdbool.h>
#include <stdint.h>

#include "base/err.h"
#include "core/label_code.h"

#define TRADE_ITEM_GTIN 14
#define TRADE_ITEM_SYMBOL_SIZE 80 /* in brackets, with NUL and room */

/* trade_item_prefix_given - false for NULL, "" and "none". */
bool trade_item_prefix_given(const char *prefix);

/*
 * trade_item_prefix_check - may trade item numbers begin with this prefix?
 * RC_OK, or RC_INVALID: not 4 to 12 digits, or of a range that is kept for
 * restricted circulation numbers or for GTIN-8.
 */
enum rc trade_item_prefix_check(const char *prefix, struct err *err) MUST_CHECK;

/*
 * trade_item_gtin - the GTIN of dish number `item`, which is above 0.
 * RC_OK, or RC_INVALID when the prefix is none or leaves no room for it.
 */
enum rc trade_item_gtin(char gtin[TRADE_ITEM_GTIN + 1], const char *prefix,
    int64_t item, struct err *err) MUST_CHECK;

/* trade_item_symbol - the element string in brackets; `c` names a portion. */
void trade_item_symbol(char symbol[TRADE_ITEM_SYMBOL_SIZE], const char *gtin,
    const struct label_code *c);

/* What such a label says. */
struct trade_item {
	char gtin[TRADE_ITEM_GTIN + 1];
	int64_t item;           /* number of the dish */
	struct label_code code; /* no batch where there is a time */
};

/*
 * trade_item_looks_like - is this a scan of such a label, right or damaged:
 * a GTIN of ours in front and a serial number at the end?  Without prefix
 * never.
 */
bool trade_item_looks_like(const char *s, const char *prefix);

/*
 * trade_item_parse - what a scanner typed: with or without symbology
 * identifier, separators or brackets, but nothing else than a label carries,
 * in its order.
 * RC_OK or RC_INVALID: another prefix, length, a check character, or the date.
 */
enum rc trade_item_parse(struct trade_item *out, const char *s,
    const char *prefix, struct err *err) MUST_CHECK;

#endif /* CORE_TRADE_ITEM_H */
