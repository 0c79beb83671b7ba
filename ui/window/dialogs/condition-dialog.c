/* condition-dialog.c - a radio, one of its conditions, and the sweeps taken of it */
#include "ui/window/dialogs/condition-dialog.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "ui/window/dialogs/condition-fields.h"
#include "ui/window/dialogs/condition-resources.h"
#include "ui/window/dialogs/condition-sweeps.h"
#include "ui/window/dialogs/form-pictures.h"

static const char *const use_words[] = { N_ ("anchors all levels, stated"), N_ ("is only compared") };

static const SpFormField radio_keys[] = {
  { "name", N_ ("name"), N_ ("What the radio is called; names are unique.") },
  { "owner", N_ ("owner"), N_ ("Whose it is.") },
  { "serial", N_ ("serial"), N_ ("Its serial number.") },
  { "installed", N_ ("installed"), N_ ("The date of installation, such as 2015-06-01: some limits depend on it.") },
  { "longest_key_down_s", N_ ("longest key-down"),
    N_ ("How long it may be keyed at a time: advised sweeps keep to it; left out: 60 s, and said.") },
  { "note", N_ ("note"), N_ ("Anything a reader should know.") },
};
static const SpFormField condition_keys[] = {
  { "name", N_ ("condition"), N_ ("What tells this condition from the radio's others, such as 2 m high.") },
  { "fundamental", N_ ("fundamental"), N_ ("The frequency it is keyed at, such as 146.52MHz; left out: found in the sweep.") },
  { "rated_w", N_ ("rated power"), N_ ("What the radio should give; it stands in where no power was measured.") },
  { "mode", N_ ("mode"),
    N_ ("FM, SSB, CW: what is made of an amplitude's modulation (AM, CW) is no wider at a harmonic, all else n times as wide at the "
        "nth.") },
  { "modulation", N_ ("modulation"),
    N_ ("What it was modulated with while it was keyed; not stated: as the sweeps show it, else as wide as it may be."),
    sp_modulation_words, N_ ("not stated: the bench's, else as the sweeps show it") },
  { "tone_hz", N_ ("its tone"), N_ ("The tone that it was modulated with, such as 1kHz.") },
  { "deviation_hz", N_ ("its deviation"), N_ ("The deviation of the carrier's frequency, such as 5kHz.") },
  { "duty", N_ ("duty cycle"), N_ ("The share of the time that it is keyed, up to 1: for the heat in the stages.") },
  { "meter_dbm", N_ ("power meter"), N_ ("A power meter's reading at the socket.") },
  { "meter_u_db", N_ ("its u"), N_ ("Standard uncertainty of the power meter.") },
  { "meter", N_ ("the meter"), N_ ("Whether all levels are shifted so that the fundamental is the meter's."), use_words,
    N_ ("anchors all levels") },
  { "necessary_bandwidth", N_ ("necessary bandwidth"), N_ ("Of this condition, such as 500Hz; left out: the bench's.") },
  { "clocks", N_ ("clocks"), N_ ("Oscillators within the radio, such as 26MHz; 19.2MHz: other spurs are explained by them.") },
  { "pinned", N_ ("notes on the chart"),
    N_ ("Words pinned to a place, such as 292MHz -30 the neighbour's radio; divided by ; the chart pins them with T.") },
};

/* ---- the radio ---- */

static char *
get_radio_key (gpointer owner, const char *key)
{
  SpDialog *dialog = owner;
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  if (!condition)
    return NULL;
  return strcmp (key, "name") == 0 ? g_strdup (bench->radios[condition->radio].name) : sp_bench_get_radio (bench, condition->radio, key);
}

static gboolean
set_radio_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpDialog *dialog = owner;
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  if (!condition)
    return FALSE;
  const char *radio = bench->radios[condition->radio].name;
  if (strcmp (field->key, "name") == 0)
    return sp_dialog_edit (dialog, sp_bench_rename_radio (bench, condition->radio, value, error),
                           g_strdup_printf (_ ("Rename %s to %s"), radio, value));
  return sp_dialog_edit (dialog, sp_bench_set_radio (bench, condition->radio, field->key, value, error),
                         g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), radio));
}

/* ---- the condition ---- */

static char *
get_condition_key (gpointer owner, const char *key)
{
  SpDialog *dialog = owner;
  const SpCondition *condition = sp_dialog_condition (dialog);
  if (!condition)
    return NULL;
  return strcmp (key, "name") == 0 ? g_strdup (condition->name)
                                   : sp_bench_get_condition (sp_session_bench (dialog->session), (guint) dialog->condition, key);
}

static gboolean
set_condition_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpDialog *dialog = owner;
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  guint index = (guint) dialog->condition;
  if (!condition)
    return FALSE;
  g_autofree char *name = sp_condition_name (bench, condition);
  if (strcmp (field->key, "name") == 0)
    return sp_dialog_edit (dialog, sp_bench_rename_condition (bench, index, value, error),
                           g_strdup_printf (_ ("Rename %s to %s"), name, value));
  return sp_dialog_edit (dialog, sp_bench_set_condition (bench, index, field->key, value, error),
                         g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), name));
}

/* ---- the dialog ---- */

#define SP_TYPE_CONDITION_DIALOG (sp_condition_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpConditionDialog, sp_condition_dialog, SP, CONDITION_DIALOG, SpDialog)

struct _SpConditionDialog {
  SpDialog parent_instance;
  SpBench *added;   /* the bench that the radio came with, compared only; NULL: it was there before */
  guint before;     /* what was chosen before that */
  gboolean escaped; /* Escape was the last key */
  /* of the template */
  SpFormFields *radio, *own;
  SpConditionFields *radio_fields, *own_fields;
  SpConditionResources *resources;
  SpConditionSweeps *sweeps;
  SpPictures *pictures;
};

G_DEFINE_FINAL_TYPE (SpConditionDialog, sp_condition_dialog, SP_TYPE_DIALOG)

static void
follow (SpDialog *dialog)
{
  SpConditionDialog *self = SP_CONDITION_DIALOG (dialog);
  sp_condition_fields_follow (self->radio_fields);
  sp_condition_fields_follow (self->own_fields);
  sp_condition_resources_follow (self->resources);
  sp_condition_sweeps_follow (self->sweeps);
  sp_pictures_follow (self->pictures);
}

/* Escape from a radio that was only added: as if it had not been. */
static gboolean
sp_condition_dialog_close_request (GtkWindow *window)
{
  SpConditionDialog *self = SP_CONDITION_DIALOG (window);
  SpSession *session = SP_DIALOG (window)->session;
  if (GTK_WINDOW_CLASS (sp_condition_dialog_parent_class)->close_request (window))
    return TRUE;
  if (self->escaped && self->added && self->added == sp_session_bench (session)) {
    sp_session_undo (session);
    sp_session_choose (session, self->before, SP_DECIDING_EMISSION);
  }
  return FALSE;
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType modifiers, SpConditionDialog *self)
{
  (void) keys, (void) code, (void) modifiers;
  self->escaped = key == GDK_KEY_Escape;
  return GDK_EVENT_PROPAGATE;
}

static void
sp_condition_dialog_class_init (SpConditionDialogClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  SP_DIALOG_CLASS (klass)->follow = follow;
  GTK_WINDOW_CLASS (klass)->close_request = sp_condition_dialog_close_request;
  g_type_ensure (SP_TYPE_FIELDS);
  g_type_ensure (SP_TYPE_CONDITION_FIELDS);
  g_type_ensure (SP_TYPE_CONDITION_RESOURCES);
  g_type_ensure (SP_TYPE_CONDITION_SWEEPS);
  g_type_ensure (SP_TYPE_PICTURES);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/condition-dialog.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpConditionDialog, name)
  PART (radio), PART (own), PART (radio_fields), PART (own_fields), PART (resources), PART (sweeps), PART (pictures);
#undef PART
}

static void
sp_condition_dialog_init (SpConditionDialog *self)
{
  sp_dialog_init_template (SP_DIALOG (self));
  sp_condition_resources_begin (self->resources, SP_DIALOG (self));
  sp_condition_sweeps_begin (self->sweeps, SP_DIALOG (self));
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static SpConditionDialog *
present (GtkWindow *parent, SpSession *session, guint condition)
{
  SpBench *bench = sp_session_bench (session);
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  g_autofree char *name = sp_condition_name (bench, &bench->conditions[condition]);
  SpConditionDialog *self = sp_dialog_new (SP_TYPE_CONDITION_DIALOG, parent, session);
  SpDialog *dialog = SP_DIALOG (self);
  SpFormOwner radio = { get_radio_key, set_radio_key, dialog }, own = { get_condition_key, set_condition_key, dialog };
  gtk_window_set_title (GTK_WINDOW (self), name);
  dialog->condition = (int) condition;
  sp_dialog_fill (dialog, self->radio, sp_radio_keys, radio_keys, G_N_ELEMENTS (radio_keys), 2, &radio);
  sp_dialog_fill (dialog, self->own, sp_condition_keys, condition_keys, G_N_ELEMENTS (condition_keys), 2, &own);
  sp_form_pictures_begin (self->pictures, dialog);
  sp_condition_fields_begin (self->radio_fields, dialog, TRUE, &radio);
  sp_condition_fields_begin (self->own_fields, dialog, FALSE, &own);
  sp_dialog_present (dialog);
  return self;
}

void
sp_condition_dialog_present (GtkWindow *parent, SpSession *session, guint condition)
{
  present (parent, session, condition);
}

void
sp_condition_dialog_present_added (GtkWindow *parent, SpSession *session, guint condition, guint before)
{
  SpConditionDialog *self = present (parent, session, condition);
  self->added = sp_session_bench (session);
  self->before = before;
}
