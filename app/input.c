/* input.c - the bench that a command works on */
#include "app/command.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/book/book.h"
#include "core/judge/judge.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

#include <glib/gi18n.h>
#include <string.h>

gboolean
input_rest (const Arguments *arguments, const char *name, guint least, guint most, GError **error)
{
  if (arguments->rest->len >= least && arguments->rest->len <= most)
    return TRUE;
  for (const Command *command = commands; command->name; command++)
    if (strcmp (command->name, name) == 0)
      return sp_fail (error, SP_ERROR_USAGE, _ ("usage: spurproof-batch %s %s"), name, command->synopsis);
  g_return_val_if_reached (FALSE);
}

gboolean
input_resources (const Arguments *arguments, SpChain **chain, SpAnalyzer **analyzer, SpMask **mask, GError **error)
{
  const char *chain_file = arguments_text (arguments, "chain"), *analyzer_file = arguments_text (arguments, "analyzer");
  const char *mask_name = arguments_text (arguments, "mask");
  if (chain_file && !(*chain = sp_chain_read (chain_file, error)))
    return FALSE;
  if (analyzer_file && !(*analyzer = sp_analyzer_read (analyzer_file, error)))
    return FALSE;
  return !mask_name || (*mask = sp_mask_load (mask_name, error));
}

static gboolean
decision_rule_asked (const Arguments *arguments, int *rule, GError **error)
{
  const char *text = arguments_text (arguments, "rule");
  *rule = -1;
  if (!text)
    return TRUE;
  for (int i = SP_DECISION_RULE_GUARDED; i <= SP_DECISION_RULE_SIMPLE; i++)
    if (strcmp (text, sp_decision_rule_name ((SpDecisionRule) i)) == 0)
      *rule = i;
  return *rule >= 0 || sp_fail (error, SP_ERROR_USAGE, _ ("--rule %s: guarded or simple was expected"), text);
}

const char *
input_radio_named (const Arguments *arguments)
{
  g_autofree char **radios = arguments_texts (arguments, "radio");
  for (guint i = 0; radios[i]; i++)
    if (!strchr (radios[i], '='))
      return radios[i];
  return NULL;
}

/* Each --radio that makes a radio (NAME=TRACE), not one that only names it. NULL-terminated. (transfer container) */
static char **
radios_made (const Arguments *arguments)
{
  char **radios = arguments_texts (arguments, "radio");
  guint n = 0;
  for (guint i = 0; radios[i]; i++)
    if (strchr (radios[i], '='))
      radios[n++] = radios[i];
  radios[n] = NULL;
  return radios;
}

SpBench *
input_bench (const Arguments *arguments, GError **error)
{
  g_autoptr (SpChain) chain = NULL;
  g_autoptr (SpAnalyzer) analyzer = NULL;
  g_autoptr (SpMask) mask = NULL;
  g_autoptr (SpBench) bench = NULL;
  g_autofree char **radios = radios_made (arguments);
  gboolean from_radios = radios[0] != NULL;
  int rule;
  if (!decision_rule_asked (arguments, &rule, error) || !input_resources (arguments, &chain, &analyzer, &mask, error))
    return NULL;
  if (from_radios == (arguments->rest->len == 1) || arguments->rest->len > 1) {
    sp_fail (error, SP_ERROR_USAGE,
             _ ("one input is needed: BENCH.sheet, BOOK.benchbook, or --radio NAME=TRACE[;TRACE...] with --chain, --analyzer and --mask"));
    return NULL;
  }
  if (from_radios) {
    if (!chain || !analyzer || !mask) {
      sp_fail (error, SP_ERROR_USAGE, _ ("--radio NAME=TRACE needs --chain, --analyzer and --mask: %s is missing"),
               !chain      ? "--chain"
               : !analyzer ? "--analyzer"
                           : "--mask");
      return NULL;
    }
    bench = sp_bench_from_radios ((const char *const *) radios, chain, analyzer, mask, error);
  } else {
    bench = sp_bench_at (g_ptr_array_index (arguments->rest, 0), error);
  }
  const char *document_file = bench ? arguments_text (arguments, "document") : NULL;
  if (document_file) {
    g_autoptr (SpDocument) document = sp_document_read (document_file, error);
    g_autoptr (SpBench) before = g_steal_pointer (&bench);
    if (!document)
      return NULL;
    bench = sp_bench_set_document (before, document);
  }
  if (!bench || (rule < 0 && (from_radios || (!chain && !analyzer && !mask))))
    return g_steal_pointer (&bench);
  return sp_bench_with (bench, chain, analyzer, mask, rule);
}

int
input_condition (const SpBench *bench, const char *name, GError **error)
{
  GString *names = g_string_new (NULL);
  int found = -1;
  for (guint i = 0; i < bench->n_conditions && found < 0; i++) {
    const SpCondition *condition = &bench->conditions[i];
    g_autofree char *full = sp_condition_name (bench, condition);
    g_string_append_printf (names, "%s%s", i ? ", " : "", full);
    if (strcmp (full, name) == 0)
      found = (int) i;
  }
  for (guint i = 0; i < bench->n_conditions && found < 0; i++)
    if (strcmp (bench->radios[bench->conditions[i].radio].name, name) == 0)
      found = (int) i;
  if (found < 0)
    sp_fail (error, SP_ERROR_USAGE, _ ("there is no radio %s here: the radios are %s"), name, names->str);
  g_string_free (names, TRUE);
  return found;
}

SpFindings *
input_findings (const Arguments *arguments, SpView *view, GError **error)
{
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  const char *radio = input_radio_named (arguments);
  if (!bench || (radio && input_condition (bench, radio, error) < 0))
    return NULL;
  SpFindings *findings = sp_judge (bench);
  sp_view_choose (view, findings, radio);
  return findings;
}

gboolean
input_day (const Arguments *arguments, double *day, GError **error)
{
  const char *text = arguments_text (arguments, "on");
  guint32 julian = 0;
  if (text && !sp_parse_date (text, &julian, error)) {
    g_prefix_error (error, "--on %s: ", text);
    return FALSE;
  }
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  GDate today;
  g_date_set_dmy (&today, (GDateDay) g_date_time_get_day_of_month (now), (GDateMonth) g_date_time_get_month (now),
                  (GDateYear) g_date_time_get_year (now));
  *day = text ? julian : g_date_get_julian (&today);
  return TRUE;
}
