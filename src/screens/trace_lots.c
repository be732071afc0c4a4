/* trace_lots.c - batches by what a supplier names, on the Trace screen. */
#include "base/str.h"
#include "trace_inner.h"
#include "trace_recall.h"

void
trace_lot_wish(struct lot_wish *w, const struct trace *s)
{
	*w = (struct lot_wish){
		.lot = form_value(&s->form, TRACE_F_LOT),
		.document = form_value(&s->form, TRACE_F_DOCUMENT),
		.supplier = form_value(&s->form, TRACE_F_SUPPLIER),
		.from = form_value(&s->form, TRACE_F_DAY),
	};
}

void
trace_lots_show(struct desk *d, struct trace *s)
{
	struct lot_wish w;
	struct trace_lots t;
	struct err err = { 0 };

	trace_lot_wish(&w, s);
	if (trace_lots_load(&t, d->sn, &w, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	trace_lots_fini(&s->recalls.lots);
	s->recalls.lots = t;
	s->mode = TRACE_LOTS;
	s->list.count = (int)t.list.count;
	list_fit(&s->list);
	d->notice[0] = '\0';
}
