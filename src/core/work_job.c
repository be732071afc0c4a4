/* work_job.c - what one job asks for: tasks, units, and its class of work. */
#include "work_inner.h"

#include <string.h>

static bool
is_fish(const struct work_job *j)
{
	return j->form == FORM_ROUND || j->form == FORM_FLAT ||
	    j->form == FORM_CARTILAGINOUS;
}

static bool
on_the_bone(const struct work_job *j)
{
	return is_fish(j) &&
	    (j->bought == PRES_WHOLE || j->bought == PRES_GUTTED ||
		j->bought == PRES_HEADED);
}

static bool
is_filleted(const struct work_job *j)
{
	return on_the_bone(j) && j->cut != CUT_WHOLE && j->cut != CUT_TRONCON;
}

static bool
keeps_skin(const struct work_job *j)
{
	return j->cut == CUT_WHOLE || j->cut == CUT_TRONCON ||
	    ((j->cut == CUT_FILLET || j->cut == CUT_SUPREME) && j->skin_on);
}

static bool
is_skinned(const struct work_job *j)
{
	return is_fish(j) && !keeps_skin(j) && j->cut != CUT_TRIM &&
	    j->bought != PRES_FILLET_SKINLESS && j->bought != PRES_LOIN;
}

static bool
is_pinboned(const struct work_job *j)
{
	return (j->cut == CUT_FILLET || j->cut == CUT_SUPREME ||
		   j->cut == CUT_LOIN) &&
	    (on_the_bone(j) || j->bought == PRES_FILLET ||
		j->bought == PRES_FILLET_SKINLESS);
}

static bool
in_shell(const struct work_job *j)
{
	return j->bought != PRES_SHUCKED;
}

/* Could this be work on it?  Whether it is for the species, the table says. */
static bool
applies(const struct work_job *j, enum task_kind kind)
{
	switch (kind) {
	case TASK_SCRUB:
	case TASK_OPEN:
		return (j->form == FORM_BIVALVE || j->form == FORM_GASTROPOD) &&
		    in_shell(j);
	case TASK_SCALE:
		return on_the_bone(j) && keeps_skin(j);
	case TASK_TRIM:
		return on_the_bone(j) && j->form == FORM_FLAT &&
		    j->cut == CUT_WHOLE;
	case TASK_GUT:
		return is_fish(j) && j->bought == PRES_WHOLE &&
		    !applies(j, TASK_TRIM);
	case TASK_CLEAN:
		return j->form == FORM_CEPHALOPOD && in_shell(j);
	case TASK_PEEL:
		return j->form == FORM_CRUSTACEAN && in_shell(j) &&
		    (j->cut == CUT_MEAT || j->cut == CUT_TAIL);
	case TASK_FILLET:
		return is_filleted(j);
	case TASK_PINBONE:
		return is_pinboned(j);
	case TASK_SKIN:
		return is_skinned(j);
	case TASK_DRESS:
		return j->form == FORM_CRUSTACEAN && in_shell(j) &&
		    j->cut == CUT_MEAT;
	case TASK_PORTION:
		return j->cut != CUT_WHOLE;
	case TASK_TRAY:
	case TASK_CHANGE:
	case TASK_CLEANDOWN:
	case TASK_COUNT:
		break;
	}
	return false;
}

/* Animals; from the weight when they were not counted. */
int64_t
work_animals(const struct work_job *j)
{
	if (j->fish > 0 || j->fish_g == 0)
		return j->fish;
	return div_up(j->weight_g, j->fish_g);
}

static bool
bought_as_piece(const struct work_job *j)
{
	return j->bought == PRES_FILLET || j->bought == PRES_FILLET_SKINLESS ||
	    j->bought == PRES_LOIN || j->bought == PRES_TAIL ||
	    j->bought == PRES_WING;
}

int64_t
work_kilograms(const struct work_job *j)
{
	grams g = j->weight_g > 0 ? j->weight_g : j->fish * j->fish_g;

	return div_up(g, 1000);
}

static int64_t
units_of(const struct work_job *j, enum task_kind kind)
{
	switch (task_unit(kind)) {
	case UNIT_EACH:
		return work_animals(j);
	case UNIT_PIECE:
		return j->pieces == 0 && bought_as_piece(j) ? work_animals(j)
							    : j->pieces;
	case UNIT_PORTION:
		return j->portions;
	case UNIT_KG:
		return work_kilograms(j);
	case UNIT_TRAY:
	case UNIT_TIME:
		return 1;
	case UNIT_COUNT:
		break;
	}
	return 0;
}

/*
 * The bands of the table are sizes of whole fish; a fillet is about a third of
 * its fish (two of them, yields of 60 % and less).  Common practice, no source.
 */
static grams
size_of(const struct work_job *j)
{
	return bought_as_piece(j) ? j->fish_g * 3 : j->fish_g;
}

void
work_set_units(struct work_task *t, const struct pace *p, int64_t units)
{
	t->units = units;
	t->seconds = div_up(units * pace_ms(p), 1000);
	t->slow_s = div_up(units * pace_slow_ms(p), 1000);
	t->learned = p->learned;
}

bool
work_pace(struct pace *out, const struct work_job *job, enum task_kind kind,
    const struct pace_book *book)
{
	return pace_find(
	    out, book, kind, job->species, job->form, size_of(job));
}

bool
work_countable(const struct work_job *job, const struct pace_book *book)
{
	enum task_unit u;
	struct pace p;
	int k;

	for (k = 0; k < TASK_COUNT; k++) {
		u = task_unit((enum task_kind)k);
		if ((u == UNIT_EACH || u == UNIT_PIECE) &&
		    applies(job, (enum task_kind)k) &&
		    units_of(job, (enum task_kind)k) == 0 &&
		    work_pace(&p, job, (enum task_kind)k, book))
			return false;
	}
	return true;
}

static bool
opens(const struct work_job *j, const struct pace_book *book)
{
	struct pace p;

	return applies(j, TASK_OPEN) && work_pace(&p, j, TASK_OPEN, book);
}

int
work_tasks(struct work_task out[TASK_COUNT], const struct work_job *job,
    const struct pace_book *book)
{
	struct work_task *t;
	struct pace p;
	int64_t units;
	int k, n = 0;

	for (k = 0; k < TASK_COUNT; k++) {
		units = units_of(job, (enum task_kind)k);
		/* An oyster on the half shell is counted, not weighed out. */
		if (!applies(job, (enum task_kind)k) || units == 0 ||
		    (k == TASK_PORTION && job->cut == CUT_SHELL &&
			opens(job, book)) ||
		    !work_pace(&p, job, (enum task_kind)k, book))
			continue;
		t = &out[n++];
		memset(t, 0, sizeof(*t));
		t->kind = (enum task_kind)k;
		t->class = WORK_DIRTY;
		work_set_units(t, &p, units);
	}
	return n;
}

static bool
is_cooked(const struct work_job *j)
{
	return j->state == STATE_COOKED;
}

enum work_class
work_class_of(const struct work_job *j, const struct pace_book *book)
{
	if (is_cooked(j))
		return WORK_READY;
	/* Whoever says so: what is opened or eaten alive is raw. */
	if (j->state == STATE_SERVED_RAW || opens(j, book) ||
	    (j->state == STATE_LIVE && j->ready_to_eat))
		return WORK_SERVED_RAW;
	if (j->ready_to_eat)
		return WORK_READY;
	return is_filleted(j) ? WORK_FILLET : WORK_PORTION;
}

bool
work_is_dirty(
    const struct work_job *j, enum work_class class, enum task_kind kind)
{
	switch (kind) {
	case TASK_SCRUB:
	case TASK_SCALE:
	case TASK_TRIM:
	case TASK_GUT:
	case TASK_CLEAN:
		return true;
	case TASK_PEEL:
		return class != WORK_READY;
	case TASK_FILLET:
	case TASK_PINBONE:
	case TASK_SKIN:
	case TASK_OPEN:
		return is_cooked(j);
	case TASK_DRESS:
	case TASK_PORTION:
	case TASK_TRAY:
	case TASK_CHANGE:
	case TASK_CLEANDOWN:
	case TASK_COUNT:
		break;
	}
	return false;
}
