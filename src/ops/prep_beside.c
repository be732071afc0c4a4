/* prep_beside.c - a plan made in a thread of its own. */
#include <errno.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/prep_page.h"
#include "prep_page_of.h"
#include "store/store.h"

struct prep_beside {
	struct station sn; /* the screen's, with a connection of its own */
	struct station *of;
	struct plan_wish wish;
	struct plan_say *says; /* owned, texts too */
	char *service, *path;
	pthread_t thread;
	/* What follows is the thread's until it sets done. */
	pthread_mutex_t lock;
	pthread_cond_t ended;
	bool done;
	struct prep_page *page;
	struct err err;
	enum rc rc;
};

static void *
work(void *arg)
{
	struct prep_beside *b = arg;
	struct prep_page *page = NULL;
	struct err err = { 0 };
	enum rc rc = store_open(&b->sn.st, b->path, &err);

	if (rc == RC_OK)
		rc = prep_page_open(&page, &b->sn, &b->wish, &err);
	(void)pthread_mutex_lock(&b->lock);
	b->page = page;
	b->err = err;
	b->rc = rc;
	b->done = true;
	(void)pthread_cond_signal(&b->ended);
	(void)pthread_mutex_unlock(&b->lock);
	return NULL;
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
	free(b->path);
	store_close(b->sn.st);
	free(b);
}

enum rc
prep_beside_start(struct prep_beside **out, struct station *sn,
    const struct plan_wish *wish, struct err *err)
{
	struct prep_beside *b = xcalloc(1, sizeof(*b));
	pthread_condattr_t attr;
	int e;

	*out = NULL;
	copy_wish(b, wish);
	/* Settings and tables never change while the station is open; what is
	 * opened later, such as the fonts, stays the screen's. */
	b->of = sn;
	b->sn = *sn;
	b->sn.fonts = NULL;
	b->sn.st = NULL;
	b->path = xstrdup(store_path(sn->st));
	(void)pthread_mutex_init(&b->lock, NULL);
	(void)pthread_condattr_init(&attr);
	(void)pthread_condattr_setclock(&attr, CLOCK_MONOTONIC);
	(void)pthread_cond_init(&b->ended, &attr);
	(void)pthread_condattr_destroy(&attr);
	if ((e = pthread_create(&b->thread, NULL, work, b)) != 0) {
		(void)pthread_cond_destroy(&b->ended);
		(void)pthread_mutex_destroy(&b->lock);
		free_all(b);
		return err_set(err, RC_FAILED, e,
		    "the plan cannot be made beside the screen: %s",
		    strerror(e));
	}
	*out = b;
	return RC_OK;
}

static void
wait_for(struct prep_beside *b, int wait_ms)
{
	int64_t until = clock_ticks_ms() + wait_ms;
	struct timespec at = { .tv_sec = (time_t)(until / 1000),
		.tv_nsec = (long)(until % 1000) * 1000000 };
	int e = 0;

	while (!b->done && e == 0)
		e = wait_ms < 0
		    ? pthread_cond_wait(&b->ended, &b->lock)
		    : pthread_cond_timedwait(&b->ended, &b->lock, &at);
}

enum rc
prep_beside_take(
    struct prep_page **out, struct prep_beside *b, int wait_ms, struct err *err)
{
	enum rc rc = RC_END;

	*out = NULL;
	(void)pthread_mutex_lock(&b->lock);
	wait_for(b, wait_ms);
	if (b->done) {
		*out = b->page;
		b->page = NULL;
		if (*out != NULL)
			prep_page_of(*out, b->of);
		rc = b->rc;
		if (rc != RC_OK)
			rc = err_set(err, rc, b->err.lib, "%s", b->err.text);
	}
	(void)pthread_mutex_unlock(&b->lock);
	return rc;
}

void
prep_beside_free(struct prep_beside *b)
{
	if (b == NULL)
		return;
	(void)pthread_join(b->thread, NULL);
	prep_page_free(b->page);
	(void)pthread_cond_destroy(&b->ended);
	(void)pthread_mutex_destroy(&b->lock);
	free_all(b);
}
