/*
 * test_base_buf.c - growable bytes, the error record, allocators and the
 * one-bit raster.  These are this program's own; no outside source exists.
 */
#include "unit.h"

#include <signal.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/mem.h"
#include "base/str.h"

START_TEST(appending)
{
	struct buf b;

	buf_init(&b, 100);
	ck_assert_str_eq(buf_text(&b), "");
	buf_puts(&b, "ab");
	buf_putc(&b, 'c');
	buf_add(&b, "d\0e", 3);
	buf_printf(&b, "%d", 42);
	buf_add(&b, NULL, 0);
	ck_assert_uint_eq(b.len, 8);
	ck_assert_int_eq(memcmp(buf_text(&b), "abcd\0e42", 9), 0);
	ck_assert_int_eq(buf_check(&b, "it", NULL), RC_OK);
	buf_clear(&b);
	ck_assert_uint_eq(b.len, 0);
	ck_assert_str_eq(buf_text(&b), "");
	buf_fini(&b);
	buf_puts(&b, "again");
	ck_assert_str_eq(buf_text(&b), "again");
	buf_fini(&b);
	buf_fini(&b);
}
END_TEST

/* What does not fit is left out whole, and is not forgotten. */
START_TEST(the_maximum)
{
	struct err err = { .rc = RC_OK };
	struct buf b;

	buf_init(&b, 5);
	buf_puts(&b, "12345");
	ck_assert_int_eq(buf_check(&b, "it", &err), RC_OK);
	buf_clear(&b);
	buf_puts(&b, "1234");
	buf_puts(&b, "56");
	ck_assert_str_eq(buf_text(&b), "1234");
	buf_printf(&b, "%d", 56);
	ck_assert_str_eq(buf_text(&b), "1234");
	buf_putc(&b, '5');
	ck_assert_str_eq(buf_text(&b), "12345");
	ck_assert_int_eq(buf_check(&b, "it", &err), RC_INVALID);
	ck_assert_str_eq(err.text, "it is larger than 5 bytes");
	buf_clear(&b);
	ck_assert_int_eq(buf_check(&b, "it", NULL), RC_OK);
	buf_fini(&b);
	buf_init(&b, 0);
	buf_puts(&b, "");
	ck_assert_int_eq(buf_check(&b, "it", NULL), RC_OK);
	buf_putc(&b, 'x');
	ck_assert_int_eq(buf_check(&b, "it", NULL), RC_INVALID);
	buf_fini(&b);
	buf_init(&b, SIZE_MAX / 4);
	buf_puts(&b, "x");
	buf_add(&b, "y", SIZE_MAX); /* no sum may wrap around */
	ck_assert_str_eq(buf_text(&b), "x");
	buf_fini(&b);
}
END_TEST

START_TEST(growing)
{
	struct buf b;
	int i;

	buf_init(&b, 10000);
	for (i = 0; i < 1000; i++)
		buf_printf(&b, "%04d", i);
	ck_assert_uint_eq(b.len, 4000);
	ck_assert_int_eq(memcmp(buf_text(&b) + 3996, "0999", 5), 0);
	buf_fini(&b);
}
END_TEST

START_TEST(first_error_stays)
{
	struct err err = { .rc = RC_OK };

	ck_assert_int_eq(err_set(&err, RC_RETRY, 7, "first %d", 1), RC_RETRY);
	ck_assert_int_eq(err_set(&err, RC_FATAL, 8, "second"), RC_FATAL);
	ck_assert_int_eq(err.rc, RC_RETRY);
	ck_assert_int_eq(err.lib, 7);
	ck_assert_str_eq(err.text, "first 1");
	err_prefix(&err, "row %d: ", 3);
	ck_assert_str_eq(err.text, "row 3: first 1");
	err_clear(&err);
	ck_assert_int_eq(err.rc, RC_OK);
	ck_assert_str_eq(err.text, "");
	err_prefix(&err, "nothing to say");
	ck_assert_str_eq(err.text, "");
	ck_assert_int_eq(err_set(NULL, RC_INVALID, 0, "nobody"), RC_INVALID);
	err_clear(NULL);
	err_prefix(NULL, "nobody");
}
END_TEST

static const struct line_row {
	const char *in, *out, *why;
} line_rows[] = {
	{ "a\nb", "a?b", "a message is one line" },
	{ "a\r\nb", "a??b", "a message is one line" },
	{ "\x1b[2J", "?[2J", "no escape sequence reaches a terminal" },
	{ "caf\xc3\xa9", "caf\xc3\xa9", "UTF-8 stays" },
	{ "caf\xe9 x", "caf? x", "a message is UTF-8" },
	{ "\xc2\x9b", "??", "C1 control" },
};

START_TEST(line_row)
{
	const struct line_row *r = &line_rows[_i];
	struct err err = { .rc = RC_OK };

	ck_assert_int_eq(err_set(&err, RC_INVALID, 0, "%s", r->in), RC_INVALID);
	ck_assert_msg(
	    strcmp(err.text, r->out) == 0, "%s: %s", r->why, err.text);
	err_prefix(&err, "%s", r->in);
	ck_assert_uint_eq(strlen(err.text), 2 * strlen(r->in));
	ck_assert(text_check("text", err.text, 100, false, NULL) == RC_OK);
}
END_TEST

/* A cut in the middle of a letter leaves no half letter. */
START_TEST(long_messages)
{
	struct err err = { .rc = RC_OK };
	char text[ERR_TEXT_MAX * 2 + 1];
	size_t i;

	for (i = 0; i + 1 < sizeof(text); i += 2)
		memcpy(text + i, "\xc3\xa9", 2);
	text[sizeof(text) - 1] = '\0';
	ck_assert_int_eq(err_set(&err, RC_INVALID, 0, "%s", text), RC_INVALID);
	ck_assert_uint_eq(strlen(err.text), ERR_TEXT_MAX - 1);
	ck_assert(utf8_valid(err.text, strlen(err.text)));
	err_prefix(&err, "%s", text);
	ck_assert_uint_eq(strlen(err.text), ERR_TEXT_MAX - 1);
	ck_assert(utf8_valid(err.text, strlen(err.text)));
}
END_TEST

START_TEST(code_words)
{
	ck_assert_str_eq(rc_word(RC_OK), "ok");
	ck_assert_str_eq(rc_word(RC_REFUSED), "refused");
	ck_assert_str_eq(rc_word((enum rc)99), "?");
	ck_assert_int_eq(rc_exit_status(RC_OK), 0);
	ck_assert_int_eq(rc_exit_status(RC_FAILED), 1);
	ck_assert_int_eq(rc_exit_status(RC_INVALID), 2);
	ck_assert_int_eq(rc_exit_status(RC_REFUSED), 3);
	ck_assert_int_eq(rc_exit_status(RC_FATAL), 70);
	ck_assert_int_ne(rc_exit_status((enum rc)99), 0);
}
END_TEST

START_TEST(memory)
{
	int *items = NULL;
	size_t cap = 0, i;
	char *s = xstrdup("copy");
	char *zero = xcalloc(3, 1);

	ck_assert_str_eq(s, "copy");
	ck_assert_int_eq(zero[0] | zero[1] | zero[2], 0);
	free(s);
	free(zero);
	free(xcalloc(0, 0));
	for (i = 0; i < 1000; i++) {
		items = grow(items, &cap, i, sizeof(*items));
		ck_assert_uint_gt(cap, i);
		items[i] = (int)i;
	}
	for (i = 0; i < 1000; i++)
		ck_assert_int_eq(items[i], (int)i);
	free(items);
}
END_TEST

/* Check expects the signal: the program must not go on. */
START_TEST(memory_overflow)
{
	close(STDERR_FILENO); /* the message is for a person */
	free(xrealloc(NULL, SIZE_MAX / 2 + 2, 2));
}
END_TEST

START_TEST(raster)
{
	struct bitmap *bm = bitmap_new(13, 3);

	ck_assert_uint_eq(bm->stride, 2);
	ck_assert(!bitmap_get(bm, 0, 0));
	bitmap_set(bm, 0, 0, true);
	bitmap_set(bm, 12, 2, true);
	ck_assert_uint_eq(bm->bits[0], 0x80); /* leftmost is the high bit */
	ck_assert_uint_eq(bm->bits[5], 0x08);
	ck_assert(bitmap_get(bm, 12, 2));
	bitmap_set(bm, 0, 0, false);
	ck_assert(!bitmap_get(bm, 0, 0));
	ck_assert(!bitmap_get(bm, -1, 0));
	ck_assert(!bitmap_get(bm, 0, -1));
	ck_assert(!bitmap_get(bm, 13, 0));
	ck_assert(!bitmap_get(bm, 12, 3));
	bitmap_fill(bm, 6, 0, 4, 2, true);
	ck_assert_uint_eq(bm->bits[0], 0x03);
	ck_assert_uint_eq(bm->bits[1], 0xc0);
	ck_assert_uint_eq(bm->bits[4], 0x00);
	bitmap_invert(bm, 0, 0, 13, 1);
	ck_assert_uint_eq(bm->bits[0], 0xfc);
	ck_assert_uint_eq(bm->bits[1], 0x38); /* padding stays white */
	ck_assert_uint_eq(bm->bits[2], 0x03);
	bitmap_free(bm);
	bitmap_free(NULL);
}
END_TEST

Suite *
suite_base_buf(void)
{
	Suite *s = suite_create("base_buf");
	TCase *t = tcase_create("all");

	tcase_add_test(t, appending);
	tcase_add_test(t, the_maximum);
	tcase_add_test(t, growing);
	tcase_add_test(t, first_error_stays);
	tcase_add_loop_test(t, line_row, 0, (int)NELEM(line_rows));
	tcase_add_test(t, long_messages);
	tcase_add_test(t, code_words);
	tcase_add_test(t, memory);
	tcase_add_test_raise_signal(t, memory_overflow, SIGABRT);
	tcase_add_test(t, raster);
	suite_add_tcase(s, t);
	return s;
}
