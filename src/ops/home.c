/* home.c - the computer a station file works on. */
#include "ops/home.h"

#include <string.h>

#include "base/file.h"
#include "base/secret.h"
#include "base/str.h"
#include "ops/watch.h"
#include "store/store.h"

#define ID_MAX 256

/*
 * machine-id(5) asks that the id itself stays private: a digest with our name
 * in front tells no other program which computer it is.  "": cannot be told.
 */
static void
this_computer(char out[DIGEST_HEX_MAX], const struct station *sn)
{
	char id[ID_MAX + 1];
	struct digest *d;
	struct buf b;

	out[0] = '\0';
	buf_init(&b, ID_MAX);
	if (!str_eq(sn->cfg.machine_id, "none"))
		ignore_rc(file_read(&b, sn->cfg.machine_id, NULL)); /* empty */
	str_fmt(id, sizeof(id), "%.*s", (int)strcspn(buf_text(&b), "\r\n"),
	    buf_text(&b));
	buf_fini(&b);
	/* what an image says before its first start */
	if (id[0] == '\0' || str_eq(id, "uninitialized"))
		return;
	d = digest_new();
	digest_add(d, "pinbone\n", 8);
	digest_add(d, id, strlen(id));
	digest_end(out, d);
}

static enum rc
fact(char *dst, size_t size, struct station *sn, const char *key,
    struct err *err)
{
	struct err none = { 0 };
	enum rc rc = store_fact_get(dst, size, sn->st, key, &none);

	if (rc == RC_OK)
		return RC_OK;
	dst[0] = '\0';
	return rc == RC_NOTFOUND ? RC_OK
				 : err_set(err, rc, none.lib, "%s", none.text);
}

enum rc
home_of(enum home *out, struct station *sn, struct err *err)
{
	char here[DIGEST_HEX_MAX], there[DIGEST_HEX_MAX];
	enum rc rc;

	*out = HOME_UNKNOWN;
	if ((rc = fact(there, sizeof(there), sn, "computer", err)) != RC_OK)
		return rc;
	this_computer(here, sn);
	if (here[0] == '\0')
		*out = HOME_UNKNOWN;
	else if (there[0] == '\0')
		*out = HOME_NEW;
	else
		*out = str_eq(here, there) ? HOME_HERE : HOME_ELSEWHERE;
	return RC_OK;
}

enum rc
home_check(struct station *sn, struct err *err)
{
	enum home at;
	enum rc rc = home_of(&at, sn, err);

	if (rc != RC_OK || at != HOME_ELSEWHERE)
		return rc;
	return err_set(err, RC_REFUSED, 0,
	    "%s worked on another computer: two stations on copies of one file "
	    "would give the same code twice; if the other one works no more, "
	    "pinbone moved --by INITIALS; until then nothing is recorded here",
	    store_path(sn->st));
}

enum rc
home_set(char branch[HOME_BRANCH_SIZE], struct station *sn, struct err *err)
{
	char here[DIGEST_HEX_MAX];
	enum rc rc;

	this_computer(here, sn);
	secret_name(branch);
	if ((rc = store_fact_set(sn->st, "computer", here, err)) != RC_OK)
		return rc;
	return store_fact_set(sn->st, "branch", branch, err);
}

/* In a transaction of its own, with its row. */
static enum rc
settle(struct station *sn, const struct moment *at, const char *doubt,
    const char *action, const char *words, struct err *err)
{
	char branch[HOME_BRANCH_SIZE];
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = home_set(branch, sn, err)) == RC_OK &&
	    (rc = watch_keep(sn, doubt, err)) == RC_OK &&
	    (rc = station_audit(sn, at, err, action, "this computer", "%s %s",
		 words, branch)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
home_adopt(struct station *sn, struct err *err)
{
	char doubt[WATCH_DOUBT_SIZE];
	struct moment at;
	enum home home;
	enum rc rc;

	if ((rc = home_of(&home, sn, err)) != RC_OK || home != HOME_NEW)
		return rc;
	if ((rc = watch_moment(&at, doubt, sn, "station", err)) != RC_OK ||
	    doubt[0] != '\0')
		return rc;
	rc = settle(sn, &at, "", "computer", "it works here, branch", err);
	/* another program is at it: next time */
	if (rc == RC_RETRY) {
		err_clear(err);
		rc = RC_OK;
	}
	return rc;
}

enum rc
home_moved(struct station *sn, const char *by, struct err *err)
{
	char doubt[WATCH_DOUBT_SIZE];
	struct moment at;
	enum home home;
	enum rc rc;

	if ((rc = home_of(&home, sn, err)) != RC_OK)
		return rc;
	if (home != HOME_ELSEWHERE)
		return err_set(err, RC_REFUSED, 0,
		    home == HOME_UNKNOWN
			? "this computer cannot be told from others (no "
			  "machine-id): there is nothing to say"
			: "%s works on this computer already",
		    store_path(sn->st));
	if ((rc = watch_moment(&at, doubt, sn, by, err)) != RC_OK)
		return rc;
	return settle(sn, &at, doubt, "moved",
	    "it was moved to this computer and works nowhere else, branch",
	    err);
}
