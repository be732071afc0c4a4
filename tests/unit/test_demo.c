/*
 * test_demo.c - the invented day, played in a copy of demo/ and config/, and
 * every label it leaves read back by libdmtx and compared with the store.
 *
 * Source of the reader: libdmtx, an independent implementation of ISO/IEC
 * 16022.  PINBONE names the program under test (the Makefile sets it).
 */
#include "unit.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <png.h>

#include "base/clock.h"
#include "base/file.h"
#include "base/str.h"
#include "core/label_code.h"
#include "dm_reader.h"
#include "store/batches.h"
#include "store/freezing.h"
#include "store/portions.h"
#include "store/store.h"

static char top[512]; /* of the checkout */
static char folder[] = "/tmp/pinbone-demo-XXXXXX";

/* Run a program and wait; its output is not wanted unless it fails. */
static void
run(const char *const *argv)
{
	pid_t pid = fork();
	int status, fd;

	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		fd = open("output.txt", O_WRONLY | O_CREAT | O_TRUNC, 0644);
		dup2(fd, STDOUT_FILENO);
		execvp(argv[0], (char *const *)(uintptr_t)argv);
		_exit(127);
	}
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0,
	    "%s %s failed; see output.txt in %s", argv[0], argv[1], folder);
}

static void
play(void)
{
	const char *program = getenv("PINBONE");
	char from[2][600], absolute[1024];
	const char *copy[] = { "cp", "-r", from[0], from[1], ".", NULL };
	const char *clean[] = { "rm", "-rf", "demo/out", NULL };
	const char *day[] = { "demo/run.sh", absolute, "demo/out", NULL };

	ck_assert_msg(program != NULL, "PINBONE does not name the program");
	ck_assert_ptr_nonnull(getcwd(top, sizeof(top)));
	str_fmt(absolute, sizeof(absolute), "%s%s%s",
	    program[0] == '/' ? "" : top, program[0] == '/' ? "" : "/",
	    program);
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
	str_fmt(from[0], sizeof(from[0]), "%s/demo", top);
	str_fmt(from[1], sizeof(from[1]), "%s/config", top);
	run(copy);
	run(clean);
	run(day);
	ck_assert_int_eq(zone_set("Europe/London", NULL), RC_OK);
}

static void
tidy(void)
{
	const char *argv[] = { "rm", "-rf", folder, NULL };

	ck_assert_int_eq(chdir(top), 0);
	run(argv);
	unlink("output.txt");
}

static struct bitmap *
picture(const char *path)
{
	png_image image = { .version = PNG_IMAGE_VERSION };
	struct bitmap *bm;
	png_bytep grey;
	int x, y;

	ck_assert_msg(png_image_begin_read_from_file(&image, path), "%s", path);
	image.format = PNG_FORMAT_GRAY;
	grey = malloc(PNG_IMAGE_SIZE(image));
	ck_assert(png_image_finish_read(&image, NULL, grey, 0, NULL));
	bm = bitmap_new((int)image.width, (int)image.height);
	for (y = 0; y < bm->height; y++)
		for (x = 0; x < bm->width; x++)
			if (grey[y * bm->width + x] < 128)
				bitmap_set(bm, x, y, true);
	free(grey);
	return bm;
}

/* The use-by in force when this label was printed: the first label of a tray
 * that went into the freezer since says another than the record does now. */
static int64_t
use_by_of(struct store *st, const struct portion *p, const char *file)
{
	int64_t use_by = p->use_by_utc;
	const struct freezing *f;
	struct freezing_list l;
	bool said = false;
	size_t i;

	ck_assert_int_eq(freezing_list_open(&l, st, p->id, NULL), RC_OK);
	for (i = 0; i < l.count; i++) {
		f = &l.items[i];
		if (strstr(file, keep_word(f->to)) != NULL) {
			use_by = f->use_by_utc;
			said = true;
		} else if (i == 0) {
			use_by = f->use_by_before_utc;
		}
	}
	ck_assert_msg(said || strstr(file, "frozen") == NULL, "%s", file);
	freezing_list_fini(&l);
	return use_by;
}

/* What the store holds about a label's code. */
static void
compare(struct store *st, const struct label_code *c, const char *file)
{
	struct local_time lt;
	struct portion p;
	struct batch b;
	char shown[CODE_SIZE];

	ck_assert_int_eq(batch_get(&b, st, c->batch, NULL), RC_OK);
	lt = local_from_utc(b.use_by_utc);
	if (c->portion[0] != '\0') {
		ck_assert_int_eq(portion_get(&p, st, c->portion, NULL), RC_OK);
		ck_assert_str_eq(p.batch, c->batch);
		lt = local_from_utc(use_by_of(st, &p, file));
	}
	ck_assert_int_eq(lt.day, c->use_by.day);
	ck_assert_int_eq(lt.hour, c->use_by.hour);
	ck_assert_int_eq(lt.minute, c->use_by.minute);
	code_show(shown, c->portion[0] != '\0' ? c->portion : c->batch);
	ck_assert_msg(strstr(file, shown) != NULL, "%s holds %s", file, shown);
}

static void
read_label(struct store *st, const char *file, bool blur)
{
	struct dm_view view = { .blur = blur, .deadline_ms = 2000 };
	char path[600], text[DM_TEXT_MAX];
	struct label_code c;
	struct err err = { 0 };
	struct bitmap *bm;
	bool gs1 = false;

	str_fmt(path, sizeof(path), "demo/out/labels/%s", file);
	bm = picture(path);
	view.w = bm->width;
	view.h = bm->height;
	ck_assert_msg(
	    dm_read(text, &gs1, bm, &view), "%s unread (blur %d)", file, blur);
	ck_assert_msg(gs1, "%s: no FNC1 in front", file);
	ck_assert_msg(label_code_parse(&c, text, &err) == RC_OK, "%s: %s", file,
	    err.text);
	compare(st, &c, file);
	bitmap_free(bm);
}

static int
labels_like(const char *part)
{
	struct dirent *d;
	int count = 0;
	DIR *dir = opendir("demo/out/labels");

	ck_assert_ptr_nonnull(dir);
	while ((d = readdir(dir)) != NULL)
		count += strstr(d->d_name, part) != NULL;
	closedir(dir);
	return count;
}

START_TEST(every_label)
{
	struct store *st = NULL;
	struct dirent *d;
	int count = 0;
	DIR *dir;

	ck_assert_int_eq(store_open(&st, "demo/out/pinbone.db", NULL), RC_OK);
	dir = opendir("demo/out/labels");
	ck_assert_ptr_nonnull(dir);
	while ((d = readdir(dir)) != NULL) {
		if (strstr(d->d_name, ".png") == NULL ||
		    strncmp(d->d_name, "list-", 5) == 0)
			continue;
		read_label(st, d->d_name, false);
		read_label(st, d->d_name, true);
		count++;
	}
	closedir(dir);
	store_close(st);
	ck_assert_int_ge(count, 12);
	/* One of each kind at least. */
	ck_assert_int_eq(labels_like("frozen"), 2);
	ck_assert_int_eq(labels_like("thawed"), 1);
	ck_assert_int_eq(labels_like("hold"), 2);
	ck_assert_int_eq(labels_like("list-"), 1);
}
END_TEST

/* Every list came out on a roll of 80 mm, no page longer than 200 mm. */
START_TEST(every_list)
{
	struct dirent *d;
	struct bitmap *bm;
	char path[600];
	int count = 0;
	DIR *dir = opendir("demo/out/lists");

	ck_assert_ptr_nonnull(dir);
	while ((d = readdir(dir)) != NULL) {
		if (strstr(d->d_name, ".png") == NULL)
			continue;
		str_fmt(path, sizeof(path), "demo/out/lists/%s", d->d_name);
		bm = picture(path);
		ck_assert_int_eq(bm->width, 80 * 8 - 1); /* 203 dpi */
		ck_assert_int_le(bm->height, 200 * 8);
		bitmap_free(bm);
		count++;
	}
	closedir(dir);
	ck_assert_int_ge(count, 8);
}
END_TEST

START_TEST(what_it_leaves)
{
	static const struct {
		const char *file, *holds;
	} rows[] = {
		{ "demo/out/prep-list-lunch.txt", "PREP LIST" },
		{ "demo/out/prep-list-dinner.txt", "PREP LIST" },
		{ "demo/out/order-list-lunch.txt", "Mackerel" },
		{ "demo/out/order-list-dinner.txt", "ORDER LIST" },
		{ "demo/out/labels.zpl", "^XZ" },
		{ "demo/out/complaint.txt", "hake smells sour" },
		{ "demo/out/complaint.txt", "batch recalled and destroyed" },
		{ "demo/out/recall-missing.txt", "MISSING 1 of 14" },
		{ "demo/out/recall.txt", "FOUND 14 of 14" },
		{ "demo/out/drill.txt", "goal: one second, met" },
		{ "demo/out/papers.txt", "1224/2009" },
		{ "demo/out/exports/pinbone-receiving-2026-12-04.csv",
		    "H4471" },
		{ "demo/out/exports/pinbone-epcis-2026-12-04.jsonld",
		    "TransformationEvent" },
		{ "output.txt", "7 say what the record says" },
		{ "output.txt", "not as recorded: 0" },
		{ "output.txt", "the paper is of row" },
		{ "output.txt", "read back and whole" },
		{ "output.txt", "nothing was changed: --yes" },
		{ "demo/out/pass.zpl", "^XZ" },
		{ "demo/out/screens/today.txt", "portions to make" },
		{ "demo/out/screens/prep-list.txt", "10 of 10 tasks to do" },
		{ "demo/out/screens/service.txt", "going on" },
		{ "demo/out/screens/on-hand.txt", "Trout crudo" },
		{ "demo/out/screens/printing.txt", "1 waits" },
		{ "output.txt", "main         ready" },
		{ "output.txt", "it stays in the queue" },
		{ "output.txt", "000-0X1: label sent, on pass" },
		{ "output.txt", "out to thaw" },
		{ "output.txt", "it is not frozen again" },
		{ "output.txt", "hold label sent" },
		{ "output.txt", "page 1 of Day sheet" },
		{ "output.txt", "first: same dish" },
		{ "output.txt", "is on hold: do not serve it" },
		{ "output.txt", "0 added, 0 changed, 2 as before" },
	};
	struct buf text;

	buf_init(&text, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&text, rows[_i].file, NULL), RC_OK);
	ck_assert_msg(strstr(buf_text(&text), rows[_i].holds) != NULL,
	    "%s lacks \"%s\"", rows[_i].file, rows[_i].holds);
	buf_fini(&text);
}
END_TEST

Suite *
suite_demo(void)
{
	Suite *s = suite_create("demo");
	TCase *tc = tcase_create("demo");

	tcase_add_unchecked_fixture(tc, play, tidy);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, every_label);
	tcase_add_test(tc, every_list);
	tcase_add_loop_test(tc, what_it_leaves, 0, 34);
	suite_add_tcase(s, tc);
	return s;
}
