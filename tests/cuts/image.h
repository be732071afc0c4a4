/*
 * image.h - what a disk may hold after the power failed.
 *
 * The model (docs/decisions/0015-power-cuts.md): what was synced stays.  Of a
 * file's writes since its last sync any may be there, sector by sector, in any
 * order; the one under way may be torn, and its bytes may be garbage.  Names
 * change one after the other and each wholly: of those since their folder was
 * synced the first so many are there.  A file's own sync says nothing of its
 * name.
 */
#ifndef IMAGE_H
#define IMAGE_H

#include "disk.h"

/* A file, as it is on the medium and what was said to it since. */
struct medium_file {
	unsigned char *bytes;
	size_t size, cap;
	size_t *since; /* changes, by number */
	size_t since_count, since_cap;
};

struct medium_name {
	char *path;
	int file; /* 0: none of that name */
};

struct medium {
	const struct journal *j;
	size_t done; /* changes applied */
	struct medium_file *files;
	int file_count;
	struct medium_name *names; /* durable ones */
	size_t name_count, name_cap;
	size_t *since; /* changes of names, not synced yet */
	size_t since_count, since_cap;
};

void medium_start(struct medium *m, const struct journal *j);
void medium_fini(struct medium *m);
/* medium_go - up to before change `upto`. */
void medium_go(struct medium *m, size_t upto);

/* What survives of what was not synced. */
enum cut_how {
	CUT_SYNCED,     /* nothing */
	CUT_WRITTEN,    /* all of it */
	CUT_NAMES,      /* names, and no bytes */
	CUT_BYTES,      /* bytes, and no names */
	CUT_SOME_SMALL, /* any sectors of 512 bytes, some names */
	CUT_SOME_LARGE, /* of 4096 */
	CUT_TORN,       /* all, and a part of the last write */
	CUT_GARBAGE,    /* all, and garbage in a part of the last write */
	CUT_SPOILT,     /* all, and garbage in a whole sector of 4096 the last
			   write was in, also where it wrote nothing */
	CUT_HOW_COUNT
};

const char *how_word(enum cut_how how);

/* A file after the cut. */
struct left_file {
	const char *path; /* borrowed of the medium */
	unsigned char *bytes;
	size_t size;
};

struct left {
	struct left_file *items;
	size_t count;
	uint64_t hash; /* of all of it */
};

/* medium_cut - the power fails now.  False: that cannot happen here (the last
 * change is no write).  The caller frees with left_fini(). */
bool medium_cut(
    struct left *out, struct medium *m, enum cut_how how, uint64_t seed);
void left_fini(struct left *l);

/* left_write - into the folder `to`, which is emptied first; names are those
 * below `from`. */
void left_write(const struct left *l, const char *from, const char *to);

/* left_find - by its name below `from`, or NULL. */
const struct left_file *left_find(
    const struct left *l, const char *from, const char *name);

uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t len);

#endif /* IMAGE_H */
