/*
 * known.c - dense pages for rows with a number, a hash table for the others.
 * A file of ten years has millions of rows: a page costs their digests alone.
 */
#include "known.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

#define PAGE_ROWS 512
/* A forged trail may name numbers as far apart as it likes; ours stand close.
 * So many pages without a row for each 8th of their places is too many. */
#define PAGES_FREE 4096

struct page {
	int64_t number; /* of its first row, by PAGE_ROWS */
	unsigned char *digests;
};

struct entry {
	size_t at; /* of the key among the keys, from 1; 0 nothing */
	unsigned char digest[ROW_DIGEST_SIZE];
};

struct known {
	bool numbered;
	struct page *pages; /* by number */
	size_t page_count, page_cap, last;
	int64_t made; /* rows there was made room for */

	struct entry *entries; /* a power of two of them */
	size_t entry_count, entry_cap;
	struct buf keys; /* each ended by NUL */
};

struct known *
known_new(bool numbered)
{
	struct known *k = xcalloc(1, sizeof(*k));

	k->numbered = numbered;
	buf_init(&k->keys, SIZE_MAX / 2);
	buf_putc(&k->keys, '\0'); /* no key stands at 0 */
	return k;
}

void
known_free(struct known *k)
{
	size_t i;

	if (k == NULL)
		return;
	for (i = 0; i < k->page_count; i++)
		free(k->pages[i].digests);
	free(k->pages);
	free(k->entries);
	buf_fini(&k->keys);
	free(k);
}

bool
digest_none(const unsigned char d[ROW_DIGEST_SIZE])
{
	static const unsigned char none[ROW_DIGEST_SIZE];

	return memcmp(d, none, sizeof(none)) == 0;
}

/* --- rows with a number ----------------------------------------------------*/

/* Where the page is, or belongs. */
static size_t
page_place(const struct known *k, int64_t number)
{
	size_t low = 0, high = k->page_count, mid;

	if (k->last < k->page_count && k->pages[k->last].number == number)
		return k->last;
	if (high > 0 && k->pages[high - 1].number < number)
		return high;
	while (low < high) {
		mid = (low + high) / 2;
		if (k->pages[mid].number < number)
			low = mid + 1;
		else
			high = mid;
	}
	return low;
}

static bool
page_add(struct known *k, size_t i, int64_t number)
{
	if (k->page_count >= PAGES_FREE &&
	    (int64_t)k->page_count * (PAGE_ROWS / 8) > k->made)
		return false;
	k->pages =
	    grow(k->pages, &k->page_cap, k->page_count, sizeof(*k->pages));
	memmove(k->pages + i + 1, k->pages + i,
	    (k->page_count - i) * sizeof(*k->pages));
	k->page_count++;
	k->pages[i].number = number;
	k->pages[i].digests = xcalloc(PAGE_ROWS, ROW_DIGEST_SIZE);
	return true;
}

static unsigned char *
numbered_at(struct known *k, int64_t id, bool make)
{
	int64_t number = id / PAGE_ROWS, place = id % PAGE_ROWS;
	size_t i;

	if (place < 0) {
		number--;
		place += PAGE_ROWS;
	}
	i = page_place(k, number);
	if (i == k->page_count || k->pages[i].number != number) {
		if (!make || !page_add(k, i, number))
			return NULL;
	}
	k->made += make;
	k->last = i;
	return k->pages[i].digests + (size_t)place * ROW_DIGEST_SIZE;
}

/* --- rows with another key -------------------------------------------------*/

/* FNV-1a, 64 bits. */
static uint64_t
hash(const char *key, size_t len)
{
	uint64_t h = UINT64_C(14695981039346656037);
	size_t i;

	for (i = 0; i < len; i++)
		h = (h ^ (unsigned char)key[i]) * UINT64_C(1099511628211);
	return h ^ h >> 29;
}

static struct entry *
entry_place(const struct known *k, const char *key, size_t len)
{
	size_t i = (size_t)hash(key, len) & (k->entry_cap - 1);
	const char *have;

	for (;; i = (i + 1) & (k->entry_cap - 1)) {
		if (k->entries[i].at == 0)
			return &k->entries[i];
		have = k->keys.data + k->entries[i].at;
		if (strncmp(have, key, len) == 0 && have[len] == '\0')
			return &k->entries[i];
	}
}

static void
entries_grow(struct known *k)
{
	struct entry *old = k->entries;
	size_t cap = k->entry_cap, i;
	const char *key;

	k->entry_cap = cap == 0 ? 64 : cap * 2;
	k->entries = xcalloc(k->entry_cap, sizeof(*k->entries));
	for (i = 0; i < cap; i++) {
		if (old[i].at == 0)
			continue;
		key = k->keys.data + old[i].at;
		*entry_place(k, key, strlen(key)) = old[i];
	}
	free(old);
}

static unsigned char *
named_at(struct known *k, const char *key, size_t len, bool make)
{
	struct entry *e;

	if (k->entry_count * 4 >= k->entry_cap * 3)
		entries_grow(k);
	e = entry_place(k, key, len);
	if (e->at == 0) {
		if (!make)
			return NULL;
		e->at = k->keys.len;
		buf_add(&k->keys, key, len);
		buf_putc(&k->keys, '\0');
		k->entry_count++;
	}
	return e->digest;
}

/* --- both ------------------------------------------------------------------*/

/* A number as row_key() writes one. */
static bool
read_number(int64_t *out, const char *key, size_t len)
{
	char text[24], again[24];

	if (len == 0 || len >= sizeof(text))
		return false;
	memcpy(text, key, len);
	text[len] = '\0';
	*out = strtoll(text, NULL, 10);
	str_fmt(again, sizeof(again), "%" PRId64, *out);
	return str_eq(text, again);
}

unsigned char *
known_at(struct known *k, const char *key, size_t len, bool make)
{
	int64_t id;

	if (k->numbered && read_number(&id, key, len))
		return numbered_at(k, id, make);
	return named_at(k, key, len, make);
}

void
known_each(struct known *k, known_fn *seen, void *arg)
{
	char key[24];
	size_t i, j;

	for (i = 0; i < k->page_count; i++)
		for (j = 0; j < PAGE_ROWS; j++) {
			if (digest_none(
				k->pages[i].digests + j * ROW_DIGEST_SIZE))
				continue;
			str_fmt(key, sizeof(key), "%" PRId64,
			    k->pages[i].number * PAGE_ROWS + (int64_t)j);
			seen(arg, key);
		}
	for (i = 0; i < k->entry_cap; i++)
		if (k->entries[i].at != 0 && !digest_none(k->entries[i].digest))
			seen(arg, k->keys.data + k->entries[i].at);
}
