/* cut.c - how fish is bought and how it is cut. */
#include "core/cut.h"

#include <assert.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/str.h"

static const char *const presentation_words[PRES_COUNT] = {
	[PRES_WHOLE] = "whole",
	[PRES_GUTTED] = "gutted",
	[PRES_HEADED] = "headed",
	[PRES_FILLET] = "fillet",
	[PRES_FILLET_SKINLESS] = "fillet-skinless",
	[PRES_LOIN] = "loin",
	[PRES_TAIL] = "tail",
	[PRES_WING] = "wing",
	[PRES_LIVE] = "live",
	[PRES_SHUCKED] = "shucked",
};

static const char *const cut_words[CUT_COUNT] = {
	[CUT_WHOLE] = "whole",
	[CUT_FILLET] = "fillet",
	[CUT_SUPREME] = "supreme",
	[CUT_LOIN] = "loin",
	[CUT_TRONCON] = "troncon",
	[CUT_TAIL] = "tail",
	[CUT_WING] = "wing",
	[CUT_SHELL] = "shell",
	[CUT_MEAT] = "meat",
	[CUT_TRIM] = "trim",
};

static const char *const yield_form_words[YIELD_FORM_COUNT] = {
	[YIELD_WHOLE] = "whole",
	[YIELD_GUTTED] = "gutted",
	[YIELD_HEADED] = "headed",
	[YIELD_FILLET] = "fillet",
	[YIELD_SKINLESS] = "skinless",
	[YIELD_LOIN] = "loin",
	[YIELD_TAIL] = "tail",
	[YIELD_WING] = "wing",
	[YIELD_MEAT] = "meat",
};

/* Index of `s` among the words, or RC_INVALID with all of them. */
static enum rc
word_parse(int *out, const char *what, const char *const *words, int count,
    const char *s, struct err *err)
{
	struct buf known;
	enum rc rc = RC_OK;
	int i;

	for (i = 0; i < count; i++) {
		if (!str_eq_nocase(s, words[i]))
			continue;
		*out = i;
		return RC_OK;
	}
	buf_init(&known, 200);
	for (i = 0; i < count; i++)
		buf_printf(&known, "%s%s", i == 0 ? "" : ", ", words[i]);
	rc = err_set(err, RC_INVALID, 0, "%s \"%.40s\" is not one of %s", what,
	    s, buf_text(&known));
	buf_fini(&known);
	return rc;
}

const char *
presentation_word(enum presentation p)
{
	assert((unsigned)p < PRES_COUNT);
	return presentation_words[p];
}

const char *
cut_word(enum cut_kind c)
{
	assert((unsigned)c < CUT_COUNT);
	return cut_words[c];
}

const char *
yield_form_word(enum yield_form f)
{
	assert((unsigned)f < YIELD_FORM_COUNT);
	return yield_form_words[f];
}

enum rc
presentation_parse(enum presentation *out, const char *s, struct err *err)
{
	enum rc rc;
	int i;

	rc = word_parse(
	    &i, "presentation", presentation_words, PRES_COUNT, s, err);
	if (rc == RC_OK)
		*out = (enum presentation)i;
	return rc;
}

enum rc
cut_parse(enum cut_kind *out, const char *s, struct err *err)
{
	enum rc rc;
	int i;

	rc = word_parse(&i, "cut", cut_words, CUT_COUNT, s, err);
	if (rc == RC_OK)
		*out = (enum cut_kind)i;
	return rc;
}

enum rc
yield_form_parse(enum yield_form *out, const char *s, struct err *err)
{
	enum rc rc;
	int i;

	rc = word_parse(&i, "form", yield_form_words, YIELD_FORM_COUNT, s, err);
	if (rc == RC_OK)
		*out = (enum yield_form)i;
	return rc;
}

enum yield_form
presentation_form(enum presentation p)
{
	/* clang-format off */
	static const enum yield_form forms[PRES_COUNT] = {
		[PRES_WHOLE] = YIELD_WHOLE,
		[PRES_GUTTED] = YIELD_GUTTED,
		[PRES_HEADED] = YIELD_HEADED,
		[PRES_FILLET] = YIELD_FILLET,
		[PRES_FILLET_SKINLESS] = YIELD_SKINLESS,
		[PRES_LOIN] = YIELD_LOIN,
		[PRES_TAIL] = YIELD_TAIL,
		[PRES_WING] = YIELD_WING,
		[PRES_LIVE] = YIELD_WHOLE, /* weighed in its shell */
		[PRES_SHUCKED] = YIELD_MEAT,
	};
	/* clang-format on */

	assert((unsigned)p < PRES_COUNT);
	return forms[p];
}

enum yield_form
cut_form(enum cut_kind c, bool skin_on, enum yield_form from)
{
	switch (c) {
	case CUT_WHOLE:
		return YIELD_GUTTED;
	case CUT_FILLET:
	case CUT_SUPREME:
		return skin_on ? YIELD_FILLET : YIELD_SKINLESS;
	case CUT_LOIN:
		return YIELD_LOIN;
	case CUT_TAIL:
		return YIELD_TAIL;
	case CUT_WING:
		return YIELD_WING;
	case CUT_MEAT:
		return YIELD_MEAT;
	case CUT_TRIM:
		return YIELD_SKINLESS;
	case CUT_TRONCON:
	case CUT_SHELL:
		return from;
	case CUT_COUNT:
		break;
	}
	assert(!"a cut that is not in the list");
	return from;
}

bool
cut_by_piece(enum cut_kind c)
{
	assert((unsigned)c < CUT_COUNT);
	return c != CUT_SHELL && c != CUT_MEAT && c != CUT_TAIL &&
	    c != CUT_TRIM;
}
