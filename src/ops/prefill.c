/* prefill.c - a supplier's label fills in the goods-in form. */
#include "prefill.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/scan.h"

/* Wrong, or readable in two ways; a missing partner may be elsewhere. */
static enum rc
check_scan(const struct gs1_scan *s, struct err *err)
{
	size_t i;

	if (s->kind == GS1_UNKNOWN || s->kind == GS1_OWN_BATCH ||
	    s->kind == GS1_OWN_PORTION)
		return err_set(
		    err, RC_INVALID, 0, "--scan: this is no supplier's label");
	for (i = 0; i < s->problem_count; i++)
		if (s->problems[i].grade == GS1_BAD)
			return err_set(err, RC_INVALID, 0, "--scan: %s",
			    s->problems[i].text);
	return RC_OK;
}

static void
fill(const char **field, const char *text)
{
	if (*field == NULL && text[0] != '\0')
		*field = text;
}

static void
fill_day(const char **field, char room[16], day_no day)
{
	if (*field == NULL && day != DAY_NONE)
		*field = day_print(room, 16, day);
}

/*
 * Supplier's dates are whole days here.  A use-by with a time before the day's
 * end (AI 7003) is the day before: the shorter date.
 */
static day_no
whole_day(const struct gs1_prefill *g)
{
	bool cut = g->use_by_min >= 0 && g->use_by_min < 23 * 60 + 59;

	return g->use_by != DAY_NONE && cut ? g->use_by - 1 : g->use_by;
}

static void
fill_form(struct receive_in *in, struct prefill *room)
{
	const struct gs1_prefill *g = &room->got;

	fill(&in->species, g->species);
	fill(&in->lot, g->lot);
	fill(&in->area, g->area);
	fill(&in->gear, g->gear);
	if (g->net_g > 0)
		str_fmt(
		    room->weight, sizeof(room->weight), "%" PRId64, g->net_g);
	fill(&in->weight, room->weight);
	if (g->count > 0)
		str_fmt(room->count, sizeof(room->count), "%" PRId64, g->count);
	fill(&in->count, room->count);
	room->last_day = whole_day(g);
	fill_day(&in->supplier_date, room->use_by, room->last_day);
	/* Several days of harvest: the first is the oldest fish. */
	fill_day(&in->caught, room->caught, g->harvest_first);
}

enum rc
prefill(struct receive_in *in, struct prefill *room, const struct station *sn,
    struct err *err)
{
	struct gs1_scan *scans;
	struct gs1_reader reader;
	size_t i;
	enum rc rc;

	memset(room, 0, sizeof(*room));
	if (in->scan_count == 0)
		return RC_OK;
	if ((rc = scan_reader(&reader, sn, err)) != RC_OK)
		return rc;
	scans = xcalloc(in->scan_count, sizeof(*scans));
	for (i = 0; i < in->scan_count && rc == RC_OK; i++) {
		gs1_read(
		    &scans[i], in->scans[i], strlen(in->scans[i]), &reader);
		rc = check_scan(&scans[i], err);
		if (rc == RC_OK && i > 0)
			gs1_join(&scans[0], &scans[i]);
	}
	if (rc == RC_OK)
		rc = check_scan(&scans[0], err);
	if (rc == RC_OK) {
		gs1_prefill_from(&room->got, &scans[0]);
		fill_form(in, room);
	}
	free(scans);
	return rc;
}
