/* condition-parts.c - the chain, analyzer and mask of a condition's own */
#include "ui/window/dialogs/condition-parts.h"

#include <glib/gi18n-lib.h>

#include "ui/window/dialogs/mask-form.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"

typedef struct {
  GtkWidget *name, *file, *bench, *trouble; /* name: the mask's holds its form */
} Line;

typedef struct {
  Line lines[SP_PART_TRACE];
} Parts;

static const struct {
  const char *key, *what, *pattern, *ask, *file_tip, *bench_tip, *taken, *back;
} kinds[SP_PART_TRACE] = {
  [SP_PART_CHAIN] = { "chain", N_ ("chain"), "*.chain", N_ ("A chain's file"),
                      N_ ("Takes a chain from a .chain file for this condition alone."), N_ ("Goes back to the bench's chain."),
                      N_ ("Give %s a chain of its own"), N_ ("Give %s the bench's chain") },
  [SP_PART_ANALYZER] = { "analyzer", N_ ("analyzer"), "*.analyzer", N_ ("An analyzer's file"),
                         N_ ("Takes an analyzer from an .analyzer file for this condition alone."),
                         N_ ("Goes back to the bench's analyzer."), N_ ("Give %s an analyzer of its own"),
                         N_ ("Give %s the bench's analyzer") },
  [SP_PART_MASK] = { "mask", N_ ("mask"), "*.mask", N_ ("A mask's file"), N_ ("Takes a mask from a .mask file for this condition alone."),
                     N_ ("Goes back to the bench's mask."), N_ ("Give %s a mask of its own"), N_ ("Give %s the bench's mask") },
};

static Parts *
parts_of (SpDialog *dialog)
{
  return g_object_get_data (G_OBJECT (dialog->window), "condition-parts");
}

/* ---- edits ---- */

/* `part` (transfer full) NULL: the bench's, or there is an error (transfer full), which is told below the line. */
static void
set_part (SpDialog *dialog, SpPartKind kind, gpointer part, GError *error)
{
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session), *edited = NULL;
  Line *line = &parts_of (dialog)->lines[kind];
  g_autofree char *name = condition ? sp_condition_name (bench, condition) : g_strdup (""); /* undone meanwhile: there is nothing to edit */
  if (condition && !error)
    edited = sp_bench_set_own (bench, (guint) dialog->condition, kind, part, &error);
  gtk_label_set_text (GTK_LABEL (line->trouble), error ? error->message : "");
  gtk_widget_set_visible (line->trouble, error != NULL);
  sp_dialog_edit (dialog, edited, g_strdup_printf (part ? _ (kinds[kind].taken) : _ (kinds[kind].back), name));
  g_clear_error (&error);
  if (part)
    sp_part_unref (kind, part);
}

/* ---- from a file ---- */

static gpointer
read_chain (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_chain_read (path, error);
}

static gpointer
read_analyzer (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_analyzer_read (path, error);
}

static gpointer
read_mask (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_mask_load (path, error);
}

static void
on_read (gpointer window, gpointer asked, gpointer part, GError *error)
{
  SpDialog *dialog = g_object_get_data (window, "dialog");
  SpPartKind kind = (SpPartKind) GPOINTER_TO_INT (asked);
  gtk_widget_set_sensitive (parts_of (dialog)->lines[kind].file, TRUE);
  set_part (dialog, kind, part, error);
}

static void
take (GtkWindow *window, GFile *file, SpPartKind kind)
{
  static const SpFileReading readings[SP_PART_TRACE] = {
    [SP_PART_CHAIN] = { read_chain, (GDestroyNotify) sp_chain_unref, on_read, NULL },
    [SP_PART_ANALYZER] = { read_analyzer, (GDestroyNotify) sp_analyzer_unref, on_read, NULL },
    [SP_PART_MASK] = { read_mask, (GDestroyNotify) sp_mask_unref, on_read, NULL },
  };
  SpDialog *dialog = g_object_get_data (G_OBJECT (window), "dialog");
  gtk_widget_set_sensitive (parts_of (dialog)->lines[kind].file, FALSE);
  sp_reading_begin (window, file, &readings[kind], GINT_TO_POINTER (kind));
}

static void
on_chain (GtkWindow *window, GFile *file)
{
  take (window, file, SP_PART_CHAIN);
}

static void
on_analyzer (GtkWindow *window, GFile *file)
{
  take (window, file, SP_PART_ANALYZER);
}

static void
on_mask (GtkWindow *window, GFile *file)
{
  take (window, file, SP_PART_MASK);
}

static SpPartKind
kind_of (GtkWidget *button)
{
  return (SpPartKind) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "kind"));
}

static void
on_ask (GtkWidget *button, SpDialog *dialog)
{
  static void (*const chosen[]) (GtkWindow *, GFile *) = { on_chain, on_analyzer, on_mask };
  SpPartKind kind = kind_of (button);
  sp_ask_file (GTK_WINDOW (dialog->window), _ (kinds[kind].ask), kinds[kind].pattern, chosen[kind]);
}

static void
on_bench (GtkWidget *button, SpDialog *dialog)
{
  set_part (dialog, kind_of (button), NULL, NULL);
}

/* ---- the mask's choice ---- */

static char *
get_mask (gpointer owner, const char *key)
{
  SpDialog *dialog = owner;
  return sp_dialog_condition (dialog) ? sp_bench_get_condition (sp_session_bench (dialog->session), (guint) dialog->condition, key) : NULL;
}

static gboolean
set_mask (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpDialog *dialog = owner;
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  if (!condition)
    return FALSE;
  g_autofree char *name = sp_condition_name (bench, condition);
  return sp_dialog_edit (dialog, sp_bench_set_condition (bench, (guint) dialog->condition, field->key, value, error),
                         g_strdup_printf (*value ? _ (kinds[SP_PART_MASK].taken) : _ (kinds[SP_PART_MASK].back), name));
}

static void
show_mask (SpDialog *dialog, Line *line)
{
  SpFormOwner owner = { get_mask, set_mask, dialog };
  g_autofree char *present = get_mask (dialog, "mask");
  GtkWidget *old = gtk_widget_get_first_child (line->name);
  if (g_strcmp0 (present, g_object_get_data (G_OBJECT (line->name), "present")) == 0 && old)
    return;
  if (old)
    gtk_box_remove (GTK_BOX (line->name), old);
  gtk_box_append (GTK_BOX (line->name), sp_mask_form_new (&owner, present, _ ("the bench's")));
  g_object_set_data_full (G_OBJECT (line->name), "present", g_steal_pointer (&present), g_free);
}

/* ---- lines ---- */

static void
show_name (GtkWidget *label, const char *own, const char *bench)
{
  g_autofree char *text = own ? g_strdup (own) : bench ? g_strdup_printf (_ ("the bench's: %s"), bench) : g_strdup (_ ("none"));
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text);
}

void
sp_condition_parts_follow (SpDialog *dialog)
{
  Parts *parts = parts_of (dialog);
  const SpBench *bench = sp_session_bench (dialog->session);
  const SpCondition *condition = sp_dialog_condition (dialog);
  if (!condition)
    return;
  show_name (parts->lines[SP_PART_CHAIN].name, condition->chain ? condition->chain->name : NULL, bench->chain ? bench->chain->name : NULL);
  show_name (parts->lines[SP_PART_ANALYZER].name, condition->analyzer ? condition->analyzer->name : NULL,
             bench->analyzer ? bench->analyzer->name : NULL);
  show_mask (dialog, &parts->lines[SP_PART_MASK]);
  const gboolean own[] = { condition->chain != NULL, condition->analyzer != NULL, condition->mask != NULL };
  for (guint i = 0; i < G_N_ELEMENTS (own); i++) {
    gtk_widget_set_sensitive (parts->lines[i].bench, own[i]);
    gtk_widget_set_visible (parts->lines[i].trouble, FALSE);
  }
}

static GtkWidget *
new_button (SpDialog *dialog, SpPartKind kind, const char *text, const char *tip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (text);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", _ (kinds[kind].what), text);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data (G_OBJECT (button), "kind", GINT_TO_POINTER (kind));
  g_signal_connect (button, "clicked", clicked, dialog);
  return button;
}

static void
add_line (SpDialog *dialog, GtkGrid *grid, SpPartKind kind)
{
  Line *line = &parts_of (dialog)->lines[kind];
  line->name = kind == SP_PART_MASK ? gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0) : gtk_label_new (NULL);
  line->bench = new_button (dialog, kind, _ ("The bench's"), _ (kinds[kind].bench_tip), G_CALLBACK (on_bench));
  line->trouble = gtk_label_new (NULL);
  if (kind != SP_PART_MASK) { /* the mask's form says it itself */
    GtkWidget *what = gtk_label_new (_ (kinds[kind].what));
    gtk_label_set_xalign (GTK_LABEL (what), 0);
    gtk_widget_add_css_class (what, "soft");
    gtk_grid_attach (grid, what, 0, (int) kind * 2, 1, 1);
    gtk_label_set_xalign (GTK_LABEL (line->name), 0);
    gtk_label_set_ellipsize (GTK_LABEL (line->name), PANGO_ELLIPSIZE_END);
  }
  gtk_widget_set_hexpand (line->name, TRUE);
  gtk_label_set_xalign (GTK_LABEL (line->trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (line->trouble), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (line->trouble), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (line->trouble), TRUE);
  gtk_widget_add_css_class (line->trouble, "wrong");
  gtk_widget_set_visible (line->trouble, FALSE);
  gtk_grid_attach (grid, line->name, kind != SP_PART_MASK, (int) kind * 2, kind == SP_PART_MASK ? 2 : 1, 1);
  line->file = new_button (dialog, kind, _ ("From a file\xe2\x80\xa6"), _ (kinds[kind].file_tip), G_CALLBACK (on_ask));
  gtk_grid_attach (grid, line->file, 2, (int) kind * 2, 1, 1);
  gtk_grid_attach (grid, line->bench, 3, (int) kind * 2, 1, 1);
  gtk_grid_attach (grid, line->trouble, 0, (int) kind * 2 + 1, 4, 1);
}

void
sp_condition_parts_add (SpDialog *dialog)
{
  GtkWidget *grid = gtk_grid_new ();
  g_object_set_data_full (G_OBJECT (dialog->window), "condition-parts", g_new0 (Parts, 1), g_free);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_widget_add_css_class (grid, "tight");
  for (int kind = SP_PART_CHAIN; kind <= SP_PART_MASK; kind++)
    add_line (dialog, GTK_GRID (grid), (SpPartKind) kind);
  gtk_box_append (GTK_BOX (dialog->content), grid);
}
