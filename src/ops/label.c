/* label.c - labels of batches and portions: preview and queue. */
#include "ops/label.h"

#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/printers.h"
#include "ops/queue.h"
#include "picture.h"
#include "print/printer.h"
#include "store/store.h"

static enum rc
apply_wish(struct printer *p, const struct label_wish *wish, struct err *err)
{
	if (wish->language != NULL) {
		p->lang = lang_find(wish->language);
		if (p->lang == NULL)
			return err_set(err, RC_INVALID, 0,
			    "printer language \"%.20s\" is not known",
			    wish->language);
	}
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
	struct bitmap *picture = NULL;
	struct printer p;
	struct about a;
	enum rc rc;

	if ((rc = printers_get(&p, sn, NULL, err)) != RC_OK ||
	    (rc = apply_wish(&p, wish, err)) != RC_OK ||
	    (rc = about_find(&a, sn, wish->code, err)) != RC_OK)
		return rc;
	rc = about_draw(&picture, sn, &a, about_says(&a), 0, &p, err);
	if (rc == RC_OK)
		rc = printer_encode(out, &p, picture, err);
	bitmap_free(picture);
	return rc;
}

/* What is known of a subject's labels that say the same. */
struct printed {
	int copy;       /* number of the next one */
	bool under_way; /* one is queued or being sent: `job` */
	bool unsure;    /* the last one may be out: nobody said */
	struct print_job job;
};

static enum rc
look_back(struct printed *h, struct station *sn, const struct subject *s,
    enum job_says says, struct err *err)
{
	struct job_list l;
	size_t i;
	enum rc rc;

	memset(h, 0, sizeof(*h));
	if ((rc = job_list_subject(&l, sn->st, s, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++) {
		if (l.items[i].says != says || !job_may_be_out(&l.items[i]))
			continue;
		if (l.items[i].copy >= h->copy)
			h->copy = l.items[i].copy + 1;
		h->unsure = l.items[i].state == JOB_UNSURE;
		if (l.items[i].state == JOB_QUEUED ||
		    l.items[i].state == JOB_SENDING) {
			h->under_way = true;
			h->job = l.items[i];
		}
	}
	job_list_fini(&l);
	return RC_OK;
}

/* docs/rules.md R-L2. */
static enum rc
may_have_copy(const struct about *a, const struct printed *h,
    enum label_want want, struct err *err)
{
	char shown[CODE_SIZE];

	code_show(shown, a->code);
	if (want == LABEL_FIRST && h->copy > 0 && h->unsure)
		return err_set(err, RC_REFUSED, 0,
		    "%s has a label already, if it came out: pinbone printer "
		    "answer %s yes|no|later, or print it once more, marked, "
		    "with pinbone label reprint",
		    shown, shown);
	if (want == LABEL_FIRST && h->copy > 0)
		return err_set(err, RC_REFUSED, 0,
		    "%s has a label already: print it once more, marked, with "
		    "pinbone label reprint",
		    shown);
	if (want == LABEL_AGAIN && h->copy == 0)
		return err_set(err, RC_REFUSED, 0,
		    "%s was never printed: use pinbone label print", shown);
	return RC_OK;
}

/* What does not fit is refused before anything is recorded. */
static enum rc
try_out(struct print_job *job, struct station *sn, const struct about *a,
    const struct printer *p, struct err *err)
{
	struct bitmap *picture = NULL;
	struct buf bytes;
	enum rc rc;

	buf_init(&bytes, LABEL_BYTES_MAX);
	rc = about_draw(&picture, sn, a, job->says, job->copy, p, err);
	if (rc == RC_OK)
		rc = printer_encode(&bytes, p, picture, err);
	if (rc == RC_OK)
		rc = picture_address(job, p, picture, err);
	bitmap_free(picture);
	buf_fini(&bytes);
	return rc;
}

static enum rc
record(struct print_job *job, struct station *sn, const char *code,
    struct err *err)
{
	char shown[CODE_SIZE];
	enum rc rc;

	if ((rc = job_insert(sn->st, job, err)) != RC_OK)
		return rc;
	str_copy(job->code, sizeof(job->code), code);
	return station_audit(sn, &job->at, err,
	    job->copy == 0 ? "print" : "reprint", code_show(shown, code),
	    "%s, copy %d, picture %.16s on %s (%.200s)",
	    job_says_word(job->says), job->copy, job->picture,
	    job->printer_name, job->printer);
}

/* It is under way: asking again adds nothing, and cannot move it. */
static enum rc
work_on(struct print_job *out, const struct printed *h, const struct printer *p,
    bool named, struct err *err)
{
	char shown[CODE_SIZE];

	*out = h->job;
	if (!named || str_eq(h->job.printer_name, p->name))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "the label of %s is queued on printer %s: pinbone printer cancel "
	    "%s first",
	    code_show(shown, h->job.code), h->job.printer_name, shown);
}

static enum rc
queue_one(struct print_job *out, struct station *sn, const char *code,
    const struct label_order *o, const struct printer *p,
    const struct moment *at, struct err *err)
{
	struct printed h;
	struct about a;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->at = *at;
	if ((rc = about_find(&a, sn, code, err)) != RC_OK)
		return rc;
	out->says = o->want == LABEL_ON_HOLD ? SAYS_HOLD : about_says(&a);
	out->subject = a.subject;
	if ((rc = about_may_print(&a, out->says, at->utc, err)) != RC_OK ||
	    (rc = look_back(&h, sn, &a.subject, out->says, err)) != RC_OK)
		return rc;
	if (h.under_way)
		return work_on(out, &h, p, o->printer != NULL, err);
	out->copy = h.copy;
	if ((rc = may_have_copy(&a, &h, o->want, err)) != RC_OK ||
	    (rc = try_out(out, sn, &a, p, err)) != RC_OK)
		return rc;
	return record(out, sn, a.code, err);
}

static enum rc
queue_all(struct job_list *out, struct station *sn, const struct label_order *o,
    const struct printer *p, const struct moment *at, struct err *err)
{
	size_t i;
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	out->items = xcalloc(o->count, sizeof(*out->items));
	for (i = 0; i < o->count && rc == RC_OK; i++)
		rc = queue_one(&out->items[i], sn, o->codes[i], o, p, at, err);
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc == RC_OK)
		out->count = o->count;
	else
		job_list_fini(out);
	return rc;
}

enum rc
label_print(struct job_list *out, struct station *sn,
    const struct label_order *o, struct err *err)
{
	struct moment at;
	struct printer p;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, o->by, err)) != RC_OK ||
	    (rc = printers_get(&p, sn, o->printer, err)) != RC_OK ||
	    (rc = picture_fonts(sn, err)) != RC_OK ||
	    (rc = queue_all(out, sn, o, &p, &at, err)) != RC_OK)
		return rc;
	return queue_finish(out, sn, o, err);
}

enum rc
label_due(enum label_want *out, int *copy, struct station *sn, const char *code,
    struct err *err)
{
	char shown[CODE_SIZE];
	enum job_says says;
	struct printed h;
	struct about a;
	bool held;
	enum rc rc;

	if ((rc = about_find(&a, sn, code, err)) != RC_OK)
		return rc;
	held = a.kind == CODE_BATCH ? a.batch.held : a.portion.held;
	says = held ? SAYS_HOLD : about_says(&a);
	if ((rc = about_may_print(&a, says, clock_now(&sn->clock), err)) !=
		RC_OK ||
	    (rc = look_back(&h, sn, &a.subject, says, err)) != RC_OK)
		return rc;
	if (h.under_way)
		return err_set(err, RC_REFUSED, 0,
		    "the label of %s is queued already",
		    code_show(shown, a.code));
	*copy = h.copy;
	*out = held ? LABEL_ON_HOLD : h.copy > 0 ? LABEL_AGAIN : LABEL_FIRST;
	return RC_OK;
}

enum rc
label_again(struct print_job *out, struct station *sn,
    const struct print_job *old, const struct moment *at, struct err *err)
{
	struct printed h = { .copy = old->copy + 1 };
	enum rc rc = RC_OK;

	if (old->ticket_id == 0)
		rc = look_back(&h, sn, &old->subject, old->says, err);
	if (rc != RC_OK)
		return rc;
	*out = *old;
	out->copy = h.copy;
	out->at = *at;
	out->error[0] = out->said_by[0] = '\0';
	return record(out, sn, old->code, err);
}

/* What labels of this printer need of the settings. */
static enum rc
check_printer(struct station *sn, const struct printer_setting *set,
    const struct label_house *house, struct err *err)
{
	struct label_media media = { set->width_mm, set->height_mm, set->dpi };
	struct printer p;
	enum rc rc;

	if ((rc = printer_of(&p, set, err)) != RC_OK) {
		err_prefix(err, "%s: ", sn->cfg.path);
		return rc;
	}
	/* A continuous roll is for lists: labels are refused one by one. */
	if (set->gap_mm == 0)
		return RC_OK;
	if ((rc = facts_house_check(house, &media, err)) != RC_OK)
		err_prefix(err, "%s: [label] ", sn->cfg.path);
	return rc;
}

enum rc
label_check(struct station *sn, struct err *err)
{
	struct label_house house = picture_house(sn);
	enum rc rc = RC_OK;
	int i;

	for (i = 0; i < sn->cfg.printer_count && rc == RC_OK; i++)
		rc = check_printer(sn, &sn->cfg.printers[i], &house, err);
	if (rc != RC_OK)
		return rc;
	if (picture_fonts(sn, err) == RC_OK &&
	    facts_fonts_check(sn->fonts, &sn->species, &house, err) == RC_OK)
		return RC_OK;
	err_prefix(err, "%s: [label] ", sn->cfg.path);
	return RC_INVALID;
}
