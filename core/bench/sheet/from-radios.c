/* from-radios.c - a bench without a sheet: of radios and their traces by words of the command line */
#include "core/bench/build.h"
#include "core/bench/sheet/sheet.h"
#include "core/bench/sheet/write.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/trace/read/read.h"

static gboolean
add_radio_text (SpBench *bench, const char *text, GError **error)
{
  const char *equals = strchr (text, '=');
  if (!equals || equals == text || !equals[1])
    return sp_fail (error, SP_ERROR_USAGE, _ ("found the radio “%s”; expected NAME=TRACE[;TRACE...]"), text);
  g_autofree char *raw = g_strndup (text, equals - text), *name = sp_unescape (raw);
  if (strchr (name, '/'))
    return sp_fail (error, SP_ERROR_USAGE, _ ("the radio “%s”: a radio's name has no / in it"), name);
  for (guint i = 0; i < bench->n_radios; i++)
    if (strcmp (bench->radios[i].name, name) == 0)
      return sp_fail (error, SP_ERROR_USAGE, _ ("the radio “%s” is given twice; put its traces into one, divided by ;"), name);
  sp_bench_add_radio (bench, g_steal_pointer (&name));
  SpCondition *condition = sp_bench_add_condition (bench, bench->n_radios - 1, g_strdup (""));
  gboolean one = g_file_test (equals + 1, G_FILE_TEST_EXISTS); /* with a ; in its name */
  g_auto (GStrv) references = g_strsplit (equals + 1, ";", one ? 1 : 0);
  for (guint i = 0; references[i]; i++) {
    g_autofree char *path = NULL;
    SpTraceOptions options;
    if (!one && !*g_strstrip (references[i]))
      continue;
    sp_trace_options_init (&options);
    SpTrace *trace = sp_trace_operand_parse (references[i], &path, &options, error) ? sp_trace_read_hashed (path, &options, error) : NULL;
    sp_trace_options_clear (&options);
    if (!trace)
      return FALSE;
    sp_condition_add_sweep (condition, SP_PURPOSE_KEYED, trace, NULL, NAN);
  }
  return condition->n_sweeps > 0
         || sp_fail (error, SP_ERROR_USAGE, _ ("the radio “%s” has no trace; expected NAME=TRACE[;TRACE...]"), text);
}

SpBench *
sp_bench_from_radios (const char *const *radios, SpChain *chain, SpAnalyzer *analyzer, SpMask *mask, GError **error)
{
  guint n = g_strv_length ((char **) radios);
  if (n > SP_CONDITIONS_MAX) {
    sp_fail (error, SP_ERROR_LIMIT, _ ("more than %d radios"), SP_CONDITIONS_MAX);
    return NULL;
  }
  g_autoptr (SpBench) bench = sp_bench_new (n);
  bench->chain = sp_chain_ref (chain);
  bench->analyzer = sp_analyzer_ref (analyzer);
  bench->mask = sp_mask_ref (mask);
  for (guint i = 0; i < n; i++)
    if (!add_radio_text (bench, radios[i], error))
      return NULL;
  sp_bench_finish (bench);
  return g_steal_pointer (&bench);
}
