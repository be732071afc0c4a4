/* work_jobs.h - jobs of an invented prep list, for the suites of core/work. */
#ifndef WORK_JOBS_H
#define WORK_JOBS_H

#include "core/work.h"

/* work_book - config/minutes.csv; freed by the caller with minutes_fini(). */
struct pace_book work_book(struct minutes_table *table);

/* job_of - ten animals of 800 g of a batch, two pieces and two portions each,
 * to be cooked, for a service at 1000, in date until 9000. */
struct work_job job_of(const char *batch, const char *species,
    enum body_form form, enum presentation bought, enum cut_kind cut);

/* Part of a list: one run of tasks of one job and class. */
struct run_of_work {
	int job;
	enum work_class class;
	size_t first, count; /* in work.tasks */
};
#define RUNS_MAX 64

/* work_runs - the list cut into runs; the number. */
size_t work_runs(struct run_of_work out[RUNS_MAX], const struct work *w);

#endif /* WORK_JOBS_H */
