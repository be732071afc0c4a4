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

#include "base/str.h"
#include "chance.h"
#include "labels/ticket.h"
#include "ticket_judge.h"

static struct fonts *fonts;
static uint64_t seed;

static void
setup(void)
{
	fonts = judge_open();
	seed = 20261125;
}

static void
teardown(void)
{
	judge_close();
}

static int
chance(int n)
{
	return (int)(chance_next(&seed) % (uint64_t)n);
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
		repeat_text(dst, 256, some[chance((int)NELEM(some))], 1);
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
	ck_assert_msg(
	    ticket_read(&back, buf_text(&text), &err) == RC_OK, "%s", err.text);
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
		{ "Title\ta\tb\n", "line 1 of the list: its style", "capital" },
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

	ck_assert_msg(ticket_read(&t, rows[_i].text, &err) == RC_INVALID, "%s",
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

/* --- drawn --- */

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
		repeat_text(word, sizeof(word), "m", 1);
		t = ticket_new();
		ticket_add(t, TICKET_TITLE, "List", NULL);
		ticket_add(t, TICKET_LINE, word, NULL);
		if (ticket_layout_make(&l, t, false, 0, &m, fonts, &err) !=
		    RC_OK)
			break;
		smallest = l->pages[0].pieces[1].px;
		width = ink_of(&l->pages[0].pieces[1]).right;
		ck_assert_int_ge(smallest, judge_dots(2000, m.dpi));
		ck_assert_int_le(smallest, judge_dots(3000, m.dpi));
		ticket_layout_free(l);
		ticket_free(t);
	}
	/* The last that fitted is the smallest, and uses the roll. */
	ck_assert_int_eq(smallest, judge_dots(2000, m.dpi));
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
			ck_assert_int_gt(
			    ink_of(left).top, ink_of(right).bottom);
	}
	ticket_layout_free(l);
	ticket_free(t);
}
END_TEST

START_TEST(marks)
{
	const struct label_media m = { _i == 0 ? 48 : 120, 0, 203 };
	struct ticket *t = ticket_entries(40);
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
		ck_assert_str_eq(
		    own_text(&l->pages[i], "REPRINT"), "REPRINT 7");
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
		{ { 80, 0, 203 }, 1, 0, "\xd8\xb3",
		    "cannot set the character" },
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
	ck_assert_msg(strstr(err.text, rows[_i].says) != NULL, "%s", err.text);
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
	int pages;

	repeat_text(title, sizeof(title), "Recall ", 60);
	ticket_add(t, TICKET_TITLE, title, NULL);
	ticket_add(t, TICKET_LINE, "a", NULL);
	ck_assert_int_eq(ticket_pages(&pages, t, &m, fonts, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "leaves no room on a page"));
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
	tc = tcase_create("drawn");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, sizes, 0, 2);
	tcase_add_loop_test(tc, wide_words, 0, 2);
	tcase_add_test(tc, right_text);
	tcase_add_loop_test(tc, marks, 0, 2);
	tcase_add_test(tc, boxes);
	tcase_add_loop_test(tc, refused, 0, REFUSED);
	tcase_add_test(tc, title_too_long);
	suite_add_tcase(s, tc);
	return s;
}
