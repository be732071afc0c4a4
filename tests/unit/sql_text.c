/* sql_text.c - SQL statements in preprocessed C. */
#include "sql_text.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

enum kind { WORD, STRING, MARK };

struct token {
	enum kind kind;
	char *text; /* owned; of a string its value */
	int line;
	bool seen;
	char file[64];
};

struct source {
	struct token *items;
	size_t count, cap;
	char file[64];
	int line;
	bool ours; /* from under the folder asked for */
};

/* --- tokens ----------------------------------------------------------------*/

static void
put(struct source *s, enum kind kind, const char *text, size_t len)
{
	struct token *t;

	if (!s->ours)
		return;
	s->items = grow(s->items, &s->cap, s->count, sizeof(*s->items));
	t = &s->items[s->count++];
	memset(t, 0, sizeof(*t));
	t->kind = kind;
	t->text = xcalloc(len + 1, 1);
	memcpy(t->text, text, len);
	t->line = s->line;
	str_copy(t->file, sizeof(t->file), s->file);
}

/* A string's value, joined with the one before it.  Returns what is behind. */
static const char *
put_string(struct source *s, const char *p)
{
	struct token *last = s->count == 0 ? NULL : &s->items[s->count - 1];
	const char *end;
	char *value;
	size_t n = 0, old;

	for (end = p + 1; *end != '"'; end++)
		end += *end == '\\';
	value = xcalloc((size_t)(end - p) + 1, 1);
	for (p++; p < end; p++) {
		if (*p == '\\')
			p++;
		value[n++] = *p;
	}
	if (s->ours && last != NULL && last->kind == STRING) {
		old = strlen(last->text);
		last->text = xrealloc(last->text, old + n + 1, 1);
		memcpy(last->text + old, value, n + 1);
	} else {
		put(s, STRING, value, n);
	}
	free(value);
	return end + 1;
}

/* "# 12 "src/store/x.c" 2": where the next line is from. */
static const char *
marker(struct source *s, const char *p, const char *folder)
{
	const char *end = strchr(p, '\n'), *q = strchr(p, '"');
	size_t n;

	s->line = (int)strtol(p + 1, NULL, 10) - 1;
	if (q != NULL && q < end) {
		n = strcspn(q + 1, "\"");
		s->ours = strncmp(q + 1, folder, strlen(folder)) == 0 &&
		    n < sizeof(s->file);
		if (s->ours)
			str_fmt(
			    s->file, sizeof(s->file), "%.*s", (int)n, q + 1);
	}
	return end;
}

static void
read_tokens(struct source *s, const char *p, const char *folder)
{
	const char *from;
	bool begins = true;

	for (; *p != '\0';) {
		if (*p == '\n') {
			s->line++;
			begins = true;
			p++;
		} else if (isspace((unsigned char)*p)) {
			p++;
		} else if (*p == '#' && begins) {
			p = marker(s, p, folder);
		} else if (*p == '"') {
			p = put_string(s, p);
			begins = false;
		} else if (*p == '\'') {
			for (p++; *p != '\''; p++)
				p += *p == '\\';
			p++;
		} else if (isalnum((unsigned char)*p) || *p == '_') {
			for (from = p; isalnum((unsigned char)*p) || *p == '_';)
				p++;
			put(s, WORD, from, (size_t)(p - from));
			begins = false;
		} else {
			put(s, MARK, p++, 1);
			begins = false;
		}
	}
}

static bool
is(const struct source *s, size_t i, const char *text)
{
	return i < s->count && s->items[i].kind != STRING &&
	    str_eq(s->items[i].text, text);
}

/* Behind the bracket that closes the one at `i`. */
static size_t
behind(const struct source *s, size_t i)
{
	int depth = 0;

	for (; i < s->count; i++) {
		depth += is(s, i, "(") || is(s, i, "{") || is(s, i, "[");
		depth -= is(s, i, ")") || is(s, i, "}") || is(s, i, "]");
		if (depth == 0)
			return i + 1;
	}
	return i;
}

/* --- who prepares ----------------------------------------------------------*/

#define TAKERS_MAX 256

struct taker {
	const char *name;
	const char *file; /* where it stands; NULL: everywhere */
	int at;           /* which argument is the SQL, from 0 */
};

struct takers {
	struct taker items[TAKERS_MAX];
	size_t count;
};

static void
add_taker(struct takers *t, const char *name, const char *file, int at)
{
	size_t i, n = file == NULL ? 0 : strlen(file);

	/* One of a header is anybody's, one of a file its own. */
	if (n > 2 && str_eq(file + n - 2, ".h"))
		file = NULL;
	for (i = 0; i < t->count; i++)
		if (str_eq(t->items[i].name, name) &&
		    (t->items[i].file == NULL ||
			(file != NULL && str_eq(t->items[i].file, file))))
			return;
	if (t->count < TAKERS_MAX)
		t->items[t->count++] = (struct taker){ name, file, at };
}

/* Every function with a parameter called `sql`, and SQLite's own. */
static void
find_takers(struct takers *t, const struct source *s)
{
	size_t i, j, end;
	int at;

	add_taker(t, "sqlite3_exec", NULL, 1);
	add_taker(t, "sqlite3_prepare_v2", NULL, 1);
	add_taker(t, "sqlite3_prepare_v3", NULL, 1);
	for (i = 0; i + 1 < s->count; i++) {
		if (s->items[i].kind != WORD || !is(s, i + 1, "("))
			continue;
		end = behind(s, i + 1);
		at = 0;
		for (j = i + 2; j + 1 < end; j++) {
			if (is(s, j, "(") || is(s, j, "[")) {
				j = behind(s, j) - 1;
				continue;
			}
			at += is(s, j, ",");
			/* A declaration has its type before the name. */
			if (is(s, j, "sql") && (is(s, j - 1, "*")) &&
			    (is(s, j + 1, ",") || is(s, j + 1, ")")) &&
			    (is(s, j - 2, "char") || is(s, j - 2, "const")))
				add_taker(
				    t, s->items[i].text, s->items[i].file, at);
		}
	}
}

/* --- what is handed to them ------------------------------------------------*/

static void
mark(struct source *s, size_t from, size_t to)
{
	size_t i;

	for (i = from; i < to; i++)
		if (s->items[i].kind == STRING)
			s->items[i].seen = true;
}

/* Is `name` a parameter called so, or a constant or table of this file?  Those
 * are looked through on their own: SQL in one that is not constant is found
 * there, as handed to nobody. */
static bool
known(
    const struct source *s, size_t at, const char *name, const char *const *may)
{
	size_t i;
	bool constant = false;

	if (str_eq(name, "sql"))
		return true;
	for (; may != NULL && *may != NULL; may++)
		if (str_eq(name, *may))
			return true;
	for (i = at; i-- > 0 && str_eq(s->items[i].file, s->items[at].file);) {
		if (!is(s, i, name) || i < 3)
			continue;
		constant = is(s, i - 1, "char") && is(s, i - 2, "const");
		constant = constant || is(s, i - 1, "}") ||
		    (is(s, i - 1, "const") && is(s, i - 2, "*"));
		if (constant)
			return true;
	}
	return false;
}

/* One argument: strings, or a name that leads to some. */
static void
look_at(struct sql_texts *out, struct source *s, const char *const *may,
    size_t from, size_t to)
{
	size_t i;
	bool good = false;

	out->calls++;
	for (i = from; i < to; i++) {
		if (s->items[i].kind == STRING) {
			s->items[i].seen = true;
			good = true;
		} else if (s->items[i].kind == WORD &&
		    known(s, i, s->items[i].text, may)) {
			good = true;
		}
	}
	if (!good && out->wrong[0] == '\0')
		str_fmt(out->wrong, sizeof(out->wrong),
		    "%s:%d: neither a string nor a constant: %s %s",
		    s->items[from].file, s->items[from].line,
		    s->items[from].text,
		    to > from + 1 ? s->items[to - 1].text : "");
}

static void
find_calls(struct sql_texts *out, struct source *s, const struct takers *t,
    const char *const *may)
{
	size_t i, j, k, end, from;
	int at;

	for (i = 0; i + 1 < s->count; i++) {
		for (k = 0; k < t->count; k++)
			if (is(s, i, t->items[k].name) && is(s, i + 1, "(") &&
			    (t->items[k].file == NULL ||
				str_eq(t->items[k].file, s->items[i].file)))
				break;
		if (k == t->count)
			continue;
		end = behind(s, i + 1);
		/* Definitions and prototypes name types. */
		if (is(s, i + 2, "struct") || is(s, i + 2, "int64_t") ||
		    is(s, i + 2, "char") || is(s, i + 2, "void") ||
		    is(s, i + 2, "int") || is(s, i + 2, "bool") ||
		    is(s, i + 2, "sqlite3") || is(s, i + 2, "const") ||
		    is(s, i + 2, "enum"))
			continue;
		at = 0;
		for (from = j = i + 2; j < end; j++) {
			if (is(s, j, "(") || is(s, j, "[") || is(s, j, "{")) {
				j = behind(s, j) - 1;
				continue;
			}
			if (!is(s, j, ",") && j != end - 1)
				continue;
			if (at++ == t->items[k].at)
				look_at(out, s, may, from, j);
			from = j + 1;
		}
	}
}

/* Strings of `static const ... = ...;`. */
static void
find_constants(struct source *s)
{
	size_t i, j;

	for (i = 0; i + 1 < s->count; i++) {
		if (!is(s, i, "static") || !is(s, i + 1, "const"))
			continue;
		for (j = i; j < s->count && !is(s, j, "=") && !is(s, j, ";");)
			j = is(s, j, "(") || is(s, j, "{") ? behind(s, j)
							   : j + 1;
		if (!is(s, j, "="))
			continue;
		for (i = j; j < s->count && !is(s, j, ";");)
			j = is(s, j, "{") || is(s, j, "(") ? behind(s, j)
							   : j + 1;
		mark(s, i, j);
		i = j;
	}
}

bool
sql_begins(const char *s)
{
	static const char *const words[] = { "SELECT ", "INSERT ", "UPDATE ",
		"DELETE FROM ", "WITH ", "REPLACE ", "PRAGMA ", "VACUUM",
		"BEGIN", "COMMIT", "ROLLBACK", "ATTACH ", "DETACH ", "CREATE ",
		"DROP ", "ALTER ", "SAVEPOINT ", "RELEASE ", "EXPLAIN ",
		"ANALYZE", "REINDEX" };
	size_t i;

	s += strspn(s, " \n\t");
	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (strncmp(s, words[i], strlen(words[i])) == 0)
			return true;
	return false;
}

void
sql_texts_find(struct sql_texts *out, const char *text, const char *folder,
    const char *const *may)
{
	struct source s = { 0 };
	struct takers takers = { 0 };
	struct sql_text *t;
	size_t i, cap = 0;

	memset(out, 0, sizeof(*out));
	read_tokens(&s, text, folder);
	find_takers(&takers, &s);
	find_calls(out, &s, &takers, may);
	find_constants(&s);
	for (i = 0; i < s.count; i++) {
		if (s.items[i].kind != STRING || !sql_begins(s.items[i].text))
			continue;
		out->items = grow(out->items, &cap, out->count, sizeof(*t));
		t = &out->items[out->count++];
		t->sql = xstrdup(s.items[i].text);
		t->line = s.items[i].line;
		t->handed = s.items[i].seen;
		str_copy(t->file, sizeof(t->file), s.items[i].file);
	}
	for (i = 0; i < s.count; i++)
		free(s.items[i].text);
	free(s.items);
}

void
sql_texts_fini(struct sql_texts *t)
{
	size_t i;

	for (i = 0; i < t->count; i++)
		free(t->items[i].sql);
	free(t->items);
	memset(t, 0, sizeof(*t));
}
