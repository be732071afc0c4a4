/* keeping.c - how long records must be kept, and what may go. */
#include "ops/keeping.h"

#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "keeping_limits.h"

/* Prunings told of. */
#define DONE_MAX 20

const char *
prune_stay_word(enum prune_stay why)
{
	static const char *const words[PRUNE_STAYS] = {
		[PRUNE_GOES] = "they may go",
		[PRUNE_YOUNG] = "something was recorded of them later",
		[PRUNE_ON_HAND] = "something of them is on hand",
		[PRUNE_HELD] = "they are on hold",
		[PRUNE_JOB] = "a label of them waits or asks for an answer",
		[PRUNE_CASE] = "a recall, complaint or drill speaks of them",
		[PRUNE_NEWEST] = "the newest of their kind",
		[PRUNE_TANGLED] = "too many hang together",
	};

	return words[why];
}

enum rc
keeping_limits(struct keeping_limits *out, struct station *sn, day_no before,
    struct err *err)
{
	char asked[16], latest[16];
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->latest = out->before = DAY_NONE;
	out->today = local_from_utc(clock_now(&sn->clock)).day;
	if ((rc = rules_keep(&out->rule, &sn->rules, &sn->cfg, err)) != RC_OK ||
	    out->rule.longest == 0)
		return rc;
	out->latest = out->today - out->rule.longest;
	out->before = before == DAY_NONE ? out->latest : before;
	if (out->before > out->latest)
		return err_set(err, RC_REFUSED, 0,
		    "%s: records are kept %d days (%s): %s is the latest day",
		    day_print(asked, sizeof(asked), before), out->rule.longest,
		    out->rule.binds,
		    day_print(latest, sizeof(latest), out->latest));
	return RC_OK;
}

static day_no
earlier(day_no a, day_no b)
{
	return a < b ? a : b;
}

struct prune_alone_wish
keeping_alone(const struct keeping_limits *l, enum prune_alone kind)
{
	static const enum keep_kind kinds[PRUNE_ALONE] = {
		[PRUNE_RECALLS] = KEEPING_CASES,
		[PRUNE_COMPLAINTS] = KEEPING_CASES,
		[PRUNE_DRILLS] = KEEPING_CASES,
		[PRUNE_SERVICES] = KEEPING_SALES,
		[PRUNE_LISTS] = KEEPING_LABELS,
		[PRUNE_CLOCKS] = KEEPING_CLOCKS,
	};
	struct prune_alone_wish w = { .kind = kind };

	w.before_day =
	    earlier(l->before, l->today - l->rule.duty[kinds[kind]].days);
	w.before_utc = utc_from_local(w.before_day, 0, 0, 0);
	return w;
}

/* Chains from before the day, oldest first. */
static enum rc
look_chains(struct keeping *k, struct prune *p, int64_t most, struct err *err)
{
	int64_t before = utc_from_local(k->before, 0, 0, 0), id = 0, seen = 0;
	struct prune_chain c;
	enum rc rc;

	while ((rc = prune_next(&id, p, id, before, err)) == RC_OK) {
		if (most > 0 && seen++ == most) {
			k->more = true;
			return RC_OK;
		}
		rc = prune_chain_read(&c, p, id, before, err);
		/* Each once: at its oldest batch. */
		if (rc == RC_OK && prune_chain_first(&c) == id)
			k->stays[c.stay]++;
		if (rc == RC_OK && prune_chain_first(&c) == id &&
		    c.stay == PRUNE_GOES)
			prune_chain_add(&k->may, &c);
		prune_chain_fini(&c);
		if (rc != RC_OK)
			return rc;
	}
	return rc == RC_END ? RC_OK : rc;
}

static enum rc
look_alone(struct keeping *k, const struct keeping_limits *l, struct prune *p,
    int64_t most, struct err *err)
{
	struct prune_alone_wish w;
	int i;
	enum rc rc = RC_OK;

	for (i = 0; i < PRUNE_ALONE && rc == RC_OK; i++) {
		w = keeping_alone(l, (enum prune_alone)i);
		w.most = most > 0 ? most : INT32_MAX;
		rc = prune_alone(&k->may, p, &w, err);
	}
	return rc;
}

enum rc
keeping_look(struct keeping *out, struct station *sn, day_no before,
    int64_t most, struct err *err)
{
	struct keeping_limits l;
	struct prune *p = NULL;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->may.from_day = out->may.to_day = DAY_NONE;
	rc = keeping_limits(&l, sn, before, err);
	out->rule = l.rule;
	out->today = l.today;
	out->latest = l.latest;
	out->before = l.before;
	if (rc != RC_OK ||
	    (rc = pruning_list_open(&out->done, sn->st, DONE_MAX, err)) !=
		RC_OK ||
	    out->latest == DAY_NONE)
		return rc;
	if ((rc = prune_open(&p, sn->st, err)) == RC_OK &&
	    (rc = look_chains(out, p, most, err)) == RC_OK)
		rc = look_alone(out, &l, p, most, err);
	prune_close(p);
	return rc;
}

void
keeping_fini(struct keeping *k)
{
	pruning_list_fini(&k->done);
}

/* --- told ------------------------------------------------------------------*/

static const struct {
	const char *key, *word;
	size_t at;
} counts[] = {
	{ "batches", "batches", offsetof(struct prune_sum, batches) },
	{ "breakdowns", "breakdowns", offsetof(struct prune_sum, breakdowns) },
	{ "units", "labelled units", offsetof(struct prune_sum, units) },
	{ "cases", "recalls, complaints, drills",
	    offsetof(struct prune_sum, cases) },
	{ "services", "services", offsetof(struct prune_sum, services) },
	{ "lists", "printed lists", offsetof(struct prune_sum, lists) },
	{ "clock_checks", "dates confirmed",
	    offsetof(struct prune_sum, clock_checks) },
};

#define COUNTS (sizeof(counts) / sizeof(counts[0]))

static int64_t
count_of(const struct prune_sum *s, size_t i)
{
	int64_t n;

	memcpy(&n, (const char *)s + counts[i].at, sizeof(n));
	return n;
}

static void
put_day(struct jsonw *w, const char *key, day_no day)
{
	char text[16];

	if (day == DAY_NONE)
		jsonw_null(w, key);
	else
		jsonw_str(w, key, day_print(text, sizeof(text), day));
}

static void
put_sum(struct jsonw *w, const struct prune_sum *s)
{
	size_t i;

	put_day(w, "from", s->from_day);
	put_day(w, "to", s->to_day);
	for (i = 0; i < COUNTS; i++)
		jsonw_int(w, counts[i].key, count_of(s, i));
}

static void
put_done(struct jsonw *w, const struct pruning_list *l)
{
	const struct pruning_row *r;
	size_t i;

	jsonw_array(w, "done");
	for (i = 0; i < l->count; i++) {
		r = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_time(w, "at", r->at.utc);
		jsonw_str(w, "by", r->at.by);
		put_day(w, "before", local_from_utc(r->before_utc).day);
		jsonw_str(w, "rule", r->rule);
		jsonw_str(w, "backup", r->backup);
		put_sum(w, &r->sum);
		jsonw_int(w, "rows", r->sum.rows);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
put_json(struct buf *out, const struct keeping *k)
{
	struct jsonw *w = jsonw_new_object();
	const struct keep_duty *d;
	int i;

	jsonw_int(w, "longest_days", k->rule.longest);
	jsonw_str(w, "binds", k->rule.binds);
	put_day(w, "before", k->before);
	jsonw_array(w, "duties");
	for (i = 0; i < KEEPING_COUNT; i++) {
		d = &k->rule.duty[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "of", keep_kind_word((enum keep_kind)i));
		jsonw_int(w, "law_days", d->law == NULL ? 0 : d->law->value);
		jsonw_int(w, "house_days", d->house_days);
		jsonw_int(w, "days", d->days);
		jsonw_str(w, "source", d->law == NULL ? "" : d->law->source);
		jsonw_bool(w, "verified", d->law != NULL && d->law->verified);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_object(w, "may_go");
	put_sum(w, &k->may);
	jsonw_end(w);
	jsonw_array(w, "stays");
	for (i = PRUNE_GOES + 1; i < PRUNE_STAYS; i++) {
		if (k->stays[i] == 0)
			continue;
		jsonw_object(w, NULL);
		jsonw_int(w, "chains", k->stays[i]);
		jsonw_str(w, "why", prune_stay_word((enum prune_stay)i));
		jsonw_end(w);
	}
	jsonw_end(w);
	put_done(w, &k->done);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

void
prune_sum_show(struct buf *out, const struct prune_sum *s, enum format format)
{
	char from[16], to[16];
	struct jsonw *w;
	size_t i;

	if (format == FORMAT_JSON) {
		w = jsonw_new_object();
		put_sum(w, s);
		jsonw_int(w, "rows", s->rows);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return;
	}
	if (s->from_day == DAY_NONE) {
		buf_puts(out, "  nothing\n");
		return;
	}
	for (i = 0; i < COUNTS; i++)
		if (count_of(s, i) > 0)
			buf_printf(out, "  %s: %lld\n", counts[i].word,
			    (long long)count_of(s, i));
	buf_printf(out, "  from %s to %s\n",
	    day_print(from, sizeof(from), s->from_day),
	    day_print(to, sizeof(to), s->to_day));
}

/* "731 days  shellfish tags (90 by US FDA Food Code)" */
static void
put_duties(struct buf *out, const struct keep_rule *r)
{
	const struct keep_duty *d;
	int i;

	for (i = 0; i < KEEPING_COUNT; i++) {
		d = &r->duty[i];
		buf_printf(out, "%6d days  %s", d->days,
		    keep_kind_word((enum keep_kind)i));
		if (d->law != NULL)
			buf_printf(out, " (%d by %s%s)", d->law->value,
			    d->law->source,
			    d->law->verified ? "" : ", unverified");
		if (d->house_days > 0)
			buf_printf(out, " (house: %d)", d->house_days);
		buf_puts(out, "\n");
	}
}

void
keeping_show(struct buf *out, const struct keeping *k, enum format format)
{
	char day[16], from[16], to[16];
	const struct pruning_row *r;
	size_t i;
	int j;

	if (format == FORMAT_JSON) {
		put_json(out, k);
		return;
	}
	buf_puts(out, "Kept at least:\n");
	put_duties(out, &k->rule);
	if (k->latest == DAY_NONE) {
		buf_puts(out,
		    "The rule set states no duty, so nothing may go: say it in "
		    "[keeping] records_days.\n");
		return;
	}
	buf_printf(out,
	    "The longest binds: %d days, %s.\n"
	    "May go, of before %s%s:\n",
	    k->rule.longest, k->rule.binds,
	    day_print(day, sizeof(day), k->before),
	    k->more ? ", as far as looked at" : "");
	prune_sum_show(out, &k->may, FORMAT_TEXT);
	for (j = PRUNE_GOES + 1; j < PRUNE_STAYS; j++)
		if (k->stays[j] > 0)
			buf_printf(out, "  stays: %lld, %s\n",
			    (long long)k->stays[j],
			    prune_stay_word((enum prune_stay)j));
	for (i = 0; i < k->done.count; i++) {
		r = &k->done.items[i];
		buf_printf(out,
		    "Pruned on %s by %s: batches %lld, rows in all %lld, from "
		    "%s to %s\n",
		    day_print(day, sizeof(day), local_from_utc(r->at.utc).day),
		    r->at.by, (long long)r->sum.batches, (long long)r->sum.rows,
		    day_print(from, sizeof(from), r->sum.from_day),
		    day_print(to, sizeof(to), r->sum.to_day));
	}
}
