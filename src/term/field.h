/*
 * field.h - one field: what it takes, and what its text is worth.  Private to
 * src/term.
 */
#ifndef TERM_FIELD_H
#define TERM_FIELD_H

#include "term/form.h"

/* field_takes - may this character stand in the field? */
bool field_takes(const struct field *f, uint32_t ch);
/* field_edit - a key that changes the text or the caret.  True: it did. */
bool field_edit(struct field *f, const struct key *k);
/* field_settle - read the text: value and shown, or wrong.  True: it is right,
 * or empty where that is allowed. */
bool field_settle(struct field *f, day_no today);
/* field_matches - the choices that fit the text: found[0 .. n - 1] of at most
 * `max`; returns how many there are. */
size_t field_matches(const struct field *f, size_t *found, size_t max);

#endif /* TERM_FIELD_H */
