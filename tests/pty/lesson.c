/* lesson.c - the first lesson from its first step to its last. */
#include "base/str.h"
#include "run_pty.h"

static void
step(struct pty *p, int n)
{
	char text[40];

	str_fmt(text, sizeof(text), "Lesson %d of 10", n);
	pty_wait(p, text);
}

/* What step 2 tells to type, and a new cook's initials and name. */
static void
receive(struct pty *p)
{
	static const char *const typed[] = { "lowtide", "71", "hake", "gutted",
		"6", "13kg", "1", "L5", "27.7", "caught", "Hooks and lines",
		"yesterday", NULL };
	static const char *const who[] = { "NC", "Nia Cole", NULL };

	pty_key(p, "n");
	pty_wait(p, "What came");
	pty_fields(p, typed);
	pty_key(p, "PageDown");
	pty_key(p, "PageDown");
	pty_wait(p, "Proposed: accept");
	pty_type(p, "a", 0);
	pty_key(p, "Enter");
	pty_key(p, "F12");
	pty_wait(p, "Who works?");
	pty_fields(p, who);
}

static void
break_down(struct pty *p)
{
	static const char *const typed[] = { "4300", "13", "2140", "1", "100",
		"1300", "760", NULL };
	int i;

	/* the first task may be one of several steps */
	for (i = 0; i < 8 && !pty_shows(p, "Lesson 5 of 10"); i++) {
		pty_key(p, "Enter");
		pty_quiet(p, 300);
	}
	step(p, 5);
	pty_wait(p, "weighed in");
	pty_fields(p, typed);
	pty_key(p, "F12");
}

static void
whole_lesson(struct world *w)
{
	const char *argv[] = { w->program, "--config", w->ini, "lesson",
		w->folder, NULL };
	char folder[96];
	struct pty p;

	str_fmt(folder, sizeof(folder), "%s/lesson", w->folder);
	argv[4] = folder;
	pty_start(&p, argv, "xterm-256color", 80, 24);
	step(&p, 1);
	pty_key(&p, "F3");
	step(&p, 2);
	receive(&p);
	step(&p, 3);
	pty_key(&p, "F4");
	step(&p, 4);
	pty_wait(&p, "hake");
	break_down(&p);
	step(&p, 6);
	pty_key(&p, "F10");
	step(&p, 7);
	pty_key(&p, "F6");
	step(&p, 8);
	pty_key(&p, "F7");
	pty_wait(&p, "Roast hake");
	pty_key(&p, "u");
	step(&p, 9);
	pty_key(&p, "F8");
	step(&p, 10);
	pty_type(&p, "000-05M", 40000);
	pty_key(&p, "Enter");
	pty_wait(&p, "Lowtide Landings");
	pty_key(&p, "Ctrl-Z");
	pty_wait(&p, "Take the last record back?");
	pty_key(&p, "Enter");
	pty_wait(&p, "The lesson is over");
	pty_leave(&p);
}

const struct pty_test pty_lessons[] = {
	{ "the whole lesson", whole_lesson, NULL },
	{ NULL, NULL, NULL },
};
