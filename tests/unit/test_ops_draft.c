/* test_ops_draft.c - half-typed forms: kept, replaced, found again, cleared. */
#include "unit.h"

#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "kitchen.h"
#include "ops/draft.h"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
keep(const char *title, const char *body, const char *by)
{
	struct draft_in in = { DRAFT_BREAKDOWN, title, body, by };
	struct err err = { 0 };

	ck_assert_msg(draft_keep(k.sn, &in, &err) == RC_OK, "%s", err.text);
}

START_TEST(none)
{
	struct draft d;
	struct err err = { 0 };

	ck_assert_int_eq(
	    draft_waiting(&d, k.sn, DRAFT_BREAKDOWN, &err), RC_NOTFOUND);
	ck_assert_int_eq(draft_clear(k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
}
END_TEST

START_TEST(replaced)
{
	int64_t before = kitchen_records(&k);
	struct draft d;

	keep("one", "a=1\n", "");
	keep("two", "a=2\nb=3\n", "CD");
	ck_assert_int_eq(draft_open(&d, k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
	ck_assert_str_eq(d.title, "two");
	ck_assert_str_eq(d.body, "a=2\nb=3\n");
	ck_assert_str_eq(d.at.by, "CD");
	ck_assert_int_eq(d.at.utc, k.sn->clock.fixed_utc);
	draft_fini(&d);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM draft"), 1);
	/* It is no record: nothing in the trail. */
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(draft_waiting(&d, k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
	ck_assert_ptr_null(d.body);
	ck_assert_int_eq(draft_clear(k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM draft"), 0);
}
END_TEST

START_TEST(too_long)
{
	static char body[DRAFT_BODY_MAX + 2];
	struct draft_in in = { DRAFT_BREAKDOWN, "long", body, "" };
	struct err err = { 0 };
	struct draft d;

	keep("short", "a=1\n", "");
	memset(body, 'x', sizeof(body) - 1);
	ck_assert_int_eq(draft_keep(k.sn, &in, &err), RC_INVALID);
	ck_assert_int_eq(draft_waiting(&d, k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
	ck_assert_str_eq(d.title, "short");
}
END_TEST

/* The process that kept it ends without a word: kill -9. */
START_TEST(killed)
{
	struct draft d;
	int status;
	pid_t pid;

	station_close(k.sn);
	k.sn = NULL;
	if ((pid = fork()) == 0) {
		ignore_rc(kitchen_station(&k, KITCHEN_NOW, NULL));
		keep("half typed", "in=4000\n", "CD");
		kill(getpid(), SIGKILL);
	}
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert(WIFSIGNALED(status));
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, NULL), RC_OK);
	ck_assert_int_eq(draft_open(&d, k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
	ck_assert_str_eq(d.body, "in=4000\n");
	draft_fini(&d);
}
END_TEST

/* A doubtful clock stops records, not what somebody typed. */
START_TEST(clock_in_doubt)
{
	struct draft d;
	struct moment at;

	/* The clock of the computer, which a record of the future doubts. */
	ck_assert_int_eq(kitchen_sql(k.db,
			     "INSERT INTO audit (at_utc, offset_min, by,"
			     " action, subject, detail)"
			     " VALUES (4102444800, 0, 'AB', 'x', 'x', 'x')"),
	    0);
	k.sn->clock.fixed = false;
	ck_assert_int_eq(station_moment(&at, k.sn, "CD", NULL), RC_REFUSED);
	keep("typed", "a=1\n", "");
	ck_assert_int_eq(draft_waiting(&d, k.sn, DRAFT_BREAKDOWN, NULL), RC_OK);
}
END_TEST

Suite *
suite_ops_draft(void)
{
	Suite *s = suite_create("ops_draft");
	TCase *tc = tcase_create("draft");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, none);
	tcase_add_test(tc, replaced);
	tcase_add_test(tc, too_long);
	tcase_add_test(tc, killed);
	tcase_add_test(tc, clock_in_doubt);
	suite_add_tcase(s, tc);
	return s;
}
