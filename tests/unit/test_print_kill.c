/*
 * test_print_kill.c - kill -9 at every moment of printing.  A child works the
 * queue and is ended by SIGKILL after the n-th durable state, or inside the
 * n-th byte; or a reader of a named pipe ends it after so many bytes.  Then
 * the file is opened again, as the next start does: no label is lost, none
 * came out twice without its mark, and every state is explained.
 *
 * One long history: what one life leaves behind the next one finds.
 */
#include "unit.h"

#include <fcntl.h>
#include <inttypes.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/str.h"
#include "chance.h"
#include "spool_rig.h"

#define SEEDS 200
#define PIPE_SEEDS 40
#define STREAM_MAX 1000000

static struct srig r;
static int moves_left;
static long bytes_left;

static void
setup(void)
{
	srig_make(&r);
}

static void
teardown(void)
{
	srig_close(&r);
}

static void
die(void)
{
	kill(getpid(), SIGKILL);
}

static void
after_moves(struct srig *rig, const struct print_job *j)
{
	(void)rig;
	(void)j;
	if (moves_left > 0 && --moves_left == 0)
		die();
}

static void
before_byte(struct fake_printer *f, char c)
{
	(void)f;
	(void)c;
	if (bytes_left > 0 && --bytes_left == 0)
		die();
}

/* A program that works the queue, and what becomes of it. */
static int
child(void)
{
	int status = 0;
	pid_t pid = fork();

	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		srig_open(&r);
		r.moved = after_moves;
		fake.taking = before_byte;
		srig_drain(&r);
		srig_shut(&r);
		_exit(0);
	}
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert(WIFEXITED(status) ? WEXITSTATUS(status) == 0
				    : WTERMSIG(status) == SIGKILL);
	return WIFSIGNALED(status);
}

/* Jobs that were never settled by a person; the truth, now and then a slip. */
static int
answer_all(uint64_t *seed)
{
	struct print_job j;
	struct job_list l;
	size_t i;
	int n = 0;
	bool out;

	ck_assert_int_eq(job_list_open(&l, r.st, NULL), RC_OK);
	for (i = 0; i < l.count; i++) {
		j = l.items[i];
		ck_assert_int_ne(j.state, JOB_SENDING);
		if (j.state != JOB_UNSURE)
			continue;
		n++;
		out = fake_count(j.id) > 0;
		if (chance_next(seed) % 8 == 0)
			out = !out;
		srig_answer(&r, j.id, out ? JOB_CONFIRMED : JOB_FAILED);
		if (!out)
			srig_again(&r, &j);
	}
	job_list_fini(&l);
	return n;
}

static void
choose_death(uint64_t *seed, int one_label)
{
	moves_left = 0;
	bytes_left = 0;
	if (chance_next(seed) % 8 == 0)
		return; /* it may live, and does all there is to do */
	if (chance_next(seed) % 2 == 0)
		moves_left = 1 + (int)(chance_next(seed) % 11);
	else
		bytes_left =
		    1 + (long)(chance_next(seed) % (uint64_t)(4 * one_label));
}

START_TEST(at_any_moment)
{
	uint64_t seed = 20261125;
	char where[40];
	int64_t job[3];
	int i, k, died = 0, unsure = 0, orphans;

	for (i = 0; i < SEEDS; i++) {
		str_fmt(where, sizeof(where), "life %d", i);
		srig_open(&r);
		for (k = 0; k < 3; k++)
			job[k] = srig_queue(&r);
		srig_shut(&r);
		choose_death(&seed, r.filling + 8);
		died += child();
		/* The printer keeps what it was sent; it is not switched off.
		 */
		fake.taking = NULL;
		orphans = srig_open(&r);
		ck_assert_msg(orphans <= 1, "%s: %d orphans", where, orphans);
		srig_check(&r, where);
		for (k = 0; k < 3; k++)
			ck_assert_int_eq(srig_job(&r, job[k]).id, job[k]);
		unsure += answer_all(&seed);
		srig_check(&r, where);
		srig_shut(&r);
	}
	/* Enough of them were really cut off, and at different places. */
	ck_assert_int_gt(died, SEEDS / 2);
	ck_assert_int_gt(unsure, SEEDS / 8);
	ck_assert_int_lt(unsure, SEEDS);
	/* Whatever is left comes out now, each in its own time. */
	srig_open(&r);
	srig_drain(&r);
	r.history = 10 * SEEDS;
	srig_check(&r, "in the end");
	ck_assert_int_eq(fake.spoilt, 0);
	printf("killed %d of %d lives, %d labels unsure, %zu came out\n", died,
	    SEEDS, unsure, fake.out_count);
}
END_TEST

/* --- a named pipe, ended by who reads it ----------------------------------*/

static char fifo[200];

static void
over_the_pipe(void)
{
	const char *address;
	static char configured[220];

	str_fmt(configured, sizeof(configured), "file:%s", fifo);
	r.printer = fake_printer(&fake_blind);
	r.printer.deadline_ms = 1000;
	r.printer.patience_ms = 5000;
	r.printer.via = transport_find(&address, configured);
	r.printer.address = address;
	r.printer.configured = configured;
}

/* Read until `most` bytes are there or nobody writes any more. */
static size_t
read_some(char *to, size_t most, int fd, pid_t pid)
{
	size_t got = 0;
	ssize_t n;

	while (got < most) {
		n = read(fd, to + got, most - got < 4096 ? most - got : 4096);
		if (n > 0)
			got += (size_t)n;
		else if (waitpid(pid, NULL, WNOHANG) == pid)
			return got;
		else
			pause_ms(1);
	}
	kill(pid, SIGKILL);
	waitpid(pid, NULL, 0);
	/* What was in the pipe when it died came out too. */
	while ((n = read(fd, to + got, STREAM_MAX - got)) > 0)
		got += (size_t)n;
	return got;
}

/* Labels in the stream; a half one is no label. */
static void
take_out(char *stream, size_t len)
{
	char *s = stream, *end, *next;
	int64_t id;
	int copy;

	stream[len] = '\0';
	while ((s = strchr(s, '<')) != NULL) {
		end = strchr(s, '>');
		next = strchr(s + 1, '<');
		if (end != NULL && (next == NULL || end < next) &&
		    sscanf(s, "<%" SCNd64 ".%d|", &id, &copy) == 2) {
			fake.out[fake.out_count].id = id;
			fake.out[fake.out_count++].copy = copy;
		}
		s++;
	}
}

START_TEST(by_its_reader)
{
	static char stream[STREAM_MAX + 1];
	uint64_t seed = 7;
	char where[40];
	int i, k, fd, unsure = 0;
	size_t most, got;
	pid_t pid;

	str_fmt(fifo, sizeof(fifo), "%s/pipe", r.folder);
	ck_assert_int_eq(mkfifo(fifo, 0600), 0);
	fd = open(fifo, O_RDONLY | O_NONBLOCK);
	ck_assert_int_ge(fd, 0);
	r.filling = 200000; /* three pipes full: 64 KiB each */
	for (i = 0; i < PIPE_SEEDS; i++) {
		str_fmt(where, sizeof(where), "pipe life %d", i);
		srig_open(&r);
		for (k = 0; k < 3; k++)
			srig_queue(&r);
		srig_shut(&r);
		most = 1 + chance_next(&seed) % 620000;
		pid = fork();
		ck_assert_int_ge(pid, 0);
		if (pid == 0) {
			over_the_pipe();
			srig_open(&r);
			srig_drain(&r);
			_exit(0);
		}
		got = read_some(stream, most, fd, pid);
		take_out(stream, got);
		srig_open(&r);
		srig_check(&r, where);
		unsure += answer_all(&seed);
		srig_check(&r, where);
		srig_shut(&r);
	}
	ck_assert_int_gt(unsure, 3);
	close(fd);
	unlink(fifo);
	srig_open(&r);
	printf("pipe: %d lives left %d labels unsure\n", PIPE_SEEDS, unsure);
}
END_TEST

Suite *
suite_print_kill(void)
{
	Suite *s = suite_create("print_kill");
	TCase *tc = tcase_create("kill");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, at_any_moment);
	tcase_add_test(tc, by_its_reader);
	suite_add_tcase(s, tc);
	return s;
}
