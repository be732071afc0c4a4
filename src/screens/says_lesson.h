/* says_lesson.h - messages of the first lesson.  Private to src/screens. */
#ifndef SCREENS_SAYS_LESSON_H
#define SCREENS_SAYS_LESSON_H

#include "base/say.h"

#define SAY_LESSON_STEP N_("Lesson %d of %d: %s")
#define SAY_LESSON_END                                                         \
	NN_("The lesson is over, in %d minute. Everything here was for "       \
	    "training; Ctrl-Q leaves.",                                        \
	    "The lesson is over, in %d minutes. Everything here was for "      \
	    "training; Ctrl-Q leaves.")
#define SAY_LESSON_SKIP N_("Ctrl-N goes on without doing it.")

#define SAY_LESSON_TODAY                                                       \
	N_("This is Today: the services, what is left to do, what must go. "   \
	   "24 covers are booked for dinner and there is no fish yet. It has " \
	   "just come: press F3, Goods in.")
#define SAY_LESSON_RECEIVE                                                     \
	N_("Six hake are at the door. Press n, then type and Enter: lowtide, " \
	   "71, hake, gutted, 6, 13kg, 1, L5, 27.7, caught, Hooks and lines, " \
	   "yesterday. PageDown looks at the fish, PageDown again decides: "   \
	   "a, Enter, then F12.")
#define SAY_LESSON_PLAN                                                        \
	N_("The fish has a batch code, a date and a label. What does dinner "  \
	   "need? Press F4, Prep list.")
#define SAY_LESSON_BEGIN                                                       \
	N_("The list says what to make of which batch, in working order. "     \
	   "Choose a task with the arrows and press Enter to begin its "       \
	   "breakdown.")
#define SAY_LESSON_BREAK                                                       \
	N_("Weigh in what you take, weigh out what you made: portions of "     \
	   "hake-lemon, trim, frames, waste. Nothing may be missing: watch "   \
	   "the balance. F12 records it.")
#define SAY_LESSON_LABELS                                                      \
	N_("Every tray has its label queued. Press F10, Printing, to see "     \
	   "them come out; in the lesson they become pictures.")
#define SAY_LESSON_HAND                                                        \
	N_("Press F6, On hand: what there is, first to expire first. Read "    \
	   "the code of the second portion: you need it soon.")
#define SAY_LESSON_USE                                                         \
	N_("Service. Press F7, then u: the portion that goes first is used. "  \
	   "A scanned label does the same; a wrong one is refused and the "    \
	   "right one named.")
#define SAY_LESSON_TRACE                                                       \
	N_("A guest asks where the fish is from. Press F8, Trace, and type "   \
	   "the code of the second portion: back to the supplier, forward to " \
	   "every portion.")
#define SAY_LESSON_UNDO                                                        \
	N_("And a mistake? Ctrl-Z shows the last record and takes it back "    \
	   "where that is safe. Take the use back: Ctrl-Z, then do what it "   \
	   "says.")

#endif /* SCREENS_SAYS_LESSON_H */
