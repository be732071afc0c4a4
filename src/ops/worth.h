/*
 * worth.h - what a cut yields and what a portion costs, as far as anything on
 * record says.  Private to src/ops.
 */
#ifndef OPS_WORTH_H
#define OPS_WORTH_H

#include "core/prepplan.h"
#include "ops/station.h"
#include "store/batches.h"
#include "store/menu.h"
#include "store/offers.h"

/*
 * best_yield - the kitchen's own figure for the form a dish is bought in, else
 * what was learned, else what is published.  A plan_yield_fn; `arg` is the
 * station.
 */
enum rc best_yield(struct plan_yield *out, void *arg,
    const struct plan_cut *cut, enum presentation from, int64_t supplier_id,
    struct err *err) MUST_CHECK;

/* Prices that may stand behind a portion; owned. */
struct worth {
	struct menu_cuts cuts;
	struct offer_list offers;
	struct batch_list batches;
};

enum rc worth_open(
    struct worth *out, struct station *sn, struct err *err) MUST_CHECK;
void worth_fini(struct worth *w);

/*
 * portion_cost - the fish in one portion of a dish, in thousandths of the
 * smallest coin: of every part the species that costs least, bought as the menu
 * says, by the cheapest offer, else by what a batch on hand cost.  -1 when a
 * part has no price or no yield.
 */
enum rc portion_cost(int64_t *out, struct station *sn, const struct worth *w,
    const char *dish, struct err *err) MUST_CHECK;

#endif /* OPS_WORTH_H */
