/* hash.c - SHA-256: the published example, and against GLib's for every length about a block */
#include "core/quantity/hash.h"
#include "tests/suite.h"

static char *
hash_of (const void *data, gsize length)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, length);
  return sp_sha256 (bytes);
}

START_TEST (published)
{
  g_autofree char *abc = hash_of ("abc", 3); /* FIPS 180-2, B.1 */
  ck_assert_str_eq (abc, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}
END_TEST

START_TEST (as_glib)
{
  guint8 data[300];

  for (guint i = 0; i < sizeof data; i++)
    data[i] = (guint8) (i * 31 + 7);
  for (guint length = 0; length <= sizeof data; length++) {
    g_autofree char *got = hash_of (data, length), *want = g_compute_checksum_for_data (G_CHECKSUM_SHA256, data, length);
    ck_assert_str_eq (got, want);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("hash");
  TCase *tc = tcase_create ("hash");
  tcase_add_test (tc, published);
  tcase_add_test (tc, as_glib);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
