/*
 * fuzz_gs1.c - the reader of scans.
 *
 * Properties: every text that comes out is UTF-8 without control characters;
 * a scan is valid exactly when no problem weighs; a valid supplier label can
 * be built as an element string, and that string reads as the same elements
 * and builds as the same string.
 */
#include "fuzz.h"

#include <string.h>

#include "base/str.h"
#include "core/gs1.h"

#define TODAY 20783 /* 2026-11-26 */

static bool
is_text(const char *s, size_t size)
{
	return text_check("it", s, size - 1, true, NULL) == RC_OK;
}

static void
check_texts(const struct gs1_scan *s)
{
	const struct gs1_element *e;
	size_t i;

	FUZZ_HOLDS(s->count <= GS1_ELEMENTS_MAX);
	FUZZ_HOLDS(s->problem_count <= GS1_PROBLEMS_MAX);
	FUZZ_HOLDS(s->valid == (gs1_first_problem(s) == NULL));
	FUZZ_HOLDS(!s->valid || s->kind != GS1_UNKNOWN);
	FUZZ_HOLDS(!s->valid || s->count > 0);
	for (i = 0; i < s->count; i++) {
		e = &s->elements[i];
		FUZZ_HOLDS(e->value[0] != '\0');
		FUZZ_HOLDS(is_text(e->value, sizeof(e->value)));
		FUZZ_HOLDS(is_text(e->meaning, sizeof(e->meaning)));
		FUZZ_HOLDS(e->title != NULL);
	}
	for (i = 0; i < s->problem_count; i++)
		FUZZ_HOLDS(s->problems[i].text[0] != '\0' &&
		    is_text(s->problems[i].text, sizeof(s->problems[i].text)));
}

/* What fills the form is of its kind, or is not there. */
static void
check_prefill(const struct gs1_scan *s)
{
	struct gs1_prefill p;

	gs1_prefill_from(&p, s);
	FUZZ_HOLDS(p.net_g >= 0 && p.net_g <= WEIGHT_MAX_G);
	FUZZ_HOLDS(p.count >= 0 && p.count <= COUNT_MAX);
	FUZZ_HOLDS(p.use_by == DAY_NONE ||
	    (p.use_by >= DAY_MIN && p.use_by <= DAY_MAX));
	FUZZ_HOLDS(p.use_by_min >= -1 && p.use_by_min < 24 * 60);
	FUZZ_HOLDS(
	    (p.harvest_first == DAY_NONE) == (p.harvest_last == DAY_NONE));
	FUZZ_HOLDS(p.harvest_first <= p.harvest_last);
	FUZZ_HOLDS(p.gtin[0] == '\0' || strlen(p.gtin) == 14);
}

static void
check_build(const struct gs1_scan *s)
{
	struct gs1_reader r = { .today = TODAY };
	struct gs1_scan again;
	struct buf a, b;
	size_t i;

	if (!s->valid || s->restricted ||
	    (s->kind != GS1_ELEMENT_STRING && s->kind != GS1_DIGITAL_LINK &&
		s->kind != GS1_EAN))
		return;
	buf_init(&a, 2 * GS1_SCAN_MAX);
	buf_init(&b, 2 * GS1_SCAN_MAX);
	buf_puts(&a, "]C1");
	FUZZ_HOLDS(gs1_build(&a, s->elements, s->count, NULL) == RC_OK);
	if (a.len <= GS1_SCAN_MAX) {
		gs1_read(&again, a.data, a.len, &r);
		FUZZ_HOLDS(again.kind == GS1_ELEMENT_STRING);
		FUZZ_HOLDS(again.count == s->count);
		for (i = 0; i < s->count; i++) {
			FUZZ_HOLDS(
			    str_eq(again.elements[i].ai, s->elements[i].ai));
			FUZZ_HOLDS(str_eq(
			    again.elements[i].value, s->elements[i].value));
		}
		buf_puts(&b, "]C1");
		FUZZ_HOLDS(
		    gs1_build(&b, again.elements, again.count, NULL) == RC_OK);
		FUZZ_HOLDS(str_eq(buf_text(&a), buf_text(&b)));
	}
	buf_fini(&a);
	buf_fini(&b);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static const char separators[] = { '\0', '~' };
	struct gs1_reader r = { .today = TODAY };
	struct gs1_scan s, joined;
	size_t i;

	for (i = 0; i < sizeof(separators); i++) {
		r.separator = separators[i];
		gs1_read(&s, (const char *)data, size, &r);
		check_texts(&s);
		check_prefill(&s);
		check_build(&s);
		gs1_read(&joined, "(01)12345678901231(10)L1", 24, &r);
		gs1_join(&joined, &s);
		check_texts(&joined);
	}
	return 0;
}
