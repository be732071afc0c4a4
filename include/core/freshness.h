/*
 * core/freshness.h - how fresh a batch looks, attribute by attribute.
 *
 * Council Reg. (EC) 2406/96 gives each attribute of a fish one of the grades
 * Extra, A, B or not admitted; the descriptors are in our own short words.
 * Data: config/freshness.csv (words) and config/freshness-groups.csv (which
 * table a species is judged by; where the law does not list it, that is a
 * choice of ours and is said).  The module proposes with reasons; a person
 * decides.  Pure.
 */
#ifndef CORE_FRESHNESS_H
#define CORE_FRESHNESS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "core/cut.h"

#define FRESHNESS_MARKS_MAX 16 /* attributes that can apply to one fish */

enum freshness_group {
	FRESHNESS_NO_TABLE, /* the law has none: crabs, lobster, scallops... */
	FRESHNESS_WHITEFISH,
	FRESHNESS_BLUEFISH,
	FRESHNESS_RAYS,
	FRESHNESS_CEPHALOPODS,
	FRESHNESS_CRUSTACEANS, /* shrimps and langoustine */
	FRESHNESS_BIVALVES,    /* live or dead, no grades between */
	FRESHNESS_GROUP_COUNT
};

/* From best to worst; a larger value is worse. */
enum freshness_grade {
	GRADE_EXTRA,
	GRADE_A,
	GRADE_B,
	GRADE_NOT_ADMITTED,
	GRADE_COUNT
};

/* On what state of the fish an attribute can be seen at all. */
enum freshness_when {
	WHEN_ANY,
	WHEN_HEAD,   /* head on: whole or gutted */
	WHEN_GUTTED, /* gutted, with or without head */
	WHEN_HEADED,
	WHEN_SKIN, /* not skinned, not shucked */
	WHEN_RAW,  /* not live */
	WHEN_LIVE,
	WHEN_COUNT
};

struct freshness_words {
	char text[120]; /* "" when the table has no words for this grade */
	bool verified;  /* read in the source, not remembered */
	char source[160];
};

struct freshness_attribute {
	enum freshness_group group;
	char name[32]; /* "eye" */
	char only[48]; /* codes, or "not" and codes; "" for all of the group */
	enum freshness_when when;
	struct freshness_words grade[GRADE_COUNT];
};

struct freshness_table {
	struct freshness_attribute *items; /* in file order, owned */
	size_t count;
};

struct freshness_species {
	char code[4];
	enum freshness_group group;
	bool law; /* the law's own list names it; false: our choice */
	bool verified;
	char source[160];
};

struct freshness_species_table {
	struct freshness_species *items; /* sorted by code, owned */
	size_t count;
};

/* The fish in hand. */
struct freshness_fish {
	const struct freshness_species *species;
	enum presentation presentation;
};

struct freshness_mark {
	const char *attribute; /* its name, in any case */
	enum freshness_grade grade;
};

struct freshness_verdict {
	enum freshness_grade grade; /* of the worst attribute */
	bool refuse;                /* the proposal */
	bool complete;              /* every attribute that applies is marked */
	bool verified;              /* no deciding words are from memory */
	bool law;                   /* the species is on the law's list */
	size_t bad_count;           /* attributes that decided the grade */
	const struct freshness_attribute *bad[FRESHNESS_MARKS_MAX];
	size_t missing_count; /* attributes that apply and have no mark */
	const struct freshness_attribute *missing[FRESHNESS_MARKS_MAX];
};

/*
 * freshness_parse, freshness_species_parse - read the two files.
 * RC_OK, or RC_INVALID with line and column.  Refused are an unknown word, a
 * grade twice for one attribute, rows of one attribute that disagree about
 * whom it is for, an attribute without words for Extra, more attributes than
 * FRESHNESS_MARKS_MAX in a group, a species twice, no source.
 */
enum rc freshness_parse(struct freshness_table *out, const char *name,
    const char *data, size_t len, struct err *err) MUST_CHECK;
enum rc freshness_species_parse(struct freshness_species_table *out,
    const char *name, const char *data, size_t len, struct err *err) MUST_CHECK;

void freshness_fini(struct freshness_table *t);
void freshness_species_fini(struct freshness_species_table *t);

/* freshness_species_find - by 3-alpha code in any case, or NULL. */
const struct freshness_species *freshness_species_find(
    const struct freshness_species_table *t, const char *code);

/*
 * freshness_applies - the attributes to look at on this fish, in file order;
 * the number filled.  0 when the law has no table for it.
 */
size_t freshness_applies(
    const struct freshness_attribute *out[FRESHNESS_MARKS_MAX],
    const struct freshness_table *t, const struct freshness_fish *fish);

/*
 * freshness_judge - the grade is that of the worst attribute; one mark "not
 * admitted" proposes a refusal.  "Not admitted" may be given for any attribute,
 * also where the table ends above it (cephalopods, shrimps): worse than every
 * word of the table.  Marks that are missing leave the grade a best case:
 * complete is then false.
 * RC_OK
 * RC_NOTFOUND  the species has no table
 * RC_INVALID   no mark at all, an attribute that does not apply to this fish,
 *              the same one twice, a grade the table does not have
 */
enum rc freshness_judge(struct freshness_verdict *out,
    const struct freshness_table *t, const struct freshness_fish *fish,
    const struct freshness_mark *marks, size_t count,
    struct err *err) MUST_CHECK;

/* freshness_reasons - append the verdict in one line of words. */
void freshness_reasons(struct buf *out, const struct freshness_verdict *v);

/* Words of the enums, "rays-and-sharks", "not-admitted"; the parser takes any
 * case.  RC_OK or RC_INVALID listing the words. */
const char *freshness_group_word(enum freshness_group g);
const char *freshness_grade_word(enum freshness_grade g);
enum rc freshness_grade_parse(
    enum freshness_grade *out, const char *s, struct err *err) MUST_CHECK;

#endif /* CORE_FRESHNESS_H */
