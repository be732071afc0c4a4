/* says_term.h - messages of fields, lists and dates.  Private to src/term. */
#ifndef TERM_SAYS_TERM_H
#define TERM_SAYS_TERM_H

#include "base/say.h"

/* dates, as typed and as shown back */
#define SAY_WORD_TODAY N_("today")
#define SAY_WORD_TOMORROW N_("tomorrow")
#define SAY_WORD_YESTERDAY N_("yesterday")
#define SAY_DATE_AND N_("%s, %s")
#define SAY_INSTANT N_("%s %d %s %02d:%02d")
#define SAY_IN_DAYS NN_("in %d day", "in %d days")
#define SAY_DAYS_AGO NN_("%d day ago", "%d days ago")
#define SAY_DATE_HOW N_("type a date as fri, +2, 27.11 or 2026-11-27")
#define SAY_DATE_NO_DAY N_("there is no such day: %s")
#define SAY_DATE_MONTH_FIRST                                                   \
	N_("there is no month %d: the day comes first, as 27.11")

/* fields */
#define SAY_FIELD_MUST N_("needed")
#define SAY_FIELD_NO_MATCH N_("nothing on the list begins so")
#define SAY_FIELD_SEVERAL                                                      \
	N_("more than one fits: type more, or choose with the arrows")
#define SAY_FIELD_WRONG N_("%s: %s")
#define SAY_TOO_MANY N_("more weights than fit here")
#define SAY_N_WEIGHTS NN_("%d fish: %s", "%d fish, %s in all")
#define SAY_MORE_FIT NN_("and %d more", "and %d more")

/* names of keys; key_parse() reads the English ones */
#define SAY_KEY_ENTER N_("Enter")
#define SAY_KEY_ESC N_("Esc")
#define SAY_KEY_TAB N_("Tab")
#define SAY_KEY_BACKTAB N_("Shift-Tab")
#define SAY_KEY_BACKSPACE N_("Backspace")
#define SAY_KEY_DELETE N_("Delete")
#define SAY_KEY_UP N_("Up")
#define SAY_KEY_DOWN N_("Down")
#define SAY_KEY_LEFT N_("Left")
#define SAY_KEY_RIGHT N_("Right")
#define SAY_KEY_HOME N_("Home")
#define SAY_KEY_END N_("End")
#define SAY_KEY_PAGE_UP N_("PageUp")
#define SAY_KEY_PAGE_DOWN N_("PageDown")
#define SAY_KEY_SPACE N_("Space")

#endif /* TERM_SAYS_TERM_H */
