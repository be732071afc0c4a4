/*
 * store/moment.h - who did something, and when.
 */
#ifndef STORE_MOMENT_H
#define STORE_MOMENT_H

#include <stdint.h>

struct moment {
	int64_t utc;
	int offset_min; /* minutes east of UTC in the kitchen then */
	char by[16];    /* initials */
};

#endif /* STORE_MOMENT_H */
