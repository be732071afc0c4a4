/* parts.c - the name of the food, and everything below the date. */
#include "parts.h"

#include "base/day.h"
#include "base/str.h"

/* One line unless two lines can be clearly larger. */
static enum rc
put_product(struct page *page, const char *name, int pct, struct err *err)
{
	const int *range = page->size->product;
	struct part part = { "product", name, FONT_TEXT, 0, 1 };
	int px = page_px(page, range) * pct / 100;
	int least = page_dots(page, range[2]);
	enum rc rc = RC_END;

	page->name_whole = false;
	if (px < least)
		px = least;
	for (part.px = px; rc == RC_END; part.px--) {
		if (part.lines_max == 1 &&
		    (part.px < px * 85 / 100 || part.px < least)) {
			part.lines_max = 2;
			part.px = px;
		}
		if (part.px < least)
			break;
		if ((rc = page_part(page, &part, err)) == RC_OK) {
			page->name_px = part.px;
			page->name_whole = part.lines_max == 1 && part.px == px;
		}
	}
	if (rc == RC_OK)
		page_gap(page, 250);
	return rc;
}

/* Regulation (EU) 1169/2011, Annex VI part A, point 2: the word goes with the
 * name.  The frame of a thawed label says it right below. */
enum rc
parts_name(
    struct page *page, const struct label_facts *f, int pct, struct err *err)
{
	struct part species = { "species", f->species, FONT_TEXT, 0, 2 };
	char name[LAYOUT_LINE_MAX];
	enum rc rc;

	str_fmt(name, sizeof(name), "%s%s", f->product,
	    f->defrosted && f->variant != LABEL_THAWED ? ", defrosted" : "");
	if ((rc = put_product(page, name, pct, err)) != RC_OK)
		return rc;
	if (page->size->small || f->species[0] == '\0')
		return RC_OK;
	species.px = page_px(page, page->size->detail);
	if ((rc = page_part(page, &species, err)) == RC_OK)
		page_gap(page, 350);
	return rc;
}

/* Food of several batches: all of them, on as many lines as it takes. */
static enum rc
put_batches(struct page *page, const struct label_facts *f, struct err *err)
{
	char s[LAYOUT_LINE_MAX];
	struct part part = { "batches", s, FONT_CODE,
		page_px(page, page->size->detail), 4 };
	enum rc rc;

	str_fmt(s, sizeof(s), "Batches %s + %s", f->batch, f->also);
	if ((rc = page_part(page, &part, err)) == RC_OK)
		page_gap(page, 150);
	return rc;
}

/* "Batch 26330-09C", behind the portion code where that is not under the
 * symbol. */
static enum rc
put_codes(struct page *page, const struct label_facts *facts, struct err *err)
{
	struct text spans[3];
	char batch[sizeof(facts->batch) + 16];
	int n = 0, px = page_px(page, page->size->code);
	int detail = page_px(page, page->size->detail);
	enum rc rc;

	if (facts->others > 0 && !page->size->small)
		return put_batches(page, facts, err);
	str_copy(batch, sizeof(batch), facts->batch);
	if (facts->others > 0)
		str_fmt(batch, sizeof(batch), "%s +%d", facts->batch,
		    facts->others);
	if (facts->kind == LABEL_BATCH) {
		spans[n++] = (struct text){ "Batch", FONT_TEXT, detail, false };
		spans[n++] =
		    (struct text){ facts->batch, FONT_CODE, px, false };
	} else {
		if (page->size->small)
			spans[n++] =
			    (struct text){ facts->code, FONT_CODE, px, false };
		spans[n++] = (struct text){ "Batch", FONT_TEXT, detail, false };
		spans[n++] =
		    (struct text){ batch, FONT_CODE, detail + 1, false };
	}
	rc = page_row(page, n == 3 ? "code and batch" : "batch", spans, n,
	    page_dots(page, 1000), err);
	if (rc == RC_OK)
		page_gap(page, 150);
	return rc;
}

/* Two lines only once smaller text alone has not helped: a last line of one
 * word looks like a mistake. */
static enum rc
put_detail(struct page *page, const char *field, const char *s, int lines,
    struct err *err)
{
	struct part part = { field, s, FONT_TEXT,
		page_px(page, page->size->detail), lines };
	enum rc rc;

	if (lines == 2 && page->level < PAGE_LEVELS / 2)
		part.lines_max = 1;
	if (s[0] == '\0')
		return RC_OK;
	rc = page_part(page, &part, err);
	if (rc == RC_OK)
		page_gap(page, 150);
	return rc;
}

static enum rc
put_strong(struct page *page, const char *field, const char *s, int lines,
    struct err *err)
{
	struct part part = { field, s, FONT_TEXT,
		page_px(page, page->size->strong), lines };
	enum rc rc;

	/* Nothing on the label but the date is larger than the name. */
	if (part.px > page->name_px)
		part.px = page->name_px;
	rc = page_part(page, &part, err);
	if (rc == RC_OK)
		page_gap(page, 200);
	return rc;
}

static enum rc
put_allergens(struct page *page, const char *allergens, struct err *err)
{
	char s[LAYOUT_LINE_MAX];

	str_fmt(s, sizeof(s), "Contains: %s", allergens);
	return put_strong(page, "allergens", s, 3, err);
}

static enum rc
put_made(struct page *page, const struct label_facts *facts, struct err *err)
{
	char s[LAYOUT_LINE_MAX], when[PARTS_DATE_SIZE];

	str_fmt(s, sizeof(s), "%s %s%s%s",
	    facts->kind == LABEL_BATCH ? "Received" : "Prepared",
	    parts_time(when, &facts->made), facts->by[0] != '\0' ? " by " : "",
	    facts->by);
	return put_detail(page, "prepared", s, 2, err);
}

/* What only this state has to say, right below its date. */
static enum rc
put_state(struct page *page, const struct label_facts *f, struct err *err)
{
	char s[LAYOUT_TEXT_MAX], when[PARTS_DATE_SIZE];
	enum rc rc;

	switch (f->variant) {
	case LABEL_HOLD:
		str_fmt(s, sizeof(s), "Reason: %s", f->reason);
		rc = put_strong(page, "reason", s, 6, err);
		if (rc != RC_OK)
			return rc;
		str_fmt(s, sizeof(s), "Held %s by %s",
		    parts_time(when, &f->held), f->held_by);
		return put_detail(page, "held by", s, 2, err);
	case LABEL_THAWED:
		return put_strong(
		    page, "thawed", "Do not freeze again", 1, err);
	case LABEL_USE_BY:
	case LABEL_FROZEN:
		break;
	}
	return RC_OK;
}

/* The small label has room for the quantity or for a state. */
static enum rc
small_details(struct page *page, const struct label_facts *f, struct err *err)
{
	bool batch = f->kind == LABEL_BATCH;
	enum rc rc;

	if ((batch && (rc = put_codes(page, f, err)) != RC_OK) ||
	    (rc = put_state(page, f, err)) != RC_OK ||
	    (rc = put_allergens(page, f->allergens, err)) != RC_OK ||
	    (!batch && (rc = put_codes(page, f, err)) != RC_OK))
		return rc;
	if (f->variant != LABEL_USE_BY)
		return RC_OK;
	return put_detail(page, "quantity", f->quantity, 2, err);
}

/* On goods in the origin is what the next person asks for; on prepared food it
 * is the allergens.  A state takes the room of when it was made, which is no
 * longer what counts, and of a portion's origin, which the batch's label has.
 */
enum rc
parts_details(struct page *page, const struct label_facts *f, struct err *err)
{
	bool batch = f->kind == LABEL_BATCH, plain = f->variant == LABEL_USE_BY;
	enum rc rc;

	if (page->size->small)
		return small_details(page, f, err);
	if ((rc = put_state(page, f, err)) != RC_OK ||
	    (batch && (rc = put_codes(page, f, err)) != RC_OK) ||
	    (batch &&
		(rc = put_detail(page, "origin", f->origin, 3, err)) !=
		    RC_OK) ||
	    (rc = put_allergens(page, f->allergens, err)) != RC_OK)
		return rc;
	/* High up there is room for a whole line above the symbol. */
	if (!batch &&
	    ((plain && (rc = put_made(page, f, err)) != RC_OK) ||
		(rc = put_codes(page, f, err)) != RC_OK))
		return rc;
	if ((rc = put_detail(page, "quantity", f->quantity, 2, err)) != RC_OK ||
	    (batch && plain && (rc = put_made(page, f, err)) != RC_OK) ||
	    (rc = put_detail(page, "storage", f->storage, 2, err)) != RC_OK)
		return rc;
	if (batch || !plain)
		return RC_OK;
	return put_detail(page, "origin", f->origin, 3, err);
}
