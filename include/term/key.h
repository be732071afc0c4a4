/*
 * term/key.h - a key as the station knows it, whatever terminal it came from.
 */
#ifndef TERM_KEY_H
#define TERM_KEY_H

#include <stdbool.h>
#include <stdint.h>

enum key_code {
	KEY_CODE_NONE,
	KEY_CODE_CHAR, /* see struct key's ch */
	KEY_CODE_ENTER,
	KEY_CODE_ESC,
	KEY_CODE_TAB,
	KEY_CODE_BACKTAB,
	KEY_CODE_BACKSPACE,
	KEY_CODE_DELETE,
	KEY_CODE_UP,
	KEY_CODE_DOWN,
	KEY_CODE_LEFT,
	KEY_CODE_RIGHT,
	KEY_CODE_HOME,
	KEY_CODE_END,
	KEY_CODE_PAGE_UP,
	KEY_CODE_PAGE_DOWN,
	KEY_CODE_F1, /* F1 to F12 in order */
	KEY_CODE_F12 = KEY_CODE_F1 + 11,
	KEY_CODE_CUT_OFF,   /* Ctrl-U: empty the field */
	KEY_CODE_UNDO,      /* Ctrl-Z */
	KEY_CODE_WHO,       /* Ctrl-O: another operator */
	KEY_CODE_ANEW,      /* Ctrl-L: paint everything again */
	KEY_CODE_QUIT,      /* Ctrl-Q */
	KEY_CODE_SKIP,      /* Ctrl-N: the lesson goes on */
	KEY_CODE_TAKE_BACK, /* the last character typed was a scanner's */
	KEY_CODE_COUNT
};

struct key {
	enum key_code code;
	uint32_t ch; /* KEY_CODE_CHAR: its code point */
};

/* key_char - a printable character; key_of - any other key. */
struct key key_char(uint32_t ch);
struct key key_of(enum key_code code);
/* key_is - is it this character, in any case? */
bool key_is(const struct key *k, char ch);
/* key_label - "F3", "Enter", "u"; `dst` of size KEY_NAME_SIZE. */
#define KEY_NAME_SIZE 16
char *key_label(char dst[KEY_NAME_SIZE], const struct key *k);
/* key_parse - the reverse.  False: no such key. */
bool key_parse(struct key *out, const char *name);

#endif /* TERM_KEY_H */
