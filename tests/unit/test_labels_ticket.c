/*
 * test_labels_ticket.c - lists on a roll: nothing is lost, nothing stands in
 * a margin, and whoever holds a page knows what is missing.
 *
 * Sizes are those of docs/printing.md "Tickets"; the smallest text and the
 * margin are those of labels, whose source is docs/labels.md.
 */
#include "unit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "chance.h"
#include "label_samples.h"
#include "labels/ticket.h"
#include "src/labels/ticket_page.h"

static struct fonts *fonts;
static uint64_t seed;

static void
setup(void)
{
	fonts = label_sample_fonts();
	seed = 20261125;
}

static void
teardown(void)
{
	fonts_free(fonts);
}

static int
chance(int n)
{
	return (int)(chance_next(&seed) % (uint64_t)n);
}

static int
dots(int um, int dpi)
{
	return (um * dpi + 12700) / 25400;
}

/* --- as text -------------------------------------------------------------- */

/* Any bytes but NUL, LF and TAB among them. */
static void
random_text(char *dst, int most)
{
	static const char *const some[] = { "a", "Z", " ", "\t", "\n", "\x7f",
		"\xc2\x85", "\xc3\xa9", "\xe2\x82\xac", "\xff", "\xc3", "0",
		"\\", ",", "\"", "\xf0\x9f\x90\x9f", "\r", "title", "  " };
	int n = chance(most);

	for (dst[0] = '\0'; n > 0; n--)
		strcat(dst, some[chance((int)NELEM(some))]);
}

START_TEST(text_round_trip)
{
	struct ticket *t = ticket_new(), *back;
	const struct ticket_line *a, *b;
	char left[256], right[256], clean[256];
	struct buf text, again;
	struct err err = { 0 };
	size_t i;

	seed += (uint64_t)_i;
	for (i = 0; i < 30; i++) {
		random_text(left, 20);
		random_text(right, 8);
		ticket_add(t, (enum ticket_style)chance(TICKET_RULE), left,
		    chance(4) == 0 ? NULL : right);
		ck_assert(str_copy(clean, sizeof(clean), left));
		utf8_clean(clean);
		ck_assert_str_eq(ticket_at(t, i)->left, clean);
		if (chance(9) == 0)
			ticket_add(t, TICKET_RULE, NULL, NULL), i++;
	}
	buf_init(&text, 1 << 20);
	buf_init(&again, 1 << 20);
	ticket_write(&text, t);
	ck_assert_msg(ticket_read(&back, buf_text(&text), &err) == RC_OK, "%s",
	    err.text);
	ck_assert_uint_eq(ticket_count(back), ticket_count(t));
	for (i = 0; i < ticket_count(t); i++) {
		a = ticket_at(t, i);
		b = ticket_at(back, i);
		ck_assert_int_eq(a->style, b->style);
		ck_assert_str_eq(a->left, b->left);
		ck_assert_str_eq(a->right, b->right);
	}
	ticket_write(&again, back);
	ck_assert_str_eq(buf_text(&text), buf_text(&again));
	buf_fini(&text);
	buf_fini(&again);
	ticket_free(t);
	ticket_free(back);
}
END_TEST

START_TEST(text_refused)
{
	static const struct {
		const char *text, *says, *why;
	} rows[] = {
		{ "title\ta\t", "line 1 of the list: not ended", "no LF" },
		{ "title\ta\t\ntick\tb\t", "line 2 of the list: not ended",
		    "cut off" },
		{ "title\ta\t\n\n", "line 2 of the list: needs a style",
		    "empty line" },
		{ "title\ta\t\nline\tb\n", "line 2 of the list: needs a style",
		    "one text" },
		{ "line\ta\tb\tc\n", "line 1 of the list: needs a style",
		    "three texts" },
		{ "Title\ta\tb\n", "line 1 of the list: its style",
		    "capital" },
		{ "titles\ta\tb\n", "line 1 of the list: its style", "longer" },
		{ "\ta\tb\n", "line 1 of the list: its style", "no style" },
		{ "line\ta\tb\nline\t\xff\tb\n",
		    "line 2 of the list: not UTF-8", "not UTF-8, left" },
		{ "line\ta\t\xc3\n", "line 1 of the list: not UTF-8",
		    "not UTF-8, right" },
		{ "line\ta\r\tb\n", "line 1 of the list: not UTF-8",
		    "control character" },
		{ "line\ta\tb\xc2\x9f\n", "line 1 of the list: not UTF-8",
		    "control character beyond ASCII" },
		{ "rule\ta\t\n", "line 1 of the list: a rule", "text" },
		{ "rule\t\ta\n", "line 1 of the list: a rule", "right text" },
	};
	struct ticket *t;
	struct err err = { 0 };

	ck_assert_msg(
	    ticket_read(&t, rows[_i].text, &err) == RC_INVALID, "%s",
	    rows[_i].why);
	ck_assert_ptr_null(t);
	ck_assert_msg(
	    strncmp(err.text, rows[_i].says, strlen(rows[_i].says)) == 0,
	    "%s: %s", rows[_i].why, err.text);
}
END_TEST
#define TEXT_REFUSED 14

START_TEST(text_empty)
{
	struct ticket *t;

	ck_assert_int_eq(ticket_read(&t, "", NULL), RC_OK);
	ck_assert_uint_eq(ticket_count(t), 0);
	ticket_free(t);
}
END_TEST

START_TEST(on_screen)
{
	struct ticket *t = ticket_new();
	struct buf out;

	buf_init(&out, 4096);
	ticket_add(t, TICKET_TITLE, "Prep, lunch Fri 4 Dec", NULL);
	ticket_add(t, TICKET_SMALL, "Friday 4 December 2026", NULL);
	ticket_add(t, TICKET_HEAD, "FISH", "3");
	ticket_add(t, TICKET_TICK, "Roast hake", "14 min");
	ticket_add(t, TICKET_SMALL, "fillet 2, portion 14, tray 1", NULL);
	ticket_add(t, TICKET_LINE, "trim kept and what was made", "790 g");
	ticket_add(t, TICKET_SMALL, "waste of 26 fish 12 g", NULL);
	ticket_add(t, TICKET_LINE, "Unbreakableunbreakableword x", "2.000 kg");
	ticket_add(t, TICKET_RULE, NULL, NULL);
	ticket_add(t, TICKET_LINE, NULL, "right alone");
	ticket_text(&out, t, 20);
	ck_assert_str_eq(buf_text(&out),
	    "Prep, lunch\n"
	    "Fri 4 Dec\n"
	    "Friday 4\n"
	    "December 2026\n"
	    "\n"
	    "== FISH            3\n"
	    "[ ] Roast     14 min\n"
	    "    hake\n"
	    "    fillet 2,\n"
	    "    portion 14,\n"
	    "    tray 1\n"
	    "trim kept and  790 g\n"
	    "what was made\n"
	    "waste of 26 fish\n"
	    "12 g\n"
	    "            2.000 kg\n"
	    "Unbreakableunbreakableword\n"
	    "x\n"
	    "--------------------\n"
	    "         right alone\n");
	buf_fini(&out);
	ticket_free(t);
}
END_TEST

START_TEST(kept_together)
{
	static const struct {
		const char *text, *piece;
	} rows[] = {
		{ "790 g, frames", "790 g," },
		{ "790 grams", "790" },
		{ "1.2 C", "1.2 C" },
		{ "3 x 168 hake", "3 x 168" },
		{ "4 x", "4 x" },
		{ "Sun 6 Dec 23:59", "Sun 6 Dec" },
		{ "Sunday 6 December", "Sunday" },
		{ "6 Decades", "6" },
		{ "tray 1, then", "tray 1," },
		{ "tray 1", "tray 1" },
		{ "tray 1 of", "tray" },
		{ "portion 12; 3", "portion 12;" },
		{ "waste, 12", "waste," },
		{ " 36.38 % of", " 36.38 %" },
		{ "", "" },
		{ "  ", "  " },
		{ "a  ", "a" },
	};
	size_t n = ticket_piece_of(rows[_i].text);

	ck_assert_msg(n == strlen(rows[_i].piece), "\"%s\": %zu, not \"%s\"",
	    rows[_i].text, n, rows[_i].piece);
}
END_TEST
#define KEPT_TOGETHER 17

/* --- on pages ------------------------------------------------------------- */

static struct ticket_layout *
lay_out(const struct ticket *t, bool training, int reprint,
    const struct label_media *m)
{
	struct ticket_layout *l;
	struct err err = { 0 };

	ck_assert_msg(ticket_layout_make(&l, t, training, reprint, m, fonts,
			  &err) == RC_OK,
	    "%s", err.text);
	return l;
}

/* What a piece inks. */
struct ink {
	int left, top, right, bottom; /* right and bottom out */
};

static struct ink
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
	return a->left < b->right && b->left < a->right &&
	    a->top < b->bottom && b->top < a->bottom;
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
	int margin = dots(1500, m->dpi), x, y, inked = 0;
	struct ink *inks = xcalloc(page->count, sizeof(*inks));
	size_t i, j;

	ck_assert_int_eq(bm->width, label_mm_to_dots(m->width_mm, m->dpi));
	ck_assert_int_eq(bm->height, page->height);
	ck_assert_int_le(page->height,
	    label_mm_to_dots(
		m->height_mm == 0 ? 200 : m->height_mm, m->dpi));
	for (i = 0; i < page->count; i++) {
		inks[i] = ink_of(&page->pieces[i]);
		ck_assert_int_ge(inks[i].left, margin);
		ck_assert_int_le(inks[i].right, bm->width - margin);
		ck_assert_int_ge(inks[i].top, margin);
		ck_assert_int_le(
		    inks[i].bottom, bm->height - dots(12000, m->dpi));
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
			    y >= bm->height - dots(12000, m->dpi))
				inked += bitmap_get(bm, x, y);
	ck_assert_int_eq(inked, 0);
	free(inks);
}

/* Rows of a line put together again: right text first when it has one. */
struct seen {
	struct buf left;
	int right, boxes, page, rows;
	bool parted; /* on several pages */
};

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
	if (str_eq(p->s, l->right) && seen->right == 0 &&
	    l->right[0] != '\0')
		seen->right++;
	else
		squeeze(&seen->left, p->s);
}

/* Every line of the list stands on the pages once and whole. */
static struct seen *
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

static void
seen_free(struct seen *seen, size_t count)
{
	size_t i;

	for (i = 0; i < count; i++)
		buf_fini(&seen[i].left);
	free(seen);
}

static const char *
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

static void
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
static void
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
			    ticket_at(t, p->line - 1)->style !=
				TICKET_RULE));
	}
}

static void
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

/* Words a kitchen writes, from one letter to as wide as the narrowest roll. */
static void
random_words(char *dst, size_t size, int words)
{
	static const char *const some[] = { "hake", "beans,", "26338-011",
		"790", "g", "3", "x", "W", "Merluccius", "\xc3\x89glefin",
		"Sun", "6", "Dec", "23:59", "R\xc3\xb8"
					    "dsp\xc3\xa6tte",
		"jjj", "0.5", "kg;", "Hippoglossus" };

	for (dst[0] = '\0'; words > 0; words--) {
		if (strlen(dst) + 32 > size)
			return;
		strcat(dst, some[chance((int)NELEM(some))]);
		if (words > 1)
			strcat(dst, chance(20) == 0 ? "  " : " ");
	}
}

static struct ticket *
random_ticket(int lines)
{
	static const enum ticket_style styles[] = { TICKET_TICK, TICKET_TICK,
		TICKET_SMALL, TICKET_SMALL, TICKET_LINE, TICKET_HEAD,
		TICKET_RULE };
	static const char *const rights[] = { NULL, "", "14 min", "2.500 kg",
		"1 of 12", "Fri 4 Dec 07:10" };
	struct ticket *t = ticket_new();
	enum ticket_style style;
	char left[2000];

	random_words(left, sizeof(left), 1 + chance(6));
	ticket_add(t, TICKET_TITLE, left, NULL);
	for (; lines > 0; lines--) {
		style = styles[chance((int)NELEM(styles))];
		random_words(left, sizeof(left),
		    style != TICKET_HEAD && chance(40) == 0 ? 200
							    : 1 + chance(12));
		ticket_add(t, style, left,
		    style == TICKET_SMALL
			? NULL
			: rights[chance((int)NELEM(rights))]);
	}
	return t;
}

START_TEST(any_list)
{
	static const int widths[] = { 48, 50, 58, 72, 80, 104, 120 };
	static const int lengths[] = { 0, 100, 120, 200, 300 };
	struct label_media m;
	struct ticket *t;

	seed += (uint64_t)_i * 977;
	m.width_mm = widths[chance((int)NELEM(widths))];
	m.height_mm = lengths[chance((int)NELEM(lengths))];
	m.dpi = chance(2) == 0 ? 203 : 300;
	t = random_ticket(chance(60));
	check_all(t, &m, chance(2) == 0, chance(3) == 0 ? chance(1000) : 0);
	ticket_free(t);
}
END_TEST

/* Entries of three rows under heads, as many as there are. */
static struct ticket *
entries(int n)
{
	struct ticket *t = ticket_new();
	int i;

	ticket_add(t, TICKET_TITLE, "Recall 26338-011", NULL);
	for (i = 0; i < n; i++) {
		if (i % 17 == 0)
			ticket_printf(t, TICKET_HEAD, NULL, "group %d", i / 17);
		ticket_printf(
		    t, TICKET_TICK, "1 of 3", "000-%03d Roast hake", i);
		ticket_printf(
		    t, TICKET_SMALL, NULL, "use by Sat 5 Dec 23:59");
		ticket_printf(t, TICKET_SMALL, NULL, "used for lunch by %d", i);
	}
	return t;
}

/* No entry is parted, no head stands without its first entry. */
static void
check_kept(const struct ticket *t, const struct seen *seen)
{
	size_t i;

	for (i = 1; i < ticket_count(t); i++) {
		ck_assert(!seen[i].parted);
		if (ticket_at(t, i)->style == TICKET_SMALL ||
		    ticket_at(t, i - 1)->style == TICKET_HEAD)
			ck_assert_int_eq(seen[i].page, seen[i - 1].page);
	}
}

START_TEST(page_breaks)
{
	const struct label_media m = { 58, 0, 203 };
	struct ticket *t;
	struct ticket_layout *l, *marked;
	struct seen *seen;
	size_t before = 0;
	int n;

	for (n = _i * 25 + 1; n <= _i * 25 + 25; n++) {
		t = entries(n);
		l = lay_out(t, false, 0, &m);
		marked = lay_out(t, true, 999, &m);
		seen = check_whole(t, l);
		check_kept(t, seen);
		seen_free(seen, ticket_count(t));
		check_foot(l);
		check_again(t, l);
		/* As many pages, whatever marks there are. */
		ck_assert_uint_eq(l->count, marked->count);
		ck_assert_uint_ge(l->count, before);
		if (before > 0)
			ck_assert_uint_le(l->count, before + 1);
		before = l->count;
		ticket_layout_free(l);
		ticket_layout_free(marked);
		ticket_free(t);
	}
	ck_assert_uint_ge(before, (size_t)(n / 20));
}
END_TEST

/* A page is filled: the entry that opens the next one had no room here. */
START_TEST(pages_are_full)
{
	const struct label_media m = { 80, 0, 203 };
	struct ticket *t = entries(60);
	struct ticket_layout *l = lay_out(t, true, 1, &m);
	int longest = label_mm_to_dots(200, 203), entry = 26 + 3 * 22 + 13;
	size_t i;

	ck_assert_uint_ge(l->count, 3);
	for (i = 0; i + 1 < l->count; i++)
		ck_assert_int_gt(
		    l->pages[i].height, longest - entry - 60);
	ticket_layout_free(l);
	ticket_free(t);
}
END_TEST

START_TEST(sizes)
{
	/* mm of docs/printing.md in dots: 5, 3.5, 3, 3, 2.25 */
	static const int px[2][5] = { { 40, 28, 24, 24, 18 },
		{ 59, 41, 35, 35, 27 } };
	const struct label_media m = { 58, 0, _i == 0 ? 203 : 300 };
	struct ticket *t = ticket_new();
	struct ticket_layout *l;
	const struct ticket_piece *p;
	bool any[5] = { false };
	size_t i;
	int s;

	for (s = TICKET_TITLE; s <= TICKET_SMALL; s++)
		ticket_add(t, (enum ticket_style)s, "Hake", "1");
	l = lay_out(t, false, 0, &m);
	for (i = 0; i < l->pages[0].count; i++) {
		p = &l->pages[0].pieces[i];
		if (p->kind != PIECE_TEXT || p->line == PIECE_OWN)
			continue;
		ck_assert_int_eq(p->px, px[_i][p->line]);
		any[p->line] = true;
	}
	for (s = 0; s < 5; s++)
		ck_assert(any[s]);
	ticket_layout_free(l);
	ticket_free(t);
}
END_TEST

/* Wide words shrink, never below 2 mm, then the list is refused by line. */
START_TEST(wide_words)
{
	const struct label_media m = { 50, 0, _i == 0 ? 203 : 300 };
	struct ticket *t;
	struct ticket_layout *l;
	struct err err = { 0 };
	char word[128] = "";
	int n, smallest = 1000, width = 0;

	for (n = 1; n < 100; n++) {
		strcat(word, "m");
		t = ticket_new();
		ticket_add(t, TICKET_TITLE, "List", NULL);
		ticket_add(t, TICKET_LINE, word, NULL);
		if (ticket_layout_make(&l, t, false, 0, &m, fonts, &err) !=
		    RC_OK)
			break;
		smallest = l->pages[0].pieces[1].px;
		width = ink_of(&l->pages[0].pieces[1]).right;
		ck_assert_int_ge(smallest, dots(2000, m.dpi));
		ck_assert_int_le(smallest, dots(3000, m.dpi));
		ticket_layout_free(l);
		ticket_free(t);
	}
	/* The last that fitted is the smallest, and uses the roll. */
	ck_assert_int_eq(smallest, dots(2000, m.dpi));
	ck_assert_int_gt(width, label_mm_to_dots(44, m.dpi));
	ck_assert_ptr_nonnull(strstr(err.text, "line 2 of the list, \"mmm"));
	ck_assert_ptr_nonnull(strstr(err.text, "wider than the roll"));
	ticket_free(t);
}
END_TEST

/* Numbers at the right edge stay whole, on the first row of their entry. */
START_TEST(right_text)
{
	const struct label_media m = { 58, 0, 203 };
	struct ticket *t = ticket_new();
	struct ticket_layout *l;
	const struct ticket_piece *p, *right = NULL, *left = NULL;
	size_t i, line;

	ticket_add(t, TICKET_TICK,
	    "Roast hake with white beans and a very long name", "2.500 kg");
	ticket_add(t, TICKET_LINE, "Merluccius", "Friday 4 December 07:10 h");
	l = lay_out(t, false, 0, &m);
	for (line = 0; line < 2; line++) {
		left = right = NULL;
		for (i = 0; i < l->pages[0].count; i++) {
			p = &l->pages[0].pieces[i];
			if (p->line != line || p->kind != PIECE_TEXT)
				continue;
			if (str_eq(p->s, ticket_at(t, line)->right))
				right = p;
			else if (left == NULL)
				left = p;
		}
		ck_assert_ptr_nonnull(right);
		ck_assert_ptr_nonnull(left);
		ck_assert_int_eq(ink_of(right).right, 463 - 12);
		ck_assert_int_eq(ink_of(left).left, line == 0 ? 12 + 38 : 12);
		/* Too wide for both: the number first, the words below. */
		if (line == 0)
			ck_assert_int_eq(left->y, right->y);
		else
			ck_assert_int_gt(ink_of(left).top, ink_of(right).bottom);
	}
	ticket_layout_free(l);
	ticket_free(t);
}
END_TEST

START_TEST(marks)
{
	const struct label_media m = { _i == 0 ? 48 : 120, 0, 203 };
	struct ticket *t = entries(40);
	struct ticket_layout *plain = lay_out(t, false, 0, &m);
	struct ticket_layout *l = lay_out(t, true, 7, &m);
	struct bitmap *bm;
	int x, black = 0;
	size_t i;

	ck_assert_ptr_null(own_text(&plain->pages[0], "TRAINING"));
	ck_assert_ptr_null(own_text(&plain->pages[0], "REPRINT"));
	for (i = 0; i < l->count; i++) {
		ck_assert_ptr_nonnull(
		    own_text(&l->pages[i], "TRAINING, NOT FOR SERVICE"));
		ck_assert_str_eq(own_text(&l->pages[i], "REPRINT"), "REPRINT 7");
	}
	ck_assert_int_eq(
	    ticket_render(&bm, t, 2, true, 7, &m, fonts, NULL), RC_OK);
	/* White on black from margin to margin. */
	for (x = 0; x < bm->width; x++)
		black += bitmap_get(bm, x, 13);
	ck_assert_int_eq(black, bm->width - 24);
	bitmap_free(bm);
	ticket_layout_free(plain);
	ticket_layout_free(l);
	ticket_free(t);
}
END_TEST

/* A tick box is an outline of 3.25 mm with its capitals beside it. */
START_TEST(boxes)
{
	const struct label_media m = { 80, 0, 203 };
	struct ticket *t = ticket_new();
	struct bitmap *bm;
	int i;

	ticket_add(t, TICKET_TICK, "H", NULL);
	ck_assert_int_eq(
	    ticket_render(&bm, t, 1, false, 0, &m, fonts, NULL), RC_OK);
	for (i = 0; i < 26; i++) {
		ck_assert(bitmap_get(bm, 12 + i, 12));
		ck_assert(bitmap_get(bm, 12 + i, 12 + 25));
		ck_assert(bitmap_get(bm, 12, 12 + i));
		ck_assert(bitmap_get(bm, 12 + 25, 12 + i));
	}
	for (i = 3; i < 23; i++)
		ck_assert(!bitmap_get(bm, 12 + i, 12 + 13));
	ck_assert(!bitmap_get(bm, 12 + 26, 12));
	ck_assert(!bitmap_get(bm, 12, 12 + 26));
	/* H: white above and below in the box's height, alike within a dot. */
	for (i = 0; !bitmap_get(bm, 12 + 38 + 2, 12 + i); i++)
		;
	ck_assert_int_ge(i, 3);
	ck_assert_int_le(i, 5);
	bitmap_free(bm);
	ticket_free(t);
}
END_TEST

START_TEST(refused)
{
	static const struct {
		struct label_media m;
		int page, reprint;
		const char *left, *says;
	} rows[] = {
		{ { 47, 0, 203 }, 1, 0, "a", "no list on a roll of 47 mm" },
		{ { 121, 0, 203 }, 1, 0, "a", "no list on a roll of 121 mm" },
		{ { 80, 59, 203 }, 1, 0, "a", "in pages of 59 mm" },
		{ { 80, 301, 203 }, 1, 0, "a", "in pages of 301 mm" },
		{ { 80, 0, 204 }, 1, 0, "a", "at 204 dpi" },
		{ { 80, 0, 203 }, 0, 0, "a", "no page 0, it has 1" },
		{ { 80, 0, 203 }, 2, 0, "a", "no page 2, it has 1" },
		{ { 80, 0, 203 }, 1, 1000, "a", "reprint 1000 is outside" },
		{ { 80, 0, 203 }, 1, -1, "a", "reprint -1 is outside" },
		{ { 80, 0, 203 }, 1, 0, "salt \xe2\x82\xbf\xef\xbf\xbf",
		    "line 1 of the list, \"salt" },
		{ { 80, 0, 203 }, 1, 0, "\xd8\xb3", "cannot set the character" },
		{ { 80, 0, 203 }, 1, 0, NULL, "the list has no lines" },
	};
	struct ticket *t = ticket_new();
	struct err err = { 0 };
	struct bitmap *bm;

	if (rows[_i].left != NULL)
		ticket_add(t, TICKET_LINE, rows[_i].left, NULL);
	ck_assert_int_eq(ticket_render(&bm, t, rows[_i].page, false,
			     rows[_i].reprint, &rows[_i].m, fonts, &err),
	    RC_INVALID);
	ck_assert_ptr_null(bm);
	ck_assert_msg(
	    strstr(err.text, rows[_i].says) != NULL, "%s", err.text);
	ticket_free(t);
}
END_TEST
#define REFUSED 12

/* A title that leaves no room is refused, not drawn for ever. */
START_TEST(title_too_long)
{
	const struct label_media m = { 48, 60, 203 };
	struct ticket *t = ticket_new();
	struct err err = { 0 };
	char title[2000] = "";
	int i, pages;

	for (i = 0; i < 60; i++)
		strcat(title, "Recall ");
	ticket_add(t, TICKET_TITLE, title, NULL);
	ticket_add(t, TICKET_LINE, "a", NULL);
	ck_assert_int_eq(ticket_pages(&pages, t, &m, fonts, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "leaves no room on a page"));
	ticket_free(t);
}
END_TEST

/* An entry longer than a page goes on, row by row, under its head. */
START_TEST(entry_longer_than_a_page)
{
	const struct label_media m = { 58, 60, 203 };
	struct ticket *t = ticket_new();
	char why[2600] = "";
	int i;

	for (i = 0; i < 300; i++)
		strcat(why, i % 7 == 0 ? "12 kg " : "yield ");
	ticket_add(t, TICKET_TITLE, "Prep", NULL);
	ticket_add(t, TICKET_HEAD, "Why", NULL);
	ticket_add(t, TICKET_TICK, "Roast hake", "4 min");
	ticket_add(t, TICKET_SMALL, why, NULL);
	ticket_add(t, TICKET_LINE, "after it", NULL);
	check_all(t, &m, true, 3);
	ck_assert_int_eq(ticket_pages(&i, t, &m, fonts, NULL), RC_OK);
	ck_assert_int_gt(i, 3);
	ticket_free(t);
}
END_TEST

/* A head that fills a page is not said again on the next. */
START_TEST(head_longer_than_a_page)
{
	const struct label_media m = { 58, 60, 203 };
	struct ticket *t = ticket_new();
	struct ticket_layout *l;
	char head[900] = "";
	size_t i, j;

	for (i = 0; i < 120; i++)
		strcat(head, "group ");
	ticket_add(t, TICKET_TITLE, "Prep", NULL);
	ticket_add(t, TICKET_HEAD, head, NULL);
	for (i = 0; i < 9; i++)
		ticket_add(t, TICKET_TICK, "Roast hake", "4 min");
	l = lay_out(t, false, 0, &m);
	seen_free(check_whole(t, l), ticket_count(t));
	for (i = 0; i < l->count; i++)
		for (j = 0; j < l->pages[i].count; j++)
			ck_assert(!l->pages[i].pieces[j].again ||
			    l->pages[i].pieces[j].line == 0);
	ticket_layout_free(l);
	ticket_free(t);
}
END_TEST

Suite *
suite_labels_ticket(void)
{
	Suite *s = suite_create("labels_ticket");
	TCase *tc = tcase_create("text");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, text_round_trip, 0, 40);
	tcase_add_loop_test(tc, text_refused, 0, TEXT_REFUSED);
	tcase_add_test(tc, text_empty);
	tcase_add_test(tc, on_screen);
	tcase_add_loop_test(tc, kept_together, 0, KEPT_TOGETHER);
	suite_add_tcase(s, tc);
	tc = tcase_create("pages");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, any_list, 0, 60);
	tcase_add_loop_test(tc, page_breaks, 0, 8);
	tcase_add_test(tc, pages_are_full);
	tcase_add_loop_test(tc, sizes, 0, 2);
	tcase_add_loop_test(tc, wide_words, 0, 2);
	tcase_add_test(tc, right_text);
	tcase_add_loop_test(tc, marks, 0, 2);
	tcase_add_test(tc, boxes);
	tcase_add_loop_test(tc, refused, 0, REFUSED);
	tcase_add_test(tc, title_too_long);
	tcase_add_test(tc, entry_longer_than_a_page);
	tcase_add_test(tc, head_longer_than_a_page);
	suite_add_tcase(s, tc);
	return s;
}
