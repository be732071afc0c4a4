/* prep_list.h - parts of the prep list that its own files share.  Private to
 * src/screens. */
#ifndef SCREENS_PREP_LIST_H
#define SCREENS_PREP_LIST_H

#include "core/demand.h"
#include "ops/prep_page.h"
#include "screens/desk.h"
#include "term/list.h"

#define PREP_SAYS_MAX 64
#define PREP_SAY_SIZE 240

/* Actions; rows are in screen_prep_list.c. */
enum prep_list_action {
	PL_START = 1,
	PL_TICK,
	PL_WHY,
	PL_CUT,
	PL_ORDER,
	PL_VIEW,
	PL_SERVICE,
	PL_FISH,
	PL_EXPECT,
	PL_PRINT,
	PL_PLAN,
	PL_MIND,
};

struct prep_screen {
	struct prep_services services;
	char service[PREP_SERVICE_SIZE]; /* shown; empty: none is coming */
	bool chosen;                     /* by a person: stays */
	struct prep_page *page;          /* the last plan, or NULL */
	struct prep_beside *making;      /* the next one, or NULL */
	bool outdated; /* what is being made is no longer wanted */
	int64_t tried; /* prep_page_version() when it was begun */
	bool stale;    /* the record changed, planning takes long */
	char why_not[ERR_TEXT_MAX]; /* why there is no plan; empty: there is */
	struct list tasks;          /* tasks of the plan, then what is gone */
	struct list dishes;         /* lines of the plan */
	bool by_dish;               /* which of them is shown */
	/* The chef's words, kept as long as the station is open. */
	struct plan_say says[PREP_SAYS_MAX];
	char say_texts[PREP_SAYS_MAX][PREP_SAY_SIZE];
	size_t say_count;
	bool said; /* the last of them has not been in a plan yet */
	/* A plan made anew while something is asked may bring another service
	 * and other tasks: the answer is for what was shown then. */
	char asked[PREP_SERVICE_SIZE];
	struct {
		struct work_key key;
		char what[64];
		enum work_said said;
	} mark; /* waits for initials */
	enum ticket_kind print;
	char word[64];               /* of a choice being shown */
	char batches[24][CODE_SIZE]; /* to choose from */
	size_t batch_count;
	char dishes_known[DEMAND_DISHES_MAX][32]; /* the same */
	size_t dish_count;
};

/* prep_list_of - the prep list of a desk. */
struct prep_screen *prep_list_of(const struct desk *d);
/* prep_list_plan - have the plan made again. */
void prep_list_plan(struct desk *d, struct prep_screen *l);
/* prep_list_task - the chosen task; NULL when a dish or what is gone is chosen,
 * or nothing.  prep_list_gone - the chosen one of those, or NULL. */
const struct prep_task *prep_list_task(const struct prep_screen *l);
const struct work_mark *prep_list_gone(const struct prep_screen *l);
/* prep_list_line - line of the plan that is chosen, or -1. */
int prep_list_line(const struct prep_screen *l);
/* prep_list_what - what a task is about. */
const char *prep_list_what(
    const struct prep_screen *l, const struct prep_task *t);

/* prep_list_draw.c */
void prep_list_draw(struct desk *d, void *state, const struct pane *p);
/* prep_list_ask.c */
void prep_list_ask_fish(struct desk *d, struct prep_screen *l);
void prep_list_ask_expect(struct desk *d, struct prep_screen *l);
void prep_list_ask_service(struct desk *d, struct prep_screen *l);
void prep_list_ask_print(struct desk *d, struct prep_screen *l);

#endif /* SCREENS_PREP_LIST_H */
