/* days.c - a day at the station, and what may go wrong in it. */
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/str.h"
#include "run_pty.h"

#define BURST_US 2000

static void
open_here(struct pty *p, struct world *w)
{
	world_open(p, w, "xterm-256color", 80, 24);
	pty_wait(p, "F1 Help");
	pty_quiet(p, 100);
}

static void
must(struct pty *p, const struct world *w, const char *sql, long least)
{
	long n = world_count(w, sql);

	if (n < least)
		pty_fail(p, "%ld, not %ld: %s", n, least, sql);
}

/* F12, and who works, when that is asked. */
static void
record(struct pty *p)
{
	int i;

	pty_key(p, "F12");
	pty_quiet(p, 200);
	for (i = 0; i < 3 && pty_shows(p, "Enter go on"); i++) {
		if (pty_shows(p, "Name"))
			pty_type(p, "Ada Kern", 40000);
		else
			pty_type(p, "AK", 40000);
		pty_key(p, "Enter");
		pty_quiet(p, 200);
	}
}

static void
scan(struct pty *p, const char *code)
{
	char burst[200];

	str_fmt(burst, sizeof(burst), "%s\r", code);
	pty_type(p, burst, BURST_US);
	pty_quiet(p, 200);
}

static void
goods_in(struct pty *p, struct world *w)
{
	static const char *const typed[] = { "quay", "WQ-9", "HKE", "gutted",
		"6", "13,8kg", "1,2", "H1", "27.7.j", "caught",
		"Hooks and lines", "-2", NULL };

	pty_key(p, "F3");
	pty_wait(p, "Goods in");
	pty_key(p, "n");
	pty_wait(p, "What came");
	pty_fields(p, typed);
	pty_wait(p, "13.800 kg");
	pty_key(p, "PageDown");
	pty_key(p, "PageDown");
	pty_wait(p, "Decision");
	pty_type(p, "a", 0);
	pty_key(p, "Enter");
	record(p);
	pty_wait(p, "26338-011");
	must(p, w, "SELECT count(*) FROM batch WHERE lot = 'H1'", 1);
	pty_key(p, "Esc");
}

static void
breakdown(struct pty *p, struct world *w)
{
	/* Of the two dishes the plan cuts hake for, the first alone. */
	static const char *const typed[] = { "1", "2300", "6", "720", "1", "",
		"", "", "150", "900", "400", NULL };

	pty_key(p, "F4");
	pty_wait(p, "hake");
	pty_key(p, "F5");
	pty_wait(p, "Which batch");
	scan(p, "26338011");
	pty_wait(p, "weighed in");
	pty_fields(p, typed);
	record(p);
	pty_wait(p, "labelled units");
	must(p, w, "SELECT count(*) FROM portion", 6);
	must(p, w, "SELECT count(*) FROM print_job WHERE portion_id > 0", 6);
	pty_key(p, "Enter");
}

static long
labels_out(const struct world *w)
{
	char path[128], bytes[4096], last[4] = "";
	long n = 0;
	size_t got, i;
	FILE *fp;

	str_fmt(path, sizeof(path), "%s/labels.zpl", w->folder);
	if ((fp = fopen(path, "r")) == NULL)
		return 0;
	while ((got = fread(bytes, 1, sizeof(bytes), fp)) > 0)
		for (i = 0; i < got; i++) {
			last[0] = last[1];
			last[1] = last[2];
			last[2] = bytes[i];
			n += memcmp(last, "^XZ", 3) == 0;
		}
	fclose(fp);
	return n;
}

static void
wait_labels(struct pty *p, const struct world *w, long want)
{
	int i;

	for (i = 0; i < 200 && labels_out(w) < want; i++)
		pty_read(p, 50);
	if (labels_out(w) != want)
		pty_fail(
		    p, "%ld labels came out, not %ld", labels_out(w), want);
}

static void
whole_day(struct world *w)
{
	char code[16];
	struct pty p;

	open_here(&p, w);
	goods_in(&p, w);
	breakdown(&p, w);
	wait_labels(&p, w, 7); /* a tray's and six portions' */
	MUST(w, "stock");
	world_code(code, w, 1); /* the first is the batch */
	pty_key(&p, "F7");
	pty_wait(&p, "Service");
	scan(&p, code);
	pty_wait(&p, "Used 1 of");
	must(
	    &p, w, "SELECT count(*) FROM portion_event WHERE kind = 'used'", 1);
	pty_key(&p, "F8");
	pty_wait(&p, "Trace");
	scan(&p, code);
	pty_wait(&p, "WQ-9");
	pty_key(&p, "F11");
	pty_wait(&p, "Records");
	pty_leave(&p);
}

/* The light goes out in the middle of a breakdown. */
static void
killed(struct world *w)
{
	static const char *const typed[] = { "2", "4760", "12", NULL };
	char code[16];
	struct pty p;

	world_fish(code, w);
	open_here(&p, w);
	pty_key(&p, "F5");
	pty_wait(&p, "Which batch");
	scan(&p, code);
	pty_wait(&p, "weighed in");
	pty_fields(&p, typed);
	pty_wait(&p, "4.760 kg");
	pty_read(&p, 2500); /* it is kept once a second */
	kill(p.pid, SIGKILL);
	(void)pty_end(&p);
	pty_free(&p);
	must(&p, w, "SELECT count(*) = 0 FROM prep", 1);
	open_here(&p, w);
	pty_key(&p, "F5");
	pty_wait(&p, "alf typed");
	pty_key(&p, "r");
	pty_wait(&p, "4.760 kg");
	pty_leave(&p);
}

/* The printer is a pipe: nobody reads, and somebody does later. */
static void
printer_pulled(struct world *w)
{
	char path[128], code[16], bytes[65536];
	ssize_t got = 0, n;
	struct pty p;
	int fd, i;

	str_fmt(path, sizeof(path), "%s/labels.zpl", w->folder);
	if (mkfifo(path, 0600) != 0)
		exit(1);
	world_fish(code, w);
	open_here(&p, w);
	breakdown(&p, w);
	/* A line at the foot, and every key still answers. */
	pty_key(&p, "F10");
	pty_wait(&p, "Printing");
	pty_wait(&p, "labels.zpl");
	for (i = 0; i < 3; i++) {
		pty_key(&p, "F6");
		pty_wait(&p, "On hand");
		pty_key(&p, "F2");
		pty_wait(&p, "Today");
	}
	must(&p, w, "SELECT count(*) FROM print_job WHERE state = 'queued'", 6);
	fd = open(path, O_RDONLY | O_NONBLOCK);
	for (i = 0; i < 400 &&
	     world_count(w,
		 "SELECT count(*) FROM print_job WHERE"
		 " state = 'queued'") > 0;
	     i++) {
		while ((n = read(fd, bytes, sizeof(bytes))) > 0)
			got += n;
		pty_read(&p, 50);
	}
	must(&p, w,
	    "SELECT count(*) FROM print_job WHERE state IN"
	    " ('sent', 'confirmed')",
	    6);
	if (got == 0)
		pty_fail(&p, "nothing came out of the printer");
	close(fd);
	pty_leave(&p);
}

/* Goods in, as far as the document. */
static void
open_batch(struct pty *p, struct world *w)
{
	open_here(p, w);
	pty_key(p, "F3");
	pty_key(p, "n");
	pty_wait(p, "What came");
	pty_type(p, "quay", 40000);
	pty_key(p, "Enter");
}

/* What was typed is still there on a screen of another size. */
static void
resized(struct world *w)
{
	struct pty p;

	open_batch(&p, w);
	pty_type(&p, "WQ-77", 40000);
	pty_resize(&p, 40, 10);
	pty_quiet(&p, 300);
	pty_wait(&p, "WQ-77");
	pty_resize(&p, 80, 24);
	pty_wait(&p, "Catch area");
	pty_wait(&p, "WQ-77");
	pty_key(&p, "F2");
	pty_key(&p, "F3");
	pty_wait(&p, "WQ-77");
	pty_leave(&p);
}

/* A label of the supplier's, scanned into a field that was being typed in. */
static void
scan_into_field(struct world *w)
{
	struct pty p;

	open_batch(&p, w);
	pty_type(&p, "WQ-", 40000);
	pty_read(&p, 60);
	scan(&p, "(01)04012345678901(7008)HKE(10)T-88(17)261209(3103)004200");
	pty_wait(&p, "T-88");
	pty_wait(&p, "4.200 kg");
	pty_wait(&p, "WQ-");
	if (pty_shows(&p, "WQ-("))
		pty_fail(&p, "the scan went into the field");
	pty_leave(&p);
}

#define TO_FILE                                                                \
	"[printer]\n"                                                          \
	"language = zpl\n"                                                     \
	"address = file:FOLDER/labels.zpl\n"

const struct pty_test pty_days[] = {
	{ "a whole day", whole_day, TO_FILE },
	{ "killed in a breakdown", killed, NULL },
	{ "the printer is pulled", printer_pulled, TO_FILE },
	{ "typed text outlives another size", resized, NULL },
	{ "a scan into a field", scan_into_field, NULL },
	{ NULL, NULL, NULL },
};
