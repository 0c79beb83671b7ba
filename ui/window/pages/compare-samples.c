/* compare-samples.c - what the samples of a model have in common: a grid of labels for each model */
#include "ui/window/pages/compare-charts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/compare/samples.h"
#include "ui/figure/pen/names.h"
#include "ui/words/words.h"

#define BEYOND 5 /* columns after the samples: mean, s, +- of the mean, 95 % of such, room */

static void
put (GtkGrid *grid, int column, int row, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), column ? 1 : 0);
  if (css_class)
    gtk_widget_add_css_class (label, css_class);
  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static void
put_number (GtkGrid *grid, int column, int row, double value, gboolean is_signed, const char *css_class)
{
  g_autofree char *text = isnan (value) ? g_strdup ("\xe2\x80\x93")
                          : is_signed   ? sp_words_signed (value, 1, SP_HAND_SCREEN)
                                        : sp_words_number (value, 1, SP_HAND_SCREEN);
  put (grid, column, row, text, css_class);
}

static void
put_heads (GtkGrid *grid, const SpComparison *comparison, const SpSamples *samples)
{
  static const char *const beyond[BEYOND] = { N_ ("mean"), N_ ("s"), N_ ("\xc2\xb1 of the mean"), N_ ("95 % of such"),
                                              N_ ("room of the mean, dB") };
  for (guint i = 0; i < samples->n; i++)
    put (grid, (int) i + 1, 0, comparison->rows[samples->rows[i]].radio, "soft");
  for (guint i = 0; i < BEYOND; i++)
    put (grid, (int) (samples->n + i) + 1, 0, _ (beyond[i]), "soft");
}

static void
put_level (GtkGrid *grid, int row, const SpSamples *samples, const SpSampleLevel *level)
{
  SpEmission harmonic = { .order = level->order };
  g_autofree char *name = level->order == 1 ? g_strdup (_ ("carrier")) : sp_name_emission (&harmonic);
  g_autofree char *title = g_strdup_printf (_ ("%s, dBm"), name);
  int column = 1;
  put (grid, 0, row, title, "strong");
  for (guint i = 0; i < samples->n; i++)
    put_number (grid, column++, row, level->level_dbm[i], FALSE, NULL);
  if (level->n_seen < samples->n) {
    g_autofree char *few = g_strdup_printf (_ ("seen in %u of %u"), level->n_seen, samples->n);
    put (grid, column, row, few, "soft");
    return;
  }
  g_autofree char *most = sp_words_number (level->most_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *bound = g_strdup_printf (level->order == 1 ? _ ("over %s") : _ ("under %s"), most);
  put_number (grid, column++, row, level->mean_dbm, FALSE, "strong");
  put_number (grid, column++, row, level->s_db, FALSE, NULL);
  put_number (grid, column++, row, level->mean_within_db, FALSE, NULL);
  put (grid, column++, row, bound, NULL);
  put_number (grid, column, row, level->room_db, TRUE, NULL);
}

static void
put_powers (GtkGrid *grid, int row, const SpComparison *comparison, const SpSamples *samples)
{
  put (grid, 0, row, _ ("rated / measured"), "strong");
  for (guint i = 0; i < samples->n; i++) {
    const SpCompareRow *sample = &comparison->rows[samples->rows[i]];
    const SpCondition *condition = &comparison->findings->bench->conditions[sample->found->condition];
    g_autofree char *rated = isnan (condition->rated_w) ? g_strdup ("\xe2\x80\x93") : sp_words_power (condition->rated_w, SP_HAND_SCREEN);
    g_autofree char *measured = sp_words_power (sample->power_w, SP_HAND_SCREEN), *both = g_strdup_printf ("%s / %s", rated, measured);
    put (grid, (int) i + 1, row, both, NULL);
  }
}

/* That some samples say little of the next, and whether the model is proven by them. */
static char *
said_of (const SpSamples *samples)
{
  g_autofree char *factor = sp_words_number (samples->factor, 2, SP_HAND_SCREEN);
  g_autofree char *says
      = g_strdup_printf (_ ("%u samples say little of the next: with 95 %% confidence, 95 of 100 such radios lie within the last bound "
                            "(factor %s)."),
                         samples->n, factor);
  if (samples->worst < 0)
    return g_steal_pointer (&says);
  const SpSampleLevel *worst = &samples->levels[samples->worst];
  SpEmission harmonic = { .order = worst->order };
  g_autofree char *name = sp_name_emission (&harmonic), *most = sp_words_level (worst->most_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *over = sp_words_number (fabs (samples->worst_over_db), 1, SP_HAND_SCREEN);
  const char *form
      = samples->worst_over_db <= 0 ? _ ("%s The next one's %s would stand under %s, %s\342\200\257dB under the limit.")
        : samples->all_comply
            ? _ ("%s All comply; the model is not proven: the next one's %s could stand as high as %s, %s\342\200\257dB over the limit.")
            : _ ("%s The next one's %s could stand as high as %s, %s\342\200\257dB over the limit.");
  return g_strdup_printf (form, says, name, most, over);
}

static void
add_model (GtkWidget *box, const SpComparison *comparison, const SpSamples *samples)
{
  g_autofree char *title = g_strdup_printf (_ ("%s: %u samples of one model"), samples->model, samples->n), *said = said_of (samples);
  GtkWidget *head = gtk_label_new (title), *grid = gtk_grid_new (), *sentence = gtk_label_new (said);
  int row = 1;
  gtk_grid_set_column_spacing (GTK_GRID (grid), 20);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  put_heads (GTK_GRID (grid), comparison, samples);
  for (guint i = 0; i < samples->n_levels; i++)
    put_level (GTK_GRID (grid), row++, samples, &samples->levels[i]);
  put_powers (GTK_GRID (grid), row, comparison, samples);
  gtk_label_set_xalign (GTK_LABEL (head), 0);
  gtk_label_set_xalign (GTK_LABEL (sentence), 0);
  gtk_label_set_wrap (GTK_LABEL (sentence), TRUE);
  gtk_widget_add_css_class (head, "heading");
  gtk_widget_add_css_class (sentence, "soft");
  gtk_box_append (GTK_BOX (box), head);
  gtk_box_append (GTK_BOX (box), grid);
  gtk_box_append (GTK_BOX (box), sentence);
}

GtkWidget *
sp_compare_samples_new (void)
{
  return gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
}

void
sp_compare_samples_set (GtkWidget *box, SpFindings *findings)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (box)))
    gtk_box_remove (GTK_BOX (box), child);
  if (!findings)
    return;
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  g_autoptr (GPtrArray) models = sp_compare_samples (comparison);
  for (guint i = 0; i < models->len; i++)
    add_model (box, comparison, g_ptr_array_index (models, i));
}
