/* changes_out.c - lines of change of the audit trail, in words. */
#include "exchange/changes_out.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/day.h"
#include "base/str.h"

/* The parts of a line, between blanks; the last is the rest of it. */
struct parts {
	char what;
	const char *at[5]; /* table, key, digest, digest, JSON */
	size_t len[5];
	int count;
};

static size_t
read_parts(struct parts *p, const char *line)
{
	size_t len = strcspn(line, "\n"), n;
	const char *end = line + len, *s = line + 1, *blank;

	memset(p, 0, sizeof(*p));
	if (len == 0)
		return 0;
	p->what = line[0];
	while (p->count < 5 && s < end) {
		blank =
		    p->count == 4 ? NULL : memchr(s, ' ', (size_t)(end - s));
		n = blank == NULL ? (size_t)(end - s) : (size_t)(blank - s);
		p->at[p->count] = s;
		p->len[p->count++] = n;
		s += n + 1;
	}
	return len;
}

/* --- columns: {"left":[2,1],"note":["a","b"]} ------------------------------*/

/* Behind one value; it starts at `s`. */
static const char *
value_end(const char *s, const char *end)
{
	if (s < end && *s == '"') {
		for (s++; s < end && *s != '"'; s++)
			if (*s == '\\' && s + 1 < end)
				s++;
		return s < end ? s + 1 : end;
	}
	while (s < end && *s != ',' && *s != ']' && *s != ':' && *s != '}')
		s++;
	return s;
}

static bool
ends_in(const char *name, size_t len, const char *tail)
{
	size_t n = strlen(tail);

	return len > n && strncmp(name + len - n, tail, n) == 0;
}

static void
put_value(struct buf *out, const char *name, size_t name_len, const char *s,
    size_t len)
{
	char text[48] = "", when[48];
	int64_t v;

	if (*s != '"' && len < sizeof(text) && strncmp(s, "null", 4) != 0) {
		str_fmt(text, sizeof(text), "%.*s", (int)len, s);
		v = strtoll(text, NULL, 10);
		if (ends_in(name, name_len, "_utc")) {
			buf_puts(out, time_minute(when, sizeof(when), v));
			return;
		}
		if (ends_in(name, name_len, "_day") && v > -1000000 &&
		    v < 1000000) {
			buf_puts(out, day_print(when, sizeof(when), (day_no)v));
			return;
		}
	}
	if (strncmp(s, "null", 4) == 0)
		buf_puts(out, "none");
	else
		buf_add(out, s, len);
}

static void
put_columns(struct buf *out, const char *s, size_t len)
{
	const char *end = s + len, *name, *before, *after, *stop;
	const char *between = ": ";
	size_t name_len;

	while (s < end && (*s == '{' || *s == ',')) {
		name = s + 1;
		stop = value_end(name, end);
		if (stop - name < 2 || stop + 2 >= end)
			return;
		name_len = (size_t)(stop - name) - 2;
		before = stop + 2; /* behind :[ */
		stop = value_end(before, end);
		buf_printf(out, "%s%.*s ", between, (int)name_len, name + 1);
		put_value(
		    out, name + 1, name_len, before, (size_t)(stop - before));
		after = stop < end ? stop + 1 : end;
		stop = value_end(after, end);
		buf_puts(out, " -> ");
		put_value(
		    out, name + 1, name_len, after, (size_t)(stop - after));
		s = stop < end ? stop + 1 : end; /* behind ] */
		between = ", ";
	}
}

/* Rows of one table put in one after another: one line, "portion 18-37". */
struct run {
	const char *table;
	size_t table_len;
	int64_t first, last;
};

static void
end_run(struct buf *out, struct run *r, const char *indent)
{
	if (r->table == NULL)
		return;
	buf_printf(out, "%s+ %.*s %" PRId64, indent, (int)r->table_len,
	    r->table, r->first);
	if (r->last > r->first)
		buf_printf(out, "-%" PRId64, r->last);
	buf_putc(out, '\n');
	r->table = NULL;
}

/* Did it take the line? */
static bool
run_takes(
    struct buf *out, struct run *r, const struct parts *p, const char *indent)
{
	char text[24], *end;
	int64_t id;

	if (p->what != '+' || p->len[1] >= sizeof(text))
		return false;
	memcpy(text, p->at[1], p->len[1]);
	text[p->len[1]] = '\0';
	id = strtoll(text, &end, 10);
	if (end == text || *end != '\0')
		return false;
	if (r->table != NULL && id == r->last + 1 &&
	    r->table_len == p->len[0] &&
	    memcmp(r->table, p->at[0], p->len[0]) == 0) {
		r->last = id;
		return true;
	}
	end_run(out, r, indent);
	*r = (struct run){ p->at[0], p->len[0], id, id };
	return true;
}

void
changes_text(struct buf *out, const char *changes, const char *indent)
{
	struct run r = { .table = NULL };
	struct parts p;
	size_t len;

	while (changes != NULL && *changes != '\0') {
		len = read_parts(&p, changes);
		changes += len + (changes[len] == '\n');
		if (p.count < 3 || run_takes(out, &r, &p, indent))
			continue;
		end_run(out, &r, indent);
		buf_printf(out, "%s%c %.*s %.*s", indent, p.what, (int)p.len[0],
		    p.at[0], (int)p.len[1], p.at[1]);
		if (p.count == 5)
			put_columns(out, p.at[4], p.len[4]);
		buf_putc(out, '\n');
	}
	end_run(out, &r, indent);
}

static void
put_part(struct jsonw *w, const char *key, const struct parts *p, int i)
{
	struct buf text;

	buf_init(&text, 4096);
	buf_add(&text, p->at[i], p->len[i]);
	jsonw_str(w, key, buf_text(&text));
	buf_fini(&text);
}

static void
put_raw(struct jsonw *w, const struct parts *p)
{
	struct buf text;

	buf_init(&text, p->len[4] + 1);
	buf_add(&text, p->at[4], p->len[4]);
	jsonw_raw(w, "columns", buf_text(&text));
	buf_fini(&text);
}

void
changes_json(struct jsonw *w, const char *key, const char *changes)
{
	struct parts p;
	size_t len;

	jsonw_array(w, key);
	while (changes != NULL && *changes != '\0') {
		len = read_parts(&p, changes);
		changes += len + (changes[len] == '\n');
		if (p.count < 3)
			continue;
		jsonw_object(w, NULL);
		jsonw_str(w, "did",
		    p.what == '+'       ? "added"
			: p.what == '~' ? "changed"
					: "removed");
		put_part(w, "table", &p, 0);
		put_part(w, "key", &p, 1);
		if (p.what != '+')
			put_part(w, "digest_before", &p, 2);
		if (p.what != '-')
			put_part(w, "digest", &p, p.what == '~' ? 3 : 2);
		if (p.count == 5)
			put_raw(w, &p);
		jsonw_end(w);
	}
	jsonw_end(w);
}
