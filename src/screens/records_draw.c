/* records_draw.c - how Records looks; its charts are in records_chart.c. */
#include <string.h>

#include "base/str.h"
#include "records_inner.h"
#include "says_checks.h"
#include "says_records.h"
#include "term/when.h"

static const char *const page_words[RECORDS_PAGES] = {
	[RECORDS_DAY] = SAY_PAGE_DAY,
	[RECORDS_YIELDS] = SAY_PAGE_YIELDS,
	[RECORDS_WASTE] = SAY_PAGE_WASTE,
	[RECORDS_EXPORT] = SAY_PAGE_EXPORT,
	[RECORDS_BACKUP] = SAY_PAGE_BACKUP,
	[RECORDS_CHECKS] = SAY_PAGE_CHECKS,
	[RECORDS_TRAIL_PAGE] = SAY_PAGE_TRAIL,
};

static void
draw_pages(const struct records *s, const struct pane *p)
{
	char text[60], name[KEY_NAME_SIZE];
	int i, x = 0;

	for (i = 0; i < RECORDS_PAGES; i++) {
		str_fmt(text, sizeof(text), tr(SAY_PAGE_KEY),
		    key_label(name, records_key(i)), tr(page_words[i]));
		x = pane_put(p, x, 0,
		    i == (int)s->page ? STYLE_CHOSEN : STYLE_FAINT, text);
	}
}

static void
draw_day(struct desk *d, struct records *s, const struct pane *p)
{
	char words[80];
	struct pane rest = pane_part(p, 0, 2, p->w, p->h - 2);

	pane_put(p, 0, 0, STYLE_STRONG,
	    when_words(words, sizeof(words),
		s->day == DAY_NONE ? desk_today(d) : s->day, desk_today(d)));
	pager_draw(&s->sheet, &rest);
}

static void
draw_kind(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct export_kind *k = &export_kinds[i];
	int x = pane_cut(row, 0, 0, 11, style, k->word);

	(void)arg;
	pane_cut(row, x, 0, row->w - x, style, records_kind(k));
}

/* What runs, with its progress; returns the row behind. */
static int
draw_run(
    const struct desk *d, const struct records *s, const struct pane *p, int y)
{
	char progress[80];
	const char *last;

	if (s->run == NULL)
		return y;
	beside_progress(progress, sizeof(progress), s->run, d->now_ms);
	last = beside_last(s->run);
	if (s->runs == RUN_VERIFY)
		pane_fmt(
		    p, 0, y, STYLE_STRONG, tr(SAY_VERIFY_RUNS), progress, last);
	else if (s->runs == RUN_LOOK)
		pane_fmt(p, 0, y, STYLE_STRONG, tr(SAY_BACKUP_LOOKS), progress);
	else
		pane_fmt(p, 0, y, STYLE_STRONG,
		    tr(s->runs == RUN_EXPORT ? SAY_EXPORT_RUNS
					     : SAY_BACKUP_RUNS),
		    progress, last);
	return y + 2;
}

static void
draw_export(const struct desk *d, struct records *s, const struct pane *p)
{
	struct pane rest;
	int y = draw_run(d, s, p, 0);

	y = pane_wrap(p, y, STYLE_PLAIN, tr(SAY_EXPORT_HEAD));
	rest = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	list_draw(&s->exports, &rest, draw_kind, NULL);
}

static int
draw_last(
    const struct desk *d, const struct records *s, const struct pane *p, int y)
{
	char words[80];
	struct local_time t = local_from_utc(s->last.utc);
	long days = desk_today(d) - t.day;
	struct pane rest;

	if (s->last.utc == 0) {
		rest = pane_part(p, 0, y, p->w, p->h - y);
		return y +
		    pane_wrap(&rest, 0, STYLE_WARN, tr(SAY_BACKUP_NEVER));
	}
	pane_put(p, 0, y, STYLE_FAINT, tr(SAY_BACKUP_LAST));
	str_fmt(words, sizeof(words), "%d.%d. %02d:%02d", day_civil(t.day).day,
	    day_civil(t.day).month, t.hour, t.minute);
	pane_big(p, 0, y + 1,
	    days > BACKUP_OLD_DAYS ? STYLE_WARN : STYLE_STRONG, words);
	y += 1 + BIG_ROWS;
	pane_fmt(p, 0, y++, STYLE_PLAIN, "%s",
	    when_words(words, sizeof(words), t.day, desk_today(d)));
	pane_fmt(p, 0, y++, STYLE_PLAIN, tr(SAY_BACKUP_LAST_IN), s->last.name,
	    s->last.folder);
	if (days > BACKUP_OLD_DAYS)
		pane_fmt(
		    p, 0, y++, STYLE_WARN, trn(SAY_BACKUP_OLD, days), days);
	return y;
}

static void
draw_backup(const struct desk *d, const struct records *s, const struct pane *p)
{
	char size[40];
	struct pane rest;
	int y = draw_run(d, s, p, 0);

	y = draw_last(d, s, p, y) + 1;
	str_fmt(size, sizeof(size), tr(SAY_BACKUP_MB),
	    (long)(s->size / 1000000 + 1));
	pane_fmt(p, 0, y++, STYLE_PLAIN, tr(SAY_BACKUP_SIZE), size);
	y = records_draw_whole(d, s, p, y);
	rest = pane_part(p, 0, y, p->w, p->h - y);
	y += pane_wrap(&rest, 0, STYLE_FAINT, tr(SAY_BACKUP_HOW)) + 1;
	if (s->stick == NULL)
		return;
	rest = pane_part(p, 0, y, p->w, p->h - y);
	pane_put(&rest, 0, 0, STYLE_STRONG, tr(SAY_BACKUP_STICK));
	rest = pane_part(&rest, 0, 1, rest.w, rest.h - 1);
	(void)pane_wrap(&rest, 0, STYLE_PLAIN, s->stick);
}

static void
draw_check(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct records_check *c = &records_checks[i];
	int x = pane_cut(row, 0, 0, 10, style, tr(c->name));

	(void)arg;
	pane_cut(row, x, 0, row->w - x, style, tr(c->summary));
}

static void
draw_checks(const struct desk *d, struct records *s, const struct pane *p)
{
	struct pane rest;
	int y = draw_run(d, s, p, 0);

	y = pane_wrap(p, y, STYLE_PLAIN, tr(SAY_CHECKS_HEAD));

	rest = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	list_draw(&s->checks, &rest, draw_check, NULL);
}

static void
draw_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct audit_row *r = &((const struct audit_list *)arg)->items[i];
	char when[48];
	int x;

	x = pane_cut(row, 0, 0, 16, style,
		time_minute(when, sizeof(when), r->at.utc)) +
	    1;
	x = pane_cut(row, x, 0, 4, style, r->at.by) + 1;
	x = pane_cut(row, x, 0, 8, style, r->action) + 1;
	x = pane_cut(row, x, 0, 12, style, r->subject) + 1;
	pane_cut(row, x, 0, row->w - x, style, r->detail);
}

static void
draw_trail(struct records *s, const struct pane *p)
{
	struct pane rest = pane_part(p, 0, 2, p->w, p->h - 2);

	if (s->trail.count == 0) {
		pane_put(p, 0, 0, STYLE_PLAIN, tr(SAY_TRAIL_NONE));
		return;
	}
	pane_fmt(p, 0, 0, STYLE_FAINT, tr(SAY_TRAIL_HEAD),
	    (long long)s->trail.items[0].id,
	    (long long)s->trail.items[s->trail.count - 1].id,
	    (long long)s->trail_last);
	list_draw(&s->rows, &rest, draw_row, &s->trail);
}

void
records_draw(struct desk *d, void *state, const struct pane *p)
{
	struct records *s = state;
	struct pane body = pane_part(p, 0, 2, p->w, p->h - 2);

	draw_pages(s, p);
	if (!s->loaded)
		return; /* the foot says why */
	switch (s->page) {
	case RECORDS_DAY:
		draw_day(d, s, &body);
		break;
	case RECORDS_YIELDS:
		records_draw_yields(d, s, &body);
		break;
	case RECORDS_WASTE:
		records_draw_waste(s, &body);
		break;
	case RECORDS_EXPORT:
		draw_export(d, s, &body);
		break;
	case RECORDS_BACKUP:
		draw_backup(d, s, &body);
		break;
	case RECORDS_CHECKS:
		draw_checks(d, s, &body);
		break;
	case RECORDS_TRAIL_PAGE:
		draw_trail(s, &body);
		break;
	case RECORDS_PAGES:
		break;
	}
}
