/* options.c - any text as the options of an export, and as its whole name: what they say is written and read again the same */
#include "core/trace/trace.h"
#include "tests/fuzz/fuzz.h"

#include <string.h>

/* Each key alone can be asked for, taken out and put back. */
static void
turn_keys (const char *text)
{
  g_auto (GStrv) pairs = g_strsplit (text, "&", -1);

  for (guint i = 0; pairs[i] && *pairs[i]; i++) {
    g_autofree char *key = g_strndup (pairs[i], strcspn (pairs[i], "="));
    g_autofree char *value = sp_trace_options_get (text, key), *without = sp_trace_options_set (text, key, NULL, NULL);
    FUZZ_MUST (value);
    if (!without) /* the rest makes no sense alone: from= without to= */
      continue;
    g_autofree char *none = sp_trace_options_get (without, key);
    FUZZ_MUST (!none);
  }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autofree char *text = g_strndup ((const char *) data, size), *path = NULL;
  g_autoptr (GError) error = NULL, name_error = NULL;
  SpTraceOptions options, again, named;

  gboolean understood = sp_trace_options_from_text (text, &options, &error);
  FUZZ_MUST (understood == !error && (!error || *error->message));
  if (understood) {
    g_autofree char *canonical = sp_trace_options_text (&options);
    FUZZ_MUST (sp_trace_options_from_text (canonical, &again, NULL));
    g_autofree char *twice = sp_trace_options_text (&again);
    FUZZ_MUST (strcmp (canonical, twice) == 0);
    turn_keys (canonical);
    sp_trace_options_clear (&again);
  }
  sp_trace_options_clear (&options);
  understood = sp_trace_options_parse (text, &path, &named, &name_error);
  FUZZ_MUST (understood == !name_error && (!name_error || *name_error->message) && (!understood || path));
  sp_trace_options_clear (&named);
  return 0;
}
