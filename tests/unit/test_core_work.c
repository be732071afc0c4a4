/*
 * test_core_work.c - tasks of a job, the working order, trays and minutes,
 * worked out by hand from the rules in core/work.h and the start values of
 * config/minutes.csv.  Order of work: common practice, no source.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "work_jobs.h"

static struct minutes_table table;
static struct pace_book book;

static void
setup(void)
{
	book = work_book(&table);
}

static void
teardown(void)
{
	minutes_fini(&table);
}

/* The list as words: "0 scale, clean-down, 0 fillet". */
static const char *
spell(const struct work *w)
{
	static char text[2048];
	struct buf b;
	size_t i;

	buf_init(&b, sizeof(text) - 1);
	for (i = 0; i < w->count; i++) {
		buf_puts(&b, i == 0 ? "" : ", ");
		if (w->tasks[i].job >= 0)
			buf_printf(&b, "%d ", w->tasks[i].job);
		buf_puts(&b, task_word(w->tasks[i].kind));
	}
	ck_assert(str_copy(text, sizeof(text), buf_text(&b)));
	buf_fini(&b);
	return text;
}

static struct work
make(const struct work_job *jobs, size_t count, int bench_minutes)
{
	struct work w;
	struct err err = { 0 };

	ck_assert_msg(
	    work_make(&w, jobs, count, &book, bench_minutes, &err) == RC_OK,
	    "%s", err.text);
	return w;
}

/* --- what a job asks for ---------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	enum body_form form;
	enum presentation bought;
	enum cut_kind cut;
	bool skin_off;
	const char *tasks;
} asks[] = {
	{ "hake, skin on", "HKE", FORM_ROUND, PRES_WHOLE, CUT_SUPREME, false,
	    "scale gut fillet pin-bone portion" },
	{ "hake gutted, skin off", "HKE", FORM_ROUND, PRES_GUTTED, CUT_SUPREME,
	    true, "fillet pin-bone skin portion" },
	{ "a loin is skinned", "COD", FORM_ROUND, PRES_HEADED, CUT_LOIN, false,
	    "fillet pin-bone skin portion" },
	{ "bass on the bone", "BSS", FORM_ROUND, PRES_WHOLE, CUT_WHOLE, false,
	    "scale gut" },
	{ "mackerel is not scaled", "MAC", FORM_ROUND, PRES_WHOLE, CUT_WHOLE,
	    false, "gut" },
	{ "steaks", "SAL", FORM_ROUND, PRES_GUTTED, CUT_TRONCON, false,
	    "scale portion" },
	{ "plaice whole", "PLE", FORM_FLAT, PRES_WHOLE, CUT_WHOLE, false,
	    "trim" },
	{ "plaice filleted", "PLE", FORM_FLAT, PRES_GUTTED, CUT_FILLET, true,
	    "fillet skin portion" },
	{ "ray wings", "RJC", FORM_CARTILAGINOUS, PRES_WING, CUT_WING, false,
	    "skin portion" },
	{ "monkfish tail", "MON", FORM_ROUND, PRES_TAIL, CUT_TAIL, false,
	    "skin portion" },
	{ "bought fillets", "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME, true,
	    "pin-bone skin portion" },
	{ "bought skinless", "COD", FORM_ROUND, PRES_FILLET_SKINLESS,
	    CUT_SUPREME, true, "pin-bone portion" },
	{ "trim", "COD", FORM_ROUND, PRES_GUTTED, CUT_TRIM, false,
	    "fillet portion" },
	{ "mussels", "MUS", FORM_BIVALVE, PRES_LIVE, CUT_SHELL, false,
	    "scrub portion" },
	{ "shucked mussels", "MUS", FORM_BIVALVE, PRES_SHUCKED, CUT_MEAT,
	    false, "portion" },
	{ "oysters are counted", "OYG", FORM_BIVALVE, PRES_LIVE, CUT_SHELL,
	    false, "open" },
	{ "scallop meat", "SCE", FORM_BIVALVE, PRES_LIVE, CUT_MEAT, false,
	    "open portion" },
	{ "squid", "SQR", FORM_CEPHALOPOD, PRES_WHOLE, CUT_MEAT, false,
	    "clean portion" },
	{ "prawns", "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_TAIL, false,
	    "peel portion" },
	{ "prawns in the shell", "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_SHELL,
	    false, "portion" },
	{ "crab", "CRE", FORM_CRUSTACEAN, PRES_LIVE, CUT_MEAT, false,
	    "dress portion" },
	{ "whole lobster", "LBE", FORM_CRUSTACEAN, PRES_LIVE, CUT_WHOLE, false,
	    "" },
};
/* clang-format on */

START_TEST(job_asks)
{
	struct work_job j = job_of("A", asks[_i].species, asks[_i].form,
	    asks[_i].bought, asks[_i].cut);
	struct work_task t[TASK_COUNT];
	struct buf b;
	int i, n;

	j.skin_on = !asks[_i].skin_off;
	n = work_tasks(t, &j, &book);
	buf_init(&b, 200);
	for (i = 0; i < n; i++)
		buf_printf(&b, "%s%s", i == 0 ? "" : " ", task_word(t[i].kind));
	ck_assert_msg(str_eq(buf_text(&b), asks[_i].tasks), "%s: %s",
	    asks[_i].why, buf_text(&b));
	buf_fini(&b);
}
END_TEST

/* A salmon side of 1.4 kg is of a fish of about 4.2: a side's 240 s to pin-bone
 * and 45 s to skin.  Pieces not counted are those bought. */
START_TEST(bought_side)
{
	struct work_job j =
	    job_of("S", "SAL", FORM_ROUND, PRES_FILLET, CUT_LOIN);
	struct work_task t[TASK_COUNT];

	j.fish_g = 1400;
	j.fish = 3;
	j.pieces = 0;
	ck_assert_int_eq(work_tasks(t, &j, &book), 3);
	ck_assert_int_eq(t[0].kind, TASK_PINBONE);
	ck_assert_int_eq(t[0].seconds, 3 * 240);
	ck_assert_int_eq(t[1].kind, TASK_SKIN);
	ck_assert_int_eq(t[1].seconds, 3 * 45);
}
END_TEST

/* --- one job, by hand ------------------------------------------------------*/

/*
 * Ten gutted hake of 800 g into 40 supremes.  Scaling 10 x 60 = 600 s, all ten
 * out at once (20 minutes over 60 s are 20).  On the board a fish takes
 * (10 x 90 + 20 x 45 + 40 x 20) / 10 = 260 s: 1200 / 260 = 4 at once, three
 * times, a tray of 45 s each.
 */
START_TEST(one_job)
{
	struct work_job j =
	    job_of("A", "HKE", FORM_ROUND, PRES_GUTTED, CUT_SUPREME);
	static const struct {
		int64_t units, seconds, starts, tray, trays;
	} want[] = {
		{ 10, 600, 0, 10, 1 },
		{ 1, 420, 600, 0, 0 },
		{ 10, 900, 1020, 4, 3 },
		{ 20, 900, 1920, 4, 3 },
		{ 40, 800, 2820, 4, 3 },
		{ 3, 135, 3620, 4, 3 },
		{ 1, 420, 3755, 0, 0 },
	};
	struct work w;
	size_t i;

	j.portions = 40;
	w = make(&j, 1, 20);
	ck_assert_str_eq(spell(&w),
	    "0 scale, clean-down, 0 fillet, 0 pin-bone, 0 portion, 0 tray, "
	    "clean-down");
	for (i = 0; i < NELEM(want); i++) {
		ck_assert_int_eq(w.tasks[i].units, want[i].units);
		ck_assert_int_eq(w.tasks[i].seconds, want[i].seconds);
		ck_assert_int_eq(w.tasks[i].starts_s, want[i].starts);
		ck_assert_int_eq(w.tasks[i].tray, want[i].tray);
		ck_assert_int_eq(w.tasks[i].trays, want[i].trays);
		ck_assert_int_gt(w.tasks[i].slow_s, w.tasks[i].seconds);
	}
	ck_assert_int_eq(w.seconds, 4175);
	ck_assert_int_eq(w.cleandowns, 2);
	ck_assert(w.estimated);
	work_fini(&w);
}
END_TEST

/* floor(limit x 60 / seconds a fish), at least one, never more than there
 * are. */
START_TEST(trays)
{
	static const struct {
		int fish, bench_minutes;
		grams fish_g;
		int64_t tray, trays;
	} t[] = {
		/* Gutting and scaling 105 s: 1200 / 105 = 11.4. */
		{ 30, 20, 800, 11, 3 },
		{ 11, 20, 800, 11, 1 },
		{ 12, 20, 800, 11, 2 },
		{ 5, 20, 800, 5, 1 },
		/* 210 s: 300 / 210 = 1.4; and 60 / 210 is still one. */
		{ 4, 5, 2000, 1, 4 },
		{ 4, 1, 2000, 1, 4 },
	};
	struct work_job j;
	struct work w;
	size_t i;

	for (i = 0; i < NELEM(t); i++) {
		j = job_of("A", "BSS", FORM_ROUND, PRES_WHOLE, CUT_WHOLE);
		j.fish = t[i].fish;
		j.fish_g = t[i].fish_g;
		w = make(&j, 1, t[i].bench_minutes);
		ck_assert_str_eq(
		    spell(&w), "0 scale, 0 gut, 0 tray, clean-down");
		ck_assert_int_eq(w.tasks[0].tray, t[i].tray);
		ck_assert_int_eq(w.tasks[0].trays, t[i].trays);
		ck_assert_int_eq(w.tasks[2].units, t[i].trays);
		work_fini(&w);
	}
}
END_TEST

/* By weight: begun kilograms.  7.2 kg of mussels at 300 s, 14 portions: eight
 * kilograms take 2400 + 280 s, 335 each: three at once, three times. */
START_TEST(by_weight)
{
	struct work_job j =
	    job_of("M", "MUS", FORM_BIVALVE, PRES_LIVE, CUT_SHELL);
	struct work w;

	j.fish = j.fish_g = j.pieces = 0;
	j.weight_g = 7200;
	j.portions = 14;
	w = make(&j, 1, 20);
	ck_assert_str_eq(spell(&w), "0 scrub, 0 portion, 0 tray, clean-down");
	ck_assert_int_eq(w.tasks[0].units, 8);
	ck_assert_int_eq(w.tasks[0].seconds, 2400);
	ck_assert_int_eq(w.tasks[0].tray, 3);
	ck_assert_int_eq(w.tasks[0].trays, 3);
	work_fini(&w);
	/* Prawns weighed in: 1 kg of 30 g are 34 animals. */
	j = job_of("P", "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_TAIL);
	j.fish = 0;
	j.fish_g = 30;
	j.weight_g = 1000;
	w = make(&j, 1, 20);
	ck_assert_int_eq(w.tasks[0].kind, TASK_PEEL);
	ck_assert_int_eq(w.tasks[0].units, 34);
	work_fini(&w);
}
END_TEST

/* --- order -----------------------------------------------------------------*/

/*
 * Fish before crustaceans before molluscs.  Fish: hake is scaled and then
 * filleted, so dirty work first, the clean-down, then the salmon served raw,
 * then the bought cod, then the hake.
 */
START_TEST(whole_list)
{
	struct work_job j[6];
	struct work w;

	j[0] = job_of("M", "MUS", FORM_BIVALVE, PRES_LIVE, CUT_SHELL);
	j[1] = job_of("H", "HKE", FORM_ROUND, PRES_GUTTED, CUT_SUPREME);
	j[2] = job_of("S", "SAL", FORM_ROUND, PRES_FILLET, CUT_LOIN);
	j[2].state = STATE_SERVED_RAW;
	j[3] = job_of("P", "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_TAIL);
	j[4] = job_of("C", "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	j[5] = job_of("O", "OYG", FORM_BIVALVE, PRES_LIVE, CUT_SHELL);
	w = make(j, 6, 20);
	ck_assert_str_eq(spell(&w),
	    "1 scale, clean-down, "
	    "2 pin-bone, 2 skin, 2 portion, 2 tray, change, "
	    "4 pin-bone, 4 portion, 4 tray, change, "
	    "1 fillet, 1 pin-bone, 1 portion, 1 tray, clean-down, "
	    "3 peel, clean-down, 3 portion, 3 tray, clean-down, "
	    "5 open, 5 tray, change, 0 scrub, 0 portion, 0 tray, clean-down");
	ck_assert_int_eq(w.cleandowns, 5);
	work_fini(&w);
}
END_TEST

/* No fish of the group needs both: dirty work last, and no clean-down. */
START_TEST(dirty_last)
{
	struct work_job j[3];
	struct work w;

	j[0] = job_of("B", "BSS", FORM_ROUND, PRES_WHOLE, CUT_WHOLE);
	j[1] = job_of("C", "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	j[2] = job_of("S", "SAL", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	j[2].ready_to_eat = true;
	w = make(j, 3, 20);
	ck_assert_str_eq(spell(&w),
	    "2 pin-bone, 2 portion, 2 tray, change, "
	    "1 pin-bone, 1 portion, 1 tray, change, "
	    "0 scale, 0 gut, 0 tray, clean-down");
	ck_assert_int_eq(w.cleandowns, 1);
	work_fini(&w);
}
END_TEST

/* Whole and needing nothing is no dirty work, and still goes on its tray. */
START_TEST(nothing_to_clean)
{
	struct work_job j[2];
	struct work w;

	j[0] = job_of("L", "LBE", FORM_CRUSTACEAN, PRES_LIVE, CUT_WHOLE);
	j[1] = job_of("P", "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_SHELL);
	w = make(j, 2, 20);
	ck_assert_str_eq(
	    spell(&w), "0 tray, change, 1 portion, 1 tray, clean-down");
	ck_assert_int_eq(w.tasks[0].class, WORK_PORTION);
	ck_assert_int_eq(w.tasks[2].class, WORK_PORTION);
	work_fini(&w);
}
END_TEST

/* Oysters marked ready to eat are raw all the same: after what is cooked. */
START_TEST(opened_is_raw)
{
	struct work_job j[2];
	struct work w;

	j[0] = job_of("O", "OYG", FORM_BIVALVE, PRES_LIVE, CUT_SHELL);
	j[0].state = STATE_RAW;
	j[0].ready_to_eat = true;
	j[1] = job_of("S", "SQR", FORM_CEPHALOPOD, PRES_SHUCKED, CUT_MEAT);
	j[1].state = STATE_COOKED;
	w = make(j, 2, 20);
	ck_assert_str_eq(
	    spell(&w), "1 portion, 1 tray, change, 0 open, 0 tray, clean-down");
	ck_assert_int_eq(w.tasks[3].class, WORK_SERVED_RAW);
	work_fini(&w);
}
END_TEST

/* Cod filleted for a cooked dish is raw work until it is cooked: it never
 * precedes what is ready to eat without a clean-down. */
START_TEST(cooked_here)
{
	struct work_job j[2];
	struct work w;

	j[0] = job_of("C", "COD", FORM_ROUND, PRES_GUTTED, CUT_MEAT);
	j[0].state = STATE_COOKED;
	j[1] = job_of("S", "SAL", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	j[1].ready_to_eat = true;
	w = make(j, 2, 20);
	ck_assert_str_eq(spell(&w),
	    "0 fillet, 0 skin, clean-down, 0 portion, 0 tray, change, "
	    "1 pin-bone, 1 portion, 1 tray, clean-down");
	work_fini(&w);
}
END_TEST

/* A later service, first; a lot that goes out today before both. */
START_TEST(deadlines)
{
	struct work_job j[3];
	struct work w;
	size_t i;

	for (i = 0; i < 3; i++)
		j[i] = job_of("A", "PLE", FORM_FLAT, PRES_FILLET, CUT_FILLET);
	j[0].deadline_utc = 2000;
	j[2].deadline_utc = 3000;
	j[2].today = true;
	w = make(j, 3, 20);
	ck_assert_str_eq(spell(&w),
	    "2 portion, 2 tray, 1 portion, 1 tray, 0 portion, 0 tray, "
	    "clean-down");
	work_fini(&w);
	/* The next session may start where the last ended, not before it. */
	j[1].state = STATE_SERVED_RAW;
	w = make(j, 3, 20);
	ck_assert_str_eq(spell(&w),
	    "2 portion, 2 tray, clean-down, 1 portion, 1 tray, change, "
	    "0 portion, 0 tray, clean-down");
	work_fini(&w);
}
END_TEST

/* The species that goes first, then its lots, first to expire first. */
START_TEST(first_expired_first)
{
	struct work_job j[4];
	struct work w;

	j[0] = job_of("A", "COD", FORM_ROUND, PRES_LOIN, CUT_LOIN);
	j[1] = job_of("B", "LIN", FORM_ROUND, PRES_LOIN, CUT_LOIN);
	j[2] = job_of("C", "COD", FORM_ROUND, PRES_LOIN, CUT_LOIN);
	j[3] = job_of("D", "LIN", FORM_ROUND, PRES_LOIN, CUT_LOIN);
	j[3].use_by_utc = 5000;
	j[2].use_by_utc = 6000;
	w = make(j, 4, 20);
	ck_assert_str_eq(spell(&w),
	    "3 portion, 3 tray, 1 portion, 1 tray, change, "
	    "2 portion, 2 tray, 0 portion, 0 tray, clean-down");
	work_fini(&w);
}
END_TEST

START_TEST(same_batch_together)
{
	struct work_job j[3];
	struct work w;

	j[0] = job_of("A", "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	j[1] = job_of("B", "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	j[2] = job_of("A", "COD", FORM_ROUND, PRES_FILLET, CUT_FILLET);
	w = make(j, 3, 20);
	ck_assert_str_eq(spell(&w),
	    "2 pin-bone, 2 portion, 2 tray, 0 pin-bone, 0 portion, 0 tray, "
	    "1 pin-bone, 1 portion, 1 tray, clean-down");
	work_fini(&w);
}
END_TEST

/* docs/rules.md R-W2, every pair of classes. */
START_TEST(between)
{
	struct work_job fish =
	    job_of("A", "COD", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	struct work_job other = fish;
	struct work_job prawn =
	    job_of("B", "PNV", FORM_CRUSTACEAN, PRES_WHOLE, CUT_TAIL);
	enum task_kind want;
	enum work_class a, b;

	ck_assert(str_copy(other.species, sizeof(other.species), "LIN"));
	for (a = 0; a < WORK_CLASS_COUNT; a++)
		for (b = 0; b < WORK_CLASS_COUNT; b++) {
			want = b < a ? TASK_CLEANDOWN
			    : b > a  ? TASK_CHANGE
				     : TASK_COUNT;
			ck_assert_int_eq(
			    work_between(a, &fish, b, &fish), want);
			ck_assert_int_eq(
			    work_between(a, &fish, b, &prawn), TASK_CLEANDOWN);
			ck_assert_int_eq(
			    work_between(a, &prawn, b, &fish), TASK_CLEANDOWN);
			ck_assert_int_eq(work_between(a, &fish, b, &other),
			    want == TASK_COUNT ? TASK_CHANGE : want);
		}
}
END_TEST

/* Ten kilograms of hake nobody counted: filleting cannot be reckoned. */
START_TEST(never_counted)
{
	struct work_job j =
	    job_of("A", "HKE", FORM_ROUND, PRES_GUTTED, CUT_SUPREME);
	struct work w;

	ck_assert(work_countable(&j, &book));
	w = make(&j, 1, 20);
	ck_assert(!w.incomplete);
	work_fini(&w);
	j.fish = j.fish_g = j.pieces = 0;
	ck_assert(!work_countable(&j, &book));
	w = make(&j, 1, 20);
	ck_assert_str_eq(spell(&w), "0 portion, 0 tray, clean-down");
	ck_assert(w.incomplete);
	work_fini(&w);
}
END_TEST

/* A clean-down is listed also when the house gives it no time. */
START_TEST(no_time_is_no_excuse)
{
	struct work_job j =
	    job_of("A", "HKE", FORM_ROUND, PRES_GUTTED, CUT_SUPREME);
	struct work w;
	size_t i;

	for (i = 0; i < table.count; i++)
		if (table.items[i].task == TASK_CLEANDOWN)
			table.items[i].seconds = 0;
	w = make(&j, 1, 20);
	ck_assert_int_eq(w.cleandowns, 2);
	ck_assert_int_eq(w.tasks[1].kind, TASK_CLEANDOWN);
	ck_assert_int_eq(w.tasks[1].seconds, 0);
	work_fini(&w);
}
END_TEST

START_TEST(learned_mark)
{
	struct work_job j =
	    job_of("A", "HKE", FORM_ROUND, PRES_FILLET, CUT_SUPREME);
	struct pace own[3];
	struct work w;

	ck_assert(work_pace(&own[0], &j, TASK_PINBONE, &book));
	ck_assert(work_pace(&own[1], &j, TASK_PORTION, &book));
	ck_assert(work_pace(&own[2], &j, TASK_TRAY, &book));
	/* 0.9 x 20 + 20 = 38 units, 0.9 x 400 + 800 = 1160 s: 30.527 s, and
	 * 20 portions 610.53 s, rounded up. */
	pace_learn(&own[0], 20, 800000);
	pace_learn(&own[1], 20, 800000);
	pace_learn(&own[2], 1, 45000);
	book.learned = own;
	book.learned_count = 2;
	w = make(&j, 1, 20);
	ck_assert(w.tasks[0].learned);
	ck_assert(w.tasks[1].learned);
	ck_assert_int_eq(w.tasks[1].seconds, 611);
	ck_assert(w.estimated);
	work_fini(&w);
	book.learned_count = 3;
	w = make(&j, 1, 20);
	ck_assert(!w.estimated);
	work_fini(&w);
}
END_TEST

START_TEST(refused)
{
	struct work_job j[2],
	    good = job_of("A", "HKE", FORM_ROUND, PRES_GUTTED, CUT_SUPREME);
	struct err err = { 0 };
	struct work w;

	j[0] = j[1] = good;
	j[1].portions = COUNT_MAX + 1;
	ck_assert_int_eq(work_make(&w, j, 2, &book, 20, &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "job 2, batch A: a count or weight is out of range");
	ck_assert_ptr_null(w.tasks);
	j[1] = good;
	j[1].pieces = -1;
	ck_assert_int_eq(work_make(&w, j, 2, &book, 20, NULL), RC_INVALID);
	j[1] = good;
	j[1].fish = j[1].weight_g = 0;
	err_clear(&err);
	ck_assert_int_eq(work_make(&w, j, 2, &book, 20, &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "job 2, batch A: neither counted nor weighed");
	err_clear(&err);
	ck_assert_int_eq(
	    work_make(&w, j, WORK_JOBS_MAX + 1, &book, 20, &err), RC_INVALID);
	ck_assert_str_eq(err.text, "2001 jobs on one list, more than 2000");
	ck_assert_int_eq(work_make(&w, j, 0, &book, 20, NULL), RC_OK);
	ck_assert_uint_eq(w.count, 0);
	ck_assert_int_eq(w.seconds, 0);
}
END_TEST

Suite *
suite_core_work(void)
{
	Suite *s = suite_create("core_work");
	TCase *t = tcase_create("all");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_loop_test(t, job_asks, 0, NELEM(asks));
	tcase_add_test(t, bought_side);
	tcase_add_test(t, one_job);
	tcase_add_test(t, trays);
	tcase_add_test(t, by_weight);
	tcase_add_test(t, whole_list);
	tcase_add_test(t, dirty_last);
	tcase_add_test(t, nothing_to_clean);
	tcase_add_test(t, opened_is_raw);
	tcase_add_test(t, cooked_here);
	tcase_add_test(t, deadlines);
	tcase_add_test(t, first_expired_first);
	tcase_add_test(t, same_batch_together);
	tcase_add_test(t, between);
	tcase_add_test(t, never_counted);
	tcase_add_test(t, no_time_is_no_excuse);
	tcase_add_test(t, learned_mark);
	tcase_add_test(t, refused);
	suite_add_tcase(s, t);
	return s;
}
