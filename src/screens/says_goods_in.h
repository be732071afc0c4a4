/* says_goods_in.h - messages of Goods in.  Private to src/screens. */
#ifndef SCREENS_SAYS_GOODS_IN_H
#define SCREENS_SAYS_GOODS_IN_H

#include "base/say.h"

#define SAY_GI_TITLE N_("Goods in")

/* actions */
#define SAY_GI_NEW N_("take in")
#define SAY_GI_NEW_HELP                                                        \
	N_("Take a batch in; what was typed before is still there.")
#define SAY_GI_TRACE N_("trace")
#define SAY_GI_TRACE_HELP N_("Trace the chosen batch.")
#define SAY_GI_LABEL_OFF N_("label off")
#define SAY_GI_LABEL_OFF_HELP                                                  \
	N_("Forget the scanned label and what it filled in; what was typed "   \
	   "stays.")
#define SAY_GI_CLEAR N_("empty the form")
#define SAY_GI_CLEAR_HELP                                                      \
	N_("Empty every field of the batch being taken in, after asking.")
#define SAY_GI_ON N_("on")
#define SAY_GI_ON_HELP                                                         \
	N_("The next step: what came, how it looks, the decision.")
#define SAY_GI_BACK N_("back")
#define SAY_GI_BACK_HELP N_("The step before; nothing typed is lost.")
#define SAY_GI_READ N_("read all")
#define SAY_GI_READ_HELP                                                       \
	N_("Before the decision: everything found, with its sources.")
#define SAY_GI_WEIGH N_("weigh")
#define SAY_GI_WEIGH_HELP                                                      \
	N_("In the fields of count and weight: take the weight from the "      \
	   "scale.")
#define SAY_GI_EACH N_("fish by fish")
#define SAY_GI_EACH_HELP                                                       \
	N_("In the fields of count and weight: weigh each fish.")
#define SAY_GI_RECORD N_("record")
#define SAY_GI_RECORD_HELP                                                     \
	N_("After the decision: record the batch and queue its tray label.")

/* steps */
#define SAY_GI_STEP_GOODS N_("1 What came")
#define SAY_GI_STEP_LOOK N_("2 How it looks")
#define SAY_GI_STEP_DECIDE N_("3 Decision")
#define SAY_GI_LABEL_SCANS NN_("label: %d scan", "label: %d scans")

/* fields */
#define SAY_GI_SUPPLIER N_("Supplier")
#define SAY_GI_DOCUMENT N_("Document")
#define SAY_GI_SPECIES N_("Species")
#define SAY_GI_PRESENTATION N_("Presentation")
#define SAY_GI_COUNT N_("Count")
#define SAY_GI_WEIGHT N_("Weight")
#define SAY_GI_TEMP N_("Temperature")
#define SAY_GI_LOT N_("Lot")
#define SAY_GI_AREA N_("Catch area")
#define SAY_GI_METHOD N_("Method")
#define SAY_GI_GEAR N_("Gear")
#define SAY_GI_CAUGHT N_("Caught")
#define SAY_GI_DISPATCHED N_("Dispatched")
#define SAY_GI_SUPPLIER_DATE N_("Their use-by")
#define SAY_GI_VESSEL N_("Vessel or farm")
#define SAY_GI_PRICE N_("Price of a kg")
#define SAY_GI_HINT_SUPPLIER N_("first letters of code or name")
#define SAY_GI_HINT_DOCUMENT N_("number of the delivery note")
#define SAY_GI_HINT_SPECIES N_("first letters of name or code")
#define SAY_GI_HINT_PRESENTATION N_("first letters, such as gut")
#define SAY_GI_HINT_COUNT N_("fish; empty for goods by weight")
#define SAY_GI_HINT_WEIGHT N_("850 or 12,4 kg; w weighs")
#define SAY_GI_HINT_TEMP N_("of the core, degrees Celsius")
#define SAY_GI_HINT_LOT N_("the supplier's lot")
#define SAY_GI_HINT_AREA N_("FAO code such as 27.7.e, or words")
#define SAY_GI_HINT_METHOD N_("first letters; arrows choose")
#define SAY_GI_HINT_GEAR N_("code or category; not for farmed")
#define SAY_GI_HINT_DATE N_("fri, -1, 27.11")
#define SAY_GI_HINT_VESSEL N_("may be left out")
#define SAY_GI_HINT_PRICE N_("12,50; may be left out")

/* below the form */
#define SAY_GI_LIMIT_NOTE N_("over %s: only with a note")
#define SAY_GI_LIMIT_REFUSE N_("over %s: only to be refused")
#define SAY_GI_LIMIT_LIVE N_("live, over %s: only to be refused")
#define SAY_GI_TEMP_GOOD N_("within the limits")
#define SAY_GI_TEMP_NOTE N_("needs a note, or a refusal")
#define SAY_GI_TEMP_REFUSE N_("too warm: refuse it")
#define SAY_GI_TEMP_COLD N_("frozen: needs a note, or a refusal")
#define SAY_GI_WEIGH_HOW N_("w: from the scale   f: fish by fish")
#define SAY_GI_WEIGHING N_("The scale is asked: wait for a still weight. %s")
#define SAY_GI_WEIGHED_EACH                                                    \
	NN_("%d fish weighed one by one", "%d fish weighed one by one")
#define SAY_GI_FROM_LABEL N_("from the label")
#define SAY_GI_WITH_LABEL N_("label: %s")
#define SAY_GI_LABEL_SAYS N_("the label says %s")
#define SAY_GI_LABEL_FROZEN N_("The label says first frozen %s.")
#define SAY_GI_LABEL_BEST N_("The label says best before %s.")

/* the day's list */
#define SAY_GI_TODAY NN_("%d batch today", "%d batches today")
#define SAY_GI_EMPTY                                                           \
	N_("Nothing was taken in today.\n\nPress n to take a batch in, or "    \
	   "scan the supplier's label: it fills in what it says.")
#define SAY_GI_NO_SUPPLIER                                                     \
	N_("No supplier is known yet, and a batch must name its supplier.\n\n" \
	   "Write a list with the columns code,name,address and take it in "   \
	   "once: pinbone import suppliers FILE. Then come back here.")
#define SAY_GI_HALF N_("A batch is half typed: n goes on with it.")
#define SAY_GI_ROW_USE_BY N_("use by %s")
#define SAY_GI_ROW_REFUSED N_("sent back")
#define SAY_GI_ROW_STRUCK N_("struck out")
#define SAY_GI_ROW_NOTED N_("%s, note")

/* scans */
#define SAY_GI_FILLED                                                          \
	NN_("The label filled in %d field.", "The label filled in %d fields.")
#define SAY_GI_FILLED_NOTHING                                                  \
	N_("The label says nothing a field asks for; it is kept with the "     \
	   "batch.")
#define SAY_GI_SCAN_AGAIN N_("That label was scanned already.")
#define SAY_GI_SCAN_MANY                                                       \
	N_("There are %d scans already: record this batch, or take the label " \
	   "off (Esc, x).")
#define SAY_GI_SCAN_OTHER                                                      \
	N_("%s. If it is of another batch: record this one first, or take "    \
	   "the label off (Esc, x).")
#define SAY_GI_LABEL_IS_OFF N_("The label is off; what was typed is there.")
#define SAY_GI_ASK_CLEAR N_("Empty the form?")
#define SAY_GI_ASK_CLEAR_TEXT                                                  \
	N_("Everything typed and scanned for this batch is forgotten. "        \
	   "Nothing "                                                          \
	   "recorded changes.")

/* fish by fish */
#define SAY_GI_EACH_TITLE N_("Fish by fish")
#define SAY_GI_EACH_WEIGHT N_("Next fish")
#define SAY_GI_EACH_HINT N_("type it, or w weighs; Enter takes it")
#define SAY_GI_EACH_EMPTY                                                      \
	N_("Lay one fish on the scale and press w, or type its weight and "    \
	   "Enter. Backspace takes the last one back, Esc goes back to the "   \
	   "form.")
#define SAY_GI_EACH_LAST N_("number %d")
#define SAY_GI_EACH_TOTAL NN_("%d fish, in all", "%d fish, in all")
#define SAY_GI_EACH_FULL N_("no more than %d fish can be weighed one by one")
#define SAY_GI_EACH_GONE N_("Number %d, %s, was taken back.")
#define SAY_GI_WEIGHT_TAKEN N_("%s from the scale")
#define SAY_GI_WEIGH_BUSY N_("The scale is being asked already.")
#define SAY_GI_WEIGH_UNREAD                                                    \
	N_("The scale's answer could not be read: type the weight.")
#define SAY_GI_WEIGH_FAILED N_("%s. Type the weight instead.")

/* options of the command line, as this screen calls them */
#define SAY_GI_WORD_REASON N_("a reason")
#define SAY_GI_WORD_NOTE N_("a note")
#define SAY_GI_WORD_LABEL N_("the label")
#define SAY_GI_WORD_EACH N_("fish by fish")
#define SAY_GI_WORD_MARK N_("freshness")
#define SAY_GI_WORD_POINTS N_("quality index")
#define SAY_GI_WORD_SIZE N_("size")

#endif /* SCREENS_SAYS_GOODS_IN_H */
