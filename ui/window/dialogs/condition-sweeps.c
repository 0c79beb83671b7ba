/* condition-sweeps.c - the sweeps of a condition, a row each */
#include "ui/window/dialogs/condition-sweeps.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/error.h"
#include "core/quantity/typed.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/words.h"

#define SP_TYPE_SWEEP_ROW (sp_sweep_row_get_type ())
G_DECLARE_FINAL_TYPE (SpSweepRow, sp_sweep_row, SP, SWEEP_ROW, GtkBox)

struct _SpSweepRow {
  GtkBox parent_instance;
  SpConditionSweeps *sweeps; /* whose row it is */
  SpDialog *dialog;
  guint sweep;
  SpSweep shown; /* the sweep as the row shows it; its trace and chain are kept */
  gboolean busy; /* the drop-down is being set: what it says is not the user's */
  /* of the template */
  GtkWidget *file, *purpose, *step, *supersede, *settings, *through, *through_name, *ask, *common, *options, *trouble;
};

G_DEFINE_FINAL_TYPE (SpSweepRow, sp_sweep_row, GTK_TYPE_BOX)

struct _SpConditionSweeps {
  GtkBox parent_instance;
  SpDialog *dialog;
  guint asked; /* the sweep whose chain's file is asked for */
};

G_DEFINE_FINAL_TYPE (SpConditionSweeps, sp_condition_sweeps, GTK_TYPE_BOX)

/* ---- what was read ---- */

static void
say (GString *line, char *text)
{
  g_autofree char *owned = text;
  g_string_append_printf (line, "%s%s", line->len ? " \xc2\xb7 " : "", owned);
}

/* "10 MHz to 1.5 GHz · 10001 points · RBW 100 kHz · attenuation 20 dB · rms": what the export leaves out is named too. */
static char *
settings_say (const SpTrace *trace)
{
  const SpSettings *settings = &trace->settings;
  GString *line = g_string_new (NULL);
  g_autofree char *from = sp_words_frequency (trace->frequency_hz[0], 0, SP_HAND_SCREEN);
  g_autofree char *to = sp_words_frequency (trace->frequency_hz[trace->n - 1], 0, SP_HAND_SCREEN);
  g_autofree char *rbw = isnan (settings->rbw_hz) ? NULL : sp_words_frequency (settings->rbw_hz, 0, SP_HAND_SCREEN);
  g_autofree char *attenuation = isnan (settings->attenuation_db) ? NULL : sp_words_number (settings->attenuation_db, 0, SP_HAND_SCREEN);
  const char *detector = sp_words_of_detector (settings->detector), *average = sp_average_name (settings->average);
  say (line, g_strdup_printf (_ ("%s to %s"), from, to));
  say (line, g_strdup_printf (_ ("%" G_GUINT64_FORMAT " points"), trace->n));
  say (line, rbw ? g_strdup_printf (_ ("RBW %s"), rbw) : g_strdup (_ ("RBW not known")));
  say (line, attenuation ? g_strdup_printf (_ ("attenuation %s dB"), attenuation) : g_strdup (_ ("attenuation not known")));
  say (line, detector ? g_strdup_printf (_ ("detector %s"), detector) : g_strdup (_ ("detector not known")));
  if (average && settings->average != SP_AVERAGE_NONE)
    say (line, g_strdup_printf (_ ("average %s"), average));
  return g_string_free (line, FALSE);
}

/* ---- edits ---- */

static const SpSweep *
sweep_of (SpSweepRow *row)
{
  const SpCondition *condition = sp_dialog_condition (row->dialog);
  return condition && row->sweep < condition->n_sweeps ? &condition->sweeps[row->sweep] : NULL;
}

/* `bench` (transfer full) or `error` (transfer full), told below the row. Takes `label`. */
static void
apply (SpSweepRow *row, SpBench *bench, char *label, GError *error)
{
  g_autoptr (GError) why = error;
  gtk_label_set_text (GTK_LABEL (row->trouble), why ? why->message : "");
  gtk_widget_set_visible (row->trouble, why != NULL);
  sp_dialog_edit (row->dialog, bench, label);
}

static char *
file_of (SpSweepRow *row)
{
  const SpSweep *sweep = sweep_of (row);
  return sweep && sweep->trace->file ? g_path_get_basename (sweep->trace->file) : g_strdup ("");
}

static void
set_purpose (SpSweepRow *row, SpPurpose purpose, double step_db)
{
  GError *error = NULL;
  g_autofree char *file = file_of (row);
  SpBench *bench = sp_bench_set_purpose (sp_session_bench (row->dialog->session), (guint) row->dialog->condition, row->sweep, purpose,
                                         step_db, &error);
  apply (row, bench, g_strdup_printf (_ ("Change the purpose of %s"), file), error);
}

static void
on_purpose (GtkDropDown *drop, GParamSpec *pspec, SpSweepRow *row)
{
  guint purpose = gtk_drop_down_get_selected (drop);
  const SpSweep *sweep = row->busy ? NULL : sweep_of (row);
  (void) pspec;
  if (!sweep || purpose > SP_PURPOSE_SUPERSEDED)
    return;
  gtk_widget_set_visible (row->step, purpose == SP_PURPOSE_STEP);
  gtk_widget_set_visible (row->through, sp_purpose_has_chain ((SpPurpose) purpose));
  if (purpose == sweep->purpose)
    return;
  if (purpose == SP_PURPOSE_STEP) { /* the user says by how much first */
    gtk_widget_grab_focus (row->step);
    return;
  }
  set_purpose (row, (SpPurpose) purpose, NAN);
  if (gtk_widget_get_visible (row->trouble)) {
    row->busy = TRUE;
    gtk_drop_down_set_selected (drop, sweep->purpose);
    row->busy = FALSE;
  }
}

static gboolean
read_step (SpSweepRow *row, double *step_db, GError **error)
{
  return sp_typed_read (gtk_editable_get_text (GTK_EDITABLE (row->step)), "dB", sp_words_decimal_mark (), step_db, error);
}

static void
on_step (SpSweepRow *row)
{
  double step_db;
  GError *error = NULL;
  if (read_step (row, &step_db, &error))
    set_purpose (row, SP_PURPOSE_STEP, step_db);
  else
    apply (row, NULL, NULL, error);
}

/* ---- the chain of its own ---- */

/* Takes purpose and step as the row shows them, set or not: with an outside pad a step fits its file only together with its chain.
 * `chain` NULL: the condition's, or there is an error (transfer full). */
static void
set_through (SpSweepRow *row, const SpChain *chain, GError *error)
{
  guint purpose = gtk_drop_down_get_selected (GTK_DROP_DOWN (row->purpose));
  double step_db = NAN;
  SpBench *bench = NULL;
  g_autofree char *file = file_of (row);
  if (!error && (purpose != SP_PURPOSE_STEP || read_step (row, &step_db, &error)))
    bench = sp_bench_set_purpose_through (sp_session_bench (row->dialog->session), (guint) row->dialog->condition, row->sweep,
                                          (SpPurpose) purpose, step_db, chain, &error);
  apply (row, bench, g_strdup_printf (_ ("Change the chain of %s"), file), error);
}

/* Finds the row of a sweep: it may have been rebuilt while a file was chosen or read. NULL: it is gone. */
static SpSweepRow *
row_at (gpointer sweeps, guint sweep)
{
  GtkWidget *row = gtk_widget_get_first_child (sweeps);
  for (guint i = 0; i < sweep && row; i++)
    row = gtk_widget_get_next_sibling (row);
  return row && SP_IS_SWEEP_ROW (row) && sweep_of (SP_SWEEP_ROW (row)) ? SP_SWEEP_ROW (row) : NULL;
}

/* A sweep's chain while its file is read. */
typedef struct {
  guint sweep;
  SpTrace *trace; /* its own: an undo may have put another in its place */
  SpPurpose purpose;
  SpChain *behind; /* the condition's; NULL */
} Asked;

static void
asked_free (gpointer data)
{
  Asked *asked = data;
  sp_trace_unref (asked->trace);
  g_clear_pointer (&asked->behind, sp_chain_unref);
  g_free (asked);
}

static gpointer
read_chain (const char *path, gpointer data, GError **error)
{
  const Asked *asked = data;
  return sp_chain_for_sweep (asked->behind, asked->purpose, path, error);
}

static void
on_chain_read (gpointer sweeps, gpointer data, gpointer value, GError *why)
{
  const Asked *asked = data;
  SpSweepRow *row = row_at (sweeps, asked->sweep);
  g_autoptr (SpChain) chain = value;
  g_autoptr (GError) error = why;
  if (!row || sweep_of (row)->trace != asked->trace)
    return;
  gtk_widget_set_sensitive (row->ask, TRUE);
  if (chain && asked->behind != sp_condition_chain (sp_session_bench (row->dialog->session), sp_dialog_condition (row->dialog)))
    sp_fail (&error, SP_ERROR_USAGE, _ ("The chain was changed while the file was read: take it once more."));
  if (gtk_drop_down_get_selected (GTK_DROP_DOWN (row->purpose)) == asked->purpose) /* else what was read is of no more use */
    set_through (row, chain, g_steal_pointer (&error));
}

static void
on_chain_file (GtkWidget *widget, GFile *file)
{
  static const SpFileReading reading = { read_chain, (GDestroyNotify) sp_chain_unref, on_chain_read, asked_free };
  SpConditionSweeps *sweeps = SP_CONDITION_SWEEPS (widget);
  SpSweepRow *row = row_at (sweeps, sweeps->asked);
  if (!row)
    return;
  SpChain *behind = sp_condition_chain (sp_session_bench (row->dialog->session), sp_dialog_condition (row->dialog));
  Asked *asked = g_new (Asked, 1);
  *asked = (Asked){ sweeps->asked, sp_trace_ref (sweep_of (row)->trace),
                    (SpPurpose) gtk_drop_down_get_selected (GTK_DROP_DOWN (row->purpose)), behind ? sp_chain_ref (behind) : NULL };
  gtk_widget_set_sensitive (row->ask, FALSE);
  sp_reading_begin (sweeps, file, &reading, asked);
}

static void
on_ask_chain (SpSweepRow *row)
{
  row->sweeps->asked = row->sweep;
  sp_ask_file (GTK_WIDGET (row->sweeps), _ ("A chain, or the loss of the notch or pad alone"), "*.chain *.s2p *.ts *.csv *.txt *.run",
               on_chain_file);
}

static void
on_common_chain (SpSweepRow *row)
{
  if (sweep_of (row))
    set_through (row, NULL, NULL);
}

/* ---- read again with other settings: of a million points too ---- */

typedef struct {
  SpBench *bench;
  guint condition, sweep;
  char *options;
} Again;

static void
again_free (gpointer data)
{
  Again *again = data;
  sp_bench_unref (again->bench);
  g_free (again->options);
  g_free (again);
}

static gpointer
read_again (const char *path, gpointer data, GError **error)
{
  const Again *again = data;
  (void) path;
  return sp_bench_reread_sweep (again->bench, again->condition, again->sweep, again->options, error);
}

static void
on_read_again (gpointer sweeps, gpointer data, gpointer value, GError *error)
{
  const Again *again = data;
  SpBench *bench = value;
  SpSweepRow *row = row_at (sweeps, again->sweep);
  if (row && bench && again->bench != sp_session_bench (row->dialog->session)) {
    g_clear_pointer (&bench, sp_bench_unref);
    sp_fail (&error, SP_ERROR_USAGE, _ ("The bench was changed while the sweep was read: press Enter once more."));
  }
  if (row) {
    g_autofree char *file = file_of (row);
    gtk_widget_set_sensitive (row->options, TRUE);
    if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (row->options)), again->options) != 0) /* the row was rebuilt meanwhile */
      sp_entry_fill (row->options, again->options);
    apply (row, bench, g_strdup_printf (_ ("Read %s with other settings"), file), error);
    return;
  }
  g_clear_pointer (&bench, sp_bench_unref);
  g_clear_error (&error);
}

static void
on_options (SpSweepRow *row)
{
  static const SpFileReading reading = { read_again, (GDestroyNotify) sp_bench_unref, on_read_again, again_free };
  const SpSweep *sweep = sweep_of (row);
  const char *options = gtk_editable_get_text (GTK_EDITABLE (row->options));
  if (row->busy || !sweep || g_strcmp0 (options, sweep->trace->options) == 0)
    return;
  Again *again = g_new (Again, 1);
  *again = (Again){ sp_bench_ref (sp_session_bench (row->dialog->session)), (guint) row->dialog->condition, row->sweep,
                    g_strdup (options) };
  gtk_widget_set_sensitive (row->options, FALSE);
  sp_reading_begin (row->sweeps, NULL, &reading, again);
}

static void
on_supersede (SpSweepRow *row)
{
  if (sweep_of (row))
    set_purpose (row, SP_PURPOSE_SUPERSEDED, NAN);
}

static void
on_remove (SpSweepRow *row)
{
  GError *error = NULL;
  g_autofree char *file = file_of (row);
  SpBench *bench = sp_bench_remove_sweep (sp_session_bench (row->dialog->session), row->dialog->condition, row->sweep, &error);
  apply (row, bench, g_strdup_printf (_ ("Remove %s"), file), error);
}

/* ---- rows ---- */

static void
sp_sweep_row_finalize (GObject *object)
{
  SpSweepRow *row = SP_SWEEP_ROW (object);
  g_clear_pointer (&row->shown.trace, sp_trace_unref);
  g_clear_pointer (&row->shown.chain, sp_chain_unref);
  G_OBJECT_CLASS (sp_sweep_row_parent_class)->finalize (object);
}

static void
sp_sweep_row_class_init (SpSweepRowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_sweep_row_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/sweep-row.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpSweepRow, name)
  PART (file), PART (purpose), PART (step), PART (supersede), PART (settings), PART (through), PART (through_name), PART (ask);
  PART (common), PART (options), PART (trouble);
#undef PART
#define DOES(name) gtk_widget_class_bind_template_callback (widget, name)
  DOES (on_purpose), DOES (on_step), DOES (on_supersede), DOES (on_remove), DOES (on_ask_chain), DOES (on_common_chain), DOES (on_options);
#undef DOES
}

static void
sp_sweep_row_init (SpSweepRow *row)
{
  GtkStringList *words = gtk_string_list_new (NULL);
  row->busy = TRUE;
  gtk_widget_init_template (GTK_WIDGET (row));
  for (int purpose = SP_PURPOSE_KEYED; purpose <= SP_PURPOSE_SUPERSEDED; purpose++)
    gtk_string_list_append (words, sp_words_purpose ((SpPurpose) purpose));
  gtk_drop_down_set_model (GTK_DROP_DOWN (row->purpose), G_LIST_MODEL (words));
  g_object_unref (words);
  sp_drop_down_speak (row->purpose, _ ("purpose of the sweep"));
}

/* A sheet keeps one chain for all steps of a condition, and one for all its notched sweeps. */
static GtkWidget *
new_row (SpConditionSweeps *self, guint index)
{
  const SpSweep *sweep = &sp_dialog_condition (self->dialog)->sweeps[index];
  SpSweepRow *row = g_object_new (SP_TYPE_SWEEP_ROW, NULL);
  row->sweeps = self;
  row->dialog = self->dialog;
  row->sweep = index;
  row->shown = *sweep;
  sp_trace_ref (sweep->trace);
  if (sweep->chain)
    sp_chain_ref (sweep->chain);
  g_autofree char *file = file_of (row), *settings = settings_say (sweep->trace),
                  *through = sp_words_through (sweep->purpose, sweep->chain),
                  *step = isnan (sweep->step_db) ? g_strdup ("") : sp_words_number (sweep->step_db, 0, SP_HAND_MACHINE);
  gtk_label_set_text (GTK_LABEL (row->file), file);
  gtk_label_set_text (GTK_LABEL (row->settings), settings);
  gtk_label_set_text (GTK_LABEL (row->through_name), through);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (row->purpose), sweep->purpose);
  sp_entry_fill (row->step, step);
  sp_entry_fill (row->options, sweep->trace->options ? sweep->trace->options : "");
  gtk_widget_set_visible (row->step, sweep->purpose == SP_PURPOSE_STEP);
  gtk_widget_set_visible (row->supersede, sweep->purpose != SP_PURPOSE_SUPERSEDED);
  gtk_widget_set_visible (row->through, sp_purpose_has_chain (sweep->purpose));
  gtk_widget_set_visible (row->common, sweep->chain != NULL);
  row->busy = FALSE;
  return GTK_WIDGET (row);
}

static gboolean
is_shown (GtkWidget *row, const SpSweep *sweep)
{
  const SpSweep *shown = &SP_SWEEP_ROW (row)->shown;
  return shown->trace == sweep->trace && shown->chain == sweep->chain && shown->purpose == sweep->purpose
         && (shown->step_db == sweep->step_db || (isnan (shown->step_db) && isnan (sweep->step_db)));
}

static guint
count_rows (GtkBox *self)
{
  guint n = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child; child = gtk_widget_get_next_sibling (child))
    n += SP_IS_SWEEP_ROW (child);
  return n;
}

/* Keeps the row of a sweep that has not changed, and what is typed there. */
static void
renew_rows (SpConditionSweeps *self, const SpCondition *condition)
{
  GtkWidget *before = NULL, *row = gtk_widget_get_first_child (GTK_WIDGET (self));
  for (guint i = 0; i < condition->n_sweeps; i++) {
    GtkWidget *next = gtk_widget_get_next_sibling (row), *stays = row;
    if (!is_shown (row, &condition->sweeps[i])) {
      gtk_box_remove (GTK_BOX (self), row);
      stays = new_row (self, i);
      gtk_box_insert_child_after (GTK_BOX (self), stays, before);
    }
    before = stays;
    row = next;
  }
}

void
sp_condition_sweeps_follow (SpConditionSweeps *self)
{
  const SpCondition *condition = sp_dialog_condition (self->dialog);
  GtkBox *box = GTK_BOX (self);
  if (condition && condition->n_sweeps > 0 && condition->n_sweeps == count_rows (box)) {
    renew_rows (self, condition);
    return;
  }
  for (GtkWidget *child; (child = gtk_widget_get_first_child (GTK_WIDGET (self)));)
    gtk_box_remove (box, child);
  for (guint i = 0; condition && i < condition->n_sweeps; i++)
    gtk_box_append (box, new_row (self, i));
  if (condition && condition->n_sweeps == 0)
    gtk_box_append (box, sp_dialog_label_new (_ ("No sweep yet: drop an export on the radio in the window."), "soft"));
}

void
sp_condition_sweeps_begin (SpConditionSweeps *self, SpDialog *dialog)
{
  self->dialog = dialog;
}

static void
sp_condition_sweeps_class_init (SpConditionSweepsClass *klass)
{
  (void) klass;
}

static void
sp_condition_sweeps_init (SpConditionSweeps *self)
{
  (void) self;
}
