/* suites.h - all suites, one line each. */
#define SUITES(X)                                                              \
	X(base_csv)
