/* trace_guess_say.c - the batches behind a plate, in words and for programs. */
#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/trace_page.h"

/* What is certain of it, and what is not. */
static void
put_sure(struct buf *out, const struct trace_guess *g)
{
	if (g->count == 0)
		buf_puts(out,
		    "No batch fits: none was scanned out, and "
		    "nothing of this dish was in date and on\nhand "
		    "then. Try the services before and after.\n");
	else if (g->scanned == 0)
		buf_puts(out,
		    "Not certain: none was scanned out for it. These "
		    "were in date and on hand then.\n");
	else if (g->sold < 0)
		buf_printf(out,
		    "Certain: %" PRId64
		    " were scanned out. Not known: whether "
		    "others were served without.\n",
		    g->scanned);
	else if (g->scanned >= g->sold)
		buf_printf(out,
		    "Certain: all %" PRId64
		    " sold were scanned "
		    "out.\n",
		    g->sold);
	else
		buf_printf(out,
		    "Certain: %" PRId64 " of %" PRId64
		    " sold were scanned "
		    "out. The others may be of any batch here.\n",
		    g->scanned, g->sold);
	if (g->at_utc != 0 && g->count > 0)
		buf_puts(out,
		    "What was scanned out after that time cannot have "
		    "been on the plate.\n");
}

static void
text(struct buf *out, const struct trace_guess *g)
{
	const struct trace_candidate *c;
	char code[CODE_SIZE], when[48];
	size_t i;

	buf_printf(out, "%s, %s", g->dish.name, g->service.word);
	if (g->at_utc != 0)
		buf_printf(out, ", plate at %s",
		    time_short(when, sizeof(when), g->at_utc));
	buf_putc(out, '\n');
	put_sure(out, g);
	for (i = 0; i < g->count; i++) {
		c = &g->items[i];
		buf_printf(out, "%-10s %s, %s, lot %s: %s\n",
		    code_show(code, c->is.batch), c->species, c->is.supplier,
		    c->is.lot, trace_odds_word(c->odds));
		if (g->at_utc != 0)
			buf_printf(out,
			    "%-10s scanned %" PRId64 " shortly before, %" PRId64
			    " earlier, %" PRId64 " after;",
			    "", c->near, c->earlier, c->after);
		else
			buf_printf(
			    out, "%-10s scanned %" PRId64 ";", "", c->near);
		buf_printf(out,
		    " on hand then %" PRId64 ", never scanned %" PRId64 "\n",
		    c->is.on_hand, c->unseen);
	}
}

static void
json(struct buf *out, const struct trace_guess *g)
{
	struct jsonw *w = jsonw_new_object();
	const struct trace_candidate *c;
	char code[CODE_SIZE];
	size_t i;

	jsonw_str(w, "dish", g->dish.code);
	jsonw_str(w, "service", g->service.word);
	if (g->at_utc == 0)
		jsonw_null(w, "at");
	else
		jsonw_time(w, "at", g->at_utc);
	if (g->sold < 0)
		jsonw_null(w, "sold");
	else
		jsonw_int(w, "sold", g->sold);
	jsonw_int(w, "scanned", g->scanned);
	jsonw_array(w, "batches");
	for (i = 0; i < g->count; i++) {
		c = &g->items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, c->is.batch));
		jsonw_str(w, "species", c->is.species_code);
		jsonw_str(w, "supplier", c->is.supplier);
		jsonw_str(w, "lot", c->is.lot);
		jsonw_str(w, "odds", trace_odds_word(c->odds));
		jsonw_int(w, "scanned_shortly_before", c->near);
		jsonw_int(w, "scanned_earlier", c->earlier);
		jsonw_int(w, "scanned_after", c->after);
		jsonw_int(w, "on_hand_then", c->is.on_hand);
		jsonw_int(w, "never_scanned", c->unseen);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

enum rc
trace_guess_say(struct buf *out, struct station *sn, const char *dish,
    const char *service, const char *at, enum format format, struct err *err)
{
	struct trace_guess g;
	enum rc rc = trace_guess_at(&g, sn, dish, service, at, err);

	if (rc != RC_OK)
		return rc;
	(format == FORMAT_JSON ? json : text)(out, &g);
	trace_guess_fini(&g);
	return buf_check(out, "the batches", err);
}
