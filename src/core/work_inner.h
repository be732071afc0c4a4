/*
 * work_inner.h - what the two halves of core/work share.  Private to core.
 */
#ifndef CORE_WORK_INNER_H
#define CORE_WORK_INNER_H

#include "core/work.h"

/* work_animals - counted, or worked out from weight and size; 0 when neither
 * is known. */
int64_t work_animals(const struct work_job *j);

/* work_kilograms - begun kilograms. */
int64_t work_kilograms(const struct work_job *j);

/* work_set_units - units, seconds and mark of a task at a pace. */
void work_set_units(struct work_task *t, const struct pace *p, int64_t units);

/* work_class_of - class of the job's work that is not dirty. */
enum work_class work_class_of(
    const struct work_job *j, const struct pace_book *book);

/* work_is_dirty - does this task of a job of that class soil the bench? */
bool work_is_dirty(
    const struct work_job *j, enum work_class class, enum task_kind kind);

#endif /* CORE_WORK_INNER_H */
