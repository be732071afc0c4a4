/* check_papers.c - asked from the checks of Records: is a delivery's record
 * complete, law by law? */
#include <string.h>

#include "base/str.h"
#include "ops/papers.h"
#include "records_inner.h"
#include "says_checks.h"
#include "says_records.h"

static void
read_papers(struct desk *d, struct checks *c, bool all)
{
	struct buf out;
	struct err err = { 0 };

	buf_init(&out, (size_t)1 << 22);
	if (papers(&out, d->sn, c->what, all, FORMAT_TEXT, &err) == RC_OK)
		desk_read(d, tr(SAY_CHECK_PAPERS), buf_text(&out));
	else
		desk_fail(d, &err);
	buf_fini(&out);
}

static bool
one_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;

	str_copy(c->what, sizeof(c->what), form_value(f, 0));
	desk_shut(d);
	read_papers(d, c, false);
	return false;
}

static bool
all_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;

	str_copy(c->what, sizeof(c->what), form_value(f, 0));
	desk_shut(d);
	read_papers(d, c, true);
	return false;
}

/* --- what was said --------------------------------------------------------*/

enum { F_CODE, F_DATUM, F_VALUE, F_COUNT };

static enum paper_datum
nth_datum(size_t i)
{
	int k;

	for (k = 0; k < DATUM_COUNT; k++)
		if (papers_askable((enum paper_datum)k) && i-- == 0)
			break;
	return (enum paper_datum)k;
}

static size_t
datum_count(void)
{
	size_t n = 0;
	int k;

	for (k = 0; k < DATUM_COUNT; k++)
		n += papers_askable((enum paper_datum)k);
	return n;
}

static const char *
datum_word(const void *arg, size_t i)
{
	(void)arg;
	return paper_datum_word(nth_datum(i));
}

static void ask_say(struct desk *d, struct checks *c);

static void
say(struct desk *d, void *arg)
{
	struct checks *c = arg;
	struct err err = { 0 };

	if (papers_say(d->sn, c->what, c->datum, c->text, d->by, &err) !=
	    RC_OK) {
		ask_say(d, c);
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE, tr(SAY_PAP_SAID), c->datum, c->text);
	c->text[0] = c->datum[0] = '\0';
}

static bool
say_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;

	str_copy(c->what, sizeof(c->what), form_value(f, F_CODE));
	str_copy(c->datum, sizeof(c->datum), form_value(f, F_DATUM));
	str_copy(c->text, sizeof(c->text), form_value(f, F_VALUE));
	desk_shut(d);
	desk_record(d, DUTY_ANYONE, say, c);
	return false;
}

static void
ask_say(struct desk *d, struct checks *c)
{
	static const struct field_row rows[F_COUNT] = {
		[F_CODE] = { SAY_PAP_CODE, FIELD_TEXT, FIELD_MUST, NULL },
		[F_DATUM] = { SAY_PAP_DATUM, FIELD_CHOICE, FIELD_MUST,
		    SAY_PAP_DATUM_HINT },
		[F_VALUE] = { SAY_PAP_VALUE, FIELD_TEXT, FIELD_MUST, NULL },
	};
	struct form *f =
	    desk_ask_fields(d, tr(SAY_PAP_SAY_ASK), rows, F_COUNT, say_read, c);

	f->fields[F_DATUM].choices =
	    (struct choices){ datum_count(), datum_word, NULL, NULL };
	form_set(f, F_CODE, c->what);
	form_set(f, F_DATUM, c->datum);
	form_set(f, F_VALUE, c->text);
}

static void
pick(struct desk *d, void *arg, size_t i)
{
	static const struct field_row text[] = {
		{ SAY_PAP_ONE_ASK, FIELD_TEXT, FIELD_MUST, NULL },
	};
	static const struct field_row date[] = {
		{ SAY_DAY_FIELD, FIELD_DATE, FIELD_MUST | FIELD_PAST,
		    SAY_DAY_HINT },
	};
	struct checks *c = arg;

	switch (i) {
	case 0:
		day_print(c->what, sizeof(c->what), desk_today(d));
		read_papers(d, c, false);
		c->what[0] = '\0';
		break;
	case 1:
		(void)desk_ask_fields(d, tr(SAY_PAP_DAY), date, 1, one_read, c);
		break;
	case 2:
	case 3:
		(void)desk_ask_fields(d, tr(SAY_PAP_ONE_ASK), text, 1,
		    i == 2 ? one_read : all_read, c);
		break;
	default:
		ask_say(d, c);
		break;
	}
}

void
check_papers(struct desk *d, struct records *s)
{
	static const char *const says[] = { SAY_PAP_TODAY, SAY_PAP_DAY,
		SAY_PAP_ONE, SAY_PAP_ALL, SAY_PAP_SAY };

	checks_pick(d, &s->asked, tr(SAY_CHECK_PAPERS), says,
	    sizeof(says) / sizeof(says[0]), pick);
}
