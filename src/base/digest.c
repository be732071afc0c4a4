/* digest.c - BLAKE2b-256 through libsodium. */
#include "base/digest.h"

#include <assert.h>
#include <sodium.h>
#include <stdlib.h>

#include "base/mem.h"

#define HASH_BYTES 32

struct digest {
	crypto_generichash_state *state; /* aligned, so not a member */
};

struct digest *
digest_new(void)
{
	struct digest *d = xcalloc(1, sizeof(*d));
	int rc;

	rc = sodium_init();
	assert(rc >= 0);
	/* It must stand on 64 bytes; malloc promises 16. */
	d->state =
	    aligned_alloc(64, (crypto_generichash_statebytes() + 63) / 64 * 64);
	if (d->state == NULL)
		abort();
	rc = crypto_generichash_init(d->state, NULL, 0, HASH_BYTES);
	assert(rc == 0);
	(void)rc;
	return d;
}

void
digest_add(struct digest *d, const void *data, size_t len)
{
	int rc = crypto_generichash_update(d->state, data, len);

	assert(rc == 0);
	(void)rc;
}

char *
digest_end(char out[DIGEST_HEX_MAX], struct digest *d)
{
	unsigned char hash[HASH_BYTES];
	int rc = crypto_generichash_final(d->state, hash, sizeof(hash));

	assert(rc == 0);
	(void)rc;
	free(d->state);
	free(d);
	return sodium_bin2hex(out, DIGEST_HEX_MAX, hash, sizeof(hash));
}

char *
digest_hex(char out[DIGEST_HEX_MAX], const void *data, size_t len)
{
	struct digest *d = digest_new();

	digest_add(d, data, len);
	return digest_end(out, d);
}

void
digest_bytes(unsigned char *out, size_t size, const void *data, size_t len)
{
	int rc = crypto_generichash(out, size, data, len, NULL, 0);

	assert(rc == 0);
	(void)rc;
}
