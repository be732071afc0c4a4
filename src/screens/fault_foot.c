/* fault_foot.c - the fault that stays at the foot of every screen. */
#include "base/str.h"
#include "says_today.h"
#include "today_inner.h"

#define MEGA ((int64_t)1024 * 1024)

char *
bytes_words(char *dst, size_t size, int64_t bytes)
{
	int64_t tenths = bytes / (MEGA * 1024 / 10);

	if (tenths < 10)
		str_fmt(dst, size, tr(SAY_MEGABYTES), (long)(bytes / MEGA));
	else
		str_fmt(dst, size, tr(SAY_GIGABYTES), (long)(tenths / 10),
		    (long)(tenths % 10));
	return dst;
}

void
fault_foot(struct desk *d)
{
	struct err err = { 0 };
	struct today_fault f;
	char space[32];
	long n;

	d->foot[0] = '\0';
	if (today_fault(&f, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	n = (long)f.count;
	switch (f.kind) {
	case FAULT_CLOCK:
		str_copy(d->foot, sizeof(d->foot), tr(SAY_FOOT_CLOCK));
		break;
	case FAULT_HOME:
		str_copy(d->foot, sizeof(d->foot), tr(SAY_FOOT_HOME));
		break;
	case FAULT_SPACE:
		str_fmt(d->foot, sizeof(d->foot), tr(SAY_FOOT_SPACE),
		    bytes_words(space, sizeof(space), f.count));
		break;
	case FAULT_PRINTER:
		str_fmt(d->foot, sizeof(d->foot), trn(SAY_FOOT_PRINTER, n),
		    f.printer, n, f.text);
		break;
	case FAULT_UNSURE:
		str_fmt(d->foot, sizeof(d->foot), trn(SAY_FOOT_UNSURE, n), n);
		break;
	case FAULT_NONE:
		break;
	}
	utf8_clean(d->foot);
}
