/* day.c - a day's folder, its station, its facts. */
#include "day.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/str.h"
#include "folder.h"
#include "ops/queue.h"
#include "store/store.h"

#define DAY "2026-12-04"

static const char settings[] =
    "[station]\n"
    "kitchen = The Lamplighter, fish section\n"
    "training = yes\n"
    "timezone = Europe/London\n"
    "data_folder = %s/config\n"
    "[printer]\n"
    "language = zpl\n"
    "address = file:%s/out/labels.zpl\n"
    "tickets = roll\n"
    "[printer roll]\n"
    "width_mm = 80\n"
    "gap_mm = 0\n"
    "[service lunch]\n"
    "starts = 12:00\n"
    "ends = 15:00\n"
    "[service dinner]\n"
    "starts = 18:00\n"
    "ends = 23:00\n";

static void
paths(struct day *d, const char *folder)
{
	memset(d, 0, sizeof(*d));
	str_fmt(d->folder, sizeof(d->folder), "%s", folder);
	str_fmt(d->db, sizeof(d->db), "%s/station.db", folder);
	str_fmt(d->ini, sizeof(d->ini), "%s.ini", folder);
	str_fmt(d->stick, sizeof(d->stick), "%s/stick", folder);
	str_fmt(d->out, sizeof(d->out), "%s/out", folder);
}

void
day_here(struct day *d, const char *folder)
{
	struct station_options o = { .config = d->ini };
	struct err err = { 0 };
	char here[512], text[2048];

	paths(d, folder);
	folder_make(d->stick);
	folder_make(d->out);
	if (getcwd(here, sizeof(here)) == NULL)
		give_up("no working folder");
	str_fmt(text, sizeof(text), settings, here, d->folder);
	folder_put(d->ini, text, strlen(text));
	o.now = DAY "T06:30";
	if (station_open(&d->sn, &o, false, &err) != RC_OK)
		give_up("%s", err.text);
}

void
day_make(struct day *d)
{
	char folder[256];

	folder_new(folder, "day");
	day_here(d, folder);
}

void
day_done(struct day *d)
{
	size_t i;

	station_close(d->sn);
	d->sn = NULL;
	for (i = 0; i < d->fact_count; i++) {
		free(d->facts[i].sql);
		free(d->facts[i].want);
	}
	free(d->facts);
	d->facts = NULL;
	d->fact_count = d->fact_cap = 0;
}

void
day_drop(struct day *d)
{
	day_done(d);
	unlink(d->ini);
	folder_drop(d->folder);
}

enum rc
day_open(struct day *d, struct err *err)
{
	enum rc rc;

	if ((rc = store_open(&d->sn->st, d->db, err)) != RC_OK ||
	    (rc = queue_start(d->sn, err)) != RC_OK)
		day_shut(d);
	return rc;
}

void
day_shut(struct day *d)
{
	store_close(d->sn->st);
	d->sn->st = NULL;
}

void
day_at(struct day *d, const char *time)
{
	char text[40];

	str_fmt(text, sizeof(text), DAY "T%s", time);
	if (time_parse(&d->sn->clock.fixed_utc, "now", text, NULL) != RC_OK)
		give_up("%s is no time", time);
	d->sn->clock.fixed = true;
}

enum rc
day_play(struct day *d, int step, struct err *err)
{
	char time[8];

	/* Ten minutes each, from half past six. */
	str_fmt(time, sizeof(time), "%02d:%02d", (390 + step * 10) / 60 % 24,
	    (390 + step * 10) % 60);
	day_at(d, time);
	d->step = step;
	return day_steps[step].play(d, err);
}

void
day_fact(struct day *d, const char *want, const char *fmt, ...)
{
	char sql[512];
	struct fact *f;
	va_list ap;

	va_start(ap, fmt);
	vsnprintf(sql, sizeof(sql), fmt, ap);
	va_end(ap);
	d->facts =
	    grow(d->facts, &d->fact_cap, d->fact_count, sizeof(*d->facts));
	f = &d->facts[d->fact_count++];
	f->sql = xstrdup(sql);
	f->want = xstrdup(want);
	f->step = d->step;
}
