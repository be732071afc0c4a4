/* restore_ask.c - a backup is asked for that is to take the file's place. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "says_restore.h"
#include "screens/beside.h"
#include "screens/restore.h"

struct restore_ask {
	const char *file;
	bool asks_by;
	restore_chosen_fn *chosen;
	void *arg;
	char folder[FIELD_SIZE];
	struct backup_list list;
	size_t at;          /* the one chosen */
	struct beside *run; /* looks through it */
	char hint[80];
	struct field_row rows[2];
};

struct restore_ask *
restore_ask_new(
    const char *file, bool asks_by, restore_chosen_fn *chosen, void *arg)
{
	struct restore_ask *r = xcalloc(1, sizeof(*r));

	r->file = file;
	r->asks_by = asks_by;
	r->chosen = chosen;
	r->arg = arg;
	return r;
}

void
restore_ask_free(struct restore_ask *r)
{
	if (r == NULL)
		return;
	beside_free(r->run, BESIDE_PATIENCE_MS);
	backup_list_fini(&r->list);
	free(r);
}

bool
restore_ask_busy(const struct restore_ask *r)
{
	return r != NULL && r->run != NULL;
}

void
restore_ask_stop(struct restore_ask *r)
{
	if (r != NULL)
		beside_stop(r->run);
}

/* --- is it meant -----------------------------------------------------------*/

static bool
sure_read(struct desk *d, void *arg, struct form *f)
{
	struct restore_ask *r = arg;
	const struct backup *b = &r->list.items[r->at];
	char from[SWAP_PATH_SIZE], by[16] = "";
	const char *number = form_value(f, 0);

	if (number == NULL || strtol(number, NULL, 10) != b->number) {
		form_wrong(f, 0, tr(SAY_RESTORE_NUMBER_WRONG));
		return false;
	}
	if (r->asks_by && !str_copy(by, sizeof(by), form_value(f, 1))) {
		form_wrong(f, 1, tr(SAY_RESTORE_INITIALS_HINT));
		return false;
	}
	str_fmt(from, sizeof(from), "%s/%s", r->folder, b->name);
	desk_shut(d);
	r->chosen(d, r->arg, from, by);
	return false;
}

/* The second question: a number has to be read and typed. */
static void
ask_sure(struct desk *d, void *arg)
{
	struct restore_ask *r = arg;

	str_fmt(r->hint, sizeof(r->hint), tr(SAY_RESTORE_NUMBER_HINT),
	    r->list.items[r->at].number);
	r->rows[0] = (struct field_row){ SAY_RESTORE_NUMBER, FIELD_COUNT,
		FIELD_MUST, r->hint };
	r->rows[1] = (struct field_row){ SAY_RESTORE_INITIALS, FIELD_TEXT,
		FIELD_MUST, SAY_RESTORE_INITIALS_HINT };
	(void)desk_ask_fields(
	    d, tr(SAY_RESTORE_SURE), r->rows, r->asks_by ? 2 : 1, sure_read, r);
}

/* --- what would be lost ----------------------------------------------------*/

/* From the command's words, without its progress and its refusal. */
static void
show_lost(struct desk *d, struct restore_ask *r)
{
	struct buf text;
	char *from, *to;

	buf_init(&text, BESIDE_LINES * BESIDE_LINE_SIZE);
	beside_text(&text, r->run);
	from = strstr(text.data == NULL ? "" : text.data, "backup ");
	if (from != NULL && (to = strstr(from, "\npinbone: ")) != NULL)
		to[1] = '\0';
	desk_read_on(
	    d, tr(SAY_RESTORE_LOST), from == NULL ? "" : from, ask_sure, r);
	buf_fini(&text);
}

void
restore_ask_tick(struct desk *d, struct restore_ask *r)
{
	static const char name[] = "pinbone: ";
	const char *last;

	if (r->run == NULL)
		return;
	(void)beside_tick(r->run, d->now_ms);
	if (beside_running(r->run)) {
		char progress[80];

		beside_progress(progress, sizeof(progress), r->run, d->now_ms);
		desk_say(d, LEVEL_NOTE, tr(SAY_RESTORE_LOOKS),
		    r->list.items[r->at].name, progress);
		return;
	}
	last = beside_last(r->run);
	d->notice[0] = '\0';
	if (beside_status(r->run) == rc_exit_status(RC_REFUSED) &&
	    strstr(last, "nothing was changed") != NULL)
		show_lost(d, r);
	else
		desk_say(d, LEVEL_REFUSED, "%s",
		    strncmp(last, name, strlen(name)) == 0 ? last + strlen(name)
							   : last);
	beside_free(r->run, BESIDE_PATIENCE_MS);
	r->run = NULL;
}

/* --- which one -------------------------------------------------------------*/

static const char *
row_word(const void *arg, size_t i)
{
	static char text[160]; /* one at a time is drawn */
	const struct restore_ask *r = arg;
	const struct backup *b = &r->list.items[i];
	char when[48];

	str_fmt(text, sizeof(text),
	    tr(b->apart_after == BACKUP_TOGETHER ? SAY_RESTORE_ROW
						 : SAY_RESTORE_APART),
	    b->name, time_minute(when, sizeof(when), b->head.last_utc),
	    (long long)b->head.last_row);
	return text;
}

static void
picked(struct desk *d, void *arg, size_t i)
{
	struct restore_ask *r = arg;
	char from[SWAP_PATH_SIZE];
	const char *args[] = { "restore", from, NULL };
	struct err err = { 0 };

	r->at = i;
	str_fmt(from, sizeof(from), "%s/%s", r->folder, r->list.items[i].name);
	if (beside_start(&r->run, d, args, 0, &err) != RC_OK)
		desk_fail(d, &err);
}

static bool
folder_read(struct desk *d, void *arg, struct form *f)
{
	struct restore_ask *r = arg;
	struct choices c = { .word = row_word, .arg = r };
	struct err err = { 0 };

	str_copy(r->folder, sizeof(r->folder), form_value(f, 0));
	backup_list_fini(&r->list);
	if (backup_list_for(&r->list, d->sn, r->file, r->folder, &err) !=
	    RC_OK) {
		form_wrong(f, 0, err.text);
		return false;
	}
	if (r->list.count == 0) {
		desk_say(d, LEVEL_NOTE, tr(SAY_RESTORE_NONE), r->folder);
		return false;
	}
	c.count = r->list.count;
	desk_shut(d); /* the form: the list lies over the screen */
	desk_ask_pick(d, tr(SAY_RESTORE_PICK), &c, picked, r);
	return false;
}

void
restore_ask_begin(struct desk *d, struct restore_ask *r, const char *folder)
{
	static const struct field_row row[] = {
		{ SAY_RESTORE_FOLDER, FIELD_TEXT, FIELD_MUST,
		    SAY_RESTORE_FOLDER_HINT },
	};
	struct form *f;

	if (r->run != NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_RESTORE_BUSY));
		return;
	}
	f = desk_ask_fields(d, tr(SAY_RESTORE_WHERE), row, 1, folder_read, r);
	if (r->folder[0] == '\0')
		str_copy(r->folder, sizeof(r->folder), folder);
	if (r->folder[0] != '\0')
		form_set(f, 0, r->folder);
}

/* --- done ------------------------------------------------------------------*/

enum rc
desk_swap(struct station **sn, const struct station_options *o,
    const char *from, const char *by, struct buf *said, struct err *err)
{
	char file[CONFIG_PATH_SIZE];
	struct restore_wish w = { .file = file, .from = from, .by = by };
	struct restore_done done = { .serial = 0 };
	struct station *bare = NULL;
	struct err why = { 0 };
	enum rc rc;

	station_close(*sn);
	*sn = NULL;
	if ((rc = station_open(&bare, o, false, err)) != RC_OK ||
	    (rc = station_file(file, o, bare, err)) != RC_OK)
		goto done;
	rc = restore_run(&done, bare, &w, err);
	if (rc == RC_OK) {
		restore_done_words(said, &done);
		restore_words(said, &done.look);
	}
	/* Whatever came of it, the station goes on with what is in place. */
	if (station_open(sn, o, true, &why) != RC_OK && rc == RC_OK)
		rc = err_set(err, why.rc, why.lib, "%s", why.text);
done:
	restore_done_fini(&done);
	station_close(bare);
	return rc;
}

const char *
desk_swap_title(void)
{
	return tr(SAY_RESTORE_TITLE);
}

void
desk_swap_failed(struct buf *out, const struct err *err)
{
	buf_printf(out, tr(SAY_RESTORE_FAILED), err->text);
}

void
desk_swap_finished(struct buf *out, const char *aside)
{
	buf_printf(out, tr(SAY_RESTORE_FINISHED), aside);
}
