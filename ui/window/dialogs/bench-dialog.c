/* bench-dialog.c - what holds for the whole evening: title, mask and rule, temperature, reflections, the unkeyed sweep */
#include "ui/window/dialogs/bench-dialog.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "ui/window/dialogs/form-pictures.h"
#include "ui/window/dialogs/mask-form.h"
#include "ui/window/import/import-item.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"

static const char *const rule_words[] = { N_ ("guarded: the uncertainty counts against the radio"),
                                          N_ ("simple: the level as it stands, U shown") };

static const SpFormField bench_keys[] = {
  { "title", N_ ("title"), N_ ("What reports are headed with.") },
  { "date", N_ ("date"), N_ ("The day of the measurement, such as 2026-10-03; calibrations are counted from it.") },
  { "operator", N_ ("operator"), N_ ("Who keyed the radios.") },
  { "place", N_ ("place"), N_ ("Where it was measured.") },
  { "note", N_ ("note"), N_ ("Anything a reader should know.") },
};
static const SpFormField judging_keys[] = {
  { "rule", N_ ("decision rule"), N_ ("Whether a level counts as it stands, or with its uncertainty held against it (JCGM 106)."),
    rule_words },
  { "necessary_bandwidth", N_ ("necessary bandwidth"),
    N_ ("Of the emission, such as 16kHz: what lies nearer to the fundamental is its own.") },
  { "modulation", N_ ("modulation"),
    N_ ("What the radios were modulated with while they were keyed; not stated: as the sweeps show it, else as wide as it may be."),
    sp_modulation_words, N_ ("not stated: as the sweeps show it") },
  { "temperature_c", N_ ("temperature"), N_ ("At the bench; losses are corrected to it.") },
  { "radio_vswr", N_ ("radio's VSWR"), N_ ("What the radio itself shows at its fundamental; it sets the mismatch there.") },
  { "radio_harmonic_vswr", N_ ("at harmonics"),
    N_ ("What it shows at its harmonics; not stated, inf is taken: an output filter throws nearly all back.") },
};
static const SpFormField check_keys[] = {
  { "check_before_dbm", N_ ("check reading before"),
    N_ ("What the analyzer read of one steady source through the chain before the first radio.") },
  { "check_after_dbm", N_ ("check reading after"),
    N_ ("What it read of the same source after the last radio: the drift counts in every level.") },
};

static const SpFormField means_keys[] = {
  { "pads_at_hand", N_ ("pads at hand"),
    N_ ("Pads that could be put before the analyzer, each by its dB and its rating in W, such as 10 2; 20 5: what would "
        "prove it counts on them.") },
};

#define SP_TYPE_BENCH_DIALOG (sp_bench_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpBenchDialog, sp_bench_dialog, SP, BENCH_DIALOG, SpDialog)

struct _SpBenchDialog {
  SpDialog parent_instance;
  GCancellable *reading; /* while the unkeyed sweep is read; NULL */
  /* of the template */
  SpFormFields *about, *judging, *check, *means;
  SpMaskForm *mask, *second;
  SpPictures *pictures;
  GtkWidget *mask_choose, *second_choose, *unkeyed_name, *unkeyed_choose, *unkeyed_remove;
};

G_DEFINE_FINAL_TYPE (SpBenchDialog, sp_bench_dialog, SP_TYPE_DIALOG)

static void follow (SpDialog *dialog);

static SpSession *
session_of (gpointer self)
{
  return SP_DIALOG (self)->session;
}

static char *
get_key (gpointer owner, const char *key)
{
  return sp_bench_get (sp_session_bench (session_of (owner)), key);
}

static gboolean
set_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpBench *edited = sp_bench_set (sp_session_bench (session_of (owner)), field->key, value, error);
  return edited && sp_dialog_edit (owner, edited, g_strdup_printf (_ ("Change the bench's %s"), _ (field->what)));
}

/* ---- the mask: a built-in one, or a file ---- */

static gpointer
read_mask (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_resource_read (SP_RESOURCE_MASK, path, error);
}

static GtkWidget *
choose_of (gpointer window, gboolean second)
{
  return second ? SP_BENCH_DIALOG (window)->second_choose : SP_BENCH_DIALOG (window)->mask_choose;
}

static void
on_mask_read (gpointer window, gpointer second, gpointer value, GError *error)
{
  g_autoptr (SpMask) mask = value;
  SpBench *present = sp_session_bench (session_of (window));
  SpBench *bench = !mask ? NULL : second ? sp_bench_set_second_mask (present, -1, mask) : sp_bench_set_mask (present, mask);
  gtk_widget_set_sensitive (choose_of (window, second != NULL), TRUE);
  sp_session_edit (session_of (window), bench, second ? _ ("Take a second mask from a file") : _ ("Take a mask from a file"), error);
}

static void
begin_mask (GtkWidget *window, GFile *file, gboolean second)
{
  static const SpFileReading reading = { read_mask, (GDestroyNotify) sp_mask_unref, on_mask_read, NULL };
  gtk_widget_set_sensitive (choose_of (window, second), FALSE);
  sp_reading_begin (window, file, &reading, GINT_TO_POINTER (second));
}

static void
on_mask_file (GtkWidget *window, GFile *file)
{
  begin_mask (window, file, FALSE);
}

static void
on_second_file (GtkWidget *window, GFile *file)
{
  begin_mask (window, file, TRUE);
}

static void
on_ask_mask (GtkWidget *dialog)
{
  sp_ask_file (dialog, _ ("A mask's file"), "*.mask", on_mask_file);
}

static void
on_ask_second (GtkWidget *dialog)
{
  sp_ask_file (dialog, _ ("A second mask's file"), "*.mask", on_second_file);
}

/* ---- the unkeyed sweep: one for all ---- */

/* A long sweep is read off the main thread, as imports are. A file of several columns gives its first. */
static void
on_unkeyed (GPtrArray *items, guint of, gpointer window)
{
  SpSession *session = session_of (window);
  g_autoptr (GPtrArray) owned = items;
  const SpArrivalItem *item = items->pdata[0];
  GError *error = NULL;
  (void) of;
  if (!item->trace) {
    sp_session_trouble (session, item->error, NULL);
    return;
  }
  SpBench *bench = sp_bench_add_sweep (sp_session_bench (session), -1, SP_PURPOSE_UNKEYED, item->trace, NAN, &error);
  sp_session_edit (session, bench, _ ("Take an unkeyed sweep for all radios"), error);
}

static void
on_unkeyed_finished (guint left_out, gpointer data)
{
  g_autoptr (SpBenchDialog) self = data;
  (void) left_out;
  if (g_cancellable_is_cancelled (self->reading))
    return; /* closed, or another was chosen */
  g_clear_object (&self->reading);
  follow (SP_DIALOG (self));
}

static void
on_unkeyed_file (GtkWidget *window, GFile *file)
{
  static const SpArrivalsHeard heard = { on_unkeyed, on_unkeyed_finished };
  SpBenchDialog *self = SP_BENCH_DIALOG (window);
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  if (self->reading)
    return;
  self->reading = g_cancellable_new ();
  g_list_store_append (files, file);
  follow (SP_DIALOG (self));
  sp_arrivals_read (G_LIST_MODEL (files), self->reading, &heard, g_object_ref (self));
}

static void
on_ask_unkeyed (GtkWidget *dialog)
{
  sp_ask_file (dialog, _ ("A sweep with no radio keyed"), "*", on_unkeyed_file);
}

static void
on_remove_unkeyed (SpDialog *dialog)
{
  GError *error = NULL;
  SpBench *bench = sp_bench_remove_sweep (sp_session_bench (dialog->session), -1, 0, &error);
  sp_session_edit (dialog->session, bench, _ ("Remove the unkeyed sweep"), error);
}

static void
follow (SpDialog *dialog)
{
  SpBenchDialog *self = SP_BENCH_DIALOG (dialog);
  const SpBench *bench = sp_session_bench (dialog->session);
  const SpTrace *unkeyed = bench->unkeyed;
  g_autofree char *name = unkeyed ? g_path_get_basename (unkeyed->file) : NULL;
  sp_mask_form_follow (self->mask, bench->mask);
  sp_mask_form_follow (self->second, bench->second_mask);
  sp_pictures_follow (self->pictures);
  gtk_label_set_text (GTK_LABEL (self->unkeyed_name), self->reading ? _ ("being read\xe2\x80\xa6") : name ? name : _ ("none"));
  gtk_widget_set_sensitive (self->unkeyed_choose, !self->reading);
  gtk_widget_set_sensitive (self->unkeyed_remove, unkeyed != NULL);
}

/* Cancels here and not in dispose: the reading keeps the window. */
static void
sp_bench_dialog_unmap (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (sp_bench_dialog_parent_class)->unmap (widget);
  g_cancellable_cancel (SP_BENCH_DIALOG (widget)->reading);
}

static void
sp_bench_dialog_finalize (GObject *object)
{
  g_clear_object (&SP_BENCH_DIALOG (object)->reading);
  G_OBJECT_CLASS (sp_bench_dialog_parent_class)->finalize (object);
}

static void
sp_bench_dialog_class_init (SpBenchDialogClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_bench_dialog_finalize;
  widget->unmap = sp_bench_dialog_unmap;
  SP_DIALOG_CLASS (klass)->follow = follow;
  g_type_ensure (SP_TYPE_FIELDS);
  g_type_ensure (SP_TYPE_MASK_FORM);
  g_type_ensure (SP_TYPE_PICTURES);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/bench-dialog.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpBenchDialog, name)
  PART (about), PART (judging), PART (check), PART (means), PART (mask), PART (mask_choose), PART (pictures);
  PART (second), PART (second_choose);
  PART (unkeyed_name), PART (unkeyed_choose), PART (unkeyed_remove);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_ask_mask);
  gtk_widget_class_bind_template_callback (widget, on_ask_second);
  gtk_widget_class_bind_template_callback (widget, on_ask_unkeyed);
  gtk_widget_class_bind_template_callback (widget, on_remove_unkeyed);
}

static void
sp_bench_dialog_init (SpBenchDialog *self)
{
  sp_dialog_init_template (SP_DIALOG (self));
}

void
sp_bench_dialog_present (GtkWindow *parent, SpSession *session)
{
  SpBenchDialog *self = sp_dialog_new (SP_TYPE_BENCH_DIALOG, parent, session);
  SpDialog *dialog = SP_DIALOG (self);
  SpFormOwner owner = { get_key, set_key, dialog };
  sp_mask_form_begin (self->mask, &owner, "mask", NULL);
  sp_mask_form_begin (self->second, &owner, "second_mask", _ ("none"));
  sp_form_pictures_begin (self->pictures, dialog);
  sp_dialog_fill (dialog, self->about, sp_bench_keys, bench_keys, G_N_ELEMENTS (bench_keys), 1, &owner);
  sp_dialog_fill (dialog, self->judging, sp_bench_keys, judging_keys, G_N_ELEMENTS (judging_keys), 1, &owner);
  sp_dialog_fill (dialog, self->check, sp_bench_keys, check_keys, G_N_ELEMENTS (check_keys), 2, &owner);
  sp_dialog_fill (dialog, self->means, sp_bench_keys, means_keys, G_N_ELEMENTS (means_keys), 1, &owner);
  sp_dialog_present (dialog);
}
