/* screen_records.c - day sheets, yields and waste over time, exports, backup,
 * the audit trail. */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/inspect.h"
#include "ops/ticket.h"
#include "ops/verify.h"
#include "records_inner.h"
#include "says_desk.h"
#include "says_records.h"
#include "term/when.h"

enum {
	ACT_PAGE = 1, /* and the pages in their order */
	ACT_GO = ACT_PAGE + RECORDS_PAGES,
	ACT_PRINT,
	ACT_OLDER,
	ACT_NEWER,
	ACT_OPEN,
	ACT_LOOK,
	ACT_RESTORE,
	ACT_MOVED,
	ACT_STOP,
};

/* The pages stand above the body with their keys, so not in the footer. */
static const struct action actions[] = {
	{ ACT_OPEN, { KEY_CODE_ENTER, 0 }, SAY_REC_OPEN, SAY_REC_OPEN_HELP },
	{ ACT_GO, { KEY_CODE_CHAR, 'g' }, SAY_REC_GO, SAY_REC_GO_HELP },
	{ ACT_PRINT, { KEY_CODE_CHAR, 'p' }, SAY_REC_PRINT,
	    SAY_REC_PRINT_HELP },
	{ ACT_OLDER, { KEY_CODE_CHAR, 'o' }, SAY_REC_OLDER,
	    SAY_REC_OLDER_HELP },
	{ ACT_NEWER, { KEY_CODE_CHAR, 'n' }, SAY_REC_NEWER,
	    SAY_REC_NEWER_HELP },
	{ ACT_LOOK, { KEY_CODE_CHAR, 'l' }, SAY_REC_LOOK, SAY_REC_LOOK_HELP },
	{ ACT_RESTORE, { KEY_CODE_CHAR, 'r' }, SAY_REC_RESTORE,
	    SAY_REC_RESTORE_HELP },
	{ ACT_MOVED, { KEY_CODE_CHAR, 'm' }, SAY_REC_MOVED,
	    SAY_REC_MOVED_HELP },
	{ ACT_STOP, { KEY_CODE_CHAR, 's' }, SAY_REC_STOP, SAY_REC_STOP_HELP },
	{ ACT_PAGE + RECORDS_DAY, { KEY_CODE_CHAR, 'd' }, NULL,
	    SAY_REC_DAY_HELP },
	{ ACT_PAGE + RECORDS_YIELDS, { KEY_CODE_CHAR, 'y' }, NULL,
	    SAY_REC_YIELDS_HELP },
	{ ACT_PAGE + RECORDS_WASTE, { KEY_CODE_CHAR, 'w' }, NULL,
	    SAY_REC_WASTE_HELP },
	{ ACT_PAGE + RECORDS_EXPORT, { KEY_CODE_CHAR, 'x' }, NULL,
	    SAY_REC_EXPORT_HELP },
	{ ACT_PAGE + RECORDS_BACKUP, { KEY_CODE_CHAR, 'b' }, NULL,
	    SAY_REC_BACKUP_HELP },
	{ ACT_PAGE + RECORDS_CHECKS, { KEY_CODE_CHAR, 'c' }, NULL,
	    SAY_REC_CHECKS_HELP },
	{ ACT_PAGE + RECORDS_TRAIL_PAGE, { KEY_CODE_CHAR, 'a' }, NULL,
	    SAY_REC_TRAIL_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

/* The key of a page, for the line above the body. */
const struct key *
records_key(int page)
{
	const struct action *a = actions;

	while (a->id != ACT_PAGE + page)
		a++;
	return &a->key;
}

static day_no
sheet_day(const struct desk *d, const struct records *s)
{
	return s->day == DAY_NONE ? desk_today(d) : s->day;
}

/* --- loading --------------------------------------------------------------*/

static enum rc
make_sheet(
    struct ticket **t, struct desk *d, struct records *s, struct err *err)
{
	char date[16];
	struct ticket_wish wish = { .kind = TICKET_DAY, .what = date };
	day_no day = sheet_day(d, s);

	if (s->page != RECORDS_DAY) {
		wish.kind = TICKET_REPORT;
		wish.report =
		    s->page == RECORDS_WASTE ? REPORT_WASTE : REPORT_YIELDS;
		day = desk_today(d) - 7 * RECORDS_WEEKS * s->back;
	}
	day_print(date, sizeof(date), day);
	return ticket_make(t, d->sn, &wish, err);
}

static enum rc
load_day(struct desk *d, struct records *s, struct err *err)
{
	struct ticket *t;
	struct buf text;
	int top = s->sheet.top;
	enum rc rc = make_sheet(&t, d, s, err);

	if (rc != RC_OK)
		return rc;
	buf_init(&text, 1024 * 1024);
	ticket_show(&text, t, FORMAT_TEXT);
	ticket_free(t);
	pager_set(&s->sheet, buf_text(&text));
	buf_fini(&text);
	if (s->sheet_of == sheet_day(d, s))
		s->sheet.top = top;
	s->sheet_of = sheet_day(d, s);
	return RC_OK;
}

static enum rc
load_yields(struct desk *d, struct records *s, struct err *err)
{
	struct yield_courses c;
	enum rc rc = yield_courses_open(&c, d->sn, RECORDS_WEEKS,
	    desk_today(d) - 7 * RECORDS_WEEKS * s->back, err);

	if (rc != RC_OK) {
		yield_courses_fini(&c);
		return rc;
	}
	yield_courses_fini(&s->courses);
	s->courses = c;
	if (s->course >= (int)c.count)
		s->course = c.count == 0 ? 0 : (int)c.count - 1;
	return RC_OK;
}

static enum rc
load_trail(struct desk *d, struct records *s, struct err *err)
{
	struct audit_list l;
	enum rc rc = trail_open(
	    &l, &s->trail_last, d->sn, s->trail_before, RECORDS_TRAIL, err);

	if (rc != RC_OK) {
		audit_list_fini(&l);
		return rc;
	}
	audit_list_fini(&s->trail);
	s->trail = l;
	s->rows.count = (int)l.count;
	list_fit(&s->rows);
	return RC_OK;
}

static void
load(struct desk *d, void *state)
{
	struct records *s = state;
	struct err err = { 0 };
	enum rc rc = RC_OK;

	switch (s->page) {
	case RECORDS_DAY:
		rc = load_day(d, s, &err);
		break;
	case RECORDS_YIELDS:
		rc = load_yields(d, s, &err);
		break;
	case RECORDS_WASTE:
		rc = waste_weeks(s->waste, d->sn, RECORDS_WEEKS,
		    desk_today(d) - 7 * RECORDS_WEEKS * s->back, &err);
		break;
	case RECORDS_BACKUP:
		if ((rc = backup_last(&s->last, d->sn, &err)) == RC_OK)
			rc = backup_size(&s->size, d->sn, &err);
		if (rc == RC_OK)
			rc = inspect_last(&s->inspected, d->sn, &err);
		s->elsewhere = rc == RC_OK && records_is_elsewhere(d);
		break;
	case RECORDS_TRAIL_PAGE:
		rc = load_trail(d, s, &err);
		break;
	case RECORDS_EXPORT:
	case RECORDS_CHECKS:
	case RECORDS_PAGES:
		break;
	}
	s->loaded = rc == RC_OK;
	if (rc != RC_OK)
		desk_fail(d, &err);
}

static void
init(struct desk *d, void *state)
{
	struct records *s = state;

	s->day = DAY_NONE;
	s->sheet_of = DAY_NONE;
	s->exports.count = records_kinds();
	list_fit(&s->exports);
	s->checks.count = records_check_count();
	list_fit(&s->checks);
	if (!str_eq(d->sn->cfg.backup_folder, "none"))
		str_copy(
		    s->folder, sizeof(s->folder), d->sn->cfg.backup_folder);
	str_fmt(s->keep, sizeof(s->keep), "%d", d->sn->cfg.backup_keep);
}

static void
fini(void *state)
{
	struct records *s = state;

	pager_fini(&s->sheet);
	yield_courses_fini(&s->courses);
	audit_list_fini(&s->trail);
	beside_free(s->run, BESIDE_PATIENCE_MS);
	beside_free(s->inspect, BESIDE_PATIENCE_MS);
	restore_ask_free(s->ask);
	free(s->stick);
	checks_fini(&s->asked);
}

/* --- the day sheet ---------------------------------------------------------*/

static bool
day_read(struct desk *d, void *arg, struct form *f)
{
	struct records *s = arg;
	struct err err = { 0 };
	day_no day;

	if (day_parse(&day, "day", form_value(f, 0), &err) != RC_OK) {
		form_wrong(f, 0, err.text);
		return false;
	}
	s->day = day == desk_today(d) ? DAY_NONE : day;
	desk_load(d);
	return true;
}

static void
ask_day(struct desk *d, struct records *s)
{
	static const struct field_row row[] = {
		{ SAY_DAY_FIELD, FIELD_DATE, FIELD_MUST | FIELD_PAST,
		    SAY_DAY_HINT },
	};

	(void)desk_ask_fields(d, tr(SAY_DAY_GO), row, 1, day_read, s);
}

static void
record_print(struct desk *d, void *arg)
{
	struct label_order order = { .by = d->by, .only_queue = true };
	const struct records *s = arg;
	bool day = s->page == RECORDS_DAY;
	struct job_list jobs = { 0 };
	struct err err = { 0 };
	struct ticket *t;
	enum rc rc = make_sheet(&t, d, arg, &err);

	if (rc == RC_OK) {
		rc = ticket_print(&jobs, d->sn,
		    day ? TICKET_DAY : TICKET_REPORT, t, &order, &err);
		ticket_free(t);
	}
	if (rc != RC_OK) {
		desk_fail(d, &err);
	} else {
		desk_say(d, LEVEL_DONE,
		    day ? trn(SAY_DAY_PRINTED, (long)jobs.count)
			: trn(SAY_REPORT_PRINTED, (long)jobs.count),
		    (long)jobs.count);
		desk_print(d);
	}
	job_list_fini(&jobs);
}

/* --- actions --------------------------------------------------------------*/

/* An earlier day, quarter or window; `by` 1 is older, -1 newer. */
static void
step(struct desk *d, struct records *s, int by)
{
	if (s->page == RECORDS_DAY) {
		s->day = sheet_day(d, s) - by;
		if (s->day == desk_today(d))
			s->day = DAY_NONE;
	} else if (s->page == RECORDS_TRAIL_PAGE) {
		if (by > 0 && s->trail.count > 0)
			s->trail_before = s->trail.items[s->trail.count - 1].id;
		else
			s->trail_before += RECORDS_TRAIL;
		if (by < 0 && s->trail_before > s->trail_last)
			s->trail_before = 0;
		s->rows.at = s->rows.top = 0;
	} else {
		s->back += by;
	}
	desk_load(d);
}

static const char *
course_word(const void *arg, size_t i)
{
	static char text[120]; /* one at a time is drawn */
	const struct desk *d = arg;
	const struct records *s = d->states[SCREEN_RECORDS];

	/* Read anew while the list is open, they may be fewer. */
	if (i >= s->courses.count)
		return "";
	return records_course(text, sizeof(text), d, &s->courses.items[i]);
}

static void
course_picked(struct desk *d, void *arg, size_t i)
{
	struct records *s = arg;

	(void)d;
	if (i < s->courses.count)
		s->course = (int)i;
}

static void
read_row(struct desk *d, const struct audit_row *r)
{
	char title[40], when[48];
	struct err err = { 0 };
	struct buf text;

	buf_init(&text, 256 * 1024);
	buf_printf(&text, "%s  %s\n%s  %s\n\n%s\n\n",
	    when_instant(when, sizeof(when), r->at.utc), r->at.by, r->action,
	    r->subject, r->detail);
	if (changes_of(&text, d->sn, r->id, &err) != RC_OK)
		desk_fail(d, &err);
	str_fmt(title, sizeof(title), tr(SAY_TRAIL_ROW), (long long)r->id);
	desk_read(d, title, buf_text(&text));
	buf_fini(&text);
}

static void
open_chosen(struct desk *d, struct records *s)
{
	struct choices c = {
		.count = s->courses.count, .word = course_word, .arg = d
	};

	if (s->page == RECORDS_YIELDS)
		desk_ask_pick(d, tr(SAY_YIELD_PICK), &c, course_picked, s);
	else if (s->page == RECORDS_EXPORT)
		records_ask_export(d, s);
	else if (s->page == RECORDS_BACKUP)
		records_ask_backup(d, s);
	else if (s->page == RECORDS_CHECKS)
		records_checks[s->checks.at].open(d, s);
	else
		read_row(d, &s->trail.items[s->rows.at]);
}

static void
show_page(struct desk *d, struct records *s, enum records_page page)
{
	s->page = page;
	s->back = 0;
	s->trail_before = 0;
	s->rows.at = s->rows.top = 0;
	desk_load(d);
}

static void
act(struct desk *d, void *state, int action)
{
	struct records *s = state;

	if (action >= ACT_PAGE && action < ACT_PAGE + RECORDS_PAGES)
		show_page(d, s, (enum records_page)(action - ACT_PAGE));
	else if (action == ACT_GO)
		ask_day(d, s);
	else if (action == ACT_PRINT)
		desk_record(d, DUTY_ANYONE, record_print, s);
	else if (action == ACT_OLDER || action == ACT_NEWER)
		step(d, s, action == ACT_OLDER ? 1 : -1);
	else if (action == ACT_OPEN)
		open_chosen(d, s);
	else if (action == ACT_LOOK)
		records_look(d, s);
	else if (action == ACT_RESTORE)
		records_restore(d, s);
	else if (action == ACT_MOVED)
		records_moved(d, s);
	else if (s->run != NULL)
		records_stop(d, s);
	else
		restore_ask_stop(s->ask);
}

static bool
can_older(const struct desk *d, const struct records *s)
{
	if (s->page == RECORDS_DAY)
		return sheet_day(d, s) > DAY_MIN;
	if (s->page == RECORDS_TRAIL_PAGE)
		return s->trail.count > 0 &&
		    s->trail.items[s->trail.count - 1].id > 1;
	return (s->page == RECORDS_YIELDS || s->page == RECORDS_WASTE) &&
	    desk_today(d) - 7 * RECORDS_WEEKS * (s->back + 2) > DAY_MIN;
}

static bool
can_newer(const struct desk *d, const struct records *s)
{
	if (s->page == RECORDS_DAY)
		return sheet_day(d, s) < desk_today(d);
	if (s->page == RECORDS_TRAIL_PAGE)
		return s->trail_before != 0;
	return s->back > 0;
}

static bool
can_open(const struct records *s)
{
	if (s->page == RECORDS_YIELDS)
		return s->courses.count > 1;
	if (s->page == RECORDS_CHECKS)
		return s->checks.at >= 0;
	if (s->page == RECORDS_TRAIL_PAGE)
		return s->rows.at >= 0;
	return (s->page == RECORDS_EXPORT || s->page == RECORDS_BACKUP) &&
	    s->run == NULL;
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct records *s = state;

	switch (action) {
	case ACT_GO:
		return s->page == RECORDS_DAY;
	case ACT_PRINT:
		return s->page == RECORDS_DAY || s->page == RECORDS_YIELDS ||
		    s->page == RECORDS_WASTE;
	case ACT_OLDER:
		return can_older(d, s);
	case ACT_NEWER:
		return can_newer(d, s);
	case ACT_LOOK:
	case ACT_RESTORE:
		return s->page == RECORDS_BACKUP && s->run == NULL &&
		    !restore_ask_busy(s->ask);
	case ACT_MOVED:
		return s->page == RECORDS_BACKUP && s->elsewhere;
	case ACT_STOP:
		return (s->run != NULL && !s->stopping) ||
		    restore_ask_busy(s->ask);
	case ACT_OPEN:
		return can_open(s);
	default:
		return action - ACT_PAGE != (int)s->page;
	}
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct records *s = state;
	int n = (int)s->courses.count;

	if (k->code == KEY_CODE_TAB || k->code == KEY_CODE_BACKTAB) {
		show_page(d, s,
		    (enum records_page)(
			((int)s->page +
			    (k->code == KEY_CODE_TAB ? 1 : RECORDS_PAGES - 1)) %
			RECORDS_PAGES));
		return true;
	}
	switch (s->page) {
	case RECORDS_DAY:
		return pager_key(&s->sheet, k);
	case RECORDS_YIELDS:
		if (n < 2 ||
		    (k->code != KEY_CODE_UP && k->code != KEY_CODE_DOWN))
			return false;
		s->course =
		    (s->course + (k->code == KEY_CODE_DOWN ? 1 : n - 1)) % n;
		return true;
	case RECORDS_EXPORT:
		return list_key(&s->exports, k);
	case RECORDS_CHECKS:
		return list_key(&s->checks, k);
	case RECORDS_TRAIL_PAGE:
		return list_key(&s->rows, k);
	case RECORDS_WASTE:
	case RECORDS_BACKUP:
	case RECORDS_PAGES:
		break;
	}
	return false;
}

const struct screen screen_records = {
	.title = SAY_RECORDS,
	.actions = actions,
	.state_size = sizeof(struct records),
	.init = init,
	.fini = fini,
	.load = load,
	.draw = records_draw,
	.key = key,
	.act = act,
	.can = can,
	.tick = records_tick,
};
