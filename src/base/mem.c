/* mem.c - allocators that abort. */
#include "base/mem.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void
out_of_memory(void)
{
	fputs("pinbone: out of memory; what was recorded is safe\n", stderr);
	abort();
}

void *
xcalloc(size_t n, size_t size)
{
	void *p;

	p = calloc(n == 0 ? 1 : n, size == 0 ? 1 : size);
	if (p == NULL)
		out_of_memory();
	return p;
}

void *
xrealloc(void *p, size_t n, size_t size)
{
	void *q;

	if (size != 0 && n > SIZE_MAX / size)
		out_of_memory();
	q = realloc(p, n * size == 0 ? 1 : n * size);
	if (q == NULL)
		out_of_memory();
	return q;
}

char *
xstrdup(const char *s)
{
	size_t n;
	char *p;

	n = strlen(s) + 1;
	p = xcalloc(n, 1);
	memcpy(p, s, n);
	return p;
}

void *
grow(void *items, size_t *cap, size_t count, size_t size)
{
	if (count < *cap)
		return items;
	*cap = *cap == 0 ? 16 : *cap * 2;
	return xrealloc(items, *cap, size);
}
