/*
 * records_inner.h - what Records keeps, and its parts.  Private to src/screens.
 */
#ifndef SCREENS_RECORDS_INNER_H
#define SCREENS_RECORDS_INNER_H

#include "checks.h"
#include "ops/backup.h"
#include "ops/export.h"
#include "ops/records_page.h"
#include "screens/beside.h"
#include "screens/desk.h"
#include "screens/restore.h"
#include "term/list.h"
#include "term/pager.h"

#define RECORDS_WEEKS 13  /* a quarter of a year */
#define RECORDS_TRAIL 100 /* rows in a window */
#define BACKUP_OLD_DAYS 7 /* common practice, no source */

enum records_page {
	RECORDS_DAY,
	RECORDS_YIELDS,
	RECORDS_WASTE,
	RECORDS_EXPORT,
	RECORDS_BACKUP,
	RECORDS_CHECKS,
	RECORDS_TRAIL_PAGE,
	RECORDS_PAGES
};

/* What runs beside. */
enum records_run { RUN_NOTHING, RUN_EXPORT, RUN_BACKUP, RUN_LOOK, RUN_VERIFY };

struct records {
	enum records_page page;
	bool loaded; /* the page shown */

	day_no day; /* of the sheet; DAY_NONE: today */
	struct pager sheet;
	day_no sheet_of; /* it was read to somewhere; another day starts anew */

	int back; /* quarters before this one */
	struct yield_courses courses;
	int course;
	struct waste_week waste[RECORDS_WEEKS];

	struct list exports;
	struct list checks;
	struct checks asked; /* by one of them */

	struct backup_last last;
	int64_t size;

	struct audit_list trail;
	int64_t trail_last, trail_before; /* 0: from the newest on */
	struct list rows;

	char folder[FIELD_SIZE]; /* typed last */
	char keep[8];
	char what[FIELD_SIZE]; /* day or code of an export */
	bool replace;
	enum records_run runs;
	struct beside *run;
	bool stopping;
	int64_t began_ms;
	int64_t pace_ms_mb; /* of the last backup, 0 not known */
	char *stick;        /* what was seen on it, owned; NULL not looked */

	/* records_file.c */
	struct restore_ask *ask;
	char from[SWAP_PATH_SIZE]; /* the backup that was chosen */
	struct beside *inspect;    /* looks through the file */
	int64_t inspect_ms;        /* again then; 0: not begun to wait */
	int64_t inspected;         /* last found whole */
	bool elsewhere;            /* the file worked on another computer */
};

/* --- records_run.c: what runs beside ---------------------------------------*/

void records_ask_export(struct desk *d, struct records *s);
void records_ask_backup(struct desk *d, struct records *s);
void records_look(struct desk *d, struct records *s);
void records_stop(struct desk *d, struct records *s);
/* records_beside - start one, unless another runs. */
void records_beside(struct desk *d, struct records *s, enum records_run what,
    const char *const *args, int64_t expect_ms);
void records_tick(struct desk *d, void *state);

/* --- records_file.c: the file itself ---------------------------------------*/

void records_restore(struct desk *d, struct records *s);
void records_moved(struct desk *d, struct records *s);
bool records_is_elsewhere(struct desk *d);
void records_file_tick(struct desk *d, struct records *s);
/* records_draw_whole - when it was last found whole; returns the row behind. */
int records_draw_whole(
    const struct desk *d, const struct records *s, const struct pane *p, int y);

/* records_kind - what an export is, in the language of the station. */
const char *records_kind(const struct export_kind *k);
int records_kinds(void);

/* --- records_checks.c: what an inspector may ask for
 * -------------------------*/

/* One line of the page: a name, what it tells, and what Enter does.  Each has a
 * file of its own, check_NAME.c, and its messages in says_checks.h. */
struct records_check {
	const char *name, *summary; /* messages */
	void (*open)(struct desk *d, struct records *s);
};
extern const struct records_check records_checks[];
int records_check_count(void);

void check_verify(struct desk *d, struct records *s);
/* check_verified - it has ended; `word` is its last. */
void check_verified(struct desk *d, struct records *s, const char *word);
void check_balance(struct desk *d, struct records *s);
void check_papers(struct desk *d, struct records *s);
void check_drill(struct desk *d, struct records *s);
void check_keeping(struct desk *d, struct records *s);
void check_complaints(struct desk *d, struct records *s);

/* --- records_draw.c, records_chart.c ---------------------------------------*/

void records_draw(struct desk *d, void *state, const struct pane *p);
void records_draw_yields(
    const struct desk *d, const struct records *s, const struct pane *p);
void records_draw_waste(const struct records *s, const struct pane *p);

/* records_key - what shows a page (screen_records.c). */
const struct key *records_key(int page);

/* records_course - "Cod, whole to skinless"; `dst` of 120. */
char *records_course(
    char *dst, size_t size, const struct desk *d, const struct yield_course *y);

#endif /* SCREENS_RECORDS_INNER_H */
