/*
 * core/work.h - the working order of a prep list, and its minutes.
 *
 * Jobs in, tasks out, in the order they are done at one bench:
 *
 * 1. Sessions: jobs whose lot goes out of date today, then by service start;
 *    one deadline is one session.
 * 2. In a session fish, then crustaceans, then molluscs; nothing goes back.
 * 3. Of one allergen group clean to dirty: ready to eat, served raw,
 *    portioning, filleting, dirty work (scaling, gutting, scrubbing).  But a
 *    fish is scaled and gutted before it is filleted: when any job of the
 *    group needs both, the group's dirty work comes first instead.
 * 4. Then by species, the first to expire first, and by batch within it.
 *
 * The bench rule (docs/rules.md R-W2), whatever the order: from one allergen
 * group to another, or from dirtier to cleaner work, only over a full
 * clean-down, which is a task of its own with its minutes; from cleaner to
 * dirtier work or to another species over a change of board and knife.  So
 * food served raw never follows dirty work, or any raw food that is to be
 * cooked, on an uncleaned bench.  A list starts at a clean bench and ends with
 * a clean-down.  Inside one session no order that keeps rule 2 and the bench
 * rule has fewer clean-downs; across sessions that is not claimed.
 *
 * What is cooked here and portioned afterwards is raw until then: its raw work
 * counts as dirty, its portions as ready to eat.  Whole fish and shells to be
 * cooked go on the tray where they were cleaned.  Shellfish that is opened
 * counts as served raw, whatever the job says.
 *
 * Common practice, no source; the house's own food safety plan overrides it.
 * The same jobs give the same list, in whatever order they come.  Pure.
 */
#ifndef CORE_WORK_H
#define CORE_WORK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "core/cut.h"
#include "core/minutes.h"
#include "core/species.h"
#include "core/useby.h"

#define WORK_JOBS_MAX 2000

/* One batch worked for one dish. */
struct work_job {
	char batch[CODE_SIZE];
	int line; /* of the plan, as plan_jobs() counts; not read here */
	char species[4];
	enum body_form form;
	enum allergen allergen;
	enum presentation bought;
	enum cut_kind cut;
	bool skin_on;
	enum food_state state;
	bool ready_to_eat;    /* eaten without another cooking step */
	bool today;           /* the lot's use-by is today */
	int64_t deadline_utc; /* service start, or the use-by if earlier */
	int64_t use_by_utc;   /* of the lot, for first expired first */
	grams fish_g;         /* one animal or bought piece; 0 when not known */
	int64_t fish;         /* animals or bought pieces; 0 when by weight */
	int64_t pieces;       /* fillets, loins, wings; 0 when there are none */
	int64_t portions;
	grams weight_g; /* bought weight in all; what is by weight needs it */
};

/* From clean to dirty. */
enum work_class {
	WORK_READY,      /* ready to eat */
	WORK_SERVED_RAW, /* raw on the plate; live shellfish opened */
	WORK_PORTION,    /* to be cooked; bought as pieces */
	WORK_FILLET,     /* to be cooked; taken off the bone here */
	WORK_DIRTY,      /* scales, guts, shells, beards */
	WORK_CLASS_COUNT
};

struct work_task {
	enum task_kind kind;
	int job;               /* index; -1 for a change or a clean-down */
	enum work_class class; /* of the work; of what follows when job is -1 */
	int64_t units;         /* of task_unit(kind) */
	int64_t starts_s;      /* seconds after the list starts, as expected */
	int64_t seconds;       /* expected, rounded up */
	int64_t slow_s;        /* pace kept within in four cases of five */
	/* Animals, or begun kilograms when by weight, that leave the fridge at
	 * once, and how many times; 0 when job is -1. */
	int64_t tray;
	int64_t trays;
	bool learned; /* from this kitchen's records; else a house estimate */
};

struct work {
	struct work_task *tasks; /* in working order; owned */
	size_t count;
	int64_t seconds; /* sum of the expected */
	int64_t slow_s;  /* sum of the tasks' own: cautious, not a quantile */
	int64_t cleandowns;
	bool estimated;  /* some job's task rests on a house estimate */
	bool incomplete; /* of some job the time of a task is not in it */
};

/*
 * work_make - tasks of all jobs in working order.
 * `bench_minutes` (1..60): raw food is out of the fridge no longer than that;
 * a tray holds floor(bench_minutes x 60 / seconds per animal), at least one.
 * RC_OK, or RC_INVALID when a job's numbers are out of range or by neither
 * count nor weight, named by its index from 1.  The caller frees with
 * work_fini().
 */
enum rc work_make(struct work *out, const struct work_job *jobs, size_t count,
    const struct pace_book *book, int bench_minutes,
    struct err *err) MUST_CHECK;

void work_fini(struct work *w);

/*
 * work_tasks - the tasks of one job alone, without trays, changes or
 * clean-downs, dirty work first; the number filled.
 */
int work_tasks(struct work_task out[TASK_COUNT], const struct work_job *job,
    const struct pace_book *book);

/*
 * work_countable - is it known how many there are for every task of the job?
 * Not so for fish that was weighed and never counted, unless fish_g says how
 * large one is: its filleting is then left out, and its minutes are too few.
 */
bool work_countable(const struct work_job *job, const struct pace_book *book);

/* work_pace - the pace of a task of a job; false when it is not done for it. */
bool work_pace(struct pace *out, const struct work_job *job,
    enum task_kind kind, const struct pace_book *book);

/*
 * work_between - what the bench needs between two pieces of work (rule R-W2):
 * TASK_CLEANDOWN, TASK_CHANGE, or TASK_COUNT for nothing.
 */
enum task_kind work_between(enum work_class before,
    const struct work_job *before_job, enum work_class after,
    const struct work_job *after_job);

const char *work_class_word(enum work_class c); /* "served raw" */

/* work_caution - the sentence under every working order. */
const char *work_caution(void);

#endif /* CORE_WORK_H */
