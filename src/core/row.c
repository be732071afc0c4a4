/* row.c - one data file row by row, one field by one field. */
#include "row.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/mem.h"
#include "base/str.h"
#include "base/units.h"

enum rc
rows_read(struct rows *out, const struct row_spec *spec, const char *name,
    const char *data, size_t len, struct err *err)
{
	struct csv *c = NULL;
	char *items = NULL;
	char *item = xcalloc(1, spec->size);
	size_t count = 0;
	size_t cap = 0;
	enum rc rc;

	out->items = NULL;
	out->count = 0;
	if ((rc = csv_open(&c, name, data, len, spec->columns, spec->optional,
		 err)) != RC_OK)
		goto done;
	while ((rc = csv_next(c, err)) == RC_OK) {
		memset(item, 0, spec->size);
		if ((rc = spec->read(item, c, err)) != RC_OK)
			goto done;
		if (spec->check != NULL &&
		    (rc = spec->check(items, count, item, c, err)) != RC_OK)
			goto done;
		items = grow(items, &cap, count, spec->size);
		memcpy(items + count++ * spec->size, item, spec->size);
	}
	if (rc != RC_END)
		goto done;
	if (count == 0) {
		rc = err_set(err, RC_INVALID, 0, "%s:1:1: no %s in it", name,
		    spec->what);
		goto done;
	}
	out->items = items;
	out->count = count;
	items = NULL;
	rc = RC_OK;
done:
	free(items);
	free(item);
	csv_close(c);
	return rc;
}

enum rc
row_code(char out[4], const struct csv *c, const char *column,
    bool may_be_empty, struct err *err)
{
	const char *s = csv_get(c, column);
	size_t i;

	if (s[0] == '\0' && may_be_empty) {
		out[0] = '\0';
		return RC_OK;
	}
	for (i = 0; i < 3 && s[i] >= 'A' && s[i] <= 'Z'; i++)
		out[i] = s[i];
	if (i == 3 && s[3] == '\0') {
		out[3] = '\0';
		return RC_OK;
	}
	out[0] = '\0';
	return row_refuse(c, column, err,
	    "%s \"%.40s\" is not three capital letters", column, s);
}

enum rc
row_word(int *out, const struct csv *c, const char *column,
    const char *const *words, int count, struct err *err)
{
	const char *s = csv_get(c, column);
	struct buf known;
	enum rc rc;
	int i;

	for (i = 0; i < count; i++) {
		if (!str_eq(s, words[i]))
			continue;
		*out = i;
		return RC_OK;
	}
	buf_init(&known, 300);
	for (i = 0; i < count; i++)
		if (words[i][0] != '\0')
			buf_printf(&known, "%s%s", known.len == 0 ? "" : ", ",
			    words[i]);
	rc = row_refuse(c, column, err, "%s \"%.40s\" is not one of %s", column,
	    s, buf_text(&known));
	buf_fini(&known);
	return rc;
}

enum rc
row_yes(bool *out, const struct csv *c, const char *column, struct err *err)
{
	static const char *const words[] = { "no", "yes" };
	int i;
	enum rc rc;

	if ((rc = row_word(&i, c, column, words, 2, err)) != RC_OK)
		return rc;
	*out = i == 1;
	return RC_OK;
}

enum rc
row_int(int *out, const struct csv *c, const char *column, int min, int max,
    struct err *err)
{
	int64_t n;
	enum rc rc;

	rc = int_parse(&n, column, csv_get(c, column), min, max, err);
	if (rc != RC_OK)
		return csv_fail(c, column, rc, err);
	*out = (int)n;
	return RC_OK;
}
