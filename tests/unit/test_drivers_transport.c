/* test_drivers_transport.c - the ways in that need no printer. */
#include "unit.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"
#include "driver/lang.h"
#include "driver/transport.h"

static unsigned state; /* of the last open() */

static char folder[PATH_MAX];

static void
setup(void)
{
	const char *tmp = getenv("TMPDIR");

	str_fmt(folder, sizeof(folder), "%s/transport-XXXXXX",
	    tmp != NULL ? tmp : "/tmp");
	ck_assert_ptr_nonnull(mkdtemp(folder));
}

static char *
inside(const char *name)
{
	static char path[PATH_MAX];

	ck_assert(str_fmt(path, sizeof(path), "%.3000s/%s", folder, name));
	return path;
}

static void
teardown(void)
{
	static const char *const names[] = { "out", "pipe", "a/P7K2QX-1.zpl",
		"a/P7K2QX-2.png", "a/b", "a" };
	size_t i;

	for (i = 0; i < NELEM(names); i++)
		remove(inside(names[i]));
	ck_assert_msg(remove(folder) == 0, "left behind in %s", folder);
}

static struct port *
open_at(const char *scheme, const char *name)
{
	char configured[PATH_MAX];
	const struct transport *t;
	const char *address;
	struct port *port;
	struct err err = { 0 };

	ck_assert(str_fmt(configured, sizeof(configured), "%s:%.3000s", scheme,
	    inside(name)));
	t = transport_find(&address, configured);
	ck_assert_ptr_nonnull(t);
	ck_assert_msg(t->open(&port, &state, address, 1000, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_ptr_eq(port->via, t);
	return port;
}

static void
send_text(struct port *port, const char *s)
{
	size_t sent = 99;

	ck_assert_int_eq(port->via->write(&sent, port, (const uint8_t *)s,
			     strlen(s), 1000, NULL),
	    RC_OK);
	ck_assert_uint_eq(sent, strlen(s));
}

static void
file_holds(const char *name, const char *s)
{
	struct buf b;

	buf_init(&b, 1024 * 1024);
	ck_assert_int_eq(file_read(&b, inside(name), NULL), RC_OK);
	ck_assert_str_eq(buf_text(&b), s);
	buf_fini(&b);
}

START_TEST(registry)
{
	const char *address = NULL;
	size_t i, n;

	for (i = 0; transports[i] != NULL; i++) {
		const struct transport *t = transports[i];

		ck_assert_ptr_nonnull(t->open);
		ck_assert_ptr_nonnull(t->write);
		ck_assert_ptr_nonnull(t->close);
		ck_assert_str_ne(t->address_help, "");
		t->close(NULL);
		for (n = 0; n < i; n++)
			ck_assert_str_ne(t->scheme, transports[n]->scheme);
	}
	for (i = 0; langs[i] != NULL; i++) {
		ck_assert_ptr_eq(lang_find(langs[i]->name), langs[i]);
		ck_assert_ptr_nonnull(langs[i]->encode);
		ck_assert_str_ne(langs[i]->ending, "");
	}
	ck_assert_ptr_null(lang_find("ZPL"));
	ck_assert_ptr_null(lang_find(""));
	ck_assert_ptr_nonnull(transport_find(&address, "file:a:b"));
	ck_assert_str_eq(address, "a:b");
	ck_assert_ptr_null(transport_find(&address, "file"));
	ck_assert_ptr_null(transport_find(&address, "fil:a"));
	ck_assert_ptr_null(transport_find(&address, "files:a"));
	ck_assert_ptr_null(transport_find(&address, ":a"));
	ck_assert_ptr_null(transport_find(&address, ""));
}
END_TEST

START_TEST(file_appends)
{
	struct port *port = open_at("file", "out");

	ck_assert_ptr_null(port->via->begin);
	send_text(port, "one ");
	send_text(port, "two ");
	port->via->close(port);
	file_holds("out", "one two ");
	port = open_at("file", "out");
	send_text(port, "three");
	port->via->close(port);
	file_holds("out", "one two three");
}
END_TEST

START_TEST(file_refused)
{
	const struct transport *t;
	const char *address;
	struct port *port = (struct port *)&port;
	struct err err = { 0 };

	t = transport_find(&address, "file:");
	ck_assert_int_eq(
	    t->open(&port, &state, address, 100, &err), RC_INVALID);
	ck_assert_ptr_null(port);
	err_clear(&err);
	ck_assert_int_eq(
	    t->open(&port, &state, inside("no/out"), 100, &err), RC_FAILED);
	ck_assert_int_eq(err.lib, ENOENT);
	ck_assert_ptr_nonnull(strstr(err.text, strerror(ENOENT)));
	err_clear(&err);
	ck_assert_int_eq(t->open(&port, &state, folder, 100, &err), RC_FAILED);
	ck_assert_ptr_null(port);
}
END_TEST

/* A disk with no room left: the kernel's own model of one. */
START_TEST(file_full)
{
	const struct transport *t;
	const char *address;
	struct port *port;
	struct err err = { 0 };
	size_t sent = 99;

	t = transport_find(&address, "file:/dev/full");
	ck_assert_int_eq(t->open(&port, &state, address, 100, NULL), RC_OK);
	ck_assert_int_eq(
	    t->write(&sent, port, (const uint8_t *)"abc", 3, 100, &err),
	    RC_RETRY);
	ck_assert_uint_eq(sent, 0);
	ck_assert_int_eq(err.lib, ENOSPC);
	ck_assert_ptr_nonnull(strstr(err.text, strerror(ENOSPC)));
	t->close(port);
}
END_TEST

static int64_t
now_ms(void)
{
	struct timespec ts;

	clock_gettime(CLOCK_MONOTONIC, &ts);
	return (int64_t)ts.tv_sec * 1000 + ts.tv_nsec / 1000000;
}

/* A named pipe stands for a printer that is off, slow, or unplugged. */
START_TEST(pipe_deadline)
{
	static uint8_t data[1024 * 1024];
	const struct transport *t;
	const char *address;
	struct port *port;
	size_t sent = 99;
	int64_t before;
	int fd;

	ck_assert_int_eq(mkfifo(inside("pipe"), 0600), 0);
	t = transport_find(&address, "file:x");
	ck_assert_int_eq(
	    t->open(&port, &state, inside("pipe"), 100, NULL), RC_RETRY);
	fd = open(inside("pipe"), O_RDONLY | O_NONBLOCK);
	ck_assert_int_ge(fd, 0);
	ck_assert_int_eq(
	    t->open(&port, &state, inside("pipe"), 100, NULL), RC_OK);
	before = now_ms();
	ck_assert_int_eq(
	    t->write(&sent, port, data, sizeof(data), 100, NULL), RC_RETRY);
	ck_assert_uint_gt(sent, 0);
	ck_assert_uint_lt(sent, sizeof(data));
	ck_assert_int_eq(
	    t->write(&sent, port, data, sizeof(data), 100, NULL), RC_RETRY);
	ck_assert_uint_eq(sent, 0);
	ck_assert_int_ge(now_ms() - before, 190);
	ck_assert_int_lt(now_ms() - before, 2000);
	close(fd);
	/* would end the program by SIGPIPE were it not held off */
	ck_assert_int_eq(t->write(&sent, port, data, 1, 100, NULL), RC_FAILED);
	ck_assert_uint_eq(sent, 0);
	t->close(port);
}
END_TEST

START_TEST(preview_files)
{
	struct port *port = open_at("preview", "a");
	const struct transport *t = port->via;

	ck_assert_int_eq(t->begin(port, "P7K2QX-1", "zpl", NULL), RC_OK);
	send_text(port, "^XA");
	send_text(port, "^XZ");
	ck_assert(!file_exists(inside("a/P7K2QX-1.zpl")));
	ck_assert_int_eq(t->finish(port, NULL), RC_OK);
	file_holds("a/P7K2QX-1.zpl", "^XA^XZ");
	ck_assert_int_eq(t->begin(port, "P7K2QX-2", "png", NULL), RC_OK);
	send_text(port, "picture");
	ck_assert_int_eq(t->finish(port, NULL), RC_OK);
	file_holds("a/P7K2QX-2.png", "picture");
	/* begun and never finished: half a label, not kept */
	ck_assert_int_eq(t->begin(port, "P7K2QX-3", "png", NULL), RC_OK);
	send_text(port, "half");
	t->close(port);
	ck_assert(!file_exists(inside("a/P7K2QX-3.png")));
	/* again: the file is replaced, not added to */
	port = open_at("preview", "a");
	ck_assert_int_eq(t->begin(port, "P7K2QX-1", "zpl", NULL), RC_OK);
	send_text(port, "new");
	ck_assert_int_eq(t->finish(port, NULL), RC_OK);
	t->close(port);
	file_holds("a/P7K2QX-1.zpl", "new");
}
END_TEST

START_TEST(preview_refused)
{
	static const char *const names[] = { "", "..", ".hidden", "a/b", "../a",
		"a b", "caf\xc3\xa9" };
	struct port *port = open_at("preview", "a/b");
	const struct transport *t = port->via;
	struct port *other;
	struct err err = { 0 };
	size_t i, sent = 99;

	ck_assert_int_eq(
	    t->write(&sent, port, (const uint8_t *)"x", 1, 100, &err),
	    RC_FAILED);
	ck_assert_uint_eq(sent, 0);
	for (i = 0; i < NELEM(names); i++) {
		ck_assert_msg(
		    t->begin(port, names[i], "zpl", NULL) == RC_INVALID,
		    "accepted: %s", names[i]);
		ck_assert_int_eq(
		    t->write(&sent, port, (const uint8_t *)"x", 1, 100, NULL),
		    RC_FAILED);
	}
	ck_assert_int_eq(t->begin(port, "a", "z/l", NULL), RC_INVALID);
	t->close(port);
	ck_assert_int_eq(t->open(&other, &state, "", 100, NULL), RC_INVALID);
	/* a file where the folder should be */
	ck_assert_int_eq(file_write(inside("out"), "x", 1, NULL), RC_OK);
	ck_assert_int_eq(
	    t->open(&other, &state, inside("out"), 100, &err), RC_FAILED);
	ck_assert_ptr_null(other);
}
END_TEST

/* The folder goes away under an open port: finish() says so. */
START_TEST(preview_lost_folder)
{
	struct port *port = open_at("preview", "a");
	const struct transport *t = port->via;
	struct err err = { 0 };

	ck_assert_int_eq(t->begin(port, "one", "zpl", NULL), RC_OK);
	send_text(port, "^XA");
	ck_assert_int_eq(rmdir(inside("a")), 0);
	ck_assert_int_eq(t->finish(port, &err), RC_FAILED);
	ck_assert_ptr_nonnull(strstr(err.text, "one.zpl"));
	t->close(port);
}
END_TEST

Suite *
suite_drivers_transport(void)
{
	Suite *s = suite_create("drivers_transport");
	TCase *tc = tcase_create("transport");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, registry);
	tcase_add_test(tc, file_appends);
	tcase_add_test(tc, file_refused);
	tcase_add_test(tc, file_full);
	tcase_add_test(tc, pipe_deadline);
	tcase_add_test(tc, preview_files);
	tcase_add_test(tc, preview_refused);
	tcase_add_test(tc, preview_lost_folder);
	suite_add_tcase(s, tc);
	return s;
}
