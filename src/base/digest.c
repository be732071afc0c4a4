/* digest.c - BLAKE2b-256 through libsodium. */
#include "base/digest.h"

#include <assert.h>
#include <sodium.h>

char *
digest_hex(char out[DIGEST_HEX_MAX], const void *data, size_t len)
{
	unsigned char hash[32];
	int rc;

	rc = sodium_init();
	assert(rc >= 0);
	rc = crypto_generichash(hash, sizeof(hash), data, len, NULL, 0);
	assert(rc == 0);
	(void)rc;
	return sodium_bin2hex(out, DIGEST_HEX_MAX, hash, sizeof(hash));
}
