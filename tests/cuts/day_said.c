/* day_said.c - what the steps of the day said. */
#include "base/str.h"
#include "day_in.h"

void
audits(struct day *d, int64_t more)
{
	char want[24];

	d->c.audits += more;
	str_fmt(want, sizeof(want), "%lld", (long long)d->c.audits);
	day_fact(d, want,
	    "SELECT count(*) FROM audit WHERE action NOT IN ('start')");
}

void
events(struct day *d, int64_t more)
{
	char want[24];

	d->c.events += more;
	str_fmt(want, sizeof(want), "%lld", (long long)d->c.events);
	day_fact(d, want,
	    "SELECT count(*) FROM portion_event WHERE kind <> 'struck'");
}

void
batch_said(struct day *d, const struct batch *b, const char *lot)
{
	char want[200];

	str_fmt(want, sizeof(want), "%s %lld %lld %s %lld %s %s", b->species,
	    (long long)b->count, (long long)b->weight_g, lot,
	    (long long)b->use_by_utc, decision_word(b->decision),
	    b->received.by);
	day_fact(d, want,
	    "SELECT species || ' ' || count || ' ' || weight_g || ' ' || lot"
	    " || ' ' || use_by_utc || ' ' || decision || ' ' || by"
	    " FROM batch WHERE code = '%s'",
	    b->code);
	d->c.batches++;
	str_fmt(want, sizeof(want), "%lld", (long long)d->c.batches);
	day_fact(d, want, "SELECT count(*) FROM batch");
	audits(d, 1);
}

void
left_said(struct day *d, const char *code, int64_t left)
{
	char want[24];

	str_fmt(want, sizeof(want), "%lld", (long long)left);
	day_fact(d, want, "SELECT left FROM portion WHERE code = '%s'", code);
}

void
unit_said(struct day *d, const struct portion *p)
{
	char want[120];

	str_fmt(want, sizeof(want), "%lld %lld %s", (long long)p->servings,
	    (long long)p->weight_g, p->batch);
	day_fact(d, want,
	    "SELECT p.servings || ' ' || p.weight_g || ' ' || b.code"
	    " FROM portion p JOIN batch b ON b.id = p.batch_id"
	    " WHERE p.code = '%s'",
	    p->code);
	str_fmt(want, sizeof(want), "%lld", (long long)p->use_by_utc);
	day_fact(d, want, "SELECT use_by_utc FROM portion WHERE code = '%s'",
	    p->code);
	left_said(d, p->code, p->left);
}

void
jobs_said(struct day *d, const struct job_list *jobs)
{
	size_t i;

	for (i = 0; i < jobs->count; i++)
		day_fact(d, job_state_word(jobs->items[i].state),
		    "SELECT state FROM print_job WHERE id = %lld",
		    (long long)jobs->items[i].id);
}

void
held_said(struct day *d, int64_t open)
{
	char want[24];

	str_fmt(want, sizeof(want), "%lld", (long long)open);
	day_fact(
	    d, want, "SELECT count(*) FROM hold WHERE released_utc IS NULL");
	audits(d, 1);
}
