/* recall_tick.c - what was found is scanned. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "ops/recall.h"
#include "store/batches.h"
#include "store/portions.h"
#include "store/store.h"

/* "2 used, 1 discarded, the last on Thu 3 Dec 12:30" */
static void
what_became(char *dst, size_t size, const struct recall_item *i)
{
	char when[48], more[200];
	const struct {
		int64_t n;
		const char *word;
	} parts[] = {
		{ i->used, "used" },
		{ i->thrown, "discarded" },
		{ i->lost, "missing at a count" },
		{ i->combined, "put onto another tray" },
	};
	size_t k;

	dst[0] = '\0';
	if (i->struck)
		str_copy(dst, size, "struck out as entered by mistake");
	for (k = 0; k < sizeof(parts) / sizeof(parts[0]); k++)
		if (parts[k].n > 0 &&
		    str_fmt(more, sizeof(more), "%s%s%" PRId64 " %s", dst,
			dst[0] == '\0' ? "" : ", ", parts[k].n, parts[k].word))
			str_copy(dst, size, more);
	if (i->last_utc != 0 &&
	    str_fmt(more, sizeof(more), "%s, the last on %s", dst,
		time_short(when, sizeof(when), i->last_utc)))
		str_copy(dst, size, more);
}

/* It is on the list. */
static enum rc
listed(struct recall_scan *out, struct recall_tick *t,
    const struct recall_item *i, int64_t found, struct err *err)
{
	int64_t rest = i->left - i->found;
	bool batch = i->subject.batch_id != 0;
	char was[120], shown[CODE_SIZE];

	t->item_id = i->id;
	str_copy(out->name, sizeof(out->name), i->name);
	if (!recall_item_pull(i)) {
		what_became(was, sizeof(was), i);
		t->verdict = i->found > 0 ? TICK_AGAIN : TICK_SURPRISE;
		t->found = i->found > 0 ? 0 : found == 0 ? i->made : found;
		str_fmt(t->says, sizeof(t->says),
		    "the record has nothing left of it (%s): set it apart, "
		    "and find out what guests were served instead",
		    was);
	} else if (batch) {
		t->verdict = i->found > 0 ? TICK_AGAIN : TICK_FOUND;
		t->found = i->found > 0 ? 0 : 1;
	} else {
		t->verdict = rest > 0 ? TICK_FOUND : TICK_AGAIN;
		t->found = rest <= 0 ? 0 : found == 0 ? rest : found;
	}
	if (batch || t->found <= i->made - i->found)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "portion %s was made with %" PRId64 ": count again",
	    code_show(shown, i->code), i->made);
}

/* A known batch or unit that is not on the list. */
static void
other(struct recall_tick *t, const char *batch)
{
	char shown[CODE_SIZE];

	t->verdict = TICK_OTHER;
	str_fmt(t->says, sizeof(t->says),
	    "not part of this recall, it is of batch %s: put it back",
	    code_show(shown, batch));
}

static void
unknown(struct recall_tick *t, const struct label_said *s)
{
	char when[48] = "", shown[CODE_SIZE];

	t->verdict = TICK_UNKNOWN;
	t->found = 1;
	if (s->use_by_utc != 0)
		time_short(when, sizeof(when), s->use_by_utc);
	str_fmt(t->says, sizeof(t->says),
	    "this station has no record of it%s%s%s%s%s: keep it apart with "
	    "the others",
	    s->batch[0] == '\0' || !s->unit ? "" : "; its label says batch ",
	    s->batch[0] == '\0' || !s->unit ? "" : code_show(shown, s->batch),
	    s->unit && s->batch_known ? " (known here)" : "",
	    when[0] == '\0' ? "" : ", use by ", when);
}

/* Whatever the code is about.  RC_NOTFOUND: nothing of this file. */
static enum rc
find_subject(struct subject *s, char batch[CODE_SIZE], char *name, size_t size,
    struct station *sn, const struct label_said *l, struct err *err)
{
	struct portion p;
	struct batch b;
	enum rc rc;

	memset(s, 0, sizeof(*s));
	if (l->unit) {
		if ((rc = portion_get(&p, sn->st, l->code, err)) != RC_OK)
			return rc;
		s->portion_id = p.id;
		str_copy(batch, CODE_SIZE, p.batch);
		str_copy(name, size, p.dish_name);
		return RC_OK;
	}
	if ((rc = batch_get(&b, sn->st, l->code, err)) != RC_OK)
		return rc;
	s->batch_id = b.id;
	str_copy(batch, CODE_SIZE, b.code);
	str_copy(name, size, b.species);
	return RC_OK;
}

static enum rc
judge(struct recall_scan *out, struct recall_tick *t, struct station *sn,
    const struct label_said *l, int64_t found, struct err *err)
{
	struct recall_item item;
	struct subject s;
	char batch[CODE_SIZE];
	enum rc rc;

	rc = find_subject(&s, batch, out->name, sizeof(out->name), sn, l, NULL);
	if (rc == RC_NOTFOUND) {
		unknown(t, l);
		return RC_OK;
	}
	if (rc != RC_OK)
		return err_set(err, rc, 0, "the code cannot be looked up");
	rc = recall_item_of(&item, sn->st, t->recall_id, &s, err);
	if (rc == RC_NOTFOUND) {
		other(t, batch);
		return RC_OK;
	}
	return rc != RC_OK ? rc : listed(out, t, &item, found, err);
}

static enum rc
record(struct recall_scan *out, struct recall_tick *t, struct station *sn,
    const struct label_said *l, struct err *err)
{
	struct recall_item item;
	struct subject s;
	char name[24], batch[CODE_SIZE], shown[CODE_SIZE], dish[64];
	enum rc rc;

	if ((rc = recall_tick_add(sn->st, t, err)) != RC_OK ||
	    (rc = recall_counted(&out->count, sn->st, t->recall_id, err)) !=
		RC_OK)
		return rc;
	out->verdict = t->verdict;
	out->found = t->found;
	str_copy(out->code, sizeof(out->code), t->code);
	str_copy(out->says, sizeof(out->says), t->says);
	if (t->item_id != 0 &&
	    find_subject(&s, batch, dish, sizeof(dish), sn, l, NULL) == RC_OK &&
	    recall_item_of(&item, sn->st, t->recall_id, &s, NULL) == RC_OK)
		out->lacking = recall_item_missing(&item);
	str_fmt(name, sizeof(name), "recall %" PRId64, t->recall_id);
	return station_audit(sn, &t->at, err, "tick", name,
	    "%s %s, %" PRId64 "%s%s", code_show(shown, t->code),
	    recall_verdict_word(t->verdict), t->found,
	    t->says[0] == '\0' ? "" : ": ", t->says);
}

enum rc
recall_tick(struct recall_scan *out, struct station *sn, int64_t id,
    const char *code, int64_t found, const char *by, struct err *err)
{
	struct recall_tick t = { .recall_id = id };
	struct label_said l;
	struct recall r;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&t.at, sn, by, err)) != RC_OK ||
	    (rc = label_said(&l, sn, code, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = recall_get(&r, sn->st, id, err)) != RC_OK)
		goto done;
	if (r.outcome != RECALL_OPEN) {
		rc = err_set(err, RC_REFUSED, 0,
		    "recall %" PRId64
		    " is closed: hold what was found, and "
		    "open another recall if there may be more",
		    id);
		goto done;
	}
	str_copy(t.code, sizeof(t.code), l.code);
	if ((rc = judge(out, &t, sn, &l, found, err)) == RC_OK &&
	    (rc = record(out, &t, sn, &l, err)) == RC_OK)
		rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	return rc;
}
