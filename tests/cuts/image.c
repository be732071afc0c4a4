/* image.c - what a disk may hold after the power failed. */
#include "image.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/str.h"
#include "folder.h"
#include "tests/unit/chance.h"

static const char *const words[CUT_HOW_COUNT] = { "only what was synced",
	"all that was written", "names without bytes", "bytes without names",
	"some sectors of 512", "some sectors of 4096", "the last write torn",
	"garbage in the last write", "the last write's sector spoilt" };

const char *
how_word(enum cut_how how)
{
	return words[how];
}

uint64_t
hash_bytes(uint64_t hash, const void *bytes, size_t len)
{
	const unsigned char *p = bytes;
	uint64_t eight;

	for (; len >= 8; p += 8, len -= 8) {
		memcpy(&eight, p, 8);
		hash = (hash ^ eight) * UINT64_C(0x9e3779b97f4a7c15);
		hash ^= hash >> 29;
	}
	for (; len > 0; p++, len--)
		hash = (hash ^ *p) * UINT64_C(0x100000001b3);
	return hash ^ (hash >> 31);
}

/* --- the medium ------------------------------------------------------------*/

void
medium_start(struct medium *m, const struct journal *j)
{
	memset(m, 0, sizeof(*m));
	m->j = j;
	m->file_count = j->files + 1;
	m->files = xcalloc((size_t)m->file_count, sizeof(*m->files));
}

void
medium_fini(struct medium *m)
{
	size_t i;
	int f;

	for (f = 0; f < m->file_count; f++) {
		free(m->files[f].bytes);
		free(m->files[f].since);
	}
	for (i = 0; i < m->name_count; i++)
		free(m->names[i].path);
	free(m->files);
	free(m->names);
	free(m->since);
	memset(m, 0, sizeof(*m));
}

static void
size_to(struct medium_file *f, size_t size)
{
	if (size > f->cap) {
		f->cap = size * 2;
		f->bytes = xrealloc(f->bytes, f->cap, 1);
	}
	/* What nobody wrote in between reads as zeros. */
	if (size > f->size)
		memset(f->bytes + f->size, 0, size - f->size);
	f->size = size;
}

static void
put(struct medium_file *f, const struct disk_change *c, size_t from, size_t len)
{
	size_t at = (size_t)c->at + from;

	if (at + len > f->size)
		size_to(f, at + len);
	memcpy(f->bytes + at, c->bytes + from, len);
}

static void
apply(struct medium_file *f, const struct disk_change *c)
{
	if (c->kind == CHANGE_WRITE)
		put(f, c, 0, c->len);
	else if (c->kind == CHANGE_TRUNCATE)
		size_to(f, (size_t)c->at);
}

static void
name_it(struct medium_name **names, size_t *count, size_t *cap,
    const char *path, int file)
{
	size_t i;

	for (i = 0; i < *count && !str_eq((*names)[i].path, path); i++)
		;
	if (i == *count) {
		*names = grow(*names, cap, *count, sizeof(**names));
		(*names)[(*count)++].path = xstrdup(path);
	}
	(*names)[i].file = file;
}

static void
rename_in(struct medium_name **names, size_t *count, size_t *cap,
    const struct disk_change *c)
{
	switch (c->kind) {
	case CHANGE_CREATE:
		name_it(names, count, cap, c->name, c->file);
		break;
	case CHANGE_RENAME:
		name_it(names, count, cap, c->name, 0);
		name_it(names, count, cap, c->other, c->file);
		break;
	case CHANGE_UNLINK:
	case CHANGE_WRITE:
	case CHANGE_TRUNCATE:
	case CHANGE_SYNC:
	case CHANGE_SYNC_DIR:
	case CHANGE_MARK:
		name_it(names, count, cap, c->name, 0);
		break;
	}
}

static bool
lies_in(const char *path, const char *folder)
{
	const char *slash = strrchr(path, '/');

	return (size_t)(slash - path) == strlen(folder) &&
	    strncmp(path, folder, strlen(folder)) == 0;
}

static void
sync_names(struct medium *m, const char *folder)
{
	const struct disk_change *c;
	size_t i, kept = 0;

	for (i = 0; i < m->since_count; i++) {
		c = &m->j->items[m->since[i]];
		if (lies_in(c->name, folder))
			rename_in(&m->names, &m->name_count, &m->name_cap, c);
		else
			m->since[kept++] = m->since[i];
	}
	m->since_count = kept;
}

static void
sync_file(struct medium *m, struct medium_file *f)
{
	size_t i;

	for (i = 0; i < f->since_count; i++)
		apply(f, &m->j->items[f->since[i]]);
	f->since_count = 0;
}

static void
go_one(struct medium *m, size_t i)
{
	const struct disk_change *c = &m->j->items[i];
	struct medium_file *f = &m->files[c->file];

	switch (c->kind) {
	case CHANGE_WRITE:
	case CHANGE_TRUNCATE:
		f->since = grow(
		    f->since, &f->since_cap, f->since_count, sizeof(*f->since));
		f->since[f->since_count++] = i;
		break;
	case CHANGE_SYNC:
		sync_file(m, f);
		break;
	case CHANGE_CREATE:
	case CHANGE_UNLINK:
	case CHANGE_RENAME:
		m->since = grow(
		    m->since, &m->since_cap, m->since_count, sizeof(*m->since));
		m->since[m->since_count++] = i;
		break;
	case CHANGE_SYNC_DIR:
		sync_names(m, c->name);
		break;
	case CHANGE_MARK:
		break;
	}
}

void
medium_go(struct medium *m, size_t upto)
{
	while (m->done < upto)
		go_one(m, m->done++);
}

/* --- the cut ---------------------------------------------------------------*/

struct cutting {
	enum cut_how how;
	uint64_t seed;
	size_t last;   /* change */
	unsigned odds; /* of 4, that a sector is there */
};

static void
tear(struct medium_file *f, const struct disk_change *c, struct cutting *cut)
{
	size_t end = (size_t)c->at + c->len, at, n;

	for (at = (size_t)c->at; at < end; at += n) {
		n = SECTOR_SMALL - at % SECTOR_SMALL;
		if (n > end - at)
			n = end - at;
		if (chance_next(&cut->seed) % 2 == 0)
			return;
		put(f, c, at - (size_t)c->at, n);
	}
}

static void
garble(struct medium_file *f, size_t from, size_t to, uint64_t *seed)
{
	size_t i;

	if (to > f->size)
		size_to(f, to);
	for (i = from; i < to; i++)
		f->bytes[i] = (unsigned char)chance_next(seed);
}

static void
last_write(
    struct medium_file *f, const struct disk_change *c, struct cutting *cut)
{
	size_t from = (size_t)c->at, to = from + c->len, sector;

	if (cut->how == CUT_TORN) {
		tear(f, c, cut);
		return;
	}
	put(f, c, 0, c->len);
	sector = (from + chance_next(&cut->seed) % c->len) / SECTOR_LARGE *
	    SECTOR_LARGE;
	if (cut->how == CUT_GARBAGE && from < sector)
		from = sector;
	if (cut->how == CUT_GARBAGE && to > sector + SECTOR_LARGE)
		to = sector + SECTOR_LARGE;
	if (cut->how == CUT_SPOILT) {
		from = sector;
		to = sector + SECTOR_LARGE;
		if (to > f->size)
			to = f->size;
	}
	garble(f, from, to, &cut->seed);
}

static void
some(struct medium_file *f, const struct disk_change *c, struct cutting *cut)
{
	size_t sector =
	    cut->how == CUT_SOME_SMALL ? SECTOR_SMALL : SECTOR_LARGE;
	size_t end = (size_t)c->at + c->len, at, n;

	if (c->kind == CHANGE_TRUNCATE) {
		if (chance_next(&cut->seed) % 4 < cut->odds)
			apply(f, c);
		return;
	}
	for (at = (size_t)c->at; at < end; at += n) {
		n = sector - at % sector;
		if (n > end - at)
			n = end - at;
		if (chance_next(&cut->seed) % 4 < cut->odds)
			put(f, c, at - (size_t)c->at, n);
	}
}

/* The file as the cut leaves it; `out` is a copy. */
static void
cut_file(struct medium_file *out, const struct medium *m,
    const struct medium_file *f, struct cutting *cut)
{
	const struct disk_change *c;
	size_t i;

	memset(out, 0, sizeof(*out));
	size_to(out, f->size);
	if (f->size > 0)
		memcpy(out->bytes, f->bytes, f->size);
	if (cut->how == CUT_SYNCED || cut->how == CUT_NAMES)
		return;
	for (i = 0; i < f->since_count; i++) {
		c = &m->j->items[f->since[i]];
		if (cut->how == CUT_SOME_SMALL || cut->how == CUT_SOME_LARGE)
			some(out, c, cut);
		else if (f->since[i] == cut->last && cut->how >= CUT_TORN)
			last_write(out, c, cut);
		else
			apply(out, c);
	}
}

static size_t
names_kept(const struct medium *m, struct cutting *cut)
{
	switch (cut->how) {
	case CUT_SYNCED:
	case CUT_BYTES:
		return 0;
	case CUT_SOME_SMALL:
	case CUT_SOME_LARGE:
		return chance_next(&cut->seed) % (m->since_count + 1);
	case CUT_WRITTEN:
	case CUT_NAMES:
	case CUT_TORN:
	case CUT_GARBAGE:
	case CUT_SPOILT:
	case CUT_HOW_COUNT:
		break;
	}
	return m->since_count;
}

static void
keep_file(struct left *out, const struct medium *m, const struct medium_name *n,
    struct cutting *cut)
{
	struct medium_file f;
	size_t i;

	cut_file(&f, m, &m->files[n->file], cut);
	out->items[out->count].bytes = f.bytes;
	out->items[out->count].size = f.size;
	/* The medium or its journal holds the path as long as it stands. */
	for (i = 0; i < m->name_count; i++)
		if (str_eq(m->names[i].path, n->path))
			out->items[out->count].path = m->names[i].path;
	for (i = 0; i < m->since_count; i++) {
		const struct disk_change *c = &m->j->items[m->since[i]];

		if (str_eq(c->name, n->path))
			out->items[out->count].path = c->name;
		else if (c->other != NULL && str_eq(c->other, n->path))
			out->items[out->count].path = c->other;
	}
	out->hash = hash_bytes(out->hash, n->path, strlen(n->path));
	out->hash = hash_bytes(out->hash, f.bytes, f.size);
	out->count++;
}

bool
medium_cut(struct left *out, struct medium *m, enum cut_how how, uint64_t seed)
{
	struct cutting cut = { .how = how, .seed = seed };
	struct medium_name *names = NULL;
	size_t count = 0, cap = 0, i, kept;

	memset(out, 0, sizeof(*out));
	cut.last = m->done - 1;
	if (m->done == 0 ||
	    (how >= CUT_TORN && m->j->items[cut.last].kind != CHANGE_WRITE))
		return false;
	cut.odds = 1 + (unsigned)(chance_next(&cut.seed) % 3);
	for (i = 0; i < m->name_count; i++)
		name_it(
		    &names, &count, &cap, m->names[i].path, m->names[i].file);
	kept = names_kept(m, &cut);
	for (i = 0; i < kept; i++)
		rename_in(&names, &count, &cap, &m->j->items[m->since[i]]);
	out->items = xcalloc(count + 1, sizeof(*out->items));
	for (i = 0; i < count; i++) {
		if (names[i].file != 0)
			keep_file(out, m, &names[i], &cut);
		free(names[i].path);
	}
	free(names);
	return true;
}

void
left_fini(struct left *l)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		free(l->items[i].bytes);
	free(l->items);
	memset(l, 0, sizeof(*l));
}

void
left_write(const struct left *l, const char *from, const char *to)
{
	char path[700];
	size_t i;

	folder_empty(to);
	for (i = 0; i < l->count; i++) {
		str_fmt(path, sizeof(path), "%s%s", to,
		    l->items[i].path + strlen(from));
		folder_put(path, l->items[i].bytes, l->items[i].size);
	}
}

const struct left_file *
left_find(const struct left *l, const char *from, const char *name)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		if (str_eq(l->items[i].path + strlen(from) + 1, name))
			return &l->items[i];
	return NULL;
}
