/* today_page.c - the day at a glance for people and programs. */
#include "ops/today.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"

const char *
today_stage_word(enum today_stage s)
{
	static const char *const words[] = {
		[TODAY_COMING] = "coming",
		[TODAY_RUNNING] = "running",
		[TODAY_OVER] = "over",
		[TODAY_CLOSED] = "closed",
	};

	return words[s];
}

static char *
service_name(char *dst, size_t size, const struct today_service *s)
{
	char day[16];

	str_fmt(
	    dst, size, "%s/%s", day_print(day, sizeof(day), s->day), s->name);
	return dst;
}

/* --- for programs ---------------------------------------------------------*/

static void
services_csv(struct buf *out, const struct today *t)
{
	const struct today_service *s;
	char name[64];
	int i;

	buf_puts(out, "service,covers,stage,to_make\r\n");
	for (i = 0; i < t->service_count; i++) {
		s = &t->services[i];
		buf_printf(out, "%s,%" PRId64 ",%s,",
		    service_name(name, sizeof(name), s), s->covers,
		    today_stage_word(s->stage));
		if (s->to_make >= 0)
			buf_printf(out, "%" PRId64, s->to_make);
		buf_puts(out, "\r\n");
	}
}

static void
services_json(struct jsonw *w, const struct today *t)
{
	const struct today_service *s;
	char name[64];
	int i;

	jsonw_array(w, "services");
	for (i = 0; i < t->service_count; i++) {
		s = &t->services[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "service", service_name(name, sizeof(name), s));
		if (s->start_utc != 0)
			jsonw_time(w, "starts", s->start_utc);
		jsonw_int(w, "covers", s->covers);
		jsonw_str(w, "stage", today_stage_word(s->stage));
		if (s->to_make >= 0)
			jsonw_int(w, "to_make", s->to_make);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
stock_json(struct jsonw *w, const char *key, const struct expiring_list *l,
    const struct expiring_count *n)
{
	const struct expiring *e;
	char code[CODE_SIZE];
	size_t i;

	jsonw_object(w, key);
	jsonw_int(w, "units", n->units);
	jsonw_int(w, "servings", n->servings);
	jsonw_int(w, "batches", n->batches);
	jsonw_array(w, "first");
	for (i = 0; i < l->count; i++) {
		e = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, e->code));
		jsonw_str(w, "species", e->species);
		if (e->batch) {
			jsonw_int(w, "weight_g", e->weight_g);
		} else {
			jsonw_str(w, "dish", e->name);
			jsonw_int(w, "servings", e->servings);
		}
		jsonw_time(w, "use_by", e->use_by_utc);
		jsonw_bool(w, "held", e->held);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_end(w);
}

static void
holds_json(struct jsonw *w, const struct today *t)
{
	const struct held *h;
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, "on_hold");
	for (i = 0; i < t->held.count; i++) {
		h = &t->held.items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, h->code));
		jsonw_str(w, "reason", h->reason);
		jsonw_time(w, "since", h->at_utc);
		jsonw_str(w, "by", h->by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
write_json(struct buf *out, const struct today *t)
{
	struct jsonw *w = jsonw_new_object();
	int i;

	jsonw_time(w, "now", t->now_utc);
	jsonw_str(w, "doubt", t->doubt);
	services_json(w, t);
	stock_json(w, "expired", &t->expired, &t->expired_count);
	stock_json(w, "expire_today", &t->expiring, &t->today_count);
	holds_json(w, t);
	jsonw_array(w, "recalls");
	for (i = 0; i < t->recall_count; i++) {
		jsonw_object(w, NULL);
		jsonw_int(w, "recall", t->recalls[i].id);
		jsonw_int(w, "to_pull", t->recalls[i].pull);
		jsonw_int(w, "missing", t->recalls[i].missing);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_int(w, "complaints_open", t->complaints);
	jsonw_array(w, "printers");
	for (i = 0; i < t->printer_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "name", t->printers[i].name);
		jsonw_int(w, "queued", t->printers[i].queued);
		jsonw_int(w, "unsure", t->printers[i].unsure);
		jsonw_str(w, "waits_for", t->printers[i].why);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_str(w, "file", t->path);
	jsonw_int(w, "bytes", t->bytes);
	jsonw_int(w, "free_bytes", t->free_bytes);
	jsonw_int(w, "schema", t->schema);
	if (t->last_utc != 0)
		jsonw_time(w, "last_record", t->last_utc);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* --- for people -----------------------------------------------------------*/

static void
services_text(struct buf *out, const struct today *t)
{
	const struct today_service *s;
	char name[64];
	int i;

	buf_puts(out,
	    t->service_count == 0 ? "no service in the next days\n"
				  : "services\n");
	for (i = 0; i < t->service_count; i++) {
		s = &t->services[i];
		buf_printf(out, "  %-26s %5" PRId64 " covers  %s",
		    service_name(name, sizeof(name), s), s->covers,
		    s->stage == TODAY_OVER ? "over: close it"
					   : today_stage_word(s->stage));
		if (s->to_make >= 0)
			buf_printf(
			    out, ", %" PRId64 " portions to make", s->to_make);
		buf_putc(out, '\n');
	}
}

static void
stock_text(struct buf *out, const char *what, const struct expiring_count *n)
{
	buf_printf(out,
	    "%-14s %" PRId64 " units, %" PRId64 " portions; %" PRId64
	    " batches\n",
	    what, n->units, n->servings, n->batches);
}

static void
write_text(struct buf *out, const struct today *t)
{
	char text[48];
	int i;

	buf_printf(out, "TODAY %s\n", day_words(text, sizeof(text), t->day));
	if (t->doubt[0] != '\0')
		buf_printf(out, "the clock is in doubt: %s\n", t->doubt);
	services_text(out, t);
	stock_text(out, "expired", &t->expired_count);
	stock_text(out, "expire today", &t->today_count);
	buf_printf(out, "%-14s %" PRId64 "\n", "on hold", t->held_count);
	for (i = 0; i < t->recall_count; i++)
		buf_printf(out,
		    "RECALL %" PRId64 "       %" PRId64 " of %" PRId64
		    " missing\n",
		    t->recalls[i].id, t->recalls[i].missing,
		    t->recalls[i].pull);
	if (t->complaints > 0)
		buf_printf(out, "%-14s %" PRId64 " open\n", "complaints",
		    t->complaints);
	buf_printf(out, "%-14s %" PRId64 " wait, %" PRId64 " unsure\n",
	    "labels", t->queued, t->unsure);
	buf_printf(
	    out, "%-14s %s, %" PRId64 " kB", "file", t->path, t->bytes / 1024);
	if (t->free_bytes >= 0)
		buf_printf(out, ", %" PRId64 " MB free",
		    t->free_bytes / (1024 * 1024));
	buf_putc(out, '\n');
}

enum rc
today_page(
    struct buf *out, struct station *sn, enum format format, struct err *err)
{
	struct today t;
	enum rc rc;

	if ((rc = today_load(&t, sn, err)) != RC_OK)
		return rc;
	if ((rc = today_work(&t, sn, err)) == RC_OK) {
		if (format == FORMAT_JSON)
			write_json(out, &t);
		else if (format == FORMAT_CSV)
			services_csv(out, &t);
		else
			write_text(out, &t);
		rc = buf_check(out, "today", err);
	}
	today_fini(&t);
	return rc;
}
