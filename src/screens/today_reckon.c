/*
 * today_reckon.c - how much is left to make, worked out beside the screen: a
 * forecast of every service is too long for a key to wait.
 */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "today_inner.h"

/* Records come in rows; one answer for all of them is enough. */
#define REST_MS 10000
#define EXPECT_MS 500

/* "2026-12-04/lunch,46,coming,13" */
static void
take_line(struct today *t, const char *line, size_t len)
{
	char text[200], name[80], day[16], *comma, *last;
	int i;

	if (len >= sizeof(text))
		return;
	memcpy(text, line, len);
	text[len] = '\0';
	if ((comma = strchr(text, ',')) == NULL)
		return;
	*comma = '\0';
	last = strrchr(comma + 1, ',');
	for (i = 0; i < t->service_count && last != NULL; i++) {
		str_fmt(name, sizeof(name), "%s/%s",
		    day_print(day, sizeof(day), t->services[i].day),
		    t->services[i].name);
		if (str_eq(name, text))
			t->services[i].to_make = last[1] == '\0'
			    ? TODAY_UNKNOWN
			    : strtol(last + 1, NULL, 10);
	}
}

static void
take_answer(struct today_screen *s)
{
	const char *line;
	struct buf text;
	size_t len;

	buf_init(&text, BESIDE_LINES * BESIDE_LINE_SIZE);
	beside_text(&text, s->work);
	for (line = buf_text(&text); *line != '\0'; line += len + 1) {
		len = strcspn(line, "\n");
		take_line(&s->t, line, len);
	}
	buf_fini(&text);
}

void
today_reckon(struct desk *d, struct today_screen *s)
{
	static const char *const args[] = { "--csv", "today", NULL };
	struct err err = { 0 };

	if (s->work != NULL) {
		beside_tick(s->work, d->now_ms);
		if (beside_running(s->work))
			return;
		if (beside_status(s->work) == 0)
			take_answer(s);
		beside_free(s->work, 0);
		s->work = NULL;
		s->work_next_ms = d->now_ms + REST_MS;
	}
	if (!s->work_due || d->now_ms < s->work_next_ms)
		return;
	s->work_due = false;
	if (d->host != NULL && d->host->program != NULL) {
		if (beside_start(&s->work, d, args, EXPECT_MS, &err) != RC_OK)
			s->work_next_ms = d->now_ms + REST_MS;
		return;
	}
	/* Nothing can be run beside: between keys, then. */
	if (today_work(&s->t, d->sn, &err) != RC_OK)
		desk_fail(d, &err);
}
