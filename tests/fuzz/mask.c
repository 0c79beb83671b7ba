/* mask.c - any bytes as a mask; its segments cover what was asked for, without a hole or an overlap */
#include "core/mask/mask.h"
#include "tests/fuzz/key-file.h"

static gpointer
read_mask (SpKeyFile *file, GError **error)
{
  return sp_mask_parse (file, error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (SpMask) mask = fuzz_key_file (read_mask, (const char *) data, size);

  if (!mask)
    return 0;
  FUZZ_READ_AGAIN (SpMask, read_mask, mask);
  g_autoptr (GArray) segments = sp_mask_segments (mask, 146e6, 5, 16e3, 1e4, 1e6, 2e9);
  FUZZ_MUST (segments->len > 0);
  for (guint i = 0; i < segments->len; i++) {
    const SpLimitSegment *segment = &g_array_index (segments, SpLimitSegment, i);
    FUZZ_MUST (segment->from_hz == (i == 0 ? 1e6 : g_array_index (segments, SpLimitSegment, i - 1).to_hz));
  }
  FUZZ_MUST (g_array_index (segments, SpLimitSegment, segments->len - 1).to_hz == 2e9);
  return 0;
}
