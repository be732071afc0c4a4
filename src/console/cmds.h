/*
 * cmds.h - every command's row.  Private to src/console.
 */
#ifndef CONSOLE_CMDS_H
#define CONSOLE_CMDS_H

#include "console/cmd.h"

extern const struct cmd cmd_clock;
extern const struct cmd cmd_close;
extern const struct cmd cmd_config;
extern const struct cmd cmd_cut;
extern const struct cmd cmd_discard;
extern const struct cmd cmd_expect;
extern const struct cmd cmd_forecast;
extern const struct cmd cmd_hold;
extern const struct cmd cmd_import;
extern const struct cmd cmd_init;
extern const struct cmd cmd_label;
extern const struct cmd cmd_log;
extern const struct cmd cmd_plan;
extern const struct cmd cmd_prep;
extern const struct cmd cmd_receive;
extern const struct cmd cmd_release;
extern const struct cmd cmd_scan;
extern const struct cmd cmd_species;
extern const struct cmd cmd_stock;
extern const struct cmd cmd_ticket;
extern const struct cmd cmd_trace;
extern const struct cmd cmd_use;
extern const struct cmd cmd_useby;

#endif /* CONSOLE_CMDS_H */
