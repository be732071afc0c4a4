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

/* A ; or # behind a value would cut it short, unseen. */
static bool
has_comment(const char *value, const char *end)
{
	bool quoted = false;

	for (; value < end; value++) {
		if (*value == '"')
			quoted = !quoted;
		else if (!quoted && (*value == ';' || *value == '#'))
			return true;
	}
	return false;
}

/*
 * What iniparser would swallow: bytes that are not text, a comment behind a
 * value, and a key given twice, where it keeps the last.
 */
static enum rc
check_text(const char *path, const struct buf *text, struct err *err)
{
	struct seen seen = { 0 };
	char section[72] = "", name[160];
	const char *p = buf_text(text), *end, *eq;
	int line;
	enum rc rc = RC_OK;

	if (!utf8_valid(p, text->len))
		return err_set(
		    err, RC_INVALID, 0, "%s: not a UTF-8 text file", path);
	for (line = 1; *p != '\0' && rc == RC_OK;
	     line++, p = *end == '\0' ? end : end + 1) {
		end = p + strcspn(p, "\n");
		p += strspn(p, " \t");
		eq = memchr(p, '=', (size_t)(end - p));
		if (*p == '[') {
			str_fmt(section, sizeof(section), "%.*s]",
			    (int)strcspn(p, "]\n"), p);
			/* iniparser would take it for a key */
			if (strchr(section, ':') != NULL)
				rc = err_set(err, RC_INVALID, 0,
				    "%s:%d: %s: no colon in a section's name",
				    path, line, section);
		}
		if (*p == '#' || *p == ';' || *p == '[' || eq == NULL)
			continue;
		if (section[0] == '\0') {
			rc = err_set(err, RC_INVALID, 0,
			    "%s:%d: a key before any [section]", path, line);
			break;
		}
		if (has_comment(eq, end)) {
			rc = err_set(err, RC_INVALID, 0,
			    "%s:%d: a ; or # behind a value: put the comment "
			    "on a line of its own",
			    path, line);
			break;
		}
		while (eq > p && (eq[-1] == ' ' || eq[-1] == '\t'))
			eq--;
		str_fmt(name, sizeof(name), "%s %.*s", section,
		    (int)(eq - p > 64 ? 64 : eq - p), p);
		str_lower(name);
		rc = note_key(&seen, name, path, line, err);
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
