/* render.c - check the facts of a label and draw it. */
#include "labels/label.h"

#include <stddef.h>
#include <string.h>

#include "base/day.h"
#include "base/str.h"
#include "labels/barcode.h"
#include "layout.h"

#define REPRINT_MAX 999

/* Where a text may be empty. */
enum need {
	NEED_ALWAYS,
	NEED_NEVER,
	NEED_UNLESS_BATCH,
	NEED_ON_HOLD, /* not looked at on other labels */
};

static const struct field {
	const char *name;
	size_t offset, size;
	enum need need;
} fields[] = {
#define FIELD(member, need)                                                    \
	{                                                                      \
#member, offsetof(struct label_facts, member),                 \
		    sizeof(((struct label_facts *)0)->member), need            \
	}
	FIELD(product, NEED_ALWAYS),
	FIELD(species, NEED_NEVER),
	FIELD(by, NEED_NEVER),
	FIELD(batch, NEED_ALWAYS),
	FIELD(code, NEED_UNLESS_BATCH),
	FIELD(quantity, NEED_ALWAYS),
	FIELD(allergens, NEED_ALWAYS),
	FIELD(origin, NEED_NEVER),
	FIELD(storage, NEED_NEVER),
	FIELD(symbol, NEED_ALWAYS),
	FIELD(bars, NEED_NEVER),
	FIELD(reason, NEED_ON_HOLD),
	FIELD(held_by, NEED_ON_HOLD),
#undef FIELD
};

int
label_mm_to_dots(int mm, int dpi)
{
	return mm * dpi * 10 / 254;
}

static bool
is_blank(const char *s)
{
	return s[strspn(s, " ")] == '\0';
}

/* Every character must be there in the face the field is set in, also where
 * this label size leaves the field out: a name is either printable or not. */
static enum rc
check_field(const struct label_facts *facts, const struct field *f,
    struct fonts *fonts, struct err *err)
{
	const char *s = (const char *)facts + f->offset;
	struct text text = { s, FONT_TEXT, FONT_PX_MIN * 2, false };
	struct text_extent e;
	bool may_be_empty;
	enum rc rc;

	if (f->need == NEED_ON_HOLD && facts->variant != LABEL_HOLD)
		return RC_OK;
	may_be_empty = f->need == NEED_NEVER ||
	    (f->need == NEED_UNLESS_BATCH && facts->kind == LABEL_BATCH);
	if (memchr(s, '\0', f->size) == NULL)
		return err_set(err, RC_INVALID, 0, "%s is not ended", f->name);
	rc = text_check(f->name, s, f->size - 1, may_be_empty, err);
	if (rc != RC_OK)
		return rc;
	if (!may_be_empty && is_blank(s))
		return err_set(err, RC_INVALID, 0, "%s is empty", f->name);
	if (str_eq(f->name, "batch") || str_eq(f->name, "code"))
		text.face = FONT_CODE;
	rc = font_measure(&e, fonts, &text, err);
	if (rc != RC_OK)
		err_prefix(err, "%s: ", f->name);
	return rc;
}

static bool
time_ok(const struct local_time *t)
{
	return t->day >= DAY_MIN && t->day <= DAY_MAX && t->hour >= 0 &&
	    t->hour <= 23 && t->minute >= 0 && t->minute <= 59;
}

static int64_t
minutes(const struct local_time *t)
{
	return ((int64_t)t->day * 24 + t->hour) * 60 + t->minute;
}

static enum rc
check_time(const struct local_time *t, const char *name, struct err *err)
{
	if (time_ok(t))
		return RC_OK;
	return err_set(
	    err, RC_INVALID, 0, "%s is no possible date and time", name);
}

static enum rc
check_order(const struct local_time *first, const char *first_name,
    const struct local_time *then, const char *then_name, struct err *err)
{
	enum rc rc;

	if ((rc = check_time(first, first_name, err)) != RC_OK ||
	    (rc = check_time(then, then_name, err)) != RC_OK)
		return rc;
	if (minutes(then) < minutes(first))
		return err_set(err, RC_INVALID, 0,
		    "%s is earlier than the time it was %s", then_name,
		    first_name);
	return RC_OK;
}

static enum rc
check_times(const struct label_facts *f, struct err *err)
{
	static const char made[] = "prepared or received", use_by[] = "use by";
	enum rc rc = RC_OK;

	switch (f->variant) {
	case LABEL_HOLD:
		/* Says no use-by, and may well come after it. */
		if ((rc = check_time(&f->held, "held", err)) != RC_OK)
			return rc;
		return check_time(&f->made, made, err);
	case LABEL_THAWED:
		rc = check_order(
		    &f->frozen, "frozen", &f->thawed, "thawed", err);
		if (rc == RC_OK)
			rc = check_order(
			    &f->thawed, "thawed", &f->use_by, use_by, err);
		break;
	case LABEL_FROZEN:
		rc = check_order(&f->frozen, "frozen", &f->use_by, use_by, err);
		break;
	case LABEL_USE_BY:
		break;
	default:
		return err_set(err, RC_INVALID, 0,
		    "unknown variant of a label %d", (int)f->variant);
	}
	if (rc != RC_OK)
		return rc;
	return check_order(&f->made, made, &f->use_by, use_by, err);
}

static enum rc
check_facts(
    const struct label_facts *facts, struct fonts *fonts, struct err *err)
{
	size_t i;
	enum rc rc;

	if (facts->kind != LABEL_PORTION && facts->kind != LABEL_TRAY &&
	    facts->kind != LABEL_BATCH)
		return err_set(err, RC_INVALID, 0, "unknown kind of label %d",
		    (int)facts->kind);
	for (i = 0; i < sizeof(fields) / sizeof(fields[0]); i++) {
		rc = check_field(facts, &fields[i], fonts, err);
		if (rc != RC_OK)
			return rc;
	}
	if ((rc = check_times(facts, err)) != RC_OK)
		return rc;
	if (facts->reprint < 0 || facts->reprint > REPRINT_MAX)
		return err_set(err, RC_INVALID, 0,
		    "reprint %d is outside 0 to %d", facts->reprint,
		    REPRINT_MAX);
	return RC_OK;
}

static enum rc
plan(struct layout **out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	enum rc rc;

	if (layout_size_find(media, false) == NULL)
		return err_set(err, RC_INVALID, 0,
		    "no layout for %d x %d mm labels at %d dpi, known are "
		    "60 x 40 and 50 x 25 mm at 203 and 300 dpi",
		    media->width_mm, media->height_mm, media->dpi);
	if ((rc = check_facts(facts, fonts, err)) != RC_OK)
		return rc;
	if (layout_size_find(media, facts->bars[0] != '\0') == NULL)
		return err_set(err, RC_INVALID, 0,
		    "bars: the %d x %d mm label has no room for a second code, "
		    "set [label] bars = no or use 60 x 40",
		    media->width_mm, media->height_mm);
	return layout_make(out, facts, media, fonts, err);
}

static enum rc
draw_item(struct bitmap *bm, const struct item *item, struct fonts *fonts,
    struct err *err)
{
	struct text text = { item->s, item->face, item->px, item->white };

	if (item->kind == ITEM_TEXT)
		return font_draw(bm, fonts, &text, item->x, item->y, err);
	bitmap_fill(
	    bm, item->x, item->y, item->w, item->h, item->kind == ITEM_BLACK);
	return RC_OK;
}

enum rc
layout_draw(struct bitmap **out, const struct layout *l, struct fonts *fonts,
    struct err *err)
{
	struct bitmap *bm = bitmap_new(l->width, l->height);
	size_t i;
	enum rc rc;

	*out = NULL;
	for (i = 0; i < l->count; i++) {
		rc = draw_item(bm, &l->items[i], fonts, err);
		if (rc != RC_OK) {
			bitmap_free(bm);
			return rc;
		}
	}
	barcode_draw(bm, l->symbol, l->area.x, l->area.y, l->area.module);
	if (l->bars != NULL)
		barcode_draw_ladder(bm, l->bars, l->bars_area.x, l->bars_area.y,
		    l->bars_area.module, l->bars_area.w);
	*out = bm;
	return RC_OK;
}

enum rc
label_render(struct bitmap **out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	struct layout *l;
	enum rc rc;

	*out = NULL;
	if ((rc = plan(&l, facts, media, fonts, err)) != RC_OK)
		return rc;
	rc = layout_draw(out, l, fonts, err);
	layout_free(l);
	return rc;
}

enum rc
label_symbol_area(struct label_area *out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	struct layout *l;
	enum rc rc;

	if ((rc = plan(&l, facts, media, fonts, err)) != RC_OK)
		return rc;
	*out = l->area;
	layout_free(l);
	return RC_OK;
}

enum rc
label_bars_area(struct label_bars *out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	struct layout *l;
	enum rc rc;

	if ((rc = plan(&l, facts, media, fonts, err)) != RC_OK)
		return rc;
	*out = l->bars_area;
	layout_free(l);
	return RC_OK;
}
