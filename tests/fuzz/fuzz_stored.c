/*
 * fuzz_stored.c - texts the station file keeps, read back by a program that
 * trusts no file: lists as they were printed, JSON, codes and what stands in a
 * label's symbol.
 *
 * Properties: what is read is written again as it was read; a code that is
 * accepted is a code however it is shown.
 */
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "core/code.h"
#include "core/label_code.h"
#include "fuzz.h"
#include "labels/ticket.h"
#include "rig.h"

#define TEXT_MAX ((size_t)4 * 1024 * 1024)

static void
list(const char *s)
{
	struct ticket *t, *again;
	struct buf once, twice, shown;
	struct err err = { 0 };

	if (ticket_read(&t, s, &err) != RC_OK) {
		rig_err(&err);
		return;
	}
	buf_init(&once, TEXT_MAX);
	buf_init(&twice, TEXT_MAX);
	buf_init(&shown, TEXT_MAX);
	ticket_write(&once, t);
	FUZZ_HOLDS(ticket_read(&again, buf_text(&once), &err) == RC_OK);
	ticket_write(&twice, again);
	FUZZ_HOLDS(str_eq(buf_text(&once), buf_text(&twice)));
	ticket_text(&shown, t, 40);
	FUZZ_HOLDS(utf8_valid(buf_text(&shown), shown.len));
	ticket_free(t);
	ticket_free(again);
	buf_fini(&once);
	buf_fini(&twice);
	buf_fini(&shown);
}

static void
json(const char *s)
{
	struct jsonr *r = jsonr_open(s);
	const struct jsonr *m;
	struct jsonw *w = jsonw_new_object();
	struct buf out;
	size_t i;

	buf_init(&out, TEXT_MAX);
	jsonw_raw(w, "it", s);
	jsonw_dump(&out, w, true);
	FUZZ_HOLDS(out.len > 0);
	if (r != NULL) {
		(void)jsonr_str(r, "binding");
		(void)jsonr_int(r, "days");
		m = jsonr_member(r, "history");
		if (m != NULL)
			(void)jsonr_str(m, "frozen");
		for (i = 0; i < 4; i++)
			if ((m = jsonr_item(r, "limits", i)) != NULL)
				(void)jsonr_int(m, "until");
	}
	jsonr_close(r);
	jsonw_free(w);
	buf_fini(&out);
}

static void
code(const char *s)
{
	char one[CODE_SIZE], two[CODE_SIZE], shown[CODE_SIZE];
	char symbol[LABEL_SYMBOL_SIZE];
	struct label_code c, again;
	struct err err = { 0 };
	enum code_kind kind, same;

	if (code_parse(&kind, one, s, &err) == RC_OK) {
		code_show(shown, one);
		FUZZ_HOLDS(code_parse(&same, two, shown, &err) == RC_OK);
		FUZZ_HOLDS(kind == same && str_eq(one, two));
	} else {
		rig_err(&err);
	}
	err_clear(&err);
	(void)label_code_looks_like(s);
	if (label_code_parse(&c, s, &err) != RC_OK) {
		rig_err(&err);
		return;
	}
	if (c.use_by.day == DAY_NONE)
		return; /* a short key has no date to be made again of */
	label_code_make(symbol, &c);
	FUZZ_HOLDS(
	    label_code_parse(&again, symbol + strlen("[91]"), &err) == RC_OK);
	FUZZ_HOLDS(str_eq(c.portion, again.portion) &&
	    str_eq(c.batch, again.batch) && c.use_by.day == again.use_by.day &&
	    c.use_by.hour == again.use_by.hour &&
	    c.use_by.minute == again.use_by.minute);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static void (*const kinds[])(const char *s) = { list, json, code };
	char *copy;

	if (size == 0)
		return 0;
	copy = malloc(size);
	FUZZ_HOLDS(copy != NULL);
	memcpy(copy, data + 1, size - 1);
	copy[size - 1] = '\0';
	kinds[data[0] % (sizeof(kinds) / sizeof(kinds[0]))](copy);
	free(copy);
	return 0;
}
