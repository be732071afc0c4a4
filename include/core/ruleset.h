/*
 * core/ruleset.h - the legal figures behind dates and refusals, as data.
 *
 * A rule set is a file of config/rules: one section a figure, each with its
 * value, source, section of the source, and whether the figure was read there.
 * The strict set names others and takes, figure by figure, the strictest of
 * them.  A house may tighten any figure and loosen none.  Pure.
 */
#ifndef CORE_RULESET_H
#define CORE_RULESET_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/ini.h"

/*
 * X(id, section name in the file, kind, which way is stricter)
 * Days count the first day as day 1; LONG_DAYS are days a record is kept;
 * temperatures are tenths of a degree.
 */
#define FIGURE_LIST(X)                                                         \
	X(FIG_RAW_DAYS, "raw days", DAYS, LESS)                                \
	X(FIG_SERVED_RAW_DAYS, "served raw days", DAYS, LESS)                  \
	X(FIG_COOKED_DAYS, "cooked days", DAYS, LESS)                          \
	X(FIG_LIVE_DAYS, "live days", DAYS, LESS)                              \
	X(FIG_VACUUM_DAYS, "vacuum days", DAYS, LESS)                          \
	X(FIG_VACUUM_FROZEN, "vacuum fish frozen only", YES_NO, YES)           \
	X(FIG_THAWED_DAYS, "thawed days", DAYS, LESS)                          \
	X(FIG_THAW_DAY, "thawing day counts", YES_NO, YES)                     \
	X(FIG_UNMARKED_HOURS, "unmarked thaw hours", HOURS, LESS)              \
	X(FIG_FROZEN_MAX, "frozen max c", TEMP, LESS)                          \
	X(FIG_CHILL_MAX, "chill max c", TEMP, LESS)                            \
	X(FIG_ICE_MAX, "melting ice max c", TEMP, LESS)                        \
	X(FIG_PARASITE_C, "parasite freeze c", TEMP, LESS)                     \
	X(FIG_PARASITE_HOURS, "parasite freeze hours", HOURS, MORE)            \
	X(FIG_PARASITE_DEEP_C, "parasite deep freeze c", TEMP, LESS)           \
	X(FIG_PARASITE_DEEP_HOURS, "parasite deep freeze hours", HOURS, MORE)  \
	X(FIG_EXEMPT_SPECIES, "parasite exempt species", WORDS, FEWER)         \
	X(FIG_EXEMPT_FORMS, "parasite exempt forms", WORDS, FEWER)             \
	X(FIG_EXEMPT_FARMED, "parasite exempt farmed", YES_NO, NO)             \
	X(FIG_HISTAMINE_C, "histamine above c", TEMP, LESS)                    \
	X(FIG_HISTAMINE_HOURS, "histamine hours", HOURS, LESS)                 \
	X(FIG_TAG_DAYS, "shellfish tag days", DAYS, MORE)                      \
	X(FIG_KEEP_CHAIN, "keep chain days", LONG_DAYS, MORE)                  \
	X(FIG_KEEP_FROZEN, "keep freeze record days", LONG_DAYS, MORE)         \
	X(FIG_KEEP_FARM, "keep direct farm days", LONG_DAYS, MORE)             \
	X(FIG_RECEIVE_MAX, "receive max c", TEMP, LESS)                        \
	X(FIG_RECEIVE_LIVE_MAX, "receive live max c", TEMP, LESS)

/* A hundred years. */
#define RULE_LONG_DAYS_MAX 36525

enum figure_id {
#define FIGURE_ID(id, name, kind, strict) id,
	FIGURE_LIST(FIGURE_ID)
#undef FIGURE_ID
	    FIGURE_COUNT
};

struct figure {
	bool set;          /* false: this rule set has no such limit */
	int value;         /* days, hours, tenths, or 0 and 1 */
	char words[120];   /* of WORDS: blank separated */
	char source[120];  /* law or guidance */
	char section[80];  /* where in it */
	bool verified;     /* read there, not remembered or reported */
	char set_name[24]; /* rule set it comes from, "house" when tightened */
};

struct ruleset {
	char name[24];
	char title[120];
	char strictest_of[80]; /* names of other sets, or empty */
	struct figure figures[FIGURE_COUNT];
};

/* figure_name - its section name in a rule file. */
const char *figure_name(enum figure_id id);

/*
 * ruleset_parse - from the items of a rule file.  A set with strictest_of has
 * no figures of its own.
 * RC_OK or RC_INVALID naming file, section and key.
 */
enum rc ruleset_parse(
    struct ruleset *out, const struct ini_doc *doc, struct err *err) MUST_CHECK;

/* ruleset_strictest - fold `other` into `to`: the stricter of each figure; a
 * set without a figure does not loosen the other's. */
void ruleset_strictest(struct ruleset *to, const struct ruleset *other);

/*
 * ruleset_tighten - lay the figures of a house file over a set.
 * RC_OK, RC_INVALID, or RC_REFUSED when one would be looser, both named.
 */
enum rc ruleset_tighten(struct ruleset *to, const struct ini_doc *house,
    struct err *err) MUST_CHECK;

/* figure_words_have - is the word in a figure of words? */
bool figure_words_have(const struct figure *f, const char *word);

/* figure_source - "SOURCE, SECTION" into `dst`.  Returns `dst`. */
char *figure_source(char *dst, size_t size, const struct figure *f);

/* ruleset_print - every figure as text, one line each; the digest of this
 * text names the figures a date was made with. */
void ruleset_print(struct buf *out, const struct ruleset *rs);

#endif /* CORE_RULESET_H */
