/* cmd_prep.c - record a breakdown. */
#include "cmds.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/breakdown.h"
#include "ops/label.h"
#include "ops/queue.h"
#include "weighing.h"

static const struct opt options[] = {
	{ "fish", "N", "fish taken; leave out for a batch by weight" },
	{ "which", "LIST", "numbers of fish weighed one by one: 3,5" },
	{ "weight", "WEIGHT", "weighed in" },
	{ "weigh", NULL, "--weight from the scale" },
	WEIGHING_WAIT_OPT,
	{ "with", "WHAT",
	    "another batch with it: BATCH:FISH:WEIGHT; repeatable" },
	{ "make", "WHAT",
	    "DISH:PORTIONS:WEIGHT[:PER_LABEL]; may be given again" },
	{ "trim", "WEIGHT", "usable offcuts kept" },
	{ "frames", "WEIGHT", "bones and heads for stock" },
	{ "waste", "WEIGHT", "thrown away" },
	{ "yield-ok", NULL, "record a yield that cannot be, learn nothing" },
	{ "note", "TEXT", "anything worth knowing later" },
	{ "minutes", "N", "it took; the station learns the kitchen's pace" },
	{ "minutes-ok", NULL,
	    "keep unlikely minutes, learn nothing from them" },
	{ "frozen", "TIME", "served raw: put in the freezer" },
	{ "thawed", "TIME", "served raw: taken out" },
	{ "freeze-c", "DEGREES", "served raw: temperature it was frozen at" },
	{ "feed-statement", "REF", "served raw, farmed: supplier's statement" },
	{ "print", NULL, "print every label at once" },
	CMD_LABEL_OPTIONS,
	{ NULL, NULL, NULL },
};

static enum rc
read_makes(struct breakdown_in *in, char texts[][80], const struct args *a,
    struct err *err)
{
	const char *s;
	enum rc rc;

	while ((s = args_nth(a, "make", in->make_count)) != NULL) {
		if (in->make_count == BREAKDOWN_MAKES_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d --make", BREAKDOWN_MAKES_MAX);
		if (!str_copy(texts[in->make_count], 80, s))
			return err_set(err, RC_INVALID, 0,
			    "--make \"%.40s...\" is too long", s);
		rc = make_parse(
		    &in->makes[in->make_count], texts[in->make_count], err);
		if (rc != RC_OK)
			return rc;
		in->make_count++;
	}
	return RC_OK;
}

static enum rc
read_with(struct breakdown_in *in, char texts[][80], const struct args *a,
    struct err *err)
{
	const char *s;
	size_t n;
	enum rc rc;

	while ((s = args_nth(a, "with", in->with_count)) != NULL) {
		n = in->with_count;
		if (n == BREAKDOWN_WITH_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d --with", BREAKDOWN_WITH_MAX);
		if (!str_copy(texts[n], 80, s))
			return err_set(err, RC_INVALID, 0,
			    "--with \"%.40s...\" is too long", s);
		if ((rc = with_parse(&in->with[n], texts[n], err)) != RC_OK)
			return rc;
		in->with_count++;
	}
	return RC_OK;
}

/* Texts that what was read is kept in. */
struct texts {
	char makes[BREAKDOWN_MAKES_MAX][80];
	char with[BREAKDOWN_WITH_MAX][80];
};

static enum rc
read_in(struct breakdown_in *in, struct texts *texts, const struct args *a,
    struct err *err)
{
	enum rc rc;

	in->batch = a->operand[0];
	in->which = args_get(a, "which");
	in->yield_ok = args_flag(a, "yield-ok");
	in->note = args_get(a, "note");
	in->frozen = args_get(a, "frozen");
	in->thawed = args_get(a, "thawed");
	in->freeze_c = args_get(a, "freeze-c");
	in->feed_statement = args_get(a, "feed-statement");
	if ((rc = cmd_by(&in->by, a, err)) != RC_OK ||
	    (rc = args_weight(&in->weight_g, a, "weight", err)) != RC_OK ||
	    (rc = args_int(&in->fish, a, "fish", 1, COUNT_MAX, err)) != RC_OK ||
	    (rc = args_weight(&in->loss_g[LOSS_TRIM], a, "trim", err)) !=
		RC_OK ||
	    (rc = args_weight(&in->loss_g[LOSS_FRAMES], a, "frames", err)) !=
		RC_OK ||
	    (rc = args_weight(&in->loss_g[LOSS_WASTE], a, "waste", err)) !=
		RC_OK ||
	    (rc = args_int(&in->minutes, a, "minutes", 1, BREAKDOWN_MINUTES_MAX,
		 err)) != RC_OK)
		return rc;
	in->minutes_ok = args_flag(a, "minutes-ok");
	if ((rc = read_with(in, texts->with, a, err)) != RC_OK)
		return rc;
	return read_makes(in, texts->makes, a, err);
}

/* The weight keyed, or the one on the scale. */
static enum rc
weigh_in_place(struct weighing *got, struct breakdown_in *in,
    struct station *sn, const struct args *a, struct err *err)
{
	const char *weight = args_get(a, "weight");
	enum rc rc;

	if (!args_flag(a, "weigh"))
		return args_want(&weight, a, "weight", err);
	if (weight != NULL)
		return err_set(
		    err, RC_INVALID, 0, "--weigh does not go with --weight");
	if ((rc = weighing_take(got, sn, a, 0, err)) == RC_OK)
		in->weight_g = got->total;
	return rc;
}

static const char *const verdict_words[] = {
	[YIELD_TAUGHT_NOTHING] = "nothing to learn",
	[YIELD_LEARNED] = "learned",
	[YIELD_SET_ASIDE] = "set aside",
};

static void
put_yield_json(struct jsonw *w, const struct breakdown *b)
{
	const struct yield_taught *y = &b->yield;

	jsonw_object(w, "yield");
	jsonw_str(w, "verdict", verdict_words[y->verdict]);
	if (y->verdict != YIELD_TAUGHT_NOTHING) {
		jsonw_str(w, "from", yield_form_word(y->key.from));
		jsonw_str(w, "to", y->key.cut);
		jsonw_int(w, "observed_per_10000", y->observed_bp);
		jsonw_int(w, "expected_per_10000", y->expected_bp);
		jsonw_int(w, "breakdowns", y->count);
	}
	jsonw_end(w);
	jsonw_bool(w, "weights_lost", b->weights_lost);
}

static void
put_yield_text(struct buf *out, const struct breakdown *b)
{
	const struct yield_taught *y = &b->yield;
	char seen[32], want[32];

	if (y->verdict != YIELD_TAUGHT_NOTHING) {
		buf_printf(out, "yield %s to %s: %s",
		    yield_form_word(y->key.from), y->key.cut,
		    percent_print(seen, sizeof(seen), y->observed_bp));
		if (y->expected_bp > 0)
			buf_printf(out, ", %s expected",
			    percent_print(want, sizeof(want), y->expected_bp));
		buf_printf(out, "; %s\n", verdict_words[y->verdict]);
	}
	if (b->weights_lost)
		buf_puts(out,
		    "the fish left are no longer known one by one: --which "
		    "names those taken\n");
}

static int64_t
expected_minutes(const struct breakdown *b)
{
	return div_up(b->pace.expected_s, 60);
}

/* The other batches on the board, as they are after it. */
static void
put_with_json(struct jsonw *w, const struct breakdown *b)
{
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, "with");
	for (i = 0; i < b->with_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "batch", code_show(code, b->with[i].code));
		jsonw_int(w, "batch_left_g", b->with[i].weight_left);
		jsonw_int(w, "batch_left_fish", b->with[i].count_left);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
put_json(struct buf *out, const struct breakdown *b)
{
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];
	size_t i;

	jsonw_int(w, "breakdown", b->prep.id);
	jsonw_str(w, "batch", code_show(code, b->batch.code));
	jsonw_int(w, "in_g", b->prep.all_g);
	put_with_json(w, b);
	jsonw_int(w, "unexplained_g", b->unexplained_g);
	jsonw_int(w, "batch_left_g", b->batch.weight_left);
	jsonw_int(w, "batch_left_fish", b->batch.count_left);
	jsonw_str(w, "caution", b->caution);
	put_yield_json(w, b);
	if (b->pace.minutes > 0) {
		jsonw_int(w, "minutes", b->pace.minutes);
		if (b->pace.expected_s > 0)
			jsonw_int(w, "minutes_expected", expected_minutes(b));
		jsonw_bool(w, "minutes_learned", b->pace.taught);
	}
	jsonw_array(w, "portions");
	for (i = 0; i < b->portion_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, b->portions[i].code));
		jsonw_str(w, "batch", code_show(code, b->portions[i].batch));
		jsonw_str(w, "also", b->portions[i].also);
		jsonw_str(w, "dish", b->portions[i].dish);
		jsonw_int(w, "servings", b->portions[i].servings);
		jsonw_int(w, "weight_g", b->portions[i].weight_g);
		jsonw_time(w, "use_by", b->portions[i].use_by_utc);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_minutes(struct buf *out, const struct breakdown *b)
{
	buf_printf(out, "%" PRId64 " minutes", b->pace.minutes);
	if (b->pace.expected_s > 0)
		buf_printf(
		    out, ", about %" PRId64 " expected", expected_minutes(b));
	buf_puts(
	    out, b->pace.taught ? ": learned\n" : ": kept, not learned from\n");
}

/* What is left of a batch; of several each says which. */
static void
put_left(struct buf *out, const struct batch *b, bool named)
{
	char code[CODE_SIZE], w[32], of[CODE_SIZE + 8] = "";

	if (named)
		str_fmt(of, sizeof(of), " of %s", code_show(code, b->code));
	if (b->count > 0)
		buf_printf(out, "; %" PRId64 " fish left%s", b->count_left, of);
	else
		buf_printf(out, "; %s left%s",
		    weight_print(w, sizeof(w), b->weight_left), of);
}

/* Whose date it is: the first to expire binds. */
static void
put_mixed(struct buf *out, const struct breakdown *b)
{
	char code[CODE_SIZE];

	if (b->portion_count > 0 && b->portions[0].others > 0)
		buf_printf(out,
		    "mixed: every label names %s + %s; the date is that of "
		    "the first\n",
		    code_show(code, b->portions[0].batch), b->portions[0].also);
}

static void
put_text(struct buf *out, const struct breakdown *b)
{
	const struct portion *p;
	char code[CODE_SIZE], when[48], w[32];
	size_t i;

	for (i = 0; i < b->portion_count; i++) {
		p = &b->portions[i];
		buf_printf(out,
		    "%s  %s, %" PRId64 " portion%s, %" PRId64 " g, use by %s\n",
		    code_show(code, p->code), p->dish_name, p->servings,
		    p->servings == 1 ? "" : "s", p->weight_g,
		    time_short(when, sizeof(when), p->use_by_utc));
	}
	buf_printf(out, "breakdown %" PRId64 " of batch %s", b->prep.id,
	    code_show(code, b->batch.code));
	for (i = 0; i < b->with_count; i++)
		buf_printf(out, " with %s", code_show(code, b->with[i].code));
	buf_printf(out, ": %s in, ", weight_print(w, sizeof(w), b->prep.all_g));
	if (b->unexplained_g == 0)
		buf_puts(out, "all explained");
	else
		buf_printf(out, "%" PRId64 " g unexplained", b->unexplained_g);
	put_left(out, &b->batch, b->with_count > 0);
	for (i = 0; i < b->with_count; i++)
		put_left(out, &b->with[i], true);
	buf_putc(out, '\n');
	put_mixed(out, b);
	put_yield_text(out, b);
	if (b->pace.minutes > 0)
		put_minutes(out, b);
	if (b->caution[0] != '\0')
		buf_printf(out, "look again: %s\n", b->caution);
}

/* Labels of all new units; the breakdown stands whatever the printer does. */
static enum rc
print_all(struct station *sn, const struct breakdown *b, const struct args *a,
    struct err *err)
{
	struct label_order order = { .want = LABEL_FIRST };
	const char **codes = xcalloc(b->portion_count, sizeof(*codes));
	struct job_list jobs = { 0 };
	size_t i;
	enum rc rc;

	for (i = 0; i < b->portion_count; i++)
		codes[i] = b->portions[i].code;
	order.codes = codes;
	order.count = b->portion_count;
	if ((rc = cmd_label_order(&order, a, err)) == RC_OK)
		rc = label_print(&jobs, sn, &order, err);
	if (rc != RC_OK)
		err_prefix(err,
		    "the breakdown is recorded, but of %zu labels only %zu "
		    "were printed: ",
		    b->portion_count, queue_count_out(&jobs));
	job_list_fini(&jobs);
	free(codes);
	return rc;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct texts texts;
	struct breakdown_in in = { 0 };
	struct weighing got = { .count = 0 };
	struct breakdown b;
	enum rc rc;

	if ((rc = read_in(&in, &texts, a, err)) != RC_OK ||
	    (rc = weigh_in_place(&got, &in, sn, a, err)) != RC_OK ||
	    (rc = breakdown_record(&b, sn, &in, err)) != RC_OK) {
		weighing_keep(out, &got, false);
		return rc;
	}
	if (a->format == FORMAT_JSON)
		put_json(out, &b);
	else
		put_text(out, &b);
	if (args_flag(a, "print"))
		rc = print_all(sn, &b, a, err);
	breakdown_fini(&b);
	return rc;
}

const struct cmd cmd_prep = {
	.name = "prep",
	.operands = "BATCH",
	.summary = "record a breakdown: a batch into portions and the rest",
	.help =
	    "Every gram in is accounted for: portions, trim, frames, waste, "
	    "or unexplained.\nDISH is a dish code of the menu; PORTIONS in "
	    "all; WEIGHT of all of them; PER_LABEL servings on one label (1 "
	    "labels each portion).\n--with: the tail of one batch and the "
	    "head of the next on one board, the same fish in the same "
	    "presentation.  What comes out is of all of them: its use-by is "
	    "the earliest any of them allows, a hold on any blocks it.\n"
	    "Knives: sharp blade, dry board, and the "
	    "house's own training first.",
	.options = options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
