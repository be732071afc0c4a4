/* clock.c - the only file that asks the computer for the time or its zone. */
#include "base/clock.h"

#include <assert.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/str.h"

int64_t
clock_now(const struct clock *c)
{
	return c->fixed ? c->fixed_utc : (int64_t)time(NULL);
}

int64_t
clock_ticks_us(void)
{
	struct timespec ts = { 0 };

	clock_gettime(CLOCK_MONOTONIC, &ts);
	return (int64_t)ts.tv_sec * 1000000 + ts.tv_nsec / 1000;
}

int64_t
clock_ticks_ms(void)
{
	return clock_ticks_us() / 1000;
}

/* Zone data begins with these letters (RFC 9636); a folder such as "Europe"
 * and the lists beside the zones do not. */
static bool
is_zone_file(const char *path)
{
	char magic[4] = "";
	ssize_t n;
	int fd;

	fd = open(path, O_RDONLY | O_CLOEXEC);
	if (fd < 0)
		return false;
	n = read(fd, magic, sizeof(magic));
	close(fd);
	return n == (ssize_t)sizeof(magic) && memcmp(magic, "TZif", 4) == 0;
}

enum rc
zone_set(const char *name, struct err *err)
{
	char path[256];
	const char *dir;

	dir = getenv("TZDIR");
	if (dir == NULL)
		dir = "/usr/share/zoneinfo";
	if (name[0] == '\0' || name[0] == '/' || strstr(name, "..") != NULL ||
	    !str_fmt(path, sizeof(path), "%s/%s", dir, name) ||
	    !is_zone_file(path))
		return err_set(err, RC_INVALID, 0,
		    "time zone \"%.60s\" is not installed here: use an IANA "
		    "name such as Europe/Dublin (package tzdata)",
		    name);
	if (setenv("TZ", name, 1) != 0)
		return err_set(err, RC_FAILED, 0, "cannot set the time zone");
	tzset();
	return RC_OK;
}

/* The local time as if it were UTC: comparable, never shown. */
static int64_t
flat(const struct local_time *lt)
{
	return (int64_t)lt->day * 86400 + lt->hour * 3600 + lt->minute * 60 +
	    lt->second;
}

/* What a dead or absurd clock is taken for: whole days inside the believed
 * range, so that they are in it in every zone. */
#define FIRST_UTC ((int64_t)(DAY_MIN + 1) * 86400)
#define LAST_UTC ((int64_t)DAY_MAX * 86400 - 1)

struct local_time
local_from_utc(int64_t utc)
{
	struct local_time lt;
	time_t t = (time_t)utc;
	struct tm tm;

	memset(&tm, 0, sizeof(tm));
	localtime_r(&t, &tm);
	if (!day_from_civil(
		&lt.day, tm.tm_year + 1900, tm.tm_mon + 1, tm.tm_mday))
		return local_from_utc(utc < FIRST_UTC ? FIRST_UTC : LAST_UTC);
	lt.hour = tm.tm_hour;
	lt.minute = tm.tm_min;
	lt.second = tm.tm_sec > 59 ? 59 : tm.tm_sec;
	lt.offset_min = (int)((flat(&lt) - utc) / 60);
	return lt;
}

int64_t
utc_from_local(day_no day, int hour, int minute, int second)
{
	static const int64_t around = 26 * 3600; /* widest zone, and a bit */
	struct local_time lt;
	int64_t want, t, lo, hi, best = INT64_MAX;
	int i;

	/* Try the offset of the day before and of the day after. */
	want = (int64_t)day * 86400 + hour * 3600 + minute * 60 + second;
	for (i = -1; i <= 1; i += 2) {
		lt = local_from_utc(want + i * around);
		t = want - (int64_t)lt.offset_min * 60;
		lt = local_from_utc(t);
		if (flat(&lt) == want && t < best)
			best = t;
	}
	if (best != INT64_MAX)
		return best;
	/* Skipped by a clock change: find the moment of the change. */
	lo = want - around;
	hi = want + around;
	while (hi - lo > 1) {
		t = lo + (hi - lo) / 2;
		lt = local_from_utc(t);
		if (flat(&lt) < want)
			lo = t;
		else
			hi = t;
	}
	return hi;
}

/* Two digits at *s below `limit`, or -1; steps over them. */
static int
two(const char **s, int limit)
{
	int v;

	if ((*s)[0] < '0' || (*s)[0] > '9' || (*s)[1] < '0' || (*s)[1] > '9')
		return -1;
	v = ((*s)[0] - '0') * 10 + ((*s)[1] - '0');
	*s += 2;
	return v < limit ? v : -1;
}

enum rc
time_parse(int64_t *out, const char *what, const char *s, struct err *err)
{
	char date[11];
	const char *p;
	int64_t utc;
	day_no day;
	int hour = 0, minute = 0, second = 0, oh, om, sign;
	enum rc rc;

	if (strlen(s) < 10)
		goto bad;
	memcpy(date, s, 10);
	date[10] = '\0';
	if ((rc = day_parse(&day, what, date, err)) != RC_OK)
		return rc;
	p = s + 10;
	if (*p == '\0') {
		*out = utc_from_local(day, 0, 0, 0);
		return RC_OK;
	}
	if (*p != 'T' && *p != ' ')
		goto bad;
	p++;
	if ((hour = two(&p, 24)) < 0 || *p++ != ':' ||
	    (minute = two(&p, 60)) < 0)
		goto bad;
	if (*p == ':') {
		p++;
		if ((second = two(&p, 60)) < 0)
			goto bad;
	}
	if (*p == '\0') {
		*out = utc_from_local(day, hour, minute, second);
		return RC_OK;
	}
	utc = (int64_t)day * 86400 + hour * 3600 + minute * 60 + second;
	if (p[0] == 'Z' && p[1] == '\0') {
		*out = utc;
		return RC_OK;
	}
	if (*p != '+' && *p != '-')
		goto bad;
	sign = *p++ == '-' ? 1 : -1;
	if ((oh = two(&p, 15)) < 0 || *p++ != ':' || (om = two(&p, 60)) < 0 ||
	    *p != '\0')
		goto bad;
	*out = utc + sign * (oh * 3600 + om * 60);
	return RC_OK;
bad:
	return err_set(err, RC_INVALID, 0,
	    "%s \"%.40s\" is not a time: write it as YYYY-MM-DDTHH:MM", what,
	    s);
}

static char *
rfc3339(char *dst, size_t size, const struct local_time *lt)
{
	struct civil c = day_civil(lt->day);
	int off = lt->offset_min < 0 ? -lt->offset_min : lt->offset_min;

	str_fmt(dst, size, "%04d-%02d-%02dT%02d:%02d:%02d%c%02d:%02d", c.year,
	    c.month, c.day, lt->hour, lt->minute, lt->second,
	    lt->offset_min < 0 ? '-' : '+', off / 60, off % 60);
	return dst;
}

char *
time_rfc3339(char *dst, size_t size, int64_t utc)
{
	struct local_time lt = local_from_utc(utc);

	return rfc3339(dst, size, &lt);
}

char *
time_rfc3339_at(char *dst, size_t size, int64_t utc, int offset_min)
{
	int64_t local = utc + (int64_t)offset_min * 60;
	int second = (int)(local % 86400);
	struct local_time lt = {
		.day = (day_no)(local / 86400),
		.hour = second / 3600,
		.minute = second / 60 % 60,
		.second = second % 60,
		.offset_min = offset_min,
	};

	assert(local >= 0);
	return rfc3339(dst, size, &lt);
}

char *
time_short(char *dst, size_t size, int64_t utc)
{
	struct local_time lt = local_from_utc(utc);
	struct civil c = day_civil(lt.day);

	str_fmt(dst, size, "%s %d %s %02d:%02d",
	    weekday_short(day_weekday(lt.day)), c.day, month_short(c.month),
	    lt.hour, lt.minute);
	return dst;
}

char *
time_minute(char *dst, size_t size, int64_t utc)
{
	struct local_time lt = local_from_utc(utc);
	struct civil c = day_civil(lt.day);

	str_fmt(dst, size, "%04d-%02d-%02d %02d:%02d", c.year, c.month, c.day,
	    lt.hour, lt.minute);
	return dst;
}
