/* service.h - the Service screen's state, how it is drawn and closed.  Private
 * to src/screens. */
#ifndef SCREENS_SERVICE_H
#define SCREENS_SERVICE_H

#include "hand_deed.h"
#include "ops/service_page.h"
#include "screens/desk.h"
#include "term/form.h"
#include "term/list.h"

/* The form of a close: seated, walk-ins, then a field for each dish. */
#define CLOSE_DISHES_MAX (FORM_FIELDS_MAX - 2)

struct service_close {
	bool shown;     /* instead of the list; what is typed stays hidden */
	bool correct;   /* of a closed service */
	char label[48]; /* of the service it is typed for; empty: of none */
	struct form form;
	struct field_row rows[FORM_FIELDS_MAX];
	char labels[FORM_FIELDS_MAX][128];
	char dishes[CLOSE_DISHES_MAX][32]; /* codes */
};

struct service_screen {
	bool loaded;
	struct service_page page; /* when loaded */
	bool other; /* a sitting was chosen; else the present one */
	struct service_beside *beside; /* a forecast being made, or NULL */
	int64_t recorded; /* as service_recorded() said when it was begun */
	struct list list;
	struct deed deed;
	struct service_close close;
};

void service_draw(struct desk *d, void *state, const struct pane *p);

/* service_close_begin - show the form; what was typed for this service is
 * there still. */
void service_close_begin(struct desk *d, struct service_screen *s);
void service_close_draw(struct service_screen *s, const struct pane *p);
/* service_close_key - true: taken. */
bool service_close_key(
    struct desk *d, struct service_screen *s, const struct key *k);
void service_close_record(struct desk *d, struct service_screen *s);

#endif /* SCREENS_SERVICE_H */
