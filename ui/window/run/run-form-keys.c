/* run-form-keys.c - what a run says beside its readings: when, how warm, how well matched, by which meter */
#include <glib/gi18n-lib.h>

#include "ui/window/run/run-form-private.h"

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

void
sp_run_form_add_keys (SpRunForm *form)
{
  sp_form_add_fields (form->keys, sp_run_keys, keys, SP_RUN_FORM_KEYS, form->key, (void (*) (gpointer)) sp_run_form_typed, form);
}

static gboolean
set_key (gpointer run, const char *key, const char *value, GError **error)
{
  return sp_run_set (run, key, value, error);
}

void
sp_run_form_read_keys (SpRunForm *form, SpRun *run)
{
  sp_form_read_fields (sp_run_keys, keys, SP_RUN_FORM_KEYS, form->key, set_key, run, &form->wrong);
}
