/* label.c - labels of batches and portions. */
#include "ops/label.h"

#include <string.h>

#include "base/str.h"
#include "core/code.h"
#include "labels/font.h"
#include "labels/label.h"
#include "print/facts.h"
#include "print/spool.h"
#include "store/batches.h"
#include "store/portions.h"
#include "store/store.h"

#define PRINT_DEADLINE_MS 10000

/* What a label is about, read from the store. */
struct about {
	enum code_kind kind;
	char code[CODE_SIZE];
	struct batch batch;
	struct portion portion; /* when kind is CODE_PORTION */
	struct subject subject;
};

static enum rc
look_up(struct about *a, struct station *sn, const char *code, struct err *err)
{
	enum rc rc;

	memset(a, 0, sizeof(*a));
	if ((rc = code_parse(&a->kind, a->code, code, err)) != RC_OK)
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

static enum rc
open_fonts(struct station *sn, struct err *err)
{
	if (sn->fonts != NULL)
		return RC_OK;
	return fonts_open(&sn->fonts, sn->cfg.font, sn->cfg.font_mono, err);
}

static enum rc
render(struct bitmap **out, struct station *sn, const struct about *a,
    const struct label_media *media, int reprint, struct err *err)
{
	struct label_house house = {
		.storage = sn->cfg.storage_text,
		.gs1_prefix = sn->cfg.gs1_prefix,
		.bars = sn->cfg.bars,
		.training = sn->cfg.training,
	};
	struct label_copy copy = { .reprint = reprint };
	const struct species *sp = species_find(&sn->species, a->batch.species);
	struct label_facts facts;
	enum rc rc;

	if (sp == NULL)
		return err_set(err, RC_INVALID, 0,
		    "species %s is no longer in the species table",
		    a->batch.species);
	if (a->kind == CODE_BATCH)
		rc = facts_batch(&facts, &a->batch, sp, &house, &copy, err);
	else
		rc = facts_portion(
		    &facts, &a->portion, &a->batch, sp, &house, &copy, err);
	if (rc != RC_OK || (rc = open_fonts(sn, err)) != RC_OK)
		return rc;
	return label_render(out, &facts, media, sn->fonts, err);
}

static struct printer
printer_of(const struct config *cfg)
{
	const struct printer_setting *set = &cfg->printers[0];
	struct printer p = {
		.language = set->language,
		.address = set->address,
		.deadline_ms = PRINT_DEADLINE_MS,
		.media = {
		    .dpi = set->dpi,
		    .width_mm = set->width_mm,
		    .height_mm = set->height_mm,
		    .gap_mm = set->gap_mm,
		    .darkness_pct = set->darkness_pct,
		},
	};

	return p;
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

static enum rc
apply_wish(struct printer *p, const struct label_wish *wish, struct err *err)
{
	if (wish->language != NULL)
		p->language = wish->language;
	if (wish->dpi != 0)
		p->media.dpi = wish->dpi;
	if (wish->size == NULL)
		return RC_OK;
	if (str_eq(wish->size, "60x40")) {
		p->media.width_mm = 60;
		p->media.height_mm = 40;
	} else if (str_eq(wish->size, "50x25")) {
		p->media.width_mm = 50;
		p->media.height_mm = 25;
	} else {
		return err_set(err, RC_INVALID, 0,
		    "label size \"%.20s\" is not known: 60x40 or 50x25",
		    wish->size);
	}
	return RC_OK;
}

enum rc
label_preview(struct buf *out, struct station *sn,
    const struct label_wish *wish, struct err *err)
{
	struct printer p = printer_of(&sn->cfg);
	struct label_media media;
	struct bitmap *picture = NULL;
	struct about a;
	enum rc rc;

	if ((rc = apply_wish(&p, wish, err)) != RC_OK ||
	    (rc = look_up(&a, sn, wish->code, err)) != RC_OK)
		return rc;
	media = media_of(&p);
	if ((rc = render(&picture, sn, &a, &media, 0, err)) == RC_OK)
		rc = printer_encode(out, &p, picture, err);
	bitmap_free(picture);
	return rc;
}

/* docs/rules.md R-L1: which labels may be printed at all. */
static enum rc
may_print(const struct about *a, int64_t now, struct err *err)
{
	char shown[CODE_SIZE];
	int64_t use_by =
	    a->kind == CODE_BATCH ? a->batch.use_by_utc : a->portion.use_by_utc;

	code_show(shown, a->code);
	if (a->kind == CODE_BATCH && a->batch.decision == DECISION_REFUSED)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s was refused: it gets no label", shown);
	if (a->kind == CODE_BATCH ? a->batch.held : a->portion.held)
		return err_set(err, RC_REFUSED, 0,
		    "%s is on hold: it gets no label until released", shown);
	if (use_by < now)
		return err_set(err, RC_REFUSED, 0,
		    "%s has expired: it gets no label, discard it", shown);
	if (a->kind == CODE_PORTION && a->portion.left == 0)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is used up: it gets no label", shown);
	return RC_OK;
}

/* Number of the next copy: every print that may have come out counts. */
static enum rc
next_copy(int *copy, struct station *sn, const struct about *a, bool again,
    struct err *err)
{
	char shown[CODE_SIZE];
	struct job_list l;
	size_t i;
	enum rc rc;

	*copy = 0;
	rc = job_list_subject(&l, sn->st, &a->subject, err);
	if (rc != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++)
		if (l.items[i].state != JOB_FAILED &&
		    l.items[i].state != JOB_CANCELLED)
			*copy = l.items[i].copy + 1;
	job_list_fini(&l);
	code_show(shown, a->code);
	if (*copy > 0 && !again)
		return err_set(err, RC_REFUSED, 0,
		    "%s has a label already: print it once more, marked, with "
		    "pinbone label reprint",
		    shown);
	if (*copy == 0 && again)
		return err_set(err, RC_REFUSED, 0,
		    "%s was never printed: use pinbone label print", shown);
	return RC_OK;
}

static enum rc
queue(struct print_job *job, struct station *sn, const struct about *a,
    const struct printer *p, const struct bitmap *picture, struct err *err)
{
	char shown[CODE_SIZE];
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = spool_queue(sn->st, job, p, picture, err)) == RC_OK &&
	    (rc = station_audit(sn, &job->at, err,
		 job->copy == 0 ? "print" : "reprint",
		 code_show(shown, a->code), "copy %d, picture %.16s on %.200s",
		 job->copy, job->picture, job->printer)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
label_print(struct print_job *out, struct station *sn, const char *code,
    bool again, const char *by, struct err *err)
{
	struct printer p = printer_of(&sn->cfg);
	struct label_media media = media_of(&p);
	struct bitmap *picture = NULL;
	struct spool_lock lock;
	char name[48], shown[CODE_SIZE];
	struct about a;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&out->at, sn, by, err)) != RC_OK ||
	    (rc = look_up(&a, sn, code, err)) != RC_OK ||
	    (rc = may_print(&a, out->at.utc, err)) != RC_OK ||
	    (rc = spool_lock(&lock, store_path(sn->st), err)) != RC_OK)
		return rc;
	out->subject = a.subject;
	if ((rc = next_copy(&out->copy, sn, &a, again, err)) != RC_OK ||
	    (rc = render(&picture, sn, &a, &media, out->copy, err)) != RC_OK ||
	    (rc = queue(out, sn, &a, &p, picture, err)) != RC_OK)
		goto done;
	code_show(shown, a.code);
	str_fmt(name, sizeof(name), "%s-%s",
	    a.kind == CODE_BATCH ? "batch" : "portion", shown);
	if (out->copy > 0)
		str_fmt(name, sizeof(name), "%s-%s-reprint-%d",
		    a.kind == CODE_BATCH ? "batch" : "portion", shown,
		    out->copy);
	rc = spool_send(sn->st, out, &p, picture, name, out->at.utc, err);
done:
	spool_unlock(&lock);
	bitmap_free(picture);
	return rc;
}

enum rc
label_check(struct station *sn, struct err *err)
{
	struct printer p = printer_of(&sn->cfg);
	enum rc rc;

	if ((rc = printer_check(&p, err)) != RC_OK) {
		err_prefix(err, "%s: ", sn->cfg.path);
	} else if ((rc = open_fonts(sn, err)) != RC_OK) {
		err_prefix(err, "%s: [label] ", sn->cfg.path);
		rc = RC_INVALID;
	}
	return rc;
}
