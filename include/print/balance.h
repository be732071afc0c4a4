/*
 * print/balance.h - a weight from the station's scale.
 *
 * The scale's own tare is respected: what it shows is what is taken.  Weights
 * are whole grams, rounded to nearest; a scale set to pounds moves in steps of
 * its own, which may be coarser.
 *
 * Blocking: balance_open() and balance_next() return in the time they are
 * given.  One thread.
 */
#ifndef PRINT_BALANCE_H
#define PRINT_BALANCE_H

#include "base/err.h"
#include "base/units.h"

struct balance;

/* Told each time the scale says something else; may be empty. */
struct balance_watch {
	void (*show)(void *ctx, const char *words); /* "still moving, 850 g" */
	void *ctx;
};

/*
 * balance_open - the scale of the settings ("usb:any"; "none": none is set).
 * RC_OK       *out is owned by the caller
 * RC_NOTFOUND none is set
 * RC_INVALID  the address is not one, or means more than one scale
 * RC_RETRY    not there, not permitted, or held by another program
 * RC_FAILED   it is no scale we understand
 */
enum rc balance_open(
    struct balance **out, const char *address, struct err *err) MUST_CHECK;

/*
 * balance_next - wait for a stable weight; from the second on, for another
 * one after the scale was seen empty.
 * RC_OK       *out is at least 1 g and at most WEIGHT_MAX_G
 * RC_RETRY    none within wait_ms, or the scale went away: the text says what
 *             it said last
 * RC_INVALID  what it says makes no sense
 */
enum rc balance_next(grams *out, struct balance *b, int64_t wait_ms,
    const struct balance_watch *watch, struct err *err) MUST_CHECK;

/* balance_close - accepts NULL. */
void balance_close(struct balance *b);

#endif /* PRINT_BALANCE_H */
