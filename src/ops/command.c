/* command.c - how this program is called for the same station. */
#include "ops/command.h"

#include "base/clock.h"
#include "store/store.h"

static void
put(struct command *c, const char *option, const char *value)
{
	c->args[c->count++] = option;
	c->args[c->count++] = value;
}

void
command_of(struct command *out, const struct station *sn)
{
	*out = (struct command){ 0 };
	if (sn->st != NULL)
		put(out, "--db", store_path(sn->st));
	else if (sn->file[0] != '\0')
		put(out, "--db", sn->file);
	put(out, "--config", sn->cfg.path);
	if (sn->clock.fixed)
		put(out, "--now",
		    time_rfc3339(
			out->now, sizeof(out->now), clock_now(&sn->clock)));
}
