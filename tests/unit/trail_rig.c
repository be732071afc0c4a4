/* trail_rig.c - rows of the trail that a test writes. */
#include "trail_rig.h"

#include <check.h>

#include "store/audit.h"

static void
add(struct store *st, const struct moment *at)
{
	struct err err = { 0 };

	ck_assert_msg(
	    audit_add(st, at, "test", "x", "y", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(store_commit(st, &err) == RC_OK, "%s", err.text);
}

void
rig_commit(struct store *st)
{
	static const struct moment at = { .utc = 1, .by = "AB" };

	add(st, &at);
}

void
rig_note(struct store *st, const struct moment *at)
{
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	add(st, at);
}
