/* pager.c - a long text to read. */
#include "term/pager.h"

#include <stdlib.h>

#include "base/mem.h"

void
pager_set(struct pager *g, const char *text)
{
	free(g->text);
	*g = (struct pager){ .text = xstrdup(text) };
}

void
pager_fini(struct pager *g)
{
	free(g->text);
	*g = (struct pager){ .text = NULL };
}

static void
go(struct pager *g, int top)
{
	int last = g->lines - g->page;

	g->top = top > last ? last : top;
	if (g->top < 0)
		g->top = 0;
}

bool
pager_key(struct pager *g, const struct key *k)
{
	int page = g->page > 1 ? g->page - 1 : 1;

	if (k->code == KEY_CODE_UP)
		go(g, g->top - 1);
	else if (k->code == KEY_CODE_DOWN)
		go(g, g->top + 1);
	else if (k->code == KEY_CODE_PAGE_UP)
		go(g, g->top - page);
	else if (k->code == KEY_CODE_PAGE_DOWN || key_is(k, ' '))
		go(g, g->top + page);
	else if (k->code == KEY_CODE_HOME)
		go(g, 0);
	else if (k->code == KEY_CODE_END)
		go(g, g->lines);
	else
		return false;
	return true;
}

void
pager_draw(struct pager *g, const struct pane *p)
{
	const char *text = g->text == NULL ? "" : g->text;
	/* the last column tells of what is above and below */
	struct pane part = pane_part(p, 0, 0, p->w - 2, p->h);

	g->lines = pane_wrap_rows(part.w, text);
	g->page = p->h;
	go(g, g->top);
	(void)pane_wrap(&part, -g->top, STYLE_PLAIN, text);
	if (g->top > 0)
		pane_put(p, p->w - 1, 0, STYLE_FAINT, "\xe2\x86\x91");
	if (g->top + g->page < g->lines)
		pane_put(p, p->w - 1, p->h - 1, STYLE_FAINT, "\xe2\x86\x93");
}
