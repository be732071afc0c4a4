/* rig.c - what the USB suites share. */
#define _DEFAULT_SOURCE 1
#include "rig.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/str.h"

#define PRINTERS_MAX 20
#define JOB_MAX ((size_t)512 * 1024)

struct vusb *bus;
struct err err;
unsigned state;

static struct vprinter *printers[PRINTERS_MAX];
static size_t printer_count;
static struct port *ports[PRINTERS_MAX];
static uint8_t *job;

static void
setup(void)
{
	bus = vusb_new();
	err_clear(&err);
	printer_count = 0;
	memset(ports, 0, sizeof(ports));
}

/* libusb lets go first: a handle outlives its test bed for ever. */
static void
teardown(void)
{
	size_t i;

	for (i = 0; i < PRINTERS_MAX; i++)
		if (ports[i] != NULL)
			rig_close(ports[i]);
	vusb_as_root(); /* a test may have failed as somebody else */
	vusb_free(bus);
	for (i = 0; i < printer_count; i++)
		vprinter_free(printers[i]);
	if (job != NULL)
		munmap(job, JOB_MAX);
	job = NULL;
}

TCase *
rig_tcase(Suite *s, const char *name)
{
	TCase *tc = tcase_create(name);

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	suite_add_tcase(s, tc);
	return tc;
}

int
rig_rows(size_t rows)
{
	return vusb_played() || rows < 3 ? (int)rows : 3;
}

struct vprinter *
rig_printer(const struct vprinter_as *as)
{
	ck_assert_uint_lt(printer_count, PRINTERS_MAX);
	printers[printer_count] = vprinter_new(bus, as);
	return printers[printer_count++];
}

enum rc
rig_try(struct port **out, const char *address)
{
	const char *part;
	const struct transport *t = transport_find(&part, address);

	ck_assert_ptr_nonnull(t);
	err_clear(&err);
	return t->open(out, &state, part, 2000, &err);
}

struct port *
rig_open(const char *address)
{
	struct port *port = NULL;
	size_t i = 0;

	ck_assert_msg(
	    rig_try(&port, address) == RC_OK, "%s: %s", address, err.text);
	ck_assert_ptr_nonnull(port);
	ck_assert_uint_eq(state, 0);
	while (ports[i] != NULL)
		i++;
	ports[i] = port;
	return port;
}

void
rig_close(struct port *port)
{
	size_t i = 0;

	while (ports[i] != port)
		i++;
	ports[i] = NULL;
	port->via->close(port);
}

const uint8_t *
rig_job(size_t len)
{
	uint32_t x = 1;
	size_t i;

	ck_assert_uint_le(len, JOB_MAX);
	if (job != NULL)
		return job;
	job = mmap(NULL, JOB_MAX, PROT_READ | PROT_WRITE,
	    MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
	ck_assert_ptr_ne(job, MAP_FAILED);
	for (i = 0; i < JOB_MAX; i++) {
		x = x * 1664525 + 1013904223;
		job[i] = (uint8_t)(x >> 24);
	}
	ck_assert_int_eq(mprotect(job, JOB_MAX, PROT_READ), 0);
	return job;
}

enum rc
rig_write(
    size_t *sent, struct port *port, const uint8_t *buf, size_t len, int ms)
{
	enum rc rc;

	err_clear(&err);
	*sent = SIZE_MAX;
	rc = port->via->write(sent, port, buf, len, ms, &err);
	ck_assert_uint_le(*sent, len);
	return rc;
}

void
rig_write_all(struct port *port, const uint8_t *buf, size_t len)
{
	size_t sent;

	ck_assert_msg(
	    rig_write(&sent, port, buf, len, 5000) == RC_OK, "%s", err.text);
	ck_assert_uint_eq(sent, len);
}

void
rig_took(struct vprinter *p, const uint8_t *want, size_t len)
{
	size_t n;
	const uint8_t *bytes = vprinter_took(p, &n);

	ck_assert_uint_eq(n, len);
	ck_assert(memcmp(bytes, want, len) == 0);
}

void
rig_says(const char *words)
{
	size_t n = strlen(err.text);

	ck_assert_msg(strstr(err.text, words) != NULL, "\"%s\" is not in: %s",
	    words, err.text);
	ck_assert(n > 0 && err.text[n - 1] != '.');
	ck_assert_ptr_null(strchr(err.text, '\n'));
}

pid_t
rig_child_start(int *output, const char *const argv[])
{
	union {
		const char *const *in;
		char *const *out;
	} args = { .in = argv };
	int fds[2];
	pid_t pid;

	ck_assert_ptr_nonnull(argv[0]);
	ck_assert_int_eq(pipe(fds), 0);
	pid = fork();
	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		dup2(fds[1], 1);
		dup2(fds[1], 2);
		close(fds[0]);
		close(fds[1]);
		if (vusb_played())
			setenv("LD_PRELOAD", "libumockdev-preload.so.0", 1);
		/* a program built so wants to be loaded first */
		setenv(
		    "ASAN_OPTIONS", "verify_asan_link_order=0:exitcode=99", 1);
		execv(argv[0], args.out);
		_exit(127);
	}
	close(fds[1]);
	*output = fds[0];
	return pid;
}

int
rig_child_end(char *out, size_t size, pid_t pid, int output)
{
	int status;
	size_t used = 0;
	ssize_t n;

	while ((n = read(output, out + used, size - 1 - used)) > 0)
		used += (size_t)n;
	out[used] = '\0';
	close(output);
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

int
rig_child(char *out, size_t size, const char *const argv[])
{
	int output;
	pid_t pid = rig_child_start(&output, argv);

	return rig_child_end(out, size, pid, output);
}
