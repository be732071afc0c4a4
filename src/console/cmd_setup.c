/* cmd_setup.c - init, import, config. */
#include "cmds.h"

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/bring_in.h"
#include "ops/label.h"

static enum rc
run_init(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	char path[CONFIG_PATH_SIZE];
	enum rc rc;

	(void)sn;
	if ((rc = station_init(path, &a->where, err)) != RC_OK)
		return rc;
	buf_printf(out, "made station file %s\n", path);
	return RC_OK;
}

const struct cmd cmd_init = {
	.name = "init",
	.operands = "",
	.summary = "make a new station file",
	.help =
	    "Never overwrites.  The settings decide for good whether it "
	    "is a training station.",
	.run = run_init,
};

static void
put_import(struct buf *out, const char *kind, const struct import_result *r,
    enum format format)
{
	struct jsonw *w;

	if (format != FORMAT_JSON) {
		buf_printf(out, "%s: %d added, %d changed, %d as before", kind,
		    r->added, r->changed, r->same);
		if (r->dropped > 0)
			buf_printf(out, ", %d off the menu", r->dropped);
		buf_putc(out, '\n');
		return;
	}
	w = jsonw_new_object();
	jsonw_str(w, "kind", kind);
	jsonw_int(w, "added", r->added);
	jsonw_int(w, "changed", r->changed);
	jsonw_int(w, "same", r->same);
	jsonw_int(w, "dropped", r->dropped);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static enum rc
run_import(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	static const struct {
		const char *kind;
		enum rc (*bring_in)(struct import_result *, struct station *,
		    const char *, const char *, struct err *);
	} kinds[] = {
		{ "bookings", import_bookings },
		{ "menu", import_menu },
		{ "offers", import_offers },
		{ "sales", import_sales },
		{ "suppliers", import_suppliers },
	};
	const char *kind = a->operand[0], *by = args_get(a, "by");
	struct import_result r;
	size_t i;
	enum rc rc;

	for (i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++)
		if (str_eq(kind, kinds[i].kind))
			break;
	if (i == sizeof(kinds) / sizeof(kinds[0]))
		return err_set(err, RC_INVALID, 0,
		    "\"%.30s\" cannot be imported: bookings, menu, offers, "
		    "sales or suppliers",
		    kind);
	rc = kinds[i].bring_in(
	    &r, sn, a->operand[1], by == NULL ? "import" : by, err);
	if (rc != RC_OK)
		return rc;
	put_import(out, kind, &r, a->format);
	return RC_OK;
}

const struct cmd cmd_import = {
	.name = "import",
	.operands = "bookings|menu|offers|sales|suppliers FILE",
	.summary = "bookings, menu, sales, suppliers or offers from a CSV file",
	.help =
	    "bookings (date, service, covers; optional parties), "
	    "sales (date, service, dish, sold; optional ran_out_at, seated, "
	    "walk_ins), menu (dish, name, "
	    "state, species, cut, skin, bought, low, target, high, mix; "
	    "optional allergens, yield, price, finish, pieces), suppliers "
	    "(code, name, address; optional approval, contact) or offers "
	    "(supplier, species, presentation, price, step; optional fish).  A "
	    "file is taken whole or not at "
	    "all; the same file again changes nothing.  - is standard input.",
	.min_operands = 2,
	.max_operands = 2,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_import,
};

static enum rc
run_config(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	enum rc rc;

	if (str_eq(a->operand[0], "sample")) {
		config_sample(out);
		return RC_OK;
	}
	if (!str_eq(a->operand[0], "check"))
		return err_set(err, RC_INVALID, 0,
		    "config takes check or sample, not \"%.30s\"",
		    a->operand[0]);
	if ((rc = station_open(&sn, &a->where, false, err)) != RC_OK)
		return rc;
	if ((rc = label_check(sn, err)) != RC_OK) {
		station_close(sn);
		return rc;
	}
	buf_printf(out, "%s: good; %zu species, %zu yields, %d services\n",
	    sn->cfg.path, sn->species.count, sn->yields.count,
	    sn->cfg.service_count);
	station_close(sn);
	return RC_OK;
}

const struct cmd cmd_config = {
	.name = "config",
	.operands = "check|sample",
	.summary = "check the settings and tables, or print a sample",
	.min_operands = 1,
	.max_operands = 1,
	.run = run_config,
};
