/* analyzer-dialog.c - the analyzer's profile, key by key */
#include "ui/window/pages.h"

#include <glib/gi18n-lib.h>

#include "ui/window/dialog.h"

static const char *const averages[] = { "", "power", "log", NULL };
static const char *const average_words[] = { N_ ("not stated: power"), N_ ("power"), N_ ("log") };
static const char *const filters[] = { "", "gaussian", "sync4", "flat", NULL };
static const char *const filter_words[] = { N_ ("not stated: Gaussian"), N_ ("Gaussian"), N_ ("four-pole, synchronous"), N_ ("flat") };
static const char *const widths[] = { "", "rectangular", "normal2", "standard", NULL };
static const char *const width_words[] = { N_ ("not stated: rectangular"), N_ ("rectangular"), N_ ("normal, two u"), N_ ("standard u") };

#define PLAIN SP_SPELL_AS_IT_IS, NULL, NULL
#define ROWS SP_SPELL_ROWS, NULL, NULL
#define KIND SP_SPELL_AS_IT_IS, widths, width_words

static const SpFormField input_keys[] = {
  { "name", N_ ("name"), NULL, N_ ("What the instrument is called on reports."), PLAIN },
  { "damage_dbm", N_ ("damage level"), "dBm", N_ ("The greatest level that its input survives."), PLAIN },
  { "damage_attenuation_db", N_ ("damage level holds at"), "dB",
    N_ ("The attenuator setting that the damage level is stated for; with less it falls dB for dB."), PLAIN },
  { "max_dc_v", N_ ("greatest DC"), "V", N_ ("The greatest direct voltage that its input survives."), PLAIN },
  { "best_mixer_dbm", N_ ("best mixer level"), "dBm", N_ ("The mixer level that the maker recommends for the widest range."), PLAIN },
  { "vswr", N_ ("input VSWR"), NULL, N_ ("Standing-wave ratio at its input: a number, or pairs such as 10MHz 1.2; 3GHz 1.6."), ROWS },
};
static const SpFormField noise_keys[] = {
  { "danl_dbm_hz", N_ ("noise density"), "dBm/Hz",
    N_ ("Displayed average noise level in 1 Hz at 0 dB attenuation, such as 10MHz -150; 3GHz -142."), ROWS },
  { "danl_average", N_ ("averaged by"), NULL, N_ ("How that figure was averaged: a log average of noise reads 2.51 dB below its power."),
    SP_SPELL_AS_IT_IS, averages, average_words },
  { "phase_noise_dbc_hz", N_ ("phase noise"), "dBc/Hz",
    N_ ("Against the offset from the carrier, such as 10kHz -95; 1MHz -125; the last value is held."), ROWS },
  { "filter", N_ ("RBW filter"), NULL, N_ ("Shape of the resolution filter: it sets noise bandwidth and skirt."), SP_SPELL_AS_IT_IS,
    filters, filter_words },
  { "residuals", N_ ("residual responses"), "dBm", N_ ("Lines that it shows with nothing at its input, such as 120MHz -105."), ROWS },
};
static const SpFormField distortion_keys[] = {
  { "second_intercept_dbm", N_ ("second harmonic intercept"), "dBm",
    N_ ("At the mixer: a number, or pairs of the fundamental's frequency."), ROWS },
  { "third_harmonic_intercept_dbm", N_ ("third harmonic intercept"), "dBm", N_ ("At the mixer; instead of the two-tone figure."), ROWS },
  { "third_order_intercept_dbm", N_ ("third-order intercept"), "dBm", N_ ("The two-tone figure; the harmonic one lies 4.77 dB higher."),
    ROWS },
  { "harmonic_intercepts_dbm", N_ ("higher orders"), "dBm",
    N_ ("Order and intercept, such as 4 30; 5 28; an order without one is not predicted."), PLAIN },
  { "intercept_u_db", N_ ("u of the intercepts"), "dB", N_ ("Standard uncertainty of the intercepts; left out: 1 dB."), PLAIN },
};
static const SpFormField accuracy_keys[] = {
  { "accuracy_db", N_ ("absolute accuracy"), "dB", N_ ("Half-width at the reference; left out: 1.5 dB, and said."), PLAIN },
  { "flatness_db", N_ ("flatness"), "dB", N_ ("Half-width against the reference frequency; left out: 1 dB, and said."), PLAIN },
  { "scale_db", N_ ("scale fidelity"), "dB", N_ ("Half-width of the level scale; left out: 0.5 dB, and said."), PLAIN },
  { "repeatability_db", N_ ("repeatability"), "dB", N_ ("Half-width from sweep to sweep; left out: 0.05 dB, and said."), PLAIN },
  { "attenuator_switch_db", N_ ("attenuator switching"), "dB", N_ ("Half-width between attenuator settings; left out: 0.5 dB, and said."),
    PLAIN },
  { "rbw_switch_db", N_ ("RBW switching"), "dB", N_ ("Half-width between resolution bandwidths; left out: 0.5 dB, and said."), PLAIN },
  { "accuracy_kind", N_ ("its kind"), NULL, N_ ("How the figure of the absolute accuracy is meant."), KIND },
  { "flatness_kind", N_ ("its kind"), NULL, N_ ("How the figure of the flatness is meant."), KIND },
  { "scale_kind", N_ ("its kind"), NULL, N_ ("How the figure of the scale fidelity is meant."), KIND },
  { "repeatability_kind", N_ ("its kind"), NULL, N_ ("How the figure of the repeatability is meant."), KIND },
  { "attenuator_switch_kind", N_ ("its kind"), NULL, N_ ("How the figure of the attenuator switching is meant."), KIND },
  { "rbw_switch_kind", N_ ("its kind"), NULL, N_ ("How the figure of the RBW switching is meant."), KIND },
};
static const SpFormField other_keys[] = {
  { "amplitude_correction", N_ ("amplitude correction"), "dB", N_ ("Added to every reading, such as 10MHz 0; 3GHz 0.4."), ROWS },
  { "frequency_ppm", N_ ("frequency error"), "ppm", N_ ("Half-width of its frequency's error."), PLAIN },
  { "attenuator_steps_db", N_ ("attenuator steps"), "dB", N_ ("The settings it has, such as 0;5;10;20."), PLAIN },
  { "rbw_steps", N_ ("RBW steps"), NULL, N_ ("The resolution bandwidths it has, such as 1kHz;10kHz;100kHz."), SP_SPELL_FREQUENCIES, NULL,
    NULL },
  { "points_max", N_ ("most points"), NULL, N_ ("The most points of one sweep."), PLAIN },
  { "sweep_s", N_ ("sweep times"), "s",
    N_ ("RBW, span and the seconds that one sweep takes, such as 10kHz 1GHz 12; 100kHz 1GHz 0.3; left out: common practice, and said."),
    PLAIN },
};

static SpAnalyzer *
analyzer_of (SpDialog *dialog)
{
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  return condition ? sp_condition_analyzer (bench, condition) : bench->analyzer;
}

static char *
get_key (gpointer owner, const char *key)
{
  SpAnalyzer *analyzer = analyzer_of (owner);
  return analyzer ? sp_analyzer_get (analyzer, key) : NULL;
}

static gboolean
set_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpAnalyzer *analyzer = analyzer_of (owner);
  SpDialog *dialog = owner;
  g_autoptr (SpAnalyzer) edited = analyzer ? sp_analyzer_set (analyzer, field->key, value, error) : NULL;
  return edited
         && sp_dialog_edit (dialog, sp_bench_replace_analyzer (sp_session_bench (dialog->session), analyzer, edited),
                            g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), analyzer->name));
}

void
sp_analyzer_dialog_present (GtkWindow *parent, SpSession *session)
{
  SpDialog *dialog = sp_dialog_new (parent, session, _ ("Analyzer"), 720, 560);
  SpBench *bench = sp_session_bench (session);
  SpFormOwner owner = { get_key, set_key, dialog };
  dialog->condition = bench->n_conditions ? (int) sp_session_condition (session) : -1;
  sp_dialog_add_heading (dialog, _ ("Input"));
  sp_dialog_add_fields (dialog, input_keys, G_N_ELEMENTS (input_keys), 2, &owner);
  sp_dialog_add_heading (dialog, _ ("Noise and filter"));
  sp_dialog_add_fields (dialog, noise_keys, G_N_ELEMENTS (noise_keys), 1, &owner);
  sp_dialog_add_heading (dialog, _ ("Distortion of its own"));
  sp_dialog_add_fields (dialog, distortion_keys, G_N_ELEMENTS (distortion_keys), 1, &owner);
  sp_dialog_add_heading (dialog, _ ("Limits of error"));
  sp_dialog_add_fields (dialog, accuracy_keys, G_N_ELEMENTS (accuracy_keys), 2, &owner);
  sp_dialog_add_heading (dialog, _ ("Correction and settings"));
  sp_dialog_add_fields (dialog, other_keys, G_N_ELEMENTS (other_keys), 1, &owner);
  sp_dialog_present (dialog);
}
