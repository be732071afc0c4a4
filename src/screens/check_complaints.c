/* check_complaints.c - asked from the checks of Records; and what the checks
 * share. */
#include <stdlib.h>

#include "base/str.h"
#include "records_inner.h"

void
check_complaints(struct desk *d, struct records *s)
{
	complaint_ask_list(d, &s->asked.complaints);
}

void
checks_fini(struct checks *c)
{
	complaint_read_fini(&c->complaints);
	free(c->gaps.items);
	free(c->gap_words);
	free(c->drills.items);
	free(c->drill_words);
}

static const char *
word(const void *arg, size_t i)
{
	const struct checks *c = arg;

	return c->words[i];
}

void
checks_pick(struct desk *d, struct checks *c, const char *title,
    const char *const *says, size_t count, desk_pick_fn *go)
{
	struct choices choices = { count, word, NULL, c };
	size_t i;

	for (i = 0; i < count; i++)
		str_fmt(c->words[i], sizeof(c->words[i]), "%s", tr(says[i]));
	desk_ask_pick(d, title, &choices, go, c);
}
