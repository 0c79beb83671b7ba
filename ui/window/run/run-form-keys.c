/* run-form-keys.c - what a run says beside its readings: when, how warm, how well matched, by which meter */
#include <glib/gi18n-lib.h>

#include "core/quantity/typed.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

static const SpFormField keys[SP_RUN_FORM_KEYS] = {
  { "date", N_ ("date"), N_ ("The day of the readings, such as 2026-10-17: the stage's calibration is counted from it.") },
  { "interval_days", N_ ("interval"), N_ ("A calibration older than this is warned about.") },
  { "temperature_c", N_ ("temperature"), N_ ("Of the stage at the readings.") },
  { "temperature_u_c", N_ ("its u"), N_ ("Standard uncertainty of the temperature; 1 K where nothing stands here.") },
  { "source_vswr", N_ ("VSWR of the source"),
    N_ ("Looking back into the generator's lead: a number, pairs such as 50MHz 1.05; 1GHz 1.2, or an .s1p file.") },
  { "meter_vswr", N_ ("VSWR of the meter"), N_ ("Looking into the power meter's sensor.") },
  { "stage_vswr", N_ ("VSWR of the stage"), N_ ("Of the side towards the source; of both sides where nothing stands below.") },
  { "stage_output_vswr", N_ ("on its other side"), N_ ("Of the side towards the meter.") },
  { "line_m", N_ ("line"),
    N_ ("Length of the line between source and meter: a long one turns the mismatch over small changes of frequency.") },
  { "line_velocity", N_ ("its velocity"), N_ ("Of the line's wave over light's; 0.66 where nothing stands here.") },
  { "meter_linearity_db", N_ ("meter's linearity"), N_ ("Half-width, from its data sheet: how far a difference of levels may be off.") },
  { "meter_resolution_db", N_ ("its resolution"), N_ ("Half of the last digit: 0.005 where it shows hundredths.") },
  { "meter_floor_dbm", N_ ("its floor"), N_ ("Readings within 10 dB of it are warned about.") },
  { "temperature_coefficient", N_ ("change per kelvin"), N_ ("Of the stage's loss, in dB for each dB and kelvin.") },
  { "reference_vswr", N_ ("VSWR of the reference"),
    N_ ("Of what stood in the stage's place at the reference, towards the source; empty: source and meter faced each other.") },
  { "reference_output_vswr", N_ ("on its other side"), N_ ("Of what stood in the stage's place, towards the meter.") },
  { "correction_db", N_ ("correction"), N_ ("Added to the loss, as a certificate states it.") },
  { "extra", N_ ("further terms"),
    N_ ("Each a name, its standard uncertainty in dB and, if known, its degrees of freedom: leakage 0.002; standard 0.003 50.") },
  { "note", N_ ("note"), N_ ("Anything a reader should know.") },
};

const char *
sp_run_form_key (guint i)
{
  return keys[i].key;
}

static char *
label_of (guint i)
{
  return sp_field_label (&keys[i], sp_keys_find (sp_run_keys, keys[i].key));
}

static GtkWidget *
new_entry (SpRunForm *form, const char *tip)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_widget_add_css_class (entry, "plain");
  sp_tip_set (entry, tip);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (sp_run_form_typed), form);
  return entry;
}

void
sp_run_form_add_keys (SpRunForm *form)
{
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    g_autofree char *name = label_of (i), *tip = sp_field_tip (&keys[i], sp_keys_find (sp_run_keys, keys[i].key));
    GtkWidget *label = gtk_label_new (name);
    form->key[i] = new_entry (form, tip);
    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_label_set_mnemonic_widget (GTK_LABEL (label), form->key[i]);
    gtk_widget_add_css_class (label, "soft");
    sp_tip_set (label, tip);
    gtk_grid_attach (GTK_GRID (form->keys), label, 0, (int) i, 1, 1);
    gtk_grid_attach (GTK_GRID (form->keys), form->key[i], 1, (int) i, 1, 1);
  }
}

void
sp_run_form_read_keys (SpRunForm *form, SpRun *run)
{
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (form->key[i]))));
    g_autofree char *name = label_of (i);
    g_autofree char *value = sp_typed_value (sp_keys_find (sp_run_keys, keys[i].key), text, sp_words_decimal_mark (), &error);
    gboolean good = value && sp_run_set (run, keys[i].key, value, &error);
    sp_run_form_mark (form, form->key[i], name, good ? NULL : error->message);
  }
}
