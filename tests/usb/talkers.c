/* talkers.c - printers that answer in their language. */
#include "talkers.h"

#include <check.h>
#include <string.h>

#include "base/str.h"

struct phrase {
	const char *bytes; /* NULL: it has no word for it */
	size_t len;
};

#define P(bytes)                                                               \
	{                                                                      \
		bytes, sizeof(bytes) - 1                                       \
	}
#define HS(b_to_l, m_to_u)                                                     \
	P("\x02"                                                               \
	  "030," b_to_l                                                        \
	  "\x03\r\n\x02"                                                       \
	  "000," m_to_u                                                        \
	  ",1,000\x03\r\n\x02"                                                 \
	  "0000,0\x03\r\n")
#define WELL "0,0,1245,000,0,0,0,000,0,0,0"
#define WELL2 "0,0,0,0,2,6,0,00000000"

#define EPL2                                                                   \
	{                                                                      \
		[SAYS_READY] = P("00\r\n"), [SAYS_PAPER] = P("07P001\r\n"),    \
		[SAYS_OPEN] = P("11\r\n"), [SAYS_RIBBON] = P("07R001\r\n"),    \
		[SAYS_PAUSED] = P("92\r\n"), [SAYS_HOT] = P("62\r\n"),         \
		[SAYS_GARBAGE] = P("what?\r\n"),                               \
	}

static const struct row {
	const char *lang;
	struct phrase says[SAYING_COUNT];
} rows[] = {
	/* ZPL II Programming Guide, ~HS: string 1 b paper, c pause, eee labels
	 * in the buffer, l too hot; string 2 o head, p ribbon */
	{ "zpl",
	    {
		[SAYS_READY] = HS(WELL, WELL2),
		[SAYS_PAPER] = HS("1,0,1245,000,0,0,0,000,0,0,0", WELL2),
		[SAYS_OPEN] = HS(WELL, "0,1,0,0,2,6,0,00000000"),
		[SAYS_RIBBON] = HS(WELL, "0,0,1,1,2,6,0,00000000"),
		[SAYS_PAUSED] = HS("0,1,1245,000,0,0,0,000,0,0,0", WELL2),
		[SAYS_HOT] = HS("0,0,1245,000,0,0,0,000,0,0,1", WELL2),
		[SAYS_BUSY] = HS("0,0,1245,002,0,0,0,000,0,0,0", WELL2),
		[SAYS_GARBAGE] = P("what?\r\n"),
	    } },
	/* TSPL/TSPL2 manual, <ESC>!? */
	{ "tspl",
	    {
		[SAYS_READY] = P("\x00"),
		[SAYS_PAPER] = P("\x04"),
		[SAYS_OPEN] = P("\x01"),
		[SAYS_RIBBON] = P("\x08"),
		[SAYS_PAUSED] = P("\x10"),
		[SAYS_HOT] = P("\x80"),
		[SAYS_BUSY] = P("\x20"),
		[SAYS_GARBAGE] = P("what?\r\n"),
	    } },
	/* programmer's manual of a compatible maker, ^ee */
	{ "epl2", EPL2 },
	{ "epl2-lf", EPL2 },
	/* ESC/POS references, DLE EOT 1 to 4; no word for pause or printing */
	{ "escpos",
	    {
		[SAYS_READY] = P("\x12\x12\x12\x12"),
		[SAYS_PAPER] = P("\x1a\x32\x12\x72"),
		[SAYS_OPEN] = P("\x1a\x16\x12\x12"),
		[SAYS_HOT] = P("\x1a\x52\x52\x12"),
		[SAYS_GARBAGE] = P("what?\r\n"),
	    } },
};

/* Of the only one. */
static struct vprinter *speaker;
static const struct lang *spoken;
static const struct row *words;
static enum saying now;
static int times_left, late_ms;

const struct lang *
talker_language(int n)
{
	const struct lang *const *l;

	for (l = langs; *l != NULL; l++)
		if ((*l)->command_sets != NULL && n-- == 0)
			return *l;
	return NULL;
}

static const struct row *
row_of(const struct lang *lang)
{
	size_t i;

	if (lang->query == NULL)
		return NULL;
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++)
		if (str_eq(rows[i].lang, lang->name))
			return &rows[i];
	ck_abort_msg("language %s has a question and no row", lang->name);
	return NULL;
}

bool
talker_can(const struct lang *lang, enum saying what)
{
	const struct row *r = row_of(lang);

	return r != NULL &&
	    (what == SAYS_NOTHING || r->says[what].bytes != NULL);
}

void
talker_says(enum saying what, int times)
{
	vusb_lock(vprinter_device(speaker));
	now = talker_can(spoken, what) ? what : SAYS_READY;
	times_left = times;
	vusb_unlock(vprinter_device(speaker));
}

void
talker_late(int ms)
{
	vusb_lock(vprinter_device(speaker));
	late_ms = ms;
	vusb_unlock(vprinter_device(speaker));
}

/* A question is the end of what came. */
static size_t
hear(struct vprinter *p, const uint8_t *bytes, size_t len)
{
	size_t n = spoken->query_len;
	const struct phrase *say = &words->says[now];

	if (len < n || memcmp(bytes + len - n, spoken->query, n) != 0)
		return 0;
	if (now != SAYS_NOTHING)
		vprinter_answer(p, say->bytes, say->len, late_ms);
	if (times_left > 0 && --times_left == 0)
		now = SAYS_READY;
	return len;
}

void
talker_listen(struct vprinter *p, const struct lang *lang)
{
	speaker = p;
	spoken = lang;
	words = row_of(lang);
	talker_says(SAYS_READY, 0);
	talker_late(0);
	if (words != NULL)
		vprinter_listen(p, hear);
}
