/* err.c - result codes and error texts. */
#include "base/err.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A message is one line whatever a file or a person put into it. */
static void
make_one_line(char *s)
{
	for (; *s != '\0'; s++)
		if ((unsigned char)*s < 0x20 || *s == 0x7f)
			*s = '?';
}

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
	make_one_line(err->text);
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
	make_one_line(err->text);
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
