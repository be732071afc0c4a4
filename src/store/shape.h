/*
 * shape.h - are the tables, views and triggers of a file the ones its schema
 * makes?  Another program may have put in a trigger that records or removes
 * what nobody asked for, a view that never ends, or columns that work something
 * out.  Private to src/store.
 */
#ifndef STORE_SHAPE_H
#define STORE_SHAPE_H

#include "base/err.h"
#include "store/store.h"

/*
 * shape_check - the open file, whose schema is the newest, beside an empty one
 * made by the same scripts.  Tables and views that are nobody's do no harm and
 * may stay.
 * RC_OK; RC_FATAL with DAMAGE_LIB: it names the first that is not so.
 */
enum rc shape_check(struct store *st, struct err *err) MUST_CHECK;

/* shape_limits - what one value or statement of the file may make SQLite take;
 * before anything is read. */
void shape_limits(struct store *st);

#endif /* STORE_SHAPE_H */
