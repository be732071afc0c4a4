/*
 * fuzz.h - a fuzz target: one function that takes bytes and aborts when a
 * property does not hold.
 *
 * The name and form of the function are those of libFuzzer, so one file serves
 * the engine (clang, `make fuzz`) and replay.c, which runs a target over files
 * without an engine.  A target keeps nothing between calls.
 */
#ifndef FUZZ_H
#define FUZZ_H

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/*
 * FUZZ_HOLDS - report the property that does not hold, and abort, so that the
 * engine keeps the input.
 */
#define FUZZ_HOLDS(cond)                                                       \
	do {                                                                   \
		if (!(cond))                                                   \
			fuzz_broken(#cond, __FILE__, __LINE__);                \
	} while (0)

_Noreturn void fuzz_broken(const char *cond, const char *file, int line);

#endif /* FUZZ_H */
