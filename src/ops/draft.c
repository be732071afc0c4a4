/* draft.c - a half-typed form, kept in the station file. */
#include "ops/draft.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "store/store.h"

static enum rc
fill(struct draft *d, struct station *sn, const struct draft_in *in,
    struct err *err)
{
	d->at.utc = clock_now(&sn->clock);
	d->at.offset_min = local_from_utc(d->at.utc).offset_min;
	d->body = NULL;
	if (!str_copy(d->name, sizeof(d->name), in->name) ||
	    !str_copy(d->title, sizeof(d->title), in->title) ||
	    !str_copy(d->at.by, sizeof(d->at.by), in->by) ||
	    strlen(in->body) > DRAFT_BODY_MAX)
		return err_set(err, RC_INVALID, 0,
		    "the form \"%.30s\" is too long to be kept", in->name);
	return RC_OK;
}

enum rc
draft_keep(struct station *sn, const struct draft_in *in, struct err *err)
{
	struct draft d;
	enum rc rc;

	/* What is no text would be read back as damage of the file. */
	if (!utf8_valid(in->body, strlen(in->body)))
		return err_set(err, RC_INVALID, 0,
		    "%.40s: holds bytes that are no text: not kept", in->name);
	if ((rc = fill(&d, sn, in, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	d.body = xstrdup(in->body);
	if ((rc = draft_put(sn->st, &d, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	draft_fini(&d);
	return rc;
}

enum rc
draft_open(
    struct draft *out, struct station *sn, const char *name, struct err *err)
{
	return draft_get(out, sn->st, name, err);
}

enum rc
draft_clear(struct station *sn, const char *name, struct err *err)
{
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = draft_drop(sn->st, name, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
draft_waiting(
    struct draft *out, struct station *sn, const char *name, struct err *err)
{
	enum rc rc = draft_get(out, sn->st, name, err);

	free(out->body);
	out->body = NULL;
	return rc;
}
