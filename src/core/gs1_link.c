/*
 * gs1_link.c - GS1 Digital Link URIs.
 *
 *   https://domain[/stem]/01/GTIN[/22/..][/10/..][/21/..][?17=YYMMDD&...]
 *
 * Qualifier order and the identifiers that may be keys are those of the GS1
 * Barcode Syntax Dictionary.
 */
#include "gs1_inner.h"

#include <string.h>

#include "base/str.h"

#define SEGMENTS_MAX 64

struct segment {
	const char *s;
	size_t n;
};

/* Keys that name a thing, and what may follow them in this order. */
static const struct {
	const char *key, *qualifiers;
} keys[] = {
	{ "01", "22,10,21" },
	{ "01", "235" },
	{ "8006", "22,10,21" },
	{ "414", "254" },
	{ "414", "7040" },
	{ "417", "7040" },
	{ "8004", "7040" },
	{ "8010", "8011" },
	{ "8017", "8019" },
	{ "8018", "8019" },
	{ "00", "" },
	{ "253", "" },
	{ "255", "" },
	{ "401", "" },
	{ "402", "" },
	{ "8003", "" },
	{ "8013", "" },
};

#define NELEM(a) (sizeof(a) / sizeof((a)[0]))

static int
hex(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'A' && c <= 'F')
		return c - 'A' + 10;
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	return -1;
}

/* %-escapes undone; false when one is broken or the text is too long. */
static bool
unescape(char *dst, size_t size, size_t *len, const struct segment *g)
{
	size_t i, n = 0;
	char c;

	for (i = 0; i < g->n; i++) {
		c = g->s[i];
		if (c == '%') {
			if (i + 2 >= g->n || hex(g->s[i + 1]) < 0 ||
			    hex(g->s[i + 2]) < 0)
				return false;
			c = (char)(hex(g->s[i + 1]) * 16 + hex(g->s[i + 2]));
			i += 2;
		}
		if (n + 1 >= size)
			return false;
		dst[n++] = c;
	}
	dst[n] = '\0';
	*len = n;
	return true;
}

static void
add(struct gs1_scan *s, const struct gs1_reader *r, const char *ai,
    const struct segment *value)
{
	char text[2 * GS1_VALUE_MAX], full[16];
	size_t n;

	if (!unescape(text, sizeof(text), &n, value)) {
		gs1_problem(s, GS1_BAD,
		    "(%s) in the address: broken %% escape, or too long", ai);
		return;
	}
	/* Shorter trade item numbers stand in addresses without their zeros. */
	if (str_eq(ai, "01") && (n == 8 || n == 12 || n == 13)) {
		str_fmt(full, sizeof(full), "%.*s%s", (int)(14 - n), "000000",
		    text);
		gs1_add(s, r, ai, full, 14);
		return;
	}
	gs1_add(s, r, ai, text, n);
}

static bool
is(const struct segment *g, const char *ai, size_t n)
{
	return g->n == n && strncmp(g->s, ai, n) == 0;
}

/* Do the pairs behind the key stand in the key's order? */
static bool
in_order(const char *qualifiers, const struct segment *g, size_t count)
{
	const char *p = qualifiers;
	size_t n, i = 0;

	while (*p != '\0' && i < count) {
		n = strcspn(p, ",");
		if (is(&g[i], p, n))
			i += 2;
		p += n;
		if (*p == ',')
			p++;
	}
	return i >= count;
}

/* 0 no key here, 1 a key whose qualifiers are wrong, 2 good. */
static int
key_at(const struct segment *g, size_t count)
{
	int best = 0;
	size_t i;

	for (i = 0; i < NELEM(keys); i++) {
		if (!is(&g[0], keys[i].key, strlen(keys[i].key)))
			continue;
		best = 1;
		if (in_order(keys[i].qualifiers, g + 2, count - 2))
			return 2;
	}
	return best;
}

/* The last pair that is a key: what stands before it is the site's own. */
static bool
read_path(struct gs1_scan *s, const struct gs1_reader *r,
    const struct segment *g, size_t count)
{
	size_t at = count, i;
	char ai[8];
	int found = 0;

	while (at >= 2 && found == 0) {
		at -= 2;
		found = key_at(g + at, count - at);
	}
	if (found == 0)
		return false;
	s->kind = GS1_DIGITAL_LINK;
	if (found == 1) {
		gs1_problem(s, GS1_BAD,
		    "the address has a part that may not follow (%.*s), or "
		    "not in this order",
		    (int)g[at].n, g[at].s);
		return true;
	}
	for (i = at; i < count; i += 2) {
		str_fmt(ai, sizeof(ai), "%.*s", (int)g[i].n, g[i].s);
		add(s, r, ai, &g[i + 1]);
	}
	return true;
}

static void
read_attribute(struct gs1_scan *s, const struct gs1_reader *r,
    const struct segment *key, const struct segment *value)
{
	char ai[8];

	/* Words are the site's own; only identifiers are GS1's. */
	if (key->n == 0 || !gs1_all_digits(key->s, key->n))
		return;
	if (key->n < 2 || key->n > 4) {
		gs1_problem(s, GS1_BAD,
		    "\"%.*s\" in the address is no application identifier",
		    (int)(key->n < 20 ? key->n : 20), key->s);
		return;
	}
	str_fmt(ai, sizeof(ai), "%.*s", (int)key->n, key->s);
	add(s, r, ai, value);
}

static void
read_query(struct gs1_scan *s, const struct gs1_reader *r, const char *p,
    const char *end)
{
	struct segment key, value;
	const char *stop, *eq;

	for (; p < end; p = stop + (stop < end ? 1 : 0)) {
		for (stop = p; stop < end && *stop != '&' && *stop != ';';)
			stop++;
		eq = memchr(p, '=', (size_t)(stop - p));
		key = (struct segment){ p,
			(size_t)((eq == NULL ? stop : eq) - p) };
		value = (struct segment){ eq == NULL ? stop : eq + 1, 0 };
		value.n = (size_t)(stop - value.s);
		read_attribute(s, r, &key, &value);
		if (stop == end)
			return;
	}
}

void
gs1_read_link(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n)
{
	struct segment g[SEGMENTS_MAX];
	const char *authority = strchr(text, ':') + 3, *p = authority;
	const char *end = text + n;
	const char *query, *stop;
	size_t count = 0;

	if ((stop = memchr(p, '#', (size_t)(end - p))) != NULL)
		end = stop;
	query = memchr(p, '?', (size_t)(end - p));
	stop = query == NULL ? end : query;
	p = memchr(p, '/', (size_t)(stop - p));
	while (p != NULL && count < SEGMENTS_MAX) {
		g[count].s = p + 1;
		p = memchr(p + 1, '/', (size_t)(stop - (p + 1)));
		g[count].n = (size_t)((p == NULL ? stop : p) - g[count].s);
		count++;
	}
	if (strchr("/?#", *authority) != NULL || count == SEGMENTS_MAX ||
	    !read_path(s, r, g, count)) {
		gs1_problem(s, GS1_BAD,
		    "a web address, but not a GS1 Digital Link: it has no key "
		    "such as /01/ with a trade item number behind it");
		return;
	}
	if (query != NULL)
		read_query(s, r, query + 1, end);
}
