/* args.c - the command line of one command, by a table. */
#include "console/args.h"

#include <assert.h>
#include <getopt.h>
#include <string.h>

#include "base/str.h"

const struct opt args_common[] = {
	{ "db", "FILE", "station file" },
	{ "config", "FILE", "settings" },
	{ "json", NULL, "listing as JSON" },
	{ "csv", NULL, "listing as CSV" },
	{ "now", "TIME", "time of a training station, YYYY-MM-DDTHH:MM" },
	{ "by", "INITIALS", "who does it" },
	{ "help", NULL, "this text" },
	{ NULL, NULL, NULL },
};

const struct opt args_no_options[] = {
	{ NULL, NULL, NULL },
};

/* Long options for getopt: the common ones, then the command's. */
static void
fill(struct option *longs, const struct opt **opts, const struct opt *options)
{
	const struct opt *const tables[] = { args_common, options };
	const struct opt *o;
	int i, n = 0;

	for (i = 0; i < 2; i++)
		for (o = tables[i]; o != NULL && o->name != NULL; o++) {
			assert(n < ARGS_OPTIONS_MAX - 1);
			longs[n].name = o->name;
			longs[n].has_arg =
			    o->arg == NULL ? no_argument : required_argument;
			opts[n++] = o;
		}
}

static enum rc
add_value(
    struct args *a, const struct opt *o, const char *value, struct err *err)
{
	if (a->value_count == ARGS_VALUES_MAX)
		return err_set(err, RC_INVALID, 0, "too many options");
	a->value[a->value_count].name = o->name;
	a->value[a->value_count++].value = value == NULL ? "" : value;
	if (str_eq(o->name, "db"))
		a->where.db = value;
	else if (str_eq(o->name, "config"))
		a->where.config = value;
	else if (str_eq(o->name, "now"))
		a->where.now = value;
	else if (str_eq(o->name, "json"))
		a->format = FORMAT_JSON;
	else if (str_eq(o->name, "csv"))
		a->format = FORMAT_CSV;
	else if (str_eq(o->name, "help"))
		a->help = true;
	return RC_OK;
}

enum rc
args_parse(struct args *a, int argc, char **argv, const struct opt *options,
    struct err *err)
{
	struct option longs[ARGS_OPTIONS_MAX];
	const struct opt *opts[ARGS_OPTIONS_MAX];
	int c, i;
	enum rc rc;

	memset(longs, 0, sizeof(longs));
	fill(longs, opts, options);
	opterr = 0;
	optind = 0; /* glibc: start afresh */
	while ((c = getopt_long(argc, argv, options == NULL ? "+:h" : ":h",
		    longs, &i)) != -1) {
		if (c == 'h')
			a->help = true;
		else if (c == ':')
			return err_set(err, RC_INVALID, 0,
			    "option %.60s needs a value", argv[optind - 1]);
		else if (c == '?')
			return err_set(err, RC_INVALID, 0,
			    "option \"%.60s\" is not known here: see --help",
			    argv[optind - 1]);
		else if ((rc = add_value(a, opts[i], optarg, err)) != RC_OK)
			return rc;
	}
	a->rest = optind;
	for (; options != NULL && optind < argc; optind++) {
		if (a->operand_count == ARGS_OPERANDS_MAX)
			return err_set(err, RC_INVALID, 0, "too many operands");
		a->operand[a->operand_count++] = argv[optind];
	}
	return RC_OK;
}

const char *
args_nth(const struct args *a, const char *name, size_t n)
{
	size_t i;

	for (i = 0; i < a->value_count; i++)
		if (str_eq(a->value[i].name, name) && n-- == 0)
			return a->value[i].value;
	return NULL;
}

const char *
args_get(const struct args *a, const char *name)
{
	size_t i;

	for (i = a->value_count; i > 0; i--)
		if (str_eq(a->value[i - 1].name, name))
			return a->value[i - 1].value;
	return NULL;
}

bool
args_flag(const struct args *a, const char *name)
{
	return args_get(a, name) != NULL;
}

enum rc
args_want(
    const char **out, const struct args *a, const char *name, struct err *err)
{
	*out = args_get(a, name);
	if (*out != NULL)
		return RC_OK;
	return err_set(err, RC_INVALID, 0, "--%s is missing", name);
}

enum rc
args_int(int64_t *out, const struct args *a, const char *name, int64_t min,
    int64_t max, struct err *err)
{
	const char *s = args_get(a, name);
	char what[40];

	if (s == NULL)
		return RC_OK;
	str_fmt(what, sizeof(what), "--%s", name);
	return int_parse(out, what, s, min, max, err);
}

enum rc
args_weight(grams *out, const struct args *a, const char *name, struct err *err)
{
	const char *s = args_get(a, name);
	char what[40];

	if (s == NULL)
		return RC_OK;
	str_fmt(what, sizeof(what), "--%s", name);
	return weight_parse(out, what, s, err);
}
