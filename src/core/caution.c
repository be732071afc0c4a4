/* caution.c - what can hurt someone, said where it matters. */
#include "core/caution.h"

int
caution_list(const char *out[CAUTIONS_MAX], const struct species *sp,
    enum presentation p)
{
	int n = 0;

	if (sp->histamine)
		out[n++] =
		    "this species can form histamine when it gets warm; "
		    "cooking does not remove it: keep it in ice";
	if (sp->allergen != ALLERGEN_FISH)
		out[n++] = "shellfish allergen: own board, cloth and water";
	if (p == PRES_LIVE)
		out[n++] =
		    "live shellfish: keep the tag with the batch, "
		    "throw away what is dead or stays open";
	return n;
}

const char *
caution_general(void)
{
	return "Figures are guidance; local law and the kitchen's own food "
	       "safety plan rule, and a person decides.";
}
