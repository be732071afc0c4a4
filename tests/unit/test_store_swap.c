/*
 * test_store_swap.c - a file put in place of another where names are odd, or
 * the file system is.
 */
#include "unit.h"

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "store/store.h"
#include "store/swap.h"
#include "store/verify.h"

static struct kitchen k;
static char coming[400], aside[400], plan[400];

static void
put(const char *path, const char *text)
{
	ck_assert_int_eq(file_write(path, text, strlen(text), NULL), RC_OK);
}

static void
must_hold(const char *path, const char *text)
{
	struct buf b;

	buf_init(&b, 1000);
	ck_assert_int_eq(file_read(&b, path, NULL), RC_OK);
	ck_assert_str_eq(buf_text(&b), text);
	buf_fini(&b);
}

static void
setup(void)
{
	kitchen_make(&k, true);
	str_fmt(coming, sizeof(coming), "%s.coming", k.db);
	str_fmt(aside, sizeof(aside), "%s.aside-1", k.db);
	str_fmt(plan, sizeof(plan), "%s.swap", k.db);
}

static void
teardown(void)
{
	unlink(k.db); /* no station file */
	kitchen_close(&k);
}

static void
finish(void)
{
	char found[SWAP_PATH_SIZE], text[500];
	const char *slash = strrchr(aside, '/');
	struct err err = { 0 };
	bool done;

	str_fmt(text, sizeof(text), "coming yes\naside %s\n", slash + 1);
	put(plan, text);
	ck_assert_msg(
	    swap_finish(&done, found, k.db, &err) == RC_OK, "%s", err.text);
	ck_assert(done);
	must_hold(k.db, "new");
	must_hold(aside, "old");
	ck_assert(!file_exists(coming));
	ck_assert(!file_exists(plan));
}

/* Where a rename is a link and the old name's end, a cut may leave both. */
START_TEST(cut_between_two_names)
{
	put(k.db, "old");
	put(coming, "new");
	ck_assert_int_eq(link(k.db, aside), 0);
	finish();
	unlink(k.db);
	put(coming, "new");
	ck_assert_int_eq(link(coming, k.db), 0);
	finish();
}
END_TEST

/* One name only, and a symbolic link to it: nothing is removed. */
START_TEST(never_the_last_name)
{
	put(k.db, "old");
	ck_assert_int_eq(symlink(k.db, aside), 0);
	ck_assert_int_ne(file_rename_new(k.db, aside), 0);
	must_hold(k.db, "old");
	ck_assert_int_ne(file_rename_new(k.db, k.db), 0);
	must_hold(k.db, "old");
	ck_assert_int_eq(unlink(aside), 0);
	ck_assert_int_eq(link(k.db, aside), 0);
	ck_assert_int_ne(file_rename_new(k.db, k.db), 0);
	must_hold(k.db, "old");
}
END_TEST

/* What is meant could not be read after a cut. */
START_TEST(name_with_a_line_end)
{
	char odd[400], to[500];
	struct err err = { 0 };

	str_fmt(odd, sizeof(odd), "%s/a\nb.db", k.folder);
	str_fmt(to, sizeof(to), "%s.aside-1", odd);
	put(odd, "old");
	ck_assert_int_eq(
	    swap_files(odd, to, false, NULL, NULL, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "line end"));
	must_hold(odd, "old");
	ck_assert_int_eq(unlink(odd), 0);
}
END_TEST

/* It names a file of the folder, and nothing else. */
START_TEST(plan_of_somebody_else)
{
	static const char *const plans[] = { "", "coming no\naside \n",
		"coming no\naside x", "coming no\naside ../x\n",
		"coming no\naside /tmp/x\n", "coming maybe\naside x\n" };
	char found[SWAP_PATH_SIZE];
	struct err err = { 0 };
	bool done;
	size_t i;

	put(k.db, "old");
	for (i = 0; i < NELEM(plans); i++) {
		put(plan, plans[i]);
		ck_assert_msg(
		    swap_finish(&done, found, k.db, &err) == RC_FAILED, "%s",
		    plans[i]);
		err_clear(&err);
		must_hold(k.db, "old");
		must_hold(plan, plans[i]);
	}
	unlink(plan);
}
END_TEST

/* A file that says who has it open, and cannot be opened, keeps nobody out:
 * a restore by another user would not see that the station is open. */
START_TEST(lock_out_of_reach)
{
	struct store *st = NULL;
	struct err err = { 0 };
	char lock[400];

	ck_assert_int_eq(store_create(k.db, NULL), RC_OK);
	str_fmt(lock, sizeof(lock), "%s-open", k.db);
	ck_assert_int_eq(symlink("nowhere", lock), 0);
	ck_assert_int_eq(store_open(&st, k.db, &err), RC_FAILED);
	ck_assert_ptr_nonnull(strstr(err.text, "-open"));
	ck_assert_int_eq(unlink(lock), 0);
	ck_assert_int_eq(store_open(&st, k.db, NULL), RC_OK);
	store_close(st);
}
END_TEST

/* Opening a pipe waits for who writes to it. */
START_TEST(pipe_is_no_file)
{
	struct verify_wish wish = { 0 };
	struct trail_report r;
	struct err err = { 0 };

	ck_assert_int_eq(mkfifo(aside, 0600), 0);
	ck_assert_int_eq(store_verify(&r, aside, &wish, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "not a file"));
	trail_report_fini(&r);
}
END_TEST

Suite *
suite_store_swap(void)
{
	Suite *s = suite_create("store_swap");
	TCase *t = tcase_create("swap");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, cut_between_two_names);
	tcase_add_test(t, never_the_last_name);
	tcase_add_test(t, name_with_a_line_end);
	tcase_add_test(t, plan_of_somebody_else);
	tcase_add_test(t, lock_out_of_reach);
	tcase_add_test(t, pipe_is_no_file);
	suite_add_tcase(s, t);
	return s;
}
