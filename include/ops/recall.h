/*
 * ops/recall.h - find and pull goods, wherever they got to.
 *
 * Opening blocks everything of it in the same transaction and freezes the list
 * of what to pull.  Each thing found is scanned; what is missing stays listed
 * with its place and last event.  It is closed by what became of the goods.
 * That food already served cannot be pulled is said too: which service it went
 * to.  Whom to tell, and when, is the operator's and the authority's decision.
 * docs/rules.md R-H, docs/decisions/0016.
 */
#ifndef OPS_RECALL_H
#define OPS_RECALL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "labels/ticket.h"
#include "ops/station.h"
#include "ops/trace_find.h"
#include "store/recall_reach.h"
#include "store/recalls.h"

#define RECALL_CODES_MAX 64

struct recall_in {
	const char *const *codes; /* of batches and units, as keyed */
	size_t count;             /* at most RECALL_CODES_MAX */
	bool breakdown;           /* the units name their breakdowns */
	struct lot_wish lot;      /* count 0: the batches it finds */
	const char *origin;       /* recall_origin_word(); NULL: supplier */
	const char *reason;
	const char *by;
};

/* A recall and how far it got. */
struct recall_brief {
	struct recall recall;
	struct recall_count count;
	int64_t labels; /* recall_open: queued labels that were stopped */
};

/*
 * recall_open - RC_OK, *out is the recall; RC_INVALID, RC_NOTFOUND (a code, or
 * no batch of that lot), RC_REFUSED (more than TRACE_LOTS_MAX batches).
 */
enum rc recall_open(struct recall_brief *out, struct station *sn,
    const struct recall_in *in, struct err *err) MUST_CHECK;

/* What a scan was. */
struct recall_scan {
	enum recall_verdict verdict;
	char code[CODE_SIZE]; /* without hyphen */
	char name[64];        /* dish, or species code; empty when unknown */
	int64_t found;        /* servings this scan found; 1 of a batch */
	int64_t lacking;      /* servings of it still missing */
	char says[200];       /* surprise, other, unknown: what it is, and what
				 to do */
	struct recall_count count;
};

/*
 * recall_tick - something was found and set apart.  `found` servings of a unit;
 * 0: all that is still looked for.  A label this station has no record of is
 * read by its own content and kept as found.
 * RC_OK, whatever the verdict; RC_NOTFOUND (no such recall), RC_REFUSED (it is
 * closed; more than the unit holds), RC_INVALID (no label of ours).
 */
enum rc recall_tick(struct recall_scan *out, struct station *sn, int64_t id,
    const char *code, int64_t found, const char *by,
    struct err *err) MUST_CHECK;

/* recall_note - to an open or closed one.  RC_OK, RC_INVALID, RC_NOTFOUND. */
enum rc recall_note(struct station *sn, int64_t id, const char *text,
    const char *by, struct err *err) MUST_CHECK;

struct recall_close_in {
	int64_t id;
	const char *outcome; /* discarded, returned, released, mistake */
	const char *reason;  /* needed while something is missing, and to
				release */
	const char *by;
};

/* What closing did. */
struct recall_closed {
	struct recall recall;
	int64_t discarded; /* lines thrown away or sent back */
	int64_t released;  /* holds lifted */
	int64_t kept;      /* holds that stay in force */
	int64_t labels;    /* labels the holds stopped, wanted again */
	char codes[400];   /* theirs, as many as fit */
};

/*
 * recall_close - what was found is discarded (also when it goes back to the
 * supplier), or the holds it opened are lifted.  Holds of what was pulled or is
 * missing stay in force unless it is released: nothing of it comes back by
 * itself.
 * RC_OK, RC_INVALID, RC_NOTFOUND; RC_REFUSED: closed already, or something is
 * missing and no reason was said.
 */
enum rc recall_close(struct recall_closed *out, struct station *sn,
    const struct recall_close_in *in, struct err *err) MUST_CHECK;

/* --- looked at ------------------------------------------------------------*/

struct recall_page {
	const char *kitchen;                 /* borrowed */
	const struct species_table *species; /* borrowed */
	int64_t now_utc;
	struct recall recall;
	struct recall_count count;
	struct recall_item_list items;
	struct recall_use *uses; /* owned, as all below */
	size_t use_count;
	struct recall_loose *loose;
	size_t loose_count;
	struct supplier *suppliers;
	size_t supplier_count;
	struct recall_tick_list ticks;
	struct hold_note_list notes;
};

/* recall_load - RC_OK: the caller frees with recall_fini(); RC_NOTFOUND. */
enum rc recall_load(struct recall_page *out, struct station *sn, int64_t id,
    struct err *err) MUST_CHECK;
void recall_fini(struct recall_page *p);

/* recall_show - append it. */
enum rc recall_show(struct buf *out, struct station *sn, int64_t id,
    enum format format, struct err *err) MUST_CHECK;

#define RECALLS_MAX 100

struct recall_brief_list {
	struct recall_brief *items; /* owned; newest first */
	size_t count;
};

/* recall_briefs - the newest RECALLS_MAX; with `open` those not closed. */
enum rc recall_briefs(struct recall_brief_list *out, struct station *sn,
    bool open, struct err *err) MUST_CHECK;
void recall_briefs_fini(struct recall_brief_list *l);
enum rc recall_list(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

/* recall_ticket - the list to pull by, with boxes: what was found is said, what
 * is missing is to be ticked.  RC_OK, *out is owned by the caller. */
enum rc recall_ticket(struct ticket **out, struct station *sn, int64_t id,
    struct err *err) MUST_CHECK;

#endif /* OPS_RECALL_H */
