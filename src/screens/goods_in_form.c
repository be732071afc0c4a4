/* goods_in_form.c - Goods in: what came, field by field. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "goods_in.h"
#include "says_goods_in.h"

static const struct field_row rows[GOODS_FIELDS] = {
	[GOODS_SUPPLIER] = { SAY_GI_SUPPLIER, FIELD_CHOICE, FIELD_MUST,
	    SAY_GI_HINT_SUPPLIER },
	[GOODS_DOCUMENT] = { SAY_GI_DOCUMENT, FIELD_TEXT, FIELD_MUST,
	    SAY_GI_HINT_DOCUMENT },
	[GOODS_SPECIES] = { SAY_GI_SPECIES, FIELD_CHOICE, FIELD_MUST,
	    SAY_GI_HINT_SPECIES },
	[GOODS_PRESENTATION] = { SAY_GI_PRESENTATION, FIELD_CHOICE, FIELD_MUST,
	    SAY_GI_HINT_PRESENTATION },
	[GOODS_COUNT] = { SAY_GI_COUNT, FIELD_COUNT, 0, SAY_GI_HINT_COUNT },
	[GOODS_WEIGHT] = { SAY_GI_WEIGHT, FIELD_WEIGHT, FIELD_MUST,
	    SAY_GI_HINT_WEIGHT },
	[GOODS_TEMP] = { SAY_GI_TEMP, FIELD_DEGREES, FIELD_MUST,
	    SAY_GI_HINT_TEMP },
	[GOODS_LOT] = { SAY_GI_LOT, FIELD_TEXT, FIELD_MUST, SAY_GI_HINT_LOT },
	[GOODS_AREA] = { SAY_GI_AREA, FIELD_TEXT, FIELD_MUST,
	    SAY_GI_HINT_AREA },
	[GOODS_METHOD] = { SAY_GI_METHOD, FIELD_CHOICE, FIELD_MUST,
	    SAY_GI_HINT_METHOD },
	[GOODS_GEAR] = { SAY_GI_GEAR, FIELD_TEXT, 0, SAY_GI_HINT_GEAR },
	[GOODS_CAUGHT] = { SAY_GI_CAUGHT, FIELD_DATE, FIELD_PAST,
	    SAY_GI_HINT_DATE },
	[GOODS_DISPATCHED] = { SAY_GI_DISPATCHED, FIELD_DATE, FIELD_PAST,
	    SAY_GI_HINT_DATE },
	[GOODS_SUPPLIER_DATE] = { SAY_GI_SUPPLIER_DATE, FIELD_DATE, 0,
	    SAY_GI_HINT_DATE },
	[GOODS_VESSEL] = { SAY_GI_VESSEL, FIELD_TEXT, 0, SAY_GI_HINT_VESSEL },
	[GOODS_PRICE] = { SAY_GI_PRICE, FIELD_PRICE, 0, SAY_GI_HINT_PRICE },
};

static const enum receive_field concerns[GOODS_FIELDS] = {
#define GOODS_CONCERNS(NAME, member, field) [GOODS_##NAME] = field,
	GOODS_FIELD_LIST(GOODS_CONCERNS)
#undef GOODS_CONCERNS
};

/* --- choices ---------------------------------------------------------------*/

static const char *
supplier_code(const void *arg, size_t i)
{
	const struct goods *g = arg;

	return g->suppliers.items[i].code;
}

static const char *
supplier_says(const void *arg, size_t i)
{
	const struct goods *g = arg;

	return g->supplier_says[i].text;
}

static const char *
species_code(const void *arg, size_t i)
{
	const struct goods *g = arg;

	return g->species->items[i].code;
}

static const char *
species_says(const void *arg, size_t i)
{
	const struct goods *g = arg;

	return g->species_says[i].text;
}

static bool
sold_as(const struct goods *g, enum presentation p)
{
	const struct species *sp = goods_species(g);

	return sp == NULL || species_sold_as(sp, p);
}

/* The i-th presentation this species is bought in. */
static const char *
presentation_at(const void *arg, size_t i)
{
	const struct goods *g = arg;
	int p;

	for (p = 0; p < PRES_COUNT; p++)
		if (sold_as(g, (enum presentation)p) && i-- == 0)
			break;
	return p < PRES_COUNT ? presentation_word((enum presentation)p) : "";
}

static const char *
method_at(const void *arg, size_t i)
{
	static const char *const words[] = {
		"caught",
		"caught-freshwater",
		"farmed",
	};

	(void)arg;
	return words[i];
}

void
goods_form_choices(struct goods *g)
{
	struct field *f = g->form.fields;
	size_t n = 0;
	int p;

	for (p = 0; p < PRES_COUNT; p++)
		n += sold_as(g, (enum presentation)p);
	f[GOODS_SUPPLIER].choices = (struct choices){ g->suppliers.count,
		supplier_code, supplier_says, g };
	f[GOODS_SPECIES].choices = (struct choices){ g->species->count,
		species_code, species_says, g };
	f[GOODS_PRESENTATION].choices =
	    (struct choices){ n, presentation_at, NULL, g };
	f[GOODS_METHOD].choices = (struct choices){ 3, method_at, NULL, g };
}

/* --- the form --------------------------------------------------------------*/

void
goods_form_init(struct goods *g, const struct station *sn, day_no today)
{
	const struct species *sp;
	size_t i;

	g->species = &sn->species;
	g->species_says = xcalloc(g->species->count, sizeof(struct says));
	for (i = 0; i < g->species->count; i++) {
		sp = &g->species->items[i];
		str_fmt(g->species_says[i].text, sizeof(struct says), "%s, %s",
		    sp->name, sp->code);
	}
	form_init(&g->form, rows, GOODS_FIELDS, today);
	goods_form_choices(g);
}

void
goods_form_suppliers(struct goods *g, const struct supplier_list *list)
{
	const struct supplier *s;
	size_t i;

	supplier_list_fini(&g->suppliers);
	free(g->supplier_says);
	g->suppliers = *list;
	/* Two may have one name: the code tells them apart. */
	g->supplier_says = xcalloc(list->count + 1, sizeof(struct says));
	for (i = 0; i < list->count; i++) {
		s = &list->items[i];
		str_fmt(g->supplier_says[i].text, sizeof(struct says), "%s, %s",
		    s->code, s->name);
	}
	goods_form_choices(g);
}

void
goods_form_next(struct goods *g)
{
	int i;

	for (i = 0; i < GOODS_FIELDS; i++)
		if (i != GOODS_SUPPLIER && i != GOODS_DOCUMENT)
			form_set(&g->form, i, "");
	g->form.at = GOODS_SPECIES;
	g->form.top = 0;
	g->form.dirty = false;
	goods_weigh_off(g);
	g->each_count = 0;
	form_clear(&g->next);
	goods_label_off(g);
	g->look_species[0] = '\0';
	form_clear(&g->decide);
}

const struct species *
goods_species(const struct goods *g)
{
	const char *code = form_value(&g->form, GOODS_SPECIES);

	return code == NULL ? NULL : species_find(g->species, code);
}

enum presentation
goods_presentation(const struct goods *g)
{
	const char *word = form_value(&g->form, GOODS_PRESENTATION);
	enum presentation p;

	if (word == NULL || presentation_parse(&p, word, NULL) != RC_OK)
		return PRES_COUNT;
	return p;
}

static const char *
each_text(struct goods *g)
{
	struct buf b;
	size_t i;

	buf_init(&b, sizeof(g->each_text) - 1);
	for (i = 0; i < g->each_count; i++)
		buf_printf(&b, "%s%" PRId64, i > 0 ? "," : "", g->each[i]);
	str_copy(g->each_text, sizeof(g->each_text), buf_text(&b));
	buf_fini(&b);
	return g->each_text;
}

void
goods_in_fill(struct receive_in *in, struct goods *g)
{
	size_t i;

	memset(in, 0, sizeof(*in));
#define GOODS_TAKE(NAME, member, field)                                        \
	in->member = form_value(&g->form, GOODS_##NAME);
	GOODS_FIELD_LIST(GOODS_TAKE)
#undef GOODS_TAKE
	if (g->each_count > 0)
		in->fish_weights = each_text(g);
	for (i = 0; i < g->scan_count; i++)
		in->scans[i] = g->scans[i];
	in->scan_count = g->scan_count;
	goods_look_fill(&in->seen, g);
}

int
goods_field_of(enum receive_field at)
{
	int i;

	if (at == RECEIVE_FISH_WEIGHTS)
		return GOODS_WEIGHT;
	for (i = 0; i < GOODS_FIELDS; i++)
		if (concerns[i] == at)
			return i;
	return -1;
}

enum receive_field
goods_concerns(int i)
{
	return concerns[i];
}

/* --- words -----------------------------------------------------------------*/

/* Longer options first: one may begin like another. */
static const struct {
	const char *option, *word;
} options[] = {
	{ " (--refuse REASON)", "" },
	{ "--refuse REASON", SAY_GI_WORD_REASON },
	{ "--note TEXT", SAY_GI_WORD_NOTE },
	{ "--supplier-date", SAY_GI_SUPPLIER_DATE },
	{ "--supplier", SAY_GI_SUPPLIER },
	{ "--document", SAY_GI_DOCUMENT },
	{ "--species", SAY_GI_SPECIES },
	{ "--presentation", SAY_GI_PRESENTATION },
	{ "--fish-weights", SAY_GI_WORD_EACH },
	{ "--count", SAY_GI_COUNT },
	{ "--weight", SAY_GI_WEIGHT },
	{ "--price", SAY_GI_PRICE },
	{ "--lot", SAY_GI_LOT },
	{ "--temperature", SAY_GI_TEMP },
	{ "--area", SAY_GI_AREA },
	{ "--method", SAY_GI_METHOD },
	{ "--gear", SAY_GI_GEAR },
	{ "--caught", SAY_GI_CAUGHT },
	{ "--dispatched", SAY_GI_DISPATCHED },
	{ "--vessel", SAY_GI_VESSEL },
	{ "--scan", SAY_GI_WORD_LABEL },
	{ "--mark", SAY_GI_WORD_MARK },
	{ "--points", SAY_GI_WORD_POINTS },
	{ "--size", SAY_GI_WORD_SIZE },
};

char *
goods_words(char *dst, size_t size, const char *text)
{
	struct buf b;
	size_t i, n;

	buf_init(&b, size - 1);
	while (*text != '\0') {
		for (i = 0; i < sizeof(options) / sizeof(options[0]); i++) {
			n = strlen(options[i].option);
			if (strncmp(text, options[i].option, n) == 0)
				break;
		}
		if (i == sizeof(options) / sizeof(options[0])) {
			buf_putc(&b, *text++);
			continue;
		}
		if (options[i].word[0] != '\0')
			buf_puts(&b, tr(options[i].word));
		text += n;
	}
	str_copy(dst, size, buf_text(&b));
	utf8_clean(dst);
	buf_fini(&b);
	return dst;
}
