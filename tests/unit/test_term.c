/*
 * test_term.c - canvas, keys, scanner bursts and lists of the station.  Columns
 * of characters are those of East Asian Width (UAX 11).
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "term/list.h"
#include "term/pager.h"
#include "term/scanner.h"

static struct canvas canvas;

static struct pane
fresh(int w, int h)
{
	canvas_fini(&canvas);
	canvas_init(&canvas, w, h);
	return pane_whole(&canvas);
}

static const char *
seen(void)
{
	static struct buf text;

	buf_fini(&text);
	buf_init(&text, 100000);
	canvas_text(&text, &canvas);
	return buf_text(&text);
}

/* --- canvas ----------------------------------------------------------------*/

START_TEST(text_that_does_not_fit_is_left_out)
{
	struct pane p = fresh(6, 2), part;

	ck_assert_int_eq(pane_put(&p, 3, 0, STYLE_PLAIN, "abcdef"), 9);
	pane_put(&p, -2, 1, STYLE_PLAIN, "xyz");
	pane_put(&p, 0, 2, STYLE_PLAIN, "below");
	pane_put(&p, 0, -1, STYLE_PLAIN, "above");
	ck_assert_str_eq(seen(), "   abc\nz\n");
	part = pane_part(&p, 2, 0, 99, 99);
	ck_assert_int_eq(part.w, 4);
	ck_assert_int_eq(part.h, 2);
	part = pane_part(&p, 7, 0, 2, 2);
	pane_put(&part, 0, 0, STYLE_PLAIN, "no");
	ck_assert_str_eq(seen(), "   abc\nz\n");
}
END_TEST

START_TEST(cut_text_ends_in_an_ellipsis)
{
	struct pane p = fresh(10, 3);

	ck_assert_int_eq(pane_cut(&p, 0, 0, 5, STYLE_PLAIN, "tronçons"), 5);
	pane_put(&p, 5, 0, STYLE_PLAIN, "|");
	pane_cut(&p, 0, 1, 5, STYLE_PLAIN, "cod");
	pane_put(&p, 5, 1, STYLE_PLAIN, "|");
	pane_right(&p, 10, 2, STYLE_PLAIN, "12.4 kg");
	ck_assert_str_eq(seen(), "tron…|\ncod  |\n   12.4 kg\n");
}
END_TEST

START_TEST(wide_characters_take_two_columns)
{
	struct pane p = fresh(6, 2);

	ck_assert_int_eq(glyph_columns(0x9c7c), 2); /* fish, UAX 11: W */
	ck_assert_int_eq(glyph_columns('a'), 1);
	ck_assert_int_eq(glyph_columns(0xe9), 1);
	ck_assert_int_eq(glyph_columns(0x301), 0); /* combining acute */
	ck_assert_int_eq(glyph_columns(0x07), 0);
	pane_put(&p, 0, 0, STYLE_PLAIN, "鱼a鱼b");
	ck_assert_str_eq(seen(), "鱼a鱼b\n\n");
	/* half of one overwritten: no other half stays */
	pane_put(&p, 1, 0, STYLE_PLAIN, "x");
	pane_put(&p, 3, 0, STYLE_PLAIN, "y");
	ck_assert_str_eq(seen(), " xay b\n\n");
	pane_put(&p, 5, 1, STYLE_PLAIN, "鱼"); /* would stand out */
	ck_assert_str_eq(seen(), " xay b\n\n");
}
END_TEST

START_TEST(text_is_broken_between_words)
{
	struct pane p = fresh(8, 5);

	ck_assert_int_eq(
	    pane_wrap(&p, 0, STYLE_PLAIN, "keep it cold\nmonkfishtails"), 4);
	ck_assert_str_eq(seen(), "keep it\ncold\nmonkfish\ntails\n\n");
	ck_assert_int_eq(pane_wrap_rows(8, "keep it cold\nmonkfishtails"), 4);
	ck_assert_int_eq(pane_wrap_rows(8, ""), 0);
	ck_assert_int_eq(pane_wrap_rows(8, "\n\n"), 2);
	ck_assert_int_eq(pane_wrap_rows(0, "x"), 0);
}
END_TEST

START_TEST(a_bar_is_never_empty_for_something)
{
	struct pane p = fresh(4, 4);

	pane_bar(&p, 0, 0, 4, STYLE_PLAIN, 1, 1000);
	pane_bar(&p, 0, 1, 4, STYLE_PLAIN, 0, 1000);
	pane_bar(&p, 0, 2, 4, STYLE_PLAIN, 5000, 1000);
	pane_bar(&p, 0, 3, 4, STYLE_PLAIN, 500, 1000);
	ck_assert_str_eq(seen(), "█···\n····\n████\n██··\n");
}
END_TEST

START_TEST(large_digits_are_three_rows_of_half_cells)
{
	struct pane p = fresh(12, 3);

	ck_assert_int_eq(big_columns("14"), 7);
	ck_assert_int_eq(pane_big(&p, 0, 0, STYLE_PLAIN, "14"), 8);
	ck_assert_str_eq(seen(), "▄█  █ █\n █  ▀▀█\n▀▀▀   ▀\n");
	ck_assert_int_eq(big_columns(""), 0);
	ck_assert_int_eq(big_columns("é"), big_columns("e"));
}
END_TEST

START_TEST(a_canvas_is_brought_into_its_limits)
{
	struct pane p = fresh(0, -3);

	ck_assert_int_eq(p.w, 1);
	ck_assert_int_eq(p.h, 1);
	p = fresh(10000, 10000);
	ck_assert_int_eq(p.w, CANVAS_MAX);
	ck_assert_int_eq(p.h, CANVAS_MAX);
}
END_TEST

/* --- keys ------------------------------------------------------------------*/

START_TEST(every_key_has_a_name_that_reads_back)
{
	char name[KEY_NAME_SIZE];
	struct key k, back;
	int code;

	for (code = KEY_CODE_ENTER; code < (int)KEY_CODE_COUNT; code++) {
		k = key_of((enum key_code)code);
		key_label(name, &k);
		ck_assert_msg(name[0] != '\0', "key %d has no name", code);
		ck_assert(key_parse(&back, name));
		ck_assert_int_eq(back.code, k.code);
	}
	ck_assert(key_parse(&back, "u"));
	ck_assert(key_is(&back, 'U'));
	ck_assert(!key_parse(&back, "F13"));
	ck_assert(!key_parse(&back, "F0"));
	ck_assert(!key_parse(&back, ""));
	ck_assert(!key_parse(&back, "nothing"));
}
END_TEST

/* --- scanner ---------------------------------------------------------------*/

struct heard {
	char text[400]; /* keys as they are, [scan], < for a take back */
};

static struct scanner scanner;
static struct heard heard;

static void
hear(void *arg, const struct scanner_event *e)
{
	struct heard *h = arg;
	size_t n = strlen(h->text), size = sizeof(h->text) - n;
	char name[KEY_NAME_SIZE];

	if (e->take_back)
		str_fmt(h->text + n, size, "<");
	n = strlen(h->text);
	size = sizeof(h->text) - n;
	if (e->says == SCANNER_KEY)
		str_fmt(h->text + n, size, "%s", key_label(name, &e->key));
	else if (e->says == SCANNER_CUT)
		str_fmt(h->text + n, size, "(cut)");
	else
		str_fmt(h->text + n, size, "[%s]", scanner.text);
}

/* Characters `gap` ms apart from `at` on, then a pause or Enter ('\n'). */
static int64_t
send(const char *text, int64_t at, int gap, bool typing)
{
	struct key k;

	for (; *text != '\0'; text++) {
		k = *text == '\n' ? key_of(KEY_CODE_ENTER)
				  : key_char((uint32_t)(unsigned char)*text);
		scanner_key(&scanner, &k, at, typing, hear, &heard);
		at += gap;
	}
	return at;
}

static void
start(void)
{
	memset(&scanner, 0, sizeof(scanner));
	memset(&heard, 0, sizeof(heard));
	scanner_pause(&scanner, 0, hear, &heard);
}

START_TEST(a_burst_is_a_scan_and_its_enter_is_swallowed)
{
	start();
	send("000-01U91\n", 1000, 2, false);
	ck_assert_str_eq(heard.text, "[000-01U91]");
	start();
	send("000-01U91\n", 1000, 2, true); /* into a field: taken back */
	ck_assert_str_eq(heard.text, "0<[000-01U91]");
}
END_TEST

START_TEST(typing_stays_typing_however_quick_the_hands)
{
	int64_t at;

	start();
	at = send("plaice\n", 1000, 60, true);
	scanner_pause(&scanner, at + 60, hear, &heard);
	ck_assert_str_eq(heard.text, "plaiceEnter");
	start();
	/* two keys rolled over: 10 ms apart */
	at = send("ab", 1000, 10, false);
	ck_assert_str_eq(heard.text, "");
	ck_assert_int_le(scanner_wait(&scanner, at), SCANNER_GAP_MS);
	scanner_pause(&scanner, at + SCANNER_GAP_MS, hear, &heard);
	ck_assert_str_eq(heard.text, "ab");
	ck_assert_int_eq(scanner_wait(&scanner, at), -1);
}
END_TEST

START_TEST(a_label_that_stops_in_the_middle_is_not_used)
{
	int64_t at;

	start();
	at = send("0104012345", 1000, 5, true);
	scanner_pause(&scanner, at + SCANNER_GAP_MS, hear, &heard);
	ck_assert_str_eq(heard.text, "0"); /* the rest may yet come */
	at = send("67", at + 200, 5, true);
	scanner_pause(&scanner, at + SCANNER_END_MS, hear, &heard);
	ck_assert_str_eq(heard.text, "0<(cut)");
	/* and the Enter somebody presses later is theirs */
	send("\n", at + 900, 0, false);
	ck_assert_str_eq(heard.text, "0<(cut)Enter");
	/* what follows at once is the rest of it, later it is another */
	start();
	at = send("0104012345", 1000, 5, false);
	scanner_pause(&scanner, at + SCANNER_END_MS, hear, &heard);
	at = send("3100012\n", at + 500, 5, false);
	ck_assert_str_eq(heard.text, "(cut)(cut)");
	send("000-01U\n", at + SCANNER_REST_MS, 5, false);
	ck_assert_str_eq(heard.text, "(cut)(cut)[000-01U]");
}
END_TEST

START_TEST(other_keys_wait_for_nothing)
{
	struct key f3 = key_of(KEY_CODE_F1 + 2);

	start();
	send("u", 1000, 0, false);
	scanner_key(&scanner, &f3, 1001, false, hear, &heard);
	ck_assert_str_eq(heard.text, "uF3");
}
END_TEST

START_TEST(separators_and_letters_beyond_ascii_are_kept)
{
	struct key k = key_char(0xe9);

	start();
	send("10AB\x1d", 1000, 2, false);
	scanner_key(&scanner, &k, 1011, false, hear, &heard);
	send("37\n", 1013, 2, false);
	ck_assert_str_eq(heard.text, "[10AB\x1dé37]");
}
END_TEST

START_TEST(a_scan_beyond_the_limit_is_marked)
{
	struct key k = key_char('x'), enter = key_of(KEY_CODE_ENTER);
	int i;

	start();
	for (i = 0; i < SCANNER_MAX + 10; i++)
		scanner_key(&scanner, &k, 1000 + i, false, hear, &heard);
	ck_assert(scanner.too_long);
	ck_assert_uint_eq(scanner.len, SCANNER_MAX);
	scanner_key(&scanner, &enter, 1000 + i, false, hear, &heard);
	ck_assert(!scanner.too_long);
	ck_assert_uint_eq(scanner.len, 0);
}
END_TEST

/* --- lists -----------------------------------------------------------------*/

static void
press(struct list *l, const char *keys)
{
	struct key k;

	for (; *keys != '\0'; keys++) {
		k = *keys == 'D'   ? key_of(KEY_CODE_DOWN)
		    : *keys == 'U' ? key_of(KEY_CODE_UP)
				   : key_char((uint32_t)*keys);
		(void)list_key(l, &k);
	}
}

static void
row(const void *arg, int i, const struct pane *p, enum style style)
{
	(void)arg;
	pane_fmt(p, 0, 0, style, "row %c", 'a' + i);
}

START_TEST(rows_are_chosen_by_arrows_and_numbers)
{
	struct list l = { .count = 12 };

	list_fit(&l);
	press(&l, "DDU");
	ck_assert_int_eq(l.at, 1);
	press(&l, "12");
	ck_assert_int_eq(l.at, 11);
	press(&l, "3");
	ck_assert_int_eq(l.at, 2); /* 123 is none: a new number begins */
	press(&l, "UUUUU");
	ck_assert_int_eq(l.at, 0);
	l.count = 0;
	list_fit(&l);
	press(&l, "D5");
	ck_assert_int_eq(l.at, -1);
	l.count = 3;
	list_fit(&l);
	ck_assert_int_eq(l.at, 0);
}
END_TEST

START_TEST(the_chosen_row_is_always_seen)
{
	struct list l = { .count = 9, .at = 6 };
	struct pane p = fresh(10, 3);

	list_draw(&l, &p, row, NULL);
	ck_assert_str_eq(seen(), "  5 row e↑\n  6 row f\n  7 row g↓\n");
	l.count = 2;
	p = fresh(10, 3);
	list_draw(&l, &p, row, NULL);
	ck_assert_str_eq(seen(), "  1 row a\n  2 row b\n\n");
	ck_assert_int_eq(l.at, 1);
}
END_TEST

START_TEST(a_long_text_is_read_in_pages)
{
	struct pager g = { .text = NULL };
	struct pane p = fresh(12, 3);
	struct key down = key_of(KEY_CODE_PAGE_DOWN);

	pager_set(&g, "one\ntwo\nthree\nfour\nfive\n");
	pager_draw(&g, &p);
	ck_assert_str_eq(seen(), "one\ntwo\nthree      ↓\n");
	ck_assert(pager_key(&g, &down));
	p = fresh(12, 3);
	pager_draw(&g, &p);
	ck_assert_str_eq(seen(), "three      ↑\nfour\nfive\n");
	pager_fini(&g);
}
END_TEST

Suite *
suite_term(void)
{
	Suite *s = suite_create("term");
	TCase *t = tcase_create("canvas");

	tcase_add_test(t, text_that_does_not_fit_is_left_out);
	tcase_add_test(t, cut_text_ends_in_an_ellipsis);
	tcase_add_test(t, wide_characters_take_two_columns);
	tcase_add_test(t, text_is_broken_between_words);
	tcase_add_test(t, a_bar_is_never_empty_for_something);
	tcase_add_test(t, large_digits_are_three_rows_of_half_cells);
	tcase_add_test(t, a_canvas_is_brought_into_its_limits);
	tcase_add_test(t, every_key_has_a_name_that_reads_back);
	suite_add_tcase(s, t);
	t = tcase_create("scanner");
	tcase_add_test(t, a_burst_is_a_scan_and_its_enter_is_swallowed);
	tcase_add_test(t, typing_stays_typing_however_quick_the_hands);
	tcase_add_test(t, a_label_that_stops_in_the_middle_is_not_used);
	tcase_add_test(t, other_keys_wait_for_nothing);
	tcase_add_test(t, separators_and_letters_beyond_ascii_are_kept);
	tcase_add_test(t, a_scan_beyond_the_limit_is_marked);
	suite_add_tcase(s, t);
	t = tcase_create("lists");
	tcase_add_test(t, rows_are_chosen_by_arrows_and_numbers);
	tcase_add_test(t, the_chosen_row_is_always_seen);
	tcase_add_test(t, a_long_text_is_read_in_pages);
	suite_add_tcase(s, t);
	return s;
}
