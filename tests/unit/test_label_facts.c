/*
 * test_label_facts.c - from a record to what its label says under every
 * setting, through both readers, and back to the record.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "core/gs1.h"
#include "core/trade_item.h"
#include "kitchen.h"
#include "label_look.h"
#include "label_samples.h"
#include "ops/fate.h"
#include "ops/scan.h"
#include "print/facts.h"

#define PREFIX "9501101"

static struct kitchen k;
static struct breakdown made;
static struct fonts *fonts;

/* Three trays of cod and leeks. */
static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 6000, 3 };
	struct batch b;

	kitchen_open(&k);
	b = kitchen_receive(&k, &in);
	made = kitchen_break(&k, b.code, &cut);
	fonts = label_sample_fonts();
}

static void
teardown(void)
{
	fonts_free(fonts);
	breakdown_fini(&made);
	kitchen_close(&k);
}

static const struct label_house plain = { .storage = "Keep at 0 to 2 C",
	.gs1_prefix = "none" };
static const struct label_house own = { .storage = "Keep at 0 to 2 C",
	.gs1_prefix = PREFIX };
static const struct label_house bars = {
	.storage = "Keep at 0 to 2 C", .gs1_prefix = "none", .bars = true
};
static const struct label_house both = {
	.storage = "Keep at 0 to 2 C", .gs1_prefix = PREFIX, .bars = true
};

static void
set_prefix(const char *prefix)
{
	ck_assert(str_copy(
	    k.sn->cfg.gs1_prefix, sizeof(k.sn->cfg.gs1_prefix), prefix));
}

/* The label of a tray as the file has it; `p` and `b` receive the records. */
static struct label_facts
tray(struct portion *p, struct batch *b, size_t i,
    const struct label_house *house, const struct label_copy *copy)
{
	struct label_facts f;
	struct err err = { 0 };

	ck_assert_int_eq(
	    portion_get(p, k.sn->st, made.portions[i].code, NULL), RC_OK);
	ck_assert_int_eq(batch_get(b, k.sn->st, p->batch, NULL), RC_OK);
	ck_assert_msg(
	    facts_portion(&f, p, b, species_find(&k.sn->species, b->species),
		house, copy, &err) == RC_OK,
	    "%s", err.text);
	return f;
}

static void
scans_as(const char *typed, enum code_kind want, const char *code)
{
	char got[CODE_SIZE];
	struct err err = { 0 };
	enum code_kind kind;

	ck_assert_msg(
	    scan_code(&kind, got, k.sn, typed, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(kind, want);
	ck_assert_str_eq(got, code);
}

/* Draw it, read it with both readers, and scan what they read. */
static void
through_the_readers(
    const struct label_facts *f, enum code_kind kind, const char *code)
{
	struct label_media m;
	struct bitmap *bm;
	char bare[DM_TEXT_MAX], typed[DM_TEXT_MAX + 4];
	int i;

	for (i = 0; i < LABEL_SAMPLE_MEDIA; i++) {
		m = label_sample_media(i);
		if (f->bars[0] != '\0' && m.width_mm != 60)
			continue;
		ck_assert_int_eq(label_render(&bm, f, &m, fonts, NULL), RC_OK);
		look_read_label(bm, f->symbol, code);
		if (f->bars[0] != '\0')
			look_read_bars(bm, f->bars, code);
		bitmap_free(bm);
	}
	look_bare(bare, f->symbol);
	str_fmt(typed, sizeof(typed), "]d2%s", bare);
	scans_as(bare, kind, code);
	scans_as(typed, kind, code);
	scans_as(f->symbol, kind, code);
	if (f->bars[0] == '\0')
		return;
	look_bare(bare, f->bars);
	str_fmt(typed, sizeof(typed), "]C1%s", bare);
	scans_as(bare, kind, code);
	scans_as(typed, kind, code);
}

START_TEST(every_setting)
{
	static const struct label_house *const houses[] = { &plain, &own, &bars,
		&both };
	const struct label_house *house = houses[_i];
	struct label_copy copy = { .reprint = _i };
	struct label_facts f;
	struct portion p;
	struct batch b;
	struct err err = { 0 };

	set_prefix(house->gs1_prefix);
	f = tray(&p, &b, 1, house, &copy);
	ck_assert_int_eq(f.variant, LABEL_USE_BY);
	ck_assert_int_eq(f.reprint, _i);
	ck_assert_str_eq(f.storage, "Keep at 0 to 2 C");
	ck_assert_int_eq(strncmp(f.symbol, "[01]0" PREFIX, 5 + 7) == 0,
	    house->gs1_prefix[0] == '9');
	ck_assert_int_eq(f.bars[0] != '\0', house->bars);
	through_the_readers(&f, CODE_PORTION, p.code);
	ck_assert_msg(
	    facts_batch(&f, &b, species_find(&k.sn->species, b.species), house,
		&copy, &err) == RC_OK,
	    "%s", err.text);
	ck_assert(strncmp(f.symbol, "[91]1000000", 11) == 0);
	through_the_readers(&f, CODE_BATCH, b.code);
}
END_TEST

/* The number of the dish is the one the file has for it. */
START_TEST(number_of_the_dish)
{
	struct label_copy copy = { 0 };
	struct label_facts f;
	struct portion p;
	struct batch b;
	char want[80];
	int64_t id;

	/* A cut has a number of its own. */
	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE portion SET cut_id = cut_id + 500;"
			     "UPDATE cut SET id = id + 500"),
	    0);
	id = kitchen_count(&k, "SELECT id FROM dish WHERE code = 'cod-leeks'");
	f = tray(&p, &b, 0, &own, &copy);
	ck_assert_int_eq(p.dish_id, id);
	str_fmt(want, sizeof(want), "[01]0" PREFIX "%05d", (int)id);
	ck_assert_msg(
	    strncmp(f.symbol, want, strlen(want)) == 0, "%s", f.symbol);
	str_fmt(want, sizeof(want), "[10]%s[21]%s", b.code, p.code);
	ck_assert_str_eq(strstr(f.symbol, "[10]"), want);
}
END_TEST

/* A use-by with an hour: 7003, and the batch is printed but not encoded. */
START_TEST(use_by_with_hour)
{
	struct label_copy copy = { 0 };
	struct label_facts f;
	struct portion p;
	struct batch b;

	f = tray(&p, &b, 0, &own, &copy);
	p.use_by_utc =
	    utc_from_local(f.use_by.day, 14, 30, 59); /* as if it were so */
	ck_assert_int_eq(
	    facts_portion(&f, &p, &b, species_find(&k.sn->species, b.species),
		&own, &copy, NULL),
	    RC_OK);
	ck_assert_ptr_nonnull(strstr(f.symbol, "[7003]"));
	ck_assert_ptr_nonnull(strstr(f.symbol, "1430[21]"));
	ck_assert_ptr_null(strstr(f.symbol, "[10]"));
	ck_assert_str_ne(f.batch, "");
	set_prefix(PREFIX);
	through_the_readers(&f, CODE_PORTION, p.code);
}
END_TEST

START_TEST(no_room_for_the_number)
{
	struct label_house house = own;
	struct label_copy copy = { 0 };
	struct label_facts f;
	struct portion p;
	struct batch b;
	struct err err = { 0 };

	f = tray(&p, &b, 0, &own, &copy);
	house.gs1_prefix = _i == 0 ? "950110112345" : "0412345";
	ck_assert_int_eq(
	    facts_portion(&f, &p, &b, species_find(&k.sn->species, b.species),
		&house, &copy, &err),
	    RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "gs1_prefix"));
}
END_TEST

/* Right check characters, and still not the record's label. */
START_TEST(not_the_record)
{
	static const char *const says[] = { "another dish or batch",
		"another dish or batch", "not in this station file",
		"check character", "is not a code", "is not a code" };
	char gtin[TRADE_ITEM_GTIN + 1], code[CODE_SIZE], text[100];
	struct label_copy copy = { 0 };
	const char *prefix = PREFIX;
	struct err err = { 0 };
	enum code_kind kind;
	struct portion p;
	struct batch b;

	tray(&p, &b, 0, &own, &copy);
	ck_assert_int_eq(
	    trade_item_gtin(gtin, PREFIX, p.dish_id + (_i == 0 ? 1 : 0), NULL),
	    RC_OK);
	if (_i == 1)
		ck_assert_int_gt(batch_code_make(b.code,
				     local_from_utc(b.received.utc).day, 50),
		    0);
	if (_i == 2)
		ck_assert_int_gt(portion_code_make(p.code, 900000), 0);
	if (_i == 3)
		gtin[13] = gtin[13] == '0' ? '1' : '0';
	if (_i == 4)
		prefix = "9501102";
	if (_i == 5)
		prefix = "none";
	set_prefix(prefix);
	str_fmt(text, sizeof(text),
	    "]d201%s1726112710%s\x1d"
	    "21%s",
	    gtin, b.code, p.code);
	ck_assert_int_ne(scan_code(&kind, code, k.sn, text, &err), RC_OK);
	ck_assert_msg(
	    strstr(err.text, says[_i]) != NULL, "%d: %s", _i, err.text);
}
END_TEST

/* A cook's scan of either code does what the keyed code does. */
START_TEST(used_by_scan)
{
	struct use_in in = { .by = "CD", .servings = 1, .reason = "test" };
	struct label_copy copy = { 0 };
	struct label_facts f;
	char typed[DM_TEXT_MAX + 4], bare[DM_TEXT_MAX];
	struct portion p, after;
	struct batch b;
	struct err err = { 0 };

	set_prefix(PREFIX);
	f = tray(&p, &b, 0, &both, &copy);
	look_bare(bare, _i == 0 ? f.symbol : f.bars);
	str_fmt(typed, sizeof(typed), "%s%s", _i == 0 ? "]d2" : "]C1", bare);
	in.code = typed;
	ck_assert_msg(use(&after, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_str_eq(after.code, p.code);
	ck_assert_int_eq(after.left, p.left - 1);
}
END_TEST

/* Our own label at goods in is no supplier's. */
START_TEST(no_supplier)
{
	struct receive_in in = kitchen_cod();
	struct label_copy copy = { 0 };
	char bare[DM_TEXT_MAX];
	struct label_facts f;
	struct judgement judged;
	struct portion p;
	struct batch b;
	struct err err = { 0 };

	set_prefix(PREFIX);
	f = tray(&p, &b, 0, &both, &copy);
	look_bare(bare, _i == 0 ? f.symbol : f.bars);
	in.scans[0] = bare;
	in.scan_count = 1;
	ck_assert_int_eq(receive(&b, &judged, k.sn, &in, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "no supplier's label"));
}
END_TEST

START_TEST(held)
{
	struct hold hold = { .by = "JB", .reason = "Fridge at 9 C" };
	struct label_copy copy = { .hold = &hold, .reprint = 2 };
	struct label_facts f;
	struct portion p;
	struct batch b;

	hold.at_utc = utc_from_local(
	    local_from_utc(made.batch.received.utc).day + 1, 15, 40, 0);
	memset(hold.reason, 'r', sizeof(hold.reason) - 1); /* the longest */
	f = tray(&p, &b, 0, &plain, &copy);
	ck_assert_int_eq(f.variant, LABEL_HOLD);
	ck_assert_str_eq(f.held_by, "JB");
	ck_assert_str_eq(f.reason, hold.reason);
	ck_assert_int_eq(f.held.hour, 15);
	ck_assert_int_eq(f.held.minute, 40);
	ck_assert_int_eq(f.reprint, 2);
	ck_assert_int_eq(
	    facts_batch(&f, &b, species_find(&k.sn->species, b.species), &plain,
		&copy, NULL),
	    RC_OK);
	ck_assert_int_eq(f.variant, LABEL_HOLD);
	ck_assert_str_eq(f.held_by, "JB");
}
END_TEST

/* Settings that no label can be made with are found at the start. */
START_TEST(settings)
{
	static const struct {
		const char *prefix;
		bool bars;
		int width_mm, height_mm;
		const char *says; /* NULL: good */
	} rows[] = {
		{ "none", false, 50, 25, NULL },
		{ "none", true, 60, 40, NULL },
		{ "none", true, 50, 25, "bars = yes" },
		{ "9501101", false, 50, 25, NULL },
		{ "2001234", false, 60, 40, "restricted" },
		{ "950", false, 60, 40, "4 to 12 digits" },
	};
	struct label_house house = { "Keep cold", rows[_i].prefix,
		rows[_i].bars, false };
	struct label_media m = { rows[_i].width_mm, rows[_i].height_mm, 203 };
	struct err err = { 0 };

	if (rows[_i].says == NULL) {
		ck_assert_msg(facts_house_check(&house, &m, &err) == RC_OK,
		    "%s", err.text);
		return;
	}
	ck_assert_int_eq(facts_house_check(&house, &m, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, rows[_i].says) != NULL, "%s", err.text);
}
END_TEST

/* The default font has what the species table and a European kitchen need; a
 * storage line it has not is named. */
START_TEST(font_of_the_station)
{
	struct label_house house = {
		"K\xc3\xbchl halten, 0 \xc2\xb0"
		"C",
		"none", false, false
	};
	struct err err = { 0 };

	ck_assert_uint_gt(k.sn->species.count, 20);
	ck_assert_msg(
	    facts_fonts_check(fonts, &k.sn->species, &house, &err) == RC_OK,
	    "%s", err.text);
	house.storage = "\xe5\x86\xb7";
	ck_assert_int_eq(
	    facts_fonts_check(fonts, &k.sn->species, &house, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "DejaVuSans-Bold.ttf"));
	ck_assert_ptr_nonnull(strstr(err.text, "U+51B7"));
	err_clear(&err);
	house.storage = "cold";
	str_copy(k.sn->species.items[3].scientific, 48, "Gadus \xe5\x86\xb7");
	ck_assert_int_eq(
	    facts_fonts_check(fonts, &k.sn->species, &house, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "Gadus"));
}
END_TEST

Suite *
suite_label_facts(void)
{
	Suite *s = suite_create("label_facts");
	TCase *tc = tcase_create("facts");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 30);
	tcase_add_loop_test(tc, every_setting, 0, 4);
	tcase_add_test(tc, number_of_the_dish);
	tcase_add_test(tc, use_by_with_hour);
	tcase_add_loop_test(tc, no_room_for_the_number, 0, 2);
	tcase_add_loop_test(tc, not_the_record, 0, 6);
	tcase_add_loop_test(tc, used_by_scan, 0, 2);
	tcase_add_loop_test(tc, no_supplier, 0, 2);
	tcase_add_test(tc, held);
	tcase_add_loop_test(tc, settings, 0, 6);
	tcase_add_test(tc, font_of_the_station);
	suite_add_tcase(s, tc);
	return s;
}
