/* analyzer-dialog.c - the analyzer's profile, key by key */
#include "ui/window/dialogs/analyzer-dialog.h"

#include <glib/gi18n-lib.h>

#include "ui/window/chain/shelf-dialog.h"
#include "ui/window/run/check-form.h"
#include "ui/window/widgets/dialog.h"

static const char *const average_words[] = { N_ ("power"), N_ ("log") };
static const char *const filter_words[] = { N_ ("Gaussian"), N_ ("four-pole, synchronous"), N_ ("flat") };
static const char *const width_words[] = { N_ ("rectangular"), N_ ("normal, two u"), N_ ("standard u") };

#define KIND width_words, N_ ("not stated: rectangular")

/* What a leaflet's first page has, and what a verdict leans on first. */
static const SpFormField first_keys[] = {
  { "name", N_ ("name"), N_ ("What the instrument is called on reports.") },
  { "damage_dbm", N_ ("damage level"), N_ ("The greatest level that its input survives."),
    .hint = N_ ("not known: nobody can say what it survives") },
  { "damage_attenuation_db", N_ ("damage level holds at"),
    N_ ("The attenuator setting that the damage level is stated for; with less it falls dB for dB."), .hint = N_ ("any setting") },
  { "accuracy_db", N_ ("absolute accuracy"), N_ ("Half-width at the reference; left out: 1.5 dB, and said."), .hint = N_ ("1.5 assumed") },
  { "flatness_db", N_ ("flatness"), N_ ("Half-width against the reference frequency; left out: 1 dB, and said."),
    .hint = N_ ("1 assumed") },
  { "vswr", N_ ("input VSWR"), N_ ("Standing-wave ratio at its input: a number, or pairs such as 10MHz 1.2; 3GHz 1.6."),
    .hint = N_ ("1.2 assumed") },
  { "danl_dbm_hz", N_ ("noise density"), N_ ("Displayed average noise level in 1 Hz at 0 dB attenuation, such as 10MHz -150; 3GHz -142."),
    .hint = N_ ("not known: no floor is foretold") },
  { "second_intercept_dbm", N_ ("second harmonic intercept"), N_ ("At the mixer: a number, or pairs of the fundamental's frequency."),
    .hint = N_ ("not known: only a step test tells") },
  { "third_order_intercept_dbm", N_ ("third-order intercept"),
    N_ ("The two-tone figure; it is kept as the harmonic one below, 4.77 dB higher: type one of the two."),
    .hint = N_ ("not known: only a step test tells") },
  { "third_harmonic_intercept_dbm", N_ ("third harmonic intercept"),
    N_ ("At the mixer, 4.77 dB over the two-tone figure: type one of the two.") },
};
static const SpFormField input_keys[] = {
  { "max_dc_v", N_ ("greatest DC"), N_ ("The greatest direct voltage that its input survives.") },
  { "best_mixer_dbm", N_ ("best mixer level"), N_ ("The mixer level that the maker recommends for the widest range.") },
};
static const SpFormField noise_keys[] = {
  { "danl_average", N_ ("averaged by"), N_ ("How the noise density was averaged: a log average of noise reads 2.51 dB below its power."),
    average_words, N_ ("not stated: power") },
  { "phase_noise_dbc_hz", N_ ("phase noise"),
    N_ ("Against the offset from the carrier, such as 10kHz -95; 1MHz -125; the last value is held.") },
  { "filter", N_ ("RBW filter"), N_ ("Shape of the resolution filter: it sets noise bandwidth and skirt."), filter_words,
    N_ ("not stated: Gaussian") },
  { "residuals", N_ ("residual responses"), N_ ("Lines that it shows with nothing at its input, such as 120MHz -105.") },
};
static const SpFormField distortion_keys[] = {
  { "harmonic_intercepts_dbm", N_ ("higher orders"),
    N_ ("Order and intercept, such as 4 30; 5 28; an order without one is not predicted.") },
  { "intercept_u_db", N_ ("u of the intercepts"), N_ ("Standard uncertainty of the intercepts; left out: 1 dB."),
    .hint = N_ ("1 assumed") },
};
static const SpFormField accuracy_keys[] = {
  { "scale_db", N_ ("scale fidelity"), N_ ("Half-width of the level scale; left out: 0.5 dB, and said."), .hint = N_ ("0.5 assumed") },
  { "repeatability_db", N_ ("repeatability"), N_ ("Half-width from sweep to sweep; left out: 0.05 dB, and said."),
    .hint = N_ ("0.05 assumed") },
  { "attenuator_switch_db", N_ ("attenuator switching"), N_ ("Half-width between attenuator settings; left out: 0.5 dB, and said."),
    .hint = N_ ("0.5 assumed") },
  { "rbw_switch_db", N_ ("RBW switching"), N_ ("Half-width between resolution bandwidths; left out: 0.5 dB, and said."),
    .hint = N_ ("0.5 assumed") },
  { "accuracy_kind", N_ ("kind of the accuracy"), N_ ("How the figure of the absolute accuracy is meant."), KIND },
  { "scale_kind", N_ ("its kind"), N_ ("How the figure of the scale fidelity is meant."), KIND },
  { "repeatability_kind", N_ ("its kind"), N_ ("How the figure of the repeatability is meant."), KIND },
  { "attenuator_switch_kind", N_ ("its kind"), N_ ("How the figure of the attenuator switching is meant."), KIND },
  { "rbw_switch_kind", N_ ("its kind"), N_ ("How the figure of the RBW switching is meant."), KIND },
  { "flatness_kind", N_ ("kind of the flatness"), N_ ("How the figure of the flatness is meant."), KIND },
};
static const SpFormField other_keys[] = {
  { "amplitude_correction", N_ ("amplitude correction"),
    N_ ("Added to every reading, such as 10MHz 0; 3GHz 0.4. With an uncertainty behind each it is a check's, and stands for accuracy and "
        "flatness."),
    .hint = N_ ("none: check the analyzer") },
  { "correction_between_u_db", N_ ("u between its points"),
    N_ ("Of a check: the standard uncertainty that flatness adds midway between two of its points."), .hint = N_ ("by the check") },
  { "checked", N_ ("checked"), N_ ("The date of that check, such as 2026-10-17.") },
  { "interval_days", N_ ("check good for"), N_ ("A check older than this is warned about.") },
  { "frequency_ppm", N_ ("frequency error"), N_ ("Half-width of its frequency's error.") },
  { "attenuator_steps_db", N_ ("attenuator steps"), N_ ("The settings it has, such as 0;5;10;20.") },
  { "rbw_steps", N_ ("RBW steps"), N_ ("The resolution bandwidths it has, such as 1kHz;10kHz;100kHz.") },
  { "points_max", N_ ("most points"), N_ ("The most points of one sweep.") },
  { "sweep_s", N_ ("sweep times"),
    N_ ("RBW, span and the seconds that one sweep takes, such as 10kHz 1GHz 12; 100kHz 1GHz 0.3; left out: common practice, and said.") },
};

#define SP_TYPE_ANALYZER_DIALOG (sp_analyzer_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpAnalyzerDialog, sp_analyzer_dialog, SP, ANALYZER_DIALOG, SpDialog)

struct _SpAnalyzerDialog {
  SpDialog parent_instance;
  SpFormFields *first, *input, *noise, *distortion, *accuracy, *other; /* of the template */
};

G_DEFINE_FINAL_TYPE (SpAnalyzerDialog, sp_analyzer_dialog, SP_TYPE_DIALOG)

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

static void
check (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_check_form_present (GTK_WINDOW (widget), SP_DIALOG (widget)->session);
}

static void
shelf (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_shelf_dialog_present_analyzers (GTK_WINDOW (widget), SP_DIALOG (widget)->session);
}

static void
sp_analyzer_dialog_class_init (SpAnalyzerDialogClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_type_ensure (SP_TYPE_FIELDS);
  gtk_widget_class_install_action (widget, "analyzer.check", NULL, check);
  gtk_widget_class_install_action (widget, "analyzer.shelf", NULL, shelf);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F7, 0, "analyzer.shelf", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_k, GDK_CONTROL_MASK, "analyzer.check", NULL);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/analyzer-dialog.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpAnalyzerDialog, name)
  PART (first), PART (input), PART (noise), PART (distortion), PART (accuracy), PART (other);
#undef PART
}

static void
sp_analyzer_dialog_init (SpAnalyzerDialog *self)
{
  sp_dialog_init_template (SP_DIALOG (self));
}

void
sp_analyzer_dialog_present (GtkWindow *parent, SpSession *session)
{
  SpAnalyzerDialog *self = sp_dialog_new (SP_TYPE_ANALYZER_DIALOG, parent, session);
  SpDialog *dialog = SP_DIALOG (self);
  SpBench *bench = sp_session_bench (session);
  SpFormOwner owner = { get_key, set_key, dialog };
  dialog->condition = bench->n_conditions ? (int) sp_session_condition (session) : -1;
  sp_dialog_fill (dialog, self->first, sp_analyzer_keys, first_keys, G_N_ELEMENTS (first_keys), 1, &owner);
  sp_dialog_fill (dialog, self->input, sp_analyzer_keys, input_keys, G_N_ELEMENTS (input_keys), 2, &owner);
  sp_dialog_fill (dialog, self->noise, sp_analyzer_keys, noise_keys, G_N_ELEMENTS (noise_keys), 1, &owner);
  sp_dialog_fill (dialog, self->distortion, sp_analyzer_keys, distortion_keys, G_N_ELEMENTS (distortion_keys), 1, &owner);
  sp_dialog_fill (dialog, self->accuracy, sp_analyzer_keys, accuracy_keys, G_N_ELEMENTS (accuracy_keys), 2, &owner);
  sp_dialog_fill (dialog, self->other, sp_analyzer_keys, other_keys, G_N_ELEMENTS (other_keys), 1, &owner);
  sp_dialog_present (dialog);
}
