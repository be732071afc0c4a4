/* process.c - what /proc says of another process. */
#include "process.h"

#include <check.h>
#include <ctype.h>
#include <dirent.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"

char
process_state(pid_t pid, pid_t *parent)
{
	char path[64], state = 0, *at, line[512] = "";
	int of = 0;
	FILE *f;

	str_fmt(path, sizeof(path), "/proc/%d/stat", (int)pid);
	if ((f = fopen(path, "r")) == NULL)
		return 0;
	if (fgets(line, sizeof(line), f) != NULL &&
	    (at = strrchr(line, ')')) != NULL &&
	    sscanf(at, ") %c %d", &state, &of) != 2)
		state = 0;
	fclose(f);
	*parent = of;
	return state;
}

pid_t
process_child(pid_t parent)
{
	struct dirent *e;
	DIR *dir = opendir("/proc");
	pid_t found = 0, of;

	ck_assert_ptr_nonnull(dir);
	while (found == 0 && (e = readdir(dir)) != NULL)
		if (isdigit((unsigned char)e->d_name[0]) &&
		    process_state((pid_t)strtol(e->d_name, NULL, 10), &of) !=
			0 &&
		    of == parent)
			found = (pid_t)strtol(e->d_name, NULL, 10);
	closedir(dir);
	return found;
}

bool
process_listens(pid_t pid)
{
	unsigned long long caught = 0;
	char path[64], line[256];
	FILE *f;

	str_fmt(path, sizeof(path), "/proc/%d/status", (int)pid);
	if ((f = fopen(path, "r")) == NULL)
		return false;
	while (fgets(line, sizeof(line), f) != NULL &&
	    sscanf(line, "SigCgt: %llx", &caught) != 1)
		;
	fclose(f);
	return (caught >> (SIGTERM - 1) & 1) != 0;
}
