/* secret.c - Argon2id through libsodium. */
#include "base/secret.h"

#include <assert.h>
#include <sodium.h>
#include <string.h>

static_assert(SECRET_HASH_SIZE == crypto_pwhash_STRBYTES, "size of a hash");

static void
start(void)
{
	int rc = sodium_init();

	assert(rc >= 0);
	(void)rc;
}

enum rc
secret_hash(char out[SECRET_HASH_SIZE], const char *secret, struct err *err)
{
	start();
	if (crypto_pwhash_str(out, secret, strlen(secret),
		crypto_pwhash_OPSLIMIT_INTERACTIVE,
		crypto_pwhash_MEMLIMIT_INTERACTIVE) != 0)
		return err_set(err, RC_FAILED, 0,
		    "not enough memory to keep a PIN: end other programs and "
		    "try again");
	return RC_OK;
}

bool
secret_is(const char hash[SECRET_HASH_SIZE], const char *secret)
{
	start();
	return crypto_pwhash_str_verify(hash, secret, strlen(secret)) == 0;
}

void
secret_wipe(void *bytes, size_t size)
{
	sodium_memzero(bytes, size);
}

char *
secret_name(char out[SECRET_NAME_SIZE])
{
	unsigned char bytes[(SECRET_NAME_SIZE - 1) / 2];

	start();
	randombytes_buf(bytes, sizeof(bytes));
	return sodium_bin2hex(out, SECRET_NAME_SIZE, bytes, sizeof(bytes));
}
