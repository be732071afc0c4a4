/* complaint.c - what a guest said was wrong: taken, noted, closed. */
#include "ops/complaint.h"

#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "complaint_trace.h"
#include "ops/fate.h"
#include "ops/scan.h"
#include "ops/trace_page.h"
#include "store/batches.h"
#include "store/holds.h"
#include "store/portions.h"
#include "store/sources.h"
#include "store/store.h"

/* --- taken ----------------------------------------------------------------*/

/* The instant of "HH:MM": of the service's day, else the last one that was. */
static enum rc
read_served(struct complaint_taken *t, const struct complaint_in *in,
    const struct station *sn, struct err *err)
{
	struct complaint *c = &t->complaint;
	const struct service_window *w;
	char text[32], date[16];
	day_no day = local_from_utc(c->at.utc).day;
	enum rc rc;

	if (in->at == NULL)
		return RC_OK;
	if (c->service[0] != '\0' &&
	    (rc = sitting_parse(&day, &w, &sn->cfg, c->service, err)) != RC_OK)
		return rc;
	t->time_wrong = true;
	day_print(date, sizeof(date), day);
	if (strlen(in->at) != 5 || in->at[2] != ':' ||
	    !str_fmt(text, sizeof(text), "%sT%s", date, in->at) ||
	    time_parse(&c->served_utc, "--at", text, NULL) != RC_OK)
		return err_set(err, RC_INVALID, 0,
		    "served at \"%.20s\": write the time as 20:15", in->at);
	t->time_wrong = c->served_utc > c->at.utc && c->service[0] != '\0';
	if (c->served_utc <= c->at.utc)
		return RC_OK;
	if (c->service[0] != '\0')
		return err_set(err, RC_INVALID, 0,
		    "served at %s: it is not past yet", in->at);
	day_print(date, sizeof(date), day - 1);
	str_fmt(text, sizeof(text), "%sT%s", date, in->at);
	return time_parse(&c->served_utc, "--at", text, err);
}

static enum rc
read_in(struct complaint_taken *t, struct station *sn,
    const struct complaint_in *in, struct err *err)
{
	const char *place = in->place == NULL ? "" : in->place;
	struct complaint *c = &t->complaint;
	enum code_kind kind;
	enum rc rc;

	if ((in->code == NULL) == (in->dish == NULL || in->service == NULL))
		return err_set(err, RC_INVALID, 0,
		    "a complaint is about a code, or a dish and a service when "
		    "the label is gone");
	if ((rc = text_check("what", in->what == NULL ? "" : in->what,
		 sizeof(c->what) - 1, false, err)) != RC_OK ||
	    (rc = text_check(
		 "table", place, sizeof(c->place) - 1, true, err)) != RC_OK)
		return rc;
	str_copy(c->what, sizeof(c->what), in->what);
	str_copy(c->place, sizeof(c->place), place);
	if (in->code != NULL) {
		rc = scan_code(&kind, c->code, sn, in->code, err);
	} else {
		if ((rc = text_check("dish", in->dish, sizeof(c->dish) - 1,
			 false, err)) != RC_OK ||
		    (rc = text_check("service", in->service,
			 sizeof(c->service) - 1, false, err)) != RC_OK)
			return rc;
		str_copy(c->dish, sizeof(c->dish), in->dish);
		str_copy(c->service, sizeof(c->service), in->service);
	}
	return rc != RC_OK ? rc : read_served(t, in, sn, err);
}

/* Every batch a unit is made of: whose fish it was nobody can say. */
static enum rc
find_sources(struct complaint_taken *t, struct station *sn, const char *code,
    struct err *err)
{
	struct portion_source_list l;
	struct portion p;
	struct batch b;
	size_t i;
	enum rc rc;

	if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK ||
	    (rc = portion_sources_open(&l, sn->st, p.id, err)) != RC_OK)
		return rc;
	assert(l.count <= COMPLAINT_HELD_MAX);
	t->held_count = l.count;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		if ((rc = batch_by_id(&b, sn->st, l.items[i], err)) == RC_OK)
			str_copy(t->held[i], CODE_SIZE, b.code);
	portion_sources_fini(&l);
	return rc;
}

/* The batches to block: codes without hyphen. */
static enum rc
find_batches(struct complaint_taken *t, struct station *sn, struct err *err)
{
	const struct complaint *c = &t->complaint;
	struct trace_guess g;
	enum code_kind kind;
	char code[CODE_SIZE];
	size_t i, n;
	enum rc rc;

	if (c->code[0] != '\0') {
		t->held_count = 1;
		str_copy(t->held[0], CODE_SIZE, c->code);
		rc = code_parse(&kind, code, c->code, err);
		return rc != RC_OK || kind == CODE_BATCH
		    ? rc
		    : find_sources(t, sn, code, err);
	}
	if ((rc = trace_guess_load(&g, sn, c->dish, c->service, err)) != RC_OK)
		return rc;
	/* docs/decisions/0017: in doubt all of them */
	n = g.sold >= 0 && g.scanned >= g.sold ? g.certain : g.count;
	if (n > COMPLAINT_HELD_MAX)
		rc = err_set(err, RC_REFUSED, 0,
		    "%zu batches may have been it: record the complaint "
		    "without hold, and hold them one by one",
		    n);
	for (i = 0; i < n && rc == RC_OK; i++)
		str_copy(t->held[i], CODE_SIZE, g.items[i].is.batch);
	t->held_count = rc == RC_OK ? n : 0;
	trace_guess_fini(&g);
	return rc;
}

static enum rc
hold_batches(struct complaint_taken *t, struct station *sn, struct err *err)
{
	const struct complaint *c = &t->complaint;
	char reason[48], shown[CODE_SIZE];
	struct subject s;
	struct batch b;
	size_t i;
	enum rc rc;

	if ((rc = find_batches(t, sn, err)) != RC_OK)
		return rc;
	str_fmt(reason, sizeof(reason), "complaint %" PRId64, c->id);
	for (i = 0; i < t->held_count; i++) {
		if ((rc = batch_get(&b, sn->st, t->held[i], err)) != RC_OK)
			return rc;
		if (b.held)
			continue;
		memset(&s, 0, sizeof(s));
		s.batch_id = b.id;
		if ((rc = hold_open(sn->st, &s, reason, &c->at, err)) !=
			RC_OK ||
		    (rc = station_audit(sn, &c->at, err, "hold",
			 code_show(shown, b.code), "%s", reason)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static enum rc
record(struct complaint_taken *t, struct station *sn,
    const struct complaint_in *in, struct err *err)
{
	struct complaint *c = &t->complaint;
	char shown[CODE_SIZE];
	struct buf trace;
	enum rc rc;

	buf_init(&trace, COMPLAINT_TRACE_MAX);
	if ((rc = complaint_trace_write(&trace, sn, c, err)) == RC_OK) {
		digest_hex(c->digest, trace.data, trace.len);
		rc = complaint_insert(sn->st, c, buf_text(&trace), err);
	}
	buf_fini(&trace);
	if (rc != RC_OK)
		return rc;
	rc = station_audit(sn, &c->at, err, "complaint",
	    c->code[0] != '\0' ? code_show(shown, c->code) : c->dish,
	    "%" PRId64 "%s%s%s%s: %s; chain %.16s", c->id,
	    c->service[0] == '\0' ? "" : ", ", c->service,
	    c->place[0] == '\0' ? "" : ", table ", c->place, c->what,
	    c->digest);
	return rc == RC_OK && in->hold ? hold_batches(t, sn, err) : rc;
}

enum rc
complaint_add(struct complaint_taken *out, struct station *sn,
    const struct complaint_in *in, struct err *err)
{
	struct complaint *c = &out->complaint;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&c->at, sn, in->by, err)) != RC_OK ||
	    (rc = read_in(out, sn, in, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = record(out, sn, in, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* --- later ----------------------------------------------------------------*/

enum rc
complaint_note(struct station *sn, int64_t id, const char *text, bool close,
    const char *by, struct err *err)
{
	struct complaint_note n = { .closes = close };
	char subject[32];
	struct complaint c;
	enum rc rc;

	if ((rc = station_moment(&n.at, sn, by, err)) != RC_OK ||
	    (rc = text_check(close ? "outcome" : "note",
		 text == NULL ? "" : text, sizeof(n.text) - 1, false, err)) !=
		RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	str_copy(n.text, sizeof(n.text), text);
	str_fmt(subject, sizeof(subject), "complaint %" PRId64, id);
	rc = complaint_get(&c, sn->st, id, err);
	if (rc == RC_OK && c.closed)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s is closed: what comes up now is a complaint of its own",
		    subject);
	if (rc == RC_OK &&
	    (rc = complaint_note_insert(sn->st, id, &n, err)) == RC_OK &&
	    (rc = station_audit(sn, &n.at, err,
		 close ? "complaint-close" : "complaint-note", subject, "%s",
		 n.text)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}
