/* aside.c - an answer worked out in a thread of its own. */
#include "aside.h"

#include <errno.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/mem.h"
#include "store/store.h"

struct aside {
	struct station sn; /* the caller's, with a connection of its own */
	char *path;        /* of the file; opening it takes a moment too */
	aside_fn *work;
	void *arg;
	pthread_t thread;
	/* What follows is the thread's until it sets done. */
	pthread_mutex_t lock;
	pthread_cond_t ended;
	bool done;
	struct err err;
	enum rc rc;
};

static void *
run(void *arg)
{
	struct aside *a = arg;
	struct err err = { 0 };
	enum rc rc = store_open(&a->sn.st, a->path, &err);

	if (rc == RC_OK)
		rc = a->work(&a->sn, a->arg, &err);
	(void)pthread_mutex_lock(&a->lock);
	a->err = err;
	a->rc = rc;
	a->done = true;
	(void)pthread_cond_signal(&a->ended);
	(void)pthread_mutex_unlock(&a->lock);
	return NULL;
}

static void
end(struct aside *a)
{
	(void)pthread_cond_destroy(&a->ended);
	(void)pthread_mutex_destroy(&a->lock);
	store_close(a->sn.st);
	free(a->path);
	free(a);
}

enum rc
aside_start(struct aside **out, struct station *sn, aside_fn *work, void *arg,
    struct err *err)
{
	struct aside *a = xcalloc(1, sizeof(*a));
	pthread_condattr_t attr;
	int e;

	*out = NULL;
	/* Settings and tables never change while the station is open; what is
	 * opened later, such as the fonts, stays the caller's. */
	a->sn = *sn;
	a->sn.fonts = NULL;
	a->sn.st = NULL;
	a->work = work;
	a->arg = arg;
	a->path = xstrdup(store_path(sn->st));
	(void)pthread_mutex_init(&a->lock, NULL);
	(void)pthread_condattr_init(&attr);
	(void)pthread_condattr_setclock(&attr, CLOCK_MONOTONIC);
	(void)pthread_cond_init(&a->ended, &attr);
	(void)pthread_condattr_destroy(&attr);
	if ((e = pthread_create(&a->thread, NULL, run, a)) != 0) {
		end(a);
		return err_set(err, RC_FAILED, e,
		    "it cannot be worked out beside the screen: %s",
		    strerror(e));
	}
	*out = a;
	return RC_OK;
}

enum rc
aside_wait(struct aside *a, int wait_ms, struct err *err)
{
	int64_t until = clock_ticks_ms() + wait_ms;
	struct timespec at = { .tv_sec = (time_t)(until / 1000),
		.tv_nsec = (long)(until % 1000) * 1000000 };
	enum rc rc = RC_END;
	int e = 0;

	(void)pthread_mutex_lock(&a->lock);
	while (!a->done && e == 0)
		e = wait_ms < 0
		    ? pthread_cond_wait(&a->ended, &a->lock)
		    : pthread_cond_timedwait(&a->ended, &a->lock, &at);
	if (a->done) {
		rc = a->rc;
		if (rc != RC_OK)
			rc = err_set(err, rc, a->err.lib, "%s", a->err.text);
	}
	(void)pthread_mutex_unlock(&a->lock);
	return rc;
}

void
aside_free(struct aside *a)
{
	if (a == NULL)
		return;
	(void)pthread_join(a->thread, NULL);
	end(a);
}
