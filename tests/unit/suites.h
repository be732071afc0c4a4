/* suites.h - all suites, one line each. */
#define SUITES(X)                                                              \
	X(base_buf)                                                            \
	X(base_clock)                                                          \
	X(base_csv)                                                            \
	X(base_day)                                                            \
	X(base_file)                                                           \
	X(base_jsonw)                                                          \
	X(base_str)                                                            \
	X(base_units)                                                          \
	X(config_ini)                                                          \
	X(core_area)                                                           \
	X(core_code)                                                           \
	X(core_cut)                                                            \
<<<<<<< HEAD
X(core_cutplan_glpk)
X(core_cutplan_prop)                                                   \
=======
X(core_cutplan)
X(core_cutplan_stock)                                                  \
>>>>>>> w-cut
X(core_freshness)
X(core_gear)
X(core_gs1)
X(core_gs1_prop)
X(core_gs1_value)
X(core_gs1_zint)
X(core_icelife)
X(core_label_code)
X(core_landing)
X(core_papers)
X(core_prepplan)
X(core_prepplan_stock)
X(core_quality_index)
X(core_ruleset)
X(core_ruleset_house)
X(core_species)
X(core_useby)
X(core_useby_prop)
X(core_useby_raw)
X(core_yield)
X(demo)
X(drivers_png)
X(drivers_transport)
X(drivers_zpl)
X(exchange_in)
X(label_chain)
X(labels_barcode)
X(labels_refused)
X(labels_render)
X(ops)
X(ops_clock)
X(ops_rules)
X(ops_service)
X(store_file)
X(store_records)
