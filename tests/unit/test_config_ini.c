/*
 * test_config_ini.c - ini files as the station reads them: what is written is
 * what is read, or the file is refused.  Nothing is dropped, cut or joined
 * unseen, for a figure that goes missing is a limit that goes missing.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "config/ini.h"
#include "kitchen.h"

#define X50 "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *want; /* "[section] key = value;" each, or NULL: refused */
	const char *says;
} rows[] = {
	{ "one key", "[a]\nk = 1\n", "[a] k = 1;", "" },
	{ "no end of the last line", "[a]\nk = 1", "[a] k = 1;", "" },
	{ "lines of another system", "[a]\r\nk = 1\r\n", "[a] k = 1;", "" },
	{ "tabs and blanks around", " [a]\n\tk\t =\t 1 \t\n", "[a] k = 1;",
	    "" },
	{ "capitals in names only", "[A Big]\nKey = Value\n",
	    "[a big] key = Value;", "" },
	{ "order of the file", "[b]\nz = 1\ny = 2\n[a]\nx = 3\n",
	    "[b] z = 1;[b] y = 2;[a] x = 3;", "" },
	{ "a section in two parts", "[a]\nx = 1\n[b]\ny = 2\n[a]\nz = 3\n",
	    "[a] x = 1;[a] z = 3;[b] y = 2;", "" },
	{ "comments on their own lines", "# c\n; c = 1\n[a]\n  # c\nk = 1\n",
	    "[a] k = 1;", "" },
	{ "no value", "[a]\nk =\n", "[a] k = ;", "" },
	{ "a sign of equality inside", "[a]\nk = a=b\n", "[a] k = a=b;", "" },
	{ "quotes keep a semicolon", "[a]\nk = \"one; two # three\"\n",
	    "[a] k = one; two # three;", "" },
	{ "words beyond ASCII", "[a]\nk = \xc3\xa9t\xc3\xa9\n",
	    "[a] k = \xc3\xa9t\xc3\xa9;", "" },
	{ "brackets and commas in a source",
	    "[a]\nk = 3-501.17(A), (B): day 1\n",
	    "[a] k = 3-501.17(A), (B): day 1;", "" },
	{ "nothing", "", "", "" },

	{ "a semicolon would cut the value", "[a]\nk = one; two\n", NULL,
	    "2" },
	{ "without a blank too", "[a]\nk = one;two\n", NULL, "2" },
	{ "a hash would cut the value", "[a]\nk = one # two\n", NULL, "2" },
	{ "text behind the quotes", "[a]\nk = \"one\" two\n", NULL, "2" },
	{ "a line joined to the next", "[a]\nk = one \\\nj = 2\n", NULL,
	    "2" },
	{ "a section joined to a value", "[a]\nk = 1 \\\n[b]\nj = 2\n", NULL,
	    "2" },
	{ "a key before any section", "k = 1\n[a]\nj = 2\n", NULL, "1" },
	{ "a colon in a section", "[a:b]\nk = 1\n", NULL, "a:b" },
	{ "a section without a name", "[]\nk = 1\n", NULL, "1" },
	{ "names of nothing but a colon", "[]\n[:]\n", NULL, "1" },
	{ "no line of an ini file", "[a]\nk\n", NULL, "neither" },
	{ "a section not closed", "[a\nk = 1\n", NULL, "neither" },
	{ "text behind a section", "[a] b\nk = 1\n", NULL, "neither" },
	{ "no key", "[a]\n= 1\n", NULL, "neither" },
	{ "an empty section", "[a]\n[b]\nk = 1\n", NULL, "[a]: empty" },
	{ "a key twice", "[a]\nk = 1\nk = 2\n", NULL, "[a] k is given twice" },
	{ "in other letters", "[a]\nk = 1\nK = 2\n", NULL, "given twice" },
	{ "in two parts of a section",
	    "[a]\nk = 1\n[b]\nj = 1\n[A]\nk = 2\n", NULL,
	    ":6: [a] k is given twice" },
	{ "with blanks in the brackets", "[a]\nk = 1\n[ a ]\nk = 2\n", NULL,
	    "given twice" },
	{ "with a tab before the sign", "[a]\nk = 1\nk\t= 2\n", NULL,
	    "given twice" },
	{ "not UTF-8", "[a]\nk = \xe9\n", NULL, "not a UTF-8" },
	{ "a key too long", "[a]\n" X50 X50 " = 1\n", NULL, "too long" },
	{ "a section too long", "[" X50 X50 "]\nk = 1\n", NULL, "too long" },
	{ "a value too long", "[a]\nk = " X50 X50 X50 X50 X50 X50 X50 X50 X50
	    "\n", NULL, "too long" },
};
/* clang-format on */

static void
print_items(struct buf *out, const struct ini_doc *doc)
{
	size_t i;

	for (i = 0; i < doc->count; i++)
		buf_printf(out, "[%s] %s = %s;", doc->items[i].section,
		    doc->items[i].key, doc->items[i].value);
}

static enum rc
load(struct ini_doc *doc, const char *text, size_t len, struct err *err)
{
	struct kitchen k;
	char path[320];
	enum rc rc;

	kitchen_make(&k, true);
	ck_assert(str_fmt(path, sizeof(path), "%s/x.ini", k.folder));
	ck_assert_int_eq(file_write(path, text, len, NULL), RC_OK);
	rc = ini_load(doc, path, err);
	kitchen_close(&k);
	return rc;
}

START_TEST(ini_rows)
{
	struct err err = { 0 };
	struct ini_doc doc;
	struct buf got;
	enum rc rc = load(&doc, rows[_i].text, strlen(rows[_i].text), &err);

	if (rows[_i].want == NULL) {
		ck_assert_msg(
		    rc == RC_INVALID, "%s: %s", rows[_i].why, rc_word(rc));
		ck_assert_msg(strstr(err.text, "x.ini") != NULL &&
			strstr(err.text, rows[_i].says) != NULL,
		    "%s: %s", rows[_i].why, err.text);
		ck_assert_ptr_null(doc.items);
		return;
	}
	ck_assert_msg(rc == RC_OK, "%s: %s", rows[_i].why, err.text);
	buf_init(&got, 4096);
	print_items(&got, &doc);
	ck_assert_msg(str_eq(buf_text(&got), rows[_i].want), "%s: %s",
	    rows[_i].why, buf_text(&got));
	buf_fini(&got);
	ini_fini(&doc);
}
END_TEST

START_TEST(zero_byte)
{
	struct ini_doc doc;
	struct err err = { 0 };

	ck_assert_int_eq(
	    load(&doc, "[a]\nk = 1\0\n[b]\nj = 2\n", 22, &err), RC_INVALID);
	ck_assert(strstr(err.text, "not a UTF-8 text file") != NULL);
}
END_TEST

/* One line longer than the library's own buffer, and a file that has no end
 * in sight. */
START_TEST(too_much)
{
	struct ini_doc doc;
	struct err err = { 0 };
	struct buf b;
	int i, n = _i == 0 ? 2000 : 140000;

	buf_init(&b, 200000);
	buf_puts(&b, "[a]\nk = ");
	for (i = 0; i < n; i++)
		buf_puts(&b, i % 60 == 59 && _i == 1 ? "\n#" : "x");
	ck_assert_int_ne(load(&doc, b.data, b.len, &err), RC_OK);
	ck_assert(strstr(err.text, "x.ini") != NULL);
	buf_fini(&b);
}
END_TEST

START_TEST(missing)
{
	struct ini_doc doc;
	struct err err = { 0 };

	ck_assert_int_eq(
	    ini_load(&doc, "no-such-folder/x.ini", &err), RC_NOTFOUND);
	ck_assert(strstr(err.text, "no-such-folder/x.ini") != NULL);
	ck_assert_ptr_null(doc.items);
}
END_TEST

START_TEST(get)
{
	static const char text[] = "[a]\nk = 1\n[b c]\nk = 2\n";
	struct ini_doc doc;

	ck_assert_int_eq(load(&doc, text, strlen(text), NULL), RC_OK);
	ck_assert_str_eq(ini_get(&doc, "a", "k"), "1");
	ck_assert_str_eq(ini_get(&doc, "b c", "k"), "2");
	ck_assert_ptr_null(ini_get(&doc, "a", "j"));
	ck_assert_ptr_null(ini_get(&doc, "b", "k"));
	ini_fini(&doc);
	ck_assert_ptr_null(doc.items);
	ck_assert_uint_eq(doc.count, 0);
}
END_TEST

Suite *
suite_config_ini(void)
{
	Suite *s = suite_create("config_ini");
	TCase *tc = tcase_create("ini");

	tcase_add_loop_test(tc, ini_rows, 0, (int)NELEM(rows));
	tcase_add_test(tc, zero_byte);
	tcase_add_loop_test(tc, too_much, 0, 2);
	tcase_add_test(tc, missing);
	tcase_add_test(tc, get);
	suite_add_tcase(s, tc);
	return s;
}
