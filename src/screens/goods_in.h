/*
 * goods_in.h - the state of Goods in, and its parts.  Private to src/screens.
 *
 * Pages: today's list; what came (a form); fish by fish; how it looks (a form
 * made for the species); the decision; what was recorded.  Going back loses
 * nothing, only a record or the person empties the forms.
 */
#ifndef SCREENS_GOODS_IN_H
#define SCREENS_GOODS_IN_H

#include "ops/receive.h"
#include "ops/weigh.h"
#include "screens/beside.h"
#include "screens/desk.h"
#include "term/list.h"

/* More suppliers than this a kitchen does not have. */
#define GOODS_SUPPLIERS_MAX 500

/* X(NAME, member of struct receive_in, enum receive_field) */
#define GOODS_FIELD_LIST(X)                                                    \
	X(SUPPLIER, supplier, RECEIVE_SUPPLIER)                                \
	X(DOCUMENT, document, RECEIVE_DOCUMENT)                                \
	X(SPECIES, species, RECEIVE_SPECIES)                                   \
	X(PRESENTATION, presentation, RECEIVE_PRESENTATION)                    \
	X(COUNT, count, RECEIVE_COUNT)                                         \
	X(WEIGHT, weight, RECEIVE_WEIGHT)                                      \
	X(TEMP, temp, RECEIVE_TEMP)                                            \
	X(LOT, lot, RECEIVE_LOT)                                               \
	X(AREA, area, RECEIVE_AREA)                                            \
	X(METHOD, method, RECEIVE_METHOD)                                      \
	X(GEAR, gear, RECEIVE_GEAR)                                            \
	X(CAUGHT, caught, RECEIVE_CAUGHT)                                      \
	X(DISPATCHED, dispatched, RECEIVE_DISPATCHED)                          \
	X(SUPPLIER_DATE, supplier_date, RECEIVE_SUPPLIER_DATE)                 \
	X(VESSEL, vessel, RECEIVE_VESSEL)                                      \
	X(PRICE, price, RECEIVE_PRICE)

enum goods_field {
#define GOODS_ENUM(NAME, member, field) GOODS_##NAME,
	GOODS_FIELD_LIST(GOODS_ENUM)
#undef GOODS_ENUM
	    GOODS_FIELDS
};

enum goods_page {
	PAGE_DAY,
	PAGE_GOODS,
	PAGE_EACH,
	PAGE_LOOK,
	PAGE_DECIDE,
	PAGE_DONE,
};

enum { DECIDE_WHAT, DECIDE_NOTE, DECIDE_FIELDS };

/* What a row of the form of looks asks. */
enum look_kind { LOOK_MARK, LOOK_SIZE, LOOK_CONDITION, LOOK_POINTS };

#define LOOK_ROWS_MAX (FRESHNESS_MARKS_MAX + 1 + 3 + QI_ATTRIBUTES_MAX)
_Static_assert(LOOK_ROWS_MAX <= FORM_FIELDS_MAX, "they fit in one form");

struct look_row {
	enum look_kind kind;
	const struct freshness_attribute *mark; /* LOOK_MARK */
	const struct qi_attribute *points;      /* LOOK_POINTS */
	enum season_kind condition;             /* LOOK_CONDITION */
};

/* A choice as people read it. */
struct says {
	char text[128];
};

struct goods {
	enum goods_page page;
	struct batch_list today; /* newest first */
	struct list list;

	struct supplier_list suppliers;
	struct says *supplier_says, *species_says; /* owned */
	const struct species_table *species;
	struct form form;
	char *scans[RECEIVE_SCANS_MAX]; /* owned */
	size_t scan_count;
	struct receive_label label;

	grams each[WEIGH_MAX];
	size_t each_count;
	char each_text[WEIGH_MAX * 8];
	struct form next;     /* of fish by fish: one weight */
	struct beside *scale; /* being asked, or NULL */
	enum goods_page scale_for;

	/* The form of looks, and for which fish it was made. */
	char look_species[4];
	enum presentation look_presentation;
	struct field_row look_fields[LOOK_ROWS_MAX];
	struct look_row looks[LOOK_ROWS_MAX];
	char point_labels[QI_ATTRIBUTES_MAX][48];
	int look_count;
	bool look_law; /* the law puts the species in its table */
	struct form look;
	char marks[FRESHNESS_MARKS_MAX][48];
	char points[QI_ATTRIBUTES_MAX][48];

	struct form decide;
	struct receive_view view;    /* what would be said, on PAGE_DECIDE */
	struct batch done;           /* recorded last */
	char done_why[ERR_TEXT_MAX]; /* why its label is not in the queue */
};

/* --- goods_in_form.c -------------------------------------------------------*/

void goods_form_init(struct goods *g, const struct station *sn, day_no today);
/* goods_form_choices - after the species changed. */
void goods_form_choices(struct goods *g);
/* goods_form_suppliers - takes the list over. */
void goods_form_suppliers(struct goods *g, const struct supplier_list *list);
/* goods_form_next - empty for the next batch; supplier and document stay. */
void goods_form_next(struct goods *g);
/* goods_in_fill - what is typed and scanned, for ops; borrowed from g. */
void goods_in_fill(struct receive_in *in, struct goods *g);
/* goods_field_of - the field a refusal is about; -1: none of the form. */
int goods_field_of(enum receive_field at);
/* goods_concerns - the reverse. */
enum receive_field goods_concerns(int i);
/* goods_words - a text of ops in this screen's words, without options. */
char *goods_words(char *dst, size_t size, const char *text);
/* goods_presentation - as typed; PRES_COUNT when not known. */
enum presentation goods_presentation(const struct goods *g);
const struct species *goods_species(const struct goods *g);

/* --- goods_in_label.c ------------------------------------------------------*/

/* goods_scan - a supplier's label. */
void goods_scan(struct desk *d, struct goods *g, const char *text);
void goods_label_off(struct goods *g);
/* goods_label_marks - say at each field what the label says. */
void goods_label_marks(struct goods *g);

/* --- goods_in_weigh.c ------------------------------------------------------*/

void goods_weigh_init(struct goods *g, day_no today);
void goods_weigh(struct desk *d, struct goods *g);
void goods_weigh_tick(struct desk *d, struct goods *g);
/* goods_weigh_off - what the scale would still say is of no use: the weight was
 * judged as it stood, or is of another batch. */
void goods_weigh_off(struct goods *g);
bool goods_each_key(struct desk *d, struct goods *g, const struct key *k);
void goods_draw_each(struct desk *d, struct goods *g, const struct pane *p);

/* --- goods_in_look.c -------------------------------------------------------*/

/* goods_look_make - the form for this fish; kept when it is made already. */
void goods_look_make(
    struct goods *g, const struct station *sn, const struct batch *b);
void goods_look_fill(struct judge_in *seen, struct goods *g);
/* goods_look_field - the first field of a part that a refusal is about; -1. */
int goods_look_field(const struct goods *g, enum receive_field at);
void goods_draw_look(struct desk *d, struct goods *g, const struct pane *p);

/* --- goods_in_decide.c -----------------------------------------------------*/

void goods_decide_init(struct goods *g, day_no today);
/* goods_decide_follow - the note is asked when the decision needs one. */
void goods_decide_follow(struct goods *g);
/* goods_on - check this page and go on to the next. */
void goods_on(struct desk *d, struct goods *g);
void goods_back(struct goods *g);
void goods_record(struct desk *d, struct goods *g);
/* goods_found - append everything that was found, in words. */
void goods_found(struct buf *out, const struct desk *d, const struct goods *g);

/* --- goods_in_draw.c, goods_in_pages.c -------------------------------------*/

void goods_draw_steps(struct goods *g, const struct pane *p);
void goods_draw_day(struct desk *d, struct goods *g, const struct pane *p);
void goods_draw_form(struct desk *d, struct goods *g, const struct pane *p);
void goods_draw_decide(struct desk *d, struct goods *g, const struct pane *p);
void goods_draw_done(struct desk *d, struct goods *g, const struct pane *p);

#endif /* SCREENS_GOODS_IN_H */
