/* demand.c - how many portions of each dish a service will ask for. */
#include "ops/demand.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "demand_known.h"
#include "store/bookings.h"

/* Days a portion keeps, of the species that keeps least. */
static int
days_kept(const struct station *sn, const struct dish_sold *d)
{
	char species[64], *code, *rest = species;
	int days, least = 0;

	str_copy(species, sizeof(species), d->species);
	while ((code = strtok_r(rest, ",", &rest)) != NULL) {
		days = house_days(&sn->cfg, &sn->rules, code, d->state);
		if (least == 0 || days < least)
			least = days;
	}
	/* Alive or served raw: the same night, whatever the house says. */
	if (least < 1 || d->state == STATE_LIVE || d->state == STATE_SERVED_RAW)
		return 1;
	return least;
}

/* --- the services asked --------------------------------------------------- */

/* The service itself and those of the book that follow within a life. */
struct coming {
	struct demand_asked asked[DEMAND_ASKED_MAX];
	const struct service_window *window[DEMAND_ASKED_MAX];
	int *sizes[DEMAND_ASKED_MAX]; /* owned */
	size_t count;
	struct demand_wish *wishes; /* of the first; owned */
};

static void
coming_fini(struct coming *c)
{
	size_t i;

	for (i = 0; i < c->count; i++)
		free(c->sizes[i]);
	free(c->wishes);
}

static void
add_coming(struct coming *c, const struct config *cfg, const struct service *s)
{
	struct demand_asked *a = &c->asked[c->count];
	int sitting = sitting_of(cfg, s->name);

	a->day = s->day;
	a->sitting = sitting;
	a->booked = (int)s->covers;
	a->typed = s->expected < 0 ? DEMAND_UNKNOWN : (int)s->expected;
	c->sizes[c->count] = sizes_of(&a->party_count, &s->parties);
	a->parties = c->sizes[c->count];
	c->window[c->count++] = &cfg->services[sitting];
}

/* The book's services after the first, up to and with `last`. */
static enum rc
load_later(struct coming *c, struct station *sn, const struct service *first,
    day_no last, struct err *err)
{
	int sitting = sitting_of(&sn->cfg, first->name), s;
	struct service_list l;
	size_t i, from, end;
	enum rc rc;

	rc = service_list_open(&l, sn->st, first->day, last, err);
	if (rc != RC_OK)
		return rc;
	for (from = 0; from < l.count; from = end) {
		end = from + 1;
		while (end < l.count && l.items[end].day == l.items[from].day)
			end++;
		for (s = 0; s < sn->cfg.service_count; s++)
			for (i = from; i < end; i++)
				if (sitting_of(&sn->cfg, l.items[i].name) ==
					s &&
				    (l.items[i].day > first->day ||
					s > sitting) &&
				    l.items[i].covers <= DEMAND_COVERS_MAX &&
				    c->count < DEMAND_ASKED_MAX)
					add_coming(c, &sn->cfg, &l.items[i]);
	}
	service_list_fini(&l);
	return RC_OK;
}

/* Services of the book that end before a portion made today must be gone. */
static int
services_kept(const struct coming *c, int days)
{
	int64_t use_by = use_by_instant(c->asked[0].day + days - 1);
	size_t n = 1;

	while (n < c->count &&
	    service_ends(c->window[n], c->asked[n].day) <= use_by)
		n++;
	return (int)n;
}

static enum rc
load_wishes(struct coming *c, const struct known *k, struct station *sn,
    const struct service *s, struct err *err)
{
	struct typed_list l;
	size_t i, d;
	enum rc rc;

	if ((rc = typed_list_open(&l, sn->st, s->id, err)) != RC_OK)
		return rc;
	c->wishes = xcalloc(k->count + 1, sizeof(*c->wishes));
	for (d = 0; d < k->count; d++) {
		c->wishes[d].fixed = c->wishes[d].floor = DEMAND_UNKNOWN;
		c->wishes[d].ceiling = DEMAND_UNKNOWN;
		for (i = 0; i < l.count; i++) {
			if (l.items[i].dish_id != k->dishes[d].id)
				continue;
			c->wishes[d].fixed = (int)l.items[i].fixed;
			c->wishes[d].floor = (int)l.items[i].floor;
			c->wishes[d].ceiling = (int)l.items[i].ceiling;
		}
	}
	c->asked[0].wishes = c->wishes;
	typed_list_fini(&l);
	return RC_OK;
}

static enum rc
load_coming(struct coming *c, struct known *k, struct station *sn,
    const struct service *s, struct err *err)
{
	int days, most = 1;
	size_t d;
	enum rc rc;

	add_coming(c, &sn->cfg, s);
	for (d = 0; d < k->count; d++) {
		days = days_kept(sn, &k->dishes[d]);
		most = days > most ? days : most;
	}
	if ((rc = load_later(c, sn, s, s->day + most - 1, err)) != RC_OK)
		return rc;
	for (d = 0; d < k->count; d++)
		k->values[d].life =
		    services_kept(c, days_kept(sn, &k->dishes[d]));
	return load_wishes(c, k, sn, s, err);
}

/* --- the answer ----------------------------------------------------------- */

static void
put_row(struct demand_row *row, const struct known *k, size_t d,
    const struct coming *c, const struct demand_line *line)
{
	const struct demand_wish *wish = &c->wishes[d];

	row->dish_id = k->dishes[d].id;
	str_copy(row->dish, sizeof(row->dish), k->dishes[d].code);
	str_copy(row->name, sizeof(row->name), k->dishes[d].name);
	row->expected_c = line->expected_c;
	row->low80 = line->low;
	row->high80 = line->high;
	row->target = line->target;
	row->out_bp = line->out_bp;
	row->tau_bp = line->ratio_bp;
	row->ratio = line->ratio;
	row->floor = wish->floor;
	row->ceiling = wish->ceiling;
	row->fixed = wish->fixed;
	row->bound = line->why;
	row->menu_bp = k->share_bp[(size_t)c->asked[0].sitting * k->count + d];
	row->learned_bp = line->share_bp;
	row->taught = line->taught;
	row->life = k->values[d].life;
}

static void
put_report(struct demand_report *r, const struct known *k,
    const struct coming *c, const struct demand_forecast *f)
{
	const struct demand_covers *covers = &f->covers[0];
	size_t d;

	r->covers_c = covers->expected_c;
	r->covers_low = covers->low;
	r->covers_high = covers->high;
	r->show_bp = covers->show_bp;
	r->walk_ins_c = covers->walk_ins_c;
	r->services_learned = (int)k->past_count;
	r->items = xcalloc(k->count + 1, sizeof(*r->items));
	for (d = 0; d < k->count; d++)
		if (f->lines[d].why != WHY_NOT_OFFERED)
			put_row(&r->items[r->count++], k, d, c, &f->lines[d]);
}

/* --- the desk ------------------------------------------------------------- */

struct demand_desk {
	struct station *sn;
	struct known known;
	struct demand_record record;
	struct demand_model *model; /* NULL: nothing read yet */
};

struct demand_desk *
demand_desk_new(struct station *sn)
{
	struct demand_desk *d = xcalloc(1, sizeof(*d));

	d->sn = sn;
	return d;
}

static void
forget(struct demand_desk *d)
{
	demand_free(d->model);
	d->model = NULL;
	known_fini(&d->known);
	memset(&d->known, 0, sizeof(d->known));
}

void
demand_desk_free(struct demand_desk *d)
{
	if (d != NULL)
		forget(d);
	free(d);
}

/* Learn what was known before a service, unless that is what is known. */
static enum rc
learn(struct demand_desk *d, day_no day, int sitting, struct err *err)
{
	day_no newest_day;
	int64_t newest;
	enum rc rc;

	if (d->model != NULL) {
		rc = known_newest(
		    &newest, &newest_day, d->sn, day, sitting, err);
		if (rc != RC_OK || newest == d->known.newest)
			return rc;
	}
	forget(d);
	if ((rc = known_load(&d->known, d->sn, day, sitting, err)) != RC_OK)
		return rc;
	d->record = known_record(&d->known);
	return demand_learn(&d->model, &d->record, err);
}

static enum rc
answer(struct demand_report *r, struct demand_desk *d, const struct service *s,
    struct err *err)
{
	struct coming *c = xcalloc(1, sizeof(*c));
	struct demand_forecast f;
	enum rc rc;

	rc = load_coming(c, &d->known, d->sn, s, err);
	if (rc == RC_OK)
		rc = demand_forecast(
		    &f, d->model, c->asked, c->count, d->known.values, err);
	if (rc == RC_OK) {
		put_report(r, &d->known, c, &f);
		demand_forecast_fini(&f);
	}
	coming_fini(c);
	free(c);
	return rc;
}

enum rc
demand_at(struct demand_report *out, struct demand_desk *d, day_no day,
    const struct service_window *w, struct err *err)
{
	struct station *sn = d->sn;
	struct service s;
	char text[16];
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = service_get(&s, sn->st, day, w->name, err)) != RC_OK)
		return rc;
	if (s.covers > DEMAND_COVERS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%s/%s has %" PRId64 " covers: a forecast takes at most %d",
		    day_print(text, sizeof(text), day), w->name, s.covers,
		    DEMAND_COVERS_MAX);
	out->day = day;
	str_copy(out->service, sizeof(out->service), w->name);
	out->over = service_ends(w, day) <= clock_now(&sn->clock);
	out->booked = s.covers;
	out->typed = s.expected;
	rc = learn(d, day, sitting_of(&sn->cfg, w->name), err);
	return rc == RC_OK ? answer(out, d, &s, err) : rc;
}

enum rc
demand_of(struct demand_report *out, struct station *sn, day_no day,
    const struct service_window *w, struct err *err)
{
	struct demand_desk *d = demand_desk_new(sn);
	enum rc rc;

	rc = demand_at(out, d, day, w, err);
	demand_desk_free(d);
	return rc;
}

enum rc
demand_test(struct demand_score *out, struct station *sn, day_no day,
    const struct service_window *w, struct err *err)
{
	int sitting = w == NULL ? 0 : sitting_of(&sn->cfg, w->name);
	struct demand_record record;
	struct known k;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = known_load(&k, sn, day, sitting, err);
	if (rc == RC_OK) {
		record = known_record(&k);
		rc = demand_backtest(out, &record, k.values,
		    w == NULL ? DEMAND_UNKNOWN : sitting, RECORD_SERVICES_MAX,
		    err);
	}
	known_fini(&k);
	return rc;
}
