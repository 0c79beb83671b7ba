/* range-page-values.c - floor against limit at the point, harmonic by harmonic, in numbers */
#include "ui/window/pages/range-page-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

enum { ORDER, FLOOR, LIMIT, MISSING, CAUSE, FOUND, N_COLUMNS };

static const struct {
  const char *title, *tip;
} columns[N_COLUMNS] = {
  { N_ ("harmonic"), N_ ("A whole multiple of the frequency that the radio was keyed on.") },
  { N_ ("floor"), N_ ("The least level at the radio's socket that this sweep could see there, dBm.") },
  { N_ ("limit"), N_ ("The most that the mask allows there, dBm.") },
  { N_ ("missing"), N_ ("Floor plus uncertainty minus limit, dB: over zero, seeing nothing proves nothing.") },
  { N_ ("cause"), N_ ("What makes the floor: the analyzer's noise, its phase noise, its filter's skirt, or its own distortion.") },
  { N_ ("found"), N_ ("The verdict by all sweeps that were taken, steps and notch too, and its room in dB.") },
};

static GtkWidget *
cell (SpRangePage *self, int column, int row)
{
  GtkWidget *there = gtk_grid_get_child_at (GTK_GRID (self->values), column, row);
  if (there)
    return there;
  GtkWidget *label = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (label), column == ORDER || column == CAUSE || column == FOUND ? 0 : 1);
  gtk_widget_add_css_class (label, "numbers");
  gtk_grid_attach (GTK_GRID (self->values), label, column, row, 1, 1);
  return label;
}

static void
write_cell (SpRangePage *self, int column, guint i, const char *text)
{
  GtkWidget *label = cell (self, column, (int) i + 1);
  gtk_label_set_text (GTK_LABEL (label), text);
  if (i == self->chosen)
    gtk_widget_add_css_class (label, "strong");
  else
    gtk_widget_remove_css_class (label, "strong");
}

void
sp_range_page_head_values (SpRangePage *self)
{
  for (int i = 0; i < N_COLUMNS; i++) {
    GtkWidget *label = cell (self, i, 0);
    gtk_label_set_text (GTK_LABEL (label), _ (columns[i].title));
    gtk_widget_add_css_class (label, "soft");
    sp_tip_set (label, _ (columns[i].tip));
  }
}

static const SpEmission *
found_at (SpRangePage *self, guint order)
{
  int emission = sp_range_page_emission (self, order);
  return emission < 0 ? NULL : &self->findings->conditions[self->condition].emissions[emission];
}

/* "complies +9.9" */
static char *
words_of_found (const SpEmission *e)
{
  g_autofree char *room = e ? sp_words_room (e, SP_HAND_SCREEN) : NULL;
  return e ? g_strdup_printf ("%s %s", sp_words_verdict (e->verdict), room) : g_strdup ("");
}

static void
write_row (SpRangePage *self, guint i)
{
  const SpOutlook *o = &self->outlook[i];
  g_autofree char *order = g_strdup_printf ("%u", o->order), *limit = sp_words_number (o->limit_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *floor = sp_words_floor (o, SP_HAND_SCREEN), *missing = sp_words_missing (o, SP_HAND_SCREEN);
  write_cell (self, ORDER, i, order);
  write_cell (self, FLOOR, i, floor);
  write_cell (self, LIMIT, i, limit);
  write_cell (self, MISSING, i, missing);
  g_autofree char *found = words_of_found (found_at (self, o->order));
  write_cell (self, CAUSE, i, sp_words_outlook_cause (o));
  write_cell (self, FOUND, i, found);
}

static const char *
says_unsafe (const SpRangePage *self)
{
  switch (self->unsafe) {
  case SP_UNSAFE_MIXER: return _ ("More at the mixer than is advised.");
  case SP_UNSAFE_INPUT: return _ ("More than the analyzer's input bears.");
  case SP_UNSAFE_STAGE: return _ ("A stage of the chain would be over its rating.");
  default: return NULL;
  }
}

static void
write_point (SpRangePage *self)
{
  double attenuation_db = sp_plan_attenuation_db (self->plan, &self->today, self->range->mixer_dbm[self->at]);
  const char *unsafe = says_unsafe (self);
  g_autofree char *mixer = sp_words_level (self->range->mixer_dbm[self->at], 1, SP_HAND_SCREEN);
  g_autofree char *attenuation = sp_words_number (attenuation_db, 1, SP_HAND_SCREEN);
  g_autofree char *rbw = sp_words_frequency (self->today.rbw_hz, 0, SP_HAND_SCREEN);
  g_autofree char *text = attenuation_db < 0
                              ? g_strdup_printf (_ ("%s at the mixer: not to be had, without any attenuation it is less; RBW %s"), mixer,
                                                 rbw)
                              : g_strdup_printf (_ ("%s at the mixer: %s dB of attenuation, RBW %s"), mixer, attenuation, rbw);
  g_autofree char *whole = unsafe ? g_strdup_printf ("%s. %s", text, unsafe) : g_strconcat (text, ".", NULL);
  gtk_label_set_text (GTK_LABEL (self->point), whole);
}

void
sp_range_page_fill_values (SpRangePage *self)
{
  if (!self->plan) {
    gtk_label_set_text (GTK_LABEL (self->point), "");
    for (int row = 1; gtk_grid_get_child_at (GTK_GRID (self->values), 0, row);)
      gtk_grid_remove_row (GTK_GRID (self->values), row);
    return;
  }
  while (gtk_grid_get_child_at (GTK_GRID (self->values), 0, (int) self->range->n_curves + 1))
    gtk_grid_remove_row (GTK_GRID (self->values), (int) self->range->n_curves + 1);
  for (guint i = 0; i < self->range->n_curves; i++)
    write_row (self, i);
  write_point (self);
}

/* What would prove the chosen harmonic. (transfer full) */
static char *
says_what_proves (SpRangePage *self)
{
  SpEmission harmonic = { .order = self->range->curves[self->chosen].order };
  const SpReason *proves = g_ptr_array_index (self->would_prove, self->chosen);
  const SpEmission *found = found_at (self, harmonic.order);
  g_autofree char *name = sp_words_emission (&harmonic, SP_HAND_SCREEN),
                  *sentence = proves ? sp_words_reason (proves, SP_HAND_SCREEN) : NULL;
  if (sentence && found && (found->verdict == SP_VERDICT_COMPLIES || found->verdict == SP_VERDICT_EXCEEDS)) {
    g_autofree char *settled = words_of_found (found);
    return g_strdup_printf (_ ("All sweeps together settle the %s: %s. Alone, this one would want: %s"), name, settled, sentence);
  }
  if (sentence)
    return g_strdup_printf (_ ("The least that would prove the %s: %s"), name, sentence);
  if (isnan (self->range->curves[self->chosen].limit_dbc))
    return g_strdup_printf (_ ("The mask sets no limit for the %s."), name);
  return g_strdup_printf (_ ("This sweep proves the %s if it shows nothing there."), name);
}

void
sp_range_page_fill_would_prove (SpRangePage *self)
{
  if (!self->plan || !self->would_prove) {
    gtk_label_set_text (GTK_LABEL (self->prove), "");
    return;
  }
  g_autofree char *proves = says_what_proves (self);
  const char *note = sp_outlook_is_by_step (&self->outlook[self->chosen]) ? _ (
                         "\n\nThe floor by steps: so much of the analyzer's own has stood there, and one sweep alone cannot see under "
                         "it. The list of emissions states the floor by noise and profile, since there the steps themselves tell whose "
                         "it is.")
                                                                          : "";
  g_autofree char *text = g_strconcat (proves, note, NULL);
  gtk_label_set_text (GTK_LABEL (self->prove), text);
}
