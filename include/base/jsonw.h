/*
 * base/jsonw.h - write JSON documents, and read back what was written; the
 * only user of Jansson.
 *
 * A document is built top down.  `key` is the member's name inside an object
 * and NULL inside an array.  Strings must be valid UTF-8, else they are
 * written as "?" so that the document stays valid.
 */
#ifndef BASE_JSONW_H
#define BASE_JSONW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"

struct jsonw; /* opaque */

/* jsonw_new - a document whose root is an object (or array).  Owned. */
struct jsonw *jsonw_new_object(void);
struct jsonw *jsonw_new_array(void);
void jsonw_free(struct jsonw *w);

/* Open a nested value; every one is closed by jsonw_end(). */
void jsonw_object(struct jsonw *w, const char *key);
void jsonw_array(struct jsonw *w, const char *key);
void jsonw_end(struct jsonw *w);

void jsonw_str(struct jsonw *w, const char *key, const char *value);
void jsonw_int(struct jsonw *w, const char *key, int64_t value);
/* jsonw_real - a ratio for people to read, to nine digits; finite. */
void jsonw_real(struct jsonw *w, const char *key, double value);
void jsonw_bool(struct jsonw *w, const char *key, bool value);
void jsonw_null(struct jsonw *w, const char *key);
/* jsonw_time - an instant as an RFC 3339 string in the kitchen's zone. */
void jsonw_time(struct jsonw *w, const char *key, int64_t utc);
/* jsonw_raw - a JSON text written earlier by this module; null if damaged. */
void jsonw_raw(struct jsonw *w, const char *key, const char *json);

/* jsonw_dump - append the document; `pretty` indents and ends with LF. */
void jsonw_dump(struct buf *out, const struct jsonw *w, bool pretty);

/*
 * Reading a document back.  jsonr_open gives NULL when the text is not JSON.
 * jsonr_item is the i-th object of the array member `key`, or NULL; it and the
 * strings are borrowed from the document.
 */
struct jsonr; /* opaque: a document, or an object in it */
struct jsonr *jsonr_open(const char *json);
void jsonr_close(struct jsonr *doc);
const char *jsonr_str(const struct jsonr *r, const char *key); /* "" if none */
int64_t jsonr_int(const struct jsonr *r, const char *key);     /* 0 if none */
/* jsonr_member - the object under `key`, or NULL. */
const struct jsonr *jsonr_member(const struct jsonr *r, const char *key);
const struct jsonr *jsonr_item(
    const struct jsonr *r, const char *key, size_t i);

#endif /* BASE_JSONW_H */
