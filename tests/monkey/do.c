/* do.c - what a monkey does at a desk. */
#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/clock.h"
#include "base/str.h"
#include "monkey.h"
#include "ops/fate.h"
#include "ops/queue.h"
#include "ops/receive.h"
#include "store/store.h"
#include "term/scanner.h"
#include "tests/bench/years.h"
#include "tests/unit/chance.h"

int
chance_of(struct monkey *m, int below)
{
	return (int)(chance_next(&m->seed) % (uint64_t)below);
}

void
monkey_tell(struct monkey *m, const char *fmt, ...)
{
	char *dst = m->tale->last[m->tale->actions++ % TALE_ACTIONS];
	va_list ap;
	size_t i;

	va_start(ap, fmt);
	(void)vsnprintf(dst, TALE_SIZE, fmt, ap);
	va_end(ap);
	for (i = 0; dst[i] != '\0'; i++)
		if ((unsigned char)dst[i] < 0x20)
			dst[i] = '~';
}

void
monkey_wrong(struct monkey *m, const char *fmt, ...)
{
	va_list ap;

	if (m->tale->wrong[0] != '\0')
		return; /* the first one counts */
	va_start(ap, fmt);
	(void)vsnprintf(m->tale->wrong, sizeof(m->tale->wrong), fmt, ap);
	va_end(ap);
}

static int64_t
now_us(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (int64_t)t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

static void
took(struct monkey *m, int64_t since)
{
	int64_t us = now_us() - since;

	if (us <= m->tale->slowest_us || m->locked)
		return;
	m->tale->slowest_us = us;
	str_copy(m->tale->slowest, TALE_SIZE,
	    m->tale->last[(m->tale->actions - 1) % TALE_ACTIONS]);
}

/* --- reading the screen ----------------------------------------------------*/

/* A row in lower case, other than ASCII as '?'. */
static void
row_of(char *dst, size_t size, const struct canvas *c, int y, int columns)
{
	size_t n = 0;
	int x;

	for (x = 0; x < columns && x < c->w && n + 1 < size; x++) {
		uint32_t ch = c->cells[y * c->w + x].ch;

		if (ch != 0)
			dst[n++] = ch < 0x80 ? (char)tolower((int)ch) : '?';
	}
	dst[n] = '\0';
}

static void
check_cells(struct monkey *m, const struct canvas *c)
{
	int i;

	for (i = 0; i < c->w * c->h; i++) {
		uint32_t ch = c->cells[i].ch;
		bool right_half = ch == 0 && i % c->w > 0 &&
		    glyph_columns(c->cells[i - 1].ch) == 2;

		if ((ch < 0x20 && !right_half) || (ch >= 0x7f && ch < 0xa0) ||
		    ch > 0x10ffff || (ch >= 0xd800 && ch < 0xe000) ||
		    c->cells[i].style >= STYLE_COUNT) {
			monkey_wrong(m,
			    "column %d, row %d of %dx%d: character U+%04X, "
			    "style %d",
			    i % c->w, i / c->w, c->w, c->h, (unsigned)ch,
			    c->cells[i].style);
			return;
		}
	}
}

void
monkey_draw(struct monkey *m)
{
	struct canvas *c = &m->desk->canvas;
	int64_t since = now_us();
	char row[520];
	int i;

	/* What is not drawn over shows. */
	for (i = 0; i < c->w * c->h; i++)
		c->cells[i].ch = 1;
	c->cursor_x = c->cursor_y = 9999;
	desk_draw(m->desk);
	took(m, since);
	check_cells(m, c);
	if (c->cursor_x != -1 &&
	    (c->cursor_x < 0 || c->cursor_x >= c->w || c->cursor_y < 0 ||
		c->cursor_y >= c->h))
		monkey_wrong(m, "the cursor is at %d, %d of %dx%d", c->cursor_x,
		    c->cursor_y, c->w, c->h);
	row_of(row, sizeof(row), c, 0, c->w);
	if (c->w >= 60 && c->h >= 4 && strstr(row, "training") == NULL)
		monkey_wrong(m, "no training mark at %dx%d", c->w, c->h);
	m->label[0] = '\0';
	if (c->cursor_x >= 0)
		row_of(m->label, sizeof(m->label), c, c->cursor_y, c->cursor_x);
}

/* --- keys ------------------------------------------------------------------*/

static void
restart(struct monkey *m)
{
	char by[16];
	int w = m->desk->canvas.w, h = m->desk->canvas.h;

	str_copy(by, sizeof(by), m->desk->by);
	desk_free(m->desk);
	m->desk = desk_new(m->sn, NULL, w, h);
	m->desk->key_ms = m->desk->tick_ms = m->ms;
	str_copy(m->desk->by, sizeof(m->desk->by), by);
}

static void
after(struct monkey *m, int64_t since)
{
	took(m, since);
	if (m->desk->fatal != RC_OK)
		monkey_wrong(m, "fatal: %.400s", m->desk->notice);
	if (m->desk->over)
		restart(m);
}

void
monkey_key(struct monkey *m, struct key k)
{
	char name[KEY_NAME_SIZE];
	int64_t since;

	monkey_tell(m, "key %s", key_label(name, &k));
	m->ms += 100 + chance_of(m, 200);
	since = now_us();
	(void)desk_typing(m->desk, &k);
	desk_key(m->desk, &k, m->ms);
	after(m, since);
}

void
monkey_type(struct monkey *m, const char *text)
{
	while (*text != '\0')
		monkey_key(m, key_char(utf8_next(&text)));
}

static void
fill(struct monkey *m)
{
	static const enum key_code on[] = { KEY_CODE_ENTER, KEY_CODE_ENTER,
		KEY_CODE_ENTER, KEY_CODE_TAB, KEY_CODE_DOWN, KEY_CODE_UP };
	const char *word = monkey_word(m);

	if (chance_of(m, 3) == 0)
		monkey_key(m, key_of(KEY_CODE_CUT_OFF));
	monkey_type(m, word);
	monkey_key(m, key_of(on[chance_of(m, 6)]));
}

/* One of the keys the foot of the screen names. */
static void
footer(struct monkey *m)
{
	const struct canvas *c = &m->desk->canvas;
	char row[520], *words[64], *save = NULL, *w;
	struct key keys[64];
	int n = 0, count = 0, i;

	row_of(row, sizeof(row), c, c->h - 1, c->w);
	for (w = strtok_r(row, " ", &save); w != NULL && n < 64;
	     w = strtok_r(NULL, " ", &save))
		words[n++] = w;
	for (i = 0; i < n; i++) {
		char name[24];

		str_fmt(name, sizeof(name), "%.20s", words[i]);
		name[0] = (char)(strlen(name) > 1 ? toupper(name[0]) : name[0]);
		if (key_parse(&keys[count], name))
			count++;
	}
	if (count > 0)
		monkey_key(m, keys[chance_of(m, count)]);
}

static void
any_char(struct monkey *m)
{
	static const uint32_t odd[] = { 0xe9, 0x416, 0x9c48, 0x1f41f, 0x301,
		0x200b, 0xad, 0x202e, 0xfffd, 0x1d };

	if (chance_of(m, 8) == 0)
		monkey_key(m, key_char(odd[chance_of(m, 10)]));
	else
		monkey_key(m, key_char((uint32_t)(' ' + chance_of(m, 95))));
}

static void
one_of(struct monkey *m, const enum key_code *codes, int count)
{
	monkey_key(m, key_of(codes[chance_of(m, count)]));
}

/* --- scans, time, size -----------------------------------------------------*/

static void
scan(struct monkey *m)
{
	char text[SCANNER_MAX + 1];
	int64_t since;
	int n;

	m->ms += 400;
	if (chance_of(m, 200) == 0) {
		monkey_tell(m, "scan, too long");
		desk_scan_too_long(m->desk);
		return;
	}
	n = monkey_label(m, text, (int)sizeof(text));
	monkey_tell(m, "scan %d: %.120s", n, text);
	since = now_us();
	desk_scan(m->desk, text, (size_t)n, m->ms);
	after(m, since);
}

void
monkey_scan(struct monkey *m, const char *text)
{
	int64_t since;

	monkey_tell(m, "scan %.120s", text);
	m->ms += 400;
	since = now_us();
	desk_scan(m->desk, text, strlen(text), m->ms);
	after(m, since);
}

static void
tick(struct monkey *m)
{
	int64_t since;
	int s = chance_of(m, 40) == 0 ? 400 : 1 + chance_of(m, 5);

	monkey_tell(m, "tick, %d s", s);
	m->ms += s * 1000;
	m->utc += s;
	if (m->astray == 0)
		m->sn->clock.fixed_utc = m->utc;
	since = now_us();
	desk_tick(m->desk, m->ms);
	after(m, since);
}

static void
resize(struct monkey *m)
{
	static const int sizes[][2] = { { 1, 1 }, { 500, 200 }, { 40, 10 },
		{ 100, 30 }, { 80, 24 }, { 20, 5 }, { 500, 1 }, { 1, 200 } };
	int i = chance_of(m, 12), w, h;

	w = i < 8 ? sizes[i][0] : 1 + chance_of(m, 160);
	h = i < 8 ? sizes[i][1] : 1 + chance_of(m, 60);
	monkey_tell(m, "size %dx%d", w, h);
	desk_resize(m->desk, w, h);
	m->odd_size = 25;
}

/* The clock of a training station: on, and sometimes astray for a while. */
static void
jump(struct monkey *m)
{
	static const int64_t on[] = { 600, 3600, 4 * 3600, 20 * 3600 };
	static const int64_t away[] = { -86400, -3600, -30 * 86400, 86400,
		40 * 86400 };

	if (m->wild_clock && chance_of(m, 3) == 0) {
		m->sn->clock.fixed_utc = m->utc + away[chance_of(m, 5)];
		m->astray = 30;
	} else {
		m->utc += on[chance_of(m, chance_of(m, 6) == 0 ? 4 : 2)];
		if (m->astray == 0)
			m->sn->clock.fixed_utc = m->utc;
	}
	monkey_tell(m, "clock %lld", (long long)m->sn->clock.fixed_utc);
}

/* --- somebody else on the same file ----------------------------------------*/

static void
other_receives(struct monkey *m)
{
	struct receive_in in = { .supplier = "quay",
		.document = "OTHER",
		.species = chance_of(m, 2) == 0 ? "HKE" : "PLE",
		.presentation = "gutted",
		.count = "6",
		.weight = "6kg",
		.lot = "O1",
		.temp = "1.0",
		.area = "27.7.j",
		.method = "caught",
		.gear = "Trawls",
		.decision = DECISION_ACCEPTED,
		.by = "XX" };
	struct batch b;
	enum rc rc = receive(&b, NULL, m->other, &in, NULL);

	monkey_tell(m, "other: receive, %s", rc_word(rc));
}

static void
other_acts(struct monkey *m)
{
	char text[SCANNER_MAX + 1];
	struct use_in in = { .code = text, .by = "XX", .reason = "other" };
	struct discard_in d = { .code = text, .by = "XX", .reason = "other" };
	struct discarded gone;
	struct portion p;
	enum rc rc;

	m->other->clock = m->sn->clock;
	if (chance_of(m, 4) == 0) {
		other_receives(m);
		return;
	}
	monkey_label(m, text, (int)sizeof(text));
	switch (chance_of(m, 4)) {
	case 0:
		rc = hold(NULL, m->other, text, "other", "XX", NULL);
		monkey_tell(m, "other: hold %.20s, %s", text, rc_word(rc));
		break;
	case 1:
		rc = release(NULL, m->other, text, "other", "XX", NULL);
		monkey_tell(m, "other: release %.20s, %s", text, rc_word(rc));
		break;
	case 2:
		rc = discard(&gone, m->other, &d, NULL);
		monkey_tell(m, "other: discard %.20s, %s", text, rc_word(rc));
		break;
	default:
		rc = use(&p, m->other, &in, NULL);
		monkey_tell(m, "other: use %.20s, %s", text, rc_word(rc));
		break;
	}
}

/* Labels that were queued come out. */
static void
work_queue(struct monkey *m)
{
	volatile sig_atomic_t stop = 0;
	enum rc rc;

	m->other->clock = m->sn->clock;
	rc = queue_run(m->other, true, &stop, NULL, NULL);
	monkey_tell(m, "labels are printed, %s", rc_word(rc));
}

/* Another program is in the middle of a record. */
static void
locked(struct monkey *m)
{
	if (store_begin(m->other->st, NULL) != RC_OK)
		return;
	m->locked = true;
	monkey_tell(m, "another program is writing");
	monkey_key(m, key_of(KEY_CODE_F12));
	store_rollback(m->other->st);
	m->locked = false;
}

/* --- one action ------------------------------------------------------------*/

static void
rarely(struct monkey *m)
{
	static const enum key_code keys[] = { KEY_CODE_UNDO, KEY_CODE_UNDO,
		KEY_CODE_UNDO, KEY_CODE_WHO, KEY_CODE_ANEW, KEY_CODE_QUIT,
		KEY_CODE_F1, KEY_CODE_TAKE_BACK };
	int r = chance_of(m, 100);

	if (r < 40)
		one_of(m, keys, 8);
	else if (r < 60)
		other_acts(m);
	else if (r < 75)
		jump(m);
	else if (r < 88)
		resize(m);
	else if (r < 94)
		work_queue(m);
	else if (chance_of(m, 200) == 0)
		locked(m);
	else {
		monkey_tell(m, "restart");
		restart(m);
	}
}

static void
usual(struct monkey *m, int r)
{
	static const enum key_code arrows[] = { KEY_CODE_UP, KEY_CODE_DOWN,
		KEY_CODE_DOWN, KEY_CODE_LEFT, KEY_CODE_RIGHT, KEY_CODE_HOME,
		KEY_CODE_END, KEY_CODE_PAGE_UP, KEY_CODE_PAGE_DOWN };
	static const enum key_code edits[] = { KEY_CODE_TAB, KEY_CODE_BACKTAB,
		KEY_CODE_BACKSPACE, KEY_CODE_DELETE, KEY_CODE_CUT_OFF };

	if (r < 250)
		footer(m);
	else if (r < 350)
		monkey_key(m, key_of(KEY_CODE_F12));
	else if (r < 420)
		monkey_key(m,
		    key_of((enum key_code)(KEY_CODE_F1 + 1 +
			chance_of(m, (int)SCREEN_COUNT - 1))));
	else if (r < 500)
		monkey_key(m, key_char((uint32_t)('1' + chance_of(m, 9))));
	else if (r < 600)
		one_of(m, arrows, 9);
	else if (r < 720)
		monkey_key(m, key_of(KEY_CODE_ENTER));
	else if (r < 760)
		monkey_key(m, key_of(KEY_CODE_ESC));
	else if (r < 800)
		one_of(m, edits, 5);
	else if (r < 830)
		any_char(m);
	else if (r < 920)
		scan(m);
	else if (r < 950)
		tick(m);
	else
		rarely(m);
}

void
monkey_act(struct monkey *m)
{
	if (m->astray > 0 && --m->astray == 0)
		m->sn->clock.fixed_utc = m->utc;
	if (m->odd_size > 0 && --m->odd_size == 0)
		desk_resize(m->desk, 80 + 20 * chance_of(m, 2), 24);
	if (chance_of(m, 100) < 4)
		monkey_errand(m);
	else if (m->desk->canvas.cursor_x >= 0 && chance_of(m, 100) < 40)
		fill(m);
	else
		usual(m, chance_of(m, 1000));
}
