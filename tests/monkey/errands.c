/*
 * errands.c - what somebody means to do: the keys of a whole record, now and
 * then left in the middle.  Random keys alone rarely fill a form.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "monkey.h"

/* What is being done, so that the numbers typed fit each other. */
struct errand {
	const char *species, *presentation, *supplier, *area, *method, *gear;
	int fish_g, target_g, yield_pc; /* fish_g 0: by weight */
	int fish, in_g, portions, out_g;
};

static const struct errand kinds[] = {
	{ "HKE", "gutted", "quay", "27.7.j", "caught", "Hooks and lines", 2300,
	    165, 47, 0, 0, 0, 0 },
	{ "PLE", "gutted", "quay", "27.7.e", "caught", "Trawls", 450, 50, 36, 0,
	    0, 0, 0 },
	{ "POK", "gutted", "quay", "27.6.a", "caught", "Trawls", 3000, 125, 40,
	    0, 0, 0, 0 },
	{ "LEM", "gutted", "quay", "27.7.e", "caught", "Trawls", 420, 380, 92,
	    0, 0, 0, 0 },
	{ "MUS", "live", "isle", "Far Holm", "farmed", "", 0, 500, 99, 0, 0, 0,
	    0 },
};

/* What goes into the field left of the cursor; NULL: leave it empty. */
typedef const char *answer_fn(const struct errand *e, const char *label);

static const char *
number(int n)
{
	static char text[16];

	str_fmt(text, sizeof(text), "%d", n);
	return text;
}

static const char *
of_breakdown(const struct errand *e, const char *label)
{
	if (strstr(label, "fish") != NULL)
		return number(e->fish);
	if (strstr(label, "weighed") != NULL)
		return number(e->in_g);
	if (strstr(label, "portions") != NULL)
		return number(e->portions);
	if (strstr(label, "weight") != NULL)
		return number(e->out_g);
	if (strstr(label, "label") != NULL)
		return "1";
	if (strstr(label, "frames") != NULL)
		return number((e->in_g - e->out_g) / 2);
	if (strstr(label, "waste") != NULL)
		return number((e->in_g - e->out_g) / 4);
	if (strstr(label, "feed") != NULL)
		return "TI feed letter";
	return NULL;
}

static const char *
of_goods_in(const struct errand *e, const char *label)
{
	if (strstr(label, "supplier's") != NULL ||
	    strstr(label, "use-by") != NULL)
		return strcmp(e->presentation, "live") == 0 ? NULL : "+4";
	if (strstr(label, "supplier") != NULL)
		return e->supplier;
	if (strstr(label, "document") != NULL ||
	    strstr(label, "delivery note") != NULL)
		return "DN-9";
	if (strstr(label, "species") != NULL)
		return e->species;
	if (strstr(label, "presentation") != NULL ||
	    strstr(label, "bought") != NULL)
		return e->presentation;
	if (strstr(label, "weight") != NULL)
		return number(e->in_g + 1000);
	if (strstr(label, "fish") != NULL || strstr(label, "count") != NULL)
		return e->fish_g == 0 ? NULL : number(e->fish + 2);
	if (strstr(label, "temperature") != NULL ||
	    strstr(label, "degrees") != NULL)
		return "1,2";
	if (strstr(label, "lot") != NULL)
		return "L1";
	if (strstr(label, "area") != NULL)
		return e->area;
	if (strstr(label, "method") != NULL)
		return e->method;
	if (strstr(label, "gear") != NULL)
		return e->gear;
	if (strstr(label, "caught") != NULL || strstr(label, "landed") != NULL)
		return "-1";
	if (strstr(label, "decision") != NULL)
		return "a";
	return NULL;
}

static const char *
of_close(const struct errand *e, const char *label)
{
	(void)e;
	return strstr(label, "seated") != NULL ||
		strstr(label, "booked") != NULL
	    ? "20"
	    : "2";
}

/* Field after field; false: it was left in the middle. */
static bool
fill_in(struct monkey *m, const struct errand *e, answer_fn *answer, int fields)
{
	const char *text;
	int y = -1;

	while (fields-- > 0) {
		monkey_draw(m);
		if (chance_of(m, 60) == 0)
			return false;
		if (m->desk->canvas.cursor_x < 0 ||
		    m->desk->canvas.cursor_y == y)
			return true;
		y = m->desk->canvas.cursor_y;
		text = answer(e, m->label);
		if (text != NULL) {
			monkey_key(m, key_of(KEY_CODE_CUT_OFF));
			monkey_type(m, text);
		}
		monkey_key(m, key_of(KEY_CODE_ENTER));
	}
	return true;
}

/* Who works, PINs, are you sure: what is asked before a record stands. */
static void
answer_questions(struct monkey *m)
{
	int i;

	for (i = 0; i < 4 && m->desk->sheet_count > 0; i++) {
		monkey_draw(m);
		if (m->desk->by[0] == '\0')
			monkey_type(m, "AK");
		else if (m->desk->canvas.cursor_x >= 0 && m->label[0] != '\0' &&
		    strstr(m->label, "pin") != NULL)
			monkey_type(m, "4711");
		monkey_key(m, key_of(KEY_CODE_ENTER));
	}
}

static void
record(struct monkey *m)
{
	monkey_key(m, key_of(KEY_CODE_F12));
	answer_questions(m);
}

/* One text of the file; false: there is none. */
static bool
ask_file(struct monkey *m, char *dst, size_t size, const char *sql,
    const char *arg, int *number_too)
{
	sqlite3_stmt *s = NULL;
	bool found = false;

	if (sqlite3_prepare_v2(m->db, sql, -1, &s, NULL) != SQLITE_OK) {
		monkey_wrong(m, "%s", sqlite3_errmsg(m->db));
		return false;
	}
	if (arg != NULL)
		sqlite3_bind_text(s, 1, arg, -1, SQLITE_STATIC);
	if (sqlite3_step(s) == SQLITE_ROW) {
		found = str_copy(
		    dst, size, (const char *)sqlite3_column_text(s, 0));
		if (number_too != NULL)
			*number_too = sqlite3_column_int(s, 1);
	}
	sqlite3_finalize(s);
	return found;
}

static void
reckon(struct monkey *m, struct errand *e)
{
	e->fish = 1 + chance_of(m, 2);
	e->in_g = e->fish_g == 0 ? 2000 : e->fish_g * e->fish;
	if (e->fish_g == 0)
		e->fish = 0;
	e->out_g = e->in_g * e->yield_pc / 100;
	e->portions = e->out_g / e->target_g;
	if (e->portions == 0)
		e->portions = 1;
	/* Sometimes nothing fits. */
	if (chance_of(m, 12) == 0)
		e->out_g = e->in_g * (1 + chance_of(m, 3));
}

static void
break_down(struct monkey *m, struct errand *e)
{
	char code[CODE_SIZE];
	int mean = 0;

	if (!ask_file(m, code, sizeof(code),
		"SELECT b.code, l.weight_g / max(l.count, 1) FROM batch b"
		" JOIN batch_left l ON l.batch_id = b.id WHERE b.open = 1 AND"
		" b.species = ?1 ORDER BY b.use_by_utc DESC LIMIT 1",
		e->species, &mean))
		return;
	if (e->fish_g != 0)
		e->fish_g = mean;
	reckon(m, e);
	monkey_key(m, key_of(KEY_CODE_F1 + 4));
	monkey_draw(m);
	if (m->desk->canvas.cursor_x >= 0) /* one that is begun already */
		monkey_key(m, key_of(KEY_CODE_ESC));
	if (chance_of(m, 4) != 0) { /* throw it away */
		monkey_key(m, key_char('x'));
		answer_questions(m);
	}
	monkey_scan(m, code);
	answer_questions(m);
	if (fill_in(m, e, of_breakdown, 24))
		record(m);
}

static void
take_in(struct monkey *m, struct errand *e)
{
	reckon(m, e);
	monkey_key(m, key_of(KEY_CODE_F1 + 2));
	monkey_key(m, key_char('n'));
	if (!fill_in(m, e, of_goods_in, 30))
		return;
	/* Past how it looks, to the decision. */
	monkey_key(m, key_of(KEY_CODE_PAGE_DOWN));
	monkey_draw(m);
	if (strstr(m->label, "decision") == NULL)
		monkey_key(m, key_of(KEY_CODE_PAGE_DOWN));
	if (fill_in(m, e, of_goods_in, 3))
		record(m);
	monkey_key(m, key_of(KEY_CODE_ENTER));
}

/* The one that goes first, as a cook would. */
static void
serve(struct monkey *m, struct errand *e)
{
	char code[CODE_SIZE];

	(void)e;
	if (!ask_file(m, code, sizeof(code),
		"SELECT code FROM portion WHERE left > 0 AND (frozen_utc IS"
		" NULL OR thawed_utc IS NOT NULL) AND use_by_utc >= ?1 + 0"
		" ORDER BY use_by_utc, made_utc, serial LIMIT 1",
		number((int)(m->sn->clock.fixed_utc)), NULL))
		return;
	monkey_key(m, key_of(KEY_CODE_F1 + 6));
	monkey_scan(m, code);
	answer_questions(m);
}

/* f freezes, h thaws, d discards, o holds, r releases, c counts, l labels,
 * e empties what has expired. */
static void
keep(struct monkey *m, struct errand *e)
{
	static const char keys[] = "ffhhddorrcllee";
	char code[CODE_SIZE];

	(void)e;
	monkey_key(m, key_of(KEY_CODE_F1 + 5));
	if (chance_of(m, 2) == 0 && monkey_code(m, code, sizeof(code)))
		monkey_scan(m, code);
	monkey_key(
	    m, key_char((uint32_t)keys[chance_of(m, (int)sizeof(keys) - 1)]));
	monkey_draw(m);
	if (m->desk->canvas.cursor_x >= 0)
		monkey_type(m, monkey_word(m));
	answer_questions(m);
}

static void
close_service(struct monkey *m, struct errand *e)
{
	monkey_key(m, key_of(KEY_CODE_F1 + 6));
	if (chance_of(m, 2) == 0)
		monkey_key(m, key_of(KEY_CODE_LEFT));
	monkey_key(m, key_char('c'));
	if (fill_in(m, e, of_close, 16))
		record(m);
}

static void
take_back(struct monkey *m, struct errand *e)
{
	(void)e;
	monkey_key(m, key_of(KEY_CODE_UNDO));
	answer_questions(m);
}

void
monkey_errand(struct monkey *m)
{
	static void (*const errands[])(struct monkey *, struct errand *) = {
		break_down,
		break_down,
		take_in,
		serve,
		serve,
		serve,
		keep,
		keep,
		close_service,
		take_back,
	};
	struct errand e =
	    kinds[chance_of(m, (int)(sizeof(kinds) / sizeof(kinds[0])))];

	monkey_tell(m, "an errand");
	errands[chance_of(m, (int)(sizeof(errands) / sizeof(errands[0])))](
	    m, &e);
}
