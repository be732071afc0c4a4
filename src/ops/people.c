/* people.c - who works here, and who may do what is the chef's. */
#include "ops/people.h"

#include <inttypes.h>
#include <string.h>

#include "base/secret.h"
#include "base/str.h"
#include "ops/watch.h"
#include "store/store.h"

/* Stands as `by` where nobody knows who it was. */
#define NOBODY "nobody"

const char *
duty_words(enum duty duty)
{
	static const char *const words[DUTY_COUNT] = {
		[DUTY_ANYONE] = "anything",
		[DUTY_RELEASE] = "lift a hold",
		[DUTY_CLOCK] = "confirm the date",
		[DUTY_CANCEL_UNSURE] = "give up an unsure label",
		[DUTY_DISCARD_BATCH] = "discard a batch",
		[DUTY_RESTORE] = "put a backup in place",
		[DUTY_PEOPLE] = "change people",
		[DUTY_PRUNE] = "remove old records",
	};

	return words[duty];
}

enum rc
people_list(struct person_list *out, struct station *sn, bool all, int64_t skip,
    int64_t most, struct err *err)
{
	return person_list_open(out, sn->st, all, skip, most, err);
}

enum rc
people_get(struct person *out, struct station *sn, const char *initials,
    struct err *err)
{
	return person_get(out, sn->st, initials, err);
}

/* --- add and change --------------------------------------------------------*/

static enum rc
check_initials(const char *initials, struct err *err)
{
	const char *p = initials == NULL ? "" : initials;
	enum rc rc;

	rc = text_check("initials", p, PERSON_INITIALS_MAX, false, err);
	if (rc == RC_OK && strpbrk(p, " ,;") != NULL)
		rc = err_set(err, RC_INVALID, 0,
		    "initials \"%.15s\": write them without blanks, commas and "
		    "semicolons",
		    p);
	return rc;
}

static enum rc
yes_no(bool *out, const char *what, const char *s, struct err *err)
{
	if (s == NULL)
		return RC_OK;
	*out = str_eq(s, "yes");
	if (*out || str_eq(s, "no"))
		return RC_OK;
	return err_set(
	    err, RC_INVALID, 0, "%s is yes or no, not \"%.20s\"", what, s);
}

/* What was typed, over what is there. */
static enum rc
read_in(struct person *p, const struct person_in *in, struct err *err)
{
	enum rc rc;

	if (in->name != NULL) {
		rc = text_check("name", in->name, PERSON_NAME_MAX, false, err);
		if (rc != RC_OK)
			return rc;
		str_copy(p->name, sizeof(p->name), in->name);
	}
	if ((rc = yes_no(&p->chef, "chef", in->chef, err)) != RC_OK)
		return rc;
	return yes_no(&p->active, "active", in->active, err);
}

enum rc
people_add(struct person *out, struct station *sn, const struct person_in *in,
    struct err *err)
{
	struct person p = { .active = true }, old;
	struct person_in only = *in;
	struct moment at;
	enum rc rc;

	only.active = NULL;
	only.name = in->name == NULL ? "" : in->name;
	if ((rc = check_initials(in->initials, err)) != RC_OK ||
	    (rc = read_in(&p, &only, err)) != RC_OK ||
	    (rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	str_copy(p.initials, sizeof(p.initials), in->initials);
	rc = person_get(&old, sn->st, p.initials, err);
	if (rc == RC_OK)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s is %s already%s: choose other initials", old.initials,
		    old.name, old.active ? "" : ", who left");
	else if (rc == RC_NOTFOUND) {
		err_clear(err);
		rc = person_add(sn->st, &p, err);
	}
	if (rc == RC_OK)
		rc = station_audit(sn, &at, err, "person", p.initials,
		    "added: %s%s", p.name, p.chef ? ", chef" : "");
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc == RC_OK && out != NULL)
		*out = p;
	return rc;
}

/* With the last of them gone every door would stand open. */
static enum rc
keep_a_chef(struct station *sn, const struct person *was,
    const struct person *now, struct err *err)
{
	int64_t chefs = 0;
	enum rc rc;

	if (!was->chef || !was->active || !was->has_pin ||
	    (now->chef && now->active))
		return RC_OK;
	if ((rc = person_chefs(&chefs, sn->st, err)) != RC_OK || chefs > 1)
		return rc;
	return err_set(err, RC_REFUSED, 0,
	    "%s is the only chef with a PIN: give another chef a PIN first",
	    was->initials);
}

/* "name: Ann -> Anne; chef: no -> yes" */
static void
changes(
    char *dst, size_t size, const struct person *was, const struct person *now)
{
	static const char *const word[] = { "no", "yes" };

	dst[0] = '\0';
	if (!str_eq(was->name, now->name))
		str_fmt(dst, size, "name: %s -> %s; ", was->name, now->name);
	if (was->chef != now->chef)
		str_fmt(dst + strlen(dst), size - strlen(dst),
		    "chef: %s -> %s; ", word[was->chef], word[now->chef]);
	if (was->active != now->active)
		str_fmt(dst + strlen(dst), size - strlen(dst), "%s; ",
		    now->active ? "back" : "left");
	if (dst[0] != '\0')
		dst[strlen(dst) - 2] = '\0';
}

enum rc
people_change(struct person *out, struct station *sn,
    const struct person_in *in, struct err *err)
{
	struct person was, now;
	struct moment at;
	char what[200];
	enum rc rc;

	if ((rc = check_initials(in->initials, err)) != RC_OK ||
	    (rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = person_get(&was, sn->st, in->initials, err)) != RC_OK)
		goto done;
	now = was;
	if ((rc = read_in(&now, in, err)) != RC_OK ||
	    (rc = keep_a_chef(sn, &was, &now, err)) != RC_OK)
		goto done;
	changes(what, sizeof(what), &was, &now);
	if (what[0] != '\0' &&
	    ((rc = person_put(sn->st, &now, err)) != RC_OK ||
		(rc = station_audit(sn, &at, err, "person", now.initials, "%s",
		     what)) != RC_OK ||
		(rc = store_commit(sn->st, err)) != RC_OK))
		goto done;
	if (out != NULL)
		*out = now;
done:
	store_rollback(sn->st);
	return rc;
}

static enum rc
works_here(const struct person *p, struct err *err)
{
	if (p->active)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s (%s) left: say that they are back first, or use other initials",
	    p->initials, p->name);
}

enum rc
people_works(struct station *sn, const char *initials, struct err *err)
{
	struct person p;
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = person_get(&p, sn->st, initials, err)) == RC_OK &&
	    (rc = works_here(&p, err)) == RC_OK &&
	    (rc = person_works(sn->st, p.id, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* --- PINs ------------------------------------------------------------------*/

enum rc
people_pin_good(const char *pin, struct err *err)
{
	size_t len = strlen(pin);

	if (len >= PIN_MIN && len <= PIN_MAX &&
	    strspn(pin, "0123456789") == len)
		return RC_OK;
	return err_set(
	    err, RC_INVALID, 0, "a PIN is %d to %d digits", PIN_MIN, PIN_MAX);
}

enum rc
people_pin_set(struct station *sn, const char *initials, const char *pin,
    const char *by, struct err *err)
{
	char hash[SECRET_HASH_SIZE] = "";
	struct person p;
	struct moment at;
	enum rc rc;

	if ((rc = people_pin_good(pin, err)) != RC_OK ||
	    (rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = secret_hash(hash, pin, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		goto done;
	if ((rc = person_get(&p, sn->st, initials, err)) == RC_OK &&
	    (rc = works_here(&p, err)) == RC_OK &&
	    (rc = person_hash_put(sn->st, p.id, hash, err)) == RC_OK &&
	    (rc = station_audit(sn, &at, err, "person", p.initials, "%s",
		 p.has_pin ? "PIN changed" : "PIN set")) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
done:
	secret_wipe(hash, sizeof(hash));
	return rc;
}

/* Seconds from one try to the next, after so many wrong ones. */
static int64_t
wait_after(int64_t wrong)
{
	int64_t wait = PIN_WAIT_FIRST_S, i;

	if (wrong < PIN_FREE)
		return 0;
	for (i = PIN_FREE; i < wrong && wait < PIN_WAIT_MOST_S; i++)
		wait *= 2;
	return wait < PIN_WAIT_MOST_S ? wait : PIN_WAIT_MOST_S;
}

int64_t
pin_wait_s(int64_t wrong, int64_t tried_ms, int64_t now_ms)
{
	int64_t wait = wait_after(wrong), since;

	/* The clock of ticks starts at 0 with the computer: behind the last
	 * try it says that at least `now_ms` went by since.  Either way this is
	 * never more than what really did. */
	since = now_ms >= tried_ms ? now_ms - tried_ms : now_ms;
	wait -= since / 1000;
	return wait > 0 ? wait : 0;
}

int64_t
people_wait_s(const struct person *p)
{
	return pin_wait_s(p->wrong, p->tried_ms, clock_ticks_ms());
}

/* "40 seconds", "8 minutes", never less than it is */
static const char *
span(char *dst, size_t size, int64_t seconds)
{
	if (seconds < 120)
		str_fmt(
		    dst, size, "%" PRId64 " seconds", div_up(seconds, 10) * 10);
	else
		str_fmt(dst, size, "%" PRId64 " minutes", div_up(seconds, 60));
	return dst;
}

/* May they try now?  Then the try counts as wrong until it is known better, so
 * that pulling the plug does not make it free. */
static enum rc
count_try(struct person *p, char hash[SECRET_HASH_SIZE], struct station *sn,
    const char *initials, struct err *err)
{
	char text[32];
	int64_t wait;
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = person_get(p, sn->st, initials, err)) != RC_OK ||
	    (rc = works_here(p, err)) != RC_OK)
		goto done;
	if (!p->has_pin) {
		rc = err_set(err, RC_REFUSED, 0,
		    "%s has no PIN: somebody who has one gives it",
		    p->initials);
		goto done;
	}
	if ((wait = people_wait_s(p)) > 0) {
		rc = err_set(err, RC_REFUSED, 0,
		    "%" PRId64 " wrong PINs for %s: wait %s, then try again",
		    p->wrong, p->initials, span(text, sizeof(text), wait));
		goto done;
	}
	p->wrong++;
	p->untold++;
	p->tried_ms = clock_ticks_ms();
	if ((rc = person_hash(hash, sn->st, p->id, err)) == RC_OK &&
	    (rc = person_tries(sn->st, p, err)) == RC_OK)
		rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	return rc;
}

/*
 * A right one ends the row of wrong ones.  When the clock is believed the audit
 * trail is told of those: a row written in doubt would be the newest record and
 * end the doubt unasked.
 */
static enum rc
keep_tries(struct person *p, struct station *sn, bool right, struct err *err)
{
	struct moment at;
	bool believed;
	enum rc rc;

	rc = station_moment(&at, sn, NOBODY, NULL);
	if (rc != RC_OK && rc != RC_REFUSED)
		return err_set(err, rc, 0, "the clock could not be checked");
	believed = rc == RC_OK;
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	/* anew: somebody may have tried at another terminal meanwhile */
	if ((rc = person_get(p, sn->st, p->initials, err)) != RC_OK)
		goto done;
	if (right) {
		p->wrong = 0;
		p->untold -= p->untold > 0;
	}
	if (believed && p->untold > 0) {
		rc = station_audit(sn, &at, err, "wrong PIN", p->initials,
		    "%" PRId64 " more, %" PRId64 " in a row now", p->untold,
		    p->wrong);
		p->untold = 0;
	}
	if (rc == RC_OK && (rc = person_tries(sn->st, p, err)) == RC_OK)
		rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	return rc;
}

static enum rc
refuse(const struct person *p, struct err *err)
{
	char text[32];

	if (p->wrong < PIN_FREE)
		return err_set(err, RC_REFUSED, 0,
		    "that is not the PIN of %s: %" PRId64
		    " more %s before a wait",
		    p->initials, PIN_FREE - p->wrong,
		    PIN_FREE - p->wrong == 1 ? "try" : "tries");
	return err_set(err, RC_REFUSED, 0,
	    "that is not the PIN of %s: the next try in %s", p->initials,
	    span(text, sizeof(text), wait_after(p->wrong)));
}

enum rc
people_pin_check(
    struct station *sn, const char *initials, const char *pin, struct err *err)
{
	char hash[SECRET_HASH_SIZE] = "";
	struct person p;
	bool right;
	enum rc rc;

	if ((rc = people_pin_good(pin, err)) != RC_OK ||
	    (rc = count_try(&p, hash, sn, initials, err)) != RC_OK)
		goto done;
	right = secret_is(hash, pin);
	rc = keep_tries(&p, sn, right, err);
	if (rc == RC_OK && !right)
		rc = refuse(&p, err);
done:
	secret_wipe(hash, sizeof(hash));
	return rc;
}

/* --- doors -----------------------------------------------------------------*/

static bool
asked(const struct config *cfg, enum duty duty)
{
	const bool asks[DUTY_COUNT] = {
		[DUTY_RELEASE] = cfg->chef_release,
		[DUTY_CLOCK] = cfg->chef_clock,
		[DUTY_CANCEL_UNSURE] = cfg->chef_cancel_unsure,
		[DUTY_DISCARD_BATCH] = cfg->chef_discard_batch,
		[DUTY_RESTORE] = cfg->chef_restore,
		[DUTY_PEOPLE] = true,
		[DUTY_PRUNE] = true,
	};

	return asks[duty];
}

enum rc
people_duty_needs_pin(
    enum pin_need *out, struct station *sn, enum duty duty, struct err *err)
{
	int64_t chefs = 0;
	enum rc rc;

	*out = PIN_NOT_NEEDED;
	if (!asked(&sn->cfg, duty))
		return RC_OK;
	if ((rc = person_chefs(&chefs, sn->st, err)) == RC_OK)
		*out = chefs > 0 ? PIN_NEEDED : PIN_NOBODY_HAS_IT;
	return rc;
}

enum rc
people_allow(struct station *sn, enum duty duty, const char *initials,
    const char *pin, const char *by, struct err *err)
{
	struct person p;
	struct moment at;
	enum rc rc;

	if ((rc = person_get(&p, sn->st, initials, err)) != RC_OK)
		return rc;
	if (!p.chef)
		return err_set(err, RC_REFUSED, 0,
		    "%s is not marked as a chef: to %s, ask for a chef's PIN",
		    p.initials, duty_words(duty));
	if ((rc = people_pin_check(sn, initials, pin, err)) != RC_OK)
		return rc;
	if (watch_check(sn, clock_now(&sn->clock), NULL) == RC_REFUSED)
		return RC_OK;
	if ((rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	rc = station_audit(sn, &at, err, "allowed", duty_words(duty),
	    "by the PIN of %s", p.initials);
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}
