/*
 * cuts.c - the power fails at every change of the disk, in several ways each;
 * the file is opened as at the next start, and must have every record that was
 * acknowledged, nothing by halves, and go on.
 */
#include "cuts.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "folder.h"
#include "ops/people.h"
#include "ops/queue.h"
#include "store/store.h"
#include "story.h"
#include "upgrade.h"

enum { POINTS, IMAGES, SAME, RECORDS, WENT_ON, LOST, FACTS };

/* Following the trail takes ten times as long as all the rest. */
#define TRAIL_EACH 16

/* Images that were looked at already, with the states they may show. */
struct seen {
	uint64_t *keys;
	size_t size, count;
};

static bool
seen_before(struct seen *s, uint64_t key)
{
	uint64_t *old = s->keys;
	size_t i, was = s->size;

	if (s->count * 2 >= s->size) {
		s->size = was == 0 ? 1 << 12 : was * 2;
		s->keys = xcalloc(s->size, sizeof(*s->keys));
		s->count = 0;
		for (i = 0; i < was; i++)
			if (old[i] != 0)
				(void)seen_before(s, old[i]);
		free(old);
	}
	key |= 1;
	for (i = key % s->size; s->keys[i] != 0; i = (i + 1) % s->size)
		if (s->keys[i] == key)
			return true;
	s->keys[i] = key;
	s->count++;
	return false;
}

struct work {
	const struct story *s;
	struct amount a;
	struct tally *t;
	struct day after; /* the station after the cut */
	struct seen seen;
	/* An upgrade: what comes after it is not one of the states. */
	bool upgrade;
};

static const char *
which_state(size_t *found, const struct work *w, const struct state *is,
    size_t lo, size_t hi)
{
	size_t i;

	for (i = lo; i <= hi; i++)
		if (w->s->states[i].is.hash == is->hash) {
			*found = i;
			return NULL;
		}
	for (i = 0; i < lo; i++)
		if (w->s->states[i].is.hash == is->hash)
			return "a record that was acknowledged is gone";
	return "a half record";
}

static const char *
goes_on(struct work *w, sqlite3 *db)
{
	static char said[ERR_TEXT_MAX + 40];
	struct person_in in = { .initials = "ZZ", .name = "Zo", .by = "ZZ" };
	struct err err = { 0 };
	int64_t codes = look_number(db,
	    "SELECT (SELECT count(*) FROM batch) + (SELECT count(*) FROM"
	    " portion)");
	bool full = look_number(db, "SELECT count(*) FROM dish") == 8;
	enum rc rc;

	if ((rc = queue_start(w->after.sn, &err)) != RC_OK)
		goto done;
	if (look_number(db,
		"SELECT count(*) FROM print_job WHERE state = 'sending'") != 0)
		return "a label in mid-air is not asked for";
	day_at(&w->after, "22:00");
	rc = full ? day_more(&w->after, &err)
		  : people_add(NULL, w->after.sn, &in, &err);
	/* UNIQUE holds the codes; so many more there must be. */
	if (rc == RC_OK && full &&
	    look_number(db,
		"SELECT (SELECT count(*) FROM batch) +"
		" (SELECT count(*) FROM portion)") != codes + 4)
		return "what was recorded afterwards is not there";
	w->t->n[WENT_ON]++;
done:
	str_fmt(said, sizeof(said), "it does not go on: %s", err.text);
	return rc == RC_OK ? look_sound(db) : said;
}

static const char *
opened(struct work *w, const struct left *l, size_t lo, size_t hi, bool program)
{
	static char said[ERR_TEXT_MAX];
	const struct left_file *labels =
	    left_find(l, w->s->day.folder, "out/labels.zpl");
	const char *wrong = NULL;
	struct err err = { 0 };
	struct state is;
	sqlite3 *db = NULL;
	size_t found = 0;

	/* Who opens it first recovers it: the program, or SQLite alone. */
	if (program && store_open(&w->after.sn->st, w->after.db, &err) != RC_OK)
		wrong = str_fmt(said, sizeof(said), "%s", err.text)
		    ? said
		    : "cannot be opened";
	if (wrong == NULL &&
	    (!look_open(&db, w->after.db) || !look_state(&is, db)))
		wrong = "it cannot be read";
	if (wrong == NULL && !(program && w->upgrade)) {
		wrong = which_state(&found, w, &is, lo, hi);
		w->t->n[RECORDS] += w->s->states[found].is.rows;
	}
	if (wrong == NULL && w->upgrade && !program)
		wrong = upgrade_copy_wrong(w->s, l, w->after.folder, &is);
	if (wrong == NULL && !program &&
	    store_open(&w->after.sn->st, w->after.db, &err) != RC_OK)
		wrong = str_fmt(said, sizeof(said), "%s", err.text)
		    ? said
		    : "cannot be opened";
	if (wrong == NULL && w->upgrade)
		wrong = look_facts(&w->t->n[FACTS], db, &w->s->day, 0);
	if (wrong == NULL)
		wrong = look_sound(db);
	if (wrong == NULL && labels != NULL)
		wrong =
		    look_labels(db, (const char *)labels->bytes, labels->size);
	if (wrong == NULL)
		wrong = goes_on(w, db);
	if (wrong == NULL && w->t->n[IMAGES] % TRAIL_EACH == 0)
		wrong = look_trail(w->after.db);
	sqlite3_close(db);
	day_shut(&w->after);
	return wrong;
}

/* Before the file has its name `init` works as if nothing had been there. */
static const char *
made_again(struct work *w)
{
	struct err err = { 0 };
	static char said[ERR_TEXT_MAX];

	if (day_steps[0].play(&w->after, &err) == RC_OK)
		return NULL;
	str_copy(said, sizeof(said), err.text);
	return said;
}

static void
look(struct work *w, const struct left *l, size_t done, enum cut_how how)
{
	const struct story *s = w->s;
	const char *wrong;
	size_t lo, hi;

	story_bounds(&lo, &hi, s, done);
	if (seen_before(
		&w->seen, hash_bytes(l->hash, (size_t[]){ lo, hi }, 16))) {
		w->t->n[SAME]++;
		return;
	}
	w->t->n[IMAGES]++;
	left_write(l, s->day.folder, w->after.folder);
	wrong = w->upgrade ? NULL : story_plain_wrong(s, l, done);
	if (wrong == NULL && left_find(l, s->day.folder, "station.db") != NULL)
		wrong = opened(w, l, lo, hi, w->t->n[IMAGES] % 2 == 0);
	else if (wrong == NULL)
		wrong =
		    s->states[lo].no_file ? made_again(w) : "the file is gone";
	if (wrong == NULL)
		return;
	w->t->n[LOST]++;
	w->t->lost = true;
	if (w->t->n[LOST] < 8)
		fprintf(stderr,
		    "cuts: cut after change %zu of %zu (%s, %s): %s\n", done,
		    s->j.count,
		    w->upgrade ? "upgrade"
			: story_step(s, done) + 1 < s->steps
			? day_steps[story_step(s, done) + 1].name
			: "the end",
		    how_word(how), wrong);
}

static void
cut_here(struct work *w, struct medium *m, size_t done)
{
	enum cut_how how;
	struct left l;

	w->t->n[POINTS]++;
	for (how = CUT_SYNCED; how < CUT_HOW_COUNT; how++) {
		w->t->at = (int64_t)done;
		w->t->how = how;
		if (!medium_cut(&l, m, how, done * 31 + how))
			continue;
		look(w, &l, done, how);
		left_fini(&l);
	}
}

static void
cut_part(void *arg, struct tally *t, unsigned n, unsigned i)
{
	struct work w = *(struct work *)arg;
	struct medium m;
	char folder[256];
	size_t k, kind = 0;

	w.t = t;
	folder_new(folder, "after");
	day_here(&w.after, folder);
	medium_start(&m, &w.s->j);
	for (k = w.s->base + 1; k <= w.s->j.count; k++) {
		medium_go(&m, k);
		/* Nothing happens to the disk at a mark. */
		if (w.s->j.items[k - 1].kind == CHANGE_MARK)
			continue;
		if (kind++ % ((size_t)n * w.a.each) == i * (size_t)w.a.each)
			cut_here(&w, &m, k);
	}
	medium_fini(&m);
	free(w.seen.keys);
	day_drop(&w.after);
}

static bool
run(struct story *s, const struct amount *a, bool upgrade, const char *what)
{
	struct work w = { .s = s, .a = *a, .upgrade = upgrade };
	struct tally sum;
	bool ok = share_out(&sum, a->workers, cut_part, &w);

	printf(
	    "%s: %lld cut points of %zu changes, %lld images (%lld more the "
	    "same as one before), %lld records looked up, %lld went on, "
	    "%lld lost\n",
	    what, (long long)sum.n[POINTS], s->j.count,
	    (long long)sum.n[IMAGES], (long long)sum.n[SAME],
	    (long long)sum.n[RECORDS], (long long)sum.n[WENT_ON],
	    (long long)sum.n[LOST]);
	return ok && sum.n[LOST] == 0 && sum.n[IMAGES] > 0;
}

static int64_t
count_kind(const struct story *s, enum change_kind kind, const char *name)
{
	int64_t n = 0;
	size_t i;
	int file = -1;

	for (i = 0; i < s->j.count; i++) {
		if (s->j.items[i].kind == CHANGE_CREATE &&
		    strstr(s->j.items[i].name, name) != NULL)
			file = s->j.items[i].file;
		n += s->j.items[i].kind == kind && s->j.items[i].file == file;
	}
	return n;
}

bool
cuts_run(const struct amount *a)
{
	struct story s;
	bool ok;

	log_small();
	ok = story_day(&s);
	printf(
	    "the day: %d steps, %zu changes of the disk, %zu states of the "
	    "file, %lld words of its steps held; %lld syncs of the log\n",
	    s.steps, s.j.count, s.state_count, (long long)s.facts,
	    (long long)count_kind(&s, CHANGE_SYNC, "station.db-wal"));
	ok = ok && run(&s, a, false, "cuts");
	story_fini(&s);
	return ok;
}

bool
cuts_upgrade(const struct amount *a)
{
	struct story s;
	bool ok;

	log_small();
	ok = upgrade_story(&s) && run(&s, a, true, "cuts of an upgrade");
	story_fini(&s);
	return ok;
}
