/* err.c - result codes and error texts. */
#include "base/err.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"

enum rc
err_set(struct err *err, enum rc rc, int lib, const char *fmt, ...)
{
	va_list ap;

	if (err == NULL || err->rc != RC_OK)
		return rc;
	err->rc = rc;
	err->lib = lib;
	va_start(ap, fmt);
	vsnprintf(err->text, sizeof(err->text), fmt, ap);
	va_end(ap);
	utf8_clean(err->text);
	return rc;
}

void
err_clear(struct err *err)
{
	if (err == NULL)
		return;
	err->rc = RC_OK;
	err->lib = 0;
	err->text[0] = '\0';
}

void
err_prefix(struct err *err, const char *fmt, ...)
{
	char old[ERR_TEXT_MAX];
	va_list ap;
	size_t n;

	if (err == NULL || err->rc == RC_OK)
		return;
	memcpy(old, err->text, sizeof(old));
	va_start(ap, fmt);
	vsnprintf(err->text, sizeof(err->text), fmt, ap);
	va_end(ap);
	n = strlen(err->text);
	snprintf(err->text + n, sizeof(err->text) - n, "%s", old);
	utf8_clean(err->text);
}

const char *
rc_word(enum rc rc)
{
	switch (rc) {
#define RC_WORD(code, word, status)                                            \
	case code:                                                             \
		return word;
		RC_LIST(RC_WORD)
#undef RC_WORD
	}
	return "?";
}

int
rc_exit_status(enum rc rc)
{
	switch (rc) {
#define RC_STATUS(code, word, status)                                          \
	case code:                                                             \
		return status;
		RC_LIST(RC_STATUS)
#undef RC_STATUS
	}
	return 70;
}
