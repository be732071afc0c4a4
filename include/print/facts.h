/*
 * print/facts.h - what stands on the label of a recorded batch or portion.
 */
#ifndef PRINT_FACTS_H
#define PRINT_FACTS_H

#include <stdbool.h>

#include "base/err.h"
#include "core/species.h"
#include "labels/label.h"
#include "store/batches.h"
#include "store/portions.h"

/* House texts that stand on every label. */
struct label_house {
	const char *storage;
	bool training;
};

/*
 * facts_batch - the tray label of goods in.  facts_portion - the label of a
 * portion or tray; `b` is its batch.  `reprint` as in struct label_facts.
 * RC_OK, or RC_INVALID when the record holds more than a label field takes.
 */
enum rc facts_batch(struct label_facts *out, const struct batch *b,
    const struct species *sp, const struct label_house *house, int reprint,
    struct err *err) MUST_CHECK;
enum rc facts_portion(struct label_facts *out, const struct portion *p,
    const struct batch *b, const struct species *sp,
    const struct label_house *house, int reprint, struct err *err) MUST_CHECK;

#endif /* PRINT_FACTS_H */
