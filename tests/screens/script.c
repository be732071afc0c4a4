/* script.c - a script of keys and scans played on a desk. */
#include "script.h"

#include <sqlite3.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/say.h"
#include "base/str.h"
#include "base/units.h"
#include "config/config.h"
#include "ops/station.h"
#include "screens/desk.h"

#define WORDS_MAX SCRIPT_WORDS_MAX
#define LINE_MAX_BYTES 4096
#define UNTIL_NAPS 600

struct script {
	const char *program, *path;
	char folder[64], top[512];
	struct buf *out;
	struct buf ran; /* what the last command printed */
	struct script_names names;
	char now[32];
	int w, h, line;
	int64_t ms;
	struct station *sn;
	struct desk *desk;
	char by[16];
	char run[700]; /* the program, wherever this runs */
	bool beside;   /* else what would run beside is done at once */
	struct desk_host host;
};

static int
fail(const struct script *s, const char *fmt, ...)
{
	va_list ap;

	fprintf(stderr, "%s:%d: ", s->path, s->line);
	va_start(ap, fmt);
	vfprintf(stderr, fmt, ap);
	va_end(ap);
	fputc('\n', stderr);
	return 1;
}

int
script_child(char **argv)
{
	int status;
	pid_t pid = fork();

	if (pid == 0) {
		execvp(argv[0], argv);
		_exit(127);
	}
	if (pid < 0 || waitpid(pid, &status, 0) != pid)
		return -1;
	return status;
}

static int
shut(struct script *s)
{
	desk_free(s->desk);
	station_close(s->sn);
	s->desk = NULL;
	s->sn = NULL;
	return 0;
}

/* As the program does when a desk ends with a backup that is wanted. */
static int
swap_desk(struct script *s)
{
	struct err err = { 0 };

	s->desk = script_swap(s->desk, &s->sn, s->now,
	    s->beside ? &s->host : NULL, s->w, s->h, &err);
	if (s->desk == NULL)
		return fail(s, "%s", err.text);
	s->desk->key_ms = s->desk->tick_ms = s->ms;
	return 0;
}

static int
open_desk(struct script *s)
{
	const struct station_options o = {
		.db = "pinbone.db",
		.config = "station.ini",
		.now = s->now,
	};
	struct err err = { 0 };

	if (s->desk != NULL)
		return 0;
	s->host.program = s->run;
	if (station_open(&s->sn, &o, true, &err) == RC_OK)
		s->desk =
		    desk_new(s->sn, s->beside ? &s->host : NULL, s->w, s->h);
	else
		s->desk = script_rescue(&s->sn, &o, &s->host, s->w, s->h, &err);
	if (s->desk == NULL)
		return fail(s, "%s", err.text);
	str_copy(s->desk->by, sizeof(s->desk->by), s->by);
	s->desk->key_ms = s->desk->tick_ms = s->ms;
	return 0;
}

/* --- what a line does ------------------------------------------------------*/

static int
do_run(struct script *s, char *text, bool must_fail)
{
	char *argv[2 * WORDS_MAX + 2], head[900];
	int n, fds[2], status;
	char chunk[4096];
	ssize_t got;
	pid_t pid;

	str_fmt(head, sizeof(head),
	    "%s --config station.ini --db pinbone.db --now %s --by AK", s->run,
	    s->now);
	n = script_split(argv, head);
	script_split(argv + n, text);
	buf_clear(&s->ran);
	if (pipe(fds) != 0 || (pid = fork()) < 0)
		return fail(s, "cannot start the program");
	if (pid == 0) {
		dup2(fds[1], 1);
		dup2(fds[1], 2);
		close(fds[0]);
		execv(s->run, argv);
		_exit(127);
	}
	close(fds[1]);
	while ((got = read(fds[0], chunk, sizeof(chunk))) > 0)
		buf_add(&s->ran, chunk, (size_t)got);
	close(fds[0]);
	waitpid(pid, &status, 0);
	if (!WIFEXITED(status) || WEXITSTATUS(status) == 127 ||
	    (WEXITSTATUS(status) != 0) != must_fail)
		return fail(s, "status %d: %s", status, buf_text(&s->ran));
	if (s->desk != NULL)
		desk_load(s->desk);
	return 0;
}

static int
do_code(struct script *s, char *text)
{
	char *words[WORDS_MAX + 1];
	int n = script_split(words, text);
	int64_t nth = 1;
	const char *at = buf_text(&s->ran);
	size_t len;

	if (n < 1 || s->names.count == SCRIPT_NAMES_MAX)
		return fail(s, "code NAME [N]");
	if (n > 1 && int_parse(&nth, "N", words[1], 1, 1000, NULL) != RC_OK)
		return fail(s, "code NAME [N]");
	for (; nth > 0; nth--) {
		at = strstr(at, "\"code\": \"");
		if (at == NULL)
			return fail(s, "no such code: %s", buf_text(&s->ran));
		at += 9;
	}
	len = strcspn(at, "\"");
	str_copy(s->names.items[s->names.count].name,
	    sizeof(s->names.items[0].name), words[0]);
	str_fmt(s->names.items[s->names.count++].value,
	    sizeof(s->names.items[0].value), "%.*s", (int)len, at);
	return 0;
}

static int
do_set(struct script *s, char *text)
{
	char line[1200], section[80] = "", *dot, *value, *word, ini[200];
	char want[80];
	struct buf out;
	bool found = false;
	FILE *f;

	if ((dot = strchr(text, '.')) == NULL ||
	    (value = strchr(dot, ' ')) == NULL)
		return fail(s, "set SECTION.KEY VALUE");
	*value++ = '\0';
	*dot++ = '\0';
	str_fmt(want, sizeof(want), "[%s]", text);
	str_copy(ini, sizeof(ini), "station.ini");
	if ((f = fopen(ini, "r")) == NULL)
		return fail(s, "no settings");
	buf_init(&out, 65536);
	while (fgets(line, sizeof(line), f) != NULL) {
		if (line[0] == '[')
			str_fmt(section, sizeof(section), "%.*s",
			    (int)strcspn(line, "\n"), line);
		word = line;
		if (str_eq(section, want) &&
		    strncmp(word, dot, strlen(dot)) == 0 &&
		    strncmp(word + strlen(dot), " =", 2) == 0) {
			buf_printf(&out, "%s = %s\n", dot, value);
			found = true;
		} else {
			buf_puts(&out, line);
		}
	}
	fclose(f);
	if (!found)
		buf_printf(&out, "\n%s\n%s = %s\n", want, dot, value);
	f = fopen(ini, "w");
	if (f == NULL || fwrite(out.data, 1, out.len, f) != out.len ||
	    fclose(f) != 0)
		return fail(s, "cannot write the settings");
	buf_fini(&out);
	return 0;
}

static int
do_file(struct script *s, char *text)
{
	char *body = strchr(text, ' '), *at;
	FILE *f;

	if (body == NULL)
		return fail(s, "file NAME TEXT");
	*body++ = '\0';
	if ((f = fopen(text, "w")) == NULL)
		return fail(s, "cannot write %s", text);
	for (at = body; *at != '\0'; at++)
		if (at[0] == '\\' && at[1] == 'n') {
			fputc('\n', f);
			at++;
		} else {
			fputc(*at, f);
		}
	return fclose(f) == 0 ? 0 : fail(s, "cannot write %s", text);
}

/* As a crash, or a program that ended at a bad moment, would leave the file. */
static int
do_sql(struct script *s, const char *text)
{
	sqlite3 *db = NULL;
	int bad = 0;

	if (sqlite3_open_v2("pinbone.db", &db, SQLITE_OPEN_READWRITE, NULL) !=
		SQLITE_OK ||
	    sqlite3_exec(db, text, NULL, NULL, NULL) != SQLITE_OK)
		bad = fail(s, "%s", sqlite3_errmsg(db));
	sqlite3_close(db);
	return bad;
}

static int
do_now(struct script *s, char *text)
{
	struct err err = { 0 };
	int64_t utc;

	str_copy(s->now, sizeof(s->now), text);
	if (s->sn == NULL)
		return 0;
	if (time_parse(&utc, "now", text, &err) != RC_OK)
		return fail(s, "%s", err.text);
	s->sn->clock.fixed_utc = utc;
	return 0;
}

static int
do_keys(struct script *s, char *text)
{
	char *words[WORDS_MAX + 1];
	int i, n = script_split(words, text);
	struct key k;

	if (open_desk(s))
		return 1;
	for (i = 0; i < n; i++) {
		if (!key_parse(&k, words[i]))
			return fail(s, "no such key: %s", words[i]);
		desk_key(s->desk, &k, s->ms += 200);
		desk_draw(s->desk);
		if (s->desk->restore_from[0] != '\0' && swap_desk(s))
			return 1;
	}
	return 0;
}

static int
do_type(struct script *s, const char *text)
{
	struct key k;

	if (open_desk(s))
		return 1;
	while (*text != '\0') {
		k = key_char(utf8_next(&text));
		desk_key(s->desk, &k, s->ms += 200);
	}
	return 0;
}

static int
do_scan(struct script *s, char *text)
{
	char *gs;

	if (open_desk(s))
		return 1;
	while ((gs = strstr(text, "<GS>")) != NULL) {
		*gs = 0x1d;
		memmove(gs + 1, gs + 4, strlen(gs + 4) + 1);
	}
	desk_scan(s->desk, text, strlen(text), s->ms += 200);
	return 0;
}

static int
do_wait(struct script *s, const char *text)
{
	int64_t end;

	if (int_parse(&end, "wait", text, 0, 100000000, NULL) != RC_OK)
		return fail(s, "wait MS");
	if (open_desk(s))
		return 1;
	end += s->ms;
	for (; s->ms < end; s->ms += 500)
		desk_tick(s->desk, s->ms);
	desk_tick(s->desk, s->ms);
	return 0;
}

/* A '>' marks rows with a chosen part: text alone would not show it. */
static void
put_seen(struct script *s, const char *name)
{
	const struct canvas *c = &s->desk->canvas;
	struct buf text;
	const char *line;
	size_t len;
	int x, y;

	buf_init(&text, 1024 * 1024);
	canvas_text(&text, c);
	script_mask(text.data);
	buf_printf(s->out, "==== %s %dx%d\n", name, c->w, c->h);
	line = buf_text(&text);
	for (y = 0; y < c->h; y++) {
		for (x = 0; x < c->w; x++)
			if (c->cells[y * c->w + x].style == STYLE_CHOSEN)
				break;
		len = strcspn(line, "\n");
		buf_printf(
		    s->out, "%c%.*s\n", x < c->w ? '>' : '|', (int)len, line);
		line += len + 1;
	}
	if (c->cursor_x >= 0)
		buf_printf(s->out, "cursor %d,%d\n", c->cursor_x, c->cursor_y);
	buf_fini(&text);
}

static void
seen_at(struct script *s, const char *name, int w, int h)
{
	desk_resize(s->desk, w, h);
	desk_draw(s->desk);
	put_seen(s, name);
	desk_resize(s->desk, s->w, s->h);
	desk_draw(s->desk);
}

static int
do_show(struct script *s, const char *name, bool both)
{
	if (open_desk(s))
		return 1;
	if (both) {
		seen_at(s, name, 80, 24);
		seen_at(s, name, 100, 30);
	} else {
		seen_at(s, name, s->w, s->h);
	}
	return 0;
}

/* Is it on the screen now?  `seen` gets the whole of it. */
static bool
on_screen(struct buf *seen, struct script *s, const char *want)
{
	desk_draw(s->desk);
	buf_clear(seen);
	canvas_text(seen, &s->desk->canvas);
	return strstr(buf_text(seen), want) != NULL;
}

/* `naps`: what runs beside may take real time, a twentieth of a second each. */
static int
do_expect(struct script *s, const char *want, int naps)
{
	const struct timespec nap = { .tv_nsec = 50000000 };
	struct buf seen;
	int bad = 0;

	if (open_desk(s))
		return 1;
	buf_init(&seen, 1024 * 1024);
	for (; !on_screen(&seen, s, want) && naps > 0; naps--) {
		nanosleep(&nap, NULL);
		desk_tick(s->desk, s->ms += 1000);
	}
	if (!on_screen(&seen, s, want))
		bad = fail(s, "not seen: %s\n%s", want, buf_text(&seen));
	buf_fini(&seen);
	return bad;
}

static int
do_size(struct script *s, const char *text)
{
	if (sscanf(text, "%dx%d", &s->w, &s->h) != 2)
		return fail(s, "size WxH");
	if (s->desk != NULL)
		desk_resize(s->desk, s->w, s->h);
	return 0;
}

static int
do_by(struct script *s, const char *text)
{
	str_copy(s->by, sizeof(s->by), str_eq(text, "-") ? "" : text);
	if (s->desk != NULL)
		str_copy(s->desk->by, sizeof(s->desk->by), s->by);
	return 0;
}

/* Another language; the catalogues are those of the build. */
static int
do_lang(struct script *s, const char *text)
{
	char folder[600];

	str_fmt(folder, sizeof(folder), "%s/build/locale", s->top);
	if (setenv("LANGUAGE", text, 1) != 0)
		return fail(s, "no room for LANGUAGE");
	say_start(folder);
	return s->desk == NULL ? 0 : shut(s);
}

static int
do_line(struct script *s, char *word, char *text)
{
	if (str_eq(word, "run") || str_eq(word, "run!"))
		return do_run(s, text, word[3] == '!');
	if (str_eq(word, "code"))
		return do_code(s, text);
	if (str_eq(word, "set"))
		return do_set(s, text);
	if (str_eq(word, "file"))
		return do_file(s, text);
	if (str_eq(word, "sql"))
		return do_sql(s, text);
	if (str_eq(word, "now"))
		return do_now(s, text);
	if (str_eq(word, "lang"))
		return do_lang(s, text);
	if (str_eq(word, "by"))
		return do_by(s, text);
	if (str_eq(word, "key"))
		return do_keys(s, text);
	if (str_eq(word, "type"))
		return do_type(s, text);
	if (str_eq(word, "scan"))
		return do_scan(s, text);
	if (str_eq(word, "wait"))
		return do_wait(s, text);
	if (str_eq(word, "beside")) {
		s->beside = true; /* from the next start of the desk on */
		return shut(s);
	}
	if (str_eq(word, "until"))
		return do_expect(s, text, UNTIL_NAPS);
	if (str_eq(word, "size"))
		return do_size(s, text);
	if (str_eq(word, "restart"))
		return shut(s);
	if (str_eq(word, "show") || str_eq(word, "look"))
		return do_show(s, text, word[0] == 's');
	if (str_eq(word, "expect"))
		return do_expect(s, text, 0);
	return fail(s, "no such line: %s", word);
}

/* --- the folder it runs in -------------------------------------------------*/

static int
begin(struct script *s)
{
	struct buf ini;
	char line[600];
	FILE *f;

	if (getcwd(s->top, sizeof(s->top)) == NULL ||
	    !str_copy(
		s->folder, sizeof(s->folder), "/tmp/pinbone-screen-XXXXXX") ||
	    mkdtemp(s->folder) == NULL || chdir(s->folder) != 0)
		return fail(s, "cannot make a folder");
	str_fmt(s->run, sizeof(s->run), "%s%s%s",
	    s->program[0] == '/' ? "" : s->top, s->program[0] == '/' ? "" : "/",
	    s->program);
	buf_init(&ini, 65536);
	config_sample(&ini);
	f = fopen("station.ini", "w");
	if (f == NULL || fwrite(ini.data, 1, ini.len, f) != ini.len ||
	    fclose(f) != 0)
		return fail(s, "cannot write the settings");
	buf_fini(&ini);
	str_fmt(line, sizeof(line), "station.data_folder %s/config", s->top);
	if (do_set(s, line))
		return 1;
	str_copy(line, sizeof(line), "station.training yes");
	if (do_set(s, line))
		return 1;
	str_copy(line, sizeof(line), "init");
	return do_run(s, line, false);
}

static void
end(struct script *s)
{
	char rm[] = "rm", rf[] = "-rf", *argv[] = { rm, rf, s->folder, NULL };

	shut(s);
	if (chdir(s->top) != 0)
		perror(s->top);
	if (s->folder[0] != '\0' && getenv("KEEP") == NULL &&
	    script_child(argv) != 0)
		perror(s->folder);
	buf_fini(&s->ran);
}

int
script_play(struct buf *out, const char *program, const char *path)
{
	struct script s = { .program = program,
		.path = path,
		.out = out,
		.w = 80,
		.h = 24,
		.by = "AK",
		.now = "2026-12-04T07:10" };
	char line[LINE_MAX_BYTES], full[LINE_MAX_BYTES], *text;
	FILE *f = fopen(path, "r");
	int bad = f == NULL;

	buf_init(&s.ran, 1024 * 1024);
	if (f == NULL)
		perror(path);
	bad = bad || begin(&s);
	str_copy(s.names.items[0].name, sizeof(s.names.items[0].name), "TOP");
	bad = bad ||
	    !str_copy(
		s.names.items[0].value, sizeof(s.names.items[0].value), s.top);
	s.names.count = 1;
	while (!bad && fgets(line, sizeof(line), f) != NULL) {
		s.line++;
		line[strcspn(line, "\n")] = '\0';
		if (line[0] == '\0' || line[0] == '#')
			continue;
		script_replace(full, sizeof(full), &s.names, line);
		text = strchr(full, ' ');
		if (text != NULL)
			*text++ = '\0';
		bad = do_line(
		    &s, full, text == NULL ? full + strlen(full) : text);
	}
	if (f != NULL)
		fclose(f);
	/* back to English; being bound anew makes the C library look again */
	(void)unsetenv("LANGUAGE");
	say_start(s.folder);
	end(&s);
	return bad;
}
