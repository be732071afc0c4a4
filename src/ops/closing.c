/* closing.c - record what came and what was sold. */
#include "closing.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "exchange/sales_in.h"

/* More portions of one dish a guest are a slip of the pen [ours]. */
#define SOLD_A_GUEST_MAX 3

char *
service_label(char *dst, size_t size, const struct service *s)
{
	char day[16];

	str_fmt(
	    dst, size, "%s/%s", day_print(day, sizeof(day), s->day), s->name);
	return dst;
}

static enum rc
has_begun(const struct station *sn, const struct moment *at,
    const struct service *s, struct err *err)
{
	const struct service_window *w = config_service(&sn->cfg, s->name);
	char label[48], text[48];
	int64_t start;

	if (w == NULL)
		return RC_OK;
	start =
	    utc_from_local(s->day, w->starts_min / 60, w->starts_min % 60, 0);
	if (start <= at->utc)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s begins on %s: what came of it cannot be known yet",
	    service_label(label, sizeof(label), s),
	    time_short(text, sizeof(text), start));
}

static enum rc
sale_possible(
    const char *label, const struct sale *s, int64_t covers, struct err *err)
{
	if (s->sold > covers * SOLD_A_GUEST_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%s: %" PRId64 " of %s sold to %" PRId64
		    " guests is not believed: at most %d each",
		    label, s->sold, s->dish, covers, SOLD_A_GUEST_MAX);
	if (s->ran_out_at > covers)
		return err_set(err, RC_INVALID, 0,
		    "%s: %s ran out at %" PRId64 " covers, but %" PRId64
		    " came in all",
		    label, s->dish, s->ran_out_at, covers);
	return RC_OK;
}

/* All that will stand there together: what is new, then what stays. */
static enum rc
possible(const struct closing *c, const struct closing_in *in,
    const struct sale_list *old, struct err *err)
{
	int64_t covers = c->seated + c->walk_ins;
	char label[48];
	size_t i, k;
	enum rc rc;

	service_label(label, sizeof(label), in->service);
	if (c->seated > c->booked)
		return err_set(err, RC_INVALID, 0,
		    "%s: %" PRId64 " seated of %" PRId64
		    " booked: count whom nobody booked as walk-ins",
		    label, c->seated, c->booked);
	if (c->walk_ins > SALES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%s: %" PRId64 " walk-ins is outside 0 to %d", label,
		    c->walk_ins, SALES_MAX);
	for (i = 0; i < in->count; i++)
		if ((rc = sale_possible(label, &in->sales[i], covers, err)) !=
		    RC_OK)
			return rc;
	for (i = 0; i < old->count; i++) {
		for (k = 0; k < in->count; k++)
			if (in->sales[k].dish_id == old->items[i].dish_id)
				break;
		if (k == in->count &&
		    (rc = sale_possible(label, &old->items[i], covers, err)) !=
			RC_OK)
			return rc;
	}
	return RC_OK;
}

/* Guests of the service: added, corrected with an audit row, or as before. */
static enum rc
put_guests(enum change *out, struct station *sn, struct closing *c,
    const struct closing *old, const struct closing_in *in, struct err *err)
{
	char label[48];
	enum rc rc;

	if (old == NULL) {
		*out = CHANGE_ADDED;
		return closing_add(sn->st, c, err);
	}
	*out = CHANGE_NONE;
	if (old->seated == c->seated && old->walk_ins == c->walk_ins)
		return RC_OK;
	*out = CHANGE_CHANGED;
	rc = station_audit(sn, &c->at, err, "correct",
	    service_label(label, sizeof(label), in->service),
	    "booked %" PRId64 ", seated %" PRId64 ", walk-ins %" PRId64
	    " -> booked %" PRId64 ", seated %" PRId64 ", walk-ins %" PRId64,
	    old->booked, old->seated, old->walk_ins, c->booked, c->seated,
	    c->walk_ins);
	return rc == RC_OK ? closing_correct(sn->st, c, err) : rc;
}

/* "12", "12, ran out at 40 covers" */
static void
sale_text(char *dst, size_t size, const struct sale *s)
{
	if (s == NULL)
		str_copy(dst, size, "not counted");
	else if (s->ran_out_at >= 0)
		str_fmt(dst, size, "%" PRId64 ", ran out at %" PRId64 " covers",
		    s->sold, s->ran_out_at);
	else
		str_fmt(dst, size, "%" PRId64 "%s", s->sold,
		    s->ran_out_at == SOLD_ON ? "" : ", ran out");
}

static enum rc
put_sale(enum change *out, struct station *sn, const struct moment *at,
    const struct sale *s, const struct sale *old, bool first,
    const struct closing_in *in, struct err *err)
{
	char label[48], was[64], is[64];
	enum rc rc;

	*out = CHANGE_NONE;
	if (old != NULL && old->sold == s->sold &&
	    old->ran_out_at == s->ran_out_at)
		return RC_OK;
	*out = old == NULL ? CHANGE_ADDED : CHANGE_CHANGED;
	sale_text(was, sizeof(was), old);
	sale_text(is, sizeof(is), s);
	if (!first &&
	    (rc = station_audit(sn, at, err, "correct",
		 service_label(label, sizeof(label), in->service),
		 "%s: %s -> %s", s->dish, was, is)) != RC_OK)
		return rc;
	return old == NULL ? sale_add(sn->st, s, err)
			   : sale_correct(sn->st, s, err);
}

/* Fill in what the caller left as it was. */
static enum rc
whole(struct closing *c, const struct closing *old, const struct moment *at,
    const struct closing_in *in, struct err *err)
{
	char label[48];

	c->service_id = in->service->id;
	c->booked = in->service->covers;
	c->seated = in->seated;
	c->walk_ins = in->walk_ins;
	c->at = *at;
	if (old != NULL && c->seated < 0)
		c->seated = old->seated;
	if (old != NULL && c->walk_ins < 0)
		c->walk_ins = old->walk_ins;
	/* Bookings changed since say nothing about guests who did not. */
	if (old != NULL && c->seated == old->seated &&
	    c->walk_ins == old->walk_ins)
		c->booked = old->booked;
	if (c->seated >= 0 && c->walk_ins >= 0)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "%s: say how many booked guests were seated and how many walked in",
	    service_label(label, sizeof(label), in->service));
}

static const struct sale *
recorded(const struct sale_list *old, int64_t dish_id)
{
	size_t i;

	for (i = 0; i < old->count; i++)
		if (old->items[i].dish_id == dish_id)
			return &old->items[i];
	return NULL;
}

enum rc
closing_record(enum change *guests, enum change *changes, struct station *sn,
    const struct moment *at, const struct closing_in *in, struct err *err)
{
	struct sale_list sales = { 0 };
	struct closing old, c;
	struct sale s;
	bool first;
	size_t i;
	enum rc rc;

	if ((rc = has_begun(sn, at, in->service, err)) != RC_OK)
		return rc;
	rc = closing_get(&old, sn->st, in->service->id, NULL);
	if (rc != RC_OK && rc != RC_NOTFOUND)
		return err_set(err, rc, 0, "the station file cannot be read");
	first = rc == RC_NOTFOUND;
	if ((rc = whole(&c, first ? NULL : &old, at, in, err)) != RC_OK ||
	    (rc = sale_list_open(&sales, sn->st, c.service_id, err)) != RC_OK ||
	    (rc = possible(&c, in, &sales, err)) != RC_OK ||
	    (rc = put_guests(guests, sn, &c, first ? NULL : &old, in, err)) !=
		RC_OK)
		goto done;
	for (i = 0; i < in->count && rc == RC_OK; i++) {
		s = in->sales[i];
		s.service_id = c.service_id;
		rc = put_sale(&changes[i], sn, at, &s,
		    recorded(&sales, s.dish_id), first, in, err);
	}
done:
	sale_list_fini(&sales);
	return rc;
}
