/* trail_later.c - what a day may hold after its service: several batches on one
 * board, trays put together, a complaint, a recall, a drill, papers. */
#include "trail_rig.h"

#include <check.h>
#include <string.h>

#include "base/str.h"
#include "ops/balance.h"
#include "ops/combine.h"
#include "ops/complaint.h"
#include "ops/drill.h"
#include "ops/hold.h"
#include "ops/papers.h"
#include "ops/place.h"
#include "ops/recall.h"
#include "unit.h"

#define MUST(call)                                                             \
	do {                                                                   \
		struct err err = { 0 };                                        \
		ck_assert_msg((call) == RC_OK, "%s: %s", #call, err.text);     \
	} while (0)

/* Its breakdown has grams nobody has explained. */
static int64_t
boards(struct kitchen *k, const struct batch cod[2])
{
	struct breakdown_in mixed = { .batch = cod[0].code,
		.fish = 2,
		.weight_g = 4000,
		.makes = { { "cod-leeks", 10, 1650, 5 } },
		.make_count = 1,
		.loss_g = { 0, 1400, 2500 },
		.with = { { cod[1].code, 1, 2000 } },
		.with_count = 1,
		.yield_ok = true,
		.by = "AB" };
	struct breakdown b;
	struct combined tray;
	char place[PLACE_SIZE];
	int64_t prep;

	MUST(breakdown_record(&b, k->sn, &mixed, &err));
	ck_assert_uint_eq(b.portion_count, 2);
	{
		const char *codes[] = { b.portions[0].code,
			b.portions[1].code };
		struct combine_in in = { codes, 2, "CD" };

		MUST(combine(&tray, k->sn, &in, &err));
	}
	{
		const char *codes[] = { tray.tray.code };
		struct move_in in = { codes, 1, "fridge", "CD" };

		MUST(move(place, k->sn, &in, &err));
	}
	prep = b.prep.id;
	breakdown_fini(&b);
	return prep;
}

static void
trouble(struct kitchen *k, const struct batch cod[2])
{
	struct complaint_in said = { .code = cod[0].code,
		.what = "a bone",
		.place = "table 4",
		.hold = true,
		.by = "CD" };
	const char *codes[] = { cod[1].code };
	struct recall_in call = {
		.codes = codes, .count = 1, .reason = "late ice", .by = "AB"
	};
	struct recall_close_in end = { .outcome = "discarded",
		.reason = "some were served",
		.by = "AB" };
	struct complaint_taken taken;
	struct recall_brief brief;
	struct recall_scan scan;
	struct recall_closed closed;
	int64_t id;

	MUST(complaint_add(&taken, k->sn, &said, &err));
	MUST(complaint_note(
	    k->sn, taken.complaint.id, "a pin bone", false, "AB", &err));
	MUST(complaint_note(
	    k->sn, taken.complaint.id, "new plate", true, "AB", &err));
	MUST(recall_open(&brief, k->sn, &call, &err));
	id = brief.recall.id;
	MUST(recall_tick(&scan, k->sn, id, cod[1].code, 0, "CD", &err));
	MUST(recall_note(k->sn, id, "driver asked", "AB", &err));
	end.id = id;
	MUST(recall_close(&closed, k->sn, &end, &err));
}

void
rig_later(struct kitchen *k)
{
	struct receive_in in = kitchen_cod();
	struct drill_in drill = { .by = "EF" };
	struct drill_report found;
	struct batch cod[2];
	char prep[24];
	grams gap;

	in.document = "DN 4480";
	cod[0] = kitchen_receive(k, &in);
	cod[1] = kitchen_receive(k, &in);
	str_fmt(prep, sizeof(prep), "%lld", (long long)boards(k, cod));
	trouble(k, cod);
	drill.code = cod[0].code;
	MUST(drill_run(&found, k->sn, &drill, &err));
	MUST(balance_explain(
	    &gap, k->sn, prep, "drip on the board", "AB", &err));
	MUST(papers_say(k->sn, cod[0].code, "frozen", "never", "AB", &err));
}
