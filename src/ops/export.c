/* export.c - a table of the record as a CSV file in a folder. */
#include "ops/export.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/csv.h"
#include "base/file.h"
#include "base/str.h"
#include "exchange/audit_out.h"
#include "exporting.h"
#include "ops/look.h"
#include "ops/records_page.h"
#include "ops/scan.h"
#include "ops/ticket.h"
#include "store/batches.h"
#include "store/snapshot.h"

#define EXPORT_MAX ((size_t)256 * 1024 * 1024)
#define AUDIT_ROWS 5000 /* held at a time */
#define NAME_SIZE 64

enum rc
exporting_flush(struct exporting *x, struct err *err)
{
	enum rc rc = buf_check(&x->part, "the export", err);

	if (rc == RC_OK)
		rc = file_new_add(&x->file, x->part.data, x->part.len, err);
	x->bytes += (int64_t)x->part.len;
	buf_clear(&x->part);
	return rc;
}

enum rc
exporting_goes_on(
    struct exporting *x, int64_t done, int64_t total, struct err *err)
{
	if (x->wish->tell == NULL || x->wish->tell(x->wish->arg, done, total))
		return RC_OK;
	return err_set(
	    err, RC_REFUSED, 0, "%s: stopped: nothing was kept", x->file.path);
}

static enum rc
put_stock(struct exporting *x, struct err *err)
{
	return stock(&x->part, x->sn, FORMAT_CSV, err);
}

static enum rc
put_day(struct exporting *x, struct err *err)
{
	struct ticket_wish wish = { .kind = TICKET_DAY, .what = x->wish->what };
	struct ticket *t = NULL;
	enum rc rc = ticket_make(&t, x->sn, &wish, err);

	if (rc == RC_OK)
		ticket_show(&x->part, t, FORMAT_CSV);
	ticket_free(t);
	return rc;
}

static enum rc
put_trace(struct exporting *x, struct err *err)
{
	return trace(&x->part, x->sn, x->wish->what, FORMAT_CSV, err);
}

/* The whole trail, a window at a time: the first ten years are a few hundred
 * megabytes. */
static enum rc
put_audit(struct exporting *x, struct err *err)
{
	struct audit_list l;
	int64_t last, from = 1;
	enum rc rc;

	audit_csv_head(&x->part);
	rc = audit_list_before(&l, &last, x->sn->st, 0, 1, err);
	audit_list_fini(&l);
	while (rc == RC_OK && from <= last) {
		rc = audit_list_from(&l, x->sn->st, from, AUDIT_ROWS, err);
		if (rc == RC_OK && l.count == 0)
			from = last + 1;
		if (rc == RC_OK && l.count > 0) {
			audit_csv_rows(&x->part, &l);
			from = l.items[l.count - 1].id + 1;
			rc = exporting_flush(x, err);
		}
		audit_list_fini(&l);
		if (rc == RC_OK)
			rc = exporting_goes_on(x, from - 1, last, err);
	}
	return rc;
}

static enum rc
put_yields(struct exporting *x, struct err *err)
{
	struct buf *out = &x->part;
	const struct yield_course *y;
	const struct yield_week *w;
	struct yield_courses c;
	char date[16];
	size_t i;
	int n;
	enum rc rc;

	buf_puts(out,
	    "week,species,bought,cut,breakdowns,set_aside,in_g,out_g,"
	    "yield_per_10000,published_per_10000\r\n");
	rc = yield_courses_open(&c, x->sn, RECORDS_WEEKS_MAX,
	    local_from_utc(clock_now(&x->sn->clock)).day, err);
	for (n = 0; rc == RC_OK && n < c.weeks; n++)
		for (i = 0; i < c.count; i++) {
			y = &c.items[i];
			w = &y->week[n];
			if (w->preps + w->set_aside == 0)
				continue;
			buf_printf(out,
			    "%s,%s,%s,%s,%" PRId64 ",%" PRId64 ",%" PRId64
			    ",%" PRId64 ",",
			    day_print(date, sizeof(date), c.monday + 7 * n),
			    y->key.species, yield_form_word(y->key.from),
			    y->key.cut, w->preps, w->set_aside, w->in_g,
			    w->out_g);
			if (w->preps > 0)
				buf_printf(out, "%d", yield_week_bp(w));
			buf_putc(out, ',');
			if (y->has_published)
				buf_printf(out, "%d", y->published.bp);
			buf_puts(out, "\r\n");
		}
	yield_courses_fini(&c);
	return rc;
}

static enum rc
put_waste(struct exporting *x, struct err *err)
{
	struct waste_week w[RECORDS_WEEKS_MAX];
	char date[16];
	int n;
	enum rc rc;

	buf_puts(&x->part,
	    "week,breakdowns,worked_g,waste_g,trim_g,frames_g,discarded_g,"
	    "missing_g\r\n");
	rc = waste_weeks(w, x->sn, RECORDS_WEEKS_MAX,
	    local_from_utc(clock_now(&x->sn->clock)).day, err);
	for (n = 0; rc == RC_OK && n < RECORDS_WEEKS_MAX; n++)
		buf_printf(&x->part,
		    "%s,%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64
		    ",%" PRId64 ",%" PRId64 ",%" PRId64 "\r\n",
		    day_print(date, sizeof(date), w[n].monday), w[n].preps,
		    w[n].worked_g, w[n].waste_g, w[n].trim_g, w[n].frames_g,
		    w[n].discarded_g, w[n].missing_g);
	return rc;
}

const struct export_kind export_kinds[] = {
	{ "stock", NULL, "what is on hand, first to expire first" },
	{ "day", "DATE", "the day sheet" },
	{ "trace", "CODE", "the chain of a batch or portion" },
	{ "yields", NULL, "yields by week, species and cut, for a year" },
	{ "waste", NULL, "waste and discards by week, for a year" },
	{ "audit", NULL, "the whole audit trail" },
	{ "receiving", EXPORT_SPAN, "what came in, with what each law asks" },
	{ "chain", EXPORT_SPAN, "what happened to food, a row a thing" },
	{ "epcis", EXPORT_SPAN, "the same as EPCIS 2.0, for other programs" },
	{ NULL, NULL, NULL },
};

/* In the order of export_kinds. */
static put_fn *const puts_kind[] = {
	put_stock,
	put_day,
	put_trace,
	put_yields,
	put_waste,
	put_audit,
	put_receiving,
	put_chain,
	put_epcis,
};

const struct export_kind *
export_kind(const char *word)
{
	const struct export_kind *k;

	for (k = export_kinds; k->word != NULL; k++)
		if (str_eq(k->word, word))
			return k;
	return NULL;
}

/* The day or code in the name, as it is written in one place only, so that
 * one thing has one file. */
static enum rc
name_what(char dst[NAME_SIZE], struct station *sn, const struct export_kind *k,
    const char *what, struct err *err)
{
	struct span span;
	char code[CODE_SIZE];
	enum code_kind kind;
	day_no day = local_from_utc(clock_now(&sn->clock)).day;
	enum rc rc = RC_OK;

	if (k->asks == NULL && what != NULL)
		return err_set(err, RC_INVALID, 0,
		    "%s takes neither a date nor a code", k->word);
	if (k->asks != NULL && str_eq(k->asks, "CODE")) {
		if (what == NULL)
			return err_set(err, RC_INVALID, 0,
			    "%s needs the code of a batch or portion", k->word);
		rc = scan_code(&kind, code, sn, what, err);
		if (rc == RC_OK)
			code_show(dst, code);
		return rc;
	}
	if (k->asks != NULL && str_eq(k->asks, EXPORT_SPAN)) {
		if ((rc = span_parse(&span, sn, what, err)) == RC_OK)
			str_copy(dst, NAME_SIZE, span.name);
		return rc;
	}
	if (what != NULL)
		rc = day_parse(&day, "the day", what, err);
	day_print(dst, NAME_SIZE, day);
	return rc;
}

static enum rc
check_folder(const char *folder, struct err *err)
{
	struct stat st;

	if (stat(folder, &st) == 0 && S_ISDIR(st.st_mode))
		return RC_OK;
	return err_set(err, RC_NOTFOUND, errno,
	    "%s: no such folder: is the stick in?", folder);
}

static enum rc
write_file(
    struct export_done *out, struct exporting *x, put_fn *put, struct err *err)
{
	enum rc rc;

	if ((rc = file_new_open(&x->file, out->path, err)) != RC_OK)
		return rc;
	if ((rc = put(x, err)) == RC_OK &&
	    (rc = exporting_flush(x, err)) == RC_OK)
		rc = file_new_done(&x->file, x->wish->replace, err);
	file_new_drop(&x->file);
	out->bytes = x->bytes;
	return rc;
}

enum rc
export_look(struct export_done *out, bool *there, struct station *sn,
    const struct export_wish *wish, struct err *err)
{
	const struct export_kind *k = export_kind(wish->kind);
	char what[NAME_SIZE];
	enum rc rc;

	memset(out, 0, sizeof(*out));
	*there = false;
	if (k == NULL)
		return err_set(err, RC_INVALID, 0,
		    "\"%.30s\" cannot be exported: stock, day, trace, yields, "
		    "waste, audit, receiving, chain or epcis",
		    wish->kind);
	if ((rc = name_what(what, sn, k, wish->what, err)) != RC_OK ||
	    (rc = check_folder(wish->folder, err)) != RC_OK)
		return rc;
	if (!str_fmt(out->path, sizeof(out->path), "%s/pinbone-%s-%s.%s",
		wish->folder, k->word, what,
		str_eq(k->word, "epcis") ? "jsonld" : "csv"))
		return err_set(err, RC_INVALID, ENAMETOOLONG,
		    "%.60s...: the path is too long", wish->folder);
	*there = file_exists(out->path);
	return RC_OK;
}

enum rc
export_run(struct export_done *out, struct station *sn,
    const struct export_wish *wish, struct err *err)
{
	struct exporting x = { .sn = sn, .wish = wish };
	bool there;
	enum rc rc;

	if ((rc = export_look(out, &there, sn, wish, err)) != RC_OK)
		return rc;
	if (there && !wish->replace)
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: already there: it was left as it is", out->path);
	/* All of it as it is now, however long the writing takes. */
	if ((rc = snapshot_begin(sn->st, err)) != RC_OK)
		return rc;
	buf_init(&x.part, EXPORT_MAX);
	rc = write_file(
	    out, &x, puts_kind[export_kind(wish->kind) - export_kinds], err);
	buf_fini(&x.part);
	snapshot_end(sn->st);
	return rc;
}
