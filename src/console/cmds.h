/*
 * cmds.h - every command's row.  Private to src/console.
 */
#ifndef CONSOLE_CMDS_H
#define CONSOLE_CMDS_H

#include "console/cmd.h"
#include "ops/label.h"

extern const struct cmd cmd_backup;
extern const struct cmd cmd_prune;
extern const struct cmd cmd_balance;
extern const struct cmd cmd_clock;
extern const struct cmd cmd_close;
extern const struct cmd cmd_complaint;
extern const struct cmd cmd_combine;
extern const struct cmd cmd_config;
extern const struct cmd cmd_count;
extern const struct cmd cmd_cut;
extern const struct cmd cmd_discard;
extern const struct cmd cmd_drill;
extern const struct cmd cmd_expect;
extern const struct cmd cmd_export;
extern const struct cmd cmd_forecast;
extern const struct cmd cmd_freeze;
extern const struct cmd cmd_help;
extern const struct cmd cmd_hold;
extern const struct cmd cmd_import;
extern const struct cmd cmd_init;
extern const struct cmd cmd_inspect;
extern const struct cmd cmd_label;
extern const struct cmd cmd_lesson;
extern const struct cmd cmd_log;
extern const struct cmd cmd_papers;
extern const struct cmd cmd_moved;
extern const struct cmd cmd_move;
extern const struct cmd cmd_note;
extern const struct cmd cmd_people;
extern const struct cmd cmd_plan;
extern const struct cmd cmd_prep;
extern const struct cmd cmd_printer;
extern const struct cmd cmd_receive;
extern const struct cmd cmd_recall;
extern const struct cmd cmd_release;
extern const struct cmd cmd_restore;
extern const struct cmd cmd_scan;
extern const struct cmd cmd_species;
extern const struct cmd cmd_station;
extern const struct cmd cmd_stock;
extern const struct cmd cmd_thaw;
extern const struct cmd cmd_ticket;
extern const struct cmd cmd_today;
extern const struct cmd cmd_trace;
extern const struct cmd cmd_undo;
extern const struct cmd cmd_use;
extern const struct cmd cmd_useby;
extern const struct cmd cmd_verify;
extern const struct cmd cmd_weigh;

/* Options of every command that prints labels. */
#define CMD_LABEL_OPTIONS                                                      \
	{ "printer", "NAME", "which printer of the settings prints it" },      \
	    { "wait", "SECONDS",                                               \
		    "for a printer that is not ready, 0 to 600 (10)" },        \
	{                                                                      \
		"queue", NULL,                                                 \
		    "only queue: a worker or the next print sends it"          \
	}

/* cmd_label_order - those options, and who asks.  RC_OK, RC_INVALID. */
enum rc cmd_label_order(
    struct label_order *out, const struct args *a, struct err *err) MUST_CHECK;

/* cmd_put_jobs - a line (or a member of "labels") for each job. */
void cmd_put_jobs(
    struct buf *out, const struct job_list *jobs, enum format format);

#endif /* CONSOLE_CMDS_H */
