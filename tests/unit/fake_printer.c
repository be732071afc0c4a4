/* fake_printer.c - a label printer that does as it is told. */
/* for MAP_ANONYMOUS */
#define _DEFAULT_SOURCE 1
#include "fake_printer.h"

#include <check.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#include "base/str.h"
#include "print/session.h"

struct fake_printer *fake_one;

void
fake_reset(void)
{
	/* Shared with children: what is printed stays printed. */
	if (fake_one == NULL)
		fake_one = mmap(NULL, sizeof(*fake_one), PROT_READ | PROT_WRITE,
		    MAP_SHARED | MAP_ANONYMOUS, -1, 0);
	ck_assert(fake_one != MAP_FAILED);
	memset(fake_one, 0, sizeof(*fake_one));
	fake.room = fake.breaks = -1;
	fake.commands = "";
}

/* --- its language ---------------------------------------------------------*/

#define FAKE_ROWS 4000

/* Row 0 has the numbers, the size is the filling. */
struct bitmap *
fake_label(int64_t id, int copy, int filling)
{
	int wide = filling > FAKE_ROWS ? 50 : 1;
	struct bitmap *bm = bitmap_new(80 * wide, filling / wide);

	memcpy(bm->bits, &id, sizeof(id));
	memcpy(bm->bits + sizeof(id), &copy, sizeof(copy));
	return bm;
}

static enum rc
fake_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	int64_t id;
	int copy, i;

	if (media->darkness_pct > 100)
		return err_set(err, RC_INVALID, 0, "too dark");
	memcpy(&id, picture->bits, sizeof(id));
	memcpy(&copy, picture->bits + sizeof(id), sizeof(copy));
	buf_printf(out, "<%" PRId64 ".%d|", id, copy);
	for (i = 0; i < picture->height * (picture->width / 80); i++)
		buf_putc(out, '.');
	buf_putc(out, '>');
	return RC_OK;
}

/* "!" four hexadecimal digits of state, LF. */
static enum rc
fake_answer(unsigned *state, const uint8_t *bytes, size_t len, struct err *err)
{
	char text[16] = "";

	if (len > 0 && bytes[0] != '!')
		return err_set(err, RC_INVALID, 0, "no answer");
	if (len < 6)
		return RC_RETRY;
	memcpy(text, bytes + 1, 4);
	*state = (unsigned)strtoul(text, NULL, 16);
	return RC_OK;
}

const struct lang fake_lang = {
	.name = "fake",
	.ending = "fake",
	.command_sets = "FAKE",
	.encode = fake_encode,
	.query = "?!",
	.query_len = 2,
	.answer = fake_answer,
};

/* --- its mechanics --------------------------------------------------------*/

static void
print_held(void)
{
	int64_t id;
	int copy;

	if (!fake.held ||
	    (fake.state & ~(unsigned)(PRINTER_LOW | PRINTER_BUSY)) != 0)
		return;
	fake.half[fake.half_len] = '\0';
	if (strchr(fake.half + 1, '<') != NULL ||
	    sscanf(fake.half, "<%" SCNd64 ".%d|", &id, &copy) != 2) {
		fake.spoilt++;
	} else {
		ck_assert_uint_lt(fake.out_count, FAKE_OUT_MAX);
		fake.out[fake.out_count].id = id;
		fake.out[fake.out_count++].copy = copy;
	}
	fake.held = false;
	fake.half_len = 0;
}

static void
look(void)
{
	fake.looks++;
	if (fake.half_len > 0 && !fake.held)
		fake.inside++;
	if (fake.heals > 0 && --fake.heals == 0) {
		fake.state = 0;
		fake.room = -1;
		fake.port_silent = fake.language_silent = false;
	}
	print_held();
}

static void
take(char c)
{
	fake.taken++;
	if (fake.half_len == 0 && (c == '?' || fake.asked_len > 0)) {
		fake.asked[fake.asked_len++] = c;
		if (fake.asked_len < 2)
			return;
		fake.asked_len = 0;
		fake.questions++;
		look();
		if (!fake.language_silent)
			str_fmt(fake.reply, sizeof(fake.reply),
			    fake.garbled ? "what\n" : "!%04X\n", fake.state);
		fake.reply_len = strlen(fake.reply);
		return;
	}
	ck_assert_uint_lt(fake.half_len, sizeof(fake.half) - 1);
	fake.half[fake.half_len++] = c;
	fake.held = c == '>';
	print_held();
}

/* --- the way to it --------------------------------------------------------*/

static enum rc
fake_open(struct port **out, unsigned *state, const char *address,
    int deadline_ms, struct err *err)
{
	const struct transport *via =
	    str_eq(address, "blind") ? &fake_blind : &fake_talks;

	(void)deadline_ms;
	*out = NULL;
	*state = fake.open_state;
	if (fake.open_rc != RC_OK)
		return err_set(err, fake.open_rc, 0, "fake: not there");
	*out = calloc(1, sizeof(**out));
	ck_assert_ptr_nonnull(*out);
	(*out)->via = via;
	(*out)->answers = via == &fake_talks;
	fake.opens++;
	return RC_OK;
}

static void
fake_commands(char *dst, size_t size, struct port *port)
{
	(void)port;
	str_copy(dst, size, fake.commands);
}

static enum rc
fake_begin(
    struct port *port, const char *name, const char *ending, struct err *err)
{
	(void)port;
	(void)ending;
	if (fake.begin_rc != RC_OK)
		return err_set(err, fake.begin_rc, 0, "fake: cannot begin");
	str_copy(fake.begun, sizeof(fake.begun), name);
	return RC_OK;
}

static enum rc
fake_write(size_t *sent, struct port *port, const uint8_t *bytes, size_t len,
    int deadline_ms, struct err *err)
{
	bool question = bytes[0] == '?' && fake.half_len == 0;

	(void)port;
	ck_assert_int_ge(deadline_ms, 1);
	for (*sent = 0; *sent < len; (*sent)++) {
		if (!question && fake.breaks == 0)
			return err_set(err, RC_FAILED, 0, "fake: cable out");
		if (!question &&
		    (fake.room == 0 || (fake.most > 0 && *sent == fake.most))) {
			pause_ms(1);
			if (fake.lies)
				*sent = len + 1;
			return err_set(err, RC_RETRY, 0, "fake: full");
		}
		/* A question is one packet: it is there whole or not at all. */
		if (fake.taking != NULL && (!question || *sent == 0))
			fake.taking(&fake, (char)bytes[*sent]);
		take((char)bytes[*sent]);
		if (question)
			continue;
		fake.room -= fake.room > 0;
		fake.breaks -= fake.breaks > 0;
	}
	return RC_OK;
}

static enum rc
fake_finish(struct port *port, struct err *err)
{
	(void)port;
	fake.finishes++;
	if (fake.finish_rc != RC_OK)
		return err_set(err, fake.finish_rc, 0, "fake: not kept");
	return RC_OK;
}

static enum rc
fake_read(size_t *got, struct port *port, uint8_t *bytes, size_t size,
    int deadline_ms, struct err *err)
{
	(void)port;
	ck_assert_int_ge(deadline_ms, 1);
	*got = 0;
	if (fake.reply_len == 0) {
		pause_ms(deadline_ms < 5 ? deadline_ms : 5);
		return err_set(err, RC_RETRY, 0, "fake: says nothing");
	}
	/* In two parts, as small packets come. */
	*got = fake.reply_len > 3 ? 3 : fake.reply_len;
	if (*got > size)
		*got = size;
	memcpy(bytes, fake.reply, *got);
	memmove(fake.reply, fake.reply + *got, fake.reply_len - *got);
	fake.reply_len -= *got;
	return RC_OK;
}

static enum rc
fake_status(
    unsigned *state, struct port *port, int deadline_ms, struct err *err)
{
	(void)port;
	(void)deadline_ms;
	look();
	if (fake.status_rc != RC_OK)
		return err_set(err, fake.status_rc, 0, "fake: port gone");
	if (fake.port_silent)
		return err_set(err, RC_RETRY, 0, "fake: no status");
	*state = fake.state;
	return RC_OK;
}

static enum rc
fake_port_reset(struct port *port, int deadline_ms, struct err *err)
{
	(void)port;
	(void)deadline_ms;
	fake.resets++;
	if (fake.reset_rc != RC_OK)
		return err_set(err, fake.reset_rc, 0, "fake: no reset");
	fake.half_len = fake.asked_len = 0;
	fake.held = false;
	return RC_OK;
}

static void
fake_close(struct port *port)
{
	fake.closes++;
	free(port);
}

const struct transport fake_talks = {
	.scheme = "fake",
	.open = fake_open,
	.commands = fake_commands,
	.begin = fake_begin,
	.write = fake_write,
	.finish = fake_finish,
	.read = fake_read,
	.status = fake_status,
	.reset = fake_port_reset,
	.close = fake_close,
};

const struct transport fake_blind = {
	.scheme = "fake",
	.open = fake_open,
	.write = fake_write,
	.close = fake_close,
};

struct printer
fake_printer(const struct transport *via)
{
	struct printer p = {
		.name = "main",
		.configured = "fake:x",
		.address = via == &fake_blind ? "blind" : "talks",
		.lang = &fake_lang,
		.via = via,
		.media = { .dpi = 203, .width_mm = 60, .height_mm = 40 },
		.deadline_ms = 300,
		.patience_ms = 40,
		.look_ms = 1,
	};

	return p;
}

int
fake_count(int64_t id)
{
	size_t i;
	int n = 0;

	for (i = 0; i < fake.out_count; i++)
		n += fake.out[i].id == id;
	return n;
}
