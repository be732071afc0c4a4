/* freshness.c - how fresh a batch looks: the judgement. */
#include "core/freshness.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"

static const char *const group_words[FRESHNESS_GROUP_COUNT] = {
	[FRESHNESS_NO_TABLE] = "no-table",
	[FRESHNESS_WHITEFISH] = "whitefish",
	[FRESHNESS_BLUEFISH] = "bluefish",
	[FRESHNESS_RAYS] = "rays-and-sharks",
	[FRESHNESS_CEPHALOPODS] = "cephalopods",
	[FRESHNESS_CRUSTACEANS] = "crustaceans",
	[FRESHNESS_BIVALVES] = "live-bivalves",
};

static const char *const grade_words[GRADE_COUNT] = {
	[GRADE_EXTRA] = "extra",
	[GRADE_A] = "a",
	[GRADE_B] = "b",
	[GRADE_NOT_ADMITTED] = "not-admitted",
};

const char *
freshness_group_word(enum freshness_group g)
{
	assert((unsigned)g < FRESHNESS_GROUP_COUNT);
	return group_words[g];
}

const char *
freshness_grade_word(enum freshness_grade g)
{
	assert((unsigned)g < GRADE_COUNT);
	return grade_words[g];
}

enum rc
freshness_grade_parse(enum freshness_grade *out, const char *s, struct err *err)
{
	int i;

	for (i = 0; i < GRADE_COUNT; i++) {
		if (!str_eq_nocase(s, grade_words[i]))
			continue;
		*out = (enum freshness_grade)i;
		return RC_OK;
	}
	return err_set(err, RC_INVALID, 0,
	    "grade \"%.40s\" is not one of extra, a, b, not-admitted", s);
}

static bool
can_be_seen(enum freshness_when when, enum presentation p)
{
	switch (when) {
	case WHEN_ANY:
		return true;
	case WHEN_HEAD:
		return p == PRES_WHOLE || p == PRES_GUTTED;
	case WHEN_GUTTED:
		return p == PRES_GUTTED || p == PRES_HEADED;
	case WHEN_HEADED:
		return p == PRES_HEADED || p == PRES_TAIL;
	case WHEN_SKIN:
		return p != PRES_FILLET_SKINLESS && p != PRES_LOIN &&
		    p != PRES_SHUCKED;
	case WHEN_RAW:
		return p != PRES_LIVE;
	case WHEN_LIVE:
		return p == PRES_LIVE;
	case WHEN_COUNT:
		break;
	}
	assert(!"a condition that is not in the list");
	return true;
}

/* "PLE", "not PLE", "PRA CSH"; "" is everyone. */
static bool
is_for(const char *only, const char *code)
{
	bool inverse = strncmp(only, "not ", 4) == 0;

	if (only[0] == '\0')
		return true;
	return (strstr(only, code) != NULL) != inverse;
}

static bool
applies(const struct freshness_attribute *a, const struct freshness_fish *fish)
{
	return a->group == fish->species->group &&
	    is_for(a->only, fish->species->code) &&
	    can_be_seen(a->when, fish->presentation);
}

size_t
freshness_applies(const struct freshness_attribute *out[FRESHNESS_MARKS_MAX],
    const struct freshness_table *t, const struct freshness_fish *fish)
{
	size_t n = 0;
	size_t i;

	for (i = 0; i < t->count; i++) {
		if (!applies(&t->items[i], fish))
			continue;
		/* The parser refuses a group with more. */
		assert(n < FRESHNESS_MARKS_MAX);
		out[n++] = &t->items[i];
	}
	return n;
}

/* Index of the attribute the mark is about, or `n`. */
static size_t
find_attribute(
    const struct freshness_attribute *const *list, size_t n, const char *name)
{
	size_t i;

	for (i = 0; i < n; i++)
		if (str_eq_nocase(list[i]->name, name))
			break;
	return i;
}

static enum rc
check_mark(const struct freshness_attribute *const *list, size_t n, size_t at,
    const struct freshness_mark *m, struct err *err)
{
	struct buf names;
	size_t i;
	enum rc rc;

	assert((unsigned)m->grade < GRADE_COUNT);
	if (at == n) {
		buf_init(&names, 300);
		for (i = 0; i < n; i++)
			buf_printf(
			    &names, "%s%s", i == 0 ? "" : ", ", list[i]->name);
		rc = err_set(err, RC_INVALID, 0,
		    "\"%.40s\" is not judged on this fish; these are: %s",
		    m->attribute, buf_text(&names));
		buf_fini(&names);
		return rc;
	}
	if (m->grade != GRADE_NOT_ADMITTED &&
	    list[at]->grade[m->grade].text[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "the table has no grade %s for %s; worse than its last "
		    "words is not-admitted",
		    grade_words[m->grade], list[at]->name);
	return RC_OK;
}

/* The words that describe the mark; those of the worst grade there is when
 * the table ends above "not admitted". */
static const struct freshness_words *
words_of(const struct freshness_attribute *a, enum freshness_grade g)
{
	int i = (int)g;

	while (i > 0 && a->grade[i].text[0] == '\0')
		i--;
	return &a->grade[i];
}

static void
sum_up(struct freshness_verdict *v,
    const struct freshness_attribute *const *list, size_t n, const int *got)
{
	size_t i;

	v->grade = GRADE_EXTRA;
	for (i = 0; i < n; i++) {
		if (got[i] < 0)
			v->missing[v->missing_count++] = list[i];
		else if (got[i] > (int)v->grade)
			v->grade = (enum freshness_grade)got[i];
	}
	v->verified = true;
	for (i = 0; i < n; i++) {
		if (got[i] != (int)v->grade)
			continue;
		v->bad[v->bad_count++] = list[i];
		if (!words_of(list[i], v->grade)->verified)
			v->verified = false;
	}
	v->complete = v->missing_count == 0;
	v->refuse = v->grade == GRADE_NOT_ADMITTED;
}

enum rc
freshness_judge(struct freshness_verdict *out, const struct freshness_table *t,
    const struct freshness_fish *fish, const struct freshness_mark *marks,
    size_t count, struct err *err)
{
	const struct freshness_attribute *list[FRESHNESS_MARKS_MAX];
	int got[FRESHNESS_MARKS_MAX];
	struct freshness_verdict v;
	size_t n = freshness_applies(list, t, fish);
	size_t i, at;
	enum rc rc;

	if (n == 0)
		return err_set(err, RC_NOTFOUND, 0,
		    "no freshness table for %s as %s; judge by eye and smell",
		    fish->species->code, presentation_word(fish->presentation));
	if (count == 0)
		return err_set(err, RC_INVALID, 0, "no attribute was marked");
	for (i = 0; i < n; i++)
		got[i] = -1;
	for (i = 0; i < count; i++) {
		at = find_attribute(list, n, marks[i].attribute);
		if ((rc = check_mark(list, n, at, &marks[i], err)) != RC_OK)
			return rc;
		if (got[at] >= 0)
			return err_set(err, RC_INVALID, 0, "%s is marked twice",
			    list[at]->name);
		got[at] = (int)marks[i].grade;
	}
	memset(&v, 0, sizeof(v));
	sum_up(&v, list, n, got);
	v.law = fish->species->law;
	*out = v;
	return RC_OK;
}

void
freshness_reasons(struct buf *out, const struct freshness_verdict *v)
{
	const struct freshness_words *w;
	size_t i;

	if (v->refuse)
		buf_puts(out, "refusal proposed: ");
	else
		buf_printf(out, "%sgrade %s: ", v->complete ? "" : "at best ",
		    freshness_grade_word(v->grade));
	for (i = 0; i < v->bad_count; i++) {
		w = words_of(v->bad[i], v->grade);
		buf_printf(out, "%s%s ", i == 0 ? "" : "; ", v->bad[i]->name);
		if (w != &v->bad[i]->grade[v->grade])
			buf_puts(out, "worse than ");
		buf_printf(out, "\"%s\"", w->text);
	}
	for (i = 0; i < v->missing_count; i++)
		buf_printf(out, "%s%s", i == 0 ? "; not looked at: " : ", ",
		    v->missing[i]->name);
	if (!v->verified)
		buf_puts(out, "; words from memory, unverified");
	if (!v->law)
		buf_puts(out, "; table chosen by us, not by law");
}
