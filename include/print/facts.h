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
#include "store/holds.h"
#include "store/portions.h"

/* What the settings say about every label. */
struct label_house {
	const char *storage;    /* of chilled food: [label] storage_text */
	const char *gs1_prefix; /* [label] gs1_prefix; "none": in-house codes */
	bool bars;              /* [label] bars: a second code */
	bool training;
};

/* What this one copy says beyond the record. */
struct label_copy {
	int reprint;             /* 0 first print, n the nth reprint */
	const struct hold *hold; /* the hold in force: LABEL_HOLD instead of
				  * what the record says; NULL: none */
	bool origins; /* the batches of it differ in area, method or gear */
};

/*
 * facts_batch - the tray label of goods in.  facts_portion - the label of a
 * portion or tray; `b` is its batch.
 * RC_OK, or RC_INVALID: the record holds more than a label field takes, or the
 * dish has no trade item number under the prefix.
 */
enum rc facts_batch(struct label_facts *out, const struct batch *b,
    const struct species *sp, const struct label_house *house,
    const struct label_copy *copy, struct err *err) MUST_CHECK;
enum rc facts_portion(struct label_facts *out, const struct portion *p,
    const struct batch *b, const struct species *sp,
    const struct label_house *house, const struct label_copy *copy,
    struct err *err) MUST_CHECK;

/*
 * facts_house_check - can these settings work on labels of this size at all?
 * For the start of the station and `config check`.
 * RC_OK, or RC_INVALID naming the setting: a prefix no trade item number may
 * have, or a second code on a label too small for it.
 */
enum rc facts_house_check(const struct label_house *house,
    const struct label_media *media, struct err *err) MUST_CHECK;

/*
 * facts_fonts_check - can the fonts set every name of the species table and
 * the storage line?  Other texts are checked when a label is made.
 * RC_OK, or RC_INVALID naming the font file and the character it lacks.
 */
enum rc facts_fonts_check(struct fonts *fonts,
    const struct species_table *species, const struct label_house *house,
    struct err *err) MUST_CHECK;

#endif /* PRINT_FACTS_H */
