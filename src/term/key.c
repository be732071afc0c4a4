/* key.c - keys and their names. */
#include "term/key.h"

#include <ctype.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "says_term.h"

static const struct {
	enum key_code code;
	const char *name;
} names[] = {
	{ KEY_CODE_ENTER, SAY_KEY_ENTER },
	{ KEY_CODE_ESC, SAY_KEY_ESC },
	{ KEY_CODE_TAB, SAY_KEY_TAB },
	{ KEY_CODE_BACKTAB, SAY_KEY_BACKTAB },
	{ KEY_CODE_BACKSPACE, SAY_KEY_BACKSPACE },
	{ KEY_CODE_DELETE, SAY_KEY_DELETE },
	{ KEY_CODE_UP, SAY_KEY_UP },
	{ KEY_CODE_DOWN, SAY_KEY_DOWN },
	{ KEY_CODE_LEFT, SAY_KEY_LEFT },
	{ KEY_CODE_RIGHT, SAY_KEY_RIGHT },
	{ KEY_CODE_HOME, SAY_KEY_HOME },
	{ KEY_CODE_END, SAY_KEY_END },
	{ KEY_CODE_PAGE_UP, SAY_KEY_PAGE_UP },
	{ KEY_CODE_PAGE_DOWN, SAY_KEY_PAGE_DOWN },
	{ KEY_CODE_CUT_OFF, "Ctrl-U" },
	{ KEY_CODE_UNDO, "Ctrl-Z" },
	{ KEY_CODE_WHO, "Ctrl-O" },
	{ KEY_CODE_ANEW, "Ctrl-L" },
	{ KEY_CODE_QUIT, "Ctrl-Q" },
	{ KEY_CODE_SKIP, "Ctrl-N" },
	{ KEY_CODE_TAKE_BACK, "TakeBack" },
};

struct key
key_char(uint32_t ch)
{
	return (struct key){ KEY_CODE_CHAR, ch };
}

struct key
key_of(enum key_code code)
{
	return (struct key){ code, 0 };
}

bool
key_is(const struct key *k, char ch)
{
	return k->code == KEY_CODE_CHAR && k->ch < 0x80 &&
	    tolower((int)k->ch) == tolower((unsigned char)ch);
}

char *
key_label(char dst[KEY_NAME_SIZE], const struct key *k)
{
	size_t i;

	if (k->code >= KEY_CODE_F1 && k->code <= KEY_CODE_F12) {
		str_fmt(dst, KEY_NAME_SIZE, "F%d", k->code - KEY_CODE_F1 + 1);
		return dst;
	}
	if (k->code == KEY_CODE_CHAR) {
		str_fmt(dst, KEY_NAME_SIZE, k->ch == ' ' ? SAY_KEY_SPACE : "%c",
		    k->ch < 0x80 ? (int)k->ch : '?');
		return dst;
	}
	for (i = 0; i < sizeof(names) / sizeof(names[0]); i++)
		if (names[i].code == k->code)
			break;
	str_copy(dst, KEY_NAME_SIZE,
	    i < sizeof(names) / sizeof(names[0]) ? names[i].name : "");
	return dst;
}

bool
key_parse(struct key *out, const char *name)
{
	const char *s = name;
	size_t i;
	int64_t n;

	if ((name[0] == 'F' || name[0] == 'f') && isdigit(name[1])) {
		if (int_parse(&n, "key", name + 1, 1, 12, NULL) != RC_OK)
			return false;
		*out = key_of((enum key_code)(KEY_CODE_F1 + (int)n - 1));
		return true;
	}
	for (i = 0; i < sizeof(names) / sizeof(names[0]); i++)
		if (str_eq_nocase(names[i].name, name)) {
			*out = key_of(names[i].code);
			return true;
		}
	if (str_eq_nocase(name, SAY_KEY_SPACE)) {
		*out = key_char(' ');
		return true;
	}
	if (*s == '\0')
		return false;
	*out = key_char(utf8_next(&s));
	return *s == '\0';
}
