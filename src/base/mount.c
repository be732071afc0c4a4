/* mount.c - lines of mountinfo. */
#include "base/mount.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"

static bool
is_octal(char c)
{
	return c >= '0' && c <= '7';
}

/* A field up to the next blank, with its escapes undone.  False: too long. */
static bool
take_field(char *dst, size_t size, const char **s)
{
	const char *p = *s;
	size_t n = 0;

	while (*p == ' ')
		p++;
	while (*p != '\0' && *p != ' ' && *p != '\n') {
		if (n + 1 >= size)
			return false;
		if (*p == '\\' && is_octal(p[1]) && is_octal(p[2]) &&
		    is_octal(p[3])) {
			dst[n++] = (char)((p[1] - '0') * 64 + (p[2] - '0') * 8 +
			    (p[3] - '0'));
			p += 4;
		} else {
			dst[n++] = *p++;
		}
	}
	dst[n] = '\0';
	*s = p;
	return n > 0;
}

/* Is the word `ro` among words joined by commas? */
static bool
says_ro(const char *options)
{
	const char *p;

	for (p = options; p != NULL; p = strchr(p, ',')) {
		p += *p == ',';
		if (strncmp(p, "ro", 2) == 0 && (p[2] == ',' || p[2] == '\0'))
			return true;
	}
	return false;
}

/* 36 35 98:0 /mnt1 /mnt2 rw,noatime master:1 - ext3 /dev/root rw,errors=x */
static bool
parse_line(struct mount *m, const char *line)
{
	char skip[FILE_PATH_SIZE], device[32], options[FILE_PATH_SIZE];
	int at = 0;

	memset(m, 0, sizeof(*m));
	if (!take_field(skip, sizeof(skip), &line) ||
	    !take_field(skip, sizeof(skip), &line) ||
	    !take_field(device, sizeof(device), &line) ||
	    sscanf(device, "%u:%u%n", &m->major, &m->minor, &at) != 2 ||
	    device[at] != '\0' || !take_field(skip, sizeof(skip), &line) ||
	    !take_field(m->at, sizeof(m->at), &line) ||
	    !take_field(options, sizeof(options), &line))
		return false;
	m->read_only = says_ro(options);
	/* any number of optional fields, then a lone hyphen */
	do
		if (!take_field(skip, sizeof(skip), &line))
			return false;
	while (!str_eq(skip, "-"));
	if (!take_field(m->type, sizeof(m->type), &line) ||
	    !take_field(m->source, sizeof(m->source), &line) ||
	    !take_field(options, sizeof(options), &line))
		return false;
	m->read_only = m->read_only || says_ro(options);
	return true;
}

bool
mount_parse(struct mount *out, const char **s)
{
	const char *line;

	while (**s != '\0') {
		line = *s;
		*s += strcspn(line, "\n");
		*s += **s == '\n';
		if (parse_line(out, line))
			return true;
	}
	return false;
}

bool
mount_of(struct mount *out, const char *text, const char *device,
    unsigned int major, unsigned int minor)
{
	struct mount m;
	bool found = false;

	while (mount_parse(&m, &text)) {
		if (!str_eq(m.source, device) &&
		    (major == 0 || m.major != major || m.minor != minor))
			continue;
		if (!found || (out->read_only && !m.read_only))
			*out = m;
		found = true;
	}
	return found;
}

bool
mount_label_name(char *dst, size_t size, const char *label)
{
	static const char hex[] = "0123456789abcdef";
	static const char plain[] =
	    "abcdefghijklmnopqrstuvwxyz"
	    "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	    "0123456789#+-.:=@_";
	size_t n = 0;
	unsigned char c;

	for (; *label != '\0'; label++) {
		c = (unsigned char)*label;
		if (n + 5 > size)
			return false;
		if (c >= 0x80 || strchr(plain, c) != NULL) {
			dst[n++] = (char)c;
			continue;
		}
		dst[n++] = '\\';
		dst[n++] = 'x';
		dst[n++] = hex[c >> 4];
		dst[n++] = hex[c & 15];
	}
	dst[n] = '\0';
	return n > 0;
}
