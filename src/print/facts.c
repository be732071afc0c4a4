/* facts.c - what stands on the label of a recorded batch or portion. */
#include "print/facts.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "core/label_code.h"
#include "core/trade_item.h"
#include "labels/font.h"

/* Words for a production method as labels and lists write them. */
static const char *
method_words(const char *method)
{
	if (str_eq(method, "caught-freshwater"))
		return "caught in freshwater";
	return method;
}

/* Allergen group of the species, then what the dish adds. */
static bool
allergens(char *dst, size_t size, const struct species *sp, const char *more)
{
	char group[24];

	str_copy(group, sizeof(group), allergen_word(sp->allergen));
	if (group[0] >= 'a' && group[0] <= 'z')
		group[0] = (char)(group[0] - 'a' + 'A');
	if (more[0] == '\0')
		return str_copy(dst, size, group);
	return str_fmt(dst, size, "%s; %s", group, more);
}

static enum rc
too_long(const char *code, struct err *err)
{
	char shown[CODE_SIZE];

	return err_set(err, RC_INVALID, 0,
	    "%s: its record is longer than a label field takes",
	    code_show(shown, code));
}

/* What the record says about freezing: variant, frozen, thawed, defrosted. */
static void
set_state(struct label_facts *f, const struct portion *p)
{
	switch (p->keep) {
	case KEEP_CHILLED:
		f->variant = LABEL_USE_BY;
		return;
	case KEEP_FROZEN:
		f->variant = LABEL_FROZEN;
		break;
	case KEEP_THAWED:
		f->variant = LABEL_THAWED;
		f->thawed = local_from_utc(p->thawed_utc);
		f->defrosted = true;
		break;
	}
	f->frozen = local_from_utc(p->frozen_utc);
}

/* A tray that goes into the freezer half used must not look full. */
static bool
set_quantity(struct label_facts *f, const struct portion *p)
{
	char weight[32];

	weight_print(weight, sizeof(weight), p->weight_g);
	if (p->left < p->servings)
		return str_fmt(f->quantity, sizeof(f->quantity),
		    "%" PRId64 " of %" PRId64 " portions of %s", p->left,
		    p->servings, weight);
	return str_fmt(f->quantity, sizeof(f->quantity),
	    "%" PRId64 " portion%s, %s", p->servings,
	    p->servings == 1 ? "" : "s", weight);
}

/* Directive 89/108/EEC, Article 1(2): stable at -18 C or lower in all parts. */
static const char freezer[] = "Keep frozen at -18 C or below";

static bool
set_storage(struct label_facts *f, const struct label_house *house)
{
	return str_copy(f->storage, sizeof(f->storage),
	    f->variant == LABEL_FROZEN ? freezer : house->storage);
}

/* A hold hides everything else the record would say about its use. */
static bool
set_hold(struct label_facts *f, const struct hold *hold)
{
	if (hold == NULL)
		return true;
	f->variant = LABEL_HOLD;
	f->held = local_from_utc(hold->at_utc);
	return str_copy(f->held_by, sizeof(f->held_by), hold->by) &&
	    str_copy(f->reason, sizeof(f->reason), hold->reason);
}

/* What both kinds of label share. */
static bool
common(struct label_facts *f, const struct batch *b, const struct species *sp,
    const struct label_house *house, const struct label_copy *copy)
{
	char area[64];
	bool ok;

	ok = str_fmt(f->species, sizeof(f->species), "%s (%s)", sp->name,
	    sp->scientific);
	area[0] = '\0';
	if (b->area[0] != '\0')
		ok = str_fmt(area, sizeof(area), ", %s", b->area) && ok;
	ok = str_fmt(f->origin, sizeof(f->origin), "%s%s%s%s",
		 method_words(b->method), area, b->gear[0] == '\0' ? "" : ", ",
		 b->gear) &&
	    ok;
	/* No one area, method or gear is true of all of it. */
	if (copy->origins)
		ok = str_copy(f->origin, sizeof(f->origin),
			 "Mixed origins: see the batches") &&
		    ok;
	if (f->origin[0] >= 'a' && f->origin[0] <= 'z')
		f->origin[0] = (char)(f->origin[0] - 'a' + 'A');
	code_show(f->batch, b->code);
	f->training = house->training;
	f->reprint = copy->reprint;
	return ok;
}

enum rc
facts_batch(struct label_facts *out, const struct batch *b,
    const struct species *sp, const struct label_house *house,
    const struct label_copy *copy, struct err *err)
{
	struct label_code code;
	char weight[32];
	bool ok;

	memset(out, 0, sizeof(*out));
	memset(&code, 0, sizeof(code));
	out->kind = LABEL_BATCH;
	out->use_by = code.use_by = local_from_utc(b->use_by_utc);
	out->made = local_from_utc(b->received.utc);
	str_copy(code.batch, sizeof(code.batch), b->code);
	label_code_make(out->symbol, &code);
	if (house->bars)
		label_code_key(out->bars, b->code);
	ok = common(out, b, sp, house, copy);
	ok = str_fmt(out->product, sizeof(out->product), "%s, %s", sp->name,
		 presentation_word(b->presentation)) &&
	    ok;
	ok = str_copy(out->by, sizeof(out->by), b->received.by) && ok;
	ok = allergens(out->allergens, sizeof(out->allergens), sp, "") && ok;
	weight_print(weight, sizeof(weight), b->weight_g);
	if (b->count > 0)
		ok = str_fmt(out->quantity, sizeof(out->quantity),
			 "%" PRId64 " fish, %s", b->count, weight) &&
		    ok;
	else
		ok = str_copy(out->quantity, sizeof(out->quantity), weight) &&
		    ok;
	ok = set_storage(out, house) && ok;
	ok = set_hold(out, copy->hold) && ok;
	return ok ? RC_OK : too_long(b->code, err);
}

/* Under the kitchen's own prefix a portion is a trade item.  A batch is not:
 * its number is the supplier's to give, so its label keeps the in-house code.
 */
static enum rc
set_symbol(struct label_facts *f, const struct label_code *code, int64_t dish,
    const struct label_house *house, struct err *err)
{
	char gtin[TRADE_ITEM_GTIN + 1];
	enum rc rc;

	if (!trade_item_prefix_given(house->gs1_prefix)) {
		label_code_make(f->symbol, code);
		return RC_OK;
	}
	rc = trade_item_gtin(gtin, house->gs1_prefix, dish, err);
	if (rc == RC_OK)
		trade_item_symbol(f->symbol, gtin, code);
	return rc;
}

enum rc
facts_portion(struct label_facts *out, const struct portion *p,
    const struct batch *b, const struct species *sp,
    const struct label_house *house, const struct label_copy *copy,
    struct err *err)
{
	struct label_code code;
	bool ok;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	memset(&code, 0, sizeof(code));
	out->kind = p->servings > 1 ? LABEL_TRAY : LABEL_PORTION;
	out->use_by = code.use_by = local_from_utc(p->use_by_utc);
	out->made = local_from_utc(p->prepared_utc);
	str_copy(code.batch, sizeof(code.batch), b->code);
	str_copy(code.portion, sizeof(code.portion), p->code);
	if ((rc = set_symbol(out, &code, p->dish_id, house, err)) != RC_OK)
		return rc;
	if (house->bars)
		label_code_key(out->bars, p->code);
	code_show(out->code, p->code);
	ok = common(out, b, sp, house, copy);
	out->others = p->others;
	ok = str_copy(out->also, sizeof(out->also), p->also) && ok;
	ok = str_copy(out->product, sizeof(out->product), p->dish_name) && ok;
	ok = str_copy(out->by, sizeof(out->by), p->made.by) && ok;
	ok = allergens(
		 out->allergens, sizeof(out->allergens), sp, p->allergens) &&
	    ok;
	ok = set_quantity(out, p) && ok;
	set_state(out, p);
	ok = set_storage(out, house) && ok;
	ok = set_hold(out, copy->hold) && ok;
	return ok ? RC_OK : too_long(p->code, err);
}

enum rc
facts_house_check(const struct label_house *house,
    const struct label_media *media, struct err *err)
{
	if (house->bars && (media->width_mm < 60 || media->height_mm < 40))
		return err_set(err, RC_INVALID, 0,
		    "bars = yes: the %d x %d mm label has no room for a second "
		    "code, say no or use 60 x 40",
		    media->width_mm, media->height_mm);
	if (!trade_item_prefix_given(house->gs1_prefix))
		return RC_OK;
	return trade_item_prefix_check(house->gs1_prefix, err);
}

enum rc
facts_fonts_check(struct fonts *fonts, const struct species_table *species,
    const struct label_house *house, struct err *err)
{
	const struct species *sp;
	size_t i;
	enum rc rc;

	if ((rc = font_check(fonts, FONT_TEXT, house->storage, err)) != RC_OK)
		return rc;
	for (i = 0; i < species->count; i++) {
		sp = &species->items[i];
		rc = font_check(fonts, FONT_TEXT, sp->name, err);
		if (rc == RC_OK)
			rc = font_check(fonts, FONT_TEXT, sp->scientific, err);
		if (rc != RC_OK)
			return rc;
	}
	return RC_OK;
}
