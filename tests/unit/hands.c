/* hands.c - somebody at a desk. */
#include "hands.h"

#include <string.h>

#include "base/str.h"

#define KEY_MS 300

void
press(struct desk *d, enum key_code code)
{
	struct key key = key_of(code);

	desk_key(d, &key, d->now_ms + KEY_MS);
	desk_draw(d);
}

void
type(struct desk *d, const char *text)
{
	struct key key;

	while (*text != '\0') {
		key = key_char(utf8_next(&text));
		desk_key(d, &key, d->now_ms + KEY_MS);
		desk_draw(d);
	}
}

void
on(struct desk *d, enum screen_id id)
{
	press(d, (enum key_code)(KEY_CODE_F1 + (int)id));
}

bool
seen(struct desk *d, const char *words)
{
	struct buf b;
	bool found;

	desk_draw(d);
	buf_init(&b, 1 << 20);
	canvas_text(&b, &d->canvas);
	found = strstr(buf_text(&b), words) != NULL;
	buf_fini(&b);
	return found;
}
