/*
 * core/caution.h - what can hurt someone, said where it matters.
 *
 * Plain words, no figures: figures belong to the rule set, and local law and
 * the kitchen's own food safety plan decide.  Pure.
 */
#ifndef CORE_CAUTION_H
#define CORE_CAUTION_H

#include "core/cut.h"
#include "core/species.h"

#define CAUTIONS_MAX 4

/* caution_list - cautions for a species as bought; the number filled. */
int caution_list(const char *out[CAUTIONS_MAX], const struct species *sp,
    enum presentation p);

/* caution_general - the sentence under every judgement the station prints. */
const char *caution_general(void);

#endif /* CORE_CAUTION_H */
