/*
 * big.c - large digits and letters, drawn in half cells.
 *
 * Five half rows high and three to five columns wide, our own drawing.  A half
 * cell is about square on a terminal, so the letters keep their shape.
 */
#include <ctype.h>
#include <string.h>

#include "base/str.h"
#include "term/canvas.h"

#define HALF_ROWS 5

struct big {
	char ch;
	const char *row[HALF_ROWS];
};

static const struct big bigs[] = {
	{ '0', { "###", "# #", "# #", "# #", "###" } },
	{ '1', { " # ", "## ", " # ", " # ", "###" } },
	{ '2', { "###", "  #", "###", "#  ", "###" } },
	{ '3', { "###", "  #", " ##", "  #", "###" } },
	{ '4', { "# #", "# #", "###", "  #", "  #" } },
	{ '5', { "###", "#  ", "###", "  #", "###" } },
	{ '6', { "###", "#  ", "###", "# #", "###" } },
	{ '7', { "###", "  #", "  #", " # ", " # " } },
	{ '8', { "###", "# #", "###", "# #", "###" } },
	{ '9', { "###", "# #", "###", "  #", "###" } },
	{ 'A', { " # ", "# #", "###", "# #", "# #" } },
	{ 'B', { "## ", "# #", "## ", "# #", "## " } },
	{ 'C', { "###", "#  ", "#  ", "#  ", "###" } },
	{ 'D', { "## ", "# #", "# #", "# #", "## " } },
	{ 'E', { "###", "#  ", "## ", "#  ", "###" } },
	{ 'F', { "###", "#  ", "## ", "#  ", "#  " } },
	{ 'G', { "####", "#   ", "# ##", "#  #", "####" } },
	{ 'H', { "# #", "# #", "###", "# #", "# #" } },
	{ 'I', { "#", "#", "#", "#", "#" } },
	{ 'J', { "  #", "  #", "  #", "# #", "###" } },
	{ 'K', { "#  #", "# # ", "##  ", "# # ", "#  #" } },
	{ 'L', { "#  ", "#  ", "#  ", "#  ", "###" } },
	{ 'M', { "#   #", "## ##", "# # #", "#   #", "#   #" } },
	{ 'N', { "#  #", "## #", "# ##", "#  #", "#  #" } },
	{ 'O', { "####", "#  #", "#  #", "#  #", "####" } },
	{ 'P', { "###", "# #", "###", "#  ", "#  " } },
	{ 'Q', { "####", "#  #", "#  #", "# ##", "####" } },
	{ 'R', { "###", "# #", "## ", "# #", "# #" } },
	{ 'S', { "####", "#   ", "####", "   #", "####" } },
	{ 'T', { "###", " # ", " # ", " # ", " # " } },
	{ 'U', { "# #", "# #", "# #", "# #", "###" } },
	{ 'V', { "# #", "# #", "# #", "# #", " # " } },
	{ 'W', { "#   #", "#   #", "# # #", "## ##", "#   #" } },
	{ 'X', { "# #", "# #", " # ", "# #", "# #" } },
	{ 'Y', { "# #", "# #", " # ", " # ", " # " } },
	{ 'Z', { "####", "  # ", " #  ", "#   ", "####" } },
	{ ' ', { "  ", "  ", "  ", "  ", "  " } },
	{ '.', { " ", " ", " ", " ", "#" } },
	{ ',', { "  ", "  ", "  ", " #", "# " } },
	{ ':', { " ", "#", " ", "#", " " } },
	{ '/', { "  #", "  #", " # ", "#  ", "#  " } },
	{ '+', { "   ", " # ", "###", " # ", "   " } },
	{ '-', { "   ", "   ", "###", "   ", "   " } },
	{ '%', { "#  #", "  # ", " ## ", " #  ", "#  #" } },
	{ '?', { "###", "  #", " ##", "   ", " # " } },
};

/* The drawing of a character; '?' for one that has none. */
static const struct big *
big_of(uint32_t ch)
{
	char plain = (char)toupper((unsigned char)glyph_plain(ch));
	size_t i, n = sizeof(bigs) / sizeof(bigs[0]);

	for (i = 0; i < n - 1; i++)
		if (bigs[i].ch == plain)
			break;
	return &bigs[i];
}

static bool
inked(const struct big *b, int half_row, size_t col)
{
	return half_row < HALF_ROWS && b->row[half_row][col] == '#';
}

int
big_columns(const char *text)
{
	int n = 0;

	while (*text != '\0')
		n += (int)strlen(big_of(utf8_next(&text))->row[0]) + 1;
	return n > 0 ? n - 1 : 0;
}

int
pane_big(const struct pane *p, int x, int y, enum style style, const char *text)
{
	/* none, lower, upper, both */
	static const char *const halves[] = { " ", "\xe2\x96\x84",
		"\xe2\x96\x80", "\xe2\x96\x88" };
	const struct big *b;
	size_t col, w;
	int r;

	while (*text != '\0') {
		b = big_of(utf8_next(&text));
		w = strlen(b->row[0]);
		for (r = 0; r < BIG_ROWS; r++)
			for (col = 0; col < w; col++)
				pane_put(p, x + (int)col, y + r, style,
				    halves[inked(b, 2 * r, col) * 2 +
					inked(b, 2 * r + 1, col)]);
		x += (int)w + 1;
	}
	return x;
}
