/*
 * fuzz_useby.c - the arguments of `useby`, one "option=text" a line, through
 * the parsers they go through and on to the decision.
 *
 * Properties: no date is later than any of its limits; every limit says where
 * it comes from; an error is one line of text; one more ingredient, or the
 * freezing day counted, never gives a later date nor a date out of a refusal;
 * facts that are not known to be wrong leave no fault behind.
 */
#include "fuzz.h"

#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "base/units.h"
#include "core/useby.h"

#define LINE 100

static int64_t
day_end(day_no day)
{
	return utc_from_local(day, 23, 59, 59);
}

/* Figures of the shipped sets, and one of each kind they lack. */
static const struct {
	enum figure_id id;
	int value;
	const char *words;
} figures[] = {
	{ FIG_RAW_DAYS, 3, "" },
	{ FIG_SERVED_RAW_DAYS, 7, "" },
	{ FIG_COOKED_DAYS, 7, "" },
	{ FIG_LIVE_DAYS, 2, "" },
	{ FIG_VACUUM_DAYS, 10, "" },
	{ FIG_VACUUM_FROZEN, 1, "" },
	{ FIG_THAWED_DAYS, 7, "" },
	{ FIG_THAW_DAY, 1, "" },
	{ FIG_UNMARKED_HOURS, 24, "" },
	{ FIG_CHILL_MAX, 80, "" },
	{ FIG_ICE_MAX, 20, "" },
	{ FIG_PARASITE_C, -200, "" },
	{ FIG_PARASITE_HOURS, 24, "" },
	{ FIG_PARASITE_DEEP_C, -350, "" },
	{ FIG_PARASITE_DEEP_HOURS, 15, "" },
	{ FIG_EXEMPT_SPECIES, 0, "ALB YFT BFT" },
	{ FIG_EXEMPT_FORMS, 0, "bivalve" },
	{ FIG_EXEMPT_FARMED, 1, "" },
	{ FIG_HISTAMINE_C, 44, "" },
	{ FIG_HISTAMINE_HOURS, 3, "" },
	{ FIG_TAG_DAYS, 90, "" },
};

static const struct species fish[] = {
	{ .code = "COD", .form = FORM_ROUND },
	{ .code = "MAC", .form = FORM_ROUND, .histamine = true },
	{ .code = "YFT", .form = FORM_ROUND, .histamine = true },
	{ .code = "OYG", .form = FORM_BIVALVE },
	{ .code = "NEP", .form = FORM_CRUSTACEAN },
};

/* Every figure, or those of one bit of `which` only. */
static void
rules_of(struct ruleset *rs, unsigned which)
{
	struct figure *f;
	size_t i;

	memset(rs, 0, sizeof(*rs));
	str_copy(rs->name, sizeof(rs->name), "fuzz");
	for (i = 0; i < sizeof(figures) / sizeof(figures[0]); i++) {
		if (which != 0 && i % 8 != which % 8 &&
		    figures[i].id != FIG_PARASITE_C &&
		    figures[i].id != FIG_PARASITE_HOURS)
			continue;
		f = &rs->figures[figures[i].id];
		f->set = true;
		f->value = figures[i].value;
		str_copy(f->words, sizeof(f->words), figures[i].words);
		str_copy(f->source, sizeof(f->source), "A law");
	}
}

static enum rc
set_time(struct when *w, const char *key, const char *s, struct err *err)
{
	enum rc rc = time_parse(&w->utc, key, s, err);

	w->set = rc == RC_OK;
	if (w->set)
		w->day = local_from_utc(w->utc).day;
	return rc;
}

static enum rc
set_dates(struct useby_in *in, const char *key, const char *s, struct err *err)
{
	enum rc rc;
	day_no d;

	if (str_eq(key, "prepared"))
		return set_time(&in->prepared, key, s, err);
	if (str_eq(key, "received"))
		return set_time(&in->received, key, s, err);
	if (str_eq(key, "caught"))
		return set_time(&in->caught, key, s, err);
	if (str_eq(key, "frozen"))
		return set_time(&in->frozen, key, s, err);
	if (str_eq(key, "thawed"))
		return set_time(&in->thawed, key, s, err);
	if (str_eq(key, "supplier-date"))
		return day_parse(&in->supplier_date, key, s, err);
	if (!str_eq(key, "ingredient-date") ||
	    in->ingredient_count == USEBY_INGREDIENTS_MAX - 1)
		return RC_OK;
	if ((rc = day_parse(&d, key, s, err)) == RC_OK)
		in->ingredients[in->ingredient_count++] = d;
	return rc;
}

static enum rc
set_fact(struct useby_in *in, const char *key, const char *s, struct err *err)
{
	size_t i;

	if (str_eq(key, "state"))
		return food_state_parse(&in->state, s, err);
	if (str_eq(key, "storage-c")) {
		in->storage_set = true;
		return temp_parse(&in->storage_dc, key, s, err);
	}
	if (str_eq(key, "freeze-c")) {
		in->freeze_set = true;
		return temp_parse(&in->freeze_dc, key, s, err);
	}
	in->farmed |= str_eq(key, "farmed");
	if (str_eq(key, "species"))
		for (i = 0; i < sizeof(fish) / sizeof(fish[0]); i++)
			if (str_eq_nocase(s, fish[i].code))
				in->species = &fish[i];
	return set_dates(in, key, s, err);
}

static enum rc
read_facts(struct useby_in *in, unsigned *which, const uint8_t *data,
    size_t size, struct err *err)
{
	char line[LINE], *eq;
	size_t i = 0, n;
	enum rc rc;

	memset(in, 0, sizeof(*in));
	in->supplier_date = DAY_NONE;
	in->day_end = day_end;
	while (i < size) {
		for (n = 0; i < size && data[i] != '\n' && n + 1 < LINE; i++)
			line[n++] = data[i] == '\0' ? '?' : (char)data[i];
		line[n] = '\0';
		i++;
		if ((eq = strchr(line, '=')) == NULL)
			continue;
		*eq++ = '\0';
		if (str_eq(line, "rules"))
			*which = (unsigned char)*eq % 9;
		else if ((rc = set_fact(in, line, eq, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static void
check_error(const struct err *err)
{
	FUZZ_HOLDS(text_check("it", err->text, ERR_TEXT_MAX - 1, false, NULL) ==
	    RC_OK);
}

static enum rc
decide(struct useby *u, const struct useby_in *in, const struct ruleset *rs)
{
	struct err err = { 0 };
	size_t i;
	enum rc rc = useby_decide(u, in, rs, &err);

	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID || rc == RC_REFUSED);
	if (rc != RC_OK) {
		check_error(&err);
		return rc;
	}
	FUZZ_HOLDS(u->count > 0 && u->count <= USEBY_LIMITS_MAX);
	FUZZ_HOLDS(u->caution_count <= USEBY_CAUTIONS_MAX);
	for (i = 0; i < u->count; i++) {
		FUZZ_HOLDS(useby_utc(u) <= u->limits[i].utc);
		FUZZ_HOLDS(u->limits[i].name[0] != '\0');
		FUZZ_HOLDS(u->limits[i].source[0] != '\0');
	}
	for (i = 0; i < in->ingredient_count; i++)
		FUZZ_HOLDS(useby_utc(u) <= day_end(in->ingredients[i]));
	return RC_OK;
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct err err = { 0 };
	struct useby_in in, more;
	struct useby u, v;
	struct ruleset rs;
	unsigned which = 0;
	enum rc rc;

	if (read_facts(&in, &which, data, size, &err) != RC_OK) {
		check_error(&err);
		return 0;
	}
	rules_of(&rs, which);
	rc = decide(&u, &in, &rs);
	more = in;
	more.freezing_day_counts = true;
	if (decide(&v, &more, &rs) == RC_OK)
		FUZZ_HOLDS(rc == RC_OK && useby_utc(&v) <= useby_utc(&u));
	if (rc != RC_OK)
		return 0;
	more = in;
	more.ingredients[more.ingredient_count++] =
	    local_from_utc(useby_utc(&u)).day - 1;
	if (decide(&v, &more, &rs) == RC_OK)
		FUZZ_HOLDS(useby_utc(&v) < useby_utc(&u));
	return 0;
}
