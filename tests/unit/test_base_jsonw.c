/*
 * test_base_jsonw.c - JSON documents against RFC 8259, and BLAKE2b-256 against
 * two other implementations.
 */
#include "unit.h"

#include <stdint.h>
#include <string.h>

#include "base/clock.h"
#include "base/digest.h"
#include "base/jsonw.h"

static void
expect_json(struct jsonw *w, const char *want)
{
	struct buf b;

	buf_init(&b, 10000);
	jsonw_dump(&b, w, false);
	ck_assert_str_eq(buf_text(&b), want);
	buf_fini(&b);
	jsonw_free(w);
}

/* The first example of RFC 8259 section 13, from memory. */
START_TEST(rfc_example)
{
	struct jsonw *w = jsonw_new_object();

	jsonw_object(w, "Image");
	jsonw_int(w, "Width", 800);
	jsonw_int(w, "Height", 600);
	jsonw_str(w, "Title", "View from 15th Floor");
	jsonw_object(w, "Thumbnail");
	jsonw_str(w, "Url", "http://www.example.com/image/481989943");
	jsonw_int(w, "Height", 125);
	jsonw_int(w, "Width", 100);
	jsonw_end(w);
	jsonw_bool(w, "Animated", false);
	jsonw_array(w, "IDs");
	jsonw_int(w, NULL, 116);
	jsonw_int(w, NULL, 943);
	jsonw_int(w, NULL, 234);
	jsonw_int(w, NULL, 38793);
	jsonw_end(w);
	jsonw_end(w);
	expect_json(w,
	    "{\"Image\":{\"Width\":800,\"Height\":600,"
	    "\"Title\":\"View from 15th Floor\",\"Thumbnail\":{"
	    "\"Url\":\"http://www.example.com/image/481989943\","
	    "\"Height\":125,\"Width\":100},\"Animated\":false,"
	    "\"IDs\":[116,943,234,38793]}}");
}
END_TEST

/* RFC 8259 section 6: a fraction behind a point; nine digits of it. */
START_TEST(reals)
{
	struct jsonw *w = jsonw_new_array();

	jsonw_real(w, NULL, 0);
	jsonw_real(w, NULL, 0.0123);
	jsonw_real(w, NULL, -1.5);
	jsonw_real(w, NULL, 2.0 / 3);
	expect_json(w, "[0.0,0.0123,-1.5,0.666666667]");
}
END_TEST

static const struct string_row {
	const char *in, *want, *why;
} string_rows[] = {
	{ "", "[\"\"]", "empty" },
	{ "a\"b", "[\"a\\\"b\"]", "RFC 8259 section 7: quotation mark" },
	{ "a\\b", "[\"a\\\\b\"]", "RFC 8259 section 7: reverse solidus" },
	{ "a\nb\tc", "[\"a\\nb\\tc\"]", "RFC 8259 section 7: controls" },
	{ "\x1d", "[\"\\u001D\"]", "RFC 8259 section 7: any control" },
	{ "caf\xc3\xa9", "[\"caf\xc3\xa9\"]", "RFC 8259 section 8.1: UTF-8" },
	{ "caf\xe9", "[\"?\"]", "not UTF-8: the document stays valid" },
	{ "\xed\xa0\x80", "[\"?\"]", "a surrogate is not UTF-8" },
};

START_TEST(string_row)
{
	struct jsonw *w = jsonw_new_array();

	jsonw_str(w, NULL, string_rows[_i].in);
	expect_json(w, string_rows[_i].want);
}
END_TEST

START_TEST(values)
{
	struct jsonw *w = jsonw_new_array();

	ck_assert_int_eq(zone_set("Europe/Berlin", NULL), RC_OK);
	jsonw_int(w, NULL, INT64_MAX);
	jsonw_int(w, NULL, INT64_MIN);
	jsonw_bool(w, NULL, true);
	jsonw_null(w, NULL);
	jsonw_time(w, NULL, 946684800);
	jsonw_raw(w, NULL, "{\"b\": [1, 2], \"a\": \"x\"}");
	jsonw_raw(w, NULL, "{\"b\": [1, 2");
	jsonw_raw(w, NULL, "");
	jsonw_object(w, NULL);
	jsonw_end(w);
	expect_json(w,
	    "[9223372036854775807,-9223372036854775808,true,null,"
	    "\"2000-01-01T01:00:00+01:00\",{\"b\":[1,2],\"a\":\"x\"},"
	    "null,null,{}]");
}
END_TEST

START_TEST(pretty)
{
	struct jsonw *w = jsonw_new_object();
	struct buf b;

	jsonw_int(w, "z", 1);
	jsonw_array(w, "a");
	jsonw_int(w, NULL, 2);
	jsonw_end(w);
	buf_init(&b, 1000);
	jsonw_dump(&b, w, true);
	/* In the order written, not sorted. */
	ck_assert_str_eq(
	    buf_text(&b), "{\n  \"z\": 1,\n  \"a\": [\n    2\n  ]\n}\n");
	buf_fini(&b);
	jsonw_free(w);
	jsonw_free(NULL);
}
END_TEST

/* A document that does not fit is said to be too large, never passed on. */
START_TEST(too_large)
{
	struct jsonw *w = jsonw_new_array();
	struct buf b;

	jsonw_str(w, NULL, "a text of some length");
	buf_init(&b, 10);
	jsonw_dump(&b, w, false);
	ck_assert_int_eq(buf_check(&b, "report", NULL), RC_INVALID);
	buf_fini(&b);
	jsonw_free(w);
}
END_TEST

/*
 * RFC 7693 has an example for BLAKE2b-512 only.  These were made, and agree,
 * with `b2sum -l 256` (GNU coreutils) and, all four, with Python's
 * hashlib.blake2b(digest_size=32).
 */
START_TEST(digests)
{
	unsigned char data[1000];
	char hex[DIGEST_HEX_MAX];
	int i;

	for (i = 0; i < 1000; i++)
		data[i] = (unsigned char)(i % 251);
	ck_assert_str_eq(digest_hex(hex, "", 0),
	    "0e5751c026e543b2e8ab2eb06099daa1"
	    "d1e5df47778f7787faab45cdf12fe3a8");
	ck_assert_str_eq(digest_hex(hex, "abc", 3),
	    "bddd813c634239723171ef3fee98579b"
	    "94964e3bb1cb3e427262c8c068d52319");
	ck_assert_str_eq(digest_hex(hex, "ab\0c", 4),
	    "d50d3b644005dac6b73e2e970405d974"
	    "9183fd5222afd2444420f63f94cb52ee");
	ck_assert_str_eq(digest_hex(hex, data, sizeof(data)),
	    "b372d0608f720c8c3dd41e9c8eecb101"
	    "43b41abe520b616607e754bf79c08331");
}
END_TEST

Suite *
suite_base_jsonw(void)
{
	Suite *s = suite_create("base_jsonw");
	TCase *t = tcase_create("all");

	tcase_add_test(t, rfc_example);
	tcase_add_test(t, reals);
	tcase_add_loop_test(t, string_row, 0, (int)NELEM(string_rows));
	tcase_add_test(t, values);
	tcase_add_test(t, pretty);
	tcase_add_test(t, too_large);
	tcase_add_test(t, digests);
	suite_add_tcase(s, t);
	return s;
}
