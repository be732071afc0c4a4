/* work_jobs.c - jobs of an invented prep list. */
#include "work_jobs.h"

#include <check.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"

struct pace_book
work_book(struct minutes_table *table)
{
	struct pace_book book = { table, NULL, 0 };
	struct err err = { 0 };
	struct buf b;

	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/minutes.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(
	    minutes_parse(table, "minutes", b.data, b.len, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&b);
	return book;
}

struct work_job
job_of(const char *batch, const char *species, enum body_form form,
    enum presentation bought, enum cut_kind cut)
{
	struct work_job j;

	memset(&j, 0, sizeof(j));
	ck_assert(str_copy(j.batch, sizeof(j.batch), batch));
	ck_assert(str_copy(j.species, sizeof(j.species), species));
	j.form = form;
	j.allergen = form == FORM_CRUSTACEAN ? ALLERGEN_CRUSTACEANS
	    : form == FORM_BIVALVE || form == FORM_GASTROPOD ||
		form == FORM_CEPHALOPOD
	    ? ALLERGEN_MOLLUSCS
	    : ALLERGEN_FISH;
	j.bought = bought;
	j.cut = cut;
	j.skin_on = true;
	j.state = bought == PRES_LIVE ? STATE_LIVE : STATE_RAW;
	j.deadline_utc = 1000;
	j.use_by_utc = 9000;
	j.fish_g = 800;
	j.fish = 10;
	j.pieces = 20;
	j.portions = 20;
	j.weight_g = 8000;
	return j;
}

size_t
work_runs(struct run_of_work out[RUNS_MAX], const struct work *w)
{
	const struct work_task *t;
	size_t i, n = 0;

	for (i = 0; i < w->count; i++) {
		t = &w->tasks[i];
		if (t->job < 0)
			continue;
		if (n == 0 || out[n - 1].job != t->job ||
		    out[n - 1].class != t->class ||
		    out[n - 1].first + out[n - 1].count != i) {
			ck_assert_uint_lt(n, RUNS_MAX);
			out[n].job = t->job;
			out[n].class = t->class;
			out[n].first = i;
			out[n++].count = 0;
		}
		out[n - 1].count++;
	}
	return n;
}
