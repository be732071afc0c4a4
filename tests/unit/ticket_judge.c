/* ticket_judge.c - what must be true of the pages of any list. */
#include "ticket_judge.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "label_samples.h"

static struct fonts *fonts;

struct fonts *
judge_open(void)
{
	fonts = label_sample_fonts();
	return fonts;
}

void
judge_close(void)
{
	fonts_free(fonts);
}

int
judge_dots(int um, int dpi)
{
	return (um * dpi + 12700) / 25400;
}

void
repeat_text(char *dst, size_t size, const char *s, int n)
{
	size_t used = strlen(dst);

	for (; n > 0; n--, used += strlen(s))
		ck_assert(str_copy(dst + used, size - used, s));
}

struct ticket_layout *
lay_out(const struct ticket *t, bool training, int reprint,
    const struct label_media *m)
{
	struct ticket_layout *l;
	struct err err = { 0 };

	ck_assert_msg(ticket_layout_make(
			  &l, t, training, reprint, m, fonts, &err) == RC_OK,
	    "%s", err.text);
	return l;
}

struct ink
ink_of(const struct ticket_piece *p)
{
	struct text text = { p->s, FONT_TEXT, p->px, p->white };
	struct text_extent e;
	struct ink i = { p->x, p->y, p->x + p->w, p->y + p->h };

	if (p->kind != PIECE_TEXT)
		return i;
	ck_assert_int_eq(font_measure(&e, fonts, &text, NULL), RC_OK);
	i.left = p->x + e.left;
	i.right = p->x + e.right;
	i.top = p->y - e.ascent;
	i.bottom = p->y + e.descent;
	return i;
}

static bool
overlap(const struct ink *a, const struct ink *b)
{
	return a->left < b->right && b->left < a->right && a->top < b->bottom &&
	    b->top < a->bottom;
}

static bool
is_mark(const struct ticket_page *page, size_t i)
{
	return page->pieces[i].line == PIECE_OWN &&
	    (page->pieces[i].white || page->pieces[i].kind == PIECE_BLACK);
}

/* Inside the margins, apart from each other, and really drawn. */
static void
check_page(const struct ticket_page *page, const struct label_media *m,
    const struct bitmap *bm)
{
	int margin = judge_dots(1500, m->dpi), x, y, inked = 0;
	struct ink *inks = xcalloc(page->count, sizeof(*inks));
	size_t i, j;

	ck_assert_int_eq(bm->width, label_mm_to_dots(m->width_mm, m->dpi));
	ck_assert_int_eq(bm->height, page->height);
	ck_assert_int_le(page->height,
	    label_mm_to_dots(m->height_mm == 0 ? 200 : m->height_mm, m->dpi));
	for (i = 0; i < page->count; i++) {
		inks[i] = ink_of(&page->pieces[i]);
		ck_assert_int_ge(inks[i].left, margin);
		ck_assert_int_le(inks[i].right, bm->width - margin);
		ck_assert_int_ge(inks[i].top, margin);
		ck_assert_int_le(
		    inks[i].bottom, bm->height - judge_dots(12000, m->dpi));
		for (j = 0; j < i; j++)
			ck_assert_msg(is_mark(page, i) || is_mark(page, j) ||
				!overlap(&inks[i], &inks[j]),
			    "\"%s\" on \"%s\"", page->pieces[i].s,
			    page->pieces[j].s);
		for (y = inks[i].top, inked = 0; y < inks[i].bottom; y++)
			for (x = inks[i].left; x < inks[i].right; x++)
				inked += bitmap_get(bm, x, y) !=
				    page->pieces[i].white;
		ck_assert_int_gt(inked, 0);
	}
	/* Nothing but those: no ink in the margins and at the foot. */
	for (y = 0, inked = 0; y < bm->height; y++)
		for (x = 0; x < bm->width; x++)
			if (y < margin || x < margin ||
			    x >= bm->width - margin ||
			    y >= bm->height - judge_dots(12000, m->dpi))
				inked += bitmap_get(bm, x, y);
	ck_assert_int_eq(inked, 0);
	free(inks);
}

static void
squeeze(struct buf *out, const char *s)
{
	for (; *s != '\0'; s++)
		if (*s != ' ')
			buf_putc(out, *s);
}

static void
see_piece(struct seen *seen, const struct ticket_line *l,
    const struct ticket_piece *p, int page)
{
	if (p->kind == PIECE_BOX)
		seen->boxes++;
	if (p->kind != PIECE_TEXT)
		return;
	if (seen->rows++ > 0 && page != seen->page)
		seen->parted = true;
	seen->page = page;
	if (str_eq(p->s, l->right) && seen->right == 0 && l->right[0] != '\0')
		seen->right++;
	else
		squeeze(&seen->left, p->s);
}

/* Every line of the list stands on the pages once and whole. */
struct seen *
check_whole(const struct ticket *t, const struct ticket_layout *l)
{
	struct seen *seen = xcalloc(ticket_count(t), sizeof(*seen));
	const struct ticket_piece *p;
	const struct ticket_line *line;
	struct buf want;
	size_t i, j, last = 0;

	for (i = 0; i < ticket_count(t); i++)
		buf_init(&seen[i].left, 65536);
	for (i = 0; i < l->count; i++)
		for (j = 0; j < l->pages[i].count; j++) {
			p = &l->pages[i].pieces[j];
			if (p->line == PIECE_OWN || p->again)
				continue;
			ck_assert_uint_ge(p->line, last); /* in order */
			last = p->line;
			see_piece(
			    &seen[p->line], ticket_at(t, p->line), p, (int)i);
		}
	for (i = 0; i < ticket_count(t); i++) {
		line = ticket_at(t, i);
		buf_init(&want, 65536);
		squeeze(&want, line->left);
		ck_assert_str_eq(buf_text(&seen[i].left), buf_text(&want));
		ck_assert_int_eq(seen[i].right, line->right[0] != '\0');
		ck_assert_int_eq(seen[i].boxes, line->style == TICKET_TICK);
		buf_fini(&want);
	}
	return seen;
}

void
seen_free(struct seen *seen, size_t count)
{
	size_t i;

	for (i = 0; i < count; i++)
		buf_fini(&seen[i].left);
	free(seen);
}

const char *
own_text(const struct ticket_page *page, const char *begin)
{
	size_t i;

	for (i = 0; i < page->count; i++)
		if (page->pieces[i].line == PIECE_OWN &&
		    page->pieces[i].kind == PIECE_TEXT &&
		    strncmp(page->pieces[i].s, begin, strlen(begin)) == 0)
			return page->pieces[i].s;
	return NULL;
}

void
check_foot(const struct ticket_layout *l)
{
	char want[40];
	size_t i;

	for (i = 0; i < l->count; i++) {
		str_fmt(want, sizeof(want), "page %zu of %zu", i + 1, l->count);
		ck_assert_str_eq(own_text(&l->pages[i], "page"), want);
		ck_assert_ptr_nonnull(own_text(
		    &l->pages[i], i + 1 < l->count ? "goes on" : "end"));
		ck_assert_ptr_null(own_text(
		    &l->pages[i], i + 1 < l->count ? "end" : "goes on"));
	}
}

/* The first text on the page that comes from the list. */
static const struct ticket_piece *
first_text(const struct ticket_page *page, bool again)
{
	size_t i;

	for (i = 0; i < page->count; i++)
		if (page->pieces[i].kind == PIECE_TEXT &&
		    page->pieces[i].line != PIECE_OWN &&
		    page->pieces[i].again == again)
			return &page->pieces[i];
	return NULL;
}

/* The last HEAD before or at a line that no RULE has ended, or PIECE_OWN. */
static size_t
head_of(const struct ticket *t, size_t line)
{
	size_t i, head = PIECE_OWN;

	for (i = 0; i <= line; i++)
		if (ticket_at(t, i)->style == TICKET_HEAD)
			head = i;
		else if (ticket_at(t, i)->style == TICKET_RULE && i < line)
			head = PIECE_OWN;
	return head;
}

/* The title again, and the head when its group was parted. */
void
check_again(const struct ticket *t, const struct ticket_layout *l)
{
	const struct ticket_piece *p;
	size_t i, j, head;
	bool title, headed;

	for (i = 0; i < l->count; i++) {
		title = headed = false;
		p = first_text(&l->pages[i], false);
		head = p == NULL ? PIECE_OWN : head_of(t, p->line);
		for (j = 0; j < l->pages[i].count; j++) {
			p = &l->pages[i].pieces[j];
			if (!p->again || p->kind != PIECE_TEXT)
				continue;
			title = title || p->line == 0;
			headed = headed || p->line == head;
			ck_assert(p->line == 0 || p->line == head);
		}
		ck_assert_int_eq(
		    title, i > 0 && ticket_at(t, 0)->style == TICKET_TITLE);
		p = first_text(&l->pages[i], false);
		ck_assert_int_eq(headed,
		    i > 0 && p != NULL && head != PIECE_OWN &&
			ticket_at(t, p->line)->style != TICKET_HEAD &&
			(p->line == 0 ||
			    ticket_at(t, p->line - 1)->style != TICKET_RULE));
	}
}

void
check_all(const struct ticket *t, const struct label_media *m, bool training,
    int reprint)
{
	struct ticket_layout *l = lay_out(t, training, reprint, m);
	struct bitmap *bm;
	int pages, page;

	seen_free(check_whole(t, l), ticket_count(t));
	check_foot(l);
	check_again(t, l);
	ck_assert_int_eq(ticket_pages(&pages, t, m, fonts, NULL), RC_OK);
	ck_assert_uint_eq(l->count, pages);
	for (page = 1; page <= pages; page++) {
		ck_assert_int_eq(ticket_render(&bm, t, page, training, reprint,
				     m, fonts, NULL),
		    RC_OK);
		check_page(&l->pages[page - 1], m, bm);
		bitmap_free(bm);
	}
	ticket_layout_free(l);
}

/* Entries of three rows under heads, as many as there are. */
struct ticket *
ticket_entries(int n)
{
	struct ticket *t = ticket_new();
	int i;

	ticket_add(t, TICKET_TITLE, "Recall 26338-011", NULL);
	for (i = 0; i < n; i++) {
		if (i % 17 == 0)
			ticket_printf(t, TICKET_HEAD, NULL, "group %d", i / 17);
		ticket_printf(
		    t, TICKET_TICK, "1 of 3", "000-%03d Roast hake", i);
		ticket_printf(t, TICKET_SMALL, NULL, "use by Sat 5 Dec 23:59");
		ticket_printf(t, TICKET_SMALL, NULL, "used for lunch by %d", i);
	}
	return t;
}
