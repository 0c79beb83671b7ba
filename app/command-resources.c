/* command-resources.c - what a chain loses, what a mask asks, whether anything burns */
#include "app/command.h"

#include "core/findings/findings.h"
#include "core/headroom/headroom.h"
#include "core/judge/judge.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int
give (const Arguments *arguments, char *text, GError **error)
{
  g_autofree char *owned = text;
  gboolean json = arguments_have (arguments, "json");
  return (json ? output_machine (arguments, owned, error) : output_text (arguments, owned, error)) ? DONE : FAILED;
}

static int
ascending (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

/* All the frequencies that the stages were measured at (or that their labels span), once each. (transfer full) */
static GArray *
measured_frequencies (const SpChain *chain)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (double)), *once = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < chain->n; i++) {
    const SpStage *stage = chain->stages[i];
    if (stage->loss)
      g_array_append_vals (all, stage->loss->frequency_hz, stage->loss->n);
    else if (isfinite (stage->span_low_hz) && isfinite (stage->span_high_hz)) {
      g_array_append_val (all, stage->span_low_hz);
      g_array_append_val (all, stage->span_high_hz);
    }
  }
  g_array_sort (all, ascending);
  for (guint i = 0; i < all->len; i++)
    if (g_array_index (all, double, i) > 0 && (i == 0 || g_array_index (all, double, i) > g_array_index (all, double, i - 1)))
      g_array_append_val (once, g_array_index (all, double, i));
  g_array_unref (all);
  return once;
}

/* "F,F,..." in the order given. (transfer full) */
static GArray *
asked_frequencies (const char *text, GError **error)
{
  g_auto (GStrv) items = g_strsplit (text, ",", -1);
  g_autoptr (GArray) frequencies = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; items[i]; i++) {
    double frequency;
    if (!sp_parse_frequency (items[i], &frequency, error)) {
      g_prefix_error (error, "--at %s: ", text);
      return NULL;
    }
    g_array_append_val (frequencies, frequency);
  }
  return g_steal_pointer (&frequencies);
}

int
command_chain (const Arguments *arguments, GError **error)
{
  if (!input_rest (arguments, "chain", 1, 1, error))
    return FAILED;
  const char *at = arguments_text (arguments, "at");
  g_autoptr (GArray) frequencies = at ? asked_frequencies (at, error) : NULL;
  if (at && !frequencies)
    return FAILED;
  g_autoptr (SpChain) chain = sp_chain_read (g_ptr_array_index (arguments->rest, 0), error);
  if (!chain)
    return FAILED;
  if (!at)
    frequencies = measured_frequencies (chain);
  const double *f = (const double *) (void *) frequencies->data;
  return give (arguments,
               arguments_have (arguments, "json") ? sp_json_chain (chain, frequencies->len, f)
                                                  : sp_table_chain (chain, frequencies->len, f),
               error);
}

static int
list_masks (const Arguments *arguments, GError **error)
{
  g_autoptr (GPtrArray) masks = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_mask_unref);
  for (const char *const *name = sp_mask_names (); *name; name++) {
    SpMask *mask = sp_mask_load (*name, error);
    if (!mask)
      return FAILED;
    g_ptr_array_add (masks, mask);
  }
  return give (arguments, arguments_have (arguments, "json") ? sp_json_masks (masks) : sp_table_masks (masks), error);
}

int
command_mask (const Arguments *arguments, GError **error)
{
  double fundamental = NAN, power = NAN, bandwidth = 16e3;
  if (!input_rest (arguments, "mask", 0, 1, error) || !arguments_frequency (arguments, "fundamental", &fundamental, error)
      || !arguments_power (arguments, "power", &power, error) || !arguments_frequency (arguments, "bandwidth", &bandwidth, error))
    return FAILED;
  if (!arguments->rest->len)
    return list_masks (arguments, error);
  g_autoptr (SpMask) mask = sp_mask_load (g_ptr_array_index (arguments->rest, 0), error);
  if (!mask)
    return FAILED;
  if (!(fundamental > 0) || isnan (power)) {
    sp_fail (error, SP_ERROR_USAGE, _ ("a mask is evaluated for a radio: give --fundamental F (above 0) and --power P"));
    return FAILED;
  }
  double to = fmax (mask->harmonics * fundamental, isnan (mask->search_high_hz) ? 0 : mask->search_high_hz);
  g_autoptr (GArray) segments = sp_mask_segments (mask, fundamental, power, bandwidth, NAN, 0, to);
  g_autoptr (SpReason) none = sp_mask_applies (mask, fundamental, power, power)
                                  ? NULL
                                  : sp_reason (CLASSES_NONE, .mask = mask->name, .fundamental_hz = fundamental, .power_w = power);
  return give (arguments, arguments_have (arguments, "json") ? sp_json_mask (mask, segments, none) : sp_table_mask (mask, segments, none),
               error);
}

/* What a headroom is worked out for; a bench is only needed for what the options leave open. */
typedef struct {
  SpChain *chain;
  SpAnalyzer *analyzer;
  double fundamental_hz, power_w, attenuation_db, temperature_c, duty;
} Asked;

static double
found_fundamental (const SpBench *bench, guint condition)
{
  g_autoptr (SpFindings) findings = sp_judge (bench);
  return findings->conditions[condition].fundamental_hz;
}

static gboolean
fill_from_bench (Asked *asked, const SpBench *bench, const char *radio, GError **error)
{
  int index = radio ? input_condition (bench, radio, error) : 0;
  if (index < 0)
    return FALSE;
  if (!bench->n_conditions)
    return sp_fail (error, SP_ERROR_USAGE, _ ("%s: there is no radio in it"), bench->file);
  const SpCondition *condition = &bench->conditions[index];
  asked->chain = sp_chain_ref (sp_condition_chain (bench, condition));
  asked->analyzer = sp_analyzer_ref (sp_condition_analyzer (bench, condition));
  asked->temperature_c = bench->temperature_c;
  asked->duty = condition->duty;
  for (guint i = 0; i < condition->n_sweeps && isnan (asked->attenuation_db); i++)
    if (condition->sweeps[i].purpose == SP_PURPOSE_KEYED)
      asked->attenuation_db = condition->sweeps[i].trace->settings.attenuation_db;
  if (isnan (asked->fundamental_hz))
    asked->fundamental_hz = condition->fundamental_hz;
  if (isnan (asked->fundamental_hz))
    asked->fundamental_hz = found_fundamental (bench, (guint) index);
  return TRUE;
}

static gboolean
fill_asked (Asked *asked, const Arguments *arguments, GError **error)
{
  gboolean without_bench = !arguments->rest->len && !arguments_have (arguments, "radio");
  if (!arguments_frequency (arguments, "fundamental", &asked->fundamental_hz, error)
      || !arguments_power (arguments, "power", &asked->power_w, error)
      || !arguments_number (arguments, "attenuation", &asked->attenuation_db, error))
    return FALSE;
  if (isnan (asked->power_w))
    return sp_fail (error, SP_ERROR_USAGE, _ ("the radio's power is needed: --power 5W or --power 37dBm"));
  if (without_bench && arguments_have (arguments, "chain") && arguments_have (arguments, "analyzer")) {
    g_autoptr (SpMask) unused = NULL;
    if (!input_resources (arguments, &asked->chain, &asked->analyzer, &unused, error))
      return FALSE;
  } else {
    g_autoptr (SpBench) bench = input_bench (arguments, error);
    if (!bench || !fill_from_bench (asked, bench, input_radio_named (arguments), error))
      return FALSE;
  }
  if (!(asked->fundamental_hz > 0))
    return sp_fail (error, SP_ERROR_USAGE, _ ("the radio's frequency is needed: --fundamental 146.52MHz"));
  return TRUE;
}

int
command_headroom (const Arguments *arguments, GError **error)
{
  Asked asked = { NULL, NULL, NAN, NAN, NAN, NAN, 1 };
  int done = FAILED;
  if (fill_asked (&asked, arguments, error)) {
    g_autoptr (SpHeadroom) headroom = sp_headroom (asked.chain, asked.analyzer, asked.power_w, asked.fundamental_hz, asked.temperature_c,
                                                   asked.duty, asked.attenuation_db);
    done = give (arguments,
                 arguments_have (arguments, "json") ? sp_json_headroom (headroom, asked.chain) : sp_table_headroom (headroom, asked.chain),
                 error);
  }
  g_clear_pointer (&asked.chain, sp_chain_unref);
  g_clear_pointer (&asked.analyzer, sp_analyzer_unref);
  return done;
}
