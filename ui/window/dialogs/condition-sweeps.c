/* condition-sweeps.c - the sweeps of a condition, a row each */
#include "ui/window/dialogs/condition-sweeps.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/words.h"

typedef struct {
  SpDialog *dialog;
  guint sweep;
  SpSweep shown; /* the sweep as the row shows it; its trace and chain are kept */
  GtkWidget *purpose, *step, *through, *ask, *options, *trouble;
  gboolean busy;
} Row;

/* ---- what was read ---- */

static void
say (GString *line, char *text)
{
  g_autofree char *owned = text;
  g_string_append_printf (line, "%s%s", line->len ? " \xc2\xb7 " : "", owned);
}

/* "10 MHz to 1.5 GHz · 10001 points · RBW 100 kHz · attenuation 20 dB · rms": what the export does not say is said too. */
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
sweep_of (Row *row)
{
  const SpCondition *condition = sp_dialog_condition (row->dialog);
  return condition && row->sweep < condition->n_sweeps ? &condition->sweeps[row->sweep] : NULL;
}

/* `bench` (transfer full) or `error` (transfer full), told below the row. Takes `label`. */
static void
apply (Row *row, SpBench *bench, char *label, GError *error)
{
  g_autoptr (GError) why = error;
  gtk_label_set_text (GTK_LABEL (row->trouble), why ? why->message : "");
  gtk_widget_set_visible (row->trouble, why != NULL);
  sp_dialog_edit (row->dialog, bench, label);
}

static char *
file_of (Row *row)
{
  const SpSweep *sweep = sweep_of (row);
  return sweep && sweep->trace->file ? g_path_get_basename (sweep->trace->file) : g_strdup ("");
}

static void
set_purpose (Row *row, SpPurpose purpose, double step_db)
{
  GError *error = NULL;
  g_autofree char *file = file_of (row);
  SpBench *bench = sp_bench_set_purpose (sp_session_bench (row->dialog->session), (guint) row->dialog->condition, row->sweep, purpose,
                                         step_db, &error);
  apply (row, bench, g_strdup_printf (_ ("Change the purpose of %s"), file), error);
}

static void
on_purpose (GtkDropDown *drop, GParamSpec *pspec, Row *row)
{
  guint purpose = gtk_drop_down_get_selected (drop);
  const SpSweep *sweep = sweep_of (row);
  (void) pspec;
  if (row->busy || !sweep || purpose > SP_PURPOSE_SUPERSEDED)
    return;
  gtk_widget_set_visible (row->step, purpose == SP_PURPOSE_STEP);
  gtk_widget_set_visible (row->through, sp_purpose_has_chain ((SpPurpose) purpose));
  if (purpose == sweep->purpose)
    return;
  if (purpose == SP_PURPOSE_STEP) { /* by how much is the user's to say first */
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

static void
on_step (Row *row)
{
  double step_db;
  GError *error = NULL;
  if (sp_parse_number (gtk_editable_get_text (GTK_EDITABLE (row->step)), &step_db, &error))
    set_purpose (row, SP_PURPOSE_STEP, step_db);
  else
    apply (row, NULL, NULL, error);
}

/* ---- the chain of its own ---- */

/* Purpose and step as they stand in the row, chosen or not yet: with an outside pad a step fits its file only together with its chain.
 * `chain` NULL: the condition's, or there is an error (transfer full). */
static void
set_through (Row *row, const SpChain *chain, GError *error)
{
  guint purpose = gtk_drop_down_get_selected (GTK_DROP_DOWN (row->purpose));
  double step_db = NAN;
  SpBench *bench = NULL;
  g_autofree char *file = file_of (row);
  if (!error && (purpose != SP_PURPOSE_STEP || sp_parse_number (gtk_editable_get_text (GTK_EDITABLE (row->step)), &step_db, &error)))
    bench = sp_bench_set_purpose_through (sp_session_bench (row->dialog->session), (guint) row->dialog->condition, row->sweep,
                                          (SpPurpose) purpose, step_db, chain, &error);
  apply (row, bench, g_strdup_printf (_ ("Change the chain of %s"), file), error);
}

/* The row may have been made anew while the question was open or its file was read. NULL: it is gone */
static Row *
row_at (gpointer window, guint sweep)
{
  GtkWidget *box = gtk_widget_get_first_child (g_object_get_data (window, "sweeps"));
  for (guint i = 0; i < sweep && box; i++)
    box = gtk_widget_get_next_sibling (box);
  Row *row = box ? g_object_get_data (G_OBJECT (box), "row") : NULL;
  return row && sweep_of (row) ? row : NULL;
}

/* What a sweep came through, on its way from a file. */
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
on_chain_read (gpointer window, gpointer data, gpointer value, GError *why)
{
  const Asked *asked = data;
  Row *row = row_at (window, asked->sweep);
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
on_chain_file (GtkWindow *window, GFile *file)
{
  static const SpFileReading reading = { read_chain, (GDestroyNotify) sp_chain_unref, on_chain_read, asked_free };
  SpDialog *dialog = g_object_get_data (G_OBJECT (window), "dialog");
  guint sweep = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (window), "asked-sweep"));
  Row *row = row_at (window, sweep);
  if (!row)
    return;
  SpChain *behind = sp_condition_chain (sp_session_bench (dialog->session), sp_dialog_condition (dialog));
  Asked *asked = g_new (Asked, 1);
  *asked = (Asked){ sweep, sp_trace_ref (sweep_of (row)->trace), (SpPurpose) gtk_drop_down_get_selected (GTK_DROP_DOWN (row->purpose)),
                    behind ? sp_chain_ref (behind) : NULL };
  gtk_widget_set_sensitive (row->ask, FALSE);
  sp_reading_begin (window, file, &reading, asked);
}

static void
on_ask_chain (Row *row)
{
  GtkWidget *window = row->dialog->window;
  g_object_set_data (G_OBJECT (window), "asked-sweep", GUINT_TO_POINTER (row->sweep));
  sp_ask_file (GTK_WINDOW (window), _ ("A chain, or the loss of the notch or pad alone"), "*.chain *.s2p *.ts *.csv *.txt *.run",
               on_chain_file);
}

static void
on_common_chain (Row *row)
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
on_read_again (gpointer window, gpointer data, gpointer value, GError *error)
{
  const Again *again = data;
  SpBench *bench = value;
  Row *row = row_at (window, again->sweep);
  if (row && bench && again->bench != sp_session_bench (row->dialog->session)) {
    g_clear_pointer (&bench, sp_bench_unref);
    sp_fail (&error, SP_ERROR_USAGE, _ ("The bench was changed while the sweep was read: press Enter once more."));
  }
  if (row) {
    g_autofree char *file = file_of (row);
    gtk_widget_set_sensitive (row->options, TRUE);
    if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (row->options)), again->options) != 0) /* the row was made anew meanwhile */
      sp_entry_fill (row->options, again->options);
    apply (row, bench, g_strdup_printf (_ ("Read %s with other settings"), file), error);
    return;
  }
  g_clear_pointer (&bench, sp_bench_unref);
  g_clear_error (&error);
}

static void
on_options (Row *row)
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
  sp_reading_begin (row->dialog->window, NULL, &reading, again);
}

static void
on_supersede (Row *row)
{
  if (sweep_of (row))
    set_purpose (row, SP_PURPOSE_SUPERSEDED, NAN);
}

static void
on_remove (Row *row)
{
  GError *error = NULL;
  g_autofree char *file = file_of (row);
  SpBench *bench = sp_bench_remove_sweep (sp_session_bench (row->dialog->session), row->dialog->condition, row->sweep, &error);
  apply (row, bench, g_strdup_printf (_ ("Remove %s"), file), error);
}

/* ---- rows ---- */

static GtkWidget *
new_button (Row *row, const char *text, const char *tip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (text);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, tip);
  g_signal_connect_swapped (button, "clicked", clicked, row);
  return button;
}

static GtkWidget *
new_entry (Row *row, const char *text, const char *name, const char *tip, GCallback commit, int width)
{
  GtkWidget *entry = gtk_entry_new ();
  sp_entry_fill (entry, text);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), width);
  gtk_widget_add_css_class (entry, "plain");
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), name);
  gtk_widget_set_tooltip_text (entry, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (entry, "activate", commit, row);
  return entry;
}

static GtkWidget *
new_head (Row *row, const SpSweep *sweep)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *file = gtk_label_new (NULL);
  g_autofree char *name = file_of (row),
                  *step = isnan (sweep->step_db) ? g_strdup ("") : sp_words_number (sweep->step_db, 0, SP_HAND_MACHINE);
  GtkStringList *words = gtk_string_list_new (NULL);
  for (int purpose = SP_PURPOSE_KEYED; purpose <= SP_PURPOSE_SUPERSEDED; purpose++)
    gtk_string_list_append (words, sp_words_purpose ((SpPurpose) purpose));
  gtk_widget_add_css_class (box, "tight");
  row->purpose = gtk_drop_down_new (G_LIST_MODEL (words), NULL);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (row->purpose), sweep->purpose);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->purpose), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("purpose of the sweep"), -1);
  sp_drop_down_speak (row->purpose, _ ("purpose of the sweep"));
  gtk_widget_set_tooltip_text (row->purpose, _ ("What the sweep was taken for; a superseded one stays visible and is never judged."));
  g_signal_connect (row->purpose, "notify::selected", G_CALLBACK (on_purpose), row);
  row->step = new_entry (row, step, _ ("dB more"), _ ("How many dB more of the analyzer's attenuation than the keyed sweep had."),
                         G_CALLBACK (on_step), 8);
  gtk_widget_set_visible (row->step, sweep->purpose == SP_PURPOSE_STEP);
  gtk_label_set_text (GTK_LABEL (file), name);
  gtk_label_set_ellipsize (GTK_LABEL (file), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_xalign (GTK_LABEL (file), 0);
  gtk_widget_set_hexpand (file, TRUE);
  gtk_widget_add_css_class (file, "strong");
  gtk_box_append (GTK_BOX (box), file);
  gtk_box_append (GTK_BOX (box), row->purpose);
  gtk_box_append (GTK_BOX (box), row->step);
  if (sweep->purpose != SP_PURPOSE_SUPERSEDED)
    gtk_box_append (GTK_BOX (box),
                    new_button (row, _ ("Supersede"), _ ("A better sweep takes its place: it stays visible and is no longer judged."),
                                G_CALLBACK (on_supersede)));
  gtk_box_append (GTK_BOX (box),
                  new_button (row, _ ("Remove"), _ ("Takes the sweep off the bench; Undo brings it back."), G_CALLBACK (on_remove)));
  return box;
}

/* What it came through: a sheet keeps one chain for all steps of a condition, and one for all its notched sweeps. */
static GtkWidget *
new_through (Row *row, const SpSweep *sweep)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *name = gtk_label_new (NULL);
  g_autofree char *through = sp_words_through (sweep->purpose, sweep->chain);
  gtk_label_set_text (GTK_LABEL (name), through);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_add_css_class (name, "soft");
  gtk_widget_add_css_class (box, "tight");
  gtk_box_append (GTK_BOX (box), name);
  row->ask = new_button (row, _ ("Its chain\xe2\x80\xa6"),
                         _ ("A .chain file, or the loss of the notch or of the outside pad alone (.s2p, .csv, .run), which is put behind "
                            "the condition's stages. All sweeps of this purpose have it in common."),
                         G_CALLBACK (on_ask_chain));
  gtk_box_append (GTK_BOX (box), row->ask);
  if (sweep->chain)
    gtk_box_append (GTK_BOX (box),
                    new_button (row, _ ("The condition's"), _ ("Forgets the chain of its own."), G_CALLBACK (on_common_chain)));
  gtk_widget_set_visible (box, sp_purpose_has_chain (sweep->purpose));
  return box;
}

static void
row_free (gpointer data)
{
  Row *row = data;
  sp_trace_unref (row->shown.trace);
  g_clear_pointer (&row->shown.chain, sp_chain_unref);
  g_free (row);
}

static gboolean
is_shown (GtkWidget *box, const SpSweep *sweep)
{
  const SpSweep *shown = &((const Row *) g_object_get_data (G_OBJECT (box), "row"))->shown;
  return shown->trace == sweep->trace && shown->chain == sweep->chain && shown->purpose == sweep->purpose
         && (shown->step_db == sweep->step_db || (isnan (shown->step_db) && isnan (sweep->step_db)));
}

static GtkWidget *
new_row (SpDialog *dialog, guint index)
{
  const SpSweep *sweep = &sp_dialog_condition (dialog)->sweeps[index];
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *says = gtk_label_new (NULL);
  Row *row = g_new0 (Row, 1);
  row->dialog = dialog;
  row->sweep = index;
  row->shown = *sweep;
  sp_trace_ref (sweep->trace);
  if (sweep->chain)
    sp_chain_ref (sweep->chain);
  g_autofree char *settings = settings_say (sweep->trace);
  g_object_set_data_full (G_OBJECT (box), "row", row, row_free);
  gtk_label_set_text (GTK_LABEL (says), settings);
  gtk_label_set_xalign (GTK_LABEL (says), 0);
  gtk_label_set_wrap (GTK_LABEL (says), TRUE);
  gtk_widget_add_css_class (says, "soft");
  row->options = new_entry (
      row, sweep->trace->options ? sweep->trace->options : "", _ ("settings to correct, such as rbw=10kHz&attenuation=20"),
      _ ("Settings that the export does not carry, or carries wrongly: rbw=10kHz&attenuation=20&detector=rms. Enter reads it again."),
      G_CALLBACK (on_options), 32);
  row->trouble = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (row->trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (row->trouble), TRUE);
  gtk_widget_add_css_class (row->trouble, "wrong");
  gtk_label_set_wrap_mode (GTK_LABEL (row->trouble), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_visible (row->trouble, FALSE);
  row->through = new_through (row, sweep);
  gtk_widget_add_css_class (box, "underlined");
  gtk_box_append (GTK_BOX (box), new_head (row, sweep));
  gtk_box_append (GTK_BOX (box), says);
  gtk_box_append (GTK_BOX (box), row->through);
  gtk_box_append (GTK_BOX (box), row->options);
  gtk_box_append (GTK_BOX (box), row->trouble);
  return box;
}

static guint
count_rows (GtkWidget *holder)
{
  guint n = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (holder); child; child = gtk_widget_get_next_sibling (child))
    n += g_object_get_data (G_OBJECT (child), "row") != NULL;
  return n;
}

/* A row stays as long as its sweep does: with it what is typed there. */
static void
renew_rows (SpDialog *dialog, GtkWidget *holder, const SpCondition *condition)
{
  GtkWidget *before = NULL, *box = gtk_widget_get_first_child (holder);
  for (guint i = 0; i < condition->n_sweeps; i++) {
    GtkWidget *next = gtk_widget_get_next_sibling (box), *stays = box;
    if (!is_shown (box, &condition->sweeps[i])) {
      gtk_box_remove (GTK_BOX (holder), box);
      stays = new_row (dialog, i);
      gtk_box_insert_child_after (GTK_BOX (holder), stays, before);
    }
    before = stays;
    box = next;
  }
}

void
sp_condition_sweeps_follow (SpDialog *dialog)
{
  GtkWidget *holder = g_object_get_data (G_OBJECT (dialog->window), "sweeps");
  const SpCondition *condition = sp_dialog_condition (dialog);
  if (condition && condition->n_sweeps > 0 && condition->n_sweeps == count_rows (holder)) {
    renew_rows (dialog, holder, condition);
    return;
  }
  for (GtkWidget *child; (child = gtk_widget_get_first_child (holder));)
    gtk_box_remove (GTK_BOX (holder), child);
  for (guint i = 0; condition && i < condition->n_sweeps; i++)
    gtk_box_append (GTK_BOX (holder), new_row (dialog, i));
  if (condition && condition->n_sweeps == 0) {
    GtkWidget *none = gtk_label_new (_ ("No sweep yet: drop an export on the radio in the window."));
    gtk_label_set_xalign (GTK_LABEL (none), 0);
    gtk_widget_add_css_class (none, "soft");
    gtk_box_append (GTK_BOX (holder), none);
  }
}

void
sp_condition_sweeps_add (SpDialog *dialog)
{
  GtkWidget *holder = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  g_object_set_data (G_OBJECT (dialog->window), "sweeps", holder);
  gtk_box_append (GTK_BOX (dialog->content), holder);
}
