/* hash.c - SHA-256 of bytes */
#include "core/quantity/hash.h"

#include <nettle/base16.h>
#include <nettle/sha2.h>

char *
sp_sha256 (GBytes *bytes)
{
  guint8 digest[SHA256_DIGEST_SIZE];
  struct sha256_ctx context;
  gsize length;
  const guint8 *data = g_bytes_get_data (bytes, &length);
  char *text = g_malloc0 (BASE16_ENCODE_LENGTH (sizeof digest) + 1);

  sha256_init (&context);
  sha256_update (&context, length, data);
  sha256_digest (&context, sizeof digest, digest);
  base16_encode_update (text, sizeof digest, digest);
  return text;
}
