/* list.c - rows to choose from. */
#include "term/list.h"

#include <stdio.h>

void
list_fit(struct list *l)
{
	if (l->at >= l->count)
		l->at = l->count - 1;
	if (l->at < 0 && l->count > 0)
		l->at = 0;
	if (l->top > l->at)
		l->top = l->at;
	if (l->top < 0)
		l->top = 0;
}

static void
go(struct list *l, int at)
{
	l->at = at < 0 ? 0 : at >= l->count ? l->count - 1 : at;
	l->number = 0;
}

/* Digits add up as long as there is such a row, else begin anew. */
static void
digit(struct list *l, int n)
{
	int number = l->number * 10 + n;

	if (number > l->count)
		number = n;
	if (number < 1 || number > l->count)
		return;
	l->at = number - 1;
	l->number = number;
}

bool
list_key(struct list *l, const struct key *k)
{
	int page = l->page > 1 ? l->page - 1 : 1;

	if (k->code == KEY_CODE_CHAR && k->ch >= '0' && k->ch <= '9') {
		digit(l, (int)(k->ch - '0'));
		return true;
	}
	if (k->code == KEY_CODE_UP)
		go(l, l->at - 1);
	else if (k->code == KEY_CODE_DOWN)
		go(l, l->at + 1);
	else if (k->code == KEY_CODE_PAGE_UP)
		go(l, l->at - page);
	else if (k->code == KEY_CODE_PAGE_DOWN)
		go(l, l->at + page);
	else if (k->code == KEY_CODE_HOME)
		go(l, 0);
	else if (k->code == KEY_CODE_END)
		go(l, l->count - 1);
	else {
		l->number = 0;
		return false;
	}
	return true;
}

void
list_draw(
    struct list *l, const struct pane *p, list_row_fn *row, const void *arg)
{
	struct pane line;
	enum style style;
	char number[16];
	int i, y;

	list_fit(l);
	l->page = p->h;
	if (l->at >= l->top + p->h)
		l->top = l->at - p->h + 1;
	if (l->top > 0 && l->top > l->count - p->h)
		l->top = l->count - p->h < 0 ? 0 : l->count - p->h;
	for (y = 0; y < p->h && l->top + y < l->count; y++) {
		i = l->top + y;
		style = i == l->at ? STYLE_CHOSEN : STYLE_PLAIN;
		if (style == STYLE_CHOSEN)
			pane_fill(p, 0, y, p->w, 1, style);
		(void)snprintf(number, sizeof(number), "%3d ", i + 1);
		pane_put(p, 0, y, style == STYLE_CHOSEN ? style : STYLE_FAINT,
		    number);
		line = pane_part(p, LIST_NUMBER, y, p->w - LIST_NUMBER, 1);
		row(arg, i, &line, style);
	}
	/* more above or below what is shown */
	if (l->top > 0)
		pane_put(p, p->w - 1, 0, STYLE_FAINT, "\xe2\x86\x91");
	if (l->top + p->h < l->count)
		pane_put(p, p->w - 1, p->h - 1, STYLE_FAINT, "\xe2\x86\x93");
}
