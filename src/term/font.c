/*
 * font.c - what the Linux console's font can draw.
 *
 * A console font holds 256 or 512 glyphs, and the kernel tells which characters
 * they stand for (ioctl GIO_UNIMAP, ioctl_console(2)).  Its map has 16 bit
 * characters only, like the fonts.
 */
#include "font.h"

#include <linux/kd.h>
#include <stdlib.h>
#include <sys/ioctl.h>

#include "base/mem.h"

#define PAIRS_MAX 4096

static unsigned char *drawn; /* a bit for each character; NULL: all */

void
font_forget(void)
{
	free(drawn);
	drawn = NULL;
}

void
font_learn(int fd)
{
	struct unimapdesc map = { 0 };
	unsigned i;

	font_forget();
	map.entries = xcalloc(PAIRS_MAX, sizeof(*map.entries));
	map.entry_ct = PAIRS_MAX;
	if (ioctl(fd, GIO_UNIMAP, &map) == 0) {
		drawn = xcalloc(0x10000 / 8, 1);
		for (i = 0; i < map.entry_ct; i++)
			drawn[map.entries[i].unicode / 8] |=
			    (unsigned char)(1u << map.entries[i].unicode % 8);
	}
	free(map.entries);
}

bool
font_draws(uint32_t ch)
{
	if (drawn == NULL || ch < 0x80)
		return true;
	return ch < 0x10000 && (drawn[ch / 8] >> ch % 8 & 1) != 0;
}
