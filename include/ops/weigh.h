/*
 * ops/weigh.h - what lies on the station's scale.  Records nothing by itself.
 */
#ifndef OPS_WEIGH_H
#define OPS_WEIGH_H

#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "ops/station.h"

#define WEIGH_MAX 300 /* as many as goods in takes one by one */
#define WEIGH_WAIT_S 10
#define WEIGH_WAIT_EACH_S 60 /* the next fish has to be fetched */
#define WEIGH_WAIT_MAX_S 600

struct weigh_in {
	size_t each;    /* 0: all there is, at once; N: N one after another */
	int64_t wait_s; /* for every weight; 0: the figures above */
	/* Told what the scale says meanwhile and what counted; may be NULL. */
	void (*show)(void *ctx, const char *words);
	void *ctx;
};

struct weighing {
	grams items[WEIGH_MAX];
	size_t count;
	grams total; /* at most WEIGHT_MAX_G */
};

/*
 * weigh - *out holds what was weighed so far also when it fails.
 * RC_OK
 * RC_NOTFOUND  no scale is set
 * RC_INVALID   more than WEIGH_MAX or WEIGHT_MAX_G, a wrong address, or the
 *              scale says something that makes no sense
 * RC_RETRY     no scale there, or no stable weight in time
 * RC_FAILED    it is no scale we understand
 */
enum rc weigh(struct weighing *out, struct station *sn,
    const struct weigh_in *in, struct err *err) MUST_CHECK;

/* weigh_list - append "2100,1950". */
void weigh_list(struct buf *out, const struct weighing *w);

#endif /* OPS_WEIGH_H */
