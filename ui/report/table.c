/* table.c - chain, mask, headroom and traces as text tables */
#include "ui/report/table.h"
#include "core/quantity/clean.h"
#include "core/trace/read/understood.h"
#include "ui/report/lines.h"

#include <glib/gi18n-lib.h>
#include <math.h>

void
cell_db (Columns *columns, double value, int decimals)
{
  columns_add (columns, sp_words_number (value, decimals, SP_HAND_MACHINE));
}

void
cell_signed (Columns *columns, double value)
{
  columns_add (columns, sp_words_signed (value, 1, SP_HAND_MACHINE));
}

void
cell_margin (Columns *columns, const SpConditionFindings *found)
{
  g_autofree char *margin = sp_words_deciding_margin (found, SP_HAND_MACHINE);
  cell_word (columns, *margin ? margin : NULL);
}

void
cell_frequency (Columns *columns, double frequency_hz)
{
  columns_add (columns, sp_words_frequency (frequency_hz, 0, SP_HAND_MACHINE));
}

void
cell_power (Columns *columns, double power_w)
{
  columns_add (columns, sp_words_power (power_w, SP_HAND_MACHINE));
}

void
cell_word (Columns *columns, const char *word)
{
  columns_add (columns, g_strdup (word ? word : "-"));
}

void
add_cleaned (GString *out, char *part)
{
  g_autofree char *clean = sp_clean (part);
  g_string_append (out, clean);
  g_free (part);
}

void
lines_of_reasons (GString *out, GPtrArray *reasons, guint indent)
{
  for (guint i = 0; reasons && i < reasons->len; i++) {
    g_autofree char *sentence = sp_words_reason (g_ptr_array_index (reasons, i), SP_HAND_MACHINE);
    g_string_append_printf (out, "%*s! %s\n", (int) indent, "", sentence);
  }
}

char *
sp_table_chain (const SpChain *chain, guint n, const double *frequency_hz)
{
  GString *out = g_string_new (NULL);
  g_autofree SpStageLoss *stages = g_new0 (SpStageLoss, chain->n);
  add_cleaned (out, g_strdup_printf (_ ("Chain %s (%.12s)"), chain->name, chain->sha256));
  g_string_append (out, "\n\n");
  Columns *columns = columns_new ("lrrrl", _ ("at"), _ ("stage"), _ ("loss dB"), _ ("u dB"), "", NULL);
  for (guint i = 0; i < n; i++) {
    SpChainLoss loss = sp_chain_loss (chain, frequency_hz[i], NAN, NAN, stages);
    for (guint j = 0; j < chain->n; j++) {
      if (j)
        cell_word (columns, "");
      else
        cell_frequency (columns, frequency_hz[i]);
      cell_word (columns, chain->stages[j]->name);
      cell_db (columns, stages[j].loss_db, 3);
      cell_db (columns, stages[j].u_db, 3);
      cell_word (columns, stages[j].from_label ? _ ("label") : stages[j].calibrated ? "" : _ ("outside calibration"));
    }
    cell_word (columns, "");
    cell_word (columns, _ ("chain"));
    cell_db (columns, loss.loss_db, 3);
    cell_db (columns, loss.u_db, 3);
    cell_word (columns, loss.calibrated ? "" : _ ("outside calibration"));
  }
  columns_finish (columns, 0, out);
  if (chain->warnings->len)
    g_string_append_c (out, '\n');
  lines_of_reasons (out, chain->warnings, 0);
  return g_string_free (out, FALSE);
}

char *
sp_table_masks (GPtrArray *masks)
{
  GString *out = g_string_new (NULL);
  Columns *columns = columns_new ("llll", _ ("mask"), _ ("title"), _ ("clause"), _ ("edition"), NULL);
  for (guint i = 0; i < masks->len; i++) {
    const SpMask *mask = g_ptr_array_index (masks, i);
    cell_word (columns, mask->name);
    cell_word (columns, mask->title);
    cell_word (columns, mask->clause);
    cell_word (columns, mask->edition);
  }
  columns_finish (columns, 0, out);
  return g_string_free (out, FALSE);
}

char *
sp_table_mask (const SpMask *mask, GArray *segments, const SpReason *none)
{
  GString *out = g_string_new (NULL);
  add_cleaned (out, g_strdup_printf ("%s: %s", mask->name, mask->title ? mask->title : mask->name));
  g_string_append_c (out, '\n');
  if (mask->clause)
    g_string_append_printf (out, "%s%s%s%s%s\n", mask->authority ? mask->authority : "", mask->authority ? ", " : "", mask->clause,
                            mask->edition ? ", " : "", mask->edition ? mask->edition : "");
  if (mask->note)
    g_string_append_printf (out, "%s\n", mask->note);
  g_string_append_c (out, '\n');
  Columns *columns = columns_new ("rrrrl", _ ("from"), _ ("to"), _ ("limit dBm"), _ ("at its end"), _ ("rule"), NULL);
  for (guint i = 0; i < segments->len; i++) {
    const SpLimitSegment *segment = &g_array_index (segments, SpLimitSegment, i);
    cell_frequency (columns, segment->from_hz);
    cell_frequency (columns, segment->to_hz);
    cell_db (columns, segment->limit_dbm, 4);
    cell_db (columns, segment->limit_end_dbm, 4);
    cell_word (columns, segment->rule ? segment->rule->name : _ ("no limit"));
  }
  columns_finish (columns, 0, out);
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  sp_reasons_extend (warnings, mask->warnings);
  if (none)
    sp_reasons_add (warnings, sp_reason_ref (none));
  lines_of_reasons (out, warnings, 0);
  return g_string_free (out, FALSE);
}

static void
lines_of_faults (GString *out, const SpHeadroom *headroom, const SpChain *chain)
{
  Columns *columns = columns_new ("llrrrr", _ ("if"), _ ("worst"), _ ("gets"), _ ("rated"), _ ("headroom dB"), _ ("return loss dB"), NULL);
  for (guint i = 0; i < headroom->n_faults; i++) {
    const SpFault *fault = &headroom->faults[i];
    columns_add (columns, sp_words_fault (fault, chain));
    cell_word (columns, fault->worst_node);
    cell_power (columns, fault->power_w);
    cell_power (columns, fault->rating_w);
    cell_signed (columns, fault->headroom_db);
    cell_db (columns, fault->return_loss_db, 1);
  }
  columns_finish (columns, 0, out);
}

static void
line_of_safety (GString *out, const SpHeadroom *headroom)
{
  g_autofree char *unrated = sp_words_unrated_in (headroom);
  if (!headroom->safe)
    g_string_append (out, _ ("\nUnsafe as drawn.\n"));
  else if (unrated)
    g_string_append_printf (out, _ ("\nNo rating is exceeded as drawn, but none is known for: %s.\n"), unrated);
  else
    g_string_append (out, _ ("\nSafe as drawn.\n"));
}

char *
sp_table_headroom (const SpHeadroom *headroom, const SpChain *chain)
{
  GString *out = g_string_new (NULL);
  lines_of_reasons (out, headroom->reasons, 0);
  if (headroom->reasons->len)
    g_string_append_c (out, '\n');
  Columns *columns = columns_new ("lrrrr", _ ("into"), "dBm", _ ("power"), _ ("rated"), _ ("headroom dB"), NULL);
  for (guint i = 0; i < headroom->n_nodes; i++) {
    const SpNode *node = &headroom->nodes[i];
    cell_word (columns, node->name);
    cell_db (columns, node->level_dbm, 1);
    cell_power (columns, node->power_w);
    cell_power (columns, node->rating_w);
    cell_signed (columns, node->headroom_db);
  }
  columns_finish (columns, 0, out);
  line_of_safety (out, headroom);
  if (headroom->n_faults) {
    g_string_append_c (out, '\n');
    lines_of_faults (out, headroom, chain);
  }
  g_string_append_printf (out, "\n%s\n", sp_words_cautions ());
  return g_string_free (out, FALSE);
}

/* "tolvane.csv: text in UTF-8, divided by comma, decimal mark point; frequency from column Frequency (Hz)" */
static void
line_of_look (GString *out, const SpTrace *trace)
{
  g_autoptr (SpUnderstood) look = sp_trace_understood_at (trace);
  if (!look || !look->delimiter)
    return;
  add_cleaned (out, g_strdup_printf ("%s: ", trace->file));
  if (g_str_equal (look->delimiter, "none"))
    g_string_append_printf (out, _ ("text in %s, one value a line, decimal mark %s"), look->encoding, look->mark);
  else
    g_string_append_printf (out, _ ("text in %s, divided by %s, decimal mark %s"), look->encoding, look->delimiter, look->mark);
  if (look->frequency)
    g_string_append_printf (out, _ ("; frequency from column %s"), look->frequency); /* cleaned where it was looked at */
  g_string_append_c (out, '\n');
}

char *
sp_table_traces (GPtrArray *traces)
{
  GString *out = g_string_new (NULL);
  Columns *columns = columns_new ("llrrrlrrl", _ ("file"), _ ("column"), _ ("points"), _ ("from"), _ ("to"), _ ("unit"), _ ("RBW"),
                                  _ ("attenuation dB"), _ ("detector"), NULL);
  for (guint i = 0; i < traces->len; i++) {
    const SpTrace *trace = g_ptr_array_index (traces, i);
    cell_word (columns, trace->file);
    cell_word (columns, trace->column);
    columns_add (columns, g_strdup_printf ("%" G_GUINT64_FORMAT, trace->n));
    cell_frequency (columns, trace->frequency_hz[0]);
    cell_frequency (columns, trace->frequency_hz[trace->n - 1]);
    columns_add (columns, sp_words_unit (trace->unit_read, trace->unit_scale));
    cell_frequency (columns, trace->settings.rbw_hz);
    cell_db (columns, trace->settings.attenuation_db, 0);
    cell_word (columns, sp_words_of_detector (trace->settings.detector));
  }
  columns_finish (columns, 0, out);
  for (guint i = 0; i < traces->len; i++)
    if (i == 0 || ((SpTrace *) g_ptr_array_index (traces, i - 1))->raw != ((SpTrace *) g_ptr_array_index (traces, i))->raw)
      line_of_look (out, g_ptr_array_index (traces, i));
  for (guint i = 0; i < traces->len; i++)
    lines_of_reasons (out, ((SpTrace *) g_ptr_array_index (traces, i))->warnings, 0);
  return g_string_free (out, FALSE);
}
