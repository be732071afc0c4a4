/* breakdown.c - a batch worked into portions, trim, frames and waste. */
#include "ops/breakdown.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "base/clock.h"
#include "breakdown_inputs.h"
#include "mix.h"
#include "ops/rules.h"
#include "pace.h"
#include "store/drafts.h"
#include "store/menu.h"
#include "store/sources.h"
#include "store/store.h"
#include "teach.h"
#include "work_done.h"

/* A portion of less than a gram is a slip; so is a label for none or for more
 * than there are. */
static enum rc
make_check(const struct make *m, struct err *err)
{
	if (m->portions < 1 || m->weight_g < m->portions)
		return err_set(err, RC_INVALID, 0,
		    "%.40s: %" PRId64 " portions weigh %" PRId64
		    " g in all: check the weight",
		    m->dish, m->portions, m->weight_g);
	if (m->per_label < 1 || m->per_label > m->portions)
		return err_set(err, RC_INVALID, 0,
		    "%.40s: %" PRId64 " on a label of %" PRId64 " portions",
		    m->dish, m->per_label, m->portions);
	return RC_OK;
}

enum rc
make_parse(struct make *out, char *text, struct err *err)
{
	char *part[4] = { text, NULL, NULL, NULL };
	int i, n = 1;
	enum rc rc;

	for (; *text != '\0' && n < 5; text++)
		if (*text == ':') {
			*text = '\0';
			if (n < 4)
				part[n] = text + 1;
			n++;
		}
	if (n < 3 || n > 4)
		return err_set(err, RC_INVALID, 0,
		    "--make \"%.40s\": write DISH:PORTIONS:WEIGHT or "
		    "DISH:PORTIONS:WEIGHT:PER_LABEL",
		    part[0]);
	out->dish = part[0];
	if ((rc = int_parse(&out->portions, "--make portions", part[1], 1,
		 COUNT_MAX, err)) != RC_OK ||
	    (rc = weight_parse(
		 &out->weight_g, "--make weight", part[2], err)) != RC_OK)
		return rc;
	out->per_label = 1;
	for (i = 3; i < n; i++)
		if ((rc = int_parse(&out->per_label, "--make per label",
			 part[i], 1, out->portions, err)) != RC_OK)
			return rc;
	if ((rc = make_check(out, err)) != RC_OK)
		err_prefix(err, "--make ");
	return rc;
}

/* Everything out together never weighs more than what went in. */
static enum rc
balance(grams *unexplained, const struct breakdown_in *in, struct err *err)
{
	char out_text[32], in_text[32];
	grams out = 0, whole = breakdown_total_g(in);
	size_t i;
	enum rc rc;

	for (i = 0; i < in->make_count; i++) {
		if ((rc = make_check(&in->makes[i], err)) != RC_OK)
			return rc;
		out += in->makes[i].weight_g;
	}
	for (i = 0; i < LOSS_COUNT; i++)
		out += in->loss_g[i];
	if (out > whole)
		return err_set(err, RC_REFUSED, 0,
		    "%s came out of %s that went in: weigh again",
		    weight_print(out_text, sizeof(out_text), out),
		    weight_print(in_text, sizeof(in_text), whole));
	if (in->make_count == 0 && out == 0)
		return err_set(err, RC_INVALID, 0,
		    "nothing came out: give --make, --trim, --frames or "
		    "--waste");
	*unexplained = whole - out;
	return RC_OK;
}

static void
caution(struct breakdown *b, const struct make *m, const struct plan_cut *cut)
{
	char text[sizeof(b->caution)];
	grams mean = m->weight_g / m->portions;

	if (mean >= cut->low_g && mean <= cut->high_g)
		return;
	if (str_fmt(text, sizeof(text),
		"%s%s%s: a portion weighs %" PRId64 " g, the menu says %" PRId64
		" to %" PRId64 " g",
		b->caution, b->caution[0] == '\0' ? "" : "; ", cut->dish, mean,
		cut->low_g, cut->high_g))
		str_copy(b->caution, sizeof(b->caution), text);
}

/* A unit is filed under the batch whose date binds; the others are kept. */
static enum rc
insert_unit(struct station *sn, struct portion *p, const struct mix *m,
    const char *why, struct err *err)
{
	size_t i;
	enum rc rc = portion_insert(sn->st, p, why, err);

	for (i = 0; i < m->count && rc == RC_OK; i++)
		if (m->batches[i].id != p->batch_id)
			rc = portion_source_add(
			    sn->st, p->id, m->batches[i].id, err);
	return rc;
}

/* Label by label: servings and grams shared out so that the sums are exact. */
static enum rc
insert_units(struct breakdown *out, struct station *sn, const struct make *m,
    struct portion *p, const struct mix *mix, const char *why, struct err *err)
{
	int64_t done = 0;
	grams given = 0;
	size_t cap = out->portion_count; /* grown by one each time */
	enum rc rc;

	while (done < m->portions) {
		p->servings = m->portions - done < m->per_label
		    ? m->portions - done
		    : m->per_label;
		done += p->servings;
		p->weight_g = m->weight_g * done / m->portions - given;
		given += p->weight_g;
		if ((rc = insert_unit(sn, p, mix, why, err)) != RC_OK)
			return rc;
		out->portions =
		    grow(out->portions, &cap, out->portion_count, sizeof(*p));
		out->portions[out->portion_count++] = *p;
	}
	return RC_OK;
}

/* The batch a unit is filed under, and the others as people read them. */
static void
name_batches(struct portion *p, const struct mix *m, size_t first)
{
	char shown[CODE_SIZE];
	size_t i;

	p->batch_id = m->batches[first].id;
	p->others = (int)m->count - 1;
	str_copy(p->batch, sizeof(p->batch), m->batches[first].code);
	for (i = 0; i < m->count; i++)
		if (i != first)
			str_fmt(p->also + strlen(p->also),
			    sizeof(p->also) - strlen(p->also), "%s%s",
			    p->also[0] == '\0' ? "" : " + ",
			    code_show(shown, m->batches[i].code));
}

static enum rc
insert_make(struct breakdown *out, struct yield_part *part, struct station *sn,
    const struct mix *mix, const struct make *m, struct err *err)
{
	const struct batch *b = &mix->batches[0];
	struct mix_dates dates;
	struct plan_cut cut;
	struct portion p;
	struct buf why;
	enum rc rc;

	memset(&p, 0, sizeof(p));
	rc = cut_find(&cut, sn->st, m->dish, b->species, err);
	if (rc != RC_OK)
		return rc;
	caution(out, m, &cut);
	part->kind = cut.kind;
	part->skin_on = cut.skin_on;
	part->weight_g = m->weight_g;
	p.cut_id = cut.id;
	p.made = out->prep.at;
	p.frozen_utc = out->history.frozen_utc;
	p.thawed_utc = out->history.thawed_utc;
	str_copy(p.dish, sizeof(p.dish), cut.dish);
	str_copy(p.dish_name, sizeof(p.dish_name), cut.dish_name);
	str_copy(p.species, sizeof(p.species), b->species);
	rc = mix_portion(&dates, sn, mix, cut.state, &out->history, err);
	if (rc != RC_OK) {
		err_prefix(err, "%s: ", cut.dish);
		return rc;
	}
	name_batches(&p, mix, dates.first);
	p.use_by_utc = useby_utc(&dates.each[dates.first]);
	buf_init(&why, MIX_WHY_MAX);
	mix_json(&why, mix, &dates, &sn->rules, &out->history);
	if ((rc = buf_check(&why, "the use-by decision", err)) == RC_OK)
		rc = prep_output_insert(&p.prep_output_id, sn->st, out->prep.id,
		    cut.id, m->portions, m->weight_g, err);
	if (rc == RC_OK)
		rc = insert_units(out, sn, m, &p, mix, buf_text(&why), err);
	buf_fini(&why);
	return rc;
}

/* Yield and pace; which of them refused is told, with its figures.  Of several
 * batches they are of the sum (docs/rules.md R-M5). */
static enum rc
teach(struct breakdown *out, struct station *sn, const struct inputs *inputs,
    const struct yield_work *work, const struct breakdown_in *in,
    struct err *err)
{
	const struct batch *b = &inputs->mix.batches[0];
	struct breakdown_in sum = *in;
	enum rc rc;

	rc = yields_teach(&out->yield, sn, b, work, out->prep.id, in->yield_ok,
	    inputs_one_supplier(inputs), err);
	if (rc != RC_OK) {
		out->doubt = rc == RC_REFUSED ? DOUBT_YIELD : DOUBT_NOTHING;
		return rc;
	}
	sum.fish = work->fish;
	sum.weight_g = work->in_g;
	rc = pace_record(out, sn, b, &sum, err);
	if (rc == RC_REFUSED)
		out->doubt = DOUBT_MINUTES;
	return rc;
}

/* The task it did is ticked off, the form it was is forgotten. */
static enum rc
with_it(struct breakdown *out, struct station *sn,
    const struct breakdown_in *in, struct err *err)
{
	enum rc rc = RC_OK;

	if (in->task != NULL)
		rc = work_mark_done(
		    sn, in->task, out->prep.id, &out->prep.at, err);
	if (rc == RC_OK && in->draft != NULL)
		rc = draft_drop(sn->st, in->draft, err);
	return rc;
}

/* ", with 26338-024": the other batches, for the audit trail. */
static void
with_words(char *dst, size_t size, const struct mix *m)
{
	char shown[CODE_SIZE];
	size_t i;

	dst[0] = '\0';
	for (i = 1; i < m->count; i++)
		str_fmt(dst + strlen(dst), size - strlen(dst), ", with %s",
		    code_show(shown, m->batches[i].code));
}

static enum rc
record(struct breakdown *out, struct station *sn, const struct inputs *inputs,
    const struct weighed *which, const struct breakdown_in *in, struct err *err)
{
	const struct batch *b = &inputs->mix.batches[0];
	struct yield_part parts[BREAKDOWN_MAKES_MAX];
	struct yield_work work = {
		.species = b->species,
		.from = presentation_form(b->presentation),
		.parts = parts,
		.part_count = in->make_count,
		.trim_g = in->loss_g[LOSS_TRIM],
		.in_g = breakdown_total_g(in),
		.fish = breakdown_total_fish(in),
	};
	char shown[CODE_SIZE], with[PREP_ALSO_SIZE + 16];
	size_t i;
	enum rc rc;

	out->prep.batch_id = b->id;
	out->prep.fish = in->fish;
	out->prep.in_g = in->weight_g;
	out->prep.all_g = work.in_g;
	memcpy(out->prep.loss_g, in->loss_g, sizeof(in->loss_g));
	if ((rc = prep_insert(sn->st, &out->prep, err)) != RC_OK ||
	    (rc = inputs_record(sn, inputs, which, out->prep.id, err)) != RC_OK)
		return rc;
	for (i = 0; i < in->make_count; i++)
		if ((rc = insert_make(out, &parts[i], sn, &inputs->mix,
			 &in->makes[i], err)) != RC_OK)
			return rc;
	if ((rc = teach(out, sn, inputs, &work, in, err)) != RC_OK ||
	    (rc = with_it(out, sn, in, err)) != RC_OK)
		return rc;
	with_words(with, sizeof(with), &inputs->mix);
	return station_audit(sn, &out->prep.at, err, "prep",
	    code_show(shown, b->code),
	    "%" PRId64 " g in%s, %zu labelled units, %" PRId64
	    " g unexplained%s",
	    work.in_g, with, out->portion_count, out->unexplained_g,
	    out->yield.verdict == YIELD_SET_ASIDE ? ", yield set aside" : "");
}

/* The freeze record and feed statement that a dish served raw rests on. */
static enum rc
read_history(struct history *h, const struct breakdown_in *in, struct err *err)
{
	enum rc rc;

	if (in->feed_statement != NULL) {
		rc = text_check("--feed-statement", in->feed_statement,
		    sizeof(h->feed_statement) - 1, false, err);
		if (rc != RC_OK)
			return rc;
		str_copy(h->feed_statement, sizeof(h->feed_statement),
		    in->feed_statement);
	}
	h->frozen =
	    in->frozen != NULL || in->thawed != NULL || in->freeze_c != NULL;
	if (!h->frozen)
		return RC_OK;
	if (in->frozen == NULL || in->thawed == NULL || in->freeze_c == NULL)
		return err_set(err, RC_INVALID, 0,
		    "a freeze record needs --frozen, --thawed and --freeze-c");
	if ((rc = time_parse(&h->frozen_utc, "--frozen", in->frozen, err)) !=
		RC_OK ||
	    (rc = time_parse(&h->thawed_utc, "--thawed", in->thawed, err)) !=
		RC_OK)
		return rc;
	if (h->thawed_utc > h->made_utc)
		return err_set(err, RC_INVALID, 0,
		    "--thawed %.40s is in the future", in->thawed);
	return freezer_temp_parse(
	    &h->freeze_dc, "--freeze-c", in->freeze_c, err);
}

/* Nothing was recorded; why it was doubted stays. */
static void
forget(struct breakdown *b)
{
	struct breakdown kept = {
		.doubt = b->doubt, .yield = b->yield, .pace = b->pace
	};

	breakdown_fini(b);
	if (kept.doubt != DOUBT_NOTHING)
		*b = kept;
}

enum rc
breakdown_record(struct breakdown *out, struct station *sn,
    const struct breakdown_in *keyed, struct err *err)
{
	struct breakdown_in filled = *keyed, *in = &filled;
	struct weighed which[PREP_INPUTS_MAX];
	struct inputs inputs;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	for (i = 0; i < PREP_INPUTS_MAX; i++)
		which[i].count = 0;
	if ((rc = station_moment(&out->prep.at, sn, in->by, err)) != RC_OK)
		return rc;
	if (in->note != NULL &&
	    ((rc = text_check("--note", in->note, sizeof(out->prep.note) - 1,
		  true, err)) != RC_OK))
		return rc;
	str_copy(out->prep.note, sizeof(out->prep.note),
	    in->note == NULL ? "" : in->note);
	if (in->which != NULL) {
		if ((rc = weighed_which(which, in->which, err)) != RC_OK)
			return rc;
		if (in->fish == 0)
			in->fish = (int64_t)which[0].count;
	}
	out->history.made_utc = out->prep.at.utc;
	if ((rc = read_history(&out->history, in, err)) != RC_OK ||
	    (rc = balance(&out->unexplained_g, in, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = inputs_take(&inputs, sn, in, out->prep.at.utc, err)) !=
		RC_OK ||
	    (rc = inputs_fish(out, sn, &inputs, which, err)) != RC_OK ||
	    (rc = record(out, sn, &inputs, which, in, err)) != RC_OK ||
	    (rc = inputs_after(out, sn, &inputs, err)) != RC_OK)
		goto done;
	/* Last: what failed later would look like nothing was recorded, and
	 * be recorded twice. */
	rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	if (rc != RC_OK)
		forget(out);
	return rc;
}

void
breakdown_fini(struct breakdown *b)
{
	free(b->portions);
	memset(b, 0, sizeof(*b));
}
