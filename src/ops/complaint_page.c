/* complaint_page.c - complaints to read. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "complaint_trace.h"
#include "ops/complaint.h"

enum rc
complaint_rows(
    struct complaint_list *out, struct station *sn, bool open, struct err *err)
{
	return complaint_list_open(
	    out, sn->st, open, COMPLAINTS_SHOWN_MAX, err);
}

/* What it is about: a code, or a dish of a service. */
static char *
about(char dst[120], const struct complaint *c)
{
	char code[CODE_SIZE];

	if (c->code[0] != '\0')
		str_copy(dst, 120, code_show(code, c->code));
	else
		str_fmt(dst, 120, "%s of %s", c->dish, c->service);
	return dst;
}

static void
put_members(struct jsonw *w, const struct complaint *c)
{
	char code[CODE_SIZE];

	jsonw_int(w, "complaint", c->id);
	if (c->code[0] != '\0') {
		jsonw_str(w, "code", code_show(code, c->code));
	} else {
		jsonw_str(w, "dish", c->dish);
		jsonw_str(w, "service", c->service);
	}
	jsonw_str(w, "what", c->what);
	jsonw_str(w, "table", c->place);
	if (c->served_utc != 0)
		jsonw_time(w, "served", c->served_utc);
	else
		jsonw_null(w, "served");
	jsonw_time(w, "at", c->at.utc);
	jsonw_str(w, "by", c->at.by);
	jsonw_bool(w, "closed", c->closed);
	jsonw_str(w, "outcome", c->outcome);
	jsonw_str(w, "digest", c->digest);
}

static void
list_json(struct buf *out, const struct complaint_list *l)
{
	struct jsonw *w = jsonw_new_array();
	size_t i;

	for (i = 0; i < l->count; i++) {
		jsonw_object(w, NULL);
		put_members(w, &l->items[i]);
		jsonw_int(w, "notes", l->items[i].notes);
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
list_csv(struct buf *out, const struct complaint_list *l)
{
	const struct complaint *c;
	char text[120], when[48];
	size_t i;

	buf_puts(out, "complaint,about,what,table,at,by,closed,outcome\r\n");
	for (i = 0; i < l->count; i++) {
		c = &l->items[i];
		buf_printf(out, "%" PRId64 ",", c->id);
		csv_quote(out, about(text, c));
		buf_putc(out, ',');
		csv_quote(out, c->what);
		buf_putc(out, ',');
		csv_quote(out, c->place);
		buf_printf(
		    out, ",%s,", time_rfc3339(when, sizeof(when), c->at.utc));
		csv_quote(out, c->at.by);
		buf_printf(out, ",%s,", c->closed ? "yes" : "no");
		csv_quote(out, c->outcome);
		buf_puts(out, "\r\n");
	}
}

static void
list_text(struct buf *out, const struct complaint_list *l, bool open)
{
	const struct complaint *c;
	char text[120], when[48];
	size_t i;

	for (i = 0; i < l->count; i++) {
		c = &l->items[i];
		buf_printf(out, "%4" PRId64 "  %s by %s  %s  %s: %s\n", c->id,
		    time_minute(when, sizeof(when), c->at.utc), c->at.by,
		    c->closed ? "closed" : "OPEN", about(text, c), c->what);
	}
	if (l->count == 0)
		buf_puts(out,
		    open ? "no complaint is open\n"
			 : "no complaint yet: pinbone complaint add CODE "
			   "--what TEXT --by INITIALS\n");
}

enum rc
complaint_list(struct buf *out, struct station *sn, bool open,
    enum format format, struct err *err)
{
	struct complaint_list l;
	enum rc rc = complaint_rows(&l, sn, open, err);

	if (rc != RC_OK)
		return rc;
	if (format == FORMAT_JSON)
		list_json(out, &l);
	else if (format == FORMAT_CSV)
		list_csv(out, &l);
	else
		list_text(out, &l, open);
	free(l.items);
	return buf_check(out, "the list", err);
}

/* --- one of them ----------------------------------------------------------*/

struct shown {
	struct complaint is;
	struct complaint_notes notes;
	char *then;     /* the frozen chain */
	struct buf now; /* the chain as it is; empty: it cannot be told */
	struct complaint_changes changes;
	bool as_kept; /* its digest holds */
};

static enum rc
load(struct shown *s, struct station *sn, int64_t id, struct err *err)
{
	char digest[DIGEST_HEX_MAX];
	enum rc rc;

	if ((rc = complaint_get(&s->is, sn->st, id, err)) != RC_OK ||
	    (rc = complaint_trace(&s->then, sn->st, id, err)) != RC_OK ||
	    (rc = complaint_notes_open(&s->notes, sn->st, id, err)) != RC_OK)
		return rc;
	digest_hex(digest, s->then, strlen(s->then));
	s->as_kept = str_eq(digest, s->is.digest);
	/* What it is about may be gone from the file: the frozen chain is
	 * what it is kept for. */
	rc = complaint_trace_write(&s->now, sn, &s->is, NULL);
	if (rc != RC_OK)
		buf_clear(&s->now);
	else
		(void)complaint_compare(
		    &s->changes, s->then, buf_text(&s->now));
	return RC_OK;
}

static void
show_json(struct buf *out, const struct shown *s)
{
	struct jsonw *w = jsonw_new_object();
	const struct complaint_change *c;
	const struct complaint_note *n;
	size_t i;

	put_members(w, &s->is);
	jsonw_bool(w, "as_kept", s->as_kept);
	jsonw_array(w, "notes");
	for (i = 0; i < s->notes.count; i++) {
		n = &s->notes.items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "kind", n->closes ? "closed" : "note");
		jsonw_str(w, "text", n->text);
		jsonw_time(w, "at", n->at.utc);
		jsonw_str(w, "by", n->at.by);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "changed");
	for (i = 0; i < s->changes.count; i++) {
		c = &s->changes.items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "what", c->what);
		jsonw_str(w, "then", c->then);
		jsonw_str(w, "now", c->now);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_raw(w, "trace", s->then);
	if (s->now.len > 0)
		jsonw_raw(w, "trace_now", buf_text(&s->now));
	else
		jsonw_null(w, "trace_now");
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
show_changes(struct buf *out, const struct shown *s)
{
	const struct complaint_change *c;
	size_t i;

	buf_puts(out, "\nCHANGED SINCE\n");
	if (s->now.len == 0)
		buf_puts(out, "  the chain is not in this file any more\n");
	else if (s->changes.count == 0)
		buf_puts(out, "  nothing\n");
	for (i = 0; i < s->changes.count; i++) {
		c = &s->changes.items[i];
		buf_printf(out, "  %-12s then  %s\n  %-12s now   %s\n", c->what,
		    c->then[0] == '\0' ? "-" : c->then, "",
		    c->now[0] == '\0' ? "-" : c->now);
	}
}

static void
show_text(struct buf *out, const struct shown *s)
{
	const struct complaint *c = &s->is;
	const struct complaint_note *n;
	char text[120], when[48];
	size_t i;

	buf_printf(out, "COMPLAINT %" PRId64 "  %s  %s\n", c->id,
	    about(text, c), c->closed ? "closed" : "OPEN");
	buf_printf(out, "  %-12s %s\n", "what", c->what);
	if (c->place[0] != '\0')
		buf_printf(out, "  %-12s %s\n", "table", c->place);
	if (c->served_utc != 0)
		buf_printf(out, "  %-12s %s\n", "served",
		    time_minute(when, sizeof(when), c->served_utc));
	buf_printf(out, "  %-12s %s by %s\n", "taken",
	    time_minute(when, sizeof(when), c->at.utc), c->at.by);
	for (i = 0; i < s->notes.count; i++) {
		n = &s->notes.items[i];
		buf_printf(out, "  %-12s %s by %s: %s\n",
		    n->closes ? "closed" : "note",
		    time_minute(when, sizeof(when), n->at.utc), n->at.by,
		    n->text);
	}
	buf_printf(out, "\nAS IT WAS THEN%s\n",
	    s->as_kept ? ", as it was kept"
		       : ": ALTERED SINCE IT WAS KEPT, do not rely on it");
	complaint_trace_text(out, s->then);
	show_changes(out, s);
}

enum rc
complaint_show(struct buf *out, struct station *sn, int64_t id,
    enum format format, struct err *err)
{
	struct shown s = { 0 };
	enum rc rc;

	buf_init(&s.now, COMPLAINT_TRACE_MAX);
	if ((rc = load(&s, sn, id, err)) == RC_OK) {
		if (format == FORMAT_JSON)
			show_json(out, &s);
		else
			show_text(out, &s);
		rc = buf_check(out, "the complaint", err);
	}
	free(s.then);
	free(s.notes.items);
	free(s.changes.items);
	buf_fini(&s.now);
	return rc;
}
