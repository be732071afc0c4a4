/*
 * exchange/changes_out.h - what a row of the audit trail changed, for a person.
 */
#ifndef EXCHANGE_CHANGES_OUT_H
#define EXCHANGE_CHANGES_OUT_H

#include "base/buf.h"
#include "base/jsonw.h"

/*
 * changes_text - a line for each row: "+ portion 12", "~ portion 12: left 2 ->
 * 1", "- typed 3/1", each behind `indent`.  Instants are shown as times and
 * days as dates.  `changes` as the trail keeps it; NULL or "" adds nothing.
 */
void changes_text(struct buf *out, const char *changes, const char *indent);

/* changes_json - the same as an array: table, key, digests, and for a changed
 * row its columns with [before, after]. */
void changes_json(struct jsonw *w, const char *key, const char *changes);

#endif /* EXCHANGE_CHANGES_OUT_H */
