/* ieee1284.c - what a printer says of itself. */
#include "ieee1284.h"

#include <string.h>

#include "base/str.h"

/* Shorter than any ID that names make and model: the bytes are swapped. */
#define LENGTH_MIN 14

/* Where the text ends, given the length bytes and what arrived. */
static size_t
text_end(const uint8_t *id, size_t len)
{
	size_t be = (size_t)id[0] << 8 | id[1];
	size_t le = (size_t)id[1] << 8 | id[0];
	size_t hint = be;

	if (be < LENGTH_MIN || be > len)
		hint = le;
	if (hint < LENGTH_MIN || hint > len)
		return len;
	/* Counted without its own two bytes: the text goes on for two more. */
	if (id[hint - 1] != ';' && hint + 2 <= len)
		return hint + 2;
	return hint;
}

/* A trimmed part of the text: [*from, *to). */
static void
trim(const char **from, const char **to)
{
	while (*from < *to && (unsigned char)**from <= ' ')
		++*from;
	while (*to > *from && (unsigned char)(*to)[-1] <= ' ')
		--*to;
}

static bool
is_key(const char *key, size_t len, const char *name)
{
	char word[24];

	return str_fmt(word, sizeof(word), "%.*s", (int)len, key) &&
	    str_eq_nocase(word, name);
}

static void
copy_words(char *dst, size_t size, const char *from, const char *to)
{
	if (dst[0] != '\0')
		return;
	str_fmt(dst, size, "%.*s", (int)(to - from), from);
	utf8_clean(dst);
}

/* Whole command sets only: half a name would fit the wrong language. */
static void
copy_sets(char *dst, size_t size, const char *from, const char *to)
{
	size_t used = 0;

	if (dst[0] != '\0')
		return;
	while (from < to) {
		const char *comma = memchr(from, ',', (size_t)(to - from));
		const char *a = from, *b = comma != NULL ? comma : to;

		from = comma != NULL ? comma + 1 : to;
		trim(&a, &b);
		if (a == b || (size_t)(b - a) + 1 >= size - used)
			continue;
		str_fmt(dst + used, size - used, "%s%.*s", used > 0 ? "," : "",
		    (int)(b - a), a);
		used += strlen(dst + used);
	}
	utf8_clean(dst);
}

/* One KEY:value pair, without its semicolon. */
static bool
pair(struct ieee1284 *out, const char *from, const char *to)
{
	static const struct {
		const char *key;
		enum { MAKE, MODEL, SERIAL, COMMANDS } what;
	} keys[] = {
		{ "MFG", MAKE },
		{ "MANUFACTURER", MAKE },
		{ "MDL", MODEL },
		{ "MODEL", MODEL },
		{ "SN", SERIAL },
		{ "SERN", SERIAL },
		{ "SERIALNUMBER", SERIAL },
		{ "CMD", COMMANDS },
		{ "COMMAND SET", COMMANDS },
	};
	const char *colon = memchr(from, ':', (size_t)(to - from));
	const char *key = from, *key_end = colon, *value;
	size_t i;

	if (colon == NULL)
		return false;
	trim(&key, &key_end);
	value = colon + 1;
	trim(&value, &to);
	for (i = 0; i < sizeof(keys) / sizeof(keys[0]); i++) {
		if (!is_key(key, (size_t)(key_end - key), keys[i].key))
			continue;
		switch (keys[i].what) {
		case MAKE:
			copy_words(out->make, sizeof(out->make), value, to);
			break;
		case MODEL:
			copy_words(out->model, sizeof(out->model), value, to);
			break;
		case SERIAL:
			copy_words(out->serial, sizeof(out->serial), value, to);
			break;
		case COMMANDS:
			copy_sets(
			    out->commands, sizeof(out->commands), value, to);
			break;
		}
	}
	return key < key_end;
}

bool
ieee1284_parse(struct ieee1284 *out, const uint8_t *id, size_t len)
{
	const char *from, *to, *end;
	const char *nul;
	bool any = false;

	memset(out, 0, sizeof(*out));
	if (len <= 2)
		return false;
	from = (const char *)id + 2;
	to = (const char *)id + text_end(id, len);
	/* Some fill the rest of the buffer with zeros. */
	if ((nul = memchr(from, '\0', (size_t)(to - from))) != NULL)
		to = nul;
	for (; from < to; from = end + 1) {
		end = memchr(from, ';', (size_t)(to - from));
		if (end == NULL)
			end = to;
		if (pair(out, from, end))
			any = true;
	}
	return any;
}
