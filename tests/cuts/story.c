/* story.c - a recorded day and its states. */
#include "story.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "folder.h"

#define WAL_FRAME_HEAD 24

/* --- plain files -----------------------------------------------------------*/

bool
story_plain_name(const char *name)
{
	return (strncmp(name, "out/", 4) == 0 ||
		   strncmp(name, "stick/", 6) == 0) &&
	    !str_eq(name, "out/labels.zpl") && strstr(name, ".new-") == NULL &&
	    strstr(name, ".part") == NULL && strstr(name, "-journal") == NULL;
}

static void
keep_plain(void *arg, const char *whole, const char *name)
{
	struct story *s = arg;
	struct plain *p;
	struct buf b;

	if (!story_plain_name(name))
		return;
	buf_init(&b, FILE_READ_MAX);
	if (file_read(&b, whole, NULL) != RC_OK)
		give_up("%s: cannot be read", whole);
	s->plains =
	    grow(s->plains, &s->plain_cap, s->plain_count, sizeof(*s->plains));
	p = &s->plains[s->plain_count++];
	memset(p, 0, sizeof(*p));
	p->step = s->day.step;
	str_copy(p->name, sizeof(p->name), name);
	p->hash = hash_bytes(0, b.data, b.len);
	buf_fini(&b);
}

static const struct plain *
plain_of(const struct story *s, int step, const char *name)
{
	size_t i;

	for (i = 0; i < s->plain_count; i++)
		if (s->plains[i].step == step &&
		    str_eq(s->plains[i].name, name))
			return &s->plains[i];
	return NULL;
}

/* Removing an old backup is not waited for: it may be there again, whole. */
static bool
was_ever(const struct story *s, int acked, const char *name, uint64_t hash)
{
	size_t i;

	for (i = 0; i < s->plain_count; i++)
		if (s->plains[i].step <= acked && s->plains[i].hash == hash &&
		    str_eq(s->plains[i].name, name))
			return true;
	return false;
}

static const char *
plain_missing(const struct story *s, const struct left *l, int acked, int doing)
{
	const struct plain *p, *next;
	const struct left_file *f;
	static char said[200];
	size_t i;

	for (i = 0; i < s->plain_count; i++) {
		p = &s->plains[i];
		if (p->step != acked)
			continue;
		next = doing < 0 ? p : plain_of(s, doing, p->name);
		f = left_find(l, s->day.folder, p->name);
		str_fmt(
		    said, sizeof(said), "%s is not whole, or gone", p->name);
		/* What is being dropped may be gone. */
		if (f == NULL && next != NULL)
			return said;
	}
	return NULL;
}

const char *
story_plain_wrong(const struct story *s, const struct left *l, size_t done)
{
	int acked = story_step(s, done), doing = -1;
	const struct plain *was, *is;
	const char *name;
	static char said[200];
	uint64_t hash;
	size_t i;

	if (acked + 1 < s->steps && s->began[acked + 1] < done)
		doing = acked + 1;
	for (i = 0; i < l->count; i++) {
		name = l->items[i].path + strlen(s->day.folder) + 1;
		if (!story_plain_name(name))
			continue;
		hash = hash_bytes(0, l->items[i].bytes, l->items[i].size);
		was = plain_of(s, acked, name);
		is = doing < 0 ? NULL : plain_of(s, doing, name);
		str_fmt(said, sizeof(said), "%s is neither old nor new", name);
		if (was == NULL ? was_ever(s, acked, name, hash)
				: was->hash == hash)
			continue;
		if (is == NULL || is->hash != hash)
			return said;
	}
	return plain_missing(s, l, acked, doing);
}

/* --- recording -------------------------------------------------------------*/

void
story_begin(struct story *s)
{
	s->began = xcalloc((size_t)s->steps, sizeof(*s->began));
	s->acked = xcalloc((size_t)s->steps, sizeof(*s->acked));
}

void
story_ack(struct story *s, int step)
{
	disk_mark(step);
	s->acked[step] = s->j.count;
	disk_pause(true);
	s->day.step = step;
	folder_each(s->day.folder, keep_plain, s);
	disk_pause(false);
}

/* --- states ----------------------------------------------------------------*/

/* What is seen while the program has the file open is what a cut would leave
 * if everything written were there. */
static bool
same_live(const struct story *s, const struct state *live, int step)
{
	size_t lo, hi;

	story_bounds(&lo, &hi, s, s->acked[step]);
	if (live->hash == 0 || live->hash == s->states[hi].is.hash)
		return true;
	fprintf(stderr, "cuts: after %s the file is not as it is open\n",
	    day_steps[step].name);
	return false;
}

static void
add_state(struct story *s, size_t from, const struct known *k)
{
	s->states =
	    grow(s->states, &s->state_cap, s->state_count, sizeof(*s->states));
	s->states[s->state_count] = *k;
	s->states[s->state_count].from = from;
	s->states[s->state_count++].durable = SIZE_MAX;
}

static bool
look_at_image(
    struct known *k, struct story *s, struct medium *m, const char *folder)
{
	struct left l;
	char path[320];
	sqlite3 *db;
	bool ok;

	memset(k, 0, sizeof(*k));
	medium_cut(&l, m, CUT_WRITTEN, 1);
	k->no_file = left_find(&l, s->day.folder, "station.db") == NULL;
	left_write(&l, s->day.folder, folder);
	left_fini(&l);
	if (k->no_file)
		return true;
	str_fmt(path, sizeof(path), "%s/station.db", folder);
	ok = look_open(&db, path) && look_state(&k->is, db);
	sqlite3_close(db);
	return ok;
}

/* Bytes of a page behind the head of a frame that ends a transaction. */
struct commits {
	int log; /* file */
	size_t left;
};

static bool
ends_commit(
    struct commits *c, const struct story *s, const struct disk_change *ch)
{
	static const char log[] = "/station.db-wal";
	size_t len = ch->name == NULL ? 0 : strlen(ch->name);
	const unsigned char *b = ch->bytes;

	if (ch->kind == CHANGE_CREATE && len > sizeof(log) &&
	    str_eq(ch->name + len - (sizeof(log) - 1), log))
		c->log = ch->file;
	/* The whole file takes its name. */
	if (ch->kind == CHANGE_RENAME && str_eq(ch->other, s->day.db))
		return true;
	if (ch->kind != CHANGE_WRITE || ch->file != c->log)
		return false;
	if (ch->len == WAL_FRAME_HEAD && c->left == 0) {
		/* Big-endian: pages of the file after it, 0 in mid of one. */
		if ((b[4] | b[5] | b[6] | b[7]) != 0)
			c->left = 4096;
		return false;
	}
	if (c->left == 0)
		return false;
	c->left -= ch->len < c->left ? ch->len : c->left;
	return c->left == 0;
}

static void
now_durable(struct story *s, size_t done, const struct disk_change *c, int log)
{
	size_t i;

	if (c->kind != CHANGE_SYNC || c->file != log)
		return;
	for (i = s->state_count; i > 0; i--) {
		if (s->states[i - 1].durable != SIZE_MAX)
			return;
		s->states[i - 1].durable = done;
	}
}

bool
story_end(struct story *s)
{
	struct commits c = { 0 };
	struct medium m;
	struct known k;
	char folder[256], below[300];
	size_t i;
	bool ok = true;

	disk_record(NULL);
	folder_new(folder, "states");
	str_fmt(below, sizeof(below), "%s/out", folder);
	folder_make(below);
	str_fmt(below, sizeof(below), "%s/stick", folder);
	folder_make(below);
	medium_start(&m, &s->j);
	for (i = 0; i < s->j.count && ok; i++) {
		if (i == s->base) {
			medium_go(&m, i);
			ok = look_at_image(&k, s, &m, folder);
			add_state(s, 0, &k);
		}
		if (i >= s->base && ends_commit(&c, s, &s->j.items[i])) {
			medium_go(&m, i + 1);
			ok = look_at_image(&k, s, &m, folder);
			if (k.is.hash != s->states[s->state_count - 1].is.hash)
				add_state(s, i + 1, &k);
		}
		now_durable(s, i + 1, &s->j.items[i], c.log);
	}
	medium_fini(&m);
	folder_drop(folder);
	if (!ok)
		fprintf(stderr, "cuts: a state cannot be read\n");
	return ok;
}

/* Each step's words against the state it left. */
static bool
check_facts(struct story *s)
{
	struct medium m;
	struct left l;
	const char *wrong = NULL;
	char folder[256], path[320], below[300];
	sqlite3 *db;
	int step;

	folder_new(folder, "facts");
	str_fmt(below, sizeof(below), "%s/out", folder);
	folder_make(below);
	str_fmt(below, sizeof(below), "%s/stick", folder);
	folder_make(below);
	str_fmt(path, sizeof(path), "%s/station.db", folder);
	medium_start(&m, &s->j);
	for (step = 0; step < s->steps && wrong == NULL; step++) {
		medium_go(&m, s->acked[step]);
		medium_cut(&l, &m, CUT_SYNCED, 1);
		left_write(&l, s->day.folder, folder);
		left_fini(&l);
		wrong = "cannot be opened";
		if (look_open(&db, path)) {
			wrong = look_facts(&s->facts, db, &s->day, step);
			if (wrong == NULL)
				wrong = look_sound(db);
		}
		if (wrong != NULL)
			fprintf(stderr, "cuts: after %s: %s\n",
			    day_steps[step].name, wrong);
		sqlite3_close(db);
	}
	medium_fini(&m);
	folder_drop(folder);
	return wrong == NULL;
}

bool
story_day(struct story *s)
{
	struct state *live;
	struct err err = { 0 };
	sqlite3 *db;
	bool ok;
	int i;

	memset(s, 0, sizeof(*s));
	s->steps = day_step_count;
	live = xcalloc((size_t)s->steps, sizeof(*live));
	day_make(&s->day);
	disk_start(s->day.folder);
	story_begin(s);
	disk_record(&s->j);
	disk_mark(-1);
	s->base = s->j.count;
	for (i = 0; i < s->steps; i++) {
		s->began[i] = s->j.count;
		if (day_play(&s->day, i, &err) != RC_OK)
			give_up("%s: %s", day_steps[i].name, err.text);
		story_ack(s, i);
		if (s->day.sn->st == NULL)
			continue;
		disk_pause(true);
		if (!look_open(&db, s->day.db) || !look_state(&live[i], db))
			give_up("%s: cannot be read", s->day.db);
		sqlite3_close(db);
		disk_pause(false);
	}
	ok = story_end(s);
	for (i = 0; i < s->steps && ok; i++)
		ok = same_live(s, &live[i], i);
	free(live);
	return ok && check_facts(s);
}

void
story_fini(struct story *s)
{
	day_drop(&s->day);
	journal_fini(&s->j);
	free(s->began);
	free(s->acked);
	free(s->states);
	free(s->plains);
	memset(s, 0, sizeof(*s));
}

int
story_step(const struct story *s, size_t done)
{
	int i;

	for (i = s->steps; i > 0; i--)
		if (s->acked[i - 1] != 0 && s->acked[i - 1] <= done)
			return i - 1;
	return -1;
}

void
story_bounds(size_t *lo, size_t *hi, const struct story *s, size_t done)
{
	int step = story_step(s, done);
	size_t acked = step < 0 ? 0 : s->acked[step], i;

	*lo = *hi = 0;
	for (i = 0; i < s->state_count; i++) {
		if (s->states[i].from <= acked || s->states[i].durable <= done)
			*lo = i;
		if (s->states[i].from <= done)
			*hi = i;
	}
}
