/* hold.c - blocked, noted, let go. */
#include "ops/hold.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/scan.h"
#include "store/batches.h"
#include "store/portions.h"
#include "store/sources.h"
#include "store/store.h"
#include "unit.h"

enum rc
hold_subject(struct subject *s, char name[HOLD_NAME_SIZE], struct station *sn,
    const char *text, bool breakdown, struct err *err)
{
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum code_kind kind;
	struct portion p;
	struct batch b;
	enum rc rc;

	memset(s, 0, sizeof(*s));
	if ((rc = scan_code(&kind, code, sn, text, err)) != RC_OK)
		return rc;
	str_copy(name, HOLD_NAME_SIZE, code_show(shown, code));
	if (kind == CODE_BATCH && breakdown)
		return err_set(err, RC_INVALID, 0,
		    "%s is a batch's code: a breakdown is named by a portion "
		    "or tray it made",
		    shown);
	if (kind == CODE_BATCH) {
		rc = batch_get(&b, sn->st, code, err);
		s->batch_id = rc == RC_OK ? b.id : 0;
		return rc;
	}
	if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK)
		return rc;
	if (breakdown) {
		s->prep_id = p.prep_id;
		str_fmt(name, HOLD_NAME_SIZE, "breakdown %" PRId64, p.prep_id);
	} else {
		s->portion_id = p.id;
	}
	return RC_OK;
}

/* Labels wanted again, in words. */
static enum rc
wanted(struct hold_done *out, struct station *sn, int64_t id, struct err *err)
{
	char shown[CODE_SIZE], more[sizeof(out->codes)];
	struct stopped_label *items;
	size_t i, n;
	enum rc rc = hold_stopped_open(&items, &n, sn->st, id, err);

	if (rc != RC_OK)
		return rc;
	out->labels = (int64_t)n;
	for (i = 0; i < n; i++)
		if (str_fmt(more, sizeof(more), "%s%s%s", out->codes,
			i == 0 ? "" : ", ", code_show(shown, items[i].code)))
			str_copy(out->codes, sizeof(out->codes), more);
	free(items);
	return RC_OK;
}

/* An empty tray whose label still lies around: its food is elsewhere. */
static enum rc
not_moved_on(struct station *sn, const struct subject *s, const char *text,
    struct err *err)
{
	struct portion_part_list went;
	char code[CODE_SIZE], onto[CODE_SIZE];
	enum code_kind kind;
	struct portion p;
	enum rc rc;

	if (s->portion_id == 0)
		return RC_OK;
	if ((rc = scan_code(&kind, code, sn, text, err)) != RC_OK ||
	    (rc = portion_get(&p, sn->st, code, err)) != RC_OK ||
	    (rc = portion_went_open(&went, sn->st, p.id, err)) != RC_OK)
		return rc;
	if (p.left == 0 && went.count > 0)
		rc = err_set(err, RC_REFUSED, 0,
		    "the rest of it is on tray %s: hold that",
		    code_show(onto, went.items[went.count - 1].code));
	portion_parts_fini(&went);
	return rc;
}

static enum rc
go_hold(struct hold_done *out, struct station *sn, const struct subject *s,
    const char *reason, const struct moment *at, struct err *err)
{
	struct hold h;
	enum rc rc;

	if ((rc = hold_open(sn->st, s, reason, at, err)) != RC_OK)
		return rc;
	if ((rc = hold_now(&h, sn->st, s, err)) != RC_OK)
		return rc;
	return hold_stop_labels(
	    &out->labels, sn->st, h.id, reason, at->utc, err);
}

static enum rc
go_release(struct hold_done *out, struct station *sn, const struct subject *s,
    const char *reason, const struct moment *at, struct err *err)
{
	struct hold h = { 0 };
	enum rc rc = hold_now(&h, sn->st, s, err);

	if (rc != RC_OK && rc != RC_NOTFOUND)
		return rc;
	if ((rc = hold_close(sn->st, s, reason, at, err)) != RC_OK)
		return rc;
	return wanted(out, sn, h.id, err);
}

static enum rc
go_note(struct hold_done *out, struct station *sn, const struct subject *s,
    const char *text, const struct moment *at, struct err *err)
{
	struct hold_note n = { .at = *at };
	struct hold h;
	enum rc rc = hold_now(&h, sn->st, s, err);

	(void)out;
	if (rc == RC_NOTFOUND)
		return err_set(err, RC_REFUSED, 0,
		    "it has no hold of its own: a note stands at a hold");
	if (rc != RC_OK)
		return rc;
	n.hold_id = h.id;
	str_copy(n.text, sizeof(n.text), text);
	return hold_note_add(sn->st, &n, err);
}

typedef enum rc change_fn(struct hold_done *out, struct station *sn,
    const struct subject *s, const char *text, const struct moment *at,
    struct err *err);

/* One change in one transaction with its audit row. */
static enum rc
change(struct hold_done *out, struct station *sn, const struct hold_in *in,
    const char *action, change_fn *go, struct err *err)
{
	char text[400];
	struct subject s;
	struct moment at;
	size_t most = go == go_note ? sizeof(text) : 200;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = reason_into(text, most, in->reason, false, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = hold_subject(
		 &s, out->name, sn, in->code, in->breakdown, err)) != RC_OK)
		goto done;
	out->prep_id = s.prep_id;
	if (go == go_hold)
		rc = not_moved_on(sn, &s, in->code, err);
	if (rc != RC_OK || (rc = go(out, sn, &s, text, &at, err)) != RC_OK) {
		err_prefix(err, "%s: ", out->name);
		goto done;
	}
	rc = station_audit(sn, &at, err, action, out->name, "%s%s", text,
	    go == go_hold && out->labels > 0 ? ", its queued labels stopped"
					     : "");
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	return rc;
}

enum rc
hold_set(struct hold_done *out, struct station *sn, const struct hold_in *in,
    struct err *err)
{
	return change(out, sn, in, "hold", go_hold, err);
}

enum rc
hold_lift(struct hold_done *out, struct station *sn, const struct hold_in *in,
    struct err *err)
{
	return change(out, sn, in, "release", go_release, err);
}

enum rc
hold_note(struct hold_done *out, struct station *sn, const struct hold_in *in,
    struct err *err)
{
	return change(out, sn, in, "note", go_note, err);
}

static enum rc
plain(char shown[CODE_SIZE], struct station *sn, const struct hold_in *in,
    change_fn *go, const char *action, struct err *err)
{
	struct hold_done d;
	enum rc rc = change(&d, sn, in, action, go, err);

	if (rc == RC_OK && shown != NULL)
		str_copy(shown, CODE_SIZE, d.name);
	return rc;
}

enum rc
hold(char shown[CODE_SIZE], struct station *sn, const char *code,
    const char *reason, const char *by, struct err *err)
{
	const struct hold_in in = { code, false, reason, by };

	return plain(shown, sn, &in, go_hold, "hold", err);
}

enum rc
release(char shown[CODE_SIZE], struct station *sn, const char *code,
    const char *reason, const char *by, struct err *err)
{
	const struct hold_in in = { code, false, reason, by };

	return plain(shown, sn, &in, go_release, "release", err);
}
