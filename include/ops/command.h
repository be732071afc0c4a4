/*
 * ops/command.h - how this program is called for the same station.
 */
#ifndef OPS_COMMAND_H
#define OPS_COMMAND_H

#include <stddef.h>

#include "ops/station.h"

#define COMMAND_ARGS_MAX 6

/* The options that name the open station: --db, --config and, in training
 * with a time of its own, --now.  Borrowed from it and from this struct. */
struct command {
	const char *args[COMMAND_ARGS_MAX];
	size_t count;
	char now[48];
};

void command_of(struct command *out, const struct station *sn);

#endif /* OPS_COMMAND_H */
