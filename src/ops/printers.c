/* printers.c - the printers of the settings, and those that are there. */
#include "ops/printers.h"

#include <inttypes.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/queue.h"
#include "picture.h"
#include "print/fault.h"
#include "print/printer.h"
#include "print/session.h"
#include "print/spool.h"
#include "store/store.h"
#include "store/tickets.h"

enum rc
printers_get(
    struct printer *out, struct station *sn, const char *name, struct err *err)
{
	const struct printer_setting *set;
	struct buf known;
	int i;

	set = name == NULL ? &sn->cfg.printers[0]
			   : config_printer(&sn->cfg, name);
	if (set != NULL)
		return printer_of(out, set, err);
	buf_init(&known, 200);
	for (i = 0; i < sn->cfg.printer_count; i++)
		buf_printf(&known, " %s", sn->cfg.printers[i].name);
	err_set(err, RC_INVALID, 0,
	    "printer \"%.24s\" is not in the settings, there are:%s", name,
	    buf_text(&known));
	buf_fini(&known);
	return RC_INVALID;
}

/* --- list -----------------------------------------------------------------*/

static void
list_json(
    struct buf *out, const struct config *cfg, const struct printers_found *f)
{
	struct jsonw *w = jsonw_new_object();
	const struct port_found *d;
	char words[256];
	size_t i;

	jsonw_array(w, "settings");
	for (i = 0; i < (size_t)cfg->printer_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "name", cfg->printers[i].name);
		jsonw_str(w, "address", cfg->printers[i].address);
		jsonw_str(w, "language", cfg->printers[i].language);
		jsonw_int(w, "width_mm", cfg->printers[i].width_mm);
		jsonw_int(w, "height_mm", cfg->printers[i].height_mm);
		jsonw_int(w, "gap_mm", cfg->printers[i].gap_mm);
		jsonw_int(w, "dpi", cfg->printers[i].dpi);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "found");
	for (i = 0; i < f->count; i++) {
		d = &f->items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "address", d->address);
		jsonw_str(w, "make", d->make);
		jsonw_str(w, "model", d->model);
		jsonw_str(w, "serial", d->serial);
		jsonw_str(w, "commands", d->commands);
		jsonw_str(
		    w, "state", fault_words(words, sizeof(words), d->state));
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_str(w, "trouble", f->trouble);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_fields(struct buf *out, const char *const *fields, size_t count)
{
	size_t i;

	for (i = 0; i < count; i++) {
		if (i > 0)
			buf_putc(out, ',');
		csv_quote(out, fields[i]);
	}
	buf_puts(out, "\r\n");
}

static void
list_csv(
    struct buf *out, const struct config *cfg, const struct printers_found *f)
{
	char words[256];
	size_t i;

	buf_puts(
	    out, "name,address,language,make,model,serial,commands,state\r\n");
	for (i = 0; i < (size_t)cfg->printer_count; i++) {
		const struct printer_setting *p = &cfg->printers[i];
		const char *row[] = { p->name, p->address, p->language, "", "",
			"", "", "" };

		put_fields(out, row, 8);
	}
	for (i = 0; i < f->count; i++) {
		const struct port_found *d = &f->items[i];
		const char *row[] = { "", d->address, "", d->make, d->model,
			d->serial, d->commands,
			fault_words(words, sizeof(words), d->state) };

		put_fields(out, row, 8);
	}
}

static void
list_text(
    struct buf *out, const struct config *cfg, const struct printers_found *f)
{
	const struct printer_setting *p;
	const struct port_found *d;
	char words[256], paper[PAPER_SIZE];
	size_t i;

	buf_puts(out, "in the settings\n");
	for (i = 0; i < (size_t)cfg->printer_count; i++) {
		p = &cfg->printers[i];
		buf_printf(out, "  %-12s %s, %s, %s, %d dpi\n", p->name,
		    p->address, p->language,
		    printer_paper(paper, p->width_mm, p->height_mm, p->gap_mm),
		    p->dpi);
	}
	buf_puts(out, f->count == 0 ? "no device seen\n" : "devices seen\n");
	for (i = 0; i < f->count; i++) {
		d = &f->items[i];
		buf_printf(out, "  %s  %s %s%s%s, understands %s%s%s\n",
		    d->address, d->make, d->model,
		    d->serial[0] == '\0' ? "" : " no. ", d->serial,
		    d->commands[0] == '\0' ? "it does not say what"
					   : d->commands,
		    d->state == 0 ? "" : ": ",
		    d->state == 0
			? ""
			: fault_words(words, sizeof(words), d->state));
	}
	if (f->trouble[0] != '\0')
		buf_printf(out, "cannot look: %s\n", f->trouble);
}

enum rc
printers_list(
    struct buf *out, struct station *sn, enum format format, struct err *err)
{
	struct printers_found f;

	printers_find(&f);
	if (format == FORMAT_JSON)
		list_json(out, &sn->cfg, &f);
	else if (format == FORMAT_CSV)
		list_csv(out, &sn->cfg, &f);
	else
		list_text(out, &sn->cfg, &f);
	printers_found_fini(&f);
	return buf_check(out, "the list of printers", err);
}

/* --- status ---------------------------------------------------------------*/

struct state_row {
	const char *name, *address;
	bool ready;
	char says[256];
};

static enum rc
look_at(
    struct state_row *row, const struct printer_setting *set, struct err *err)
{
	struct session s = { 0 };
	struct err why = { 0 };
	struct printer p;
	enum rc rc;

	row->name = set->name;
	row->address = set->address;
	if ((rc = printer_of(&p, set, err)) != RC_OK)
		return rc;
	row->ready = session_open(&s, &p, false, &why) == RC_OK;
	if (!row->ready)
		str_fmt(row->says, sizeof(row->says), "%.250s", why.text);
	else if (!s.asked)
		str_copy(row->says, sizeof(row->says),
		    "there, but it cannot be asked how it is");
	else
		fault_words(row->says, sizeof(row->says), s.state);
	session_close(&s);
	return RC_OK;
}

static void
status_write(struct buf *out, const struct state_row *rows, size_t count,
    enum format format)
{
	struct jsonw *w;
	size_t i;

	if (format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_array(w, "printers");
		for (i = 0; i < count; i++) {
			jsonw_object(w, NULL);
			jsonw_str(w, "name", rows[i].name);
			jsonw_str(w, "address", rows[i].address);
			jsonw_bool(w, "ready", rows[i].ready);
			jsonw_str(w, "says", rows[i].says);
			jsonw_end(w);
		}
		jsonw_end(w);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return;
	}
	if (format == FORMAT_CSV)
		buf_puts(out, "name,address,ready,says\r\n");
	for (i = 0; i < count; i++) {
		const char *row[] = { rows[i].name, rows[i].address,
			rows[i].ready ? "yes" : "no", rows[i].says };

		if (format == FORMAT_CSV)
			put_fields(out, row, 4);
		else
			buf_printf(out, "%-12s %s: %s\n", rows[i].name,
			    rows[i].ready ? "ready" : "not ready",
			    rows[i].says);
	}
}

enum rc
printers_status(struct buf *out, struct station *sn, const char *name,
    enum format format, struct err *err)
{
	struct state_row rows[CONFIG_PRINTERS_MAX] = { 0 };
	const struct printer_setting *set;
	const struct state_row *bad = NULL;
	struct spool_lock lock;
	struct printer p;
	size_t i, count = 0;
	enum rc rc;

	if ((rc = printers_get(&p, sn, name, err)) != RC_OK ||
	    (rc = spool_lock(&lock, store_path(sn->st), err)) != RC_OK)
		return rc;
	for (i = 0; i < (size_t)sn->cfg.printer_count && rc == RC_OK; i++) {
		set = &sn->cfg.printers[i];
		if (name != NULL && !str_eq_nocase(name, set->name))
			continue;
		rc = look_at(&rows[count], set, err);
		if (rc == RC_OK && !rows[count].ready && bad == NULL)
			bad = &rows[count];
		count++;
	}
	spool_unlock(&lock);
	if (rc != RC_OK)
		return rc;
	status_write(out, rows, count, format);
	if (bad != NULL)
		return err_set(err, RC_RETRY, 0,
		    "printer %s is not ready: %.400s", bad->name, bad->says);
	return buf_check(out, "the printers' states", err);
}

/* --- test label -----------------------------------------------------------*/

static enum rc
queue_test(struct print_job *job, struct station *sn, const struct printer *p,
    struct err *err)
{
	char title[PRINTER_NAME_SIZE], body[200], paper[PAPER_SIZE];
	struct ticket_record row = {
		.kind = TICKET_TEST, .title = title, .body = body, .at = job->at
	};
	enum rc rc;

	str_copy(title, sizeof(title), p->name);
	str_fmt(body, sizeof(body), "%s, %s, %d dpi", p->lang->name,
	    printer_paper(
		paper, p->media.width_mm, p->media.height_mm, p->media.gap_mm),
	    p->media.dpi);
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	rc = ticket_insert(sn->st, &row, err);
	job->ticket_id = row.id;
	if (rc == RC_OK && (rc = job_insert(sn->st, job, err)) == RC_OK &&
	    (rc = station_audit(sn, &job->at, err, "print", "test label",
		 "on %s (%.200s)", p->name, p->configured)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
printers_test(struct job_list *out, struct station *sn,
    const struct label_order *o, struct err *err)
{
	struct bitmap *picture = NULL;
	struct print_job job = { .page = 1 };
	struct printer p;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&job.at, sn, o->by, err)) != RC_OK ||
	    (rc = printers_get(&p, sn, o->printer, err)) != RC_OK ||
	    (rc = test_picture(&picture, sn, &p, err)) != RC_OK)
		return rc;
	rc = picture_address(&job, &p, picture, err);
	bitmap_free(picture);
	if (rc != RC_OK || (rc = queue_test(&job, sn, &p, err)) != RC_OK)
		return rc;
	out->items = xcalloc(1, sizeof(job));
	out->items[0] = job;
	out->count = 1;
	return queue_finish(out, sn, o, err);
}
