/*
 * base/secret.h - a word only its owner knows, such as a PIN: kept as a hash
 * that is slow to guess, and wiped from memory after use.
 */
#ifndef BASE_SECRET_H
#define BASE_SECRET_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

#define SECRET_HASH_SIZE 128 /* text of a hash, with its end */

/*
 * secret_hash - Argon2id with a salt of its own; the text carries its costs.
 * Takes about a tenth of a second and 64 MiB, on purpose.
 * RC_OK, RC_FAILED when there is not so much memory.
 */
enum rc secret_hash(
    char out[SECRET_HASH_SIZE], const char *secret, struct err *err) MUST_CHECK;

/* secret_is - was `hash` made of this?  No memory to find out: false. */
bool secret_is(const char hash[SECRET_HASH_SIZE], const char *secret);

/* secret_name - 128 random bits as hexadecimal digits: a name nothing else
 * has.  Returns `out`. */
#define SECRET_NAME_SIZE 33
char *secret_name(char out[SECRET_NAME_SIZE]);

/* secret_wipe - zeros the compiler does not leave out. */
void secret_wipe(void *bytes, size_t size);

#endif /* BASE_SECRET_H */
