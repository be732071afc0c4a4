/* wrap.c - text in lines broken between words. */
#include <string.h>

#include "base/str.h"
#include "term/canvas.h"

/* The bytes of the line that starts at `s` and fits `w` columns; *next is where
 * the following one starts. */
static size_t
line_of(const char *s, int w, const char **next)
{
	const char *at = s, *after, *blank = NULL;
	int cols = 0, n;

	for (;;) {
		if (*at == '\0' || *at == '\n') {
			*next = *at == '\0' ? at : at + 1;
			return (size_t)(at - s);
		}
		if (*at == ' ')
			blank = at;
		after = at;
		n = glyph_columns(utf8_next(&after));
		if (cols + n > w && at > s)
			break;
		cols += n;
		at = after;
	}
	if (blank != NULL && blank > s) {
		*next = blank + 1;
		return (size_t)(blank - s);
	}
	*next = at; /* a word longer than the line */
	return (size_t)(at - s);
}

int
pane_wrap_rows(int w, const char *text)
{
	int rows = 0;

	if (w < 1)
		return 0;
	while (*text != '\0') {
		(void)line_of(text, w, &text);
		rows++;
	}
	return rows;
}

int
pane_wrap(const struct pane *p, int y, enum style style, const char *text)
{
	char line[CANVAS_MAX * 4 + 1];
	const char *s;
	size_t len;

	if (p->w < 1)
		return y;
	while (*text != '\0') {
		s = text;
		len = line_of(s, p->w, &text);
		if (len >= sizeof(line)) /* marks without a column */
			for (len = sizeof(line) - 1;
			     ((unsigned char)s[len] & 0xc0) == 0x80; len--)
				;
		memcpy(line, s, len);
		line[len] = '\0';
		pane_put(p, 0, y++, style, line);
	}
	return y;
}
