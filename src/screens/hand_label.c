/* hand_label.c - labels of what is on hand. */
#include "hand_label.h"

#include <string.h>

#include "base/str.h"
#include "ops/label.h"
#include "says_hand.h"

static void
print_all(struct desk *d, void *arg)
{
	struct hand_labels *l = arg;
	struct label_order o = { .count = 1, .by = d->by, .only_queue = true };
	struct job_list jobs;
	struct err err = { 0 };
	const char *code;
	int copy;
	size_t i;
	enum rc rc = RC_OK;

	o.codes = &code;
	for (i = 0; i < l->count && rc == RC_OK; i++) {
		code = l->codes[i];
		rc = label_due(&o.want, &copy, d->sn, code, &err);
		if (rc == RC_OK) {
			rc = label_print(&jobs, d->sn, &o, &err);
			job_list_fini(&jobs);
		}
	}
	if (i > 1 || rc == RC_OK)
		desk_print(d);
	if (rc == RC_OK)
		desk_say(d, LEVEL_DONE, trn(SAY_DID_LABEL, (long)l->count),
		    (int)l->count);
	else
		desk_fail(d, &err);
}

static void
print_yes(struct desk *d, void *arg)
{
	desk_record(d, DUTY_ANYONE, print_all, arg);
}

void
hand_label(struct desk *d, struct hand_labels *l)
{
	struct err err = { 0 };
	enum label_want want;
	char code[CODE_SIZE], text[560] = "", more[120];
	int copy, again = 0;
	size_t i;

	for (i = 0; i < l->count; i++) {
		if (label_due(&want, &copy, d->sn, l->codes[i], &err) !=
		    RC_OK) {
			desk_fail(d, &err);
			return;
		}
		if (copy > 0 && again++ == 0)
			str_fmt(text, sizeof(text), tr(SAY_LABEL_AGAIN_TEXT),
			    code_show(code, l->codes[i]), copy);
	}
	if (again > 1) {
		str_fmt(more, sizeof(more),
		    trn(SAY_LABEL_AGAIN_MORE, again - 1), again - 1);
		str_fmt(text + strlen(text), sizeof(text) - strlen(text), " %s",
		    more);
	}
	if (again > 0)
		desk_ask_yes(d, tr(SAY_LABEL_AGAIN), text, print_yes, l);
	else
		print_yes(d, l);
}
