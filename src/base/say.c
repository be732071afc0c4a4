/* say.c - messages in the language of the locale. */
#include "base/say.h"

#include <libintl.h>
#include <locale.h>
#include <stddef.h>

#define DOMAIN "pinbone"

const char *
tr(const char *text)
{
	/* gettext answers "" with the head of the catalogue */
	return text[0] == '\0' ? text : dgettext(DOMAIN, text);
}

const char *
trn(const char *one, const char *many, long n)
{
	return dngettext(DOMAIN, one, many, (unsigned long)(n < 0 ? -n : n));
}

void
say_start(const char *folder)
{
	/* numbers stay in the C locale whatever is set */
	(void)setlocale(LC_MESSAGES, "");
	if (folder == NULL)
		folder = PINBONE_LOCALE;
	(void)bindtextdomain(DOMAIN, folder);
	(void)bind_textdomain_codeset(DOMAIN, "UTF-8");
}
