/* says_goods_look.h - messages of Goods in: how it looks, the decision, the
 * record.  Private to src/screens. */
#ifndef SCREENS_SAYS_GOODS_LOOK_H
#define SCREENS_SAYS_GOODS_LOOK_H

#include "base/say.h"

/* how it looks */
#define SAY_GI_LOOK_HOW                                                        \
	N_("Look, feel, smell. What is left empty is recorded as not looked "  \
	   "at.")
#define SAY_GI_NO_TABLE N_("No freshness table for it: judge by eye and smell.")
#define SAY_GI_NOT_LAW N_("table chosen by us, not by law")
#define SAY_GI_UNVERIFIED N_("(from memory)")
#define SAY_GI_NO_WORDS N_("worse than the words above")
#define SAY_GI_BERRIED N_("Carries eggs?")
#define SAY_GI_SOFT N_("Soft-shelled?")
#define SAY_GI_NOTCHED N_("V notch?")
#define SAY_GI_YES N_("yes")
#define SAY_GI_NO N_("no")
#define SAY_GI_HINT_GRADE N_("e, a, b or n; Enter skips")
#define SAY_GI_HINT_GRADE_LIVE N_("e or n; Enter skips")
#define SAY_GI_HINT_YES N_("y or n; Enter skips")
#define SAY_GI_POINTS N_("points: %s")
#define SAY_GI_HINT_POINTS N_("quality index: all or none")
#define SAY_GI_HINT_SIZE N_("of the smallest; Enter skips")
#define SAY_GI_SIZE_TOTAL N_("Length, mm")
#define SAY_GI_SIZE_JAW N_("Jaw to fork, mm")
#define SAY_GI_SIZE_CARAPACE N_("Carapace, mm")
#define SAY_GI_SIZE_WIDTH N_("Width, mm")
#define SAY_GI_SIZE_TAIL N_("Tail, mm")
#define SAY_GI_SIZE_SHELL N_("Shell, mm")
#define SAY_GI_SIZE_SQUARE N_("Square hole, mm")
#define SAY_GI_SIZE_RING N_("Ring, mm")
#define SAY_GI_SIZE_WING N_("Wing, mm")
#define SAY_GI_SIZE_WEIGHT N_("Smallest, g")
#define SAY_GI_MINIMUM N_("minimum %d %s, %s (%s)")
#define SAY_GI_NO_MINIMUM N_("no minimum size is held for this area")
#define SAY_GI_MINIMUM_MANY N_("places differ: from %d %s")
#define SAY_GI_POINTS_MOST N_("%s: 0 to %d points (%s)")
#define SAY_GI_QI_THREE                                                        \
	N_("Quality index: judge at least %d fish; no single point rejects "   \
	   "one.")
#define SAY_GI_CONDITION_LAW                                                   \
	N_("Where the law forbids it, it can only be refused.")

/* the decision */
#define SAY_GI_DECISION N_("Decision")
#define SAY_GI_NOTE N_("Note or reason")
#define SAY_GI_HINT_DECISION N_("a accept, n with a note, r refuse")
#define SAY_GI_HINT_NOTE N_("in your words")
#define SAY_GI_ACCEPT N_("accept")
#define SAY_GI_WITH_NOTE N_("note")
#define SAY_GI_REFUSE N_("refuse")
#define SAY_GI_MEANS_ACCEPT N_("take it in")
#define SAY_GI_MEANS_NOTE N_("take it in; the note says why")
#define SAY_GI_MEANS_REFUSE N_("send it back; the reason says why")
#define SAY_GI_PROPOSED_ACCEPT N_("Proposed: accept. You decide.")
#define SAY_GI_PROPOSED_NOTE N_("Proposed: only with a note. You decide.")
#define SAY_GI_PROPOSED_REFUSE N_("Proposed: refuse. You decide.")
#define SAY_GI_ONLY_REFUSE N_("It can only be refused.")
#define SAY_GI_USE_BY N_("use by")
#define SAY_GI_UNTIL N_("%s: %s")
#define SAY_GI_NO_DATE_REFUSED N_("No use-by: it is to be sent back.")
#define SAY_GI_NO_DATE_CLOCK N_("No use-by while the clock is in doubt: %s")
#define SAY_GI_NOT_GRADED N_("freshness: not looked at")
#define SAY_GI_CAUTION N_("caution: %s")
#define SAY_GI_SUM N_("%s, %s, %s, %s")
#define SAY_GI_SUM_FISH NN_("%d fish, %s", "%d fish, %s")
#define SAY_GI_SUM_OF N_("%s of %s")
#define SAY_GI_MORE N_("Tab reads the rest")
#define SAY_GI_FOUND N_("What was found")

/* recorded */
#define SAY_GI_BATCH N_("batch")
#define SAY_GI_DONE N_("Recorded: batch %s, accepted.")
#define SAY_GI_DONE_NOTE N_("Recorded: batch %s, accepted with the note.")
#define SAY_GI_DONE_NEXT                                                       \
	N_("Enter: the next batch of this delivery.   Esc: today's list.")
#define SAY_GI_SENT_BACK N_("Recorded as refused: %s. It gets no label.")
#define SAY_GI_LABEL_QUEUED N_("The tray label is in the queue.")
#define SAY_GI_LABEL_NOT                                                       \
	N_("The batch is recorded, its label is not in the queue: %s")

#endif /* SCREENS_SAYS_GOODS_LOOK_H */
