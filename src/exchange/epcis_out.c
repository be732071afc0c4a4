/* epcis_out.c - what happened to food as EPCIS 2.0 JSON-LD. */
#include "exchange/epcis_out.h"

#include <inttypes.h>
#include <string.h>

#include "base/clock.h"
#include "base/digest.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "core/trade_item.h"

#define URI_SIZE 1200
#define EVENT_MAX ((size_t)16 * 1024 * 1024) /* thousands of units */

/* Our own words, the same for every station: random once, and kept. */
#define OUR_WORDS "urn:uuid:b2d48559-970b-4b71-8000-3b49a7b4eb5f#"

/* --- identifiers -----------------------------------------------------------*/

void
epcis_uuid(char dst[EPCIS_UUID_SIZE], const char *text)
{
	char hex[DIGEST_HEX_MAX];

	digest_hex(hex, text, strlen(text));
	hex[12] = '8'; /* made in a way of our own */
	hex[16] =
	    "89ab"[(hex[16] <= '9' ? hex[16] - '0' : hex[16] - 'a' + 10) & 3];
	str_fmt(dst, EPCIS_UUID_SIZE, "%.8s-%.4s-%.4s-%.4s-%.12s", hex, hex + 8,
	    hex + 12, hex + 16, hex + 20);
}

void
epcis_base(char dst[EPCIS_BASE_SIZE], const char *kitchen, const char *created)
{
	char text[200], uuid[EPCIS_UUID_SIZE];

	str_fmt(text, sizeof(text), "pinbone station|%s|%s", kitchen, created);
	epcis_uuid(uuid, text);
	str_fmt(dst, EPCIS_BASE_SIZE, "urn:uuid:%s#", uuid);
}

enum rc
epcis_base_check(const char *base, struct err *err)
{
	static const char *const begins[] = { "http://", "https://",
		"urn:", "tag:" };
	/* Kept for GS1's own words and identifiers. */
	static const char *const gs1[] = { "urn:epc", "https://ns.gs1.org/",
		"http://ns.gs1.org/", "https://ref.gs1.org/",
		"http://ref.gs1.org/", "https://id.gs1.org/",
		"http://id.gs1.org/", "https://gs1.org/", "http://gs1.org/",
		"https://www.gs1.org/", "http://www.gs1.org/" };
	size_t i, len = strlen(base);
	bool good = false;

	for (i = 0; i < sizeof(begins) / sizeof(begins[0]); i++)
		good = good || strncmp(base, begins[i], strlen(begins[i])) == 0;
	for (i = 0; i < len; i++)
		good = good && base[i] > ' ' && base[i] < 0x7f &&
		    strchr("\"<>\\^`{|}%", base[i]) == NULL;
	if (!good || strchr("/#:", base[len - 1]) == NULL ||
	    str_eq(base, "http://") || str_eq(base, "https://"))
		return err_set(err, RC_INVALID, 0,
		    "[epcis] base = %.60s: must be a URI that ends with /, # "
		    "or :, such as https://kitchen.example/id/, or none",
		    base);
	for (i = 0; i < sizeof(gs1) / sizeof(gs1[0]); i++)
		if (strncmp(base, gs1[i], strlen(gs1[i])) == 0)
			return err_set(err, RC_INVALID, 0,
			    "[epcis] base = %.60s: these names are GS1's own",
			    base);
	return RC_OK;
}

/* Append `s`, with everything but RFC 3986's unreserved characters as %XX. */
static void
add_escaped(char dst[URI_SIZE], const char *s)
{
	size_t n = strlen(dst);

	for (; *s != '\0' && n + 4 < URI_SIZE; s++) {
		unsigned char c = (unsigned char)*s;
		bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
		    (c >= '0' && c <= '9') || (c != '\0' && strchr("-._~", c));

		str_fmt(dst + n, URI_SIZE - n, plain ? "%c" : "%%%02X", c);
		n += strlen(dst + n);
	}
}

/* base + kind + "/" + name. */
static const char *
uri(char dst[URI_SIZE], const struct epcis_house *h, const char *kind,
    const char *name)
{
	str_fmt(dst, URI_SIZE, "%s%s/", h->base, kind);
	add_escaped(dst, name);
	return dst;
}

static const char *
uri_batch(char dst[URI_SIZE], const struct epcis_house *h, const char *code)
{
	char shown[CODE_SIZE];

	return uri(dst, h, "batch", code_show(shown, code));
}

static const char *
uri_unit(char dst[URI_SIZE], const struct epcis_house *h, const char *code,
    int64_t dish_id)
{
	char gtin[TRADE_ITEM_GTIN + 1], shown[CODE_SIZE];

	if (trade_item_prefix_given(h->gs1_prefix) &&
	    trade_item_gtin(gtin, h->gs1_prefix, dish_id, NULL) == RC_OK) {
		str_fmt(dst, URI_SIZE, "https://id.gs1.org/01/%s/21/%s", gtin,
		    code);
		return dst;
	}
	return uri(dst, h, "unit", code_show(shown, code));
}

/* --- parts of an event -----------------------------------------------------*/

static void
put_time(struct jsonw *w, const char *key, const struct moment *at)
{
	char text[48];

	jsonw_str(w, key,
	    time_rfc3339_at(text, sizeof(text), at->utc, at->offset_min));
}

static void
put_day(struct jsonw *w, const char *key, day_no day)
{
	char text[16];

	if (day != DAY_NONE)
		jsonw_str(w, key, day_print(text, sizeof(text), day));
}

static void
put_text(struct jsonw *w, const char *key, const char *text)
{
	if (text[0] != '\0')
		jsonw_str(w, key, text);
}

static void
put_kg(struct jsonw *w, const char *class, grams g)
{
	jsonw_object(w, NULL);
	jsonw_str(w, "epcClass", class);
	jsonw_real(w, "quantity", (double)g / 1000);
	jsonw_str(w, "uom", "KGM"); /* UN/ECE Recommendation 20 */
	jsonw_end(w);
}

static void
put_place(struct jsonw *w, const struct epcis_house *h, const char *key,
    const char *place)
{
	char at[URI_SIZE];

	jsonw_object(w, key);
	jsonw_str(w, "id", uri(at, h, "place", place));
	jsonw_end(w);
}

/* One reading in degrees Celsius (UN/ECE Recommendation 20: CEL). */
static void
put_temperature(struct jsonw *w, int tenths)
{
	jsonw_array(w, "sensorElementList");
	jsonw_object(w, NULL);
	jsonw_array(w, "sensorReport");
	jsonw_object(w, NULL);
	jsonw_str(w, "type", "Temperature");
	jsonw_real(w, "value", (double)tenths / 10);
	jsonw_str(w, "uom", "CEL");
	jsonw_end(w);
	jsonw_end(w);
	jsonw_end(w);
	jsonw_end(w);
}

static void
put_when(
    struct jsonw *w, const struct epcis_house *h, const struct happening *it)
{
	char text[EPCIS_BASE_SIZE + 80], id[EPCIS_UUID_SIZE], urn[64];
	int off =
	    it->at.offset_min < 0 ? -it->at.offset_min : it->at.offset_min;

	str_fmt(text, sizeof(text), "%s|%s|%" PRId64, h->base,
	    happening_word(it->kind), it->id);
	epcis_uuid(id, text);
	str_fmt(urn, sizeof(urn), "urn:uuid:%s", id);
	jsonw_str(w, "eventID", urn);
	put_time(w, "eventTime", &it->at);
	str_fmt(text, sizeof(text), "%c%02d:%02d",
	    it->at.offset_min < 0 ? '-' : '+', off / 60, off % 60);
	jsonw_str(w, "eventTimeZoneOffset", text);
	put_time(w, "recordTime", &it->at);
	if (!it->undone)
		return;
	jsonw_object(w, "errorDeclaration");
	put_time(w, "declarationTime", &it->undone_at);
	jsonw_str(w, "reason", "did_not_occur");
	put_text(w, "pinbone:reason", it->undone_reason);
	jsonw_end(w);
}

/* --- goods in --------------------------------------------------------------*/

/* What is known of a lot, for ilmd. */
static void
put_lot(struct jsonw *w, const char *key, const struct epcis_house *h,
    const struct batch *b)
{
	const struct species *sp = species_find(h->species, b->species);

	jsonw_object(w, key);
	put_text(w, "cbvmda:lotNumber", b->lot);
	put_day(w, "cbvmda:itemExpirationDate", b->supplier_use_by);
	jsonw_str(
	    w, "cbvmda:speciesForFisheryStatisticsPurposesCode", b->species);
	if (sp != NULL) {
		jsonw_str(w, "cbvmda:speciesForFisheryStatisticsPurposesName",
		    sp->scientific);
		jsonw_str(w, "pinbone:name", sp->name);
	}
	jsonw_str(
	    w, "pinbone:presentation", presentation_word(b->presentation));
	if (b->count > 0)
		jsonw_int(w, "pinbone:fish", b->count);
	put_text(w, "pinbone:productionMethod", b->method);
	put_text(w, "pinbone:area", b->area);
	put_text(w, "pinbone:gear", b->gear);
	put_text(w, "pinbone:vesselOrFarm", b->vessel);
	put_day(w, "pinbone:caught", b->caught_day);
	put_day(w, "pinbone:dispatched", b->dispatched_day);
	jsonw_time(w, "pinbone:useBy", b->use_by_utc);
	put_text(w, "pinbone:supplierName", b->supplier.name);
	put_text(w, "pinbone:supplierAddress", b->supplier.address);
	put_text(w, "pinbone:supplierApproval", b->supplier.approval);
	put_text(w, "pinbone:grade", b->grade);
	put_text(w, "pinbone:note", b->note);
	jsonw_end(w);
}

static void
put_parties(struct jsonw *w, const struct epcis_house *h, const struct batch *b)
{
	char text[URI_SIZE];

	if (b->document[0] != '\0') {
		/* The same number may come from two suppliers. */
		uri(text, h, "document", b->supplier.code);
		str_fmt(text + strlen(text), sizeof(text) - strlen(text), "/");
		add_escaped(text, b->document);
		jsonw_array(w, "bizTransactionList");
		jsonw_object(w, NULL);
		jsonw_str(w, "type", "desadv");
		jsonw_str(w, "bizTransaction", text);
		jsonw_end(w);
		jsonw_end(w);
	}
	jsonw_array(w, "sourceList");
	jsonw_object(w, NULL);
	jsonw_str(w, "type", "possessing_party");
	jsonw_str(w, "source", uri(text, h, "party", b->supplier.code));
	jsonw_end(w);
	jsonw_end(w);
	jsonw_array(w, "destinationList");
	jsonw_object(w, NULL);
	jsonw_str(w, "type", "possessing_party");
	jsonw_str(w, "destination", uri(text, h, "house", "kitchen"));
	jsonw_end(w);
	jsonw_end(w);
}

static void
put_received(
    struct jsonw *w, const struct epcis_house *h, const struct epcis_about *a)
{
	const struct batch *b = a->batch;
	bool refused = a->it->kind == HAPPENED_REFUSED;
	char class[URI_SIZE];

	jsonw_str(w, "type", "ObjectEvent");
	put_when(w, h, a->it);
	jsonw_str(w, "action", refused ? "OBSERVE" : "ADD");
	jsonw_str(w, "bizStep", refused ? "inspecting" : "receiving");
	jsonw_str(w, "disposition", refused ? "non_conformant" : "in_progress");
	put_place(w, h, "readPoint", "goods-in");
	if (!refused)
		put_place(w, h, "bizLocation", "fish-section");
	jsonw_array(w, "quantityList");
	put_kg(w, uri_batch(class, h, b->code), b->weight_g);
	jsonw_end(w);
	put_parties(w, h, b);
	put_temperature(w, b->temp_dc);
	/* ilmd belongs to what comes into being: not to what was sent back. */
	put_lot(w, refused ? "pinbone:goods" : "ilmd", h, b);
}

/* --- a breakdown -----------------------------------------------------------*/

static void
put_units(
    struct jsonw *w, const struct epcis_house *h, const struct prep_sides *s)
{
	const struct prep_unit *u;
	char name[URI_SIZE];
	size_t i;

	jsonw_array(w, "pinbone:units");
	for (i = 0; i < s->unit_count; i++) {
		u = &s->units[i];
		jsonw_object(w, NULL);
		jsonw_str(
		    w, "pinbone:unit", uri_unit(name, h, u->code, u->dish_id));
		jsonw_str(w, "pinbone:dish", u->dish_name);
		jsonw_int(w, "pinbone:servings", u->servings);
		jsonw_int(w, "pinbone:grams", u->weight_g);
		jsonw_time(w, "pinbone:useBy", u->use_by_utc);
		jsonw_end(w);
	}
	jsonw_end(w);
}

/* What is not a labelled unit: a class of its own for each kind. */
static void
put_rest(struct jsonw *w, const struct epcis_house *h,
    const struct prep_sides *s, int64_t id)
{
	static const char *const words[] = { "trim", "frames", "waste",
		"unlabelled", "unexplained" };
	grams g[5] = { s->loss_g[LOSS_TRIM], s->loss_g[LOSS_FRAMES],
		s->loss_g[LOSS_WASTE], s->unlabelled_g, s->unexplained_g };
	char name[48], class[URI_SIZE];
	bool any = false;
	size_t i;

	for (i = 0; i < 5; i++)
		any = any || g[i] > 0;
	if (!any)
		return;
	jsonw_array(w, "outputQuantityList");
	for (i = 0; i < 5; i++) {
		if (g[i] <= 0)
			continue;
		str_fmt(name, sizeof(name), "%" PRId64 "-%s", id, words[i]);
		put_kg(w, uri(class, h, "breakdown", name), g[i]);
	}
	jsonw_end(w);
}

static void
put_transformation(struct jsonw *w, const struct epcis_house *h,
    const struct epcis_about *a, const char *step)
{
	jsonw_str(w, "type", "TransformationEvent");
	put_when(w, h, a->it);
	jsonw_str(w, "bizStep", step);
	jsonw_str(w, "disposition", "active");
	put_place(w, h, "readPoint", "fish-section");
	put_place(w, h, "bizLocation", "fish-section");
}

static void
put_breakdown(
    struct jsonw *w, const struct epcis_house *h, const struct epcis_about *a)
{
	const struct prep_sides *s = a->sides;
	char name[URI_SIZE];
	size_t i;

	put_transformation(w, h, a, "commissioning");
	jsonw_array(w, "inputQuantityList");
	for (i = 0; i < s->in_count; i++)
		put_kg(
		    w, uri_batch(name, h, s->in[i].batch), s->in[i].weight_g);
	jsonw_end(w);
	if (s->unit_count > 0) {
		jsonw_array(w, "outputEPCList");
		for (i = 0; i < s->unit_count; i++)
			jsonw_str(w, NULL,
			    uri_unit(name, h, s->units[i].code,
				s->units[i].dish_id));
		jsonw_end(w);
	}
	put_rest(w, h, s, a->it->id);
	if (s->unit_count > 0) {
		jsonw_object(w, "ilmd");
		put_units(w, h, s);
		jsonw_end(w);
	}
	put_text(w, "pinbone:note", a->it->reason);
}

/* What was left of units, onto a tray with a code of its own. */
static void
put_combined(
    struct jsonw *w, const struct epcis_house *h, const struct epcis_about *a)
{
	const struct prep_sides *s = a->sides;
	char name[URI_SIZE];
	size_t i;

	put_transformation(w, h, a, "repackaging");
	jsonw_array(w, "inputEPCList");
	for (i = 0; i < s->from_count; i++)
		jsonw_str(w, NULL,
		    uri_unit(name, h, s->from[i].code, s->from[i].dish_id));
	jsonw_end(w);
	jsonw_array(w, "outputEPCList");
	jsonw_str(w, NULL, uri_unit(name, h, a->it->portion, a->it->dish_id));
	jsonw_end(w);
	jsonw_object(w, "ilmd");
	put_units(w, h, s);
	jsonw_end(w);
}

/* --- everything else -------------------------------------------------------*/

struct words {
	const char *action, *step, *disposition; /* the last NULL: none */
};

/* By what is left of the unit afterwards; reasons in docs/records-out.md. */
static struct words
words_of(const struct happening *it)
{
	bool gone = it->left == 0;

	switch (it->kind) {
	case HAPPENED_USED:
		return (struct words){ gone ? "DELETE" : "OBSERVE",
			"dispensing",
			gone ? "dispensed" : "partially_dispensed" };
	case HAPPENED_DISCARDED:
		return (struct words){ gone ? "DELETE" : "OBSERVE",
			"destroying", gone ? "destroyed" : NULL };
	case HAPPENED_BATCH_DISCARDED:
		return (struct words){ "DELETE", "destroying", "destroyed" };
	case HAPPENED_MISSING:
		return (struct words){ "OBSERVE", "stock_taking",
			gone ? "mismatch_instance" : "mismatch_quantity" };
	case HAPPENED_FOUND:
		return (struct words){ "OBSERVE", "stock_taking", "available" };
	case HAPPENED_HELD:
		return (struct words){ "OBSERVE", "holding",
			it->recall ? "recalled" : "unavailable" };
	case HAPPENED_RELEASED:
		return (struct words){ "OBSERVE", "inspecting", "available" };
	case HAPPENED_FROZEN:
	case HAPPENED_THAWED:
	case HAPPENED_RECEIVED:
	case HAPPENED_REFUSED:
	case HAPPENED_BREAKDOWN:
	case HAPPENED_COMBINED:
	case HAPPENED_COUNT:
		break;
	}
	return (struct words){ "OBSERVE", "storing", "in_progress" };
}

/* The thing it is about: a unit, what a breakdown made, or a batch. */
static void
put_subject(
    struct jsonw *w, const struct epcis_house *h, const struct epcis_about *a)
{
	const struct happening *it = a->it;
	char name[URI_SIZE];
	size_t i;

	if (it->portion[0] != '\0' ||
	    (a->sides != NULL && a->sides->unit_count > 0)) {
		jsonw_array(w, "epcList");
		if (it->portion[0] != '\0')
			jsonw_str(w, NULL,
			    uri_unit(name, h, it->portion, it->dish_id));
		for (i = 0; a->sides != NULL && i < a->sides->unit_count; i++)
			jsonw_str(w, NULL,
			    uri_unit(name, h, a->sides->units[i].code,
				a->sides->units[i].dish_id));
		jsonw_end(w);
		return;
	}
	jsonw_array(w, "quantityList");
	if (it->prep_id != 0) { /* held, and nothing of it has a label */
		str_fmt(name, sizeof(name), "%sbreakdown/%" PRId64, h->base,
		    it->prep_id);
	} else {
		uri_batch(name, h, it->batch);
	}
	if (it->weight_g > 0) {
		put_kg(w, name, it->weight_g);
	} else { /* all of it, however much that is */
		jsonw_object(w, NULL);
		jsonw_str(w, "epcClass", name);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
put_object(
    struct jsonw *w, const struct epcis_house *h, const struct epcis_about *a)
{
	const struct happening *it = a->it;
	struct words say = words_of(it);

	jsonw_str(w, "type", "ObjectEvent");
	put_when(w, h, it);
	jsonw_str(w, "action", say.action);
	jsonw_str(w, "bizStep", say.step);
	if (say.disposition != NULL)
		jsonw_str(w, "disposition", say.disposition);
	put_place(w, h, "readPoint", "fish-section");
	if (!str_eq(say.action, "DELETE"))
		put_place(w, h, "bizLocation", "fish-section");
	put_subject(w, h, a);
	if (it->kind == HAPPENED_FROZEN)
		put_temperature(w, it->temp_dc);
	jsonw_str(w, "pinbone:what", happening_word(it->kind));
	if (it->servings > 0) {
		jsonw_int(w, "pinbone:servings", it->servings);
		jsonw_int(w, "pinbone:left", it->left);
	}
	if (it->use_by_utc != 0)
		jsonw_time(w, "pinbone:useBy", it->use_by_utc);
	put_text(w, "pinbone:service", it->service);
	put_text(w, "pinbone:reason", it->reason);
}

void
epcis_event(struct buf *out, const struct epcis_house *house,
    const struct epcis_about *about, bool first)
{
	struct jsonw *w = jsonw_new_object();

	if (about->batch != NULL)
		put_received(w, house, about);
	else if (about->it->kind == HAPPENED_BREAKDOWN)
		put_breakdown(w, house, about);
	else if (about->it->kind == HAPPENED_COMBINED)
		put_combined(w, house, about);
	else
		put_object(w, house, about);
	buf_puts(out, first ? "\n" : ",\n");
	jsonw_dump(out, w, false);
	jsonw_free(w);
}

/* --- the document ----------------------------------------------------------*/

void
epcis_head(
    struct buf *out, const struct epcis_house *house, int64_t created_utc)
{
	struct jsonw *w = jsonw_new_object();
	char when[48];

	jsonw_array(w, "@context");
	jsonw_str(w, NULL,
	    "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld");
	jsonw_object(w, NULL);
	jsonw_str(w, "cbvmda", "urn:epcglobal:cbv:mda:");
	jsonw_str(w, "pinbone", OUR_WORDS);
	jsonw_end(w);
	jsonw_end(w);
	jsonw_str(w, "type", "EPCISDocument");
	jsonw_str(w, "schemaVersion", "2.0");
	jsonw_str(
	    w, "creationDate", time_rfc3339(when, sizeof(when), created_utc));
	jsonw_str(w, "pinbone:kitchen", house->kitchen);
	jsonw_dump(out, w, false);
	jsonw_free(w);
	out->len--; /* its brace: the events come first */
	buf_puts(out, ",\"epcisBody\":{\"eventList\":[");
}

void
epcis_tail(struct buf *out)
{
	buf_puts(out, "\n]}}\n");
}
