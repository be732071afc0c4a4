/* scanner.c - a burst of keys is a scan, a single one is typing. */
#include "term/scanner.h"

#include <string.h>

#include "base/buf.h"
#include "base/str.h"

static void
hold(struct scanner *s, uint32_t ch)
{
	struct buf b;

	s->chars++;
	buf_init(&b, 4);
	utf8_put(&b, ch);
	if (s->len + b.len > SCANNER_MAX) {
		s->too_long = true;
	} else {
		memcpy(s->text + s->len, b.data, b.len);
		s->len += b.len;
		s->text[s->len] = '\0';
	}
	buf_fini(&b);
}

static void
start_over(struct scanner *s)
{
	/* it may have been a PIN */
	memset(s->text, 0, s->len);
	s->len = 0;
	s->chars = 0;
	s->let_through = s->too_long = false;
}

/* It was typing after all: hand on what was held. */
static void
release(struct scanner *s, scanner_fn *tell, void *arg)
{
	struct scanner_event e = { .says = SCANNER_KEY };
	const char *at = s->text, *end = s->text + s->len;
	bool skip = s->let_through;

	while (at < end) {
		e.key = key_char(utf8_next(&at));
		if (!skip)
			tell(arg, &e);
		skip = false;
	}
	start_over(s);
}

/* The burst is over: a scan if it was long enough.  True when it was. */
static bool
settle(struct scanner *s, bool ended, scanner_fn *tell, void *arg)
{
	struct scanner_event e = { .take_back = s->let_through };

	if (s->chars < SCANNER_MIN) {
		release(s, tell, arg);
		return false;
	}
	if (s->was_cut && s->last_ms - s->cut_ms < SCANNER_REST_MS)
		ended = false; /* the rest of the one before */
	s->was_cut = !ended;
	s->cut_ms = s->last_ms;
	e.says = ended ? SCANNER_SCAN : SCANNER_CUT;
	tell(arg, &e);
	start_over(s);
	return true;
}

static int
patience(const struct scanner *s)
{
	return s->chars < SCANNER_MIN ? SCANNER_GAP_MS : SCANNER_END_MS;
}

void
scanner_key(struct scanner *s, const struct key *k, int64_t now_ms, bool typing,
    scanner_fn *tell, void *arg)
{
	struct scanner_event e = { .says = SCANNER_KEY, .key = *k };

	scanner_pause(s, now_ms, tell, arg);
	if (k->code != KEY_CODE_CHAR) {
		bool ends =
		    k->code == KEY_CODE_ENTER || k->code == KEY_CODE_TAB;

		if (s->chars > 0 && settle(s, ends, tell, arg) && ends)
			return; /* the scanner's own Enter */
		tell(arg, &e);
		return;
	}
	hold(s, k->ch);
	s->last_ms = now_ms;
	/* Blanks and letters go into a field at once; a machine's second
	 * character comes before anybody has read the first. */
	if (s->chars == 1 && typing && k->ch >= 0x20) {
		s->let_through = true;
		tell(arg, &e);
	}
}

void
scanner_pause(struct scanner *s, int64_t now_ms, scanner_fn *tell, void *arg)
{
	if (s->chars > 0 && now_ms - s->last_ms >= patience(s))
		(void)settle(s, false, tell, arg);
}

int
scanner_wait(const struct scanner *s, int64_t now_ms)
{
	int64_t left;

	if (s->chars == 0)
		return -1;
	left = s->last_ms + patience(s) - now_ms;
	return left < 0 ? 0 : left > patience(s) ? patience(s) : (int)left;
}
