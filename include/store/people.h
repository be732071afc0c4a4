/*
 * store/people.h - who works here, and the hash of their PIN.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_PEOPLE_H
#define STORE_PEOPLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/secret.h"

struct store;

#define PERSON_INITIALS_MAX 15 /* bytes */
#define PERSON_NAME_MAX 60     /* bytes */

struct person {
	int64_t id;
	char initials[PERSON_INITIALS_MAX + 1];
	char name[PERSON_NAME_MAX + 1];
	bool chef;   /* the house's chef, or one who stands in */
	bool active; /* works here; nobody is ever deleted */
	bool has_pin;
	int64_t wrong;    /* wrong PIN tries since the last right one */
	int64_t untold;   /* of those, not yet in the audit trail */
	int64_t tried_ms; /* clock_ticks_ms() of the last try */
};

struct person_list {
	struct person *items; /* owned */
	size_t count;
};

/*
 * person_list_open - who worked last first: at most `most`, the first `skip`
 * left out; with `all` those who left too, behind the others.
 */
enum rc person_list_open(struct person_list *out, struct store *st, bool all,
    int64_t skip, int64_t most, struct err *err) MUST_CHECK;
void person_list_fini(struct person_list *l);

/* person_get - by initials in any case.  RC_OK, RC_NOTFOUND naming them. */
enum rc person_get(struct person *out, struct store *st, const char *initials,
    struct err *err) MUST_CHECK;

/* person_add - p->id is set; person_put - name, chef and active of p->id. */
enum rc person_add(
    struct store *st, struct person *p, struct err *err) MUST_CHECK;
enum rc person_put(
    struct store *st, const struct person *p, struct err *err) MUST_CHECK;

/* person_tries - wrong, untold and tried_ms of p->id. */
enum rc person_tries(
    struct store *st, const struct person *p, struct err *err) MUST_CHECK;

/* person_works - from now on the one who worked last. */
enum rc person_works(struct store *st, int64_t id, struct err *err) MUST_CHECK;

/* person_hash, person_hash_put - RC_NOTFOUND: no PIN. */
enum rc person_hash(char out[SECRET_HASH_SIZE], struct store *st, int64_t id,
    struct err *err) MUST_CHECK;
enum rc person_hash_put(
    struct store *st, int64_t id, const char *hash, struct err *err) MUST_CHECK;

/* person_chefs - how many work here, are a chef and have a PIN. */
enum rc person_chefs(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;

#endif /* STORE_PEOPLE_H */
