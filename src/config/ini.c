/* ini.c - read an ini file through iniparser, strictly. */
#include "config/ini.h"

#include <iniparser/iniparser.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"

#define INI_FILE_MAX 131072

/* iniparser reports to stderr unless told otherwise; we report once. */
static int
quiet(const char *fmt, ...)
{
	(void)fmt;
	return 0;
}

/* "[section] key" of each key seen, to find one given twice. */
struct seen {
	char (*names)[160];
	size_t count, cap;
};

static enum rc
note_key(struct seen *seen, const char *name, const char *path, int line,
    struct err *err)
{
	size_t i;

	for (i = 0; i < seen->count; i++)
		if (str_eq(seen->names[i], name))
			return err_set(err, RC_INVALID, 0,
			    "%s:%d: %s is given twice", path, line, name);
	seen->names =
	    grow(seen->names, &seen->cap, seen->count, sizeof(seen->names[0]));
	str_copy(seen->names[seen->count++], sizeof(seen->names[0]), name);
	return RC_OK;
}

/*
 * What iniparser would do to a value unseen: a ; or # cuts it short, so does
 * text behind a closing quote, and a backslash joins the next line to it.
 * NULL when it does none of that.
 */
static const char *
value_fault(const char *value, const char *end)
{
	const char *p;

	if (end > value && end[-1] == '\\')
		return "a line that ends in a backslash";
	while (value < end && (*value == ' ' || *value == '\t'))
		value++;
	if (value < end && *value == '"') {
		p = memchr(value + 1, '"', (size_t)(end - value - 1));
		if (p == NULL)
			return "a quote that is never closed";
		for (p++; p < end; p++)
			if (*p != ' ' && *p != '\t' && *p != '\r')
				return "text behind a closing quote";
		return NULL;
	}
	for (; value < end; value++)
		if (*value == ';' || *value == '#')
			return "a ; or # behind a value: put the comment on a "
			       "line of its own";
	return NULL;
}

/* One line, told apart: its section goes on to the lines below. */
struct ini_line {
	const char *path;
	int number;
	char section[80]; /* "[name]" or empty */
};

static enum rc
line_fault(const struct ini_line *l, const char *what, struct err *err)
{
	return err_set(
	    err, RC_INVALID, 0, "%s:%d: %s", l->path, l->number, what);
}

static enum rc
check_section(struct ini_line *l, const char *p, struct err *err)
{
	char name[72];
	const char *trimmed;

	if (!str_fmt(
		name, sizeof(name), "%.*s", (int)strcspn(p + 1, "]\n"), p + 1))
		return line_fault(l, "a section name that is too long", err);
	trimmed = str_trim(name);
	if (trimmed[0] == '\0')
		return line_fault(l, "a section without a name", err);
	str_fmt(l->section, sizeof(l->section), "[%s]", trimmed);
	if (strchr(trimmed, ':') == NULL)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "%s:%d: %s: no colon in a section's name", l->path, l->number,
	    l->section); /* iniparser would take it for a key */
}

static enum rc
check_key(struct seen *seen, const struct ini_line *l, const char *p,
    const char *eq, const char *end, struct err *err)
{
	const char *fault = value_fault(eq + 1, end);
	char name[160];

	if (l->section[0] == '\0')
		return line_fault(l, "a key before any [section]", err);
	if (fault != NULL)
		return line_fault(l, fault, err);
	while (eq > p && (eq[-1] == ' ' || eq[-1] == '\t'))
		eq--;
	str_fmt(name, sizeof(name), "%s %.*s", l->section,
	    (int)(eq - p > 64 ? 64 : eq - p), p);
	str_lower(name);
	return note_key(seen, name, l->path, l->number, err);
}

/* What iniparser would swallow, and bytes that are not text. */
static enum rc
check_text(const char *path, const struct buf *text, struct err *err)
{
	struct ini_line l = { .path = path };
	struct seen seen = { 0 };
	const char *p = buf_text(text), *end, *eq;
	enum rc rc = RC_OK;

	if (!utf8_valid(p, text->len))
		return err_set(
		    err, RC_INVALID, 0, "%s: not a UTF-8 text file", path);
	for (; *p != '\0' && rc == RC_OK; p = *end == '\0' ? end : end + 1) {
		l.number++;
		end = p + strcspn(p, "\n");
		p += strspn(p, " \t");
		eq = memchr(p, '=', (size_t)(end - p));
		if (*p == '[')
			rc = check_section(&l, p, err);
		else if (*p != '#' && *p != ';' && eq != NULL && eq > p)
			rc = check_key(&seen, &l, p, eq, end, err);
	}
	free(seen.names);
	return rc;
}

static enum rc
add_item(struct ini_doc *doc, size_t *cap, const dictionary *d,
    const char *section, const char *full, struct err *err)
{
	const char *key = full + strlen(section) + 1;
	const char *value = iniparser_getstring(d, full, "");
	struct ini_item *item;

	doc->items = grow(doc->items, cap, doc->count, sizeof(*item));
	item = &doc->items[doc->count];
	if (!str_copy(item->section, sizeof(item->section), section) ||
	    !str_copy(item->key, sizeof(item->key), key) ||
	    !str_copy(item->value, sizeof(item->value), value))
		return err_set(err, RC_INVALID, 0,
		    "%s: [%.60s] %.60s: name or value is too long", doc->path,
		    section, key);
	doc->count++;
	return RC_OK;
}

static enum rc
add_section(struct ini_doc *doc, size_t *cap, const dictionary *d,
    const char *section, struct err *err)
{
	const char **keys;
	int i, n;
	enum rc rc = RC_OK;

	n = iniparser_getsecnkeys(d, section);
	if (n == 0)
		return err_set(err, RC_INVALID, 0, "%s: [%s]: empty section",
		    doc->path, section);
	keys = xcalloc((size_t)n, sizeof(*keys));
	iniparser_getseckeys(d, section, keys);
	for (i = 0; i < n && rc == RC_OK; i++)
		rc = add_item(doc, cap, d, section, keys[i], err);
	free(keys);
	return rc;
}

enum rc
ini_load(struct ini_doc *out, const char *path, struct err *err)
{
	dictionary *d = NULL;
	struct buf text;
	size_t cap = 0;
	int i, n;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	buf_init(&text, INI_FILE_MAX);
	if (!str_copy(out->path, sizeof(out->path), path))
		return err_set(err, RC_INVALID, 0, "settings path too long");
	if ((rc = file_read(&text, path, err)) != RC_OK ||
	    (rc = check_text(path, &text, err)) != RC_OK)
		goto done;
	iniparser_set_error_callback(quiet);
	d = iniparser_load(path);
	if (d == NULL) {
		rc = err_set(err, RC_INVALID, 0,
		    "%s: a line is neither [section], key = value nor comment",
		    path);
		goto done;
	}
	n = iniparser_getnsec(d);
	for (i = 0; i < n && rc == RC_OK; i++)
		rc = add_section(out, &cap, d, iniparser_getsecname(d, i), err);
done:
	if (d != NULL)
		iniparser_freedict(d);
	buf_fini(&text);
	if (rc != RC_OK)
		ini_fini(out);
	return rc;
}
