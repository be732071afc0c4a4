/*
 * complaint.h - a complaint is taken from what Trace shows, and read later.
 * Private to src/screens.
 */
#ifndef SCREENS_COMPLAINT_H
#define SCREENS_COMPLAINT_H

#include "ops/complaint.h"
#include "screens/desk.h"

/* Complaints on record; a part of a screen's state. */
struct complaint_read {
	struct complaint_list rows; /* owned */
	char (*words)[120];         /* of each, owned */
	size_t at;                  /* the chosen one */
	bool close;                 /* what is typed ends it */
	char text[FIELD_SIZE];      /* typed last */
	char shown[3][80];
};

/* complaint_ask_list - which one, then what to do with it. */
void complaint_ask_list(struct desk *d, struct complaint_read *r);
void complaint_read_fini(struct complaint_read *r);

/* What is typed of a new one; kept until the record took it. */
struct complaint_ask {
	char code[CODE_SIZE]; /* empty: dish and service */
	char dish[32], service[48];
	char what[FIELD_SIZE], place[FIELD_SIZE], at[FIELD_SIZE];
	char hold[8]; /* yes, no; empty: not said */
	struct complaint_read read;
};

/* complaint_form - ask for it; code or dish and service are set.  Returns the
 * form. */
struct form *complaint_form(struct desk *d, struct complaint_ask *a);

#endif /* SCREENS_COMPLAINT_H */
