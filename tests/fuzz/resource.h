/* resource.h - what a sheet names, read from a key file */
#pragma once

#include "core/bench/bench.h"
#include "tests/fuzz/key-file.h"

/* A chain, an analyzer or a mask. */
static inline gpointer
fuzz_resource (SpResourceKind kind, SpKeyFile *file, GError **error)
{
  return kind == SP_RESOURCE_CHAIN      ? (gpointer) sp_chain_parse_with (file, &fuzz_named, error)
         : kind == SP_RESOURCE_ANALYZER ? (gpointer) sp_analyzer_parse (file, error)
                                        : (gpointer) sp_mask_parse (file, error);
}

static inline GByteArray *
fuzz_kept (const SpPictureParts *parts, GError **error)
{
  (void) error;
  return g_byte_array_ref (parts->kept);
}

/* One grey point as PNG, kept as it is: pixels are decoded above the core. */
static inline gpointer
fuzz_picture (void)
{
  static const char png[] = "\211PNG\r\n\032\n\0\0\0\rIHDR\0\0\0\001\0\0\0\001\010\0\0\0\0\072\176\233\125\0\0\0\nIDAT"
                            "\170\234\143\150\0\0\0\202\0\201\167\315\162\266\0\0\0\0IEND\256\102\140\202";
  g_autoptr (GBytes) bytes = g_bytes_new_static (png, sizeof png - 1);
  sp_picture_set_coder (fuzz_kept);
  return sp_picture_parse (bytes, "file", NULL);
}
