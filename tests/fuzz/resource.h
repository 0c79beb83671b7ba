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
