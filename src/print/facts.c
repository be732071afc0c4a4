/* facts.c - what stands on the label of a recorded batch or portion. */
#include "print/facts.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "core/label_code.h"

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

/* Frozen or thawed: variant, when, storage of the freezer. */
static bool
set_state(struct label_facts *f, const struct portion *p)
{
	(void)p;
	f->variant = LABEL_USE_BY;
	return true;
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
	if (f->origin[0] >= 'a' && f->origin[0] <= 'z')
		f->origin[0] = (char)(f->origin[0] - 'a' + 'A');
	code_show(f->batch, b->code);
	f->training = house->training;
	f->reprint = copy->reprint;
	return str_copy(f->storage, sizeof(f->storage), house->storage) && ok;
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
	ok = set_hold(out, copy->hold) && ok;
	return ok ? RC_OK : too_long(b->code, err);
}

enum rc
facts_portion(struct label_facts *out, const struct portion *p,
    const struct batch *b, const struct species *sp,
    const struct label_house *house, const struct label_copy *copy,
    struct err *err)
{
	struct label_code code;
	char weight[32];
	bool ok;

	memset(out, 0, sizeof(*out));
	memset(&code, 0, sizeof(code));
	out->kind = p->servings > 1 ? LABEL_TRAY : LABEL_PORTION;
	out->use_by = code.use_by = local_from_utc(p->use_by_utc);
	out->made = local_from_utc(p->made.utc);
	str_copy(code.batch, sizeof(code.batch), b->code);
	str_copy(code.portion, sizeof(code.portion), p->code);
	label_code_make(out->symbol, &code);
	code_show(out->code, p->code);
	ok = common(out, b, sp, house, copy);
	ok = str_copy(out->product, sizeof(out->product), p->dish_name) && ok;
	ok = str_copy(out->by, sizeof(out->by), p->made.by) && ok;
	ok = allergens(
		 out->allergens, sizeof(out->allergens), sp, p->allergens) &&
	    ok;
	weight_print(weight, sizeof(weight), p->weight_g);
	ok = str_fmt(out->quantity, sizeof(out->quantity),
		 "%" PRId64 " portion%s, %s", p->servings,
		 p->servings == 1 ? "" : "s", weight) &&
	    ok;
	ok = set_state(out, p) && ok;
	ok = set_hold(out, copy->hold) && ok;
	return ok ? RC_OK : too_long(p->code, err);
}

enum rc
facts_house_check(const struct label_house *house,
    const struct label_media *media, struct err *err)
{
	if (house->bars && media->width_mm < 60)
		return err_set(err, RC_INVALID, 0,
		    "[label] bars = yes: the %d x %d mm label has no room for "
		    "a second code, say no or use 60 x 40",
		    media->width_mm, media->height_mm);
	return RC_OK;
}
