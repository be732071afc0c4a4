/* says_service.h - messages of the Service screen.  Private to src/screens. */
#ifndef SCREENS_SAYS_SERVICE_H
#define SCREENS_SAYS_SERVICE_H

#include "base/say.h"

#define SAY_SERVE_TITLE N_("Service")

/* --- head -----------------------------------------------------------------*/

#define SAY_SERVE_HEAD N_("%s, %s, %02d:%02d to %02d:%02d") /* dinner, day */
#define SAY_SERVE_AHEAD N_("begins in %s")
#define SAY_SERVE_NOW N_("going on")
#define SAY_SERVE_OVER N_("over, not closed")
#define SAY_SERVE_CLOSED N_("CLOSED by %s")
#define SAY_SERVE_MINUTES NN_("%d minute", "%d minutes")
#define SAY_SERVE_HOURS NN_("%d hour", "%d hours")
#define SAY_SERVE_DAYS NN_("%d day", "%d days")

#define SAY_SERVE_BOOKED N_("booked")
#define SAY_SERVE_EXPECTED N_("expected in all")
#define SAY_SERVE_EXPECTING N_("expected ...") /* being worked out */
#define SAY_SERVE_TYPED N_("expected, typed")
#define SAY_SERVE_OUT N_("portions out")
#define SAY_SERVE_SEATED N_("booked and came")
#define SAY_SERVE_WALKED N_("walked in")
#define SAY_SERVE_NO_BOOK                                                      \
	N_("No bookings for this sitting: type the covers under Menu and "     \
	   "covers (F9). What is scanned out is recorded all the same.")
#define SAY_SERVE_NO_BOOK_OTHER                                                \
	N_("No bookings for this sitting, and nothing can be recorded for "    \
	   "it. x shows the present one.")
#define SAY_SERVE_NO_DISHES                                                    \
	N_("No dish of the menu is served at this sitting: import a menu, or " \
	   "see Menu and covers (F9).")

/* --- dishes ---------------------------------------------------------------*/

#define SAY_SERVE_COL_DISH N_("dish")
#define SAY_SERVE_COL_WANT N_("want")
#define SAY_SERVE_COL_OUT N_("out")
#define SAY_SERVE_COL_HAND N_("on hand")
#define SAY_SERVE_COL_NEXT N_("take")
#define SAY_SERVE_COL_USE_BY N_("use by")
#define SAY_SERVE_COL_LIKELY N_("8 in 10")
#define SAY_SERVE_COL_SOLD N_("sold")
#define SAY_SERVE_SHORT N_("short %lld")
#define SAY_SERVE_FROZEN N_("+%lld frozen")
#define SAY_SERVE_EARLY N_("+%lld today") /* in date, not to the end */
#define SAY_SERVE_BARRED N_("%lld barred")
#define SAY_SERVE_LIKELY N_("%lld-%lld")
#define SAY_SERVE_RAN_OUT N_("ran out")
#define SAY_SERVE_RAN_OUT_AT N_("out at %lld")
#define SAY_SERVE_NOT_COUNTED N_("not counted")

/* --- what went out --------------------------------------------------------*/

#define SAY_SERVE_LAST N_("Last out")
#define SAY_SERVE_NOTHING_OUT                                                  \
	N_("Nothing is scanned out yet. Scan a portion or tray, or u takes "   \
	   "the next of the chosen dish.")
#define SAY_SERVE_USE_ROW N_("%02d:%02d %s %lld of %s, %s")
#define SAY_SERVE_LAST_LEFT N_("%lld left of %s")
#define SAY_SERVE_USED_UP N_("%s is used up")

/* --- keys -----------------------------------------------------------------*/

#define SAY_SERVE_KEY_USE N_("use next")
#define SAY_SERVE_KEY_USE_HELP                                                 \
	N_("Use the next unit of the chosen dish, without scanning it.")
#define SAY_SERVE_KEY_UNDO N_("take back")
#define SAY_SERVE_KEY_UNDO_HELP                                                \
	N_("Take the last step back, such as a wrong scan.")
#define SAY_SERVE_KEY_CLOSE N_("close")
#define SAY_SERVE_KEY_CLOSE_HELP                                               \
	N_("After the service: who came, and what was sold.")
#define SAY_SERVE_KEY_CORRECT N_("correct")
#define SAY_SERVE_KEY_CORRECT_HELP                                             \
	N_("Put a closed service right; before and after stay on record.")
#define SAY_SERVE_KEY_BEFORE N_("before")
#define SAY_SERVE_KEY_BEFORE_HELP N_("The sitting before this one.")
#define SAY_SERVE_KEY_AFTER N_("after")
#define SAY_SERVE_KEY_AFTER_HELP N_("The sitting after this one.")
#define SAY_SERVE_KEY_PRESENT N_("present")
#define SAY_SERVE_KEY_PRESENT_HELP N_("Back to the present or next sitting.")
#define SAY_SERVE_KEY_RECORD N_("record")
#define SAY_SERVE_KEY_RECORD_HELP N_("Record the close as it is typed.")

#define SAY_SERVE_IS_BATCH                                                     \
	N_("%s is a batch: break it down first (F5), or scan a portion or "    \
	   "tray.")
#define SAY_SERVE_LATER                                                        \
	N_("This is a later sitting, nothing goes out for it yet. x shows "    \
	   "the present one.")
#define SAY_SERVE_NONE_LEFT                                                    \
	N_("Nothing of %s is in date and free: see On hand (F6).")

/* --- close ----------------------------------------------------------------*/

#define SAY_CLOSE_HEAD N_("Close %s")
#define SAY_CLOSE_CORRECT N_("Correct %s")
#define SAY_CLOSE_SEATED N_("Booked guests who came, of %lld")
#define SAY_CLOSE_WALKED N_("Guests without a booking")
#define SAY_CLOSE_WALKED_LIKELY N_("Guests without a booking (about %lld)")
#define SAY_CLOSE_DISH N_("%s (about %lld, out %lld)")
#define SAY_CLOSE_DISH_OUT N_("%s (out %lld)")
#define SAY_CLOSE_SOLD_HINT N_("12, or 12:40 if it ran out at 40 covers")
#define SAY_CLOSE_HELP                                                         \
	N_("Sold of each dish: a number; 12:40 when it ran out at 40 covers, " \
	   "12:out when nobody knows. Empty: what was scanned out counts. "    \
	   "F12 "                                                              \
	   "records.")
#define SAY_CLOSE_HELP_CORRECT                                                 \
	N_("Change what was wrong; the rest stays. F12 records.")
#define SAY_CLOSED N_("%s is closed: %lld of %lld booked came, %lld walked in.")
#define SAY_CORRECTED N_("%s is put right.")

#endif /* SCREENS_SAYS_SERVICE_H */
