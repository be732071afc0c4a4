/*
 * test_labels_ticket_pages.c - long lists: whatever stands on them, whatever
 * the roll, every line is on one page, once, and no page hides that there are
 * more.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
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

/* Words a kitchen writes, from one letter to as wide as the narrowest roll. */
static void
random_words(char *dst, size_t size, int words)
{
	static const char *const some[] = { "hake", "beans,", "26338-011",
		"790", "g", "3", "x", "W", "Merluccius", "\xc3\x89glefin",
		"Sun", "6", "Dec", "23:59",
		"R\xc3\xb8"
		"dsp\xc3\xa6tte",
		"jjj", "0.5", "kg;", "Hippoglossus" };

	for (dst[0] = '\0'; words > 0; words--) {
		if (strlen(dst) + 32 > size)
			return;
		repeat_text(dst, size, some[chance((int)NELEM(some))], 1);
		if (words > 1)
			repeat_text(dst, size, chance(20) == 0 ? "  " : " ", 1);
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
		    style == TICKET_SMALL ? NULL
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
		t = ticket_entries(n);
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

/* Who signs needs words, room and rule on one page. */
START_TEST(signature_is_kept)
{
	struct label_media m = { 80, 0, 203 };
	const struct ticket_page *page;
	struct ticket_layout *l;
	struct ticket *t;
	size_t i, seen, words;
	int n;

	/* Pages of every length, so that they end at each of its lines. */
	for (n = 1; n <= 140; n++) {
		m.height_mm = 60 + n;
		t = ticket_entries(12);
		ticket_add(t, TICKET_RULE, NULL, NULL);
		words = ticket_count(t);
		ticket_add(t, TICKET_LINE, "Checked by, when", NULL);
		ticket_add(t, TICKET_LINE, NULL, NULL);
		ticket_add(t, TICKET_LINE, NULL, NULL);
		ticket_add(t, TICKET_RULE, NULL, NULL);
		l = lay_out(t, false, 0, &m);
		page = &l->pages[l->count - 1];
		for (i = 0, seen = 0; i < page->count; i++)
			seen += page->pieces[i].line == words - 1 ||
			    page->pieces[i].line == words ||
			    page->pieces[i].line == words + 3;
		ck_assert_msg(seen == 3, "%d mm: %zu of 3", 60 + n, seen);
		ticket_layout_free(l);
		ticket_free(t);
	}
}
END_TEST

/* A page is filled: the entry that opens the next one had no room here. */
START_TEST(pages_are_full)
{
	const struct label_media m = { 80, 0, 203 };
	struct ticket *t = ticket_entries(60);
	struct ticket_layout *l = lay_out(t, true, 1, &m);
	int longest = label_mm_to_dots(200, 203), entry = 26 + 3 * 22 + 13;
	size_t i;

	ck_assert_uint_ge(l->count, 3);
	for (i = 0; i + 1 < l->count; i++)
		ck_assert_int_gt(l->pages[i].height, longest - entry - 60);
	ticket_layout_free(l);
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

	repeat_text(why, sizeof(why), "12 kg yield yield yield ", 80);
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

	repeat_text(head, sizeof(head), "group ", 120);
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
suite_labels_ticket_pages(void)
{
	Suite *s = suite_create("labels_ticket_pages");
	TCase *tc = tcase_create("pages");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, any_list, 0, 60);
	tcase_add_loop_test(tc, page_breaks, 0, 8);
	tcase_add_test(tc, signature_is_kept);
	tcase_add_test(tc, pages_are_full);
	tcase_add_test(tc, entry_longer_than_a_page);
	tcase_add_test(tc, head_longer_than_a_page);
	suite_add_tcase(s, tc);
	return s;
}
