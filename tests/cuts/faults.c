/*
 * faults.c - the disk fails: the nth read, write, sync, lock and so on of each
 * step of the day, once or from then on.  The step says so in one line and has
 * recorded nothing, or all of it; after a crash the file says the same; when
 * the disk works again the station goes on.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/str.h"
#include "cuts.h"
#include "disk.h"
#include "folder.h"
#include "look_at.h"
#include "ops/people.h"
#include "store/store.h"

#define TRAIL_EACH 16
#define SAYS_NOTHING "nothing was recorded" /* "more": of what is in parts */
#define SAYS_DONE "recorded, but "
#define SAYS_DOUBT "it is not certain"

enum { RUNS, HIT, REFUSED, DONE, DOUBT, LOST };

int __real_sqlite3_busy_timeout(sqlite3 *db, int ms);
int __wrap_sqlite3_busy_timeout(sqlite3 *db, int ms);

static bool impatient;

/* Two seconds for each lock that fails would be an hour. */
int
__wrap_sqlite3_busy_timeout(sqlite3 *db, int ms)
{
	return __real_sqlite3_busy_timeout(db, impatient ? 5 : ms);
}

/* A step, and what is there before and after it. */
struct before {
	char folder[256];
	struct day_codes c;
	struct state was, is;
	int64_t calls[FAULT_COUNT];
};

struct bench {
	struct before *steps;
	struct amount a;
	struct day d; /* of this process */
	char copy[256];
	struct tally *t;
};

static void
folders(const char *folder)
{
	char below[300];

	str_fmt(below, sizeof(below), "%s/out", folder);
	folder_make(below);
	str_fmt(below, sizeof(below), "%s/stick", folder);
	folder_make(below);
}

static bool
state_of(struct state *out, const char *db)
{
	sqlite3 *look;
	bool ok;

	memset(out, 0, sizeof(*out));
	if (access(db, F_OK) != 0)
		return true;
	ok = look_open(&look, db) && look_state(out, look);
	sqlite3_close(look);
	return ok;
}

/* The state a crash right now would leave. */
static bool
crashed_state(struct state *out, struct bench *b)
{
	char db[320];

	folder_copy(b->d.folder, b->copy);
	str_fmt(db, sizeof(db), "%s/station.db", b->copy);
	return state_of(out, db);
}

/* --- one fault -------------------------------------------------------------*/

static void
set_up(struct bench *b, int step)
{
	struct err err = { 0 };

	folder_copy(b->steps[step].folder, b->d.folder);
	b->d.c = b->steps[step].c;
	if (!day_steps[step].opens && day_open(&b->d, &err) != RC_OK)
		give_up("before %s: %s", day_steps[step].name, err.text);
}

/* What it said against what is there. */
static const char *
true_words(struct bench *b, int step, enum rc rc, const struct err *err,
    const struct state *is)
{
	const struct before *s = &b->steps[step];
	bool nothing = is->hash == s->was.hash, all = is->hash == s->is.hash;

	/* A new file has a name of its own. */
	if (rc == RC_OK)
		return all || ((day_steps[step].parts || step == 0) && !nothing)
		    ? NULL
		    : "it said it was done";
	if (strstr(err->text, SAYS_DONE) != NULL)
		return all ? NULL : "it said it was recorded";
	if (strstr(err->text, SAYS_DOUBT) != NULL)
		return nothing || all || day_steps[step].parts
		    ? NULL
		    : "half of it is there";
	if (strstr(err->text, SAYS_NOTHING) != NULL || !day_steps[step].parts)
		return nothing ? NULL : "something was recorded";
	return NULL;
}

static const char *
goes_on(struct bench *b)
{
	static char said[ERR_TEXT_MAX + 40];
	struct person_in in = { .initials = "ZZ", .name = "Zo", .by = "ZZ" };
	struct err err = { 0 };
	const char *wrong;
	sqlite3 *db;
	enum rc rc = RC_OK;

	if (b->d.sn->st == NULL)
		rc = day_open(&b->d, &err);
	if (rc == RC_OK) {
		day_at(&b->d, "22:00");
		rc = people_add(NULL, b->d.sn, &in, &err);
	}
	day_shut(&b->d);
	str_fmt(said, sizeof(said), "afterwards: %s", err.text);
	if (rc != RC_OK)
		return said;
	if (!look_open(&db, b->d.db))
		return "afterwards it cannot be read";
	wrong = look_sound(db);
	if (wrong == NULL && b->t->n[RUNS] % TRAIL_EACH == 0)
		wrong = look_trail(b->d.db);
	if (wrong == NULL &&
	    look_number(
		db, "SELECT count(*) FROM person WHERE initials = 'ZZ'") != 1)
		wrong = "what was recorded afterwards is gone";
	sqlite3_close(db);
	return wrong;
}

static const char *
judge(struct bench *b, int step, enum rc rc, const struct err *err)
{
	const char *wrong = NULL;
	struct state live, after;

	if (rc != RC_OK && err->text[0] == '\0')
		return "it failed without a word";
	if (rc != RC_OK && rc != RC_FAILED && rc != RC_RETRY && rc != RC_FATAL)
		wrong = "it failed for another reason than the disk";
	if (wrong == NULL && !crashed_state(&after, b))
		wrong = "after a crash it cannot be read";
	if (wrong == NULL)
		wrong = true_words(b, step, rc, err, &after);
	if (wrong == NULL && b->d.sn->st != NULL) {
		if (!state_of(&live, b->d.db))
			wrong = "it cannot be read";
		else
			wrong = true_words(b, step, rc, err, &live);
	}
	return wrong;
}

static void
one(struct bench *b, int step, enum fault f, int64_t n, bool on)
{
	struct err err = { 0 };
	const char *wrong;
	char text[ERR_TEXT_MAX];
	enum rc rc;
	bool hit;

	set_up(b, step);
	disk_fail(f, n, on);
	rc = day_play(&b->d, step, &err);
	hit = disk_hit();
	(void)disk_heal();
	b->t->n[RUNS]++;
	b->t->n[HIT] += hit;
	b->t->n[rc == RC_OK ? DONE : REFUSED]++;
	b->t->n[DOUBT] += strstr(err.text, SAYS_DOUBT) != NULL;
	str_copy(text, sizeof(text), err.text);
	wrong = judge(b, step, rc, &err);
	/* Told to leave: a new start. */
	if (rc == RC_FATAL)
		day_shut(&b->d);
	if (wrong == NULL)
		wrong = day_steps[step].play == day_steps[0].play && rc != RC_OK
		    ? (day_steps[0].play(&b->d, &err), NULL)
		    : goes_on(b);
	day_shut(&b->d);
	if (wrong == NULL)
		return;
	b->t->lost = true;
	if (b->t->n[LOST]++ < 12)
		fprintf(stderr, "cuts: %s, %s %lld%s: %s (%s: %s)\n",
		    day_steps[step].name, fault_word(f), (long long)n,
		    on ? " and on" : "", wrong, rc_word(rc), text);
}

/* --- all of them -----------------------------------------------------------*/

/* Each step once more for each kind of call, to count them. */
static void
count_calls(struct bench *b, int step, int kinds)
{
	struct err err = { 0 };
	int f;

	for (f = 0; f < kinds; f++) {
		set_up(b, step);
		disk_fail((enum fault)f, 0, false);
		if (day_play(&b->d, step, &err) != RC_OK)
			give_up("%s: %s", day_steps[step].name, err.text);
		b->steps[step].calls[f] = disk_heal();
		if (f == 0 && !state_of(&b->steps[step].is, b->d.db))
			give_up("%s: cannot be read", day_steps[step].name);
		day_shut(&b->d);
	}
}

static int64_t
calls_of(const struct bench *b, int step, int f)
{
	if (b->a.only != NULL && !str_eq(b->a.only, fault_word((enum fault)f)))
		return 0;
	return b->steps[step].calls[f];
}

static void
part(void *arg, struct tally *t, unsigned n, unsigned i)
{
	struct bench b = *(struct bench *)arg;
	char folder[256];
	size_t at = 0;
	int64_t k;
	int step, f, on;

	b.t = t;
	impatient = true;
	folder_new(folder, "fault");
	day_here(&b.d, folder);
	folder_new(b.copy, "crash");
	folders(b.copy);
	disk_start(folder);
	/* Labels and backups are recorded with their folder. */
	for (step = 0; step < day_step_count; step++)
		count_calls(&b, step, 1);
	for (step = 0; step < day_step_count; step++)
		for (f = 0; f < FAULT_COUNT; f++)
			for (k = 1; k <= calls_of(&b, step, f); k++)
				for (on = 0; on < 2; on++) {
					t->at = step;
					t->how = f * 100000 + k;
					if (at++ % (n * b.a.each) ==
					    i * b.a.each)
						one(&b, step, (enum fault)f, k,
						    on == 1);
				}
	day_drop(&b.d);
	folder_drop(b.copy);
}

static void
prepare(struct bench *b)
{
	char folder[256], db[320];
	struct err err = { 0 };
	struct before *s;
	struct day d;
	int i;

	day_make(&d);
	b->steps = xcalloc((size_t)day_step_count, sizeof(*b->steps));
	for (i = 0; i < day_step_count; i++) {
		s = &b->steps[i];
		day_shut(&d);
		folder_new(s->folder, "before");
		folders(s->folder);
		folder_copy(d.folder, s->folder);
		s->c = d.c;
		str_fmt(db, sizeof(db), "%s/station.db", s->folder);
		if (!state_of(&s->was, db))
			give_up("%s cannot be read", db);
		if (!day_steps[i].opens && day_open(&d, &err) != RC_OK)
			give_up("%s", err.text);
		if (day_play(&d, i, &err) != RC_OK)
			give_up("%s: %s", day_steps[i].name, err.text);
	}
	day_drop(&d);
	folder_new(folder, "fault");
	day_here(&b->d, folder);
	disk_start(folder);
	for (i = 0; i < day_step_count; i++)
		count_calls(b, i, FAULT_COUNT);
	day_drop(&b->d);
}

bool
faults_run(const struct amount *a)
{
	struct bench b = { .a = *a };
	struct tally sum;
	bool ok;
	int i;

	log_small();
	prepare(&b);
	ok = share_out(&sum, a->workers, part, &b);
	printf(
	    "faults: %lld tried, %lld of them hit; %lld steps said it "
	    "failed, %lld of these that nobody can know, %lld went through; "
	    "%lld told wrong\n",
	    (long long)sum.n[RUNS], (long long)sum.n[HIT],
	    (long long)sum.n[REFUSED], (long long)sum.n[DOUBT],
	    (long long)sum.n[DONE], (long long)sum.n[LOST]);
	for (i = 0; i < day_step_count; i++)
		folder_drop(b.steps[i].folder);
	free(b.steps);
	return ok && sum.n[HIT] > 0;
}
