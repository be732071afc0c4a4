/* cmd_table.c - all commands, in the order of a day. */
#include "cmds.h"

const struct cmd *const commands[] = {
	&cmd_init,
	&cmd_import,
	&cmd_scan,
	&cmd_receive,
	&cmd_forecast,
	&cmd_expect,
	&cmd_plan,
	&cmd_cut,
	&cmd_prep,
	&cmd_label,
	&cmd_ticket,
	&cmd_stock,
	&cmd_use,
	&cmd_useby,
	&cmd_discard,
	&cmd_close,
	&cmd_hold,
	&cmd_release,
	&cmd_trace,
	&cmd_species,
	&cmd_log,
	&cmd_clock,
	&cmd_config,
	NULL,
};
