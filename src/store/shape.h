/*
 * shape.h - are the views and triggers of a file ours?  Another program may
 * have put in a trigger that records or removes what nobody asked for, a view
 * that never ends, or columns that work something out.  Private to src/store.
 */
#ifndef STORE_SHAPE_H
#define STORE_SHAPE_H

#include "base/err.h"
#include "store/store.h"

/* The longest value: lines of the trail of a large transaction.  What SQLite
 * takes as it comes is a thousand million bytes. */
#define VALUE_MAX (256 * 1000 * 1000)

/*
 * shape_check - the triggers and views of an open file are in the words of our
 * scripts, and no column is worked out.  What is missing is for the trail to
 * say.
 * RC_OK; RC_FATAL with DAMAGE_LIB: it names the first that is not ours.
 */
enum rc shape_check(struct store *st, struct err *err) MUST_CHECK;

/* shape_limits - what one value or statement of the file may make SQLite take;
 * before anything is read. */
void shape_limits(struct store *st);

#endif /* STORE_SHAPE_H */
