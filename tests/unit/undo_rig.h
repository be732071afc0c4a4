/*
 * undo_rig.h - a kitchen with a batch of cod whose steps are taken back; for
 * the suites of undo.
 */
#ifndef UNDO_RIG_H
#define UNDO_RIG_H

#include "kitchen.h"
#include "ops/undo.h"

extern struct kitchen uk;
extern struct batch uk_cod; /* 10 gutted cod, 20 kg */

/* At 10:05, the batch an hour old. */
void undo_setup(void);
void undo_teardown(void);

/*
 * undo_state - everything anybody plans, cuts, serves or counts from, as text;
 * the caller frees it.  undo_same_state - it is as it was; frees `before`.
 */
char *undo_state(void);
void undo_same_state(char *before);

/* undo_offered - the last step of `of` can be taken back, and asking recorded
 * nothing.  undo_stays - it cannot, with these words.  undo_nothing - there is
 * none. */
struct undo_offer undo_offered(const char *of);
void undo_stays(const char *of, const char *says);
void undo_nothing(const char *of);
/* undo_take_back - GH takes it back; it is of that kind. */
struct undo_offer undo_take_back(const char *of, enum undo_kind kind);

/* What is done, each must succeed. */
struct breakdown undo_trays(void); /* 3 trays of 4 out of 5 cod, by CD */
void undo_use_of(const char *code, int64_t n, const char *by);
void undo_discard_of(const char *code, const char *by);
void undo_count_of(const char *code, int64_t n, const char *by);
/* undo_cut_by - `fish` cod into trays of 5, as many as fish; undo_cut_with -
 * the same by EF. */
struct breakdown undo_cut_by(
    const char *by, int64_t fish, const char *which, int64_t minutes);
struct breakdown undo_cut_with(
    int64_t fish, const char *which, int64_t minutes);

/* undo_sums - grams and servings still add up. */
void undo_sums(void);

#endif /* UNDO_RIG_H */
