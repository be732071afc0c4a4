/* printer.c - a configured printer. */
#include "print/printer.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

#define DEADLINE_MS 3000
#define LOOK_MS 30

static enum rc
bad(const struct printer_setting *set, const char *key, const char *value,
    struct err *err, const char *why)
{
	bool first = str_eq(set->name, "main");

	return err_set(err, RC_INVALID, 0, "[printer%s%s] %s = %.60s: %s",
	    first ? "" : " ", first ? "" : set->name, key, value, why);
}

static enum rc
find_lang(struct printer *p, const struct printer_setting *set, struct err *err)
{
	const struct lang *const *l;
	struct buf known;
	enum rc rc = RC_OK;

	p->lang = lang_find(set->language);
	if (p->lang != NULL)
		return RC_OK;
	buf_init(&known, 400);
	buf_puts(&known, "not known, there are:");
	for (l = langs; *l != NULL; l++)
		buf_printf(&known, " %s", (*l)->name);
	rc = bad(set, "language", set->language, err, buf_text(&known));
	buf_fini(&known);
	return rc;
}

static enum rc
find_way(struct printer *p, const struct printer_setting *set, struct err *err)
{
	const struct transport *const *t;
	struct err why = { 0 };
	struct buf known;
	enum rc rc = RC_OK;

	p->via = transport_find(&p->address, set->address);
	if (p->via == NULL) {
		buf_init(&known, 400);
		buf_puts(&known, "must begin with one of:");
		for (t = transports; *t != NULL; t++)
			buf_printf(&known, " %s:", (*t)->scheme);
		rc = bad(set, "address", set->address, err, buf_text(&known));
		buf_fini(&known);
		return rc;
	}
	if (p->address[0] == '\0')
		return bad(set, "address", set->address, err,
		    "says no more than the way in");
	if (p->via->check != NULL && p->via->check(p->address, &why) != RC_OK)
		return bad(set, "address", set->address, err, why.text);
	return RC_OK;
}

static enum rc
find_asking(
    struct printer *p, const struct printer_setting *set, struct err *err)
{
	static const char *const words[] = {
		[ASK_AUTO] = "auto",
		[ASK_LANGUAGE] = "language",
		[ASK_PORT] = "port",
		[ASK_NO] = "no",
	};
	size_t i;

	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (str_eq(set->ask, words[i]))
			p->ask = (enum printer_asking)i;
	/* What was asked for and cannot be had is a slip, not a wish. */
	if (p->ask == ASK_LANGUAGE && p->lang->query == NULL)
		return bad(set, "ask", set->ask, err,
		    "its language has no question for the state: auto or no");
	if (p->ask == ASK_PORT && p->via->status == NULL)
		return bad(set, "ask", set->ask, err,
		    "this way in has no status: auto or no");
	return RC_OK;
}

enum rc
printer_of(
    struct printer *out, const struct printer_setting *set, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->name = set->name;
	out->configured = set->address;
	out->deadline_ms = DEADLINE_MS;
	out->patience_ms = set->patience_s * 1000;
	out->look_ms = LOOK_MS;
	out->media.dpi = set->dpi;
	out->media.width_mm = set->width_mm;
	out->media.height_mm = set->height_mm;
	out->media.gap_mm = set->gap_mm;
	out->media.darkness_pct = set->darkness_pct;
	out->media.speed_mm_s = set->speed_mm_s;
	out->media.ribbon = set->ribbon;
	if ((rc = find_lang(out, set, err)) != RC_OK ||
	    (rc = find_way(out, set, err)) != RC_OK)
		return rc;
	return find_asking(out, set, err);
}

const char *
printer_paper(char dst[PAPER_SIZE], int width_mm, int height_mm, int gap_mm)
{
	if (gap_mm == 0)
		str_fmt(dst, PAPER_SIZE, "roll of %d mm", width_mm);
	else
		str_fmt(dst, PAPER_SIZE, "%d x %d mm", width_mm, height_mm);
	return dst;
}

enum rc
printer_encode(struct buf *out, const struct printer *p,
    const struct bitmap *picture, struct err *err)
{
	enum rc rc;

	if ((rc = p->lang->encode(out, picture, &p->media, err)) != RC_OK)
		return rc;
	return buf_check(out, "the label in the printer's language", err);
}

void
printers_find(struct printers_found *out)
{
	struct port_found seen[PORT_FOUND_MAX];
	const struct transport *const *t;
	struct err err = { 0 };
	size_t n, i, cap = 0;

	memset(out, 0, sizeof(*out));
	for (t = transports; *t != NULL; t++) {
		n = 0;
		if ((*t)->list == NULL)
			continue;
		if ((*t)->list(seen, &n, &err) != RC_OK)
			str_fmt(out->trouble, sizeof(out->trouble),
			    "%s: %.180s", (*t)->scheme, err.text);
		for (i = 0; i < n; i++) {
			out->items =
			    grow(out->items, &cap, out->count, sizeof(seen[0]));
			out->items[out->count++] = seen[i];
		}
	}
}

void
printers_found_fini(struct printers_found *f)
{
	free(f->items);
	memset(f, 0, sizeof(*f));
}
