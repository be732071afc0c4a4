/*
 * world.h - a kitchen for the program on a terminal: a folder, a training
 * station in it, and the commands that set it up.
 */
#ifndef WORLD_H
#define WORLD_H

#include <stdbool.h>

#include "pty.h"

#define WORLD_NOW "2026-12-04T07:10"

struct world {
	const char *program; /* whole path */
	char folder[64], ini[96], db[96];
	char said[65536]; /* by the last command */
};

/* world_make - with suppliers, menu, offers and bookings of the demo.
 * `settings` are more lines for the settings, before the services; FOLDER in
 * them is the folder. */
void world_make(struct world *w, const char *program, const char *settings);
void world_drop(struct world *w);

/* world_run - a command, its words ended by NULL; its status.  What it says is
 * in w->said. */
int world_run(struct world *w, const char *const *words);
#define RUN(w, ...) world_run((w), (const char *const[]){ __VA_ARGS__, NULL })
/* world_must - the same, and it must be done. */
#define MUST(w, ...) world_must((w), (const char *const[]){ __VA_ARGS__, NULL })
void world_must(struct world *w, const char *const *words);
/* world_code - the n-th code (from 0) in the JSON said last. */
void world_code(char code[16], const struct world *w, int n);

/* world_fish - take in six hake; its code. */
void world_fish(char code[16], struct world *w);
/* world_count - of the first row of what SQL says. */
long world_count(const struct world *w, const char *sql);

/* world_open - the station on a terminal, as `pinbone` alone. */
void world_open(
    struct pty *p, const struct world *w, const char *term, int cols, int rows);

#endif /* WORLD_H */
