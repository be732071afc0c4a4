/* jsonw.c - write JSON documents through Jansson. */
#include "base/jsonw.h"

#include <assert.h>
#include <jansson.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"

#define DEPTH_MAX 16

struct jsonw {
	json_t *stack[DEPTH_MAX]; /* [0] is owned, the rest borrowed from it */
	int depth;
};

static struct jsonw *
new_root(json_t *root)
{
	struct jsonw *w = xcalloc(1, sizeof(*w));

	assert(root != NULL);
	w->stack[0] = root;
	return w;
}

struct jsonw *
jsonw_new_object(void)
{
	return new_root(json_object());
}

struct jsonw *
jsonw_new_array(void)
{
	return new_root(json_array());
}

void
jsonw_free(struct jsonw *w)
{
	if (w == NULL)
		return;
	json_decref(w->stack[0]);
	free(w);
}

/* Put a value, handing over its reference, into the open object or array. */
static void
put(struct jsonw *w, const char *key, json_t *value)
{
	json_t *top = w->stack[w->depth];
	int rc;

	assert(value != NULL);
	assert(json_is_object(top) == (key != NULL));
	if (key != NULL)
		rc = json_object_set_new(top, key, value);
	else
		rc = json_array_append_new(top, value);
	assert(rc == 0);
	(void)rc;
}

static void
nest(struct jsonw *w, const char *key, json_t *value)
{
	assert(w->depth + 1 < DEPTH_MAX);
	put(w, key, value);
	w->stack[++w->depth] = value;
}

void
jsonw_object(struct jsonw *w, const char *key)
{
	nest(w, key, json_object());
}

void
jsonw_array(struct jsonw *w, const char *key)
{
	nest(w, key, json_array());
}

void
jsonw_end(struct jsonw *w)
{
	assert(w->depth > 0);
	w->depth--;
}

void
jsonw_str(struct jsonw *w, const char *key, const char *value)
{
	json_t *v = json_string(value);

	put(w, key, v != NULL ? v : json_string("?"));
}

void
jsonw_int(struct jsonw *w, const char *key, int64_t value)
{
	put(w, key, json_integer(value));
}

void
jsonw_real(struct jsonw *w, const char *key, double value)
{
	put(w, key, json_real(value));
}

void
jsonw_bool(struct jsonw *w, const char *key, bool value)
{
	put(w, key, json_boolean(value));
}

void
jsonw_null(struct jsonw *w, const char *key)
{
	put(w, key, json_null());
}

void
jsonw_time(struct jsonw *w, const char *key, int64_t utc)
{
	char text[48];

	jsonw_str(w, key, time_rfc3339(text, sizeof(text), utc));
}

void
jsonw_raw(struct jsonw *w, const char *key, const char *json)
{
	json_t *v = json_loads(json, JSON_DECODE_ANY, NULL);

	put(w, key, v != NULL ? v : json_null());
}

static int
append(const char *text, size_t len, void *arg)
{
	buf_add(arg, text, len);
	return 0;
}

void
jsonw_dump(struct buf *out, const struct jsonw *w, bool pretty)
{
	json_dump_callback(w->stack[0], append, out,
	    (pretty ? JSON_INDENT(2) : JSON_COMPACT) | JSON_REAL_PRECISION(9));
	if (pretty)
		buf_putc(out, '\n');
}

/* A reader is Jansson's own object under another name. */
struct jsonr *
jsonr_open(const char *json)
{
	return (struct jsonr *)json_loads(json, 0, NULL);
}

void
jsonr_close(struct jsonr *doc)
{
	json_decref((json_t *)doc);
}

const char *
jsonr_str(const struct jsonr *r, const char *key)
{
	const char *s =
	    json_string_value(json_object_get((const json_t *)r, key));

	return s == NULL ? "" : s;
}

int64_t
jsonr_int(const struct jsonr *r, const char *key)
{
	return json_integer_value(json_object_get((const json_t *)r, key));
}

const struct jsonr *
jsonr_member(const struct jsonr *r, const char *key)
{
	return (const struct jsonr *)json_object_get((const json_t *)r, key);
}

const struct jsonr *
jsonr_item(const struct jsonr *r, const char *key, size_t i)
{
	return (const struct jsonr *)json_array_get(
	    json_object_get((const json_t *)r, key), i);
}
