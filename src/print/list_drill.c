/* list_drill.c - a recall in play, on one page. */
#include "print/lists.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"
#include "exchange/drill_out.h"
#include "list_words.h"

static void
put_number(struct ticket *t, const char *what, int64_t n)
{
	char text[32];

	str_fmt(text, sizeof(text), "%" PRId64, n);
	ticket_add(t, TICKET_LINE, what, text);
}

static void
put_head(struct ticket *t, const struct drill_report *r)
{
	char code[CODE_SIZE], when[48], took[32];

	ticket_printf(
	    t, TICKET_TITLE, NULL, "Drill %s", code_show(code, r->batch));
	ticket_printf(t, TICKET_SMALL, NULL, "%s, %s by %s", r->kitchen,
	    time_short(when, sizeof(when), r->at_utc), r->by);
	if (r->has_seed)
		ticket_printf(t, TICKET_SMALL, NULL,
		    "a recall in play; batch drawn with seed %" PRId64,
		    r->seed);
	else
		ticket_add(t, TICKET_SMALL,
		    "a recall in play; batch named by a person", NULL);
	ticket_add(t, TICKET_LINE, "found in",
	    drill_time(took, sizeof(took), r->took_us));
	ticket_add(t, TICKET_SMALL,
	    r->took_us <= DRILL_GOAL_US ? "goal: one second, met"
					: "goal: one second, NOT MET",
	    NULL);
}

static void
put_back(struct ticket *t, const struct drill_report *r)
{
	char when[48];

	ticket_add(t, TICKET_HEAD, "Back", NULL);
	ticket_add(t, TICKET_LINE, r->species, NULL);
	ticket_add(t, TICKET_LINE, r->supplier, NULL);
	if (r->contact[0] != '\0')
		ticket_printf(
		    t, TICKET_SMALL, NULL, "would be called: %s", r->contact);
	ticket_add(t, TICKET_LINE, "lot", r->lot);
	ticket_add(t, TICKET_LINE, "document", r->document);
	ticket_add(t, TICKET_LINE, "received",
	    time_short(when, sizeof(when), r->received_utc));
}

static void
put_forward(struct ticket *t, const struct drill_report *r)
{
	ticket_add(t, TICKET_HEAD, "Forward", NULL);
	put_number(t, "breakdowns", r->breakdowns);
	put_number(t, "labelled units", r->units);
	put_number(t, "led back to the batch", r->back);
	put_number(t, "units to pull", r->units_on_hand);
	put_number(t, "servings on hand", r->on_hand);
	put_number(t, "servings served", r->used);
	put_number(t, "at services", r->services);
	put_number(t, "servings discarded", r->discarded);
	if (r->missing != 0)
		put_number(t, "servings missing", r->missing);
	if (r->held)
		ticket_add(t, TICKET_SMALL, "it is on hold", NULL);
}

static void
put_grams(struct ticket *t, const struct drill_report *r)
{
	char w[32];
	int i;

	ticket_add(t, TICKET_HEAD, "Every gram",
	    weight_print(w, sizeof(w), r->mass.in));
	for (i = 0; i < MASS_PARTS; i++)
		if (r->mass.part[i] != 0)
			ticket_add(t, TICKET_LINE,
			    mass_words((enum mass_part)i),
			    weight_print(w, sizeof(w), r->mass.part[i]));
	if (r->mass.explained != 0)
		ticket_add(t, TICKET_LINE, "explained by a person",
		    weight_print(w, sizeof(w), r->mass.explained));
	ticket_add(t, TICKET_LINE,
	    mass_open(&r->mass) < 0 ? "overweight" : "unexplained",
	    weight_print(w, sizeof(w), mass_open(&r->mass)));
	if (r->gap[0] != '\0')
		ticket_add(t, TICKET_SMALL, r->gap, NULL);
}

void
list_drill(struct ticket *t, const struct drill_report *r)
{
	put_head(t, r);
	put_back(t, r);
	put_forward(t, r);
	put_grams(t, r);
	ticket_add(t, TICKET_HEAD,
	    drill_found(r) ? "Found and accounted for" : "NOT ALL FOUND", NULL);
	if (r->back != r->units)
		ticket_add(t, TICKET_SMALL,
		    "a unit does not lead back to the batch: look at its "
		    "breakdown",
		    NULL);
	list_signature(t, "Seen by, when");
}
