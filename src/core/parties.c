/* parties.c - the parties that booked, as the book lists them. */
#include "core/parties.h"

#include <string.h>

#include "base/str.h"
#include "base/units.h"

#define TABLES_MAX 5000

/* Room for `guests` kept in order; NULL when there is no more. */
static int *
tables_of(struct parties *p, int guests)
{
	size_t i = 0;

	while (i < p->count && p->items[i].guests < guests)
		i++;
	if (i < p->count && p->items[i].guests == guests)
		return &p->items[i].tables;
	if (p->count == PARTY_SIZES_MAX)
		return NULL;
	memmove(&p->items[i + 1], &p->items[i],
	    (p->count - i) * sizeof(p->items[0]));
	p->count++;
	p->items[i].guests = guests;
	p->items[i].tables = 0;
	return &p->items[i].tables;
}

static enum rc
add_word(struct parties *p, char *word, struct err *err)
{
	char *x = strchr(word, 'x');
	int64_t guests, tables = 1;
	int *n;
	enum rc rc;

	if (x != NULL)
		*x = '\0';
	rc = int_parse(
	    &guests, "guests at a table", word, 1, PARTY_GUESTS_MAX, err);
	if (rc == RC_OK && x != NULL)
		rc = int_parse(&tables, "tables", x + 1, 1, TABLES_MAX, err);
	if (rc != RC_OK)
		return rc;
	n = tables_of(p, (int)guests);
	if (n == NULL)
		return err_set(err, RC_INVALID, 0,
		    "more than %d different sizes of party", PARTY_SIZES_MAX);
	if (*n + tables > TABLES_MAX)
		return err_set(err, RC_INVALID, 0, "more than %d tables for %d",
		    TABLES_MAX, (int)guests);
	*n += (int)tables;
	return RC_OK;
}

enum rc
parties_parse(struct parties *out, const char *s, struct err *err)
{
	struct parties p = { .count = 0 };
	char text[1024], *word, *rest = text;
	enum rc rc;

	if (!str_copy(text, sizeof(text), s))
		return err_set(err, RC_INVALID, 0, "parties: too long");
	while ((word = strtok_r(rest, " ", &rest)) != NULL)
		if ((rc = add_word(&p, word, err)) != RC_OK) {
			err_prefix(err,
			    "parties are written guests x tables, such as "
			    "\"2x8 4x5 6\": ");
			return rc;
		}
	*out = p;
	return RC_OK;
}

char *
parties_print(char *dst, size_t size, const struct parties *p)
{
	size_t i, at = 0;

	dst[0] = '\0';
	for (i = 0; i < p->count; i++) {
		if (p->items[i].tables == 1)
			str_fmt(dst + at, size - at, "%s%d", i > 0 ? " " : "",
			    p->items[i].guests);
		else
			str_fmt(dst + at, size - at, "%s%dx%d",
			    i > 0 ? " " : "", p->items[i].guests,
			    p->items[i].tables);
		at += strlen(dst + at);
	}
	return dst;
}

int64_t
parties_covers(const struct parties *p)
{
	int64_t sum = 0;
	size_t i;

	for (i = 0; i < p->count; i++)
		sum += (int64_t)p->items[i].guests * p->items[i].tables;
	return sum;
}
