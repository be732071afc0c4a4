/* prep_beside.c - a plan made in a thread of its own. */
#include <stdlib.h>
#include <string.h>

#include "aside.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/prep_page.h"
#include "prep_page_of.h"

struct prep_beside {
	struct aside *aside;
	struct station *of; /* the screen's */
	struct plan_wish wish;
	struct plan_say *says; /* owned, texts too */
	char *service;
	struct prep_page *page; /* the thread's until it is done */
};

static enum rc
work(struct station *sn, void *arg, struct err *err)
{
	struct prep_beside *b = arg;

	return prep_page_open(&b->page, sn, &b->wish, err);
}

static void
copy_wish(struct prep_beside *b, const struct plan_wish *wish)
{
	size_t i;

	b->wish = *wish;
	b->wish.service = b->service = xstrdup(wish->service);
	b->says = xcalloc(wish->say_count + 1, sizeof(*b->says));
	for (i = 0; i < wish->say_count; i++) {
		b->says[i].word = wish->says[i].word;
		b->says[i].text = xstrdup(wish->says[i].text);
	}
	b->wish.says = b->says;
}

static void
free_all(struct prep_beside *b)
{
	size_t i;

	for (i = 0; i < b->wish.say_count; i++)
		free((void *)(uintptr_t)b->says[i].text);
	free(b->says);
	free(b->service);
	free(b);
}

enum rc
prep_beside_start(struct prep_beside **out, struct station *sn,
    const struct plan_wish *wish, struct err *err)
{
	struct prep_beside *b = xcalloc(1, sizeof(*b));
	enum rc rc;

	*out = NULL;
	copy_wish(b, wish);
	b->of = sn;
	if ((rc = aside_start(&b->aside, sn, work, b, err)) == RC_OK)
		*out = b;
	else
		free_all(b);
	return rc;
}

enum rc
prep_beside_take(
    struct prep_page **out, struct prep_beside *b, int wait_ms, struct err *err)
{
	enum rc rc = aside_wait(b->aside, wait_ms, err);

	*out = NULL;
	if (rc == RC_OK) {
		*out = b->page;
		b->page = NULL;
		prep_page_of(*out, b->of);
	}
	return rc;
}

void
prep_beside_free(struct prep_beside *b)
{
	if (b == NULL)
		return;
	aside_free(b->aside);
	prep_page_free(b->page);
	free_all(b);
}
