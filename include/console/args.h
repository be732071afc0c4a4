/*
 * console/args.h - the command line of one command, by a table.
 *
 * POSIX utility syntax with GNU long options (getopt_long).  Options may stand
 * before or behind the operands; `--` ends them.
 */
#ifndef CONSOLE_ARGS_H
#define CONSOLE_ARGS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "base/format.h"
#include "base/units.h"
#include "ops/station.h"

#define ARGS_OPTIONS_MAX 48
#define ARGS_VALUES_MAX 64
#define ARGS_OPERANDS_MAX 64

/* One option of a command; a table ends with a NULL name. */
struct opt {
	const char *name; /* without dashes */
	const char *arg;  /* what its value is, NULL for a flag */
	const char *help;
};

struct args {
	struct station_options where;
	enum format format;
	bool help;

	struct {
		const char *name, *value;
	} value[ARGS_VALUES_MAX]; /* in the order given */
	size_t value_count;

	char *operand[ARGS_OPERANDS_MAX];
	size_t operand_count;
	int rest; /* index of the first operand in argv */
};

/* Exit status for a command line that cannot be understood (sysexits.h). */
#define EXIT_USAGE 64

/*
 * args_parse - read argv behind the command's name; adds to `a`, which may
 * hold what stood before the command.  With `options` NULL it reads only the
 * common options before the command, and a->rest says where that is.
 * RC_OK or RC_INVALID.
 */
enum rc args_parse(struct args *a, int argc, char **argv,
    const struct opt *options, struct err *err) MUST_CHECK;

/* The options every command takes. */
extern const struct opt args_common[];
/* For a command that has none of its own. */
extern const struct opt args_no_options[];

/* args_get - last value of an option, or NULL. */
const char *args_get(const struct args *a, const char *name);
/* args_nth - n-th value of a repeatable option, or NULL. */
const char *args_nth(const struct args *a, const char *name, size_t n);
bool args_flag(const struct args *a, const char *name);

/* args_want - a value that must be there.  RC_OK, RC_INVALID. */
enum rc args_want(const char **out, const struct args *a, const char *name,
    struct err *err) MUST_CHECK;

/* args_int, args_weight - leave *out alone when the option is not given. */
enum rc args_int(int64_t *out, const struct args *a, const char *name,
    int64_t min, int64_t max, struct err *err) MUST_CHECK;
enum rc args_weight(grams *out, const struct args *a, const char *name,
    struct err *err) MUST_CHECK;

#endif /* CONSOLE_ARGS_H */
