/* picture.c - what a label is about, and the label itself. */
#include "picture.h"

#include <string.h>

#include "base/str.h"
#include "labels/font.h"
#include "labels/label.h"
#include "labels/testlabel.h"
#include "mix.h"
#include "ops/scan.h"
#include "ops/ticket.h"
#include "store/holds.h"
#include "store/tickets.h"

enum rc
about_find(
    struct about *a, struct station *sn, const char *code, struct err *err)
{
	enum rc rc;

	memset(a, 0, sizeof(*a));
	if ((rc = scan_code(&a->kind, a->code, sn, code, err)) != RC_OK)
		return rc;
	if (a->kind == CODE_BATCH) {
		rc = batch_get(&a->batch, sn->st, a->code, err);
		a->subject.batch_id = a->batch.id;
		return rc;
	}
	if ((rc = portion_get(&a->portion, sn->st, a->code, err)) != RC_OK)
		return rc;
	a->subject.portion_id = a->portion.id;
	return batch_get(&a->batch, sn->st, a->portion.batch, err);
}

enum job_says
about_says(const struct about *a)
{
	static const enum job_says says[] = {
		[KEEP_CHILLED] = SAYS_USE_BY,
		[KEEP_FROZEN] = SAYS_FROZEN,
		[KEEP_THAWED] = SAYS_THAWED,
	};

	return a->kind == CODE_BATCH ? SAYS_USE_BY : says[a->portion.keep];
}

static bool
is_held(const struct about *a)
{
	return a->kind == CODE_BATCH ? a->batch.held : a->portion.held;
}

enum rc
about_may_print(
    const struct about *a, enum job_says says, int64_t now, struct err *err)
{
	char shown[CODE_SIZE];
	int64_t use_by =
	    a->kind == CODE_BATCH ? a->batch.use_by_utc : a->portion.use_by_utc;

	code_show(shown, a->code);
	if (a->kind == CODE_PORTION ? a->portion.struck : a->batch.struck)
		return err_set(err, RC_REFUSED, 0,
		    "%s was struck out as entered by mistake: it gets no label",
		    shown);
	if (a->kind == CODE_PORTION && a->portion.left == 0)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is used up: it gets no label", shown);
	if (says == SAYS_HOLD)
		return is_held(a) ? RC_OK
				  : err_set(err, RC_REFUSED, 0,
					"%s is not on hold: it gets no hold "
					"label",
					shown);
	if (a->kind == CODE_BATCH && a->batch.decision == DECISION_REFUSED)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s was refused: it gets no label", shown);
	if (is_held(a))
		return err_set(err, RC_REFUSED, 0,
		    "%s is on hold: it gets no label until released", shown);
	if (use_by < now)
		return err_set(err, RC_REFUSED, 0,
		    "%s has expired: it gets no label, discard it", shown);
	if (says != about_says(a))
		return err_set(err, RC_REFUSED, 0,
		    "%s is no longer what this label says of it", shown);
	return RC_OK;
}

enum rc
picture_fonts(struct station *sn, struct err *err)
{
	if (sn->fonts != NULL)
		return RC_OK;
	return fonts_open(&sn->fonts, sn->cfg.font, sn->cfg.font_mono, err);
}

/*
 * The hold in force.  A reason beyond what a label takes is not cut short: the
 * label sends the reader to the station.  RC_NOTFOUND: none.
 */
static enum rc
hold_in_force(struct hold *out, struct station *sn, const struct about *a,
    struct err *err)
{
	enum rc rc = a->kind == CODE_BATCH
	    ? hold_now(out, sn->st, &a->subject, err)
	    : hold_of_unit(out, sn->st, a->portion.id, err);

	if (rc == RC_OK &&
	    strlen(out->reason) >= sizeof(((struct label_facts *)0)->reason))
		str_copy(out->reason, sizeof(out->reason),
		    "see the station's record");
	return rc;
}

struct label_house
picture_house(const struct station *sn)
{
	struct label_house house = {
		.storage = sn->cfg.storage_text,
		.gs1_prefix = sn->cfg.gs1_prefix,
		.bars = sn->cfg.bars,
		.training = sn->cfg.training,
	};

	return house;
}

static enum rc
make_facts(struct label_facts *f, struct station *sn, const struct about *a,
    enum job_says says, int copy, struct err *err)
{
	struct label_house house = picture_house(sn);
	struct label_copy this = { .reprint = copy };
	const struct species *sp = species_find(&sn->species, a->batch.species);
	struct hold hold;
	struct mix mix;
	enum rc rc;

	if (sp == NULL)
		return err_set(err, RC_INVALID, 0,
		    "species %s is no longer in the species table",
		    a->batch.species);
	if (says == SAYS_HOLD) {
		if ((rc = hold_in_force(&hold, sn, a, err)) != RC_OK)
			return rc;
		this.hold = &hold;
	}
	if (a->kind == CODE_BATCH)
		return facts_batch(f, &a->batch, sp, &house, &this, err);
	if (a->portion.others > 0) {
		if ((rc = mix_of_unit(&mix, sn, &a->portion, err)) != RC_OK)
			return rc;
		this.origins = mix_origins_differ(&mix);
	}
	return facts_portion(f, &a->portion, &a->batch, sp, &house, &this, err);
}

static struct label_media
media_of(const struct printer *p)
{
	struct label_media m = {
		.width_mm = p->media.width_mm,
		.height_mm = p->media.height_mm,
		.dpi = p->media.dpi,
	};

	return m;
}

enum rc
about_draw(struct bitmap **out, struct station *sn, const struct about *a,
    enum job_says says, int copy, const struct printer *p, struct err *err)
{
	struct label_media media = media_of(p);
	struct label_facts facts;
	enum rc rc;

	if ((rc = make_facts(&facts, sn, a, says, copy, err)) != RC_OK ||
	    (rc = picture_fonts(sn, err)) != RC_OK)
		return rc;
	return label_render(out, &facts, &media, sn->fonts, err);
}

void
about_name(
    char *dst, size_t size, const struct about *a, enum job_says says, int copy)
{
	char shown[CODE_SIZE], which[24] = "", again[24] = "";

	if (says != SAYS_USE_BY)
		str_fmt(which, sizeof(which), "-%s", job_says_word(says));
	if (copy > 0)
		str_fmt(again, sizeof(again), "-reprint-%d", copy);
	str_fmt(dst, size, "%s-%s%s%s",
	    a->kind == CODE_BATCH ? "batch" : "portion",
	    code_show(shown, a->code), which, again);
}

enum rc
picture_address(struct print_job *job, const struct printer *p,
    const struct bitmap *picture, struct err *err)
{
	digest_hex(job->picture, picture->bits,
	    picture->stride * (size_t)picture->height);
	if (!str_copy(job->language, sizeof(job->language), p->lang->name) ||
	    !str_copy(job->printer, sizeof(job->printer), p->configured) ||
	    !str_copy(job->printer_name, sizeof(job->printer_name), p->name))
		return err_set(err, RC_INVALID, 0, "printer name too long");
	return RC_OK;
}

enum rc
ticket_picture(struct bitmap **out, struct station *sn,
    const struct print_job *job, const struct printer *p, struct err *err)
{
	const struct printer_setting *set = config_printer(&sn->cfg, p->name);
	struct ticket_record row;
	enum ticket_kind kind;
	enum rc rc;

	if ((rc = ticket_get(&row, sn->st, job->ticket_id, err)) != RC_OK)
		return rc;
	kind = row.kind;
	ticket_record_fini(&row);
	if (kind == TICKET_TEST)
		return test_picture(out, sn, p, err);
	return ticket_page_picture(
	    out, sn, job->ticket_id, job->page, set, job->copy, err);
}

enum rc
test_picture(struct bitmap **out, struct station *sn, const struct printer *p,
    struct err *err)
{
	struct label_media media = media_of(p);
	char settings[80], paper[PAPER_SIZE];
	enum rc rc;

	str_fmt(settings, sizeof(settings), "%s, %d dpi, %s, heat %d %%",
	    p->lang->name, p->media.dpi,
	    printer_paper(
		paper, p->media.width_mm, p->media.height_mm, p->media.gap_mm),
	    p->media.darkness_pct);
	if ((rc = picture_fonts(sn, err)) != RC_OK)
		return rc;
	return testlabel_render(out, p->name, settings, &media, sn->fonts, err);
}
