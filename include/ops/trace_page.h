/*
 * ops/trace_page.h - a code's chain to look at, a window of it at a time; and
 * which batches a plate may have come from when its label is gone.
 * Nothing here records anything.
 */
#ifndef OPS_TRACE_PAGE_H
#define OPS_TRACE_PAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/day.h"
#include "base/err.h"
#include "base/format.h"
#include "core/code.h"
#include "ops/station.h"
#include "store/batches.h"
#include "store/chain.h"
#include "store/freezing.h"
#include "store/holds.h"
#include "store/places.h"
#include "store/portions.h"
#include "store/preps.h"

#define TRACE_UNITS_MAX 200 /* in a window */

/* Which part of what goes forward is loaded. */
struct trace_window {
	int64_t prep_id;    /* units of this breakdown alone; 0: of all */
	size_t first, most; /* units; most 1..TRACE_UNITS_MAX */
};

struct trace_unit {
	struct portion portion;
	int64_t used, discarded, missing, struck; /* servings */
};

struct trace_page {
	char code[CODE_SIZE]; /* asked, without hyphen */
	bool of_portion;
	int64_t now_utc;

	/* Back. */
	struct batch batch;
	char species[64], scientific[64]; /* species is its code when the
					     table has no name */
	struct batch_struck batch_struck;
	struct hold hold; /* in force; id 0: none.  Of a portion its own goes
			     before its breakdown's, that before its batch's; of
			     one breakdown of a batch its own before its batch's
			     */
	bool hold_of_batch, hold_of_prep;
	char place[PLACE_SIZE]; /* where it is; of a batch what is whole */
	struct batch *others;   /* of_portion: the other batches it is made
				   of; owned */
	size_t other_count;
	struct prep prep;       /* of_portion: the breakdown that made it */
	struct trace_unit unit; /* of_portion */
	struct portion_event_list events; /* of_portion; owned */
	struct freezing_list freezings;   /* of_portion; owned */
	size_t labels; /* of the code, that may be out or are queued */

	/* Forward; of a portion all of it is in `unit`. */
	struct chain_counts counts; /* of the batch, or of one breakdown */
	struct prep_list preps;     /* of the batch, of_portion those it rests
				       on; struck ones last; owned */
	struct trace_unit *units;   /* the window; owned */
	size_t unit_count;
	struct trace_window window; /* as loaded */
};

/*
 * trace_page_load - `text` as keyed or scanned.  Units on hand come first,
 * first to expire first, then the others by code. RC_OK: the caller frees with
 * trace_page_fini(); RC_INVALID: no code of ours; RC_NOTFOUND: well formed, but
 * this station has no record of it.
 */
enum rc trace_page_load(struct trace_page *out, struct station *sn,
    const char *text, const struct trace_window *window,
    struct err *err) MUST_CHECK;
void trace_page_fini(struct trace_page *p);

/* trace_why - append why the code's use-by is what it is: every limit with its
 * source, and what freezing did to it.  RC_OK, RC_INVALID, RC_NOTFOUND. */
enum rc trace_why(struct buf *out, struct station *sn, const char *code,
    struct err *err) MUST_CHECK;

/* trace_on_hand - codes of the units of a batch that have something left, at
 * most `most` of them; *count may be more than that. */
enum rc trace_on_hand(char (*codes)[CODE_SIZE], size_t most, size_t *count,
    struct station *sn, const char *batch, struct err *err) MUST_CHECK;

/* --- the label is gone -----------------------------------------------------*/

#define TRACE_SERVICES_DAYS 28 /* back from today */

struct trace_dish {
	char code[32];
	char name[64];
};

struct trace_service {
	day_no day;
	char name[24];
	char word[48]; /* "2026-11-27/dinner" */
};

/* What may be chosen: every dish ever on the menu, by name; services that have
 * begun, newest first. */
struct trace_choices {
	struct trace_dish *dishes; /* owned */
	size_t dish_count;
	struct trace_service *services; /* owned */
	size_t service_count;
};

enum rc trace_choices_load(
    struct trace_choices *out, struct station *sn, struct err *err) MUST_CHECK;
void trace_choices_fini(struct trace_choices *c);

/*
 * A batch a plate may have come from.  scanned: servings of it were scanned out
 * for that service as that dish, which is certain.  on_hand: servings in date
 * and not gone when the service began, which may have been served unscanned.
 */
struct trace_candidate {
	struct chain_candidate is;
	char species[64];

	/* When the plate was served: servings scanned out within
	 * TRACE_NEAR_MINUTES before it, longer before, and after it; and those
	 * on hand then that were never scanned. */
	int64_t near, earlier, after, unseen;
	enum trace_odds {
		ODDS_CERTAIN,  /* no other batch can be, by the record */
		ODDS_LIKELY,   /* scanned out shortly before */
		ODDS_POSSIBLE, /* scanned out before that */
		ODDS_UNSEEN,   /* only if it was served without a scan */
		ODDS_NONE,     /* by the record it cannot be */
	} odds;
};

/* From a tray's scan to the plate; longer ago is possible, but a full service
 * has used it up.  common practice, no source. */
#define TRACE_NEAR_MINUTES 45

const char *trace_odds_word(enum trace_odds o); /* "likely" */

struct trace_guess {
	struct trace_dish dish;
	struct trace_service service;
	int64_t begin_utc, end_utc;
	int64_t at_utc;  /* when the plate was served; 0: nobody knows */
	int64_t sold;    /* of the dish, as closed; -1: not known */
	int64_t scanned; /* servings, all batches */
	/* Most likely first: those scanned, then by use-by as they should
	 * have gone out; owned. */
	struct trace_candidate *items;
	size_t count;
	size_t certain; /* so many of them were scanned */
};

/*
 * trace_guess_load - `service` as "DATE/NAME".  RC_OK (also when nothing
 * fits: count 0), RC_INVALID, RC_NOTFOUND.
 */
enum rc trace_guess_load(struct trace_guess *out, struct station *sn,
    const char *dish, const char *service, struct err *err) MUST_CHECK;
void trace_guess_fini(struct trace_guess *g);

/* trace_guess_at - the same with the time of the plate, "HH:MM" (NULL: not
 * known): odds and the four counts are filled, and decide the order. */
enum rc trace_guess_at(struct trace_guess *out, struct station *sn,
    const char *dish, const char *service, const char *at,
    struct err *err) MUST_CHECK;

/* trace_guess_say - append what trace_guess_at() finds. */
enum rc trace_guess_say(struct buf *out, struct station *sn, const char *dish,
    const char *service, const char *at, enum format format,
    struct err *err) MUST_CHECK;

#endif /* OPS_TRACE_PAGE_H */
