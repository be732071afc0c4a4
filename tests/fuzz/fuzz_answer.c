/*
 * fuzz_answer.c - what a printer answers when it is asked for its state: one
 * byte chooses the language, the rest is the answer.
 *
 * Properties: read in pieces it is not known before it is whole, and what has
 * become wrong stays wrong; nothing but a whole answer gives a state; an error
 * is one line of text; a whole answer holds only bytes its form allows.
 */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "drivers/drivers.h"

#define PRINTER_ALL ((1u << 14) - 1)

static const struct lang *const asked[] = {
	&lang_zpl,
	&lang_tspl,
	&lang_epl2,
	&lang_escpos,
};

static void
check_whole(const struct lang *lang, const uint8_t *data, size_t size)
{
	size_t i;

	for (i = 0; i < size; i++) {
		if (lang == &lang_escpos)
			FUZZ_HOLDS(size == 4 && (data[i] & 0x93) == 0x12);
		else if (lang == &lang_tspl)
			FUZZ_HOLDS(size == 1);
		else
			FUZZ_HOLDS(data[i] != 0 &&
			    strchr("\x02\x03\r\n,0123456789PR", data[i]) !=
				NULL);
	}
}

/* An exact copy, so that a read past the end is seen. */
static enum rc
ask(const struct lang *lang, const uint8_t *data, size_t size)
{
	uint8_t *copy = malloc(size + (size == 0));
	struct err err = { 0 };
	unsigned state = ~0u;
	enum rc rc;

	FUZZ_HOLDS(copy != NULL);
	if (size > 0)
		memcpy(copy, data, size);
	rc = lang->answer(&state, copy, size, &err);
	free(copy);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_RETRY || rc == RC_INVALID);
	FUZZ_HOLDS((state & ~PRINTER_ALL) == 0);
	FUZZ_HOLDS(rc == RC_OK || state == 0);
	if (rc == RC_OK)
		check_whole(lang, data, size);
	if (rc == RC_INVALID)
		FUZZ_HOLDS(text_check("it", err.text, ERR_TEXT_MAX - 1, false,
			       NULL) == RC_OK);
	else
		FUZZ_HOLDS(err.text[0] == '\0');
	return rc;
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	const struct lang *lang;
	enum rc rc, before = RC_RETRY;
	size_t n;

	if (size == 0 || size > 1024)
		return 0;
	lang = asked[data[0] % (sizeof(asked) / sizeof(asked[0]))];
	for (n = 0; n < size; n++) {
		rc = ask(lang, data + 1, n);
		/* a line end may follow an answer, another answer may not */
		if (before == RC_OK)
			FUZZ_HOLDS(rc != RC_RETRY);
		if (before == RC_INVALID)
			FUZZ_HOLDS(rc == RC_INVALID);
		before = rc;
	}
	return 0;
}
