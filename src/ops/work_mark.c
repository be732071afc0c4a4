/* work_mark.c - a task of a prep list started, done, or opened again. */
#include "ops/work_mark.h"

#include <string.h>

#include "base/str.h"
#include "core/minutes.h"
#include "ops/fate.h"
#include "store/bookings.h"
#include "store/store.h"
#include "work_done.h"

bool
work_key_same(const struct work_key *a, const struct work_key *b)
{
	return str_eq(a->batch, b->batch) && str_eq(a->dish, b->dish) &&
	    str_eq(a->step, b->step);
}

static enum rc
find_service(
    struct service *out, struct station *sn, const char *text, struct err *err)
{
	const struct service_window *w;
	day_no day;
	enum rc rc;

	if ((rc = sitting_parse(&day, &w, &sn->cfg, text, err)) != RC_OK)
		return rc;
	return service_get(out, sn->st, day, w->name, err);
}

/* What was said of it so far; WORK_REOPENED when nothing. */
static enum rc
said_before(struct work_mark *out, struct station *sn, int64_t service_id,
    const struct work_key *key, struct err *err)
{
	struct work_mark_list l;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = work_mark_list_open(&l, sn->st, service_id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++)
		if (work_key_same(&l.items[i].key, key))
			*out = l.items[i];
	work_mark_list_fini(&l);
	return RC_OK;
}

static enum rc
may_say(const struct work_mark *before, enum work_said said, struct err *err)
{
	char when[48];

	if (before->said == WORK_DONE && said != WORK_REOPENED)
		return err_set(err, RC_REFUSED, 0,
		    "done already by %s, %s: open it again first",
		    before->at.by,
		    time_short(when, sizeof(when), before->at.utc));
	if (before->said == WORK_REOPENED && said == WORK_REOPENED)
		return err_set(err, RC_REFUSED, 0,
		    "nobody has started or ticked this task");
	return RC_OK;
}

static enum rc
audit(struct station *sn, const struct work_mark *m, const char *service,
    struct err *err)
{
	char subject[80], shown[CODE_SIZE];

	if (m->key.batch[0] == '\0' ||
	    !str_fmt(subject, sizeof(subject), "%s %s",
		code_show(shown, m->key.batch), m->key.dish))
		str_copy(subject, sizeof(subject), "bench");
	return station_audit(sn, &m->at, err, "task", subject, "%s %s for %s",
	    m->key.step, work_said_word(m->said), service);
}

/* Service, what was said before, and the row that may now be inserted. */
static enum rc
look(struct work_mark *m, struct work_mark *before, struct station *sn,
    const struct work_say *in, const struct moment *at, struct err *err)
{
	enum task_kind kind;
	struct service s;
	enum rc rc;

	*m = (struct work_mark){ .key = in->key,
		.said = in->said,
		.prep_id = in->prep_id,
		.at = *at };
	if ((rc = task_parse(&kind, in->key.step, err)) != RC_OK ||
	    (rc = find_service(&s, sn, in->service, err)) != RC_OK)
		return rc;
	m->service_id = s.id;
	return said_before(before, sn, s.id, &m->key, err);
}

static enum rc
put(struct station *sn, struct work_mark *m, const char *service,
    struct err *err)
{
	enum rc rc = work_mark_insert(sn->st, m, err);

	return rc != RC_OK ? rc : audit(sn, m, service, err);
}

enum rc
work_mark_done(struct station *sn, const struct work_say *task, int64_t prep_id,
    const struct moment *at, struct err *err)
{
	struct work_say say = *task;
	struct work_mark m, before;
	enum rc rc;

	say.said = WORK_DONE;
	say.prep_id = prep_id;
	rc = look(&m, &before, sn, &say, at, err);
	if (rc != RC_OK || (before.said == WORK_DONE && before.prep_id == 0))
		return rc;
	return put(sn, &m, task->service, err);
}

enum rc
work_mark_say(struct work_mark *out, struct station *sn,
    const struct work_say *in, struct err *err)
{
	struct work_mark m, before;
	struct moment at;
	enum rc rc;

	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = look(&m, &before, sn, in, &at, err)) == RC_OK &&
	    (rc = may_say(&before, in->said, err)) == RC_OK &&
	    (rc = put(sn, &m, in->service, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc == RC_OK && out != NULL)
		*out = m;
	return rc;
}

enum rc
work_marks_open(struct work_mark_list *out, struct station *sn,
    const char *service, struct err *err)
{
	struct err own = { 0 };
	struct service s;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = find_service(&s, sn, service, &own);
	if (rc == RC_NOTFOUND)
		return RC_OK;
	if (rc != RC_OK)
		return err_set(err, rc, own.lib, "%s", own.text);
	return work_mark_list_open(out, sn->st, s.id, err);
}
