/*
 * ops/yields.h - the yield to plan and order with, learned or published.
 */
#ifndef OPS_YIELDS_H
#define OPS_YIELDS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/err.h"
#include "core/cut.h"
#include "core/yield.h"
#include "core/yieldlearn.h"
#include "ops/station.h"

/* What is to be cut from what. */
struct yield_wish {
	const char *species; /* 3-alpha code */
	enum presentation bought;
	enum cut_kind kind;
	bool skin_on;        /* counts for fillets and supremes */
	int64_t supplier_id; /* 0: any, or not known yet */
	int64_t fish;        /* broken down together; 0 taken as one */
};

struct yield_use {
	int mean_bp;      /* 1/10 000, rounded down: plan with it */
	int low_bp;       /* one breakdown in five gives less: order with it */
	int sd_bp;        /* of one breakdown of that many fish */
	int64_t learned;  /* breakdowns behind it; 0: the published figure */
	bool by_supplier; /* from this supplier's own breakdowns */
	bool has_published;
	struct yield published; /* when has_published */
	/* One line: "learned from 7 breakdowns; published 47 % ..." */
	char source[512];
};

/*
 * yield_for - the yield of a cut.  The supplier's own when it has
 * YIELD_SUPPLIER_MIN breakdowns, else the species', else the published figure
 * with the spread a first breakdown may show.  A cut of the form it was bought
 * in loses nothing: 10 000 for mean and low.  Works without a station file
 * (sn->st NULL), then from the published table alone.  The kitchen's own figure
 * in the menu (struct plan_cut) is the caller's to put first.
 * RC_OK, RC_NOTFOUND when neither is known, with species and forms named.
 */
enum rc yield_for(struct yield_use *out, struct station *sn,
    const struct yield_wish *wish, struct err *err) MUST_CHECK;

/* What a breakdown taught. */
enum yield_verdict {
	YIELD_TAUGHT_NOTHING, /* mixed cuts, trim alone, or nothing to lose */
	YIELD_LEARNED,
	YIELD_SET_ASIDE, /* outside the gate, recorded because it was asked */
};

struct yield_taught {
	enum yield_verdict verdict;
	/* Meaningful unless nothing was taught: */
	struct yield_key key;
	int observed_bp;
	int expected_bp; /* before it; 0: nothing was known */
	int64_t count;   /* breakdowns learned of this cut, this one included */
};

/*
 * yields_rebuild - work every learned yield out again from the recorded
 * breakdowns, in the order they happened, in the transaction that is open.
 * What was set aside stays set aside.  To be called by whatever takes a
 * breakdown back.
 */
enum rc yields_rebuild(struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_YIELDS_H */
