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
	X(core_code)                                                           \
	X(core_cut)                                                            \
	X(core_label_code)                                                     \
	X(core_prepplan)                                                       \
	X(core_prepplan_stock)                                                 \
	X(core_species)                                                        \
	X(core_yield)                                                          \
	X(demo)                                                                \
	X(drivers_png)                                                         \
	X(drivers_transport)                                                   \
	X(drivers_zpl)                                                         \
	X(exchange_in)                                                         \
	X(label_chain)                                                         \
	X(labels_barcode)                                                      \
	X(labels_refused)                                                      \
	X(labels_render)                                                       \
	X(ops)                                                                 \
	X(ops_clock)                                                           \
	X(ops_service)                                                         \
	X(store_file)                                                          \
	X(store_records)
