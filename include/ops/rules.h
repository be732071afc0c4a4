/*
 * ops/rules.h - the rule set in force, and what it makes of a food.
 */
#ifndef OPS_RULES_H
#define OPS_RULES_H

#include "base/buf.h"
#include "base/digest.h"
#include "base/err.h"
#include "base/format.h"
#include "config/config.h"
#include "core/keeping.h"
#include "core/ruleset.h"
#include "core/useby.h"

struct station;
struct batch;
struct portion;

/* A house life of one species and state, from the house file. */
struct species_life {
	char species[4];
	int days[STATE_COUNT]; /* 0: as for every species */
};

#define SPECIES_LIVES_MAX 64

struct rules {
	struct ruleset set;
	char digest[DIGEST_HEX_MAX]; /* of ruleset_print() */
	struct species_life lives[SPECIES_LIVES_MAX];
	size_t life_count;
};

/*
 * rules_load - the set `name` of the settings' rules folder, with the house
 * file laid over it; NULL takes the settings' set.
 * RC_OK, RC_NOTFOUND (no such set, those there are named), RC_INVALID,
 * RC_REFUSED when the house or the settings would loosen a figure.
 */
enum rc rules_load(struct rules *out, const struct config *cfg,
    const char *name, struct err *err) MUST_CHECK;

/* rules_check_species - every [life CODE] names a species of the table; one
 * that does not would protect nobody.  RC_OK or RC_INVALID. */
enum rc rules_check_species(const struct rules *rules,
    const struct species_table *species, const struct config *cfg,
    struct err *err) MUST_CHECK;

/* rules_keep - how long records are kept (core/keeping.h), by the set and the
 * settings.  `rules` must outlive *out.  RC_OK; RC_REFUSED: the settings would
 * shorten it, which rules_load() has asked before. */
enum rc rules_keep(struct keep_rule *out, const struct rules *rules,
    const struct config *cfg, struct err *err) MUST_CHECK;

/* house_days - the house life of a state, the species' own if shorter. */
int house_days(const struct config *cfg, const struct rules *rules,
    const char *species, enum food_state state);

/* date_batch - decide a batch's use-by at goods in. */
enum rc date_batch(struct useby *out, const struct station *sn,
    const struct batch *b, struct err *err) MUST_CHECK;

/* What is known of a food besides its batch. */
struct history {
	int64_t made_utc;
	bool frozen; /* the three below are known */
	int64_t frozen_utc, thawed_utc;
	int freeze_dc;            /* tenths of a degree it was frozen at */
	char feed_statement[120]; /* supplier's, for farmed fish; may be "" */
};

/* date_portion - decide the use-by of portions made from a batch; never later
 * than the batch's recorded one. */
enum rc date_portion(struct useby *out, const struct station *sn,
    const struct batch *b, enum food_state state, const struct history *h,
    struct err *err) MUST_CHECK;

/* A portion in the freezer. */
struct frozen_life {
	int64_t frozen_utc;
	int freeze_dc;     /* tenths of a degree it reached */
	int days_left;     /* of its life in chill */
	int64_t until_utc; /* its use-by while frozen */
};

/*
 * date_frozen - what freezing a portion keeps of its life, and how long it may
 * stay frozen.  life->frozen_utc and freeze_dc come in, the rest and *out go
 * out.  RC_OK, or RC_REFUSED, err naming the rule (R-D17, R-D18).
 */
enum rc date_frozen(struct useby *out, struct frozen_life *life,
    const struct station *sn, const struct batch *b, const struct portion *p,
    struct err *err) MUST_CHECK;

/*
 * date_thawed - the use-by of a frozen portion taken out at `thawed_utc`: never
 * later than its days left, its thawed life or its use-by while frozen (R-D11,
 * R-D18).  RC_OK, or RC_REFUSED when one of them has passed.
 */
enum rc date_thawed(struct useby *out, const struct station *sn,
    const struct batch *b, const struct portion *p,
    const struct frozen_life *life, int64_t thawed_utc,
    struct err *err) MUST_CHECK;

/*
 * useby_json - append a decision as the JSON the store keeps and `useby
 * --json` prints: the limits, the cautions, rule set and digest, and the
 * history that an exemption or a freeze record rests on (may be NULL).
 */
void useby_json(struct buf *out, const struct useby *u,
    const struct rules *rules, const struct history *h, bool pretty);

/* useby_put - the same into an object that is open, without closing it. */
struct jsonw;
void useby_put(struct jsonw *w, const struct useby *u,
    const struct rules *rules, const struct history *h);

/* What `pinbone useby` is asked; texts as typed, NULL where not given. */
struct useby_ask {
	const char *rules, *state, *species;
	const char *prepared, *received, *caught, *supplier_date;
	const char *ingredients[USEBY_INGREDIENTS_MAX];
	size_t ingredient_count;
	const char *frozen, *thawed, *storage_c, *freeze_c;
	bool farmed;
	bool no_house;
};

/* useby_explain - append the answer.  Touches no store. */
enum rc useby_explain(struct buf *out, const struct station *sn,
    const struct useby_ask *ask, enum format format,
    struct err *err) MUST_CHECK;

#endif /* OPS_RULES_H */
