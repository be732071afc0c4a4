/* check_verify.c - is the record as it was recorded?  Looked through by a
 * process beside the station: years take a minute. */
#include <string.h>

#include "base/str.h"
#include "core/paper_code.h"
#include "records_inner.h"
#include "says_checks.h"

static bool
code_read(struct desk *d, void *arg, struct form *f)
{
	struct records *s = arg;
	const char *args[] = { "verify", NULL, NULL, NULL };
	char code[PAPER_CODE_SIZE];
	struct err err = { 0 };
	const char *typed = form_value(f, 0);

	if (typed != NULL && typed[0] != '\0') {
		if (paper_code_parse(code, typed, &err) != RC_OK) {
			form_wrong(f, 0, err.text);
			desk_fail(d, &err);
			return false;
		}
		args[1] = "--paper";
		args[2] = code;
	}
	records_beside(d, s, RUN_VERIFY, args, 0);
	return true;
}

void
check_verify(struct desk *d, struct records *s)
{
	static const struct field_row rows[] = {
		{ SAY_VERIFY_CODE, FIELD_TEXT, 0, SAY_VERIFY_CODE_HINT },
	};

	(void)desk_ask_fields(d, tr(SAY_VERIFY_ASK), rows, 1, code_read, s);
}

/* What it said, without the lines that told how far it was, and what stands
 * above in the station's language. */
static void
put_found(struct buf *out, const struct beside *b)
{
	const char *line, *end;
	struct buf all;

	buf_init(&all, BESIDE_LINES * BESIDE_LINE_SIZE);
	beside_text(&all, b);
	for (line = buf_text(&all); *line != '\0'; line = end + 1) {
		if ((end = strchr(line, '\n')) == NULL)
			break;
		if (strncmp(line, "pinbone: ", 9) != 0 &&
		    (strstr(line, " % of ") == NULL ||
			strstr(line, " % of ") > end))
			buf_add(out, line, (size_t)(end - line) + 1);
	}
	buf_fini(&all);
}

void
check_verified(struct desk *d, struct records *s, const char *word)
{
	int status = beside_status(s->run);
	bool good = status == 0;
	struct buf text;

	if (s->stopping) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_VERIFY_STOPPED));
		return;
	}
	if (status > 1) { /* it could not look */
		desk_say(d, LEVEL_REFUSED, "%s", word);
		return;
	}
	desk_say(d, good ? LEVEL_DONE : LEVEL_REFUSED, "%s",
	    tr(good ? SAY_VERIFY_GOOD : SAY_VERIFY_BAD));
	if (d->at != SCREEN_RECORDS)
		return;
	buf_init(&text, BESIDE_LINES * BESIDE_LINE_SIZE + 2000);
	buf_printf(&text, "%s\n\n",
	    tr(good ? SAY_VERIFY_GOOD_TEXT : SAY_VERIFY_BAD_TEXT));
	put_found(&text, s->run);
	desk_read(d, tr(SAY_CHECK_VERIFY), buf_text(&text));
	buf_fini(&text);
}
