/* glyph.c - how wide a character is, and what stands in for it. */
#include <stddef.h>

#include "base/str.h"
#include "term/canvas.h"

struct span {
	uint32_t from, to;
};

/* Combining marks and other characters without a column, and East Asian wide
 * ones: the ranges of Unicode 15 (DerivedGeneralCategory Mn and Me,
 * EastAsianWidth W and F) that names and notes can hold, from memory.  A wrong
 * one costs a column, no more. */
static const struct span none[] = { { 0x300, 0x36f }, { 0x483, 0x489 },
	{ 0x591, 0x5bd }, { 0x610, 0x61a }, { 0x64b, 0x65f },
	{ 0x200b, 0x200f }, { 0x202a, 0x202e }, { 0x2060, 0x206f },
	{ 0x20d0, 0x20f0 }, { 0xfe00, 0xfe0f }, { 0xfe20, 0xfe2f },
	{ 0xfeff, 0xfeff } };
static const struct span wide[] = { { 0x1100, 0x115f }, { 0x2e80, 0x303e },
	{ 0x3041, 0x33ff }, { 0x3400, 0x4dbf }, { 0x4e00, 0x9fff },
	{ 0xa000, 0xa4cf }, { 0xac00, 0xd7a3 }, { 0xf900, 0xfaff },
	{ 0xfe30, 0xfe6f }, { 0xff00, 0xff60 }, { 0xffe0, 0xffe6 },
	{ 0x1f300, 0x1f64f }, { 0x1f900, 0x1f9ff }, { 0x20000, 0x3fffd } };

static bool
in(const struct span *s, size_t n, uint32_t ch)
{
	size_t i;

	for (i = 0; i < n; i++)
		if (ch >= s[i].from && ch <= s[i].to)
			return true;
	return false;
}

int
glyph_columns(uint32_t ch)
{
	if (ch < 0x20 || (ch >= 0x7f && ch < 0xa0))
		return 0;
	if (ch < 0x300)
		return 1;
	if (in(none, sizeof(none) / sizeof(none[0]), ch))
		return 0;
	return in(wide, sizeof(wide) / sizeof(wide[0]), ch) ? 2 : 1;
}

/* Latin-1 letters from 0xc0 on, without their accents. */
static const char latin1[] =
    "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTs"
    "aaaaaaaceeeeiiiidnooooo/ouuuuyty";

/* Latin Extended-A from 0x100 on. */
static const char latin_a[] =
    "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlLlLl"
    "NnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

static const struct {
	uint32_t ch;
	char plain;
} others[] = { { 0xa0, ' ' }, { 0xab, '"' }, { 0xb0, 'o' }, { 0xb7, '.' },
	{ 0xbb, '"' }, { 0x2013, '-' }, { 0x2014, '-' }, { 0x2018, '\'' },
	{ 0x2019, '\'' }, { 0x201c, '"' }, { 0x201d, '"' }, { 0x2022, '*' },
	{ 0x2026, '~' }, { 0x20ac, 'E' }, { 0x2190, '<' }, { 0x2191, '^' },
	{ 0x2192, '>' }, { 0x2193, 'v' }, { 0x2500, '-' }, { 0x2502, '|' },
	{ 0x250c, '+' }, { 0x2510, '+' }, { 0x2514, '+' }, { 0x2518, '+' },
	{ 0x2580, '"' }, { 0x2584, '_' }, { 0x2588, '#' }, { 0x2713, 'v' } };

char
glyph_plain(uint32_t ch)
{
	size_t i;

	if (ch < 0x80)
		return ch < 0x20 || ch == 0x7f ? '?' : (char)ch;
	if (ch >= 0xc0 && ch <= 0xff)
		return latin1[ch - 0xc0];
	if (ch >= 0x100 && ch < 0x100 + sizeof(latin_a) - 1)
		return latin_a[ch - 0x100];
	for (i = 0; i < sizeof(others) / sizeof(others[0]); i++)
		if (others[i].ch == ch)
			return others[i].plain;
	return '?';
}

int
text_columns(const char *text)
{
	int n = 0;

	while (*text != '\0')
		n += glyph_columns(utf8_next(&text));
	return n;
}
