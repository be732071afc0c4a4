/* fault.c - what the spool does about what a printer says. */
#include "print/fault.h"

#include <string.h>

#include "base/str.h"

static const struct {
	unsigned state;
	enum fault_act act[FAULT_WHEN_COUNT]; /* before, during, after */
	const char *help;
} table[] = {
	{ PRINTER_ABSENT, { ACT_WAIT, ACT_END, ACT_END },
	    "look at plug and power" },
	{ PRINTER_DENIED, { ACT_WAIT, ACT_END, ACT_END },
	    "its rule for users is not installed" },
	{ PRINTER_TAKEN, { ACT_WAIT, ACT_END, ACT_END },
	    "end the other program" },
	{ PRINTER_COVER_OPEN, { ACT_WAIT, ACT_WAIT, ACT_WAIT }, "close it" },
	{ PRINTER_PAPER_OUT, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "put in a new roll" },
	{ PRINTER_RIBBON_OUT, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "put in a new ribbon" },
	{ PRINTER_JAM, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "take the stuck label out" },
	{ PRINTER_TOO_HOT, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "let it cool down" },
	{ PRINTER_PAUSED, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "press its pause or feed key" },
	{ PRINTER_OFFLINE, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "switch it on line" },
	{ PRINTER_FAULT, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "look at its lamps" },
	{ PRINTER_SILENT, { ACT_WAIT, ACT_WAIT, ACT_WAIT },
	    "look whether it is on and ready" },
	{ PRINTER_BUSY, { ACT_GO, ACT_WAIT, ACT_WAIT }, NULL },
	{ PRINTER_LOW, { ACT_GO, ACT_GO, ACT_GO }, NULL },
};

#define ROWS (sizeof(table) / sizeof(table[0]))

enum fault_act
fault_act(enum fault_when when, unsigned state)
{
	enum fault_act act = ACT_GO;
	size_t i;

	for (i = 0; i < ROWS; i++) {
		if ((state & table[i].state) != 0 && table[i].act[when] > act)
			act = table[i].act[when];
		state &= ~table[i].state;
	}
	/* A state this table does not know is never good news. */
	return state != 0 && act == ACT_GO ? ACT_WAIT : act;
}

const char *
fault_words(char *dst, size_t size, unsigned state)
{
	char all[200];
	const char *words = printer_state_words(all, sizeof(all), state);
	size_t i;

	if (state != 0 && str_eq(words, "ready"))
		words = "in a state this program does not know";
	for (i = 0; i < ROWS; i++)
		if ((state & table[i].state) != 0 && table[i].help != NULL &&
		    str_fmt(dst, size, "%s: %s", words, table[i].help))
			return dst;
	str_copy(dst, size, words);
	return dst;
}
