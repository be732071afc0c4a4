/* restore.c - a backup takes the place of the station file. */
#include "ops/restore.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "ops/home.h"
#include "ops/watch.h"
#include "store/batches.h"
#include "store/floors.h"
#include "store/holds.h"
#include "store/portions.h"
#include "store/store.h"

/*
 * Numbers that nobody can read any more: docs/decisions/0013-restore.md.  A
 * large kitchen labels some 700 units and takes in some 16 batches a day; a day
 * has 71 to 85 batch numbers.
 */
#define GAP_UNITS_A_DAY 2000
#define GAP_DAYS_MOST 366
#define GAP_BATCHES 10
#define FLOOR_BATCHES 60
#define FLOOR_BATCHES_MOST 90

static bool
step(const struct restore_wish *w, int at)
{
	return w->step == NULL || w->step(w->step_arg, at);
}

struct stepping {
	const struct restore_wish *w;
};

static bool
swap_step(void *arg, enum swap_step at)
{
	const struct stepping *s = arg;

	return step(s->w, RESTORE_SWAP + (int)at);
}

static bool
still_wanted(void *arg)
{
	const struct restore_wish *w = arg;

	return w->tell == NULL || w->tell(w->arg, COPY_CHECKING, 0, 0);
}

/* --- the copy that is to come ----------------------------------------------*/

/* Of a restore that was cut before it was decided. */
static void
drop_coming(const char *coming)
{
	static const char *const tails[] = { "", "-wal", "-shm", "-journal" };
	char path[SWAP_PATH_SIZE + 16];
	size_t i;

	for (i = 0; i < sizeof(tails) / sizeof(tails[0]); i++)
		if (str_fmt(path, sizeof(path), "%s%s", coming, tails[i]))
			unlink(path);
}

static enum rc
copy_in(const struct restore_wish *w, const struct file_head *seen,
    const char *coming, struct err *err)
{
	struct file_head head;
	int64_t bytes;
	enum rc rc;
	int fd;

	drop_coming(coming);
	fd = open(
	    coming, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, FILE_OWN_MODE);
	if (fd < 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", coming, strerror(errno));
	close(fd);
	rc = store_copy(&head, &bytes, w->from, coming, w->tell, w->arg, err);
	if (rc != RC_OK)
		return rc;
	if (!file_head_same(&head, seen) || head.schema != seen->schema ||
	    head.last_row != seen->last_row || head.last_utc != seen->last_utc)
		return err_set(err, RC_REFUSED, 0,
		    "%s: not the one that was looked at any more: is another "
		    "stick in?",
		    w->from);
	return RC_OK;
}

/* What is made under that name is removed first. */
static enum rc
not_coming(const char *from, const char *coming, struct err *err)
{
	if (!file_same(from, coming))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s: a restore makes a file of the name %s itself: give it another "
	    "one first",
	    from, coming);
}

/* --- numbers go on ---------------------------------------------------------*/

/* Days from the backup's last row to now; at least one. */
static int64_t
days_since(const struct restore_look *l, const struct moment *at)
{
	int64_t days = (at->utc - l->head.last_utc) / 86400 + 1;

	if (days < 1)
		return 1;
	return days < GAP_DAYS_MOST ? days : GAP_DAYS_MOST;
}

static enum rc
keep_serials(struct restore_done *d, struct station *sn,
    const struct moment *at, struct err *err)
{
	const struct restore_look *l = &d->look;
	bool sure = l->known && !l->lost.cut;
	int64_t highest = 0, last = l->lost.serial;
	enum rc rc;

	if ((rc = portion_last_serial(&highest, sn->st, err)) != RC_OK)
		return rc;
	if (last < highest)
		last = highest;
	if (!sure)
		last += GAP_UNITS_A_DAY * days_since(l, at);
	d->serial = last;
	if (last <= highest)
		return RC_OK;
	return code_floor_add(sn->st, DAY_NONE, last,
	    sure ? "given out in the file that was set aside"
		 : "may have been given out in the file that was set aside",
	    at, err);
}

static enum rc
keep_day(struct station *sn, day_no day, int64_t number, const char *why,
    const struct moment *at, struct err *err)
{
	int64_t have;
	enum rc rc = code_floor(&have, sn->st, day, err);

	if (rc != RC_OK || number <= have)
		return rc;
	return code_floor_add(sn->st, day, number, why, at, err);
}

/* A file nobody can read to its end: today's numbers are the ones that are
 * still given out. */
static enum rc
keep_today(const struct restore_look *l, struct station *sn,
    const struct moment *at, struct err *err)
{
	day_no today = local_from_utc(at->utc).day;
	int64_t n = l->there ? salvage_bytes(l->file, today) : 0;

	n += GAP_BATCHES;
	if (n < FLOOR_BATCHES)
		n = FLOOR_BATCHES;
	if (n > FLOOR_BATCHES_MOST)
		n = FLOOR_BATCHES_MOST;
	return keep_day(sn, today, n,
	    "may have been given out in the file that was set aside", at, err);
}

static enum rc
keep_numbers(struct restore_done *d, struct station *sn,
    const struct moment *at, struct err *err)
{
	const struct restore_look *l = &d->look;
	size_t i;
	enum rc rc = keep_serials(d, sn, at, err);

	for (i = 0; rc == RC_OK && i < l->lost.number_count; i++)
		rc = keep_day(sn, l->lost.numbers[i].day,
		    l->lost.numbers[i].number,
		    "given out in the file that was set aside", at, err);
	if (rc == RC_OK && (!l->known || l->lost.cut))
		rc = keep_today(l, sn, at, err);
	return rc;
}

/* --- holds stay ------------------------------------------------------------*/

static enum rc
hold_again(struct restore_done *d, struct station *sn,
    const struct salvage_hold *h, const struct moment *at, struct err *err)
{
	struct subject s = { 0 };
	struct portion p;
	struct batch b;
	char reason[200], code[CODE_SIZE];
	enum rc rc = RC_NOTFOUND;

	if (h->is_batch && h->code[0] != '\0' &&
	    (rc = batch_get(&b, sn->st, h->code, NULL)) == RC_OK)
		s.batch_id = b.id;
	else if (!h->is_batch && h->code[0] != '\0' &&
	    (rc = portion_get(&p, sn->st, h->code, NULL)) == RC_OK)
		s.portion_id = p.id;
	if (rc != RC_OK) {
		d->held_gone++;
		return RC_OK;
	}
	str_fmt(reason, sizeof(reason), "%.150s (held by %s before a restore)",
	    h->reason, h->by);
	utf8_clean(reason);
	if ((rc = hold_open(sn->st, &s, reason, at, err)) != RC_OK)
		return rc;
	d->held_again++;
	return station_audit(
	    sn, at, err, "hold", code_show(code, h->code), "%s", reason);
}

/* --- what the copy is told -------------------------------------------------*/

static const char *
base_name(const char *path)
{
	const char *slash = strrchr(path, '/');

	return slash == NULL ? path : slash + 1;
}

static enum rc
tell_trail(const struct restore_done *d, struct station *sn,
    const struct moment *at, const char *branch, struct err *err)
{
	const struct restore_look *l = &d->look;
	char lost[160], until[48];

	if (l->known)
		str_fmt(lost, sizeof(lost),
		    "%s%" PRId64 " records, %zu batches, %zu units, %" PRId64
		    " labels",
		    l->lost.cut ? "at least " : "", l->lost.rows,
		    l->lost.batch_count, l->lost.unit_count, l->lost.labels);
	else
		str_copy(lost, sizeof(lost), "everything since");
	return station_audit(sn, at, err, "restore", base_name(l->from),
	    "up to row %" PRId64
	    " of %s; lost: %s; the file before: %.120s; "
	    "branch %s",
	    l->head.last_row,
	    time_minute(until, sizeof(until), l->head.last_utc), lost,
	    d->aside[0] == '\0' ? "none" : base_name(d->aside), branch);
}

/* The last row before it may lie behind the clock only in the file before. */
static void
doubt_file_before(
    struct restore_done *d, const struct station *sn, const struct moment *at)
{
	char when[48];

	if (d->doubt[0] == '\0' && !sn->clock.fixed &&
	    d->look.file_last_utc > at->utc)
		str_fmt(d->doubt, sizeof(d->doubt),
		    "before the last record of %s in the file set aside",
		    time_minute(when, sizeof(when), d->look.file_last_utc));
}

static enum rc
change_copy(struct restore_done *d, struct station *sn, const struct moment *at,
    struct err *err)
{
	const struct lost *l = &d->look.lost;
	char branch[HOME_BRANCH_SIZE];
	size_t i;
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = home_set(branch, sn, err)) == RC_OK &&
	    (rc = watch_keep(sn, d->doubt, err)) == RC_OK &&
	    (rc = keep_numbers(d, sn, at, err)) == RC_OK &&
	    (rc = jobs_doubt(&d->unsure, sn->st, at->utc, err)) == RC_OK)
		rc = tell_trail(d, sn, at, branch, err);
	for (i = 0; rc == RC_OK && i < l->hold_count; i++)
		rc = hold_again(d, sn, &l->holds[i], at, err);
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* Upgraded if it is older, told what happened, of one piece on the medium. */
static enum rc
prepare(struct restore_done *d, struct station *sn,
    const struct restore_wish *w, const char *coming, struct err *err)
{
	struct moment at;
	enum rc rc, shut;

	if ((rc = store_open_copy(&sn->st, coming, err)) != RC_OK)
		return rc;
	rc = watch_moment(&at, d->doubt, sn, w->by, err);
	if (rc == RC_OK) {
		doubt_file_before(d, sn, &at);
		rc = change_copy(d, sn, &at, err);
	}
	shut = store_close_copy(sn->st, err);
	sn->st = NULL;
	return rc != RC_OK ? rc : shut;
}

/* --- all of it -------------------------------------------------------------*/

static enum rc
name_aside(char aside[SWAP_PATH_SIZE], const struct station *sn,
    const char *file, struct err *err)
{
	char date[16];
	day_no today = local_from_utc(clock_now(&sn->clock)).day;

	return swap_aside(
	    aside, file, day_print(date, sizeof(date), today), err);
}

/* With the file for ourselves. */
static enum rc
replace(struct restore_done *d, struct station *sn,
    const struct restore_wish *w, struct err *err)
{
	struct stepping s = { w };
	char coming[SWAP_PATH_SIZE], aside[SWAP_PATH_SIZE];
	enum rc rc;

	if ((rc = restore_look(&d->look, sn, w->file, w->from, still_wanted,
		 (void *)(uintptr_t)w, err)) != RC_OK ||
	    (rc = name_aside(aside, sn, w->file, err)) != RC_OK ||
	    (rc = swap_coming(coming, w->file, err)) != RC_OK ||
	    (rc = not_coming(w->from, coming, err)) != RC_OK ||
	    (rc = not_coming(w->file, coming, err)) != RC_OK)
		return rc;
	if (d->look.there)
		str_copy(d->aside, sizeof(d->aside), aside);
	if (!step(w, RESTORE_COPY) ||
	    (rc = copy_in(w, &d->look.head, coming, err)) != RC_OK ||
	    !step(w, RESTORE_PREPARE) ||
	    (rc = prepare(d, sn, w, coming, err)) != RC_OK) {
		drop_coming(coming);
		return rc != RC_OK
		    ? rc
		    : err_set(err, RC_REFUSED, 0, "%s: stopped", w->file);
	}
	return swap_files(w->file, aside, true, swap_step, &s, err);
}

enum rc
restore_run(struct restore_done *out, struct station *sn,
    const struct restore_wish *wish, struct err *err)
{
	char aside[SWAP_PATH_SIZE];
	bool finished;
	int lock = -1;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = text_check("--by (initials)", wish->by, 15, false, err);
	if (rc != RC_OK ||
	    (rc = swap_finish(&finished, aside, wish->file, err)) != RC_OK ||
	    (rc = open_lock(&lock, wish->file, true, err)) != RC_OK)
		return rc;
	rc = replace(out, sn, wish, err);
	open_unlock(&lock);
	/* RC_FATAL would speak of the file in place. */
	return rc == RC_FATAL ? RC_FAILED : rc;
}

void
restore_done_fini(struct restore_done *d)
{
	restore_look_fini(&d->look);
}

enum rc
restore_set_aside(char aside[SWAP_PATH_SIZE], const struct station *sn,
    const char *file, struct err *err)
{
	bool finished;
	int lock = -1;
	enum rc rc;

	if ((rc = swap_finish(&finished, aside, file, err)) != RC_OK)
		return rc;
	if (!file_exists(file))
		return err_set(err, RC_NOTFOUND, ENOENT,
		    "%s: there is no file to set aside", file);
	if ((rc = open_lock(&lock, file, true, err)) != RC_OK ||
	    (rc = name_aside(aside, sn, file, err)) != RC_OK)
		goto done;
	rc = swap_files(file, aside, false, NULL, NULL, err);
done:
	open_unlock(&lock);
	return rc;
}

enum rc
restore_newest(char path[SWAP_PATH_SIZE], int *skipped, struct station *sn,
    const char *file, const char *folder, struct err *err)
{
	struct backup_list l;
	struct whole whole;
	size_t i;
	enum rc rc = backup_list_for(&l, sn, file, folder, err);

	*skipped = 0;
	for (i = 0; rc == RC_OK && i < l.count; i++) {
		str_fmt(path, SWAP_PATH_SIZE, "%s/%s", folder, l.items[i].name);
		if (whole_full(&whole, path, NULL, NULL, NULL) == RC_OK &&
		    whole.good)
			break;
		(*skipped)++;
	}
	if (rc == RC_OK && i == l.count)
		rc = err_set(err, RC_NOTFOUND, 0,
		    "%s: no whole backup of this station is there", folder);
	backup_list_fini(&l);
	return rc;
}

void
restore_done_words(struct buf *out, const struct restore_done *d)
{
	if (d->aside[0] != '\0')
		buf_printf(out, "the file before is whole, as %s\n", d->aside);
	if (d->held_again > 0)
		buf_printf(out, "%d on hold again\n", d->held_again);
	if (d->held_gone > 0)
		buf_printf(out,
		    "%d WERE ON HOLD and are not in the backup: collect them "
		    "by their labels, now\n",
		    d->held_gone);
	if (d->unsure > 0)
		buf_printf(out,
		    "%" PRId64
		    " label%s may have come out since: pinbone "
		    "printer queue asks\n",
		    d->unsure, d->unsure == 1 ? "" : "s");
	if (d->doubt[0] != '\0')
		buf_printf(out,
		    "the clock is in doubt (%s): pinbone clock says what to "
		    "do\n",
		    d->doubt);
	buf_puts(out, "restored\n");
}
