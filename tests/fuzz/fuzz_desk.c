/*
 * fuzz_desk.c - what comes out of the scanner, and a half-typed form kept in
 * the file, on any screen of the station.
 *
 * The first byte chooses the screen and which of the two; of the input, "B" in
 * braces stands for the code of a batch on hand and "T" for that of a tray.
 * Properties: whatever is scanned, nothing is recorded by the scan alone, and
 * what is to be seen is text.
 */
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "fuzz.h"
#include "ops/draft.h"
#include "ops/scan.h"
#include "ops/look.h"
#include "rig.h"
#include "screens/desk.h"
#include "store/audit.h"

/* About as many bytes as the scanner keeps of one label. */
#define SCAN_MAX 4096

static size_t
expand(char *dst, size_t size, const uint8_t *data, size_t len)
{
	const char *put;
	size_t i, n = 0;

	for (i = 0; i < len; i++) {
		put = NULL;
		if (i + 2 < len && data[i] == '{' && data[i + 2] == '}')
			put = data[i + 1] == 'B' ? rig_batch()
			    : data[i + 1] == 'T' ? rig_tray()
						 : NULL;
		if (put != NULL && n + strlen(put) < size) {
			memcpy(dst + n, put, strlen(put));
			n += strlen(put);
			i += 2;
		} else if (n + 1 < size) {
			dst[n++] = (char)data[i];
		}
	}
	dst[n] = '\0';
	return n;
}

static int64_t
recorded(struct station *sn)
{
	int64_t id = 0;

	FUZZ_HOLDS(audit_last_id(&id, sn->st, NULL) == RC_OK);
	return id;
}

static void
scanned(struct desk *d, const char *text, size_t len)
{
	int64_t before = recorded(d->sn);

	desk_scan(d, text, len, 1000);
	desk_draw(d);
	/* The same again: a second scan of the same is not a confirmation. */
	desk_scan(d, text, len, 2000);
	desk_draw(d);
	FUZZ_HOLDS(recorded(d->sn) == before);
}

/* A form as another program may have left it. */
static void
resumed(struct desk *d, const char *text)
{
	struct draft_in in = {
		.name = DRAFT_BREAKDOWN, .title = "it", .body = text, .by = ""
	};
	struct err err = { 0 };
	struct key enter = { .code = KEY_CODE_ENTER };

	if (draft_keep(d->sn, &in, &err) != RC_OK) {
		rig_err(&err);
		return;
	}
	desk_show(d, SCREEN_BREAKDOWN);
	desk_key(d, &enter, 1000);
	desk_draw(d);
	desk_key(d, &enter, 2000);
	desk_draw(d);
	if (draft_clear(d->sn, DRAFT_BREAKDOWN, &err) != RC_OK)
		fuzz_broken(err.text, __FILE__, __LINE__);
}

/* The subcommands that take what somebody scanned. */
static void
commands(struct station *sn, const char *text, size_t len)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	struct err err = { 0 };
	struct buf out;

	if (scan_code(&kind, code, sn, text, &err) != RC_OK)
		rig_err(&err);
	err_clear(&err);
	buf_init(&out, 4 * 1024 * 1024);
	if (scan_say(&out, sn, text, len, FORMAT_JSON, &err) == RC_OK)
		FUZZ_HOLDS(utf8_valid(buf_text(&out), out.len));
	else
		rig_err(&err);
	err_clear(&err);
	if (trace(&out, sn, text, FORMAT_TEXT, &err) != RC_OK)
		rig_err(&err);
	buf_fini(&out);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct station *sn = rig_station();
	char text[SCAN_MAX];
	struct desk *d;
	size_t len;

	if (size == 0)
		return 0;
	len = expand(text, sizeof(text), data + 1, size - 1);
	d = desk_new(sn, NULL, 80, 24);
	str_copy(d->by, sizeof(d->by), "LM");
	if (data[0] >= 224) {
		resumed(d, text);
	} else if (data[0] >= 192) {
		commands(sn, text, len);
	} else {
		desk_show(d, (enum screen_id)(data[0] % SCREEN_COUNT));
		scanned(d, text, len);
	}
	desk_free(d);
	return 0;
}
