/* cmd_receive.c - goods in. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "core/caution.h"
#include "ops/receive.h"
#include "weighing.h"

static const struct opt options[] = {
	{ "supplier", "CODE", "code or name, imported before" },
	{ "document", "NUMBER", "delivery note" },
	{ "species", "CODE", "FAO 3-alpha code or name" },
	{ "presentation", "WORD",
	    "whole, gutted, headed, fillet, live, shucked, ..." },
	{ "count", "N", "fish; leave out for goods by weight" },
	{ "weight", "WEIGHT", "of all of them: 850, 12.4kg" },
	{ "fish-weights", "LIST", "grams of each fish: 2100,1950,..." },
	{ "weigh", NULL, "--weight from the scale" },
	{ "weigh-each", NULL,
	    "--fish-weights from the scale, --count of them" },
	WEIGHING_WAIT_OPT,
	{ "price", "PRICE", "of a kilogram: 12.50" },
	{ "lot", "LOT", "supplier's lot" },
	{ "temperature", "DEGREES", "core, in degrees Celsius" },
	{ "area", "AREA", "catch area, FAO code or words" },
	{ "method", "WORD", "caught, caught-freshwater or farmed" },
	{ "gear", "WORDS", "fishing gear" },
	{ "caught", "DATE", "day of catch or harvest" },
	{ "supplier-date", "DATE", "supplier's use-by" },
	{ "dispatched", "DATE", "day the supplier sent it" },
	{ "vessel", "NAME", "vessel or farm" },
	{ "scan", "TEXT", "supplier's label, fills what is left out; again" },
	{ "mark", "WHAT=GRADE", "eye=a: extra, a, b, not-admitted; again" },
	{ "points", "WHAT=N", "quality index, skin=1: all of a scheme; again" },
	{ "size", "N", "smallest one: mm, or g where it is weighed" },
	{ "berried", NULL, "carries eggs" },
	{ "soft", NULL, "soft-shelled" },
	{ "notched", NULL, "V notch, or mutilated" },
	{ "accept", NULL, "take it in" },
	{ "note", "TEXT", "take it in with a note" },
	{ "refuse", "REASON", "send it back" },
	{ NULL, NULL, NULL },
};

/* Exactly one of --accept, --note, --refuse: the station decides nothing. */
static enum rc
decision(struct receive_in *in, const struct args *a, struct err *err)
{
	const char *note = args_get(a, "note"), *refuse = args_get(a, "refuse");
	int n = args_flag(a, "accept") + (note != NULL) + (refuse != NULL);

	if (n != 1)
		return err_set(err, RC_INVALID, 0,
		    "decide: one of --accept, --note TEXT or --refuse REASON");
	in->decision = refuse != NULL ? DECISION_REFUSED
	    : note != NULL            ? DECISION_NOTED
				      : DECISION_ACCEPTED;
	in->note = refuse != NULL ? refuse : note;
	return RC_OK;
}

/* Options that may be given again. */
static enum rc
lists(struct receive_in *in, const struct args *a, struct err *err)
{
	const char *s;

	while ((s = args_nth(a, "scan", in->scan_count)) != NULL) {
		if (in->scan_count == RECEIVE_SCANS_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d --scan", RECEIVE_SCANS_MAX);
		in->scans[in->scan_count++] = s;
	}
	while ((s = args_nth(a, "mark", in->seen.mark_count)) != NULL) {
		if (in->seen.mark_count == FRESHNESS_MARKS_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d --mark", FRESHNESS_MARKS_MAX);
		in->seen.marks[in->seen.mark_count++] = s;
	}
	while ((s = args_nth(a, "points", in->seen.point_count)) != NULL) {
		if (in->seen.point_count == QI_ATTRIBUTES_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d --points", QI_ATTRIBUTES_MAX);
		in->seen.points[in->seen.point_count++] = s;
	}
	return RC_OK;
}

/* The scale in place of --weight or --fish-weights; *each: fish by fish. */
static enum rc
weigh_in_place(struct weighing *got, bool *each, struct buf *text,
    struct receive_in *in, struct station *sn, const struct args *a,
    struct err *err)
{
	bool all = args_flag(a, "weigh");
	int64_t count = 0;
	enum rc rc;

	*each = args_flag(a, "weigh-each");
	if (!all && !*each)
		return RC_OK;
	if (all && (*each || in->weight != NULL))
		return err_set(err, RC_INVALID, 0,
		    "--weigh goes neither with --weight nor with --weigh-each");
	if (*each && in->fish_weights != NULL)
		return err_set(err, RC_INVALID, 0,
		    "--weigh-each does not go with --fish-weights");
	if (*each && in->count == NULL)
		return err_set(err, RC_INVALID, 0,
		    "--weigh-each needs --count: how many fish there are");
	if (*each &&
	    (rc = args_int(&count, a, "count", 1, WEIGH_MAX, err)) != RC_OK)
		return rc;
	if ((rc = weighing_take(got, sn, a, (size_t)count, err)) != RC_OK)
		return rc;
	if (*each)
		weigh_list(text, got);
	else
		buf_printf(text, "%" PRId64, got->total);
	*(*each ? &in->fish_weights : &in->weight) = buf_text(text);
	return RC_OK;
}

static void
put_json(struct buf *out, const struct batch *b, const struct judgement *j,
    const char *const *cautions, int n)
{
	struct buf seen;
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];
	int i;

	jsonw_str(w, "code", code_show(code, b->code));
	jsonw_str(w, "decision", decision_word(b->decision));
	jsonw_str(w, "species", b->species);
	jsonw_str(w, "presentation", presentation_word(b->presentation));
	jsonw_int(w, "fish", b->count);
	jsonw_int(w, "weight_g", b->weight_g);
	if (b->price < 0)
		jsonw_null(w, "price");
	else
		jsonw_int(w, "price", b->price);
	jsonw_time(w, "received", b->received.utc);
	jsonw_time(w, "use_by", b->use_by_utc);
	buf_init(&seen, 16384);
	judge_json(&seen, j);
	jsonw_raw(w, "judgement", buf_text(&seen));
	buf_fini(&seen);
	jsonw_array(w, "cautions");
	for (i = 0; i < n; i++)
		jsonw_str(w, NULL, cautions[i]);
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_text(struct buf *out, const struct batch *b, const struct judgement *j,
    const struct species *sp, const char *const *cautions, int n)
{
	char code[CODE_SIZE], w[32], when[48];
	int i;

	code_show(code, b->code);
	weight_print(w, sizeof(w), b->weight_g);
	if (b->decision == DECISION_REFUSED) {
		buf_printf(out, "refused %s as batch %s: %s\n%s\n", sp->name,
		    code, b->note, caution_general());
		return;
	}
	buf_printf(out, "batch %s  %s, %s, ", code, sp->name,
	    presentation_word(b->presentation));
	if (b->count > 0)
		buf_printf(out, "%" PRId64 " fish, ", b->count);
	buf_printf(out, "%s, use by %s\n", w,
	    time_short(when, sizeof(when), b->use_by_utc));
	judge_text(out, j);
	for (i = 0; i < n; i++)
		buf_printf(out, "caution: %s\n", cautions[i]);
	if (b->held)
		buf_puts(out,
		    "ON HOLD: its lot is being recalled, keep it apart "
		    "(pinbone trace tells why)\n");
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *cautions[CAUTIONS_MAX];
	const struct species *sp;
	struct receive_in in = {
		.supplier = args_get(a, "supplier"),
		.document = args_get(a, "document"),
		.species = args_get(a, "species"),
		.presentation = args_get(a, "presentation"),
		.count = args_get(a, "count"),
		.weight = args_get(a, "weight"),
		.fish_weights = args_get(a, "fish-weights"),
		.price = args_get(a, "price"),
		.lot = args_get(a, "lot"),
		.temp = args_get(a, "temperature"),
		.area = args_get(a, "area"),
		.method = args_get(a, "method"),
		.gear = args_get(a, "gear"),
		.caught = args_get(a, "caught"),
		.supplier_date = args_get(a, "supplier-date"),
		.dispatched = args_get(a, "dispatched"),
		.vessel = args_get(a, "vessel"),
		.seen = {
		    .size = args_get(a, "size"),
		    .berried = args_flag(a, "berried"),
		    .soft = args_flag(a, "soft"),
		    .notched = args_flag(a, "notched"),
		},
	};
	struct weighing got = { .count = 0 };
	struct judgement j;
	struct batch b;
	struct buf text;
	bool each = false;
	int n;
	enum rc rc;

	buf_init(&text, 4096);
	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = decision(&in, a, err)) != RC_OK ||
	    (rc = lists(&in, a, err)) != RC_OK ||
	    (rc = weigh_in_place(&got, &each, &text, &in, sn, a, err)) !=
		RC_OK ||
	    (rc = receive(&b, &j, sn, &in, err)) != RC_OK) {
		weighing_keep(out, &got, each);
		buf_fini(&text);
		return rc;
	}
	buf_fini(&text);
	sp = species_find(&sn->species, b.species);
	n = caution_list(cautions, sp, b.presentation);
	if (a->format == FORMAT_JSON)
		put_json(out, &b, &j, cautions, n);
	else
		put_text(out, &b, &j, sp, cautions, n);
	return RC_OK;
}

const struct cmd cmd_receive = {
	.name = "receive",
	.operands = "",
	.summary = "goods in: record a batch, accepted, noted or refused",
	.help =
	    "Look at eyes, gills, flesh and smell first; the station records "
	    "what you decide.\nA weight from the scale is what it shows, its "
	    "own "
	    "tare taken off; without a stable one nothing is recorded.",
	.options = options,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
