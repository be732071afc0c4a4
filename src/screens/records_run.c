/* records_run.c - exports and backups, run beside the station. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "records_inner.h"
#include "says_records.h"

#define MB 1000000
/* A slow stick writes 4 MB a second and reads back faster; common practice, no
 * source.  After the first backup its own pace counts. */
#define PACE_MS_MB 400

static const struct {
	const char *word, *says;
} kind_says[] = {
	{ "stock", SAY_EXPORT_STOCK },
	{ "day", SAY_EXPORT_DAY },
	{ "trace", SAY_EXPORT_TRACE },
	{ "yields", SAY_EXPORT_YIELDS },
	{ "waste", SAY_EXPORT_WASTE },
	{ "audit", SAY_EXPORT_AUDIT },
	{ "receiving", SAY_EXPORT_RECEIVING },
	{ "chain", SAY_EXPORT_CHAIN },
	{ "epcis", SAY_EXPORT_EPCIS },
};

const char *
records_kind(const struct export_kind *k)
{
	size_t i;

	for (i = 0; i < sizeof(kind_says) / sizeof(kind_says[0]); i++)
		if (str_eq(k->word, kind_says[i].word))
			return tr(kind_says[i].says);
	return k->summary;
}

int
records_kinds(void)
{
	int n = 0;

	while (export_kinds[n].word != NULL)
		n++;
	return n;
}

void
records_beside(struct desk *d, struct records *s, enum records_run what,
    const char *const *args, int64_t expect_ms)
{
	struct err err = { 0 };

	if (s->run != NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_RUN_BUSY));
		return;
	}
	if (beside_start(&s->run, d, args, expect_ms, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	s->runs = what;
	s->stopping = false;
	s->began_ms = d->now_ms;
}

/* --- exports ---------------------------------------------------------------*/

static void
start_export(struct desk *d, void *arg)
{
	struct records *s = arg;
	const struct export_kind *k = &export_kinds[s->exports.at];
	const char *args[6];
	size_t n = 0;

	args[n++] = "export";
	args[n++] = k->word;
	if (s->what[0] != '\0')
		args[n++] = s->what;
	args[n++] = s->folder;
	if (s->replace)
		args[n++] = "--replace";
	args[n] = NULL;
	records_beside(d, s, RUN_EXPORT, args, 0);
}

static bool
export_read(struct desk *d, void *arg, struct form *f)
{
	struct records *s = arg;
	struct export_wish wish = { .kind = export_kinds[s->exports.at].word };
	struct export_done to;
	struct err err = { 0 };
	char text[1300];
	int last = f->count - 1;
	bool there;

	s->what[0] = '\0';
	if (last > 0 && form_value(f, 0) != NULL)
		str_copy(s->what, sizeof(s->what), form_value(f, 0));
	str_copy(s->folder, sizeof(s->folder), form_value(f, last));
	wish.what = s->what[0] == '\0' ? NULL : s->what;
	wish.folder = s->folder;
	if (export_look(&to, &there, d->sn, &wish, &err) != RC_OK) {
		form_wrong(f,
		    to.path[0] != '\0' || err.rc == RC_NOTFOUND ? last : 0,
		    err.text);
		return false;
	}
	s->replace = there;
	desk_shut(
	    d); /* the form, now: the next question lies over the screen */
	if (!there) {
		start_export(d, s);
		return false;
	}
	str_fmt(text, sizeof(text), tr(SAY_EXPORT_THERE_TEXT), to.path);
	desk_ask_yes(d, tr(SAY_EXPORT_THERE), text, start_export, s);
	return false;
}

void
records_ask_export(struct desk *d, struct records *s)
{
	static const struct field_row plain[] = {
		{ SAY_EXPORT_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_FOLDER_HINT },
	};
	static const struct field_row dated[] = {
		{ SAY_EXPORT_DATE, FIELD_DATE, FIELD_MUST | FIELD_PAST,
		    SAY_DAY_HINT },
		{ SAY_EXPORT_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_FOLDER_HINT },
	};
	static const struct field_row coded[] = {
		{ SAY_EXPORT_CODE, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_CODE_HINT },
		{ SAY_EXPORT_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_FOLDER_HINT },
	};
	static const struct field_row spanned[] = {
		{ SAY_EXPORT_SPAN, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_SPAN_HINT },
		{ SAY_EXPORT_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_FOLDER_HINT },
	};
	const struct export_kind *k;
	const struct field_row *rows = plain;
	char today[16];
	struct form *f;
	int n = 1;

	if (s->exports.at < 0 || s->run != NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_RUN_BUSY));
		return;
	}
	k = &export_kinds[s->exports.at];
	if (k->asks != NULL) {
		n = 2;
		rows = str_eq(k->asks, "DATE")     ? dated
		    : str_eq(k->asks, EXPORT_SPAN) ? spanned
						   : coded;
	}
	f = desk_ask_fields(d, tr(SAY_EXPORT_ASK), rows, n, export_read, s);
	if (rows == dated)
		form_set(f, 0, "today");
	if (rows == spanned)
		form_set(f, 0,
		    day_print(today, sizeof(today),
			local_from_utc(clock_now(&d->sn->clock)).day));
	if (s->folder[0] != '\0')
		form_set(f, n - 1, s->folder);
}

/* --- backup ----------------------------------------------------------------*/

static void
start_backup(struct desk *d, void *arg)
{
	struct records *s = arg;
	const char *args[] = { "backup", s->folder, "--keep", s->keep, "--by",
		d->by, NULL };
	int64_t pace = s->pace_ms_mb > 0 ? s->pace_ms_mb : PACE_MS_MB;

	records_beside(d, s, RUN_BACKUP, args, (s->size / MB + 1) * pace);
}

static bool
backup_read(struct desk *d, void *arg, struct form *f)
{
	struct records *s = arg;
	struct err err = { 0 };
	int64_t keep;

	if (int_parse(&keep, "keep", form_value(f, 1), 1, BACKUP_KEEP_MAX,
		&err) != RC_OK) {
		form_wrong(f, 1, tr(SAY_BACKUP_KEEP_WRONG));
		return false;
	}
	str_copy(s->folder, sizeof(s->folder), form_value(f, 0));
	str_fmt(s->keep, sizeof(s->keep), "%d", (int)keep);
	desk_shut(d); /* as above */
	desk_record(d, DUTY_ANYONE, start_backup, s);
	return false;
}

void
records_ask_backup(struct desk *d, struct records *s)
{
	static const struct field_row rows[] = {
		{ SAY_EXPORT_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_FOLDER_HINT },
		{ SAY_BACKUP_KEEP, FIELD_COUNT, FIELD_MUST,
		    SAY_BACKUP_KEEP_HINT },
	};
	struct form *f;

	f = desk_ask_fields(d, tr(SAY_BACKUP_ASK), rows, 2, backup_read, s);
	form_set(f, 1, s->keep);
	if (s->folder[0] != '\0')
		form_set(f, 0, s->folder);
}

static bool
look_read(struct desk *d, void *arg, struct form *f)
{
	struct records *s = arg;
	const char *args[] = { "backup", s->folder, "--list", NULL };

	str_copy(s->folder, sizeof(s->folder), form_value(f, 0));
	records_beside(d, s, RUN_LOOK, args, 0);
	return true;
}

void
records_look(struct desk *d, struct records *s)
{
	static const struct field_row rows[] = {
		{ SAY_EXPORT_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_EXPORT_FOLDER_HINT },
	};
	struct form *f;

	f = desk_ask_fields(d, tr(SAY_BACKUP_STICK), rows, 1, look_read, s);
	if (s->folder[0] != '\0')
		form_set(f, 0, s->folder);
}

/* --- while it runs, and afterwards -----------------------------------------*/

void
records_stop(struct desk *d, struct records *s)
{
	(void)d;
	beside_stop(s->run);
	s->stopping = true;
}

/* Its last word without the program's name; of a backup, what it is called. */
static const char *
last_word(struct records *s, struct buf *text)
{
	const char *last = beside_last(s->run);
	size_t len = strlen("pinbone: ");

	if (s->stopping)
		return tr(SAY_RUN_STOPPED);
	if (last[0] == '\0' || beside_status(s->run) >= 128)
		return tr(SAY_RUN_DIED);
	if (strncmp(last, "pinbone: ", len) == 0)
		return last + len;
	if (s->runs != RUN_BACKUP || beside_status(s->run) != 0)
		return last;
	beside_text(text, s->run);
	last = strstr(buf_text(text), "pinbone-");
	if (last == NULL)
		return "";
	text->data[last - text->data + (ptrdiff_t)strcspn(last, " \n")] = '\0';
	return last;
}

static void
take_stick(struct records *s)
{
	struct buf text;

	buf_init(&text, BESIDE_LINES * BESIDE_LINE_SIZE);
	beside_text(&text, s->run);
	free(s->stick);
	s->stick = xstrdup(buf_text(&text));
	buf_fini(&text);
}

static void
ended(struct desk *d, struct records *s)
{
	bool good = beside_status(s->run) == 0;
	struct buf text;
	const char *word;

	buf_init(&text, BESIDE_LINES * BESIDE_LINE_SIZE);
	word = last_word(s, &text);
	if (s->runs == RUN_LOOK && good)
		take_stick(s);
	else if (s->runs == RUN_EXPORT)
		desk_say(d, good ? LEVEL_DONE : LEVEL_REFUSED,
		    tr(good ? SAY_EXPORT_DONE : SAY_EXPORT_FAILED), word);
	else if (s->runs == RUN_BACKUP && good &&
	    backup_same_disk(d->sn, s->folder))
		desk_say(d, LEVEL_WARN, "%s", tr(SAY_BACKUP_SAME));
	else if (s->runs == RUN_BACKUP)
		desk_say(d, good ? LEVEL_DONE : LEVEL_REFUSED,
		    tr(good ? SAY_BACKUP_DONE : SAY_BACKUP_FAILED), word);
	else if (s->runs == RUN_VERIFY)
		check_verified(d, s, word);
	else
		desk_say(d, LEVEL_REFUSED, "%s", word);
	buf_fini(&text);
	if (s->runs == RUN_BACKUP && good) {
		s->pace_ms_mb =
		    (d->now_ms - s->began_ms) / (s->size / MB + 1) + 1;
		free(s->stick); /* it has one more now */
		s->stick = NULL;
	}
	beside_free(s->run, BESIDE_PATIENCE_MS);
	s->run = NULL;
	s->runs = RUN_NOTHING;
	if (d->at == SCREEN_RECORDS)
		desk_load(d);
}

void
records_tick(struct desk *d, void *state)
{
	struct records *s = state;

	records_file_tick(d, s);
	if (s->run == NULL)
		return;
	(void)beside_tick(s->run, d->now_ms);
	if (!beside_running(s->run))
		ended(d, s);
}
