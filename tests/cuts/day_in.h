/* day_in.h - shared by day_said.c, day_morning.c and day_steps.c; private to
 * them. */
#ifndef DAY_IN_H
#define DAY_IN_H

#include "day.h"
#include "ops/label.h"
#include "ops/receive.h"
#include "store/batches.h"
#include "store/portions.h"

/* What a step said. */
void audits(struct day *d, int64_t more);
void events(struct day *d, int64_t more);
void batch_said(struct day *d, const struct batch *b, const char *lot);
void left_said(struct day *d, const char *code, int64_t left);
void unit_said(struct day *d, const struct portion *p);
void jobs_said(struct day *d, const struct job_list *jobs);
void held_said(struct day *d, int64_t open);

/* day_hake - a delivery of six hake, to be changed; day_take_in - receive one
 * and say so; day_labels - print some and say so. */
struct receive_in day_hake(void);
enum rc day_take_in(struct day *d, char code[CODE_SIZE],
    const struct receive_in *in, struct err *err);
enum rc day_labels(struct day *d, const struct label_order *o, struct err *err);

/* Until the labels of the morning are printed. */
step_fn step_make_file;
step_fn step_open_it;
step_fn step_reopen;
step_fn step_person;
step_fn step_suppliers;
step_fn step_menu;
step_fn step_bookings;
step_fn step_goods_hake;
step_fn step_goods_plaice;
step_fn step_goods_mussels;
step_fn step_goods_refused;
step_fn step_typed;
step_fn step_half_typed;
step_fn step_planned;
step_fn step_break_hake;
step_fn step_break_plaice;
step_fn step_label_queued;
step_fn step_label_worked;
step_fn step_label_printed;
step_fn step_label_once_more;
step_fn step_list_printed;

#endif /* DAY_IN_H */
