/* ticket.c - lists on paper: made, shown, kept, queued. */
#include "ops/ticket.h"

#include <assert.h>
#include <inttypes.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "labels/font.h"
#include "ops/printers.h"
#include "ops/queue.h"
#include "picture.h"
#include "print/picture.h"
#include "store/store.h"
#include "ticket_make.h"

#define TEXT_COLUMNS 40 /* of a narrow roll, and of a narrow window */
#define BODY_MAX ((size_t)1024 * 1024)

enum rc
ticket_make(struct ticket **out, struct station *sn,
    const struct ticket_wish *wish, struct err *err)
{
	struct ticket *t = ticket_new();
	enum rc rc = RC_OK;

	*out = NULL;
	switch (wish->kind) {
	case TICKET_PREP:
	case TICKET_ORDER:
		rc = ticket_make_plan(t, sn, wish, err);
		break;
	case TICKET_RECALL:
		rc = ticket_make_recall(t, sn, wish->what, err);
		break;
	case TICKET_DAY:
		rc = ticket_make_day(t, sn, wish->what, err);
		break;
	case TICKET_REPORT:
		rc = ticket_make_report(t, sn, wish, err);
		break;
	case TICKET_TEST:
	case TICKET_DRILL:
	case TICKET_KIND_COUNT:
		assert(false);
	}
	if (rc == RC_OK)
		*out = t;
	else
		ticket_free(t);
	return rc;
}

static void
show_json(struct buf *out, const struct ticket *t)
{
	struct jsonw *w = jsonw_new_object();
	const struct ticket_line *l;
	size_t i;

	jsonw_array(w, "lines");
	for (i = 0; i < ticket_count(t); i++) {
		l = ticket_at(t, i);
		jsonw_object(w, NULL);
		jsonw_str(w, "style", ticket_style_word(l->style));
		jsonw_str(w, "left", l->left);
		jsonw_str(w, "right", l->right);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

void
ticket_show(struct buf *out, const struct ticket *t, enum format format)
{
	const struct ticket_line *l;
	size_t i;

	switch (format) {
	case FORMAT_TEXT:
		ticket_text(out, t, TEXT_COLUMNS);
		break;
	case FORMAT_JSON:
		show_json(out, t);
		break;
	case FORMAT_CSV:
		buf_puts(out, "style,left,right\r\n");
		for (i = 0; i < ticket_count(t); i++) {
			l = ticket_at(t, i);
			buf_printf(out, "%s,", ticket_style_word(l->style));
			csv_quote(out, l->left);
			buf_putc(out, ',');
			csv_quote(out, l->right);
			buf_puts(out, "\r\n");
		}
		break;
	}
}

/* --- pages ---------------------------------------------------------------- */

static enum rc
find_printer(const struct printer_setting **out, const struct station *sn,
    const char *name, struct err *err)
{
	*out = config_printer(
	    &sn->cfg, name == NULL ? sn->cfg.ticket_printer : name);
	if (*out != NULL)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "there is no [printer %.30s] in the settings", name);
}

enum rc
ticket_preview(struct buf *out, int *pages, struct station *sn,
    const struct ticket *t, int page, const struct ticket_paper *paper,
    struct err *err)
{
	const struct printer_setting *p;
	struct label_media media = { 0 };
	struct bitmap *picture = NULL;
	enum rc rc;

	if ((rc = find_printer(&p, sn, paper->printer, err)) != RC_OK ||
	    (rc = picture_fonts(sn, err)) != RC_OK)
		return rc;
	media.width_mm = paper->width_mm != 0 ? paper->width_mm : p->width_mm;
	media.dpi = paper->dpi != 0 ? paper->dpi : p->dpi;
	if ((rc = ticket_pages(pages, t, &media, sn->fonts, err)) != RC_OK ||
	    (rc = ticket_render(&picture, t, page, sn->cfg.training, 0, &media,
		 sn->fonts, err)) != RC_OK)
		return rc;
	rc = picture_png(out, picture, &media, err);
	bitmap_free(picture);
	return rc;
}

/* The height of the settings is a label's; pages of a roll have their own. */
static enum rc
roll_of(
    struct label_media *out, const struct printer_setting *p, struct err *err)
{
	if (p->gap_mm != 0)
		return err_set(err, RC_INVALID, 0,
		    "printer %s holds labels of %d x %d mm: lists need a "
		    "continuous roll (gap_mm = 0); name its printer in "
		    "[printer] tickets, or with --printer",
		    p->name, p->width_mm, p->height_mm);
	*out = (struct label_media){ .width_mm = p->width_mm, .dpi = p->dpi };
	return RC_OK;
}

enum rc
ticket_record(int64_t *id, int *pages, struct station *sn,
    enum ticket_kind kind, const struct ticket *t,
    const struct printer_setting *p, const struct moment *at, struct err *err)
{
	struct ticket_record row = { .kind = kind, .at = *at };
	struct label_media media;
	struct buf title, body;
	enum rc rc;

	if ((rc = roll_of(&media, p, err)) != RC_OK ||
	    (rc = picture_fonts(sn, err)) != RC_OK ||
	    (rc = ticket_pages(pages, t, &media, sn->fonts, err)) != RC_OK)
		return rc;
	buf_init(&title, BODY_MAX);
	buf_init(&body, BODY_MAX);
	buf_puts(&title, ticket_at(t, 0)->left);
	ticket_write(&body, t);
	row.title = title.data;
	row.body = body.data;
	if ((rc = buf_check(&body, "the list", err)) == RC_OK &&
	    (rc = ticket_insert(sn->st, &row, err)) == RC_OK)
		*id = row.id;
	buf_fini(&title);
	buf_fini(&body);
	return rc;
}

enum rc
ticket_page_picture(struct bitmap **out, struct station *sn, int64_t ticket_id,
    int page, const struct printer_setting *p, int reprint, struct err *err)
{
	struct ticket_record row;
	struct label_media media;
	struct ticket *t = NULL;
	enum rc rc;

	*out = NULL;
	if ((rc = roll_of(&media, p, err)) != RC_OK ||
	    (rc = picture_fonts(sn, err)) != RC_OK ||
	    (rc = ticket_get(&row, sn->st, ticket_id, err)) != RC_OK)
		return rc;
	if ((rc = ticket_read(&t, row.body, err)) == RC_OK)
		rc = ticket_render(out, t, page, sn->cfg.training, reprint,
		    &media, sn->fonts, err);
	if (rc != RC_OK)
		err_prefix(err, "list %" PRId64 ": ", ticket_id);
	ticket_free(t);
	ticket_record_fini(&row);
	return rc;
}

/* A job for each page, each drawn once so that what does not fit is refused
 * before anything is recorded. */
static enum rc
queue_pages(struct job_list *out, struct station *sn,
    const struct print_job *of, int pages, const struct printer_setting *set,
    struct err *err)
{
	struct bitmap *picture = NULL;
	struct print_job *job;
	struct printer p;
	enum rc rc;

	if ((rc = printers_get(&p, sn, set->name, err)) != RC_OK)
		return rc;
	out->items = xcalloc((size_t)pages, sizeof(*out->items));
	for (; out->count < (size_t)pages && rc == RC_OK; out->count++) {
		job = &out->items[out->count];
		*job = *of;
		job->page = (int)out->count + 1;
		rc = ticket_page_picture(
		    &picture, sn, job->ticket_id, job->page, set, 0, err);
		if (rc == RC_OK)
			rc = picture_address(job, &p, picture, err);
		if (rc == RC_OK)
			rc = job_insert(sn->st, job, err);
		bitmap_free(picture);
		picture = NULL;
	}
	return rc;
}

static enum rc
keep_and_queue(struct job_list *out, struct station *sn, enum ticket_kind kind,
    const struct ticket *t, const struct printer_setting *p,
    const struct moment *at, struct err *err)
{
	struct print_job job = { .at = *at };
	int pages = 0;
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = ticket_record(
		 &job.ticket_id, &pages, sn, kind, t, p, at, err)) == RC_OK &&
	    (rc = queue_pages(out, sn, &job, pages, p, err)) == RC_OK &&
	    (rc = station_audit(sn, at, err, "list", ticket_kind_word(kind),
		 "%.200s, %d page%s on %s", ticket_at(t, 0)->left, pages,
		 pages == 1 ? "" : "s", p->name)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc != RC_OK)
		job_list_fini(out);
	return rc;
}

enum rc
ticket_print(struct job_list *out, struct station *sn, enum ticket_kind kind,
    const struct ticket *t, const struct label_order *order, struct err *err)
{
	const struct printer_setting *p;
	struct moment at;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = find_printer(&p, sn, order->printer, err)) != RC_OK ||
	    (rc = station_moment(&at, sn, order->by, err)) != RC_OK ||
	    (rc = keep_and_queue(out, sn, kind, t, p, &at, err)) != RC_OK)
		return rc;
	return queue_finish(out, sn, order, err);
}
