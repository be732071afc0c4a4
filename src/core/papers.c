/* papers.c - is the goods-in record complete, rule by rule? */
#include "core/papers.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"

#define R931 "Reg. (EU) 931/2011 Art. 3(1)"
#define R1379 "Reg. (EU) 1379/2013 Art. 35(1)"
#define R178 "Reg. (EC) 178/2002 Art. 18"
#define R1224 "Reg. (EC) 1224/2009 Art. 58"
#define US_A "21 CFR 1.1345(a)"
#define US_B "21 CFR 1.1345(b)"

const char *
paper_datum_word(enum paper_datum d)
{
	static const char *const words[DATUM_COUNT] = {
#define DATUM_WORD(id, word) [id] = word,
		PAPER_DATUM_LIST(DATUM_WORD)
#undef DATUM_WORD
	};

	return words[d];
}

static const char *const frozen_words[] = {
	[FROZEN_UNKNOWN] = "unknown",
	[FROZEN_NEVER] = "never",
	[FROZEN_STATED] = "stated",
	[FROZEN_INGREDIENT] = "ingredient",
	[FROZEN_NECESSARY] = "necessary",
	[FROZEN_PARASITES] = "parasites",
	[FROZEN_THEN_CURED] = "then-cured",
};

const char *
frozen_word(enum papers_frozen f)
{
	return frozen_words[f];
}

enum rc
frozen_parse(enum papers_frozen *out, const char *s, struct err *err)
{
	int i;

	for (i = FROZEN_NEVER; i <= FROZEN_THEN_CURED; i++)
		if (str_eq(s, frozen_words[i])) {
			*out = (enum papers_frozen)i;
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "frozen \"%.30s\": say never, stated, ingredient, necessary, "
	    "parasites or then-cured",
	    s);
}

/* The laws of the country a rule set was written for.  1224/2009 and 1379/2013
 * are kept there (legislation.gov.uk has both). */
unsigned
papers_laws(const char *rule_set)
{
	static const unsigned eu =
	    PAPERS_EU_178 | PAPERS_EU_931 | PAPERS_EU_1224 | PAPERS_EU_1379;

	if (str_eq(rule_set, "eu") || str_eq(rule_set, "england"))
		return eu;
	return str_eq(rule_set, "us-food-code") ? PAPERS_US_1345 : PAPERS_ALL;
}

struct list {
	struct paper_line *line;
	size_t count;
};

static void
add(struct list *l, const char *rule, const char *field, enum paper_datum datum,
    const char *words, enum paper_state state)
{
	struct paper_line *p = &l->line[l->count];

	assert(l->count < PAPERS_LINES_MAX);
	p->rule = rule;
	p->field = field;
	p->words = words;
	p->datum = datum;
	p->state = state;
	l->count++;
}

static enum paper_state
have(bool present)
{
	return present ? PAPER_HAVE : PAPER_MISSING;
}

static void
check_931(struct list *l, const struct papers *in)
{
	add(l, R931, "a", DATUM_DESCRIPTION, "description of the food",
	    have(in->description));
	add(l, R931, "b", DATUM_QUANTITY, "volume or quantity",
	    have(in->quantity));
	add(l, R931, "c", DATUM_DISPATCHER,
	    "name and address of who dispatched it", have(in->dispatcher));
	if (in->owner_differs)
		add(l, R931, "d", DATUM_CONSIGNOR,
		    "name and address of the consignor", have(in->consignor));
	else
		add(l, R931, "d", DATUM_CONSIGNOR,
		    "the consignor is who dispatched it", PAPER_NOT_NEEDED);
	add(l, R931, "e", DATUM_RECEIVER,
	    "name and address of who it was dispatched to", have(in->receiver));
	if (in->consignee_differs)
		add(l, R931, "f", DATUM_CONSIGNEE,
		    "name and address of the consignee", have(in->consignee));
	else
		add(l, R931, "f", DATUM_CONSIGNEE,
		    "the consignee is who it was dispatched to",
		    PAPER_NOT_NEEDED);
	add(l, R931, "g", DATUM_LOT,
	    "reference of the lot, batch or consignment", have(in->lot));
	add(l, R931, "h", DATUM_DISPATCHED, "date of dispatch",
	    have(in->dispatched));
}

static void
check_frozen(struct list *l, enum papers_frozen frozen)
{
	const char *why = "whether it has been defrosted";
	enum paper_state state = PAPER_NOT_NEEDED;

	switch (frozen) {
	case FROZEN_UNKNOWN:
		state = PAPER_MISSING;
		break;
	case FROZEN_NEVER:
	case FROZEN_STATED:
		state = PAPER_HAVE;
		break;
	case FROZEN_INGREDIENT:
		why = "defrosted: not for an ingredient of a final product";
		break;
	case FROZEN_NECESSARY:
		why = "defrosted: not where freezing belongs to the making";
		break;
	case FROZEN_PARASITES:
		why = "defrosted: not for fish frozen against parasites";
		break;
	case FROZEN_THEN_CURED:
		why =
		    "defrosted: not before smoking, salting, cooking, "
		    "pickling or drying";
		break;
	}
	add(l, R1379, "d", DATUM_FROZEN, why, state);
}

static void
check_1379(struct list *l, const struct papers *in)
{
	add(l, R1379, "a", DATUM_COMMERCIAL, "commercial designation",
	    have(in->commercial_name));
	add(l, R1379, "a", DATUM_SCIENTIFIC, "scientific name",
	    have(in->scientific_name));
	add(l, R1379, "b", DATUM_METHOD,
	    "caught, caught in freshwater or farmed",
	    have(in->method != METHOD_UNKNOWN));
	if (in->area && in->area_too_wide)
		add(l, R1379, "c", DATUM_AREA,
		    "subarea or division: FAO 27 or 37 alone is too wide "
		    "(Art. 38)",
		    PAPER_MISSING);
	else
		add(l, R1379, "c", DATUM_AREA,
		    "area of catch or country of farming", have(in->area));
	if (in->method == METHOD_FARMED)
		add(l, R1379, "c", DATUM_GEAR, "gear: not for farmed fish",
		    PAPER_NOT_NEEDED);
	else
		add(l, R1379, "c", DATUM_GEAR,
		    "category of fishing gear (Annex III)", have(in->gear));
	check_frozen(l, in->frozen);
	if (in->durability_due)
		add(l, R1379, "e", DATUM_DURABILITY,
		    "date of minimum durability", have(in->durability));
	else
		add(l, R1379, "e", DATUM_DURABILITY,
		    "durability: the food carries no date", PAPER_NOT_NEEDED);
}

/* The guest is the final consumer, whom nobody has to name. */
static void
check_178(struct list *l, const struct papers *in)
{
	add(l, R178, "(2)", DATUM_DISPATCHER, "who supplied the food",
	    have(in->dispatcher));
	add(l, R178, "(2)", DATUM_DESCRIPTION, "which food",
	    have(in->description));
	add(l, R178, "(3)", DATUM_GUESTS,
	    "to whom it went: not for final consumers", PAPER_NOT_NEEDED);
}

static void
check_1224(struct list *l, const struct papers *in)
{
	add(l, R1224, "(5)", DATUM_LOT, "identification number of the lot",
	    have(in->lot));
	add(l, R1224, "(5)", DATUM_VESSEL, "vessel, or aquaculture unit",
	    have(in->vessel));
	add(l, R1224, "(5)", DATUM_SPECIES, "FAO 3-alpha code of the species",
	    have(in->species_code));
	add(l, R1224, "(5)", DATUM_CAUGHT,
	    "date or dates of catch or production", have(in->caught));
	add(l, R1224, "(5)", DATUM_QUANTITY, "quantity", have(in->quantity));
	add(l, R1224, "(5)", DATUM_DISPATCHER, "supplier",
	    have(in->dispatcher));
	add(l, R1224, "(5)", DATUM_COMMERCIAL, "commercial designation",
	    have(in->commercial_name));
	add(l, R1224, "(5)", DATUM_SCIENTIFIC, "scientific name",
	    have(in->scientific_name));
	add(l, R1224, "(5)", DATUM_AREA, "area of catch or farming",
	    have(in->area));
	add(l, R1224, "(5)", DATUM_METHOD, "production method",
	    have(in->method != METHOD_UNKNOWN));
	add(l, R1224, "(5)", DATUM_FROZEN, "whether it was frozen before",
	    have(in->frozen != FROZEN_UNKNOWN));
}

static void
check_1345(struct list *l, const struct papers *in)
{
	const char *rule = in->supplier_exempt ? US_B : US_A;

	if (in->first_receiver) {
		add(l, US_A, "", DATUM_FIRST,
		    "first receiver on land: 21 CFR 1.1335 "
		    "applies, not checked here",
		    PAPER_NOT_NEEDED);
		return;
	}
	if (in->supplier_exempt && in->restaurant && !in->lot)
		add(l, rule, "(1)", DATUM_LOT,
		    "lot code: a restaurant need not assign one",
		    PAPER_NOT_NEEDED);
	else
		add(l, rule, "(1)", DATUM_LOT, "traceability lot code",
		    have(in->lot));
	add(l, rule, "(2)", DATUM_QUANTITY, "quantity and unit",
	    have(in->quantity));
	add(l, rule, "(3)", DATUM_DESCRIPTION, "product description",
	    have(in->description));
	add(l, rule, "(4)", DATUM_DISPATCHER,
	    "place of the immediate previous source", have(in->came_from));
	add(l, rule, "(5)", DATUM_RECEIVER, "place where it was received",
	    have(in->came_to));
	add(l, rule, "(6)", DATUM_RECEIVED, "date received",
	    have(in->received));
	/* Under (b) that place is also the source of the lot code. */
	if (!in->supplier_exempt)
		add(l, rule, "(7)", DATUM_LOT_SOURCE,
		    "source of the lot code, or its reference",
		    have(in->lot_source));
	add(l, rule, in->supplier_exempt ? "(7)" : "(8)", DATUM_DOCUMENT,
	    "type and number of the document", have(in->document));
}

size_t
papers_check(struct paper_line out[PAPERS_LINES_MAX], const struct papers *in,
    unsigned rules)
{
	struct list l = { out, 0 };

	if ((rules & PAPERS_EU_178) != 0)
		check_178(&l, in);
	if ((rules & PAPERS_EU_931) != 0)
		check_931(&l, in);
	if ((rules & PAPERS_EU_1224) != 0)
		check_1224(&l, in);
	if ((rules & PAPERS_EU_1379) != 0)
		check_1379(&l, in);
	if ((rules & PAPERS_US_1345) != 0)
		check_1345(&l, in);
	return l.count;
}

size_t
papers_missing(const struct paper_line *lines, size_t count)
{
	size_t n = 0;
	size_t i;

	for (i = 0; i < count; i++)
		n += lines[i].state == PAPER_MISSING;
	return n;
}

enum rc
papers_quantity(
    int64_t *thousandths, const char **unit, const char *s, struct err *err)
{
	char number[24];
	size_t skip = strspn(s, " ");
	size_t n = strspn(s + skip, "0123456789.,");
	const char *rest = s + skip + n;
	int64_t value;
	enum rc rc;

	rest += strspn(rest, " ");
	if (n == 0 || n >= sizeof(number))
		return err_set(err, RC_INVALID, 0,
		    "quantity \"%.40s\" does not begin with a number", s);
	memcpy(number, s + skip, n);
	number[n] = '\0';
	if (strchr(number, ',') != NULL && strlen(strchr(number, ',')) == 4)
		return err_set(err, RC_INVALID, 0,
		    "quantity \"%.40s\" could be read two ways; leave out the "
		    "comma",
		    s);
	if ((rc = decimal_parse(&value, "quantity", number, 3, err)) != RC_OK)
		return rc;
	if (value <= 0)
		return err_set(
		    err, RC_INVALID, 0, "quantity \"%.40s\" is not above 0", s);
	if (*rest == '\0')
		return err_set(
		    err, RC_INVALID, 0, "quantity \"%.40s\" has no unit", s);
	*thousandths = value;
	*unit = rest;
	return RC_OK;
}

day_no
papers_oldest(const day_no *days, size_t count)
{
	day_no oldest;
	size_t i;

	assert(count > 0);
	oldest = days[0];
	/* DAY_NONE is below every day, so an unknown one wins. */
	for (i = 1; i < count; i++)
		if (days[i] < oldest)
			oldest = days[i];
	return oldest;
}
