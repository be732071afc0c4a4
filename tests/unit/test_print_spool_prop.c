/*
 * test_print_spool_prop.c - random sequences of faults, answers, cancels and
 * restarts: whatever happens, srig_check() holds, a label goes out only while
 * its job is in sending, and in the end nothing is left waiting.
 */
#include "unit.h"

#include "base/str.h"
#include "chance.h"
#include "spool_rig.h"
#include "trail_rig.h"

static struct srig r;

static void
setup(void)
{
	srig_make(&r);
	srig_open(&r);
}

static void
teardown(void)
{
	srig_check(&r, "in the end");
	srig_close(&r);
	ck_assert_int_eq(fake.opens, fake.closes);
}

/* At the first byte of a label its job is in sending, and no other. */
static void
in_sending(struct fake_printer *f, char c)
{
	struct job_list l;
	size_t i, sending = 0;

	if (c != '<')
		return;
	ck_assert_uint_eq(f->half_len, 0);
	ck_assert_int_eq(job_list_open(&l, r.st, NULL), RC_OK);
	for (i = 0; i < l.count; i++)
		sending += l.items[i].state == JOB_SENDING;
	job_list_fini(&l);
	ck_assert_uint_eq(sending, 1);
}

static void
random_fault(uint64_t *seed)
{
	fake.open_rc = fake.begin_rc = fake.finish_rc = RC_OK;
	fake.room = fake.breaks = -1;
	fake.state = 0;
	fake.heals = 0;
	fake.most = chance_next(seed) % 3 == 0 ? 7 : 0;
	fake.port_silent = chance_next(seed) % 12 == 0;
	fake.language_silent = chance_next(seed) % 12 == 0;
	fake.reset_rc = chance_next(seed) % 8 == 0 ? RC_FAILED : RC_OK;
	switch (chance_next(seed) % 8) {
	case 0:
		fake.state = 1U << chance_next(seed) % 14;
		fake.heals = (int)(chance_next(seed) % 6);
		break;
	case 1:
		fake.room = (long)(chance_next(seed) % 60);
		fake.heals = (int)(chance_next(seed) % 6);
		break;
	case 2:
		fake.breaks = (long)(chance_next(seed) % 60);
		break;
	case 3:
		fake.open_rc = chance_next(seed) % 2 ? RC_RETRY : RC_FAILED;
		spool_rest(&r.sp);
		break;
	case 4:
		fake.finish_rc = RC_FAILED;
		break;
	default:
		break;
	}
}

/* One of the open jobs in a state; id 0: there is none. */
static struct print_job
any(enum job_state state, uint64_t *seed)
{
	struct print_job found = { .id = 0 };
	struct job_list l;
	size_t i, n = 0;

	ck_assert_int_eq(job_list_open(&l, r.st, NULL), RC_OK);
	for (i = 0; i < l.count; i++)
		if (l.items[i].state == state && chance_next(seed) % ++n == 0)
			found = l.items[i];
	job_list_fini(&l);
	return found;
}

static void
random_person(uint64_t *seed)
{
	struct print_job j = any(JOB_UNSURE, seed);

	if (j.id != 0 && chance_next(seed) % 3 == 0) {
		srig_answer(&r, j.id, JOB_UNSURE);
	} else if (j.id != 0 && chance_next(seed) % 2 == 0) {
		srig_answer(&r, j.id, JOB_CONFIRMED);
	} else if (j.id != 0) {
		/* Whether or not it is true. */
		srig_answer(&r, j.id, JOB_FAILED);
		srig_again(&r, &j);
	}
	j = any(JOB_QUEUED, seed);
	if (j.id == 0 || chance_next(seed) % 4 != 0)
		return;
	ck_assert_int_eq(store_begin(r.st, NULL), RC_OK);
	ck_assert_int_eq(
	    job_move(r.st, &j, JOB_CANCELLED, "by AK", 1, NULL), RC_OK);
	rig_commit(r.st);
}

#define LIVES 25
#define DAYS 40

START_TEST(any_sequence)
{
	uint64_t seed = (uint64_t)_i * 977 + 5;
	char where[48];
	int day;

	r.printer.patience_ms = 4;
	r.printer.deadline_ms = 2;
	fake.taking = in_sending;
	for (day = 0; day < DAYS; day++) {
		str_fmt(where, sizeof(where), "seed %d, day %d", _i, day);
		if (chance_next(&seed) % 2 == 0)
			srig_queue(&r);
		random_fault(&seed);
		ck_assert_int_ne(srig_step(&r), RC_FAILED);
		srig_check(&r, where);
		random_person(&seed);
		srig_check(&r, where);
		if (chance_next(&seed) % 6 == 0) {
			srig_shut(&r);
			/* Nothing was being sent: a program that ended. */
			ck_assert_int_eq(srig_open(&r), 0);
		}
	}
	/* Nothing is wrong any more: everything that waits comes out. */
	random_fault(&seed);
	fake.port_silent = fake.language_silent = false;
	fake.state = 0;
	fake.room = -1;
	fake.breaks = -1;
	fake.open_rc = fake.finish_rc = fake.reset_rc = RC_OK;
	fake.most = 0;
	r.printer.deadline_ms = 300;
	srig_drain(&r);
	ck_assert_int_eq(any(JOB_QUEUED, &seed).id, 0);
	fake.taking = NULL;
}
END_TEST

Suite *
suite_print_spool_prop(void)
{
	Suite *s = suite_create("print_spool_prop");
	TCase *tc = tcase_create("prop");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, any_sequence, 0, LIVES);
	suite_add_tcase(s, tc);
	return s;
}
