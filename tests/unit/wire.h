/*
 * wire.h - take bytes apart the way a printer does: what is not expected is a
 * reason, and the first reason stays.
 */
#ifndef WIRE_H
#define WIRE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

struct wire {
	const uint8_t *p, *end;
	const char *why; /* NULL: nothing was wrong so far */
};

static inline bool
wire_fail(struct wire *w, const char *why)
{
	if (w->why == NULL)
		w->why = why;
	return false;
}

/* wire_is - step over `text` when it comes next. */
static inline bool
wire_is(struct wire *w, const char *text)
{
	size_t n = strlen(text);

	if ((size_t)(w->end - w->p) < n || memcmp(w->p, text, n) != 0)
		return false;
	w->p += n;
	return true;
}

/* wire_number - a decimal number of at most five digits. */
static inline bool
wire_number(struct wire *w, int *out)
{
	int n = 0, digits = 0;

	for (; w->p < w->end && *w->p >= '0' && *w->p <= '9'; w->p++) {
		n = n * 10 + *w->p - '0';
		if (++digits > 5)
			return wire_fail(w, "number of more than five digits");
	}
	*out = n;
	return digits > 0 ? true : wire_fail(w, "number expected");
}

/* wire_bytes - the next n bytes, or NULL when there are not so many. */
static inline const uint8_t *
wire_bytes(struct wire *w, size_t n)
{
	const uint8_t *p = w->p;

	if ((size_t)(w->end - w->p) < n) {
		wire_fail(w, "data end early");
		return NULL;
	}
	w->p += n;
	return p;
}

#endif /* WIRE_H */
