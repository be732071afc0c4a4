/*
 * hand.h - a program that does what a kitchen does, at random from a seed, and
 * reports each step over a pipe: kill.c has the lines.
 */
#ifndef HAND_H
#define HAND_H

#include "day.h"

/* hand_play - some tens of steps on the day's file, for `who` of two.  0, or 3
 * when a step failed for another reason than that the other was writing. */
int hand_play(struct day *d, unsigned seed, int who, int fd);

/* hand_hash - of a file's bytes, as hexadecimal; "" when it is not there. */
char *hand_hash(char dst[24], const char *path);

/* pause_us - microseconds, 0 to 999 999. */
void pause_us(int us);

#endif /* HAND_H */
